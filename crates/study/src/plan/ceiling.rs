//! The highest bid within what there is, also under a stated chance of loss, and the value in three states.

use asfound_plan::Cost;
use asfound_plan::estimate::Estimate;
use asfound_plan::fees::{Ceiling, FeeFault, Fees, Tax, Terms};
use asfound_plan::money::{Currency, Money, Rate};
use asfound_plan::risk::{CeilingUnderRisk, Expected, Left, Margin, Purpose, RiskFault, Sale, Venture};
use asfound_plan::value::{Rise, State, Value, Worth};
use asfound_weigh::Probability;

use super::lot::{LotSaid, units};
use super::{Choice, Plan};

/// Draws of what is left, and the seed they begin from.
const DRAWS: usize = 20_000;
const SEED: u64 = 2;

/// The chance of loss that is taken where none is said: a workshop's own choice, shown with the result.
pub const USUAL_LOSS: (i64, i64) = (1, 5);

/// Ceiling and value.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LotAnswer {
    /// The ceiling; `None` while nothing of a sale is said.
    pub ceiling: Option<CeilingAnswer>,
    /// What the work is taken to cost before the lot is bid for, in words that say where it is from.
    pub work: Option<WorkTaken>,
    /// The value; `None` while nothing is said of it.
    pub value: Option<Result<ValueAnswer, String>>,
}

/// From where the cost of the work is taken.
#[derive(Debug, Clone, PartialEq)]
pub enum WorkTaken {
    /// It was said as a sum.
    Said,
    /// From the hours of this choice: low, middle and high.
    Hours(Choice, [Money; 3]),
}

/// The highest bid, or what is in its way.
#[derive(Debug, Clone, PartialEq)]
pub enum CeilingAnswer {
    /// Something is to be said first.
    Asked(Vec<Ask>),
    /// The tax basis is not said: the ceiling on each, the lowest of which is safe.
    EachBasis(Rate, Vec<(Tax, Ceiling)>),
    /// Known sums only.
    Known(Box<Ceiling>),
    /// Under a chance of loss.
    UnderRisk(Box<CeilingUnderRisk>),
    /// It cannot be, one sentence without its stop.
    Refused(String),
}

/// What is to be said before there is a ceiling.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ask {
    /// Who pays.
    WhoPays,
    /// To keep or to sell.
    KeepOrSell,
    /// What there is, all in.
    Budget,
    /// What it is worth once the work is done.
    Value,
    /// What the house adds.
    Premium,
    /// Whether and on what the house charges tax.
    Tax,
}

/// The value in three states.
#[derive(Debug, Clone, PartialEq)]
pub struct ValueAnswer {
    /// What is said, in order.
    pub value: Value,
    /// Of each state, where anybody speaks of it.
    pub worth: Vec<(State, Worth)>,
    /// How much it rises by being restored: spend less.
    pub rise: Option<Rise>,
}

pub(super) fn answer(plan: &Plan) -> LotAnswer {
    let said = &plan.said;
    let value = value(said);
    let work = work(plan);
    // A budget alone is no sale: it also rules work on what is owned already.
    let is_a_lot = said.premium.is_some() || said.tax_rate.is_some() || !said.steps.is_empty();
    let ceiling = is_a_lot.then(|| {
        let asked = asked(said, value.as_ref());
        if asked.is_empty()
            || asked == [Ask::WhoPays]
            || asked == [Ask::Tax]
            || asked == [Ask::WhoPays, Ask::Tax]
        {
            ceiling(said, &work, value.as_ref())
        } else {
            CeilingAnswer::Asked(asked)
        }
    });
    LotAnswer { ceiling, work: work.taken, value }
}

impl Plan {
    /// What is to be said before there is a ceiling, or besides it.
    pub fn asked(&self) -> Vec<Ask> {
        asked(&self.said, self.lot.value.as_ref())
    }
}

fn asked(said: &LotSaid, value: Option<&Result<ValueAnswer, String>>) -> Vec<Ask> {
    let mut asked = Vec::new();
    let mut ask = |missing: bool, what| asked.extend(missing.then_some(what));
    ask(said.payer.is_none(), Ask::WhoPays);
    ask(said.keep.is_none(), Ask::KeepOrSell);
    ask(said.keep == Some(true) && said.budget.is_none(), Ask::Budget);
    let after = value.and_then(|value| value.as_ref().ok()).is_some_and(|value| value.restored().is_some());
    ask(said.keep == Some(false) && !after, Ask::Value);
    ask(said.premium.is_none(), Ask::Premium);
    ask(said.premium.is_some() && said.tax.is_none(), Ask::Tax);
    asked
}

impl ValueAnswer {
    /// The value once the work is done; as found, where nobody speaks of that.
    fn restored(&self) -> Option<&Worth> {
        let of = |state| self.worth.iter().find(|(known, _)| *known == state).map(|(_, worth)| worth);
        of(State::Restored).or_else(|| of(State::AsFound))
    }
}

