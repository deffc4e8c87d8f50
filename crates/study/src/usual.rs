//! Is a coil's resistance usual? It is held against windows of its own construction, gauge and period, and no others.
//!
//! A window is either published figures, summed up, with the interval in which one more of the kind lies
//! ([`Sample::one_more`]), or a range that the trade goes by, which has no source. Ohms are never held across
//! constructions, and they say nothing of how loud a coil is.

use asfound_measure::{Dimension, Ohms, Sample, question_temperature, read, when_temperature_unknown};

use crate::difference::POOR_METER;
use crate::readings::{At20, ReadingStudied};

/// What makes coils alike, as far as it was said.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Kindred {
    /// One of [`CONSTRUCTIONS`].
    pub construction: Option<String>,
    /// American wire gauge.
    pub gauge: Option<u8>,
    /// First and last year in which it can have been made.
    pub period: Option<(u16, u16)>,
}

/// The constructions that windows are kept for.
pub const CONSTRUCTIONS: [&str; 6] =
    [SINGLE_OVER_RODS, DUAL_HALF, SMALL_DUAL_HALF, WIDE_FLAT, FOIL_FACED, SPLIT_HALF];

const SINGLE_OVER_RODS: &str = "single coil over rods";
const DUAL_HALF: &str = "dual coil half";
const SMALL_DUAL_HALF: &str = "small dual coil half";
const WIDE_FLAT: &str = "wide flat single coil";
const FOIL_FACED: &str = "foil-faced single coil";
const SPLIT_HALF: &str = "split coil half";

/// Published figures of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Published {
    /// One of [`CONSTRUCTIONS`].
    pub construction: &'static str,
    /// American wire gauge.
    pub gauge: u8,
    /// First and last year they stand for; `None` where the source gives none.
    pub period: Option<(u16, u16)>,
    /// Each figure: turns, and resistance in ohms at a temperature that was not written down.
    pub figures: &'static [(u32, f64)],
}

/// Where [`PUBLISHED`] is from: the years' figures from the first, those without a year from the second.
pub const PUBLISHED_SOURCE: &str =
    "a hobby compilation of winding specifications by year; one maker's published answers to questions";

/// Turn counts published beside resistances. Of the single coils by year there is one figure a year: on formvar wire up
/// to 1963; from 1964 on plain enamel comes in, and machine winding in 1965.
pub const PUBLISHED: [Published; 6] = [
    Published {
        construction: SINGLE_OVER_RODS,
        gauge: 42,
        period: Some((1954, 1963)),
        figures: &[
            (7956, 5760.0),
            (7844, 5890.0),
            (8012, 5980.0),
            (8105, 6020.0),
            (8350, 6200.0),
            (7925, 5950.0),
            (8293, 6330.0),
            (8119, 6190.0),
            (8220, 6220.0),
            (8319, 6370.0),
        ],
    },
    Published {
        construction: SINGLE_OVER_RODS,
        gauge: 42,
        period: Some((1964, 1967)),
        figures: &[(7980, 6250.0), (7626, 5800.0), (7630, 5760.0), (7656, 5880.0)],
    },
    Published {
        construction: SINGLE_OVER_RODS,
        gauge: 42,
        period: None,
        figures: &[(7875, 6000.0), (7945, 6000.0)],
    },
    // "Late 1950s" in the source.
    Published { construction: DUAL_HALF, gauge: 42, period: Some((1955, 1959)), figures: &[(5000, 4000.0)] },
    Published {
        construction: SMALL_DUAL_HALF,
        gauge: 42,
        period: None,
        figures: &[(4250, 3500.0), (4250, 3350.0)],
    },
    Published { construction: WIDE_FLAT, gauge: 42, period: None, figures: &[(10_000, 8000.0)] },
];

