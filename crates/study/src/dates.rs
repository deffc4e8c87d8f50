//! When the piece was put together and which parts were there then, from every mark, material and sign that was said.
//!
//! Each observation is read anew each time; what it says and what it may mean stay apart. A part that this workshop made
//! is known to be new and dates nothing.

mod asked;
mod claims;
mod gather;
mod looks;
mod strip;
mod together;
mod weighing;

pub use asfound_evidence::Days;
pub use asfound_evidence::code::{CodeFault, Ground, Reading, Stamp, System, Told};
pub use asfound_evidence::material::Material;
pub use asfound_evidence::sign::Sign;
pub use asfound_evidence::{Month, MonthShares, Span, WeighingFault};
pub use asfound_weigh::{Probability, Side, Strength};
pub use strip::strip;

use std::sync::Arc;

use asfound_evidence::Matter;
use jiff::civil::Date;

use crate::before::Before;
use crate::material::Material as JobMaterial;
use crate::own_values::{InForce, of_subject};
use crate::said::dating::{self, ClaimSaid};

/// A mark on a part that may say when it was made.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkRead {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// The entry that says it.
    pub seq: u64,
    /// The mark as it was typed.
    pub text: String,
    /// The entry of the photograph that shows it, where one does.
    pub photograph: Option<u64>,
    /// What it says.
    pub says: MarkSays,
}

/// What a mark says.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkSays {
    /// A code, with every reading it admits.
    Code(Stamp),
    /// A date as people write it, with the days it can mean: several where day and month are not told apart.
    Date(Vec<Days>),
    /// Something stands there that was not read: a look would tell.
    Unread,
    /// No code that such a part carries, and why.
    NoCode(CodeFault),
}

/// A material or a technique that has its years, seen on a part.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialSeen {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// The entry that says it.
    pub seq: u64,
    /// The words it was read from.
    pub text: String,
    /// What it is.
    pub material: &'static Material,
}

/// A sign that speaks for or against a part without dating it.
#[derive(Debug, Clone, PartialEq)]
pub struct SignSeen {
    /// The entry that says it.
    pub seq: u64,
    /// The words it was read from.
    pub text: String,
    /// The entry of the photograph that shows it, where one does.
    pub photograph: Option<u64>,
    /// What it is.
    pub sign: Sign,
    /// Whether it counts: of signs with one cause only the strongest does.
    pub counts: bool,
}

/// What comes out for a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It was there when the piece was put together.
    Original,
    /// Put in later, within the months that still count as its period.
    PeriodReplacement,
    /// Put in later than that.
    LaterReplacement,
    /// Put in later; when cannot be told.
    Replaced,
    /// Made by this workshop: new, whatever it looks like.
    MadeHere,
    /// What was found does not decide it.
    NotDecided,
}

/// What changes a verdict inside its stated range.
#[derive(Debug, Clone, PartialEq)]
pub enum Flips {
    /// An assumption, at an end of its range.
    Assumption {
        /// Its name, under which a workshop may state its own value.
        name: &'static str,
        /// The value at which the verdict is another.
        at: f64,
        /// The unit, empty for a share.
        unit: &'static str,
    },
    /// The figures of the signs, at an end of their ranges.
    Signs,
}

/// What was worked out for one part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartWeighed {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// Its sort.
    pub sort: String,
    /// Whether anything was said that bears on its age or its being original.
    pub looked_at: bool,
    /// Places among [`Weighed::marks`].
    pub marks: Vec<usize>,
    /// Places among [`Weighed::materials`].
    pub materials: Vec<usize>,
    /// Signs of the part as a whole.
    pub signs: Vec<SignSeen>,
    /// The name of the harness that it hangs in, where it does.
    pub harness: Option<String>,
    /// What comes out.
    pub verdict: Verdict,
    /// How probable it is that it is original.
    pub original: Probability,
    /// The least that comes out inside the ranges of the assumptions.
    pub least: Probability,
    /// The most.
    pub most: Probability,
    /// The same before anything was weighed.
    pub prior: Probability,
    /// How many times as probable all that was found is if the part is original as if it was replaced from ordinary
    /// stock.
    pub likelihood_ratio: f64,
    /// If it was replaced: how probable it is that this was within the months of a period replacement.
    pub in_period: Probability,
    /// When it was made, where its marks or materials say so.
    pub made: Option<MonthShares>,
    /// The most probable year of the whole without what this part says, with its share.
    pub without: Option<(i32, Probability)>,
    /// Assumptions within whose range the verdict changes.
    pub flips: Vec<Flips>,
}

impl PartWeighed {
    /// The likelihood ratio in words, and the side it supports: the first is the part being original.
    pub fn strength(&self) -> (Strength, Side) {
        Strength::of(self.likelihood_ratio)
    }
}

/// When the whole was put together.
#[derive(Debug, Clone, PartialEq)]
pub struct WholeDated {
    /// Month by month.
    pub months: MonthShares,
    /// The months that hold 95 %, as runs in order.
    pub highest: Vec<Span>,
    /// The most probable year, with its share.
    pub year: (i32, Probability),
    /// The year that everybody would give, whatever they assume inside the stated ranges; `None` where there is none.
    pub everybody: Option<i32>,
    /// It was not put together before this day, if the parts that come out as original are: the latest of their earliest
    /// days.
    pub not_before: Option<Date>,
}

/// A thing that may have to give way: a part that was replaced, or a paper or claim that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum GivesWay {
    /// A part, among [`Weighed::parts`]: it was replaced.
    Part(usize),
    /// A harness, among [`Weighed::harnesses`]: it was replaced as a whole.
    Harness(usize),
    /// A document or claim, by its entry, in words.
    Testimony {
        /// The entry.
        seq: u64,
        /// Who or what says it.
        source: String,
    },
}

