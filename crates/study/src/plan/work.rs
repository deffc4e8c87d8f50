//! The bench's own terms: a rate by the hour, opening hours, the room; what the owner agreed to; what is due later.

use asfound_measure::Celsius;
use asfound_plan::library::Room;
use asfound_plan::money::{Currency, Money, Rate};
use asfound_plan::{Bench, Opening};
use jiff::civil::{Date, Time};
use jiff::fmt::temporal::Pieces;
use jiff::tz::{Offset, TimeZone};
use jiff::{Timestamp, ToSpan};

use super::said::{Clause, Unread, cut};
use super::task::Choice;

/// What is said of the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchSaid {
    /// What an hour of hands costs.
    pub rate: Option<Money>,
    /// On which days of the week, Monday first, and from when to when.
    pub open: Option<([bool; 7], Time, Time)>,
    /// Days off.
    pub closed: Vec<Date>,
    /// How warm the room is where work stands to cure.
    pub room: Option<Room>,
    /// The rule by which the clocks change.
    pub clocks: Option<String>,
    /// The unit by which time is billed, in minutes.
    pub billed_by: Option<u32>,
    /// The tax on what is charged.
    pub tax: Option<Rate>,
    /// The entries that were read.
    pub rests_on: Vec<u64>,
    /// What could not be read.
    pub unread: Vec<Unread>,
}

/// Open until the bench says otherwise: common practice, no source.
pub const USUAL_HOURS: &str = "Monday to Friday from 9:00 to 17:00";

/// The room until the bench says otherwise.
pub const USUAL_ROOM: Room = Room { coldest: Celsius(15.0), warmest: Celsius(25.0) };

/// Reads what was said of the bench.
pub(super) fn read<'a>(said: impl Iterator<Item = (u64, &'a str)>, currency: Option<Currency>) -> BenchSaid {
    let mut bench = BenchSaid {
        rate: None,
        open: None,
        closed: Vec::new(),
        room: None,
        clocks: None,
        billed_by: None,
        tax: None,
        rests_on: Vec::new(),
        unread: Vec::new(),
    };
    for (seq, words) in said {
        bench.rests_on.push(seq);
        for clause in cut(seq, words) {
            if let Err(unread) = bench.take(&clause, currency) {
                bench.unread.push(unread);
            }
        }
    }
    bench
}

impl BenchSaid {
    fn take(&mut self, clause: &Clause, currency: Option<Currency>) -> Result<(), Unread> {
        let begins = |words| clause.begins(words);
        if begins("rate") {
            let sum = clause.sums(currency)?.into_iter().next();
            self.rate =
                Some(sum.ok_or_else(|| clause.unread("a sum is wanted, for instance rate 60 GBP an hour"))?);
        } else if begins("open") {
            self.open = Some(opening(clause)?);
        } else if begins("closed") {
            let days: Vec<Date> =
                clause.text.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            if days.is_empty() {
                return Err(clause.unread("a day is wanted, for instance closed 2026-12-24"));
            }
            self.closed.extend(days);
        } else if begins("room") {
            self.room = Some(room(clause)?);
        } else if begins("clocks") {
            let rule = clause.text.get(6..).unwrap_or_default().trim();
            TimeZone::posix(rule).map_err(|_| clause.unread(CLOCKS))?;
            self.clocks = Some(rule.to_owned());
        } else if begins("tax") {
            let rate = clause.rates().into_iter().next();
            self.tax = Some(rate.ok_or_else(|| clause.unread("a rate is wanted, for instance tax 20 %"))?);
        } else if begins("billed by") {
            let minutes = match clause.has("quarter") {
                true => Some(15),
                false => {
                    clause.figures().first().and_then(|typed| typed.parse().ok()).filter(|unit| *unit > 0)
                }
            };
            let minutes = minutes
                .ok_or_else(|| clause.unread("the unit is wanted, for instance billed by quarter hours"))?;
            self.billed_by = Some(minutes);
        } else {
            return Err(clause.unread(
                "say one thing to a clause, for instance rate 60 GBP an hour, open weekdays 9 to 17, room 15 to 22 C",
            ));
        }
        Ok(())
    }

    /// The bench's calendar; `at` is the clock of an entry, whose offset stands in for a rule that was not said.
    pub(super) fn bench(&self, at: &str) -> Result<Bench, asfound_plan::CalendarFault> {
        let offset = Pieces::parse(at).ok().and_then(|pieces| pieces.to_numeric_offset());
        let fixed = TimeZone::fixed(offset.unwrap_or(Offset::UTC));
        let zone = self.clocks.as_ref().and_then(|rule| TimeZone::posix(rule).ok()).unwrap_or(fixed);
        let hour = |hour| Time::constant(hour, 0, 0, 0);
        let weekdays = [true, true, true, true, true, false, false];
        let (days, from, until) = self.open.unwrap_or((weekdays, hour(9), hour(17)));
        let week = days.map(|open| if open { vec![Opening { from, until }] } else { Vec::new() });
        self.closed.iter().try_fold(Bench::new(zone, week)?, |bench, day| bench.on(*day, Vec::new()))
    }
}

