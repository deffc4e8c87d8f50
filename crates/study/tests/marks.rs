//! Marks on photographs and the lugs they mean: heard, folded, found by a press; and lines put together from fields.

mod common;

use asfound_study::doubt::Doubt;
use asfound_study::entry_line::WhyNot;
use asfound_study::record::{Body, Cite, Mark1, Photograph1};
use asfound_study::{lugs, marks, trace_line};
use common::Ledger;
use proptest::prelude::*;

const TRACE: &str = "
coil neck 7k2 clockwise covered
pot volume 250k audio
switch lever
lugs a0 a1
at 1: a0-a1
at 2: nothing
metal strings
post eyelets 2
join neck.hot lever.a1 metered 0.4
join NECK.GROUND strings.case seen
join volume.2 lever.a0 or nothing unknown
";

fn photograph(ledger: &mut Ledger, original: &str, width: Option<u32>) -> Cite {
    ledger.keep(&Body::Photograph(Photograph1 {
        original: original.to_owned(),
        bytes: 10,
        name: "a.jpg".to_owned(),
        media: "image/jpeg".to_owned(),
        shareable: None,
        width,
        height: width,
        taken: None,
        part: None,
        caption: "the cavity".to_owned(),
    }))
}

fn job() -> Ledger {
    let mut ledger = Ledger::with(TRACE);
    photograph(&mut ledger, "one", Some(400));
    photograph(&mut ledger, "two", None);
    photograph(&mut ledger, "three", Some(800));
    ledger
}

fn mark(ledger: &Ledger, line: &str) -> Mark1 {
    match ledger.hear(line).unwrap_or_else(|error| panic!("{line}: {error:?}")).body {
        Body::Mark(mark) => mark,
        other => panic!("{line}: {other:?}"),
    }
}

#[test]
fn a_mark_is_heard_with_its_photograph_and_its_place() {
    let ledger = job();
    let entry = ledger.job.photographs[2].seq;
    for (line, photograph, of, x, y, side) in [
        ("mark lever.a1 on photo 3 at 41 % 27 %", "three", "lever.a1", 4100, 2700, None),
        ("mark LEVER.A1 on photograph 1 at 8.5% 100%", "one", "lever.a1", 850, 10_000, None),
        ("mark volume on photo 1 at 0 0,01 from the back", "one", "volume", 0, 1, Some("back")),
        (
            "mark strings.case on photo 1 at 5 % 5 % seen from the front",
            "one",
            "strings",
            500,
            500,
            Some("front"),
        ),
        (&format!("mark lever.a0 on entry {entry} at 33.333 % 1 %"), "three", "lever.a0", 3333, 100, None),
    ] {
        let heard = mark(&ledger, line);
        assert_eq!((heard.photograph.as_str(), heard.of.as_str()), (photograph, of), "{line}");
        assert_eq!((heard.x, heard.y, heard.seen_from.as_deref()), (x, y, side), "{line}");
    }
}

#[test]
fn what_is_wrong_with_a_mark_is_pointed_at() {
    let ledger = job();
    for (line, why, read) in [
        ("mark lever.a1 on photo 2 at 1 % 1 %", WhyNot::NoSuchPhotograph, "2"),
        ("mark lever.a1 on photo 9 at 1 % 1 %", WhyNot::NoSuchPhotograph, "9"),
        ("mark lever.a1 on entry 0 at 1 % 1 %", WhyNot::NoSuchPhotograph, "0"),
        ("mark lever.a1 on photo 1 at 101 % 1 %", WhyNot::NotOnThePicture, "101"),
        ("mark lever.a1 on photo 1 at 1 % -3 %", WhyNot::NotOnThePicture, "-3"),
        ("mark lever.a1 on photo 1 at 1 % inf", WhyNot::NotOnThePicture, "inf"),
        ("mark lever.a1 on photo 1 at 1 %", WhyNot::MarkIncomplete, "lever.a1 on photo 1 at 1 %"),
        (
            "mark lever.a1 on photo 1 at 1 % 1 % from above",
            WhyNot::MarkIncomplete,
            "lever.a1 on photo 1 at 1 % 1 % from above",
        ),
    ] {
        let error = ledger.hear(line).expect_err(line);
        assert_eq!((&error.why, error.read.as_str()), (&why, read), "{line}");
        assert_eq!(&line[error.place.clone()], read);
        assert!(!error.hints.is_empty(), "{line}");
    }
    let none = Ledger::with(TRACE).hear("mark lever.a1 on photo 1 at 1 % 1 %").unwrap_err();
    assert_eq!((none.why, none.hints.len()), (WhyNot::NoSuchPhotograph, 0));
}

