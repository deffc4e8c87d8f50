//! The trace held against the meter: what each probing should show, which few verify the whole, what those taken say.
//!
//! Lugs, switches and knobs are told here by their names in the trace, as a person says them.

use asfound_electric::probing::{
    CheckSheet, Judged, Margin, Options, Slip as Slipped, Span, Survey, Taken, Tolerances, islands,
};
use asfound_electric::trace::{Trace, TraceFaults};
use asfound_electric::{Circuit, JoinTo, Setting, Terminal};
use asfound_measure::{Amount, MeterStatement, Ohms};
use asfound_record::{Item, Job, Probing1};

use crate::before::Before;
use crate::difference::POOR_METER;
use crate::readings::{from_wire, statement_of};

pub(crate) mod stood;

pub use asfound_electric::probing::{ProbingError, Proof, WhyUnseen};
pub use stood::NotSet;
pub(crate) use stood::at_front;

/// Below this a meter's continuity test beeps, at about. Common practice, no source.
pub const BEEPS_BELOW: Ohms = Ohms(50.0);

/// How far the study got.
#[derive(Debug, Clone, PartialEq)]
pub enum MeterCheck {
    /// No line of a trace was kept yet.
    NothingTraced,
    /// Lines that cannot be read, or do not fit together yet.
    NotYet(TraceFaults),
    /// It fits together and cannot be gone through.
    Refused(ProbingError),
    /// Held against the meter.
    Checked(Box<Checked>),
}

/// A trace held against the meter.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// The few probings that verify it, in their order.
    pub rows: Vec<SheetRow>,
    /// Whether fewer could do it.
    pub proof: Proof,
    /// How many slips the sheet shows.
    pub shown: usize,
    /// Slips that no probing shows, with why.
    pub unseen: Vec<(Slip, WhyUnseen)>,
    /// Whether every pair of lugs and every position was thought of, and slips laid on every way of the unknown joins.
    pub thorough: bool,
    /// Parts that hang together and not with the jack, by name: two or more to a list.
    pub apart: Vec<Vec<String>>,
    /// Joins that are not known: where each starts.
    pub unknown: Vec<String>,
    /// Readings that were judged.
    pub readings: Vec<ReadingJudged>,
    /// Readings that could not be judged: the entry, and why.
    pub unused: Vec<(u64, Unused)>,
    /// Readings that contradict each other, by entry.
    pub contradict: Vec<(u64, u64)>,
    /// Whether the trace accounts for all readings.
    pub stands: bool,
    /// Unknown joins that the readings settle: where it starts, where it goes, `None` for nowhere.
    pub settled: Vec<(String, Option<String>)>,
    /// Single slips that account for more readings than the trace; nothing read so far tells them apart.
    pub slips: Vec<Slip>,
    /// How many readings those slips account for.
    pub accounted: usize,
    /// How many of the possible slips are excluded, and how many there are.
    pub excluded: (usize, usize),
    /// What to probe next; `None` where there is nothing more to tell.
    pub next: Option<Probe>,
    /// Whether for some reading the meter's accuracy was not known, and a poor one was taken.
    pub poor_meter: bool,
    /// What parts and meter may be off by.
    pub tolerances: Tolerances,
}

/// Two lugs, and how everything stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Probe {
    /// One lug.
    pub from: String,
    /// The other.
    pub to: String,
    /// Switches, as the entry line takes them: `lever 2`. Empty where there is none.
    pub switches: String,
    /// Knobs, as the entry line takes them: `volume 0, tone full`. Empty where there is none.
    pub knobs: String,
}

impl Probe {
    /// How everything stands, as the entry line takes it.
    pub fn stood(&self) -> String {
        let said = [&self.switches, &self.knobs].map(String::as_str);
        said.into_iter().filter(|said| !said.is_empty()).collect::<Vec<_>>().join(", ")
    }
}

