//! Which parts are original to the piece, part by part, each with its ground; never one figure for the whole.

mod claim;
mod part;
mod sides;

use std::collections::BTreeSet;

use asfound_study::dates::{PartWeighed, Verdict, Weighed};
use asfound_study::material::Material;
use asfound_study::originality::{AspectJudged, PartOriginality};
use asfound_study::record::{Body, Item, Made1};
use asfound_study::said::dating;
use asfound_study::{Job, coils, dates, originality};

use crate::dates::{found, taken_for_granted};
use crate::likely::{figure, in_hundred};
use crate::lists::{and, capital, count, or};
use crate::sheet::{Rest, Sheet, Table, Told};
use crate::{cautions, entry};

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let (job, workshop) = (&*material.job, &*material.workshop);
    let weighed = dates::study(material);
    let coils = coils::study(job, workshop, &material.past, &material.before.coils);
    let said = dating::read(job);
    let mut sides = originality::study(job, &said, &coils, &weighed);
    let whole = originality::of_whole(job, &said, &weighed);
    let mut means = vec![summary(&weighed)];
    means.extend(weighed.claims.iter().filter_map(|held| claim::of_originality(held, &weighed)));
    means.extend(whole.iter().flat_map(sides::told));
    for (at, one) in weighed.parts.iter().enumerate() {
        if is_told(one) {
            means.push(part::told(&weighed, at, job));
        }
        means.extend(sides.iter().filter(|sides| sides.part == one.part).flat_map(sides::told));
    }
    means.extend(not_looked_at(&weighed, &sides));
    let cautions = cautions::of_piece(job).map(str::to_owned).into_iter().collect();
    sides.extend(whole);
    let of_sides = sides.iter().flat_map(|part| part.aspects.iter().flat_map(AspectJudged::entries));
    let seqs: BTreeSet<u64> = entries(&weighed, job).into_iter().chain(of_sides).collect();
    Sheet { found: found(job, &seqs), means, cautions, ..Sheet::default() }
}

/// Whether there is anything to say of a part by itself.
fn is_told(part: &PartWeighed) -> bool {
    part.looked_at || part.verdict == Verdict::MadeHere
}

/// The entries that bear on originality without dating: signs, claims, and what was made here.
fn entries(weighed: &Weighed, job: &Job) -> BTreeSet<u64> {
    let signs = weighed.parts.iter().flat_map(|part| part.signs.iter().map(|sign| sign.seq));
    let claims = weighed.claims.iter().map(|held| held.seq);
    signs.chain(claims).chain(job.made.iter().map(|item| item.seq)).collect()
}

/// Parts of which nothing was said that bears on it.
fn not_looked_at(weighed: &Weighed, sides: &[PartOriginality]) -> Option<Told> {
    let seen = |part: &PartWeighed| sides.iter().any(|one| one.part == part.part && sides::is_told(one));
    let unseen = weighed.parts.iter().filter(|part| !is_told(part) && !seen(part));
    let names: Vec<String> = unseen.map(|part| format!("the {}", part.name)).collect();
    if names.is_empty() || names.len() == weighed.parts.len() {
        return None;
    }
    Some(Told {
        id: "not-looked-at".into(),
        sentence: format!("Nothing was said yet that bears on {}.", or(&names)),
        sure: "Not looked at is not the same as original, nor as replaced.".into(),
        ..Told::default()
    })
}

/// What was made by this workshop, a sentence for each part: it stands on the owner's first page.
pub fn made_here(job: &Job) -> Vec<String> {
    let said = |item: &Item<Made1>| {
        let (words, how) = entry::said(&Body::Made(item.body.clone()), job);
        format!("{} ({how}).", capital(&words))
    };
    job.made.iter().map(said).collect()
}

/// Verdicts in the order in which they are counted up.
const COUNTED: [Verdict; 6] = [
    Verdict::Original,
    Verdict::PeriodReplacement,
    Verdict::LaterReplacement,
    Verdict::Replaced,
    Verdict::MadeHere,
    Verdict::NotDecided,
];

