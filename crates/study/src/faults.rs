//! What is at fault: the traced circuit held against what was metered and what is heard.
//!
//! The words become evidence here, each piece with the entry it came from. What is heard where no circuit is traced is
//! read all the same, so that a page can say what a trace would make of it.

mod evidence;
mod metered;
mod reach;

use std::sync::Arc;

use asfound_electric::Circuit;
use asfound_electric::JoinTo;
use asfound_electric::explain::Conditions;
use asfound_electric::fault::{Evidence, suspects};
use asfound_electric::trace::Trace;

use crate::before::Before;
use crate::material::Material;
use crate::readings;
use crate::said::heard::{self, Complaint, What};
use crate::wiring::{Explained, WiringTold, of_text};

pub use asfound_electric::fault::{
    About, Answer, Contradiction, Fault, FaultError, Heard, Look, NextLook, Options, Priors, Reach, Shows,
    Sounds, SpeaksOf, Suspicion, Touched, TrackEnd,
};
pub use asfound_electric::touch::{Caution, OnTouch};
pub use asfound_electric::{Reading, Setting, Terminal};
pub use asfound_weigh::{Side, Strength};
pub use evidence::{HeardFrom, Left};
pub use metered::{MeteredFrom, Unplaced, WhyUnplaced};

/// What can be said of faults.
#[derive(Debug, Clone)]
pub struct FaultsStudied {
    /// What is heard, as it was read.
    pub complaints: Vec<Complaint>,
    /// How far it got.
    pub told: FaultsTold,
}

/// How far the study of faults got.
#[derive(Debug, Clone)]
pub enum FaultsTold {
    /// No line of a trace was kept yet.
    NothingTraced,
    /// The trace cannot be read or does not fit together yet.
    TraceNotYet,
    /// A circuit, and nothing metered or heard that it can be held against.
    NothingToWeigh(Arc<Weighed>),
    /// Weighed.
    Weighed(Arc<Weighed>),
}

/// What was asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Posed {
    trace: String,
    complaints: Vec<Complaint>,
    metered: Vec<MeteredFrom>,
    unplaced: Vec<Unplaced>,
    reach: Reach,
}

/// What was asked before, with its answers.
pub type WeighedBefore = Before<Posed, Option<Arc<Weighed>>>;

/// The evidence with its sources, and what it says.
#[derive(Debug, Clone)]
pub struct Weighed {
    /// The circuit with its states.
    pub explained: Explained,
    /// The circuit.
    pub circuit: Circuit,
    /// Readings, as the answer counts them.
    pub metered: Vec<MeteredFrom>,
    /// Readings between lugs that cannot be weighed.
    pub unplaced: Vec<Unplaced>,
    /// What is heard, as the answer counts it.
    pub heard: Vec<HeardFrom>,
    /// Complaints that the circuit cannot be held against, with why.
    pub left: Vec<(usize, Left)>,
    /// Whether the cavity is coated, where it was said.
    pub coated: Option<bool>,
    /// How far the hand reaches.
    pub reach: Reach,
    /// Coils that no position joins, where somebody missed a position with both; by the complaint.
    pub never_both: Option<usize>,
    /// The answer; `None` where there was no evidence.
    pub answer: Option<Result<Answer, FaultError>>,
}

/// Studies the faults of a job.
pub fn study(material: &Material) -> FaultsStudied {
    let job = &*material.job;
    let lines: Vec<&str> = job.traces.iter().map(|item| item.body.text.trim_end()).collect();
    let text = lines.join("\n");
    let trace = Trace::read(&text).ok();
    let circuit = trace.as_ref().and_then(|trace| trace.circuit().ok());
    let complaints = heard::read(job, circuit.as_ref());
    let told = match circuit {
        _ if text.trim().is_empty() => FaultsTold::NothingTraced,
        None => FaultsTold::TraceNotYet,
        Some(circuit) if circuit.parts().is_empty() => FaultsTold::NothingTraced,
        Some(circuit) => {
            let readings = readings::study(job, &material.workshop);
            let (metered, unplaced) = metered::of(job, &material.workshop, &readings, &circuit);
            let reach = reach::of(job, &readings);
            let posed = Posed { trace: text, complaints: complaints.clone(), metered, unplaced, reach };
            weighed(posed, &material.before.faults)
        }
    };
    FaultsStudied { complaints, told }
}