/// One probing of the check sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRow {
    /// Where.
    pub probe: Probe,
    /// What it should show; several where unknown joins decide it.
    pub expected: Vec<Limits>,
    /// Slips that it is the first of the sheet to show.
    pub shows: Vec<Slip>,
    /// The reading that was taken so: its entry and what was typed.
    pub taken: Option<(u64, String)>,
}

/// Limits of a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limits {
    /// From, to.
    Ohms(Ohms, Ohms),
    /// Next to nothing: at most this much.
    Touching(Ohms),
    /// Nothing conducts.
    Open,
}

impl Limits {
    fn of(span: &Span) -> Limits {
        match span {
            _ if span.is_open() => Limits::Open,
            Span { least, most } if least.0 <= 0.0 => Limits::Touching(*most),
            Span { least, most } => Limits::Ohms(*least, *most),
        }
    }
}

/// A single slip of the trace, its lugs by name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Slip {
    /// The join between these two is not there; the second is empty where it was not known.
    Missing(String, String),
    /// A join that starts at the first ends at the third lug, not at the second.
    Elsewhere {
        /// The end that stays.
        from: String,
        /// The lug drawn.
        drawn: String,
        /// The lug where it is.
        at: String,
    },
    /// These two are joined, and no join says so.
    Extra(String, String),
}

/// One reading, judged.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingJudged {
    /// The entry.
    pub seq: u64,
    /// Where.
    pub from: String,
    /// Where to.
    pub to: String,
    /// What was typed.
    pub text: String,
    /// Whether the trace may show it.
    pub agrees: bool,
    /// What the trace would show, without repeats.
    pub expected: Vec<Limits>,
    /// Whether switches were not said to stand anywhere: it then agrees where any position would show it.
    pub any_position: bool,
}

/// Why a reading was not judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unused {
    /// The trace has no such lug; near it are these.
    NoSuchLug(String, Vec<String>),
    /// How a switch or knob stood cannot be.
    NotSet(NotSet),
    /// What was shown is no resistance.
    NoOhms,
}

/// What is asked, and remembered by.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    text: String,
    readings: Vec<(u64, Probing1, Option<MeterStatement>)>,
}

/// What was checked before: to find the few probings takes a while.
pub type CheckedBefore = Before<Asked, MeterCheck>;

/// Holds the job's trace against the meter.
pub fn study(job: &Job, workshop: &Job, before: &CheckedBefore) -> MeterCheck {
    let lines: Vec<&str> = job.traces.iter().map(|item| item.body.text.trim_end()).collect();
    let reading = |item: &Item<Probing1>| {
        let statement = item.body.meter.as_ref().and_then(|id| statement_of(workshop, id));
        (item.seq, item.body.clone(), statement)
    };
    let asked = Asked { text: lines.join("\n"), readings: job.probings.iter().map(reading).collect() };
    before.answer(asked, of)
}

fn of(asked: &Asked) -> MeterCheck {
    let circuit = match Trace::read(&asked.text) {
        Ok(trace) if trace.lines().iter().all(|line| line.statement.is_none()) => {
            return MeterCheck::NothingTraced;
        }
        Ok(trace) => trace.circuit(),
        Err(faults) => Err(faults),
    };
    let circuit = match circuit {
        Ok(circuit) => circuit,
        Err(faults) => return MeterCheck::NotYet(faults),
    };
    match checked(&circuit, asked) {
        Ok(checked) => MeterCheck::Checked(Box::new(checked)),
        Err(error) => MeterCheck::Refused(error),
    }
}

/// A reading made into what the science takes.
struct Used<'a> {
    seq: u64,
    body: &'a Probing1,
    taken: Taken,
    any_position: bool,
}

