//! What may be bid when neither the work nor the value is known to the pound: the limit under a stated chance of loss.
//!
//! In each draw there is left for the lot
//! - to keep: the budget less all work;
//! - to sell: what the sale leaves after the house's commission, less the margin wanted, less all work.
//!
//! A bid loses where the lot costs more than is left. What a bid costs rises with it, so the limit under a chance of loss
//! is the quantile of what is left at that chance, and the highest bid is the ceiling for that limit
//! ([`crate::fees`]). What is left is simulated (JCGM 101:2008) and not fitted: sums of lopsided figures have no handy
//! shape, and quantiles do not add. Figures are drawn apart from one another; where dear work goes with high value, the
//! true chance is lower, and where one surprise makes several tasks dearer, it is higher.
//!
//! ```
//! use asfound_plan::estimate::Estimate;
//! use asfound_plan::fees::{Premium, Steps, Tax, Terms};
//! use asfound_plan::money::{Currency, Money, Rate};
//! use asfound_plan::risk::{Expected, Purpose, Venture};
//! use asfound_weigh::Probability;
//! let pound = Currency::of("GBP")?;
//! let work = Expected::new("repair", pound, Estimate::lognormal_from_quantiles(600.0, 1200.0)?);
//! let to_keep = Purpose::ToKeep { budget: Money::read("5000", pound)? };
//! let left = Venture { purpose: to_keep, work: vec![work], planned: None }.left(10_000, 1)?;
//!
//! let mut terms = Terms::new(pound, Premium::Flat(Rate::percent("25")?));
//! terms.tax = Some(Tax::OnPremium(Rate::percent("20")?));
//! let steps = Steps::even(Money::read("100", pound)?)?;
//! let found = left.ceiling(&terms.checked()?, &steps, Probability::new(0.2)?)?;
//! assert_eq!(found.ceiling.bid.to_string(), "3100.00 GBP");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use asfound_measure::{Chance, SimulateError, Simulated};
use asfound_weigh::Probability;

use crate::estimate::Estimate;
use crate::fees::{Ceiling, FeeFault, Fees, Selling, Steps};
use crate::money::{Currency, Money, MoneyFault, Rate, nearly};
use crate::schedule::Cost;

/// A sum that is not known yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// What it pays for, or what is sold.
    pub what: String,
    /// In which currency.
    pub currency: Currency,
    /// How much, in whole units of the currency: pounds, not pence.
    pub figure: Estimate,
}

/// What the lot is bought for.
#[derive(Debug, Clone, PartialEq)]
pub enum Purpose {
    /// For somebody who keeps it and has so much, all in.
    ToKeep {
        /// All that there is, work included.
        budget: Money,
    },
    /// To be sold after the work.
    ToSell(Box<Sale>),
}

/// A sale to come.
#[derive(Debug, Clone, PartialEq)]
pub struct Sale {
    /// What it fetches then, before anything is taken from it.
    pub value: Expected,
    /// What a house takes; `None` where it is sold without one.
    pub selling: Option<Selling>,
    /// What must remain for the trouble.
    pub margin: Margin,
}

/// What must remain for the trouble.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Margin {
    /// A sum.
    Sum(Money),
    /// A share of what it is sold for.
    OfPrice(Rate),
}

/// A purchase with its work.
#[derive(Debug, Clone, PartialEq)]
pub struct Venture {
    /// What it is bought for.
    pub purpose: Purpose,
    /// What has to be done, and what it is thought to cost.
    pub work: Vec<Expected>,
    /// Beside that, work that was planned, with its cost as it may turn out.
    pub planned: Option<Cost>,
}

/// What is left for the lot, simulated.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    currency: Currency,
    /// In whole minor units, rounded down.
    simulated: Simulated,
    draws: usize,
}

/// The highest bid under a chance of loss.
#[derive(Debug, Clone, PartialEq)]
pub struct CeilingUnderRisk {
    /// The chance of loss that was accepted.
    pub accepted: Probability,
    /// How far the limit may lie lower or higher for want of more draws, two standard deviations of a share either way.
    pub limit_between: (Money, Money),
    /// The ceiling for the limit.
    pub ceiling: Ceiling,
    /// The chance of loss at its bid.
    pub at_bid: Probability,
    /// The chance of loss at the next one.
    pub at_next: Probability,
}

