//! One coil in words: what it is, how sure, why, and what would tell more.

use asfound_measure::{Millimetres, Ohms, engineering};
use asfound_study::coils::{
    CoilStudied, Condition, Considered, Hand, Lead, Metres, Next, PartState, Said, Side, Weighed, name_of,
    ratio as ratio_of,
};
use asfound_study::readings::ReadingStudied;

use super::coil_words::{
    build, cause, coil_part, condition, hand, insulation, look, look_named, part_state, piece,
};
use super::usual;
use crate::likely::{how_sure, in_hundred};
use crate::lists::{and, capital, or};
use crate::sheet::{Rest, Step, Table, Told};

/// What is less probable than this is left out of a list.
pub(super) const NEXT_TO_NOTHING: f64 = 0.05;
/// A look that tells less than this, in bits, is not offered: it would change next to nothing.
const LEAST_TOLD: f64 = 0.01;

/// The finding about a coil. `reads` is the sentence about its latest reading, with what stands behind it.
pub(crate) fn coil(
    studied: &CoilStudied,
    reading: Option<&ReadingStudied>,
    reads: Option<Told>,
) -> Option<Told> {
    let Ok(weighed) = &studied.weighed else { return reads.map(|told| with_trouble(told, studied)) };
    let mut told = reads.unwrap_or_default();
    told.id = format!("coil-{}", studied.part);
    told.sentence = sentence(studied, weighed, told.sentence.trim_end_matches('.'));
    let is_open = is_open(studied);
    let usual = if reading.is_some() && !is_open { usual::add(&mut told, studied) } else { None };
    let as_read = std::mem::take(&mut told.sure);
    let (first, more) = as_read.split_once(". ").unwrap_or((as_read.trim_end_matches('.'), ""));
    let mut sure = why_so_sure(studied, weighed);
    let second = if sure.is_empty() { String::new() } else { format!(" {}", sure.remove(0)) };
    told.sure = match (first, usual) {
        ("", usual) => {
            format!("{}{second}", usual.map(|it| format!("Its ohms are {it}.")).unwrap_or_default())
        }
        (first, Some(usual)) => format!("{first}; its ohms are {usual}.{second}"),
        (first, None) => format!("{first}.{second}"),
    };
    told.sure = told.sure.trim().to_owned();
    if !more.is_empty() {
        told.working.push(more.to_owned());
    }
    told.working.splice(0..0, sure);
    told.working.insert(0, how(weighed));
    if let Some(wire) = &studied.wire {
        let turns = match &wire.turns {
            Some(turns) => format!(
                "On a former of its kind that is about {} turns, from {} to {} over wire, former and packing",
                tens(turns.nominal.0),
                tens(turns.all.least.0),
                tens(turns.all.most.0)
            ),
            None => "Turns follow only with a mean turn: say what kind of coil it is".to_owned(),
        };
        told.working.push(format!(
            "As {} AWG it is {:.0} m ({:.0} ft) of wire by the gauge law, from {:.0} m to {:.0} m over wire as it is made. {turns}; twice the turns read from 2.0 to 2.2 times the ohms, for ohms follow the wire's length, and have about 4 times the inductance.",
            wire.gauge,
            wire.by_law.0,
            wire.by_law.feet(),
            wire.least.0,
            wire.most.0
        ));
    }
    // One step is offered; the others stand in the table of looks, and what the reading lacks behind the finding.
    let lacks = std::mem::take(&mut told.next);
    told.next = if is_open {
        vec![lacks.first().cloned().unwrap_or_else(|| open_step(&studied.name))]
    } else {
        step(studied, &weighed.next).or_else(|| lacks.first().cloned()).into_iter().collect()
    };
    if is_open {
        told.tables.push(where_broken());
    }
    let offered: Vec<String> = told.next.iter().map(|step| step.id.clone()).collect();
    let left = lacks.into_iter().filter(|step| !offered.contains(&step.id));
    told.would_change.extend(left.map(|step| step.words));
    told.rests_on = rests(studied);
    let mut all = tables(studied, weighed);
    all.append(&mut told.tables);
    told.tables = all;
    told.assumptions.extend(assumptions(studied));
    told.would_change.extend(would_change(weighed));
    Some(told)
}