fn checked(circuit: &Circuit, asked: &Asked) -> Result<Checked, ProbingError> {
    let tolerances = Tolerances::default();
    let survey = Survey::new(circuit, Options { tolerances: tolerances.clone(), ..Options::default() })?;
    let sheet = survey.sheet();
    let (mut used, mut unused) = (Vec::new(), Vec::new());
    for (seq, body, statement) in &asked.readings {
        match taken(circuit, body, *statement, &tolerances) {
            Ok((taken, any_position)) => used.push(Used { seq: *seq, body, taken, any_position }),
            Err(why) => unused.push((*seq, why)),
        }
    }
    let all: Vec<Taken> = used.iter().map(|one| one.taken.clone()).collect();
    let judged = survey.judge(&all)?;
    let rows: Vec<SheetRow> = sheet.rows.iter().map(|row| sheet_row(circuit, row, &used)).collect();
    let next = match rows.iter().find(|row| row.taken.is_none()).filter(|_| judged.stands) {
        Some(row) => Some(row.probe.clone()),
        None => survey.next(&all)?.map(|probed| probe(circuit, probed.from, probed.to, &probed.setting)),
    };
    Ok(told(circuit, &sheet, &judged, &used, rows, next, unused, tolerances, asked))
}

#[expect(clippy::too_many_arguments, reason = "every piece of the answer, put under its name once")]
fn told(
    circuit: &Circuit,
    sheet: &CheckSheet,
    judged: &Judged,
    used: &[Used],
    rows: Vec<SheetRow>,
    next: Option<Probe>,
    unused: Vec<(u64, Unused)>,
    tolerances: Tolerances,
    asked: &Asked,
) -> Checked {
    let name = |lug: Terminal| circuit.name_of(lug);
    let readings = used.iter().zip(&judged.readings).map(|(one, verdict)| ReadingJudged {
        seq: one.seq,
        from: name(one.taken.from),
        to: name(one.taken.to),
        text: one.body.shown.text.clone(),
        agrees: verdict.agrees,
        expected: limits(&verdict.expected),
        any_position: one.any_position,
    });
    let joins = circuit.joins();
    let unknown = joins.iter().filter(|join| !matches!(join.to, JoinTo::One(_)));
    Checked {
        rows,
        proof: sheet.proof,
        shown: sheet.shown,
        unseen: sheet.unseen.iter().map(|it| (slip(circuit, &it.slip), it.why)).collect(),
        thorough: sheet.every_pair && sheet.every_position && sheet.slips_of_all,
        apart: apart(circuit),
        unknown: unknown.map(|join| name(join.a)).collect(),
        readings: readings.collect(),
        unused,
        contradict: judged.contradict.iter().map(|&(a, b)| (used[a].seq, used[b].seq)).collect(),
        stands: judged.stands,
        settled: judged.settled.iter().map(|it| (name(joins[it.join].a), it.to.map(name))).collect(),
        slips: distinct(judged.slips.iter().flatten().map(|it| slip(circuit, it))),
        accounted: judged.accounted,
        excluded: (judged.excluded, judged.of),
        next,
        poor_meter: asked.readings.iter().any(|(_, _, statement)| statement.is_none()),
        tolerances,
    }
}

/// The slips without repeats: one join may slip in each way the unknown joins can go.
fn distinct(slips: impl Iterator<Item = Slip>) -> Vec<Slip> {
    slips.fold(Vec::new(), |mut known, slip| {
        if !known.contains(&slip) {
            known.push(slip);
        }
        known
    })
}

/// What hangs together and not with the jack; a part that nothing is joined to yet is no island of its own.
fn apart(circuit: &Circuit) -> Vec<Vec<String>> {
    let name = |part: &usize| circuit.parts()[*part].name.clone();
    let rest = islands(circuit).into_iter().skip(1).filter(|parts| parts.len() > 1);
    rest.map(|parts| parts.iter().map(name).collect()).collect()
}

fn sheet_row(circuit: &Circuit, row: &asfound_electric::probing::Row, used: &[Used]) -> SheetRow {
    let (from, to) = (row.probed.from, row.probed.to);
    let same = |one: &&Used| {
        let ends = [(one.taken.from, one.taken.to), (one.taken.to, one.taken.from)];
        ends.contains(&(from, to)) && one.taken.settings == [row.probed.setting.clone()]
    };
    SheetRow {
        probe: probe(circuit, from, to, &row.probed.setting),
        expected: limits(&row.expected),
        shows: row.shows.iter().map(|it| slip(circuit, it)).collect(),
        taken: used.iter().rev().find(same).map(|one| (one.seq, one.body.shown.text.clone())),
    }
}

