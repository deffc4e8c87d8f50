//! The fold: what stands, how each entry stands, what was as found.

use std::fmt::Write as _;

use asfound_record::*;

use crate::sample::{self, Writer, act, frozen_chain, note, opening, part, piece, resistance, seen};

fn standing(job: &Job, seq: u64) -> &Standing {
    &job.history[seq as usize].standing
}

#[test]
fn the_sample_job_as_a_document() {
    insta::assert_snapshot!(document(&fold(&frozen_chain(sample::JOB))));
}

/// Writes a job out as a person would read it.
fn document(job: &Job) -> String {
    let mut page = String::new();
    let title = job.opened.as_ref().map_or("", |opened| &opened.body.title);
    let piece = job.piece.as_ref().map_or("", |piece| &piece.body.words);
    writeln!(page, "{title}\n{piece}\nchain {}, next entry {}\n", job.chain, job.head.next).unwrap();
    let words = |places: &[usize]| -> String {
        places.iter().map(|&place| format!("\n    {}", job.observed[place].body.words)).collect()
    };
    for part in &job.parts {
        writeln!(page, "{} {}, found at: {}", part.item.body.part, part.item.body.name, part.item.body.place)
            .unwrap();
        writeln!(page, "  first disturbed: {:?}", part.first_disturbed).unwrap();
        writeln!(page, "  as found:{}\n  later:{}", words(&part.as_found), words(&part.later)).unwrap();
        for &place in &part.readings {
            let reading = &job.readings[place];
            let contested = if reading.contested { ", contested" } else { "" };
            let Quantity1 { text, amount, unit } = &reading.body.shown;
            writeln!(page, "  read {text} = {amount:?} {unit}, versions {:?}{contested}", reading.versions)
                .unwrap();
        }
        for &place in &part.photographs {
            writeln!(page, "  photograph: {}", job.photographs[place].body.caption).unwrap();
        }
        for &place in &part.acts {
            let act = &job.acts[place].body;
            let parked = act.parked.as_ref().map(|parked| parked.next.as_str());
            writeln!(page, "  act: {} next: {parked:?}", act.words).unwrap();
        }
    }
    writeln!(page, "the whole, as found:{}\n", words(&job.whole.as_found)).unwrap();
    for money in &job.money {
        writeln!(page, "{} {} {}", money.body.words, money.body.minor, money.body.currency).unwrap();
    }
    for note in &job.notes {
        writeln!(page, "note: {}", note.body.words).unwrap();
    }
    writeln!(page, "others {:?}, unbound {:?}, findings {:?}\n", job.others, job.unbound, job.findings)
        .unwrap();
    for line in &job.history {
        let back = if line.clock_stepped_back { ", clock stepped back" } else { "" };
        let (seq, kind, standing) = (line.seq, &line.kind, &line.standing);
        writeln!(page, "{seq:>2} {} {kind:<12} {standing:?}{back}", line.at).unwrap();
    }
    page
}

#[test]
fn the_workshop_s_chain_folds_too() {
    let job = fold(&frozen_chain(sample::WORKSHOP));
    assert!(job.workshop.is_some());
    let counts = [job.persons.len(), job.meters.len(), job.jobs.len(), job.keys.len(), job.seals.len()];
    assert_eq!(counts, [2, 1, 1, 2, 1]);
    assert_eq!((job.opened, job.piece), (None, None));
    assert_eq!(job.findings, []);
}

#[test]
fn measurements_in_files_bind_to_the_part_as_readings_do() {
    let lines = sample::FROZEN_SWEEPS.lines().map(|line| Entry::from_line(line).unwrap());
    let job = fold(&lines.filter(|entry| entry.envelope().chain == "j-77aa10").collect::<Vec<_>>());
    let hows: Vec<&str> = job.sweeps.iter().map(|item| item.body.how.as_str()).collect();
    assert_eq!(hows, ["impedance sweep", "resistor test"], "the withheld one is in no list");
    assert_eq!(job.part("P1").unwrap().sweeps, [0, 1]);
    assert_eq!(job.sweeps[1].versions, [3, 4]);
    assert_eq!(job.sweeps[1].body.resistors[0].text, "9k96");
    assert_eq!(*standing(&job, 5), Standing::Withheld { by: Some(6) });

    let mut chain = Writer::new("j");
    chain.keep("02T09:00:00", &sample::sweep("P7", "impedance sweep", &["sweep"], &[]));
    let job = fold(&chain.entries);
    assert_eq!((job.sweeps.len(), job.unbound), (1, vec![0]));
}

