//! What one state sounds like, as a sentence and how sure it is.

use asfound_study::conditions::{Condition, share, when};
use asfound_study::wiring::explain::{
    Band, CoilWord, Explanation, HumWord, JackOutput, PhaseWord, RelationWord, StateTold,
};

use super::names;
use crate::lists::{and, capital};
use crate::sheet::Table;

/// Steps in which a tone that is not decided is told apart: twice what is easily missed.
const OPEN_COLOUR_FROM: f64 = 6.0;

/// Decibels from which a part's colouring is worth a word in the sentence. Common practice, no source: below about
/// three decibels a change of tone is easily missed without a direct comparison.
const COLOUR_TOLD_FROM: f64 = 3.0;

/// A part without which this many decibels are missing carries all of the sound.
const ALL_THROUGH: f64 = 40.0;

/// Shares from which a case is called likely, and very likely. Our convention.
const LIKELY_FROM: f64 = 0.7;
const VERY_LIKELY_FROM: f64 = 0.9;

/// A state in words.
pub(super) struct Said {
    pub(super) sentence: String,
    pub(super) sure: String,
    /// What phase and hum hang on, where that is open.
    pub(super) working: Vec<String>,
    /// What is heard in each case, where there are several.
    pub(super) cases: Option<Table>,
}

/// One thing that may be heard.
struct Case {
    /// In words, with the phase where that is the same throughout.
    words: String,
    /// What hum does, where that is the same throughout.
    hum: Option<String>,
    /// The possibilities in which it is heard, rising.
    at: Vec<usize>,
    /// How likely.
    share: f64,
}

/// A phrase with the possibilities in which it is the right one.
type Phrases = Vec<(String, Vec<usize>)>;

/// Tells a state, found at `place`.
pub(super) fn tell(explanation: &Explanation, state: &StateTold, place: &str) -> Said {
    let all = names::all(explanation);
    let mut open = Vec::new();
    let mut cases: Vec<Case> = Vec::new();
    for (sound, at) in phrases(explanation, &all, |at| sound(explanation, state, at)) {
        let phase = only(phrases(explanation, &at, |at| phase(explanation, state, at)));
        let hum = only(phrases(explanation, &at, |at| hum(state, at)));
        if phase.is_none() && !open.contains(&"phase") {
            open.push("phase");
        }
        if hum.is_none() && !open.contains(&"hum") {
            open.push("hum");
        }
        let words = format!("{sound}{}", phase.unwrap_or_else(|| ", phase not known yet".to_owned()));
        cases.push(Case { words, hum, share: share(explanation, &at), at });
    }
    open.sort_unstable_by(|a, b| b.cmp(a));
    let mut working = Vec::new();
    if open.contains(&"phase") {
        working.push(split(explanation, &phrases(explanation, &all, |at| phase(explanation, state, at))));
    }
    if open.contains(&"hum") {
        working.push(split(explanation, &phrases(explanation, &all, |at| hum_with_ratio(state, at))));
    }
    let conditions: Vec<Condition> = cases.iter().map(|case| when(explanation, &case.at, &all)).collect();
    let deciders = deciders(explanation, &conditions);
    let told = match (cases.as_slice(), conditions.as_slice()) {
        ([only], _) => {
            let open = open_colour(explanation, state, &all);
            format!("{}{}{}", only.words, colour(explanation, state), open)
        }
        ([first, second], [condition, _]) if *condition != Condition::Other => {
            one_or_other(first, second, condition)
        }
        _ => format!("what is heard depends on {deciders}"),
    };
    let sentence = if place.is_empty() { capital(&told) } else { format!("{}, {told}", capital(place)) };
    Said {
        sentence: format!("{sentence}."),
        sure: sureness(explanation, &cases, &deciders, &open),
        working,
        cases: (cases.len() > 1).then(|| table(explanation, &cases, &conditions)),
    }
}

/// Two things that may be heard, told so that the condition is said as it is, not turned round.
fn one_or_other(first: &Case, second: &Case, condition: &Condition) -> String {
    match condition {
        Condition::Unless(other) => {
            format!("{}, unless {}; then {}", first.words, names::bare_condition(other), second.words)
        }
        plain if first.words.contains(',') => {
            format!("if {}, {}; else {}", names::bare_condition(plain), first.words, second.words)
        }
        plain => format!("{} if {}; else {}", first.words, names::bare_condition(plain), second.words),
    }
}

