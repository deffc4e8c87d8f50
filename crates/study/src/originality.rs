//! What within a part is original and what is not: a coil's winding apart from its magnets, a pot's joints apart from
//! its track, a neck's frets apart from its board.
//!
//! Each side is judged by what was seen of that side alone, against how often such a side is altered on parts that
//! stayed. Of signs with one cause only the strongest counts. A side is called original or altered from
//! [`SURE_ENOUGH`] on, and only if that holds with any one figure of any one sign at either end of its range; a prior
//! alone is no finding. Of coils, the study of coils has weighed readings and looks together, and what it says of magnets,
//! flatwork, winding, leads and joints stands here unchanged. Whether the part itself belongs to the piece is the study
//! of dates' to say.

mod coil;

use asfound_evidence::material::{Glow, Material};
use asfound_evidence::sign::{self, Sign, weigh_signs};
use asfound_evidence::{Month, MonthShares};
use asfound_record::Job;
use asfound_weigh::{Probability, Side, Strength};

use crate::coils::CoilStudied;
use crate::dates::{PartWeighed, Verdict, Weighed};
use crate::said::dating::{Bounds, Claimed, DatingSaid, DocumentKind, DocumentSaid, Kept, PartSaid, Seen};
use crate::said::kindred::kind_of;

pub use asfound_evidence::Aspect;
pub use asfound_evidence::material::GLOW_CAUTION;
pub use asfound_evidence::sign::LookFor;
pub use coil::AskFor;

/// The probability from which a side of a part is called original or altered: the same as for the parts of a coil.
pub use asfound_electric::coil::SURE_ENOUGH;

/// What can be said of a side of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// As made.
    Original,
    /// Another, of about the same time.
    PeriodReplacement,
    /// Another, later.
    LaterReplacement,
    /// Another; when cannot be told.
    Replaced,
    /// The same, and not as it was.
    Altered,
    /// What was seen of it does not decide it.
    NotDecided,
    /// Nothing was seen of it yet.
    NotLookedAt,
}

/// What a judgement rests on.
#[derive(Debug, Clone, PartialEq)]
pub enum Ground {
    /// A sign, and whether it counts: of signs with one cause only the strongest does.
    Sign {
        /// The sign with where it was said.
        seen: Seen<Sign>,
        /// Whether it counts.
        counts: bool,
    },
    /// A material that dates this side, with how probable it is that it was in use when the piece was put together.
    Material {
        /// The material with where it was said.
        seen: Seen<&'static Material>,
        /// Its likelihood ratio for this side being as old as the piece.
        ratio: f64,
    },
    /// What the study of coils, or of dates, weighed: the entries that it rests on.
    Study {
        /// The entries.
        entries: Vec<u64>,
    },
}

impl Ground {
    /// The entries.
    pub fn entries(&self) -> Vec<u64> {
        match self {
            Ground::Sign { seen, .. } => vec![seen.seq],
            Ground::Material { seen, .. } => vec![seen.seq],
            Ground::Study { entries } => entries.clone(),
        }
    }
}

/// A side of a part with what can be said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct AspectJudged {
    /// Which side.
    pub aspect: Aspect,
    /// What can be said.
    pub state: State,
    /// How probable it is that it is as made.
    pub original: Probability,
    /// The same before anything was seen of it; `None` where the study that weighed it does not say.
    pub before: Option<Probability>,
    /// How many times as probable what was seen is on a side as made as on one altered or replaced; `None` likewise.
    pub likelihood_ratio: Option<f64>,
    /// Whether it would be called otherwise at an end of the ranges in which its signs are stated.
    pub flips: bool,
    /// Whether two places of it were seen to differ: signs of one cause that point opposite ways.
    pub disagrees: bool,
    /// What it rests on.
    pub grounds: Vec<Ground>,
    /// The entry of a photograph that shows it, where one was named with it; else the latest one of the part.
    pub photograph: Option<u64>,
    /// What could still be looked at.
    pub to_look: Vec<LookFor>,
}