/// Why there is no limit.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RiskFault {
    /// Nothing is left for the lot.
    #[error(
        "limit: at a chance of loss of {accepted} the work and what is wanted beside it leave {left} for the lot; do \
         less, want less, or let the lot go"
    )]
    NothingLeft {
        /// The chance of loss that was accepted.
        accepted: Probability,
        /// What is left, 0 or below.
        left: Money,
    },
    /// Something in terms or sums.
    #[error(transparent)]
    Fee(#[from] FeeFault),
    /// A sum that cannot be kept.
    #[error(transparent)]
    Money(#[from] MoneyFault),
    /// Too few draws.
    #[error(transparent)]
    Simulation(#[from] SimulateError),
}

impl Expected {
    /// A sum that is not known yet, in whole units of its currency.
    pub fn new(what: &str, currency: Currency, figure: Estimate) -> Self {
        Self { what: what.to_owned(), currency, figure }
    }

    pub(crate) fn in_currency(&self, wanted: Currency) -> Result<(), FeeFault> {
        if self.currency == wanted {
            return Ok(());
        }
        // The sentence shows about how much stands there; a figure too large to show is shown as nothing.
        let mean = self.figure.mean() * self.currency.minor_per_unit();
        let read = Money::of_minor(mean as i64, self.currency).unwrap_or(Money::nothing(self.currency));
        Err(FeeFault::Currency { place: self.what.clone(), read, wanted })
    }

    /// One value in minor units.
    pub(crate) fn draw(&self, chance: &mut Chance) -> f64 {
        self.figure.draw(chance) * self.currency.minor_per_unit()
    }
}

impl Purpose {
    fn currency(&self) -> Currency {
        match self {
            Self::ToKeep { budget } => budget.currency(),
            Self::ToSell(sale) => sale.value.currency,
        }
    }
}

impl Venture {
    /// Draws what is left for the lot, so many times from a stated seed.
    ///
    /// # Errors
    /// [`RiskFault::Fee`] where two currencies meet; [`RiskFault::Simulation`] for fewer than a thousand draws.
    pub fn left(&self, draws: usize, seed: u64) -> Result<Left, RiskFault> {
        let currency = self.purpose.currency();
        self.work.iter().try_for_each(|work| work.in_currency(currency))?;
        if let Some(planned) = self.planned.as_ref().filter(|planned| planned.currency() != currency) {
            let read = planned.quantile(0.5)?;
            return Err(
                FeeFault::Currency { place: "planned work".to_owned(), read, wanted: currency }.into()
            );
        }
        let income = Income::of(&self.purpose)?;
        let mut chance = Chance::from_seed(seed);
        let one = || {
            let income = income.draw(&mut chance);
            let planned = self.planned.as_ref().map_or(0.0, |planned| planned.draw(&mut chance));
            let work: f64 = planned + self.work.iter().map(|work| work.draw(&mut chance)).sum::<f64>();
            // Sums of floats are off by less than a millionth of a minor unit; a whole one must not be lost to that.
            libm::floor(income - work + 1e-6)
        };
        let simulated = Simulated::of_draws(std::iter::repeat_with(one).take(draws).collect())?;
        Ok(Left { currency, simulated, draws })
    }
}

/// What comes in before the work is paid, `fixed + share · value`, in minor units.
struct Income<'a> {
    value: Option<&'a Expected>,
    share: f64,
    fixed: f64,
}

impl<'a> Income<'a> {
    fn of(purpose: &'a Purpose) -> Result<Self, RiskFault> {
        let Sale { value, selling, margin } = match purpose {
            Purpose::ToKeep { budget } => {
                return Ok(Self { value: None, share: 0.0, fixed: budget.minor() as f64 });
            }
            Purpose::ToSell(sale) => &**sale,
        };
        let (mut share, mut fixed) = (1.0, 0.0);
        if let Some(selling) = selling {
            value.in_currency(selling.currency())?;
            let (kept, taken) = selling.kept();
            share = nearly(&kept);
            fixed = -nearly(&taken);
        }
        match margin {
            Margin::Sum(sum) => {
                value.in_currency(sum.currency())?;
                fixed -= sum.minor() as f64;
            }
            Margin::OfPrice(rate) => {
                crate::fees::checked_rate("margin", rate)?;
                share -= nearly(rate.ratio());
            }
        }
        Ok(Self { value: Some(value), share, fixed })
    }

    fn draw(&self, chance: &mut Chance) -> f64 {
        self.fixed + self.value.map_or(0.0, |value| self.share * value.draw(chance))
    }
}

impl Left {
    /// What is left on the mean, in minor units.
    pub fn mean(&self) -> f64 {
        self.simulated.mean
    }

    /// The chance that a lot that costs so much, all in, loses money: that less than its cost is left.
    ///
    /// # Errors
    /// [`FeeFault::Currency`] for a cost in another currency.
    pub fn chance_of_loss(&self, cost: Money) -> Result<Probability, FeeFault> {
        if cost.currency() != self.currency {
            return Err(FeeFault::Currency { place: "cost".to_owned(), read: cost, wanted: self.currency });
        }
        // What is left is whole, so less than the cost means up to one unit below it.
        Ok(Probability::of_share(self.simulated.share_up_to(cost.minor() as f64 - 1.0)))
    }

    /// The most that may be spent on the lot, all in, under a chance of loss: never above it, and never lower for a
    /// higher chance.
    ///
    /// # Errors
    /// [`RiskFault::NothingLeft`].
    pub fn limit(&self, accepted: Probability) -> Result<Money, RiskFault> {
        let left = self.quantile(accepted.value())?;
        if left.minor() > 0 { Ok(left) } else { Err(RiskFault::NothingLeft { accepted, left }) }
    }

    /// The highest bid under a chance of loss.
    ///
    /// # Errors
    /// [`RiskFault::NothingLeft`], and what [`Fees::ceiling`] answers.
    pub fn ceiling(
        &self,
        fees: &Fees,
        steps: &Steps,
        accepted: Probability,
    ) -> Result<CeilingUnderRisk, RiskFault> {
        let ceiling = fees.ceiling(self.limit(accepted)?, steps)?;
        let share = accepted.value();
        let off = 2.0 * (share * (1.0 - share) / self.draws as f64).sqrt();
        Ok(CeilingUnderRisk {
            accepted,
            limit_between: (self.quantile(share - off)?, self.quantile(share + off)?),
            at_bid: self.chance_of_loss(ceiling.bill.total)?,
            at_next: self.chance_of_loss(ceiling.next_bill.total)?,
            ceiling,
        })
    }

    fn quantile(&self, share: f64) -> Result<Money, MoneyFault> {
        let left = self.simulated.quantile(share);
        // Beyond what an integer holds the cast stops at its end, which is refused as too large.
        Money::of_minor(left as i64, self.currency)
    }
}
