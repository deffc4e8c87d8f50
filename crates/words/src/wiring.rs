//! The inherited circuit in words.
//!
//! A state is told by going through all that may be the case and saying it in words each time; what comes out the same
//! every time is certain, and what does not is told with its condition. So no sentence claims more than the network does.

mod band;
mod behind;
mod drawing;
mod knobs;
mod looks;
mod moves;
pub(crate) mod names;
mod purpose;
mod sound;

use asfound_study::Job;
use asfound_study::conditions::{share, when};
use asfound_study::drawing as drawn;
use asfound_study::material::Material;
use asfound_study::record::{Body, Item, Trace1};
use asfound_study::sound::{self as sounds, Load, Sounded, Sounds};
use asfound_study::wiring::explain::{Explanation, Group, Limit, MetalFact, Warning};
use asfound_study::wiring::{
    DeadIn, Explained, TraceFault, TraceFaults, Unsolvable, Wiring, WiringTold, response, study_through,
};

use crate::entry;
use crate::lists::{and, capital};
use crate::sheet::{Figure, FoundLine, Rest, Sheet, Told};

pub use asfound_study::drawing::{Side, View};
pub use drawing::{DrawingSheet, drawing_of, drawing_sheet};

/// The sheet of the page Wiring.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let wiring = study_through(job, sounds::load(&material.workshop));
    let mut sheet = match &wiring.told {
        WiringTold::NothingTraced => Sheet { means: vec![nothing_traced()], ..Sheet::default() },
        WiringTold::NotYet(faults) => Sheet { means: not_yet(faults, &wiring), ..Sheet::default() },
        WiringTold::NoAnswer(error) => Sheet { means: vec![no_answer(error)], ..Sheet::default() },
        WiringTold::Explained(explained) => {
            let question = (explained.trace.to_string(), explained.conditions.load);
            let sounds = material.before.sounds.answer(question, |_| sounds::study(explained));
            told_of(explained, &sounds, &|line| wiring.entry_of_line(line))
        }
    };
    if let Some(drawn) = drawn::study(job, View::default()) {
        sheet.figures = drawing::figure(&drawn).into_iter().collect();
        // Where a trace falls apart, whatever else is said of it says less.
        sheet.means.splice(0..0, drawing::findings(&drawn));
    }
    sheet.found = job.traces.iter().map(|item| traced(item, job)).collect();
    for told in sheet.means.iter_mut().filter(|told| told.rests_on.is_empty()) {
        told.rests_on = Rest::on_all(wiring.entries.iter().map(|(seq, _)| *seq));
    }
    sheet
}

/// Lines of the trace, as kept; of several in one entry the others stand in the small print.
fn traced(item: &Item<Trace1>, job: &Job) -> FoundLine {
    let mut line = entry::line(item, Body::Trace, job);
    let lines: Vec<&str> = item.body.text.lines().map(str::trim).filter(|text| !text.is_empty()).collect();
    if let [_, more @ ..] = lines.as_slice()
        && !more.is_empty()
    {
        line.detail = more.join(" · ");
    }
    line
}

fn not_yet(faults: &TraceFaults, wiring: &Wiring) -> Vec<Told> {
    let one = |fault: &TraceFault| {
        let place = wiring.place_of_line(fault.line);
        let line = match place {
            Some((_, 1)) => String::new(),
            Some((_, line)) => format!("Line {line} of the entry, column {}. ", fault.column),
            None => format!("Line {}, column {}. ", fault.line, fault.column),
        };
        Told {
            id: format!("fault-{}", fault.line),
            sentence: format!("The trace does not fit together yet: {}.", fault.fault),
            sure: format!("{line}Every line is kept; correct the one that is wrong."),
            rests_on: place.map(|(seq, _)| Rest::on(seq)).into_iter().collect(),
            ..Told::default()
        }
    };
    faults.told.iter().map(one).collect()
}

fn no_answer(error: &Unsolvable) -> Told {
    Told {
        id: "no-answer".into(),
        sentence: format!("The trace fits together, and still has no answer: {error}."),
        sure: "The lines are kept as they are.".into(),
        ..Told::default()
    }
}

pub(crate) fn nothing_traced() -> Told {
    Told {
        id: "nothing".into(),
        sentence: "Nothing of the circuit is traced yet.".into(),
        sure: "One line a part, one line a join, in the order in which the meter gives them.".into(),
        working: vec![
            "A part: “coil neck 7k2”, “pot volume 500k audio”, “switch rotary four-way rotary”, “capacitor tone-cap 47n”, “jack jack”.".into(),
            "A join: “join neck.hot rotary.a1 metered 0.4”. How it is known is part of it: metered, seen, matched or unknown.".into(),
        ],
        ..Told::default()
    }
}

/// An explained network as findings and next steps, with nothing of a job around it.
pub fn explained_sheet(explained: &Explained) -> Sheet {
    told_of(explained, &sounds::study(explained), &|_| None)
}