fn with_trouble(mut told: Told, studied: &CoilStudied) -> Told {
    if let Err(error) = &studied.weighed {
        told.working.push(format!("It was not weighed: {error}."));
    }
    told
}

/// `Bridge coil reads 4.90 kΩ ± 0.05 kΩ at 20 °C: likely sound; whether it was rewound is not decided.`
fn sentence(studied: &CoilStudied, weighed: &Weighed, reads: &str) -> String {
    let state = condition_words(weighed);
    if is_open(studied) {
        let of_it = if reads.is_empty() { capital(&studied.name) } else { reads.to_owned() };
        return format!("{of_it}: {state}.");
    }
    let winding = hand_words(weighed);
    if reads.is_empty() {
        return format!("{}: {state}; {winding}.", capital(&studied.name));
    }
    format!("{reads}: {state}; {winding}.")
}

/// Whether it is most likely broken.
pub(super) fn is_open(studied: &CoilStudied) -> bool {
    studied.weighed.as_ref().is_ok_and(|weighed| weighed.condition_lead.leader() == Condition::Open)
}

fn open_step(name: &str) -> Step {
    Step {
        id: format!("reflow-{}", name.replace(' ', "-")),
        words: format!("Reflow the {name}'s joints at its own flatwork; if it stays open, unsolder it there, not at the pots or the switch, and log each joint that is broken for it."),
        why: "A poor joint is the first suspect, and the coil's own joint spares the old ones (common practice, no source).".into(),
        caution: "Solder fumes and old lead: extract, wash hands. Heat near old plastic and insulation: brief, shielded.".into(),
        ..Step::default()
    }
}

/// What a break costs by where it is. Common practice, no source.
fn where_broken() -> Table {
    let caption = "Which end is broken? What each costs (common practice, no source)";
    let mut table = Table::with(caption, &["broken at", "what is done", "what it costs"]);
    let row =
        |place: &str, done: &str, costs: &str| vec![place.to_owned(), done.to_owned(), costs.to_owned()];
    table.rows = vec![
        row("the outer lead", "unwind a turn and re-attach it", "nothing that can be heard"),
        row(
            "an outer layer",
            "peel until it conducts; count the turns, and keep the wire with its colour and gauge",
            "ohms by the share of turns peeled, inductance by about twice that share",
        ),
        row(
            "the inner start",
            "look whether the broken end can be caught at the ground side; else a rewind",
            "the winding it was made with, where it is rewound",
        ),
    ];
    table
}

fn condition_words(weighed: &Weighed) -> String {
    let leader = weighed.condition_lead.leader();
    let probability = weighed.condition(leader);
    match &weighed.condition_lead {
        Lead::Decided(_) if probability.value() >= 0.6 => {
            format!("{} {}", how_sure(probability), condition(leader))
        }
        _ => {
            let likely = likeliest(&weighed.conditions);
            let words: Vec<&str> = likely.iter().map(|it| condition(it.what)).collect();
            format!("not decided whether {}", or(&words))
        }
    }
}

fn hand_words(weighed: &Weighed) -> String {
    let rewound = weighed.rewound();
    let as_made = weighed.hand(Hand::AsMade);
    let decided = matches!(weighed.hand_lead, Lead::Decided(_));
    if decided && as_made.value() >= 0.6 {
        format!("{} {}", how_sure(as_made), hand(Hand::AsMade))
    } else if rewound.value() >= 0.8 {
        let which = match weighed.hand_lead {
            Lead::Decided(leader) if leader.rewound() => hand(leader),
            _ => "rewound, with which wire is not decided",
        };
        format!("{} {which}", how_sure(rewound))
    } else {
        "whether it was rewound is not decided".to_owned()
    }
}

/// The alternatives that together hold nine in ten, the likeliest first, three at most.
fn likeliest<T>(considered: &[Considered<T>]) -> Vec<&Considered<T>> {
    let mut sorted: Vec<&Considered<T>> = considered.iter().collect();
    sorted.sort_by(|a, b| b.probability.value().total_cmp(&a.probability.value()));
    let mut held = 0.0;
    let mut kept = Vec::new();
    for it in sorted {
        if held >= 0.9 || kept.len() == 3 {
            break;
        }
        held += it.probability.value();
        kept.push(it);
    }
    kept
}

