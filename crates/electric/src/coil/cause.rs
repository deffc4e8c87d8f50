//! Why a coil looks fuller, or emptier, than its ohms would have it.
//!
//! For given ohms the depth of a winding is `T = π d_o² N/(4 k h)` with `N ≈ R/(r · mean turn)/(1 − x)`, so on a
//! logarithmic scale each cause adds its own term: wire `2 Δln d_o − Δln r`, packing `−Δln k`, former
//! `−Δln h − Δln (mean turn)`, lost turns `−ln(1 − x)`, a joint `ln(1 − J/R)`, warmth `Δln R₂₀`. The chief cause of a
//! draw is the term that contributes most to the disagreement.

use super::answer::{Cause, Condition, Disagreement, Hand, Remaining};
use super::drawn::MIDDLE_PACKING;
use super::draws::Draw;
use super::feature::About;
use super::found::{Found, Shown};
use super::ohms::{self, warmed};
use crate::bobbin::{Packing, Winding};
use crate::wire::{Build, Gauge, Wire};
use asfound_measure::Ohms;
use asfound_weigh::Probability;

/// The disagreement of look and ohms over draws of equal weight, with the chief cause of each draw by its number;
/// `None` where no depth or fill was given beside ohms.
pub(super) fn disagreement(found: &Found, draws: &[&Draw]) -> Option<(Disagreement, Vec<usize>)> {
    let looked = found.features.iter().any(|seen| seen.about() == About::Fill);
    let measured = found.depth.is_some() || found.outer_width.is_some() || found.outer_length.is_some();
    let reading = &found.ohms[ohms::best(found)?];
    let Shown::Ohms(shown) = reading.shown else { return None };
    if !(looked || measured) || draws.iter().any(|draw| draw.coil.blank.condition == Condition::Open) {
        return None;
    }
    let terms: Option<Vec<[f64; 7]>> = draws.iter().map(|draw| terms(draw, shown.value.value())).collect();
    let terms = terms.filter(|terms| !terms.is_empty())?;
    let number = terms.len() as f64;
    let depth_ratio = libm::exp(terms.iter().map(|terms| terms.iter().sum::<f64>()).sum::<f64>() / number);
    let sign = if depth_ratio >= 1.0 { 1.0 } else { -1.0 };
    let chiefs: Vec<usize> = terms.iter().map(|terms| chief(terms, sign)).collect();
    let mut counts = [0.0; Cause::ALL.len()];
    chiefs.iter().for_each(|chief| counts[*chief] += 1.0);
    let mut causes: Vec<Remaining> = Cause::ALL
        .into_iter()
        .zip(counts)
        .filter(|(_, count)| *count > 0.0)
        .map(|(cause, count)| Remaining { cause, probability: Probability::of_share(count / number) })
        .collect();
    causes.sort_by(|a, b| b.probability.value().total_cmp(&a.probability.value()));
    Some((Disagreement { depth_ratio, causes }, chiefs))
}

/// The term that goes furthest the way of the sign.
fn chief(terms: &[f64; 7], sign: f64) -> usize {
    let mut chief = 0;
    for (place, term) in terms.iter().enumerate() {
        if sign * term > sign * terms[chief] {
            chief = place;
        }
    }
    chief
}

/// The terms of one draw, in the order of [`Cause::ALL`], against nominal wire in single build on the kind's own
/// bobbin, wound to the middle packing, at 20 °C.
fn terms(draw: &Draw, read: f64) -> Option<[f64; 7]> {
    let (coil, blank) = (&draw.coil, &draw.coil.blank);
    let row = blank.construction.row();
    let spool = Wire { gauge: Gauge::new(row.gauges[0].0).ok()?, build: Build::Single }.nominal();
    let nominal = Winding { bobbin: row.bobbin().ok()?, spool, packing: Packing::new(MIDDLE_PACKING).ok()? };
    let plain = nominal.reading(Ohms(read)).ok()?;
    let over = |a: f64, b: f64| libm::log(a / b);
    let winding = &blank.winding;
    let wire = 2.0 * over(winding.spool.overall().value(), spool.overall().value())
        - over(winding.spool.ohms_per_metre().value(), spool.ohms_per_metre().value());
    let former = -over(winding.bobbin.height().value(), row.height.mean)
        - over(coil.wound.mean_turn_length.value(), plain.mean_turn_length.value());
    let another = blank.hand == Hand::RewoundOtherwise;
    let ohms_at_20 = coil.ohms_at_20();
    Some([
        if another { 0.0 } else { wire },
        -over(winding.packing.value(), MIDDLE_PACKING),
        former,
        -libm::log(1.0 - blank.lost),
        if another { wire } else { 0.0 },
        libm::log(1.0 - blank.joint / ohms_at_20),
        -libm::log(warmed(draw.celsius)),
    ])
}