impl AspectJudged {
    /// The likelihood ratio in words, and the side it supports: the first is as made.
    pub fn strength(&self) -> Option<(Strength, Side)> {
        self.likelihood_ratio.map(Strength::of)
    }

    /// The entries that it rests on, each once.
    pub fn entries(&self) -> Vec<u64> {
        let mut entries: Vec<u64> = self.grounds.iter().flat_map(Ground::entries).collect();
        entries.sort_unstable();
        entries.dedup();
        entries
    }
}

/// A part, side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct PartOriginality {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// Its sort.
    pub sort: String,
    /// Each side, in the order in which they are told; none for a part that this workshop made.
    pub aspects: Vec<AspectJudged>,
    /// That it is kept apart, whole or in pieces: it counts as present.
    pub kept: Option<Seen<Kept>>,
    /// Colours of its finish under ultraviolet light: hints that decide nothing by themselves.
    pub glows: Vec<Seen<&'static Glow>>,
    /// The entry that says that this workshop made it: it is new, whatever it looks like.
    pub made_here: Option<u64>,
    /// A coil of which nothing but ohms and pictures is known: whether it was rewound cannot be decided from those, and
    /// this is what to ask for or to look at instead.
    pub not_from_photographs: Vec<AskFor>,
}

impl PartOriginality {
    /// Whether anything at all was seen of any side.
    pub fn is_looked_at(&self) -> bool {
        self.aspects.iter().any(|judged| judged.state != State::NotLookedAt)
    }

    /// A side by its name.
    pub fn aspect(&self, aspect: Aspect) -> Option<&AspectJudged> {
        self.aspects.iter().find(|judged| judged.aspect == aspect)
    }
}

/// Studies every part of a job; coils and dates as their own studies gave them.
pub fn study(job: &Job, said: &DatingSaid, coils: &[CoilStudied], dated: &Weighed) -> Vec<PartOriginality> {
    said.parts.iter().map(|part| one(job, part, said, coils, dated)).collect()
}

/// What was said of the whole piece and of no part: its finish, its stamps and labels, joints all over. Its id is empty.
/// `None` where nothing was. Whether the whole is itself is no question here.
pub fn of_whole(job: &Job, said: &DatingSaid, dated: &Weighed) -> Option<PartOriginality> {
    let whole = PartSaid {
        part: String::new(),
        name: "piece".to_owned(),
        sort: job.piece.as_ref().map(|piece| piece.body.family.clone()).unwrap_or_default(),
        seq: job.piece.as_ref().map_or(0, |piece| piece.seq),
        said: said.whole.clone(),
    };
    let judging = Judging { job, part: &whole, coil: None, dated, documents: &said.documents };
    let sides = judging.sides_seen().into_iter().filter(|aspect| *aspect != Aspect::Itself);
    let aspects: Vec<AspectJudged> = sides.map(|aspect| judging.aspect(aspect)).collect();
    let bears = !aspects.is_empty() || !whole.said.glows.is_empty();
    bears.then(|| judging.answer(aspects, None))
}

fn one(
    job: &Job,
    part: &PartSaid,
    said: &DatingSaid,
    coils: &[CoilStudied],
    dated: &Weighed,
) -> PartOriginality {
    let made_here = job.made.iter().rev().find(|item| item.body.part == part.part).map(|item| item.seq);
    let coil = coils.iter().find(|coil| coil.part == part.part);
    let judging = Judging { job, part, coil, dated, documents: &said.documents };
    let mut sides = Aspect::of_sort(&part.sort).to_vec();
    for aspect in judging.sides_seen() {
        if !sides.contains(&aspect) {
            sides.push(aspect);
        }
    }
    let aspects: Vec<AspectJudged> = match made_here {
        Some(_) => Vec::new(),
        None => sides.into_iter().map(|aspect| judging.aspect(aspect)).collect(),
    };
    judging.answer(aspects, made_here)
}

struct Judging<'a> {
    job: &'a Job,
    part: &'a PartSaid,
    coil: Option<&'a CoilStudied>,
    dated: &'a Weighed,
    documents: &'a [DocumentSaid],
}

