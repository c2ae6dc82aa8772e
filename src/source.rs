//! Finds the projects below a folder and reads their two files: the only reader of the disk.
//!
//! It does not look into what it reads: text that is no UTF-8, or no plan, is a matter for `syntax`.
//! What goes wrong here is a [`Failure`] of the machine or of the command line, never a fault of a plan.
//!
//! Links: a plan or log that is a symbolic link is followed only while it stays inside its project folder, because a
//! plan reads nothing outside of it. Folders that are links are not entered in search of plans; a folder that is
//! named on the command line may be one.

#![expect(clippy::disallowed_methods, reason = "the one module that reads files")]

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

/// The file that makes a folder a project.
pub const PLAN: &str = "plan.toml";
/// The file beside it that records what was spun.
pub const LOG: &str = "log.toml";

/// The largest plan or log that is read: one mebibyte. A large plan written by hand has a few dozen kilobytes.
pub const LIMIT: usize = 1 << 20;

/// Sheets and other products are kept in folders of this name, so no plan is looked for in them.
const PRODUCTS: &str = "out";

/// The longest name of a project, in characters; file systems end at 255 bytes.
const LONGEST_NAME: usize = 60;

/// A project as it lies on the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Project {
    /// The name of its folder, made safe for a file name: no separators, no leading dot, never empty.
    pub name: String,
    /// Its folder, as it was given or found.
    pub folder: PathBuf,
    /// `plan.toml`.
    pub plan: Text,
    /// `log.toml`, where there is one.
    pub log: Option<Text>,
}

/// One file as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Text {
    /// The path as it is shown in messages.
    pub path: String,
    /// What is in it; no more than one byte beyond [`LIMIT`].
    pub bytes: Vec<u8>,
}

/// Why a project could not be found or read.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// A path of the command line does not exist.
    #[error("{} does not exist", .0.display())]
    NoSuchPath(PathBuf),
    /// A path of the command line is a file of another name.
    #[error("{} is not a plan: a plan is a file called {PLAN} in a folder of its own", .0.display())]
    NotAPlan(PathBuf),
    /// There is no plan in a folder nor below it.
    #[error("there is no {PLAN} in {} or below it; `wheelsheet new NAME` writes one", .0.display())]
    NoPlan(PathBuf),
    /// A link leads to a file outside of the project folder.
    #[error("{} is a link that leads out of its folder; a plan reads nothing outside of it", .0.display())]
    LeadsOut(PathBuf),
    /// A plan or log is a folder, a pipe or a device.
    #[error("{} is not an ordinary file", .0.display())]
    NotAFile(PathBuf),
    /// The machine could not read something.
    #[error("cannot read {}: {cause}", path.display())]
    Unreadable {
        /// What could not be read.
        path: PathBuf,
        /// What the machine says.
        cause: io::Error,
    },
}

/// The project folders that `paths` stand for, sorted, each once.
///
/// A path is a plan, a project folder, or a folder with projects somewhere below it.
/// Without a path the current folder is taken.
///
/// # Errors
/// The first path that does not exist, cannot be searched, or has no plan.
pub fn find(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let here = [PathBuf::from(".")];
    let paths = if paths.is_empty() { &here } else { paths };
    let mut folders = BTreeSet::new();
    for path in paths {
        folders.extend(projects_at(path)?);
    }
    Ok(folders.into_iter().collect())
}

