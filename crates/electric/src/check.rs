//! What can be wrong with a circuit, and how it is found.

use crate::circuit::{Join, JoinTo, Part, Sort, Terminal};
use crate::taper::Taper;

/// What is wrong with a circuit.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CircuitError {
    /// Two parts have one name.
    #[error("two parts are called `{name}`; give each part a name of its own")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// A join or coupling points at a lug that no part has.
    #[error("join number {join} points at part {part}, lug {lug}, which does not exist; both count from 0")]
    NoSuchTerminal {
        /// Index of the join.
        join: usize,
        /// Index of the part.
        part: usize,
        /// Index of the lug.
        lug: usize,
    },
    /// A join may go to none of its candidates.
    #[error("join number {join} lists no lug it may go to; name at least one")]
    NoCandidate {
        /// Index of the join.
        join: usize,
    },
    /// A value that no part can have.
    #[error("`{part}` has {what} {read}; it must be {wanted}")]
    Value {
        /// Name of the part.
        part: String,
        /// Which value.
        what: &'static str,
        /// What was read.
        read: f64,
        /// What would be right.
        wanted: &'static str,
    },
    /// A coupling that is not between two coils, or a coil coupled twice.
    #[error("coupling number {coupling}: {why}")]
    Coupling {
        /// Index of the coupling.
        coupling: usize,
        /// What is wrong and what would be right.
        why: &'static str,
    },
}

/// A name that no lug has.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no lug is called `{read}`{}", nearest_words(.nearest))]
pub struct NoSuchLug {
    /// What was read.
    pub read: String,
    /// Up to three lugs with a name near it, the nearest first.
    pub nearest: Vec<String>,
}

fn nearest_words(nearest: &[String]) -> String {
    if nearest.is_empty() {
        "; a lug is written PART.LUG".to_owned()
    } else {
        format!(
            "; near it are {}",
            nearest.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
        )
    }
}

/// Finds ends of a join that do not exist.
pub(crate) fn check_join(parts: &[Part], index: usize, join: &Join, errors: &mut Vec<CircuitError>) {
    let others: &[Terminal] = match &join.to {
        JoinTo::One(terminal) => std::slice::from_ref(terminal),
        JoinTo::Candidates { terminals, .. } => terminals,
    };
    if others.is_empty() {
        errors.push(CircuitError::NoCandidate { join: index });
    }
    for terminal in std::iter::once(&join.a).chain(others) {
        if parts.get(terminal.part).is_none_or(|part| terminal.lug >= part.lug_count()) {
            errors.push(CircuitError::NoSuchTerminal { join: index, part: terminal.part, lug: terminal.lug });
        }
    }
}

/// Finds values that no part can have.
pub(crate) fn check_values(part: &Part, errors: &mut Vec<CircuitError>) {
    let mut check = |what, read: f64, right: bool, wanted| {
        if !(read.is_finite() && right) {
            errors.push(CircuitError::Value { part: part.name.clone(), what, read, wanted });
        }
    };
    const NOT_NEGATIVE: &str = "a number of 0 or more";
    const POSITIVE: &str = "a number above 0";
    match &part.sort {
        Sort::Coil(coil) => {
            let (resistance, inductance) = (coil.resistance.0, coil.inductance.0);
            check("resistance", resistance, resistance >= 0.0, NOT_NEGATIVE);
            check("inductance", inductance, inductance >= 0.0, NOT_NEGATIVE);
            if resistance == 0.0 {
                check("inductance", inductance, inductance > 0.0, "above 0, because its resistance is 0");
            }
            check("capacitance", coil.capacitance.0, coil.capacitance.0 >= 0.0, NOT_NEGATIVE);
            if let Some(eddy) = coil.eddy {
                check("eddy inductance", eddy.inductance.0, eddy.inductance.0 > 0.0, POSITIVE);
                check("eddy loss", eddy.loss.0, eddy.loss.0 > 0.0, POSITIVE);
            }
        }
        Sort::Pot(pot) => {
            check("track", pot.track.0, pot.track.0 > 0.0, POSITIVE);
            match pot.taper {
                Taper::Audio { middle } => {
                    check(
                        "taper at half turn",
                        middle,
                        middle > 0.0 && middle < 0.5,
                        "a share above 0 and below 0.5",
                    );
                }
                Taper::Reverse { middle } => {
                    check(
                        "taper at half turn",
                        middle,
                        middle > 0.5 && middle < 1.0,
                        "a share above 0.5 and below 1",
                    );
                }
                Taper::TwoSlope { middle } => {
                    let right = middle > 0.0 && middle < 1.0;
                    check("taper at half turn", middle, right, "a share above 0 and below 1");
                }
                Taper::Linear | Taper::Unknown => {}
            }
        }
        Sort::Capacitor(value) => check("capacitance", value.0, value.0 >= 0.0, NOT_NEGATIVE),
        Sort::Resistor(value) => check("resistance", value.0, value.0 >= 0.0, NOT_NEGATIVE),
        Sort::Choke { resistance, inductance } => {
            check("resistance", resistance.0, resistance.0 >= 0.0, NOT_NEGATIVE);
            check("inductance", inductance.0, inductance.0 >= 0.0, NOT_NEGATIVE);
        }
        Sort::Switch(_) | Sort::Jack | Sort::Metal | Sort::Post { .. } => {}
    }
}
