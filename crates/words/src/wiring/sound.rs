//! What one state sounds like, as a sentence and how sure it is.

use asfound_study::conditions::when;
use asfound_study::wiring::explain::{
    Band, CoilWord, Explanation, HumWord, JackOutput, PhaseWord, RelationWord, StateTold,
};

use super::names;
use crate::lists::{and, capital};

/// Decibels from which a part's colouring is worth a word in the sentence. Common practice, no source: below about
/// three decibels a change of tone is easily missed without a direct comparison.
const COLOUR_TOLD_FROM: f64 = 3.0;

/// A part without which this many decibels are missing carries all of the sound.
const ALL_THROUGH: f64 = 40.0;

/// A state in words.
pub(super) struct Said {
    pub(super) sentence: String,
    pub(super) sure: String,
}

/// A phrase with the possibilities in which it is the right one.
type Cases = Vec<(String, Vec<usize>)>;

/// Tells a state, found at `place`.
pub(super) fn tell(explanation: &Explanation, state: &StateTold, place: &str) -> Said {
    let sound = cases(explanation, |at| sound(explanation, state, at));
    let phase = cases(explanation, |at| phase(explanation, state, at));
    let hum = cases(explanation, |at| hum(state, at));
    let sentence = match sound.as_slice() {
        [(only, _)] => {
            let phase = match phase.as_slice() {
                [(only, _)] => only.clone(),
                _ => "; whether they agree in phase is not known".to_owned(),
            };
            let opening = if place.is_empty() { capital(only) } else { format!("{} {only}", capital(place)) };
            format!("{opening}{phase}{}.", colour(explanation, state))
        }
        several => {
            let told: Vec<String> = several
                .iter()
                .map(|(phrase, at)| format!("{phrase} {}", names::condition(&when(explanation, at, &all(explanation)))))
                .collect();
            let opening = if place.is_empty() { "What is heard depends:".to_owned() } else { format!("{}:", capital(place)) };
            format!("{opening} {}.", told.join("; "))
        }
    };
    let mut sure = vec![sureness(explanation, &sound)];
    if phase.len() > 1 {
        sure.push(split(explanation, &phase));
    }
    match hum.as_slice() {
        [(only, _)] => sure.push(only.clone()),
        _ => sure.push(split(explanation, &hum)),
    }
    sure.retain(|text| !text.is_empty());
    Said { sentence, sure: sure.join(" ") }
}

/// Goes through all possibilities and gathers equal phrases, the likeliest first.
fn cases(explanation: &Explanation, phrase: impl Fn(usize) -> String) -> Cases {
    let mut cases: Cases = Vec::new();
    for at in 0..explanation.possibilities.len() {
        let phrase = phrase(at);
        match cases.iter_mut().find(|(known, _)| *known == phrase) {
            Some((_, possibilities)) => possibilities.push(at),
            None => cases.push((phrase, vec![at])),
        }
    }
    cases.sort_by(|a, b| weight(explanation, &b.1).total_cmp(&weight(explanation, &a.1)));
    cases
}

fn weight(explanation: &Explanation, possibilities: &[usize]) -> f64 {
    possibilities.iter().map(|&at| explanation.possibilities[at].weight).sum()
}

/// Every possibility.
fn all(explanation: &Explanation) -> Vec<usize> {
    (0..explanation.possibilities.len()).collect()
}

/// Cases with their conditions. Cases with nothing to say are left out, and the conditions then tell the others apart
/// among themselves. Of two, the second is what is left.
fn split(explanation: &Explanation, cases: &Cases) -> String {
    let said: Vec<&(String, Vec<usize>)> = cases.iter().filter(|(phrase, _)| !phrase.is_empty()).collect();
    let mut among: Vec<usize> = said.iter().flat_map(|(_, at)| at.iter().copied()).collect();
    among.sort_unstable();
    let plain = |phrase: &str| phrase.trim_start_matches([',', ';', ':', ' ']).trim_end_matches('.').to_owned();
    match said.as_slice() {
        [(only, _)] => format!("{}.", capital(&plain(only))),
        [(first, at), (second, _)] => {
            let condition = names::condition(&when(explanation, at, &among));
            format!("{} {condition}, else {}.", capital(&plain(first)), lower(&plain(second)))
        }
        several => several
            .iter()
            .map(|(phrase, at)| format!("{} {}.", capital(&plain(phrase)), names::condition(&when(explanation, at, &among))))
            .collect::<Vec<_>>()
            .join(" "),
    }
}