/// Sentences that say how sure it is and why, the weightiest first.
fn why_so_sure(studied: &CoilStudied, weighed: &Weighed) -> Vec<String> {
    let mut pieces = Vec::new();
    if studied.found.construction.is_none() {
        pieces.push("Say what kind of coil it is; all kinds were gone over.".to_owned());
    }
    let parts: Vec<String> = weighed
        .parts
        .iter()
        .filter(|judged| judged.state != PartState::CannotTell)
        .map(|judged| format!("{} {}", coil_part(judged.part), part_state(judged.state)))
        .collect();
    if !parts.is_empty() {
        pieces.push(format!("Each by itself: {}; of the rest nothing can be told.", and(&parts)));
    }
    if let Some(alone) = &weighed.ohms_alone
        && alone.cannot_tell_hands.iter().any(|(a, b)| a.rewound() != b.rewound())
    {
        pieces.push("Ohms cannot tell an untouched winding from a rewind with like wire.".to_owned());
    }
    pieces.extend(strongest(weighed));
    pieces
}

/// What says most about whether it was rewound, where anything says something.
fn strongest(weighed: &Weighed) -> Option<String> {
    let as_made = weighed.hands.iter().find(|it| it.what == Hand::AsMade)?;
    let said: Vec<String> = as_made
        .speaks
        .iter()
        .filter(|said| !matches!(said.strength().1, Side::Neither))
        .take(2)
        .map(|said| {
            let (strength, side) = said.strength();
            let of = if matches!(side, Side::This) { "no rewind" } else { "a rewind" };
            format!("{} for {of} from {}", strength, piece(said.piece))
        })
        .collect();
    (!said.is_empty()).then(|| format!("{}.", capital(&and(&said))))
}

fn step(studied: &CoilStudied, next: &[Next]) -> Option<Step> {
    let best = next.iter().find(|it| it.tells.0 >= LEAST_TOLD)?;
    let (words, caution) = look(best.look, &studied.name);
    Some(Step {
        id: format!("look-{}-{:?}", studied.part, best.look).to_lowercase(),
        words,
        why: format!("Of all looks it tells most for its trouble, {:.0} minutes.", best.minutes),
        caution: caution.to_owned(),
        ..Step::default()
    })
}

fn rests(studied: &CoilStudied) -> Vec<Rest> {
    let mut seqs: Vec<u64> = studied.pieces.iter().flat_map(|(_, seqs)| seqs.clone()).collect();
    seqs.extend(studied.kind.construction.as_ref().map(|said| said.seq));
    seqs.extend(studied.kind.period.as_ref().map(|said| said.seq));
    seqs.extend(studied.kind.gauge.as_ref().map(|said| said.seq));
    seqs.sort_unstable();
    seqs.dedup();
    Rest::on_all(seqs)
}

fn tables(studied: &CoilStudied, weighed: &Weighed) -> Vec<Table> {
    let mut tables = vec![
        considered("What may ail it, of 100 such coils", &weighed.conditions, condition),
        considered("Whose winding it is, of 100 such coils", &weighed.hands, hand),
        parts(weighed),
    ];
    if let Some(disagreement) = &weighed.disagreement {
        let full = disagreement.depth_ratio > 1.0;
        let caption = if full {
            "It looks fuller than its ohms would have it; what may be behind that, of 100"
        } else {
            "It looks emptier than its ohms would have it; what may be behind that, of 100"
        };
        let mut table = Table::with(caption, &["chief cause", "#of 100"]);
        table.rows = disagreement
            .causes
            .iter()
            .map(|it| vec![cause(it.cause, full).to_owned(), in_hundred(it.probability)])
            .collect();
        tables.push(table);
    }
    tables.push(figures(weighed));
    tables.push(wires(weighed));
    if let Some(as_made) = weighed.hands.iter().find(|it| it.what == Hand::AsMade) {
        tables.push(speaks(
            "What speaks for the winding it was made with, against any rewind",
            &as_made.speaks,
        ));
    }
    let leader = weighed.condition_lead.leader();
    if let Some(it) = weighed.conditions.iter().find(|it| it.what == leader) {
        tables
            .push(speaks(&format!("What speaks for “{}”, against all else", condition(leader)), &it.speaks));
    }
    tables.push(looks(&weighed.next));
    if !studied.features.is_empty() {
        tables.push(read_from_words(studied));
    }
    tables.retain(|table| !table.rows.is_empty());
    tables
}

