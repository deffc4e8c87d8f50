//! What can hurt somebody at the bench, said the same way everywhere. Local codes and licensed practice come first.

use asfound_study::Job;

/// Before a meter is put to a part of the job's piece.
pub(crate) fn metering(job: &Job) -> &'static str {
    let family = job.piece.as_ref().map(|item| item.body.family.to_lowercase()).unwrap_or_default();
    if family.contains("amp") {
        "Mains and stored charge can kill, unplugged too: inside an amplifier, metering is for those licensed to, after unplugging, discharging and checking that it is discharged. Local codes come first."
    } else {
        "Unplug from any amplifier before metering."
    }
}
