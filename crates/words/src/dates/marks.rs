//! Marks and materials: how each was read, and which could not be.

use std::collections::BTreeSet;

use asfound_study::dates::{
    Ground, MarkRead, MarkSays, MaterialSeen, Reading, System, Told as Said, Weighed,
};

use super::when;
use crate::lists::{capital, count, or};
use crate::sheet::{Rest, Step, Table, Told};

/// Years of one reading that are named one by one.
const MOST_YEARS: usize = 9;

/// Marks that are no date, or were not read yet: where they fail, and what would be right.
pub(super) fn unread(weighed: &Weighed) -> Vec<Told> {
    let told = |(at, mark): (usize, &MarkRead)| {
        let (sentence, sure) = match &mark.says {
            MarkSays::Code(_) | MarkSays::Date(_) => return None,
            MarkSays::Unread => (
                format!("The mark on the {} was not read yet.", mark.name),
                "It dates nothing until it is typed as it stands, with ? for a sign that cannot be read."
                    .to_owned(),
            ),
            MarkSays::NoCode(fault) => (
                format!("“{}” on the {} cannot be read as a date.", mark.text, mark.name),
                format!("{}.", capital(fault.to_string().trim_end_matches('.'))),
            ),
        };
        Some(Told {
            id: format!("unread-{at}"),
            sentence,
            sure,
            next: vec![Step {
                id: format!("read-again-{}-{at}", mark.seq),
                words: format!(
                    "Look at the mark on the {} in light from one side, and photograph it.",
                    mark.name
                ),
                why: "It is kept as typed, and dates nothing until it can be read.".into(),
                ..Step::default()
            }],
            rests_on: rests(mark),
            ..Told::default()
        })
    };
    weighed.marks.iter().enumerate().filter_map(told).collect()
}

/// A mark's entry, and the photograph that shows it.
pub(crate) fn rests(mark: &MarkRead) -> Vec<Rest> {
    let photograph = mark.photograph.map(|seq| Rest { seq, label: format!("photograph, entry {seq}") });
    std::iter::once(Rest::on(mark.seq)).chain(photograph).collect()
}

/// What the marks admit, reading by reading; materials with their years.
pub(super) fn read(weighed: &Weighed) -> Option<Told> {
    let marks: Vec<&MarkRead> = weighed.marks.iter().filter(|mark| years(mark).is_some()).collect();
    if marks.is_empty() && weighed.materials.is_empty() {
        return None;
    }
    let one_year = |mark: &&&MarkRead| years(mark).is_some_and(|years| years == 1);
    let certain = marks.iter().filter(one_year).count();
    let sentence = match (marks.len(), certain) {
        (0, _) => format!(
            "No mark was read; {} with known years {} seen.",
            count(weighed.materials.len(), "material or technique", "materials or techniques"),
            if weighed.materials.len() == 1 { "was" } else { "were" }
        ),
        (1, 1) => "One mark was read, and it admits a single year.".to_owned(),
        (1, _) => "One mark was read, and it admits several years.".to_owned(),
        (all, single) if all == single => format!("{all} marks were read, and each admits a single year."),
        (all, 0) => format!("{all} marks were read, and each admits several years."),
        (all, single) => format!(
            "{all} marks were read, and {} a single year.",
            if single == 1 { "one admits".to_owned() } else { format!("{single} admit") }
        ),
    };
    let mut tables = vec![readings(&marks), materials(&weighed.materials)];
    tables.retain(|table| !table.rows.is_empty());
    let seqs = marks.iter().map(|mark| mark.seq).chain(weighed.materials.iter().map(|seen| seen.seq));
    let seqs: BTreeSet<u64> = seqs.collect();
    Some(Told {
        id: "marks".into(),
        sentence,
        sure: "Every reading is kept and weighed; a mark dates the part it is on, never the whole.".into(),
        rests_on: Rest::on_all(seqs),
        working: vec![
            "A week is taken on the days that any rule of counting weeks gives it, and month by month by ISO 8601.".into(),
        ],
        tables,
        ..Told::default()
    })
}

/// In how many years a mark may have been made; `None` where it was not read.
fn years(mark: &MarkRead) -> Option<usize> {
    let mut years: Vec<i32> = match &mark.says {
        MarkSays::Code(stamp) => stamp.years(),
        MarkSays::Date(days) => days.iter().map(|days| i32::from(days.first.year())).collect(),
        MarkSays::Unread | MarkSays::NoCode(_) => return None,
    };
    years.dedup();
    Some(years.len())
}

