//! Connections to the ledger's file: how each is opened, and which form of the tables it must have.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

use crate::error::StoreError;
use crate::read;

pub(crate) const FILE: &str = "workshop.sqlite";

/// Marks the file as this program's in the header field that SQLite keeps for it ("AsFd" in ASCII).
const APPLICATION: i64 = 0x4173_4664;

/// The steps that bring an older file up to date; the number of steps done is the file's `user_version`.
const STEPS: [&str; 2] = [include_str!("sql/001.sql"), include_str!("sql/002.sql")];

/// How long to wait for another process that reads or closes at this moment.
const PATIENCE: Duration = Duration::from_secs(1);

pub(crate) fn known_version() -> i64 {
    STEPS.len() as i64
}

/// Makes the tables in a file of its own, so that the workshop's file is never there half made.
pub(crate) fn create(place: &Path) -> Result<(), StoreError> {
    let explain = |error: rusqlite::Error| StoreError::database(place, &error);
    let mut connection = Connection::open(place).map_err(explain)?;
    connection.pragma_update(None, "synchronous", "FULL").map_err(explain)?;
    bring_up_to_date(&mut connection, 0).map_err(explain)?;
    connection.close().map_err(|(_, error)| explain(error))
}

/// All missing steps in one transaction, with the mark of the program and the version.
fn bring_up_to_date(connection: &mut Connection, version: usize) -> rusqlite::Result<()> {
    let transaction = connection.transaction()?;
    for step in &STEPS[version..] {
        transaction.execute_batch(step)?;
    }
    transaction.pragma_update(None, "application_id", APPLICATION)?;
    transaction.pragma_update(None, "user_version", known_version())?;
    transaction.commit()
}

/// The one connection that writes. An older file is brought up to date first.
pub(crate) fn open_to_write(folder: &Path) -> Result<Connection, StoreError> {
    let place = folder.join(FILE);
    let explain = |error: rusqlite::Error| StoreError::database(&place, &error);
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut connection = Connection::open_with_flags(&place, flags).map_err(explain)?;
    let version = check_form(&connection, folder)?;
    refuse_cut_short(&connection, &place)?;
    connection.busy_timeout(PATIENCE).map_err(explain)?;
    let mode: String =
        connection.pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get(0)).map_err(explain)?;
    if mode != "wal" {
        let what = format!("it keeps its log as `{mode}`, not as `wal`");
        return Err(StoreError::Database { place, what });
    }
    for (name, value) in
        [("synchronous", "FULL"), ("foreign_keys", "ON"), ("secure_delete", "ON"), ("temp_store", "MEMORY")]
    {
        connection.pragma_update(None, name, value).map_err(explain)?;
    }
    let done = usize::try_from(version).unwrap_or(0);
    if done < STEPS.len() {
        bring_up_to_date(&mut connection, done).map_err(explain)?;
    }
    Ok(connection)
}

/// A connection that cannot write.
pub(crate) fn open_to_read(folder: &Path) -> Result<Connection, StoreError> {
    let place = folder.join(FILE);
    let connection = match readable(&place) {
        // On a read-only medium the log's index cannot be made beside the file. With no log the file alone is whole.
        Err(StoreError::NoPermission { .. }) if !has_log(&place) => unchanging(&place)?,
        connection => connection?,
    };
    let version = check_form(&connection, folder)?;
    if version < known_version() {
        return Err(StoreError::Older { folder: folder.to_owned(), found: version, known: known_version() });
    }
    Ok(connection)
}

fn readable(place: &Path) -> Result<Connection, StoreError> {
    let explain = |error: rusqlite::Error| StoreError::database(place, &error);
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(place, flags).map_err(explain)?;
    connection.busy_timeout(PATIENCE).map_err(explain)?;
    connection.pragma_update(None, "temp_store", "MEMORY").map_err(explain)?;
    connection.query_row("SELECT count(*) FROM sqlite_schema", (), |_| Ok(())).map_err(explain)?;
    Ok(connection)
}

fn has_log(place: &Path) -> bool {
    let mut log = place.as_os_str().to_owned();
    log.push("-wal");
    PathBuf::from(log).metadata().is_ok_and(|about| about.len() > 0)
}

/// Opens a file that nobody can change, without locks (SQLite's `immutable` parameter).
fn unchanging(place: &Path) -> Result<Connection, StoreError> {
    let mut name = String::from("file:");
    for byte in place.to_string_lossy().bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'.' | b'-' | b'_' => {
                name.push(char::from(byte))
            }
            _ => name.push_str(&format!("%{byte:02X}")),
        }
    }
    name.push_str("?immutable=1");
    let flags =
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX | OpenFlags::SQLITE_OPEN_URI;
    Connection::open_with_flags(name, flags).map_err(|error| StoreError::database(place, &error))
}

/// Whether the file is this program's and of a form it can read; answers its version.
fn check_form(connection: &Connection, folder: &Path) -> Result<i64, StoreError> {
    let place = folder.join(FILE);
    let number = |name: &str| -> Result<i64, StoreError> {
        connection
            .pragma_query_value(None, name, |row| row.get(0))
            .map_err(|error| StoreError::database(&place, &error))
    };
    // A file that was cut to nothing reads as an empty database.
    if place.metadata().is_ok_and(|about| about.len() == 0) {
        return Err(StoreError::Damaged { place, what: "it has no bytes left".into() });
    }
    if number("application_id")? != APPLICATION {
        return Err(StoreError::NotAWorkshop { folder: folder.to_owned() });
    }
    let found = number("user_version")?;
    if found > known_version() {
        return Err(StoreError::Newer { folder: folder.to_owned(), found, known: known_version() });
    }
    Ok(found)
}

/// SQLite itself misses a cut within the last page. With a log beside it, the file may rightly be shorter.
fn refuse_cut_short(connection: &Connection, place: &Path) -> Result<(), StoreError> {
    let number = |name: &str| -> Result<u64, StoreError> {
        connection
            .pragma_query_value(None, name, |row| read::count(row, 0))
            .map_err(|error| StoreError::database(place, &error))
    };
    let whole = number("page_count")? * number("page_size")?;
    let length = place.metadata().map_err(|error| StoreError::disk(place, &error))?.len();
    if length < whole && !has_log(place) {
        let what = format!("it is cut short: {length} of {whole} bytes are left");
        return Err(StoreError::Damaged { place: place.to_owned(), what });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_on_a_read_only_medium_can_be_read_whatever_its_name() {
        let folder = tempfile::tempdir().unwrap();
        let odd = folder.path().join("50% off? #1 Übung");
        std::fs::create_dir(&odd).unwrap();
        create(&odd.join(FILE)).unwrap();
        drop(open_to_write(&odd).unwrap());
        let connection = unchanging(&odd.join(FILE)).unwrap();
        assert_eq!(check_form(&connection, &odd).unwrap(), known_version());
    }
}
