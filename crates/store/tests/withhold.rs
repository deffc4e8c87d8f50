//! A withheld content is gone: from the table, the search, the vault, the log, and from copies brought back.

mod common;

use std::path::Path;

use asfound_record::{Hash, Standing};
use asfound_store::{Store, StoreError};
use common::disks::copy_as_it_lies;
use common::{
    CHAIN, WORKSHOP, draft, elsewhere, is_sentence, keep_note, make, note, photograph, photograph_body,
    withheld,
};
use serde_json::json;

/// Files under a folder that have the bytes in them, in any mix of capitals.
fn files_with(folder: &Path, secret: &str) -> Vec<String> {
    let mut found = Vec::new();
    for item in std::fs::read_dir(folder).unwrap() {
        let path = item.unwrap().path();
        if path.is_dir() {
            found.extend(files_with(&path, secret));
        } else {
            let bytes = std::fs::read(&path).unwrap().to_ascii_lowercase();
            // Bytes that are no text become signs that are not in the secret, so the search for text finds the same.
            if String::from_utf8_lossy(&bytes).contains(&secret.to_ascii_lowercase()) {
                found.push(path.display().to_string());
            }
        }
    }
    found
}

#[test]
fn no_byte_of_it_is_left_in_the_folder_while_the_store_is_open() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("workshop");
    let store = Store::start(&place).unwrap();
    let many = |words: &str| {
        store
            .append_many(|batch| {
                (0..400).try_for_each(|number| {
                    batch.append(note(&format!("{words} {number}")), CHAIN, None).map(drop)
                })
            })
            .unwrap();
    };
    many("a note of dust and wax and cloth");
    let secret =
        keep_note(&store, CHAIN, &format!("Zacharyname lives at Quillwortlane {}", "and more ".repeat(900)))
            .unwrap()
            .entry;
    many("a later note of shellac");
    assert!(!files_with(&place, "zacharyname").is_empty(), "the test looks in the right place");
    let done = store.withhold(&secret.cite(), withheld(&secret.cite()), CHAIN, None).unwrap();
    assert!(done.unfinished.is_none() && done.still_shown.is_empty());
    assert_eq!(files_with(&place, "zacharyname"), [""; 0]);
    assert_eq!(files_with(&place, "quillwortlane"), [""; 0]);
    assert!(store.search("zacharyname", 5).unwrap().is_empty());
    assert_eq!(store.entry(&secret.cite()).unwrap(), secret.without_content());
    let line = store.job(CHAIN).unwrap().history[secret.envelope().seq as usize].clone();
    assert_eq!(line.standing, Standing::Withheld { by: Some(done.appended.entry.envelope().seq) });
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn its_photographs_go_unless_another_entry_shows_them() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    let [only, leaves, both] = [b"only here".as_slice(), b"may leave", b"in both"]
        .map(|bytes| store.keep_photograph(bytes).unwrap());
    store.keep_preview(only, 320, b"small").unwrap();
    store.keep_preview(only, 1024, b"less small").unwrap();
    let body = photograph_body(only, Some(leaves), "a face in the mirror");
    let one = store.append(make(draft("photograph/1", body)), CHAIN, None).unwrap().entry;
    let two = store.append(photograph(both, "guard"), CHAIN, None).unwrap().entry;
    store.append(photograph(both, "guard again"), "job-2", None).unwrap();

    let done = store.withhold(&one.cite(), withheld(&one.cite()), CHAIN, None).unwrap();
    assert!(done.still_shown.is_empty());
    for hash in [only, leaves] {
        assert!(matches!(store.photograph(hash), Err(StoreError::NoPhotograph { .. })));
    }
    assert_eq!((store.preview(only, 320).unwrap(), store.preview(only, 1024).unwrap()), (None, None));
    let done = store.withhold(&two.cite(), withheld(&two.cite()), CHAIN, None).unwrap();
    assert_eq!(done.still_shown, [both]);
    assert_eq!(store.photograph(both).unwrap(), b"in both");
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn the_files_of_a_measurement_are_needed_verified_copied_and_withheld_like_photographs() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    let sweep = |hashes: &[Hash]| {
        let file = |hash: &Hash| json!({ "original": hash.to_string(), "bytes": 3, "name": "neck.csv", "media": "text/csv", "role": "sweep" });
        let files: Vec<_> = hashes.iter().map(file).collect();
        let body = json!({ "part": "P1", "place": "neck", "how": "impedance sweep", "files": files, "resistors": [],
            "meter": null, "temperature": null, "method": null, "happened": null });
        make(draft("sweep/1", body))
    };
    let missing = store.append(sweep(&[Hash::of(b"never kept")]), CHAIN, None).unwrap_err();
    assert!(matches!(missing, StoreError::PhotographNotKept { .. }) && is_sentence(&missing), "{missing}");
    let [first, second] =
        [b"120,1.5".as_slice(), b"1000,1.6"].map(|bytes| store.keep_photograph(bytes).unwrap());
    let both = store.append(sweep(&[first, second]), CHAIN, None).unwrap().entry;
    store.append(sweep(&[second]), "job-2", None).unwrap();
    assert!(store.verify().unwrap().unnamed.is_empty());
    let copy = folder.path().join("copy");
    store.copy_to(&copy).unwrap();
    assert_eq!(Store::open_to_read(&copy).unwrap().photograph(first).unwrap(), b"120,1.5");

    let done = store.withhold(&both.cite(), withheld(&both.cite()), CHAIN, None).unwrap();
    assert_eq!(done.still_shown, [second]);
    assert!(matches!(store.photograph(first), Err(StoreError::NoPhotograph { .. })));
    assert!(store.search("neck.csv", 5).unwrap().iter().all(|found| found.cite.chain == "job-2"));
    store.copy_to(&copy).unwrap();
    assert!(Store::open_to_read(&copy).unwrap().photograph(first).is_err(), "it leaves the copy too");
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn a_retry_of_a_withholding_does_no_harm() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    let one = keep_note(&store, CHAIN, "one").unwrap().entry;
    let first = store.withhold(&one.cite(), withheld(&one.cite()), CHAIN, Some("w-1")).unwrap();
    let again = store.withhold(&one.cite(), withheld(&one.cite()), CHAIN, Some("w-1")).unwrap();
    assert!(again.appended.repeated);
    assert_eq!(again.appended.entry, first.appended.entry);
    assert_eq!(store.head(CHAIN).unwrap().next, 2);
}

