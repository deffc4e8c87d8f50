//! The page Plan, kept as documents; money is marked so that one touch hides it.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;

use asfound_study::Job;
use asfound_study::material::Material;
use asfound_words::page::{Page, sheet};
use asfound_words::sheet::Sheet;

use bench::Ledger;
use document::document;

const LOT: &str = "lot premium 26 % to 10000 GBP then 20 % to 50000 then 14 %, tax 20 % on the premium, carriage 180 GBP\n\
                   lot budget 12000 GBP, to keep, the owner pays, bid step 100, work 400 to 1200 GBP, chance of loss 20 %\n\
                   lot value original 25000 GBP by a restorer (published account)\n\
                   lot value as found up to 20 % of original by the same restorer (published account)\n\
                   lot value restored 50 % to 66.67 % of original by the same restorer (published account)\n\
                   lot comparable 14000 GBP in spring, refinished well";

const WORK: &str = "work rate 60 GBP an hour, billed by quarter hours, tax 20 %\n\
                    lot the owner pays, to keep, budget 3000 GBP\n\
                    task clean board, playable and restore\n\
                    task level frets, after clean board, playable\n\
                    task refret, after clean board, restore, not before 2026-12-07 for fret wire, materials 40 to 60 GBP\n\
                    task lacquer, 2 to 4 hours, cures 72 hours, loses the worn edge, cannot be undone, restore\n\
                    agreed restore, up to 1800 GBP, by telephone\n\
                    hours 1h20 clean board, done\n\
                    hours 2h lacquer, done, one tin\n\
                    money materials lacquer 18.50 GBP\n\
                    money deposit 200 GBP\n\
                    due guard looked at for gassing 2027-05-01";

fn told(lines: &str) -> Sheet {
    sheet(Page::Plan, &Material::of(Ledger::with(lines).job, Job::default()))
}

#[test]
fn a_lot_to_bid_on() {
    insta::assert_snapshot!("lot", document(&told(LOT)));
}

#[test]
fn work_under_way() {
    insta::assert_snapshot!("work", document(&told(WORK)));
}

#[test]
fn terms_that_cannot_be_and_a_circle() {
    let wrong = "lot premium 120 %, tax 20 % on the premium, budget 5000 GBP, to keep\n\
                 task strip, 1 hour, after spray\ntask spray, 1 hour, after strip";
    insta::assert_snapshot!("wrong", document(&told(wrong)));
}

#[test]
fn every_finding_on_money_is_marked_and_none_is_a_bare_verdict() {
    let basis = "lot premium 25 %, tax 20 %, budget 5000 GBP, to keep, the owner pays";
    for lines in [LOT, WORK, basis, "task refret", "lot to sell", "note nothing"] {
        for told in told(lines).means {
            let mut text = vec![told.sentence.clone(), told.sure.clone()];
            text.extend(told.working.iter().chain(&told.assumptions).cloned());
            text.extend(
                told.shown.iter().chain(&told.tables).flat_map(|table| table.rows.iter().flatten().cloned()),
            );
            let tells_sums = text.iter().any(|text| text.contains(" GBP") && !text.contains("As “"));
            assert!(!tells_sums || told.money, "{}: {text:?}", told.id);
            assert!(told.sentence.ends_with('.') && !told.sure.is_empty(), "{}", told.sentence);
            assert!(told.sure.matches(". ").count() < 2, "{}", told.sure);
            assert!(told.next.len() <= 1, "{}", told.id);
        }
    }
}

#[test]
fn what_is_said_of_a_plan_can_be_typed_again() {
    for line in told(WORK).found {
        assert!(!line.again.is_empty(), "{}", line.words);
    }
}
