//! What a job says, made ready for the weighing: marks read by every system that such a part carries, materials, signs
//! of which only the strongest of one cause counts, parts that hang together, and what bounds the whole.

use asfound_evidence::code::{CodeFault, System, read};
use asfound_evidence::sign::{Sign, weigh_part};
use asfound_evidence::{Days, Matter, Month, PartSort};
use asfound_record::Job;

use super::asked::{Asked, FIRST, PartAsked, ToldAsked};
use super::{MarkRead, MarkSays, MaterialSeen, SignSeen};
use crate::own_values::opinions;
use crate::said::dating::{Bounds, DatingSaid, Marked, PartSaid, SaidOf, StampSaid};
use crate::said::period::period;

/// The name of a harness that nobody named.
const HARNESS: &str = "the harness";

/// Makes ready what a job says; its last entry is taken for the inspection.
pub(super) fn gather(job: &Job, workshop: &Job, said: &DatingSaid) -> Asked {
    let inspected = job.history.last().and_then(|line| month_of(&line.at)).unwrap_or(FIRST);
    let mut asked = Asked {
        inspected,
        marks: Vec::new(),
        materials: Vec::new(),
        parts: Vec::new(),
        harnesses: Vec::new(),
        told: told(job, said),
        assumptions: opinions(workshop),
    };
    for part in &said.parts {
        let made_here = job.made.iter().rev().find(|item| item.body.part == part.part).map(|item| item.seq);
        let ready = ready(&mut asked, part, made_here);
        asked.parts.push(ready);
    }
    asked.harnesses = harnesses(&asked.parts, said, job);
    asked
}

/// The month of a moment as RFC 3339 writes it.
fn month_of(at: &str) -> Option<Month> {
    Month::new(at.get(..4)?.parse().ok()?, at.get(5..7)?.parse().ok()?)
}

fn ready(asked: &mut Asked, part: &PartSaid, made_here: Option<u64>) -> PartAsked {
    let SaidOf { stamps, materials, signs, .. } = &part.said;
    let first_mark = asked.marks.len();
    let read = stamps.iter().map(|stamp| mark(asked.span(), part, stamp)).collect::<Vec<_>>();
    asked.marks.extend(read);
    let first_material = asked.materials.len();
    asked.materials.extend(materials.iter().map(|seen| MaterialSeen {
        part: part.part.clone(),
        name: part.name.clone(),
        seq: seen.seq,
        text: seen.clause.clone(),
        material: seen.what,
    }));
    let all: Vec<Sign> = signs.iter().map(|seen| seen.what).collect();
    let counted = weigh_part(&all).counted;
    let signs = signs.iter().map(|seen| SignSeen {
        seq: seen.seq,
        text: seen.clause.clone(),
        photograph: seen.photo.and_then(|photo| photo.seq),
        sign: seen.what,
        counts: counted.contains(&seen.what),
    });
    PartAsked {
        id: part.part.clone(),
        name: part.name.clone(),
        sort: part.sort.clone(),
        marks: (first_mark..asked.marks.len()).collect(),
        materials: (first_material..asked.materials.len()).collect(),
        signs: signs.collect(),
        made_here,
    }
}

fn mark(span: asfound_evidence::Span, part: &PartSaid, stamp: &StampSaid) -> MarkRead {
    let says = match &stamp.what {
        Marked::Code(systems) => by_systems(systems, &stamp.text, span),
        Marked::Date(date) => MarkSays::Date(date.readings.clone()),
        Marked::Unread => MarkSays::Unread,
    };
    MarkRead {
        part: part.part.clone(),
        name: part.name.clone(),
        seq: stamp.seq,
        text: stamp.text.clone(),
        photograph: stamp.photo.and_then(|photo| photo.seq),
        says,
    }
}

/// By the first of the systems that can read it; where none can, why the likeliest cannot.
fn by_systems(systems: &[System], text: &str, span: asfound_evidence::Span) -> MarkSays {
    let mut fault: Option<CodeFault> = None;
    for system in systems {
        match read(*system, text, span) {
            Ok(stamp) => return MarkSays::Code(stamp),
            Err(why) => fault = fault.or(Some(why)),
        }
    }
    fault.map_or(MarkSays::Unread, MarkSays::NoCode)
}

/// Papers that bound the whole, years that its serial number is said to mean, and the years that its looks suggest.
fn told(job: &Job, said: &DatingSaid) -> Vec<ToldAsked> {
    let papers = said.documents.iter().filter(|paper| paper.part.is_none()).filter_map(|paper| {
        let Bounds::NotAfter(date) = &paper.bounds else { return None };
        let days = Days::until(date.envelope()?.last);
        Some(ToldAsked { seq: paper.seq, source: paper.source.clone(), days, doubt: Matter::DocumentWrong })
    });
    let serials = said.serial_years.iter().filter_map(|seen| {
        let days = seen.what.envelope()?;
        Some(ToldAsked {
            seq: seen.seq,
            source: "reading of its serial number".to_owned(),
            days,
            doubt: Matter::SerialWrong,
        })
    });
    papers.chain(serials).chain(looks(job)).collect()
}

/// What the piece is described as: `early 1960s by its looks`.
fn looks(job: &Job) -> Option<ToldAsked> {
    let piece = job.piece.as_ref()?;
    let (first, last) = period(&piece.body.words)?;
    let days = Days::new(
        jiff::civil::Date::new(first as i16, 1, 1).ok()?,
        jiff::civil::Date::new(last as i16, 12, 31).ok()?,
    )?;
    Some(ToldAsked {
        seq: piece.seq,
        source: "date by its looks".to_owned(),
        days,
        doubt: Matter::LooksMislead,
    })
}

/// Parts that hang together: as it was said; else, in a guitar or bass, the pots, switches, jacks, capacitors and
/// resistors of which anything was said. Each part is in one harness at most.
fn harnesses(parts: &[PartAsked], said: &DatingSaid, job: &Job) -> Vec<(String, Vec<usize>)> {
    let place = |id: &String| parts.iter().position(|part| part.id == *id);
    let mut taken: Vec<usize> = Vec::new();
    let mut harnesses: Vec<(String, Vec<usize>)> = Vec::new();
    for named in &said.harnesses {
        let mut members: Vec<usize> =
            named.parts.iter().filter_map(place).filter(|at| !taken.contains(at)).collect();
        members.dedup();
        taken.extend(&members);
        harnesses.push((HARNESS.to_owned(), members));
    }
    let is_amplifier = job.piece.as_ref().is_some_and(|piece| piece.body.family.contains("amplifier"));
    if harnesses.is_empty() && !is_amplifier {
        let hangs = |part: &PartAsked| {
            let wired =
                [PartSort::Pot, PartSort::Switch, PartSort::Jack, PartSort::Capacitor, PartSort::Resistor];
            part.made_here.is_none() && wired.contains(&part.part_sort())
        };
        let members = (0..parts.len()).filter(|at| hangs(&parts[*at])).collect();
        harnesses.push((HARNESS.to_owned(), members));
    }
    harnesses.retain(|(_, members)| members.len() > 1);
    harnesses
}