/// What decides between cases: `where choke.b and small-cap.b went`.
fn deciders(explanation: &Explanation, conditions: &[Condition]) -> String {
    let named = |stub: &String| conditions.iter().any(|condition| names_stub(condition, stub));
    let stubs = names::stubs(explanation);
    let deciding: Vec<&String> = stubs.iter().filter(|stub| named(stub)).collect();
    let deciding = if deciding.is_empty() { stubs.iter().collect() } else { deciding };
    if deciding.is_empty() {
        "how the coils are wound".to_owned()
    } else {
        format!("where {} went", and(&deciding))
    }
}

fn names_stub(condition: &Condition, stub: &str) -> bool {
    match condition {
        Condition::Stub { stub: named, .. } => named == stub,
        Condition::Both(first, second) => names_stub(first, stub) || names_stub(second, stub),
        Condition::Unless(other) => names_stub(other, stub),
        _ => false,
    }
}

/// How sure the sentence is: at most two short sentences.
fn sureness(explanation: &Explanation, cases: &[Case], deciders: &str, open: &[&str]) -> String {
    let stubs = names::stubs(explanation);
    let likeliest = cases.first().map_or(1.0, |case| case.share);
    let first = if cases.len() == 2 { "The first is".to_owned() } else { "One is".to_owned() };
    let mut sure = match (cases.len(), stubs.as_slice()) {
        (1, []) => "Certain as traced".to_owned(),
        (1, [stub]) => format!("True wherever {stub} went"),
        (1, _) => "True wherever the cut leads went".to_owned(),
        _ if likeliest >= VERY_LIKELY_FROM => format!("{first} very likely; {deciders} decides it"),
        _ if likeliest >= LIKELY_FROM => format!("{first} likely; {deciders} decides it"),
        _ => format!("Not decided: {deciders} decides it"),
    };
    if let [Case { hum: Some(hum), .. }] = cases
        && !hum.is_empty()
    {
        sure.push_str(&format!("; {hum}"));
    }
    sure.push('.');
    if !open.is_empty() {
        sure.push(' ');
        sure.push_str(&waits(explanation, open));
    }
    sure
}

/// What phase and hum wait for, where they are open. A tap gives winding times magnet, which is all that phase needs;
/// hum goes by the winding alone, so the compass is needed too.
fn waits(explanation: &Explanation, open: &[&str]) -> String {
    let untapped = names::untapped(explanation);
    if untapped.is_empty() {
        return format!("So does {}.", and(open));
    }
    let coils = names::coils(explanation, &untapped);
    match open {
        ["phase", "hum"] => format!("Phase waits for a tap of {coils}, hum for a compass there too."),
        ["phase"] => format!("Phase waits for a tap of {coils}."),
        _ => format!("Hum waits for a tap and a compass at {coils}."),
    }
}

/// Every thing that may be heard, with its condition and how likely it is.
fn table(explanation: &Explanation, cases: &[Case], conditions: &[Condition]) -> Table {
    let mut table = Table::with("What is heard, and when", &["if", "what is heard", "hum", "#how likely"]);
    for (case, condition) in cases.iter().zip(conditions) {
        table.rows.push(vec![
            names::short_condition(explanation, condition),
            case.words.clone(),
            match case.hum.as_deref() {
                Some("") => "–".to_owned(),
                Some(hum) => hum.trim_start_matches("hum ").to_owned(),
                None => "not known yet".to_owned(),
            },
            format!("{:.0} %", 100.0 * case.share),
        ]);
    }
    table
}

/// What is said in one possibility. Its rank orders phrases that are equally likely: it is made of coils and words by
/// their order, so that neither a name nor the order of the joins moves a phrase.
struct Ranked {
    rank: Vec<usize>,
    words: String,
}

/// Goes through possibilities and gathers equal phrases, the likeliest first.
fn phrases(explanation: &Explanation, among: &[usize], phrase: impl Fn(usize) -> Ranked) -> Phrases {
    let mut gathered: Vec<(Ranked, Vec<usize>)> = Vec::new();
    for &at in among {
        let phrase = phrase(at);
        match gathered.iter_mut().find(|(known, _)| known.words == phrase.words) {
            Some((_, possibilities)) => possibilities.push(at),
            None => gathered.push((phrase, vec![at])),
        }
    }
    let share = |at: &[usize]| share(explanation, at);
    gathered.sort_by(|a, b| share(&b.1).total_cmp(&share(&a.1)).then_with(|| a.0.rank.cmp(&b.0.rank)));
    gathered.into_iter().map(|(phrase, at)| (phrase.words, at)).collect()
}