impl Judging<'_> {
    fn answer(&self, aspects: Vec<AspectJudged>, made_here: Option<u64>) -> PartOriginality {
        let PartSaid { part, name, sort, said, .. } = self.part;
        let winding = aspects.iter().find(|judged| judged.aspect == Aspect::Winding);
        let open =
            winding.is_some_and(|judged| matches!(judged.state, State::NotDecided | State::NotLookedAt));
        let of_a_coil = sort == "coil" && open;
        PartOriginality {
            part: part.clone(),
            name: name.clone(),
            sort: sort.clone(),
            kept: said.kept.clone(),
            glows: said.glows.clone(),
            made_here,
            not_from_photographs: if of_a_coil { coil::to_ask(self.coil) } else { Vec::new() },
            aspects,
        }
    }

    /// The sides of which a sign or a material was seen, each once.
    fn sides_seen(&self) -> Vec<Aspect> {
        let signs = self.part.said.signs.iter().map(|seen| seen.what.aspect);
        let mut sides: Vec<Aspect> =
            signs.chain(self.part.said.materials.iter().map(|seen| seen.what.dates)).collect();
        sides.sort_unstable();
        sides.dedup();
        sides
    }

    fn aspect(&self, aspect: Aspect) -> AspectJudged {
        let mut judged = self.by_signs(aspect);
        if let Some(coil) = self.coil {
            coil::stands(&mut judged, coil);
        }
        let known = kind_of(self.job, &self.part.part).wound_anew;
        if let Some(entry) = known.filter(|_| aspect == Aspect::Winding && self.part.sort == "coil") {
            coil::wound_anew(&mut judged, entry);
        }
        self.by_papers(&mut judged);
        let weighed = self.dated.parts.iter().find(|weighed| weighed.part == self.part.part);
        if let Some(weighed) = weighed.filter(|_| aspect == Aspect::Itself) {
            by_dates(&mut judged, weighed, self.dated);
            self.by_what_was_said(&mut judged);
        }
        judged
    }

    /// Papers of repairs that say that this side of the part was altered or replaced.
    fn repairs(&self, aspect: Aspect) -> impl Iterator<Item = &DocumentSaid> {
        let says_so = move |state: &Claimed| match state {
            Claimed::Altered(of) => of.aspect == aspect && of.parts.contains(&self.part.part),
            Claimed::AllOriginal { .. } | Claimed::Original(_) => false,
        };
        let repairs = self.documents.iter().filter(|paper| paper.kind == DocumentKind::Repair);
        repairs.filter(move |paper| paper.bounds != Bounds::AnotherPiece && paper.states.iter().any(says_so))
    }

    /// Takes a paper of a repair of a side with what is known of it. Papers of one side count once.
    fn by_papers(&self, judged: &mut AspectJudged) {
        let entries: Vec<u64> = self.repairs(judged.aspect).map(|paper| paper.seq).collect();
        if entries.is_empty() || judged.aspect == Aspect::Itself {
            return;
        }
        let odds = judged.original.odds() * PAPER_IF_AS_MADE / PAPER_IF_ALTERED;
        judged.original = Probability::of_share(odds / (1.0 + odds));
        let known = judged.likelihood_ratio.unwrap_or(1.0);
        judged.likelihood_ratio = Some(known * PAPER_IF_AS_MADE / PAPER_IF_ALTERED);
        judged.state = match judged.state {
            State::Replaced | State::LaterReplacement => judged.state,
            _ if judged.original.value() <= 1.0 - SURE_ENOUGH => State::Altered,
            _ => State::NotDecided,
        };
        judged.grounds.push(Ground::Study { entries });
    }

    /// A part that was replaced, when cannot be told from the part, and of which somebody said when.
    fn by_what_was_said(&self, judged: &mut AspectJudged) {
        let said = &self.part.said.replaced;
        let at_the_bench = said.iter().rev().find_map(|seen| Some((seen.seq, seen.what.as_ref()?.months()?)));
        let on_paper = self.repairs(Aspect::Itself).find_map(|paper| match &paper.bounds {
            Bounds::NotAfter(date) => Some((paper.seq, date.months()?)),
            _ => None,
        });
        let months = on_paper.or(at_the_bench);
        let period = self.dated.assumed.iter().find(|opinion| opinion.name == PERIOD);
        let (Some((seq, said)), Some(whole), Some(period)) = (months, &self.dated.whole, period) else {
            return;
        };
        if judged.state != State::Replaced {
            return;
        }
        let last = said.first - period.value as i32;
        let within =
            whole.months.months().filter(|(month, _)| *month >= last).map(|(_, share)| share).sum::<f64>();
        if within >= SURE_ENOUGH {
            judged.state = State::PeriodReplacement;
        } else if within <= 1.0 - SURE_ENOUGH {
            judged.state = State::LaterReplacement;
        }
        judged.grounds.push(Ground::Study { entries: vec![seq] });
    }

    /// What signs and materials say of a side.
    fn by_signs(&self, aspect: Aspect) -> AspectJudged {
        let seen: Vec<&Seen<Sign>> =
            self.part.said.signs.iter().filter(|seen| seen.what.aspect == aspect).collect();
        let signs: Vec<Sign> = seen.iter().map(|seen| seen.what).collect();
        let weighed = weigh_signs(aspect, &signs);
        let materials = self.materials(aspect);
        // Materials of one side are of one change at most: the one that speaks most against it stands for all.
        let of_materials = materials.iter().map(|(_, ratio)| *ratio).min_by(f64::total_cmp).unwrap_or(1.0);
        let altered = aspect.altered().if_stayed;
        // How often the part itself is another is for the study of dates to say; without it, nothing is called.
        let prior_is_known = aspect != Aspect::Itself;
        let odds_before = if prior_is_known { (1.0 - altered) / altered } else { 1.0 };
        let share = |ratio: f64| {
            let odds = odds_before * ratio * of_materials;
            odds / (1.0 + odds)
        };
        let (least, most) = weighed.ratio_range();
        let ratio = weighed.ratio() * of_materials;
        let looked_at = !signs.is_empty() || !materials.is_empty();
        let call = |ratio_of_signs: f64, twofold: bool| match prior_is_known {
            true => called(
                share(ratio_of_signs),
                ratio_of_signs * of_materials,
                twofold,
                &weighed.counted,
                of_materials,
            ),
            false => State::NotDecided,
        };
        let stated = call(weighed.ratio(), true);
        let ends = [least, most].map(|end| call(end, false));
        let flips = stated != State::NotDecided && ends.iter().any(|end| *end != stated);
        let grounds = seen.iter().map(|seen| {
            let counts = weighed.counted.contains(&seen.what);
            Ground::Sign { seen: (*seen).clone(), counts }
        });
        let named = seen.iter().find(|seen| weighed.counted.contains(&seen.what) && seen.photo.is_some());
        AspectJudged {
            aspect,
            state: match (looked_at, flips) {
                (false, _) => State::NotLookedAt,
                (true, true) => State::NotDecided,
                (true, false) => stated,
            },
            original: Probability::of_share(share(weighed.ratio())),
            before: prior_is_known.then(|| Probability::of_share(1.0 - altered)),
            likelihood_ratio: looked_at.then_some(ratio),
            flips,
            disagrees: weighed.disagree(),
            grounds: grounds
                .chain(materials.into_iter().map(|(seen, ratio)| Ground::Material { seen, ratio }))
                .collect(),
            photograph: named.and_then(|seen| seen.photo?.seq).or_else(|| self.latest_photograph()),
            to_look: to_look(aspect, &signs),
        }
    }

    /// Materials that date a side and not the part, each with its likelihood ratio for the side being as old as the
    /// piece; where the piece is not dated they say nothing.
    fn materials(&self, aspect: Aspect) -> Vec<(Seen<&'static Material>, f64)> {
        if aspect == Aspect::Itself {
            return Vec::new();
        }
        let dating = self.part.said.materials.iter();
        let of_side = dating.filter(|seen| seen.what.dates == aspect && seen.what.dates_anything());
        let Some(whole) = &self.dated.whole else { return Vec::new() };
        of_side.map(|seen| (seen.clone(), ratio_of(seen.what, &whole.months, self.dated.inspected))).collect()
    }

    fn latest_photograph(&self) -> Option<u64> {
        let part = self.job.part(&self.part.part)?;
        part.photographs.last().and_then(|at| self.job.photographs.get(*at)).map(|item| item.seq)
    }
}

