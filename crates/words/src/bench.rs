//! The bench in words: what each job waits for.

use asfound_study::bench::{Waiting, WaitsFor};

/// Said of a job that waits for nothing that is known.
pub const NOTHING_WAITS: &str = "Nothing waits here.";

/// How many jobs there are.
pub fn count_of_jobs(count: usize) -> String {
    match count {
        0 => "no job yet".to_owned(),
        1 => "one job".to_owned(),
        count => format!("{count} jobs"),
    }
}

/// One thing that a job waits for.
pub fn waiting(waiting: &Waiting) -> String {
    let Waiting { what, count, name } = waiting;
    let others = |one: &str, many: &str| match count {
        1 => format!("{name}: {one}"),
        2 => format!("{name} and one more: {many}"),
        count => format!("{name} and {} more: {many}", count - 1),
    };
    match what {
        WaitsFor::LicensedHand => format!("Mains-powered: a licensed technician first, {name}"),
        WaitsFor::Curing => format!("Cures: {name}"),
        WaitsFor::StepTaken => format!("Taken up: {name}"),
        WaitsFor::ParkedAct => format!("Parked: {name}"),
        WaitsFor::UnknownJoins => {
            others("cut, and its other end is not known", "cut, and the other ends are not known")
        }
        WaitsFor::UntappedCoils => others("coil not tapped yet", "coils not tapped yet"),
        WaitsFor::UnmeasuredParts => others("not measured", "not measured"),
        WaitsFor::Photographs => format!("No photograph yet: {name}"),
        WaitsFor::Parts => format!("No part named yet: {name}"),
    }
}
