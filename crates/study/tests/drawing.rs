//! The drawing of a trace: taken line by line, placed by marks, and said where it falls apart.

mod common;

use asfound_study::drawing::{Drawn, View, of_text, study};
use asfound_study::record::{Body, Mark1, Photograph1, Trace1};
use common::Ledger;

const CAVITY: &str = "coil neck 7k2\npot volume 500k audio\njack jack\nswitch lever three-way lever\n\
                      join neck.hot lever.a1 metered 0.4\njoin lever.a0 Volume.3 seen photo 2\n\
                      join volume.2 jack.tip matched both red\njoin neck.ground volume.1 or jack.sleeve unknown\n";

fn drawn(text: &str) -> Drawn {
    of_text(text, View::default()).expect("there is something to draw")
}

#[test]
fn joins_stand_as_they_are_known() {
    let drawn = drawn(CAVITY);
    assert_eq!(drawn.joins, [1, 1, 1, 1]);
    assert_eq!(drawn.circuit.joins[0].note, "0.4 Ω");
    assert_eq!(drawn.circuit.joins[1].said, "seen photo 2");
    assert_eq!(drawn.circuit.joins[3].to.len(), 2);
    assert!(drawn.apart.is_empty() && drawn.loose.is_empty() && drawn.fits);
}

#[test]
fn lines_that_cannot_be_read_leave_the_rest_standing() {
    let drawn = drawn(&format!(
        "{CAVITY}pot tone\njoin neck.hot nowhere.1 metered\nswitch odd\nlugs 1 2 3\nat up: 1-2\n"
    ));
    assert_eq!(drawn.circuit.parts.len(), 5);
    assert_eq!(drawn.circuit.joins.len(), 4);
    assert_eq!(drawn.circuit.parts[4].lugs.len(), 3);
    assert_eq!(drawn.loose, ["odd"]);
    assert!(of_text("# nothing yet\n", View::default()).is_none());
}

#[test]
fn two_instruments_in_one_trace_are_drawn_and_told_apart() {
    let other = "coil bridge 6k\npot tone 250k\njoin bridge.hot tone.3 metered\n";
    let drawn = drawn(&format!("{CAVITY}{other}"));
    assert_eq!(drawn.apart, [vec!["neck", "volume", "jack", "lever"], vec!["bridge", "tone"]]);
}

#[test]
fn too_many_switches_are_not_drawn() {
    let switches: String = (0..200).map(|at| format!("switch s{at} push-pull\n")).collect();
    assert!(!drawn(&switches).fits);
}

fn photograph(hash: &str) -> Body {
    Body::Photograph(Photograph1 {
        original: hash.to_owned(),
        bytes: 1,
        name: "cavity.jpg".to_owned(),
        media: "image/jpeg".to_owned(),
        shareable: None,
        width: Some(2000),
        height: Some(1000),
        taken: None,
        part: None,
        caption: "the cavity".to_owned(),
    })
}

fn mark(hash: &str, of: &str, x: u32, y: u32, seen_from: Option<&str>) -> Body {
    let seen_from = seen_from.map(str::to_owned);
    Body::Mark(Mark1 { photograph: hash.to_owned(), of: of.to_owned(), x, y, seen_from })
}

#[test]
fn parts_stand_where_the_photograph_with_the_most_marks_shows_them() {
    let mut ledger = Ledger::opened();
    ledger.keep(&Body::Trace(Trace1 { grammar: 1, text: CAVITY.to_owned() }));
    let (few, many) = ("a".repeat(64), "b".repeat(64));
    ledger.keep(&photograph(&few));
    ledger.keep(&photograph(&many));
    ledger.keep(&mark(&few, "volume", 1000, 1000, None));
    assert_eq!(
        study(&ledger.job, View::default()).expect("drawn").photograph,
        None,
        "one mark places nothing"
    );
    ledger.keep(&mark(&many, "VOLUME", 9000, 9000, None));
    ledger.keep(&mark(&many, "volume", 2500, 4000, None));
    ledger.keep(&mark(&many, "lever.a1", 7500, 8000, Some("front")));
    let drawn = study(&ledger.job, View::default()).expect("drawn");
    assert_eq!(drawn.photograph.map(|(_, parts)| parts), Some(2));
    let part = |name: &str| drawn.circuit.parts.iter().find(|part| part.name == name).expect("there");
    let volume = part("volume").place.expect("marked");
    assert!((volume.x - 0.25).abs() < 1e-12 && (volume.y - 0.2).abs() < 1e-12, "the later mark, in widths");
    let lug = part("lever").lugs[1].place.expect("marked");
    assert!((lug.x - 0.25).abs() < 1e-12, "a picture from the front is turned over");
}