#[test]
fn a_withholding_of_nothing_or_of_something_else_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    let one = keep_note(&store, CHAIN, "one").unwrap().entry;
    let two = keep_note(&store, CHAIN, "two").unwrap().entry;
    let error = store.withhold(&one.cite(), withheld(&two.cite()), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::NotAWithholding { seq: 0, .. }) && is_sentence(&error), "{error}");
    let error = store.withhold(&one.cite(), note("three"), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::NotAWithholding { .. }));
    let mut wrong = one.cite();
    wrong.hash = Hash::of(b"another");
    let error = store.withhold(&wrong, withheld(&wrong), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::UnknownEntry { .. }) && is_sentence(&error), "{error}");
    assert_eq!(store.entries(CHAIN).unwrap(), [one, two]);
}

#[test]
fn it_is_applied_again_when_an_older_copy_is_brought_back() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("workshop");
    let store = Store::start(&place).unwrap();
    let picture = store.keep_photograph(b"a picture of Zacharyname").unwrap();
    let one = keep_note(&store, CHAIN, "Zacharyname").unwrap().entry;
    let two = store.append(photograph(picture, "shows Zacharyname"), CHAIN, None).unwrap().entry;
    let older = folder.path().join("older");
    store.copy_to(&older).unwrap();
    for cite in [one.cite(), two.cite()] {
        store.withhold(&cite, withheld(&cite), CHAIN, None).unwrap();
    }
    drop(store);

    // The older ledger and its photographs come back beside the newest list of what was withheld.
    std::fs::copy(older.join("workshop.sqlite"), place.join("workshop.sqlite")).unwrap();
    copy_as_it_lies(&older.join("photographs"), &place.join("photographs"));
    let store = Store::open(&place).unwrap();
    assert_eq!(store.entries(CHAIN).unwrap(), [one.without_content(), two.without_content()]);
    assert_eq!(files_with(&place, "zacharyname"), [""; 0]);
    assert!(store.verify().unwrap().is_whole());
    // And once more it holds when the store is opened again without the list.
    drop(store);
    std::fs::remove_file(place.join("withheld.jsonl")).unwrap();
    copy_as_it_lies(&older.join("photographs"), &place.join("photographs"));
    drop(Store::open(&place).unwrap());
    assert_eq!(files_with(&place, "zacharyname"), [""; 0]);
    assert!(place.join("withheld.jsonl").exists());
}

#[test]
fn an_older_copy_is_cleared_when_it_is_brought_up_to_date() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    let picture = store.keep_photograph(b"a picture of Zacharyname").unwrap();
    let one = store.append(photograph(picture, "shows Zacharyname"), CHAIN, None).unwrap().entry;
    let copy = folder.path().join("copy");
    store.copy_to(&copy).unwrap();
    store.withhold(&one.cite(), withheld(&one.cite()), CHAIN, None).unwrap();
    store.copy_to(&copy).unwrap();
    assert_eq!(files_with(&copy, "zacharyname"), [""; 0]);
}

#[test]
fn a_content_from_elsewhere_is_withheld_by_the_workshops_own_chain() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    let far = elsewhere("far", &["one", "Zacharyname"]);
    store.import_foreign(&far).unwrap();
    let cite = far[1].cite();
    let error = store.withhold(&cite, withheld(&cite), "far", None).unwrap_err();
    assert!(matches!(error, StoreError::ForeignChain { .. }) && is_sentence(&error), "{error}");
    store.withhold(&cite, withheld(&cite), WORKSHOP, None).unwrap();
    assert_eq!(store.entries("far").unwrap(), [far[0].clone(), far[1].without_content()]);
    // It does not come back with a differing copy that has the same entry, nor with a longer one.
    let mut longer = far.clone();
    longer.push(note("three")(&far[1].after()).unwrap());
    store.import_foreign(&longer).unwrap();
    assert_eq!(store.entries("far").unwrap()[1], far[1].without_content());
}

#[test]
fn a_reader_of_an_old_moment_delays_only_the_last_traces() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("workshop");
    let store = Store::start(&place).unwrap();
    let one = keep_note(&store, CHAIN, "Zacharyname").unwrap().entry;
    let reader = rusqlite::Connection::open(place.join("workshop.sqlite")).unwrap();
    let moment = reader.unchecked_transaction().unwrap();
    moment.query_row("SELECT count(*) FROM entry", (), |row| row.get::<_, i64>(0)).unwrap();
    let done = store.withhold(&one.cite(), withheld(&one.cite()), CHAIN, None).unwrap();
    assert!(matches!(&done.unfinished, Some(error @ StoreError::Busy { .. }) if is_sentence(error)));
    assert_eq!(store.entry(&one.cite()).unwrap(), one.without_content());
    drop(store);
    drop(Store::open(&place).expect("a reader keeps nobody from working"));
    drop(moment);
    drop(reader);
    drop(Store::open(&place).unwrap());
    assert_eq!(files_with(&place, "zacharyname"), [""; 0]);
}
