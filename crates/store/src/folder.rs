//! A workshop's folder: made, opened by one process at a time, and explained to whoever finds it later.

use std::collections::HashMap;
use std::fs::{self, File, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicUsize;
use std::sync::{Arc, Mutex};

use crate::Store;
use crate::database;
use crate::disk::{Access, Disk, RealDisk};
use crate::error::StoreError;
use crate::mount::remote_file_system;
use crate::vault::{self, Vault};

const LOCK: &str = "workshop.lock";
pub(crate) const READ_ME: &str = "READ ME.txt";
const READ_ME_TEXT: &str = include_str!("read-me.txt");
/// The tables are made under this name and renamed when they are whole.
const HALF_MADE: &str = "workshop.sqlite.new";

/// Reads do not wait for one another until more than this many run at once.
const READERS: usize = 3;

/// What a workshop's folder may hold before its ledger is there: a start that was cut off is simply done again.
const OURS: [&str; 9] = [
    LOCK,
    READ_ME,
    HALF_MADE,
    "workshop.sqlite.new-journal",
    vault::PHOTOGRAPHS,
    vault::PREVIEWS,
    vault::PAPERS,
    vault::KEYS,
    vault::UNFINISHED,
];

impl Store {
    /// Starts a new workshop in a folder that is empty or not there yet. A folder that is a workshop already is opened.
    ///
    /// # Errors
    /// [`StoreError::NotEmpty`] where other things lie in the folder, and what [`Store::open`] answers.
    pub fn start(folder: &Path) -> Result<Store, StoreError> {
        Store::start_on(folder, Arc::new(RealDisk))
    }

    /// [`Store::start`] with another disk under the vault.
    ///
    /// # Errors
    /// As [`Store::start`].
    pub fn start_on(folder: &Path, disk: Arc<dyn Disk>) -> Result<Store, StoreError> {
        if folder.join(database::FILE).exists() {
            return Store::open_on(folder, disk);
        }
        let failed = |error: std::io::Error| StoreError::disk(folder, &error);
        if disk.list(folder).map_err(failed)?.iter().any(|name| !OURS.contains(&name.as_str())) {
            return Err(StoreError::NotEmpty { folder: folder.to_owned() });
        }
        disk.make_folder(folder, Access::Usual).map_err(failed)?;
        refuse_remote(folder, &*disk)?;
        let lock = lock(folder)?;
        let vault = Vault::new(folder, Arc::clone(&disk));
        vault.lay_out()?;
        vault.keep(&folder.join(READ_ME), READ_ME_TEXT.as_bytes(), Access::Usual)?;
        make_ledger(folder, &*disk)?;
        if let Some(above) = fs::canonicalize(folder).ok().as_deref().and_then(Path::parent) {
            // The new folder's own name. The folder above may be one that this person cannot read, and then the system
            // is left to write it in its own time.
            let _ = disk.sync_folder(above);
        }
        Store::assemble(vault, lock)
    }

    /// Opens a workshop to work in it. One process at a time can; others can still [`Store::open_to_read`].
    /// What was withheld is taken out again, should a copy have brought it back.
    ///
    /// # Errors
    /// No folder, no workshop in it, in use, newer, damaged, no permission, on another machine: each says what to do.
    pub fn open(folder: &Path) -> Result<Store, StoreError> {
        Store::open_on(folder, Arc::new(RealDisk))
    }

    /// [`Store::open`] with another disk under the vault.
    ///
    /// # Errors
    /// As [`Store::open`].
    pub fn open_on(folder: &Path, disk: Arc<dyn Disk>) -> Result<Store, StoreError> {
        refuse_missing(folder)?;
        refuse_remote(folder, &*disk)?;
        let lock = lock(folder)?;
        Store::assemble(Vault::new(folder, disk), lock)
    }

    /// Opens a workshop to look at it, beside a process that works in it. Whatever would write is refused.
    ///
    /// # Errors
    /// As [`Store::open`], without the lock and without the question of where the folder lies.
    pub fn open_to_read(folder: &Path) -> Result<Store, StoreError> {
        refuse_missing(folder)?;
        Ok(Store {
            readers: readers(folder)?,
            writer: None,
            vault: Vault::new(folder, Arc::new(RealDisk)),
            jobs: Mutex::new(HashMap::new()),
            turn: AtomicUsize::new(0),
            _lock: None,
        })
    }

    fn assemble(vault: Vault, lock: File) -> Result<Store, StoreError> {
        let folder = vault.root().to_owned();
        let writer = database::open_to_write(&folder)?;
        vault.lay_out()?;
        vault.clear_unfinished()?;
        let store = Store {
            readers: readers(&folder)?,
            writer: Some(Mutex::new(writer)),
            vault,
            jobs: Mutex::new(HashMap::new()),
            turn: AtomicUsize::new(0),
            _lock: Some(lock),
        };
        store.apply_withholdings()?;
        Ok(store)
    }

    /// The workshop's folder.
    pub fn folder(&self) -> &Path {
        self.vault.root()
    }
}

fn readers(folder: &Path) -> Result<Vec<Mutex<rusqlite::Connection>>, StoreError> {
    (0..READERS).map(|_| Ok(Mutex::new(database::open_to_read(folder)?))).collect()
}

fn refuse_missing(folder: &Path) -> Result<(), StoreError> {
    let about = |place: &Path| match fs::metadata(place) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
        about => about.map(Some).map_err(|error| StoreError::disk(place, &error)),
    };
    match about(folder)? {
        None => return Err(StoreError::NoFolder { folder: folder.to_owned() }),
        Some(kind) if !kind.is_dir() => return Err(StoreError::NotAWorkshop { folder: folder.to_owned() }),
        Some(_) => {}
    }
    match about(&folder.join(database::FILE))? {
        Some(kind) if kind.is_file() => Ok(()),
        _ => Err(StoreError::NotAWorkshop { folder: folder.to_owned() }),
    }
}

/// Where the system has no table of mounts it cannot be told, and the work goes on.
fn refuse_remote(folder: &Path, disk: &dyn Disk) -> Result<(), StoreError> {
    let Ok(table) = disk.read(Path::new("/proc/self/mountinfo")) else { return Ok(()) };
    let whole = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    match remote_file_system(&whole, &String::from_utf8_lossy(&table)) {
        Some(file_system) => Err(StoreError::NetworkFolder { folder: folder.to_owned(), file_system }),
        None => Ok(()),
    }
}

/// Takes the writer's lock; the system gives it back when the process ends, however it ends.
pub(crate) fn lock(folder: &Path) -> Result<File, StoreError> {
    let place = folder.join(LOCK);
    let failed = |error: std::io::Error| StoreError::disk(&place, &error);
    let file = File::options().create(true).truncate(false).write(true).open(&place).map_err(failed)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::InUse { folder: folder.to_owned() }),
        Err(TryLockError::Error(error)) => Err(failed(error)),
    }
}

fn make_ledger(folder: &Path, disk: &dyn Disk) -> Result<(), StoreError> {
    let half_made = folder.join(HALF_MADE);
    let step =
        |place: &PathBuf, done: std::io::Result<()>| done.map_err(|error| StoreError::disk(place, &error));
    for left in [half_made.clone(), folder.join("workshop.sqlite.new-journal")] {
        if left.exists() {
            step(&left, disk.remove(&left))?;
        }
    }
    database::create(&half_made)?;
    let ledger = folder.join(database::FILE);
    step(&half_made, disk.sync(&half_made))?;
    step(&ledger, disk.rename(&half_made, &ledger))?;
    step(&folder.to_owned(), disk.sync_folder(folder))
}
