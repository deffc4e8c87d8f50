//! What is heard, read from the words it was said in.
//!
//! ```text
//! heard position 2 thin
//! heard tone at zero kills it, volume scratches
//! piece: loud hum, touching the strings no change
//! neck coil: silent
//! ```
//!
//! Each clause is one complaint, or none: what cannot be read as one is left, and the words stay as they were said.

mod names;

use asfound_electric::Circuit;
use asfound_record::Job;

use super::clauses::{Clause, clauses};
use crate::touches::{self, OnTouch, SpokenBy};
use names::{Names, Said};

/// A switch in a position.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct At {
    /// The switch by its name; `None` where it was only called selector, lever or position.
    pub switch: Option<String>,
    /// The position, as it was said.
    pub position: String,
}

/// How it stood when it was heard.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stand {
    /// Positions of a selector: of one switch each by itself, of several switches together.
    pub positions: Vec<At>,
    /// Coils that were on, together.
    pub coils: Vec<String>,
    /// Knobs with their turn, 0 shut to 1 full up.
    pub knobs: Vec<(String, f64)>,
    /// In every position.
    pub every: bool,
    /// Each coil by itself.
    pub each_alone: bool,
}

impl Stand {
    /// Whether nothing was said of positions or coils.
    pub fn is_open(&self) -> bool {
        self.positions.is_empty() && self.coils.is_empty() && !self.every && !self.each_alone
    }
}

/// How something sounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sounds {
    /// Without body, nasal, hollow.
    Thin,
    /// Low in level.
    Weak,
    /// Not at all.
    Silent,
    /// Without treble.
    Dark,
    /// As it should.
    Right,
}

/// What a knob does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KnobDoes {
    /// It scratches or crackles while it turns.
    Scratches,
    /// Nothing.
    Nothing,
    /// It silences everything, at this turn where one was said.
    Silences,
    /// What it should.
    Works,
}

/// One complaint, or one thing heard to be right.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// It sounds so.
    Sounds(Sounds),
    /// Only these coils sound at all.
    OnlySounds,
    /// These coils sound there; nothing was said of how.
    Gives,
    /// These coils sound there too, and should not.
    AlsoSounds,
    /// These coils are missing there, and should not.
    Missing,
    /// It hums.
    Hums,
    /// It does not hum, or hums less.
    Quiet,
    /// What the hum does when something is touched.
    Touch(SpokenBy, OnTouch),
    /// The sound cuts out when a string touches a cover; the coils named are those whose cover is meant.
    CutsOutAtCover,
    /// Each of these knobs does this.
    Knobs(Vec<String>, KnobDoes),
    /// It crackles or comes and goes when one of these is moved.
    Moved(Vec<String>),
    /// Lifting a lead there brings the treble back: parts, knobs or lugs.
    Lifted(Vec<String>),
    /// Whether the cavity has a conductive coat or foil.
    Coated(bool),
    /// No position gives both coils.
    NeverBoth,
    /// The protective earth of the amplifier and its socket was proved.
    EarthProved,
}

/// A complaint with the words it was read from.
#[derive(Debug, Clone, PartialEq)]
pub struct Complaint {
    /// The entry.
    pub seq: u64,
    /// The clause.
    pub text: String,
    /// What.
    pub what: What,
    /// How it stood.
    pub stand: Stand,
}

/// Reads every observation of a job; names are those of the circuit where it is traced.
pub fn read(job: &Job, circuit: Option<&Circuit>) -> Vec<Complaint> {
    let names = Names::of(job, circuit);
    let coils = names.all_of("coil");
    let mut found = Vec::new();
    for item in &job.observed {
        let of = item.body.part.as_deref().and_then(|id| job.part(id)).map(|part| &part.item.body);
        let words = cut(&item.body.words);
        let hum_is_spoken_of = clauses(item.seq, &words).iter().any(|clause| clause.has_any(&HUM));
        let mut before = Stand::default();
        for clause in clauses(item.seq, &words) {
            let mut said = names.read(clause.words());
            if let Some(part) = of {
                let name = part.traced_as.clone().unwrap_or_else(|| part.name.clone());
                about(&mut said, &part.sort, name);
            }
            settle(&mut said, &clause, &coils, &mut before);
            let complaint = complaint(&clause, said, hum_is_spoken_of);
            if let Some((what, stand)) = complaint.filter(|(what, _)| !is_of_looks(&clause, what)) {
                found.push(Complaint { seq: item.seq, text: clause.text.clone(), what, stand });
            }
        }
    }
    found
}

