//! What a job says of a viewing: answers, words, sums, and the order of the checks.

mod common;

use asfound_study::record::{Body, Piece1};
use asfound_study::viewing::{Flag, Kind, Shown, ViewingStudied, WhyUnread, answer_line, is_answer, study};

use common::Ledger;

fn ledger(family: &str, words: &str, lines: &str) -> Ledger {
    let mut ledger = Ledger::opened();
    ledger.keep(&Body::Piece(Piece1 {
        piece: "piece-7".to_owned(),
        family: family.to_owned(),
        words: words.to_owned(),
        maker: None,
        serial: None,
        origin: None,
        owner: None,
    }));
    ledger.say_all(lines);
    ledger
}

fn of(lines: &str) -> ViewingStudied {
    study(&ledger("guitar", "an old one", lines).job)
}

const SUMS: &str = "
money sound 2600 GBP
money asking 1300 GBP
";

fn next(studied: &ViewingStudied) -> &'static str {
    studied.check(studied.open[0].check).expect("a check").name
}

#[test]
fn the_kind_is_heard_from_the_family_or_else_from_the_words() {
    let kind = |family, words| study(&ledger(family, words, "").job).kind;
    assert_eq!(kind("guitar", ""), Some(Kind::Guitar));
    assert_eq!(kind("bass amplifier", "a combo"), Some(Kind::Amplifier));
    assert_eq!(kind("lap steel guitar", ""), Some(Kind::LapSteel));
    assert_eq!(kind("instrument", "short-scale bass"), Some(Kind::Bass));
    assert_eq!(kind("banjo", ""), None);
    assert!(study(&asfound_study::Job::default()).open.is_empty());
}

#[test]
fn without_money_the_order_is_fixed_and_nothing_is_reckoned() {
    let bare = of("");
    assert!(bare.reckoned.is_none() && bare.open.iter().all(|open| open.now.is_none()));
    assert!(bare.open.is_sorted_by_key(|open| open.check));
    assert_eq!(bare.check(0).and_then(|check| check.flag), Some(Flag::Hazard));
}

#[test]
fn an_answer_is_a_line_that_is_read_and_the_later_counts() {
    let lines = "
piece: viewing, line of the neck: they lean plainly
piece: Viewing, Line of the neck: the edges lie level.
piece: viewing, rod turned: cannot tell
piece: viewing, nut: not allowed
";
    let studied = of(lines);
    assert!(studied.unread.is_empty(), "{:?}", studied.unread);
    let shown: Vec<Shown> = studied.answers.iter().map(|answer| answer.shown).collect();
    assert_eq!(shown, [Shown::Outcome(0), Shown::CannotTell, Shown::CannotTell]);
    let check = studied.check(studied.answers[0].check).expect("a check");
    let line = answer_line(check, check.outcomes[0].seen);
    assert_eq!(line, "piece: viewing, line of the neck: the edges lie level");
    assert!(is_answer("viewing, nut: loose") && !is_answer("a viewing, at noon") && !is_answer(""));
}

#[test]
fn what_is_no_answer_is_kept_apart_with_what_would_be_right() {
    let studied =
        of("piece: viewing, line of the nek: level\npiece: viewing, nut: bent\npiece: viewing, x\n");
    assert_eq!(studied.unread[0].why, WhyUnread::NoSuchCheck(Some("line of the neck")));
    assert!(matches!(&studied.unread[1].why, WhyUnread::NoSuchOutcome(right) if right.len() == 2));
    assert_eq!(studied.unread.len(), 3);
}

#[test]
fn a_struck_answer_is_open_again() {
    let mut ledger = ledger("guitar", "", "");
    let said = ledger.say("piece: viewing, nut: film whole against it");
    assert_eq!(study(&ledger.job).answers.len(), 1);
    ledger.strike(&said);
    assert!(study(&ledger.job).answers.is_empty());
}

