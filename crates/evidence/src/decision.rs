//! Whether what is said of a part stays the same for everybody who holds other assumptions inside the stated ranges.

use crate::{Assumptions, Dated, Instrument, Matter, WeighingFault};
use asfound_weigh::Probability;

/// From this probability on something is said without a question mark. A choice, no source.
pub const DECIDED: f64 = 0.8;

/// What a probability of being original comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Original with more than [`DECIDED`].
    Original,
    /// Replaced with more than [`DECIDED`].
    Replaced,
    /// Neither.
    Neither,
}

impl Verdict {
    /// What this probability of being original comes to.
    pub fn of(original: Probability) -> Verdict {
        match original.value() {
            original if original > DECIDED => Verdict::Original,
            original if original < 1.0 - DECIDED => Verdict::Replaced,
            _ => Verdict::Neither,
        }
    }
}

/// Which assumptions were moved to an end of their range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Moved {
    /// A single one, to this value.
    One(Matter, f64),
    /// Every one, to its least.
    AllToTheLeast,
    /// Every one, to its most.
    AllToTheMost,
    /// The figures of all signs, to the ends of their ranges that speak most for parts being original.
    SignsMostFor,
    /// The figures of all signs, to the ends of their ranges that speak most against it.
    SignsMostAgainst,
}

/// What is said of a part over all ranges.
#[derive(Debug, Clone, PartialEq)]
pub struct PartDecision {
    /// How probable it is that it is original, as stated.
    pub stated: Probability,
    /// The least that came out.
    pub least: Probability,
    /// The most that came out.
    pub most: Probability,
    /// What changes the verdict, and to what; empty where nothing does.
    pub turns: Vec<(Moved, Verdict)>,
}

impl PartDecision {
    /// The verdict if it says something and stays the same wherever a single assumption lies in its range, and if its
    /// side stays the more probable one even with every assumption at the same end at once. That no opinion of all
    /// extremes may lower it below [`DECIDED`] would be asked too much: nothing is then decided for anybody.
    pub fn decided(&self) -> Option<Verdict> {
        let stated = Verdict::of(self.stated);
        let turned =
            self.turns.iter().any(|(moved, _)| !matches!(moved, Moved::AllToTheLeast | Moved::AllToTheMost));
        let side_kept = match stated {
            Verdict::Original => self.least.value() > 0.5,
            Verdict::Replaced => self.most.value() < 0.5,
            Verdict::Neither => false,
        };
        (side_kept && !turned).then_some(stated)
    }
}

/// How probable a year of assembly is over all ranges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YearRange {
    /// The year.
    pub year: i32,
    /// As stated.
    pub stated: Probability,
    /// The least that came out.
    pub least: Probability,
    /// The most that came out.
    pub most: Probability,
}

/// What is said over all ranges.
#[derive(Debug, Clone, PartialEq)]
pub struct Decisions {
    /// The weighing with the assumptions as stated.
    pub stated: Dated,
    /// Part by part, in their order.
    pub parts: Vec<PartDecision>,
    /// Year by year, in their order.
    pub years: Vec<YearRange>,
}

impl Decisions {
    /// The year of assembly, if everybody would give it more than [`DECIDED`].
    pub fn year(&self) -> Option<i32> {
        self.years.iter().find(|range| range.least.value() > DECIDED).map(|range| range.year)
    }

    /// Takes in what is said of the same instrument with something moved to an end of its range, such as the figures of
    /// its signs. The parts and the months must be the same; what is not changed at all is not weighed again.
    ///
    /// # Errors
    /// [`WeighingFault`], as in [`Instrument::weigh`].
    pub fn also(&mut self, moved: Moved, other: &Instrument) -> Result<(), WeighingFault> {
        if other == self.stated.instrument() {
            return Ok(());
        }
        let dated = other.weigh()?;
        for (place, part) in self.parts.iter_mut().enumerate() {
            let original = dated.original(place);
            part.least = least(part.least, original);
            part.most = most(part.most, original);
            if Verdict::of(original) != Verdict::of(part.stated) {
                part.turns.push((moved, Verdict::of(original)));
            }
        }
        for range in &mut self.years {
            let share = dated.assembled().year(range.year);
            range.least = least(range.least, share);
            range.most = most(range.most, share);
        }
        Ok(())
    }
}

/// Weighs with the assumptions as stated, with each of them alone at each end of its range, and with all of them at
/// their least and at their most. `build` makes the instrument from assumptions, with the same parts and the same months
/// each time; what does not change it is not weighed again.
///
/// This looks at the ends alone: a probability that turned back inside a range would be missed.
///
/// # Errors
/// [`WeighingFault`], as in [`Instrument::weigh`], of the first weighing that is not possible.
pub fn decide(
    assumptions: &Assumptions,
    build: impl Fn(&Assumptions) -> Instrument,
) -> Result<Decisions, WeighingFault> {
    let stated = build(assumptions).weigh()?;
    let parts = (0..stated.instrument().parts.len()).map(|part| unmoved(&stated, part)).collect();
    let unmoved_year =
        |(year, share): (i32, Probability)| YearRange { year, stated: share, least: share, most: share };
    let years = stated.assembled().years().map(unmoved_year).collect();
    let mut decisions = Decisions { stated, parts, years };
    for (moved, others) in ends(assumptions) {
        decisions.also(moved, &build(&others))?;
    }
    Ok(decisions)
}

fn unmoved(dated: &Dated, part: usize) -> PartDecision {
    let stated = dated.original(part);
    PartDecision { stated, least: stated, most: stated, turns: vec![] }
}

fn least(one: Probability, other: Probability) -> Probability {
    if other < one { other } else { one }
}

fn most(one: Probability, other: Probability) -> Probability {
    if other > one { other } else { one }
}

/// The assumptions with one of them at an end of its range, then with all at their ends. A workshop's own value outside
/// the stated range is an end itself.
fn ends(assumptions: &Assumptions) -> Vec<(Moved, Assumptions)> {
    let (mut ends, mut lowest, mut highest) = (Vec::new(), assumptions.clone(), assumptions.clone());
    for row in Assumptions::all() {
        let (matter, value) = (row.matter, assumptions.value(row.matter));
        let (low, high) = (row.range.0.min(value), row.range.1.max(value));
        for end in [low, high] {
            ends.push((Moved::One(matter, end), assumptions.with(matter, end)));
        }
        lowest = lowest.with(matter, low);
        highest = highest.with(matter, high);
    }
    ends.push((Moved::AllToTheLeast, lowest));
    ends.push((Moved::AllToTheMost, highest));
    ends
}
