//! What to look at next, as steps.

use asfound_study::wiring::explain::{Explanation, Finding, Look, NextLook};

use super::names;
use crate::lists::or;
use crate::sheet::Step;

/// Looks as steps to take, the most telling first.
pub(super) fn steps(explanation: &Explanation) -> impl Iterator<Item = Step> + '_ {
    explanation.next.iter().map(|look| step(explanation, look))
}

/// A look as a step to take.
fn step(explanation: &Explanation, look: &NextLook) -> Step {
    let (id, words, caution) = match &look.what {
        Look::Stub { stub } => {
            let ends: Vec<String> = look
                .answers
                .iter()
                .map(|answer| match &answer.found {
                    Finding::GoesTo(Some(end)) => end.clone(),
                    _ => "nothing".to_owned(),
                })
                .collect();
            (
                format!("stub {stub}"),
                format!("Look where {stub} went: match the cut end, its colour and its solder against {}.", or(&ends)),
                "",
            )
        }
        Look::Tap { coil } => (
            format!("tap {}", explanation.coils[*coil]),
            format!(
                "Put a meter across the {}, red on its hot end, and tap it with a steel blade. A kick upward as the blade comes down is plus, downward minus: winding times magnet. With the pole by compass, the winding follows.",
                names::coil(explanation, *coil)
            ),
            "",
        ),
        Look::Winding { coil } => (
            format!("winding {}", explanation.coils[*coil]),
            format!(
                "Look which way the winding of the {} runs from its ground end, seen from the strings.",
                names::coil(explanation, *coil)
            ),
            "Only where the winding is open to view: leave tape and cover on.",
        ),
        Look::Pole { coil } => (
            format!("pole {}", explanation.coils[*coil]),
            format!(
                "Hold a compass near the {}, a hand's breadth off, and note which pole faces the strings.",
                names::coil(explanation, *coil)
            ),
            "Keep the compass clear of strong magnets, which can reverse it, and magnets away from pacemakers.",
        ),
    };
    Step { id, words, why: why(explanation, look), caution: caution.to_owned(), decision: String::new() }
}

fn why(explanation: &Explanation, look: &NextLook) -> String {
    let settles = match look.settles.as_slice() {
        [] => "It narrows down what the circuit does".to_owned(),
        states => format!("It can settle what is heard {}", names::positions(explanation, states)),
    };
    format!("{settles} (worth {:.1} bit of what is open).", look.bits)
}