#[test]
fn a_name_that_the_trace_does_not_have_is_doubted_and_kept() {
    let ledger = job();
    let doubt = |line: &str| ledger.hear(line).unwrap().doubt;
    let near = doubt("mark levr.a1 on photo 1 at 1 % 1 %");
    assert_eq!(near, Some(Doubt::NotTraced { likely: Some("lever.a1".to_owned()) }));
    assert_eq!(doubt("mark earth-wire on photo 1 at 1 % 1 %"), Some(Doubt::NotTraced { likely: None }));
    assert_eq!(doubt("mark volume on photo 1 at 1 % 1 %"), None, "a whole part");
    let mut bare = Ledger::opened();
    photograph(&mut bare, "one", Some(400));
    assert_eq!(bare.hear("mark levr.a1 on photo 1 at 1 % 1 %").unwrap().doubt, None, "nothing is traced yet");
}

#[test]
fn of_one_name_on_one_photograph_the_latest_mark_stands() {
    let mut ledger = job();
    ledger.say("mark lever.a1 on photo 1 at 10 % 10 %");
    ledger.say("mark neck.hot on photo 1 at 20 % 10 %");
    ledger.say("mark lever.a1 on photo 3 at 30 % 10 %");
    let again = ledger.say("mark lever.a1 on photo 1 at 40 % 10 %");
    let pictures = marks::pictures(&ledger.job);
    assert_eq!(
        pictures.iter().map(|picture| picture.number).collect::<Vec<_>>(),
        [1, 3],
        "the second does not show"
    );
    let places: Vec<_> = pictures[0].marks.iter().map(|mark| (mark.of.as_str(), mark.x)).collect();
    assert_eq!(places, [("lever.a1", 4000), ("neck.hot", 2000)]);
    assert_eq!(marks::look_at(&ledger.job, "Lever.A1"), Some((pictures[0].seq, "lever.a1".to_owned())));
    assert_eq!(
        marks::look_at(&ledger.job, "neck.ground"),
        Some((pictures[0].seq, "neck.hot".to_owned())),
        "its part"
    );
    assert_eq!(marks::look_at(&ledger.job, "volume.1"), None);
    let free = marks::unmarked(&lugs::known(&ledger.job), &pictures);
    assert_eq!(free.first().map(String::as_str), Some("neck.ground"));
    assert!(!free.contains(&"lever.a1".to_owned()));

    ledger.strike(&again);
    let pictures = marks::pictures(&ledger.job);
    assert_eq!(pictures[0].mark("lever.a1").map(|mark| mark.x), Some(1000), "the one before stands again");

    let seq = ledger.job.photographs[0].seq;
    let line = ledger.job.history.iter().find(|line| line.seq == seq).expect("it is in the history");
    let entry = Cite { seq, hash: line.hash, chain: ledger.job.chain.clone() };
    ledger.strike(&entry);
    assert_eq!(marks::pictures(&ledger.job).len(), 1);
    assert_eq!(
        marks::look_at(&ledger.job, "neck.hot").map(|(_, of)| of),
        None,
        "its photograph was struck out"
    );
    assert_eq!(marks::pictures(&ledger.job)[0].number, 3, "numbers stay");
}

#[test]
fn a_press_means_the_nearest_mark_within_reach() {
    let mut ledger = job();
    ledger.say("mark lever.a0 on photo 1 at 10 % 50 %");
    ledger.say("mark lever.a1 on photo 1 at 15 % 50 %");
    let picture = &marks::pictures(&ledger.job)[0];
    let pressed = |x, y| picture.pressed((x, y), (320, 320)).map(|mark| mark.of.as_str());
    // 5 % of 320 px are 16 px: less than a thumb is wide, and still told apart.
    assert_eq!((pressed(30, 165), pressed(52, 150)), (Some("lever.a0"), Some("lever.a1")));
    assert_eq!((pressed(39, 160), pressed(41, 160)), (Some("lever.a0"), Some("lever.a1")));
    assert_eq!((pressed(48 + marks::REACH, 160), pressed(49 + marks::REACH, 160)), (Some("lever.a1"), None));
}