#[test]
fn what_belongs_to_the_circuit_stands_in_lists_of_its_own() {
    let lines = sample::FROZEN_CIRCUIT.lines().map(|line| Entry::from_line(line).unwrap());
    let job = fold(&lines.collect::<Vec<_>>());
    assert_eq!(job.probings.len(), 1, "the corrected one is not told twice");
    assert_eq!((job.probings[0].body.to.as_str(), &job.probings[0].versions[..]), ("lever.a2", &[1, 2][..]));
    assert_eq!(job.marks.iter().map(|item| item.body.x).collect::<Vec<_>>(), [4100, 4150]);
    assert_eq!(job.wishes[0].body.words, "bridge and middle in series");
    assert_eq!(job.unbound, [0; 0]);
}

#[test]
fn what_is_said_and_what_was_made_stand_apart_from_what_was_seen() {
    let lines = sample::FROZEN_DATES.lines().map(|line| Entry::from_line(line).unwrap());
    let job = fold(&lines.collect::<Vec<_>>());
    let said: Vec<&str> = job.testimonies.iter().map(|item| item.body.words.as_str()).collect();
    assert_eq!(said, ["all original, 1963", "one bass, used", "cracked when she got it"]);
    assert_eq!(job.testimonies[1].body.dated.as_deref(), Some("12 May 1964"));
    assert!(job.made[0].body.aged && job.made[0].body.mark.is_some());
    assert_eq!((job.observed.len(), &job.unbound[..]), (0, &[][..]));

    let mut chain = Writer::new("j");
    let made = Made1 { part: "P7".into(), words: "copied".into(), aged: false, mark: None, happened: None };
    chain.keep("02T09:00:00", &Body::Made(made));
    let job = fold(&chain.entries);
    assert_eq!((job.made.len(), job.unbound), (1, vec![0]), "a part that is not on record");
}

#[test]
fn terms_tasks_and_hours_stand_in_lists_of_their_own() {
    let lines = sample::FROZEN_PLAN.lines().map(|line| Entry::from_line(line).unwrap());
    let job = fold(&lines.collect::<Vec<_>>());
    let terms: Vec<&str> = job.terms.iter().map(|item| item.body.of.as_str()).collect();
    assert_eq!(terms, ["lot", "agreed"], "the corrected one is not told twice");
    assert!(job.terms[0].body.words.starts_with("premium 25 %"));
    // What is said of one task twice is both kept: that the later stands is for whoever plans.
    assert_eq!(job.tasks.len(), 3);
    assert_eq!(job.hours.iter().map(|item| item.body.minutes).collect::<Vec<_>>(), [80, 45]);
    assert_eq!(job.unbound, [0; 0]);
}

#[test]
fn of_one_name_the_latest_assumption_stands() {
    let lines = sample::FROZEN_SWEEPS.lines().map(|line| Entry::from_line(line).unwrap());
    let job = fold(&lines.filter(|entry| entry.envelope().chain == "w-19ab40").collect::<Vec<_>>());
    assert_eq!(job.assumption("winding fill").unwrap().body.value, "0.64");
    assert_eq!(job.assumption("gauge"), None);

    let mut chain = Writer::new("w");
    let first = chain.keep("02T09:00:00", &sample::assumption("gauge", "42", "said"));
    let second = chain.keep("02T09:01:00", &sample::assumption("gauge", "43", "measured"));
    let value = |chain: &Writer| fold(&chain.entries).assumption("gauge").map(|item| item.body.value.clone());
    assert_eq!(value(&chain).as_deref(), Some("43"), "the later of two that name no other");
    chain.correct("02T09:02:00", &first, &sample::assumption("gauge", "44", "measured again"));
    assert_eq!(value(&chain).as_deref(), Some("44"), "the last said, whatever it corrects");
    chain.correct("02T09:03:00", &second, &Body::Struck(Struck1 { why: "slip".to_owned() }));
    chain.correct("02T09:04:00", &first, &Body::Struck(Struck1 { why: "slip".to_owned() }));
    assert_eq!(value(&chain), None);
}

#[test]
fn no_entries_make_an_empty_job() {
    let job = fold(&[]);
    assert_eq!(job, Job::default());
    assert_eq!((job.chain.as_str(), job.head.next), ("", 0));
}

#[test]
fn of_two_rival_corrections_the_later_stands_and_both_are_shown() {
    let mut chain = Writer::new("j");
    let root = chain.keep("02T09:00:00", &note("six"));
    let early = chain.correct("02T09:01:00", &root, &note("seven"));
    chain.correct("02T09:02:00", &root, &note("eight"));
    let job = fold(&chain.entries);
    assert_eq!(job.notes.len(), 1);
    let item = &job.notes[0];
    assert_eq!((item.root, item.seq, item.body.words.as_str(), item.contested), (0, 2, "eight", true));
    assert_eq!(item.versions, [0, 1, 2]);
    assert_eq!(*standing(&job, 0), Standing::Corrected { by: vec![1, 2] });
    assert_eq!(*standing(&job, 1), Standing::Corrected { by: vec![2] });
    assert_eq!(*standing(&job, 2), Standing::Stands);

    // A correction of the one that lost takes over again: the last by seq stands.
    chain.correct("02T09:03:00", &early, &note("seven and a half"));
    let job = fold(&chain.entries);
    assert_eq!(job.notes[0].body.words, "seven and a half");
    assert_eq!(*standing(&job, 2), Standing::Corrected { by: vec![3] });
}

