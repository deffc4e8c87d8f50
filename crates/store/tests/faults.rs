//! What can go wrong around the folder: each a clear sentence, and nothing harmed.

mod common;

use std::io::ErrorKind;
use std::path::Path;
use std::sync::Arc;

use asfound_store::{Access, Disk, RealDisk, Store, StoreError};
use common::disks::{FailingDisk, copy_as_it_lies};
use common::{CHAIN, is_sentence, keep_note, photograph, withheld};

fn with_some_notes(folder: &Path) -> Store {
    let store = Store::start(folder).unwrap();
    store
        .append_many(|batch| {
            (0..300).try_for_each(|number| {
                batch.append(common::note(&format!("a note of dust and wax {number}")), CHAIN, None).map(drop)
            })
        })
        .unwrap();
    store
}

fn refusal(opened: Result<Store, StoreError>) -> StoreError {
    let error = opened.err().expect("it should be refused");
    assert!(is_sentence(&error), "{error}");
    error
}

#[test]
fn no_folder_no_workshop_and_a_folder_with_other_things() {
    let folder = tempfile::tempdir().unwrap();
    let gone = folder.path().join("gone");
    assert!(matches!(refusal(Store::open(&gone)), StoreError::NoFolder { .. }));
    assert!(matches!(refusal(Store::open_to_read(&gone)), StoreError::NoFolder { .. }));
    assert!(!gone.exists());
    assert!(matches!(refusal(Store::open(folder.path())), StoreError::NotAWorkshop { .. }));
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    let letter = folder.path().join("letter.txt");
    std::fs::write(&letter, "dear").unwrap();
    assert!(matches!(refusal(Store::start(folder.path())), StoreError::NotEmpty { .. }));
    assert!(matches!(refusal(Store::open(&letter)), StoreError::NotAWorkshop { .. }));
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn starting_where_a_workshop_is_opens_it() {
    let folder = tempfile::tempdir().unwrap();
    drop(with_some_notes(folder.path()));
    assert_eq!(Store::start(folder.path()).unwrap().entries(CHAIN).unwrap().len(), 300);
}

#[test]
fn a_second_one_at_once_is_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let store = with_some_notes(folder.path());
    assert!(matches!(refusal(Store::open(folder.path())), StoreError::InUse { .. }));
    assert!(matches!(refusal(Store::start(folder.path())), StoreError::InUse { .. }));
    drop(store);
    Store::open(folder.path()).unwrap();
}

#[test]
fn another_programs_database_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("workshop.sqlite");
    rusqlite::Connection::open(&place)
        .unwrap()
        .execute_batch("CREATE TABLE t (x); INSERT INTO t VALUES (1)")
        .unwrap();
    let before = std::fs::read(&place).unwrap();
    assert!(matches!(refusal(Store::open(folder.path())), StoreError::NotAWorkshop { .. }));
    assert!(matches!(refusal(Store::start(folder.path())), StoreError::NotAWorkshop { .. }));
    assert!(matches!(refusal(Store::open_to_read(folder.path())), StoreError::NotAWorkshop { .. }));
    assert_eq!(std::fs::read(&place).unwrap(), before);
}

#[test]
fn a_folder_from_a_newer_version_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    drop(with_some_notes(folder.path()));
    let place = folder.path().join("workshop.sqlite");
    rusqlite::Connection::open(&place).unwrap().pragma_update(None, "user_version", 99).unwrap();
    let before = std::fs::read(&place).unwrap();
    assert!(matches!(refusal(Store::open(folder.path())), StoreError::Newer { found: 99, .. }));
    assert!(matches!(refusal(Store::open_to_read(folder.path())), StoreError::Newer { .. }));
    assert_eq!(std::fs::read(&place).unwrap(), before);
}

#[test]
fn a_ledger_that_is_no_database_or_cut_short_is_said_to_be_damaged() {
    let folder = tempfile::tempdir().unwrap();
    drop(with_some_notes(folder.path()));
    let place = folder.path().join("workshop.sqlite");
    let whole = std::fs::read(&place).unwrap();
    let half_a_page = whole.len() - 2048;
    for damaged in [
        b"".to_vec(),
        b"dear".to_vec(),
        vec![b'x'; whole.len()],
        whole[..whole.len() / 2].to_vec(),
        whole[..half_a_page].to_vec(),
    ] {
        std::fs::write(&place, &damaged).unwrap();
        let error = refusal(Store::open(folder.path()));
        assert!(matches!(error, StoreError::Damaged { .. }), "{} bytes: {error}", damaged.len());
        assert_eq!(std::fs::read(&place).unwrap(), damaged, "nothing was changed");
    }
    std::fs::write(&place, &whole).unwrap();
    assert_eq!(Store::open(folder.path()).unwrap().entries(CHAIN).unwrap().len(), 300);
}

