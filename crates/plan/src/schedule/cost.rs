//! What it may really cost: the forecast's hours at a rate, and what is paid for beside them.

use super::Forecast;
use crate::fees::FeeFault;
use crate::money::{Currency, Money, MoneyFault};
use crate::risk::{Expected, RiskFault};
use asfound_measure::{Chance, Simulated};
use asfound_weigh::Probability;

/// A cost as a distribution.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    currency: Currency,
    /// In whole minor units, rounded up.
    simulated: Simulated,
}

impl Forecast {
    /// The hours of hands at a rate by the hour, with materials and the work of others drawn beside them from a stated
    /// seed. Time in which glue hardens costs nothing; hours are not rounded to a shop's billing steps.
    ///
    /// # Errors
    /// [`RiskFault`] where two currencies meet.
    pub fn cost(&self, hour: Money, beside: &[Expected], seed: u64) -> Result<Cost, RiskFault> {
        let currency = hour.currency();
        beside.iter().try_for_each(|one| one.in_currency(currency))?;
        let mut chance = Chance::from_seed(seed);
        let cost = self.hands.iter().map(|hours| {
            let others: f64 = beside.iter().map(|one| one.draw(&mut chance)).sum();
            // Sums of floats are off by less than a millionth of a minor unit, which must not make a whole one.
            libm::ceil(hours * hour.minor() as f64 + others - 1e-6)
        });
        Ok(Cost { currency, simulated: Simulated::of_draws(cost.collect())? })
    }
}

impl Cost {
    /// The currency of the rate and of what was paid for beside it.
    pub fn currency(&self) -> Currency {
        self.currency
    }

    /// One of its draws at random, in minor units.
    pub(crate) fn draw(&self, chance: &mut Chance) -> f64 {
        self.simulated.quantile(chance.evenly())
    }

    /// What it costs on the mean, in minor units.
    pub fn mean(&self) -> f64 {
        self.simulated.mean
    }

    /// What it does not exceed in this share of the draws.
    ///
    /// # Errors
    /// [`MoneyFault`] beyond the largest sum that is kept.
    pub fn quantile(&self, share: f64) -> Result<Money, MoneyFault> {
        Money::of_minor(self.simulated.quantile(share) as i64, self.currency)
    }

    /// The chance that it does not exceed a sum, such as the ceiling that was agreed.
    ///
    /// # Errors
    /// [`FeeFault::Currency`] for a sum in another currency.
    pub fn chance_within(&self, ceiling: Money) -> Result<Probability, FeeFault> {
        if ceiling.currency() != self.currency {
            return Err(FeeFault::Currency {
                place: "ceiling".to_owned(),
                read: ceiling,
                wanted: self.currency,
            });
        }
        Ok(Probability::of_share(self.simulated.share_up_to(ceiling.minor() as f64)))
    }
}
