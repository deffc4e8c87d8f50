use crate::money::{Currency, Money, MoneyFault};

use super::ViewingFault;

/// A sum as it is expected on average, in minor units and parts of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// Minor units of the currency.
    pub minor: f64,
    /// The currency.
    pub currency: Currency,
}

impl Expected {
    /// To the nearest minor unit, as it is shown.
    ///
    /// # Errors
    /// [`MoneyFault::TooLarge`].
    pub fn round(self) -> Result<Money, MoneyFault> {
        Money::of_minor(self.minor.round() as i64, self.currency)
    }
}

/// What it costs to have the piece: a price that is asked, or one anywhere in a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    low: Money,
    high: Money,
}

impl Price {
    /// A price that is asked.
    pub fn known(sum: Money) -> Self {
        Self { low: sum, high: sum }
    }

    /// A price anywhere from the first sum to the second, each as likely as the other, as at an auction between two
    /// estimates. The restorer bids up to what it is worth and no further.
    ///
    /// # Errors
    /// [`ViewingFault::PriceRange`] where the second sum is below the first, or in another currency.
    pub fn between(low: Money, high: Money) -> Result<Self, ViewingFault> {
        match high.less(low) {
            Ok(apart) if apart.minor() >= 0 => Ok(Self { low, high }),
            _ => Err(ViewingFault::PriceRange { low, high }),
        }
    }

    /// The least and the most it may be; both are the same where it is known.
    pub fn sums(self) -> [Money; 2] {
        [self.low, self.high]
    }

    fn ends(self) -> (f64, f64) {
        let [low, high] = self.sums().map(|sum| sum.minor() as f64);
        (low, high)
    }

    /// How probable it is that it can be had by one who pays up to `worth` minor units: the share of prices below.
    pub fn had_at(self, worth: f64) -> f64 {
        let (low, high) = self.ends();
        if worth <= low {
            0.0
        } else if worth >= high {
            1.0
        } else {
            (worth - low) / (high - low)
        }
    }

    /// What is gained on average, in minor units, by one who pays up to `worth` for what is worth `worth`:
    /// `E[max(0, worth − price)]`, the area under [`Price::had_at`] up to `worth`.
    pub fn gain(self, worth: f64) -> f64 {
        self.saved(self.ends().0, worth)
    }

    /// What is saved on average, in minor units, by deciding on `after` instead of on `before` where the worth is
    /// `after`: the area between [`Price::had_at`] and its value at `before`. Never below 0; 0 where both decide alike
    /// at every price.
    pub fn saved(self, before: f64, after: f64) -> f64 {
        let (low, high) = self.ends();
        let had = self.had_at(before);
        let (from, to) = (before.clamp(low, high), after.clamp(low, high));
        let within = if high > low { (to - from) * (to - from) / (2.0 * (high - low)) } else { 0.0 };
        let above = (after - high).max(0.0) * (1.0 - had);
        let below = (low - after).max(0.0) * had;
        within + above + below
    }
}