#[test]
fn a_page_of_rubbish_is_found_wherever_it_lies_and_never_a_panic() {
    let folder = tempfile::tempdir().unwrap();
    let sound = folder.path().join("sound");
    let store = Store::start(&sound).unwrap();
    store
        .append_many(|batch| {
            (0..40).try_for_each(|number| {
                batch.append(common::note(&format!("wax {number}")), CHAIN, None).map(drop)
            })
        })
        .unwrap();
    drop(store);
    let whole = std::fs::read(sound.join("workshop.sqlite")).unwrap();
    let page = 4096;
    for number in 1..whole.len() / page {
        let there = folder.path().join(format!("page-{number}"));
        copy_as_it_lies(&sound, &there);
        let mut damaged = whole.clone();
        for (at, byte) in damaged[number * page..(number + 1) * page].iter_mut().enumerate() {
            *byte = (at * 31 + number) as u8;
        }
        std::fs::write(there.join("workshop.sqlite"), &damaged).unwrap();
        match Store::open_to_read(&there) {
            Err(error) => assert!(is_sentence(&error), "{error}"),
            Ok(store) => {
                if let Err(error) = store.entries(CHAIN) {
                    assert!(is_sentence(&error), "{error}");
                }
                assert!(
                    !store.verify().is_ok_and(|report| report.is_whole()),
                    "page {number} was not missed"
                );
            }
        }
        std::fs::remove_dir_all(&there).unwrap();
    }
}

#[test]
fn one_changed_letter_in_an_entry_is_found() {
    let folder = tempfile::tempdir().unwrap();
    drop(with_some_notes(folder.path()));
    let place = folder.path().join("workshop.sqlite");
    for what in ["\"words\":\"a note of dust and wax 77\"", "\"seq\":77,"] {
        let whole = std::fs::read(&place).unwrap();
        let at = whole.windows(what.len()).position(|window| window == what.as_bytes()).unwrap();
        let mut changed = whole.clone();
        changed[at + what.len() - 2] ^= 1;
        std::fs::write(&place, &changed).unwrap();
        let store = Store::open(folder.path()).unwrap();
        let error = store.entries(CHAIN).unwrap_err();
        assert!(matches!(error, StoreError::DamagedEntry { seq: 77, .. }) && is_sentence(&error), "{error}");
        let report = store.verify().unwrap();
        assert!(!report.is_whole() && report.chains.iter().any(|chain| !chain.faults.is_empty()));
        drop(store);
        std::fs::write(&place, &whole).unwrap();
    }
}

/// A disk that shows another table of mounts.
struct Mounted(String);

impl Disk for Mounted {
    fn read(&self, path: &Path) -> std::io::Result<Vec<u8>> {
        if path == Path::new("/proc/self/mountinfo") {
            Ok(self.0.clone().into_bytes())
        } else {
            RealDisk.read(path)
        }
    }
    fn write(&self, path: &Path, bytes: &[u8], access: Access) -> std::io::Result<()> {
        RealDisk.write(path, bytes, access)
    }
    fn sync(&self, path: &Path) -> std::io::Result<()> {
        RealDisk.sync(path)
    }
    fn rename(&self, from: &Path, to: &Path) -> std::io::Result<()> {
        RealDisk.rename(from, to)
    }
    fn remove(&self, path: &Path) -> std::io::Result<()> {
        RealDisk.remove(path)
    }
    fn sync_folder(&self, path: &Path) -> std::io::Result<()> {
        RealDisk.sync_folder(path)
    }
    fn make_folder(&self, path: &Path, access: Access) -> std::io::Result<()> {
        RealDisk.make_folder(path, access)
    }
    fn list(&self, path: &Path) -> std::io::Result<Vec<String>> {
        RealDisk.list(path)
    }
    fn length(&self, path: &Path) -> std::io::Result<Option<u64>> {
        RealDisk.length(path)
    }
}

#[test]
fn a_network_folder_is_refused_and_an_unknown_one_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let real = std::fs::canonicalize(folder.path()).unwrap();
    let place = folder.path().join("workshop");
    let table = |kind: &str| {
        Arc::new(Mounted(format!("40 22 0:35 / {} rw - {kind} server:/export rw", real.display())))
    };
    for kind in ["nfs4", "cifs", "smb3", "fuse.sshfs"] {
        let error = refusal(Store::start_on(&place, table(kind)));
        assert!(
            matches!(&error, StoreError::NetworkFolder { file_system, .. } if file_system == kind),
            "{error}"
        );
    }
    drop(Store::start_on(&place, table("ext4")).unwrap());
    assert!(matches!(refusal(Store::open_on(&place, table("nfs"))), StoreError::NetworkFolder { .. }));
    drop(Store::open_on(&place, Arc::new(Mounted(String::new()))).unwrap());
}

