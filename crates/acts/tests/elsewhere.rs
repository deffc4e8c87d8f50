//! Jobs from other workshops are taken in, listed, read, gone on from, and never written.

mod common;

use asfound_acts::{ActError, Meeting, NewJob, Trouble};
use common::{Bench, bench, kept, sentence, titled, with_a_job};

/// Another workshop's job, and its lines.
fn theirs() -> (Bench, String, String) {
    let (there, number) = with_a_job();
    kept(&there.workshop, &number, "neck 6k31 21C", "a");
    let lines = there.workshop.lines(&number).unwrap().0;
    (there, number, lines)
}

#[test]
fn a_job_from_elsewhere_is_listed_and_read_beside_one_of_the_same_number() {
    let (_there, number, lines) = theirs();
    let here = bench();
    let ours = here.workshop.open_job(&titled("Ours")).unwrap();
    assert_eq!(ours, number);
    let taken = here.workshop.take_in(&lines).unwrap();
    assert_eq!((taken.len(), taken[0].added, taken[0].variant), (1, 4, 0));
    let listed = here.workshop.from_elsewhere().unwrap();
    assert_eq!(listed.len(), 1);
    assert_eq!((listed[0].card.number.as_str(), listed[0].copy), (number.as_str(), 0));
    assert_eq!(listed[0].card.title, "Short-scale bass, two coils");
    let far = &listed[0].number;
    assert!(here.workshop.is_from_elsewhere(far).unwrap());
    assert!(!here.workshop.is_from_elsewhere(&ours).unwrap());
    assert_eq!(here.workshop.job(far).unwrap().readings[0].body.shown.text, "6k31");
    assert_eq!(here.workshop.lines(far).unwrap().0, lines, "byte for byte");
    assert_eq!(here.workshop.cards().unwrap().len(), 1);
    let found = here.workshop.search("coils", 9).unwrap();
    assert_eq!(here.workshop.number_of(&found[0].cite.chain, 0).unwrap().as_ref(), Some(far));
    assert!(here.workshop.verify().unwrap().is_whole());
}

#[test]
fn a_job_from_elsewhere_is_never_written() {
    let (_there, _, lines) = theirs();
    let here = bench();
    here.workshop.take_in(&lines).unwrap();
    let far = here.workshop.from_elsewhere().unwrap()[0].number.clone();
    let (_, head) = here.workshop.lines(&far).unwrap();
    let errors = [
        here.workshop.say(&far, "neck 6k32", "a").unwrap_err(),
        here.workshop.correct(&far, 2, "neck 6k32", "b").unwrap_err(),
        here.workshop.strike(&far, 2, "no", "c").unwrap_err(),
        here.workshop.keep_note(&far, "no", "d").unwrap_err(),
        here.workshop.keep_photograph(&far, "a", b"a", None, "", None).unwrap_err(),
        here.workshop.decide(&far, "a", "b", "taken", "e").unwrap_err(),
        here.workshop.left_at(&far, "piece").unwrap_err(),
        here.workshop.issue(&far, b"paper", &head, &Default::default()).unwrap_err(),
    ];
    for error in errors {
        assert!(matches!(error, ActError::Foreign(_)), "{error}");
        sentence(&error);
    }
    assert_eq!(here.workshop.lines(&far).unwrap().1, head);
}

#[test]
fn content_of_a_job_from_elsewhere_can_be_withheld_here() {
    let (_there, _, lines) = theirs();
    let here = bench();
    here.workshop.take_in(&lines).unwrap();
    let far = here.workshop.from_elsewhere().unwrap()[0].number.clone();
    here.workshop.withhold(&far, 3, "Owner", "asked", "w").unwrap();
    assert!(here.workshop.job(&far).unwrap().readings.is_empty());
    assert_eq!(here.workshop.job(&far).unwrap().history.len(), 4);
    // It stays withheld when the file comes again.
    here.workshop.take_in(&lines).unwrap();
    assert!(here.workshop.job(&far).unwrap().readings.is_empty());
    assert!(here.workshop.verify().unwrap().is_whole());
}

