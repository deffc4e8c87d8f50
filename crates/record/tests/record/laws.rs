//! Laws that hold for any chain.

use asfound_record::*;
use proptest::prelude::*;
use serde_json::{Value, json};

use crate::sample::{Writer, act, assumption, note, opening, part, piece, resistance, seen, sweep};

/// One thing that a person does; `usize` picks an entry that is there already.
#[derive(Debug, Clone)]
enum Step {
    Keep(Body),
    Correct(usize, Body),
    Withhold(usize),
    Strange(Value),
}

fn body() -> impl Strategy<Value = Body> {
    let id = (0..4_u8).prop_map(|number| format!("P{number}"));
    (id, 0..10_u8, any::<bool>(), proptest::option::of(any::<bool>())).prop_map(|(id, sort, yes, maybe)| {
        match sort {
            0 => part(&id, "coil", "coil", "neck"),
            1 => seen(yes.then_some(id.as_str()), "a mark", maybe),
            2 => act(yes.then_some(id.as_str()), "something", maybe.unwrap_or(false)),
            3 => resistance(&id, "6k31", "6.31"),
            5 => opening(&id),
            6 => piece(&id),
            7 => sweep(&id, "impedance sweep", &["sweep"], &[]),
            8 => assumption(&id, "0.62", "coils cut open here"),
            4 => Body::Struck(Struck1 { why: "so".to_owned() }),
            _ => note("a word"),
        }
    })
}

/// Any JSON that an entry may hold.
fn value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        (-(1_i64 << 53) + 1..1 << 53).prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 24, 4, |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            proptest::collection::btree_map(any::<String>(), inner, 0..4).prop_map(|map| json!(map)),
        ]
    })
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let step = prop_oneof![
        6 => body().prop_map(Step::Keep),
        4 => (any::<usize>(), body()).prop_map(|(place, body)| Step::Correct(place, body)),
        1 => any::<usize>().prop_map(Step::Withhold),
        1 => value().prop_map(Step::Strange),
    ];
    proptest::collection::vec(step, 0..30)
}

fn write(steps: &[Step]) -> Vec<Entry> {
    let mut chain = Writer::new("j");
    for (minute, step) in steps.iter().enumerate() {
        let at = format!("02T09:{:02}:00", 59 - minute);
        let picked = |place: &usize| {
            (!chain.entries.is_empty()).then(|| chain.entries[place % chain.entries.len()].cite())
        };
        match step {
            Step::Keep(body) => _ = chain.keep(&at, body),
            Step::Correct(place, body) => match picked(place) {
                Some(cite) => _ = chain.correct(&at, &cite, body),
                None => _ = chain.keep(&at, body),
            },
            Step::Withhold(place) => {
                if let Some(cite) = picked(place) {
                    chain.withhold(&at, &cite, "asked");
                }
            }
            Step::Strange(body) => {
                let (at, by, kind) = (format!("2026-11-{at}Z"), "p-1".to_owned(), "odd/7".to_owned());
                chain.draft(Draft { at, by, kind, corrects: None, body: body.clone() });
            }
        }
    }
    chain.entries
}

/// Every place at which an item stands, and all its versions.
fn versions(job: &Job) -> Vec<&Vec<u64>> {
    fn of<T>(items: &[Item<T>]) -> impl Iterator<Item = &Vec<u64>> {
        items.iter().map(|item| &item.versions)
    }
    let parts = job.parts.iter().map(|part| &part.item.versions);
    parts
        .chain(of(&job.observed))
        .chain(of(&job.readings))
        .chain(of(&job.sweeps))
        .chain(of(&job.assumptions))
        .chain(of(&job.probings))
        .chain(of(&job.marks))
        .chain(of(&job.wishes))
        .chain(of(&job.testimonies))
        .chain(of(&job.made))
        .chain(of(&job.terms))
        .chain(of(&job.tasks))
        .chain(of(&job.hours))
        .chain(of(&job.acts))
        .chain(of(&job.notes))
        .collect()
}

fn hashes(entries: &[Entry]) -> Vec<Hash> {
    entries.iter().map(Entry::hash).collect()
}