/// A few acts; each acknowledged one is told apart from each refused one.
fn work(store: &Store) -> (Vec<asfound_record::Cite>, Vec<asfound_record::Hash>, Vec<StoreError>) {
    let (mut entries, mut photographs, mut errors) = (Vec::new(), Vec::new(), Vec::new());
    for name in ["guard", "coil"] {
        let kept = store.keep_photograph(name.repeat(100).as_bytes());
        match kept.and_then(|hash| {
            store.append(photograph(hash, name), CHAIN, None).map(|kept| (hash, kept.entry.cite()))
        }) {
            Ok((hash, cite)) => {
                photographs.push(hash);
                entries.push(cite);
            }
            Err(error) => errors.push(error),
        }
    }
    match keep_note(store, CHAIN, "dust") {
        Ok(kept) => entries.push(kept.entry.cite()),
        Err(error) => errors.push(error),
    }
    if let Err(error) = store.keep_paper("dossier.pdf", b"paper") {
        errors.push(error);
    }
    (entries, photographs, errors)
}

#[test]
fn each_step_of_the_disk_may_fail_in_each_way_and_nothing_acknowledged_is_harmed() {
    let counting = Arc::new(FailingDisk::never());
    // In memory where there is such a place: this starts a workshop for each step, and waits for the disk otherwise.
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() }.unwrap();
    work(&Store::start_on(&folder.path().join("w"), Arc::clone(&counting) as Arc<dyn Disk>).unwrap());
    let kinds = [ErrorKind::StorageFull, ErrorKind::PermissionDenied, ErrorKind::Other];
    for step in 0..counting.steps() {
        let kind = kinds[step % kinds.len()];
        let place = folder.path().join(step.to_string());
        let store = match Store::start_on(&place, Arc::new(FailingDisk::once(step, kind))) {
            Ok(store) => store,
            Err(error) => {
                assert!(is_sentence(&error), "{error}");
                assert!(right_kind(&error, kind), "step {step}: {error}");
                // The start is simply done again.
                Store::start(&place).unwrap_or_else(|error| panic!("step {step}: {error}"))
            }
        };
        let (entries, photographs, errors) = work(&store);
        for error in &errors {
            assert!(is_sentence(error) && right_kind(error, kind), "step {step}: {error}");
        }
        drop(store);
        let store = Store::open(&place).unwrap();
        let there: Vec<_> = store.entries(CHAIN).unwrap().iter().map(asfound_record::Entry::cite).collect();
        assert_eq!(there, entries, "step {step}");
        for hash in photographs {
            store.photograph(hash).unwrap();
        }
        assert!(store.verify().unwrap().is_whole(), "step {step}");
        // Once more, and all of it is kept.
        assert!(work(&store).2.is_empty(), "step {step}");
    }
}

fn right_kind(error: &StoreError, kind: ErrorKind) -> bool {
    match kind {
        ErrorKind::StorageFull => matches!(error, StoreError::DiskFull { .. }),
        ErrorKind::PermissionDenied => matches!(error, StoreError::NoPermission { .. }),
        _ => matches!(error, StoreError::Disk { .. }),
    }
}

#[test]
fn a_withholding_whose_last_steps_fail_is_finished_at_the_next_start() {
    let folder = tempfile::tempdir().unwrap();
    let sound = folder.path().join("sound");
    let store = Store::start(&sound).unwrap();
    let hash = store.keep_photograph(b"picture").unwrap();
    let cite = store.append(photograph(hash, "guard"), CHAIN, None).unwrap().entry.cite();
    drop(store);
    // Withholds on a disk that dies at a step after opening; answers whether it was finished, and the steps it took.
    let withhold = |place: &Path, opening: usize, step: usize| {
        let disk = Arc::new(FailingDisk::from(opening.saturating_add(step), ErrorKind::Other));
        let store = Store::open_on(place, Arc::clone(&disk) as Arc<dyn Disk>).unwrap();
        let opened = disk.steps();
        let done = store.withhold(&cite, withheld(&cite), CHAIN, None).unwrap();
        assert!(done.unfinished.as_ref().is_none_or(is_sentence));
        (done.unfinished.is_none(), opened, disk.steps() - opened)
    };
    let counted = folder.path().join("counted");
    copy_as_it_lies(&sound, &counted);
    let (finished, opening, steps) = withhold(&counted, usize::MAX, 0);
    assert!(finished && steps > 5);
    for step in 0..steps {
        let place = folder.path().join(step.to_string());
        copy_as_it_lies(&sound, &place);
        assert!(!withhold(&place, opening, step).0, "step {step}");
        let store = Store::open(&place).unwrap();
        assert!(store.entries(CHAIN).unwrap()[0].body().is_none(), "step {step}");
        assert!(matches!(store.photograph(hash), Err(StoreError::NoPhotograph { .. })), "step {step}");
        assert!(place.join("withheld.jsonl").exists());
        assert!(store.verify().unwrap().is_whole());
    }
}
