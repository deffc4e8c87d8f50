//! What stands behind the sentences about the wiring: tables, joins, assumptions, questions.

use asfound_measure::{Decibels, Farads, Henries, Hertz, Ohms, engineering};
use asfound_study::conditions::when;
use asfound_study::wiring::explain::{
    Agreed, CoilWord, DeadWhy, Explanation, Finding, HumWord, JackOhms, KnobEnd, Limit, Look, MetalFact,
    PerBand, Resonance, StateTold, SwitchOver,
};
use asfound_study::wiring::{HowKnown, Question, Statement, Trace, TraceQuestion};

use super::{knobs, names};
use crate::lists::{and, capital, count, or};
use crate::sheet::{Column, Rest, Step, Table, Told};

/// How the joins are known, in one sentence.
pub(super) fn joins(trace: &Trace) -> String {
    let mut counts = [0_usize; 4];
    for line in trace.lines() {
        if let Some(Statement::Join(join)) = &line.statement {
            let at = match join.how {
                HowKnown::Metered(_) => 0,
                HowKnown::Seen(_) => 1,
                HowKnown::Matched(_) => 2,
                HowKnown::Unknown => 3,
            };
            counts[at] += 1;
        }
    }
    let words = ["metered", "only seen", "only matched by their stubs", "cut and not known"];
    let told: Vec<String> = counts
        .iter()
        .zip(words)
        .filter(|(count, _)| **count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    let all = counts.iter().sum();
    if all == 0 {
        "No join is traced yet.".to_owned()
    } else {
        format!("Of {}: {}.", count(all, "join", "joins"), and(&told))
    }
}

/// A row for each behaviour.
pub(super) fn overview(explanation: &Explanation) -> Table {
    let mut table =
        Table::with("How the positions differ", &["position", "coils", "#Ω at the jack", "#peak", "#height"]);
    for group in &explanation.groups {
        let state = &explanation.states[group.states[0]];
        table.rows.push(vec![
            names::short_positions(explanation, &group.states),
            coils_heard(explanation, state),
            either(&state.ohms, |ohms| jack_ohms(*ohms)),
            either(&state.resonance, |resonance| peak(resonance.as_ref())),
            either(&state.resonance, |resonance| height(resonance.as_ref())),
        ]);
    }
    table
}

/// A fact that is certain, or all it may be with `or` between.
fn either<T>(fact: &Agreed<T>, words: impl Fn(&T) -> String) -> String {
    let mut told: Vec<String> = fact.facts().map(words).collect();
    told.dedup();
    told.join(" or ")
}

fn coils_heard(explanation: &Explanation, state: &StateTold) -> String {
    let mut told: Vec<String> = Vec::new();
    for (coil, fact) in state.coils.iter().enumerate() {
        let heard: Vec<bool> =
            fact.facts().map(|fact| matches!(fact.word, CoilWord::Sounds | CoilWord::Faint)).collect();
        match (heard.contains(&true), heard.contains(&false)) {
            (true, false) => told.push(names::said(&explanation.coils[coil])),
            (true, true) => told.push(format!("perhaps {}", names::said(&explanation.coils[coil]))),
            _ => {}
        }
    }
    if told.is_empty() { "none".to_owned() } else { told.join(", ") }
}

fn jack_ohms(ohms: JackOhms) -> String {
    match ohms {
        JackOhms::Reads(ohms) => engineering(ohms.0, 4, Ohms::SYMBOL),
        JackOhms::Open => "over range".to_owned(),
    }
}

fn peak(resonance: Option<&Resonance>) -> String {
    resonance.map_or_else(|| "none".to_owned(), |resonance| engineering(resonance.at.0, 3, Hertz::SYMBOL))
}

fn height(resonance: Option<&Resonance>) -> String {
    resonance.map_or_else(|| "–".to_owned(), |resonance| decibels(resonance.height))
}

/// `+3.9 dB`, with a true minus sign; silence as a word.
pub(super) fn decibels(level: Decibels) -> String {
    if !level.0.is_finite() || level.0 < -100.0 {
        return "silent".to_owned();
    }
    let rounded = format!("{:.1}", level.0.abs());
    let sign = if rounded == "0.0" {
        ""
    } else if level.0 < 0.0 {
        "−"
    } else {
        "+"
    };
    format!("{sign}{rounded} dB")
}

/// The figures of one state.
pub(super) fn tables(explanation: &Explanation, state: &StateTold) -> Vec<Table> {
    let all = [
        coils(explanation, state),
        knobs(explanation, state),
        jack(explanation, state),
        colouring(explanation, state),
        metal(explanation, state),
    ];
    all.into_iter().filter(|table| !table.rows.is_empty()).collect()
}

/// A table whose rows may hold in some cases only.
struct Rows<'e> {
    explanation: &'e Explanation,
    table: Table,
    conditions: Vec<String>,
}

