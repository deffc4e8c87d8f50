//! A candidate with one resistance more than was drawn: a leak, or a poor contact.

use super::model::TO_BE_FOUND;
use super::reading::OhmsKnown;
use super::wiring::Candidate;
use crate::circuit::{Circuit, Join, JoinTo, Known, Part, Sort, Terminal};

/// A resistance that nobody drew.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Extra {
    /// Across a capacitor, which should block: it leaks.
    LeakyCapacitor {
        /// The capacitor.
        part: String,
    },
    /// Between tip and sleeve: dirt, flux, a leaking cable or capacitor.
    AcrossOutput,
    /// Ahead of the tip in every reading: a poor contact, or a volume that is not quite full up.
    AheadOfTip,
}

impl Extra {
    /// Its name among the values.
    pub fn name(&self) -> &'static str {
        match self {
            Extra::LeakyCapacitor { .. } => "leak of the capacitor",
            Extra::AcrossOutput => "leak across the output",
            Extra::AheadOfTip => "resistance ahead of the tip",
        }
    }

    /// Every such resistance that this candidate can have.
    pub(super) fn all(candidate: &Candidate) -> Vec<Self> {
        let capacitor = |part: &&Part| matches!(part.sort, Sort::Capacitor(_));
        let parts = candidate.circuit.parts().iter().filter(capacitor);
        let leaky = parts.map(|part| Extra::LeakyCapacitor { part: part.name.clone() });
        leaky.chain([Extra::AcrossOutput, Extra::AheadOfTip]).collect()
    }

    /// The candidate with it; `None` where there is no place for it.
    pub(super) fn added_to(&self, candidate: &Candidate) -> Option<Candidate> {
        let circuit = &candidate.circuit;
        let jack = circuit.jacks().next()?;
        let new = circuit.parts().len();
        let (a, b) = (Terminal { part: new, lug: 0 }, Terminal { part: new, lug: 1 });
        let join = |a: Terminal, to: Terminal| Join { a, to: JoinTo::One(to), known: Known::Unknown };
        let mut joins = circuit.joins().to_vec();
        match self {
            Extra::LeakyCapacitor { part } => {
                let part = circuit.part(part)?;
                joins.extend([join(a, Terminal { part, lug: 0 }), join(b, Terminal { part, lug: 1 })]);
            }
            Extra::AcrossOutput => {
                joins.extend([
                    join(a, Terminal { part: jack, lug: 0 }),
                    join(b, Terminal { part: jack, lug: 1 }),
                ]);
            }
            Extra::AheadOfTip => {
                let tip = Terminal { part: jack, lug: 0 };
                let moved = |end: Terminal| if end == tip { b } else { end };
                for join in &mut joins {
                    join.a = moved(join.a);
                    if let JoinTo::One(end) = &mut join.to {
                        *end = moved(*end);
                    }
                }
                joins.push(join(a, tip));
            }
        }
        let mut parts = circuit.parts().to_vec();
        parts.push(Part::new(self.name(), Sort::Resistor(TO_BE_FOUND)));
        let mut known = candidate.known.clone();
        known.push((new, OhmsKnown::Unknown));
        let circuit = Circuit::new(parts, joins).ok()?;
        Some(Candidate { circuit, known, ..candidate.clone() })
    }
}