/// The first letter made small.
fn lower(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| first.to_lowercase().collect::<String>() + signs.as_str())
}

/// Which coils sound and how they are joined.
fn sound(explanation: &Explanation, state: &StateTold, at: usize) -> String {
    match state.output.in_possibility(at) {
        Some(JackOutput::Shorted) => return "tip and sleeve are one: nothing is heard".to_owned(),
        Some(JackOutput::Open) => return "nothing joins tip to sleeve: nothing is heard".to_owned(),
        Some(JackOutput::Silent) | None => return "no coil reaches the jack".to_owned(),
        Some(JackOutput::Live) => {}
    }
    let word = |coil: usize| state.coils[coil].in_possibility(at).map(|fact| fact.word);
    let those = |wanted: CoilWord| -> Vec<usize> {
        (0..explanation.coils.len()).filter(|&coil| word(coil) == Some(wanted)).collect()
    };
    let sounding = those(CoilWord::Sounds);
    let faint = those(CoilWord::Faint);
    let mut phrase = match sounding.as_slice() {
        [_] => format!("{} sounds alone", names::coils(explanation, &sounding)),
        _ => format!("{} sound together{}", names::coils(explanation, &sounding), relation(explanation, state, at, &sounding)),
    };
    if !faint.is_empty() {
        phrase.push_str(&format!(", with {} faint behind", names::coils(explanation, &faint)));
    }
    phrase
}

fn relation(explanation: &Explanation, state: &StateTold, at: usize, sounding: &[usize]) -> String {
    let words: Vec<(usize, usize, RelationWord)> = state
        .pairs
        .iter()
        .filter(|pair| sounding.contains(&pair.a) && sounding.contains(&pair.b))
        .filter_map(|pair| Some((pair.a, pair.b, pair.relation.in_possibility(at)?.as_ref()?.word)))
        .collect();
    let Some(&(_, _, first)) = words.first() else { return String::new() };
    if words.iter().all(|(_, _, word)| *word == first) {
        return format!(" {}", relation_word(first));
    }
    let each: Vec<String> = words
        .iter()
        .map(|(a, b, word)| format!("{} and {} {}", explanation.coils[*a], explanation.coils[*b], relation_word(*word)))
        .collect();
    format!(" ({})", each.join(", "))
}

fn relation_word(word: RelationWord) -> &'static str {
    match word {
        RelationWord::Series => "in series",
        RelationWord::Parallel => "in parallel",
        RelationWord::Mixture => "in a mixture of series and parallel",
    }
}

/// How the strings add, for the coils that are heard together.
fn phase(explanation: &Explanation, state: &StateTold, at: usize) -> String {
    let told: Vec<(usize, usize, String)> = state
        .pairs
        .iter()
        .filter_map(|pair| {
            let phase = pair.phase.in_possibility(at)?.as_ref()?;
            Some((pair.a, pair.b, phase_words(phase.word.low, phase.word.middle, phase.word.high)))
        })
        .collect();
    let Some((_, _, first)) = told.first() else { return String::new() };
    if told.iter().all(|(_, _, words)| words == first) {
        return format!(", {first}");
    }
    let each: Vec<String> = told
        .iter()
        .map(|(a, b, words)| format!("{} and {} {words}", explanation.coils[*a], explanation.coils[*b]))
        .collect();
    format!(": {}", each.join(", "))
}

