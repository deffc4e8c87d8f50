//! Times as people read them. They are testimony and are shown as they were written, never converted.

/// Names of the months.
pub(crate) const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// `3 November 2026` from an RFC 3339 text; the text itself where it is none.
pub fn day(at: &str) -> String {
    let read = || {
        let (year, month, day) = (at.get(..4)?, at.get(5..7)?.parse::<usize>().ok()?, at.get(8..10)?);
        Some(format!("{} {} {year}", day.trim_start_matches('0'), MONTHS.get(month.checked_sub(1)?)?))
    };
    read().unwrap_or_else(|| at.to_owned())
}

/// `2026-11-03 14:02` from an RFC 3339 text: date and time as the writer's clock showed them.
pub fn day_and_hour(at: &str) -> String {
    at.get(..16).map_or_else(|| at.to_owned(), |text| text.replace('T', " "))
}
