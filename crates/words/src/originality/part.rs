//! One part: was it there when the piece was put together, how sure, and on what ground.

use std::collections::BTreeSet;

use asfound_study::Job;
use asfound_study::dates::{Flips, PartWeighed, SignSeen, Verdict, Weighed};
use asfound_study::own_values::InForce;

use crate::assumptions::figure as with_unit;
use crate::dates::{first_of_part, taken_for_granted, when};
use crate::likely::{figure, how_sure, in_hundred, sentence as ratio_said, support};
use crate::lists::{capital, or};
use crate::sheet::{Rest, Table, Told};

/// The entries that bear on a part.
pub(super) fn entries(weighed: &Weighed, at: usize) -> Vec<u64> {
    let Some(part) = weighed.parts.get(at) else { return Vec::new() };
    let marks = part.marks.iter().filter_map(|at| weighed.marks.get(*at)).map(|mark| mark.seq);
    let materials = part.materials.iter().filter_map(|at| weighed.materials.get(*at)).map(|seen| seen.seq);
    marks.chain(materials).chain(part.signs.iter().map(|sign| sign.seq)).collect()
}

/// The finding on one part.
pub(super) fn told(weighed: &Weighed, at: usize, job: &Job) -> Told {
    let part = &weighed.parts[at];
    let mut told = Told {
        id: format!("part-{}", part.part),
        sentence: sentence(part),
        sure: sure(part, job),
        rests_on: rests(weighed, at, job),
        ..Told::default()
    };
    if part.verdict == Verdict::MadeHere {
        return told;
    }
    told.next = first_of_part(weighed, at).into_iter().collect();
    told.working = working(part);
    told.assumptions = taken(weighed, part);
    told.would_change = part.flips.iter().map(flip).collect();
    told.would_change.dedup();
    let mut tables = vec![signs(&part.signs), years(weighed, part)];
    tables.retain(|table| !table.rows.is_empty());
    told.tables = tables;
    told
}

fn rests(weighed: &Weighed, at: usize, job: &Job) -> Vec<Rest> {
    let part = &weighed.parts[at];
    let made = job.made.iter().filter(|item| item.body.part == part.part).map(|item| item.seq);
    let seqs: BTreeSet<u64> = entries(weighed, at).into_iter().chain(made).collect();
    let of_marks = part.marks.iter().filter_map(|at| weighed.marks.get(*at)?.photograph);
    let of_signs = part.signs.iter().filter_map(|sign| sign.photograph);
    let photographs: BTreeSet<u64> = of_marks.chain(of_signs).collect();
    let pictured = photographs.into_iter().map(|seq| Rest { seq, label: format!("photograph, entry {seq}") });
    Rest::on_all(seqs).into_iter().chain(pictured).collect()
}

fn sentence(part: &PartWeighed) -> String {
    let name = &part.name;
    match part.verdict {
        Verdict::Original => format!("The {name} is {} original to the piece.", how_sure(part.original)),
        Verdict::PeriodReplacement => {
            format!("The {name} was {} put in later, as a repair of the period.", put_in(part))
        }
        Verdict::LaterReplacement => {
            format!("The {name} was {} put in later, past any repair of the period.", put_in(part))
        }
        Verdict::Replaced => format!("The {name} was {} put in later; when cannot be told.", put_in(part)),
        Verdict::MadeHere => {
            format!("The {name} was made in this workshop: it is new, whatever it looks like.")
        }
        Verdict::NotDecided if part.flips.is_empty() => {
            format!("Whether the {name} is original is not decided.")
        }
        Verdict::NotDecided => {
            let names: BTreeSet<String> = part.flips.iter().map(turns_with).collect();
            let names: Vec<String> = names.into_iter().collect();
            format!("Whether the {name} is original is not decided: it turns with {}.", or(&names))
        }
    }
}

/// What changes the verdict, in a few words.
fn turns_with(flip: &Flips) -> String {
    match flip {
        Flips::Assumption { name, .. } => format!("“{name}”"),
        Flips::Signs => "how much the signs are held to say".to_owned(),
    }
}

/// How sure it is that it was put in later.
fn put_in(part: &PartWeighed) -> &'static str {
    match part.original.value() {
        p if p <= 0.05 => "very likely",
        p if p <= 0.20 => "likely",
        _ => "more likely than not",
    }
}

