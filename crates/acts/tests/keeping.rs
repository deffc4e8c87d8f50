//! Entries are kept once, corrected, struck out, decided on, and put in order whatever the clock says.

mod common;

use asfound_acts::{ActError, NewJob, Said, Trouble};
use common::{bench, kept, sentence, titled, with_a_job};

#[test]
fn a_form_sent_twice_keeps_once_and_one_sent_with_other_words_is_refused() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let first = kept(workshop, &number, "neck 6k31 21C", "d-1");
    assert_eq!(kept(workshop, &number, "neck 6k31 21C", "d-1"), first);
    // A part is given its number when it is kept; said again it is still the same part.
    let part = kept(workshop, &number, "part bridge coil, coil, bridge", "d-2");
    assert_eq!(kept(workshop, &number, "part bridge coil, coil, bridge", "d-2"), part);
    let error = workshop.say(&number, "neck 6k99", "d-1").unwrap_err();
    assert!(matches!(error, ActError::SaidBefore { seq } if seq == first), "{error}");
    assert_eq!(error.trouble(), Trouble::NotTaken);
    sentence(&error);
    let note = workshop.keep_note(&number, "smells of damp", "d-3").unwrap();
    assert_eq!(workshop.keep_note(&number, "smells of damp", "d-3").unwrap(), note);
    assert_eq!(workshop.strike(&number, note, "wrong piece", "d-4").unwrap(), note + 1);
    assert_eq!(workshop.strike(&number, note, "wrong piece", "d-4").unwrap(), note + 1);
    let job = workshop.job(&number).unwrap();
    assert_eq!((job.readings.len(), job.parts.len(), job.history.len() as u64), (1, 2, note + 2));
}

#[test]
fn a_job_opened_twice_with_one_draft_is_one_job() {
    let bench = bench();
    let new = NewJob { owner: "Mirabel Oakhanger".into(), ..titled("Lap steel, lacquer crazed") };
    let number = bench.workshop.open_job_once(&new, "d-1").unwrap();
    assert_eq!(bench.workshop.open_job_once(&new, "d-1").unwrap(), number);
    assert_eq!(bench.workshop.cards().unwrap().len(), 1);
    assert_eq!(bench.workshop.about().unwrap().persons.len(), 2);
    assert_eq!(number, "26-001");
}

#[test]
fn numbers_go_on_and_are_given_once() {
    let bench = bench();
    let numbered = |number: &str| NewJob { number: number.to_owned(), ..titled("One") };
    assert_eq!(bench.workshop.open_job(&numbered("26-014")).unwrap(), "26-014");
    assert_eq!(bench.workshop.open_job(&numbered("")).unwrap(), "26-015");
    bench.set_clock("2027-01-02T09:00:00+01:00");
    assert_eq!(bench.workshop.open_job(&numbered("")).unwrap(), "27-001");
    let error = bench.workshop.open_job(&numbered("26-014")).unwrap_err();
    assert!(matches!(error, ActError::NumberTaken(_)), "{error}");
    sentence(&error);
    let long = "9".repeat(70);
    for bad in ["../26", "a b", "<script>", "ü", "-1", "a/b", long.as_str()] {
        let error = bench.workshop.open_job(&numbered(bad)).unwrap_err();
        assert!(matches!(error, ActError::BadNumber(_)), "{bad}: {error}");
        sentence(&error);
    }
    let error = bench.workshop.open_job(&titled("  ")).unwrap_err();
    assert_eq!((error.trouble(), sentence(&error).contains("title")), (Trouble::NotTaken, true));
    // Nothing of a job that was refused is kept.
    assert_eq!(bench.workshop.cards().unwrap().len(), 3);
}

#[test]
fn jobs_opened_at_the_same_time_have_numbers_of_their_own() {
    let bench = bench();
    let workshop = &bench.workshop;
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| (0..5).for_each(|_| drop(workshop.open_job(&titled("Same")).unwrap())));
        }
    });
    let mut numbers: Vec<String> = workshop.cards().unwrap().into_iter().map(|card| card.number).collect();
    numbers.sort();
    let wanted: Vec<String> = (1..=20).map(|at| format!("26-{at:03}")).collect();
    assert_eq!(numbers, wanted);
}

#[test]
fn parts_named_at_the_same_time_have_numbers_of_their_own() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    std::thread::scope(|scope| {
        for hand in 0..4 {
            let number = &number;
            scope.spawn(move || {
                for at in 0..5 {
                    kept(workshop, number, "part screw, screw, guard", &format!("{hand}-{at}"));
                }
            });
        }
    });
    let job = workshop.job(&number).unwrap();
    let mut ids: Vec<&str> = job.parts.iter().map(|part| part.item.body.part.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), 21);
    assert!(job.findings.is_empty());
}

#[test]
fn a_corrected_part_keeps_its_number_and_its_name_in_the_trace() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    kept(workshop, &number, "coil bridge 4k9", "t");
    let seq = kept(workshop, &number, "part bridge coil, coil, bridge", "p");
    let before = workshop.job(&number).unwrap().part("P2").unwrap().item.body.clone();
    assert_eq!(before.traced_as.as_deref(), Some("bridge"));
    let said = workshop.correct(&number, seq, "part bridge coil, coil, middle", "c").unwrap();
    assert!(matches!(said, Said::Kept { .. }));
    let job = workshop.job(&number).unwrap();
    let after = &job.part("P2").unwrap().item.body;
    assert_eq!((after.place.as_str(), &after.traced_as), ("middle", &before.traced_as));
    assert_eq!(job.parts.len(), 2);
    // The correction is corrected again, and the part is still the same.
    let last = job.parts[1].item.seq;
    workshop.correct(&number, last, "part bridge coil, coil, bridge", "c2").unwrap();
    assert_eq!(workshop.job(&number).unwrap().part("P2").unwrap().item.body, before);
}