/// How many times as probable a material is on a side as old as the piece as on one put in at any time since.
///
/// Derived from the model of the study of dates: over the months of assembly `a` with their shares, the material's weight
/// at `a`, against its mean weight from `a` to the inspection.
fn ratio_of(material: &Material, assembled: &MonthShares, inspected: Month) -> f64 {
    let (mut as_old, mut since) = (0.0, 0.0);
    for (month, share) in assembled.months().filter(|(_, share)| *share > 0.0) {
        let later = (inspected - month).max(0);
        let sum: f64 = (0..=later).map(|months| material.weight(month + months)).sum();
        as_old += share * material.weight(month);
        since += share * sum / f64::from(later + 1);
    }
    if since > 0.0 { as_old / since } else { 1.0 }
}

/// How probable it is that a paper of a repair says that a side was altered, though it is as made: the work was not done,
/// or the paper is of another piece. Stated assumption, common practice, no source.
const PAPER_IF_AS_MADE: f64 = 0.02;
/// The same where the side was altered: most work leaves no paper, but this piece has papers. Likewise.
const PAPER_IF_ALTERED: f64 = 0.5;

/// The name of the opinion on how long after the assembly a replacement counts as one of the period.
const PERIOD: &str = "repair of the period";

/// Signs that say that a side is another and not that it was changed.
const ANOTHER: [&str; 9] = [
    "lead-new",
    "flatwork-replaced",
    "nut-new",
    "frets-new",
    "track-replaced",
    "screws-unlike",
    "judged-replaced",
    "reproduction",
    "ageing-unlike",
];

