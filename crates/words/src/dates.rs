//! When it was made, in words: the months, what they rest on, what contradicts what, and what to look at next.

mod claim;
mod look;
mod marks;
mod together;
pub(crate) mod when;

use std::collections::BTreeSet;

use asfound_study::dates::{Days, Span, Verdict, Weighed, WeighingFault, WholeDated, strip, study};
use asfound_study::material::Material;
use asfound_study::own_values::InForce;
use asfound_study::{Job, Plot};

use crate::likely::in_hundred;
use crate::lists::{and, capital};
use crate::sheet::{Figure, FoundLine, Rest, Sheet, Step, Table, Told};
use crate::{assumptions, cautions, page};

pub(crate) use claim::quoted;
pub(crate) use look::first_of_part;

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    told(&study(material), &material.job)
}

/// What was weighed, as a sheet.
fn told(weighed: &Weighed, job: &Job) -> Sheet {
    let mut means = vec![when_told(weighed)];
    means.extend(together::told(weighed));
    means.extend(weighed.claims.iter().filter_map(|claim| claim::of_years(claim, weighed)));
    means.extend(marks::unread(weighed));
    means.extend(marks::read(weighed));
    let testimonies = job.testimonies.iter().map(|item| item.seq);
    let seqs: BTreeSet<u64> = entries(weighed).into_iter().chain(testimonies).collect();
    let cautions = cautions::of_piece(job).map(str::to_owned).into_iter().collect();
    Sheet { found: found(job, &seqs), means, cautions, ..Sheet::default() }
}

/// Entries as they were kept, in order.
pub(crate) fn found(job: &Job, seqs: &BTreeSet<u64>) -> Vec<FoundLine> {
    seqs.iter().map(|seq| page::historic(job, *seq)).collect()
}

/// The entries that date something: marks and materials.
fn entries(weighed: &Weighed) -> BTreeSet<u64> {
    let marks = weighed.marks.iter().map(|mark| mark.seq);
    marks.chain(weighed.materials.iter().map(|seen| seen.seq)).collect()
}

/// Months of more than this many years in one run are no date.
const LONGEST: usize = 120;
/// One run with this share is told as the likeliest.
const LEADS: f64 = 0.8;

fn when_told(weighed: &Weighed) -> Told {
    let mut told = match (&weighed.fault, &weighed.whole) {
        (Some(fault), _) => cannot(weighed, fault),
        (None, None) => nothing_dates_it(weighed),
        (None, Some(whole)) => dated(weighed, whole),
    };
    told.rests_on = Rest::on_all(entries(weighed));
    told
}

fn nothing_dates_it(weighed: &Weighed) -> Told {
    let look = look::first(weighed).unwrap_or_else(|| Step {
        id: "find-a-date".into(),
        words:
            "Look for date codes on pots, transformers, speakers, capacitors and valves, and photograph each."
                .into(),
        why: "A code says most of all marks, and it is soon under a new joint.".into(),
        ..Step::default()
    });
    Told {
        id: "when".into(),
        sentence: "Nothing that was kept dates this piece yet.".into(),
        sure: "What stands on a part is typed as it stands, with ? for a sign that cannot be read: “volume pot: stamped 137 6?38, on photo 8”.".into(),
        next: vec![look],
        ..Told::default()
    }
}

fn cannot(weighed: &Weighed, fault: &WeighingFault) -> Told {
    let why = match fault {
        WeighingFault::CannotHold { parts, .. } if !parts.is_empty() => {
            let named = parts.iter().filter_map(|at| weighed.parts.get(*at));
            let named: Vec<String> = named.map(|part| format!("on the {}", part.name)).collect();
            format!("no month explains the marks {}; look again at one of them", and(&named))
        }
        fault => fault.to_string(),
    };
    Told {
        id: "when".into(),
        sentence: "When it was put together cannot be weighed.".into(),
        sure: format!("{}.", capital(why.trim_end_matches('.'))),
        assumptions: taken_for_granted(&weighed.assumed),
        ..Told::default()
    }
}

fn dated(weighed: &Weighed, whole: &WholeDated) -> Told {
    let (sentence, sure) = date(whole);
    let plot = strip(weighed);
    let mut tables = vec![years(whole)];
    tables.extend(plot.as_ref().map(rows_of));
    tables.push(look::table(weighed));
    tables.retain(|table| !table.rows.is_empty());
    let figure = |plot| Figure {
        id: "months".into(),
        caption: "The first row is the whole; each row is inked by itself.".into(),
        plot,
    };
    let mut told = Told {
        id: "when".into(),
        sentence,
        sure,
        next: look::first(weighed).into_iter().collect(),
        working: working(weighed, whole),
        assumptions: taken_for_granted(&weighed.assumed),
        tables,
        figures: plot.map(figure).into_iter().collect(),
        ..Told::default()
    };
    told.would_change.push("A mark read otherwise, one more mark, or a paper with a date.".into());
    if weighed.parts.iter().any(|part| part.verdict == Verdict::MadeHere) {
        told.would_change
            .push("Nothing made in this workshop: it is known to be new and dates nothing.".into());
    }
    told
}

