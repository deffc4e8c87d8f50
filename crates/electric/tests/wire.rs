//! Wire against the published tables, and the laws it must keep.

use asfound_electric::wire::{
    Build, Conductivity, Convention, Gauge, Grade, Limits, MetricSize, MetricWire, OhmsPerMetre, Spool, Wire,
    WireError,
};
use asfound_measure::{Millimetres, Ohms, Quantity};
use proptest::prelude::*;

const MIL: f64 = 0.0254;

fn gauge(number: u8) -> Gauge {
    Gauge::new(number).expect("36 to 46")
}

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected}");
}

#[test]
fn the_gauge_law() {
    // ASTM B258 and IEC 60028, evaluated independently in double precision: diameter in thousandths of an inch and in
    // millimetres, ohms to the metre and to a thousand feet. Half of the last printed digit.
    for (number, mil, millimetres, per_metre, per_thousand_feet) in [
        (36, 5.00000, 0.127000, 1.36105, 414.849),
        (38, 3.96518, 0.100716, 2.16416, 659.635),
        (39, 3.53110, 0.089690, 2.72895, 831.785),
        (40, 3.14453, 0.079871, 3.44114, 1048.861),
        (41, 2.80029, 0.071127, 4.33920, 1322.589),
        (42, 2.49373, 0.063341, 5.47163, 1667.754),
        (43, 2.22073, 0.056406, 6.89960, 2102.999),
        (44, 1.97761, 0.050231, 8.70024, 2651.833),
        (45, 1.76112, 0.044732, 10.97080, 3343.900),
        (46, 1.56832, 0.039835, 13.83392, 4216.580),
    ] {
        let what = format!("{number} gauge");
        let bare = gauge(number).bare(Convention::Unrounded).nominal.value();
        near(bare / MIL, mil, 5.1e-6, &what);
        near(bare, millimetres, 5.1e-7, &what);
        let resistance = gauge(number).ohms_per_metre(Convention::Unrounded).nominal;
        near(resistance.value(), per_metre, 5.1e-6, &what);
        near(resistance.per_thousand_feet(), per_thousand_feet, 5.1e-4, &what);
    }
}

#[test]
fn one_step_of_the_gauge_law() {
    // 92^(1/39), and its square for the section; ten printed digits.
    let [a, b] = [40, 41].map(|number| gauge(number).bare(Convention::Unrounded).nominal.value());
    near(a / b, 1.122_932_196_5, 1e-10, "diameter");
    near(a * a / b / b, 1.260_976_718_0, 2e-10, "section");
}

#[test]
fn the_published_gauge_tables() {
    // A sheet of copper magnet wire after NEMA MW 1000: 398.7 and 414.8 Ω for 36 gauge. A wire table with
    // unrounded diameters: 414.8, 659.6 and 1049.0 Ω for 36, 38 and 40 gauge. They reckon with 10.371 Ω circular mil/ft, so
    // 0.1 Ω below a kilohm, 0.1 % above.
    let rounded = gauge(36).ohms_per_metre(Convention::Rounded);
    near(rounded.least.per_thousand_feet(), 398.7, 0.1, "36 gauge, thickest");
    near(rounded.nominal.per_thousand_feet(), 414.8, 0.1, "36 gauge");
    for (number, published, tolerance) in [(36, 414.8, 0.1), (38, 659.6, 0.1), (40, 1049.0, 1.05)] {
        let found = gauge(number).ohms_per_metre(Convention::Unrounded).nominal.per_thousand_feet();
        near(found, published, tolerance, "unrounded");
    }
}

#[test]
fn the_diameters_that_wire_is_made_to() {
    // NEMA MW 1000 limits of the bare diameter in thousandths of an inch; Ω per 1000 ft and Ω/m worked out independently
    // from them. Half of the last printed digit, and 1e-5 more for the 10.371 Ω circular mil/ft that tables reckon with.
    for (number, bare, per_thousand_feet, per_metre) in [
        (36, [4.9, 5.0, 5.1], [398.7, 414.8, 431.9], 1.36105),
        (38, [3.9, 4.0, 4.1], [617.0, 648.2, 681.9], 2.12664),
        (39, [3.4, 3.5, 3.6], [800.2, 846.6, 897.2], 2.77766),
        (40, [3.0, 3.1, 3.2], [1012.8, 1079.2, 1152.4], 3.54072),
        (41, [2.7, 2.8, 2.9], [1233.2, 1322.9, 1422.7], 4.34009),
        (42, [2.4, 2.5, 2.6], [1534.2, 1659.4, 1800.6], 5.44421),
        (43, [2.1, 2.2, 2.3], [1960.5, 2142.8, 2351.7], 7.03023),
        (44, [1.9, 2.0, 2.1], [2351.7, 2592.8, 2872.9], 8.50657),
        (45, [1.69, 1.76, 1.83], [3096.9, 3348.1, 3631.3], 10.98473),
        (46, [1.51, 1.57, 1.64], [3856.0, 4207.6, 4548.6], 13.80433),
    ] {
        let what = format!("{number} gauge");
        let wire = Wire { gauge: gauge(number), build: Build::Single };
        let Limits { least, nominal, most } = wire.bare();
        for (found, expected) in [least, nominal, most].into_iter().zip(bare) {
            near(found.value() / MIL, expected, 1e-9, &what);
        }
        let Limits { least, nominal, most } = wire.ohms_per_metre();
        near(nominal.value(), per_metre, 5.1e-6, &what);
        for (found, expected) in [least, nominal, most].into_iter().zip(per_thousand_feet) {
            near(found.per_thousand_feet(), expected, 0.05 + 1e-5 * expected, &what);
        }
    }
}

