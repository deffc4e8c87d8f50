//! What each look not made yet can be expected to tell about condition and hand, or about the chief cause where look and
//! ohms disagree, whichever is more.

use super::answer::{Cause, Condition, Look, Next};
use super::bridge::Branch;
use super::draws::Draw;
use super::evidence::Evidence;
use super::feature::{self, About, Feature};
use super::found::{Found, Shown, Temperature};
use super::ohms::warmed;
use super::parts::{self, Parts};
use super::prior::STRATA;
use super::random::Random;
use asfound_weigh::{Bits, information_of_counts};

/// Into how many outcomes of equal frequency a figure is sorted.
const BINS: usize = 12;

/// Spreads of looks at a bench: common practice, no source.
const THERMOMETER: f64 = 0.7;
const MICROMETER: f64 = 0.0013;
const RULER: f64 = 0.25;
const BRIDGE: f64 = 0.01;
const BRIDGE_QUALITY: f64 = 0.04;
const SWEEP_FREQUENCY: f64 = 0.01;
const SWEEP_HEIGHT: f64 = 0.08;
/// A known capacitor across the coil in a sweep, so that the coil's own matters little.
const ACROSS: f64 = 470e-12;

/// Looks that were not made yet, by bits for each minute.
pub(super) fn rank(
    evidence: &Evidence,
    draws: &[&Draw],
    chiefs: Option<&[usize]>,
    effective: f64,
    parts: &[Parts; STRATA],
    random: &mut Random,
) -> Vec<Next> {
    let mut next: Vec<Next> = Look::ALL
        .into_iter()
        .filter(|look| is_open(*look, evidence.found))
        .filter_map(|look| {
            let outcomes = outcomes(look, evidence, draws, parts, random);
            let counted = effective.min(draws.len() as f64);
            let pairs: Vec<usize> = draws.iter().map(|draw| draw.stratum).collect();
            let mut tells = told(&pairs, STRATA, &outcomes, counted)?;
            if let Some(chiefs) = chiefs {
                let of_cause = told(chiefs, Cause::ALL.len(), &outcomes, counted)?;
                tells = if of_cause > tells { of_cause } else { tells };
            }
            let minutes = look.minutes();
            Some(Next { look, tells, minutes, bits_per_minute: tells.value() / minutes })
        })
        .collect();
    next.sort_by(|a, b| b.bits_per_minute.total_cmp(&a.bits_per_minute));
    next
}

/// What outcomes tell about an alternative that each draw has, with the bias of counting taken off.
fn told(alternatives: &[usize], rows: usize, outcomes: &[usize], counted: f64) -> Option<Bits> {
    let columns = outcomes.iter().copied().max()? + 1;
    let mut joint = vec![vec![0.0; columns]; rows];
    for (alternative, outcome) in alternatives.iter().zip(outcomes) {
        joint[*alternative][*outcome] += 1.0;
    }
    information_of_counts(&joint, counted).ok()
}

/// Whether a look was not made yet and can be.
fn is_open(look: Look, found: &Found) -> bool {
    let read_ohms = found.ohms.iter().any(|reading| matches!(reading.shown, Shown::Ohms(_)));
    let none_between =
        |hertz: &[f64], least: f64, most: f64| !hertz.iter().any(|hertz| (least..most).contains(hertz));
    let inductance: Vec<f64> = found.inductance.iter().map(|at| at.frequency.value()).collect();
    let quality: Vec<f64> = found.quality.iter().map(|at| at.frequency.value()).collect();
    match look {
        Look::Temperature => {
            read_ohms
                && !found.ohms.iter().any(|reading| matches!(reading.temperature, Temperature::Measured(_)))
        }
        Look::MicrometerOnLooseEnd => found.wire_over_insulation.is_none(),
        Look::OutsideDepth => {
            found.depth.is_none() && found.outer_width.is_none() && found.outer_length.is_none()
        }
        Look::InductanceLow => none_between(&inductance, 50.0, 500.0),
        Look::InductanceMiddle => none_between(&inductance, 500.0, 3e3),
        Look::QualityMiddle => none_between(&quality, 500.0, 3e3),
        Look::QualityHigh => none_between(&quality, 5e3, 20e3),
        Look::Photographs => !open_sights(found).is_empty(),
        Look::WireColour => !says(found, About::WireColour),
        Look::OhmsPastTheJoints => !found.ohms.is_empty(),
        Look::Sweep | Look::Tap => true,
    }
}

fn says(found: &Found, about: About) -> bool {
    found.features.iter().any(|seen| seen.about() == about)
}

/// What photographs could still show.
fn open_sights(found: &Found) -> Vec<About> {
    let all = [About::Tape, About::Lead, About::Flatwork, About::Joints];
    all.into_iter().filter(|about| !says(found, *about)).collect()
}