fn summary(weighed: &Weighed) -> Told {
    let known: Vec<&PartWeighed> = weighed.parts.iter().filter(|part| is_told(part)).collect();
    if known.is_empty() {
        return Told {
            id: "summary".into(),
            sentence: "Nothing that was kept bears on whether a part is original.".into(),
            sure: "Say what is seen, such as “bridge coil: solder undisturbed”, “guard: screw holes do not line up” or “volume pot: stamped 137 6338”.".into(),
            ..Told::default()
        };
    }
    let of = |verdict: Verdict| known.iter().filter(|part| part.verdict == verdict).count();
    let counted: Vec<String> = COUNTED
        .into_iter()
        .filter(|verdict| of(*verdict) > 0)
        .map(|verdict| format!("{} {}", count(of(verdict), "", "").trim(), counted_as(verdict, of(verdict))))
        .collect();
    let columns =
        ["part", "what can be said", "#likelihood ratio", "#before, of 100", "#now, of 100", "#from", "#to"];
    let mut table =
        Table::with("Part by part; from and to: inside the ranges of what is taken for granted", &columns);
    table.rows = known.iter().map(|part| row(part)).collect();
    let seqs: BTreeSet<u64> = (0..weighed.parts.len()).flat_map(|at| part::entries(weighed, at)).collect();
    Told {
        id: "summary".into(),
        sentence: match (known.len(), counted.as_slice()) {
            (1, [_]) => format!("One part was looked at; it {}.", counted_as(known[0].verdict, 1)),
            (all, [_]) if known[0].verdict == Verdict::NotDecided => {
                format!("Not one of the {all} parts looked at is decided.")
            }
            (all, [_]) => format!("All {all} parts looked at {}.", counted_as(known[0].verdict, all)),
            (all, _) => format!("Of {all} parts looked at, {}.", and(&counted)),
        },
        sure: "Each part stands by itself below with its ground; there is no one figure for the whole."
            .into(),
        rests_on: Rest::on_all(seqs),
        working: vec![WORKING.into()],
        assumptions: taken_for_granted(&weighed.assumed),
        tables: vec![table],
        ..Told::default()
    }
}

/// What a likelihood ratio compares, and what it does not say.
const WORKING: &str = "The likelihood ratio compares two statements: the part was there when the piece was put together, or it was put in at any time since from ordinary stock. It says how much more probable what was found is under one than under the other; what was held beforehand is kept apart, and odds before × ratio = odds now. Words for ratios: ENFSI, Guideline for Evaluative Reporting in Forensic Science (2015), table of verbal equivalents; between 1 and 2 no useful support.";

/// After a number: `are original`.
fn counted_as(verdict: Verdict, number: usize) -> &'static str {
    match (verdict, number == 1) {
        (Verdict::Original, true) => "goes with the piece as first put together",
        (Verdict::Original, false) => "go with the piece as first put together",
        (Verdict::PeriodReplacement, true) => "is a replacement of the period",
        (Verdict::PeriodReplacement, false) => "are replacements of the period",
        (Verdict::LaterReplacement, true) => "is a later replacement",
        (Verdict::LaterReplacement, false) => "are later replacements",
        (Verdict::Replaced, true) => "is a replacement of unknown date",
        (Verdict::Replaced, false) => "are replacements of unknown date",
        (Verdict::MadeHere, true) => "was made in this workshop",
        (Verdict::MadeHere, false) => "were made in this workshop",
        (Verdict::NotDecided, true) => "is not decided",
        (Verdict::NotDecided, false) => "are not decided",
    }
}

fn row(part: &PartWeighed) -> Vec<String> {
    let verdict = match part.verdict {
        Verdict::Original => "original",
        Verdict::PeriodReplacement => "replacement of the period",
        Verdict::LaterReplacement => "later replacement",
        Verdict::Replaced => "replacement, when cannot be told",
        Verdict::MadeHere => "made in this workshop",
        Verdict::NotDecided => "not decided",
    };
    let name = part.name.clone();
    if part.verdict == Verdict::MadeHere {
        let known = || "known".to_owned();
        return vec![name, verdict.to_owned(), known(), known(), known(), known(), known()];
    }
    vec![
        name,
        verdict.to_owned(),
        figure(part.likelihood_ratio),
        in_hundred(part.prior),
        in_hundred(part.original),
        in_hundred(part.least),
        in_hundred(part.most),
    ]
}
