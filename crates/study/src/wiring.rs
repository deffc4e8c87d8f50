//! The inherited circuit: the job's trace read, its network explained.

use asfound_electric::explain::{Agreed, Case, Conditions, Curve as Levels};
use asfound_measure::Decibels;
use asfound_plot::{Curve, Plot};
use asfound_record::Job;

use crate::conditions::{Condition, when};
use crate::sound::{Sounded, banded};

pub use asfound_electric::explain::{self, DeadIn, Explanation, Group};
pub use asfound_electric::trace::{
    HowKnown, JoinLine, Question, Statement, Trace, TraceFault, TraceFaults, TraceQuestion, read_line,
};
pub use asfound_electric::{Load, Unsolvable};

/// What can be said of the wiring.
#[derive(Debug, Clone, PartialEq)]
pub struct Wiring {
    /// The standing entries that the trace is made of, each with the number of its first line in the whole trace.
    pub entries: Vec<(u64, usize)>,
    /// How far it got.
    pub told: WiringTold,
}

/// How far the study of the wiring got.
#[derive(Debug, Clone, PartialEq)]
pub enum WiringTold {
    /// No line of a trace was kept yet.
    NothingTraced,
    /// Lines that cannot be read, or do not fit together yet.
    NotYet(TraceFaults),
    /// It fits together and has no answer.
    NoAnswer(Unsolvable),
    /// The network, explained.
    Explained(Box<Explained>),
}

/// An explained network.
#[derive(Debug, Clone, PartialEq)]
pub struct Explained {
    /// The trace.
    pub trace: Trace,
    /// Values that look like a slip, and values assumed.
    pub questions: Vec<TraceQuestion>,
    /// What each state does.
    pub explanation: Explanation,
    /// Under which conditions: cable and input, and the values taken.
    pub conditions: Conditions,
}

/// Studies the wiring of a job, through the usual cable and input.
pub fn study(job: &Job) -> Wiring {
    study_through(job, Conditions::default().load)
}

/// Studies the wiring of a job through a cable and an input.
pub fn study_through(job: &Job, load: Load) -> Wiring {
    let mut text = String::new();
    let mut entries = Vec::new();
    for item in &job.traces {
        entries.push((item.seq, text.lines().count() + 1));
        text.push_str(item.body.text.trim_end());
        text.push('\n');
    }
    let told = if text.trim().is_empty() { WiringTold::NothingTraced } else { through(&text, load) };
    Wiring { entries, told }
}

/// Studies a trace that stands by itself, through the usual cable and input.
pub fn of_text(text: &str) -> WiringTold {
    through(text, Conditions::default().load)
}

fn through(text: &str, load: Load) -> WiringTold {
    let trace = match Trace::read(text) {
        Ok(trace) if trace.lines().iter().all(|line| line.statement.is_none()) => {
            return WiringTold::NothingTraced;
        }
        Ok(trace) => trace,
        Err(faults) => return WiringTold::NotYet(faults),
    };
    let circuit = match trace.circuit() {
        Ok(circuit) => circuit,
        Err(faults) => return WiringTold::NotYet(faults),
    };
    let conditions = Conditions { load, ..Conditions::of_trace(&trace) };
    match explain::explain(&circuit, &conditions) {
        Ok(explanation) => {
            let questions = trace.questions();
            WiringTold::Explained(Box::new(Explained { questions, explanation, trace, conditions }))
        }
        Err(error) => WiringTold::NoAnswer(error),
    }
}

impl Wiring {
    /// The entry that a line of the whole trace came from.
    pub fn entry_of_line(&self, line: usize) -> Option<u64> {
        self.place_of_line(line).map(|(seq, _)| seq)
    }

    /// The entry that a line of the whole trace came from, and which line of that entry it is, from 1.
    pub fn place_of_line(&self, line: usize) -> Option<(u64, usize)> {
        let (seq, first) = self.entries.iter().rev().find(|(_, first)| *first <= line)?;
        Some((*seq, line - first + 1))
    }
}