/// What is looked at, not listened to.
const LOOKED_AT: [&str; 28] = [
    "solder", "soldered", "wax", "tape", "cloth", "rods", "flatwork", "wire", "wires", "wound", "winding",
    "lead", "leads", "paint", "lacquer", "dust", "rust", "rusted", "shaft", "disc", "rivets", "edge",
    "eyelet", "cut", "sleeve", "plastic", "wood", "colour",
];

/// Whether the clause tells how something looks: solder is dull and bright, and a winding full, as a sound is.
fn is_of_looks(clause: &Clause, what: &What) -> bool {
    let of_sound =
        matches!(what, What::Sounds(_) | What::OnlySounds | What::Gives | What::AlsoSounds | What::Missing);
    of_sound && clause.has_any(&LOOKED_AT)
}

/// Words cut further where a person turns to something else, and lists of positions kept in one piece.
fn cut(words: &str) -> String {
    let mut cut = words.to_owned();
    for turn in [" but ", " while ", " whereas ", " though ", " yet "] {
        cut = cut.replace(turn, ", ");
    }
    let signs: Vec<char> = cut.chars().collect();
    let is_list = |at: usize| {
        let digit = |at: usize| signs.get(at).is_some_and(char::is_ascii_digit);
        signs[at] == ',' && at > 0 && digit(at - 1) && signs.get(at + 1) == Some(&' ') && digit(at + 2)
    };
    (0..signs.len()).map(|at| if is_list(at) { " and".to_owned() } else { signs[at].to_string() }).collect()
}

/// An observation of a part is about that part, whether its words name it or not.
fn about(said: &mut Said, sort: &str, name: String) {
    match sort {
        "coil" if said.stand.coils.is_empty() => said.stand.coils.push(name),
        "pot" if said.knobs.is_empty() && said.stand.knobs.is_empty() => said.knobs.push(name),
        "coil" | "pot" => {}
        _ if said.others.is_empty() => said.others.push(name),
        _ => {}
    }
}

/// How it stood, where the clause leaves it to the one before, and what `both` and `each` mean.
fn settle(said: &mut Said, clause: &Clause, coils: &[String], before: &mut Stand) {
    let stand = &mut said.stand;
    if clause.has_any(&["always", "everywhere", "permanently", "throughout"]) {
        stand.every = true;
    }
    let of_coils = stand.coils.is_empty() && said.knobs.is_empty();
    if of_coils && clause.has_any(&["both", "together"]) && coils.len() == 2 {
        stand.coils = coils.to_vec();
    } else if of_coils {
        let alone = clause.has_any(&["each", "every", "all"])
            && clause.has_any(&["alone", "itself", "own", "singly"]);
        let all = clause.has_any(&["all", "every"]) && clause.has_any(&["coils", "pickups", "them"]);
        stand.each_alone |= alone || all;
    }
    if stand.is_open() {
        stand.positions.clone_from(&before.positions);
        stand.coils.clone_from(&before.coils);
        stand.every = before.every;
    } else {
        before.clone_from(stand);
    }
}

const HUM: [&str; 8] = ["hum", "hums", "humming", "hummy", "buzz", "buzzes", "noisy", "noise"];
const MOVED: [&str; 14] = [
    "moved", "move", "moving", "wiggled", "wiggling", "wiggle", "tapped", "bent", "knocked", "bumped",
    "pressed", "wobbled", "shaken", "rocked",
];
const CRACKLES: [&str; 9] =
    ["crackles", "crackle", "crackling", "cuts", "intermittent", "drops", "comes", "sputters", "cracks"];