/// An outcome, by number, for each draw.
fn outcomes(
    look: Look,
    evidence: &Evidence,
    draws: &[&Draw],
    parts: &[Parts; STRATA],
    random: &mut Random,
) -> Vec<usize> {
    match look {
        Look::Photographs => {
            let about = open_sights(evidence.found);
            draws.iter().map(|draw| photographed(draw, &about, evidence, parts, random)).collect()
        }
        Look::WireColour => draws
            .iter()
            .map(|draw| {
                let colours = [Feature::WireCoppery, Feature::WirePurplish, Feature::WireOtherColour];
                random.one_of(colours.map(|seen| feature::wire_colour(seen, draw.coil.blank.insulation)))
            })
            .collect(),
        Look::Tap => draws
            .iter()
            .map(|draw| {
                let dead = if draw.coil.blank.condition == Condition::Open { 0.97 } else { 0.01 };
                usize::from(random.chance(dead))
            })
            .collect(),
        Look::Sweep => {
            let swept: Vec<(f64, f64)> = draws.iter().map(|draw| swept(draw, evidence, random)).collect();
            let frequencies = binned(&swept.iter().map(|(hertz, _)| *hertz).collect::<Vec<_>>(), BINS / 3);
            let heights = binned(&swept.iter().map(|(_, height)| *height).collect::<Vec<_>>(), BINS / 3);
            frequencies
                .iter()
                .zip(heights)
                .map(|(frequency, height)| frequency * (BINS / 3) + height)
                .collect()
        }
        _ => {
            let figures: Vec<f64> = draws.iter().map(|draw| figure(look, draw, evidence, random)).collect();
            binned(&figures, BINS)
        }
    }
}

/// The figure a look would give of a draw, with the spread of the look. Of an open coil a bridge shows nothing of use.
fn figure(look: Look, draw: &Draw, evidence: &Evidence, random: &mut Random) -> f64 {
    let coil = &draw.coil;
    let noise = random.normal();
    let branch = || {
        (coil.blank.condition != Condition::Open)
            .then(|| Branch::of(coil, coil.whole_inductance(evidence.tables), warmed(draw.celsius)))
    };
    let inductance = |hertz: f64| {
        branch().map_or(f64::MAX, |branch| branch.shown_at(hertz).inductance * (1.0 + BRIDGE * noise))
    };
    let quality = |hertz: f64| {
        branch().map_or(f64::MAX, |branch| branch.shown_at(hertz).quality * (1.0 + BRIDGE_QUALITY * noise))
    };
    match look {
        Look::Temperature => draw.celsius + THERMOMETER * noise,
        Look::MicrometerOnLooseEnd => coil.blank.winding.spool.overall().value() + MICROMETER * noise,
        Look::OutsideDepth => coil.wound.depth.value() + RULER * noise,
        Look::InductanceLow => inductance(120.0),
        Look::InductanceMiddle => inductance(1e3),
        Look::QualityMiddle => quality(1e3),
        Look::QualityHigh => quality(1e4),
        // What the joints add, as a share: a meter repeats itself to a few in a thousand.
        Look::OhmsPastTheJoints => coil.blank.joint / coil.ohms_at_20() + 0.002 * noise,
        Look::Sweep | Look::Photographs | Look::WireColour | Look::Tap => noise,
    }
}

fn swept(draw: &Draw, evidence: &Evidence, random: &mut Random) -> (f64, f64) {
    let (first, second) = (random.normal(), random.normal());
    if draw.coil.blank.condition == Condition::Open {
        return (f64::MAX, f64::MAX);
    }
    let branch = Branch::of(&draw.coil, draw.coil.whole_inductance(evidence.tables), warmed(draw.celsius));
    let (hertz, height) = branch.resonance(ACROSS);
    (hertz * (1.0 + SWEEP_FREQUENCY * first), height * (1.0 + SWEEP_HEIGHT * second))
}

/// What photographs would show of a draw, with what is known of its parts already.
fn photographed(
    draw: &Draw,
    about: &[About],
    evidence: &Evidence,
    parts: &[Parts; STRATA],
    random: &mut Random,
) -> usize {
    let states = &parts[draw.stratum].states;
    let (state, _) = states[random.one_of(states.map(|(_, share)| share))];
    let blank = &draw.coil.blank;
    let mut outcome = 0;
    for about in about {
        let sights: Vec<Feature> = Feature::ALL.into_iter().filter(|seen| seen.about() == *about).collect();
        let likelihoods = sights
            .iter()
            .map(|seen| parts::likelihood(*seen, state, blank.hand, blank.condition, evidence.opinions));
        outcome = outcome * sights.len() + random.one_of(likelihoods.collect::<Vec<_>>());
    }
    outcome
}

/// Figures sorted into bins of equal frequency. Equal figures fall into one bin.
fn binned(figures: &[f64], bins: usize) -> Vec<usize> {
    let mut sorted = figures.to_vec();
    sorted.sort_by(f64::total_cmp);
    let edges: Vec<f64> = (1..bins).map(|bin| sorted[bin * sorted.len() / bins]).collect();
    figures.iter().map(|figure| edges.iter().filter(|edge| **edge <= *figure).count()).collect()
}