impl Rows<'_> {
    fn new<'e>(explanation: &'e Explanation, caption: &str, columns: &[&str]) -> Rows<'e> {
        Rows { explanation, table: Table::with(caption, columns), conditions: Vec::new() }
    }

    /// A row for each case of a fact; cases that print alike share one. Cases without cells have no row.
    fn add<T>(&mut self, fact: &Agreed<T>, cells: impl Fn(&T) -> Option<Vec<String>>) {
        let cases = match fact {
            Agreed::Certain(fact) => {
                self.table.rows.extend(cells(fact));
                self.conditions.resize(self.table.rows.len(), String::new());
                return;
            }
            Agreed::Depends(cases) => cases,
        };
        let mut printed: Vec<(Vec<String>, Vec<usize>)> = Vec::new();
        for case in cases {
            let Some(cells) = cells(&case.fact) else { continue };
            match printed.iter_mut().find(|(known, _)| *known == cells) {
                Some((_, possibilities)) => possibilities.extend(&case.possibilities),
                None => printed.push((cells, case.possibilities.clone())),
            }
        }
        let all = names::all(self.explanation);
        for (cells, mut possibilities) in printed {
            possibilities.sort_unstable();
            self.table.rows.push(cells);
            self.conditions.push(if possibilities == all {
                String::new()
            } else {
                names::short_condition(self.explanation, &when(self.explanation, &possibilities, &all))
            });
        }
    }

    /// The table; with a last column for the conditions where there are any.
    fn table(mut self) -> Table {
        if self.conditions.iter().any(|condition| !condition.is_empty()) {
            self.table.columns.push(Column { name: "if".to_owned(), numeric: false });
            for (row, condition) in self.table.rows.iter_mut().zip(self.conditions) {
                row.push(condition);
            }
        }
        self.table
    }
}

fn with_bands(first: Vec<String>, bands: &PerBand<Decibels>) -> Vec<String> {
    let mut row = first;
    row.extend([bands.low, bands.middle, bands.high].map(decibels));
    row
}

fn coils(explanation: &Explanation, state: &StateTold) -> Table {
    let caption = "Coils at the jack, against each coil's own voltage";
    let mut rows = Rows::new(explanation, caption, &["coil", "word", "#lows", "#middle", "#highs"]);
    for (coil, fact) in state.coils.iter().enumerate() {
        rows.add(fact, |fact| {
            let first = vec![names::said(&explanation.coils[coil]), coil_word(fact.word).to_owned()];
            Some(with_bands(first, &fact.level))
        });
    }
    rows.table()
}

fn coil_word(word: CoilWord) -> &'static str {
    match word {
        CoilWord::Sounds => "sounds",
        CoilWord::Faint => "faint",
        CoilWord::Silent => "silent",
        CoilWord::Dead(DeadWhy::EndLoose) => "off here: an end leads nowhere",
        CoilWord::Dead(DeadWhy::Shorted) => "dead: shorted",
        CoilWord::Dead(DeadWhy::Open) => "dead: its winding is open",
        CoilWord::Dead(DeadWhy::BehindOpen) => "dead: behind an open winding",
        CoilWord::Dead(DeadWhy::Aside) => "off here: not on the path",
    }
}

fn knobs(explanation: &Explanation, state: &StateTold) -> Table {
    let caption = "What each knob does, from its open end to its other end";
    let columns = ["knob", "what it does", "open at", "#lows", "#middle", "#highs"];
    let mut rows = Rows::new(explanation, caption, &columns);
    for (pot, fact) in state.knobs.iter().enumerate() {
        rows.add(fact, |fact| {
            let open = match fact.open_end {
                Some(KnobEnd::Lug1) => "lug 1",
                Some(KnobEnd::Lug3) => "lug 3",
                None => "–",
            };
            let name = names::said(&explanation.pots[pot]);
            let first = vec![name, knobs::words(explanation, &fact.word), open.to_owned()];
            Some(with_bands(first, &fact.at_other_end))
        });
    }
    rows.table()
}

