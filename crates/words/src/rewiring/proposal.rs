//! One proposal: a sentence, how sure, its steps, its readings, its wire and its trace.

use asfound_measure::{Farads, Ohms, engineering};
use asfound_study::rewiring::{
    Answered, Bleed, CutList, Doing, Joined, Met, Proposal, SHORT_RUN, StringPhase, USUAL_RUN,
};

use super::names::Names;
use super::steps::{Way, table};
use crate::lists::{and, capital, count};
use crate::sheet::{Figure, Step, Table, Told};

/// The stable name of a proposal: of what is done, so that it holds as long as that is offered.
pub(super) fn id(proposal: &Proposal, names: &Names) -> String {
    let pieces: Vec<String> = proposal
        .doings
        .iter()
        .map(|doing| match doing {
            Doing::SwapLeads { coil } => format!("swap {}", names.coil(*coil)),
            Doing::Exchange { a, b } => format!("exchange {} {}", names.lug(*a), names.lug_alone(*b)),
            Doing::Move { lug, to: Some(to) } => format!("move {} {}", names.lug(*lug), names.lug(*to)),
            Doing::Move { lug, to: None } => format!("free {}", names.lug(*lug)),
            Doing::Bleed { knob, .. } => format!("bleed {}", names.knob(*knob)),
            Doing::NewSelector { poles, .. } => format!("selector {poles}"),
        })
        .collect();
    let plain = |sign: char| if sign.is_ascii_alphanumeric() { sign.to_ascii_lowercase() } else { '-' };
    format!("rewire-{}", pieces.join(" ").replace("the ", "").chars().map(plain).collect::<String>())
}

/// What is done, in one clause.
pub(super) fn headline(proposal: &Proposal, names: &Names) -> String {
    let swapped: Vec<String> = proposal
        .doings
        .iter()
        .filter_map(
            |doing| if let Doing::SwapLeads { coil } = doing { Some(names.coil(*coil)) } else { None },
        )
        .collect();
    let exchanged: Vec<&str> = proposal
        .doings
        .iter()
        .filter_map(|doing| if let Doing::Exchange { a, .. } = doing { Some(names.part(*a)) } else { None })
        .collect();
    let mut clauses = Vec::new();
    if !swapped.is_empty() {
        clauses.push(format!("swap the leads of {}", and(&swapped)));
    }
    if !exchanged.is_empty() {
        clauses.push(format!("exchange what is soldered to lugs 2 and 3 of {}", and(&exchanged)));
    }
    for doing in &proposal.doings {
        match doing {
            Doing::Move { lug, to: Some(to) } => {
                clauses.push(format!("move {} to {}", names.lug(*lug), names.lug(*to)))
            }
            Doing::Move { lug, to: None } => clauses.push(format!("free {}", names.lug(*lug))),
            Doing::Bleed { knob, bleed } => {
                clauses.push(format!("put {} across lugs 2 and 3 of {}", of_bleed(bleed), names.knob(*knob)));
            }
            Doing::NewSelector { poles, positions, .. } => clauses.push(format!(
                "put in a selector of {} and {}, the old one kept",
                count(*poles, "pole", "poles"),
                count(*positions, "position", "positions")
            )),
            Doing::SwapLeads { .. } | Doing::Exchange { .. } => {}
        }
    }
    capital(&and(&clauses))
}

fn farads(value: Farads) -> String {
    engineering(value.0, 3, "F")
}

fn ohms(value: Ohms) -> String {
    engineering(value.0, 4, "Ω")
}

fn of_bleed(bleed: &Bleed) -> String {
    let capacitor = farads(bleed.capacitor.value);
    match &bleed.resistor {
        None => capacitor,
        Some((resistor, Joined::Series)) => format!("{capacitor} in series with {}", ohms(resistor.value)),
        Some((resistor, Joined::Parallel)) => format!("{capacitor} beside {}", ohms(resistor.value)),
    }
}

/// What changes at the jack, in one clause; empty where no position sounds otherwise.
fn changes(answered: &Answered, proposal: &Proposal, names: &Names) -> String {
    let before = &answered.answer.sounds;
    let other_phase = |&at: &usize| {
        let now = &proposal.sounds[at];
        before.get(at).is_some_and(|was| was.coils == now.coils && was.joined == now.joined)
    };
    let (phase, rest): (Vec<usize>, Vec<usize>) = proposal.changed.iter().partition(|at| other_phase(at));
    let mut clauses = Vec::new();
    for (word, wanted) in [("in phase", Some(StringPhase::In)), ("thin", Some(StringPhase::Out))] {
        let there: Vec<String> = phase
            .iter()
            .filter(|&&at| proposal.sounds[at].phase == wanted)
            .map(|&at| names.position(&proposal.sounds[at]))
            .collect();
        if !there.is_empty() {
            let place = and(&there).replace(" and position ", " and ").replace(", position ", ", ");
            let place = if there.len() > 1 { place.replacen("position ", "positions ", 1) } else { place };
            clauses.push(if place.is_empty() { word.to_owned() } else { format!("{place} {word}") });
        }
    }
    for at in rest.into_iter().take(3) {
        let sound = &proposal.sounds[at];
        clauses
            .push(format!("{} gives {}", names.position(sound), names.sound(sound)).trim_start().to_owned());
    }
    and(&clauses)
}

