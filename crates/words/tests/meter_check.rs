//! The page Meter check and its sheet of paper, kept as documents: before a probing, with readings that agree, and with one
//! that does not.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;

use asfound_study::material::Material;
use asfound_words::meter_check::check_sheet;
use asfound_words::page::{Page, sheet};
use bench::{Ledger, workshop};
use document::document;

const TRACE: &str = "
coil neck 5k7
coil bridge 6k3
pot volume 250k
switch lever three-way lever
capacitor tone-cap 22n
pot tone 250k
jack jack
join neck.hot lever.a1 seen
join bridge.hot lever.a2 seen
join lever.a0 volume.3 seen
join volume.2 jack.tip seen
join volume.1 jack.sleeve seen
join neck.ground volume.1 seen
join bridge.ground volume.1 or volume.case unknown
join tone.3 volume.3 seen
join tone.2 tone-cap.a seen
join tone-cap.b volume.1 seen
";

fn told(lines: &str) -> String {
    let mut ledger = Ledger::with(TRACE).with_meters(workshop().meters);
    ledger.say_all(lines);
    let page = sheet(Page::MeterCheck, &Material::of(ledger.job, workshop().job));
    for told in &page.means {
        assert!(
            told.sure.matches(". ").count() < 2 && !told.sure.is_empty(),
            "{}: {}",
            told.sentence,
            told.sure
        );
        assert!(told.sentence.ends_with('.') && told.next.len() <= 1, "{}", told.sentence);
    }
    document(&page)
}

#[test]
fn before_a_probing_the_sheet_says_which_few_to_make() {
    insta::assert_snapshot!(told(""));
}

#[test]
fn readings_that_agree_exclude_slips() {
    insta::assert_snapshot!(told(
        "jack.tip jack.sleeve 5.57k lever 1, all knobs full\nbridge.ground volume.1 0.3 M1"
    ));
}

#[test]
fn a_reading_that_disagrees_is_told_with_what_would_make_it_so() {
    insta::assert_snapshot!(told(
        "jack.tip jack.sleeve 250k lever 1, all knobs full\nneck.hot volume.1 5.7k\nneck.hot lever.a1 open"
    ));
}

#[test]
fn two_readings_that_contradict_each_other_are_told_first() {
    let told = told("jack.tip jack.sleeve 5.57k lever 1\njack.sleeve jack.tip open lever 1");
    assert!(told.contains("contradict each other"), "{told}");
}

#[test]
fn what_cannot_be_checked_is_said_with_a_remedy() {
    let page = |lines: &str| {
        let ledger = Ledger::with(lines);
        document(&sheet(Page::MeterCheck, &Material::of(ledger.job, workshop().job)))
    };
    let two = page(
        "coil neck 6k\njack a\njoin neck.hot a.tip seen\ncoil bridge 6k\npot b 250k\njoin bridge.hot b.3 seen\n",
    );
    assert!(two.contains("Bridge and b hang together, and nothing joins them to the jack."), "{two}");
    let many: String =
        (0..200).map(|n| format!("switch s{n} two-pole slide\njoin s{n}.1 jack.tip seen\n")).collect();
    let many = page(&format!("jack jack\n{many}"));
    assert!(many.contains("200 switches") && many.contains("up to 24"), "{many}");
    assert!(page("").contains("Nothing of the circuit is traced yet."));
}

#[test]
fn the_sheet_of_paper_has_a_row_for_each_probing() {
    let ledger = Ledger::with(TRACE);
    let material = Material::of(ledger.job, workshop().job);
    let paper = check_sheet(&material);
    let page = sheet(Page::MeterCheck, &material);
    let on_page =
        page.means.iter().find(|told| told.id == "check-sheet").expect("the sheet").tables[0].rows.len();
    assert_eq!(paper.tables[0].rows.len(), on_page);
    assert!(paper.tables[0].rows.iter().all(|row| row.last().is_some_and(|box_| box_ == "☐")));
    assert!(check_sheet(&Material::default()).tables.is_empty());
}
