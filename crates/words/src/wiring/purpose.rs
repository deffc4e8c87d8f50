//! What every position was for, and whether the whole is a known arrangement.

use asfound_measure::{Hertz, engineering};
use asfound_study::sound::{Arrangement, Behaviour, Purposes, Voice, VoiceWord};
use asfound_study::wiring::explain::{Agreed, Explanation};

use super::names;
use crate::lists::{and, capital};
use crate::sheet::{Step, Table, Told};

/// The arrangement, the positions that are more than a coil behind its knobs, and all of them in a table.
pub(super) fn findings(explanation: &Explanation, purposes: &Purposes) -> Vec<Told> {
    let mut told: Vec<Told> =
        purposes.arrangement.iter().map(|arrangement| known(explanation, arrangement)).collect();
    let groups = || explanation.groups.iter().zip(&purposes.groups).enumerate();
    for (at, (group, behaviours)) in groups() {
        let place = names::positions(explanation, &group.states);
        told.extend(position(explanation, behaviours, at, &place));
    }
    let mut table = Table::with(
        "What each position was for",
        &["position", "behaviour", "#from or at", "what it is for"],
    );
    for (_, (group, behaviours)) in groups() {
        for behaviour in behaviours.facts().flatten() {
            let row = vec![
                names::short_positions(explanation, &group.states),
                word(explanation, behaviour),
                figure(behaviour).map_or_else(|| "–".to_owned(), hertz),
                reason(behaviour).to_owned(),
            ];
            if !table.rows.contains(&row) {
                table.rows.push(row);
            }
        }
    }
    // The table stands with the first finding; where there is none, the positions have nothing to be told.
    if let Some(first) = told.first_mut()
        && !table.rows.is_empty()
    {
        first.tables.push(table);
    }
    told
}

/// One position, where it does more than a knob for tone does; with its cases where that depends.
fn position(
    explanation: &Explanation,
    behaviours: &Agreed<Vec<Behaviour>>,
    at: usize,
    place: &str,
) -> Option<Told> {
    let telling = |all: &[Behaviour]| -> Vec<String> {
        let beyond = all.iter().filter(|one| !matches!(one, Behaviour::Tone { .. }));
        beyond.map(|one| sentence(explanation, one)).collect()
    };
    let (said, sure) = match behaviours {
        Agreed::Certain(all) => (telling(all), "Certain as traced."),
        Agreed::Depends(cases) => {
            let mut said: Vec<String> = Vec::new();
            for case in cases {
                said.extend(
                    telling(&case.fact).into_iter().filter(|words| !said.contains(words)).collect::<Vec<_>>(),
                );
            }
            (
                said.into_iter().map(|words| format!("perhaps {words}")).collect(),
                "Where the cut leads went decides it.",
            )
        }
    };
    let what = match said.len() {
        0 => return None,
        several if several > MOST_SAID => format!("one of {several} things, by the table"),
        _ => said.join("; and "),
    };
    let opening = if place.is_empty() { "the circuit is".to_owned() } else { format!("{place} it is") };
    Some(Told {
        id: format!("purpose-{at}"),
        sentence: format!("{} {what}.", capital(&opening)),
        sure: sure.to_owned(),
        working: vec![
            "Found by taking each part out, and by bridging it, on the solved network; a corner is where 3 dB are missing.".to_owned(),
        ],
        ..Told::default()
    })
}

/// How many things a position may be before its sentence refers to the table.
const MOST_SAID: usize = 2;

/// After `it is`.
fn sentence(explanation: &Explanation, behaviour: &Behaviour) -> String {
    match behaviour {
        Behaviour::Kill => "a kill: nothing is heard".to_owned(),
        Behaviour::SeriesDrive { coils } => format!("a series drive of {}", names::coils(explanation, coils)),
        Behaviour::HalfTone { coils } => {
            format!("a half-tone: {} out of phase", names::coils(explanation, coils))
        }
        Behaviour::Preset { voice } => format!("a preset: {}, and no knob for tone works", voiced(voice)),
        Behaviour::Fixed { voice } => format!("a fixed voice: {}", voiced(voice)),
        Behaviour::Blend { knob, brings_in } => format!(
            "a blend: the {} brings in {}",
            names::knob(explanation, *knob),
            names::coils(explanation, brings_in)
        ),
        Behaviour::Tone { knob, treble, .. } => {
            let what = if *treble { "treble" } else { "bass" };
            format!("a {what} cut by the {}", names::knob(explanation, *knob))
        }
        Behaviour::Straight => "straight: no knob does anything".to_owned(),
    }
}

/// `the dark cap takes the highs down from 350 Hz`.
fn voiced(voice: &Voice) -> String {
    let parts: Vec<String> = voice.parts.iter().map(|part| names::part(part)).collect();
    let verb = if parts.len() == 1 { "takes" } else { "take" };
    let from = |word: &str| voice.at.map_or_else(String::new, |at| format!(" {word} {}", hertz(at)));
    let what = match voice.what {
        VoiceWord::TrebleCut => format!("the highs down{}", from("from")),
        VoiceWord::BassCut => format!("the lows down{}", from("below")),
        VoiceWord::Notch => format!("a notch out{}", from("at")),
    };
    format!("{} {verb} {what}", and(&parts))
}

