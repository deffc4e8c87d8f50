//! Taps, compass, winding sense, metal and pairs heard together, read from the words they were said in.
//!
//! ```text
//! screw coil: tap, steel touching, + on green, - on white, needle up
//! neck coil: compass, north at the strings
//! neck coil: wound clockwise from white
//! bridge coil: steel plate tied to its ground lead
//! piece: neck with middle thin
//! ```

use asfound_electric::Sign;
use asfound_electric::polarity::{
    Between, CoilSeen, Found, HumHeard, JackEnd, Lead, Metal, Motion, Needle, PairHeard, Tap, Tone,
    WindingSeen,
};
use asfound_measure::Ohms;
use asfound_record::Job;

use super::clauses::{Clause, clauses};
use crate::settings::{self, Stood};

/// Everything read, each thing with the entry it was said in.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PolaritySaid {
    /// The coils with what was seen of each, the taps and the pairs.
    pub found: Found,
    /// The part's id of each coil.
    pub parts: Vec<String>,
    /// The entry of each tap.
    pub tap_entries: Vec<u64>,
    /// The entry of each pair.
    pub pair_entries: Vec<u64>,
    /// The entries that say something of a coil by itself.
    pub coil_entries: Vec<Vec<u64>>,
    /// Taps that were said and cannot be used, with what is missing.
    pub unusable: Vec<(u64, String)>,
}

/// What the lead towards the output is called where no colour was said.
pub const HOT_LEAD: &str = "hot lead";
/// What the other lead is called.
pub const GROUND_LEAD: &str = "ground lead";

/// Reads what was said of polarity; `ohms` answers a coil's resistance by its part's id.
pub fn read(job: &Job, ohms: impl Fn(&str) -> Option<Ohms>) -> PolaritySaid {
    let mut said = PolaritySaid::default();
    for part in job.parts.iter().filter(|part| part.item.body.sort == "coil") {
        let body = &part.item.body;
        let observed: Vec<(u64, &str)> = observed_of(job, &body.part).collect();
        let [first, second] = lead_names(&observed);
        let mut coil = CoilSeen::new(&body.name, first, second);
        if coil.leads[0] == HOT_LEAD {
            coil.hot = Some(Lead::First);
        }
        coil.resistance = ohms(&body.part);
        let mut entries = Vec::new();
        for (seq, words) in &observed {
            let all = clauses(*seq, words);
            // A compass is named once, and what it showed often stands behind a comma.
            let of_poles = all.iter().any(|clause| clause.has_any(&POLES));
            let told = all.iter().filter(|clause| look(&mut coil, clause, of_poles)).count() > 0;
            if told {
                entries.push(*seq);
            }
        }
        said.found.coils.push(coil);
        said.parts.push(body.part.clone());
        said.coil_entries.push(entries);
    }
    for at in 0..said.parts.len() {
        let part = said.parts[at].clone();
        for (seq, words) in observed_of(job, &part) {
            take_tap(&mut said, at, seq, words);
        }
    }
    for item in &job.observed {
        for clause in clauses(item.seq, &item.body.words) {
            take_pair(&mut said, job, item.body.part.as_deref(), &clause);
        }
    }
    said
}

fn observed_of<'j>(job: &'j Job, part: &'j str) -> impl Iterator<Item = (u64, &'j str)> {
    job.observed
        .iter()
        .filter(move |item| item.body.part.as_deref() == Some(part))
        .map(|item| (item.seq, item.body.words.as_str()))
}

/// Signs kept apart from words, so that `+` and `-` can be read.
fn tokens(words: &str) -> Vec<String> {
    let spaced = words.replace(',', " , ").replace(';', " ; ").replace('−', "-");
    spaced
        .split_whitespace()
        .map(|word| word.trim_matches(|sign: char| ".:()\"“”".contains(sign)).to_lowercase())
        .filter(|word| !word.is_empty())
        .collect()
}

/// The lead that a sign of the meter was put on: `+ on green`.
fn lead_after(tokens: &[String], signs: &[&str]) -> Option<String> {
    let at = tokens.iter().position(|token| signs.contains(&token.as_str()))?;
    let filler = ["on", "at", "to", "the", "lead", "probe", "meter", "side"];
    tokens[at + 1..].iter().take(4).find(|token| !filler.contains(&token.as_str()) && *token != ",").cloned()
}

