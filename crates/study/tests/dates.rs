//! When a piece was put together and which parts were there then, from lines as they are said at a bench.

mod common;

use asfound_study::dates::{GivesWay, Look, MarkSays, PartWeighed, Verdict, Weighed, study};
use asfound_study::material::Material;
use asfound_study::record::{Body, Piece1};
use common::Ledger;

fn weighed(family: &str, words: &str, lines: &str) -> Weighed {
    let mut ledger = Ledger::opened();
    let (piece, family, words) = ("i-1".to_owned(), family.to_owned(), words.to_owned());
    let (maker, serial, origin, owner) = (None, None, None, None);
    ledger.keep(&Body::Piece(Piece1 { piece, family, words, maker, serial, origin, owner }));
    ledger.say_all(lines);
    let material = Material::of(ledger.job, asfound_study::Job::default());
    (*study(&material)).clone()
}

fn part<'w>(weighed: &'w Weighed, name: &str) -> &'w PartWeighed {
    weighed.parts.iter().find(|part| part.name == name).unwrap_or_else(|| panic!("{name}"))
}

const TWO_POTS: &str = "
part volume pot, pot, control plate
part tone pot, pot, control plate
part bridge coil, coil, bridge
volume pot: stamped 1376338
tone pot: stamped 137-6411, joints undisturbed
";

#[test]
fn two_pots_of_one_age_date_the_whole_and_are_original() {
    let weighed = weighed("guitar", "Solid body, two single coils", TWO_POTS);
    let whole = weighed.whole.as_ref().expect("it is dated");
    // The later pot is of the ninth to the twenty-first of March 1964 at the earliest, over every rule of counting weeks.
    assert_eq!(whole.not_before.map(|day| day.to_string()).as_deref(), Some("1964-03-08"));
    assert_eq!(whole.year.0, 1964);
    assert_eq!(whole.highest.first().map(|span| span.first.to_string()).as_deref(), Some("1964-03"));
    for name in ["volume pot", "tone pot"] {
        let pot = part(&weighed, name);
        assert_eq!(pot.verdict, Verdict::Original, "{name}");
        assert!(pot.least < pot.original && pot.original < pot.most);
        assert_eq!(pot.harness.as_deref(), Some("the harness"));
    }
    let coil = part(&weighed, "bridge coil");
    assert!(!coil.looked_at && coil.verdict == Verdict::NotDecided && coil.made.is_none());
    assert!(weighed.together.as_ref().is_some_and(|together| together.reconciled.is_empty()));
}

/// A guitar that everything else dates to 1972 has a pot of March 1989. The pot is later; the rest stands.
#[test]
fn a_pot_seventeen_years_too_young_is_a_later_part_and_dates_nothing_else() {
    let weighed = weighed(
        "guitar",
        "Solid body, early 1970s by its looks",
        "
part volume pot, pot, guard
part tone pot, pot, guard
part selector, switch, guard
volume pot: stamped 1378912, bright solder over dull
tone pot: stamped 1377205
selector: stamped 1377149
piece: serial 123456, by a published list 1972
",
    );
    assert_eq!(part(&weighed, "volume pot").verdict, Verdict::LaterReplacement);
    assert_eq!(part(&weighed, "tone pot").verdict, Verdict::Original);
    assert_eq!(weighed.whole.as_ref().map(|whole| whole.year.0), Some(1972));
    let together = weighed.together.as_ref().expect("marks bound the day");
    assert!(together.assembly.is_empty() && together.proved);
    let at = weighed.parts.iter().position(|part| part.name == "volume pot").expect("it is there");
    assert_eq!(together.reconciled[0].gives_way, [GivesWay::Part(at)]);
}

/// Two transformers with one digit for the year, and looks of 1968 to 1978.
#[test]
fn single_digit_years_keep_every_decade_until_looks_or_papers_narrow_them() {
    let lines = "
part mains transformer, transformer, chassis
part output transformer, transformer, chassis
mains transformer: stamped 606452
output transformer: stamped 606602
";
    let open = weighed("amplifier", "Valve combo", lines);
    let MarkSays::Code(stamp) = &open.marks[0].says else { panic!("{:?}", open.marks[0]) };
    assert!(stamp.years().ends_with(&[1994, 2004, 2014, 2024]) && stamp.years().contains(&1954));
    let decades = |weighed: &Weighed| {
        let highest = weighed.whole.as_ref().expect("dated").highest.clone();
        let mut decades: Vec<i32> = highest.iter().map(|span| span.first.year() / 10).collect();
        decades.dedup();
        decades
    };
    assert!(decades(&open).len() > 3, "the decade is not in the stamps: {:?}", decades(&open));
    let told = weighed("amplifier", "Valve combo, 1970s by its looks", lines);
    let whole = told.whole.as_ref().expect("dated");
    assert_eq!(whole.year.0, 1976);
    assert_eq!(part(&told, "output transformer").harness, None, "an amplifier is no harness");
}

