//! Currencies, rounding and splitting.

use asfound_plan::money::{Currency, Exact, LARGEST, Money, MoneyFault, Rate, Rounding, split};
use proptest::prelude::*;

fn currency(code: &str) -> Currency {
    Currency::of(code).expect("known")
}

fn pounds(text: &str) -> Money {
    Money::read(text, currency("GBP")).expect("a sum")
}

const RULES: [Rounding; 4] =
    [Rounding::HalfEven, Rounding::HalfAwayFromZero, Rounding::TowardZero, Rounding::Floor];

/// ISO 4217, list one.
#[test]
fn minor_digits_as_in_the_standard() {
    let table = [
        ("USD", 2),
        ("EUR", 2),
        ("GBP", 2),
        ("JPY", 0),
        ("KRW", 0),
        ("ISK", 0),
        ("CLP", 0),
        ("KWD", 3),
        ("BHD", 3),
        ("OMR", 3),
        ("JOD", 3),
        ("TND", 3),
        ("CLF", 4),
    ];
    for (code, digits) in table {
        assert_eq!(currency(code).minor_digits(), digits, "{code}");
    }
    assert!(Currency::of("gbp").is_err());
    assert_eq!(
        Currency::of("QQQ").expect_err("no such").to_string(),
        "“QQQ” is not a currency known here; write the three letters of ISO 4217, for instance GBP, EUR or JPY"
    );
}

/// Thousandths to hundredths by the four rules, by hand: the definitions of rounding in IEEE 754, 4.3, on decimals.
#[test]
fn each_rule_on_halves() {
    let table = [
        (5, [0, 1, 0, 0]),
        (15, [2, 2, 1, 1]),
        (25, [2, 3, 2, 2]),
        (125, [12, 13, 12, 12]),
        (2675, [268, 268, 267, 267]),
        (-5, [0, -1, 0, -1]),
        (-15, [-2, -2, -1, -2]),
        (1005, [100, 101, 100, 100]),
    ];
    for (thousandths, expected) in table {
        let exact = Exact::parts(thousandths, 10, currency("GBP")).expect("not of nothing");
        let found = RULES.map(|rule| exact.round(rule).expect("small").minor());
        assert_eq!(found, expected, "{thousandths} thousandths");
    }
    let just_below = Exact::parts(-5, 10, currency("GBP")).expect("not of nothing");
    assert_eq!(just_below.round(Rounding::HalfEven).expect("small").to_string(), "0.00 GBP");
}

/// Tax of 20 % on three lines of 10.01, line by line or on their sum: by hand.
#[test]
fn line_by_line_is_not_the_sum() {
    let fifth = Rate::percent("20 %").expect("a rate");
    let line = fifth.of(pounds("10.01")).round(Rounding::HalfAwayFromZero).expect("small");
    assert_eq!(line.minor() * 3, 600);
    let on_all = fifth.of(pounds("30.03"));
    assert_eq!(on_all.round(Rounding::HalfAwayFromZero).expect("small").minor(), 601);
    assert_eq!(on_all.round(Rounding::TowardZero).expect("small").minor(), 600);
}

/// Largest remainders by hand.
#[test]
fn a_split_adds_up() {
    let parts = |minor, weights: &[u32]| -> Vec<i64> {
        let sum = Money::of_minor(minor, currency("EUR")).expect("small");
        split(sum, weights).expect("weights").into_iter().map(Money::minor).collect()
    };
    assert_eq!(parts(10_000, &[1, 1, 1]), [3334, 3333, 3333]);
    assert_eq!(parts(12_345, &[3, 2, 2]), [5291, 3527, 3527]);
    assert_eq!(parts(5, &[1; 6]), [1, 1, 1, 1, 1, 0]);
    assert_eq!(split(pounds("1"), &[0, 0]), Err(MoneyFault::NoShares));
    assert_eq!(split(pounds("1"), &[]), Err(MoneyFault::NoShares));
}