fn probe(circuit: &Circuit, from: Terminal, to: Terminal, setting: &Setting) -> Probe {
    let (switches, knobs) = stood::words(circuit, setting);
    Probe { from: circuit.name_of(from), to: circuit.name_of(to), switches, knobs }
}

fn slip(circuit: &Circuit, slip: &Slipped) -> Slip {
    let name = |lug: Terminal| circuit.name_of(lug);
    match *slip {
        Slipped::Missing { join } => {
            let join = &circuit.joins()[join];
            let to = match &join.to {
                JoinTo::One(end) => name(*end),
                JoinTo::Candidates { .. } => String::new(),
            };
            Slip::Missing(name(join.a), to)
        }
        Slipped::Elsewhere { stays, drawn, at, .. } => {
            Slip::Elsewhere { from: name(stays), drawn: name(drawn), at: name(at) }
        }
        Slipped::Extra { a, b } => Slip::Extra(name(a), name(b)),
    }
}

/// The limits without repeats, the lowest first.
fn limits(spans: &[Span]) -> Vec<Limits> {
    let mut sorted: Vec<&Span> = spans.iter().collect();
    sorted.sort_by(|a, b| a.least.0.total_cmp(&b.least.0).then(a.most.0.total_cmp(&b.most.0)));
    let mut limits: Vec<Limits> = sorted.into_iter().map(Limits::of).collect();
    limits.dedup();
    limits
}

/// Settings tried where switches were not said to stand anywhere; with more positions, the first of them.
const MOST_POSITIONS: usize = 64;

fn taken(
    circuit: &Circuit,
    body: &Probing1,
    statement: Option<MeterStatement>,
    tolerances: &Tolerances,
) -> Result<(Taken, bool), Unused> {
    let lug = |read: &str| {
        circuit.terminal(read).map_err(|error| Unused::NoSuchLug(error.read.clone(), error.nearest.clone()))
    };
    let (from, to) = (lug(&body.from)?, lug(&body.to)?);
    let set = stood::read(circuit, body.stood.as_deref().unwrap_or_default()).map_err(Unused::NotSet)?;
    let shown = shown(body, statement, tolerances).ok_or(Unused::NoOhms)?;
    let settings: Vec<Setting> = set.settings(circuit).take(MOST_POSITIONS).collect();
    let any_position = settings.len() > 1;
    Ok((Taken { from, to, settings, shown }, any_position))
}

/// What the meter showed, within its own error.
fn shown(body: &Probing1, statement: Option<MeterStatement>, tolerances: &Tolerances) -> Option<Span> {
    let ohms = ["resistance", "continuity"].contains(&body.quantity.as_str());
    let written = from_wire(&body.shown).filter(|_| ohms)?;
    let span = |least: f64, most: f64| Some(Span { least: Ohms(least), most: Ohms(most) });
    match &written.amount {
        Amount::OverRange => span(tolerances.open_from.0, f64::INFINITY),
        Amount::Over(_) => span(written.value_in_base()?, f64::INFINITY),
        Amount::Under(_) => span(0.0, written.value_in_base()?),
        Amount::Exactly(_) => {
            let (value, last) = (written.value_in_base()?, written.last_place()?);
            let statement = statement.unwrap_or(POOR_METER);
            let half = statement.half_width(Ohms(value), Ohms(last.min(value.abs() / 200.0))).0 + last / 2.0;
            span(value - half, value + half)
        }
        Amount::NotMeasured | Amount::CannotTell => None,
    }
}

/// Tolerances as sentences need them: a margin on both sides, in per cent.
pub fn per_cent(margin: Margin) -> (f64, f64) {
    (margin.under * 100.0, margin.over * 100.0)
}
