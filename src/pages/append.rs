//! A log written anew with one entry more: whole or not at all, and never over what someone else wrote meanwhile.

#![expect(clippy::disallowed_methods, reason = "part of the one module that writes files")]

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

/// Why a log was not written. It is then as it was.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Something else than what was read is there.
    #[error("{} was changed since it was read; nothing was written", .0.display())]
    Changed(PathBuf),
    /// What was read is no longer there.
    #[error("{} was there when it was read and is gone; nothing was written", .0.display())]
    Vanished(PathBuf),
    /// A file or folder that may not be written to.
    #[error("{} is read-only; nothing was written", .0.display())]
    ReadOnly(PathBuf),
    /// A link leads to a file outside of the project folder.
    #[error("{} is a link that leads out of its folder; nothing was written", .0.display())]
    LeadsOut(PathBuf),
    /// The machine could not write, or could not read again what is there.
    #[error("cannot add to {}: {cause}", path.display())]
    Unwritable {
        /// What could not be written.
        path: PathBuf,
        /// What the machine says.
        cause: io::Error,
    },
}

/// Puts `new` in place of what was `read`, which is none where there was no file.
///
/// The text is written beside the file and synced, then takes its place in one step, with its permissions.
/// A link stays a link, and the file that it leads to is replaced.
///
/// # Errors
/// When the file is no longer what was read, or may not or cannot be written.
///
/// # Panics
/// When `new` does not begin with what was read: a log is only added to.
pub fn append_to(path: &Path, read: Option<&str>, new: &str) -> Result<(), StoreError> {
    assert!(new.starts_with(read.unwrap_or_default()), "invariant: a log is only added to");
    let target = target(path, read)?;
    let file = beside(&target, new)?;
    replace(path, &target, read, file)
}

/// The file that is to be replaced: at the end of a link, and one that may be written to.
///
/// To take the place of a file it is enough that its folder may be written to, so the file itself is asked as well.
fn target(path: &Path, read: Option<&str>) -> Result<PathBuf, StoreError> {
    let target = if read.is_some() { inside(path)? } else { path.to_owned() };
    unchanged(path, &target, read)?;
    let folder = folder_of(&target);
    if read.is_some() {
        if fs::metadata(&target).map_err(failed(path))?.permissions().readonly() {
            return Err(StoreError::ReadOnly(path.into()));
        }
        OpenOptions::new().write(true).open(&target).map_err(failed(path))?;
    }
    if is_closed(folder) { Err(StoreError::ReadOnly(folder.into())) } else { Ok(target) }
}

/// Where a path really leads, which has to be inside its folder.
fn inside(path: &Path) -> Result<PathBuf, StoreError> {
    let real = path.canonicalize().map_err(lost(path))?;
    let folder = folder_of(path).canonicalize().map_err(lost(path))?;
    if !real.starts_with(folder) {
        return Err(StoreError::LeadsOut(path.into()));
    }
    // Where no link leads elsewhere, messages and files go by the path as it was given.
    let is_link = path.symlink_metadata().map_err(lost(path))?.is_symlink();
    Ok(if is_link { real } else { path.to_owned() })
}

/// The folder of a bare file name is written as an empty path, which no system call takes.
fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// The text in a file of its own beside the target, synced, with the permissions that the target has.
fn beside(target: &Path, new: &str) -> Result<NamedTempFile, StoreError> {
    let folder = folder_of(target);
    let mut file = NamedTempFile::new_in(folder).map_err(failed(folder))?;
    let old = fs::metadata(target).ok();
    file.write_all(new.as_bytes())
        .and_then(|()| permit(file.as_file(), old.as_ref()))
        .and_then(|()| file.as_file().sync_all())
        .map_err(failed(target))?;
    Ok(file)
}

