use super::{Money, MoneyFault, Ratio, Rounding, whole};
use crate::money::Exact;

/// A sum shared out by weights, in whole minor units that add up to it: each has its share rounded down, and the units
/// left over go to the largest remainders, the earlier first where two are alike (the method of largest remainders, as
/// for seats in a parliament: M. L. Balinski, H. P. Young, *Fair Representation*, 1982).
///
/// # Errors
/// [`MoneyFault::NoShares`] where no weight is above 0.
///
/// ```
/// use asfound_plan::money::{Currency, Money, split};
/// let deposit = Money::read("100.00", Currency::of("GBP")?)?;
/// let minor: Vec<i64> = split(deposit, &[1, 1, 1])?.into_iter().map(Money::minor).collect();
/// assert_eq!(minor, [3334, 3333, 3333]);
/// # Ok::<(), asfound_plan::money::MoneyFault>(())
/// ```
pub fn split(sum: Money, weights: &[u32]) -> Result<Vec<Money>, MoneyFault> {
    let all: i64 = weights.iter().map(|weight| i64::from(*weight)).sum();
    if all == 0 {
        return Err(MoneyFault::NoShares);
    }
    let share = |weight: &u32| -> Ratio { whole(sum.minor()) * whole(i64::from(*weight)) / whole(all) };
    let mut parts = Vec::with_capacity(weights.len());
    let mut remainders = Vec::with_capacity(weights.len());
    for weight in weights {
        let exact = share(weight);
        parts.push(Exact::of_ratio(exact.clone(), sum.currency()).round(Rounding::Floor)?.minor());
        remainders.push(&exact - exact.floor());
    }
    let mut order: Vec<usize> = (0..weights.len()).collect();
    order.sort_by(|one, other| remainders[*other].cmp(&remainders[*one])); // stable: the earlier stays first
    let left = sum.minor() - parts.iter().sum::<i64>();
    for place in order.into_iter().take(usize::try_from(left).unwrap_or(0)) {
        parts[place] += 1;
    }
    parts.into_iter().map(|minor| Money::of_minor(minor, sum.currency())).collect()
}
