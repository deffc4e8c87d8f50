//! What a hammer price costs all in, and the highest one that keeps within a limit.
//!
//! **The one decision: a house's terms are straight lines, one for each band of its premium.** Within a band, premium,
//! taxes, surcharge, carriage and duty all rise evenly with the hammer price, `cost = a + k h`, so the highest hammer
//! price for a limit is `h = (limit − a) / k`, exactly, in fractions. It is then brought down to a bid that the room
//! takes, and the bill at that bid is written out line by line and checked again. A search would find the same bid, and
//! could not say what it would have been without the bid step.
//!
//! With hammer price `h`, premium `B(h)`, surcharge rate `o`, other lines `F` (each with its own tax):
//! - tax on the premium only: `h + B (1 + v) + o h (1 + v) + F`, as under the United Kingdom's Auctioneers' Scheme (HM
//!   Revenue and Customs, VAT Notice 718/2), where the tax inside the premium is not shown apart;
//! - tax on everything: `(h + B)(1 + t) + …`;
//! - premium with its tax inside: `h + B + …`, of which tax `B v / (1 + v)`;
//! - brought in from abroad, with duty `d` and import tax `v`: to all that is below the duty's line are added `d W` and
//!   `v W (1 + d)`, with `W` the hammer price, premium, surcharge and those other lines that count to the value at the
//!   border (carriage to it does, an agent behind it does not: Agreement on Implementation of Article VII of the GATT
//!   1994, articles 1 and 8).
//!
//! Rates are what the user enters from the terms of the house and the notices of the day. None is kept here, and where
//! it is not said what the tax is charged on, that is asked ([`FeeFault::TaxBasis`]) or answered for every basis
//! ([`Terms::by_tax_basis`]), never supposed.
//!
//! ```
//! use asfound_plan::fees::{Premium, Steps, Tax, Terms};
//! use asfound_plan::money::{Currency, Money, Rate};
//! let pound = Currency::of("GBP")?;
//! let mut terms = Terms::new(pound, Premium::Flat(Rate::percent("25")?));
//! terms.tax = Some(Tax::OnPremium(Rate::percent("20")?));
//! let ceiling = terms.checked()?.ceiling(Money::read("5000", pound)?, &Steps::even(Money::read("100", pound)?)?)?;
//! assert_eq!(ceiling.bid.to_string(), "3800.00 GBP");
//! assert_eq!(ceiling.bill.total.to_string(), "4940.00 GBP");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bill;
mod ceiling;
mod checked;
mod fault;
mod lines;
mod selling;
mod steps;
mod terms;

pub use bill::{Bill, Item, Line, Working};
pub use ceiling::{Ceiling, Gap};
pub use checked::Fees;
pub use fault::FeeFault;
pub(crate) use fault::{checked_rate, checked_sum};
pub use selling::{Proceeds, Selling, SellingTerms};
pub use steps::Steps;
pub use terms::{Extra, Import, Online, Premium, Tax, Terms, Tier};
