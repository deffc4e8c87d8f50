//! What a meter should show in every position, to hold an instrument against before it is strung.

use asfound_measure::Ohms;

use super::model::Model;
use super::reading::{Controls, JackError, Plain};
use super::wiring::plain;
use crate::direct::Reading;
use crate::polarity::Joined;
use crate::state::Changes;

/// What each reading of a plain arrangement should be, with these coils and tracks. What was shown does not count.
///
/// # Errors
/// [`JackError`] for readings that cannot be, or that do not fit the arrangement; [`JackError::Known`] for ohms that
/// are not above 0, [`JackError::CoilCount`] where they are not one for each coil.
pub fn expected(
    asked: &Plain,
    controls: Controls,
    joined: Joined,
    coils: &[Ohms],
    track: Ohms,
) -> Result<Vec<Reading>, JackError> {
    let wrong = coils.iter().chain([&track]).find(|ohms| !(ohms.0.is_finite() && ohms.0 > 0.0));
    if let Some(ohms) = wrong {
        return Err(JackError::Known { read: ohms.0 });
    }
    if coils.len() != asked.coils.len() {
        return Err(JackError::CoilCount { read: coils.len(), wanted: asked.coils.len() });
    }
    let asked = Plain { controls: Some(controls), joined: Some(joined), ..asked.clone() };
    let (candidates, _) = plain(&asked)?;
    let Some(candidate) = candidates.first() else { return Err(JackError::NoSuchKnob) };
    let parts: Vec<usize> = candidate.known.iter().map(|(part, _)| *part).collect();
    let ohms: Vec<f64> = (0..parts.len()).map(|place| coils.get(place).copied().unwrap_or(track).0).collect();
    let model = Model { circuit: &candidate.circuit, parts, changes: Changes::default() };
    let read = |reading: usize| {
        let seen = super::case::seen_or(&model, &candidate.probes, reading, &ohms)?;
        Ok(seen.reading)
    };
    (0..candidate.probes.len()).map(read).collect()
}