#[test]
fn the_two_conventions_differ_by_up_to_three_hundredths() {
    let apart = (36..=46).map(|number| {
        let [unrounded, rounded] = [Convention::Unrounded, Convention::Rounded]
            .map(|convention| gauge(number).ohms_per_metre(convention).nominal.value());
        (unrounded / rounded - 1.0).abs()
    });
    let most = apart.fold(0.0, f64::max);
    assert!(most > 0.02 && most < 0.03, "{most}");
}

#[test]
fn diameters_over_the_enamel() {
    // NEMA MW 1000 C rows of the open data set of winding wires (data/wires.ndjson, commit 1408499d0097), in whole
    // micrometres, or tenths below 45 gauge; half of the last printed digit. Those of 42 gauge, single, stand at 2.6, 2.8
    // and 3.0 thousandths in a second, independent source.
    for (number, single, heavy, tolerance) in [
        (36, [135.0, 141.0, 147.0], [145.0, 152.0, 160.0], 0.51),
        (37, [119.0, 126.0, 132.0], [132.0, 138.0, 145.0], 0.51),
        (38, [107.0, 113.0, 119.0], [117.0, 123.0, 130.0], 0.51),
        (39, [91.0, 98.0, 104.0], [102.0, 108.0, 114.0], 0.51),
        (40, [81.0, 88.0, 94.0], [91.0, 97.0, 102.0], 0.51),
        (41, [74.0, 79.0, 84.0], [81.0, 86.0, 91.0], 0.51),
        (42, [66.0, 71.0, 76.0], [71.0, 76.0, 81.0], 0.51),
        (43, [58.0, 62.0, 66.0], [64.0, 69.0, 74.0], 0.51),
        (44, [53.0, 57.0, 61.0], [58.0, 64.0, 69.0], 0.51),
        (45, [45.5, 48.8, 52.1], [50.5, 54.5, 58.4], 0.051),
        (46, [40.9, 43.9, 47.0], [46.0, 49.7, 53.3], 0.051),
    ] {
        for (build, expected) in [(Build::Single, single), (Build::Heavy, heavy)] {
            let Limits { least, nominal, most } = Wire { gauge: gauge(number), build }.overall();
            for (found, expected) in [least, nominal, most].into_iter().zip(expected) {
                near(found.value() * 1e3, expected, tolerance, &format!("{number} gauge, {build:?}"));
            }
        }
    }
}

#[test]
fn a_heavy_build_fills_fifteen_hundredths_more() {
    let [single, heavy] = [Build::Single, Build::Heavy]
        .map(|build| Wire { gauge: gauge(42), build }.nominal().overall().value());
    near(heavy * heavy / (single * single), 1.147_96, 5e-6, "(3.0/2.8)²");
}

#[test]
fn metric_sizes() {
    // IEC 60317-0-1 rows of the same data set; Ω/m worked out independently at 58.0 and 58.5 MS/m.
    for (bare, overall, standard, makers) in [
        (0.050, [[55, 60], [61, 66], [67, 72]], 8.78096, 8.70591),
        (0.056, [[62, 67], [68, 74], [75, 79]], 7.00013, 6.94030),
        (0.060, [[66, 72], [73, 79], [80, 85]], 6.09789, 6.04577),
        (0.063, [[69, 76], [77, 83], [84, 88]], 5.53097, 5.48369),
        (0.067, [[74, 80], [81, 88], [89, 91]], 4.89027, 4.84847),
        (0.071, [[78, 84], [85, 91], [92, 96]], 4.35477, 4.31755),
        (0.080, [[87, 94], [95, 101], [102, 108]], 3.43006, 3.40075),
    ] {
        let size = MetricSize::new(Millimetres(bare)).expect("a size");
        near(size.ohms_per_metre(Conductivity::Standard).value(), standard, 5.1e-6, "58.0 MS/m");
        near(size.ohms_per_metre(Conductivity::WireMakers).value(), makers, 5.1e-6, "58.5 MS/m");
        for (grade, [least, most]) in [Grade::One, Grade::Two, Grade::Three].into_iter().zip(overall) {
            let wire = MetricWire { size, grade };
            near(wire.overall().least.value() * 1e3, f64::from(least), 1e-9, "least");
            near(wire.overall().most.value() * 1e3, f64::from(most), 1e-9, "most");
            let limits = size.resistance_limits();
            let spools = wire.spools();
            near(spools.least.ohms_per_metre().value(), limits.most.value(), 1e-9, "the thinnest");
            near(spools.most.ohms_per_metre().value(), limits.least.value(), 1e-9, "the thickest");
            assert_eq!(wire.nominal(), spools.nominal);
        }
    }
    // As wire makers print them for 0.063 mm.
    let printed = MetricSize::new(Millimetres(0.063)).expect("a size").resistance_limits();
    near(printed.least.value(), 5.045, 5.1e-4, "least");
    near(printed.nominal.value(), 5.484, 5.1e-4, "nominal");
    near(printed.most.value(), 5.922, 5.1e-4, "most");
}

