//! A body, read and written by its kind.

use serde::Deserialize;
use serde_json::Value;

use crate::entry::Entry;
use crate::kinds::{
    Act1, Assumption1, Decided1, Hours1, Job1, JobKnown1, Key1, Made1, Mark1, Meter1, Money1, Note1,
    Observed1, Part1, Person1, Photograph1, Piece1, Probing1, Reading1, Seal1, Struck1, Sweep1, Task1,
    Terms1, Testimony1, Told1, Trace1, Wish1, Withheld1, Workshop1,
};

/// Any body, read by its kind.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is the structure of the same name, documented there")]
pub enum Body {
    Workshop(Workshop1),
    Person(Person1),
    Meter(Meter1),
    JobKnown(JobKnown1),
    Key(Key1),
    Seal(Seal1),
    Job(Job1),
    Piece(Piece1),
    Part(Part1),
    Observed(Observed1),
    Reading(Reading1),
    Photograph(Photograph1),
    Trace(Trace1),
    Act(Act1),
    Note(Note1),
    Money(Money1),
    Decided(Decided1),
    Told(Told1),
    Withheld(Withheld1),
    Struck(Struck1),
    Sweep(Sweep1),
    Assumption(Assumption1),
    Probing(Probing1),
    Mark(Mark1),
    Wish(Wish1),
    Testimony(Testimony1),
    Made(Made1),
    Terms(Terms1),
    Task(Task1),
    Hours(Hours1),
    /// A kind this release does not know, or a known kind whose body does not have its shape: passed through untouched.
    Other,
    /// The content is not there: it was withheld.
    Gone,
}

impl Body {
    /// Reads the body of an entry by its kind. Never fails: what is not understood is [`Body::Other`].
    pub fn of(entry: &Entry) -> Body {
        let Some(value) = entry.body() else { return Body::Gone };
        let value = value.clone();
        match entry.envelope().kind.as_str() {
            "workshop/1" => read(value, Body::Workshop),
            "person/1" => read(value, Body::Person),
            "meter/1" => read(value, Body::Meter),
            "job-known/1" => read(value, Body::JobKnown),
            "key/1" => read(value, Body::Key),
            "seal/1" => read(value, Body::Seal),
            "job/1" => read(value, Body::Job),
            "piece/1" => read(value, Body::Piece),
            "part/1" => read(value, Body::Part),
            "observed/1" => read(value, Body::Observed),
            "reading/1" => read(value, Body::Reading),
            "photograph/1" => read(value, Body::Photograph),
            "trace/1" => read(value, Body::Trace),
            "act/1" => read(value, Body::Act),
            "note/1" => read(value, Body::Note),
            "money/1" => read(value, Body::Money),
            "decided/1" => read(value, Body::Decided),
            "told/1" => read(value, Body::Told),
            "withheld/1" => read(value, Body::Withheld),
            "struck/1" => read(value, Body::Struck),
            "sweep/1" => read(value, Body::Sweep),
            "assumption/1" => read(value, Body::Assumption),
            "probing/1" => read(value, Body::Probing),
            "mark/1" => read(value, Body::Mark),
            "wish/1" => read(value, Body::Wish),
            "testimony/1" => read(value, Body::Testimony),
            "made/1" => read(value, Body::Made),
            "terms/1" => read(value, Body::Terms),
            "task/1" => read(value, Body::Task),
            "hours/1" => read(value, Body::Hours),
            _ => Body::Other,
        }
    }

    /// The kind under which this body is kept; `None` for what cannot be written.
    pub fn kind(&self) -> Option<&'static str> {
        Some(match self {
            Body::Workshop(_) => "workshop/1",
            Body::Person(_) => "person/1",
            Body::Meter(_) => "meter/1",
            Body::JobKnown(_) => "job-known/1",
            Body::Key(_) => "key/1",
            Body::Seal(_) => "seal/1",
            Body::Job(_) => "job/1",
            Body::Piece(_) => "piece/1",
            Body::Part(_) => "part/1",
            Body::Observed(_) => "observed/1",
            Body::Reading(_) => "reading/1",
            Body::Photograph(_) => "photograph/1",
            Body::Trace(_) => "trace/1",
            Body::Act(_) => "act/1",
            Body::Note(_) => "note/1",
            Body::Money(_) => "money/1",
            Body::Decided(_) => "decided/1",
            Body::Told(_) => "told/1",
            Body::Withheld(_) => "withheld/1",
            Body::Struck(_) => "struck/1",
            Body::Sweep(_) => "sweep/1",
            Body::Assumption(_) => "assumption/1",
            Body::Probing(_) => "probing/1",
            Body::Mark(_) => "mark/1",
            Body::Wish(_) => "wish/1",
            Body::Testimony(_) => "testimony/1",
            Body::Made(_) => "made/1",
            Body::Terms(_) => "terms/1",
            Body::Task(_) => "task/1",
            Body::Hours(_) => "hours/1",
            Body::Other | Body::Gone => return None,
        })
    }

    /// The body as JSON, ready for a draft; `None` for what cannot be written.
    pub fn value(&self) -> Option<Value> {
        let value = match self {
            Body::Workshop(body) => serde_json::to_value(body),
            Body::Person(body) => serde_json::to_value(body),
            Body::Meter(body) => serde_json::to_value(body),
            Body::JobKnown(body) => serde_json::to_value(body),
            Body::Key(body) => serde_json::to_value(body),
            Body::Seal(body) => serde_json::to_value(body),
            Body::Job(body) => serde_json::to_value(body),
            Body::Piece(body) => serde_json::to_value(body),
            Body::Part(body) => serde_json::to_value(body),
            Body::Observed(body) => serde_json::to_value(body),
            Body::Reading(body) => serde_json::to_value(body),
            Body::Photograph(body) => serde_json::to_value(body),
            Body::Trace(body) => serde_json::to_value(body),
            Body::Act(body) => serde_json::to_value(body),
            Body::Note(body) => serde_json::to_value(body),
            Body::Money(body) => serde_json::to_value(body),
            Body::Decided(body) => serde_json::to_value(body),
            Body::Told(body) => serde_json::to_value(body),
            Body::Withheld(body) => serde_json::to_value(body),
            Body::Struck(body) => serde_json::to_value(body),
            Body::Sweep(body) => serde_json::to_value(body),
            Body::Assumption(body) => serde_json::to_value(body),
            Body::Probing(body) => serde_json::to_value(body),
            Body::Mark(body) => serde_json::to_value(body),
            Body::Wish(body) => serde_json::to_value(body),
            Body::Testimony(body) => serde_json::to_value(body),
            Body::Made(body) => serde_json::to_value(body),
            Body::Terms(body) => serde_json::to_value(body),
            Body::Task(body) => serde_json::to_value(body),
            Body::Hours(body) => serde_json::to_value(body),
            Body::Other | Body::Gone => return None,
        };
        value.ok()
    }

    /// SHA-256, hex, of every file in the vault that this body cites: it is whole only where they are there.
    pub fn files(&self) -> Vec<&str> {
        match self {
            Body::Photograph(body) => [Some(&body.original), body.shareable.as_ref()]
                .into_iter()
                .flatten()
                .map(String::as_str)
                .collect(),
            Body::Sweep(body) => body.files.iter().map(|file| file.original.as_str()).collect(),
            _ => Vec::new(),
        }
    }
}

fn read<T: for<'de> Deserialize<'de>>(value: Value, wrap: impl FnOnce(T) -> Body) -> Body {
    serde_json::from_value(value).map_or(Body::Other, wrap)
}