/// What a trace leaves open, from its lines alone.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct OpenQuestions {
    /// Ends of cut leads.
    pub unknown_joins: Vec<String>,
    /// Coils whose winding sense or pole is not known.
    pub untapped_coils: Vec<String>,
}

/// What the job's trace leaves open.
pub fn open_questions(job: &Job) -> OpenQuestions {
    let mut open = OpenQuestions::default();
    for statement in statements(job) {
        match statement {
            Statement::Join(join) if join.how == HowKnown::Unknown => {
                open.unknown_joins.push(join.from.to_string())
            }
            Statement::Coil(coil) if coil.winding.is_none() || coil.pole.is_none() => {
                open.untapped_coils.push(coil.name);
            }
            _ => {}
        }
    }
    open
}

/// Names of the parts that the job's trace declares.
pub fn declared_names(job: &Job) -> Vec<String> {
    statements(job).filter_map(|statement| statement.part().map(|(_, name)| name.to_owned())).collect()
}

/// Names of the switches that the job's trace declares.
pub fn declared_switches(job: &Job) -> Vec<String> {
    let named = |statement: Statement| match statement.part() {
        Some(("switch", name)) => Some(name.to_owned()),
        _ => None,
    };
    statements(job).filter_map(named).collect()
}

/// What the lines of the job's trace say, as far as they can be read.
pub(crate) fn statements(job: &Job) -> impl Iterator<Item = Statement> + '_ {
    let lines = job.traces.iter().flat_map(|item| item.body.text.lines());
    lines.filter_map(|line| read_line(line).ok()?.statement)
}

/// How many curves one plot holds before nobody can tell them apart.
const MOST_CURVES: usize = 4;

/// A curve that never rises above this is silence: a plot of silence says nothing.
pub(crate) const SILENT: Decibels = Decibels(-100.0);

/// The response of a group of states: one curve, or one for each case that is heard, the likeliest first, each named by
/// its condition. A curve that is the only one has its band behind it. `None` where nothing is heard in any case.
pub fn response(
    explanation: &Explanation,
    group: &Group,
    title: &str,
    sounded: Option<&Sounded>,
    name: impl Fn(Option<&Condition>) -> String,
) -> Option<Plot> {
    let told = explanation.states.get(*group.states.first()?)?;
    let drawn = |levels: &Levels, condition: Option<&Condition>| {
        let points = explanation.frequencies.iter().copied().zip(levels.levels.iter().copied());
        Curve::new(name(condition), points)
    };
    let is_heard = |levels: &Levels| levels.levels.iter().any(|level| level.0 > SILENT.0);
    let all: Vec<usize> = (0..explanation.possibilities.len()).collect();
    let curves: Vec<Curve> = match &told.curve {
        Agreed::Certain(levels) => {
            let only = is_heard(levels).then(|| drawn(levels, None));
            let with_band = |curve: Curve| match sounded {
                Some(sounded) => banded(curve, &sounded.band),
                None => curve,
            };
            Vec::from_iter(only.map(with_band))
        }
        Agreed::Depends(cases) => cases
            .iter()
            .filter(|case| is_heard(&case.fact))
            .take(MOST_CURVES)
            .map(|Case { fact, possibilities, .. }| {
                drawn(fact, Some(&when(explanation, possibilities, &all)))
            })
            .collect(),
    };
    (!curves.is_empty()).then(|| Plot::response(title, "the coils' own voltage", curves))
}

/// How a join is known, as the trace says it.
pub fn how_known(how: &HowKnown) -> String {
    match how {
        HowKnown::Metered(Some(ohms)) => format!("metered, {}", ohms.text),
        HowKnown::Metered(None) => "metered".to_owned(),
        HowKnown::Seen(said) => format!("seen {said}").trim_end().to_owned(),
        HowKnown::Matched(said) => format!("matched {said}").trim_end().to_owned(),
        HowKnown::Unknown => "not known".to_owned(),
    }
}