fn sure(part: &PartWeighed, job: &Job) -> String {
    if part.verdict == Verdict::MadeHere {
        let item = job.made.iter().find(|item| item.body.part == part.part);
        let mark = item.and_then(|item| item.body.mark.clone());
        return mark.map_or_else(
            || "Known from the record; no lasting mark on it was said.".to_owned(),
            |mark| format!("Known from the record; on the part: {mark}."),
        );
    }
    let this = format!("the {} is original", part.name);
    let found =
        ratio_said("What was found", part.likelihood_ratio, &this, "it was replaced from ordinary stock");
    let (before, now) = (in_hundred(part.prior), in_hundred(part.original));
    let (least, most) = (in_hundred(part.least), in_hundred(part.most));
    let range = if least == most {
        String::new()
    } else {
        format!(", or {least} to {most} inside the stated ranges")
    };
    format!("{found} Held beforehand at {before} in 100, it comes to {now} in 100{range}.")
}

fn working(part: &PartWeighed) -> Vec<String> {
    let mut lines = vec![format!(
        "Likelihood ratio {}: {} (ENFSI 2015). The alternative: put in at any time since, from ordinary stock. Odds beforehand {}, odds now {}.",
        figure(part.likelihood_ratio),
        support(part.likelihood_ratio, "original", "replaced"),
        figure(part.prior.odds()),
        figure(part.original.odds()),
    )];
    if let Some(harness) = &part.harness {
        lines.push(format!(
            "It hangs in {harness}: the marks of that harness are one piece of evidence, and the ratios of its parts must not be multiplied."
        ));
    }
    if part.verdict != Verdict::Original {
        lines.push(format!(
            "If it was put in later, a repair of the period has {} in 100.",
            in_hundred(part.in_period)
        ));
    }
    if let Some((year, share)) = part.without {
        lines.push(format!(
            "Without what this part says, the likeliest year of the whole is {year}, with {} in 100.",
            in_hundred(share)
        ));
    }
    lines
}

/// What is held of parts of this sort; all else stands under the first finding.
fn taken(weighed: &Weighed, part: &PartWeighed) -> Vec<String> {
    let turns =
        |one: &InForce, flip: &Flips| matches!(flip, Flips::Assumption { name, .. } if *name == one.name);
    let bears = |one: &&InForce| {
        one.name == format!("{} replaced", part.sort) || part.flips.iter().any(|flip| turns(one, flip))
    };
    let bearing: Vec<InForce> = weighed.assumed.iter().filter(bears).cloned().collect();
    taken_for_granted(&bearing)
}

fn flip(flip: &Flips) -> String {
    match flip {
        Flips::Assumption { name, at, unit } => format!("{} at {}.", capital(name), with_unit(*at, unit)),
        Flips::Signs => "The signs held to say as little, or as much, as their ranges allow.".to_owned(),
    }
}

fn signs(signs: &[SignSeen]) -> Table {
    let columns = ["sign", "of its", "says", "entry", "mind"];
    let mut table = Table::with("What speaks for it and against it without dating it", &columns);
    table.rows = signs
        .iter()
        .map(|seen| {
            let says = if seen.counts {
                support(seen.sign.ratio(), "as made", "altered")
            } else {
                "not counted: another sign of the same cause is stronger".to_owned()
            };
            vec![
                format!("{} (“{}”)", seen.sign.name, seen.text),
                seen.sign.aspect.to_string(),
                says,
                seen.seq.to_string(),
                seen.sign.caution.to_owned(),
            ]
        })
        .collect();
    table
}

/// When the part itself was made.
fn years(weighed: &Weighed, part: &PartWeighed) -> Table {
    let mut table = Table::with("When the part itself was made", &["by its", "95 % of its share lies in"]);
    let marks = part.marks.iter().filter_map(|at| weighed.marks.get(*at));
    let materials = part.materials.iter().filter_map(|at| weighed.materials.get(*at));
    let ground: Vec<String> = marks
        .map(|mark| format!("mark “{}”", mark.text))
        .chain(materials.map(|seen| seen.material.name.to_owned()))
        .collect();
    if let Some(made) = &part.made {
        table.rows.push(vec![ground.join(", "), when::spans(&made.highest(0.95))]);
    }
    table
}
