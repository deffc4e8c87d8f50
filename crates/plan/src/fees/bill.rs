use crate::money::{Exact, Money, Rate};

/// A bill at one hammer price, every line written out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bill {
    /// Its lines, the hammer price first.
    pub lines: Vec<Line>,
    /// What is paid: the sum of the lines as printed.
    pub total: Money,
    /// The sum before any line was rounded.
    pub exact: Exact,
    /// The tax inside the premium, where the terms put it there; no line of its own.
    pub tax_in_premium: Option<Money>,
}

/// One line of a bill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What is charged.
    pub item: Item,
    /// Which rates on which sums; none where the line is a sum of its own.
    pub working: Vec<Working>,
    /// Before rounding.
    pub exact: Exact,
    /// As printed, rounded once.
    pub printed: Money,
}

/// A rate on a sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Working {
    /// The rate.
    pub rate: Rate,
    /// Of what.
    pub of: Exact,
}

/// What a line of a bill charges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Item {
    /// The price at which the hammer falls.
    Hammer,
    /// What the house adds.
    Premium,
    /// Tax on the premium.
    TaxOnPremium,
    /// Tax on hammer price and premium.
    TaxOnAll,
    /// For bidding from afar.
    Online,
    /// Tax on that.
    TaxOnOnline,
    /// A sum that does not hang on the price.
    Extra(String),
    /// Tax on that.
    TaxOnExtra(String),
    /// Duty at a border.
    Duty,
    /// Tax at a border.
    ImportTax,
    /// What a house takes from a seller.
    Commission,
    /// Tax on that.
    TaxOnCommission,
}
