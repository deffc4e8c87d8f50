//! The wire form, frozen.

use std::collections::BTreeSet;

use asfound_record::*;
use serde_json::json;

use crate::sample;

#[test]
fn the_frozen_file_is_what_this_release_writes() {
    for (number, (frozen, made)) in (1..).zip(sample::FROZEN.lines().zip(sample::file().lines())) {
        assert_eq!(frozen, made, "line {number}");
    }
    assert_eq!(sample::FROZEN, sample::file());
    assert_eq!(sample::FROZEN_SWEEPS, sample::sweeps_file());
    assert_eq!(sample::FROZEN_CIRCUIT, sample::circuit_file());
    assert_eq!(sample::FROZEN_DATES, sample::dates_file());
    assert_eq!(sample::FROZEN_PLAN, sample::plan_file());
}

#[test]
fn the_frozen_files_have_every_kind() {
    let entries: Vec<Entry> = sample::every_line().map(|line| Entry::from_line(line).unwrap()).collect();
    let kinds: BTreeSet<&str> = entries.iter().filter_map(|entry| Body::of(entry).kind()).collect();
    assert_eq!(kinds.len(), 30, "{kinds:?}");
    let odd = |kind: &str| {
        entries.iter().any(|entry| entry.envelope().kind == kind && Body::of(entry) == Body::Other)
    };
    assert!(odd("odour/1"));
    assert!(entries.iter().any(|entry| Body::of(entry) == Body::Gone));
}

#[test]
fn what_is_written_is_read_back_byte_for_byte() {
    // Among these lines are an unknown kind and an unknown field.
    for line in sample::every_line() {
        let entry = Entry::from_line(line).unwrap();
        assert_eq!(entry.line(), line);
        let stored = Entry::from_stored(entry.envelope_text(), entry.content_text()).unwrap();
        assert_eq!(stored, entry);
    }
}

#[test]
fn each_body_goes_through_its_structure_and_back() {
    for line in sample::every_line() {
        let entry = Entry::from_line(line).unwrap();
        let body = Body::of(&entry);
        if let (Some(value), Some(kept)) =
            (body.value(), entry.body().filter(|kept| kept.get("mood").is_none()))
        {
            assert_eq!(&value, kept);
        }
    }
}

#[test]
fn a_change_of_any_single_byte_is_caught() {
    for line in sample::FROZEN.lines() {
        for place in 0..line.len() {
            for change in changes(line.as_bytes(), place) {
                // One line alone has no neighbours that could give it away.
                let faults = verify_lines(&change).into_iter().flat_map(|report| report.faults);
                let caught = faults.into_iter().any(|fault| matches!(fault.what, FaultKind::Unsound(_)));
                assert!(caught, "byte {place} of {line} changed to give {change}");
            }
        }
    }
}

#[test]
fn a_change_anywhere_in_the_whole_file_is_caught_and_placed() {
    let ends = sample::FROZEN.match_indices('\n').map(|(place, _)| place);
    for place in (0..sample::FROZEN.len()).step_by(97).chain(ends) {
        for change in changes(sample::FROZEN.as_bytes(), place) {
            let line = 1 + sample::FROZEN[..place].matches('\n').count() as u64;
            let faults: Vec<Fault> =
                verify_lines(&change).into_iter().flat_map(|report| report.faults).collect();
            let placed = faults.iter().any(|fault| fault.line.is_some_and(|found| found.abs_diff(line) <= 1));
            assert!(placed, "byte {place} changed: {faults:?}");
        }
    }
}

/// The text with one byte changed: always in its last bit, and from place to place in another way besides. What is no
/// longer UTF-8 cannot even be opened as text.
fn changes(text: &[u8], place: usize) -> impl Iterator<Item = String> + '_ {
    let old = text[place];
    let besides = [b' ', old ^ 0x20, b'"', b'0', b'\n'][place % 5];
    [old ^ 1, besides].into_iter().filter(move |new| *new != old).filter_map(move |new| {
        let mut changed = text.to_vec();
        changed[place] = new;
        String::from_utf8(changed).ok()
    })
}

fn draft() -> Draft {
    Draft {
        at: "2026-11-25T09:30:00+01:00".to_owned(),
        by: "p-1".to_owned(),
        kind: "note/1".to_owned(),
        corrects: None,
        body: json!({ "words": "so" }),
    }
}

fn made(draft: Draft) -> Result<Entry, EntryError> {
    Entry::make(draft, &Head::empty("c"), [7; 32])
}

