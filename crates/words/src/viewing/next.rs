//! The next check, with its outcomes to press, and those that are left after it.

use asfound_study::viewing::{CANNOT_TELL, Flag, KnownCheck, ViewingStudied, answer_line};

use crate::lists::{and, capital, count};
use crate::sheet::{Answer, Step, Table, Told};

use super::{by, minutes};

/// The next check, to be answered by one press. It tells no sum, so that it stands while sums are hidden.
pub(super) fn now(studied: &ViewingStudied) -> Option<Told> {
    let check = studied.check(studied.open.first()?.check)?;
    let step = Step {
        id: "viewing-now".into(),
        words: check.to_do.to_owned(),
        why: format!("{}, {}.", capital(&minutes(check.minutes.stated)), by(check.means)),
        caution: check.caution.to_owned(),
        answers: answers(check),
        ..Step::default()
    };
    Some(Told {
        id: "now".into(),
        sentence: format!("Next: {}.", check.name),
        sure: why_now(studied, check),
        next: vec![step],
        working: vec![format!("Source: {}.", check.source.trim_end_matches('.'))],
        ..Told::default()
    })
}

fn why_now(studied: &ViewingStudied, check: &KnownCheck) -> String {
    let why = match (check.flag, &studied.reckoned) {
        (Some(Flag::Hazard), _) => "Hazards come first, whatever they are worth.",
        (Some(Flag::Legal), _) => "Matters of law come before the bid.",
        (None, None) => "The checks stand in a good order, from the easy to what needs leave.",
        (None, Some(reckoned)) if reckoned.price.is_none() => {
            "It moves the worth most a minute; no price was said yet."
        }
        (None, Some(reckoned)) if reckoned.some_check_decides => {
            "It gains most a minute by deciding after it instead of before."
        }
        (None, Some(_)) => "No check changes the decision by itself; this one moves the worth most a minute.",
    };
    why.to_owned()
}

/// What can be pressed: each outcome, and that nothing can be told.
fn answers(check: &KnownCheck) -> Vec<Answer> {
    let outcomes = check.outcomes.iter().map(|outcome| Answer {
        words: outcome.seen.to_owned(),
        means: outcome.means.to_owned(),
        line: answer_line(check, outcome.seen),
    });
    let open = Answer {
        words: CANNOT_TELL.to_owned(),
        means: "or it is not allowed".to_owned(),
        line: answer_line(check, CANNOT_TELL),
    };
    outcomes.chain([open]).collect()
}

/// Pictures that are asked for at a time: a seller sends three, and not ten.
const MOST_PICTURES: usize = 3;

/// The open checks that a picture could answer before anybody travels, the most telling first.
pub(super) fn pictures(studied: &ViewingStudied) -> Option<Told> {
    let open = studied.open.iter().filter_map(|open| studied.check(open.check));
    let of_pictures = open.filter(|check| check.from_picture).take(MOST_PICTURES);
    let names: Vec<String> = of_pictures.map(|check| format!("“{}”", check.name)).collect();
    if names.is_empty() {
        return None;
    }
    Some(Told {
        id: "pictures".into(),
        sentence: format!("Pictures to ask the seller for, the first first: {}.", and(&names)),
        sure: "Each can answer a check before anybody travels; what a picture does not show is not thereby sound.".into(),
        ..Told::default()
    })
}

/// The checks that are left, in their order, without sums.
pub(super) fn left(studied: &ViewingStudied) -> Option<Told> {
    let checks: Vec<&KnownCheck> = studied.open.iter().filter_map(|open| studied.check(open.check)).collect();
    if checks.is_empty() {
        return Some(Told {
            id: "left".into(),
            sentence: "Every check of the list is answered.".into(),
            sure: "What the list does not name is not thereby sound.".into(),
            ..Told::default()
        });
    }
    let all: f64 = checks.iter().map(|check| check.minutes.stated).sum();
    let leave = checks.iter().filter(|check| check.means.wants_leave()).count();
    let mut table =
        Table::with("What can be checked, the next first", &["check", "#minutes", "how", "what to do"]);
    table.rows = checks.iter().map(|check| row(check)).collect();
    Some(Told {
        id: "left".into(),
        sentence: format!(
            "{} left, about {} in all.",
            capital(&count(checks.len(), "check is", "checks are")),
            minutes(all)
        ),
        sure: match leave {
            0 => "None of them needs the seller's leave.".to_owned(),
            one_or_more => format!(
                "{} the seller's leave.",
                capital(&count(one_or_more, "of them needs", "of them need"))
            ),
        },
        working: vec!["Minutes are common practice, no source; so is the order.".to_owned()],
        tables: vec![table],
        ..Told::default()
    })
}

fn row(check: &KnownCheck) -> Vec<String> {
    let minutes = check.minutes;
    let range = format!("{} to {}", minutes.least, minutes.most);
    vec![check.name.to_owned(), range, by(check.means).to_owned(), check.to_do.to_owned()]
}
