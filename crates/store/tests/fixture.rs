//! Frozen workshops of every released form are opened, brought up to date, and read to the last byte.
//!
//! When the form of the ledger changes, [`write_some`] made with the release before is frozen beside the others.

mod common;

use std::path::Path;

use asfound_record::{Entry, Hash, fold};
use asfound_store::Store;
use common::disks::copy_as_it_lies;
use common::{CHAIN, WORKSHOP, correction, draft, elsewhere, job, make, photograph, withheld};
use serde_json::json;

/// Each frozen workshop beside the entries that were kept in it, as exported when it was frozen.
#[test]
fn every_released_form_is_opened_and_brought_up_to_date() {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures");
    let mut opened = 0;
    for item in std::fs::read_dir(fixtures).unwrap() {
        let frozen = item.unwrap().path();
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("workshop");
        copy_as_it_lies(&frozen, &place);
        let lines = std::fs::read_to_string(place.join("entries.jsonl")).unwrap();
        let store = Store::open(&place).unwrap();
        for info in store.chains().unwrap().iter().filter(|info| info.variant == 0) {
            assert!(*store.job(&info.chain).unwrap() == fold(&store.entries(&info.chain).unwrap()));
        }
        assert_eq!(all_lines(&store), lines, "{}", frozen.display());
        assert!(store.verify().unwrap().is_whole());
        assert_eq!(store.search("cloth", 10).unwrap().len(), 2);
        assert_eq!(store.photograph(Hash::of(b"a picture of the guard")).unwrap(), b"a picture of the guard");
        let job = store.chains().unwrap().into_iter().find(|info| info.chain == "job-1").unwrap();
        assert_eq!(job.title.as_deref(), Some("rewire and level"));
        // It is worked in as if it had been made today.
        common::keep_note(&store, "job-1", "one more").unwrap();
        store.remember("card", &[("far".into(), 2, "card".into())]).unwrap();
        assert_eq!(store.remembered("card").unwrap().len(), 1);
        drop(store);
        assert!(Store::open_to_read(&place).unwrap().verify().unwrap().is_whole());
        opened += 1;
    }
    assert!(opened > 0);
}

/// Something of everything that the store keeps in a table of its own.
fn write_some(store: &Store) {
    let picture = store.keep_photograph(b"a picture of the guard").unwrap();
    let cite = store.append_many(|batch| {
        let person = json!({ "person": "p-2", "name": "to be withheld", "role": "owner" });
        let piece = json!({ "piece": "pc-1", "family": "guitar", "words": "solid body, two single coils, bolt-on neck",
            "maker": null, "serial": "00?17", "origin": null, "owner": "p-2" });
        let seen = json!({ "part": null, "words": "brittle cloth on the ground wire", "as_found": null, "happened": null });
        let title = json!({ "number": "26-014", "title": "rewire and level", "continues": null });
        let known = json!({ "chain": CHAIN, "number": "26-014" });
        batch.append(make(draft("workshop/1", json!({ "name": "a bench" }))), WORKSHOP, None)?;
        let person = batch.append(make(draft("person/1", person)), WORKSHOP, None)?;
        batch.append(make(draft("job-known/1", known)), WORKSHOP, Some("d-1"))?;
        let opened = batch.append(job("26-014", "rewire"), CHAIN, Some("d-2"))?;
        batch.append(make(draft("piece/1", piece)), CHAIN, None)?;
        batch.append(make(draft("observed/1", seen)), CHAIN, None)?;
        batch.append(photograph(picture, "guard"), CHAIN, None)?;
        batch.append(correction(&opened.entry.cite(), "job/1", title), CHAIN, None)?;
        batch.append(make(draft("a-later-kind/9", json!({ "field": ["kept", 1] }))), CHAIN, None)?;
        Ok(person.entry.cite())
    });
    let cite = cite.unwrap();
    store.withhold(&cite, withheld(&cite), WORKSHOP, None).unwrap();
    store.import_foreign(&elsewhere("far", &["one", "cloth"])).unwrap();
    store.import_foreign(&elsewhere("far", &["one", "other"])).unwrap();
}

fn all_lines(store: &Store) -> String {
    let mut lines = String::new();
    for info in store.chains().unwrap() {
        let entries = store.entries_of_variant(&info.chain, info.variant).unwrap();
        entries.iter().map(Entry::line).for_each(|line| lines.extend([line.as_str(), "\n"]));
    }
    lines
}

/// The bytes of an entry are for ever: the same words give the same line in every release.
#[test]
fn the_frozen_entries_are_those_that_would_be_written_today() {
    let home = tempfile::tempdir().unwrap();
    let store = Store::start(home.path()).unwrap();
    write_some(&store);
    assert_eq!(all_lines(&store), include_str!("fixtures/form-1/entries.jsonl"));
}