#[test]
fn a_claim_is_held_against_the_parts_and_a_paper_against_both() {
    let weighed = weighed(
        "guitar",
        "Solid body, two single coils",
        &format!("{TWO_POTS}claim seller: all original, 1962\ndocument receipt, 30 June 1963: one guitar\n"),
    );
    let claim = &weighed.claims[0];
    assert_eq!((claim.source.as_str(), claim.years), ("seller", Some((1962, 1962))));
    let against: Vec<usize> = claim.against_years.iter().map(|(place, _)| *place).collect();
    assert_eq!(against, [0, 1], "both pots would have to be later");
    assert!(claim.original && claim.parts.len() == 3);
    // The receipt of 1963 contradicts both pots: it is wrong, or the harness was replaced, or both pots were.
    let together = weighed.together.as_ref().expect("bounded");
    assert_eq!(together.at_least, 1);
    let sets: Vec<usize> = together.reconciled.iter().map(|way| way.gives_way.len()).collect();
    assert!(sets.starts_with(&[1, 1]) && sets.contains(&2), "{sets:?}");
    assert!(together.reconciled.iter().any(|way| way.gives_way == [GivesWay::Harness(0)]));
}

#[test]
fn a_part_made_here_is_new_whatever_is_on_it() {
    let lines = format!("{TWO_POTS}made volume pot: new shaft in an old case, aged; marked 26-014 inside\n");
    let weighed = weighed("guitar", "Solid body", &lines);
    let pot = part(&weighed, "volume pot");
    assert_eq!(pot.verdict, Verdict::MadeHere);
    assert!(pot.looked_at && pot.flips.is_empty());
    let whole = weighed.whole.as_ref().expect("the other pot dates it");
    assert_eq!(whole.not_before.map(|day| day.to_string()).as_deref(), Some("1964-03-08"));
    assert!(weighed.looks.iter().all(|look| weighed.parts[look.part].name != "volume pot"));
}

#[test]
fn the_next_look_is_offered_where_it_tells_most() {
    let lines = "
part volume pot, pot, control plate
part tone pot, pot, control plate
part guard, guard, front
volume pot: stamped 137 6?38
";
    let weighed = weighed("guitar", "Solid body", lines);
    let first = &weighed.looks[0];
    assert!(matches!(first.what, Look::ReadDigits(0) | Look::ReadMark), "{first:?}");
    assert!(first.bits.0 > 0.1, "it tells of the year: {first:?}");
    let all: Vec<&Look> = weighed.looks.iter().map(|look| &look.what).collect();
    assert!(all.contains(&&Look::Screws) || all.contains(&&Look::Outline), "{all:?}");
    let per_minute = |at: usize| {
        let look = &weighed.looks[at];
        (look.bits.0 + look.bits.1) / look.minutes
    };
    assert!((1..weighed.looks.len()).all(|at| per_minute(at - 1) >= per_minute(at)));
}

#[test]
fn what_cannot_be_read_says_why_and_takes_nothing_with_it() {
    let lines =
        format!("{TWO_POTS}part jack, jack, edge\njack: stamped 1370060\nbridge coil: stamp illegible\n");
    let weighed = weighed("guitar", "Solid body", &lines);
    let says = |name: &str| &weighed.marks.iter().find(|mark| mark.name == name).expect(name).says;
    assert!(matches!(says("jack"), MarkSays::NoCode(_)), "{:?}", says("jack"));
    assert_eq!(*says("bridge coil"), MarkSays::Unread);
    assert_eq!(part(&weighed, "volume pot").verdict, Verdict::Original);
}

#[test]
fn nothing_said_is_nothing_weighed() {
    let weighed = weighed("guitar", "Solid body", "part guard, guard, front");
    assert!(weighed.whole.is_none() && weighed.together.is_none() && weighed.fault.is_none());
    assert_eq!(part(&weighed, "guard").verdict, Verdict::NotDecided);
}

#[test]
fn a_code_later_than_the_inspection_is_refused_with_its_place() {
    let lines = "part volume pot, pot, plate\nvolume pot: stamped 137-4038";
    let weighed = weighed("guitar", "Solid body", lines);
    let MarkSays::NoCode(fault) = &weighed.marks[0].says else { panic!("{:?}", weighed.marks[0]) };
    assert!(!fault.read.is_empty() && fault.to_string().contains("no year from 1945 to"), "{fault}");
}
