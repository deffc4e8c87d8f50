//! Photographs, previews, papers, keys, and the whole copy.

mod common;

use asfound_record::Hash;
use asfound_store::{Store, StoreError};
use common::disks::copy_as_it_lies;
use common::{CHAIN, draft, elsewhere, is_sentence, keep_note, make, note, photograph};
use serde_json::json;

fn started() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    (folder, store)
}

#[test]
fn the_same_bytes_are_one_file_under_their_hash() {
    let (_folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    assert_eq!(store.keep_photograph(b"picture").unwrap(), hash);
    assert_eq!(hash, Hash::of(b"picture"));
    let name = hash.to_string();
    let file = store.folder().join("photographs").join(&name[..2]).join(&name);
    assert_eq!(std::fs::read(file).unwrap(), b"picture");
    assert_eq!(store.photograph(hash).unwrap(), b"picture");
    let empty = store.keep_photograph(b"").unwrap();
    assert_eq!(store.photograph(empty).unwrap(), b"");
    assert_eq!(std::fs::read_dir(store.folder().join("unfinished")).unwrap().count(), 0);
}

#[test]
fn a_damaged_or_missing_photograph_is_said_and_mended_by_keeping_it_again() {
    let (_folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    store.append(photograph(hash, "guard"), CHAIN, None).unwrap();
    let name = hash.to_string();
    let file = store.folder().join("photographs").join(&name[..2]).join(&name);
    std::fs::write(&file, b"pictUre").unwrap();
    let error = store.photograph(hash).unwrap_err();
    assert!(matches!(error, StoreError::DamagedPhotograph { .. }) && is_sentence(&error), "{error}");
    let report = store.verify().unwrap();
    assert!(!report.is_whole());
    assert_eq!((report.photographs.len(), report.photographs[0].hash), (1, hash));
    std::fs::remove_file(&file).unwrap();
    let error = store.photograph(hash).unwrap_err();
    assert!(matches!(error, StoreError::NoPhotograph { .. }) && is_sentence(&error), "{error}");
    let report = store.verify().unwrap();
    assert!(
        !report.is_whole() && report.photographs[0].shown_by.is_some() && !report.photographs[0].came_without
    );
    store.keep_photograph(b"picture").unwrap();
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn an_entry_cannot_show_a_photograph_that_was_not_kept() {
    let (_folder, store) = started();
    let error = store.append(photograph(Hash::of(b"nowhere"), "guard"), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::PhotographNotKept { .. }) && is_sentence(&error), "{error}");
    assert_eq!(store.head(CHAIN).unwrap().next, 0);
    // One that came from elsewhere may come without its pictures.
    let entry = photograph(Hash::of(b"nowhere"), "guard")(&asfound_record::Head::empty("far")).unwrap();
    store.import_foreign(&[entry]).unwrap();
    let report = store.verify().unwrap();
    assert!(report.is_whole() && report.photographs[0].came_without);
}

#[test]
fn a_photograph_that_no_entry_shows_is_listed() {
    let (_folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    assert_eq!(store.verify().unwrap().unnamed, [hash]);
}

#[test]
fn previews_are_kept_by_size_and_can_be_thrown_away() {
    let (_folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    assert_eq!(store.preview(hash, 320).unwrap(), None);
    store.keep_preview(hash, 320, b"small").unwrap();
    store.keep_preview(hash, 320, b"small again").unwrap();
    assert_eq!(store.preview(hash, 320).unwrap().as_deref(), Some(b"small again".as_slice()));
    assert_eq!(store.preview(hash, 32).unwrap(), None);
    std::fs::remove_dir_all(store.folder().join("previews")).unwrap();
    assert_eq!(store.preview(hash, 320).unwrap(), None);
}

#[test]
fn a_paper_is_never_written_over_and_its_name_stays_in_its_folder() {
    let (_folder, store) = started();
    store.keep_paper("26-014 dossier.pdf", b"paper").unwrap();
    store.keep_paper("26-014 dossier.pdf", b"paper").unwrap();
    let error = store.keep_paper("26-014 dossier.pdf", b"other").unwrap_err();
    assert!(matches!(error, StoreError::NameTaken { .. }) && is_sentence(&error), "{error}");
    assert_eq!(store.papers().unwrap(), ["26-014 dossier.pdf"]);
    assert_eq!(store.paper("26-014 dossier.pdf").unwrap(), b"paper");
    for name in ["", ".", "..", "../x", "a/b", "a\\b", "/etc/x", ".hidden", "x\0", "a:b", " x", "x ", "x."] {
        let error = store.keep_paper(name, b"paper").unwrap_err();
        assert!(matches!(error, StoreError::BadName { .. }) && is_sentence(&error), "{name:?}");
    }
    let error = store.paper("none.pdf").unwrap_err();
    assert!(matches!(error, StoreError::NoFile { .. }) && is_sentence(&error), "{error}");
}

#[test]
fn key_files_are_for_one_person_only() {
    let (_folder, store) = started();
    store.keep_key("key-1", b"secret").unwrap();
    assert_eq!(
        (store.key("key-1").unwrap(), store.keys().unwrap()),
        (b"secret".to_vec(), vec!["key-1".to_owned()])
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let mode =
            |place: &str| std::fs::metadata(store.folder().join(place)).unwrap().permissions().mode() & 0o777;
        assert_eq!((mode("keys"), mode("keys/key-1")), (0o700, 0o600));
    }
}

#[test]
fn a_folder_explains_itself() {
    let (_folder, store) = started();
    let entry = keep_note(&store, CHAIN, "one").unwrap().entry;
    let text = std::fs::read_to_string(store.folder().join("READ ME.txt")).unwrap();
    for item in std::fs::read_dir(store.folder()).unwrap() {
        let name = item.unwrap().file_name().into_string().unwrap();
        assert!(name == "READ ME.txt" || text.contains(&name), "{name} is not explained");
    }
    // What the text says about checking an entry by hand is so.
    let ledger = rusqlite::Connection::open(store.folder().join("workshop.sqlite")).unwrap();
    let select = "SELECT envelope FROM entry WHERE chain = 'job-1' AND variant = 0 AND seq = 0";
    let envelope: String = ledger.query_row(select, (), |row| row.get(0)).unwrap();
    assert_eq!(Hash::of(envelope.as_bytes()), entry.hash());
}

#[test]
fn a_copy_opens_with_all_that_was_kept() {
    let (folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    store.append(photograph(hash, "guard"), CHAIN, None).unwrap();
    store.keep_paper("dossier.pdf", b"paper").unwrap();
    store.keep_key("key-1", b"secret").unwrap();
    store.import_foreign(&elsewhere("far", &["one"])).unwrap();
    let target = folder.path().join("stick/copy");
    store.copy_to(&target).unwrap();
    // Again, with something new: an older copy is brought up to date.
    keep_note(&store, CHAIN, "two").unwrap();
    store.copy_to(&target).unwrap();
    let copy = Store::open(&target).unwrap();
    assert!(copy.verify().unwrap().is_whole());
    assert_eq!(copy.chains().unwrap(), store.chains().unwrap());
    assert_eq!(copy.entries(CHAIN).unwrap(), store.entries(CHAIN).unwrap());
    assert_eq!(copy.photograph(hash).unwrap(), b"picture");
    assert_eq!(
        (copy.paper("dossier.pdf").unwrap(), copy.key("key-1").unwrap()),
        (b"paper".to_vec(), b"secret".to_vec())
    );
    assert!(target.join("READ ME.txt").exists());
}

#[test]
fn a_copy_goes_nowhere_where_it_would_harm() {
    let (folder, store) = started();
    keep_note(&store, CHAIN, "one").unwrap();
    let refused = |target: &std::path::Path| {
        let error = store.copy_to(target).unwrap_err();
        assert!(matches!(error, StoreError::CopyTarget { .. }) && is_sentence(&error), "{error}");
    };
    refused(&store.folder().join("papers/inside"));
    assert!(!store.folder().join("papers/inside").exists());
    let full = folder.path().join("full");
    std::fs::create_dir(&full).unwrap();
    std::fs::write(full.join("letter.txt"), "dear").unwrap();
    refused(&full);
    assert_eq!(std::fs::read_dir(&full).unwrap().count(), 1);
    let other = folder.path().join("other");
    keep_note(&Store::start(&other).unwrap(), "job-9", "another workshop's").unwrap();
    refused(&other);
    assert_eq!(Store::open(&other).unwrap().chains().unwrap().len(), 1);
    // A newer copy is not written over by an older workshop.
    let newer = folder.path().join("newer");
    store.copy_to(&newer).unwrap();
    keep_note(&Store::open(&newer).unwrap(), CHAIN, "two").unwrap();
    refused(&newer);
    let open = folder.path().join("open");
    store.copy_to(&open).unwrap();
    let _in_use = Store::open(&open).unwrap();
    assert!(matches!(store.copy_to(&open), Err(StoreError::InUse { .. })));
}

#[test]
fn a_copy_keeps_what_was_lost_here() {
    let (folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    store.append(photograph(hash, "guard"), CHAIN, None).unwrap();
    let target = folder.path().join("copy");
    store.copy_to(&target).unwrap();
    std::fs::remove_dir_all(store.folder().join("photographs")).unwrap();
    store.copy_to(&target).unwrap();
    assert_eq!(Store::open(&target).unwrap().photograph(hash).unwrap(), b"picture");
}

#[test]
fn what_is_opened_to_read_is_never_written() {
    let (_folder, store) = started();
    let entry = keep_note(&store, CHAIN, "one").unwrap().entry;
    let reading = Store::open_to_read(store.folder()).unwrap();
    let refused = [
        reading.append(note("two"), CHAIN, None).map(drop),
        reading.keep_photograph(b"x").map(drop),
        reading.keep_preview(Hash::ZERO, 1, b"x"),
        reading.keep_paper("x.pdf", b"x"),
        reading.keep_key("x", b"x"),
        reading.import_foreign(&elsewhere("far", &["one"])).map(drop),
        reading.withhold(&entry.cite(), note("x"), CHAIN, None).map(drop),
        reading.rebuild_search(),
        reading.apply_withholdings().map(drop),
    ];
    for refused in refused {
        assert!(matches!(&refused, Err(error @ StoreError::OnlyReading { .. }) if is_sentence(error)));
    }
    // What the other process writes meanwhile is seen.
    keep_note(&store, CHAIN, "two").unwrap();
    assert_eq!(reading.entries(CHAIN).unwrap().len(), 2);
    assert_eq!(reading.job(CHAIN).unwrap().notes.len(), 2);
    assert!(reading.verify().unwrap().is_whole());
}

#[test]
fn a_chain_from_elsewhere_is_read_extended_and_never_written() {
    let (_folder, store) = started();
    let far = elsewhere("far", &["one", "two", "three"]);
    let first = store.import_foreign(&far[..2]).unwrap();
    assert_eq!((first.variant, first.added), (0, 2));
    assert_eq!(store.import_foreign(&far[..2]).unwrap().added, 0);
    assert_eq!(store.import_foreign(&far[..1]).unwrap().meeting, asfound_record::Meeting::Shorter);
    let longer = store.import_foreign(&far).unwrap();
    assert_eq!((longer.variant, longer.added), (0, 1));
    assert_eq!(store.entries("far").unwrap(), far);
    let error = keep_note(&store, "far", "four").unwrap_err();
    assert!(matches!(error, StoreError::ForeignChain { .. }) && is_sentence(&error), "{error}");
    assert!(!store.chains().unwrap()[0].own);
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn a_differing_copy_is_kept_beside() {
    let (_folder, store) = started();
    let far = elsewhere("far", &["one", "two"]);
    let other = elsewhere("far", &["one", "TWO", "three"]);
    store.import_foreign(&far).unwrap();
    let beside = store.import_foreign(&other[..2]).unwrap();
    assert_eq!((beside.variant, beside.meeting), (1, asfound_record::Meeting::Differs { at_seq: 1 }));
    assert_eq!(store.import_foreign(&other).unwrap().variant, 1);
    assert_eq!(store.entries("far").unwrap(), far);
    assert_eq!(store.entries_of_variant("far", 1).unwrap(), other);
    assert_eq!(store.entry(&other[2].cite()).unwrap(), other[2]);
    assert_eq!(store.chains().unwrap().len(), 2);
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn a_copy_of_an_own_chain_is_looked_at_and_not_taken_in() {
    let (_folder, store) = started();
    keep_note(&store, CHAIN, "one").unwrap();
    let ours = store.entries(CHAIN).unwrap();
    assert_eq!(store.import_foreign(&ours).unwrap().added, 0);
    let mut longer = ours.clone();
    longer.push(note("two")(&ours[0].after()).unwrap());
    for copy in [longer, elsewhere(CHAIN, &["another"])] {
        let error = store.import_foreign(&copy).unwrap_err();
        assert!(matches!(error, StoreError::OwnChain { .. }) && is_sentence(&error), "{error}");
    }
    assert_eq!(store.entries(CHAIN).unwrap(), ours);
}

#[test]
fn a_file_that_does_not_hold_together_is_not_taken_in() {
    let (_folder, store) = started();
    let far = elsewhere("far", &["one", "two", "three"]);
    let error = store.import_foreign(&[far[0].clone(), far[2].clone()]).unwrap_err();
    assert!(matches!(error, StoreError::Faulty { .. }) && is_sentence(&error), "{error}");
    let error = store.import_foreign(&far[1..]).unwrap_err();
    assert!(matches!(error, StoreError::Faulty { .. }), "{error}");
    for several in [vec![], vec![far[0].clone(), elsewhere("near", &["one"])[0].clone()]] {
        let error = store.import_foreign(&several).unwrap_err();
        assert!(matches!(error, StoreError::NotOneChain { .. }) && is_sentence(&error), "{error}");
    }
    assert!(store.chains().unwrap().is_empty());
}

#[test]
fn a_chain_from_elsewhere_withholds_only_of_itself() {
    let (_folder, store) = started();
    let ours = keep_note(&store, CHAIN, "ours").unwrap().entry;
    let mut far = elsewhere("far", &["one", "two"]);
    for of in [far[0].cite(), ours.cite()] {
        let body = json!({ "of": of, "who": "p-9", "ground": "none" });
        far.push(make(draft("withheld/1", body))(&far[far.len() - 1].after()).unwrap());
    }
    store.import_foreign(&far).unwrap();
    assert_eq!(store.entries(CHAIN).unwrap(), [ours]);
    assert_eq!(store.entries("far").unwrap()[0], far[0].without_content());
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn what_a_cut_off_write_left_behind_is_cleared() {
    let (folder, store) = started();
    let hash = store.keep_photograph(b"picture").unwrap();
    let there = folder.path().join("there");
    copy_as_it_lies(store.folder(), &there);
    std::fs::write(there.join("unfinished/0"), b"half a pict").unwrap();
    let store = Store::open(&there).unwrap();
    assert_eq!(std::fs::read_dir(there.join("unfinished")).unwrap().count(), 0);
    assert_eq!(store.photograph(hash).unwrap(), b"picture");
}
