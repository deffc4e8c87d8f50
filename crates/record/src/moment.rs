//! Times as they are written (RFC 3339), read only to see whether a clock stepped back.

/// A time as seconds and nanoseconds since 1970 in UTC; `None` where the text is not one (RFC 3339 §5.6).
///
/// It holds no calendar beyond that: whether a day of a month exists is checked, whether a leap second does is not.
pub(crate) fn instant(text: &str) -> Option<(i64, u32)> {
    let (date, rest) = text.split_at_checked(10)?;
    let rest = rest.strip_prefix(['T', 't'])?;
    let (clock, rest) = rest.split_at_checked(8)?;
    let [year, month, day] = numbers(date, '-', [4, 2, 2])?;
    let [hour, minute, second] = numbers(clock, ':', [2, 2, 2])?;
    let (nanoseconds, offset) = fraction(rest)?;
    let fits = (1..=12).contains(&month) && (1..=days_in(year, month)).contains(&day);
    if !fits || hour > 23 || minute > 59 || second > 60 {
        return None;
    }
    let seconds = days_since_1970(year, month, day) * 86_400 + hour * 3600 + minute * 60 + second;
    Some((seconds - offset_seconds(offset)?, nanoseconds))
}

fn numbers<const N: usize>(text: &str, between: char, widths: [usize; N]) -> Option<[i64; N]> {
    let mut pieces = text.split(between);
    let mut read = [0; N];
    for (number, width) in read.iter_mut().zip(widths) {
        let piece = pieces.next()?;
        *number = digits(piece).filter(|_| piece.len() == width)?;
    }
    pieces.next().is_none().then_some(read)
}

fn digits(text: &str) -> Option<i64> {
    if text.bytes().all(|sign| sign.is_ascii_digit()) { text.parse().ok() } else { None }
}

fn fraction(rest: &str) -> Option<(u32, &str)> {
    let Some(rest) = rest.strip_prefix('.') else { return Some((0, rest)) };
    let end = rest.bytes().position(|sign| !sign.is_ascii_digit())?;
    let (fraction, offset) = rest.split_at(end);
    if fraction.is_empty() {
        return None;
    }
    // What lies beyond a nanosecond is left off.
    let nine: String = fraction.chars().chain("000000000".chars()).take(9).collect();
    Some((nine.parse().ok()?, offset))
}

fn offset_seconds(text: &str) -> Option<i64> {
    if matches!(text, "Z" | "z") {
        return Some(0);
    }
    let (sign, clock) = text.split_at_checked(1)?;
    let [hours, minutes] = numbers(clock, ':', [2, 2])?;
    let size = hours * 3600 + minutes * 60;
    match sign {
        _ if hours > 23 || minutes > 59 => None,
        "+" => Some(size),
        "-" => Some(-size),
        _ => None,
    }
}

fn is_leap(year: i64) -> bool {
    (year % 4 == 0 && year % 100 != 0) || year % 400 == 0
}

fn days_in(year: i64, month: i64) -> i64 {
    match month {
        2 if is_leap(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// Days from 1970-01-01 in the Gregorian calendar (ISO 8601), counted forward or back month by month.
fn days_since_1970(year: i64, month: i64, day: i64) -> i64 {
    let before = year - 1;
    let leap_days = before / 4 - before / 100 + before / 400 - 477;
    let days_of_months: i64 = (1..month).map(|month| days_in(year, month)).sum();
    (year - 1970) * 365 + leap_days + days_of_months + day - 1
}

/// Whether `now` says an earlier time than `before`. Texts that are no times say nothing.
pub(crate) fn steps_back(before: &str, now: &str) -> bool {
    matches!((instant(before), instant(now)), (Some(before), Some(now)) if now < before)
}

#[cfg(test)]
mod tests {
    use super::instant;

    #[test]
    fn the_examples_of_rfc_3339_section_5_8() {
        // Seconds since 1970 by `date -u -d … +%s` of the GNU core utilities.
        assert_eq!(instant("1985-04-12T23:20:50.52Z"), Some((482_196_050, 520_000_000)));
        assert_eq!(instant("1996-12-19T16:39:57-08:00"), Some((851_042_397, 0)));
        assert_eq!(instant("1996-12-20T00:39:57Z"), Some((851_042_397, 0)));
        // A leap second is read as the second after it.
        assert_eq!(instant("1990-12-31T23:59:60Z"), instant("1991-01-01T00:00:00Z"));
        assert_eq!(instant("1990-12-31T15:59:60-08:00"), instant("1990-12-31T23:59:60Z"));
        assert_eq!(instant("1937-01-01T12:00:27.87+00:20"), Some((-1_041_337_173, 870_000_000)));
        assert_eq!(instant("1970-01-01T00:00:00Z"), Some((0, 0)));
        assert_eq!(instant("2024-02-29T00:00:00Z"), Some((1_709_164_800, 0)));
    }

    #[test]
    fn what_is_not_a_time_is_not_read_as_one() {
        for text in [
            "",
            "yesterday",
            "2026-11-25",
            "2026-11-25T09:30:00",
            "2026-11-25 09:30:00Z",
            "2026-13-01T00:00:00Z",
            "2026-02-29T00:00:00Z",
            "2026-11-25T24:00:00Z",
            "2026-11-25T09:60:00Z",
            "2026-11-25T09:30:00.Z",
            "2026-11-25T09:30:00+1",
            "2026-11-25T09:30:00+24:00",
            "2026-11-25T09:30:00Zz",
            "+026-11-25T09:30:00Z",
            "ä026-11-25T09:30:00Z",
            "2026-11-25T09:30:00.5",
        ] {
            assert_eq!(instant(text), None, "{text}");
        }
    }
}