const LIFTED: [&str; 9] = [
    "lift",
    "lifted",
    "lifting",
    "unsoldered",
    "unsoldering",
    "disconnected",
    "disconnecting",
    "unhooked",
    "freed",
];
const RESTORED: [&str; 11] = [
    "restores", "restored", "back", "returns", "bright", "treble", "cures", "clears", "normal", "brings",
    "fixes",
];
const KILLS: [&str; 11] =
    ["kills", "kill", "silences", "silence", "silent", "mutes", "mute", "cuts", "killed", "dies", "nothing"];

/// What a clause complains of, with how it stood.
fn complaint(clause: &Clause, said: Said, hum_is_spoken_of: bool) -> Option<(What, Stand)> {
    if let Some(what) = earth_proved(clause)
        .or_else(|| coated(clause))
        .or_else(|| touched(clause))
        .or_else(|| handled(clause, &said))
    {
        return Some((what, said.stand));
    }
    if let Some(does) = knob_does(clause, &said) {
        let mut knobs = said.knobs;
        knobs.extend(said.stand.knobs.iter().map(|(name, _)| name.clone()));
        knobs.dedup();
        return Some((What::Knobs(knobs, does), said.stand));
    }
    if clause.has("both") && (clause.says("no position|setting") || clause.has("never")) {
        return Some((What::NeverBoth, Stand::default()));
    }
    let what = among_coils(clause, &said.stand)
        .or_else(|| sounds(clause, hum_is_spoken_of).map(What::Sounds))
        .or_else(|| hums(clause))
        .or_else(|| {
            let bare = said.left.iter().all(|word| IDLE.contains(&word.as_str())) && said.knobs.is_empty();
            (bare && !said.stand.positions.is_empty() && !said.stand.coils.is_empty()).then_some(What::Gives)
        })?;
    Some((what, said.stand))
}

/// Words that stand beside a position and its coils and say nothing more.
const IDLE: [&str; 14] = [
    "is", "gives", "and", "with", "the", "sounds", "plays", "has", "only", "alone", "both", "together", "in",
    "on",
];

fn earth_proved(clause: &Clause) -> Option<What> {
    let proved = clause.has_any(&["proved", "proven", "tested", "checked", "confirmed"]);
    (proved && clause.says("protective|amplifier|amplifier's|socket|mains earth"))
        .then_some(What::EarthProved)
}

fn coated(clause: &Clause) -> Option<What> {
    let coat = ["paint", "painted", "foil", "foiled", "coated", "coating", "lined", "copper-tape"];
    let where_ =
        ["cavity", "cavities", "conductive", "shielding", "screening", "lined", "routing", "compartment"];
    (clause.has_any(&coat) && clause.has_any(&where_)).then(|| What::Coated(!clause.is_turned()))
}

/// Touch by hand, and strings on covers: read as the study of touches reads them.
fn touched(clause: &Clause) -> Option<What> {
    match touches::heard_in(clause)? {
        (SpokenBy::CutOut, _) => Some(What::CutsOutAtCover),
        (by, change) => change.map(|change| What::Touch(by, change)),
    }
}

/// What was moved or lifted.
fn handled(clause: &Clause, said: &Said) -> Option<What> {
    let named = || {
        let mut named = said.others.clone();
        named.extend(said.knobs.iter().cloned());
        named
    };
    if clause.has_any(&LIFTED) && clause.has_any(&RESTORED) && !clause.is_turned() {
        return Some(What::Lifted(named()));
    }
    if clause.has_any(&MOVED) && clause.has_any(&CRACKLES) {
        let mut what = named();
        for word in ["lead", "cable", "plug", "jack"] {
            if clause.has(word) && !what.iter().any(|known| known == word) {
                what.push(word.to_owned());
            }
        }
        return Some(What::Moved(what));
    }
    None
}

