//! What the ledger keeps, refuses, lists and finds.

mod common;

use asfound_record::{Entry, fold};
use asfound_store::{Store, StoreError};
use common::{CHAIN, WORKSHOP, correction, draft, is_sentence, job, keep_note, make, note, withheld};
use serde_json::json;

fn started() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::start(&folder.path().join("workshop")).unwrap();
    (folder, store)
}

#[test]
fn what_was_appended_is_read_back_after_opening_again() {
    let (folder, store) = started();
    let first = keep_note(&store, CHAIN, "one").unwrap().entry;
    let second = keep_note(&store, CHAIN, "two").unwrap().entry;
    drop(store);
    let store = Store::open(&folder.path().join("workshop")).unwrap();
    assert_eq!(store.entries(CHAIN).unwrap(), [first.clone(), second.clone()]);
    assert_eq!(store.entries_after(CHAIN, 0).unwrap(), std::slice::from_ref(&second));
    assert_eq!(store.entry(&first.cite()).unwrap(), first);
    assert_eq!(store.head(CHAIN).unwrap(), second.after());
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn a_repeated_draft_answers_with_the_entry_already_kept() {
    let (_folder, store) = started();
    let first = store.append(note("one"), CHAIN, Some("d-1")).unwrap();
    keep_note(&store, CHAIN, "two").unwrap();
    let again = store.append(note("one"), CHAIN, Some("d-1")).unwrap();
    assert!(!first.repeated && again.repeated);
    assert_eq!(again.entry, first.entry);
    assert_eq!(store.entries(CHAIN).unwrap().len(), 2);
    // A draft id belongs to its chain.
    assert!(!store.append(note("one"), "job-2", Some("d-1")).unwrap().repeated);
}

#[test]
fn an_entry_made_for_another_place_is_refused() {
    let (_folder, store) = started();
    let entry = keep_note(&store, CHAIN, "one").unwrap().entry;
    let error = store.append(|_| Ok(entry.clone()), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::NotNext { seq: 0, next: 1, .. }) && is_sentence(&error), "{error}");
    let error = store.append(|_| note("x")(&asfound_record::Head::empty("other")), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::NotNext { .. }));
    assert_eq!(store.entries(CHAIN).unwrap(), [entry]);
}

#[test]
fn an_entry_that_cannot_be_made_leaves_nothing() {
    let (_folder, store) = started();
    let error = store.append(make(draft("note/1", json!({ "words": 1.5 }))), CHAIN, None).unwrap_err();
    assert!(matches!(error, StoreError::Entry(_)), "{error}");
    assert!(store.chains().unwrap().is_empty());
    assert!(matches!(store.entries(CHAIN), Err(StoreError::UnknownChain { .. })));
}

#[test]
fn several_entries_are_kept_together_or_not_at_all() {
    let (_folder, store) = started();
    store
        .append_many(|batch| {
            batch.append(job("26-014", "rewire"), CHAIN, None)?;
            batch.append(
                make(draft("job-known/1", json!({ "chain": CHAIN, "number": "26-014" }))),
                WORKSHOP,
                None,
            )?;
            assert_eq!(batch.head(CHAIN)?.next, 1);
            Ok(())
        })
        .unwrap();
    let half = store.append_many(|batch| {
        batch.append(note("kept?"), CHAIN, None)?;
        batch.append(make(draft("Not A Kind", json!({}))), WORKSHOP, None)
    });
    assert!(half.is_err());
    assert_eq!(store.head(CHAIN).unwrap().next, 1);
    assert_eq!(store.head(WORKSHOP).unwrap().next, 1);
}

#[test]
fn a_panic_in_the_making_harms_nothing() {
    let (_folder, store) = started();
    keep_note(&store, CHAIN, "one").unwrap();
    let broken = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
        store.append(|_| panic!("a bug in the caller"), CHAIN, None)
    }));
    assert!(broken.is_err());
    keep_note(&store, CHAIN, "two").unwrap();
    assert_eq!(store.entries(CHAIN).unwrap().len(), 2);
}

#[test]
fn reads_do_not_wait_for_a_writer() {
    let (_folder, store) = started();
    keep_note(&store, CHAIN, "one").unwrap();
    // The read runs inside the write: if it waited for the writer, this would never end.
    store
        .append(
            |head| {
                assert_eq!(store.entries(CHAIN).unwrap().len(), 1);
                assert_eq!(store.job(CHAIN).unwrap().notes.len(), 1);
                note("two")(head)
            },
            CHAIN,
            None,
        )
        .unwrap();
}

