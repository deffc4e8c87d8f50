//! A line of the trace from fields: a join of two lugs, or a part. The fields only make the line; it is shown as
//! understood and kept as any line is.

use asfound_acts::Job;
use asfound_study::lugs::{self, Lug};
use asfound_study::trace_line;
use asfound_words as words;
use asfound_words::page::Page;
use maud::{Markup, html};
use serde::Deserialize;

use crate::job::Opened;
use crate::line::Beside;

/// What the fields hold, as an address carries them.
#[derive(Deserialize, Default, Clone)]
pub(crate) struct Fields {
    /// `join` or `part`; empty where no field was filled.
    #[serde(default)]
    pub(crate) tracing: String,
    #[serde(default)]
    from: String,
    #[serde(default)]
    to: String,
    #[serde(default)]
    how: String,
    #[serde(default)]
    said: String,
    #[serde(default)]
    sort: String,
    #[serde(default)]
    name: String,
    #[serde(default)]
    value: String,
    #[serde(default)]
    plan: String,
}

impl Fields {
    /// The line that the fields make; empty where no form was sent.
    pub(crate) fn line(&self) -> String {
        match self.tracing.as_str() {
            "join" => trace_line::join(&self.from, &self.to, &self.how, &self.said),
            "part" => trace_line::part(&self.sort, &self.name, &self.value, &self.plan),
            _ => String::new(),
        }
    }
}

/// Where the fields are sent to be read, and what goes with them.
pub(crate) struct Sent<'a> {
    /// The page that is drawn again with the line as understood.
    pub(crate) action: &'a str,
    /// The photograph beside which the line is made, if it is.
    pub(crate) beside: Option<Beside>,
}

/// Both forms, folded away; the one that was used last stands open.
pub(crate) fn forms(opened: &Opened, fields: &Fields) -> Markup {
    let action = format!("/job/{}/wiring", opened.number);
    let sent = Sent { action: &action, beside: None };
    let lugs = lugs::known(&opened.job);
    html! {
        details open[fields.tracing == "join"] {
            summary { "Join two lugs" }
            (join(opened, &lugs, fields, &sent))
        }
        details open[fields.tracing == "part"] {
            summary { "Add a part to the trace" }
            (part(opened, fields, &action))
        }
        (names(&lugs, &opened.job))
    }
}

/// The form for a join. Names are completed from the list that [`names`] draws.
pub(crate) fn join(opened: &Opened, lugs: &[Lug], fields: &Fields, sent: &Sent<'_>) -> Markup {
    html! {
        form.compose method="get" action=(sent.action) data-heard={ "/job/" (opened.number) "/heard" } {
            input type="hidden" name="tracing" value="join";
            input type="hidden" name="page" value=(Page::Wiring.slug());
            @if let Some(beside) = sent.beside {
                input type="hidden" name="photograph" value=(beside.photograph);
                input type="hidden" name="zoom" value=(beside.zoom);
            }
            (field("from", "From", &fields.from, "neck.hot", Some("lugs")))
            (field("to", "To, or several with “or”", &fields.to, "lever.a1", Some("lugs")))
            div.field {
                label for="how" { "How it is known" }
                select id="how" name="how" {
                    @for way in trace_line::WAYS { option value=(way) selected[fields.how == way] { (way) } }
                }
            }
            (field("said", "Ohms, or where seen", &fields.said, "0.4", None))
            button.quiet { "Read the join" }
        }
        @for end in [&fields.from, &fields.to] {
            @if let Some(lug) = lugs::find(lugs, end).map(|at| &lugs[at]).filter(|lug| !lug.joined.is_empty()) {
                p.soft { (lug.name) " is " (words::photograph::joined(lug)) " already." }
            }
        }
    }
}

fn part(opened: &Opened, fields: &Fields, action: &str) -> Markup {
    html! {
        form.compose method="get" action=(action) data-heard={ "/job/" (opened.number) "/heard" } {
            input type="hidden" name="tracing" value="part";
            input type="hidden" name="page" value=(Page::Wiring.slug());
            div.field {
                label for="sort" { "Sort" }
                select id="sort" name="sort" {
                    @for sort in trace_line::SORTS { option value=(sort) selected[fields.sort == sort] { (sort) } }
                }
            }
            (field("name", "Name in the trace", &fields.name, "volume", Some("parts")))
            (field("value", "Value, and what else is known", &fields.value, "250k audio", None))
            div.field {
                label for="plan" { "Contacts of a switch" }
                select id="plan" name="plan" {
                    option value="" { "Written out in the lines after" }
                    @for plan in trace_line::plan_names() { option value=(plan) selected[fields.plan == plan] { (plan) } }
                }
            }
            button.quiet { "Read the part" }
        }
    }
}

fn field(name: &str, label: &str, value: &str, example: &str, list: Option<&str>) -> Markup {
    html! {
        div.field {
            label for=(name) { (label) }
            input id=(name) name=(name) value=(value) list=[list] placeholder=(example) autocomplete="off"
                autocapitalize="off" spellcheck="false";
        }
    }
}

/// The names that fields are completed with: every lug of the trace with what is joined to it, and the job's parts.
pub(crate) fn names(lugs: &[Lug], job: &Job) -> Markup {
    html! {
        datalist id="lugs" {
            @for lug in lugs { option value=(lug.name) { (words::photograph::joined(lug)) } }
        }
        datalist id="parts" {
            @for (_, name) in words::page::part_names(job) { option value=(name.replace(' ', "-")) {} }
        }
    }
}
