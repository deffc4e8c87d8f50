//! Another wiring, in words: what is wished, what would do it, and what cannot be had together.

mod names;
mod proposal;
mod sheet;
mod steps;

use asfound_study::material::Material;
use asfound_study::record::Body;
use asfound_study::rewiring::{
    Answered, Conflict, DEEPEST, Instead, Met, Rewiring, RewiringTold, WhyNot, study,
};
use asfound_study::said::wishes::Unread;

use crate::entry;
use crate::lists::{and, count, or};
use crate::sheet::{Rest, Sheet, Table, Told};
use names::Names;

pub use sheet::{RewiringSheet, rewiring_sheet};

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let found = job.wishes.iter().map(|item| entry::line(item, Body::Wish, job)).collect();
    let rewiring = study(material);
    let mut means = Vec::new();
    match &rewiring.told {
        RewiringTold::NoCircuit => means.push(no_circuit()),
        RewiringTold::NoWish => means.push(no_wish(&rewiring)),
        RewiringTold::Refused(error) => means.push(Told {
            id: "refused".into(),
            sentence: format!("No other wiring was looked for: {error}."),
            sure: "Every wish is kept as it was said.".into(),
            ..Told::default()
        }),
        RewiringTold::Answered(answered) => means.extend(answered_in_words(&rewiring, answered)),
    }
    means.extend(unread(&rewiring));
    means.extend(ready(&rewiring));
    for told in means.iter_mut().filter(|told| told.rests_on.is_empty()) {
        let wishes = rewiring.wishes.iter().filter(|it| it.read.is_ok()).map(|it| it.seq);
        told.rests_on = Rest::on_all(rewiring.traced.iter().copied().chain(wishes));
    }
    let cautions =
        if matches!(rewiring.told, RewiringTold::Answered(_)) { vec![IRON.to_owned()] } else { Vec::new() };
    Sheet { found, means, cautions, ..Sheet::default() }
}

/// Before an iron is lit.
const IRON: &str = "Photograph every joint before it is opened. Heat and flux spoil old plastic, lacquer and wax: shield them, and work in moving air.";

fn no_circuit() -> Told {
    Told {
        id: "no-circuit".into(),
        sentence: "No other wiring can be worked out before the circuit is traced.".into(),
        sure: "Trace it on the page Wiring until it fits together; wishes are kept meanwhile.".into(),
        ..Told::default()
    }
}

fn examples() -> Vec<String> {
    vec![
        "What is heard: “wish bridge and middle in series in position 2”, “wish neck alone in position 3”, “wish bridge and middle in phase in position 2”.".into(),
        "Hum: “wish hum cancels in position 2”.".into(),
        "Knobs: “wish treble kept on volume”, “wish tone only on bridge”, “wish volumes independent”, “wish master volume”.".into(),
        "What stays: “wish keep the selector”, “wish nothing drilled”. Magnets always stay as they are.".into(),
    ]
}

fn no_wish(rewiring: &Rewiring) -> Told {
    let read = rewiring.wishes.is_empty();
    Told {
        id: "no-wish".into(),
        sentence: if read {
            "Nothing is wished yet."
        } else {
            "No wish could be read against the circuit yet."
        }
        .into(),
        sure: "Say what the instrument is to do, such as “wish bridge and middle in series in position 2”."
            .into(),
        working: examples(),
        ..Told::default()
    }
}

