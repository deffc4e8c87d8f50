use super::bill::Bill;
use super::checked::{Band, Fees};
use super::fault::{FeeFault, checked_sum};
use super::steps::Steps;
use crate::money::{Exact, Money, Rounding, whole};

/// The highest hammer price that keeps within a limit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ceiling {
    /// The limit, all in.
    pub limit: Money,
    /// The highest price before it is brought down to a bid.
    pub exact: Exact,
    /// The highest bid. Its bill is within the limit as printed and before rounding.
    pub bid: Money,
    /// What it costs.
    pub bill: Bill,
    /// The next bid, which is too high.
    pub next_bid: Money,
    /// What that would cost. It may print at the limit itself, where only the parts of a unit that its lines drop when
    /// rounded are over.
    pub next_bill: Bill,
    /// Bids below the highest at which the hammer would cost more than the limit, lowest first. Only a premium whose
    /// rate holds for all of the price leaves such gaps.
    pub gaps: Vec<Gap>,
}

/// Bids that cost more than the limit though a higher one does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// The last bid below them that keeps within the limit; 0 where there is none.
    pub safe_to: Money,
    /// The lowest of them.
    pub first: Money,
    /// The highest of them.
    pub last: Money,
}

impl Fees {
    /// The highest bid whose bill is within the limit.
    ///
    /// # Errors
    /// [`FeeFault::LimitBelowFees`] where no bid is; [`FeeFault::Currency`] where limit or steps are in another
    /// currency than the sale, [`FeeFault::Below`] for a limit below nothing, and [`FeeFault::Money`] for a sum that is
    /// too large to keep.
    pub fn ceiling(&self, limit: Money, steps: &Steps) -> Result<Ceiling, FeeFault> {
        checked_sum("limit", limit, self.currency())?;
        if steps.currency() != limit.currency() {
            let read = Money::of_minor(steps.above(0), steps.currency())?;
            return Err(FeeFault::Currency { place: "bid step".to_owned(), read, wanted: limit.currency() });
        }
        for (number, band) in self.bands.iter().enumerate().rev() {
            let Some((bid, bill)) = self.highest_in(band, limit, steps)? else { continue };
            let next_bid = Money::of_minor(steps.above(bid.minor()), limit.currency())?;
            return Ok(Ceiling {
                limit,
                exact: self.exact_highest(limit),
                bid,
                bill,
                next_bid,
                next_bill: self.bill(next_bid)?,
                gaps: self.gaps(number, limit, steps)?,
            });
        }
        let lowest_bid = Money::of_minor(steps.above(0), limit.currency())?;
        Err(FeeFault::LimitBelowFees { limit, lowest_bid, lowest_cost: self.bill(lowest_bid)?.total })
    }

    /// The highest price that the limit pays for, of the highest band that has one.
    fn exact_highest(&self, limit: Money) -> Exact {
        let highest = self.bands.iter().rev().find_map(|band| {
            let price = band.price_at(limit);
            (price.ratio() > &whole(band.over)).then_some(price)
        });
        highest.unwrap_or_else(|| Money::nothing(limit.currency()).into())
    }

    /// The highest bid in a band whose bill is within the limit, with the bill.
    fn highest_in(
        &self,
        band: &Band,
        limit: Money,
        steps: &Steps,
    ) -> Result<Option<(Money, Bill)>, FeeFault> {
        let price = band.price_at(limit);
        if price.ratio() <= &whole(band.over) {
            return Ok(None);
        }
        let mut bid = steps.at_or_below(price.round(Rounding::Floor)?.minor());
        // Lines that round up can carry the printed total over the limit by less than one unit each, so this ends soon.
        while bid > band.over {
            let money = Money::of_minor(bid, limit.currency())?;
            let bill = self.bill(money)?;
            if bill.total.minor() <= limit.minor() {
                return Ok(Some((money, bill)));
            }
            bid = steps.at_or_below(bid - 1);
        }
        Ok(None)
    }

    /// The bids over the limit in the bands below this one.
    fn gaps(&self, number: usize, limit: Money, steps: &Steps) -> Result<Vec<Gap>, FeeFault> {
        let mut gaps: Vec<Gap> = Vec::new();
        for band in &self.bands[..number] {
            let Some(end) = band.up_to else { continue };
            let fits = self.highest_in(band, limit, steps)?.map(|(bid, _)| bid.minor());
            let first = steps.above(fits.unwrap_or(band.over));
            let last = steps.at_or_below(end);
            if first > last {
                continue;
            }
            let of = |minor| Money::of_minor(minor, limit.currency());
            match gaps.last_mut() {
                // Nothing fits between the last gap and this one: they are one.
                Some(before) if fits.is_none() => before.last = of(last)?,
                _ => gaps.push(Gap { safe_to: of(fits.unwrap_or(0))?, first: of(first)?, last: of(last)? }),
            }
        }
        Ok(gaps)
    }
}

impl Band {
    /// The price on this band's line that costs the limit, and no more than the band's end.
    fn price_at(&self, limit: Money) -> Exact {
        let price = (whole(limit.minor()) - &self.at_nothing) / &self.slope;
        let price = match self.up_to {
            Some(end) if price > whole(end) => whole(end),
            _ => price,
        };
        Exact::of_ratio(price, limit.currency())
    }
}