#[test]
fn many_threads_write_and_read_one_chain() {
    let (_folder, store) = started();
    std::thread::scope(|scope| {
        for thread in 0..4 {
            let store = &store;
            scope.spawn(move || {
                for number in 0..20 {
                    let draft = format!("{thread}-{number}");
                    store.append(note(&draft), CHAIN, Some(&draft)).unwrap();
                    // Others write in between, so the entries may be more than the job was folded from.
                    let job = store.job(CHAIN).unwrap();
                    let entries = store.entries(CHAIN).unwrap();
                    assert!(*job == fold(&entries[..job.head.next as usize]));
                }
            });
        }
    });
    assert_eq!(store.entries(CHAIN).unwrap().len(), 80);
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn the_database_itself_refuses_changes() {
    let (folder, store) = started();
    keep_note(&store, CHAIN, "one").unwrap();
    let ledger = rusqlite::Connection::open(folder.path().join("workshop/workshop.sqlite")).unwrap();
    for change in [
        "UPDATE entry SET content = 'x'",
        "UPDATE entry SET content = NULL",
        "UPDATE entry SET envelope = 'x'",
        "UPDATE entry SET draft = 'x'",
        "DELETE FROM entry",
        "DELETE FROM chain",
        "INSERT INTO entry SELECT chain, variant, seq + 2, hash, kind, envelope, content, NULL FROM entry",
        "INSERT OR REPLACE INTO entry SELECT chain, variant, seq, hash, kind, envelope, NULL, NULL FROM entry",
    ] {
        let error = ledger.execute(change, ()).unwrap_err().to_string();
        assert!(error.contains("an entry") || error.contains("a chain"), "{change}: {error}");
    }
    assert!(store.verify().unwrap().is_whole());
}

#[test]
fn the_list_of_chains_says_what_the_fold_says() {
    let (_folder, store) = started();
    let piece = json!({ "piece": "pc-1", "family": "guitar", "words": "solid body, two single coils", "maker": null,
        "serial": null, "origin": null, "owner": null });
    let agrees = |entries: usize| {
        let info = store.chains().unwrap().into_iter().find(|info| info.chain == CHAIN).unwrap();
        let job = fold(&store.entries(CHAIN).unwrap());
        assert_eq!(info.number, job.opened.as_ref().map(|item| item.body.number.clone()));
        assert_eq!(info.title, job.opened.as_ref().map(|item| item.body.title.clone()));
        assert_eq!(info.piece, job.piece.as_ref().map(|item| item.body.words.clone()));
        assert_eq!((info.head, info.entries), (job.head, entries as u64));
        (info.title, info.piece)
    };
    let opened = store.append(job("26-014", "rewire"), CHAIN, None).unwrap().entry;
    assert_eq!(agrees(1), (Some("rewire".into()), None));
    let first = store.append(make(draft("piece/1", piece)), CHAIN, None).unwrap().entry;
    agrees(2);
    let title = json!({ "number": "26-014", "title": "rewire and level", "continues": null });
    store.append(correction(&opened.cite(), "job/1", title), CHAIN, None).unwrap();
    assert_eq!(agrees(3).0.as_deref(), Some("rewire and level"));
    store
        .append(correction(&first.cite(), "struck/1", json!({ "why": "another instrument" })), CHAIN, None)
        .unwrap();
    assert_eq!(agrees(4).1, None);
    store.withhold(&opened.cite(), withheld(&opened.cite()), CHAIN, None).unwrap();
    agrees(5);
}

#[test]
fn a_job_kept_folded_is_equal_to_folding_anew() {
    let (_folder, store) = started();
    let mut cites = Vec::new();
    let check = || assert_eq!(*store.job(CHAIN).unwrap(), fold(&store.entries(CHAIN).unwrap()));
    for number in 0..6 {
        cites.push(keep_note(&store, CHAIN, &format!("note {number}")).unwrap().entry.cite());
        check();
        check();
    }
    store.withhold(&cites[2], withheld(&cites[2]), CHAIN, None).unwrap();
    check();
    store.append(correction(&cites[1], "note/1", json!({ "words": "better" })), CHAIN, None).unwrap();
    check();
    let error = store.job("no such").unwrap_err();
    assert!(matches!(error, StoreError::UnknownChain { .. }) && is_sentence(&error));
}

#[test]
fn words_are_found_by_their_beginnings_without_capitals_and_accents() {
    let (_folder, store) = started();
    let one = keep_note(&store, CHAIN, "Rewound neck coil, 6k31 at the joints").unwrap().entry;
    let two = keep_note(&store, CHAIN, "Übung with a bridge coil").unwrap().entry;
    let found = |words: &str| -> Vec<_> {
        store.search(words, 10).unwrap().into_iter().map(|found| found.cite).collect()
    };
    assert_eq!(found("rewo"), [one.cite()]);
    assert_eq!(found("COIL neck"), [one.cite()]);
    assert_eq!(found("ubung"), [two.cite()]);
    assert_eq!(found("coil").len(), 2);
    assert_eq!(store.search("coil", 1).unwrap().len(), 1);
    assert!(store.search("6k31", 10).unwrap()[0].excerpt.contains("6k31 at the joints"));
}

#[test]
fn no_sign_in_a_question_breaks_the_search() {
    let (_folder, store) = started();
    keep_note(&store, CHAIN, "0.022 uF \"paper in oil\" (two) AND NOT OR NEAR").unwrap();
    for words in [
        "", " ", "\"", "\"paper", "0.022", "(two", "AND", "NOT", "OR OR", "NEAR(", "*", "a* -b", "words:x",
        "^", "{}", "\0",
    ] {
        store.search(words, 10).unwrap();
    }
    assert_eq!(store.search("0.022 \"paper", 10).unwrap().len(), 1);
}

#[test]
fn the_index_of_words_is_equal_to_one_made_again() {
    let (_folder, store) = started();
    let mut cites = Vec::new();
    for words in ["grey dust", "grey wax", "brittle cloth", "dust under the guard", "wax on the coil"] {
        cites.push(keep_note(&store, CHAIN, words).unwrap().entry.cite());
    }
    store.import_foreign(&common::elsewhere("far", &["grey dust far away"])).unwrap();
    store.withhold(&cites[1], withheld(&cites[1]), CHAIN, None).unwrap();
    let all =
        || ["grey", "dust", "wax", "guard", "cloth", "asked"].map(|words| store.search(words, 20).unwrap());
    let before = all();
    store.rebuild_search().unwrap();
    assert_eq!(all(), before);
    assert_eq!(before[0].len(), 2);
    // With every word lost, the same entries are found again.
    let ledger = rusqlite::Connection::open(store.folder().join("workshop.sqlite")).unwrap();
    ledger.execute_batch("INSERT INTO search (search) VALUES ('delete-all'); DELETE FROM words").unwrap();
    assert!(all().iter().all(Vec::is_empty));
    store.rebuild_search().unwrap();
    let sorted = |mut found: Vec<asfound_store::Found>| {
        found.sort_by(|a, b| a.cite.cmp(&b.cite));
        found
    };
    assert_eq!(all().map(sorted), before.map(sorted));
}

#[test]
fn a_withholding_goes_by_its_own_way_only() {
    let (_folder, store) = started();
    let one = keep_note(&store, CHAIN, "one").unwrap().entry;
    let error = store.append(withheld(&one.cite()), CHAIN, None).unwrap_err();
    assert!(is_sentence(&error), "{error}");
    assert_eq!(store.entries(CHAIN).unwrap(), [one]);
}

#[test]
fn an_unknown_kind_passes_through_untouched() {
    let (_folder, store) = started();
    let body = json!({ "later": [1, { "field": "said by a later release" }] });
    let entry = store.append(make(draft("reading/7", body)), CHAIN, None).unwrap().entry;
    let read: Entry = store.entry(&entry.cite()).unwrap();
    assert_eq!(read.line(), entry.line());
    assert_eq!(store.search("later release", 5).unwrap().len(), 1);
}

#[test]
fn what_is_remembered_of_a_chain_is_answered_while_it_is_true() {
    let (_folder, store) = started();
    let one = keep_note(&store, CHAIN, "one").unwrap().entry;
    keep_note(&store, "job-2", "two").unwrap();
    let card = |chain: &str, next: u64, text: &str| (chain.to_owned(), next, text.to_owned());
    store.remember("card", &[card(CHAIN, 1, "a"), card("job-2", 1, "b"), card("none", 1, "c")]).unwrap();
    // Worked out before an entry that is there now: not kept.
    store.remember("card", &[card(CHAIN, 0, "old")]).unwrap();
    assert_eq!(store.remembered("card").unwrap().len(), 2);
    assert_eq!(store.remembered("card").unwrap()[CHAIN], "a");
    assert!(store.remembered("other").unwrap().is_empty());
    keep_note(&store, CHAIN, "more").unwrap();
    assert_eq!(store.remembered("card").unwrap().keys().collect::<Vec<_>>(), ["job-2"]);
    assert_eq!(store.last_remembered("card", CHAIN).unwrap().as_deref(), Some("a"));
    // What is withheld in one chain may have been remembered of another.
    store.withhold(&one.cite(), withheld(&one.cite()), CHAIN, None).unwrap();
    assert!(store.remembered("card").unwrap().is_empty());
    assert_eq!(store.last_remembered("card", "job-2").unwrap(), None);
}
