//! What is withheld is gone from every file of the folder, and the chain still verifies.

mod common;

use std::path::Path;

use asfound_acts::PaperTold;
use common::{kept, sentence, with_a_job};

/// Every file below a folder that holds these bytes.
fn files_with(folder: &Path, wanted: &[u8]) -> Vec<String> {
    let mut found = Vec::new();
    for item in std::fs::read_dir(folder).unwrap() {
        let place = item.unwrap().path();
        if place.is_dir() {
            found.extend(files_with(&place, wanted));
        } else if std::fs::read(&place).unwrap().windows(wanted.len()).any(|window| window == wanted) {
            found.push(place.display().to_string());
        }
    }
    found
}

#[test]
fn nothing_of_the_words_is_left_in_any_file() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let seq = workshop.keep_note(&number, "bought from Perpetua Lindqvist-Hale", "n").unwrap();
    workshop.decide(&number, "ask", "Ask Perpetua about the case.", "taken", "d").unwrap();
    workshop.cards().unwrap();
    assert_eq!(workshop.search("perpetua", 9).unwrap().len(), 2);
    assert!(!files_with(&bench.folder, b"Lindqvist-Hale").is_empty());
    let gone = workshop.withhold(&number, seq, "A. Advocate", "asked by the seller", "w").unwrap();
    assert_eq!((gone.unfinished, gone.still_shown.len(), gone.handed_out.len()), (None, 0, 0));
    for words in [&b"Lindqvist-Hale"[..], b"lindqvist"] {
        assert_eq!(files_with(&bench.folder, words), [] as [&str; 0]);
    }
    // The words of a step stand in its card: they go with it.
    workshop.withhold(&number, seq + 1, "A. Advocate", "asked by the seller", "w2").unwrap();
    assert_eq!(files_with(&bench.folder, b"Perpetua"), [] as [&str; 0]);
    assert!(workshop.search("perpetua", 9).unwrap().is_empty());
    let job = workshop.job(&number).unwrap();
    assert!(job.notes.is_empty());
    assert_eq!(job.history[seq as usize].standing, asfound_record::Standing::Withheld { by: Some(gone.seq) });
    // Who asked is a person by id, not a name in the job's own chain.
    let (lines, _) = workshop.lines(&number).unwrap();
    assert!(!lines.contains("Advocate") && lines.contains("asked by the seller"));
    assert!(asfound_acts::verify_lines(&lines)[0].is_whole());
    assert!(workshop.verify().unwrap().is_whole());
}

#[test]
fn pressed_twice_it_is_withheld_once() {
    let (bench, number) = with_a_job();
    let seq = bench.workshop.keep_note(&number, "a name", "n").unwrap();
    let once = bench.workshop.withhold(&number, seq, "Owner", "asked", "w").unwrap();
    let again = bench.workshop.withhold(&number, seq, "Owner", "asked", "w").unwrap();
    assert_eq!(once.seq, again.seq);
    let job = bench.workshop.job(&number).unwrap();
    assert_eq!(job.history.len() as u64, once.seq + 1);
    let persons = bench.workshop.about().unwrap().persons.len();
    assert_eq!(persons, 2, "one who asks twice is one person");
}

#[test]
fn a_photograph_goes_with_its_previews_unless_another_entry_shows_it() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let file = common::photograph(40, 20);
    let only = workshop.keep_photograph(&number, "only.jpg", &file, None, "", Some("p")).unwrap();
    workshop.preview(&only.original, 480).unwrap();
    let twice = common::photograph(20, 40);
    let first = workshop.keep_photograph(&number, "a.jpg", &twice, None, "", Some("q")).unwrap();
    workshop.keep_photograph(&number, "b.jpg", &twice, None, "", Some("r")).unwrap();

    let gone = workshop.withhold(&number, only.seq, "Owner", "asked", "w").unwrap();
    assert!(gone.still_shown.is_empty());
    assert_eq!(files_with(&bench.folder, &file), [] as [&str; 0]);
    assert_eq!(
        std::fs::read_dir(bench.folder.join("previews").join(&only.original[..2])).unwrap().count(),
        0
    );

    let gone = workshop.withhold(&number, first.seq, "Owner", "asked", "x").unwrap();
    assert!(gone.still_shown.contains(&first.original), "the other entry still shows it");
    assert!(workshop.preview(&first.original, 480).is_ok());
}

#[test]
fn papers_that_rest_on_it_are_listed() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let seq = workshop.keep_note(&number, "a name", "n").unwrap();
    let (_, head) = workshop.lines(&number).unwrap();
    let told = PaperTold { title: "For the owner".into(), ..PaperTold::default() };
    workshop.issue(&number, b"paper", &head, &told).unwrap();
    let later = workshop.keep_note(&number, "another name", "m").unwrap();
    let gone = workshop.withhold(&number, seq, "Owner", "asked", "w").unwrap();
    assert_eq!(
        gone.handed_out.iter().map(|paper| paper.title.as_str()).collect::<Vec<_>>(),
        ["For the owner"]
    );
    assert!(workshop.withhold(&number, later, "Owner", "asked", "v").unwrap().handed_out.is_empty());
}

#[test]
fn the_restorers_own_name_can_go_and_the_work_goes_on() {
    let (bench, number) = with_a_job();
    let by = bench.workshop.job(&number).unwrap().history[0].by.clone();
    // The workshop's own chain has no page; the store takes a name out of it all the same.
    let about = bench.workshop.about().unwrap();
    let line = &about.history[1];
    let of = asfound_acts::Cite { chain: about.chain.clone(), seq: line.seq, hash: line.hash };
    let folder = bench.folder.clone();
    drop((about, bench.workshop));
    {
        let store = asfound_store::Store::open(&folder).unwrap();
        let body = serde_json::json!({ "of": of, "who": "p", "ground": "asked" });
        let draft = asfound_record::Draft {
            at: "2026-11-25T10:00:00+01:00".into(),
            by: by.clone(),
            kind: "withheld/1".into(),
            corrects: None,
            body,
        };
        store
            .withhold(&of, |head| asfound_record::Entry::make(draft, head, [1; 32]), &of.chain, None)
            .unwrap();
    }
    let workshop = asfound_acts::Workshop::open(&folder).unwrap();
    assert_eq!(workshop.person(&by), None);
    kept(&workshop, &number, "neck 6k31", "a");
    assert!(workshop.job(&number).unwrap().history.iter().all(|line| line.by == by));
}

#[test]
fn a_ground_and_a_name_are_needed() {
    let (bench, number) = with_a_job();
    for (who, ground, named) in [("", "asked", "Who"), ("Owner", "  ", "ground")] {
        let error = bench.workshop.withhold(&number, 1, who, ground, "w").unwrap_err();
        assert!(sentence(&error).contains(named), "{error}");
    }
    assert_eq!(bench.workshop.about().unwrap().persons.len(), 1);
    assert!(bench.workshop.withhold(&number, 99, "Owner", "asked", "w").is_err());
    assert_eq!(bench.workshop.about().unwrap().persons.len(), 1);
}
