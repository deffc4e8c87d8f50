//! The few things the vault asks of a disk, so that a test can let each of them fail.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::Path;

/// Who may read a file or folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// As the system gives it.
    Usual,
    /// Only the person the program runs as (mode 0600 for a file, 0700 for a folder, where the system has modes).
    Private,
}

/// What the vault needs of a disk. Each call is one step that can fail or be the last before a power cut.
pub trait Disk: Send + Sync {
    /// The whole file.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>>;
    /// Writes a new file or replaces its content. Nothing is promised about a power cut until [`Disk::sync`].
    fn write(&self, path: &Path, bytes: &[u8], access: Access) -> io::Result<()>;
    /// Puts a file's content on the medium.
    fn sync(&self, path: &Path) -> io::Result<()>;
    /// Gives a file a new name in one step, in place of a file that has that name.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Takes a file away.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Puts a folder's list of names on the medium.
    fn sync_folder(&self, path: &Path) -> io::Result<()>;
    /// Makes a folder; one that is there already is no error.
    fn make_folder(&self, path: &Path, access: Access) -> io::Result<()>;
    /// The names in a folder, in order; none where there is no such folder.
    fn list(&self, path: &Path) -> io::Result<Vec<String>>;
    /// How many bytes a file has; `None` where there is none.
    fn length(&self, path: &Path) -> io::Result<Option<u64>>;
}

/// The machine's own disk.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        fs::read(path)
    }

    fn write(&self, path: &Path, bytes: &[u8], access: Access) -> io::Result<()> {
        let mut options = OpenOptions::new();
        options.write(true).create(true).truncate(true);
        restrict_file(&mut options, access);
        options.open(path)?.write_all(bytes)
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        OpenOptions::new().write(true).open(path)?.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        // Elsewhere a folder cannot be opened as a file, and the system keeps its list of names itself.
        if cfg!(unix) { File::open(path)?.sync_all() } else { Ok(()) }
    }

    fn make_folder(&self, path: &Path, access: Access) -> io::Result<()> {
        if path.is_dir() {
            return Ok(());
        }
        let mut builder = fs::DirBuilder::new();
        builder.recursive(true);
        restrict_folder(&mut builder, access);
        builder.create(path)
    }

    fn list(&self, path: &Path) -> io::Result<Vec<String>> {
        let folder = match fs::read_dir(path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            folder => folder?,
        };
        let mut names = folder
            .map(|item| Ok(item?.file_name().to_string_lossy().into_owned()))
            .collect::<io::Result<Vec<_>>>()?;
        names.sort();
        Ok(names)
    }

    fn length(&self, path: &Path) -> io::Result<Option<u64>> {
        match fs::metadata(path) {
            Ok(about) => Ok(Some(about.len())),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }
}

#[cfg(unix)]
fn restrict_file(options: &mut OpenOptions, access: Access) {
    use std::os::unix::fs::OpenOptionsExt as _;
    if access == Access::Private {
        options.mode(0o600);
    }
}

#[cfg(not(unix))]
fn restrict_file(_: &mut OpenOptions, _: Access) {}

#[cfg(unix)]
fn restrict_folder(builder: &mut fs::DirBuilder, access: Access) {
    use std::os::unix::fs::DirBuilderExt as _;
    if access == Access::Private {
        builder.mode(0o700);
    }
}

#[cfg(not(unix))]
fn restrict_folder(_: &mut fs::DirBuilder, _: Access) {}