/// A smallest set of things that have to give way so that the rest holds together.
#[derive(Debug, Clone, PartialEq)]
pub struct Reconciled {
    /// What gives way.
    pub gives_way: Vec<GivesWay>,
    /// On which days the whole can then have been put together.
    pub assembly: Vec<Days>,
}

/// Whether everything found can be true together, every part taken as original and every paper at its word.
#[derive(Debug, Clone, PartialEq)]
pub struct Together {
    /// The days of assembly that everything allows; none where it contradicts itself.
    pub assembly: Vec<Days>,
    /// Where it contradicts itself, sets of which nothing can be spared that reconcile it: the smallest, and those of a
    /// few things more, since two changed parts may be likelier than one wrong paper.
    pub reconciled: Vec<Reconciled>,
    /// At least so many have to give way.
    pub at_least: usize,
    /// Whether that is proved to be enough, and all the smallest sets are listed.
    pub proved: bool,
}

/// What a claim says against what was found.
#[derive(Debug, Clone, PartialEq)]
pub struct ClaimHeld {
    /// The entry.
    pub seq: u64,
    /// Who says it.
    pub source: String,
    /// What is said.
    pub words: String,
    /// The years it names, where it does.
    pub years: Option<(i32, i32)>,
    /// Whether it says that all, or the part, is original.
    pub original: bool,
    /// The parts it speaks of, among [`Weighed::parts`].
    pub parts: Vec<usize>,
    /// How probable the claimed years are.
    pub years_hold: Option<Probability>,
    /// Parts that would have to be replacements if the claimed years were true, with how probable that is then.
    pub against_years: Vec<(usize, Probability)>,
    /// Parts said to be original that are found not to be.
    pub against_original: Vec<usize>,
    /// Parts said to be original of which that is not decided.
    pub not_decided: Vec<usize>,
}

/// A look that tells most for its trouble.
#[derive(Debug, Clone, PartialEq)]
pub struct LookOffered {
    /// What to do.
    pub what: Look,
    /// The part, among [`Weighed::parts`].
    pub part: usize,
    /// Expected information on the year of assembly and on whether the part is original, in bits.
    pub bits: (f64, f64),
    /// Minutes of trouble.
    pub minutes: f64,
}

/// A look at a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Look {
    /// Find and photograph a date mark: none was read yet.
    ReadMark,
    /// Read the digits that could not be read of a mark, among [`Weighed::marks`].
    ReadDigits(usize),
    /// See whether its solder was disturbed.
    Solder,
    /// See whether its screw holes agree, with the part lifted.
    Screws,
    /// See whether its outline, dust and wear fit.
    Outline,
}

/// Everything weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The month of inspection: that of the last entry.
    pub inspected: Month,
    /// Marks, in the order of the parts.
    pub marks: Vec<MarkRead>,
    /// Materials, in the order of the parts.
    pub materials: Vec<MaterialSeen>,
    /// When the whole was put together; `None` where nothing dates it.
    pub whole: Option<WholeDated>,
    /// Every part of the job, in its order.
    pub parts: Vec<PartWeighed>,
    /// Parts that hang together: a name, and the parts among [`Weighed::parts`].
    pub harnesses: Vec<(String, Vec<usize>)>,
    /// Whether everything can be true together.
    pub together: Option<Together>,
    /// Claims.
    pub claims: Vec<ClaimHeld>,
    /// What to look at next, the most telling for its trouble first.
    pub looks: Vec<LookOffered>,
    /// What was taken for granted, as far as anything here hangs on it.
    pub assumed: Vec<InForce>,
    /// Why it could not be weighed, where it could not.
    pub fault: Option<WeighingFault>,
}

/// Weighed before, by what was asked.
pub type DatedBefore = Before<DatedAsked, Arc<Weighed>>;

/// What is put to the weighing, with the claims that it is held against.
#[derive(Debug, Clone, PartialEq)]
pub struct DatedAsked {
    asked: asked::Asked,
    claims: Vec<ClaimSaid>,
    assumed: Vec<InForce>,
}

/// Studies when the piece of a job was put together and which of its parts were there then.
pub fn study(material: &JobMaterial) -> Arc<Weighed> {
    let said = dating::read(&material.job);
    let asked = gather::gather(&material.job, &material.workshop, &said);
    let assumed = of_subject::<Matter>(&material.workshop);
    let asked = DatedAsked { asked, claims: said.claims, assumed };
    material.before.dates.answer(asked, |asked| Arc::new(weighed(asked)))
}

fn weighed(DatedAsked { asked, claims, assumed }: &DatedAsked) -> Weighed {
    let mut weighed = Weighed {
        inspected: asked.inspected,
        marks: asked.marks.clone(),
        materials: asked.materials.clone(),
        whole: None,
        parts: Vec::new(),
        harnesses: asked.harnesses.clone(),
        together: together::together(asked),
        claims: Vec::new(),
        looks: Vec::new(),
        assumed: assumed.iter().filter(|one| asked.hangs_on(one.name)).cloned().collect(),
        fault: None,
    };
    if asked.parts.is_empty() && asked.told.is_empty() {
        return weighed;
    }
    let decisions = match weighing::weigh(asked) {
        Ok(decisions) => decisions,
        Err(fault) => {
            weighed.claims = claims::claims(claims, asked, None, &[]);
            return Weighed { fault: Some(fault), ..weighed };
        }
    };
    weighed.parts = weighing::parts(asked, &decisions);
    weighed.whole = weighing::whole(asked, &decisions, &weighed.parts);
    let dated = weighed.whole.is_some().then_some(&decisions.stated);
    weighed.claims = claims::claims(claims, asked, dated, &weighed.parts);
    weighed.looks = looks::looks(asked, &decisions.stated);
    weighed
}