/// The first thing below a folder that is not one of these files with these bytes, in the order of names; nothing where the
/// folder is not there. Files are named by their paths below it, with `/` between.
///
/// # Errors
/// When the folder cannot be searched or a file cannot be read.
pub fn foreign(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<Option<PathBuf>, Failure> {
    if folder.symlink_metadata().is_err_and(|cause| cause.kind() == io::ErrorKind::NotFound) {
        return Ok(None);
    }
    for entry in WalkDir::new(folder).sort_by_file_name() {
        let entry = entry.map_err(|error| Failure::Unreadable { path: folder.into(), cause: error.into() })?;
        if !entry.file_type().is_dir() && !is_one_of(&entry, folder, files)? {
            return Ok(Some(entry.into_path()));
        }
    }
    Ok(None)
}

fn is_one_of(entry: &DirEntry, folder: &Path, files: &[(String, Vec<u8>)]) -> Result<bool, Failure> {
    let below = entry.path().strip_prefix(folder).expect("invariant: found below the folder");
    let Some((_, bytes)) = files.iter().find(|(name, _)| Path::new(name) == below) else {
        return Ok(false);
    };
    let failed = |cause| Failure::Unreadable { path: entry.path().into(), cause };
    let is_as_long = fs::symlink_metadata(entry.path()).map_err(failed)?.len() == bytes.len() as u64;
    Ok(entry.file_type().is_file() && is_as_long && fs::read(entry.path()).map_err(failed)? == *bytes)
}

/// The project at `path`, or else all those below it.
fn projects_at(path: &Path) -> Result<Vec<PathBuf>, Failure> {
    let found = fs::metadata(path).map_err(|cause| match cause.kind() {
        io::ErrorKind::NotFound => Failure::NoSuchPath(path.into()),
        _ => Failure::Unreadable { path: path.into(), cause },
    })?;
    if !found.is_dir() {
        return match (path.file_name(), path.parent()) {
            (Some(name), Some(folder)) if name == PLAN => Ok(vec![or_here(folder)]),
            _ => Err(Failure::NotAPlan(path.into())),
        };
    }
    if path.join(PLAN).symlink_metadata().is_ok() {
        return Ok(vec![path.into()]);
    }
    let folders = projects_below(path)?;
    if folders.is_empty() { Err(Failure::NoPlan(path.into())) } else { Ok(folders) }
}

/// The folder of a bare file name is written as an empty path, which no system call takes.
fn or_here(folder: &Path) -> PathBuf {
    if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder.into() }
}

fn projects_below(top: &Path) -> Result<Vec<PathBuf>, Failure> {
    let passed_over = |entry: &DirEntry| {
        let name = entry.file_name().to_string_lossy();
        entry.depth() > 0 && entry.file_type().is_dir() && (name.starts_with('.') || name == PRODUCTS)
    };
    let mut folders = Vec::new();
    for entry in WalkDir::new(top).into_iter().filter_entry(|entry| !passed_over(entry)) {
        let entry = entry
            .map_err(|error| Failure::Unreadable { path: error.path().unwrap_or(top).into(), cause: error.into() })?;
        if entry.file_name() == PLAN && !entry.file_type().is_dir() {
            folders.extend(entry.path().parent().map(PathBuf::from));
        }
    }
    Ok(folders)
}

/// Reads the plan of a project folder, and its log where there is one.
///
/// # Errors
/// When a file is missing, unreadable, no ordinary file, or a link that leads out of the folder.
pub fn read(folder: &Path) -> Result<Project, Failure> {
    let plan = read_text(folder, PLAN)?;
    let log = match folder.join(LOG).symlink_metadata() {
        Ok(_) => Some(read_text(folder, LOG)?),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(cause) => return Err(Failure::Unreadable { path: folder.join(LOG), cause }),
    };
    Ok(Project { name: project_name(folder), folder: folder.into(), plan, log })
}

/// Reads a file that is named on the command line and belongs to no project: answers to be marked.
pub fn text(path: &Path) -> Result<Text, Failure> {
    let name = path.file_name().ok_or_else(|| Failure::NotAFile(path.into()))?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if !path.exists() {
        return Err(Failure::NoSuchPath(path.into()));
    }
    read_text(folder, &name.to_string_lossy())
}