fn phase_words(low: PhaseWord, middle: PhaseWord, high: PhaseWord) -> String {
    if low == middle && middle == high {
        return phase_word(low).to_owned();
    }
    let bands = [(low, "the lows"), (middle, "the middle"), (high, "the highs")];
    let mut pieces: Vec<(PhaseWord, Vec<&str>)> = Vec::new();
    for (word, band) in bands {
        match pieces.iter_mut().find(|(known, _)| *known == word) {
            Some((_, names)) => names.push(band),
            None => pieces.push((word, vec![band])),
        }
    }
    let told: Vec<String> = pieces.iter().map(|(word, names)| format!("{} in {}", phase_word(*word), and(names))).collect();
    told.join(", ")
}

fn phase_word(word: PhaseWord) -> &'static str {
    match word {
        PhaseWord::InPhase => "in phase",
        PhaseWord::InBetween => "between in and out of phase",
        PhaseWord::OutOfPhase => "out of phase, so thin",
    }
}

/// What hum does.
fn hum(state: &StateTold, at: usize) -> String {
    let Some(hum) = state.hum.in_possibility(at) else { return String::new() };
    match hum.word {
        HumWord::NoCoil | HumWord::OneCoil => String::new(),
        HumWord::Adds => "Hum adds up.".to_owned(),
        HumWord::Partly => format!("Hum partly cancels: {:.2} of the sum is left.", hum.ratio),
        HumWord::Cancels => format!("Hum cancels: {:.2} of the sum is left.", hum.ratio),
    }
}

/// The part that colours the sound most, where that is certain and worth a word.
fn colour(explanation: &Explanation, state: &StateTold) -> String {
    let mut told: Vec<(f64, String)> = Vec::new();
    for colouring in &state.colouring {
        let effects: Vec<(f64, Band)> = (0..explanation.possibilities.len())
            .map(|at| match colouring.without.in_possibility(at) {
                Some(Some(without)) => Band::ALL
                    .into_iter()
                    .map(|band| (-without.of(band).0, band))
                    .filter(|(effect, _)| effect.is_finite())
                    .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
                    .unwrap_or((0.0, Band::Low)),
                _ => (0.0, Band::Low),
            })
            .collect();
        let Some(&(first, band)) = effects.first() else { continue };
        if effects.iter().all(|(effect, _)| *effect > ALL_THROUGH) {
            told.push((f64::INFINITY, format!("all of it goes through the {}", colouring.part)));
            continue;
        }
        let certain = effects.iter().all(|(effect, other)| *other == band && (effect - first).abs() < 1.0);
        if certain && first.abs() >= COLOUR_TOLD_FROM {
            let way = if first < 0.0 { "takes" } else { "adds" };
            let from = if first < 0.0 { "off" } else { "to" };
            let words = format!("the {} {way} {:.0} dB {from} {}", colouring.part, first.abs(), band_name(band));
            told.push((first.abs(), words));
        }
    }
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    let words: Vec<String> = told.into_iter().take(2).map(|(_, words)| words).collect();
    if words.is_empty() { String::new() } else { format!("; {}", and(&words)) }
}

/// A band's name in a sentence.
pub(super) fn band_name(band: Band) -> &'static str {
    match band {
        Band::Low => "the lows",
        Band::Middle => "the middle",
        Band::High => "the highs",
    }
}

/// How sure the sentence is.
fn sureness(explanation: &Explanation, sound: &Cases) -> String {
    let stubs = names::stubs(explanation);
    match (sound.len(), stubs.len()) {
        (1, 0) => String::new(),
        (1, 1) => format!("True wherever {} went.", stubs[0]),
        (1, _) => "True in every way the cut leads can have gone.".to_owned(),
        _ => {
            let likeliest = weight(explanation, &sound[0].1);
            let odds: Vec<String> =
                sound.iter().map(|(_, at)| format!("{:.0} %", 100.0 * weight(explanation, at))).collect();
            let word = match likeliest {
                share if share >= 0.9 => "The first is very likely",
                share if share >= 0.7 => "The first is likelier",
                _ => "Not decided",
            };
            format!("{word}: {} in that order.", and(&odds))
        }
    }
}
