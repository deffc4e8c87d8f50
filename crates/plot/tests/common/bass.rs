//! A traced cavity that the tests share: the circuit of a bass, two leads of it cut. Invented.

use asfound_plot::Known;
use asfound_plot::circuit::{Circuit, Join, Lug, Outline, Part, Tip};

/// A part with these lugs.
pub(crate) fn part(name: &str, value: &str, outline: Outline, lugs: &[&str]) -> Part {
    let lugs = lugs.iter().map(|name| Lug { name: (*name).to_owned(), place: None }).collect();
    Part { name: name.to_owned(), value: value.to_owned(), outline, lugs, place: None }
}

fn tip(parts: &[Part], place: &str) -> Tip {
    let (name, lug) = place.split_once('.').unwrap_or((place, ""));
    let part = parts.iter().position(|part| part.name == name).expect("the part is there");
    let found = parts[part].lugs.iter().position(|known| known.name == lug);
    Tip { part, lug: found.unwrap_or(0) }
}

/// Joins said as `from to [or to] how [note]`, with `nothing` for an end that may hang loose.
pub(crate) fn joins(parts: &[Part], lines: &[&str]) -> Vec<Join> {
    let read = |line: &&str| {
        let mut words = line.split(' ').filter(|word| *word != "or");
        let from = tip(parts, words.next().expect("a join begins somewhere"));
        let (mut to, mut or_nothing) = (Vec::new(), false);
        let known = loop {
            match words.next().expect("a join says how it is known") {
                "metered" => break Known::Metered,
                "seen" => break Known::Seen,
                "matched" => break Known::Matched,
                "unknown" => break Known::Unknown,
                "nothing" => or_nothing = true,
                end => to.push(tip(parts, end)),
            }
        };
        let note = words.collect::<Vec<_>>().join(" ");
        let said = format!("{} {note}", known.words()).trim().to_owned();
        Join { from, to, or_nothing, known, note, said }
    };
    lines.iter().map(read).collect()
}

/// Twelve parts and nineteen joins.
pub(crate) fn bass() -> Circuit {
    let pot = ["1", "2", "3", "case"];
    let parts = vec![
        part("neck", "7k2", Outline::Coil, &["hot", "ground"]),
        part("bridge", "4k9", Outline::Coil, &["hot", "ground"]),
        part("choke", "420 1H5", Outline::Choke, &["a", "b"]),
        part("big-cap", "47n", Outline::Capacitor, &["a", "b"]),
        part("small-cap", "2n2", Outline::Capacitor, &["a", "b"]),
        part("tone-cap", "47n", Outline::Capacitor, &["a", "b"]),
        part("volume", "500k audio", Outline::Pot, &pot),
        part("tone", "250k audio", Outline::Pot, &pot),
        part("rotary", "", Outline::Rotary, &["a0", "a1", "a2", "a3", "a4"]),
        part("push-pull", "", Outline::PushPull, &["1", "2", "3", "4", "5", "6"]),
        part("strings", "", Outline::Strings, &["case"]),
        part("jack", "", Outline::Jack, &["tip", "sleeve"]),
    ];
    let joins = joins(
        &parts,
        &[
            "neck.hot rotary.a1 metered 0.4",
            "neck.hot push-pull.2 metered 0.3",
            "push-pull.1 rotary.a2 metered 0.3",
            "bridge.hot rotary.a2 metered 0.3",
            "neck.hot choke.a metered 0.5",
            "choke.b rotary.a3 or volume.3 unknown",
            "choke.b big-cap.a seen",
            "big-cap.b volume.1 seen",
            "bridge.hot small-cap.a seen",
            "small-cap.b rotary.a4 or nothing unknown",
            "rotary.a0 volume.3 metered 0.2",
            "volume.3 tone.3 metered 0.2",
            "tone.2 tone-cap.a matched",
            "tone-cap.b volume.1 seen",
            "volume.2 jack.tip metered 0.4",
            "volume.1 jack.sleeve metered 0.4",
            "neck.ground volume.1 metered",
            "bridge.ground volume.1 metered",
            "strings volume.1 metered 0.6",
        ],
    );
    Circuit { title: "The circuit as found".to_owned(), parts, joins, ..Circuit::default() }
}
