//! The viewing in words: the next check on top, what is not known, what was seen, and what it may be worth.

mod money;
mod next;
pub mod pocket_sheet;

use std::collections::BTreeSet;

use asfound_study::Job;
use asfound_study::material::Material;
use asfound_study::record::{Item, Observed1};
use asfound_study::viewing::{
    Answered, Flag, KnownCheck, Means, Outcome, Shown, ViewingStudied, WhyUnread, is_answer, study,
};

use crate::lists::{and, capital, count, or};
use crate::sheet::{FoundLine, Rest, Sheet, Step, Table, Told};
use crate::{cautions, page};

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let studied = study(job);
    let mut means = Vec::new();
    if studied.kind.is_none() {
        means.push(no_kind());
    } else {
        means.extend(money::decision(&studied));
        means.push(money::not_known(&studied));
        means.extend(flags(&studied));
        means.extend(seen(&studied));
        means.extend(next::pictures(&studied));
        means.extend(next::left(&studied));
        means.extend(money::worth_of_checks(&studied));
    }
    means.extend(unread(&studied));
    let cautions = cautions::of_piece(job).map(str::to_owned).into_iter().collect();
    let now = next::now(&studied);
    Sheet {
        found: found(job, &studied),
        now,
        means,
        next: money::to_say(&studied),
        cautions,
        ..Sheet::default()
    }
}

/// The answers of the viewing, which stand on this page, and what else the reckoning rests on.
fn found(job: &Job, studied: &ViewingStudied) -> Vec<FoundLine> {
    let answers = job.observed.iter().filter(|item| is_an_answer(item)).map(|item| item.seq);
    let seqs: BTreeSet<u64> = answers
        .chain(studied.sums.entries.iter().copied())
        .chain(studied.heard.iter().map(|heard| heard.seq))
        .collect();
    seqs.into_iter().map(|seq| page::historic(job, seq)).collect()
}

/// Whether an observation stands on this page instead of on that of the piece.
pub(crate) fn is_an_answer(item: &Item<Observed1>) -> bool {
    item.body.part.is_none() && is_answer(&item.body.words)
}

fn no_kind() -> Told {
    Told {
        id: "kind".into(),
        sentence: "What sort of piece is viewed has not been said.".into(),
        sure: "Checks are known for a guitar, a bass, a lap steel and an amplifier.".into(),
        would_change: vec!["A job opened with one of these words under “Guitar, bass, amplifier”.".into()],
        ..Told::default()
    }
}

/// What was answered, with the check and the outcome; none where nothing could be told.
fn answered(
    studied: &ViewingStudied,
) -> impl Iterator<Item = (&Answered, &'static KnownCheck, Option<Outcome>)> {
    studied.answers.iter().filter_map(|answer| {
        let check = studied.check(answer.check)?;
        let outcome = match answer.shown {
            Shown::Outcome(place) => check.outcomes.get(place).copied(),
            Shown::CannotTell => None,
        };
        Some((answer, check, outcome))
    })
}

/// A hazard or a matter of law that was not answered with the best outcome.
fn flags(studied: &ViewingStudied) -> Vec<Told> {
    let flagged = answered(studied).filter_map(|(answer, check, outcome)| {
        let flag = check.flag?;
        let best = check.outcomes.first().copied();
        (outcome != best).then_some((answer, check, outcome, flag))
    });
    let told = |(answer, check, outcome, flag): (&Answered, &KnownCheck, Option<Outcome>, Flag)| {
        let name = capital(check.name);
        let sentence = match outcome {
            Some(Outcome { seen, means }) => format!("{name}: {seen}, so {means}."),
            None => format!("{name}: this could not be told."),
        };
        let sure = match flag {
            Flag::Hazard => "It comes before every question of price.",
            Flag::Legal => "It is to be cleared before the bid, and this is not legal advice.",
        };
        Told {
            id: format!("flag-{}", answer.check),
            sentence,
            sure: sure.into(),
            caution: check.caution.into(),
            rests_on: vec![Rest::on(answer.seq)],
            working: vec![format!("Source: {}.", check.source.trim_end_matches('.'))],
            ..Told::default()
        }
    };
    flagged.map(told).collect()
}