/// Lets the file take the place of its target, if that is still what was read.
fn replace(path: &Path, target: &Path, read: Option<&str>, file: NamedTempFile) -> Result<(), StoreError> {
    let held = hold(folder_of(target));
    unchanged(path, target, read)?;
    place(path, target, read, file)?;
    // The log has its entry now. Where its folder cannot be synced, a power cut may take the whole entry away again;
    // but who is told of a failure here would enter it twice.
    if let Some(folder) = held {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Lets the file take the place of its target in one step. Where nothing was read, nothing is replaced.
fn place(path: &Path, target: &Path, read: Option<&str>, file: NamedTempFile) -> Result<(), StoreError> {
    let placed = if read.is_some() { file.persist(target) } else { file.persist_noclobber(target) };
    match placed {
        Ok(_) => Ok(()),
        Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Err(StoreError::Changed(path.into())),
        Err(error) => Err(failed(path)(error.error)),
    }
}

/// Whether the path still leads to the target, and that still holds what was read.
fn unchanged(path: &Path, target: &Path, read: Option<&str>) -> Result<(), StoreError> {
    let changed = || StoreError::Changed(path.into());
    let Some(read) = read else {
        // A link that leads nowhere is something too.
        return if path.symlink_metadata().is_ok() { Err(changed()) } else { Ok(()) };
    };
    if inside(path)? != target {
        return Err(changed());
    }
    let found = fs::metadata(target).map_err(lost(path))?;
    // A pipe would block when it is opened, so it is asked first; and a huge file is not read to its end.
    if !found.is_file() || found.len() != read.len() as u64 {
        return Err(changed());
    }
    let mut bytes = Vec::new();
    let file = File::open(target).map_err(lost(path))?;
    file.take(read.len() as u64 + 1).read_to_end(&mut bytes).map_err(lost(path))?;
    if bytes == read.as_bytes() { Ok(()) } else { Err(changed()) }
}

/// How it failed that something was read again.
fn lost(path: &Path) -> impl Fn(io::Error) -> StoreError {
    move |cause| match cause.kind() {
        io::ErrorKind::NotFound => StoreError::Vanished(path.into()),
        _ => StoreError::Unwritable { path: path.into(), cause },
    }
}

/// How it failed that something was written.
fn failed(path: &Path) -> impl Fn(io::Error) -> StoreError {
    move |cause| match cause.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => StoreError::ReadOnly(path.into()),
        _ => StoreError::Unwritable { path: path.into(), cause },
    }
}

/// The folder, held against other runs of this program until the value is dropped.
///
/// So what one of them has seen unchanged is not changed by another before it is replaced.
/// Not every file system can hold a folder; the look at the bytes just before they are replaced stands without it.
#[cfg(unix)]
fn hold(folder: &Path) -> Option<File> {
    let folder = File::open(folder).ok()?;
    let _ = folder.lock();
    Some(folder)
}

#[cfg(not(unix))]
fn hold(_: &Path) -> Option<File> {
    None
}

/// Whether nobody may write to a folder. Who may do everything is bound by it as well, as by a file that is read-only.
#[cfg(unix)]
fn is_closed(folder: &Path) -> bool {
    fs::metadata(folder).is_ok_and(|folder| folder.permissions().readonly())
}

/// The mark means something else on folders of other systems.
#[cfg(not(unix))]
fn is_closed(_: &Path) -> bool {
    false
}

/// Gives a file the permissions of an old one.
///
/// A temporary file is for its owner only; a new log is read by whoever may read the folder.
#[cfg(unix)]
fn permit(file: &File, old: Option<&Metadata>) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
    let Some(old) = old else { return file.set_permissions(fs::Permissions::from_mode(0o644)) };
    let own = file.metadata()?;
    // Only who may do everything can give a file away: then it stays with whom it was. All others keep it themselves.
    if own.gid() != old.gid() {
        let _ = fchown(file, None, Some(old.gid()));
    }
    if own.uid() != old.uid() {
        let _ = fchown(file, Some(old.uid()), None);
    }
    file.set_permissions(old.permissions())
}

