//! The inherited circuit in words.
//!
//! A state is told by going through all that may be the case and saying it in words each time; what comes out the same
//! every time is certain, and what does not is told with its condition. So no sentence claims more than the network does.

mod behind;
mod looks;
mod names;
mod sound;

use asfound_study::record::Body;
use asfound_study::wiring::explain::{Explanation, Group, Limit, Warning};
use asfound_study::Job;
use asfound_study::wiring::{DeadIn, Explained, Wiring, WiringTold, response, study};

use crate::entry;
use crate::lists::{and, capital};
use crate::sheet::{Figure, Rest, Sheet, Told};

/// The sheet of the page Wiring.
pub(crate) fn sheet(job: &Job) -> Sheet {
    let wiring = study(job);
    let mut sheet = Sheet::default();
    for item in &job.traces {
        let mut line = entry::line(item, Body::Trace, job);
        if item.body.text.lines().count() > 1 {
            line.detail = item.body.text.lines().skip(1).collect::<Vec<_>>().join(" · ");
        }
        sheet.found.push(line);
    }
    match &wiring.told {
        WiringTold::NothingTraced => sheet.means.push(nothing_traced()),
        WiringTold::NotYet(faults) => {
            for fault in &faults.told {
                let rests = wiring.entry_of_line(fault.line);
                sheet.means.push(Told {
                    id: format!("fault-{}", fault.line),
                    sentence: format!("The trace does not fit together yet: {}.", fault.fault),
                    sure: format!("Line {}, column {}. The lines are kept; correct the one that is wrong.", fault.line, fault.column),
                    rests_on: rests.map(|seq| Rest { seq, label: format!("entry {seq}") }).into_iter().collect(),
                    ..Told::default()
                });
            }
        }
        WiringTold::NoAnswer(error) => sheet.means.push(Told {
            id: "no-answer".into(),
            sentence: format!("The trace fits together, and still has no answer: {error}."),
            sure: "The lines are kept as they are.".into(),
            ..Told::default()
        }),
        WiringTold::Explained(explained) => {
            let told = explained_sheet(explained);
            sheet.cautions = told.cautions;
            sheet.means = told.means;
            sheet.next = told.next;
            rest_on(&mut sheet.means, &wiring);
        }
    }
    sheet
}

fn rest_on(means: &mut [Told], wiring: &Wiring) {
    for told in means {
        if told.rests_on.is_empty() {
            told.rests_on =
                wiring.entries.iter().map(|(seq, _)| Rest { seq: *seq, label: format!("entry {seq}") }).collect();
        }
    }
}

fn nothing_traced() -> Told {
    Told {
        id: "nothing".into(),
        sentence: "Nothing of the circuit is traced yet.".into(),
        sure: "One line a part, one line a join, in the order in which the meter gives them.".into(),
        working: vec![
            "A part: `coil neck 7k2`, `pot volume 500k audio`, `switch rotary four-way rotary`, `capacitor tone-cap 47n`, `jack jack`.".into(),
            "A join: `join neck.hot rotary.1 metered 0.4`. How it is known is part of it: metered, seen, matched or unknown.".into(),
        ],
        ..Told::default()
    }
}

/// An explained network as findings and next steps, with nothing of a job around it.
pub fn explained_sheet(explained: &Explained) -> Sheet {
    let explanation = &explained.explanation;
    let mut sheet = Sheet::default();
    sheet.cautions.push("Unplug the instrument from any amplifier before metering.".into());
    sheet.means.push(overview(explained));
    sheet.means.extend(explanation.warnings.iter().filter_map(|warning| warned(explanation, warning)));
    sheet.means.extend(explained.questions.iter().filter_map(behind::question));
    for (at, group) in explanation.groups.iter().enumerate() {
        sheet.means.push(told(explanation, group, at));
    }
    sheet.means.extend(dead_parts(explanation));
    if let Some(first) = sheet.means.first_mut() {
        // The look that tells the most goes with the finding that needs it most: what the whole circuit does.
        first.next = looks::steps(explanation).take(1).collect();
    }
    sheet.next = looks::steps(explanation).skip(1).take(4).collect();
    sheet
}

