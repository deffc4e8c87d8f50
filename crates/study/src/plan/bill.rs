//! What the invoice would say today: hours as the terms bill them, what was bought, and what stands to the owner's credit.

use asfound_plan::billing::{Minutes, PartOfUnit, QuarterHours, Read};
use asfound_plan::invoice::{Amount, Charged, Invoice, Owed, TaxOn};
use asfound_plan::money::{Currency, Money, Rate, Rounding};
use asfound_record::{Hours1, Item, Money1};

use super::work::BenchSaid;

/// What the hours and sums so far come to.
#[derive(Debug, Clone, PartialEq)]
pub struct InvoiceAnswer {
    /// Minutes written down.
    pub minutes: u32,
    /// The price of an hour.
    pub rate: Money,
    /// The tax on each line; 0 where none was said.
    pub tax: Rate,
    /// What was bought for the job, by entry.
    pub bought: Vec<(u64, String, Money)>,
    /// Deposits, credits and what was sold for the owner, by entry.
    pub received: Vec<(u64, String, Money)>,
    /// What it comes to; more than one where the terms can be read in more than one way.
    pub ways: Vec<Way>,
}

/// One way to read the terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// What becomes of a part of a unit; `None` where that makes no difference.
    pub part: Option<PartOfUnit>,
    /// The time as billed.
    pub billed: Minutes,
    /// Added up.
    pub owed: Owed,
}

/// Works it out; `None` while no rate is said, or nothing is charged. Of the sums in the job those whose words begin with
/// `material` or `part` are bought; those that speak of a deposit, a credit or of something sold are received.
pub(super) fn answer(
    hours: &[Item<Hours1>],
    money: &[Item<Money1>],
    bench: &BenchSaid,
) -> Option<InvoiceAnswer> {
    let rate = bench.rate?;
    let minutes: u32 = hours.iter().map(|item| item.body.minutes).sum();
    let sums = money.iter().filter(|item| item.body.currency == rate.currency().code());
    let (mut bought, mut received) = (Vec::new(), Vec::new());
    for item in sums {
        let words = item.body.words.to_lowercase();
        let sum = Money::of_minor(item.body.minor.abs(), Currency::of(&item.body.currency).ok()?).ok()?;
        let kept = (item.seq, item.body.words.clone(), sum);
        if ["deposit", "credit", "sold"].iter().any(|word| words.contains(word)) {
            received.push(kept);
        } else if words.starts_with("material") || words.starts_with("part") {
            bought.push(kept);
        }
    }
    if minutes == 0 && bought.is_empty() {
        return None;
    }
    let tax = bench.tax.clone().unwrap_or_else(Rate::nothing);
    let mut answer = InvoiceAnswer { minutes, rate, tax, bought, received, ways: Vec::new() };
    for (part, billed) in billed(Minutes(minutes), bench.billed_by)? {
        let owed = answer.invoice(billed).owed().ok()?;
        answer.ways.push(Way { part, billed, owed });
    }
    Some(answer)
}

fn billed(took: Minutes, unit: Option<u32>) -> Option<Vec<(Option<PartOfUnit>, Minutes)>> {
    let Some(unit) = unit else { return Some(vec![(None, took)]) };
    match (QuarterHours { unit: Minutes(unit), part: None }).billed(took).ok()? {
        Read::Decided(minutes) => Some(vec![(None, minutes)]),
        Read::Open(ways) => Some(ways.into_iter().map(|(part, minutes)| (Some(part), minutes)).collect()),
    }
}

impl InvoiceAnswer {
    fn invoice(&self, billed: Minutes) -> Invoice {
        let line = |what: &str, amount| Charged { what: what.to_owned(), amount, tax: self.tax.clone() };
        let labour = line("work", Amount::Time { billed, by_the_hour: self.rate });
        let bought = self.bought.iter().map(|(_, what, sum)| line(what, Amount::Sum(*sum)));
        Invoice {
            currency: self.rate.currency(),
            lines: std::iter::once(labour).chain(bought).collect(),
            tax_on: TaxOn::EachRate,
            rounding: Rounding::HalfAwayFromZero,
            received: self.received.iter().map(|(_, what, sum)| (what.clone(), *sum)).collect(),
        }
    }
}
