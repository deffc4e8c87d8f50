use super::fault::FeeFault;
use crate::money::{Currency, Money};

/// The bids that a room takes: every so much, and often by larger steps as the price rises.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Steps {
    currency: Currency,
    /// From which price on, and by how much, in minor units; the first from 0.
    rows: Vec<(i64, i64)>,
}

impl Steps {
    /// The same step at every price.
    ///
    /// # Errors
    /// [`FeeFault::Step`].
    pub fn even(step: Money) -> Result<Self, FeeFault> {
        Self::rising(&[(Money::nothing(step.currency()), step)])
    }

    /// A step from each of these prices on, counted from that price: `(0, 10), (500, 50)` takes 490, 500 and 550.
    ///
    /// # Errors
    /// [`FeeFault::Step`] where a step is not above 0, the first price is not 0, or the prices do not rise;
    /// [`FeeFault::Currency`] where two currencies meet.
    pub fn rising(rows: &[(Money, Money)]) -> Result<Self, FeeFault> {
        let mut before: Option<Money> = None;
        for (number, (from, step)) in rows.iter().enumerate() {
            let place = format!("bid step {}", number + 1);
            let wanted = before.unwrap_or(*from).currency();
            if let Some(read) = [*from, *step].into_iter().find(|sum| sum.currency() != wanted) {
                return Err(FeeFault::Currency { place, read, wanted });
            }
            let in_order = before.map_or(from.minor() == 0, |before| from.minor() > before.minor());
            if step.minor() <= 0 || !in_order {
                return Err(FeeFault::Step { place, read: *step });
            }
            before = Some(*from);
        }
        let Some(last) = before else { return Err(FeeFault::NoStep) };
        let rows = rows.iter().map(|(from, step)| (from.minor(), step.minor())).collect();
        Ok(Self { currency: last.currency(), rows })
    }

    /// The currency of the steps.
    pub fn currency(&self) -> Currency {
        self.currency
    }

    /// The highest bid at or below a price, in minor units.
    pub(super) fn at_or_below(&self, price: i64) -> i64 {
        let (from, step) = self.row(price);
        from + (price - from) / step * step
    }

    /// The next bid above a price.
    pub(super) fn above(&self, price: i64) -> i64 {
        let (from, step) = self.row(price);
        let next = from + ((price - from) / step + 1) * step;
        let begins = self.rows.iter().map(|row| row.0).find(|begins| *begins > price);
        begins.map_or(next, |begins| next.min(begins))
    }

    /// The row that holds at a price of 0 or more.
    fn row(&self, price: i64) -> (i64, i64) {
        let after = self.rows.partition_point(|(from, _)| *from <= price);
        self.rows[after.saturating_sub(1)]
    }
}
