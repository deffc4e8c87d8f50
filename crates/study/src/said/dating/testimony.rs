//! What persons claim and papers say.
//!
//! A claim bounds nothing: it is held against what is found. A paper bounds what its kind can bound. A receipt shows that
//! the piece existed on its day; a catalogue shows what was offered, and nothing of this piece.

use asfound_evidence::Aspect;
use asfound_record::{Item, Job, Testimony1};

use crate::parts::{self, WhichPart};
use crate::said::clauses::{Clause, clauses};
use crate::said::when::{DateSaid, dates};

/// What a claim says is so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Claimed {
    /// Everything is original, but for what these words name.
    AllOriginal {
        /// The exceptions, as they were said.
        but: Vec<String>,
    },
    /// This is original.
    Original(Of),
    /// This is not, or not as it was.
    Altered(Of),
}

/// What a claim speaks of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Of {
    /// Ids of the parts; none for the whole piece.
    pub parts: Vec<String>,
    /// The side of them; [`Aspect::Itself`] where none is named.
    pub aspect: Aspect,
    /// The words.
    pub clause: String,
}

/// What somebody claims.
#[derive(Debug, Clone, PartialEq)]
pub struct ClaimSaid {
    /// The entry.
    pub seq: u64,
    /// Who says it.
    pub source: String,
    /// The words.
    pub words: String,
    /// The part it was kept with.
    pub part: Option<String>,
    /// What is claimed of originality, as far as it could be read.
    pub claimed: Vec<Claimed>,
    /// The years that are claimed.
    pub years: Vec<DateSaid>,
}

/// The kind of a paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DocumentKind {
    /// A receipt, an invoice, a bill of sale, a hire-purchase agreement.
    Receipt,
    /// A bill or note of a repair.
    Repair,
    /// A letter or a page of a diary.
    Letter,
    /// A photograph or a film that shows it.
    Picture,
    /// A guarantee or its card.
    Guarantee,
    /// A valuation, an insurance list, a customs paper.
    Valuation,
    /// A catalogue, a price list, an advertisement.
    Catalogue,
    /// A tag, or what lay in the case.
    Tag,
    /// Another paper.
    Other,
}

impl DocumentKind {
    fn of(source: &str) -> DocumentKind {
        let source = source.to_lowercase();
        let known = [
            (DocumentKind::Repair, &["repair", "service", "refret", "rewind", "workshop"][..]),
            (DocumentKind::Receipt, &["receipt", "invoice", "bill", "purchase", "sale", "till", "delivery"]),
            (DocumentKind::Guarantee, &["guarantee", "warranty", "registration"]),
            (
                DocumentKind::Valuation,
                &["valuation", "insurance", "appraisal", "customs", "carnet", "certificate"],
            ),
            (
                DocumentKind::Catalogue,
                &["catalog", "price list", "advert", "brochure", "magazine", "leaflet", "flyer"],
            ),
            (DocumentKind::Picture, &["photo", "picture", "film", "negative", "slide"]),
            (DocumentKind::Letter, &["letter", "diary", "postcard", "note"]),
            (DocumentKind::Tag, &["tag", "manual", "case", "strap"]),
        ];
        let fits = |words: &&[&str]| words.iter().any(|word| source.contains(word));
        known.iter().find(|(_, words)| fits(words)).map_or(DocumentKind::Other, |(kind, _)| *kind)
    }

    /// Whether a paper of this kind shows that the piece existed on its day.
    fn shows_the_piece(self) -> bool {
        !matches!(self, DocumentKind::Catalogue | DocumentKind::Tag | DocumentKind::Other)
    }
}

/// What a paper bounds.
#[derive(Debug, Clone, PartialEq)]
pub enum Bounds {
    /// The piece, or the part it is of, existed on its day: on the last of these days at the latest.
    NotAfter(DateSaid),
    /// Nothing of this piece: papers of this kind speak of pieces of a kind.
    NothingOfThisPiece,
    /// Nothing: it names another serial number.
    AnotherPiece,
    /// Cannot tell: a paper of this kind may have come with another piece.
    CannotTell,
    /// Nothing: it bears no date.
    Undated,
    /// Nothing: its date could not be read as one; `12 May 1964`, `5/1964` or `1964` would be read.
    DateUnread {
        /// As it was written.
        text: String,
    },
}