#[test]
fn hazards_and_law_stay_first_and_then_what_is_worth_most_a_minute() {
    let studied = of(SUMS);
    let flags = studied
        .open
        .iter()
        .take_while(|open| studied.check(open.check).is_some_and(|check| check.flag.is_some()));
    assert_eq!(flags.count(), 3);
    let all_flags = "
piece: viewing, smell of the guard: no smell, metal clean
piece: viewing, wood of the board: light, or another wood
piece: viewing, right to sell: a bill or history is shown
";
    let studied = of(&format!("{SUMS}{all_flags}"));
    let a_minute: Vec<f64> = studied
        .open
        .iter()
        .map(|open| {
            let check = studied.check(open.check).expect("a check");
            open.now.as_ref().expect("reckoned").worth.stated.minor / check.minutes.stated
        })
        .collect();
    assert!(a_minute.is_sorted_by(|one, next| one >= next), "{a_minute:?}");
    let reckoned = studied.reckoned.as_ref().expect("reckoned");
    assert!(reckoned.worth.least.minor <= reckoned.worth.stated.minor);
    assert!(reckoned.worth.most.minor >= reckoned.worth.stated.minor);
}

#[test]
fn an_answer_moves_the_worth_and_ranks_anew() {
    let worth = |lines: &str| {
        let studied = of(&format!("{SUMS}{lines}"));
        studied.reckoned.expect("reckoned").worth.stated.minor
    };
    let (before, mended) =
        (worth(""), worth("piece: viewing, back of the headstock: a plain crack or mend\n"));
    let whole = worth("piece: viewing, back of the headstock: grain and film run on\n");
    assert!(mended < before && before < whole, "{mended} {before} {whole}");
    assert_eq!(worth("piece: viewing, back of the headstock: cannot tell\n"), before);
    let moved = of(&format!("{SUMS}piece: viewing, {}: cannot tell\n", next(&of(SUMS))));
    assert_ne!(next(&moved), next(&of(SUMS)));
}

#[test]
fn a_sellers_words_are_weighed_and_a_turned_clause_is_not() {
    let studied = of("claim seller: refinished in the seventies, board not planed\n");
    let spoken: Vec<&str> = studied.heard.iter().map(|heard| heard.says.unknown).collect();
    assert_eq!(spoken, ["refinish"]);
    assert_eq!(studied.heard[0].clause, "refinished in the seventies");
    let twice = of("claim seller: refinished\nclaim neighbour: it was refinished\n");
    assert_eq!(twice.heard.len(), 1, "the same words said again count once");
    let of_part = of("part bridge pickup, coil, bridge\nbridge pickup: dead\n");
    assert_eq!(of_part.heard[0].says.unknown, "pickup-open");
    let worth = |lines: &str| of(&format!("{SUMS}{lines}")).reckoned.expect("reckoned").worth.stated.minor;
    assert!(worth("claim seller: refinished\n") < worth(""));
}

#[test]
fn sums_are_heard_by_what_they_are_for_and_the_later_counts() {
    let studied = of(
        "money sound 2600 GBP\nmoney asking 1300 GBP\nmoney estimate low 900 GBP\nmoney estimate high 1600 GBP\nmoney hour 50 GBP\n",
    );
    let price = studied.sums.price.expect("a price").what;
    assert_eq!(price.sums().map(|sum| sum.minor()), [90_000, 160_000]);
    assert_eq!(studied.sums.hour.expect("an hour").what.minor(), 5_000);
    let by_rate = of("money sound 2600 GBP\nwork rate 60 GBP an hour\n");
    assert_eq!(by_rate.sums.hour.expect("the bench's rate").what.minor(), 6_000);
    let odd = of(
        "money sound 2600 GBP\nmoney asking 1300 EUR\nmoney estimate low 1600 GBP\nmoney estimate high 900 GBP\n",
    );
    assert_eq!(odd.sums.other_currency.len(), 1);
    assert!(odd.sums.price.is_none() && odd.sums.half_a_range.is_some());
    assert!(odd.reckoned.expect("the worth is known").price.is_none());
}