/// Reads at most one byte more than the limit, so that a huge file costs nothing and is still seen to be too large.
fn read_text(folder: &Path, name: &str) -> Result<Text, Failure> {
    let path = folder.join(name);
    let unreadable = |cause| Failure::Unreadable { path: path.clone(), cause };
    let real = path.canonicalize().map_err(unreadable)?;
    if !real.starts_with(folder.canonicalize().map_err(unreadable)?) {
        return Err(Failure::LeadsOut(path));
    }
    // A pipe would block when it is opened, so it is asked first.
    if !fs::metadata(&real).map_err(unreadable)?.is_file() {
        return Err(Failure::NotAFile(path));
    }
    let mut bytes = Vec::new();
    let file = fs::File::open(&real).map_err(unreadable)?;
    file.take(LIMIT as u64 + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    Ok(Text { path: shown(&path), bytes })
}

/// `./plan.toml` is shown as `plan.toml`.
fn shown(path: &Path) -> String {
    path.strip_prefix(".").unwrap_or(path).display().to_string()
}

/// The name of the folder itself, also where it was given as `.` or through a link.
fn project_name(folder: &Path) -> String {
    let whole = folder.canonicalize().unwrap_or_else(|_| folder.into());
    safe_name(&whole.file_name().unwrap_or_default().to_string_lossy())
}

/// `name` as a file name that is the same on every system: letters and digits of any script, `-`, `_` and dots
/// inside; everything else becomes `-`. Names that some system keeps for devices get a `-plan` behind them.
pub fn safe_name(name: &str) -> String {
    let is_plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
    let plain: String = name.chars().map(|c| if is_plain(c) { c } else { '-' }).take(LONGEST_NAME).collect();
    let name = plain.trim_matches(['.', '-']);
    let stem = name.split('.').next().unwrap_or_default().to_ascii_lowercase();
    let is_numbered =
        |device: &str| stem.strip_prefix(device).is_some_and(|n| n.len() == 1 && n.chars().all(|c| c.is_ascii_digit()));
    let is_device = matches!(stem.as_str(), "con" | "prn" | "aux" | "nul") || is_numbered("com") || is_numbered("lpt");
    match name {
        "" => "plan".to_owned(),
        device if is_device => format!("{device}-plan"),
        name => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder_with(files: &[(&str, &str)]) -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a temporary folder");
        for (path, text) in files {
            let path = folder.path().join(path);
            fs::create_dir_all(path.parent().expect("a file in a folder")).expect("folders");
            fs::write(path, text).expect("a file");
        }
        folder
    }

    #[test]
    fn finds_every_plan_below_but_not_in_out_or_hidden_folders() {
        let top = folder_with(&[
            ("hats/plan.toml", ""),
            ("a/b/plan.toml", ""),
            ("a/out/old/plan.toml", ""),
            (".git/plan.toml", ""),
        ]);
        let found = find(&[top.path().into(), top.path().join("hats")]).expect("plans");
        assert_eq!(found, [top.path().join("a/b"), top.path().join("hats")]);
    }

    #[test]
    fn a_plan_may_be_named_by_its_file() {
        let top = folder_with(&[("hats/plan.toml", "x"), ("hats/log.toml", "y")]);
        let found = find(&[top.path().join("hats/plan.toml")]).expect("a plan");
        let project = read(&found[0]).expect("a project");
        assert_eq!((project.name.as_str(), project.plan.bytes.as_slice()), ("hats", b"x".as_slice()));
        assert_eq!(project.log.expect("a log").bytes, b"y");
    }

    #[test]
    fn what_is_no_plan_is_said_to_be_none() {
        let top = folder_with(&[("notes.txt", "")]);
        let failure = |path: PathBuf| find(&[path]).expect_err("no plan");
        assert!(matches!(failure(top.path().into()), Failure::NoPlan(_)));
        assert!(matches!(failure(top.path().join("notes.txt")), Failure::NotAPlan(_)));
        assert!(matches!(failure(top.path().join("nowhere")), Failure::NoSuchPath(_)));
    }

    #[test]
    fn a_huge_file_is_not_read_to_its_end() {
        let top = folder_with(&[("plan.toml", &"#".repeat(3 * LIMIT))]);
        assert_eq!(read(top.path()).expect("a project").plan.bytes.len(), LIMIT + 1);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_inside_the_folder_only() {
        use std::os::unix::fs::symlink;
        let top = folder_with(&[("secret.toml", "s"), ("p/real.toml", "r"), ("p/log.toml", ""), ("q/log.toml", "")]);
        symlink(top.path().join("p/real.toml"), top.path().join("p/plan.toml")).expect("a link");
        symlink("../secret.toml", top.path().join("q/plan.toml")).expect("a link");
        assert_eq!(read(&top.path().join("p")).expect("a project").plan.bytes, b"r");
        assert!(matches!(read(&top.path().join("q")), Err(Failure::LeadsOut(_))));
    }

    #[test]
    fn a_plan_that_is_a_folder_is_a_failure() {
        let top = folder_with(&[("plan.toml/inside", "")]);
        assert!(matches!(read(top.path()), Err(Failure::NotAFile(_))));
    }

    #[test]
    fn names_cannot_climb_out_or_hide() {
        for (name, safe) in [
            ("three-ply-pullover", "three-ply-pullover"),
            ("..", "plan"),
            ("", "plan"),
            ("../../etc", "etc"),
            (".hidden", "hidden"),
            ("hat\u{1b}[31m", "hat--31m"),
            ("Grün & Blau", "Grün---Blau"),
            ("nul", "nul-plan"),
            ("COM1.x", "COM1.x-plan"),
            ("v1.2", "v1.2"),
        ] {
            assert_eq!(safe_name(name), safe, "{name:?}");
        }
        assert!(safe_name(&"ü".repeat(500)).len() <= 240);
    }
}