/// What a paper says.
#[derive(Debug, Clone, PartialEq)]
pub struct DocumentSaid {
    /// The entry.
    pub seq: u64,
    /// What paper, as it was said.
    pub source: String,
    /// Its kind.
    pub kind: DocumentKind,
    /// The words.
    pub words: String,
    /// The part it is of.
    pub part: Option<String>,
    /// Whether it names the serial number of the piece; `None` where it names none, or the piece has none.
    pub names_serial: Option<bool>,
    /// What it bounds.
    pub bounds: Bounds,
    /// What it says was altered or replaced by then, or was still original.
    pub states: Vec<Claimed>,
}

/// Every claim of a job.
pub(super) fn claims(job: &Job) -> Vec<ClaimSaid> {
    let claims = job.testimonies.iter().filter(|item| item.body.manner == "claim");
    claims
        .map(|item| {
            let Testimony1 { source, words, part, .. } = &item.body;
            ClaimSaid {
                seq: item.seq,
                source: source.clone(),
                words: words.clone(),
                part: part.clone(),
                claimed: claimed(job, item),
                years: years(words),
            }
        })
        .collect()
}

/// Years that are claimed of the making: not those in which something is said to have been done.
fn years(words: &str) -> Vec<DateSaid> {
    let done =
        ["bought", "sold", "refinished", "refretted", "rewound", "replaced", "repaired", "since", "owned"];
    let clauses = clauses(0, words);
    let of_making = clauses.iter().filter(|clause| !clause.has_any(&done));
    of_making.flat_map(|clause| dates(&clause.text)).collect()
}

/// Every document of a job.
pub(super) fn documents(job: &Job) -> Vec<DocumentSaid> {
    let papers = job.testimonies.iter().filter(|item| item.body.manner == "document");
    papers
        .map(|item| {
            let Testimony1 { source, words, part, .. } = &item.body;
            let kind = DocumentKind::of(source);
            let names_serial = names_serial(job, words);
            DocumentSaid {
                seq: item.seq,
                source: source.clone(),
                kind,
                words: words.clone(),
                part: part.clone(),
                names_serial,
                bounds: bounds(kind, &item.body, names_serial),
                states: claimed(job, item),
            }
        })
        .collect()
}

fn bounds(kind: DocumentKind, paper: &Testimony1, names_serial: Option<bool>) -> Bounds {
    if names_serial == Some(false) {
        return Bounds::AnotherPiece;
    }
    if kind == DocumentKind::Catalogue {
        return Bounds::NothingOfThisPiece;
    }
    // A tag or another paper counts once it names this piece.
    if !kind.shows_the_piece() && names_serial != Some(true) {
        return Bounds::CannotTell;
    }
    let text = paper.dated.as_deref().unwrap_or(&paper.words);
    match (dates(text).into_iter().next(), &paper.dated) {
        (Some(date), _) => Bounds::NotAfter(date),
        (None, Some(text)) => Bounds::DateUnread { text: text.clone() },
        (None, None) => Bounds::Undated,
    }
}

fn names_serial(job: &Job, words: &str) -> Option<bool> {
    let serial = job.piece.as_ref()?.body.serial.as_deref()?;
    let bare =
        |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_lowercase();
    let serial = Some(bare(serial)).filter(|serial| serial.len() >= 3)?;
    if bare(words).contains(&serial) {
        return Some(true);
    }
    let lower = words.to_lowercase();
    let after = &lower[lower.find("serial")? + "serial".len()..];
    after.chars().any(|sign| sign.is_ascii_digit()).then_some(false)
}

const ORIGINAL: [&str; 8] =
    ["original", "all-original", "untouched", "unmodified", "unaltered", "unmolested", "factory", "as-made"];
const ALTERED: [(&str, Aspect); 16] = [
    ("refinished", Aspect::Finish),
    ("resprayed", Aspect::Finish),
    ("repainted", Aspect::Finish),
    ("refretted", Aspect::Frets),
    ("refret", Aspect::Frets),
    ("rewound", Aspect::Winding),
    ("resoldered", Aspect::Joints),
    ("rewired", Aspect::Joints),
    ("replaced", Aspect::Itself),
    ("replacement", Aspect::Itself),
    ("changed", Aspect::Itself),
    ("swapped", Aspect::Itself),
    ("modified", Aspect::Itself),
    ("reproduction", Aspect::Itself),
    ("new", Aspect::Itself),
    ("later", Aspect::Itself),
];
/// What is claimed not to have happened: `never touched`.
const DONE: [&str; 8] = ["touched", "opened", "apart", "altered", "repaired", "restored", "worked", "messed"];
const SIDES: [(&str, Aspect); 12] = [
    ("finish", Aspect::Finish),
    ("lacquer", Aspect::Finish),
    ("paint", Aspect::Finish),
    ("frets", Aspect::Frets),
    ("nut", Aspect::Nut),
    ("winding", Aspect::Winding),
    ("windings", Aspect::Winding),
    ("solder", Aspect::Joints),
    ("joints", Aspect::Joints),
    ("soldering", Aspect::Joints),
    ("screws", Aspect::Screws),
    ("board", Aspect::Board),
];

