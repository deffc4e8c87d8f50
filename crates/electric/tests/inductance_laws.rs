//! Laws that inductance in air must keep, for any former.

use asfound_electric::bobbin::{Bobbin, Former, Lay, Turns};
use asfound_electric::inductance::{AirCore, coaxial_loops, cylindrical_sheet};
use asfound_measure::Millimetres;
use proptest::prelude::*;

const ONE: Turns = Turns(1.0);

fn table(former: Former, height: f64, deepest: f64) -> AirCore {
    let bobbin = Bobbin::new(former, Millimetres(height)).expect("a bobbin");
    AirCore::tabulate(&bobbin, Millimetres(deepest)).expect("a table")
}

fn at(table: &AirCore, depth: f64) -> f64 {
    table.inductance(Millimetres(depth), ONE).expect("inside the table").value()
}

fn obround(straight: f64, end_radius: f64) -> Former {
    Former::Obround { straight: Millimetres(straight), end_radius: Millimetres(end_radius) }
}

fn rectangle(length: f64, width: f64, lay: Lay) -> Former {
    Former::Rectangular { length: Millimetres(length), width: Millimetres(width), lay }
}

fn any_former() -> impl Strategy<Value = Former> {
    prop_oneof![
        (20.0..90.0_f64, 1.0..12.0_f64).prop_map(|(straight, radius)| obround(straight, radius)),
        (20.0..90.0_f64, 2.0..20.0_f64).prop_map(|(length, width)| rectangle(length, width, Lay::Rounded)),
        (20.0..90.0_f64, 2.0..20.0_f64).prop_map(|(length, width)| rectangle(length, width, Lay::Square)),
        (3.0..40.0_f64).prop_map(|radius| Former::Circular { radius: Millimetres(radius) }),
    ]
}

#[test]
fn a_short_obround_becomes_a_circle() {
    let round = table(Former::Circular { radius: Millimetres(10.0) }, 8.0, 6.0);
    let nearly = table(obround(1e-4, 10.0), 8.0, 6.0);
    for depth in [0.0, 2.0, 6.0] {
        // The straights add a part of 1e-5 of the area; the rest is the double sum about the two ends, which all but touch
        // here, as on no former that is wound: its worst case.
        let ratio = at(&nearly, depth) / at(&round, depth);
        assert!((ratio - 1.0).abs() < 1e-3, "{depth}: {ratio}");
    }
}

#[test]
fn a_flat_rectangle_becomes_an_obround() {
    // Laid round, a rectangle of no width is an obround of no radius; a ten-thousandth of a millimetre is near enough.
    let thin = table(rectangle(50.0, 1e-4, Lay::Rounded), 8.0, 6.0);
    let long = table(obround(50.0, 5e-5), 8.0, 6.0);
    for depth in [1.0, 3.0, 6.0] {
        let ratio = at(&thin, depth) / at(&long, depth);
        assert!((ratio - 1.0).abs() < 1e-4, "{depth}: {ratio}");
    }
}

#[test]
fn square_corners_enclose_more() {
    let [round, square] = [Lay::Rounded, Lay::Square].map(|lay| table(rectangle(55.0, 7.0, lay), 6.4, 8.0));
    assert!((at(&round, 0.0) / at(&square, 0.0) - 1.0).abs() < 1e-3, "the former itself is the same");
    for depth in [2.0, 5.0, 8.0] {
        assert!(at(&square, depth) > at(&round, depth));
    }
}

proptest! {
    // A table takes a while without optimisation.
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn four_times_for_twice_the_turns(
        former in any_former(),
        height in 3.0..20.0_f64,
        share in 0.0..1.0_f64,
        turns in 1.0..20_000.0_f64,
    ) {
        let table = table(former, height, 8.0);
        let henries = |n: f64| table.inductance(Millimetres(8.0 * share), Turns(n)).expect("inside").value();
        prop_assert!((henries(2.0 * turns) / henries(turns) - 4.0).abs() < 1e-12);
    }

    #[test]
    fn taller_is_less(
        former in any_former(),
        height in 3.0..20.0_f64,
        depth in 0.0..8.0_f64,
    ) {
        let (low, high) = (table(former, height, 8.0), table(former, 1.2 * height, 8.0));
        prop_assert!(at(&high, depth) < at(&low, depth), "a spread-out coil links less");
    }

    #[test]
    fn twice_the_size_is_twice_the_inductance(height in 3.0..20.0_f64, straight in 20.0..90.0_f64, radius in 1.0..12.0_f64) {
        let small = table(obround(straight, radius), height, 6.0);
        let large = table(obround(2.0 * straight, 2.0 * radius), 2.0 * height, 12.0);
        prop_assert!((at(&large, 9.0) / at(&small, 4.5) - 2.0).abs() < 1e-11);
    }

    #[test]
    fn a_thin_winding_is_a_single_layer(radius in 3.0..60.0_f64, height in 3.0..30.0_f64, deepest in 2.0..12.0_f64) {
        let table = table(Former::Circular { radius: Millimetres(radius) }, height, deepest);
        let layer = cylindrical_sheet(Millimetres(radius), Millimetres(height), ONE).expect("a layer").value();
        prop_assert!((at(&table, 0.0) / layer - 1.0).abs() < 1e-5, "{} {layer}", at(&table, 0.0));
    }

    #[test]
    fn one_table_or_another(former in any_former(), height in 3.0..20.0_f64, depth in 0.5..5.0_f64) {
        let (close, far) = (table(former, height, 5.0), table(former, height, 12.0));
        prop_assert!((at(&close, depth) / at(&far, depth) - 1.0).abs() < 1e-5);
    }

    #[test]
    fn what_one_circle_sends_through_another_comes_back(
        a in 1.0..100.0_f64,
        b in 1.0..100.0_f64,
        distance in 0.1..100.0_f64,
    ) {
        let mutual = |a: f64, b: f64, d: f64| {
            coaxial_loops(Millimetres(a), Millimetres(b), Millimetres(d)).expect("apart").value()
        };
        prop_assert_eq!(mutual(a, b, distance), mutual(b, a, distance));
        prop_assert!(mutual(a, b, distance) > mutual(a, b, 1.1 * distance));
        prop_assert!(mutual(a, b, distance) > 0.0);
        // Far away: two dipoles, μ₀ π A² a²/(2 d³), less a part of the order A²/d².
        let far = 1e3 * (a + b);
        let dipoles = 4e-7 * std::f64::consts::PI * std::f64::consts::PI * a * a * b * b / (2.0 * far * far * far) * 1e-3;
        prop_assert!((mutual(a, b, far) / dipoles - 1.0).abs() < 2e-6);
    }
}
