//! Invoices added up by hand.

mod common;

use asfound_plan::billing::{Minutes, PartOfUnit, QuarterHours, Read};
use asfound_plan::invoice::{Amount, Charged, Invoice, TaxOn};
use asfound_plan::money::{Money, Rounding};
use common::{euro, pound, pounds, rate};
use proptest::prelude::*;

fn part(what: &str, sum: &str, tax: &str) -> Charged {
    Charged { what: what.to_owned(), amount: Amount::Sum(pounds(sum)), tax: rate(tax) }
}

fn invoice(lines: Vec<Charged>, tax_on: TaxOn, rounding: Rounding) -> Invoice {
    Invoice { currency: pound(), lines, tax_on, rounding, received: Vec::new() }
}

/// Three lines of 10.01 at 20 %: 2.002 each, 6.006 together.
#[test]
fn tax_line_by_line_or_once_for_each_rate() {
    let tax = |tax_on, rounding| {
        let lines = vec![part("string tree", "10.01", "20"); 3];
        invoice(lines, tax_on, rounding).owed().expect("sound").taxes[0].tax.minor()
    };
    assert_eq!(tax(TaxOn::EachLine, Rounding::HalfAwayFromZero), 600);
    assert_eq!(tax(TaxOn::EachRate, Rounding::HalfAwayFromZero), 601);
    assert_eq!(tax(TaxOn::EachRate, Rounding::TowardZero), 600);
}

/// 1 h 24 min bill as 1.5 h at 52.25, which is 78.375; a part at cost, untaxed; a deposit and two knobs sold for the
/// owner.
#[test]
fn a_job_with_deposit_and_credit() {
    let terms = QuarterHours { unit: Minutes(15), part: Some(PartOfUnit::CountsWhole) };
    let Ok(Read::Decided(billed)) = terms.billed(Minutes(84)) else { panic!("the terms say how") };
    let time = Amount::Time { billed, by_the_hour: pounds("52.25") };
    let work = Charged { what: "rewind the coil".to_owned(), amount: time, tax: rate("20") };
    let mut job =
        invoice(vec![work, part("wire", "12.40", "0")], TaxOn::EachRate, Rounding::HalfAwayFromZero);
    job.received = vec![("deposit".to_owned(), pounds("30")), ("two knobs sold".to_owned(), pounds("45"))];
    let owed = job.owed().expect("sound");
    assert_eq!(owed.lines, [pounds("78.38"), pounds("12.40")]);
    assert_eq!(owed.taxes.len(), 1);
    assert_eq!((owed.taxes[0].of, owed.taxes[0].tax), (pounds("78.38"), pounds("15.68")));
    assert_eq!((owed.total, owed.received, owed.due), (pounds("106.46"), pounds("75"), pounds("31.46")));
}

#[test]
fn what_cannot_be_charged_is_named() {
    let sentence = |line| {
        let fault = invoice(vec![line], TaxOn::EachRate, Rounding::HalfEven).owed().expect_err("unsound");
        fault.to_string()
    };
    assert!(sentence(part("wire", "-5", "0")).starts_with("wire: -5.00 GBP is below nothing"));
    assert!(sentence(part("wire", "5", "120")).starts_with("tax on wire: 120\u{202F}% cannot be"));
    let mut foreign = invoice(Vec::new(), TaxOn::EachRate, Rounding::HalfEven);
    foreign.received.push(("deposit".to_owned(), Money::read("5", euro()).expect("a sum")));
    let fault = foreign.owed().expect_err("two currencies").to_string();
    assert!(fault.starts_with("deposit: 5.00 EUR stands among sums in GBP"));
}

proptest! {
    /// The total is the lines and the taxes; each line's rounding adds less than a unit between the two ways.
    #[test]
    fn an_invoice_adds_up(sums in prop::collection::vec((0_i64..1_000_000, 0_usize..3), 0..10)) {
        let line = |(minor, which): &(i64, usize)| Charged {
            what: "part".to_owned(),
            amount: Amount::Sum(Money::of_minor(*minor, pound()).expect("small")),
            tax: rate(["0", "7", "20"][*which]),
        };
        let lines: Vec<Charged> = sums.iter().map(line).collect();
        let owed = |tax_on| invoice(lines.clone(), tax_on, Rounding::HalfAwayFromZero).owed().expect("sound");
        let (by_line, by_rate) = (owed(TaxOn::EachLine), owed(TaxOn::EachRate));
        let net: i64 = sums.iter().map(|(minor, _)| minor).sum();
        for owed in [&by_line, &by_rate] {
            let tax: i64 = owed.taxes.iter().map(|taxed| taxed.tax.minor()).sum();
            prop_assert_eq!(owed.total.minor(), net + tax);
            prop_assert_eq!(owed.due, owed.total);
        }
        let apart = (by_line.total.minor() - by_rate.total.minor()).unsigned_abs() as usize;
        prop_assert!(apart <= sums.len());
    }
}
