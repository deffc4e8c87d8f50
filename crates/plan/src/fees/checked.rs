use super::bill::{Bill, Item};
use super::fault::{FeeFault, checked_rate, checked_sum};
use super::lines::Lines;
use super::terms::{Premium, Tax, Terms, Tier};
use crate::money::{Currency, Exact, Money, Rate, Ratio, whole};

/// Terms that were checked: every hammer price has a bill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fees {
    terms: Terms,
    tax: Tax,
    pub(super) bands: Vec<Band>,
}

/// A range of hammer prices, above `over` and up to `up_to`, in which the cost is the straight line
/// `at_nothing + slope · hammer`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Band {
    pub(super) over: i64,
    pub(super) up_to: Option<i64>,
    pub(super) at_nothing: Ratio,
    pub(super) slope: Ratio,
}

impl Fees {
    pub(super) fn of(terms: &Terms) -> Result<Self, FeeFault> {
        let tax = check(terms)?;
        let mut fees = Self { terms: terms.clone(), tax, bands: Vec::new() };
        fees.bands = fees.straight_lines();
        Ok(fees)
    }

    /// The currency of the sale.
    pub fn currency(&self) -> Currency {
        self.terms.currency
    }

    /// The bill at a hammer price.
    ///
    /// # Errors
    /// [`FeeFault::Currency`] and [`FeeFault::Below`] for a price that is none; [`FeeFault::Money`] where a line is
    /// larger than can be kept.
    pub fn bill(&self, hammer: Money) -> Result<Bill, FeeFault> {
        checked_sum("hammer price", hammer, self.currency())?;
        let lines = self.lines(&whole(hammer.minor()), self.tier_of(hammer.minor()));
        let tax_in_premium = match &self.tax {
            Tax::InPremium(rate) => {
                let premium = lines.raw.iter().find(|line| line.item == Item::Premium);
                let premium = premium.map_or(whole(0), |line| line.exact.clone());
                let inside = premium * rate.ratio() / (whole(1) + rate.ratio());
                Some(Exact::of_ratio(inside, self.currency()).round(self.terms.rounding)?)
            }
            Tax::None | Tax::OnPremium(_) | Tax::OnAll(_) => None,
        };
        let exact = Exact::of_ratio(lines.exact(), self.currency());
        let lines = lines.printed(self.terms.rounding)?;
        let nothing = Money::nothing(self.currency());
        let total = lines.iter().try_fold(nothing, |sum, line| sum.plus(line.printed))?;
        Ok(Bill { lines, total, exact, tax_in_premium })
    }

    /// The tiers as the terms have them; a flat premium is one without an end.
    fn tiers(&self) -> Vec<Tier> {
        tiers(&self.terms.premium)
    }

    fn tier_of(&self, hammer: i64) -> usize {
        self.bands.iter().position(|band| band.up_to.is_none_or(|end| hammer <= end)).unwrap_or(0)
    }

    /// Within a tier the cost is a straight line, which two of its points give, also such as lie outside the tier.
    fn straight_lines(&self) -> Vec<Band> {
        let mut over = 0;
        let mut bands = Vec::new();
        for (number, tier) in self.tiers().iter().enumerate() {
            let cost = |hammer: i64| self.lines(&whole(hammer), number).exact();
            let at_nothing = cost(0);
            let slope = cost(1) - &at_nothing;
            let up_to = tier.up_to.map(Money::minor);
            bands.push(Band { over, up_to, at_nothing, slope });
            over = up_to.unwrap_or(over);
        }
        bands
    }

    /// Which rates hold on which parts of a hammer price in this tier.
    fn premium(&self, hammer: &Ratio, tier: usize) -> Vec<(Rate, Ratio)> {
        let tiers = self.tiers();
        if !matches!(self.terms.premium, Premium::Tiered(_)) {
            return vec![(tiers[tier].rate.clone(), hammer.clone())];
        }
        let mut from = whole(0);
        let mut parts = Vec::new();
        for (number, each) in tiers.iter().take(tier + 1).enumerate() {
            let end = match each.up_to {
                Some(end) if number < tier => whole(end.minor()),
                _ => hammer.clone(),
            };
            parts.push((each.rate.clone(), &end - &from));
            from = end;
        }
        parts
    }