#[test]
fn taken_in_twice_longer_and_differing() {
    let (there, number, lines) = theirs();
    let here = bench();
    here.workshop.take_in(&lines).unwrap();
    let again = here.workshop.take_in(&lines).unwrap();
    assert_eq!((again[0].meeting, again[0].added), (Meeting::Same, 0));

    kept(&there.workshop, &number, "neck 6k33 21C", "b");
    let longer = there.workshop.lines(&number).unwrap().0;
    let taken = here.workshop.take_in(&longer).unwrap();
    assert_eq!((taken[0].meeting, taken[0].added), (Meeting::Extends { by: 1 }, 1));
    assert_eq!(here.workshop.take_in(&lines).unwrap()[0].meeting, Meeting::Shorter);
    assert_eq!(here.workshop.from_elsewhere().unwrap()[0].card.entries, 5);

    // The same job as it went on in a copy of their folder: it parts ways, is kept beside, and is said.
    let copy = there.folder.with_file_name("copy");
    there.workshop.copy_to(&copy).unwrap();
    let first = here.workshop.lines(&here.workshop.from_elsewhere().unwrap()[0].number).unwrap().0;
    kept(&there.workshop, &number, "neck 6k34 21C", "c");
    here.workshop.take_in(&there.workshop.lines(&number).unwrap().0).unwrap();
    let parted = asfound_acts::Workshop::open(&copy).unwrap();
    kept(&parted, &number, "neck 9k99", "z");
    let taken = here.workshop.take_in(&parted.lines(&number).unwrap().0).unwrap();
    assert_eq!((taken[0].meeting, taken[0].variant), (Meeting::Differs { at_seq: 5 }, 1));
    let listed = here.workshop.from_elsewhere().unwrap();
    assert_eq!(listed.iter().map(|far| far.copy).collect::<Vec<_>>(), [0, 1]);
    let beside = &listed[1].number;
    assert_eq!(here.workshop.job(beside).unwrap().readings[2].body.shown.text, "9k99");
    assert_eq!(here.workshop.job(&listed[0].number).unwrap().readings[2].body.shown.text, "6k34");
    assert!(here.workshop.lines(beside).unwrap().0.starts_with(&first));
    assert!(here.workshop.verify().unwrap().is_whole());
}

#[test]
fn work_goes_on_in_a_job_of_ones_own_that_cites_the_head() {
    let there = bench();
    let told = NewJob {
        family: "bass".into(),
        words: "Short-scale bass".into(),
        serial: "0?147".into(),
        owner: "Mirabel Oakhanger".into(),
        ..titled("No sound")
    };
    let number = there.workshop.open_job(&told).unwrap();
    let lines = there.workshop.lines(&number).unwrap().0;
    let here = bench();
    here.workshop.take_in(&lines).unwrap();
    let far = here.workshop.from_elsewhere().unwrap()[0].number.clone();
    let new = NewJob { origin: "sent on by another workshop".into(), ..titled("Goes on") };
    let ours = here.workshop.go_on_from(&far, &new, "g").unwrap();
    assert_eq!(here.workshop.go_on_from(&far, &new, "g").unwrap(), ours);
    let (job, before) = (here.workshop.job(&ours).unwrap(), here.workshop.job(&far).unwrap());
    let (piece, piece_before) = (&job.piece.as_ref().unwrap().body, &before.piece.as_ref().unwrap().body);
    assert_eq!(job.opened.as_ref().unwrap().body.continues, before.head.cite());
    assert_eq!(piece.piece, piece_before.piece, "the piece is the same across jobs");
    assert_eq!((piece.family.as_str(), piece.serial.as_deref()), ("bass", Some("0?147")));
    assert_eq!(piece.origin.as_deref(), Some("sent on by another workshop"));
    assert_eq!(piece.owner, None);
    kept(&here.workshop, &ours, "part neck coil, coil, neck", "p");
    assert!(matches!(here.workshop.go_on_from("26-999", &new, "h"), Err(ActError::NoSuchJob(_))));
}

#[test]
fn ones_own_lines_are_looked_at_and_never_taken_in() {
    let (here, number) = with_a_job();
    let lines = here.workshop.lines(&number).unwrap().0;
    assert_eq!(here.workshop.take_in(&lines).unwrap()[0].meeting, Meeting::Same);
    let copy = here.folder.with_file_name("copy");
    here.workshop.copy_to(&copy).unwrap();
    let beyond = asfound_acts::Workshop::open(&copy).unwrap();
    kept(&beyond, &number, "neck 6k31", "x");
    // With one of theirs in the same file: nothing of the file is taken in.
    let (_there, _, other) = theirs();
    let error = here.workshop.take_in(&format!("{other}{}", beyond.lines(&number).unwrap().0)).unwrap_err();
    assert_eq!(error.trouble(), Trouble::NotTaken);
    sentence(&error);
    assert!(here.workshop.from_elsewhere().unwrap().is_empty());
}

#[test]
fn a_file_that_does_not_hold_together_is_refused_with_its_place() {
    let (_there, _, lines) = theirs();
    let here = bench();
    let whole: Vec<&str> = lines.lines().collect();
    let refused = [
        (String::new(), "file is empty"),
        ("\n \n".to_owned(), "file is empty"),
        ("a shopping list".to_owned(), "Line 1"),
        (lines.replacen("6k31", "6k13", 1), "Line 4"),
        (format!("{}\n{}\n", whole[0], whole[2]), "entry 1 was due"),
        (format!("{lines}{}\n", whole[3]), "entry 4 was due"),
    ];
    for (text, says) in refused {
        let error = here.workshop.take_in(&text).unwrap_err();
        assert!(sentence(&error).contains(says), "{error}");
        assert_eq!(error.trouble(), Trouble::NotTaken);
    }
    assert!(here.workshop.from_elsewhere().unwrap().is_empty());
    // Line ends of another system are no fault.
    assert_eq!(here.workshop.take_in(&lines.replace('\n', "\r\n")).unwrap()[0].added, 4);
}