proptest! {
    #[test]
    fn any_chain_is_whole_and_folds(steps in steps()) {
        let entries = write(&steps);
        prop_assert!(verify(entries.iter()).is_whole());
        let job = fold(&entries);
        // Nothing is left out of the history, and it is in the chain's order although the clock runs backwards.
        let history: Vec<u64> = job.history.iter().map(|line| line.seq).collect();
        prop_assert_eq!(history, (0..entries.len() as u64).collect::<Vec<_>>());
        prop_assert_eq!(job.history.iter().filter(|line| line.clock_stepped_back).count(), entries.len().saturating_sub(1));
    }

    #[test]
    fn taking_one_by_one_equals_the_fold(steps in steps()) {
        let entries = write(&steps);
        let mut job = Job::default();
        for (count, entry) in (1..).zip(&entries) {
            job.take(entry);
            prop_assert_eq!(&job, &fold(&entries[..count]));
        }
    }

    #[test]
    fn entries_in_any_order_fold_without_failing(steps in steps(), shuffle in any::<u64>()) {
        let mut entries = write(&steps);
        let length = entries.len().max(1);
        entries.sort_by_key(|entry| (entry.envelope().seq.wrapping_mul(shuffle | 1) % length as u64, entry.hash()));
        let mut job = Job::default();
        entries.iter().for_each(|entry| job.take(entry));
        prop_assert_eq!(job, fold(&entries));
    }

    #[test]
    fn a_correction_never_loses_what_it_corrects(steps in steps()) {
        let entries = write(&steps);
        let job = fold(&entries);
        for entry in &entries {
            let Some(corrects) = &entry.envelope().corrects else { continue };
            let corrected = &job.history[corrects.seq as usize];
            prop_assert_eq!(corrected.hash, corrects.hash);
            // Whatever stands of a thread names every version of it.
            for versions in versions(&job) {
                prop_assert_eq!(versions.contains(&entry.envelope().seq), versions.contains(&corrects.seq));
            }
        }
    }

    #[test]
    fn each_entry_is_in_one_thread_only(steps in steps()) {
        let job = fold(&write(&steps));
        let mut all: Vec<u64> = versions(&job).into_iter().flatten().copied().collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        prop_assert_eq!(all.len(), count);
        // Where something stands in a list, exactly its standing version says so in the history.
        for item in &job.notes {
            let standing: Vec<u64> = item.versions.iter().copied()
                .filter(|&seq| job.history[seq as usize].standing == Standing::Stands).collect();
            prop_assert_eq!(standing, vec![item.seq]);
        }
    }

    #[test]
    fn withholding_leaves_the_chain_whole_and_is_named(steps in steps(), picks in proptest::collection::vec(any::<bool>(), 30)) {
        let entries = write(&steps);
        let held = |(entry, hold): (&Entry, &bool)| if *hold { entry.without_content() } else { entry.clone() };
        let copy: Vec<Entry> = entries.iter().zip(&picks).map(held).collect();
        let report = verify(copy.iter());
        prop_assert!(report.is_whole());
        let bare = copy.iter().filter(|entry| entry.body().is_none()).map(|entry| entry.envelope().seq);
        prop_assert_eq!(&report.withheld, &bare.collect::<Vec<_>>());
        prop_assert_eq!(meet(&entries, &copy), Meeting::Same);
        let job = fold(&copy);
        for seq in report.withheld {
            let withheld = matches!(job.history[seq as usize].standing, Standing::Withheld { .. });
            prop_assert!(withheld);
        }
    }

    #[test]
    fn any_body_goes_out_and_comes_back_byte_for_byte(body in value(), salt in any::<[u8; 32]>()) {
        let draft = Draft {
            at: "2026-11-25T09:30:00Z".to_owned(),
            by: "p-1".to_owned(),
            kind: "odd/7".to_owned(),
            corrects: None,
            body: body.clone(),
        };
        let entry = Entry::make(draft, &Head::empty("j"), salt).unwrap();
        prop_assert_eq!(entry.body(), Some(&body));
        let line = entry.line();
        prop_assert!(!line.contains('\n'));
        let read = Entry::from_line(&line).unwrap();
        prop_assert_eq!(read.line(), line);
        prop_assert_eq!(read, entry);
    }

    #[test]
    fn no_text_makes_the_reader_fail(text in any::<String>(), piece in "[\\[\\]{}\":,0-9a-z.\\-\\\\ \n]{0,60}") {
        let _ = Entry::from_line(&text);
        let _ = Entry::from_line(&piece);
        let _ = Entry::from_stored(&piece, Some(&text));
        prop_assert!(verify_lines(&piece).iter().all(|report| !report.is_whole()));
    }

    #[test]
    fn copies_meet_lawfully(steps in steps(), other in steps(), cut in any::<proptest::sample::Index>()) {
        let (ours, theirs) = (write(&steps), write(&other));
        prop_assert_eq!(meet(&ours, &ours), Meeting::Same);
        let start = &ours[..cut.index(ours.len() + 1)];
        let by = (ours.len() - start.len()) as u64;
        let longer = if by == 0 { Meeting::Same } else { Meeting::Extends { by } };
        prop_assert_eq!(meet(start, &ours), longer);
        // Seen from the other side, the answer is the matching one.
        let fits = match (meet(&ours, &theirs), meet(&theirs, &ours)) {
            (Meeting::Same, Meeting::Same) => ours.len() == theirs.len(),
            (Meeting::Extends { by }, Meeting::Shorter) => theirs.len() - ours.len() == by as usize,
            (Meeting::Shorter, Meeting::Extends { by }) => ours.len() - theirs.len() == by as usize,
            (Meeting::Differs { at_seq: one }, Meeting::Differs { at_seq: two }) => {
                let at = one as usize;
                one == two && hashes(&ours[..at]) == hashes(&theirs[..at]) && ours[at].hash() != theirs[at].hash()
            }
            _ => false,
        };
        prop_assert!(fits);
    }
}