fn considered<T: Copy>(caption: &str, all: &[Considered<T>], words: impl Fn(T) -> &'static str) -> Table {
    let mut table = Table::with(caption, &["explanation", "#now", "#before anything was found"]);
    table.rows = all
        .iter()
        .map(|it| vec![words(it.what).to_owned(), in_hundred(it.probability), in_hundred(it.before)])
        .collect();
    table
}

fn parts(weighed: &Weighed) -> Table {
    let mut table = Table::with("Each part by itself", &["part", "what can be said", "#original, of 100"]);
    table.rows = weighed
        .parts
        .iter()
        .map(|it| {
            vec![coil_part(it.part).to_owned(), part_state(it.state).to_owned(), in_hundred(it.original)]
        })
        .collect();
    table
}

fn figures(weighed: &Weighed) -> Table {
    let mut table =
        Table::with("What follows for the winding, 95 in 100 between", &["of it", "#mean", "#from", "#to"]);
    let figures = &weighed.figures;
    let mut row = |name: &str, values: [String; 3]| {
        let [mean, low, high] = values;
        table.rows.push(vec![name.to_owned(), mean, low, high]);
    };
    let turns = &figures.turns;
    row("turns", [turns.mean, turns.low, turns.high].map(|it| tens(it.0)));
    let wire = &figures.wire_length;
    row("length of wire", [wire.mean, wire.low, wire.high].map(|Metres(it)| format!("{it:.0} m")));
    let depth = &figures.depth;
    row("depth of winding", [depth.mean, depth.low, depth.high].map(|Millimetres(it)| format!("{it:.1} mm")));
    let fill = &figures.copper_fill;
    row("copper, of its section", [fill.mean, fill.low, fill.high].map(|it| format!("{it:.2}")));
    let ohms = &figures.ohms_at_20;
    row("ohms at 20 °C", [ohms.mean, ohms.low, ohms.high].map(|it| engineering(it.0, 3, Ohms::SYMBOL)));
    let henries = &figures.inductance;
    row("inductance", [henries.mean, henries.low, henries.high].map(|it| format!("{:.2} H", it.0)));
    table
}

/// Which wire it may be: the gauges, builds and coats that are not next to nothing.
fn wires(weighed: &Weighed) -> Table {
    let gauges = weighed.gauges.iter().map(|(gauge, p)| (format!("{} AWG", gauge.number()), *p));
    let builds = weighed.builds.iter().map(|(it, p)| (build(*it).to_owned(), *p));
    let coats = weighed.insulations.iter().map(|(it, p)| (insulation(*it).to_owned(), *p));
    let mut table = Table::with("Which wire it may be", &["of the wire", "#of 100"]);
    let likely = gauges.chain(builds).chain(coats).filter(|(_, p)| p.value() >= NEXT_TO_NOTHING);
    table.rows = likely.map(|(words, p)| vec![words, in_hundred(p)]).collect();
    table
}

fn speaks(caption: &str, said: &[Said]) -> Table {
    let mut table = Table::with(caption, &["what was found", "says", "#likelihood ratio"]);
    let mut silent = Vec::new();
    for it in said {
        let (strength, side) = it.strength();
        let words = match side {
            Side::This => format!("{strength} for it"),
            Side::Alternative => format!("{strength} against it"),
            Side::Neither => {
                silent.push(piece(it.piece));
                continue;
            }
        };
        table.rows.push(vec![piece(it.piece).to_owned(), words, ratio(it.log_ratio)]);
    }
    if !silent.is_empty() {
        table.rows.push(vec![and(&silent), "nothing either way".to_owned(), "under 2".to_owned()]);
    }
    table
}