#[test]
fn a_correction_may_change_the_kind_and_keeps_its_place() {
    let mut chain = Writer::new("j");
    let first = chain.keep("02T09:00:00", &note("bright mark on the lug"));
    chain.keep("02T09:01:00", &seen(None, "wear at the edge", None));
    chain.correct("02T09:02:00", &first, &seen(None, "bright mark on the lug", None));
    let job = fold(&chain.entries);
    assert!(job.notes.is_empty());
    let order: Vec<(u64, u64)> = job.observed.iter().map(|item| (item.root, item.seq)).collect();
    assert_eq!(order, [(0, 2), (1, 1)]);
}

#[test]
fn a_struck_entry_leaves_the_lists_and_stays_in_the_history() {
    let mut chain = Writer::new("j");
    let root = chain.keep("02T09:00:00", &note("wrong job"));
    let strike = chain.correct("02T09:01:00", &root, &Body::Struck(Struck1 { why: "wrong job".to_owned() }));
    let job = fold(&chain.entries);
    assert!(job.notes.is_empty() && job.others.is_empty());
    assert_eq!(*standing(&job, 0), Standing::Struck { by: 1 });
    assert_eq!(*standing(&job, 1), Standing::Stands);
    // Struck by mistake: a correction of the strike brings the words back.
    chain.correct("02T09:02:00", &strike, &note("right job after all"));
    let job = fold(&chain.entries);
    assert_eq!(job.notes[0].versions, [0, 1, 2]);
    assert_eq!(*standing(&job, 1), Standing::Corrected { by: vec![2] });
}

#[test]
fn when_a_correction_is_withheld_the_version_before_stands_again() {
    let mut chain = Writer::new("j");
    let root = chain.keep("02T09:00:00", &note("six"));
    let corrected = chain.correct("02T09:01:00", &root, &note("six, for the owner's brother"));
    chain.withhold("02T09:02:00", &corrected, "asked");
    let job = fold(&chain.entries);
    assert_eq!(job.notes[0].seq, 0);
    assert_eq!(*standing(&job, 0), Standing::Stands);
    assert_eq!(*standing(&job, 1), Standing::Withheld { by: Some(2) });
    assert!(verify(chain.entries.iter()).is_whole());
}

#[test]
fn withholding_holds_in_a_copy_from_before_it_and_in_one_without_a_word() {
    let mut chain = Writer::new("j");
    let price = chain.keep("02T09:00:00", &note("sold for a song"));
    let with_content = chain.entries[0].clone();
    chain.withhold("02T09:02:00", &price, "asked");
    let brought_back = [with_content.clone(), chain.entries[1].clone()];
    assert_eq!(fold(&brought_back), fold(&chain.entries));
    assert!(fold(&brought_back).notes.is_empty());

    let job = fold(&[with_content.without_content()]);
    assert_eq!(*standing(&job, 0), Standing::Withheld { by: None });
}

#[test]
fn a_part_is_as_found_until_an_act_disturbs_it() {
    let mut chain = Writer::new("j");
    chain.keep("02T09:00:00", &part("P1", "neck coil", "coil", "neck"));
    chain.keep("02T09:00:00", &part("P2", "volume pot", "pot", "cavity"));
    chain.keep("02T09:01:00", &seen(Some("P1"), "wax", None)); // 2
    let later = chain.keep("02T09:02:00", &seen(Some("P1"), "a first word", None)); // 3
    chain.keep("02T09:03:00", &act(Some("P1"), "looked with a glass", false)); // 4
    let unsolder = chain.keep("02T09:04:00", &act(Some("P1"), "unsoldered", true)); // 5
    chain.keep("02T09:05:00", &seen(Some("P1"), "bright lugs", None)); // 6
    chain.keep("02T09:06:00", &seen(Some("P1"), "old solder beneath", Some(true))); // 7
    chain.keep("02T09:07:00", &seen(Some("P2"), "untouched solder", None)); // 8
    chain.keep("02T09:08:00", &seen(Some("P2"), "shown later", Some(false))); // 9
    chain.correct("02T09:09:00", &later, &seen(Some("P1"), "a better word", None)); // 10
    let roots = |job: &Job, places: &[usize]| -> Vec<u64> {
        places.iter().map(|&at| job.observed[at].root).collect()
    };
    let job = fold(&chain.entries);
    // The corrected words keep the place of the first: they were seen before the act.
    assert_eq!(roots(&job, &job.parts[0].as_found), [2, 3, 7]);
    assert_eq!(roots(&job, &job.parts[0].later), [6]);
    assert_eq!(job.parts[0].first_disturbed, Some(5));
    assert_eq!((roots(&job, &job.parts[1].as_found), roots(&job, &job.parts[1].later)), (vec![8], vec![9]));
    assert_eq!(job.parts[1].first_disturbed, None);

    // The act turns out never to have been done: the part is as found again.
    chain.correct("02T10:00:00", &unsolder, &Body::Struck(Struck1 { why: "not done".to_owned() }));
    let job = fold(&chain.entries);
    assert_eq!(roots(&job, &job.parts[0].as_found), [2, 3, 6, 7]);

    // An act on the whole piece disturbs every part.
    chain.keep("02T10:01:00", &act(None, "cleaned all over", true)); // 12
    chain.keep("02T10:02:00", &seen(Some("P2"), "shiny", None));
    chain.keep("02T10:03:00", &seen(None, "shiny all over", None));
    let job = fold(&chain.entries);
    assert_eq!(job.parts.iter().map(|part| part.first_disturbed).collect::<Vec<_>>(), [Some(12), Some(12)]);
    assert_eq!(roots(&job, &job.parts[1].later), [9, 13]);
    assert_eq!(roots(&job, &job.whole.later), [14]);
}

