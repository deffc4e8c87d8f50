//! What within a part is as made and what is not: each side apart, with its ground, how sure, and its photograph.

use std::collections::BTreeSet;

use asfound_study::originality::{
    AskFor, Aspect, AspectJudged, GLOW_CAUTION, Ground, LookFor, PartOriginality, SURE_ENOUGH, State,
};

use crate::likely::{figure, in_hundred, support};
use crate::lists::{and, capital};
use crate::sheet::{Rest, Step, Table, Told};

/// The findings on one part; none where nothing was seen of any side.
pub(super) fn told(part: &PartOriginality) -> Vec<Told> {
    let mut all = Vec::new();
    if is_told(part) {
        all.extend(not_from_photographs(part));
        all.push(side_by_side(part));
    }
    all
}

/// Whether anything was seen of a side; the part as a whole has its own finding.
pub(super) fn is_told(part: &PartOriginality) -> bool {
    sides(part).any(|side| side.state != State::NotLookedAt)
}

fn sides(part: &PartOriginality) -> impl Iterator<Item = &AspectJudged> {
    part.aspects.iter().filter(|side| side.aspect != Aspect::Itself)
}

fn side_by_side(part: &PartOriginality) -> Told {
    let mut entries: Vec<u64> = sides(part).flat_map(AspectJudged::entries).collect();
    entries.extend(part.kept.as_ref().map(|kept| kept.seq));
    entries.extend(part.glows.iter().map(|glow| glow.seq));
    entries.sort_unstable();
    entries.dedup();
    let mut told = Told {
        id: format!("sides-{}", if of_whole(part) { "piece" } else { &part.part }),
        sentence: sentence(part),
        sure: sure(part),
        next: next(part).into_iter().collect(),
        rests_on: Rest::on_all(entries),
        working: vec![format!(
            "Each side is judged by what was seen of it alone. It is called as made or not from {:.0} in 100 on, and only where that holds with any one figure of a sign at either end of its range; of signs with one cause only the strongest counts.",
            100.0 * SURE_ENOUGH
        )],
        tables: vec![table(part), grounds(part)],
        ..Told::default()
    };
    told.working.extend(
        part.kept
            .as_ref()
            .map(|kept| format!("Kept apart (“{}”, entry {}): it counts as present.", kept.clause, kept.seq)),
    );
    told.working.extend(part.glows.iter().map(|glow| {
        format!(
            "{} under ultraviolet light (“{}”, entry {}): it may be {}. A colour decides nothing by itself, and no glow is not no finish; {GLOW_CAUTION}.",
            capital(glow.what.name), glow.clause, glow.seq, glow.what.may_be
        )
    }));
    told.tables.retain(|table| !table.rows.is_empty());
    told
}

/// States in the order in which they are told.
const TOLD: [(State, &str); 6] = [
    (State::Original, "as made"),
    (State::Altered, "altered"),
    (State::PeriodReplacement, "another of about its time"),
    (State::LaterReplacement, "another and later"),
    (State::Replaced, "another, when cannot be told"),
    (State::NotDecided, "not decided"),
];

fn of_state(part: &PartOriginality, state: State) -> Vec<&'static str> {
    sides(part).filter(|side| side.state == state).map(|side| side.aspect.words()).collect()
}

fn sentence(part: &PartOriginality) -> String {
    let said: Vec<String> = TOLD
        .iter()
        .filter_map(|(state, words)| {
            let sides = of_state(part, *state);
            let are = if sides.len() == 1 && !is_plural(sides[0]) { "is" } else { "are" };
            (!sides.is_empty()).then(|| format!("{} {are} {words}", and(&sides)))
        })
        .collect();
    format!("Of the {}, {}.", part.name, said.join("; "))
}

fn is_plural(words: &str) -> bool {
    words.ends_with('s') || words.contains(" and ")
}

/// What was said of the whole piece and of no part has no id.
fn of_whole(part: &PartOriginality) -> bool {
    part.part.is_empty()
}

fn sure(part: &PartOriginality) -> String {
    if of_whole(part) {
        return "That is what was said of the whole; each part is told by itself.".to_owned();
    }
    let unseen = of_state(part, State::NotLookedAt);
    match unseen.as_slice() {
        [] => "Every side of it was looked at; how sure of each stands behind.".to_owned(),
        sides => format!("Not looked at yet: {}.", and(sides)),
    }
}

