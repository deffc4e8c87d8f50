//! What a job's words say of when things were made and whether they are original.
//!
//! ```text
//! volume pot: stamped 137 6338, on photo 8
//! tone pot: stamped 137-6?38
//! guard: screw holes do not line up, outline of another shape
//! piece: finish glows greenish under ultraviolet
//! piece: volume pot, tone pot and switch are one harness
//! claim seller: all original, 1962
//! document receipt, 12 May 1964
//! ```
//!
//! Nothing is decided here. A stamp is handed on as it was read, with the systems of codes that such a part carries;
//! signs and materials are rows of the tables of `evidence`; each thing knows its entry, its words and its photograph.
//! Signs are taken from observations of the state as found alone: a joint that this workshop made is bright, too.

mod harness;
mod looks;
mod photo;
mod stamps;
mod testimony;

use asfound_evidence::material::{Glow, Material};
use asfound_evidence::sign::Sign;
use asfound_record::{Job, Observed1};

use crate::viewing::is_answer;

use super::clauses::{Clause, clauses};
use super::when::{DateSaid, dates};

pub use harness::HarnessSaid;
pub use photo::PhotoNamed;
pub use stamps::{Marked, StampSaid};
pub use testimony::{Bounds, ClaimSaid, Claimed, DocumentKind, DocumentSaid};

/// A thing that was read, with where it was said.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen<T> {
    /// What.
    pub what: T,
    /// The entry.
    pub seq: u64,
    /// The clause it was read from.
    pub clause: String,
    /// The photograph that was named with it.
    pub photo: Option<PhotoNamed>,
}

/// An original that is kept apart: it counts as present.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kept {
    /// Whether it is broken or in pieces.
    pub broken: bool,
}

/// Everything that was said of one part, or of the whole.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SaidOf {
    /// What is stamped, etched or written on it that may be a date, or was not read. A number on a part that carries no
    /// date codes, such as a body, is left in its words: no date is read into it.
    pub stamps: Vec<StampSaid>,
    /// Materials and techniques that date something.
    pub materials: Vec<Seen<&'static Material>>,
    /// Signs for and against, as found.
    pub signs: Vec<Seen<Sign>>,
    /// Colours under ultraviolet light: hints.
    pub glows: Vec<Seen<&'static Glow>>,
    /// That it is kept apart.
    pub kept: Option<Seen<Kept>>,
    /// That it was put in later, with the date where one was said.
    pub replaced: Vec<Seen<Option<DateSaid>>>,
}

/// A part with what was said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct PartSaid {
    /// Its id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// Its sort.
    pub sort: String,
    /// The entry that names it.
    pub seq: u64,
    /// What was said.
    pub said: SaidOf,
}

/// Everything that was said of dates and originality.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DatingSaid {
    /// Each part, in the order of the job.
    pub parts: Vec<PartSaid>,
    /// The whole piece.
    pub whole: SaidOf,
    /// What years its serial number was said to mean.
    pub serial_years: Vec<Seen<DateSaid>>,
    /// Parts said to hang together.
    pub harnesses: Vec<HarnessSaid>,
    /// What persons claim.
    pub claims: Vec<ClaimSaid>,
    /// What papers say.
    pub documents: Vec<DocumentSaid>,
}

impl DatingSaid {
    /// What was said of a part.
    pub fn part(&self, id: &str) -> Option<&PartSaid> {
        self.parts.iter().find(|part| part.part == id)
    }
}

/// Reads everything that a job says of dates and originality.
pub fn read(job: &Job) -> DatingSaid {
    let parts = job.parts.iter().map(|part| {
        let body = &part.item.body;
        let said = said_of(job, Some(&body.part), &body.sort, &part.as_found);
        let (id, name, sort) = (body.part.clone(), body.name.clone(), body.sort.clone());
        PartSaid { part: id, name, sort, seq: part.item.seq, said }
    });
    let family = job.piece.as_ref().map_or("", |piece| piece.body.family.as_str());
    DatingSaid {
        parts: parts.collect(),
        whole: said_of(job, None, family, &job.whole.as_found),
        serial_years: serial_years(job),
        harnesses: harness::harnesses(job),
        claims: testimony::claims(job),
        documents: testimony::documents(job),
    }
}