/// Ranges that the trade goes by. Common practice, no source.
const TRADE: [(&str, u8, f64, f64); 7] = [
    (SINGLE_OVER_RODS, 42, 5500.0, 6800.0),
    (SINGLE_OVER_RODS, 43, 7000.0, 8200.0),
    (DUAL_HALF, 42, 3500.0, 4500.0),
    (SMALL_DUAL_HALF, 42, 3000.0, 3800.0),
    (WIDE_FLAT, 42, 7000.0, 9000.0),
    // Both ends were seen in healthy coils of one family.
    (FOIL_FACED, 44, 5300.0, 6300.0),
    (SPLIT_HALF, 42, 4800.0, 6000.0),
];

/// How many in a hundred of one more like it lie in the interval of [`Window::interval`].
pub const SHARE: f64 = 0.95;

/// What a window rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rests {
    /// Published figures ([`PUBLISHED_SOURCE`]).
    Published(Sample<Ohms>),
    /// A range that the trade goes by; common practice, no source.
    Trade {
        /// The lowest.
        low: Ohms,
        /// The highest.
        high: Ohms,
    },
}

/// What coils of one kind are known to read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// One of [`CONSTRUCTIONS`].
    pub construction: &'static str,
    /// American wire gauge.
    pub gauge: u8,
    /// First and last year; `None` where it is not tied to years.
    pub period: Option<(u16, u16)>,
    /// What it rests on.
    pub rests: Rests,
}

impl Window {
    /// Where one more of the kind lies, 95 in 100: the prediction interval of published figures, or the trade's range.
    /// `None` where one figure, or figures that are all the same, say nothing of a spread.
    pub fn interval(&self) -> Option<(Ohms, Ohms)> {
        match self.rests {
            Rests::Published(sample) => sample.one_more(SHARE),
            Rests::Trade { low, high } => Some((low, high)),
        }
    }
}

/// Every window: the published ones first.
pub fn windows() -> Vec<Window> {
    let published = PUBLISHED.iter().filter_map(|published| {
        let figures: Vec<Ohms> = published.figures.iter().map(|(_, ohms)| Ohms(*ohms)).collect();
        Some(Window {
            construction: published.construction,
            gauge: published.gauge,
            period: published.period,
            rests: Rests::Published(Sample::of(&figures)?),
        })
    });
    let trade = TRADE.map(|(construction, gauge, low, high)| Window {
        construction,
        gauge,
        period: None,
        rests: Rests::Trade { low: Ohms(low), high: Ohms(high) },
    });
    published.chain(trade).collect()
}

/// A coil's resistance at 20 °C as it is held against windows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtTwenty {
    /// The value, or the middle of its range where no temperature was taken.
    pub value: Ohms,
    /// The lowest it may well be: less twice its standard uncertainty, or as in a room of 25 °C.
    pub low: Ohms,
    /// The highest it may well be: with twice its standard uncertainty, or as in a room of 15 °C.
    pub high: Ohms,
}

impl AtTwenty {
    /// The resistance of a winding; `None` for what has no value at 20 °C. Where the meter's accuracy is not known, both
    /// ends are as far out as a poor meter would put them, so that what is said of the coil holds for any in order. A
    /// temperature that no coil is read at ([`question_temperature`]) counts as not taken.
    pub fn of(reading: &ReadingStudied) -> Option<AtTwenty> {
        let shown = reading.shown.as_ref()?;
        let meter = shown.meter_half_width.map(Ohms);
        let poor = || POOR_METER.half_width(Ohms(shown.value), Ohms(shown.last_place));
        let at_20 = match reading.at_20.as_ref()? {
            At20::Known(_) if is_temperature_odd(reading) => {
                let (low, high) = when_temperature_unknown(Ohms(shown.value));
                At20::Between(low, high)
            }
            as_studied => as_studied.clone(),
        };
        let (value, below, above) = match at_20 {
            At20::Known(worked) => {
                let of_it = Ohms(worked.expanded(2.0));
                let half = if meter.is_some() { of_it } else { of_it + poor() };
                (Ohms(worked.value), half, half)
            }
            At20::Between(low, high) => {
                let value = (low + high) * 0.5;
                let meter = meter.unwrap_or_else(poor);
                (value, value - low + meter, high - value + meter)
            }
        };
        Some(AtTwenty { value, low: value - below, high: value + above })
    }
}