fn jack(explanation: &Explanation, state: &StateTold) -> Table {
    let mut rows = Rows::new(explanation, "At the jack", &["what", "figure"]);
    let row = |name: &str, figure: String| Some(vec![name.to_owned(), figure]);
    rows.add(&state.ohms, |ohms| row("a meter reads, cable out", jack_ohms(*ohms)));
    rows.add(&state.resonance, |resonance| {
        let told = resonance.as_ref();
        row(
            "peak",
            if told.is_some() { format!("{}, {}", peak(told), height(told)) } else { "none".to_owned() },
        )
    });
    rows.add(&state.hum, |hum| {
        let figure = match hum.word {
            HumWord::NoCoil => "no coil heard".to_owned(),
            HumWord::OneCoil => "one coil: nothing cancels it".to_owned(),
            _ => format!("{:.2}", hum.ratio),
        };
        row("hum left of the sum", figure)
    });
    rows.add(&state.floating, |parts| {
        let names: Vec<String> = parts.iter().map(|name| names::said(name)).collect();
        if names.is_empty() { None } else { row("no way to the jack", and(&names)) }
    });
    rows.table()
}

fn colouring(explanation: &Explanation, state: &StateTold) -> Table {
    let caption = "Parts that colour the sound wherever the knobs stand: change if taken out";
    let mut rows = Rows::new(explanation, caption, &["part", "#lows", "#middle", "#highs"]);
    for colouring in &state.colouring {
        rows.add(&colouring.without, |without| {
            without.as_ref().map(|without| with_bands(vec![names::said(&colouring.part)], without))
        });
    }
    rows.table()
}

fn metal(explanation: &Explanation, state: &StateTold) -> Table {
    let mut rows = Rows::new(explanation, "Metal that can be touched", &["metal", "joined to"]);
    for told in &state.metal {
        rows.add(&told.fact, |fact| {
            let joined = match fact {
                MetalFact::Grounded => "ground".to_owned(),
                MetalFact::Floating => "nothing".to_owned(),
                MetalFact::Live { ohms_to_sleeve: Some(ohms), .. } => {
                    format!("signal; {} to the sleeve", engineering(ohms.0, 3, Ohms::SYMBOL))
                }
                MetalFact::Live { ohms_to_sleeve: None, .. } => "signal; over range to the sleeve".to_owned(),
            };
            Some(vec![names::said(&told.metal), joined])
        });
    }
    rows.table()
}

/// What is taken for granted or left out.
pub(super) fn limit(explanation: &Explanation, limit: &Limit) -> String {
    match limit {
        Limit::EqualWeights => "Where no odds were given, every way a cut lead can have gone, and either sign of an untapped coil, is as likely as the others.".to_owned(),
        Limit::ResistanceAssumed { coil, assumed } => format!(
            "The resistance of the {} was not measured; {} is taken, and single coils read 5 to 10 kΩ as a rule (common practice, no source).",
            names::coil(explanation, *coil),
            engineering(assumed.0, 3, Ohms::SYMBOL)
        ),
        Limit::BreakLetsNothingThrough => "An open winding is taken to let nothing through; some highs may pass by its capacitance, thin and weak.".to_owned(),
        Limit::InductanceAssumed { coil, assumed } => format!(
            "The inductance of the {} was not measured; {} is taken, and most pickups have 1 to 10 H (Lemme 2009).",
            names::coil(explanation, *coil),
            engineering(assumed.0, 2, Henries::SYMBOL)
        ),
        Limit::CapacitanceAssumed { coil, assumed } => format!(
            "The winding capacitance of the {} was not measured; {} is taken, and most have 80 to 200 pF (Lemme 2009).",
            names::coil(explanation, *coil),
            engineering(assumed.0, 2, Farads::SYMBOL)
        ),
        Limit::LoadAssumed { load } => {
            let input = load.resistance.map(|ohms| format!(" and an input of {}", engineering(ohms.0, 3, Ohms::SYMBOL)));
            let cable = engineering(load.capacitance.0, 3, Farads::SYMBOL);
            format!("The jack feeds a cable of {cable}{}.", input.unwrap_or_default())
        }
        Limit::MiddleIsHalfOfOhms => "The middle of a knob is half of its ohms; where that lies on the turn depends on its taper.".to_owned(),
        Limit::CoilsNotCoupled => "The coils do not feel each other's fields.".to_owned(),
        Limit::StatesLeftOut { told, of, by_switch } => format!(
            "Only the first {told} of {of} combinations of the switches are told. They have {}.",
            by_switch.iter().map(how_far).collect::<Vec<_>>().join("; ")
        ),
        Limit::MovesLeftOut { tried, of } => format!("What sounds between two positions is tried on the first {tried} of {of} moves only."),
        Limit::PossibilitiesLeftOut { told, of } => format!("Only the likeliest {told} of {of} ways the cut leads can have gone are followed."),
        Limit::SignsLeftOut { coils } => format!("Too many coils are untapped to follow every case; these are taken as clockwise and north: {}.", names::coils(explanation, coils)),
        _ => String::new(),
    }
}

