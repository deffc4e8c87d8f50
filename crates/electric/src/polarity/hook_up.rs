//! The ways to join two coils on four leads.

use asfound_measure::Ohms;

use super::found::{CoilSeen, Found, Lead, PolarityError};
use super::solve::{HumTogether, Phase, Polarity};

/// One lead of one coil.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CoilLead {
    /// Which coil.
    pub coil: usize,
    /// Which of its leads.
    pub lead: Lead,
    /// What it is called.
    pub name: String,
}

/// Two coils in series and in phase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HookUp {
    /// The lead to the hot output.
    pub hot: CoilLead,
    /// The two leads that are joined and go nowhere else.
    pub joined: [CoilLead; 2],
    /// The lead to ground.
    pub ground: CoilLead,
    /// Whether hot goes positive when steel touches; `None` where only the coils' relation is known. It matters beside
    /// another pickup. Hot and ground exchanged, and everything in metal left on ground, turns it over.
    pub hot_positive: Option<bool>,
}

/// Two coils side by side and in phase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParallelHookUp {
    /// The leads to the hot output.
    pub hot: [CoilLead; 2],
    /// The leads to ground.
    pub ground: [CoilLead; 2],
}

/// The ways to join two coils, and what a meter shows then. A bare wire, which is a screen and no lead, always goes to
/// ground.
#[derive(Debug, Clone, PartialEq)]
pub struct HookUps {
    /// Both ways in series.
    pub series: [HookUp; 2],
    /// Side by side.
    pub parallel: ParallelHookUp,
    /// What the series hook-ups read between hot and ground, where both coils were metered.
    pub series_ohms: Option<Ohms>,
    /// What the parallel hook-up reads, where both coils were metered.
    pub parallel_ohms: Option<Ohms>,
    /// Joins in the middle of a series that would put the coils out of phase. No reading in ohms tells them from the
    /// right ones.
    pub out_of_phase: [[CoilLead; 2]; 2],
    /// What the coils do to hum in all these hook-ups; `None` until a compass has been at both.
    pub hum: Option<HumTogether>,
}

/// What a join in the middle of a series does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// The coils add.
    InPhase,
    /// The coils take from each other.
    OutOfPhase,
    /// Both leads are of one coil: it is shorted.
    ShortsCoil,
    /// It hangs on tap tests that are missing.
    CannotTell,
}

/// Whether the positive ends of two coils are the same one of their leads; known from taps on both, or from ears and
/// the leads at hot.
fn ends_alike(polarity: &Polarity, a: usize, b: usize) -> Option<bool> {
    let (one, other) = (&polarity.coils[a], &polarity.coils[b]);
    if let (Some(one), Some(other)) = (one.positive_end, other.positive_end) {
        return Some(one == other);
    }
    let phase = polarity.relation(a, b)?.phase?;
    Some((one.hot? == other.hot?) == (phase == Phase::In))
}

fn two(found: &Found, a: usize, b: usize) -> Result<(&CoilSeen, &CoilSeen), PolarityError> {
    let (one, other) = (found.coil(a)?, found.coil(b)?);
    if a == b {
        return Err(PolarityError::PairedWithItself { coil: one.name.clone() });
    }
    Ok((one, other))
}

/// Every way to join two coils in phase.
///
/// # Errors
/// [`PolarityError::PositiveEndUnknown`] naming the coils to tap first; [`PolarityError::NoSuchCoil`] or
/// [`PolarityError::PairedWithItself`] for a wrong question.
pub fn hook_ups(found: &Found, polarity: &Polarity, a: usize, b: usize) -> Result<HookUps, PolarityError> {
    let (one, other) = two(found, a, b)?;
    let Some(alike) = ends_alike(polarity, a, b) else {
        let missing = |&coil: &usize| polarity.coils[coil].positive_end.is_none();
        let coils = [a, b].into_iter().filter(missing).map(|coil| found.coils[coil].name.clone()).collect();
        return Err(PolarityError::PositiveEndUnknown { coils });
    };
    // Where only the relation is known, either end may be called positive, and the hook-ups are the same.
    let known = polarity.coils[a].positive_end.or_else(|| {
        let other = polarity.coils[b].positive_end?;
        Some(if alike { other } else { other.other() })
    });
    let positive_a = known.unwrap_or(Lead::First);
    let positive_b = if alike { positive_a } else { positive_a.other() };
    let lead =
        |coil: usize, lead: Lead| CoilLead { coil, lead, name: found.coils[coil].name_of(lead).to_owned() };
    let ends = [(a, positive_a), (b, positive_b)];
    let plus = ends.map(|(coil, positive)| lead(coil, positive));
    let minus = ends.map(|(coil, positive)| lead(coil, positive.other()));
    let series = |first: usize| HookUp {
        hot: plus[first].clone(),
        joined: [minus[first].clone(), plus[1 - first].clone()],
        ground: minus[1 - first].clone(),
        hot_positive: known.map(|_| true),
    };
    let ohms = one.resistance.zip(other.resistance);
    let magnets = polarity.relation(a, b).and_then(|relation| relation.magnets_alike);
    Ok(HookUps {
        series: [series(0), series(1)],
        parallel: ParallelHookUp { hot: plus.clone(), ground: minus.clone() },
        series_ohms: ohms.map(|(one, other)| one + other),
        parallel_ohms: ohms.map(|(Ohms(one), Ohms(other))| Ohms(side_by_side(one, other))),
        out_of_phase: [plus.clone(), minus.clone()],
        hum: magnets.map(|alike| if alike { HumTogether::Adds } else { HumTogether::Cancels }),
    })
}

fn side_by_side(one: f64, other: f64) -> f64 {
    let sum = one + other;
    if sum > 0.0 { one * other / sum } else { 0.0 }
}

/// What joining these two leads in the middle of a series does, before the iron is lit.
///
/// # Errors
/// [`PolarityError::NoSuchCoil`] for a wrong question.
pub fn judge_join(
    found: &Found,
    polarity: &Polarity,
    a: (usize, Lead),
    b: (usize, Lead),
) -> Result<Outcome, PolarityError> {
    found.coil(a.0)?;
    found.coil(b.0)?;
    if a.0 == b.0 {
        return Ok(Outcome::ShortsCoil);
    }
    Ok(match ends_alike(polarity, a.0, b.0) {
        None => Outcome::CannotTell,
        // A positive end on a positive end, or two negative ones, fight.
        Some(alike) if (a.1 == b.1) == alike => Outcome::OutOfPhase,
        Some(_) => Outcome::InPhase,
    })
}
