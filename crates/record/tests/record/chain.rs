//! Chains checked, and copies compared.

use asfound_record::*;

use crate::sample::{self, Writer, note};

#[test]
fn the_sample_is_whole_and_says_what_is_withheld_and_when_the_clock_stepped_back() {
    let reports = verify_lines(sample::FROZEN);
    let [workshop, job] = reports.as_slice() else { panic!("{reports:?}") };
    assert!(workshop.is_whole() && job.is_whole(), "{reports:?}");
    assert_eq!((workshop.chain.as_str(), job.chain.as_str()), (sample::WORKSHOP, sample::JOB));
    assert_eq!(job.withheld, [14]);
    assert_eq!(job.clock_steps_back, [20]);
    let entries = sample::frozen_chain(sample::JOB);
    assert_eq!(job.entries, entries.len() as u64);
    assert_eq!(job.head, entries.last().map(Entry::after));
    assert_eq!(*job, verify(entries.iter()));
}

#[test]
fn chains_may_lie_mixed_in_one_file() {
    let (workshop, job) = (sample::workshop(), sample::job());
    let mut lines: Vec<String> = Vec::new();
    for place in 0..job.len() {
        lines.extend(job.get(place).map(Entry::line));
        lines.extend(workshop.get(place).map(Entry::line));
    }
    let reports = verify_lines(&lines.join("\n"));
    assert_eq!(reports.len(), 2);
    assert!(reports.iter().all(Report::is_whole), "{reports:?}");
}

#[test]
fn what_was_taken_out_moved_or_exchanged_is_found_at_its_place() {
    let entries = sample::job();
    let faults = |entries: &[Entry]| verify(entries.iter()).faults;

    let mut gap = entries.clone();
    gap.remove(5);
    let found = faults(&gap);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].seq, &found[0].what), (6, &FaultKind::Place { due: 5 }));
    assert_eq!(
        found[0].to_string(),
        "entry 6: entry 5 was due here. Entries were taken out, moved or put in; take them from another copy."
    );

    let beheaded = &entries[1..];
    assert!(matches!(faults(beheaded)[0].what, FaultKind::Place { due: 0 }));

    let mut swapped = entries.clone();
    swapped.swap(3, 4);
    assert!(!faults(&swapped).is_empty());

    // Another entry, sound by itself, in the place of one that was there.
    let mut exchanged = Writer::new(sample::JOB);
    exchanged.keep("02T09:00:00", &note("other words"));
    let mut entries = entries;
    entries[0] = exchanged.entries.remove(0);
    let found = faults(&entries);
    assert!(matches!(found[0], Fault { seq: 1, line: None, what: FaultKind::Prev { .. } }), "{found:?}");
    assert_eq!(found.len(), 1);
}

#[test]
fn an_entry_of_another_chain_is_a_fault_among_the_entries_of_one() {
    let mut entries = sample::job();
    entries.push(sample::workshop().remove(0));
    let report = verify(entries.iter());
    assert!(
        matches!(&report.faults[..], [Fault { what: FaultKind::OtherChain { chain }, .. }] if chain == sample::WORKSHOP)
    );
    assert_eq!(report.entries, entries.len() as u64 - 1);
}

#[test]
fn a_line_that_cannot_be_read_is_one_fault_and_the_rest_is_still_checked() {
    let mut lines: Vec<&str> = sample::FROZEN.lines().collect();
    lines[12] = "coffee";
    let reports = verify_lines(&lines.join("\n"));
    let faults: Vec<&Fault> = reports.iter().flat_map(|report| &report.faults).collect();
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!((faults[0].line, faults[0].seq), (Some(13), 4));
    let said = faults[0].to_string();
    assert!(said.starts_with("Line 13, entry 4: line 1, column 1: this is not JSON"), "{said}");

    lines[0] = "coffee";
    let reports = verify_lines(&lines.join("\n"));
    assert_eq!(reports.len(), 2, "a bad first line goes to the first chain that is named");
}

#[test]
fn an_empty_file_is_no_whole_chain() {
    let reports = verify_lines("");
    assert_eq!(reports.len(), 1);
    assert!(!reports[0].is_whole());
    assert_eq!(verify(std::iter::empty()).head, None);
}

#[test]
fn copies_meet() {
    let ours = sample::job();
    let shorter = &ours[..ours.len() - 3];
    assert_eq!(meet(&ours, &ours), Meeting::Same);
    assert_eq!(meet(shorter, &ours), Meeting::Extends { by: 3 });
    assert_eq!(meet(&ours, shorter), Meeting::Shorter);
    assert_eq!(meet(&ours, &sample::workshop()), Meeting::OtherChain);
    let held_back: Vec<Entry> = ours.iter().map(Entry::without_content).collect();
    assert_eq!(meet(&ours, &held_back), Meeting::Same);

    let mut differing = Writer::new(sample::JOB);
    differing.keep("02T09:00:00", &note("other words"));
    assert_eq!(meet(&ours, &differing.entries), Meeting::Differs { at_seq: 0 });
}