fn seen(studied: &ViewingStudied) -> Option<Told> {
    if studied.answers.is_empty() {
        return None;
    }
    let mut table = Table::with("What was seen", &["check", "seen", "what it means"]);
    for (_, check, outcome) in answered(studied) {
        let (seen, means) = outcome.map_or(("cannot tell", "nothing follows"), |it| (it.seen, it.means));
        table.rows.push([check.name, seen, means].map(str::to_owned).into());
    }
    let bad = answered(studied).filter(|(_, check, outcome)| *outcome == check.outcomes.last().copied());
    let bad: Vec<String> = bad.map(|(_, check, _)| format!("“{}”", check.name)).collect();
    let open = answered(studied).filter(|(_, _, outcome)| outcome.is_none()).count();
    let made = count(studied.answers.len(), "check is made", "checks are made");
    let sentence = match bad.as_slice() {
        [] => format!("{}, and none shows the worst.", capital(&made)),
        names => format!("{}; the worst is shown by {}.", capital(&made), and(names)),
    };
    let sure = match open {
        0 => "Each is one witness, and none of them is a proof.".to_owned(),
        _ => format!(
            "{} could not be told; that is an answer too.",
            capital(&count(open, "of them", "of them"))
        ),
    };
    Some(Told {
        id: "seen".into(),
        sentence,
        sure,
        rests_on: Rest::on_all(studied.answers.iter().map(|answer| answer.seq).collect::<BTreeSet<u64>>()),
        tables: vec![table],
        ..Told::default()
    })
}

fn unread(studied: &ViewingStudied) -> Vec<Told> {
    let told = |unread: &asfound_study::viewing::Unread| {
        let sure = match &unread.why {
            WhyUnread::NoSuchCheck(Some(nearest)) => {
                format!("No check has this name; the nearest is “{nearest}”.")
            }
            WhyUnread::NoSuchCheck(None) => "No check is known for such a piece.".to_owned(),
            WhyUnread::NoSuchOutcome(right) => {
                let right: Vec<String> = right.iter().map(|seen| format!("“{seen}”")).collect();
                format!("This check is answered with {} or “cannot tell”.", right.join(", "))
            }
        };
        Told {
            id: format!("unread-{}", unread.seq),
            sentence: format!("Entry {} answers no check: “{}”.", unread.seq, unread.words),
            sure,
            rests_on: vec![Rest::on(unread.seq)],
            ..Told::default()
        }
    };
    studied.unread.iter().map(told).collect()
}

/// By what means a check is made.
fn by(means: Means) -> &'static str {
    match means {
        Means::Ask => "by asking",
        Means::Look => "by eye and hand",
        Means::Torch => "with a torch",
        Means::Ultraviolet => "with an ultraviolet lamp, eyes and skin shielded",
        Means::Meter => "with a meter",
        Means::Listen => "by ear",
        Means::StringsOff => "with the strings slack or off, and the seller's leave",
        Means::GuardLifted => "with the guard lifted, and the seller's leave",
    }
}

/// Minutes in words: `half a minute`, `2 minutes`.
fn minutes(minutes: f64) -> String {
    match minutes {
        half if half < 0.75 => "half a minute".to_owned(),
        one if one < 1.25 => "a minute".to_owned(),
        more => format!("{} minutes", (more * 2.0).round() / 2.0),
    }
}

/// The ways in which something may not be as it should be.
fn flaws(unknown: &asfound_study::viewing::NotKnown) -> String {
    let words: Vec<&str> = unknown.flaws.iter().map(|flaw| flaw.words).collect();
    or(&words)
}

/// Something to say first.
fn say(id: &str, words: &str, why: &str) -> Step {
    Step { id: format!("viewing-{id}"), words: words.to_owned(), why: why.to_owned(), ..Step::default() }
}

#[cfg(test)]
mod tests {
    use super::minutes;

    #[test]
    fn minutes_are_said_as_people_say_them() {
        assert_eq!(minutes(0.5), "half a minute");
        assert_eq!(minutes(1.0), "a minute");
        assert_eq!(minutes(2.0), "2 minutes");
        assert_eq!(minutes(1.5), "1.5 minutes");
    }
}