fn is_temperature_odd(reading: &ReadingStudied) -> bool {
    let typed = reading.temperature.as_ref().and_then(|(text, _)| read(text, Dimension::Temperature).ok());
    typed.is_some_and(|written| question_temperature(&written).is_some())
}

/// Where a value lies against an interval.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// Inside, with all of its uncertainty.
    Within,
    /// Above, with all of its uncertainty.
    Above,
    /// Below, with all of its uncertainty.
    Below,
    /// Its uncertainty reaches over an end: not decided.
    OnTheEdge,
    /// There is no interval to hold it against.
    CannotTell,
}

/// Where a coil lies against an interval.
pub fn position(coil: &AtTwenty, interval: Option<(Ohms, Ohms)>) -> Position {
    let Some((low, high)) = interval else { return Position::CannotTell };
    if coil.low > high {
        Position::Above
    } else if coil.high < low {
        Position::Below
    } else if coil.low >= low && coil.high <= high {
        Position::Within
    } else {
        Position::OnTheEdge
    }
}

/// A coil held against one window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// The window.
    pub window: Window,
    /// Its interval.
    pub interval: Option<(Ohms, Ohms)>,
    /// Where the coil lies.
    pub position: Position,
    /// The gauge was said; otherwise the coil may be of another.
    pub gauge_said: bool,
    /// The period was said, or the window is tied to none; otherwise the coil may be of another.
    pub period_said: bool,
}

/// Why a coil is held against nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoWindow {
    /// Its construction was not said; any of [`CONSTRUCTIONS`] would do.
    ConstructionNotSaid,
    /// Nothing is known of this construction.
    OfConstruction(String),
    /// Nothing is known of this construction in this gauge; in these there is.
    OfGauge(Vec<u8>),
    /// Nothing is known of this construction and gauge in this period; in these there is.
    OfPeriod(Vec<(u16, u16)>),
}

/// Holds a coil against the windows of its own kind, in the order of [`windows`]. What was not said of it does not narrow
/// the choice, and each window says so.
///
/// # Errors
/// [`NoWindow`], with what would have to be said to get one.
pub fn held(coil: &AtTwenty, kindred: &Kindred) -> Result<Vec<Held>, NoWindow> {
    let construction = kindred.construction.as_deref().ok_or(NoWindow::ConstructionNotSaid)?;
    let mut left = windows();
    left.retain(|window| window.construction == construction);
    if left.is_empty() {
        return Err(NoWindow::OfConstruction(construction.to_owned()));
    }
    let mut gauges: Vec<u8> = left.iter().map(|window| window.gauge).collect();
    left.retain(|window| kindred.gauge.is_none_or(|gauge| gauge == window.gauge));
    if left.is_empty() {
        gauges.sort_unstable();
        gauges.dedup();
        return Err(NoWindow::OfGauge(gauges));
    }
    let periods: Vec<(u16, u16)> = left.iter().filter_map(|window| window.period).collect();
    left.retain(|window| may_be_of(kindred.period, window.period));
    if left.is_empty() {
        return Err(NoWindow::OfPeriod(periods));
    }
    let hold = |window: Window| {
        let interval = window.interval();
        Held {
            window,
            interval,
            position: position(coil, interval),
            gauge_said: kindred.gauge.is_some(),
            period_said: kindred.period.is_some() || window.period.is_none(),
        }
    };
    Ok(left.into_iter().map(hold).collect())
}

/// Whether two periods have a year in common; one that was not said may.
pub(crate) fn may_be_of(one: Option<(u16, u16)>, other: Option<(u16, u16)>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => one.0 <= other.1 && other.0 <= one.1,
        _ => true,
    }
}
