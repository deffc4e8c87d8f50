use std::fmt;

use super::MoneyFault;

/// A currency, by its three letters, with as many minor digits as ISO 4217 gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Currency {
    code: &'static str,
    minor_digits: u32,
}

/// Those that are known (ISO 4217, list one), by their minor digits.
const KNOWN: [(u32, &[&str]); 4] = [
    (0, &["CLP", "ISK", "JPY", "KRW"]),
    (
        2,
        &[
            "AUD", "BRL", "CAD", "CHF", "CNY", "CZK", "DKK", "EUR", "GBP", "HKD", "HUF", "ILS", "INR", "MXN",
            "NOK", "NZD", "PLN", "RON", "SEK", "SGD", "THB", "TRY", "UAH", "USD", "ZAR",
        ],
    ),
    (3, &["BHD", "JOD", "KWD", "OMR", "TND"]),
    (4, &["CLF"]),
];

impl Currency {
    /// The currency with these three letters, large ones.
    ///
    /// # Errors
    /// [`MoneyFault::UnknownCurrency`].
    pub fn of(code: &str) -> Result<Self, MoneyFault> {
        for (minor_digits, codes) in KNOWN {
            if let Some(code) = codes.iter().find(|known| **known == code) {
                return Ok(Self { code, minor_digits });
            }
        }
        Err(MoneyFault::UnknownCurrency(code.to_owned()))
    }

    /// Its three letters.
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// How many decimal digits follow its sign: 2 for the pound and its 100 pence.
    pub const fn minor_digits(self) -> u32 {
        self.minor_digits
    }

    /// Minor units in one whole one, for figures that are not known to the unit anyway.
    pub(crate) fn minor_per_unit(self) -> f64 {
        (0..self.minor_digits).fold(1.0, |units, _| units * 10.0)
    }

    /// A sum as it is typed, for a hint.
    pub(super) fn example(self) -> String {
        let digits = self.minor_digits as usize;
        if digits == 0 { "1800".to_owned() } else { format!("12.5{:0>width$}", 0, width = digits - 1) }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code)
    }
}