const CLOCKS: &str = "the rule of the clocks is read as IEEE Std 1003.1 writes it, for instance clocks GMT0BST,M3.5.0/1,M10.5.0";

/// `open weekdays 9 to 17`, `open every day 10:30 to 14`, `open monday thursday 9 to 12`.
fn opening(clause: &Clause) -> Result<([bool; 7], Time, Time), Unread> {
    let fail = || clause.unread("days and two times are wanted, for instance open weekdays 9 to 17");
    let time = |typed: &str| {
        let (hour, minute) = typed.split_once(':').unwrap_or((typed, "0"));
        Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
    };
    let times: Option<Vec<Time>> = clause.figures().into_iter().map(time).collect();
    let Some([from, until]) = times.as_deref() else { return Err(fail()) };
    let names = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
    let named = names.map(|name| clause.has(name));
    let days = if named.contains(&true) {
        named
    } else if clause.has("every") || clause.has("daily") {
        [true; 7]
    } else {
        [true, true, true, true, true, false, false]
    };
    Ok((days, *from, *until))
}

fn room(clause: &Clause) -> Result<Room, Unread> {
    let read: Option<Vec<f64>> =
        clause.figures().iter().map(|typed| typed.trim_end_matches('C').parse().ok()).collect();
    match read.as_deref() {
        Some([only]) => Ok(Room { coldest: Celsius(*only), warmest: Celsius(*only) }),
        Some([cold, warm]) if cold <= warm => Ok(Room { coldest: Celsius(*cold), warmest: Celsius(*warm) }),
        _ => Err(clause.unread("degrees Celsius are wanted, the colder first, for instance room 15 to 22 C")),
    }
}

/// What the owner agreed to, or changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Agreed {
    /// The entry.
    pub seq: u64,
    /// When it was written.
    pub at: String,
    /// Which choice.
    pub choice: Option<Choice>,
    /// Up to which sum, without asking again.
    pub ceiling: Option<Money>,
    /// As said.
    pub words: String,
}

pub(super) fn read_agreed(
    seq: u64,
    at: &str,
    words: &str,
    currency: Option<Currency>,
) -> Result<Agreed, Unread> {
    let clauses = cut(seq, words);
    let ceiling = clauses.iter().find(|clause| clause.begins("up to") || clause.begins("ceiling"));
    let ceiling = ceiling.map(|clause| clause.sums(currency)).transpose()?;
    let choice = clauses.iter().find_map(|clause| Choice::read(&clause.text));
    let ceiling = ceiling.and_then(|sums| sums.into_iter().next());
    if choice.is_none() && ceiling.is_none() {
        let sentence = "what was agreed is not said; name the choice or the sum, for instance agreed restore, up to 1800 \
                        GBP, by telephone";
        return Err(Unread::new(seq, words, sentence));
    }
    Ok(Agreed { seq, at: at.to_owned(), choice, ceiling, words: words.to_owned() })
}

/// What is to be looked at again, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Due {
    /// The entry.
    pub seq: u64,
    /// On which day.
    pub day: Date,
    /// What.
    pub words: String,
}

/// `due guard looked at for gassing 2027-05-01`, `due bias in 6 months`.
pub(super) fn read_due(seq: u64, at: &str, words: &str) -> Result<Due, Unread> {
    let written = day_of(at);
    let mut day = None;
    let mut what = Vec::new();
    let mut rest: Vec<&str> = words.split_whitespace().collect();
    if let [.., "in", count, unit] = rest.as_slice()
        && let (Some(written), Ok(count)) = (written, count.parse::<i32>())
    {
        let span = match unit.trim_end_matches('s') {
            "day" => Some(count.days()),
            "week" => Some(count.weeks()),
            "month" => Some(count.months()),
            "year" => Some(count.years()),
            _ => None,
        };
        day = span.and_then(|span| written.checked_add(span).ok());
        rest.truncate(rest.len() - 3);
    }
    for word in rest {
        match word.trim_end_matches(',').parse::<Date>() {
            Ok(read) if day.is_none() => day = Some(read),
            _ => what.push(word),
        }
    }
    let what = what.join(" ").trim_end_matches(',').to_owned();
    match day {
        Some(day) if !what.is_empty() => Ok(Due { seq, day, words: what }),
        _ => {
            Err(Unread::new(seq, words, "a due date needs what and when, for instance due bias in 6 months"))
        }
    }
}

/// The day that an entry's clock showed.
pub(super) fn day_of(at: &str) -> Option<Date> {
    Pieces::parse(at).ok().map(|pieces| pieces.date())
}

/// The moment of an entry.
pub(super) fn moment_of(at: &str) -> Option<Timestamp> {
    at.parse().ok()
}