/// The same, with the entry that each line of the trace came from.
fn told_of(explained: &Explained, sounds: &Sounds, entry: &dyn Fn(usize) -> Option<u64>) -> Sheet {
    let explanation = &explained.explanation;
    let mut sheet = Sheet::default();
    sheet.cautions.push("Unplug the instrument from any amplifier before metering.".into());
    let load = explained.conditions.load;
    let sounded = |at: usize| sounds.groups.get(at).and_then(Option::as_ref);
    let groups = explanation.groups.iter().enumerate();
    let states: Vec<(Told, bool)> =
        groups.map(|(at, group)| told(explanation, group, at, sounded(at), load)).collect();
    sheet.means.push(overview(explained, states.iter().filter(|(_, depends)| *depends).count()));
    sheet.means.extend(explanation.warnings.iter().filter_map(|warning| warned(explanation, warning)));
    sheet
        .means
        .extend(explained.questions.iter().filter_map(|asked| behind::question(asked, entry(asked.line))));
    sheet.means.extend(states.into_iter().map(|(told, _)| told));
    let purposes = sounds.purposes.iter();
    sheet.means.extend(purposes.flat_map(|purposes| purpose::findings(explanation, purposes)));
    sheet.means.extend(knobs::findings(explanation));
    sheet.means.extend(band::ways(explanation, &sounds.ways, load));
    sheet.means.extend(dead_parts(explanation));
    sheet.means.extend(moves::finding(explanation));
    // The look that tells the most goes with the finding that needs it most: what the whole circuit does.
    let mut steps = looks::steps(explanation);
    sheet.means[0].next.extend(steps.next());
    sheet.next = steps.take(MOST_STEPS).collect();
    sheet
}

/// Steps beside the first: more are not read at a bench.
const MOST_STEPS: usize = 4;

/// The whole circuit in one sentence, with a row for each behaviour; in so many of them what is heard depends.
fn overview(explained: &Explained, depending: usize) -> Told {
    let explanation = &explained.explanation;
    let states = explanation.states.len();
    let positions = match explanation.switches.as_slice() {
        [one] => format!("{states} positions of {}", names::part(&one.name)),
        _ => format!("{states} combinations of the switches"),
    };
    let does = match (states, explanation.groups.len()) {
        (1, _) => "The circuit has no switch: it does one thing".to_owned(),
        (_, 1) => format!("All {positions} do the same"),
        (_, behaviours) => format!("The {positions} do {behaviours} different things"),
    };
    let hangs = match depending {
        0 => "",
        _ if explanation.groups.len() == 1 => "; what is heard depends on where the cut leads went",
        1 => "; in one of them what is heard depends on where the cut leads went",
        _ => "; in some of them what is heard depends on where the cut leads went",
    };
    let sentence = format!("{does}{hangs}.");
    let joins = behind::joins(&explained.trace);
    let stubs = names::stubs(explanation);
    let unknown = match stubs.len() {
        0 => String::new(),
        1 => format!(" The other end of {} is not known.", stubs[0]),
        _ => format!(" The other ends of {} are not known.", and(&stubs)),
    };
    Told {
        id: "overview".into(),
        sentence,
        sure: format!("{joins}{unknown}"),
        tables: [behind::overview(explanation)].into_iter().chain(behind::looks_told(explanation)).collect(),
        working: vec![
            "Each combination is solved as a network, and the words are found by experiment on it: a coil is opened, and the other falls silent, so they are in series; it is shorted, and the other falls silent, so they are in parallel.".into(),
        ],
        assumptions: explanation.limits.iter().filter(|limit| !is_left_out(limit)).map(|limit| behind::limit(explanation, limit)).collect(),
        would_change: explanation.limits.iter().filter(|limit| is_left_out(limit)).map(|limit| behind::limit(explanation, limit)).collect(),
        ..Told::default()
    }
}

fn is_left_out(limit: &Limit) -> bool {
    matches!(
        limit,
        Limit::StatesLeftOut { .. }
            | Limit::MovesLeftOut { .. }
            | Limit::PossibilitiesLeftOut { .. }
            | Limit::SignsLeftOut { .. }
    )
}

