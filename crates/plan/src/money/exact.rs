use std::cmp::Ordering;
use std::fmt;

use asfound_measure::Decimal;

use super::{Currency, Money, MoneyFault};

/// The fractions that money is worked out in: of integers without a largest, so that nothing is ever cut off.
pub(crate) type Ratio = num_rational::BigRational;

pub(crate) fn whole(number: i64) -> Ratio {
    Ratio::from_integer(number.into())
}

/// The number to reckon chances with, never money: off by no more than a few parts in 10^16.
pub(crate) fn nearly(ratio: &Ratio) -> f64 {
    // The standard library's reader takes digits of any length, so the fallback is never met.
    let read = |digits: String| digits.parse().unwrap_or(f64::NAN);
    read(ratio.numer().to_string()) / read(ratio.denom().to_string())
}

/// A rate as an exact fraction: 24.75 % is 99/400.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rate(Ratio);

impl Rate {
    /// Nothing.
    pub fn nothing() -> Self {
        Self(whole(0))
    }

    /// From its text in per cent, with or without the sign: `24`, `4.95 %`, `8,875`.
    ///
    /// # Errors
    /// [`MoneyFault::NotARate`].
    pub fn percent(text: &str) -> Result<Self, MoneyFault> {
        let typed = text.trim();
        let number = typed.strip_suffix('%').unwrap_or(typed).trim_end();
        let read: Decimal = number.parse().map_err(|_| MoneyFault::NotARate(text.to_owned()))?;
        Ok(Self(whole(read.mantissa) * whole(10).pow(read.exponent - 2)))
    }

    /// One part of so many: `Rate::parts(1, 6)` is the tax of 20 % inside a sum that includes it. `None` of 0.
    pub fn parts(part: i64, of: i64) -> Option<Self> {
        (of != 0).then(|| Self(Ratio::new(part.into(), of.into())))
    }

    /// What this rate of a sum comes to.
    pub fn of(&self, sum: Money) -> Exact {
        Exact { minor: &self.0 * whole(sum.minor()), currency: sum.currency() }
    }

    pub(crate) fn ratio(&self) -> &Ratio {
        &self.0
    }

    pub(crate) fn is_share(&self) -> bool {
        (whole(0)..=whole(1)).contains(&self.0)
    }
}

impl fmt::Display for Rate {
    /// In per cent, `4.95 %`; what no decimal can say stays a fraction, `1/6`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut scaled = &self.0 * whole(100);
        let mut places = 0;
        while !scaled.is_integer() {
            // A typed rate ends before this; a fraction that does not end is said as one.
            if places == 20 {
                return write!(f, "{}", self.0);
            }
            scaled *= whole(10);
            places += 1;
        }
        let sign = if scaled < whole(0) { "-" } else { "" };
        let digits = scaled.numer().magnitude().to_string();
        let padded = format!("{digits:0>width$}", width = places + 1);
        let (before, after) = padded.split_at(padded.len() - places);
        let point = if places == 0 { "" } else { "." };
        write!(f, "{sign}{before}{point}{after}\u{202F}%")
    }
}

/// A sum of money before it is rounded: any fraction of a minor unit.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Exact {
    minor: Ratio,
    currency: Currency,
}

/// How a figure is brought to whole minor units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the nearest, a half to the even neighbour.
    HalfEven,
    /// To the nearest, a half away from 0: what most invoices do.
    HalfAwayFromZero,
    /// The rest is dropped.
    TowardZero,
    /// Down, also below 0.
    Floor,
}

impl Exact {
    /// So many parts of a minor unit: `Exact::parts(5, 2, …)` is two and a half pence. `None` where `of` is 0.
    pub fn parts(part: i64, of: i64, currency: Currency) -> Option<Self> {
        (of != 0).then(|| Self { minor: Ratio::new(part.into(), of.into()), currency })
    }

    pub(crate) fn of_ratio(minor: Ratio, currency: Currency) -> Self {
        Self { minor, currency }
    }

    pub(crate) fn ratio(&self) -> &Ratio {
        &self.minor
    }

    /// Its currency.
    pub fn currency(&self) -> Currency {
        self.currency
    }

    /// Brought to whole minor units by a rule.
    ///
    /// # Errors
    /// [`MoneyFault::TooLarge`].
    pub fn round(&self, rule: Rounding) -> Result<Money, MoneyFault> {
        let rounded = match rule {
            Rounding::HalfAwayFromZero => self.minor.round(),
            Rounding::TowardZero => self.minor.trunc(),
            Rounding::Floor => self.minor.floor(),
            Rounding::HalfEven => half_even(&self.minor),
        };
        let minor = i64::try_from(rounded.to_integer()).map_err(|_| MoneyFault::TooLarge)?;
        Money::of_minor(minor, self.currency)
    }
}

impl From<Money> for Exact {
    fn from(sum: Money) -> Self {
        Self { minor: whole(sum.minor()), currency: sum.currency() }
    }
}

impl PartialOrd for Exact {
    /// By size; sums in two currencies have no order.
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        (self.currency == other.currency).then(|| self.minor.cmp(&other.minor))
    }
}

fn half_even(number: &Ratio) -> Ratio {
    let below = number.floor();
    let half = Ratio::new(1.into(), 2.into());
    if number - &below != half {
        return number.round();
    }
    let even = (&below / whole(2)).is_integer();
    if even { below } else { below + whole(1) }
}
