//! Files beside the ledger: photographs by the hash of their bytes, previews, papers and key files.

use std::collections::HashSet;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use asfound_record::Hash;

use crate::disk::{Access, Disk};
use crate::error::StoreError;

pub(crate) const PHOTOGRAPHS: &str = "photographs";
pub(crate) const PREVIEWS: &str = "previews";
pub(crate) const PAPERS: &str = "papers";
pub(crate) const KEYS: &str = "keys";
/// Files on their way; whatever is left here was never acknowledged.
pub(crate) const UNFINISHED: &str = "unfinished";

/// The files of one workshop's folder.
pub(crate) struct Vault {
    root: PathBuf,
    disk: Arc<dyn Disk>,
    /// Makes names of unfinished files differ between threads.
    count: AtomicU64,
    /// Folders whose own name was put on the medium by this process. One that is merely there may have been made by
    /// a process that died before the folder above it was synced.
    settled: Mutex<HashSet<PathBuf>>,
}

impl Vault {
    pub(crate) fn new(root: &Path, disk: Arc<dyn Disk>) -> Vault {
        Vault { root: root.to_owned(), disk, count: AtomicU64::new(0), settled: Mutex::default() }
    }

    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    pub(crate) fn shared_disk(&self) -> Arc<dyn Disk> {
        Arc::clone(&self.disk)
    }

    /// Makes the folders of a new workshop.
    pub(crate) fn lay_out(&self) -> Result<(), StoreError> {
        for (name, access) in [
            (PHOTOGRAPHS, Access::Usual),
            (PREVIEWS, Access::Usual),
            (PAPERS, Access::Usual),
            (KEYS, Access::Private),
            (UNFINISHED, Access::Private),
        ] {
            self.settle(&self.root.join(name), access)?;
        }
        Ok(())
    }

    /// Takes away what an earlier process left half written.
    pub(crate) fn clear_unfinished(&self) -> Result<(), StoreError> {
        let folder = self.root.join(UNFINISHED);
        for name in self.list(&folder)? {
            self.remove(&folder.join(name))?;
        }
        Ok(())
    }

    /// Puts bytes under a name in one step: after a power cut the file is whole or not there.
    pub(crate) fn keep(&self, place: &Path, bytes: &[u8], access: Access) -> Result<(), StoreError> {
        let folder = place.parent().unwrap_or(&self.root);
        self.settle(folder, access)?;
        self.settle(&self.root.join(UNFINISHED), Access::Private)?;
        let unfinished =
            self.root.join(UNFINISHED).join(self.count.fetch_add(1, Ordering::Relaxed).to_string());
        let kept = self
            .step(&unfinished, |disk| disk.write(&unfinished, bytes, access))
            .and_then(|()| self.step(&unfinished, |disk| disk.sync(&unfinished)))
            .and_then(|()| self.step(place, |disk| disk.rename(&unfinished, place)));
        if kept.is_err() {
            // The failure is what the caller must hear of; what is left over is cleared at the next start.
            let _ = self.disk.remove(&unfinished);
            return kept;
        }
        self.step(folder, |disk| disk.sync_folder(folder))
    }

    /// Makes a folder, if it is not there, and puts its name on the medium once in the life of this process.
    fn settle(&self, folder: &Path, access: Access) -> Result<(), StoreError> {
        let mut settled = self.settled.lock().unwrap_or_else(PoisonError::into_inner);
        if settled.contains(folder) {
            return Ok(());
        }
        self.step(folder, |disk| disk.make_folder(folder, access))?;
        if let Some(above) = folder.parent().filter(|_| folder != self.root) {
            self.step(above, |disk| disk.sync_folder(above))?;
        }
        settled.insert(folder.to_owned());
        Ok(())
    }

    pub(crate) fn photograph_place(&self, hash: Hash) -> PathBuf {
        let name = hash.to_string();
        self.root.join(PHOTOGRAPHS).join(&name[..2]).join(name)
    }

    /// Keeps a photograph's bytes under their hash. A damaged file of that name is replaced by the good bytes.
    pub(crate) fn keep_photograph(&self, bytes: &[u8]) -> Result<Hash, StoreError> {
        let hash = Hash::of(bytes);
        let place = self.photograph_place(hash);
        if self.length(&place)? == Some(bytes.len() as u64)
            && self.step(&place, |disk| disk.read(&place))? == bytes
        {
            // It may have been renamed by a process that died before its name was on the medium.
            let folder = place.parent().unwrap_or(&self.root);
            self.settle(folder, Access::Usual)?;
            self.step(folder, |disk| disk.sync_folder(folder))?;
            return Ok(hash);
        }
        self.keep(&place, bytes, Access::Usual)?;
        Ok(hash)
    }

