//! What a client owes for a job: time and parts, tax, and what was received already.
//!
//! A line is rounded once, to what is printed, and tax is reckoned on printed sums: line by line, or once for each rate.
//! The two can differ by some minor units (three lines of 10.01 at 20 % are taxed 6.00 or 6.01), so which one is a
//! setting; which one a country asks for is a matter of local law. A deposit, and what parts sold for the owner brought,
//! stand to the client's credit and are not taxed here again.
//!
//! ```
//! use asfound_plan::billing::Minutes;
//! use asfound_plan::invoice::{Amount, Charged, Invoice, TaxOn};
//! use asfound_plan::money::{Currency, Money, Rate, Rounding};
//! let pound = Currency::of("GBP")?;
//! let hours = Amount::Time { billed: Minutes(90), by_the_hour: Money::read("50", pound)? };
//! let work = Charged { what: "press the neck straight".to_owned(), amount: hours, tax: Rate::percent("20")? };
//! let invoice = Invoice {
//!     currency: pound,
//!     lines: vec![work],
//!     tax_on: TaxOn::EachRate,
//!     rounding: Rounding::HalfAwayFromZero,
//!     received: vec![("deposit".to_owned(), Money::read("30", pound)?)],
//! };
//! let owed = invoice.owed()?;
//! assert_eq!((owed.total.to_string(), owed.due.to_string()), ("90.00 GBP".to_owned(), "60.00 GBP".to_owned()));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::billing::{Minutes, price};
use crate::fees::{FeeFault, checked_rate, checked_sum};
use crate::money::{Currency, Money, Rate, Rounding};

/// What is charged and what was received, not added up yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invoice {
    /// The currency of all of it.
    pub currency: Currency,
    /// What is charged.
    pub lines: Vec<Charged>,
    /// What tax is reckoned on.
    pub tax_on: TaxOn,
    /// How each printed figure is rounded.
    pub rounding: Rounding,
    /// What stands to the client's credit, in words and money: a deposit, parts sold for the owner.
    pub received: Vec<(String, Money)>,
}

/// One thing that is charged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Charged {
    /// What for.
    pub what: String,
    /// How much, before tax.
    pub amount: Amount,
    /// The tax on it; 0 where there is none.
    pub tax: Rate,
}

/// How much is charged, before tax.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Amount {
    /// A sum: a part at cost, another's work.
    Sum(Money),
    /// Time at a price by the hour.
    Time {
        /// As the terms round it.
        billed: Minutes,
        /// The price.
        by_the_hour: Money,
    },
}

/// What tax is reckoned on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TaxOn {
    /// On each line, rounded there.
    EachLine,
    /// On the sum of the lines at one rate, rounded once for each rate.
    EachRate,
}

/// An invoice added up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Owed {
    /// Each line before tax, in the order of the invoice.
    pub lines: Vec<Money>,
    /// The tax at each rate above 0, lowest rate first.
    pub taxes: Vec<Taxed>,
    /// All lines and their tax.
    pub total: Money,
    /// All that was received.
    pub received: Money,
    /// What is still to be paid; below 0 where more was received. Whether that goes back is for the signed terms.
    pub due: Money,
}

/// The tax at one rate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taxed {
    /// The rate.
    pub rate: Rate,
    /// The sum of the lines at it.
    pub of: Money,
    /// The tax.
    pub tax: Money,
}

impl Invoice {
    /// Adds it up.
    ///
    /// # Errors
    /// [`FeeFault`] for a sum below 0 or in another currency, a rate that is none, and what is too large to keep.
    pub fn owed(&self) -> Result<Owed, FeeFault> {
        let nothing = Money::nothing(self.currency);
        let lines = self.lines.iter().map(|line| self.before_tax(line)).collect::<Result<Vec<_>, _>>()?;
        let taxes = self.taxes(&lines)?;
        let mut all = lines.iter().copied().chain(taxes.iter().map(|taxed| taxed.tax));
        let total = all.try_fold(nothing, Money::plus)?;
        for (what, sum) in &self.received {
            checked_sum(what, *sum, self.currency)?;
        }
        let received = self.received.iter().try_fold(nothing, |all, (_, sum)| all.plus(*sum))?;
        Ok(Owed { lines, taxes, total, received, due: total.less(received)? })
    }

    fn before_tax(&self, line: &Charged) -> Result<Money, FeeFault> {
        checked_rate(&format!("tax on {}", line.what), &line.tax)?;
        match &line.amount {
            Amount::Sum(sum) => {
                checked_sum(&line.what, *sum, self.currency)?;
                Ok(*sum)
            }
            Amount::Time { billed, by_the_hour } => {
                checked_sum(&line.what, *by_the_hour, self.currency)?;
                Ok(price(*billed, *by_the_hour).round(self.rounding)?)
            }
        }
    }

    fn taxes(&self, before_tax: &[Money]) -> Result<Vec<Taxed>, FeeFault> {
        let nothing = Money::nothing(self.currency);
        let mut rates: Vec<&Rate> = self.lines.iter().map(|line| &line.tax).collect();
        rates.sort_unstable();
        rates.dedup();
        let mut taxes = Vec::new();
        for rate in rates.into_iter().filter(|rate| **rate != Rate::nothing()) {
            let at_rate = self.lines.iter().zip(before_tax).filter(|(line, _)| line.tax == *rate);
            let sums: Vec<Money> = at_rate.map(|(_, sum)| *sum).collect();
            let of = sums.iter().copied().try_fold(nothing, Money::plus)?;
            let tax = match self.tax_on {
                TaxOn::EachRate => rate.of(of).round(self.rounding)?,
                TaxOn::EachLine => {
                    sums.iter().try_fold(nothing, |tax, sum| tax.plus(rate.of(*sum).round(self.rounding)?))?
                }
            };
            taxes.push(Taxed { rate: rate.clone(), of, tax });
        }
        Ok(taxes)
    }
}
