//! The page `docs/record.md`: what it says must be what the frozen file shows.

use std::collections::BTreeSet;

use asfound_record::*;
use serde_json::Value;

use crate::sample;

const PAGE: &str = include_str!("../../../../docs/record.md");

fn lines() -> Vec<Entry> {
    sample::FROZEN.lines().map(|line| Entry::from_line(line).unwrap()).collect()
}

#[test]
fn the_worked_example_is_line_9_of_the_sample() {
    let (entry, next) = (&lines()[8], &lines()[9]);
    assert!(PAGE.contains(&format!("```json\n{}\n```", entry.line())));
    let content = entry.content_text().unwrap();
    assert!(PAGE.contains(&format!("```\n{content}\n{}\n```", Hash::of(content.as_bytes()))));
    let envelope = entry.envelope_text();
    assert!(PAGE.contains(&format!("```\n{envelope}\n{}\n```", Hash::of(envelope.as_bytes()))));
    assert_eq!(Hash::of(content.as_bytes()), entry.envelope().body_hash);
    assert_eq!(Hash::of(envelope.as_bytes()), entry.hash());
    assert_eq!(next.envelope().prev, entry.hash());
}

#[test]
fn each_line_can_be_cut_apart_as_the_page_does_it() {
    // What the two `sed` expressions cut out: they match as far right as they can.
    for (line, entry) in sample::FROZEN.lines().zip(lines()) {
        let (front, rest) = line.rsplit_once(",\"envelope\":").unwrap();
        assert_eq!(front.strip_prefix("{\"content\":"), Some(entry.content_text().unwrap_or("null")));
        let (envelope, hash) = rest.rsplit_once(",\"hash\":\"").unwrap();
        assert_eq!(envelope, entry.envelope_text());
        assert_eq!(hash, format!("{}\"}}", entry.hash()));
    }
}

#[test]
fn the_page_names_every_kind_with_all_its_fields() {
    let mut kinds = BTreeSet::new();
    for entry in sample::every_line().map(|line| Entry::from_line(line).unwrap()) {
        // Read and written again, so that a field only this sample has is not asked for.
        let body = Body::of(&entry);
        let (Some(kind), Some(Value::Object(fields))) = (body.kind(), body.value()) else { continue };
        let row = PAGE
            .lines()
            .find(|line| line.starts_with(&format!("| `{kind}` |")))
            .unwrap_or_else(|| panic!("{kind}"));
        for field in fields.keys() {
            assert!(row.contains(&format!("`{field}`")), "{kind} has {field}");
        }
        kinds.insert(kind);
    }
    let is_row = |line: &&str| {
        line.strip_prefix("| `").is_some_and(|rest| rest.split('`').next().unwrap().contains('/'))
    };
    let rows = PAGE.lines().filter(is_row).count();
    assert_eq!((rows, kinds.len()), (30, 30));
}
