//! What the page rests on: entries, what was read from them, and what is left.

use std::collections::BTreeSet;

use asfound_study::faults::{FaultsStudied, FaultsTold, Left, Unplaced, Weighed, WhyUnplaced};
use asfound_study::material::Material;
use asfound_study::record::Body;
use asfound_study::said::heard::What;

use crate::entry;
use crate::lists::{and, or};
use crate::sheet::{FoundLine, Rest, Step, Table, Told};

/// Entries that something was heard in, and readings that were weighed, as kept.
pub(super) fn found(material: &Material, studied: &FaultsStudied) -> Vec<FoundLine> {
    let job = &*material.job;
    let mut seqs: BTreeSet<u64> = studied.complaints.iter().map(|it| it.seq).collect();
    if let FaultsTold::Weighed(weighed) = &studied.told {
        seqs.extend(weighed.metered.iter().map(|it| it.seq));
    }
    let mut lines = Vec::new();
    let said = job.observed.iter().filter(|item| seqs.contains(&item.seq));
    lines.extend(said.map(|item| (item.root, entry::line(item, Body::Observed, job))));
    let read = job.readings.iter().filter(|item| seqs.contains(&item.seq));
    lines.extend(read.map(|item| (item.root, entry::line(item, Body::Reading, job))));
    let probed = job.probings.iter().filter(|item| seqs.contains(&item.seq));
    lines.extend(probed.map(|item| (item.root, entry::line(item, Body::Probing, job))));
    entry::in_order(lines)
}

/// The entries that something was heard in.
pub(super) fn rests(studied: &FaultsStudied) -> Vec<Rest> {
    let seqs: BTreeSet<u64> = studied.complaints.iter().map(|it| it.seq).collect();
    Rest::on_all(seqs)
}

/// The entries of all that was weighed.
pub(super) fn evidence(weighed: &Weighed) -> Vec<Rest> {
    let metered = weighed.metered.iter().map(|it| it.seq);
    let seqs: BTreeSet<u64> = metered.chain(weighed.heard.iter().map(|it| it.seq)).collect();
    Rest::on_all(seqs)
}

/// What was read from the words; `None` where nothing was.
pub(super) fn heard(studied: &FaultsStudied) -> Option<Table> {
    let mut table = Table::with("What was read from the words", &["entry", "as said"]);
    table.rows = studied.complaints.iter().map(|it| vec![it.seq.to_string(), it.text.clone()]).collect();
    (!table.rows.is_empty()).then_some(table)
}

/// What was weighed, each thing with its entry.
pub(super) fn weighed(weighed: &Weighed) -> Table {
    let mut table = Table::with("What was weighed", &["entry", "as said"]);
    let metered = weighed.metered.iter().map(|it| (it.seq, it.text.clone()));
    let heard = weighed.heard.iter().map(|it| (it.seq, it.text.clone()));
    let mut rows: Vec<(u64, String)> = metered.chain(heard).collect();
    rows.dedup();
    table.rows = rows.into_iter().map(|(seq, text)| vec![seq.to_string(), text]).collect();
    table
}

/// Readings between lugs that cannot be weighed: what is wrong, and what would be right.
pub(super) fn unplaced(weighed: &Weighed) -> Vec<Told> {
    let one = |it: &Unplaced| {
        let (reason, sure) = match &it.why {
            WhyUnplaced::NoSuchLug { read, nearest } => (
                format!("the trace knows no lug “{read}”"),
                match nearest.as_slice() {
                    [] => "Name two lugs as the trace does, such as “volume.3 jack.tip 0.4”.".to_owned(),
                    near => format!("Near it are {}.", or(near)),
                },
            ),
            WhyUnplaced::NotSet(not_set) => (
                format!("“{}” is not in the trace", not_set.read),
                match not_set.right.as_slice() {
                    [] => "Say how the switch stood as the trace names it.".to_owned(),
                    right => format!("It would be right as {}.", or(right)),
                },
            ),
            WhyUnplaced::SwitchNotSaid => (
                "what it shows hangs on how the switch stood".to_owned(),
                "Say it behind the figure, such as “lever 2, volume full”.".to_owned(),
            ),
            WhyUnplaced::NoFigure => {
                ("it is no figure and no bound".to_owned(), "Over which range was it?".to_owned())
            }
        };
        Told {
            id: format!("unplaced-{}", it.seq),
            sentence: format!("The reading in entry {} is kept and not weighed: {reason}.", it.seq),
            sure,
            rests_on: vec![Rest::on(it.seq)],
            ..Told::default()
        }
    };
    weighed.unplaced.iter().map(one).collect()
}

/// What was said and is not weighed, where saying it otherwise would help.
pub(super) fn left(studied: &FaultsStudied, weighed: &Weighed) -> Vec<Told> {
    let mut told = Vec::new();
    for (at, why) in &weighed.left {
        let Some(complaint) = studied.complaints.get(*at) else { continue };
        if *why == Left::TheLead {
            told.push(the_lead(complaint.seq, at));
            continue;
        }
        let Some((sentence, sure)) = why_left(weighed, &complaint.text, why) else { continue };
        if matches!(complaint.what, What::NeverBoth) && weighed.never_both.is_some() {
            continue;
        }
        told.push(Told {
            id: format!("left-{at}"),
            sentence,
            sure,
            rests_on: vec![Rest::on(complaint.seq)],
            ..Told::default()
        });
    }
    told
}

fn why_left(weighed: &Weighed, text: &str, why: &Left) -> Option<(String, String)> {
    let kept = |reason: String| format!("“{text}” is kept and not weighed: {reason}.");
    match why {
        Left::NoSuchPosition(position) => {
            let known: Vec<String> = weighed
                .explained
                .explanation
                .switches
                .iter()
                .map(|switch| format!("{} {}", switch.name, or(&switch.positions)))
                .collect();
            let sure = if known.is_empty() {
                "The trace has no switch.".to_owned()
            } else {
                format!("It knows {}.", and(&known))
            };
            Some((kept(format!("the trace knows no position {position}")), sure))
        }
        Left::NoSuchState(coils) => Some((
            kept(format!("no position gives just {} by the trace", and(coils))),
            "Name the position instead, such as “position 2 thin”.".to_owned(),
        )),
        Left::NoCover(coil) => Some((
            kept(format!("the trace gives {coil} no cover")),
            "Add “covered” to the coil's line in the trace.".to_owned(),
        )),
        Left::NoSuchPart(name) => Some((
            kept(format!("the trace knows no “{name}”")),
            "Call it as the trace does, or add it there.".to_owned(),
        )),
        Left::TheLead | Left::TellsNothing => None,
    }
}

fn the_lead(seq: u64, at: &usize) -> Told {
    let step = Step {
        id: "fault-lead".into(),
        words: "Try another lead, and hold the plug still in the jack.".into(),
        why: "If it goes away, nothing is wrong in the instrument.".into(),
        ..Step::default()
    };
    Told {
        id: format!("lead-{at}"),
        sentence: "What moves with the lead is first of all the lead or its plug.".into(),
        sure: "A lead is the commonest fault of all (common practice, no source).".into(),
        next: vec![step],
        rests_on: vec![Rest::on(seq)],
        ..Told::default()
    }
}
