//! Pages of a job, kept as documents; and nothing of a job is lost in words.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;
#[path = "common/rich.rs"]
mod rich;

use std::collections::{BTreeMap, BTreeSet};

use asfound_study::Job;
use asfound_study::material::Material;
use asfound_study::record::Standing;
use asfound_words::page::{self, Page, sheet};

use document::document;
use rich::{owners, rich};

const TRACE: &str = include_str!("../../asfound/demo/bass.trace");

fn told(page: Page) -> String {
    let text = document(&sheet(page, &Material::of(rich(TRACE).job, owners().job)));
    // Tables of the circuit stand in the documents of traces.
    if page == Page::Wiring {
        text.lines()
            .filter(|line| !line.starts_with("    "))
            .fold(String::new(), |text, line| text + line + "\n")
    } else {
        text
    }
}

#[test]
fn piece() {
    insta::assert_snapshot!(told(Page::Piece));
}

#[test]
fn parts() {
    insta::assert_snapshot!(told(Page::Parts));
}

#[test]
fn readings() {
    insta::assert_snapshot!(told(Page::Readings));
}

#[test]
fn wiring() {
    insta::assert_snapshot!(told(Page::Wiring));
}

#[test]
fn history() {
    let job = rich("coil neck 7k2\n").job;
    let lines: Vec<String> = page::history(&job)
        .into_iter()
        .map(|line| {
            format!("{:>3}  {} | {} | {} | {}", line.seq, line.words, line.detail, line.since, line.again)
        })
        .collect();
    insta::assert_snapshot!(lines.join("\n"));
}

/// Kinds that are the chain's own bookkeeping: they stand in the history and under their steps and papers.
const BOOKKEEPING: [&str; 5] = ["job/1", "decided/1", "told/1", "struck/1", "withheld/1"];

/// These pages lay entries beside each other that mostly have a page of their own.
const REPEATING: [Page; 4] = [Page::Viewing, Page::Faults, Page::Dates, Page::Originality];

#[test]
fn every_standing_entry_is_found_on_exactly_one_page() {
    let job = rich(TRACE).job;
    let mut shown: BTreeMap<u64, usize> = BTreeMap::new();
    let mut repeated: BTreeSet<u64> = BTreeSet::new();
    for page in Page::ALL {
        for line in sheet(page, &Material::of(job.clone(), owners().job)).found {
            if REPEATING.contains(&page) {
                repeated.insert(line.seq);
            } else {
                *shown.entry(line.seq).or_default() += 1;
            }
        }
    }
    for line in &job.history {
        let stands = matches!(line.standing, Standing::Stands | Standing::Unread);
        let expected = usize::from(stands && !BOOKKEEPING.contains(&line.kind.as_str()));
        let own = shown.get(&line.seq).copied().unwrap_or(0);
        let anywhere = usize::from(own > 0 || repeated.contains(&line.seq));
        assert!(own <= expected && anywhere == expected, "{} {:?}", line.kind, line);
    }
}

#[test]
fn the_history_shows_every_entry_in_its_order() {
    let job = rich(TRACE).job;
    let seqs: Vec<u64> = page::history(&job).iter().map(|line| line.seq).collect();
    assert_eq!(seqs, (0..job.history.len() as u64).collect::<Vec<_>>());
}

#[test]
fn no_finding_is_a_bare_verdict_and_ids_are_unlike() {
    for job in [rich(TRACE).job, rich("coil neck 7k2\n").job, Job::default()] {
        for page in Page::ALL {
            let sheet = sheet(page, &Material::of(job.clone(), owners().job));
            let mut ids: Vec<&str> = sheet.means.iter().map(|told| told.id.as_str()).collect();
            ids.sort_unstable();
            let known = ids.len();
            ids.dedup();
            assert_eq!(ids.len(), known, "{page:?}");
            for told in &sheet.means {
                assert!(told.sentence.ends_with('.') || told.sentence.ends_with('”'), "{}", told.sentence);
                assert!(!told.sure.is_empty(), "{page:?}: {}", told.sentence);
                let sentences = told.sure.matches(". ").count() + 1;
                assert!(sentences <= 2, "{page:?}: {}", told.sure);
                assert!(told.next.len() <= 1, "{page:?}: {}", told.sentence);
            }
        }
    }
}

#[test]
fn a_job_folded_anew_is_told_alike() {
    let ledger = rich(TRACE);
    for page in Page::ALL {
        let (grown, folded) = (&ledger.job, &ledger.folded());
        assert_eq!(
            document(&sheet(page, &Material::of(grown.clone(), owners().job))),
            document(&sheet(page, &Material::of(folded.clone(), owners().job)))
        );
    }
}
