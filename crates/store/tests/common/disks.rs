//! Disks that fail at a chosen step, or lose what was not synced.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

use asfound_store::{Access, Disk, RealDisk};

/// Fails the step with the given number, and with `and_after` every step that follows, as when the machine dies.
pub(crate) struct FailingDisk {
    under: Arc<dyn Disk>,
    steps: AtomicUsize,
    fail_at: usize,
    and_after: bool,
    kind: io::ErrorKind,
}

impl FailingDisk {
    pub(crate) fn once(fail_at: usize, kind: io::ErrorKind) -> FailingDisk {
        FailingDisk { under: Arc::new(RealDisk), steps: AtomicUsize::new(0), fail_at, and_after: false, kind }
    }

    pub(crate) fn from(fail_at: usize, kind: io::ErrorKind) -> FailingDisk {
        FailingDisk { and_after: true, ..FailingDisk::once(fail_at, kind) }
    }

    pub(crate) fn never() -> FailingDisk {
        FailingDisk::once(usize::MAX, io::ErrorKind::Other)
    }

    pub(crate) fn over(self, under: Arc<dyn Disk>) -> FailingDisk {
        FailingDisk { under, ..self }
    }

    /// How many steps were asked for.
    pub(crate) fn steps(&self) -> usize {
        self.steps.load(Ordering::SeqCst)
    }

    fn step(&self) -> io::Result<&dyn Disk> {
        let step = self.steps.fetch_add(1, Ordering::SeqCst);
        let fails = step == self.fail_at || (self.and_after && step > self.fail_at);
        if fails { Err(self.kind.into()) } else { Ok(&*self.under) }
    }
}

impl Disk for FailingDisk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        self.step()?.read(path)
    }

    /// A write that fails leaves half of the bytes, as a full disk does.
    fn write(&self, path: &Path, bytes: &[u8], access: Access) -> io::Result<()> {
        match self.step() {
            Ok(disk) => disk.write(path, bytes, access),
            Err(error) => self.under.write(path, &bytes[..bytes.len() / 2], access).and(Err(error)),
        }
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        self.step()?.sync(path)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.step()?.rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.step()?.remove(path)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        self.step()?.sync_folder(path)
    }

    fn make_folder(&self, path: &Path, access: Access) -> io::Result<()> {
        self.step()?.make_folder(path, access)
    }

    fn list(&self, path: &Path) -> io::Result<Vec<String>> {
        self.step()?.list(path)
    }

    fn length(&self, path: &Path) -> io::Result<Option<u64>> {
        self.step()?.length(path)
    }
}

/// A disk that forgets, at a power cut, all that no sync had put on the medium: contents of files, names in folders,
/// folders themselves. The worst that a file system may do.
#[derive(Default)]
pub(crate) struct ForgetfulDisk {
    memory: Mutex<Memory>,
}

#[derive(Default)]
struct Memory {
    /// Files whose content is not on the medium.
    unsynced: BTreeSet<PathBuf>,
    /// Names that are not on the medium, with the bytes that the name had before, if any.
    unnamed: BTreeMap<PathBuf, Option<Vec<u8>>>,
    /// Removals that are not on the medium, with the bytes.
    unremoved: BTreeMap<PathBuf, Vec<u8>>,
    /// Folders whose name is not on the medium.
    unsettled: BTreeSet<PathBuf>,
}

impl ForgetfulDisk {
    /// The power goes: forgets in `folder`, which holds the same files as the one that was written to.
    pub(crate) fn forget(&self, written: &Path, folder: &Path) {
        let memory = self.memory.lock().unwrap();
        let there = |path: &Path| folder.join(path.strip_prefix(written).unwrap());
        for path in &memory.unsynced {
            if let Ok(bytes) = std::fs::read(there(path)) {
                std::fs::write(there(path), &bytes[..bytes.len() / 3]).unwrap();
            }
        }
        for (path, before) in &memory.unnamed {
            match before {
                Some(bytes) => std::fs::write(there(path), bytes).unwrap(),
                None => drop(std::fs::remove_file(there(path))),
            }
        }
        for (path, bytes) in &memory.unremoved {
            std::fs::write(there(path), bytes).unwrap();
        }
        for path in &memory.unsettled {
            if path.starts_with(written) && path != written {
                drop(std::fs::remove_dir_all(there(path)));
            }
        }
    }
}

impl Disk for ForgetfulDisk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        RealDisk.read(path)
    }

    fn write(&self, path: &Path, bytes: &[u8], access: Access) -> io::Result<()> {
        let mut memory = self.memory.lock().unwrap();
        memory.unsynced.insert(path.to_owned());
        if !path.exists() {
            memory.unnamed.insert(path.to_owned(), None);
        }
        RealDisk.write(path, bytes, access)
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        self.memory.lock().unwrap().unsynced.remove(path);
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut memory = self.memory.lock().unwrap();
        if memory.unsynced.remove(from) {
            memory.unsynced.insert(to.to_owned());
        }
        memory.unnamed.remove(from);
        let before = std::fs::read(to).ok();
        memory.unnamed.entry(to.to_owned()).or_insert(before);
        RealDisk.rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        let mut memory = self.memory.lock().unwrap();
        let bytes = std::fs::read(path)?;
        if memory.unnamed.remove(path).is_none() {
            memory.unremoved.insert(path.to_owned(), bytes);
        }
        memory.unsynced.remove(path);
        RealDisk.remove(path)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        let mut memory = self.memory.lock().unwrap();
        memory.unnamed.retain(|name, _| name.parent() != Some(path));
        memory.unremoved.retain(|name, _| name.parent() != Some(path));
        memory.unsettled.retain(|name| name.parent() != Some(path));
        Ok(())
    }

    fn make_folder(&self, path: &Path, access: Access) -> io::Result<()> {
        if !path.exists() {
            self.memory.lock().unwrap().unsettled.insert(path.to_owned());
        }
        RealDisk.make_folder(path, access)
    }

    fn list(&self, path: &Path) -> io::Result<Vec<String>> {
        RealDisk.list(path)
    }

    fn length(&self, path: &Path) -> io::Result<Option<u64>> {
        RealDisk.length(path)
    }
}

/// A folder as it lies on the disk at this moment, copied as it is: what a killed process leaves behind.
pub(crate) fn copy_as_it_lies(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for item in std::fs::read_dir(from).unwrap() {
        let item = item.unwrap();
        let target = to.join(item.file_name());
        if item.file_type().unwrap().is_dir() {
            copy_as_it_lies(&item.path(), &target);
        } else {
            std::fs::copy(item.path(), target).unwrap();
        }
    }
}
