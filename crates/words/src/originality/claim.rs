//! A claim that parts are original, held against what was found: kindly, and exactly.

use std::collections::BTreeSet;

use asfound_study::dates::{ClaimHeld, PartWeighed, Verdict, Weighed};

use super::part;
use crate::dates::quoted;
use crate::lists::{and, capital};
use crate::sheet::{Rest, Told};

/// Parts that are named one by one.
const MOST_NAMED: usize = 4;

/// The finding; `None` where the claim does not say that anything is original.
pub(super) fn of_originality(claim: &ClaimHeld, weighed: &Weighed) -> Option<Told> {
    if !claim.original {
        return None;
    }
    let named = |parts: &[usize]| -> Vec<String> {
        parts
            .iter()
            .filter_map(|at| weighed.parts.get(*at))
            .map(|part| format!("the {}", part.name))
            .collect()
    };
    // A part that nobody looked at yet is not in question.
    let looked_at = |at: &usize| weighed.parts.get(*at).is_some_and(|part| part.looked_at);
    let open: Vec<usize> = claim.not_decided.iter().copied().filter(looked_at).collect();
    let (against, open) = (named(&claim.against_original), named(&open));
    let said = quoted(claim);
    let (sentence, sure) = match (against.len(), open.len()) {
        (0, 0) if claim.parts.is_empty() => (
            format!("{said}, and nothing was found yet to hold it against."),
            "Neither for nor against.".to_owned(),
        ),
        (0, 0) => (
            format!("{said}, and nothing that was found speaks against it."),
            "What was not looked at may still do so.".to_owned(),
        ),
        (0, more) => (
            match more {
                1..=MOST_NAMED => format!("{said}, and of {} that is not decided.", and(&open)),
                more => format!("{said}, and of {more} parts that is not decided."),
            },
            "Nothing that was found speaks against it.".to_owned(),
        ),
        (one, more) => {
            let open = match more {
                0 => String::new(),
                1..=MOST_NAMED => format!("; of {} that is not decided", and(&open)),
                more => format!("; of {more} more that is not decided"),
            };
            let does = if one == 1 { "does" } else { "do" };
            (format!("{said}, and {} {does} not go with that{open}.", and(&against)), grounds(claim, weighed))
        }
    };
    let seqs = claim.against_original.iter().flat_map(|at| part::entries(weighed, *at));
    let seqs: BTreeSet<u64> = seqs.chain([claim.seq]).collect();
    let mut told = Told {
        id: format!("claimed-original-{}", claim.seq),
        sentence,
        sure,
        rests_on: Rest::on_all(seqs),
        ..Told::default()
    };
    if !claim.against_original.is_empty() {
        told.working.push(
            "Parts were put in at every age of a piece, often long before whoever speaks of it now: this says nothing of anybody's good faith.".into(),
        );
    }
    Some(told)
}

/// What each part that does not go with the claim shows.
fn grounds(claim: &ClaimHeld, weighed: &Weighed) -> String {
    let parts = claim.against_original.iter().filter_map(|at| weighed.parts.get(*at));
    let shown: Vec<String> = parts.map(|part| ground(part, weighed)).collect();
    format!("{}; a part put in later can be an honest repair.", capital(&and(&shown)))
}

fn ground(part: &PartWeighed, weighed: &Weighed) -> String {
    let name = &part.name;
    let mark = part.marks.first().and_then(|at| weighed.marks.get(*at));
    let sign = part.signs.iter().find(|sign| sign.counts && !sign.sign.speaks_for());
    match (part.verdict, mark, sign) {
        (Verdict::MadeHere, ..) => format!("the {name} was made in this workshop"),
        (_, Some(mark), _) => format!("the {name} bears “{}” (entry {})", mark.text, mark.seq),
        (_, None, Some(sign)) => format!("the {name} shows “{}” (entry {})", sign.text, sign.seq),
        (_, None, None) => format!("the {name} fits no date of the rest"),
    }
}