/// One behaviour of the circuit, told once for all states that have it, and whether what is heard there depends.
fn told(
    explanation: &Explanation,
    group: &Group,
    at: usize,
    sounded: Option<&Sounded>,
    load: Load,
) -> (Told, bool) {
    let place = names::positions(explanation, &group.states);
    let state = &explanation.states[group.states[0]];
    let said = sound::tell(explanation, state, &place);
    let short = names::short_positions(explanation, &group.states);
    let title =
        if short.is_empty() { "Response at the jack".to_owned() } else { format!("Response: {short}") };
    let plot = response(explanation, group, &title, sounded, |condition| match condition {
        Some(condition) => names::short_condition(explanation, condition),
        None => short.clone(),
    });
    let figures = plot.map(|plot| Figure {
        id: format!("wiring-{at}"),
        caption: format!(
            "{}, all knobs at their open ends, {}{}.",
            names::with_place("Level at the jack", &place),
            band::into(load),
            if sounded.is_some() {
                "; the tinted band is where the parts' tolerances may put it"
            } else {
                ""
            }
        ),
        plot,
    });
    let depends = said.cases.is_some();
    let told = Told {
        id: format!("state-{at}"),
        sentence: said.sentence,
        sure: said.sure,
        working: said.working.into_iter().chain(sounded.map(band::working)).collect(),
        figures: figures.into_iter().collect(),
        tables: said
            .cases
            .into_iter()
            .chain(sounded.map(|sounded| band::table(sounded, load)))
            .chain(behind::tables(explanation, state))
            .collect(),
        ..Told::default()
    };
    (told, depends)
}

fn warned(explanation: &Explanation, warning: &Warning) -> Option<Told> {
    match warning {
        Warning::MetalLive { metal, states } => Some(live(explanation, metal, states)),
        Warning::NoCoil => Some(Told {
            id: "no-coil".into(),
            sentence: "No coil is traced yet, so there is nothing to hear.".into(),
            sure: "Name it with what its meter showed: “coil neck 7k2”.".into(),
            ..Told::default()
        }),
        Warning::CoilOpen { coil } => Some(Told {
            id: format!("open-{}", explanation.coils[*coil]),
            sentence: format!("The {} is open: no current runs through its winding.", names::coil(explanation, *coil)),
            sure: "By the meter, as traced. A lead that is off reads the same, so meter at the ends of the winding itself.".into(),
            ..Told::default()
        }),
        Warning::CoilNeverHeard { coil } => Some(Told {
            id: format!("never-{}", explanation.coils[*coil]),
            sentence: format!("The {} is heard in no position.", names::coil(explanation, *coil)),
            sure: "Certain as traced, wherever any cut lead went: meter its leads first.".into(),
            ..Told::default()
        }),
        _ => None,
    }
}

/// Metal that a hand or a string touches, and that carries signal.
fn live(explanation: &Explanation, metal: &str, states: &[usize]) -> Told {
    let place = names::positions(explanation, states);
    let is_live = |fact: &MetalFact| matches!(fact, MetalFact::Live { .. });
    let facts =
        states.iter().flat_map(|&state| &explanation.states[state].metal).filter(|told| told.metal == metal);
    let certain = facts.clone().all(|told| told.fact.facts().all(is_live));
    let sure =
        if certain { "Certain as traced." } else { "So in some of the ways the cut leads can have gone." };
    Told {
        id: format!("live-{metal}"),
        sentence: format!(
            "{}: a grounded string or a hand on it changes or kills the sound.",
            names::with_place(&format!("Signal lies on {}", names::part(metal)), &place)
        ),
        sure: format!("{sure} Found on the network, not by touching."),
        caution: "Make no touch test until the amplifier's protective earth is proved. At any tingle unplug, and call a licensed technician.".into(),
        ..Told::default()
    }
}

fn dead_parts(explanation: &Explanation) -> Vec<Told> {
    let mut groups: Vec<(&DeadIn, Vec<String>)> = Vec::new();
    for dead in &explanation.dead_parts {
        let name = names::part(&dead.part);
        match groups.iter_mut().find(|(known, _)| **known == dead.possibilities) {
            Some((_, parts)) => parts.push(name),
            None => groups.push((&dead.possibilities, vec![name])),
        }
    }
    groups
        .into_iter()
        .enumerate()
        .map(|(at, (dead_in, parts))| dead(explanation, dead_in, &parts, at))
        .collect()
}

/// Parts that do nothing in any position, for certain or on a condition.
fn dead(explanation: &Explanation, dead_in: &DeadIn, parts: &[String], at: usize) -> Told {
    let verb = if parts.len() == 1 { "does" } else { "do" };
    let place = if explanation.switches.is_empty() { "" } else { " in any position" };
    let nothing = format!("{} {verb} nothing{place}", capital(&and(parts)));
    match dead_in {
        DeadIn::All => Told {
            id: "dead".into(),
            sentence: format!("{nothing}."),
            sure: "Certain as traced: nothing of the sound runs through. Leave in place; it is as found."
                .into(),
            ..Told::default()
        },
        DeadIn::Some(possibilities) => {
            let condition = when(explanation, possibilities, &names::all(explanation));
            Told {
                id: format!("dead-{at}"),
                sentence: format!("{nothing} {}.", names::condition(&condition)),
                sure: "Not decided: where the cut leads went decides it.".into(),
                working: vec![format!(
                    "How likely that is: {:.0} %.",
                    100.0 * share(explanation, possibilities)
                )],
                ..Told::default()
            }
        }
    }
}
