use super::bill::{Item, Line};
use super::fault::{FeeFault, checked_rate, checked_sum};
use super::lines::Lines;
use super::terms::Extra;
use crate::money::{Currency, Exact, Money, Rate, Ratio, Rounding, whole};

/// What a house takes from a seller, not checked yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SellingTerms {
    /// The currency of the sale.
    pub currency: Currency,
    /// Of the hammer price.
    pub commission: Rate,
    /// The tax on the commission; 0 where there is none.
    pub tax: Rate,
    /// Sums that do not hang on the price: a photograph in the catalogue, cover, carriage.
    pub extras: Vec<Extra>,
    /// How the house rounds each line of its statement.
    pub rounding: Rounding,
}

/// Selling terms that were checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Selling(SellingTerms);

/// What a seller is left with at one hammer price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proceeds {
    /// The hammer price first, then what is taken from it.
    pub lines: Vec<Line>,
    /// What is left: the hammer price less the other lines as printed. Below 0 where they are more.
    pub net: Money,
}

impl SellingTerms {
    /// Checks them.
    ///
    /// # Errors
    /// [`FeeFault`], with the place in the terms that cannot be.
    pub fn checked(&self) -> Result<Selling, FeeFault> {
        checked_rate("commission", &self.commission)?;
        checked_rate("tax on the commission", &self.tax)?;
        for extra in &self.extras {
            checked_sum(&extra.what, extra.amount, self.currency)?;
            checked_rate(&format!("tax on {}", extra.what), &extra.tax)?;
        }
        Ok(Selling(self.clone()))
    }
}

impl Selling {
    /// The currency of the sale.
    pub fn currency(&self) -> Currency {
        self.0.currency
    }

    /// What is left at a hammer price: `h − c h (1 + v) − F`.
    ///
    /// # Errors
    /// [`FeeFault::Currency`] and [`FeeFault::Below`] for a price that is none; [`FeeFault::Money`] where a line is
    /// larger than can be kept.
    pub fn proceeds(&self, hammer: Money) -> Result<Proceeds, FeeFault> {
        let terms = &self.0;
        checked_sum("hammer price", hammer, terms.currency)?;
        let mut lines = Lines::of(terms.currency);
        let price = lines.sum(Item::Hammer, whole(hammer.minor()));
        let commission = lines.rate(Item::Commission, &terms.commission, price);
        lines.rate(Item::TaxOnCommission, &terms.tax, commission);
        for extra in &terms.extras {
            lines.extra(extra);
        }
        let lines = lines.printed(terms.rounding)?;
        let net = lines.iter().skip(1).try_fold(hammer, |left, line| left.less(line.printed))?;
        Ok(Proceeds { lines, net })
    }

    /// The hammer price that leaves exactly this much, before it is brought to a bid: `(net + F) / (1 − c (1 + v))`.
    /// `None` where the commission and its tax take all of every price.
    ///
    /// # Errors
    /// [`FeeFault::Currency`] and [`FeeFault::Below`] for what is no sum to be left.
    pub fn price_for(&self, net: Money) -> Result<Option<Exact>, FeeFault> {
        checked_sum("what is to be left", net, self.currency())?;
        let (kept, fixed) = self.kept();
        let price = (kept > whole(0)).then(|| (whole(net.minor()) + fixed) / kept);
        Ok(price.map(|price| Exact::of_ratio(price, self.currency())))
    }

    /// The share of the hammer price that is kept, and the sum that is taken whatever it is.
    pub(crate) fn kept(&self) -> (Ratio, Ratio) {
        let terms = &self.0;
        let fixed = terms
            .extras
            .iter()
            .fold(whole(0), |sum, extra| sum + whole(extra.amount.minor()) * (whole(1) + extra.tax.ratio()));
        (whole(1) - terms.commission.ratio() * (whole(1) + terms.tax.ratio()), fixed)
    }
}