/// A likelihood ratio to two digits: `12`, `0.3`; below one as `1 : 3.4`.
fn ratio(log: f64) -> String {
    let (size, against) = ratio_of(log);
    let digits = if size < 10.0 { format!("{size:.1}") } else { format!("{size:.0}") };
    if against { format!("1 : {digits}") } else { digits }
}

fn looks(next: &[Next]) -> Table {
    let mut table = Table::with(
        "What each look can be expected to tell",
        &["look", "#bits", "#minutes", "#bits a minute"],
    );
    table.rows = next
        .iter()
        .filter(|it| it.tells.0 >= LEAST_TOLD)
        .map(|it| {
            vec![
                look_named(it.look).to_owned(),
                format!("{:.2}", it.tells.0),
                format!("{:.0}", it.minutes),
                format!("{:.3}", it.bits_per_minute),
            ]
        })
        .collect();
    table
}

fn read_from_words(studied: &CoilStudied) -> Table {
    let mut table = Table::with(
        "What was read from the words; say it otherwise where it was misread",
        &["read as", "from", "entry"],
    );
    let rows = studied
        .features
        .iter()
        .map(|it| (it, ""))
        .chain(studied.overruled.iter().map(|it| (it, ", said otherwise since")));
    table.rows = rows
        .map(|(it, since)| {
            vec![format!("{}{since}", it.feature.words()), it.clause.clone(), it.seq.to_string()]
        })
        .collect();
    table
}

fn how(weighed: &Weighed) -> String {
    let rough = if weighed.effort.enough {
        ""
    } else {
        " Few of them came near what was found, so the figures are rough: nothing held here fits it well."
    };
    format!(
        "Weighed by {} draws of wire, former, packing, turns and faults, each drawn as common practice and the published tables have it and weighted by how well it meets what was found (Bayes); worth {:.0} equal ones.{rough} None of these explanations: {} of 100.",
        weighed.effort.draws,
        weighed.effort.effective,
        in_hundred(weighed.none_of_these)
    )
}

fn assumptions(studied: &CoilStudied) -> Vec<String> {
    let mut lines = Vec::new();
    match &studied.kind.construction {
        Some(said) if said.of_the_coil => lines.push(format!("It is a {}, as was said.", said.what.words())),
        Some(said) => lines.push(format!("It is a {}, as was said of the piece.", said.what.words())),
        None => lines.push("What kind of coil it is was not said; all kinds were gone over.".to_owned()),
    }
    match &studied.kind.period {
        Some(said) => {
            let of = if said.of_the_coil { "" } else { " of the piece" };
            let years = if said.what.from == said.what.to {
                said.what.from.to_string()
            } else {
                format!("{} to {}", said.what.from, said.what.to)
            };
            lines.push(format!("Its time is {years}, as was said{of}."));
        }
        None => lines.push("Its time was not said; all periods were gone over.".to_owned()),
    }
    if studied.poor_meter {
        lines
            .push("A meter whose accuracy is not known is taken as a poor one: 3 % and 5 digits.".to_owned());
    }
    lines
}

fn would_change(weighed: &Weighed) -> Vec<String> {
    let mut lines = Vec::new();
    if let Lead::NotDecided { turned_by, .. } = &weighed.hand_lead {
        let turned = turned_by.iter().map(|(matter, value, to)| {
            format!("{} held at {}: then “{}” leads.", capital(name_of(*matter)), plain(*value), hand(*to))
        });
        lines.extend(turned);
    }
    if let Lead::NotDecided { turned_by, .. } = &weighed.condition_lead {
        let turned = turned_by.iter().map(|(matter, value, to): &(_, f64, Condition)| {
            format!(
                "{} held at {}: then “{}” leads.",
                capital(name_of(*matter)),
                plain(*value),
                condition(*to)
            )
        });
        lines.extend(turned);
    }
    lines
}

/// A held value with no more digits than it has.
fn plain(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Turns to the nearest ten: nothing here is surer.
fn tens(turns: f64) -> String {
    format!("{:.0}", (turns / 10.0).round() * 10.0)
}
