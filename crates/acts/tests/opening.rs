//! A workshop is started once, opened by one process, read beside it, and goes on when its key is lost.

mod common;

use std::process::Command;

use asfound_acts::{ActError, Trouble, Workshop};
use asfound_record::{KeyFinding, check_succession};
use common::{bench, kept, sentence, titled, with_a_job};

const FOLDER: &str = "ASFOUND_TEST_WORKSHOP";

/// Not a test of its own: what the other process does. Without a folder named to it, there is nothing to do.
#[test]
#[allow(clippy::print_stdout, reason = "the other process answers by printing")]
fn the_other_process() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let folder = std::path::Path::new(&folder);
    match Workshop::open(folder) {
        Ok(_) => println!("opened"),
        Err(error) => println!("refused: {error}"),
    }
    println!("read: {}", Workshop::open_to_read(folder).unwrap().cards().unwrap().len());
}

#[test]
fn a_second_process_is_told_so_and_can_read() {
    let (bench, _) = with_a_job();
    let other = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "the_other_process", "--nocapture"])
        .env(FOLDER, &bench.folder)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&other.stdout).into_owned();
    assert!(said.contains("already open in another window or program"), "{said}");
    assert!(said.contains("read: 1"), "{said}");
}

#[test]
fn two_workshops_are_open_at_once_and_know_nothing_of_each_other() {
    let (here, there) = (bench(), bench());
    let number = here.workshop.open_job(&titled("Here")).unwrap();
    assert!(there.workshop.cards().unwrap().is_empty());
    assert_eq!(there.workshop.open_job(&titled("There")).unwrap(), number);
    assert_eq!(here.workshop.cards().unwrap()[0].title, "Here");
}

#[test]
fn a_reopened_workshop_is_the_same() {
    let (bench, number) = with_a_job();
    kept(&bench.workshop, &number, "neck 6k31 21C", "a");
    let (before, cards) = (bench.workshop.lines(&number).unwrap(), bench.workshop.cards().unwrap());
    let by = bench.workshop.job(&number).unwrap().history[0].by.clone();
    let bench = bench.reopened();
    assert_eq!(bench.workshop.lines(&number).unwrap(), before);
    assert_eq!(bench.workshop.cards().unwrap(), cards);
    assert_eq!(bench.workshop.name(), "A bench of my own");
    // The same hand goes on, and the draft of before the break keeps once.
    let seq = kept(&bench.workshop, &number, "neck 6k31 21C", "a");
    assert_eq!(seq as usize, bench.workshop.job(&number).unwrap().history.len() - 1);
    kept(&bench.workshop, &number, "neck 6k32 21C", "b");
    assert!(bench.workshop.job(&number).unwrap().history.iter().all(|line| line.by == by));
    assert_eq!(bench.workshop.person(&by).as_deref(), Some("A bench of my own"));
}

#[test]
fn a_folder_is_started_once() {
    let bench = bench();
    let folder = bench.folder.clone();
    let in_use = Workshop::start(&folder, "Another").err().unwrap();
    sentence(&in_use);
    drop(bench.workshop);
    let error = Workshop::start(&folder, "Another").err().unwrap();
    assert!(matches!(&error, ActError::AlreadyStarted(name) if name == "A bench of my own"), "{error}");
    assert_eq!(error.trouble(), Trouble::NotTaken);
    let error = Workshop::start(&folder.join("below"), "  ").err().unwrap();
    assert!(sentence(&error).contains("name"));
    assert!(!folder.join("below").exists());
}

#[test]
fn a_start_that_was_cut_off_is_done_again() {
    let home = tempfile::tempdir().unwrap();
    // What is there when the program ends between making the folder and the first entries.
    drop(asfound_store::Store::start(home.path()).unwrap());
    let error = Workshop::open_to_read(home.path()).err().unwrap();
    assert!(matches!(error, ActError::NoWorkshopChain), "{error}");
    let workshop = Workshop::start(home.path(), "Mine").unwrap();
    assert_eq!(workshop.name(), "Mine");
    assert_eq!(workshop.about().unwrap().keys.len(), 1);
}