#[cfg(not(unix))]
fn permit(_: &File, _: Option<&Metadata>) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const OLD: &str = "# what was spun\n";
    const NEW: &str = "# what was spun\n\n[[note]]\n";

    fn folder() -> tempfile::TempDir {
        tempfile::tempdir().expect("a temporary folder")
    }

    fn log_in(folder: &tempfile::TempDir, text: &str) -> PathBuf {
        let path = folder.path().join("log.toml");
        fs::write(&path, text).expect("a log");
        path
    }

    fn text(path: &Path) -> String {
        fs::read_to_string(path).expect("a file")
    }

    /// The names in a folder: what was written beside the log has to be gone.
    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_log_is_replaced_and_a_missing_one_is_begun() {
        let folder = folder();
        let path = log_in(&folder, OLD);
        append_to(&path, Some(OLD), NEW).expect("written");
        assert_eq!(text(&path), NEW);
        fs::remove_file(&path).expect("removed");
        append_to(&path, None, NEW).expect("written");
        assert_eq!(text(&path), NEW);
        assert_eq!(names(folder.path()), ["log.toml"]);
    }

    #[test]
    fn what_was_changed_is_left_alone() {
        let folder = folder();
        for other in ["", "# what was SPUN\n", "# what was spun\n\n[[sample]]\n"] {
            let path = log_in(&folder, other);
            assert!(matches!(append_to(&path, Some(OLD), NEW), Err(StoreError::Changed(_))), "{other:?}");
            assert!(matches!(append_to(&path, None, NEW), Err(StoreError::Changed(_))), "{other:?}");
            assert_eq!(text(&path), other);
        }
        assert_eq!(names(folder.path()), ["log.toml"]);
    }

    #[test]
    fn a_folder_of_that_name_is_a_change() {
        let folder = folder();
        let path = folder.path().join("log.toml");
        fs::create_dir(&path).expect("a folder");
        assert!(matches!(append_to(&path, Some(OLD), NEW), Err(StoreError::Changed(_))));
        assert!(matches!(append_to(&path, None, NEW), Err(StoreError::Changed(_))));
    }

    #[test]
    fn what_has_vanished_is_not_written_anew() {
        let folder = folder();
        let path = folder.path().join("log.toml");
        assert!(matches!(append_to(&path, Some(OLD), NEW), Err(StoreError::Vanished(_))));
        assert_eq!(names(folder.path()), Vec::<String>::new());
    }

    /// What is done to the log between the writing of the new text and its taking the place of the old one.
    fn meanwhile(read: Option<&str>, act: impl FnOnce(&Path)) -> (Result<(), StoreError>, tempfile::TempDir) {
        let folder = folder();
        let path = folder.path().join("log.toml");
        if let Some(read) = read {
            fs::write(&path, read).expect("a log");
        }
        let target = target(&path, read).expect("a target");
        let file = beside(&target, NEW).expect("a file beside");
        act(&path);
        (replace(&path, &target, read, file), folder)
    }

    #[test]
    fn an_edit_in_between_is_kept() {
        let (ended, folder) = meanwhile(Some(OLD), |path| fs::write(path, "# what was dyed\n").expect("an edit"));
        assert!(matches!(ended, Err(StoreError::Changed(_))));
        assert_eq!(text(&folder.path().join("log.toml")), "# what was dyed\n");
        assert_eq!(names(folder.path()), ["log.toml"]);
    }

    #[test]
    fn a_log_removed_in_between_stays_removed() {
        let (ended, folder) = meanwhile(Some(OLD), |path| fs::remove_file(path).expect("removed"));
        assert!(matches!(ended, Err(StoreError::Vanished(_))));
        assert_eq!(names(folder.path()), Vec::<String>::new());
    }

    #[test]
    fn a_log_begun_in_between_is_kept() {
        let (ended, folder) = meanwhile(None, |path| fs::write(path, OLD).expect("a log"));
        assert!(matches!(ended, Err(StoreError::Changed(_))));
        assert_eq!(text(&folder.path().join("log.toml")), OLD);
        assert_eq!(names(folder.path()), ["log.toml"]);
    }

    #[test]
    fn a_log_begun_at_the_last_moment_is_kept() {
        let folder = folder();
        let path = folder.path().join("log.toml");
        let file = beside(&path, NEW).expect("a file beside");
        fs::write(&path, OLD).expect("a log");
        // The look at the path is left out, as if the log had appeared behind it.
        assert!(matches!(place(&path, &path, None, file), Err(StoreError::Changed(_))));
        assert_eq!(text(&path), OLD);
    }

    #[test]
    fn a_run_that_ends_in_the_middle_leaves_the_old_log() {
        let folder = folder();
        let path = log_in(&folder, OLD);
        let file = beside(&path, NEW).expect("a file beside");
        // A run that is killed cannot tidy up.
        let (_, left) = file.keep().expect("kept");
        assert_eq!(text(&path), OLD);
        append_to(&path, Some(OLD), NEW).expect("the next run is not hindered");
        assert_eq!((text(&path).as_str(), text(&left).as_str()), (NEW, NEW));
    }

    #[test]
    fn a_folder_that_is_not_there_is_named() {
        let folder = folder();
        let path = folder.path().join("gone/log.toml");
        let error = append_to(&path, None, NEW).expect_err("no folder");
        assert!(matches!(&error, StoreError::Unwritable { path, .. } if path.ends_with("gone")), "{error}");
    }

    #[test]
    fn refusals_of_the_system_are_told_as_read_only() {
        for kind in [io::ErrorKind::PermissionDenied, io::ErrorKind::ReadOnlyFilesystem] {
            assert!(matches!(failed(Path::new("log.toml"))(kind.into()), StoreError::ReadOnly(_)));
        }
        let full = failed(Path::new("log.toml"))(io::ErrorKind::StorageFull.into());
        assert!(full.to_string().starts_with("cannot add to log.toml: "), "{full}");
    }

    #[test]
    #[should_panic(expected = "invariant: a log is only added to")]
    fn a_log_only_grows() {
        let folder = folder();
        let path = log_in(&folder, OLD);
        let _ = append_to(&path, Some(OLD), "[[note]]\n");
    }

    #[cfg(unix)]
    mod unix {
        use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};

        use super::*;

        fn set_mode(path: &Path, mode: u32) {
            fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("permissions");
        }

        fn mode(path: &Path) -> u32 {
            fs::metadata(path).expect("a file").mode() & 0o7777
        }

        #[test]
        fn permissions_stay() {
            for wanted in [0o600, 0o640, 0o664, 0o755] {
                let folder = folder();
                let path = log_in(&folder, OLD);
                set_mode(&path, wanted);
                append_to(&path, Some(OLD), NEW).expect("written");
                assert_eq!(mode(&path), wanted);
            }
        }

        #[test]
        fn a_new_log_is_open_to_its_readers() {
            let folder = folder();
            let path = folder.path().join("log.toml");
            append_to(&path, None, NEW).expect("written");
            assert_eq!(mode(&path), 0o644);
        }

        #[test]
        fn the_owner_stays_where_the_system_allows_it() {
            let folder = folder();
            let path = log_in(&folder, OLD);
            if std::os::unix::fs::chown(&path, Some(4321), Some(4322)).is_err() {
                // Not everybody may give files away.
                return;
            }
            append_to(&path, Some(OLD), NEW).expect("written");
            let found = fs::metadata(&path).expect("a log");
            assert_eq!((found.uid(), found.gid()), (4321, 4322));
        }

        #[test]
        fn a_read_only_log_stays_as_it_is() {
            let folder = folder();
            let path = log_in(&folder, OLD);
            set_mode(&path, 0o444);
            let error = append_to(&path, Some(OLD), NEW).expect_err("read-only");
            assert!(matches!(&error, StoreError::ReadOnly(of) if *of == path), "{error}");
            assert_eq!((text(&path).as_str(), mode(&path)), (OLD, 0o444));
            assert_eq!(names(folder.path()), ["log.toml"]);
        }

        #[test]
        fn a_read_only_folder_stays_as_it_is() {
            for read in [Some(OLD), None] {
                let folder = folder();
                let path = folder.path().join("log.toml");
                if let Some(read) = read {
                    fs::write(&path, read).expect("a log");
                }
                let before = names(folder.path());
                set_mode(folder.path(), 0o555);
                let error = append_to(&path, read, NEW).expect_err("read-only");
                set_mode(folder.path(), 0o755);
                assert!(matches!(&error, StoreError::ReadOnly(of) if of == folder.path()), "{error}");
                assert_eq!(names(folder.path()), before);
            }
        }

        #[test]
        fn a_link_stays_and_its_file_is_replaced() {
            let folder = folder();
            let real = folder.path().join("kept/real.toml");
            fs::create_dir(folder.path().join("kept")).expect("a folder");
            fs::write(&real, OLD).expect("a log");
            set_mode(&real, 0o640);
            let path = folder.path().join("log.toml");
            symlink("kept/real.toml", &path).expect("a link");
            append_to(&path, Some(OLD), NEW).expect("written");
            assert_eq!(fs::read_link(&path).expect("still a link"), Path::new("kept/real.toml"));
            assert_eq!((text(&real).as_str(), mode(&real)), (NEW, 0o640));
            assert_eq!(names(folder.path()), ["kept", "log.toml"]);
            assert_eq!(names(&folder.path().join("kept")), ["real.toml"]);
        }

        #[test]
        fn a_link_out_of_the_folder_is_not_followed() {
            let folder = folder();
            fs::create_dir(folder.path().join("p")).expect("a folder");
            fs::write(folder.path().join("other.toml"), OLD).expect("a file");
            let path = folder.path().join("p/log.toml");
            symlink("../other.toml", &path).expect("a link");
            assert!(matches!(append_to(&path, Some(OLD), NEW), Err(StoreError::LeadsOut(_))));
            assert_eq!(text(&folder.path().join("other.toml")), OLD);
        }

        #[test]
        fn a_link_that_leads_nowhere_is_seen() {
            let folder = folder();
            let path = folder.path().join("log.toml");
            symlink("gone.toml", &path).expect("a link");
            assert!(matches!(append_to(&path, Some(OLD), NEW), Err(StoreError::Vanished(_))));
            assert!(matches!(append_to(&path, None, NEW), Err(StoreError::Changed(_))));
            assert_eq!(names(folder.path()), ["log.toml"]);
        }

        #[test]
        fn a_link_turned_elsewhere_in_between_is_a_change() {
            let folder = folder();
            let [first, second] = ["first.toml", "second.toml"].map(|name| folder.path().join(name));
            fs::write(&first, OLD).expect("a log");
            fs::write(&second, OLD).expect("a log");
            let path = folder.path().join("log.toml");
            symlink("first.toml", &path).expect("a link");
            let target = target(&path, Some(OLD)).expect("a target");
            let file = beside(&target, NEW).expect("a file beside");
            fs::remove_file(&path).expect("removed");
            symlink("second.toml", &path).expect("a link");
            assert!(matches!(replace(&path, &target, Some(OLD), file), Err(StoreError::Changed(_))));
            assert_eq!((text(&first).as_str(), text(&second).as_str()), (OLD, OLD));
        }

        #[test]
        fn runs_at_the_same_time_lose_nothing() {
            const RUNS: usize = 6;
            const ENTRIES: usize = 12;
            let folder = folder();
            let path = log_in(&folder, OLD);
            let add = |entry: String| loop {
                let old = text(&path);
                match append_to(&path, Some(&old), &format!("{old}{entry}")) {
                    Ok(()) => return,
                    Err(StoreError::Changed(_)) => {}
                    Err(error) => panic!("{error}"),
                }
            };
            std::thread::scope(|scope| {
                for run in 0..RUNS {
                    scope.spawn(move || (0..ENTRIES).for_each(|i| add(format!("# {run}.{i}\n"))));
                }
            });
            let whole = text(&path);
            let lost = (0..RUNS)
                .flat_map(|run| (0..ENTRIES).map(move |i| format!("\n# {run}.{i}\n")))
                .filter(|entry| !whole.contains(entry.as_str()));
            assert_eq!(lost.collect::<Vec<_>>(), Vec::<String>::new());
            assert_eq!(names(folder.path()), ["log.toml"]);
        }
    }
}
