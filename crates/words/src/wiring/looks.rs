//! What to look at next, as steps.

use asfound_study::wiring::explain::{Explanation, Finding, JackOhms, Look, NextLook};
use asfound_measure::{Ohms, engineering};

use super::names;
use crate::lists::or;
use crate::sheet::Step;

/// Looks as steps to take, the most telling first. A reading at the jack is not among them: a lead that was cut cannot
/// be metered back to where it went.
pub(super) fn steps(explanation: &Explanation) -> impl Iterator<Item = Step> + '_ {
    let looks = explanation.next.iter().filter(|look| !matches!(look.what, Look::JackReading { .. }));
    looks.map(|look| step(explanation, look))
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
        Look::Winding { coil } => (
            format!("winding {}", explanation.coils[*coil]),
            format!(
                "Tap the {} with a steel blade and watch which way the meter kicks; with the pole known, the winding follows.",
                names::coil(explanation, *coil)
            ),
            "",
        ),
        Look::Pole { coil } => (
            format!("pole {}", explanation.coils[*coil]),
            format!(
                "Hold a compass near the {}, a hand's breadth off, and note which pole faces the strings.",
                names::coil(explanation, *coil)
            ),
            "Keep the compass clear of strong magnets, which can reverse it, and magnets away from pacemakers.",
        ),
        Look::JackReading { state } => (
            format!("jack {state}"),
            format!("Read the ohms at the jack {}, all knobs full up.", names::positions(explanation, &[*state])),
            "",
        ),
    };
    Step { id, words, why: why(explanation, look), caution: caution.to_owned(), decision: String::new() }
}

fn why(explanation: &Explanation, look: &NextLook) -> String {
    let settles = match look.settles.as_slice() {
        [] => "It narrows down what the circuit does".to_owned(),
        states => format!("It can settle what is heard {}", names::positions(explanation, states)),
    };
    let readings: Vec<String> = look
        .answers
        .iter()
        .filter_map(|answer| match &answer.found {
            Finding::Reads(JackOhms::Reads(ohms)) => Some(engineering(ohms.0, 3, Ohms::SYMBOL)),
            Finding::Reads(JackOhms::Open) => Some("over range".to_owned()),
            _ => None,
        })
        .collect();
    let expected = if readings.is_empty() { String::new() } else { format!(" Expect {}.", or(&readings)) };
    format!("{settles} (worth {:.1} bit of what is open).{expected}", look.bits)
}