/// What a side is called at this probability, where what was seen has moved its odds: at least twofold as stated, and that
/// way at all at an end of a range.
fn called(original: f64, ratio: f64, twofold: bool, counted: &[Sign], of_materials: f64) -> State {
    let moved = if twofold { 2.0 } else { 1.0 };
    if original >= SURE_ENOUGH && ratio >= moved {
        return State::Original;
    }
    if original <= 1.0 - SURE_ENOUGH && ratio <= 1.0 / moved {
        return match counted.iter().any(|sign| ANOTHER.contains(&sign.id)) {
            _ if of_materials <= 0.5 => State::LaterReplacement,
            true => State::Replaced,
            false => State::Altered,
        };
    }
    State::NotDecided
}

/// The looks of a side's families of which nothing was seen.
fn to_look(aspect: Aspect, seen: &[Sign]) -> Vec<LookFor> {
    let open = |look: &&LookFor| look.aspect == aspect && seen.iter().all(|sign| sign.family != look.family);
    sign::looks().iter().filter(open).copied().collect()
}

/// Whether the part itself belongs to the piece, as the study of dates has it: marks, materials and signs together.
fn by_dates(judged: &mut AspectJudged, weighed: &PartWeighed, dated: &Weighed) {
    judged.state = match weighed.verdict {
        Verdict::Original => State::Original,
        Verdict::PeriodReplacement => State::PeriodReplacement,
        Verdict::LaterReplacement | Verdict::MadeHere => State::LaterReplacement,
        Verdict::Replaced => State::Replaced,
        Verdict::NotDecided => State::NotDecided,
    };
    judged.original = weighed.original;
    judged.before = Some(weighed.prior);
    judged.likelihood_ratio = Some(weighed.likelihood_ratio);
    judged.flips = !weighed.flips.is_empty();
    let marks = weighed.marks.iter().filter_map(|at| dated.marks.get(*at)).map(|mark| mark.seq);
    let materials = weighed.materials.iter().filter_map(|at| dated.materials.get(*at)).map(|seen| seen.seq);
    let entries: Vec<u64> = marks.chain(materials).chain(weighed.signs.iter().map(|sign| sign.seq)).collect();
    judged.grounds.push(Ground::Study { entries });
}