/// The first look that a side which is open asks for.
fn next(part: &PartOriginality) -> Option<Step> {
    let open = |state| sides(part).filter(move |side| side.state == state);
    let side =
        open(State::NotDecided).chain(open(State::NotLookedAt)).find(|side| !side.to_look.is_empty())?;
    let look: &LookFor = side.to_look.first()?;
    Some(Step {
        id: format!("see-{}-{}", look.family.replace(' ', "-"), part.part),
        words: format!("On the {}, look at {}.", part.name, look.words),
        why: format!("About {} minutes; it tells of {}.", look.minutes, side.aspect.words()),
        caution: if look.caution.is_empty() { String::new() } else { format!("{}.", capital(look.caution)) },
        ..Step::default()
    })
}

fn table(part: &PartOriginality) -> Table {
    let columns = [
        "side",
        "what can be said",
        "#likelihood ratio",
        "in words",
        "#before, of 100",
        "#now, of 100",
        "photo",
    ];
    let mut table = Table::with("Side by side", &columns);
    table.rows = sides(part).filter(|side| side.state != State::NotLookedAt).map(row).collect();
    table
}

fn row(side: &AspectJudged) -> Vec<String> {
    let known = TOLD.iter().find(|(known, _)| *known == side.state);
    let state = known.map_or("not decided", |(_, words)| *words);
    let mut said = state.to_owned();
    if side.disagrees {
        said.push_str("; two places of it differ");
    }
    if side.flips {
        said.push_str("; it turns within the stated ranges");
    }
    let known = |figure: Option<String>| figure.unwrap_or_else(|| "not said".to_owned());
    vec![
        capital(side.aspect.words()),
        said,
        known(side.likelihood_ratio.map(figure)),
        known(side.likelihood_ratio.map(|ratio| support(ratio, "as made", "altered"))),
        known(side.before.map(in_hundred)),
        in_hundred(side.original),
        side.photograph.map_or_else(|| "no photo".to_owned(), |seq| format!("entry {seq}")),
    ]
}

fn grounds(part: &PartOriginality) -> Table {
    let mut table = Table::with("What was seen of each side", &["side", "seen", "says", "entry", "mind"]);
    for side in sides(part) {
        table.rows.extend(side.grounds.iter().map(|ground| ground_row(side, ground)));
    }
    table
}

fn ground_row(side: &AspectJudged, ground: &Ground) -> Vec<String> {
    let name = capital(side.aspect.words());
    match ground {
        Ground::Sign { seen, counts } => {
            let says = if *counts {
                support(seen.what.ratio(), "as made", "altered")
            } else {
                "not counted: another sign of the same cause is stronger".to_owned()
            };
            let what = format!("{} (“{}”)", seen.what.name, seen.clause);
            vec![name, what, says, seen.seq.to_string(), seen.what.caution.to_owned()]
        }
        Ground::Material { seen, ratio } => {
            let says = support(*ratio, "as old as the piece", "later");
            let what = format!("{} (“{}”)", seen.what.name, seen.clause);
            vec![name, what, says, seen.seq.to_string(), seen.what.note.to_owned()]
        }
        Ground::Study { entries } => {
            let entries: BTreeSet<u64> = entries.iter().copied().collect();
            let entries: Vec<String> = entries.iter().map(ToString::to_string).collect();
            let what = "readings and looks, weighed together".to_owned();
            vec![name, what, "as its own study says".to_owned(), entries.join(", "), String::new()]
        }
    }
}

/// A coil of which ohms and pictures alone are known.
fn not_from_photographs(part: &PartOriginality) -> Option<Told> {
    if part.not_from_photographs.is_empty() {
        return None;
    }
    let asked: Vec<&str> = part.not_from_photographs.iter().map(|ask| ask_for(*ask)).collect();
    Some(Told {
        id: format!("photographs-{}", part.part),
        sentence: format!(
            "Whether the {} was rewound cannot be decided from photographs and ohms.",
            part.name
        ),
        sure: format!("What would tell: {}.", and(&asked)),
        next: vec![Step {
            id: format!("ask-{}", part.part),
            words: format!("Look at the {} itself, or ask whoever has it, for {}.", part.name, asked[0]),
            why: "A photograph shows neither, and ohms are alike for many coils.".into(),
            ..Step::default()
        }],
        ..Told::default()
    })
}

fn ask_for(ask: AskFor) -> &'static str {
    match ask {
        AskFor::WireCoat => "colour and kind of the wire's coat under a good light",
        AskFor::LeadClothAndWax => "the cloth of the leads and the wax",
        AskFor::TapeOrString => "tape or string round the winding",
        AskFor::EyeletJoints => "the solder at the eyelets",
        AskFor::FlatworkRivets => "rivets or eyelets of the flatwork",
        AskFor::WitnessMarks => "marks that neighbouring parts left on each other",
        AskFor::InductanceAndQ => "inductance and Q beside an untouched example",
    }
}