const PLUS: [&str; 3] = ["+", "plus", "positive"];
const MINUS: [&str; 3] = ["-", "minus", "negative"];

/// The coil's two leads as they were called in a tap test, or as `leads green and white`; else by where they go.
fn lead_names(observed: &[(u64, &str)]) -> [String; 2] {
    for (_, words) in observed {
        let tokens = tokens(words);
        if let (Some(plus), Some(minus)) = (lead_after(&tokens, &PLUS), lead_after(&tokens, &MINUS))
            && plus != minus
            && !is_jack_end(&plus)
        {
            return [plus, minus];
        }
        if let Some(at) = tokens.iter().position(|token| token == "leads")
            && let [first, _and, second, ..] = &tokens[at + 1..]
            && first != second
            && COLOURS.contains(&first.as_str())
            && COLOURS.contains(&second.as_str())
        {
            return [first.clone(), second.clone()];
        }
    }
    [HOT_LEAD.to_owned(), GROUND_LEAD.to_owned()]
}

const COLOURS: [&str; 13] = [
    "white", "black", "red", "green", "yellow", "blue", "brown", "grey", "gray", "orange", "violet", "bare",
    "shield",
];

fn is_jack_end(word: &str) -> bool {
    ["tip", "sleeve"].contains(&word)
}

/// Words that say that poles are spoken of.
const POLES: [&str; 6] = ["compass", "pole", "poles", "rods", "magnet", "magnets"];

/// Takes what a clause says of a coil by itself; answers whether it said anything.
fn look(coil: &mut CoilSeen, clause: &Clause, of_poles: bool) -> bool {
    (of_poles && magnet(coil, clause)) | winding(coil, clause) | metal(coil, clause) | hot(coil, clause)
}

fn magnet(coil: &mut CoilSeen, clause: &Clause) -> bool {
    if clause.is_turned() {
        return false;
    }
    let (north, south) = (clause.has("north"), clause.has("south"));
    if north == south {
        return false;
    }
    // The end of a compass that a pole draws has the other name than the pole.
    let drawn = clause.has_any(&["points", "drawn", "attracted", "swings", "turns"]);
    coil.magnet = Some(if north != drawn { Sign::Plus } else { Sign::Minus });
    true
}

fn winding(coil: &mut CoilSeen, clause: &Clause) -> bool {
    let against =
        clause.has_any(&["counter-clockwise", "counterclockwise", "anticlockwise", "anti-clockwise"]);
    if !(against || clause.has("clockwise")) || clause.is_turned() {
        return false;
    }
    let Some(from) = named_lead(coil, clause) else { return false };
    let sense = if against { Sign::Minus } else { Sign::Plus };
    coil.winding = Some(WindingSeen { from, sense });
    true
}

fn metal(coil: &mut CoilSeen, clause: &Clause) -> bool {
    if !clause.has_any(&["cover", "plate", "frame", "baseplate", "base"]) {
        return false;
    }
    if clause.has_any(&["no", "without", "plastic"]) {
        coil.metal = Metal::None;
        return true;
    }
    if clause.says("own wire|lead") {
        coil.metal = Metal::OwnWire;
        return true;
    }
    if clause.is_turned()
        || !clause.has_any(&["tied", "bonded", "soldered", "joined", "connected", "grounded"])
    {
        return false;
    }
    let Some(lead) = named_lead(coil, clause) else { return false };
    coil.metal = Metal::TiedTo(lead);
    true
}

fn hot(coil: &mut CoilSeen, clause: &Clause) -> bool {
    let by_colour = coil.leads[0] != HOT_LEAD;
    if !by_colour || !clause.has("hot") || clause.is_turned() {
        return false;
    }
    let named: Vec<Lead> =
        [Lead::First, Lead::Second].into_iter().filter(|lead| clause.has(coil.name_of(*lead))).collect();
    let [lead] = named.as_slice() else { return false };
    coil.hot = Some(*lead);
    true
}

/// The lead that a clause names: by its colour, or as hot or ground.
fn named_lead(coil: &CoilSeen, clause: &Clause) -> Option<Lead> {
    let by_name = |lead: Lead| clause.has(coil.name_of(lead));
    let by_role = |role: &str| clause.has(role);
    match coil.leads[0].as_str() {
        HOT_LEAD if by_role("ground") || by_role("earth") => Some(Lead::Second),
        HOT_LEAD if by_role("hot") => Some(Lead::First),
        HOT_LEAD => None,
        _ if by_name(Lead::First) => Some(Lead::First),
        _ if by_name(Lead::Second) => Some(Lead::Second),
        _ if by_role("ground") => coil.hot.map(Lead::other),
        _ if by_role("hot") => coil.hot,
        _ => None,
    }
}

