//! The trace held against the meter, from lines as they are said at a bench.

mod common;

use asfound_study::entry_line::WhyNot;
use asfound_study::probings::{Checked, CheckedBefore, Limits, MeterCheck, Slip, Unused, study};
use asfound_study::record::{Amount1, Body, Probing1};
use common::{Ledger, workshop};

const TRACE: &str = "
coil neck 5k7
coil bridge 6k3
pot volume 250k
switch lever three-way lever
jack jack
join neck.hot lever.a1 seen
join bridge.hot lever.a2 seen
join lever.a0 volume.3 seen
join volume.2 jack.tip seen
join volume.1 jack.sleeve seen
join neck.ground volume.1 seen
join bridge.ground volume.1 seen
";

fn bench() -> Ledger {
    Ledger::with(TRACE).with_meters(workshop().meters)
}

fn probing(ledger: &Ledger, line: &str) -> Probing1 {
    match ledger.hear(line).unwrap_or_else(|error| panic!("{line}: {error:?}")).body {
        Body::Probing(body) => body,
        other => panic!("{line}: {other:?}"),
    }
}

fn checked(ledger: &Ledger) -> Checked {
    match study(&ledger.job, &workshop().job, &CheckedBefore::default()) {
        MeterCheck::Checked(checked) => *checked,
        other => panic!("{other:?}"),
    }
}

#[test]
fn two_lugs_and_what_the_meter_shows_are_heard() {
    let ledger = bench();
    let plain = probing(&ledger, "neck.hot LEVER.A1 0.4");
    assert_eq!((plain.from.as_str(), plain.to.as_str()), ("neck.hot", "lever.a1"), "in the trace's spelling");
    assert_eq!((plain.quantity.as_str(), plain.shown.text.as_str()), ("resistance", "0.4"));
    let all = probing(&ledger, "jack.tip jack.sleeve 3.04k lever 2, volume full 21C M1 on 20k");
    assert_eq!(all.stood.as_deref(), Some("lever 2, volume full"));
    assert_eq!(all.temperature.map(|it| it.text).as_deref(), Some("21C"));
    assert_eq!((all.meter.as_deref(), all.range.as_deref()), (Some("M1"), Some("20k")));
    let beeps = probing(&ledger, "lever.a1 lever.a0 beeps lever 1");
    assert_eq!(beeps.quantity, "continuity");
    assert_eq!(beeps.shown.amount, Amount1::Under { decimal: "50".into() });
    let open = probing(&ledger, "lever.a1 lever.a2 open lever 1");
    assert_eq!(open.shown.amount, Amount1::OverRange);
    assert_eq!(probing(&ledger, "neck.hot neck.ground over 20k").shown.text, "over 20k");
}

#[test]
fn a_point_that_does_not_exist_is_told_with_those_near_it() {
    let ledger = bench();
    let error = ledger.hear("neck.hot volume.5 0.4").unwrap_err();
    assert_eq!((error.why, error.read.as_str()), (WhyNot::NoSuchLug, "volume.5"));
    assert!(error.hints.iter().any(|hint| hint.starts_with("volume.")), "{:?}", error.hints);
    let error = ledger.hear("nekc.hot volume.3 0.4").unwrap_err();
    assert_eq!(error.hints.first().map(String::as_str), Some("neck.hot"));
    let error = ledger.hear("jack.tip jack.sleeve 3k lever 7").unwrap_err();
    assert_eq!(error.why, WhyNot::NoSuchPosition("lever 7".into()));
    assert_eq!(error.hints, ["lever 1", "lever 2", "lever 3"]);
    assert_eq!(ledger.hear("neck.hot volume.3").unwrap_err().why, WhyNot::NoProbing);
    assert_eq!(ledger.hear("neck.hot volume.3 dull").unwrap_err().why, WhyNot::NoProbing);
    assert_eq!(ledger.hear("neck.hot volume.3 0.4 dull").unwrap_err().why, WhyNot::LeftOver);
}