fn knob_does(clause: &Clause, said: &Said) -> Option<KnobDoes> {
    if said.knobs.is_empty() && said.stand.knobs.is_empty() {
        return None;
    }
    if clause.has_any(&[
        "scratches",
        "scratchy",
        "scratch",
        "crackles",
        "crackly",
        "crackle",
        "noisy",
        "rough",
    ]) {
        return (!clause.is_turned()).then_some(KnobDoes::Scratches);
    }
    let whole = clause.has_any(&["all", "everything", "both", "it", "sound", "output", "whole"])
        || !said.stand.knobs.is_empty();
    let does_nothing = clause.says("does|do|has nothing");
    if clause.has_any(&KILLS) && whole && !does_nothing && !clause.is_turned() {
        return Some(KnobDoes::Silences);
    }
    let no_effect = does_nothing
        || clause.says("no effect|change|difference|function")
        || clause.says("not work|working|works|change|affect|respond|do")
        || clause.says("hardly any|changes|works|effect")
        || clause.has_any(&["dead", "useless", "ineffective", "inactive", "doesn't", "won't"]);
    // A knob that is dead may be said of its coil too; of a knob with a turn, the sound is meant.
    if no_effect && said.stand.knobs.is_empty() {
        return Some(KnobDoes::Nothing);
    }
    let works = clause.has_any(&["works", "work", "working", "fine"]) && said.stand.knobs.is_empty();
    (works && !clause.is_turned()).then_some(KnobDoes::Works)
}

/// Which coils sound where.
fn among_coils(clause: &Clause, stand: &Stand) -> Option<What> {
    if stand.coils.is_empty() {
        return None;
    }
    let sound = clause.has_any(&["sounds", "sound", "heard", "works", "plays", "on"]);
    if clause.has("only") && sound && stand.positions.is_empty() && !clause.is_turned() {
        return Some(What::OnlySounds);
    }
    if stand.positions.is_empty() {
        return None;
    }
    if clause.has_any(&["missing", "absent"]) || clause.says("not heard|there|sounding|sound|on") {
        return Some(What::Missing);
    }
    let also = clause.has_any(&["also", "still", "bleeds", "too", "adds", "adding", "through", "leaks"]);
    (also && !clause.is_turned()).then_some(What::AlsoSounds)
}

fn sounds(clause: &Clause, hum_is_spoken_of: bool) -> Option<Sounds> {
    if clause.says("no sound|signal|output|life") || clause.says("never sounds|sound") {
        return Some(Sounds::Silent);
    }
    if clause.says("no treble|highs|top|brightness|sparkle") || clause.says("hardly any|treble") {
        return Some(Sounds::Dark);
    }
    if clause.says("no bass|lows|body|bottom") {
        return Some(Sounds::Thin);
    }
    let lost = clause.says("lost|loses|losing|missing treble|highs|top");
    if lost {
        return Some(Sounds::Dark);
    }
    if clause.is_turned() {
        return None;
    }
    let table: [(Sounds, &[&str]); 5] = [
        (Sounds::Silent, &["silent", "dead", "mute", "nothing", "soundless"]),
        (Sounds::Thin, &["thin", "nasal", "hollow", "sickly", "tinny", "out-of-phase", "reedy", "anaemic"]),
        (Sounds::Weak, &["weak", "faint", "feeble", "low", "soft", "lost", "weaker", "leaks"]),
        (Sounds::Dark, &["dark", "dull", "muddy", "muffled", "woolly", "bassy", "dead-sounding", "darker"]),
        (
            Sounds::Right,
            &[
                "right", "fine", "normal", "full", "good", "strong", "ok", "okay", "clear", "works",
                "healthy", "well", "fat",
            ],
        ),
    ];
    if clause.says("out of phase") {
        return Some(Sounds::Thin);
    }
    if let Some((sounds, _)) = table.iter().find(|(_, words)| clause.has_any(words)) {
        return Some(*sounds);
    }
    // Of hum, quiet is what one hopes for; of sound it is a loss.
    (clause.has_any(&["quiet", "quieter"]) && !hum_is_spoken_of).then_some(Sounds::Weak)
}

fn hums(clause: &Clause) -> Option<What> {
    let hum = clause.has_any(&HUM);
    if clause.has("hum-free")
        || (hum && (clause.is_turned() || clause.has_any(&["less", "quiet", "quieter"])))
    {
        return Some(What::Quiet);
    }
    if hum {
        return Some(What::Hums);
    }
    clause.has_any(&["quiet", "quieter"]).then_some(What::Quiet)
}