/// Wishes that could not be read: what stands in the way, and what would be right.
fn unread(rewiring: &Rewiring) -> impl Iterator<Item = Told> {
    rewiring.wishes.iter().filter_map(|wish| {
        let why = wish.read.as_ref().err()?;
        let (what, right) = match why {
            Unread::Nothing => (
                "says nothing that can be tried".to_owned(),
                "Say which coils, how and where: “wish neck and bridge in phase in position 2”.".to_owned(),
            ),
            Unread::NoCoil => {
                ("names no coil of the trace".to_owned(), "Call the coil as the trace does.".to_owned())
            }
            Unread::OneCoil => {
                ("says how coils are together and names only one".to_owned(), "Name both.".to_owned())
            }
            Unread::NoPosition { there, .. } if there.is_empty() => (
                "names a position, and no switch is traced".to_owned(),
                "Trace the switch, or leave the position out.".to_owned(),
            ),
            Unread::NoPosition { read, there } => (
                format!("names position {read}, which the selector does not have"),
                format!("Its positions are {}.", and(there)),
            ),
            Unread::WhichKnob(knobs) => ("does not say which knob".to_owned(), format!("Say {}.", or(knobs))),
        };
        Some(Told {
            id: format!("unread-{}", wish.seq),
            sentence: format!("The wish “{}” {what}.", wish.words),
            sure: right,
            rests_on: vec![Rest::on(wish.seq)],
            working: examples(),
            ..Told::default()
        })
    })
}

/// What lies ready, and how to name more of it.
fn ready(rewiring: &Rewiring) -> Option<Told> {
    if matches!(rewiring.told, RewiringTold::NoCircuit) || rewiring.wishes.is_empty() {
        return None;
    }
    let mut table = Table::with("Parts and wire that lie ready", &["what", "sort", "by the meter"]);
    table.rows = rewiring
        .ready
        .iter()
        .map(|it| {
            let reading = it.reading.clone().unwrap_or_else(|| "not measured, so not used".into());
            vec![it.name.clone(), it.sort.clone(), reading]
        })
        .collect();
    let sentence = match rewiring.ready.len() {
        0 => "Nothing lies ready that the trace does not use already.".to_owned(),
        number => format!(
            "{} outside the circuit.",
            crate::lists::capital(&format!("{} ready", count(number, "part lies", "parts lie")))
        ),
    };
    Some(Told {
        id: "ready".into(),
        sentence,
        sure: "A kept part is used before a new one, and the instrument's own wire before other.".into(),
        rests_on: rewiring.ready.iter().map(|it| Rest::on(it.seq)).collect(),
        working: vec![
            "A part: “part red capacitor, capacitor, tray”, then “red capacitor 680p”. A piece of wire: “part green wire, wire, tray”, then “green wire 180 mm”. With the word new in its name it counts as not from this instrument.".into(),
        ],
        tables: if table.rows.is_empty() { Vec::new() } else { vec![table] },
        ..Told::default()
    })
}

fn answered_in_words(rewiring: &Rewiring, answered: &Answered) -> Vec<Told> {
    let names = Names::of(answered, rewiring);
    let mut means = vec![overview(answered, &names)];
    means.extend((0..answered.answer.proposals.len()).map(|at| proposal::told(answered, &names, at)));
    means.extend(answered.answer.conflicts.iter().map(|it| conflict(it, &names)));
    means.extend(instead(answered));
    means
}

/// How many of the wishes are met as found, and how far was searched.
fn overview(answered: &Answered, names: &Names) -> Told {
    let answer = &answered.answer;
    let met = answer.met.iter().filter(|it| **it == Met::Yes).count();
    let all = answer.met.len();
    let sentence = match (met, all) {
        (met, all) if met == all => "The circuit does all that is wished: nothing to do.".to_owned(),
        (0, 1) => "As found, the wish is not met.".to_owned(),
        (0, _) => format!("As found, none of the {all} wishes is met."),
        (met, _) => {
            format!("As found, {met} of the {all} wishes {} met.", if met == 1 { "is" } else { "are" })
        }
    };
    let hangs = answer.met.iter().any(|it| matches!(it, Met::Depends(_)));
    let searched = answer.searched;
    let mut would_change = Vec::new();
    if hangs {
        would_change.push("Winding senses and poles that nobody looked at: lay steel on each coil with the meter across it, and take a compass to it. Between stops, meter whether the contacts of both touch.".to_owned());
    }
    if searched.cut {
        would_change.push(format!(
            "The search ended at its bound, {} wirings, of which those up to {} away are all there are: a better one further off may have been missed.",
            searched.tried, count(searched.complete_to, "change", "changes")
        ));
    }
    let mut working = vec![
        "Each wiring is written as a trace, read again and solved; a wish counts as met where the experiment on that circuit shows it. No proposal touches a magnet, and metal that is grounded stays grounded.".to_owned(),
    ];
    if searched.tried > 0 {
        working.push(format!(
            "Wirings tried near the one found: {}. Leads and lugs are exchanged, moved or freed, up to {DEEPEST} one after the other; leads alone where that can be enough.",
            searched.tried
        ));
    }
    let mut assumptions = Vec::new();
    if !answer.loose.is_empty() {
        assumptions.push(format!("Cut leads count as loose, as they are: {}.", and(&answer.loose)));
    }
    Told {
        id: "wishes".into(),
        sentence,
        sure: if hangs {
            "Tried on the traced circuit; some of it hangs on signs or contacts that nobody looked at."
        } else {
            "Tried on the traced circuit."
        }
        .into(),
        working,
        assumptions,
        would_change,
        tables: vec![names.wishes_met("Wishes as found", &answer.met)],
        ..Told::default()
    }
}

