//! Sums of money: whole minor units of a currency, never a float.
//!
//! A rate is an exact fraction and so is what it comes to; a figure is rounded once, when it is printed, by a rule that
//! is stated ([`Rounding`]). So the bill of an auction house adds up, and a limit is kept to the minor unit.
//!
//! ```
//! use asfound_plan::money::{Currency, Money, Rate, Rounding};
//! let euro = Currency::of("EUR")?;
//! let hammer = Money::read("1500", euro)?;
//! let premium = Rate::percent("24.75")?.of(hammer);
//! assert_eq!(premium.round(Rounding::HalfAwayFromZero)?.to_string(), "371.25 EUR");
//! # Ok::<(), asfound_plan::money::MoneyFault>(())
//! ```

mod currency;
mod exact;
mod split;

use std::fmt;

pub use currency::Currency;
pub use exact::{Exact, Rate, Rounding};
pub(crate) use exact::{Ratio, nearly, whole};
pub use split::split;

/// The largest sum that is kept: integers in the record stay below 2^53, so that every reader of JSON reads them alike
/// (RFC 8259, section 6).
pub const LARGEST: i64 = (1 << 53) - 1;

/// A sum of money, in whole minor units of its currency: pence, cents, yen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Money {
    minor: i64,
    currency: Currency,
}

/// Why a text or a figure is no sum of money.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MoneyFault {
    /// Three letters that no known currency has.
    #[error(
        "“{0}” is not a currency known here; write the three letters of ISO 4217, for instance GBP, EUR or JPY"
    )]
    UnknownCurrency(String),
    /// A text that is no sum in this currency.
    #[error("“{read}” is not a sum in {currency}; write it like {}", .currency.example())]
    NotASum {
        /// What was typed.
        read: String,
        /// In which currency it was read.
        currency: Currency,
    },
    /// A text that is no rate.
    #[error("“{0}” is not a rate; write it like 24, 24 % or 4.95 %")]
    NotARate(String),
    /// More than can be kept.
    #[error(
        "a sum comes to more than 2^53 minor units, which is more than is kept; look for a digit too many"
    )]
    TooLarge,
    /// Two currencies where one is needed.
    #[error(
        "{read} stands beside {wanted}; turn one into the other first, at a rate with its day and source"
    )]
    Mixed {
        /// The one that does not fit.
        read: Currency,
        /// The one the rest is in.
        wanted: Currency,
    },
    /// Nothing to split by.
    #[error(
        "there is nothing to split by: no share, or shares that are all 0; give one share that is above 0"
    )]
    NoShares,
}

impl Money {
    /// So many minor units.
    ///
    /// # Errors
    /// [`MoneyFault::TooLarge`] beyond [`LARGEST`] either way.
    pub fn of_minor(minor: i64, currency: Currency) -> Result<Self, MoneyFault> {
        if (-LARGEST..=LARGEST).contains(&minor) {
            Ok(Self { minor, currency })
        } else {
            Err(MoneyFault::TooLarge)
        }
    }

    /// Nothing.
    pub const fn nothing(currency: Currency) -> Self {
        Self { minor: 0, currency }
    }

    /// Decimal text, with a point or a comma before the minor digits and no other sign: `12.5` in a currency of two
    /// digits is 1250 minor units.
    ///
    /// # Errors
    /// [`MoneyFault::NotASum`], and [`MoneyFault::TooLarge`].
    pub fn read(text: &str, currency: Currency) -> Result<Self, MoneyFault> {
        let fault = || MoneyFault::NotASum { read: text.to_owned(), currency };
        let digits = currency.minor_digits() as usize;
        let typed = text.trim();
        let (negative, size) = match typed.strip_prefix(['-', '\u{2212}']) {
            Some(size) => (true, size),
            None => (false, typed),
        };
        let (before, after) = size.split_once(['.', ',']).unwrap_or((size, ""));
        let only_digits = before.chars().chain(after.chars()).all(|sign| sign.is_ascii_digit());
        if !only_digits || before.len() + after.len() == 0 || after.len() > digits {
            return Err(fault());
        }
        let minor: i64 = format!("{before}{after:0<digits$}").parse().map_err(|_| MoneyFault::TooLarge)?;
        Self::of_minor(if negative { -minor } else { minor }, currency)
    }

    /// The sum in minor units.
    pub const fn minor(self) -> i64 {
        self.minor
    }

    /// Its currency.
    pub const fn currency(self) -> Currency {
        self.currency
    }

    /// Both together.
    ///
    /// # Errors
    /// [`MoneyFault::Mixed`], [`MoneyFault::TooLarge`].
    pub fn plus(self, other: Self) -> Result<Self, MoneyFault> {
        self.same_currency(other)?;
        Self::of_minor(self.minor + other.minor, self.currency)
    }

    /// What is left of it.
    ///
    /// # Errors
    /// [`MoneyFault::Mixed`], [`MoneyFault::TooLarge`].
    pub fn less(self, other: Self) -> Result<Self, MoneyFault> {
        self.same_currency(other)?;
        Self::of_minor(self.minor - other.minor, self.currency)
    }

    fn same_currency(self, other: Self) -> Result<(), MoneyFault> {
        if self.currency == other.currency {
            Ok(())
        } else {
            Err(MoneyFault::Mixed { read: other.currency, wanted: self.currency })
        }
    }
}

impl fmt::Display for Money {
    /// `-1552.79 GBP`, `1800 JPY`: the plain decimal and the three letters.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = self.currency.minor_digits() as usize;
        let sign = if self.minor < 0 { "-" } else { "" };
        let digits = format!("{:0>width$}", self.minor.unsigned_abs(), width = places + 1);
        let (before, after) = digits.split_at(digits.len() - places);
        let point = if places == 0 { "" } else { "." };
        write!(f, "{sign}{before}{point}{after} {}", self.currency)
    }
}