fn take_tap(said: &mut PolaritySaid, coil: usize, seq: u64, words: &str) {
    let tokens = tokens(words);
    let has = |words: &[&str]| tokens.iter().any(|token| words.contains(&token.as_str()));
    let plus = lead_after(&tokens, &PLUS);
    if !(has(&["tap", "tapped", "steel", "screwdriver"]) && (plus.is_some() || has(&["needle"]))) {
        return;
    }
    let motion = if has(&["leaving", "lifted", "lifting", "pulled", "away", "off"]) {
        Some(Motion::Leaving)
    } else if has(&["touching", "touches", "touched", "touch", "laid", "laying", "contact", "against"]) {
        Some(Motion::Touching)
    } else {
        None
    };
    let needle = tokens.iter().rev().find_map(|token| match token.as_str() {
        "up" | "upwards" => Some(Needle::Up),
        "down" | "downwards" => Some(Needle::Down),
        "still" | "unmoved" => Some(Needle::Still),
        _ => None,
    });
    let mut missing = Vec::new();
    if motion.is_none() {
        missing.push("whether the steel was touching or leaving");
    }
    if plus.is_none() {
        missing.push("which lead the meter's + was on");
    }
    if needle.is_none() {
        missing.push("whether the needle went up or down");
    }
    let (Some(motion), Some(plus), Some(needle)) = (motion, plus, needle) else {
        said.unusable.push((seq, missing.join(" and ")));
        return;
    };
    let between = match plus.as_str() {
        "tip" => Some(Between::Jack { plus: JackEnd::Tip }),
        "sleeve" => Some(Between::Jack { plus: JackEnd::Sleeve }),
        name => {
            let coil = &said.found.coils[coil];
            let by_role = match (coil.leads[0].as_str(), name) {
                (HOT_LEAD, "hot") => Some(Lead::First),
                (HOT_LEAD, "ground") => Some(Lead::Second),
                _ => None,
            };
            coil.lead(name).or(by_role).map(|plus| Between::Leads { plus })
        }
    };
    match between {
        Some(between) => {
            said.found.taps.push(Tap { coil, motion, between, needle });
            said.tap_entries.push(seq);
        }
        None => said.unusable.push((seq, format!("a lead of this coil that is called {plus}"))),
    }
}

fn take_pair(said: &mut PolaritySaid, job: &Job, of: Option<&str>, clause: &Clause) {
    if clause.is_turned() {
        return;
    }
    let thin = clause.has_any(&["thin", "weak", "nasal", "hollow", "sickly", "tinny"]);
    let full = clause.has_any(&["full", "fat", "strong", "rich", "round"]);
    let tone = match (thin, full) {
        (true, false) => Some(Tone::Thin),
        (false, true) => Some(Tone::Full),
        _ => None,
    };
    let hum = if clause.has_any(&["quiet", "quieter", "hum-free"]) || clause.says("less hum|hums") {
        Some(HumHeard::Less)
    } else if clause.says("hum|hums same|more|much|both") {
        Some(HumHeard::NotLess)
    } else {
        None
    };
    if (tone.is_none() && hum.is_none()) || !clause.has_any(&["with", "and", "together", "both", "+"]) {
        return;
    }
    let mut coils: Vec<String> =
        of.map(str::to_owned).into_iter().filter(|part| said.parts.contains(part)).collect();
    for stood in settings::all(&clause.text, job) {
        if let Stood::Coil(part) = stood
            && !coils.contains(&part)
        {
            coils.push(part);
        }
    }
    if coils.is_empty() && said.parts.len() == 2 && clause.has_any(&["both", "together"]) {
        coils.clone_from(&said.parts);
    }
    let at = |part: &String| said.parts.iter().position(|known| known == part);
    if let [a, b] = coils.as_slice()
        && let (Some(a), Some(b)) = (at(a), at(b))
    {
        said.found.pairs.push(PairHeard { a, b, tone, hum });
        said.pair_entries.push(clause.seq);
    }
}
