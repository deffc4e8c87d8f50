use super::ceiling::Ceiling;
use super::checked::Fees;
use super::fault::FeeFault;
use super::steps::Steps;
use crate::money::{Currency, Money, Rate, Rounding};

/// A house's terms as they were read, not checked yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Terms {
    /// The currency of the sale.
    pub currency: Currency,
    /// What the house adds to the hammer price.
    pub premium: Premium,
    /// What tax is charged on; `None` where it is not said.
    pub tax: Option<Tax>,
    /// What is added for bidding from afar.
    pub online: Option<Online>,
    /// Sums that do not hang on the price: carriage, packing, an agent.
    pub extras: Vec<Extra>,
    /// What falls due at a border.
    pub import: Option<Import>,
    /// How the house rounds each line of its bill.
    pub rounding: Rounding,
}

/// What a house adds to the hammer price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Premium {
    /// One rate.
    Flat(Rate),
    /// Each rate on that part of the hammer price that lies in its tier.
    Tiered(Vec<Tier>),
    /// The rate of the tier that the hammer price falls in, on all of it. Where a higher tier has a lower rate, a
    /// higher price may cost less.
    WholeBand(Vec<Tier>),
}

/// One tier of a premium.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tier {
    /// The last hammer price in it; `None` for the last tier, which has no end.
    pub up_to: Option<Money>,
    /// Its rate.
    pub rate: Rate,
}

/// What tax the house charges, and on what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Tax {
    /// None.
    None,
    /// Added to the premium only.
    OnPremium(Rate),
    /// Added to the hammer price and the premium.
    OnAll(Rate),
    /// Inside the premium already, at this rate.
    InPremium(Rate),
}

/// What is added for bidding from afar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Online {
    /// Of the hammer price.
    pub rate: Rate,
    /// The tax on it; 0 where there is none.
    pub tax: Rate,
}

/// A sum that does not hang on the price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Extra {
    /// What for.
    pub what: String,
    /// How much.
    pub amount: Money,
    /// The tax on it; 0 where there is none, or it is inside.
    pub tax: Rate,
    /// Whether it counts to the value at the border, as carriage to it does.
    pub before_border: bool,
}

/// What falls due at a border, on the value there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Import {
    /// On that value.
    pub duty: Rate,
    /// On that value and the duty.
    pub tax: Rate,
}

impl Terms {
    /// A premium and nothing else yet: what the tax is charged on is still to be said. Lines are rounded to the
    /// nearest, halves away from 0.
    pub fn new(currency: Currency, premium: Premium) -> Self {
        Self {
            currency,
            premium,
            tax: None,
            online: None,
            extras: Vec::new(),
            import: None,
            rounding: Rounding::HalfAwayFromZero,
        }
    }

    /// Checks them.
    ///
    /// # Errors
    /// [`FeeFault`], with the place in the terms that cannot be.
    pub fn checked(&self) -> Result<Fees, FeeFault> {
        Fees::of(self)
    }

    /// The ceiling under each thing that a tax of this rate may be charged on, for terms that do not say: on the
    /// premium only, on everything, and inside the premium. The lowest of them is safe whichever holds.
    ///
    /// # Errors
    /// As [`checked`](Self::checked) and [`Fees::ceiling`]; the first that arises.
    pub fn by_tax_basis(
        &self,
        rate: &Rate,
        limit: Money,
        steps: &Steps,
    ) -> Result<Vec<(Tax, Ceiling)>, FeeFault> {
        [Tax::OnPremium(rate.clone()), Tax::OnAll(rate.clone()), Tax::InPremium(rate.clone())]
            .into_iter()
            .map(|tax| {
                let terms = Self { tax: Some(tax.clone()), ..self.clone() };
                Ok((tax, terms.checked()?.ceiling(limit, steps)?))
            })
            .collect()
    }
}
