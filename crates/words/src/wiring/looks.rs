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
            let ends: Vec<&str> = look
                .answers
                .iter()
                .filter_map(|answer| match &answer.found {
                    Finding::GoesTo(end) => end.as_deref(),
                    _ => None,
                })
                .collect();
            let nowhere = if ends.len() < look.answers.len() { "; it may have gone nowhere" } else { "" };
            (
                format!("stub {stub}"),
                format!(
                    "Look where {stub} went: match the cut end, its colour and its solder against {}{nowhere}.",
                    or(&ends)
                ),
                "",
            )
        }
        Look::Tap { coil } => (
            format!("tap {}", explanation.coils[*coil]),
            format!(
                "Put a meter across the {}, red on its hot end, and lay a steel blade on it: does the meter kick up or down as the blade comes down?",
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
    Step { id, words, why: why(explanation, look), caution: caution.to_owned(), ..Step::default() }
}

/// What a look settles. What it tells in bits stands in a table behind the overview.
fn why(explanation: &Explanation, look: &NextLook) -> String {
    let follows = match look.what {
        Look::Tap { .. } => {
            " The kick is winding times magnet; with the pole by compass, the winding follows."
        }
        _ => "",
    };
    match look.settles.as_slice() {
        [] => format!("It narrows down what the circuit does.{follows}"),
        states => format!("It can settle what is heard {}.{follows}", names::positions(explanation, states)),
    }
}