/// What the words of a testimony say is original and what is not.
fn claimed(job: &Job, item: &Item<Testimony1>) -> Vec<Claimed> {
    let words = &item.body.words;
    let (said, but) = exceptions(words);
    let mut found = Vec::new();
    for clause in clauses(item.seq, said) {
        let side = SIDES.iter().find(|(word, _)| clause.has(word)).map(|(_, side)| *side);
        let altered = ALTERED.iter().find(|(word, _)| clause.has(word)).map(|(_, aspect)| *aspect);
        let named = named(job, &clause);
        let own: Vec<String> = item.body.part.iter().cloned().collect();
        let of = |aspect: Aspect| Of {
            parts: if named.is_empty() { own.clone() } else { named.clone() },
            aspect,
            clause: clause.text.clone(),
        };
        let whole = named.is_empty() && own.is_empty() && side.is_none();
        let never = clause.is_turned() && clause.has_any(&DONE);
        if clause.has_any(&ORIGINAL) || never {
            found.push(match (clause.is_turned() && !never, whole) {
                (true, _) => Claimed::Altered(of(side.unwrap_or(Aspect::Itself))),
                (false, true) => Claimed::AllOriginal { but: but.clone() },
                (false, false) => Claimed::Original(of(side.unwrap_or(Aspect::Itself))),
            });
        } else if let Some(aspect) = altered {
            let aspect = if aspect == Aspect::Itself { side.unwrap_or(aspect) } else { aspect };
            found.push(match clause.is_turned() {
                true if whole && aspect == Aspect::Itself => Claimed::AllOriginal { but: but.clone() },
                true => Claimed::Original(of(aspect)),
                false => Claimed::Altered(of(aspect)),
            });
        }
    }
    found
}

/// `all original except the tuners and the nut`: what is said, and the exceptions by name.
fn exceptions(words: &str) -> (&str, Vec<String>) {
    let lower = words.to_ascii_lowercase();
    let cues = ["except for", "except", "apart from", "but for", "save for", "other than", "bar the"];
    let Some((at, cue)) = cues.iter().filter_map(|cue| Some((lower.find(cue)?, *cue))).min() else {
        return (words, Vec::new());
    };
    let rest = words[at + cue.len()..].split([';', '.']).next().unwrap_or_default().replace(" and ", ",");
    let names = rest.split(',').map(|name| name.trim().trim_start_matches("the ").to_owned());
    // A year that follows is no exception.
    (&words[..at], names.filter(|name| !name.is_empty() && dates(name).is_empty()).collect())
}

/// The parts of the job that a clause names, each once; a sort in the plural means all of that sort.
fn named(job: &Job, clause: &Clause) -> Vec<String> {
    let words = clause.words();
    let mut found: Vec<String> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let longest = parts::most_words(job).min(words.len() - at);
        let fit = (1..=longest).rev().find_map(|length| {
            let ids = meant(job, &words[at..at + length].join(" "));
            (!ids.is_empty()).then_some((length, ids))
        });
        let Some((length, ids)) = fit else {
            at += 1;
            continue;
        };
        found.extend(ids);
        at += length;
    }
    found.sort();
    found.dedup();
    found
}

fn meant(job: &Job, name: &str) -> Vec<String> {
    let by_sort = |sort: &str| {
        let of_sort = job.parts.iter().filter(|part| part.item.body.sort == sort);
        of_sort.map(|part| part.item.body.part.clone()).collect::<Vec<_>>()
    };
    match name {
        "pickup" | "pickups" | "coils" => by_sort("coil"),
        _ => match parts::find(job, name, None) {
            WhichPart::One(id) => vec![id],
            _ => name.strip_suffix('s').map(by_sort).unwrap_or_default(),
        },
    }
}