#[test]
fn a_draft_that_cannot_be_kept_is_answered_with_place_and_remedy() {
    let said = |draft| made(draft).unwrap_err().to_string();
    let float = said(Draft { body: json!({ "shown": [{ "ohm": 6.31 }] }), ..draft() });
    assert!(float.starts_with("$.body.shown[0].ohm: the number 6.31 "), "{float}");
    let big = said(Draft { body: json!({ "minor": 1_u64 << 53 }), ..draft() });
    assert!(big.starts_with("$.body.minor: the number 9007199254740992 "), "{big}");
    let time = said(Draft { at: "yesterday".to_owned(), ..draft() });
    assert!(time.contains("\"yesterday\"") && time.contains("2026-11-25T09:30:00+01:00"), "{time}");
    for kind in ["note", "note/0", "note/", "Note/1", "note/01", "note/+1", "/1", "note/1/1", ""] {
        assert!(
            matches!(made(Draft { kind: kind.to_owned(), ..draft() }), Err(EntryError::Kind { .. })),
            "{kind}"
        );
    }
    let later = Cite { chain: "c".to_owned(), seq: 0, hash: Hash::ZERO };
    let corrects = said(Draft { corrects: Some(later), ..draft() });
    assert!(corrects.contains("entry 0 of chain c"), "{corrects}");
    let full = Head { next: 1 << 53, ..Head::empty("c") };
    let full = Entry::make(draft(), &full, [0; 32]).unwrap_err();
    assert!(matches!(full, EntryError::TooBig { path, .. } if path == "$.seq"));
}

#[test]
fn text_that_was_touched_is_not_read() {
    let entry = made(draft()).unwrap();
    let (envelope, content) = (entry.envelope_text(), entry.content_text().unwrap());
    let read = |envelope: &str, content: &str| Entry::from_stored(envelope, Some(content)).unwrap_err();
    let spaced = envelope.replacen(':', ": ", 1);
    assert_eq!(read(&spaced, content), EntryError::NotCanonical { what: "envelope" });
    let spaced = content.replacen(':', ": ", 1);
    assert_eq!(read(envelope, &spaced), EntryError::NotCanonical { what: "content" });
    assert!(matches!(read(envelope, &content.replace("so", "no")), EntryError::ContentHash { .. }));
    assert!(matches!(
        read(&envelope.replace("\"v\":1", "\"v\":2"), content),
        EntryError::Version { read: 2 }
    ));
    let unplaced = envelope.replace("\"seq\"", "\"sea\"");
    assert!(matches!(read(&unplaced, content), EntryError::Shape { what: "envelope", .. }));
    assert!(matches!(read("[]", content), EntryError::Shape { what: "envelope", .. }));
    assert!(matches!(Entry::from_line("{}"), Err(EntryError::Shape { what: "line", .. })));
    let line = entry.line();
    let windows = format!("{line}\r");
    assert_eq!(Entry::from_line(&windows), Err(EntryError::NotCanonical { what: "line" }));
    let other = line.replace(&entry.hash().to_string(), &Hash::of(b"other").to_string());
    assert!(matches!(Entry::from_line(&other), Err(EntryError::EnvelopeHash { .. })));
}

#[test]
fn content_is_a_body_and_a_salt_and_nothing_more() {
    // Each of these agrees with its hash and is still refused.
    for content in [r#"{"body":1}"#, r#"{"body":1,"more":2,"salt":"00"}"#, r#"{"body":1,"salt":"00"}"#, "7"] {
        let envelope = made(draft()).unwrap().envelope().clone();
        let envelope = Envelope { body_hash: Hash::of(content.as_bytes()), ..envelope };
        let text = serde_jcs_of(&envelope);
        let error = Entry::from_stored(&text, Some(content)).unwrap_err();
        assert!(matches!(error, EntryError::Shape { what: "content", .. }), "{content}: {error}");
    }
}

/// The canonical form of an envelope: its keys, in order, need nothing but compact JSON.
fn serde_jcs_of(envelope: &Envelope) -> String {
    serde_json::to_value(envelope).unwrap().to_string()
}

#[test]
fn the_order_of_keys_as_typed_does_not_change_the_hash() {
    let one = serde_json::from_str(r#"{"a":1,"words":"so","z":{"b":2,"a":1}}"#).unwrap();
    let other = serde_json::from_str(r#"{"z":{"a":1,"b":2},"words":"so","a":1}"#).unwrap();
    let hash = |body| made(Draft { body, ..draft() }).unwrap().hash();
    assert_eq!(hash(one), hash(other));
}

#[test]
fn unknown_fields_of_an_envelope_pass_through() {
    let entry = made(draft()).unwrap();
    let text = entry.envelope_text().replace(",\"v\":1}", ",\"v\":1,\"weather\":\"rain\"}");
    let read = Entry::from_stored(&text, entry.content_text()).unwrap();
    assert_eq!(read.envelope_text(), text);
    assert_eq!(Entry::from_line(&read.line()).unwrap(), read);
    assert_ne!(read.hash(), entry.hash());
}

#[test]
fn withholding_changes_neither_hash_nor_place() {
    let entry = made(draft()).unwrap();
    let withheld = entry.without_content();
    assert_eq!((withheld.hash(), withheld.after()), (entry.hash(), entry.after()));
    assert_eq!((withheld.body(), withheld.content_text()), (None, None));
    assert!(withheld.line().starts_with("{\"content\":null,"));
    assert_eq!(Entry::from_line(&withheld.line()).unwrap(), withheld);
}

#[test]
fn the_salt_alone_changes_the_hash() {
    // So a short body, such as a price, cannot be found by trying all prices.
    let other = Entry::make(draft(), &Head::empty("c"), [8; 32]).unwrap();
    assert_ne!(made(draft()).unwrap().envelope().body_hash, other.envelope().body_hash);
}