    pub(crate) fn photograph(&self, hash: Hash) -> Result<Vec<u8>, StoreError> {
        let place = self.photograph_place(hash);
        let bytes = match self.disk.read(&place) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return Err(StoreError::NoPhotograph { hash, place });
            }
            read => read.map_err(|error| StoreError::disk(&place, &error))?,
        };
        if Hash::of(&bytes) == hash { Ok(bytes) } else { Err(StoreError::DamagedPhotograph { place }) }
    }

    pub(crate) fn has_photograph(&self, hash: Hash) -> Result<bool, StoreError> {
        Ok(self.length(&self.photograph_place(hash))?.is_some())
    }

    pub(crate) fn length(&self, place: &Path) -> Result<Option<u64>, StoreError> {
        self.step(place, |disk| disk.length(place))
    }

    /// The hashes that have a file, in order. Names that are no hash are left alone and left out.
    pub(crate) fn photographs(&self) -> Result<Vec<Hash>, StoreError> {
        let folder = self.root.join(PHOTOGRAPHS);
        let mut hashes = Vec::new();
        for part in self.list(&folder)? {
            if part.len() == 2 {
                hashes.extend(self.list(&folder.join(&part))?.iter().filter_map(|name| Hash::from_hex(name)));
            }
        }
        Ok(hashes)
    }

    /// Takes a photograph and its previews away. What is not there is no error.
    pub(crate) fn remove_photograph(&self, hash: Hash) -> Result<(), StoreError> {
        let place = self.photograph_place(hash);
        if self.length(&place)?.is_some() {
            self.remove(&place)?;
            let folder = place.parent().unwrap_or(&self.root);
            self.step(folder, |disk| disk.sync_folder(folder))?;
        }
        let folder = self.preview_folder(hash);
        for name in self.list(&folder)? {
            if name.starts_with(&hash.to_string()) {
                self.remove(&folder.join(name))?;
            }
        }
        Ok(())
    }

    fn preview_folder(&self, hash: Hash) -> PathBuf {
        self.root.join(PREVIEWS).join(&hash.to_string()[..2])
    }

    fn preview_place(&self, hash: Hash, size: u32) -> PathBuf {
        self.preview_folder(hash).join(format!("{hash}-{size}"))
    }

    pub(crate) fn keep_preview(&self, hash: Hash, size: u32, bytes: &[u8]) -> Result<(), StoreError> {
        self.keep(&self.preview_place(hash, size), bytes, Access::Usual)
    }

    pub(crate) fn preview(&self, hash: Hash, size: u32) -> Result<Option<Vec<u8>>, StoreError> {
        self.read_if_there(&self.preview_place(hash, size))
    }

    /// Keeps a file under a plain name and never writes over other bytes.
    pub(crate) fn keep_named(&self, folder: &str, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let place = self.named_place(folder, name)?;
        let access = if folder == KEYS { Access::Private } else { Access::Usual };
        match self.read_if_there(&place)? {
            Some(there) if there != bytes => Err(StoreError::NameTaken { place }),
            _ => self.keep(&place, bytes, access),
        }
    }

    pub(crate) fn named(&self, folder: &str, name: &str) -> Result<Vec<u8>, StoreError> {
        let place = self.named_place(folder, name)?;
        self.read_if_there(&place)?.ok_or(StoreError::NoFile { place })
    }

    /// The files in a folder, in order. A folder that somebody put there is left alone.
    pub(crate) fn names(&self, folder: &str) -> Result<Vec<String>, StoreError> {
        let folder = self.root.join(folder);
        Ok(self.list(&folder)?.into_iter().filter(|name| !folder.join(name).is_dir()).collect())
    }

    fn named_place(&self, folder: &str, name: &str) -> Result<PathBuf, StoreError> {
        let plain = |sign: char| sign.is_alphanumeric() || " .-_".contains(sign);
        let good = !name.is_empty() && name.len() <= 200 && name.chars().all(plain);
        if good && !name.starts_with(['.', ' ']) && !name.ends_with(['.', ' ']) {
            Ok(self.root.join(folder).join(name))
        } else {
            Err(StoreError::BadName { name: name.to_owned() })
        }
    }

    pub(crate) fn read_if_there(&self, place: &Path) -> Result<Option<Vec<u8>>, StoreError> {
        match self.disk.read(place) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            read => read.map(Some).map_err(|error| StoreError::disk(place, &error)),
        }
    }

    pub(crate) fn list(&self, folder: &Path) -> Result<Vec<String>, StoreError> {
        self.step(folder, |disk| disk.list(folder))
    }

    fn remove(&self, place: &Path) -> Result<(), StoreError> {
        self.step(place, |disk| disk.remove(place))
    }

    fn step<T>(&self, place: &Path, work: impl FnOnce(&dyn Disk) -> io::Result<T>) -> Result<T, StoreError> {
        work(&*self.disk).map_err(|error| StoreError::disk(place, &error))
    }
}
