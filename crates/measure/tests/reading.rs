//! What is typed at a bench, what it means, and what is asked back.

use asfound_measure::{Amount, Dimension, Problem, Unit, Written, read};
use proptest::prelude::*;

fn value(text: &str, dimension: Dimension) -> f64 {
    let written = read(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(written.text, text);
    assert_eq!(written.dimension(), dimension);
    written.value_in_base().unwrap_or_else(|| panic!("{text} has no number"))
}

#[test]
fn resistances() {
    // Exact: a decimal is turned into the nearest f64 in one rounding, as the compiler does with the literal.
    for (text, ohms) in [
        ("6k31", 6310.0),
        ("6K31", 6310.0),
        ("6.31k", 6310.0),
        ("6,31 kΩ", 6310.0),
        ("6,31\u{202F}kΩ", 6310.0),
        ("6.31 kohm", 6310.0),
        ("6.31 k ohm", 6310.0),
        ("6k31 ohm", 6310.0),
        ("6k31Ω", 6310.0),
        ("5840", 5840.0),
        ("5 840", 5840.0),
        ("5\u{2009}840 Ω", 5840.0),
        ("5.84", 5.84),
        ("5.84 ohms", 5.84),
        ("5.840 KOHM", 5840.0),
        ("5k84", 5840.0),
        ("5.84e3", 5840.0),
        ("1M", 1e6),
        ("250K", 250e3),
        ("250 k", 250e3),
        ("35 Mohm", 35e6),
        ("35 MΩ", 35e6),
        ("35 M\u{2126}", 35e6),
        ("35 meg", 35e6),
        ("35 mohm", 0.035),
        ("35 mΩ", 0.035),
        ("2G2", 2.2e9),
        ("0", 0.0),
        ("-5", -5.0),
        ("\u{2212}0.3 Ω", -0.3),
        (" 470R ", 470.0),
    ] {
        assert_eq!(value(text, Dimension::Resistance), ohms, "{text}");
    }
}

#[test]
fn letter_and_digit_codes() {
    // IEC 60062: the letter stands where the decimal sign would.
    for (code, ohms) in [
        ("R47", 0.47),
        ("4R7", 4.7),
        ("470R", 470.0),
        ("4K7", 4700.0),
        ("47K3", 47_300.0),
        ("4M7", 4.7e6),
        ("1M0", 1e6),
    ] {
        assert_eq!(value(code, Dimension::Resistance), ohms, "{code}");
    }
    for (code, farads) in
        [("n22", 220e-12), ("22n", 22e-9), ("2n2", 2.2e-9), ("4µ7", 4.7e-6), ("110p", 110e-12)]
    {
        assert_eq!(value(code, Dimension::Capacitance), farads, "{code}");
    }
}

#[test]
fn capacitances_and_inductances() {
    for (text, farads) in [
        (".022uF", 22e-9),
        (".022 mfd", 22e-9),
        ("0.022 µF", 22e-9),
        ("0,022 μF", 22e-9),
        ("47 nF", 47e-9),
        ("110 pF", 110e-12),
        ("110 mmf", 110e-12),
        ("66 F", 66.0),
    ] {
        assert_eq!(value(text, Dimension::Capacitance), farads, "{text}");
    }
    for (text, henries) in [("2H4", 2.4), ("2.4 H", 2.4), ("2400 mH", 2.4), ("2.4h", 2.4), ("150 µH", 150e-6)]
    {
        assert_eq!(value(text, Dimension::Inductance), henries, "{text}");
    }
    for (text, hertz) in [("10 kHz", 1e4), ("440", 440.0), ("3k8", 3800.0), ("60 cps", 60.0), ("1 MHz", 1e6)]
    {
        assert_eq!(value(text, Dimension::Frequency), hertz, "{text}");
    }
}

#[test]
fn lengths() {
    // 25.4 mm to the inch exactly (international yard and pound agreement, 1959).
    for (text, millimetres) in [
        ("0.010\"", 0.254),
        ("0.010″", 0.254),
        (".012 in.", 0.3048),
        ("12 thou", 0.3048),
        ("12-3/8 in", 314.325),
        ("12 3/8\"", 314.325),
        ("12 3/8", 314.325),
        ("3/8 in", 9.525),
        ("-1/64 in", -0.396_875),
        ("25 1/2 inches", 647.7),
        ("0.30 mm", 0.30),
        ("64.8 cm", 648.0),
        ("15 ft", 4572.0),
    ] {
        assert_eq!(value(text, Dimension::Length), millimetres, "{text}");
    }
    let nut = read("12-3/8 in", Dimension::Length).expect("a fraction of an inch");
    assert_eq!(nut.last_place(), Some(25.4 / 8.0));
    assert_eq!(read("0.30 mm", Dimension::Length).map(|w| w.last_place()), Ok(Some(0.01)));
}

#[test]
fn temperatures_keep_their_scale() {
    for (text, unit, celsius) in [
        ("19 °C", Unit::DegreeCelsius, 19.0),
        ("21C", Unit::DegreeCelsius, 21.0),
        ("-5 C", Unit::DegreeCelsius, -5.0),
        ("21 ℃", Unit::DegreeCelsius, 21.0),
        ("66 F", Unit::DegreeFahrenheit, 34.0 * 5.0 / 9.0),
        ("66°F", Unit::DegreeFahrenheit, 34.0 * 5.0 / 9.0),
        ("66 deg F", Unit::DegreeFahrenheit, 34.0 * 5.0 / 9.0),
        ("292.15 K", Unit::Kelvin, 19.0),
        ("292.15kelvin", Unit::Kelvin, 19.0),
    ] {
        assert_eq!(value(text, Dimension::Temperature), celsius, "{text}");
        assert_eq!(read(text, Dimension::Temperature).map(|w| w.unit), Ok(unit));
    }
    assert_eq!(read("66 F", Dimension::Temperature).map(|w| w.last_place()), Ok(Some(5.0 / 9.0)));
}

#[test]
fn other_quantities() {
    for (text, dimension, expected) in [
        ("9 lb", Dimension::Mass, 4_082.331_33),
        ("3.4 kg", Dimension::Mass, 3400.0),
        ("310 V DC", Dimension::Voltage, 310.0),
        ("45 mV", Dimension::Voltage, 0.045),
        ("36 mA", Dimension::Current, 0.036),
        ("12 min", Dimension::Time, 720.0),
        ("2.2°", Dimension::Angle, 2.2),
        ("3,2", Dimension::Number, 3.2),
        ("3.2", Dimension::Number, 3.2),
    ] {
        assert_eq!(value(text, dimension), expected, "{text}");
    }
}

#[test]
fn bounds_and_answers_without_a_number() {
    for (text, bound) in [("over 20k", 20e3), ("> 20k", 20e3), (">20k", 20e3), ("More than 20 kΩ", 20e3)] {
        let written = read(text, Dimension::Resistance).expect(text);
        assert!(matches!(written.amount, Amount::Over(_)), "{text}");
        assert_eq!(written.value_in_base(), Some(bound));
    }
    let short = read("under 1 ohm", Dimension::Resistance).expect("a bound");
    assert!(matches!(short.amount, Amount::Under(_)));
    for (text, amount) in [
        ("not measured", Amount::NotMeasured),
        ("over range", Amount::OverRange),
        ("Over  Range", Amount::OverRange),
        ("OL", Amount::OverRange),
        ("0L", Amount::OverRange),
        ("O.L MΩ", Amount::OverRange),
        ("cannot tell", Amount::CannotTell),
        ("can't tell", Amount::CannotTell),
    ] {
        let written = read(text, Dimension::Resistance).expect(text);
        assert_eq!(
            (written.amount, written.value_in_base(), written.last_place()),
            (amount, None, None),
            "{text}"
        );
        assert_eq!(written.text, text);
    }
}

#[test]
fn digits_typed_are_kept() {
    for (text, last_place) in
        [("6k31", 10.0), ("6.310k", 1.0), ("5840", 1.0), ("1M", 1e6), ("1M0", 1e5), ("6.3k", 100.0)]
    {
        assert_eq!(read(text, Dimension::Resistance).map(|w| w.last_place()), Ok(Some(last_place)), "{text}");
    }
}

#[test]
fn what_cannot_be_read_says_where_and_why() {
    use Dimension::*;
    for (text, wanted, problem, there) in [
        ("", Resistance, Problem::Empty, ""),
        ("   ", Resistance, Problem::Empty, "   "),
        ("k", Resistance, Problem::NoNumber, "k"),
        ("over", Resistance, Problem::NoNumber, ""),
        ("neck 6k31", Resistance, Problem::NoNumber, "n"),
        ("6k31 F", Resistance, Problem::WrongDimension { found: Capacitance, wanted: Resistance }, "F"),
        ("22n", Resistance, Problem::WrongDimension { found: Capacitance, wanted: Resistance }, "n"),
        ("2n2", Resistance, Problem::WrongDimension { found: Capacitance, wanted: Resistance }, "n"),
        ("2.4 H", Resistance, Problem::WrongDimension { found: Inductance, wanted: Resistance }, "H"),
        ("6k31", Capacitance, Problem::WrongDimension { found: Resistance, wanted: Capacitance }, "k"),
        ("35m", Resistance, Problem::WhichUnit(Resistance), "m"),
        ("4m7", Resistance, Problem::WhichUnit(Resistance), "m"),
        ("20 mF", Capacitance, Problem::WhichUnit(Capacitance), "mF"),
        ("21°", Temperature, Problem::WhichUnit(Temperature), "°"),
        ("5 m", Time, Problem::WhichUnit(Time), "m"),
        ("21", Temperature, Problem::MissingUnit(Temperature), "21"),
        (".022", Capacitance, Problem::MissingUnit(Capacitance), ".022"),
        (".012", Length, Problem::MissingUnit(Length), ".012"),
        ("66K", Temperature, Problem::KelvinOrKilo, "K"),
        ("6,310 k", Resistance, Problem::CommaOrThousands, ","),
        ("1,234.5", Resistance, Problem::SecondDecimalSign, "."),
        ("6.3.1k", Resistance, Problem::SecondDecimalSign, "."),
        ("..0", Resistance, Problem::SecondDecimalSign, "."),
        ("6.31 kg", Resistance, Problem::WrongDimension { found: Mass, wanted: Resistance }, "kg"),
        ("6.31 zorks", Resistance, Problem::UnknownUnit(Resistance), "zorks"),
        ("6.31 k at 21C", Resistance, Problem::MoreText, "at 21C"),
        ("6k31 k9", Resistance, Problem::UnknownUnit(Resistance), "k9"),
        ("1h30", Time, Problem::UnknownUnit(Time), "h30"),
        ("1/3 in", Length, Problem::Fraction, "1/3"),
        ("1/0 in", Length, Problem::Fraction, "1/0"),
        ("12 9/8 in", Length, Problem::Fraction, "12 9/8"),
        ("3/8 mm", Length, Problem::FractionNeedsInches, "mm"),
        ("1/2 k", Resistance, Problem::FractionNeedsInches, "1/2"),
        ("1234567890123456789", Resistance, Problem::TooLong, "1234567890123456789"),
        ("1e99", Resistance, Problem::TooLong, "1e99"),
        ("3.2 k", Number, Problem::WrongDimension { found: Resistance, wanted: Number }, "k"),
        ("3.2 x", Number, Problem::UnknownUnit(Number), "x"),
        ("not measured yet", Resistance, Problem::MoreText, "yet"),
    ] {
        let error = read(text, wanted).expect_err(text);
        assert_eq!((error.problem, error.read.as_str()), (problem, there), "{text}");
        assert_eq!(&text[error.place.clone()], error.read, "{text}");
        for hint in &error.hints {
            assert!(read(hint, wanted).is_ok(), "{text}: {hint} for {wanted}");
        }
    }
}

#[test]
fn a_letter_asked_back_offers_its_meanings() {
    let error = read("35m", Dimension::Resistance).expect_err("milli or mega");
    assert_eq!(error.hints, ["35 MΩ", "35 mΩ", "35 Ω"]);
    let error = read("6,310 k", Dimension::Resistance).expect_err("decimals or thousands");
    assert_eq!(error.hints, ["6310 kΩ", "6.310 kΩ", "6.310 Ω"]);
}

fn dimension() -> impl Strategy<Value = Dimension> {
    (0..Dimension::ALL.len()).prop_map(|at| Dimension::ALL[at])
}

/// Texts near to what people type, so that chance gets past the first character.
const NEARLY: &str =
    "[-−+>< ]?[0-9]{0,7}[ .,kKMmRnpuµhH/\u{202F}-]{0,2}[0-9]{0,4}[ /'\"]{0,2}[0-9kKMΩohmsFfCinµK°.]{0,5}";

fn check_any(text: &str, wanted: Dimension) -> Result<(), TestCaseError> {
    match read(text, wanted) {
        Ok(Written { text: kept, unit, .. }) => {
            prop_assert_eq!(kept, text);
            prop_assert_eq!(unit.dimension(), wanted);
        }
        Err(error) => {
            prop_assert_eq!(text.get(error.place.clone()), Some(error.read.as_str()));
            prop_assert_eq!(error.to_string().lines().count(), 1);
            prop_assert_eq!(error.pointer(text).split('\n').count(), 2);
            for hint in &error.hints {
                prop_assert!(read(hint, wanted).is_ok(), "{} for {}", hint, wanted);
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_text_is_answered_and_kept(text in any::<String>(), wanted in dimension()) {
        check_any(&text, wanted)?;
    }

    #[test]
    fn nearly_right_text_is_answered_and_kept(text in NEARLY, wanted in dimension()) {
        check_any(&text, wanted)?;
    }

    #[test]
    fn reading_is_monotone(a in -1_000_000_i64..1_000_000, b in -1_000_000_i64..1_000_000, places in 0..6_i32, at in 0..Unit::ALL.len()) {
        let unit = Unit::ALL[at];
        let text = |n| format!("{} {}", asfound_measure::Decimal { mantissa: n, exponent: -places }, unit.symbol());
        let value = |n| read(&text(n), unit.dimension()).ok().and_then(|w| w.value_in_base());
        // `mF` is asked back, so there is nothing to compare.
        if let (Some(first), Some(second)) = (value(a), value(b)) {
            prop_assert_eq!(a.cmp(&b), first.total_cmp(&second));
        } else {
            prop_assert_eq!(unit, Unit::Millifarad);
        }
    }

    #[test]
    fn the_letter_may_stand_for_the_decimal_sign(before in 0..1000_u32, after in 0..1000_u32) {
        let with_letter = read(&format!("{before}k{after}"), Dimension::Resistance);
        let with_point = read(&format!("{before}.{after} kΩ"), Dimension::Resistance);
        prop_assert_eq!(with_letter.map(|w| (w.amount, w.unit)), with_point.map(|w| (w.amount, w.unit)));
    }
}
