//! Files written whole or not at all.

#![expect(clippy::disallowed_methods, reason = "the one module that writes files")]

use std::io::Write;
use std::path::{Path, PathBuf};

/// The machine could not write.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// A file or folder could not be written.
    #[error("cannot write {}: {cause}", path.display())]
    Unwritable {
        /// What could not be written.
        path: PathBuf,
        /// What the machine says.
        cause: std::io::Error,
    },
    /// A file that is already there is not overwritten.
    #[error("{} is there already; nothing was written", .0.display())]
    Exists(PathBuf),
}

/// Writes files into a folder, which is made where it is missing, as are those below it that names of files lead through. Every file is written beside its target and synced before
/// the first one takes its place, so that a full disk leaves what was there.
///
/// # Errors
/// When the machine cannot write; the files that were there are then as they were.
pub fn write(folder: &Path, files: &[&(String, Vec<u8>)]) -> Result<(), Failure> {
    let failed = |path: &Path| {
        let path = path.to_owned();
        move |cause| Failure::Unwritable { path, cause }
    };
    std::fs::create_dir_all(folder).map_err(failed(folder))?;
    let mut ready = Vec::new();
    for (name, bytes) in files {
        let target = folder.join(name);
        let parent = target.parent().unwrap_or(folder);
        std::fs::create_dir_all(parent).map_err(failed(parent))?;
        let mut file = tempfile::NamedTempFile::new_in(parent).map_err(failed(&target))?;
        file.write_all(bytes).and_then(|()| file.as_file().sync_all()).map_err(failed(&target))?;
        open_to_all(file.as_file()).map_err(failed(&target))?;
        if target.is_dir() {
            return Err(failed(&target)(std::io::ErrorKind::IsADirectory.into()));
        }
        ready.push((file, target));
    }
    for (file, target) in ready {
        file.persist(&target).map_err(|error| failed(&target)(error.error))?;
    }
    sync(folder).map_err(failed(folder))
}

/// Removes the files of a folder whose names are no longer wanted; folders of such a name are left alone.
///
/// # Errors
/// When the machine cannot read the folder or remove one of the files.
pub fn remove(folder: &Path, is_unwanted: impl Fn(&str) -> bool) -> Result<(), Failure> {
    let failed = |path: PathBuf| move |cause| Failure::Unwritable { path, cause };
    for entry in folder.read_dir().map_err(failed(folder.to_owned()))? {
        let entry = entry.map_err(failed(folder.to_owned()))?;
        if entry.file_name().to_str().is_some_and(&is_unwanted) && !entry.path().is_dir() {
            std::fs::remove_file(entry.path()).map_err(failed(entry.path()))?;
        }
    }
    Ok(())
}

/// Writes one file that is not there yet, with the folder it lies in.
///
/// # Errors
/// When it is there already, or the machine cannot write.
pub fn write_new(folder: &Path, name: &str, bytes: &[u8]) -> Result<PathBuf, Failure> {
    let target = folder.join(name);
    if target.symlink_metadata().is_ok() {
        return Err(Failure::Exists(target));
    }
    write(folder, &[&(name.to_owned(), bytes.to_vec())])?;
    Ok(target)
}

/// A temporary file is for its owner only; a sheet is read by whoever may read the folder.
#[cfg(unix)]
fn open_to_all(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn open_to_all(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}

/// The new names of a folder are kept by the folder itself.
#[cfg(unix)]
fn sync(folder: &Path) -> std::io::Result<()> {
    std::fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync(_: &Path) -> std::io::Result<()> {
    Ok(())
}