#[test]
fn what_names_an_unknown_part_is_kept_and_listed_until_the_part_comes() {
    let mut chain = Writer::new("j");
    chain.keep("02T09:00:00", &resistance("P1", "6k31", "6.31"));
    chain.keep("02T09:01:00", &seen(Some("P1"), "wax", None));
    chain.keep("02T09:02:00", &act(Some("P1"), "looked", false));
    let job = fold(&chain.entries);
    assert_eq!(job.unbound, [0, 1, 2]);
    assert_eq!((job.readings.len(), job.observed.len(), job.acts.len()), (1, 1, 1));
    chain.keep("02T09:03:00", &part("P1", "neck coil", "coil", "neck"));
    let job = fold(&chain.entries);
    assert!(job.unbound.is_empty());
    let part = job.part("P1").unwrap();
    assert_eq!((part.readings.len(), part.as_found.len(), part.acts.len()), (1, 1, 1));
}

#[test]
fn a_second_part_of_the_same_id_is_kept_and_reported() {
    let mut chain = Writer::new("j");
    chain.keep("02T09:00:00", &part("P1", "neck coil", "coil", "neck"));
    chain.keep("02T09:01:00", &part("P1", "bridge coil", "coil", "bridge"));
    chain.keep("02T09:02:00", &resistance("P1", "6k31", "6.31"));
    let job = fold(&chain.entries);
    assert_eq!(job.parts.len(), 2);
    assert_eq!((job.parts[0].readings.len(), job.parts[1].readings.len()), (1, 0));
    assert_eq!(job.findings, [FoldFinding::SamePart { seq: 1, part: "P1".to_owned() }]);
}

#[test]
fn of_two_pieces_the_last_stands_and_of_two_openings_the_first() {
    let mut chain = Writer::new("j");
    for body in [opening("one"), piece("long scale"), opening("two"), piece("short scale")] {
        chain.keep("02T09:00:00", &body);
    }
    let job = fold(&chain.entries);
    assert_eq!(job.opened.unwrap().body.title, "one");
    assert_eq!(job.piece.unwrap().body.words, "short scale");
    assert_eq!(job.findings, [FoldFinding::SecondOpening { seq: 2 }, FoldFinding::SecondPiece { seq: 3 }]);
}

#[test]
fn what_does_not_fit_is_said_and_nothing_fails() {
    let mut chain = Writer::new("j");
    let first = chain.keep("02T09:00:00", &note("one"));
    let wrong = Cite { hash: Hash::of(b"other"), ..first.clone() };
    chain.correct("02T09:01:00", &wrong, &note("two"));
    let (of, who, ground) = (wrong, "p-2".to_owned(), "asked".to_owned());
    chain.keep("02T09:02:00", &Body::Withheld(Withheld1 { of, who, ground }));
    chain.keep("02T09:03:00", &note("three"));
    let mut entries = chain.entries;
    let missing = entries.remove(2);
    entries.push(missing);
    entries.push(sample::job().remove(0));
    let job = fold(&entries);
    assert_eq!(
        job.notes.iter().map(|note| note.body.words.as_str()).collect::<Vec<_>>(),
        ["one", "two", "three"]
    );
    let chain = sample::JOB.to_owned();
    let expected = [
        FoldFinding::OtherChain { seq: 0, chain },
        FoldFinding::CorrectsNothing { seq: 1 },
        FoldFinding::NotAfter { seq: 2 },
        FoldFinding::Gap { seq: 3 },
    ];
    assert_eq!(job.findings, expected);
}