#[test]
fn a_lost_key_is_succeeded_and_the_record_says_so() {
    let (bench, _) = with_a_job();
    let key = bench.folder.join("keys/signing.key");
    let first = bench.workshop.about().unwrap().keys[0].body.clone();
    std::fs::remove_file(&key).unwrap();
    // To read, no key is needed, and none is made.
    assert!(Workshop::open_to_read(&bench.folder).is_ok());
    assert!(!key.exists());
    let bench = bench.reopened();
    let keys: Vec<_> = bench.workshop.about().unwrap().keys.iter().map(|item| item.body.clone()).collect();
    assert_eq!(keys.len(), 2);
    assert_eq!((keys[1].succeeds.as_ref(), &keys[1].signed_by_old), (Some(&first.public), &None));
    assert_ne!(keys[1].public, first.public);
    assert_eq!(check_succession(&keys), [KeyFinding::First { at: 0 }, KeyFinding::Unsigned { at: 1 }]);
    // Once is enough.
    let bench = bench.reopened();
    assert_eq!(bench.workshop.about().unwrap().keys.len(), 2);
    assert!(bench.workshop.verify().unwrap().is_whole());
}

#[test]
fn a_key_file_that_is_no_key_is_named() {
    let bench = bench();
    std::fs::write(bench.folder.join("keys/signing.key"), b"not a key").unwrap();
    let folder = bench.folder.clone();
    drop(bench.workshop);
    let error = Workshop::open(&folder).err().unwrap();
    assert!(matches!(error, ActError::BadKey(_)));
    assert!(sentence(&error).contains("signing.key"));
    assert!(Workshop::open_to_read(&folder).is_ok());
}

#[test]
fn a_workshop_opened_to_read_keeps_nothing() {
    let (bench, number) = with_a_job();
    let reader = Workshop::open_to_read(&bench.folder).unwrap();
    assert_eq!(reader.cards().unwrap().len(), 1);
    let errors = [
        reader.say(&number, "neck 6k31", "a").unwrap_err(),
        reader.keep_photograph(&number, "a", b"b", None, "", None).unwrap_err(),
        reader.withhold(&number, 0, "Mirabel", "asked", "w").unwrap_err(),
        reader.issue(&number, b"paper", &reader.lines(&number).unwrap().1, &Default::default()).unwrap_err(),
    ];
    for error in errors {
        assert_eq!(error.trouble(), Trouble::NotTaken, "{error}");
        sentence(&error);
    }
}

#[test]
fn a_job_that_cannot_be_read_is_in_nobodys_way() {
    let (bench, number) = with_a_job();
    let chain = bench.workshop.about().unwrap().chain.clone();
    let folder = bench.folder.clone();
    drop(bench.workshop);
    {
        // No act can do this: a job is known whose own chain is gone.
        let store = asfound_store::Store::open(&folder).unwrap();
        let draft = asfound_record::Draft {
            at: "2026-11-25T10:00:00+01:00".into(),
            by: "p".into(),
            kind: "job-known/1".into(),
            corrects: None,
            body: serde_json::json!({ "chain": "lost", "number": "26-077" }),
        };
        store.append(|head| asfound_record::Entry::make(draft, head, [1; 32]), &chain, None).unwrap();
    }
    let workshop = Workshop::open(&folder).unwrap();
    let cards = workshop.cards().unwrap();
    assert_eq!(
        cards.iter().map(|card| card.number.as_str()).collect::<Vec<_>>(),
        ["26-077", number.as_str()]
    );
    assert!(cards[0].title.contains("There is no chain"));
    assert_eq!(workshop.job("26-077").unwrap_err().trouble(), Trouble::NotThere);
    assert!(workshop.job(&number).is_ok());
}
