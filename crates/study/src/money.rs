//! Sums of money: whole minor units with a currency's three letters, never a float.

/// The largest sum that is kept: integers in the record stay below 2^53, so that every reader of JSON reads them alike
/// (RFC 8259, section 6).
const LARGEST: u64 = (1 << 53) - 1;

/// How many decimal digits a currency has after its sign: 2 for the pound and its 100 pence (ISO 4217). `None` for a
/// currency that is not known here.
pub fn minor_digits(currency: &str) -> Option<u32> {
    match currency {
        "AUD" | "BRL" | "CAD" | "CHF" | "CNY" | "CZK" | "DKK" | "EUR" | "GBP" | "HKD" | "HUF" | "ILS"
        | "INR" | "MXN" | "NOK" | "NZD" | "PLN" | "RON" | "SEK" | "SGD" | "THB" | "TRY" | "UAH" | "USD"
        | "ZAR" => Some(2),
        "CLP" | "ISK" | "JPY" | "KRW" => Some(0),
        "BHD" | "KWD" | "TND" => Some(3),
        _ => None,
    }
}

/// Decimal text to minor units: `12.5` of a currency with two digits is 1250. `None` where the text is no such sum, or
/// the currency is not known.
pub fn to_minor(text: &str, currency: &str) -> Option<i64> {
    let digits = minor_digits(currency)? as usize;
    let (negative, size) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(size) => (true, size),
        None => (false, text),
    };
    let (whole, part) = size.split_once(['.', ',']).unwrap_or((size, ""));
    let only_digits = whole.chars().chain(part.chars()).all(|sign| sign.is_ascii_digit());
    if !only_digits || whole.len() + part.len() == 0 || part.len() > digits {
        return None;
    }
    let minor: u64 = format!("{whole}{part:0<digits$}").parse().ok().filter(|minor| *minor <= LARGEST)?;
    let minor = i64::try_from(minor).ok()?;
    Some(if negative { -minor } else { minor })
}