/// The date in one sentence, and how sure.
fn date(whole: &WholeDated) -> (String, String) {
    let runs = &whole.highest;
    let months: usize = runs.iter().map(|run| run.len()).sum();
    let share = |run: &Span| whole.months.within(*run);
    let leading = runs.iter().find(|run| share(run).value() >= LEADS && run.len() <= LONGEST);
    let (year, in_year) = (whole.year.0, in_hundred(whole.year.1));
    let Some(run) = leading else {
        let likeliest = format!("the likeliest year, {year}, has {in_year}");
        let sentence = if months <= LONGEST && runs.len() > 1 {
            format!("Put together in {}; which of them is not decided.", when::spans(runs))
        } else {
            format!("When it was put together is not decided: it may be {}.", when::spans(runs))
        };
        return (sentence, format!("Together they hold 95 in 100, {HOLDS}; {likeliest}."));
    };
    let likely = format!("Most likely put together in {}", when::span(*run));
    let of_run = in_hundred(share(run));
    match whole.everybody {
        Some(same) => (
            format!("{likely}."),
            format!(
                "{of_run} in 100, {HOLDS}; whoever assumes otherwise inside the stated ranges still comes to {same}."
            ),
        ),
        None => (
            format!("{likely}; with other values in the stated ranges the year is not decided."),
            format!("{of_run} in 100, {HOLDS}; {year} alone has {in_year}."),
        ),
    }
}

/// On what every figure here hangs.
const HOLDS: &str = "if what is taken for granted holds";

/// Years with less than this share are not listed.
const WORTH_A_ROW: f64 = 0.005;

fn years(whole: &WholeDated) -> Table {
    let mut table = Table::with("Year by year", &["year", "#of 100"]);
    let years = whole.months.years().filter(|(_, share)| share.value() >= WORTH_A_ROW);
    table.rows = years.map(|(year, share)| vec![year.to_string(), in_hundred(share)]).collect();
    table
}

/// A plot's figures as a table of the sheet.
fn rows_of(plot: &Plot) -> Table {
    let figures = plot.table();
    let columns: Vec<&str> = figures
        .header
        .iter()
        .map(|name| if name == "its share, %" { "#its share, %" } else { name.as_str() })
        .collect();
    let mut table = Table::with("The strip of months in figures", &columns);
    table.rows = figures.rows;
    table
}

fn working(weighed: &Weighed, whole: &WholeDated) -> Vec<String> {
    let mut lines = vec![
        "For every month a of assembly: a part that stayed was made k months before it and lay in stock so long, O(a) = Σ g(k)·L(a − k); one put in later was fitted in any month s up to now, from stock of its own, R(a) = mean over s of Σ h(k)·L(s − k); L is how probable its marks are if it was made then. With ρ held beforehand for “put in later” each part weighs (1 − ρ)·O(a) + ρ·R(a), and the months are weighed by the product over the parts and the papers.".to_owned(),
        "Sources: calendar dates as unknowns, J. C. Naylor and A. F. M. Smith, J. Amer. Statist. Assoc. 83 (1988) 588–595; parts that do not fit as a mixture, C. Bronk Ramsey, Radiocarbon 51 (2009) 1023–1045, here with a meaning: put in later.".to_owned(),
    ];
    if let Some(day) = whole.not_before {
        lines.push(format!(
            "Taking every part found original at its word, it was put together {}.",
            when::days(Days::from(day))
        ));
    }
    lines.push(format!("Looked at in {}.", when::month(weighed.inspected)));
    lines
}

/// What was taken for granted, each thing with its value and range, under the source that it has.
pub(crate) fn taken_for_granted(assumed: &[InForce]) -> Vec<String> {
    let mut by_source: Vec<(&str, Vec<String>)> = Vec::new();
    for one in assumed {
        let source = one.own_source.as_deref().unwrap_or(one.source);
        let said = assumptions::in_range(one);
        match by_source.iter_mut().find(|(known, _)| *known == source) {
            Some((_, list)) => list.push(said),
            None => by_source.push((source, vec![said])),
        }
    }
    by_source.into_iter().map(|(source, list)| format!("{}: {}.", capital(source), list.join("; "))).collect()
}
