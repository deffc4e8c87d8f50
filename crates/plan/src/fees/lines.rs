//! Lines of a bill as they are put down.

use super::bill::{Item, Line, Working};
use super::fault::FeeFault;
use super::terms::Extra;
use crate::money::{Currency, Exact, Rate, Ratio, Rounding, whole};

/// A line before it is rounded.
pub(super) struct Raw {
    pub(super) item: Item,
    working: Vec<Working>,
    pub(super) exact: Ratio,
}

/// Lines as they are put down, each answering what it comes to.
pub(super) struct Lines {
    currency: Currency,
    pub(super) raw: Vec<Raw>,
}

impl Lines {
    pub(super) fn of(currency: Currency) -> Self {
        Self { currency, raw: Vec::new() }
    }

    /// A line that is a sum of its own.
    pub(super) fn sum(&mut self, item: Item, exact: Ratio) -> Ratio {
        self.raw.push(Raw { item, working: Vec::new(), exact: exact.clone() });
        exact
    }

    pub(super) fn rate(&mut self, item: Item, rate: &Rate, of: Ratio) -> Ratio {
        self.rates(item, vec![(rate.clone(), of)])
    }

    /// A line at several rates; one that charges nothing is left out.
    pub(super) fn rates(&mut self, item: Item, parts: Vec<(Rate, Ratio)>) -> Ratio {
        let exact = parts.iter().fold(whole(0), |sum, (rate, of)| sum + rate.ratio() * of);
        if exact != whole(0) {
            let working = parts
                .into_iter()
                .map(|(rate, of)| Working { rate, of: Exact::of_ratio(of, self.currency) })
                .collect();
            self.raw.push(Raw { item, working, exact: exact.clone() });
        }
        exact
    }

    /// A sum that does not hang on the price, and its tax.
    pub(super) fn extra(&mut self, extra: &Extra) -> Ratio {
        let amount = self.sum(Item::Extra(extra.what.clone()), whole(extra.amount.minor()));
        self.rate(Item::TaxOnExtra(extra.what.clone()), &extra.tax, amount.clone());
        amount
    }

    /// All of them together, before rounding.
    pub(super) fn exact(&self) -> Ratio {
        self.raw.iter().fold(whole(0), |sum, line| sum + &line.exact)
    }

    /// Each rounded once.
    pub(super) fn printed(self, rounding: Rounding) -> Result<Vec<Line>, FeeFault> {
        let print = |line: Raw| {
            let exact = Exact::of_ratio(line.exact, self.currency);
            Ok(Line { item: line.item, working: line.working, printed: exact.round(rounding)?, exact })
        };
        self.raw.into_iter().map(print).collect()
    }
}