/// 5.7 kΩ and 6.3 kΩ with the 250 kΩ track beside them, by hand: 5.573, 6.145 and 2.957 kΩ.
#[test]
fn readings_that_the_trace_accounts_for_agree() {
    let mut ledger = bench();
    ledger.say("jack.tip jack.sleeve 5.57k lever 1, volume full");
    ledger.say("jack.tip jack.sleeve 2.96k lever 2, volume full");
    ledger.say("neck.hot lever.a1 0.3");
    let checked = checked(&ledger);
    assert!(checked.stands && checked.readings.iter().all(|it| it.agrees));
    assert!(!checked.readings[0].any_position && checked.readings[2].any_position);
    assert!(checked.excluded.0 > 0 && checked.next.is_some());
}

#[test]
fn a_reading_that_disagrees_names_the_slip() {
    let mut ledger = bench();
    ledger.say("jack.tip jack.sleeve 250k lever 1, volume full");
    ledger.say("jack.tip jack.sleeve 6.14k lever 2, volume full");
    ledger.say("neck.hot volume.1 5.7k");
    ledger.say("neck.hot lever.a1 open");
    let checked = checked(&ledger);
    assert!(!checked.stands && checked.accounted == 4);
    assert!(
        checked.slips.contains(&Slip::Missing("neck.hot".into(), "lever.a1".into())),
        "{:?}",
        checked.slips
    );
    let Limits::Ohms(least, most) = checked.readings[0].expected[0] else { panic!("a coil") };
    assert!(least.0 < 5573.0 && 5573.0 < most.0);
}

#[test]
fn the_sheet_followed_to_its_end_verifies_the_trace() {
    let mut ledger = bench();
    let mut rounds = 0;
    while let Some(next) = checked(&ledger).next {
        // What the drawn circuit shows: the middle of what is expected.
        let row =
            checked(&ledger).rows.into_iter().find(|row| row.probe == next).expect("a row of the sheet");
        let shown = match row.expected[0] {
            Limits::Open => "open".to_owned(),
            Limits::Touching(_) => "0.2".to_owned(),
            Limits::Ohms(least, most) => format!("{:.0}", (least.0 + most.0) / 2.0),
        };
        ledger.say(&format!("{} {} {shown} {}", next.from, next.to, next.stood()));
        rounds += 1;
        assert!(rounds < 30, "the sheet ends");
    }
    let checked = checked(&ledger);
    assert!(checked.stands);
    assert_eq!(checked.rows.len(), rounds);
    assert_eq!(checked.excluded.0, checked.shown);
}

#[test]
fn readings_that_cannot_be_judged_are_kept_and_said() {
    let mut ledger = bench();
    ledger.say("neck.hot lever.a1 0.4");
    ledger.say("join jack.sleeve lever.a1 seen");
    let Body::Probing(mut body) = ledger.job.body(ledger.job.probings[0].seq).cloned().unwrap() else {
        panic!()
    };
    body.to = "lever.z9".into();
    let nowhere = ledger.keep(&Body::Probing(body.clone()));
    body.to = "lever.a1".into();
    body.stood = Some("lever 9".into());
    let never = ledger.keep(&Body::Probing(body));
    let unused = checked(&ledger).unused;
    assert!(
        matches!(&unused[0], (seq, Unused::NoSuchLug(read, _)) if *seq == nowhere.seq && read == "lever.z9")
    );
    assert!(matches!(&unused[1], (seq, Unused::NotSet(_)) if *seq == never.seq));
}

#[test]
fn a_trace_that_is_not_there_or_not_whole_is_said() {
    let none = study(&Ledger::opened().job, &workshop().job, &CheckedBefore::default());
    assert_eq!(none, MeterCheck::NothingTraced);
    let half = Ledger::with("coil neck 6k\njoin neck.hot jack.tip seen\n");
    assert!(matches!(study(&half.job, &workshop().job, &CheckedBefore::default()), MeterCheck::NotYet(_)));
    let bare = Ledger::with("coil neck 6k\njack a\n");
    assert!(matches!(study(&bare.job, &workshop().job, &CheckedBefore::default()), MeterCheck::Refused(_)));
    let mut two = Ledger::with("coil neck 6k\njack a\njoin neck.hot a.tip seen\n");
    two.say_all("coil bridge 6k\npot b 250k\njoin bridge.hot b.3 seen\n");
    assert_eq!(checked(&two).apart, [["bridge", "b"]]);
}