    /// The lines at a hammer price as this tier reckons them.
    fn lines(&self, hammer: &Ratio, tier: usize) -> Lines {
        let mut lines = Lines::of(self.currency());
        let hammer = lines.sum(Item::Hammer, hammer.clone());
        let premium = lines.rates(Item::Premium, self.premium(&hammer, tier));
        match &self.tax {
            Tax::None | Tax::InPremium(_) => {}
            Tax::OnPremium(rate) => {
                lines.rate(Item::TaxOnPremium, rate, premium.clone());
            }
            Tax::OnAll(rate) => {
                lines.rate(Item::TaxOnAll, rate, &hammer + &premium);
            }
        }
        let mut at_border = &hammer + &premium;
        if let Some(online) = &self.terms.online {
            let surcharge = lines.rate(Item::Online, &online.rate, hammer.clone());
            lines.rate(Item::TaxOnOnline, &online.tax, surcharge.clone());
            at_border += surcharge;
        }
        for extra in &self.terms.extras {
            let amount = lines.extra(extra);
            if extra.before_border {
                at_border += amount;
            }
        }
        if let Some(import) = &self.terms.import {
            let duty = lines.rate(Item::Duty, &import.duty, at_border.clone());
            lines.rate(Item::ImportTax, &import.tax, at_border + duty);
        }
        lines
    }
}

fn tiers(premium: &Premium) -> Vec<Tier> {
    match premium {
        Premium::Flat(rate) => vec![Tier { up_to: None, rate: rate.clone() }],
        Premium::Tiered(tiers) | Premium::WholeBand(tiers) => tiers.clone(),
    }
}

/// Every rate a share, every sum in the sale's currency, tiers in order; answers the tax.
fn check(terms: &Terms) -> Result<Tax, FeeFault> {
    check_tiers(terms)?;
    let tax = terms.tax.clone().ok_or(FeeFault::TaxBasis)?;
    if let Tax::OnPremium(rate) | Tax::OnAll(rate) | Tax::InPremium(rate) = &tax {
        checked_rate("tax", rate)?;
    }
    if let Some(online) = &terms.online {
        checked_rate("online surcharge", &online.rate)?;
        checked_rate("tax on the online surcharge", &online.tax)?;
    }
    for extra in &terms.extras {
        checked_sum(&extra.what, extra.amount, terms.currency)?;
        checked_rate(&format!("tax on {}", extra.what), &extra.tax)?;
    }
    if let Some(import) = &terms.import {
        checked_rate("duty", &import.duty)?;
        checked_rate("import tax", &import.tax)?;
    }
    Ok(tax)
}

fn check_tiers(terms: &Terms) -> Result<(), FeeFault> {
    let tiers = tiers(&terms.premium);
    let flat = matches!(terms.premium, Premium::Flat(_));
    let place =
        |number: usize| if flat { "premium".to_owned() } else { format!("premium, tier {}", number + 1) };
    let mut before = Money::nothing(terms.currency);
    for (number, tier) in tiers.iter().enumerate() {
        checked_rate(&place(number), &tier.rate)?;
        let last = number + 1 == tiers.len();
        match tier.up_to {
            Some(end) if !last => {
                checked_sum(&place(number), end, terms.currency)?;
                if end.minor() <= before.minor() {
                    return Err(FeeFault::TierOrder { place: place(number), read: end, before });
                }
                before = end;
            }
            None if last => {}
            Some(_) | None => return Err(FeeFault::TierEnd { place: place(number) }),
        }
    }
    if tiers.is_empty() { Err(FeeFault::TierEnd { place: place(0) }) } else { Ok(()) }
}