#[test]
fn what_is_struck_out_stays_readable_and_stands_no_more() {
    let (bench, number) = with_a_job();
    let seq = kept(&bench.workshop, &number, "neck 6k31", "r");
    let error = bench.workshop.strike(&number, seq, " ", "s0").unwrap_err();
    assert!(sentence(&error).contains("reason"));
    let struck = bench.workshop.strike(&number, seq, "wrong coil", "s").unwrap();
    let job = bench.workshop.job(&number).unwrap();
    assert!(job.readings.is_empty());
    assert!(job.body(seq).is_some());
    assert_eq!(job.history[seq as usize].standing, asfound_record::Standing::Struck { by: struck });
}

#[test]
fn of_several_decisions_the_last_stands() {
    let (bench, number) = with_a_job();
    let decide = |decision: &str, draft: &str| {
        bench.workshop.decide(&number, "tap-bridge", "Tap the bridge coil.", decision, draft).unwrap()
    };
    decide("taken", "a");
    assert_eq!(bench.workshop.cards().unwrap()[0].waits[0].name, "Tap the bridge coil.");
    let done = decide("done", "b");
    assert_eq!(decide("done", "b"), done);
    assert!(
        bench.workshop.cards().unwrap()[0].waits.iter().all(|waiting| waiting.name != "Tap the bridge coil.")
    );
}

#[test]
fn what_is_not_there_is_said_so() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let errors = [
        workshop.say("26-999", "neck 6k31", "a").unwrap_err(),
        workshop.job("elsewhere-0123456789ab").unwrap_err(),
        workshop.correct(&number, 99, "neck 6k31", "b").unwrap_err(),
        workshop.strike(&number, u64::MAX, "no", "c").unwrap_err(),
        workshop.part_named(&number, "nekc").unwrap_err(),
        workshop.preview("not a hash", 480).unwrap_err(),
        workshop.preview(&"0".repeat(64), 480).unwrap_err(),
        workshop.lines("26-999").unwrap_err(),
    ];
    for error in errors {
        sentence(&error);
        assert_eq!(error.trouble(), Trouble::NotThere, "{error}");
    }
    assert!(matches!(workshop.say(&number, "nekc 6k31", "d").unwrap(), Said::NotHeard(_)));
    assert_eq!(workshop.job(&number).unwrap().history.len(), 3);
}

#[test]
fn a_clock_that_steps_back_is_kept_and_orders_nothing() {
    let bench = bench();
    let workshop = &bench.workshop;
    let first = workshop.open_job(&titled("First")).unwrap();
    let second = workshop.open_job(&titled("Second")).unwrap();
    let order = || workshop.cards().unwrap().into_iter().map(|card| card.number).collect::<Vec<_>>();
    assert_eq!(order(), [second.as_str(), first.as_str()]);
    bench.set_clock("2020-01-01T00:00:00+01:00");
    let seq = kept(workshop, &first, "piece: smells of damp", "n");
    let job = workshop.job(&first).unwrap();
    let line = &job.history[seq as usize];
    assert!(line.clock_stepped_back);
    assert_eq!(line.at, "2020-01-01T00:00:00+01:00");
    // The job that was worked in last comes first, whatever the clock said.
    assert_eq!(order(), [first.as_str(), second.as_str()]);
    let bench = bench.reopened();
    assert_eq!(bench.workshop.cards().unwrap()[0].number, first);
    assert!(bench.workshop.verify().unwrap().is_whole());
}

#[test]
fn a_clock_that_is_none_keeps_nothing() {
    let (bench, number) = with_a_job();
    bench.set_clock("yesterday");
    let error = bench.workshop.say(&number, "neck 6k31", "a").unwrap_err();
    assert!(matches!(error, ActError::Store(_)), "{error}");
    assert_eq!(bench.workshop.job(&number).unwrap().history.len(), 3);
}

#[test]
fn the_page_is_remembered_on_which_the_hand_left_off() {
    let (bench, number) = with_a_job();
    assert_eq!(bench.workshop.return_to(&number), None);
    bench.workshop.left_at(&number, "readings").unwrap();
    kept(&bench.workshop, &number, "neck 6k31", "a");
    let bench = bench.reopened();
    assert_eq!(bench.workshop.return_to(&number).as_deref(), Some("readings"));
}

#[test]
fn exported_lines_verify_with_nothing_but_themselves() {
    let (bench, number) = with_a_job();
    kept(&bench.workshop, &number, "neck 6k31 21C", "a");
    let (text, head) = bench.workshop.lines(&number).unwrap();
    let reports = asfound_acts::verify_lines(&text);
    assert_eq!(reports.len(), 1);
    assert!(reports[0].is_whole());
    assert_eq!(reports[0].head.as_ref().and_then(asfound_record::Head::cite), Some(head));
    let touched = text.replace("6k31", "6k13");
    assert!(!asfound_acts::verify_lines(&touched)[0].is_whole());
}