fn only(mut phrases: Phrases) -> Option<String> {
    if phrases.len() == 1 { phrases.pop().map(|(phrase, _)| phrase) } else { None }
}

/// Phrases with their conditions. Those with nothing to say are left out, and the conditions then tell the others apart
/// among themselves. Of two, the second is what is left.
fn split(explanation: &Explanation, phrases: &Phrases) -> String {
    let said: Vec<&(String, Vec<usize>)> = phrases.iter().filter(|(phrase, _)| !phrase.is_empty()).collect();
    let mut among: Vec<usize> = said.iter().flat_map(|(_, at)| at.iter().copied()).collect();
    among.sort_unstable();
    let plain = |phrase: &str| phrase.trim_start_matches([',', ';', ':', ' ']).to_owned();
    match said.as_slice() {
        [] => String::new(),
        [(only, _)] => format!("{}.", capital(&plain(only))),
        [(first, at), (second, _)] => {
            let condition = names::condition(&when(explanation, at, &among));
            format!("{} {condition}; else {}.", capital(&plain(first)), plain(second))
        }
        several => several
            .iter()
            .map(|(phrase, at)| {
                format!("{} {}.", capital(&plain(phrase)), names::condition(&when(explanation, at, &among)))
            })
            .collect::<Vec<_>>()
            .join(" "),
    }
}

/// Which coils sound and how they are joined.
fn sound(explanation: &Explanation, state: &StateTold, at: usize) -> Ranked {
    let silent = |words: &str| Ranked { rank: Vec::new(), words: words.to_owned() };
    match state.output.in_possibility(at) {
        Some(JackOutput::Shorted) => {
            return silent("the jack is shorted, tip to sleeve, and nothing is heard");
        }
        Some(JackOutput::Open) => return silent("nothing joins tip to sleeve, so nothing is heard"),
        Some(JackOutput::Silent) | None => return silent("no coil reaches the jack"),
        Some(JackOutput::Live) => {}
    }
    let word = |coil: usize| state.coils[coil].in_possibility(at).map(|fact| fact.word);
    let those = |wanted: CoilWord| -> Vec<usize> {
        (0..explanation.coils.len()).filter(|&coil| word(coil) == Some(wanted)).collect()
    };
    // Faint is said beside a louder coil only.
    let (sounding, faint) = match (those(CoilWord::Sounds), those(CoilWord::Faint)) {
        (none, faint) if none.is_empty() => (faint, none),
        both => both,
    };
    let coils = names::coils(explanation, &sounding);
    let mut words = match sounding.as_slice() {
        [_] => format!("{coils} sounds alone"),
        _ => format!("{coils} sound together{}", relation(explanation, state, at, &sounding)),
    };
    if !faint.is_empty() {
        words.push_str(&format!(", with {} faint behind", names::coils(explanation, &faint)));
    }
    Ranked { rank: [vec![sounding.len()], sounding, faint].concat(), words }
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
        .map(|(a, b, word)| {
            format!("{} and {} {}", explanation.coils[*a], explanation.coils[*b], relation_word(*word))
        })
        .collect();
    format!(" ({})", each.join(", "))
}

pub(super) fn relation_word(word: RelationWord) -> &'static str {
    match word {
        RelationWord::Series => "in series",
        RelationWord::Parallel => "in parallel",
        RelationWord::Mixture => "partly in series and partly in parallel",
    }
}

/// How the strings add, for the coils that are heard together.
fn phase(explanation: &Explanation, state: &StateTold, at: usize) -> Ranked {
    let mut rank = Vec::new();
    let mut told: Vec<(usize, usize, String)> = Vec::new();
    for pair in &state.pairs {
        if let Some(Some(phase)) = pair.phase.in_possibility(at) {
            let bands = [phase.word.low, phase.word.middle, phase.word.high];
            rank.extend(bands.map(|word| word as usize));
            told.push((pair.a, pair.b, phase_words(bands)));
        }
    }
    let words = match told.first() {
        None => String::new(),
        Some((_, _, first)) if told.iter().all(|(_, _, words)| words == first) => format!(", {first}"),
        Some(_) => {
            let coil = |at: usize| names::said(&explanation.coils[at]);
            let each: Vec<String> =
                told.iter().map(|(a, b, words)| format!("{} and {} {words}", coil(*a), coil(*b))).collect();
            format!(": {}", each.join(", "))
        }
    };
    Ranked { rank, words }
}