/// One proposal.
pub(super) fn told(answered: &Answered, names: &Names, at: usize) -> Told {
    let proposal = &answered.answer.proposals[at];
    let headline = headline(proposal, names);
    let changes = changes(answered, proposal, names);
    let heard = if changes.is_empty() { String::new() } else { format!(": {changes}") };
    let new = match proposal.new_parts.len() {
        0 => "nothing new".to_owned(),
        number => count(number, "new part", "new parts"),
    };
    let id = id(proposal, names);
    let unmet: Vec<String> = (0..proposal.met.len())
        .filter(|&wish| proposal.met[wish] != Met::Yes)
        .map(|wish| format!("“{}”", names.wish(wish)))
        .collect();
    let sure = match (unmet.is_empty(), proposal.met.len()) {
        (true, 1) => "Tried on the circuit it makes: the wish is met.".to_owned(),
        (true, _) => "Tried on the circuit it makes: every wish is met.".to_owned(),
        (false, _) => format!("Tried on the circuit it makes: it does not do {} for certain.", and(&unmet)),
    };
    let step = Step {
        id: id.clone(),
        words: format!("{headline}."),
        why: "Its sheet has the steps, the readings to test it by, and the way back.".into(),
        caution: "Photograph the joints first. Unplug; shield old plastic and wax from heat.".into(),
        ..Step::default()
    };
    let compared = answered.comparisons.get(at).cloned().flatten();
    let figures = compared.map(|(state, plot)| Figure {
        id: format!("rewiring-{at}"),
        caption: format!(
            "Level at the jack{}, knobs at their open ends.",
            with(&names.position(&proposal.sounds[state]))
        ),
        plot,
    });
    Told {
        sentence: format!(
            "{headline}{heard}, {} disturbed, {new}.",
            count(proposal.joints, "joint", "joints")
        ),
        sure,
        next: vec![step],
        working: notes(proposal, names),
        assumptions: assumptions(proposal),
        tables: tables(answered, proposal, names),
        figures: figures.into_iter().collect(),
        id,
        ..Told::default()
    }
}

fn notes(proposal: &Proposal, names: &Names) -> Vec<String> {
    let mut notes = Vec::new();
    // That a knob for all silences all is no news.
    for down in proposal.knobs_down.iter().filter(|down| !down.heard.is_empty()) {
        let place = names.position(&proposal.sounds[down.state]);
        let coils: Vec<String> = down.heard.iter().map(|&coil| names.coil(coil)).collect();
        let left = format!("{} still heard", and(&coils));
        let reads = down.ohms.map_or_else(|| "over range".to_owned(), ohms);
        let mut note = format!(
            "{} all the way down{}: {left}, {reads} at the jack.",
            names.knob(down.knob),
            with(&place)
        );
        if !down.shorted.is_empty() {
            let coils: Vec<String> = down.shorted.iter().map(|&coil| names.coil(coil)).collect();
            note += &format!(
                " Its own coil, {}, is then shorted; on the way down some treble goes.",
                and(&coils)
            );
        }
        notes.push(note);
    }
    if proposal.doings.iter().any(|doing| matches!(doing, Doing::NewSelector { .. })) {
        notes.push("Whether the new selector fits the hole or slot of the old one cannot be told from here: measure before it is bought.".into());
    }
    notes
}

fn with(place: &str) -> String {
    if place.is_empty() { String::new() } else { format!(" in {place}") }
}

fn assumptions(proposal: &Proposal) -> Vec<String> {
    if proposal.cuts.cuts.is_empty() {
        return Vec::new();
    }
    vec![format!(
        "A wire between two parts is taken as {:.0} mm, between lugs of one part as {:.0} mm (common practice, no source): lay it out before cutting.",
        USUAL_RUN.0, SHORT_RUN.0
    )]
}

fn tables(answered: &Answered, proposal: &Proposal, names: &Names) -> Vec<Table> {
    let mut tables = vec![
        table("Steps", &proposal.steps, names, Way::There),
        readings(answered, proposal, names),
        names.wishes_met("Wishes met", &proposal.met),
    ];
    tables.extend(cut_list(answered, &proposal.cuts));
    let mut trace = Table::with("Its trace, to copy", &["line"]);
    trace.rows = proposal.trace.lines().map(|line| vec![line.to_owned()]).collect();
    tables.push(trace);
    tables
}

/// What each position gives and reads, as found and then.
fn readings(answered: &Answered, proposal: &Proposal, names: &Names) -> Table {
    let columns = ["position", "as found", "then", "#at the jack as found", "#at the jack then"];
    let mut table = Table::with("Readings at the jack, cable out, knobs open", &columns);
    let shown = |ohms_read: Option<Ohms>| ohms_read.map_or_else(|| "over range".to_owned(), ohms);
    table.rows = proposal
        .sounds
        .iter()
        .enumerate()
        .map(|(at, now)| {
            let before = answered.answer.sounds.get(at);
            vec![
                names.position(now),
                before.map(|it| names.sound(it)).unwrap_or_default(),
                names.sound(now),
                before.map(|it| shown(it.ohms)).unwrap_or_default(),
                shown(now.ohms),
            ]
        })
        .collect();
    table
}

fn cut_list(answered: &Answered, cuts: &CutList) -> Option<Table> {
    let mut table = Table::with("Wire to cut", &["from", "to", "#length, mm", "cut from"]);
    table.rows = cuts
        .cuts
        .iter()
        .map(|cut| {
            let piece = cut.from.and_then(|at| answered.asked.wire.get(at)).map(|it| it.name.clone());
            vec![
                cut.a.clone(),
                cut.b.clone(),
                format!("{:.0}", cut.length.0),
                piece.unwrap_or_else(|| "new wire".into()),
            ]
        })
        .collect();
    (!table.rows.is_empty()).then_some(table)
}