fn said_of(job: &Job, part: Option<&str>, sort: &str, as_found: &[usize]) -> SaidOf {
    let mut said = SaidOf::default();
    for (at, item) in job.observed.iter().enumerate() {
        let Observed1 { part: of, words, .. } = &item.body;
        if of.as_deref() != part || is_answer(words) {
            continue;
        }
        let photos = photo::Photos::of(job, words);
        let stamps = stamps::stamps(item.seq, sort, words, &photos);
        let may_date =
            |stamp: &StampSaid| !matches!(&stamp.what, Marked::Code(systems) if systems.is_empty());
        said.stamps.extend(stamps.into_iter().filter(may_date));
        let mut start = 0;
        let all = clauses(item.seq, words);
        for (place, clause) in all.iter().enumerate() {
            let at_byte = words[start..].find(&clause.text).map_or(start, |found| start + found);
            start = at_byte + clause.text.len();
            let photo = photos.at(at_byte);
            let seen = |clause: &Clause| (clause.seq, clause.text.clone(), photo);
            take(&mut said.materials, looks::materials(clause, sort), seen(clause));
            take(&mut said.glows, looks::glows(clause), seen(clause));
            if as_found.contains(&at) {
                take(&mut said.signs, looks::signs(clause, &all[..place]), seen(clause));
            }
            if let Some(kept) = kept(clause, &all) {
                said.kept = Some(Seen { what: kept, seq: item.seq, clause: clause.text.clone(), photo });
            }
            take(&mut said.replaced, replaced(clause), seen(clause));
        }
    }
    said
}

fn take<T>(into: &mut Vec<Seen<T>>, what: Vec<T>, (seq, clause, photo): (u64, String, Option<PhotoNamed>)) {
    into.extend(what.into_iter().map(|what| Seen { what, seq, clause: clause.clone(), photo }));
}

/// Kept in a bag, a tin or the case, whole or in pieces: said in one clause of an observation and another.
fn kept(clause: &Clause, all: &[Clause]) -> Option<Kept> {
    let places = ["bag", "bagged", "box", "tin", "tray", "envelope", "case", "apart", "separately", "drawer"];
    let apart = clause.has_any(&["kept", "saved", "stored"]) && clause.has_any(&places);
    (!clause.is_turned() && (apart || clause.has("bagged"))).then(|| {
        let broken = ["broken", "fragment", "fragments", "pieces", "crumbled", "cracked", "half", "halves"];
        Kept { broken: all.iter().any(|clause| clause.has_any(&broken) && !clause.is_turned()) }
    })
}

/// That something was put in later, and when.
fn replaced(clause: &Clause) -> Vec<Option<DateSaid>> {
    let words = ["replaced", "replacement", "exchanged", "swapped", "renewed", "refitted"];
    if !clause.has_any(&words) || clause.is_turned() {
        return Vec::new();
    }
    vec![dates(&clause.text).into_iter().next()]
}

/// `serial 12345, by the published lists 1962`: years that were said in one observation with a serial number.
fn serial_years(job: &Job) -> Vec<Seen<DateSaid>> {
    let whole = job.observed.iter().filter(|item| item.body.part.is_none());
    let with_serial = whole.filter(|item| item.body.words.to_lowercase().contains("serial"));
    with_serial
        .flat_map(|item| {
            let photo = photo::Photos::of(job, &item.body.words).at(0);
            let seen = move |date: DateSaid| Seen {
                clause: item.body.words.clone(),
                seq: item.seq,
                photo,
                what: date,
            };
            dates(&item.body.words).into_iter().map(seen)
        })
        .collect()
}

#[cfg(test)]
mod tests;
