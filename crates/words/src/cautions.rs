//! What can hurt somebody at the bench, said the same way everywhere. Local codes and licensed practice come first.

use asfound_study::Job;
use asfound_study::bench::is_mains_powered;

/// Before a meter is put to a part of the job's piece.
pub(crate) fn metering(job: &Job) -> &'static str {
    if is_mains_powered(job) {
        "Mains and stored charge can kill, unplugged too: inside an amplifier, metering is for those licensed to, after unplugging, discharging and checking that it is discharged. Local codes come first."
    } else {
        "Unplug from any amplifier before metering."
    }
}

/// What holds for the piece as a whole, whatever is done to it.
pub(crate) fn of_piece(job: &Job) -> Option<&'static str> {
    is_mains_powered(job).then_some(
        "Mains-powered: do not plug it in or open it. Mains and stored charge can kill, unplugged too; work inside is for those licensed to do it, and local codes come first.",
    )
}