fn phase_words([low, middle, high]: [PhaseWord; 3]) -> String {
    if low == middle && middle == high {
        let thin = if low == PhaseWord::OutOfPhase { " and thin" } else { "" };
        return format!("{}{thin}", phase_word(low));
    }
    let bands = [(low, "the lows"), (middle, "the middle"), (high, "the highs")];
    let mut pieces: Vec<(PhaseWord, Vec<&str>)> = Vec::new();
    for (word, band) in bands {
        match pieces.iter_mut().find(|(known, _)| *known == word) {
            Some((_, names)) => names.push(band),
            None => pieces.push((word, vec![band])),
        }
    }
    let told: Vec<String> =
        pieces.iter().map(|(word, names)| format!("{} in {}", phase_word(*word), and(names))).collect();
    told.join(", ")
}

fn phase_word(word: PhaseWord) -> &'static str {
    match word {
        PhaseWord::InPhase => "in phase",
        PhaseWord::InBetween => "between in and out of phase",
        PhaseWord::OutOfPhase => "out of phase",
    }
}

/// What hum does, where more than one coil is heard.
fn hum(state: &StateTold, at: usize) -> Ranked {
    let hum = state.hum.in_possibility(at);
    let words = match hum.map(|hum| hum.word) {
        None | Some(HumWord::NoCoil | HumWord::OneCoil) => "",
        Some(HumWord::Adds) => "hum adds up",
        Some(HumWord::Partly) => "hum partly cancels",
        Some(HumWord::Cancels) => "hum cancels",
    };
    Ranked { rank: hum.map(|hum| hum.word as usize).into_iter().collect(), words: words.to_owned() }
}

fn hum_with_ratio(state: &StateTold, at: usize) -> Ranked {
    let said = hum(state, at);
    match state.hum.in_possibility(at) {
        Some(hum) if !said.words.is_empty() => {
            Ranked { words: format!("{} ({:.2} of the sum is left)", said.words, hum.ratio), ..said }
        }
        _ => said,
    }
}

/// Where the tone itself hangs on what is not known: said, and what it hangs on. The cases stand in the plot.
fn open_colour(explanation: &Explanation, state: &StateTold, all: &[usize]) -> String {
    let mut conditions = Vec::new();
    for colouring in &state.colouring {
        let effect = |at: usize, band: Band| match colouring.without.in_possibility(at) {
            Some(Some(without)) => (-without.of(band).0).clamp(-ALL_THROUGH, ALL_THROUGH),
            _ => 0.0,
        };
        // Steps of the least that is worth a word, so that a trifle makes no case of its own.
        let steps = |at: usize| Band::ALL.map(|band| (effect(at, band) / OPEN_COLOUR_FROM) as i64);
        let words = |at: usize| Ranked { words: format!("{:?}", steps(at)), rank: Vec::new() };
        let cases = phrases(explanation, all, words);
        if cases.len() > 1 {
            conditions.extend(cases.iter().map(|(_, at)| when(explanation, at, all)));
        }
    }
    if conditions.is_empty() {
        return String::new();
    }
    format!("; how bright or dark depends on {}", deciders(explanation, &conditions))
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
            told.push((f64::INFINITY, format!("all of it goes through {}", names::part(&colouring.part))));
            continue;
        }
        let certain = effects.iter().all(|(effect, other)| *other == band && (effect - first).abs() < 1.0);
        if certain && first.abs() >= COLOUR_TOLD_FROM {
            let way = if first < 0.0 { "takes" } else { "adds" };
            let from = if first < 0.0 { "off" } else { "to" };
            let words = format!(
                "{} {way} {:.0} dB {from} {}",
                names::part(&colouring.part),
                first.abs(),
                band_name(band)
            );
            told.push((first.abs(), words));
        }
    }
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    let words: Vec<String> = told.into_iter().take(2).map(|(_, words)| words).collect();
    if words.is_empty() { String::new() } else { format!("; {}", words.join(", and ")) }
}

/// A band's name in a sentence.
fn band_name(band: Band) -> &'static str {
    match band {
        Band::Low => "the lows",
        Band::Middle => "the middle",
        Band::High => "the highs",
    }
}
