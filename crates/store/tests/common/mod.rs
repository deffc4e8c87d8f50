//! What the tests of the store share: entries to keep, and disks that fail.
#![allow(dead_code, reason = "each test file uses its part of it")]

pub(crate) mod disks;

use asfound_record::{Cite, Draft, Entry, EntryError, Hash, Head};
use asfound_store::{Appended, Store, StoreError};
use serde_json::{Value, json};

pub(crate) const CHAIN: &str = "job-1";
pub(crate) const WORKSHOP: &str = "workshop-1";

pub(crate) fn draft(kind: &str, body: Value) -> Draft {
    Draft {
        at: "2026-11-25T09:30:00+00:00".into(),
        by: "p-1".into(),
        kind: kind.into(),
        corrects: None,
        body,
    }
}

/// A salt that differs from entry to entry and not from run to run.
pub(crate) fn salt(head: &Head, kind: &str) -> [u8; 32] {
    Hash::of(format!("{} {} {kind}", head.chain, head.next).as_bytes()).0
}

pub(crate) fn make(draft: Draft) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
    move |head| {
        let salt = salt(head, &draft.kind);
        Entry::make(draft, head, salt)
    }
}

pub(crate) fn note(words: &str) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
    make(draft("note/1", json!({ "words": words })))
}

pub(crate) fn correction(
    of: &Cite,
    kind: &str,
    body: Value,
) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
    make(Draft { corrects: Some(of.clone()), ..draft(kind, body) })
}

pub(crate) fn withheld(of: &Cite) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
    make(draft("withheld/1", json!({ "of": of, "who": "p-2", "ground": "asked for by the person named" })))
}

pub(crate) fn photograph_body(original: Hash, shareable: Option<Hash>, caption: &str) -> Value {
    json!({
        "original": original, "bytes": 3, "name": "a.jpg", "media": "image/jpeg", "shareable": shareable,
        "width": null, "height": null, "taken": null, "part": null, "caption": caption,
    })
}

pub(crate) fn photograph(original: Hash, caption: &str) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
    make(draft("photograph/1", photograph_body(original, None, caption)))
}

pub(crate) fn job(number: &str, title: &str) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
    make(draft("job/1", json!({ "number": number, "title": title, "continues": null })))
}

pub(crate) fn keep_note(store: &Store, chain: &str, words: &str) -> Result<Appended, StoreError> {
    store.append(note(words), chain, None)
}

/// A chain of notes that was written elsewhere.
pub(crate) fn elsewhere(chain: &str, words: &[&str]) -> Vec<Entry> {
    let mut head = Head::empty(chain);
    let mut entries = Vec::new();
    for words in words {
        let entry = note(words)(&head).unwrap();
        head = entry.after();
        entries.push(entry);
    }
    entries
}

/// Every error a person can meet is a sentence with its end, and says more than what happened.
pub(crate) fn is_sentence(error: &StoreError) -> bool {
    let text = error.to_string();
    text.ends_with('.') && text.split_whitespace().count() >= 8
}
