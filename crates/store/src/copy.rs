//! A whole copy of the workshop, made while work goes on.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use asfound_record::Cite;
use rusqlite::{Connection, params};

use crate::Store;
use crate::database;
use crate::disk::{Access, Disk};
use crate::error::StoreError;
use crate::folder;
use crate::read;
use crate::vault::{self, Vault};
use crate::withhold;

/// The ledger is copied under this name and renamed when it is whole.
const ON_ITS_WAY: &str = "workshop.sqlite.copy";

impl Store {
    /// Copies the whole workshop into a folder that is empty, not there yet, or an older copy of this same workshop,
    /// which is brought up to date. Photographs that were withheld since are removed from it. Previews are left out:
    /// they are made again.
    ///
    /// The ledger goes by SQLite's online backup, so it is of one moment. Photographs are copied before it and once
    /// more after it, so every photograph that its entries name is there.
    ///
    /// # Errors
    /// [`StoreError::CopyTarget`] where the folder is something else or a newer copy, and the disk's and database's.
    pub fn copy_to(&self, target: &Path) -> Result<(), StoreError> {
        let refuse = |why: &str| StoreError::CopyTarget { target: target.to_owned(), why: why.to_owned() };
        let is_old_copy = target.join(database::FILE).exists();
        if !is_old_copy && !self.vault.list(target)?.is_empty() {
            return Err(refuse("it holds other things"));
        }
        if resolved(target)?.starts_with(resolved(self.folder())?) {
            return Err(refuse("it lies inside the workshop's own folder"));
        }
        let disk = self.vault.shared_disk();
        disk.make_folder(target, Access::Usual).map_err(|error| StoreError::disk(target, &error))?;
        let _lock = folder::lock(target)?;
        if is_old_copy {
            self.must_contain(target)?;
        }
        let copy = Vault::new(target, Arc::clone(&disk));
        copy.lay_out()?;
        self.copy_photographs(&copy)?;
        self.copy_ledger(target, &*disk)?;
        self.copy_photographs(&copy)?;
        self.copy_named(&copy)
    }

    /// Whether every chain of an older copy goes on in this workshop: else it is another's, or newer.
    fn must_contain(&self, target: &Path) -> Result<(), StoreError> {
        let copy = database::open_to_write(target)?;
        let place = target.join(database::FILE);
        let heads = own_heads(&copy).map_err(|error| StoreError::database(&place, &error))?;
        for head in heads {
            match self.entry(&head) {
                Ok(_) => {}
                Err(StoreError::UnknownEntry { .. }) => {
                    let why = format!("chain {} goes on there as it does not here", head.chain);
                    return Err(StoreError::CopyTarget { target: target.to_owned(), why });
                }
                Err(other) => return Err(other),
            }
        }
        Ok(())
    }

    fn copy_ledger(&self, target: &Path, disk: &dyn Disk) -> Result<(), StoreError> {
        let on_its_way = target.join(ON_ITS_WAY);
        let explain = |error: rusqlite::Error| StoreError::database(&on_its_way, &error);
        let failed = |place: &Path, error: std::io::Error| StoreError::disk(place, &error);
        for end in ["", "-wal", "-shm", "-journal"] {
            let left = target.join(format!("{ON_ITS_WAY}{end}"));
            if left.exists() {
                disk.remove(&left).map_err(|error| failed(&left, error))?;
            }
        }
        // Its own connection: the copy may take long, and the readers are for those who wait at the bench.
        let source = database::open_to_read(self.folder())?;
        let mut copied = Connection::open(&on_its_way).map_err(explain)?;
        let backup = rusqlite::backup::Backup::new(&source, &mut copied).map_err(explain)?;
        backup.step(-1).map_err(explain)?;
        drop(backup);
        copied.close().map_err(|(_, error)| explain(error))?;
        disk.sync(&on_its_way).map_err(|error| failed(&on_its_way, error))?;
        // A log beside the old ledger would be taken for the new one's.
        for end in ["-wal", "-shm"] {
            let left = target.join(format!("{}{end}", database::FILE));
            if left.exists() {
                disk.remove(&left).map_err(|error| failed(&left, error))?;
            }
        }
        let place = target.join(database::FILE);
        disk.rename(&on_its_way, &place).map_err(|error| failed(&place, error))?;
        disk.sync_folder(target).map_err(|error| failed(target, error))
    }

    /// Copies the photographs that the copy lacks and removes those that were withheld. One that is missing here for
    /// another reason stays there: the copy may be the last to have it.
    fn copy_photographs(&self, copy: &Vault) -> Result<(), StoreError> {
        for hash in self.reading(withhold::unshown)? {
            copy.remove_photograph(hash)?;
        }
        for hash in self.vault.photographs()? {
            let ours = self.vault.photograph_place(hash);
            let theirs = copy.photograph_place(hash);
            if copy.length(&theirs)?.is_some() && copy.length(&theirs)? == self.vault.length(&ours)? {
                continue;
            }
            // As it is, damaged or not: a copy is no judge. One that was withheld in between is no longer there.
            if let Some(bytes) = self.vault.read_if_there(&ours)? {
                copy.keep(&theirs, &bytes, Access::Usual)?;
            }
        }
        Ok(())
    }

    fn copy_named(&self, copy: &Vault) -> Result<(), StoreError> {
        for (folder, access) in [(vault::PAPERS, Access::Usual), (vault::KEYS, Access::Private)] {
            for name in self.vault.names(folder)? {
                let place = PathBuf::from(folder).join(name);
                self.copy_file(copy, &place, access)?;
            }
        }
        self.copy_file(copy, Path::new(folder::READ_ME), Access::Usual)?;
        self.copy_file(copy, Path::new(withhold::LIST), Access::Usual)
    }

    fn copy_file(&self, copy: &Vault, place: &Path, access: Access) -> Result<(), StoreError> {
        let Some(bytes) = self.vault.read_if_there(&self.folder().join(place))? else { return Ok(()) };
        let theirs = copy.root().join(place);
        if copy.read_if_there(&theirs)?.as_deref() == Some(&bytes[..]) {
            return Ok(());
        }
        copy.keep(&theirs, &bytes, access)
    }
}

/// Where a folder lies, or would lie once it is made, whatever links lead there.
fn resolved(folder: &Path) -> Result<PathBuf, StoreError> {
    let failed = |error: std::io::Error| StoreError::disk(folder, &error);
    let whole = std::path::absolute(folder).map_err(failed)?;
    for above in whole.ancestors() {
        if let Ok(there) = fs::canonicalize(above) {
            return Ok(there.join(whole.strip_prefix(above).unwrap_or(Path::new(""))));
        }
    }
    Ok(whole)
}

/// The last entry of each chain that the workshop writes itself.
fn own_heads(connection: &Connection) -> rusqlite::Result<Vec<Cite>> {
    connection
        .prepare("SELECT chain, next - 1, hash FROM chain WHERE own = 1 AND next > 0 ORDER BY chain")?
        .query_map(params![], |row| {
            Ok(Cite { chain: row.get(0)?, seq: read::count(row, 1)?, hash: read::hash(row, 2)? })
        })?
        .collect()
}