#[test]
fn the_length_of_a_coils_wire() {
    // 8.5 kΩ of 42 gauge. The gauge law by hand: 8500/5.47163 m = 1553.47 m = 5096.7 ft; by the limits of NEMA MW 1000,
    // 8500/1.8006 and 8500/1.5342 ft. The rule of 1.70 Ω to the foot (published notes on pickup parameters) gives 5,000 ft.
    let length = gauge(42).length(Ohms(8500.0), Convention::Unrounded);
    near(length.nominal.feet(), 5096.7, 0.05, "nominal");
    near(length.least.feet(), 4720.7, 0.2, "least");
    near(length.most.feet(), 5540.3, 0.2, "most");
    near(length.nominal.feet() / 5000.0 - 1.0, 0.019, 5e-4, "against the rule");
    let rounded = Wire { gauge: gauge(42), build: Build::Heavy }.length(Ohms(8500.0));
    assert!(rounded.nominal > length.nominal && rounded.least == length.least);
}

#[test]
fn what_cannot_be_a_wire() {
    assert_eq!(Gauge::new(35), Err(WireError::Gauge(35)));
    assert_eq!(Gauge::new(47), Err(WireError::Gauge(47)));
    assert!(Gauge::new(12).expect_err("thick").to_string().contains("36 to 46"));
    assert!(MetricSize::new(Millimetres(0.0635)).expect_err("no size").to_string().contains("0.063"));
    for (bare, overall) in [(0.0, 0.07), (0.08, 0.07), (f64::NAN, 0.07), (0.06, f64::INFINITY)] {
        assert!(Spool::new(Millimetres(bare), Millimetres(overall)).is_err(), "{bare} {overall}");
    }
}

#[test]
fn limits_as_an_uncertainty() {
    // Half the distance over √3 (JCGM 100, 4.3.7), by hand: 0.1 mil/√3.
    let bare = Wire { gauge: gauge(42), build: Build::Single }.bare();
    near(bare.standard_uncertainty().value(), 0.1 * MIL / 3.0_f64.sqrt(), 1e-15, "u");
    assert!(bare.hold(Millimetres(0.0635)) && !bare.hold(Millimetres(0.0662)));
    assert_eq!(OhmsPerMetre::UNIT, "Ω/m");
}

proptest! {
    #[test]
    fn limits_are_in_order_and_finer_wire_has_more_ohms(number in 36_u8..46, heavy: bool) {
        let build = if heavy { Build::Heavy } else { Build::Single };
        let [coarse, fine] = [number, number + 1].map(|number| Wire { gauge: gauge(number), build });
        for limits in [coarse.bare(), coarse.overall()] {
            prop_assert!(limits.least < limits.nominal && limits.nominal < limits.most);
        }
        prop_assert!(coarse.overall().least > coarse.bare().least);
        let (thick, thin) = (coarse.ohms_per_metre(), fine.ohms_per_metre());
        prop_assert!(thick.least < thick.nominal && thick.nominal < thick.most);
        prop_assert!(thick.nominal < thin.nominal);
        let unrounded = coarse.gauge.bare(Convention::Unrounded);
        prop_assert!(unrounded.hold(unrounded.nominal));
    }

    #[test]
    fn twice_as_thick_is_a_quarter_of_the_ohms(bare in 0.02..0.2_f64, enamel in 1.0..1.4_f64) {
        let spool = |d: f64| Spool::new(Millimetres(d), Millimetres(d * enamel)).expect("a wire");
        let ratio = spool(bare).ohms_per_metre().value() / spool(2.0 * bare).ohms_per_metre().value();
        prop_assert!((ratio - 4.0).abs() < 1e-12);
        prop_assert!((spool(bare).copper_share() * enamel * enamel - 1.0).abs() < 1e-12);
    }
}
