//! A coil held against windows of its own kind.

mod common;

use asfound_measure::{Ohms, Sample};
use asfound_study::readings::study;
use asfound_study::usual::{
    AtTwenty, CONSTRUCTIONS, Held, Kindred, NoWindow, PUBLISHED, Position, Rests, held, position, windows,
};
use common::{Ledger, workshop};
use proptest::prelude::*;

fn coil(line: &str) -> AtTwenty {
    let known = workshop();
    let mut job = Ledger::with("part neck coil, coil, neck").with_meters(known.meters.clone());
    job.say(&format!("neck {line}"));
    AtTwenty::of(&study(&job.job, &known.job)[0]).expect("a coil with a value")
}

fn kind(construction: &str, gauge: Option<u8>, period: Option<(u16, u16)>) -> Kindred {
    Kindred { construction: Some(construction.to_owned()), gauge, period }
}

fn positions(held: &[Held]) -> Vec<Position> {
    held.iter().map(|held| held.position).collect()
}

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// The published figures, summed up by hand: mean and standard deviation, and with t of table G.2 of JCGM 100:2008 the
/// interval `x̄ ± t s √(1 + 1/n)`. To a tenth of an ohm, being sums of rounded figures.
#[test]
fn published_figures_and_their_intervals() {
    let single = windows()[0];
    assert_eq!(
        (single.construction, single.gauge, single.period),
        ("single coil over rods", 42, Some((1954, 1963)))
    );
    let Rests::Published(sample) = single.rests else { panic!("published") };
    assert_eq!(sample.count, 10);
    near(sample.mean.0, 6091.0, 1e-9);
    near(sample.standard_deviation.expect("ten").0, 200.136, 5e-4);
    let (low, high) = single.interval().expect("ten figures");
    near(low.0, 5616.2, 0.05);
    near(high.0, 6565.8, 0.05);
    let (low, high) = windows()[1].interval().expect("four figures");
    near(low.0, 5125.6, 0.05);
    near(high.0, 6719.4, 0.05);
}

/// All sixteen figures of the single coil: mean 0.755576 Ω a turn, standard deviation 0.013309 Ω a turn, worked out
/// independently from the same publication.
#[test]
fn the_figures_were_copied_right() {
    let singles = PUBLISHED.iter().filter(|group| group.construction == "single coil over rods");
    let a_turn: Vec<Ohms> =
        singles.flat_map(|group| group.figures).map(|(turns, ohms)| Ohms(ohms / f64::from(*turns))).collect();
    let sample = Sample::of(&a_turn).expect("sixteen");
    assert_eq!(sample.count, 16);
    near(sample.mean.0, 0.755_576, 5e-7);
    near(sample.standard_deviation.expect("sixteen").0, 0.013_309, 5e-7);
}

#[test]
fn every_window_is_of_a_known_construction_and_in_order() {
    for window in windows() {
        assert!(CONSTRUCTIONS.contains(&window.construction));
        if let Some((low, high)) = window.interval() {
            assert!(low < high && low.0 > 0.0, "{window:?}");
        }
    }
    for construction in CONSTRUCTIONS {
        assert!(windows().iter().any(|window| window.construction == construction), "{construction}");
    }
}

#[test]
fn a_coil_of_its_year_is_within() {
    let found = held(&coil("6.00k 20 C M1"), &kind("single coil over rods", Some(42), Some((1957, 1959))));
    let found = found.expect("a kind that is known");
    // The years' figures, those without a year, which are all the same, and the trade's range.
    assert_eq!(positions(&found), [Position::Within, Position::CannotTell, Position::Within]);
    assert!(found.iter().all(|held| held.gauge_said && held.period_said));
    assert!(found.iter().all(|held| held.window.construction == "single coil over rods"));
}

#[test]
fn far_off_is_above_or_below_and_near_an_end_is_not_decided() {
    let kindred = kind("single coil over rods", Some(42), Some((1960, 1960)));
    let first = |line: &str| held(&coil(line), &kindred).expect("known")[0].position;
    assert_eq!(first("8.00k 20 C M1"), Position::Above);
    assert_eq!(first("4.00k 20 C M1"), Position::Below);
    assert_eq!(first("6.55k 20 C M1"), Position::OnTheEdge);
    // With no temperature the coil is a range, and near an end nothing is decided.
    assert_eq!(first("6.50k M1"), Position::OnTheEdge);
}

