//! The bench: what a job waits for, and cards that are remembered as text.

mod common;

use asfound_study::bench::{Card, Waiting, WaitsFor, card, decision, steps_taken, waits};
use asfound_study::record::{Body, Decided1};
use common::Ledger;
use proptest::prelude::*;

fn what(job: &Ledger) -> Vec<WaitsFor> {
    waits(&job.job).into_iter().map(|waiting| waiting.what).collect()
}

fn decided(step: &str, decision: &str) -> Body {
    Body::Decided(Decided1 {
        step: step.to_owned(),
        words: format!("do {step}"),
        decision: decision.to_owned(),
    })
}

#[test]
fn a_new_job_waits_for_a_photograph_and_a_part() {
    assert_eq!(what(&Ledger::opened()), [WaitsFor::Photographs, WaitsFor::Parts]);
}

#[test]
fn what_is_open_is_counted_and_the_first_of_it_named() {
    let mut job = Ledger::with(
        "part neck coil, coil, neck\npart bridge coil, coil, bridge\npart guard, plate, body\n\
         coil neck 7k2 clockwise north\ncoil bridge 4k9\ncoil middle 5k clockwise\n\
         join choke.b rotary.3 or volume.3 unknown\n\
         parked guard: warmed; no change; longer press\nparked guard: clamped; slipped",
    );
    let waits = |job: &Ledger| waits(&job.job);
    let named = |what: WaitsFor, count: u32, name: &str| Waiting { what, count, name: name.to_owned() };
    let told = waits(&job);
    assert!(told.contains(&named(WaitsFor::UnmeasuredParts, 2, "neck coil")));
    assert!(told.contains(&named(WaitsFor::UnknownJoins, 1, "choke.b")));
    assert!(told.contains(&named(WaitsFor::UntappedCoils, 2, "bridge")));
    assert!(told.contains(&named(WaitsFor::ParkedAct, 2, "longer press")));
    job.say("neck coil 7k2");
    assert!(waits(&job).contains(&named(WaitsFor::UnmeasuredParts, 1, "bridge coil")));
}

#[test]
fn a_parked_act_with_nothing_to_try_is_named_by_what_was_tried() {
    let job = Ledger::with("part guard, plate, body\nparked guard: clamped; slipped");
    assert!(
        waits(&job.job)
            .iter()
            .any(|waiting| waiting.what == WaitsFor::ParkedAct && waiting.name == "clamped")
    );
}

#[test]
fn of_several_decisions_on_a_step_the_last_stands() {
    let mut job = Ledger::opened();
    job.keep(&decided("a", "taken"));
    job.keep(&decided("b", "later"));
    assert_eq!(steps_taken(&job.job), ["do a"]);
    job.keep(&decided("a", "done"));
    assert!(steps_taken(&job.job).is_empty());
    job.keep(&decided("b", "taken"));
    assert_eq!(steps_taken(&job.job), ["do b"]);
    assert_eq!(decision(&job.job, "a").as_deref(), Some("done"));
    assert_eq!(decision(&job.job, "c"), None);
}

#[test]
fn a_card_tells_the_job() {
    let job = Ledger::opened();
    let card = card(&job.job);
    assert_eq!((card.number.as_str(), card.entries), ("26-014", 1));
    assert_eq!(Card::from_text(&card.to_text()), Some(card));
    for text in [
        "",
        "1\n2\n3",
        "n\nt\np\na\nmany\n",
        "n\nt\np\na\n1\n\nwhat 1 x",
        "n\nt\np\na\n1\n\nparts x y",
        "n\nt\np\na\n1\n\nparts 1",
    ] {
        assert_eq!(Card::from_text(text), None, "{text:?}");
    }
}

const WHATS: [WaitsFor; 7] = [
    WaitsFor::StepTaken,
    WaitsFor::ParkedAct,
    WaitsFor::UnknownJoins,
    WaitsFor::UntappedCoils,
    WaitsFor::UnmeasuredParts,
    WaitsFor::Photographs,
    WaitsFor::Parts,
];

fn words() -> impl Strategy<Value = String> {
    // Whatever somebody types, line ends apart: those become spaces on a card.
    "[^\n\r]{0,20}"
}

proptest! {
    #[test]
    fn any_card_comes_back_from_its_text(
        number in words(), title in words(), piece in words(), last_at in words(), entries: u64,
        photograph in proptest::option::of("[0-9a-f]{1,64}"),
        waits in proptest::collection::vec((0..WHATS.len(), any::<u32>(), words()), 0..5),
    ) {
        let waits = waits.into_iter().map(|(what, count, name)| Waiting { what: WHATS[what], count, name }).collect();
        let card = Card { number, title, piece, last_at, entries, photograph, waits };
        prop_assert_eq!(Card::from_text(&card.to_text()), Some(card));
    }

    #[test]
    fn line_ends_do_not_break_a_card(title in "(\r|\n|parts 1 x|[a-z]){0,12}") {
        let card = Card {
            number: "1".to_owned(), title, piece: String::new(), last_at: String::new(), entries: 1, photograph: None,
            waits: vec![Waiting { what: WaitsFor::Parts, count: 1, name: "a\nb".to_owned() }],
        };
        let back = Card::from_text(&card.to_text()).expect("a card");
        prop_assert_eq!(back.title, card.title.replace(['\n', '\r'], " "));
        prop_assert_eq!(back.waits.len(), 1);
    }

    #[test]
    fn any_text_is_a_card_or_none(text in "\\PC{0,60}|([a-z0-9 ]{0,8}\n){0,9}") {
        let _ = Card::from_text(&text);
    }
}