fn conflict(it: &Conflict, names: &Names) -> Told {
    let wishes: Vec<String> = it.wishes.iter().map(|&at| format!("“{}”", names.wish(at))).collect();
    let drop = if wishes.len() > 1 {
        format!("Drop {}.", or(&wishes))
    } else {
        "Drop it, or wish something near it.".to_owned()
    };
    let cannot = if wishes.len() > 1 { "cannot be had together" } else { "cannot be had" };
    let together = and(&wishes);
    let (sentence, sure) = match &it.why {
        WhyNot::SamePlace => (format!("{together} {cannot}: one place cannot sound in two ways."), drop),
        WhyNot::MasterAgainstIndependent => {
            (format!("{together} {cannot}: one knob turns all down, or each its own."), drop)
        }
        WhyNot::LikeMagnets { a, b } => (
            format!(
                "{together} {cannot}: {} and {} have the same pole at the strings.",
                names.coil(*a),
                names.coil(*b)
            ),
            format!(
                "Certain by the signs: in phase and hum-cancelling needs opposite magnets, and magnets are not touched. {drop}"
            ),
        ),
        WhyNot::OppositeMagnets { a, b } => (
            format!(
                "{together} {cannot}: {} and {} have opposite poles at the strings.",
                names.coil(*a),
                names.coil(*b)
            ),
            format!(
                "Certain by the signs: out of phase and hum-cancelling needs like magnets, and magnets are not touched. {drop}"
            ),
        ),
        WhyNot::OneCoil => {
            (format!("{together} {cannot}: one coil alone has nothing to cancel its hum."), drop)
        }
        WhyNot::NotFound => (
            format!("No wiring was found that does {together}."),
            format!("Not proved: it was not found within what was searched. {drop}"),
        ),
    };
    let ids: Vec<String> = it.wishes.iter().map(usize::to_string).collect();
    Told {
        id: format!("conflict-{}", ids.join("-")),
        sentence,
        sure,
        rests_on: it.wishes.iter().map(|&at| Rest::on(names.wish_entry(at))).collect(),
        working: vec!["A coil's string sign is winding × magnet × connection, its hum sign winding × connection (US patent 2,896,491, 1959): swapping leads turns both.".into()],
        ..Told::default()
    }
}

/// What else can be done about hum.
fn instead(answered: &Answered) -> Option<Told> {
    if answered.answer.instead.is_empty() {
        return None;
    }
    let words: Vec<&str> = answered
        .answer
        .instead
        .iter()
        .map(|it| match it {
            Instead::Leave => "leave it as it was made",
            Instead::Screen => "screen the cavity and the leads",
            Instead::DummyCoil => "add a coil without a magnet that picks up the same hum",
        })
        .collect();
    Some(Told {
        id: "hum-instead".into(),
        sentence: format!("About the hum, no magnet turned and no tone lost: {}.", or(&words)),
        sure: "An original magnet that is turned cannot be turned back unseen.".into(),
        ..Told::default()
    })
}