/// The whole circuit in one sentence, with a row for each behaviour.
fn overview(explained: &Explained) -> Told {
    let explanation = &explained.explanation;
    let states = explanation.states.len();
    let behaviours = explanation.groups.len();
    let joins = behind::joins(&explained.trace);
    let sentence = match (states, behaviours) {
        (1, _) => "The circuit has no switch: it does one thing.".to_owned(),
        (_, 1) => format!("All {states} combinations of the switches do the same."),
        _ => format!("The {states} combinations of the switches do {behaviours} different things."),
    };
    let stubs = names::stubs(explanation);
    let unknown = match stubs.len() {
        0 => String::new(),
        1 => format!(" The other end of {} is not known.", stubs[0]),
        _ => format!(" The other ends of {} are not known.", and(&stubs)),
    };
    Told {
        id: "overview".into(),
        sentence,
        sure: format!("{}{unknown}", joins),
        tables: vec![behind::overview(explanation)],
        working: vec![
            "Each combination is solved as a network, and the words are found by experiment on it: a coil is opened, and the other falls silent, so they are in series; it is shorted, and the other falls silent, so they are in parallel.".into(),
        ],
        assumptions: explanation.limits.iter().filter(|limit| !is_left_out(limit)).map(|limit| behind::limit(explanation, limit)).collect(),
        would_change: explanation.limits.iter().filter(|limit| is_left_out(limit)).map(|limit| behind::limit(explanation, limit)).collect(),
        ..Told::default()
    }
}

fn is_left_out(limit: &Limit) -> bool {
    matches!(limit, Limit::StatesLeftOut { .. } | Limit::PossibilitiesLeftOut { .. } | Limit::SignsLeftOut { .. })
}

/// One behaviour of the circuit, told once for all states that have it.
fn told(explanation: &Explanation, group: &Group, at: usize) -> Told {
    let place = names::positions(explanation, &group.states);
    let state = &explanation.states[group.states[0]];
    let said = sound::tell(explanation, state, &place);
    let title = format!("Response: {}", names::short_positions(explanation, &group.states));
    let plot = response(explanation, group, &title, |condition| match condition {
        Some(condition) => names::condition(condition),
        None => names::short_positions(explanation, &group.states),
    });
    let figures = plot.map(|plot| Figure {
        id: format!("wiring-{at}"),
        caption: format!("Level at the jack {place}, all knobs at their open ends, into the cable and input named above."),
        plot,
    });
    Told {
        id: format!("state-{at}"),
        sentence: said.sentence,
        sure: said.sure,
        figures: figures.into_iter().collect(),
        tables: behind::tables(explanation, state),
        ..Told::default()
    }
}

fn warned(explanation: &Explanation, warning: &Warning) -> Option<Told> {
    match warning {
        Warning::MetalLive { metal, states } => Some(Told {
            id: format!("live-{metal}"),
            sentence: format!(
                "The {metal} carries signal {}: a grounded string or hand that touches it changes or kills the sound.",
                names::positions(explanation, states)
            ),
            sure: "Found on the network, not by touching it.".into(),
            caution: "Make no touch test until the amplifier's protective earth is proved. At any tingle unplug, and call a licensed technician.".into(),
            ..Told::default()
        }),
        Warning::NoCoil => Some(Told {
            id: "no-coil".into(),
            sentence: "No coil is traced yet, so there is nothing to hear.".into(),
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
            sentence: format!("The {} is heard in no position, however the cut leads went.", names::coil(explanation, *coil)),
            sure: "Certain, if the trace is right: meter its leads first.".into(),
            ..Told::default()
        }),
        _ => None,
    }
}

fn dead_parts(explanation: &Explanation) -> Option<Told> {
    let certain: Vec<String> = explanation
        .dead_parts
        .iter()
        .filter(|dead| dead.possibilities == DeadIn::All)
        .map(|dead| format!("the {}", dead.part))
        .collect();
    if certain.is_empty() {
        return None;
    }
    let verb = if certain.len() == 1 { "does" } else { "do" };
    Some(Told {
        id: "dead".into(),
        sentence: format!("{} {verb} nothing in any position.", capital(&and(&certain))),
        sure: "Nothing of the sound runs through them in the trace as it stands. Leave them where they are: they are as found.".into(),
        ..Told::default()
    })
}
