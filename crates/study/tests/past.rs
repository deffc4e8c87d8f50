//! What coils of the same kind read in this workshop before.

mod common;

use asfound_measure::Ohms;
use asfound_study::past::{PastReading, among, of_job, strip};
use asfound_study::usual::{AtTwenty, Kindred, Position, held};
use asfound_study::{Job, Size};
use common::{Ledger, workshop};
use proptest::prelude::*;

fn rods(gauge: Option<u8>, period: Option<(u16, u16)>) -> Kindred {
    Kindred { construction: Some("single coil over rods".to_owned()), gauge, period }
}

fn past_of(lines: &str, kindred: impl Fn(&Job, &str) -> Kindred) -> Vec<PastReading> {
    let known = workshop();
    let parts = "part neck coil, coil, neck\npart bridge coil, coil, bridge\npart volume pot, pot, plate";
    let mut job = Ledger::with(parts).with_meters(known.meters.clone());
    job.say_all(lines);
    of_job(&job.job, &known.job, kindred)
}

fn reading(part: &str, ohms: f64, kindred: Kindred) -> PastReading {
    PastReading {
        chain: "j-9".to_owned(),
        job: "25-009".to_owned(),
        part: part.to_owned(),
        name: "bridge coil".to_owned(),
        kindred,
        ohms_at_20: Ohms(ohms),
        standard_uncertainty: Some(Ohms(35.0)),
    }
}

fn at_20(ohms: f64) -> AtTwenty {
    AtTwenty { value: Ohms(ohms), low: Ohms(ohms - 60.0), high: Ohms(ohms + 60.0) }
}

#[test]
fn the_latest_reading_of_each_coil_at_its_joints() {
    let lines = "
        neck 6k31 20 C M1 at the joints
        bridge 6k40 20 C M1 lead lifted
        volume pot 250k M1 out of circuit
        neck 6k28 20 C M1 at the joints
        bridge 3k1 20 C M1 in circuit
        bridge 6k90 20 C M1
        bridge over 20k M1 at the joints
        bridge 2.4 H out of circuit
        bridge 5.84 ohms M1 at the joints
    ";
    let past = past_of(lines, |_, _| rods(Some(42), None));
    let found: Vec<(&str, f64)> = past.iter().map(|it| (it.name.as_str(), it.ohms_at_20.0)).collect();
    assert_eq!(found, [("bridge coil", 6400.0), ("neck coil", 6280.0)]);
    assert!(past.iter().all(|it| it.job == "26-014" && it.chain == "j-1"));
}

#[test]
fn a_coil_of_no_known_kind_is_nobodys_kin() {
    let lines = "neck 6k31 20 C M1 at the joints\nbridge 6k40 20 C M1 at the joints";
    let past = past_of(lines, |_, part| if part == "P1" { rods(None, None) } else { Kindred::default() });
    assert_eq!(past.len(), 1);
    assert_eq!(past[0].part, "P1");
}

/// 6310 Ω with no temperature: from 6310/1.01965 to 6310/0.98035 Ω (IEC 60028), the middle 6312.44 Ω, and as a rectangle
/// u = 71.61 Ω; with the meter's 76.79 Ω and half the last digit, each over √3, 84.28 Ω (JCGM 100, 4.3.7 and 5.1.2).
#[test]
fn an_unwritten_temperature_is_in_the_uncertainty() {
    let past = past_of("neck 6k31 M1 at the joints", |_, _| rods(None, None));
    assert!((past[0].ohms_at_20.0 - 6312.44).abs() < 0.01, "{}", past[0].ohms_at_20.0);
    let u = past[0].standard_uncertainty.expect("a meter that is known").0;
    assert!((u - 84.28).abs() < 0.01, "{u}");
    assert_eq!(
        past_of("neck 6k31 20 C M2 at the joints", |_, _| rods(None, None))[0].standard_uncertainty,
        None
    );
}

#[test]
fn a_line_reads_back_the_same() {
    let whole = reading("P2", 6091.2, rods(Some(42), Some((1954, 1963))));
    let line = whole.line();
    assert_eq!(
        line,
        "coil-read/1\tsingle coil over rods\t42\t1954-1963\t6091.2\t35\tj-9\t25-009\tP2\tbridge coil"
    );
    assert_eq!(PastReading::from_line(&line), Some(whole.clone()));
    let bare = PastReading { standard_uncertainty: None, kindred: rods(None, None), ..whole };
    assert_eq!(PastReading::from_line(&bare.line()), Some(bare));
}