fn readings(marks: &[&MarkRead]) -> Table {
    let columns = ["part", "mark", "read as", "source", "ground", "photo"];
    let mut table = Table::with("Every reading of every mark", &columns);
    for mark in marks {
        let mut row = |read_as: String, source: String, ground: String| {
            let photograph = mark.photograph.map_or_else(|| "none".to_owned(), |seq| format!("entry {seq}"));
            let text = format!("“{}”", mark.text);
            table.rows.push(vec![mark.name.clone(), text, read_as, source, ground, photograph]);
        };
        match &mark.says {
            MarkSays::Code(stamp) => {
                for group in alike(&stamp.readings) {
                    let system = system(stamp.system);
                    let ground = ground(group[0].ground);
                    row(read_as(&group), source(group[0]), format!("{system}; {ground}"));
                }
            }
            MarkSays::Date(days) => {
                row(when::intervals(days), "not said".to_owned(), "a date as people write it".to_owned());
            }
            MarkSays::Unread | MarkSays::NoCode(_) => {}
        }
    }
    table
}

/// Readings that differ in the year alone, together.
fn alike(readings: &[Reading]) -> Vec<Vec<&Reading>> {
    let mut groups: Vec<Vec<&Reading>> = Vec::new();
    for reading in readings {
        let same = |group: &&mut Vec<&Reading>| {
            let first = group[0];
            let ground = first.source == reading.source && first.ground == reading.ground;
            ground && within(first).is_some_and(|of_year| Some(of_year) == within(reading))
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push(reading),
            None => groups.push(vec![reading]),
        }
    }
    groups
}

/// What stands beside the year, in words; `None` where there is no year apart from the rest.
fn within(reading: &Reading) -> Option<String> {
    match reading.told {
        Said::Week { number, .. } => Some(format!("week {number} of")),
        Said::Month(month) => Some(when::name(month).to_owned()),
        Said::WeekOfMonth { month, number } => Some(format!("week {number} of {}", when::name(month))),
        Said::Day(_) | Said::NotBefore(_) | Said::NotAfter { .. } => None,
    }
}

/// `week 24 of 1956, 1966 or 1976`.
fn read_as(group: &[&Reading]) -> String {
    let years: Vec<String> =
        group.iter().filter_map(|reading| reading.year()).map(|year| year.to_string()).collect();
    let years = match years.as_slice() {
        [first, .., last] if years.len() > MOST_YEARS => {
            format!("{} years from {first} to {last}", years.len())
        }
        few => or(few),
    };
    let first = group[0];
    match (first.told, within(first)) {
        (_, Some(of_year)) => format!("{of_year} {years}"),
        (Said::NotBefore(_), None) => format!("{} or later", first_day(first)),
        (Said::NotAfter { .. }, None) => format!("{} or earlier", last_day(first)),
        (_, None) => first_day(first),
    }
}

fn system(system: System) -> &'static str {
    match system {
        System::SourceAndDate => "source and date",
        System::YearAndMonth => "letter of the year and sign of the month",
        System::EtchedValve => "etched line of a valve",
        System::InspectionLetters => "two letters of an inspection",
        System::PlainWeek => "year and week",
        System::PlainDay => "year, month and day",
        System::ServiceValve => "marks of a service valve",
        System::Patent => "number of a patent",
    }
}

fn first_day(reading: &Reading) -> String {
    let day = reading.days.first;
    when::day(day.year(), day.month(), day.day())
}

fn last_day(reading: &Reading) -> String {
    let day = reading.days.last;
    when::day(day.year(), day.month(), day.day())
}

fn source(reading: &Reading) -> String {
    let Some(source) = reading.source else { return "not said".to_owned() };
    let names: Vec<String> = source
        .registrants()
        .map(|line| match line.listed {
            Some(year) => format!("{} (list of {year})", line.name),
            None => line.name.to_owned(),
        })
        .collect();
    if names.is_empty() {
        format!("{source}, in no list at hand")
    } else {
        format!("{source}: {}", or(&names))
    }
}

fn ground(ground: Ground) -> &'static str {
    match ground {
        Ground::Parted => "parted so on the part",
        Ground::Only => "the only way to part it",
        Ground::Listed => "the number is in a published list",
        Ground::Unlisted => "in no list at hand; hardly weighed",
        Ground::AgainstRule => "against a rule of thumb; hardly weighed",
    }
}

fn materials(seen: &[MaterialSeen]) -> Table {
    let columns = ["part", "seen", "came into use", "went out of use", "source", "note"];
    let mut table = Table::with("Materials and techniques with their years", &columns);
    table.rows = seen
        .iter()
        .map(|seen| {
            let years = |ramp: Option<(i16, i16)>| {
                ramp.map_or_else(|| "not known".to_owned(), |(from, to)| format!("{from} to {to}"))
            };
            let material = seen.material;
            vec![
                seen.name.clone(),
                format!("{} (entry {})", material.name, seen.seq),
                years(material.not_before.map(|ramp| (ramp.from, ramp.to))),
                years(material.not_after.map(|ramp| (ramp.from, ramp.to))),
                material.source.to_owned(),
                material.note.to_owned(),
            ]
        })
        .collect();
    table
}