/// In the table.
fn word(explanation: &Explanation, behaviour: &Behaviour) -> String {
    let of = |voice: &Voice| match voice.what {
        VoiceWord::TrebleCut => "treble cut",
        VoiceWord::BassCut => "bass cut",
        VoiceWord::Notch => "notch",
    };
    match behaviour {
        Behaviour::Kill => "kill".to_owned(),
        Behaviour::SeriesDrive { .. } => "series drive".to_owned(),
        Behaviour::HalfTone { .. } => "half-tone".to_owned(),
        Behaviour::Preset { voice } => format!("preset, {}", of(voice)),
        Behaviour::Fixed { voice } => format!("fixed {}", of(voice)),
        Behaviour::Blend { knob, .. } => format!("blend by the {}", names::knob(explanation, *knob)),
        Behaviour::Tone { knob, treble, .. } => {
            let what = if *treble { "treble cut" } else { "bass cut" };
            format!("{what} by the {}", names::knob(explanation, *knob))
        }
        Behaviour::Straight => "straight".to_owned(),
    }
}

fn figure(behaviour: &Behaviour) -> Option<Hertz> {
    match behaviour {
        Behaviour::Preset { voice } | Behaviour::Fixed { voice } => voice.at,
        Behaviour::Tone { corner, .. } => *corner,
        _ => None,
    }
}

/// What such a behaviour is used for.
fn reason(behaviour: &Behaviour) -> &'static str {
    match behaviour {
        Behaviour::Kill => "silence at a throw",
        Behaviour::SeriesDrive { .. } => "louder and darker, to push the amplifier",
        Behaviour::HalfTone { .. } => "thin and nasal, to stand apart",
        Behaviour::Preset { voice } | Behaviour::Fixed { voice } => match voice.what {
            VoiceWord::TrebleCut => "a dark voice at a throw, as a bass has",
            VoiceWord::BassCut => "a lean voice for rhythm",
            VoiceWord::Notch => "a hollow voice",
        },
        Behaviour::Blend { .. } => "any mixture of the coils by one knob",
        Behaviour::Tone { treble: true, .. } => "darker by hand",
        Behaviour::Tone { treble: false, .. } => "leaner by hand",
        Behaviour::Straight => "all that the coil gives",
    }
}

fn hertz(at: Hertz) -> String {
    engineering(at.0, 3, Hertz::SYMBOL)
}

/// The whole as a known arrangement.
fn known(explanation: &Explanation, arrangement: &Arrangement) -> Told {
    let coil = |at: usize| format!("the {}", names::coil(explanation, at));
    let (id, sentence, leave) = match arrangement {
        Arrangement::PresetBass { first, dark, state } => (
            "preset-bass",
            format!(
                "The three positions are a known arrangement, not a fault: {} and {} each alone, then {} dark {}, and never both",
                coil(*first),
                coil(*dark),
                coil(*dark),
                names::positions(explanation, &[*state])
            ),
            true,
        ),
        Arrangement::Blend { first, blended, state } => (
            "blend",
            format!(
                "The three positions are a known arrangement, not a fault: {} with {} blended in by the second knob, {} alone, and the same dark {}",
                coil(*first),
                coil(*blended),
                coil(*blended),
                names::positions(explanation, &[*state])
            ),
            true,
        ),
        Arrangement::CoupledVolumes { knobs: [a, b] } => (
            "coupled-volumes",
            format!(
                "The {} and the {} are coupled, as is common: with both coils on, either silences both",
                names::knob(explanation, *a),
                names::knob(explanation, *b)
            ),
            false,
        ),
        Arrangement::SteppedNotch { states } => (
            "stepped-notch",
            format!(
                "The switch is a stepped notch filter: {} of its positions take out a range each",
                states.len()
            ),
            false,
        ),
    };
    let (sure, next) = match arrangement.window() {
        Some(window) => (
            format!(
                "So made {} ({}), which is evidence of a date and no proof; often altered later by clipping the capacitor.",
                window.dates, window.source
            ),
            leave.then(|| Step {
                id: format!("keep-{id}"),
                words: "Leave it as it is: do not “repair” it to give both coils.".into(),
                why: "It is as made, and it dates the set; joints that were never heated show it best."
                    .into(),
                ..Step::default()
            }),
        ),
        None => ("Made at all times, so it dates nothing.".to_owned(), None),
    };
    Told {
        id: format!("arrangement-{id}"),
        sentence: format!("{sentence}."),
        sure,
        next: next.into_iter().collect(),
        working: vec![
            "Recognised by what every position does, not by its drawing; what behaves otherwise in one position has no name here.".to_owned(),
        ],
        ..Told::default()
    }
}
