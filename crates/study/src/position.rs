//! Which coil belongs where: physical fit and witness marks first, turns next, ohms last.
//!
//! The poles of a coil stand under its strings, and strings spread towards the bridge: what fits tells more than any
//! reading. Where nothing else tells, the coil with more turns is offered for the bridge, where strings swing least. The
//! usual spans are common practice, no source.

use asfound_measure::{Millimetres, Ohms};
use asfound_record::Job;

use crate::readings::{At20, ReadingStudied};

/// Poles that span less than this sit better under the strings at the neck. Common practice, no source.
pub const NECK_SPAN: Millimetres = Millimetres(50.0);
/// Poles that span this much or more sit better at the bridge. Common practice, no source.
pub const BRIDGE_SPAN: Millimetres = Millimetres(52.0);
/// Spans nearer than this are not told apart by a ruler.
const SAME_SPAN: Millimetres = Millimetres(1.0);
/// Fewer turns apart than this are wound alike.
const ALIKE: f64 = 0.03;

/// A coil that is to find its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Loose {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// What construction was said, as [`crate::said`] reads it.
    pub construction: Option<String>,
    /// Span of the outer poles, with the entry.
    pub span: Option<(u64, Millimetres)>,
    /// Turns, where they are known, with the entry.
    pub turns: Option<(u64, f64)>,
    /// Resistance at 20 °C, or in the middle of its range where no temperature was taken, with the entry.
    pub ohms: Option<(u64, Ohms)>,
}

/// Why a coil is offered for the bridge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Because {
    /// Its poles span more than the other's.
    Span {
        /// The wider.
        wider: Millimetres,
        /// The narrower.
        narrower: Millimetres,
    },
    /// It has more turns, by this factor, and so about the square of it in inductance.
    Turns(f64),
    /// It has more ohms, by this factor, with the same construction; turns follow a little less than in proportion.
    Ohms(f64),
}

/// What can be said of which goes where.
#[derive(Debug, Clone, PartialEq)]
pub enum Placed {
    /// One is offered for the bridge and one for the neck.
    Offered {
        /// For the bridge.
        bridge: Box<Loose>,
        /// For the neck.
        neck: Box<Loose>,
        /// Why.
        because: Because,
        /// What resistance the turns let expect of the one for the bridge, from the other's: for a check that the wire
        /// is the same. Only where turns and ohms of both are known.
        expected: Option<Ohms>,
    },
    /// Nothing that was found tells them apart.
    CannotTell(Vec<Loose>),
}

/// Coils whose place is not known, paired two by two in the order they were named. Nothing is said of fewer than two.
pub fn study(
    job: &Job,
    readings: &[ReadingStudied],
    construction: impl Fn(&str) -> Option<String>,
) -> Option<Placed> {
    let loose: Vec<Loose> = job
        .parts
        .iter()
        .map(|part| &part.item.body)
        .filter(|body| body.sort == "coil" && is_unplaced(&body.place))
        .map(|body| one(&body.part, &body.name, readings, construction(&body.part)))
        .collect();
    match loose.as_slice() {
        [first, second] => Some(place(first, second)),
        [] | [_] => None,
        _ => Some(Placed::CannotTell(loose)),
    }
}

/// Words for a place that nobody knows.
fn is_unplaced(place: &str) -> bool {
    let place = place.to_lowercase();
    ["not known", "unknown", "?", "loose", "unlabelled"].iter().any(|word| place.contains(word))
}

fn one(part: &str, name: &str, readings: &[ReadingStudied], construction: Option<String>) -> Loose {
    let last = |quantity: &str| {
        readings.iter().rev().find(|reading| reading.part == part && reading.quantity == quantity)
    };
    let number = |quantity: &str| {
        let reading = last(quantity)?;
        Some((reading.seq, reading.shown.as_ref()?.value))
    };
    let ohms = last("resistance").and_then(|reading| {
        let ohms = match reading.at_20.as_ref()? {
            At20::Known(worked) => Ohms(worked.value),
            At20::Between(low, high) => Ohms((low.0 + high.0) / 2.0),
        };
        Some((reading.seq, ohms))
    });
    Loose {
        part: part.to_owned(),
        name: name.to_owned(),
        construction,
        span: number("pole span").map(|(seq, value)| (seq, Millimetres(value))),
        turns: number("turns"),
        ohms,
    }
}

fn place(first: &Loose, second: &Loose) -> Placed {
    let offered = |bridge_is_first: bool, because: Because| {
        let (bridge, neck) = if bridge_is_first { (first, second) } else { (second, first) };
        let expected = || {
            let (more, fewer) = (bridge.turns?.1, neck.turns?.1);
            bridge.ohms?;
            Some(Ohms(neck.ohms?.1.0 * more / fewer))
        };
        let expected = expected();
        Placed::Offered { bridge: Box::new(bridge.clone()), neck: Box::new(neck.clone()), because, expected }
    };
    if let (Some((_, a)), Some((_, b))) = (first.span, second.span)
        && (a.0 - b.0).abs() >= SAME_SPAN.0
    {
        let (wider, narrower) = if a.0 > b.0 { (a, b) } else { (b, a) };
        return offered(a.0 > b.0, Because::Span { wider, narrower });
    }
    if let Some((first_has_more, factor)) = more(first.turns.map(|it| it.1), second.turns.map(|it| it.1)) {
        return offered(first_has_more, Because::Turns(factor));
    }
    // Ohms are compared within one construction only, and only where both are known to be of it.
    let alike = first.construction.is_some() && first.construction == second.construction;
    if alike
        && let Some((first_has_more, factor)) =
            more(first.ohms.map(|it| it.1.0), second.ohms.map(|it| it.1.0))
    {
        return offered(first_has_more, Because::Ohms(factor));
    }
    Placed::CannotTell(vec![first.clone(), second.clone()])
}

/// Whether the first is more, and by which factor; `None` where they are alike or not both known.
fn more(first: Option<f64>, second: Option<f64>) -> Option<(bool, f64)> {
    let (first, second) = (first.filter(|it| *it > 0.0)?, second.filter(|it| *it > 0.0)?);
    let factor = first.max(second) / first.min(second);
    (factor > 1.0 + ALIKE).then_some((first > second, factor))
}