#[test]
fn lugs_are_known_with_what_is_joined_to_them() {
    let ledger = job();
    let known = lugs::known(&ledger.job);
    let names: Vec<&str> = known.iter().map(|lug| lug.name.as_str()).collect();
    assert_eq!(
        names.join(" "),
        "neck.hot neck.ground neck.cover volume.1 volume.2 volume.3 volume.case lever.a0 lever.a1 strings eyelets.1 eyelets.2"
    );
    let joined = |name: &str| {
        let lug = &known[lugs::find(&known, name).unwrap()];
        lug.joined
            .iter()
            .map(|one| format!("{}{}", one.to, if one.perhaps { "?" } else { "" }))
            .collect::<Vec<_>>()
    };
    assert_eq!(joined("neck.hot"), ["lever.a1"]);
    assert_eq!(joined("strings.case"), ["NECK.GROUND"]);
    assert_eq!(joined("volume.2"), ["lever.a0?", "nothing?"]);
    assert_eq!(joined("lever.a0"), ["volume.2?"]);
    assert!(joined("neck.cover").is_empty());
}

#[test]
fn fields_make_the_line_that_a_hand_would_type() {
    for (from, to, how, said, line) in [
        ("neck.hot", "lever.a1", "metered", " 0.4 ", "join neck.hot lever.a1 metered 0.4"),
        ("neck hot", "lever a1", "metered", "", "join neck.hot lever.a1 metered"),
        ("neck.hot", "lever.a1", "seen", "photo  12", "join neck.hot lever.a1 seen photo 12"),
        (
            "neck.hot",
            "lever.a0 or lever a1 OR nothing",
            "unknown",
            "2:1:1",
            "join neck.hot lever.a0 or lever.a1 or nothing odds 2:1:1 unknown",
        ),
        ("neck.hot", "lever.a0 or nothing", "unknown", "", "join neck.hot lever.a0 or nothing unknown"),
    ] {
        assert_eq!(trace_line::join(from, to, how, said), line);
        assert!(Ledger::opened().hear(line).is_ok(), "{line}");
    }
    for (sort, name, value, plan, line) in [
        ("pot", "volume", "250k audio", "push-pull", "pot volume 250k audio"),
        ("capacitor", "tone cap", "22n", "", "capacitor tone-cap 22n"),
        ("switch", "lever", "", "five-way lever", "switch lever five-way lever"),
        ("switch", "rotary", "", "", "switch rotary"),
        ("jack", "jack", "", "", "jack jack"),
        ("post", "eyelets", "4", "", "post eyelets 4"),
    ] {
        assert_eq!(trace_line::part(sort, name, value, plan), line);
        assert!(Ledger::opened().hear(line).is_ok(), "{line}");
    }
}

#[test]
fn a_field_left_blank_is_pointed_at() {
    for line in [
        trace_line::join("", "lever.a1", "metered", ""),
        trace_line::join("neck.hot", "", "metered", ""),
        trace_line::join("neck.hot", "lever.a1 or", "unknown", ""),
        trace_line::join("neck.hot", "lever.a1", "", ""),
        trace_line::part("pot", " ", "250k", ""),
    ] {
        let error = Ledger::opened().hear(&line).expect_err(&line);
        assert!(matches!(error.why, WhyNot::Trace(_)), "{line}: {error:?}");
        assert_eq!(error.read, trace_line::BLANK, "{line}");
    }
}

proptest! {
    /// Where a press was lies at the press again, to the pixel, at any size up to a wide screen.
    #[test]
    fn a_spot_lies_where_it_was_pressed(wide in 1_u32..4000, high in 1_u32..4000, x in 0.0..1.0_f64, y in 0.0..1.0_f64) {
        let press = ((f64::from(wide) * x) as u32, (f64::from(high) * y) as u32);
        let spot = marks::spot(press, (wide, high));
        prop_assert!(spot.0 <= marks::WHOLE && spot.1 <= marks::WHOLE);
        let back = |spot: u32, shown: u32| f64::from(spot) / f64::from(marks::WHOLE) * f64::from(shown);
        prop_assert!((back(spot.0, wide) - f64::from(press.0)).abs() <= 1.0);
        prop_assert!((back(spot.1, high) - f64::from(press.1)).abs() <= 1.0);
    }

    /// The line that a mark is told by is heard as the same mark.
    #[test]
    fn a_mark_is_heard_again_from_its_own_line(x in 0..=10_000_u32, y in 0..=10_000_u32, side in 0..3_usize) {
        let side = [None, Some("back"), Some("front")][side];
        let heard = mark(&job(), &marks::line("lever.a1", 3, (x, y), side));
        prop_assert_eq!((heard.x, heard.y, heard.seen_from.as_deref()), (x, y, side));
    }

    /// Whatever is typed behind the word, nothing breaks.
    #[test]
    fn any_words_behind_mark_are_answered(words in ".{0,60}") {
        let _ = job().hear(&format!("mark x on {words}"));
        let _ = job().hear(&trace_line::join(&words, &words, "metered", &words));
        let _ = job().hear(&trace_line::part("coil", &words, &words, &words));
    }
}