#[test]
fn sums_are_read_as_typed() {
    assert_eq!(pounds("12.5").minor(), 1250);
    assert_eq!(pounds(" 12,50 ").minor(), 1250);
    assert_eq!(pounds("-.05").to_string(), "-0.05 GBP");
    assert_eq!(Money::read("1800", currency("JPY")).expect("a sum").to_string(), "1800 JPY");
    assert_eq!(Money::read("1.5", currency("KWD")).expect("a sum").to_string(), "1.500 KWD");
    for wrong in ["", ".", "-", "1.234", "1,000.00", "12 50", "£5", "1e3"] {
        assert!(Money::read(wrong, currency("GBP")).is_err(), "{wrong}");
    }
    assert_eq!(
        Money::read("1.5", currency("JPY")).expect_err("no minor digits").to_string(),
        "“1.5” is not a sum in JPY; write it like 1800"
    );
    assert_eq!(Money::read("99999999999999999999", currency("GBP")), Err(MoneyFault::TooLarge));
    assert_eq!(Money::of_minor(LARGEST + 1, currency("GBP")), Err(MoneyFault::TooLarge));
}

#[test]
fn rates_are_read_and_said_exactly() {
    for (typed, said) in [
        ("24", "24\u{202F}%"),
        ("4.95 %", "4.95\u{202F}%"),
        ("8,875%", "8.875\u{202F}%"),
        ("-0.5", "-0.5\u{202F}%"),
    ] {
        assert_eq!(Rate::percent(typed).expect("a rate").to_string(), said);
    }
    assert_eq!(Rate::parts(1, 6).expect("not of nothing").to_string(), "1/6");
    assert_eq!(Rate::parts(1, 4), Rate::percent("25").ok());
    assert!(Rate::percent("a quarter").is_err());
}

#[test]
fn currencies_do_not_mix() {
    let fault = pounds("1").plus(Money::nothing(currency("EUR"))).expect_err("two currencies");
    assert_eq!(
        fault.to_string(),
        "EUR stands beside GBP; turn one into the other first, at a rate with its day and source"
    );
}

proptest! {
    #[test]
    fn parts_sum_to_the_whole(
        minor in -LARGEST..=LARGEST,
        weights in prop::collection::vec(0_u32..1000, 1..20),
    ) {
        prop_assume!(weights.iter().any(|weight| *weight > 0));
        let sum = Money::of_minor(minor, currency("GBP")).expect("within");
        let parts = split(sum, &weights).expect("weights");
        prop_assert_eq!(parts.iter().map(|part| part.minor()).sum::<i64>(), minor);
        let all: i64 = weights.iter().map(|weight| i64::from(*weight)).sum();
        for (part, weight) in parts.iter().zip(&weights) {
            let of_all = i128::from(minor) * i128::from(*weight);
            prop_assert!((i128::from(part.minor()) * i128::from(all) - of_all).abs() < i128::from(all));
        }
    }

    #[test]
    fn rounding_moves_less_than_a_unit(part in -LARGEST..=LARGEST, of in 1_i64..1_000_000) {
        let exact = Exact::parts(part, of, currency("GBP")).expect("not of nothing");
        for rule in RULES {
            let rounded = exact.round(rule).expect("no larger than what is kept");
            let off = i128::from(rounded.minor()) * i128::from(of) - i128::from(part);
            let most = match rule {
                Rounding::HalfEven | Rounding::HalfAwayFromZero => i128::from(of) / 2,
                Rounding::TowardZero | Rounding::Floor => i128::from(of) - 1,
            };
            prop_assert!(off.abs() <= most);
            prop_assert!(rule != Rounding::Floor || off <= 0);
        }
    }

    #[test]
    fn what_is_shown_reads_back(minor in -LARGEST..=LARGEST, which in 0_usize..4) {
        let money = Money::of_minor(minor, currency(["JPY", "GBP", "KWD", "CLF"][which])).expect("within");
        let shown = money.to_string();
        let (digits, code) = shown.rsplit_once(' ').expect("a code");
        prop_assert_eq!(Money::read(digits, currency(code)), Ok(money));
    }

    #[test]
    fn reading_never_panics(text in any::<String>()) {
        let _ = Money::read(&text, currency("GBP"));
        let _ = Rate::percent(&text);
        let _ = Currency::of(&text);
    }
}