/// `s1 on up or down`, `s0 on up, never on down`.
fn how_far(switch: &SwitchOver) -> String {
    let (told, never) = switch.positions.split_at(switch.told.min(switch.positions.len()));
    let never = if never.is_empty() { String::new() } else { format!(", never on {}", or(never)) };
    format!("{} on {}{never}", switch.name, or(told))
}

/// A value that looks like a slip, as a finding.
pub(super) fn question(asked: &TraceQuestion, entry: Option<u64>) -> Option<Told> {
    let (sentence, sure) = match &asked.question {
        Question::CoilOhmsLow { coil, read, perhaps, .. } => (
            format!(
                "The {} is traced with {read}: most likely {} was meant.",
                names::coil_named(coil),
                engineering(perhaps.0, 3, Ohms::SYMBOL)
            ),
            "No pickup coil reads so low. It is kept, and reckoned with, as typed.".to_owned(),
        ),
        Question::JoinOhmsHigh { read, .. } => (
            format!("A join is metered with {read}: a part may lie between."),
            "A join of wire and solder reads under an ohm or two. It is reckoned with as a join.".to_owned(),
        ),
        Question::CoilOverRange { coil, read, taken: None, .. } => (
            format!("The coil {coil} reads over {read}: its winding is open, or very high."),
            "Whole pickup coils read less. It is reckoned with as open; a lead that is off reads the same."
                .to_owned(),
        ),
        Question::CoilOverRange { coil, read, .. } => (
            format!(
                "The coil {coil} reads over {read}: that range is too short to tell it from a whole one."
            ),
            "It is reckoned with as whole, with a typical resistance.".to_owned(),
        ),
        _ => return None,
    };
    Some(Told {
        id: format!("question-{}", asked.line),
        sentence: capital(&sentence),
        sure: match entry {
            Some(_) => sure,
            None => format!("{sure} Line {} of the trace.", asked.line),
        },
        rests_on: entry.map(Rest::on).into_iter().collect(),
        next: vec![Step {
            id: format!("trace-line-{}", asked.line),
            words: "Meter it once more, with range and unit in view.".into(),
            why: "A slip of the unit changes everything that follows from it.".into(),
            ..Step::default()
        }],
        ..Told::default()
    })
}

/// What each look would tell.
pub(super) fn looks_told(explanation: &Explanation) -> Option<Table> {
    let mut table =
        Table::with("What each look would tell, in bits (Shannon 1948)", &["look", "#bits", "can find"]);
    for look in &explanation.next {
        let what = match &look.what {
            Look::Stub { stub } => format!("where {stub} went"),
            Look::Winding { coil } => format!("winding of {}", names::coils(explanation, &[*coil])),
            Look::Pole { coil } => format!("pole of {}", names::coils(explanation, &[*coil])),
            Look::Tap { coil } => format!("tap of {}", names::coils(explanation, &[*coil])),
        };
        let found: Vec<String> = look.answers.iter().map(|answer| finding(&answer.found)).collect();
        table.rows.push(vec![what, format!("{:.2}", look.bits), or(&found)]);
    }
    (!table.rows.is_empty()).then_some(table)
}

fn finding(found: &Finding) -> String {
    match found {
        Finding::GoesTo(Some(end)) => end.clone(),
        Finding::GoesTo(None) => "nowhere".to_owned(),
        Finding::Clockwise(true) => "clockwise".to_owned(),
        Finding::Clockwise(false) => "anticlockwise".to_owned(),
        Finding::North(true) => "north".to_owned(),
        Finding::North(false) => "south".to_owned(),
        Finding::KicksUp(true) => "up".to_owned(),
        Finding::KicksUp(false) => "down".to_owned(),
    }
}