fn value(said: &LotSaid) -> Option<Result<ValueAnswer, String>> {
    let currency = said.currency.filter(|_| !said.opinions.is_empty())?;
    let worked = || {
        let value = Value::of(currency, said.opinions.clone())?;
        let mut worth = Vec::new();
        for state in [State::AsFound, State::Restored, State::FullyOriginal] {
            worth.extend(value.in_state(state)?.map(|it| (state, it)));
        }
        let rise = value.rise(State::AsFound, State::Restored)?;
        Ok::<_, asfound_plan::value::ValueFault>(ValueAnswer { value, worth, rise })
    };
    Some(worked().map_err(|fault| fault.to_string()))
}

/// The work before a lot is bid for: the sum that was said, else the cost of the choice that is agreed or the fullest.
struct Work {
    said: Option<Expected>,
    planned: Option<Cost>,
    taken: Option<WorkTaken>,
}

fn work(plan: &Plan) -> Work {
    if let Some(said) = &plan.said.work {
        return Work { said: Some(said.clone()), planned: None, taken: Some(WorkTaken::Said) };
    }
    let shown = plan.shown().and_then(|shown| Some((shown.choice, shown.order.as_ref().ok()?)));
    let taken = shown.and_then(|(choice, order)| Some(WorkTaken::Hours(choice, order.cost?)));
    let planned = shown.and_then(|(_, order)| order.drawn.clone());
    Work { said: None, planned, taken }
}

fn ceiling(said: &LotSaid, work: &Work, value: Option<&Result<ValueAnswer, String>>) -> CeilingAnswer {
    let worked = || {
        let Some(terms) = said.terms() else { return Ok(CeilingAnswer::Asked(vec![Ask::Premium])) };
        let currency = terms.currency;
        let steps = said.bid_steps(currency).map_err(|fault| fault.to_string())?;
        // What is certain needs no draws, and its limit is exact.
        if let (Some(budget), None, Some(true)) = (said.budget, &work.taken, said.keep) {
            return match (&terms.tax, &said.tax_rate) {
                (None, Some(rate)) => {
                    let each = terms.by_tax_basis(rate, budget, &steps).map_err(|fault| fault.to_string())?;
                    Ok(CeilingAnswer::EachBasis(rate.clone(), each))
                }
                _ => {
                    let fees = terms.checked().map_err(|fault| fault.to_string())?;
                    let ceiling = fees.ceiling(budget, &steps).map_err(|fault| fault.to_string())?;
                    Ok(CeilingAnswer::Known(Box::new(ceiling)))
                }
            };
        }
        let left =
            venture(said, work, value, currency)?.left(DRAWS, SEED).map_err(|fault| fault.to_string())?;
        under_risk(said, &terms, &left, &steps)
    };
    worked().unwrap_or_else(CeilingAnswer::Refused)
}

fn under_risk(
    said: &LotSaid,
    terms: &Terms,
    left: &Left,
    steps: &asfound_plan::fees::Steps,
) -> Result<CeilingAnswer, String> {
    let accepted = accepted(said)
        .ok_or("chance of loss: it lies between 0 % and 100 %; say for instance chance of loss 20 %")?;
    if let (None, Some(rate)) = (&terms.tax, &said.tax_rate) {
        let limit = left.limit(accepted).map_err(|fault: RiskFault| fault.to_string())?;
        let each = terms.by_tax_basis(rate, limit, steps).map_err(|fault: FeeFault| fault.to_string())?;
        return Ok(CeilingAnswer::EachBasis(rate.clone(), each));
    }
    let fees: Fees = terms.checked().map_err(|fault| fault.to_string())?;
    let found = left.ceiling(&fees, steps, accepted).map_err(|fault| fault.to_string())?;
    Ok(CeilingAnswer::UnderRisk(Box::new(found)))
}

fn venture(
    said: &LotSaid,
    work: &Work,
    value: Option<&Result<ValueAnswer, String>>,
    currency: Currency,
) -> Result<Venture, String> {
    let purpose = match (said.keep, said.budget) {
        (Some(true), Some(budget)) => Purpose::ToKeep { budget },
        _ => {
            let value = value.ok_or("no value is said")?.as_ref().map_err(Clone::clone)?;
            let worth = value.restored().ok_or("no value is said")?;
            let low = worth.low.map_or(0.0, units);
            let figure = Estimate::between(low, units(worth.high)).map_err(|fault| fault.to_string())?;
            let selling = said.selling(currency).map(|terms| terms.checked()).transpose();
            Purpose::ToSell(Box::new(Sale {
                value: Expected::new("value", worth.high.currency(), figure),
                selling: selling.map_err(|fault| fault.to_string())?,
                margin: said.margin.clone().unwrap_or(Margin::Sum(Money::nothing(currency))),
            }))
        }
    };
    Ok(Venture { purpose, work: work.said.iter().cloned().collect(), planned: work.planned.clone() })
}

/// The chance of loss that is accepted.
fn accepted(said: &LotSaid) -> Option<Probability> {
    let hundred = Money::of_minor(10_000, Currency::of("GBP").ok()?).ok()?;
    let (part, of) = USUAL_LOSS;
    let rate = said.loss.clone().or_else(|| Rate::parts(part, of))?;
    let share = rate.of(hundred).round(asfound_plan::money::Rounding::Floor).ok()?.minor();
    Probability::new(share as f64 / 10_000.0).ok()
}