/// 5.3 kΩ and 6.3 kΩ were seen in coils of one family, both healthy.
#[test]
fn both_foil_faced_coils_are_healthy() {
    for line in ["5.40k 20 C M1", "6.20k 20 C M1"] {
        let found = held(&coil(line), &kind("foil-faced single coil", Some(44), None)).expect("known");
        assert_eq!(positions(&found), [Position::Within], "{line}");
    }
    for line in ["5.3k 20 C M1", "6.3k 20 C M1"] {
        let found = held(&coil(line), &kind("foil-faced single coil", None, None)).expect("known");
        assert_eq!(positions(&found), [Position::OnTheEdge], "{line}");
        assert!(!found[0].gauge_said && found[0].period_said);
    }
}

#[test]
fn what_was_not_said_does_not_narrow() {
    let found = held(&coil("6.00k 20 C M1"), &kind("single coil over rods", None, None)).expect("known");
    assert_eq!(found.len(), 5);
    assert!(found.iter().all(|held| !held.gauge_said));
    let tied: Vec<bool> = found.iter().map(|held| held.period_said).collect();
    assert_eq!(tied, [false, false, true, true, true]);
}

#[test]
fn no_window_says_what_would_get_one() {
    let coil = coil("6.00k 20 C M1");
    assert_eq!(held(&coil, &Kindred::default()), Err(NoWindow::ConstructionNotSaid));
    assert_eq!(held(&coil, &kind("ribbon", None, None)), Err(NoWindow::OfConstruction("ribbon".to_owned())));
    assert_eq!(
        held(&coil, &kind("single coil over rods", Some(38), None)),
        Err(NoWindow::OfGauge(vec![42, 43]))
    );
    // The trade's ranges are tied to no years, so no period is out of their reach.
    let late = held(&coil, &kind("dual coil half", Some(42), Some((1990, 1995)))).expect("the trade's range");
    assert!(late.iter().all(|held| matches!(held.window.rests, Rests::Trade { .. })));
}

#[test]
fn a_meter_that_is_not_known_widens_the_coil() {
    let (known, unknown) = (coil("6.00k 20 C M1"), coil("6.00k 20 C"));
    assert_eq!(known.value, unknown.value);
    assert!(unknown.low < known.low && unknown.high > known.high);
    // 3 % of 6000 Ω and 5 digits of 10 Ω, and twice the standard uncertainty of the thermometer, 13.614 Ω,
    // with the last digit, 2.887 Ω.
    near(unknown.high.0 - 6000.0, 230.0 + 2.0 * 13.917, 0.05);
    let (known, unknown) = (coil("6.00k M1"), coil("6.00k"));
    assert!(unknown.low < known.low && unknown.high > known.high);
}

/// Read at 68 °C, 6.00 kΩ would be 5.05 kΩ at 20 °C; 68 °F was meant, or nobody knows.
#[test]
fn a_temperature_that_no_coil_is_read_at_counts_as_not_taken() {
    assert_eq!(coil("6.00k 68 C M1"), coil("6.00k M1"));
    assert_ne!(coil("6.00k 68 F M1"), coil("6.00k M1"));
}

#[test]
fn positions_at_the_very_ends() {
    let at = |low, value, high| AtTwenty { value: Ohms(value), low: Ohms(low), high: Ohms(high) };
    let window = Some((Ohms(100.0), Ohms(200.0)));
    assert_eq!(position(&at(100.0, 150.0, 200.0), window), Position::Within);
    assert_eq!(position(&at(99.0, 150.0, 201.0), window), Position::OnTheEdge);
    assert_eq!(position(&at(200.0, 210.0, 220.0), window), Position::OnTheEdge);
    assert_eq!(position(&at(200.1, 210.0, 220.0), window), Position::Above);
    assert_eq!(position(&at(80.0, 90.0, 99.9), window), Position::Below);
    assert_eq!(position(&at(80.0, 90.0, 99.9), None), Position::CannotTell);
}

proptest! {
    #[test]
    fn never_across_constructions_gauges_or_periods(
        at in 0..CONSTRUCTIONS.len(), gauge in proptest::option::of(40..46_u8),
        period in proptest::option::of((1945..1975_u16, 0..10_u16)), ohms in 1e3..2e4_f64
    ) {
        let period = period.map(|(first, years)| (first, first + years));
        let coil = AtTwenty { value: Ohms(ohms), low: Ohms(ohms * 0.99), high: Ohms(ohms * 1.01) };
        let Ok(found) = held(&coil, &kind(CONSTRUCTIONS[at], gauge, period)) else { return Ok(()) };
        prop_assert!(!found.is_empty());
        for held in found {
            prop_assert_eq!(held.window.construction, CONSTRUCTIONS[at]);
            prop_assert!(gauge.is_none_or(|gauge| gauge == held.window.gauge));
            if let (Some(said), Some(of)) = (period, held.window.period) {
                prop_assert!(said.0 <= of.1 && of.0 <= said.1);
            }
        }
    }
}