#[test]
fn a_line_of_another_version_or_a_damaged_one_is_made_anew() {
    let line = reading("P2", 6091.2, rods(Some(42), None)).line();
    for damaged in [
        String::new(),
        line.replace("read/1", "read/2"),
        line.replace("6091.2", "many"),
        line.replace("6091.2", "NaN"),
        line.replace("\t42\t", "\t4x\t"),
        line.replace("\t-\t", "\t1954\t"),
        format!("{line}\tmore"),
        line[..line.len() / 2].to_owned(),
    ] {
        assert_eq!(PastReading::from_line(&damaged), None, "{damaged}");
    }
}

#[test]
fn only_its_own_kind_and_never_itself() {
    let past = [
        reading("P1", 6000.0, rods(Some(42), Some((1954, 1963)))),
        reading("P2", 6100.0, rods(Some(42), Some((1962, 1966)))),
        reading("P3", 7500.0, rods(Some(43), Some((1954, 1963)))),
        reading("P4", 6200.0, rods(None, None)),
        reading(
            "P5",
            4000.0,
            Kindred { construction: Some("dual coil half".to_owned()), ..rods(Some(42), None) },
        ),
    ];
    let parts = |kindred: &Kindred, this: (&str, &str)| -> Vec<String> {
        among(&past, kindred, &at_20(6050.0), this).like.iter().map(|it| it.part.clone()).collect()
    };
    let elsewhere = ("j-1", "P1");
    assert_eq!(parts(&rods(Some(42), Some((1960, 1962))), elsewhere), ["P1", "P2"]);
    assert_eq!(parts(&rods(Some(42), None), elsewhere), ["P1", "P2"]);
    assert_eq!(parts(&rods(None, None), elsewhere), ["P1", "P2", "P3", "P4"]);
    assert_eq!(parts(&rods(Some(42), None), ("j-9", "P1")), ["P2"]);
    assert_eq!(parts(&Kindred::default(), elsewhere), Vec::<String>::new());
}

/// 6.0, 6.1, 6.2 kΩ: mean 6.1 kΩ, s = 100 Ω, and with t₉₅(2) = 4.303 (JCGM 100, table G.2) 6100 ± 496.8 Ω.
#[test]
fn a_coil_among_three() {
    let kindred = rods(Some(42), None);
    let past = [6000.0, 6100.0, 6200.0].map(|ohms| reading("P1", ohms, kindred.clone()));
    let found = among(&past, &kindred, &at_20(6050.0), ("j-1", "P1"));
    let sample = found.sample.expect("three");
    assert_eq!((sample.count, sample.mean.0.round()), (3, 6100.0));
    let (low, high) = found.interval.expect("three");
    assert!((low.0 - 5603.2).abs() < 0.1 && (high.0 - 6596.8).abs() < 0.1, "{low:?} {high:?}");
    assert_eq!(found.position, Position::Within);
    assert_eq!(among(&past, &kindred, &at_20(7000.0), ("j-1", "P1")).position, Position::Above);
    let alone = among(&past[..1], &kindred, &at_20(6050.0), ("j-1", "P1"));
    assert_eq!((alone.interval, alone.position), (None, Position::CannotTell));
    assert_eq!(among(&[], &kindred, &at_20(6050.0), ("j-1", "P1")).sample, None);
}

#[test]
fn the_strip_shows_past_coils_the_window_and_this_one() {
    let kindred = rods(Some(42), Some((1957, 1957)));
    let past = [6000.0, 6100.0, 6200.0].map(|ohms| reading("P1", ohms, kindred.clone()));
    let coil = at_20(6050.0);
    let windows = held(&coil, &kindred).expect("known");
    let plot = strip(
        &among(&past, &kindred, &coil, ("j-1", "P1")),
        &windows,
        &coil,
        "Neck coil beside its like",
        "neck coil",
    );
    assert_eq!(plot.table().rows.len(), 4);
    assert!(plot.description().contains("neck coil stands at"), "{}", plot.description());
    assert!(plot.description().contains("5.6 to 6.6 kΩ"), "{}", plot.description());
    assert!(!plot.drawing(Size::Narrow).marks.is_empty());
}

proptest! {
    #[test]
    fn any_reading_is_one_line_and_reads_back(
        ohms in 1.0..1e6_f64, u in proptest::option::of(0.0..1e3_f64), gauge in proptest::option::of(30..50_u8),
        period in proptest::option::of((1900..2030_u16, 1900..2030_u16)), name in "[^\\p{Cc}]{0,12}"
    ) {
        let whole = PastReading {
            name,
            standard_uncertainty: u.map(Ohms),
            ..reading("P2", ohms, rods(gauge, period))
        };
        prop_assert_eq!(whole.line().lines().count(), 1);
        prop_assert_eq!(PastReading::from_line(&whole.line()), Some(whole));
    }

    #[test]
    fn any_text_is_answered(text in any::<String>()) {
        if let Some(read) = PastReading::from_line(&text) {
            prop_assert_eq!(PastReading::from_line(&read.line()), Some(read));
        }
    }
}