fn weighed(posed: Posed, before: &WeighedBefore) -> FaultsTold {
    match before.answer(posed, weigh) {
        None => FaultsTold::TraceNotYet,
        Some(weighed) if weighed.answer.is_some() => FaultsTold::Weighed(weighed),
        Some(weighed) => FaultsTold::NothingToWeigh(weighed),
    }
}

/// Holds the circuit against the evidence; `None` where the circuit itself cannot be explained.
fn weigh(posed: &Posed) -> Option<Arc<Weighed>> {
    let trace = Trace::read(&posed.trace).ok()?;
    let circuit = trace.circuit().ok()?;
    let conditions = Conditions::of_trace(&trace);
    let WiringTold::Explained(explained) = of_text(&posed.trace) else { return None };
    let (heard, left) = evidence::of(&circuit, &explained.explanation, &posed.complaints);
    let says = |what: &What| posed.complaints.iter().rev().any(|it| it.what == *what);
    let coated = [true, false].into_iter().find(|coated| says(&What::Coated(*coated)));
    let evidence = Evidence {
        metered: posed.metered.iter().map(|it| it.metered.clone()).collect(),
        heard: heard.iter().map(|it| it.heard.clone()).collect(),
        reach: posed.reach,
        coated_cavity: coated,
        earth_proved: says(&What::EarthProved),
        load: conditions.load,
    };
    let anything = !evidence.metered.is_empty() || !evidence.heard.is_empty();
    let answer = anything.then(|| suspects(&circuit, &evidence, &Options::default()));
    let never_both = evidence::never_both(&explained.explanation, &posed.complaints);
    Some(Arc::new(Weighed {
        explained: *explained,
        metered: posed.metered.clone(),
        unplaced: posed.unplaced.clone(),
        heard,
        left,
        coated,
        reach: posed.reach,
        never_both,
        answer,
        circuit,
    }))
}

impl Weighed {
    /// The entry that a piece of evidence came from, and its words.
    pub fn source(&self, about: About) -> Option<(u64, &str)> {
        match about {
            About::Metered(at) => self.metered.get(at).map(|it| (it.seq, it.text.as_str())),
            About::Heard(at) => self.heard.get(at).map(|it| (it.seq, it.text.as_str())),
        }
    }

    /// A lug as it is written in the trace.
    pub fn lug(&self, terminal: Terminal) -> String {
        self.circuit.name_of(terminal)
    }

    /// The two ends of a join; the second is `None` where it is not known.
    pub fn ends(&self, join: usize) -> Option<(String, Option<String>)> {
        let join = self.circuit.joins().get(join)?;
        let other = match &join.to {
            JoinTo::One(end) => Some(self.lug(*end)),
            JoinTo::Candidates { .. } => None,
        };
        Some((self.lug(join.a), other))
    }

    /// Where each knob's wiper stands when it is full up, as settings count knobs.
    pub fn open_ends(&self) -> Vec<f64> {
        evidence::open_ends(&self.explained.explanation, None)
    }

    /// Whether a knob's wiper leads to a capacitor, so that a meter does not see how far it is turned.
    pub fn ends_in_capacitor(&self, knob: usize) -> bool {
        let Some((part, _)) = self.circuit.pots().nth(knob) else { return false };
        self.circuit.joins().iter().any(|join| {
            let JoinTo::One(to) = &join.to else { return false };
            let is_capacitor = |end: &Terminal| self.circuit.parts()[end.part].sort.word() == "capacitor";
            [(join.a, *to), (*to, join.a)]
                .iter()
                .any(|(own, other)| own.part == part && own.lug < 3 && is_capacitor(other))
        })
    }

    /// Whether two volumes or more have their coil at an outer lug, so that one shut silences all that is joined.
    pub fn volumes_are_coupled(&self) -> bool {
        let coil_at_end = |pot: usize| {
            self.circuit.joins().iter().any(|join| {
                let JoinTo::One(to) = &join.to else { return false };
                [(join.a, *to), (*to, join.a)].into_iter().any(|(own, other)| {
                    let is_coil = self.circuit.parts()[other.part].sort.word() == "coil";
                    own.part == pot && [0, 2].contains(&own.lug) && is_coil && other.lug == 0
                })
            })
        };
        self.circuit.pots().filter(|(pot, _)| coil_at_end(*pot)).count() > 1
    }
}
