//! What single states are told as, that each sentence follows from the figures, and that names and order change nothing
//! but the names.

use std::collections::BTreeSet;

use asfound_study::wiring::explain::{CoilWord, Explanation};
use asfound_study::wiring::{Explained, WiringTold, of_text};
use asfound_words::sheet::{Sheet, Told};
use asfound_words::wiring::explained_sheet;
use proptest::prelude::*;

const BASS: &str = include_str!("../../asfound/demo/bass.trace");
const LEVER: &str = include_str!("../../electric/tests/traces/five-way-lever.trace");
const SLIDES: &str = include_str!("../../electric/tests/traces/four-slides.trace");
const CUT: &str = include_str!("../../electric/tests/traces/half-cut-rotary.trace");

fn explained(trace: &str) -> Explained {
    match of_text(trace) {
        WiringTold::Explained(explained) => *explained,
        other => panic!("{other:?}\n{trace}"),
    }
}

fn sheet(trace: &str) -> Sheet {
    explained_sheet(&explained(trace))
}

fn told<'s>(sheet: &'s Sheet, id: &str) -> &'s Told {
    let ids: Vec<&str> = sheet.means.iter().map(|told| told.id.as_str()).collect();
    sheet.means.iter().find(|told| told.id == id).unwrap_or_else(|| panic!("{id} is not among {ids:?}"))
}

/// One coil into a volume and a jack, with more lines behind.
fn one_coil(more: &str) -> String {
    format!(
        "coil bridge 6k31 2H6 120p clockwise north\npot volume 250k\njack jack\n\
         join bridge.hot volume.3 metered\njoin volume.2 jack.tip metered\n\
         join volume.1 jack.sleeve metered\njoin bridge.ground volume.1 metered\n{more}"
    )
}

#[test]
fn a_plain_circuit() {
    let sheet = sheet(&one_coil(""));
    assert_eq!(told(&sheet, "overview").sentence, "The circuit has no switch: it does one thing.");
    assert_eq!(told(&sheet, "state-0").sentence, "The bridge coil sounds alone.");
    assert_eq!(told(&sheet, "state-0").sure, "Certain as traced.");
    assert_eq!(told(&sheet, "knob-volume").sentence, "The volume knob turns the sound down to silence.");
    assert_eq!(told(&sheet, "state-0").figures[0].plot.title(), "Response at the jack");
}

#[test]
fn a_jack_that_is_shorted_open_or_silent() {
    let shorted = sheet(&one_coil("join jack.tip jack.sleeve metered\n"));
    assert_eq!(
        told(&shorted, "state-0").sentence,
        "The jack is shorted, tip to sleeve, and nothing is heard."
    );
    assert!(told(&shorted, "state-0").figures.is_empty());
    assert_eq!(told(&shorted, "never-bridge").sentence, "The bridge coil is heard in no position.");

    let open = sheet("coil bridge 6k31 clockwise north\njack jack\njoin bridge.hot jack.tip metered\n");
    assert_eq!(told(&open, "state-0").sentence, "Nothing joins tip to sleeve, so nothing is heard.");

    let loose = one_coil("").replace("join bridge.hot volume.3 metered\n", "");
    assert_eq!(told(&sheet(&loose), "state-0").sentence, "No coil reaches the jack.");
}

#[test]
fn a_live_cover_opens_with_its_caution() {
    let trace = one_coil(
        "resistor r 100k\nmetal cover\njoin cover bridge.hot metered\njoin r.a cover metered\njoin r.b volume.1 metered\n",
    );
    let sheet = sheet(&trace);
    let live = told(&sheet, "live-cover");
    assert_eq!(
        live.sentence,
        "Signal lies on the cover: a grounded string or a hand on it changes or kills the sound."
    );
    assert!(live.caution.contains("protective earth") && live.caution.contains("licensed"));
    assert_eq!(live.sure, "Certain as traced. Found on the network, not by touching.");
}

#[test]
fn knobs_that_blend_and_knobs_that_cut_off() {
    let blend = "coil neck 7k clockwise north\ncoil bridge 6k clockwise north\npot blend 500k\njack jack\n\
        join neck.hot jack.tip metered\njoin bridge.hot blend.3 metered\njoin blend.2 jack.tip metered\n\
        join neck.ground jack.sleeve metered\njoin bridge.ground jack.sleeve metered\njoin blend.1 post.1 metered\npost post 1\n";
    let said = told(&sheet(blend), "knob-blend").sentence.clone();
    assert_eq!(said, "The blend knob blends in the bridge coil.");
    let kills = "coil bridge 6k31 clockwise north\npot kill 10M\njack jack\njoin bridge.hot jack.tip metered\n\
        join kill.3 jack.tip metered\njoin kill.2 jack.sleeve metered\njoin bridge.ground jack.sleeve metered\n";
    assert_eq!(
        told(&sheet(kills), "knob-kill").sentence,
        "The kill knob cuts the sound off at its end, with little change before."
    );
}

#[test]
fn unknown_signs_are_asked_for_and_not_guessed() {
    let both = "coil neck 7k\ncoil bridge 6k\njack jack\njoin neck.hot jack.tip metered\njoin bridge.hot jack.tip metered\n\
        join neck.ground jack.sleeve metered\njoin bridge.ground jack.sleeve metered\n";
    let sheet = sheet(both);
    let state = told(&sheet, "state-0");
    assert_eq!(state.sentence, "The neck and bridge coils sound together in parallel, phase not known yet.");
    assert_eq!(
        state.sure,
        "Certain as traced. Phase waits for a tap of the neck and bridge coils, hum for a compass there too."
    );
    assert_eq!(
        state.working[0],
        "In phase if neck and bridge answer the string with the same sign; else out of phase and thin."
    );
}

#[test]
fn cut_leads_with_odds_are_not_decided_until_the_odds_say_so() {
    let with = |odds: &str| {
        one_coil("")
            .replace("bridge.hot volume.3 metered", &format!("bridge.hot volume.3 or nothing {odds}unknown"))
    };
    for (odds, sure) in [
        ("", "Not decided: where bridge.hot went decides it."),
        ("odds 4:1 ", "The first is likely; where bridge.hot went decides it."),
        ("odds 19:1 ", "The first is very likely; where bridge.hot went decides it."),
    ] {
        let sheet = sheet(&with(odds));
        let state = told(&sheet, "state-0");
        assert_eq!(state.sure, sure);
        let next = &sheet.means[0].next[0];
        assert_eq!(next.id, "stub bridge.hot");
        assert!(next.words.contains("against volume.3; it may have gone nowhere"), "{}", next.words);
    }
    let sentence = &told(&sheet(&with("odds 4:1 ")), "state-0").sentence.clone();
    assert_eq!(
        sentence,
        "The bridge coil sounds alone if bridge.hot went to volume.3; else no coil reaches the jack."
    );
}

/// Coils that sound by their figures alone: not 60 dB down in every band, and not 20 dB under the loudest in every band.
fn sounding(explanation: &Explanation, state: usize, possibility: usize) -> BTreeSet<usize> {
    let state = &explanation.states[state];
    let levels: Vec<[f64; 3]> = state
        .coils
        .iter()
        .map(|fact| {
            fact.in_possibility(possibility).map_or([-200.0; 3], |fact| {
                let level = fact.level;
                [level.low.0, level.middle.0, level.high.0]
            })
        })
        .collect();
    let loudest = |band: usize| levels.iter().map(|level| level[band]).fold(f64::NEG_INFINITY, f64::max);
    let sounds = |level: &[f64; 3]| {
        level.iter().any(|one| *one >= -60.0) && (0..3).any(|band| level[band] > loudest(band) - 20.0)
    };
    (0..levels.len()).filter(|&coil| sounds(&levels[coil])).collect()
}

#[test]
fn a_sentence_names_the_coils_that_its_figures_let_sound() {
    for trace in [BASS, LEVER, SLIDES, CUT] {
        let explained = explained(trace);
        let (explanation, sheet) = (&explained.explanation, explained_sheet(&explained));
        for (at, group) in explanation.groups.iter().enumerate() {
            let told = told(&sheet, &format!("state-{at}"));
            let said = |words: &str, coil: &str| words.contains(coil);
            let in_all: Vec<BTreeSet<usize>> = (0..explanation.possibilities.len())
                .map(|possibility| sounding(explanation, group.states[0], possibility))
                .collect();
            let heard: String = match told.tables.first() {
                Some(table) if table.caption == "What is heard, and when" => {
                    table.rows.iter().map(|row| row[1].clone()).collect::<Vec<_>>().join("; ")
                }
                _ => told.sentence.clone(),
            };
            for (coil, name) in explanation.coils.iter().enumerate() {
                let sounds_somewhere = in_all.iter().any(|coils| coils.contains(&coil));
                assert_eq!(said(&heard, &format!("{name} ")), sounds_somewhere, "{name}: {heard}");
            }
            let alone = in_all.iter().all(|coils| coils.len() == 1);
            assert_eq!(
                heard.contains("alone") && !heard.contains("together") && !heard.contains("no coil"),
                alone,
                "{heard}"
            );
            for state in &group.states {
                for possibility in 0..explanation.possibilities.len() {
                    let words: BTreeSet<usize> = (0..explanation.coils.len())
                        .filter(|&coil| {
                            let fact = explanation.states[*state].coils[coil].in_possibility(possibility);
                            fact.is_some_and(|fact| fact.word == CoilWord::Sounds)
                        })
                        .collect();
                    assert_eq!(words, sounding(explanation, *state, possibility));
                }
            }
        }
    }
}

#[test]
fn odds_in_a_table_add_up() {
    for trace in [BASS, CUT] {
        for told in sheet(trace).means {
            for table in told.tables.iter().filter(|table| table.caption == "What is heard, and when") {
                let sum: f64 =
                    table.rows.iter().map(|row| row[3].trim_end_matches(" %").parse::<f64>().unwrap()).sum();
                assert!((sum - 100.0).abs() <= table.rows.len() as f64 / 2.0, "{table:?}");
            }
        }
    }
}

/// All words of a sheet: sentences, how sure, steps, working and tables.
fn words(sheet: &Sheet) -> Vec<String> {
    let mut all: Vec<String> = sheet.cautions.clone();
    for told in &sheet.means {
        all.extend([told.id.clone(), told.sentence.clone(), told.sure.clone(), told.caution.clone()]);
        all.extend(told.working.iter().chain(&told.assumptions).chain(&told.would_change).cloned());
        all.extend(told.tables.iter().flat_map(|table| table.rows.iter().map(|row| row.join(" | "))));
        all.extend(told.figures.iter().map(|figure| figure.caption.clone()));
        all.extend(told.next.iter().map(|step| format!("{} {} {}", step.id, step.words, step.why)));
    }
    all.extend(sheet.next.iter().map(|step| format!("{} {} {}", step.id, step.words, step.why)));
    all
}

/// The sentences alone.
fn sentences(sheet: &Sheet) -> Vec<(String, String, String)> {
    let told = |told: &Told| (told.id.clone(), told.sentence.clone(), told.sure.clone());
    sheet.means.iter().filter(|one| one.id != "overview").map(told).collect()
}

/// A trace with each part renamed, word by word; the names' own words are not otherwise in the trace.
fn renamed(trace: &str, names: &[(&str, &str)]) -> String {
    names.iter().fold(trace.to_owned(), |trace, (from, to)| {
        let mut lines = Vec::new();
        for line in trace.lines() {
            let code = line.split('#').next().unwrap_or_default();
            let words: Vec<String> = code
                .split(' ')
                .enumerate()
                .map(|(at, word)| match word.split_once('.') {
                    Some((part, lug)) if part == *from => format!("{to}.{lug}"),
                    // The first word of a line is the sort of part, which may be its name as well.
                    None if word == *from && at > 0 => (*to).to_owned(),
                    _ => word.to_owned(),
                })
                .collect();
            lines.push(words.join(" "));
        }
        lines.join("\n") + "\n"
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_name_changes_nothing_but_the_name(neck in "[q][u-z]{4,7}", tone in "[q][m-t]{4,7}") {
        // Slides have no line in which a coil's name is a word of the grammar.
        for (trace, coil, knob) in [(SLIDES, "neck", "volume"), (CUT, "bridge", "tone")] {
            prop_assume!(neck != tone);
            let other = renamed(trace, &[(coil, &neck), (knob, &tone)]);
            let back = |text: String| text.replace(&neck, coil).replace(&tone, knob);
            let lower = |text: &String| text.to_lowercase();
            let expected: Vec<String> = words(&sheet(trace)).iter().map(lower).collect();
            let found: Vec<String> = words(&sheet(&other)).iter().map(lower).map(back).collect();
            for (found, expected) in found.iter().zip(&expected) {
                prop_assert_eq!(found, expected);
            }
            prop_assert_eq!(found.len(), expected.len());
        }
    }

    #[test]
    fn the_order_of_joins_changes_no_sentence(order in Just((0..19).collect::<Vec<usize>>()).prop_shuffle(), twice in 0..19_usize) {
        let (joins, parts): (Vec<&str>, Vec<&str>) = BASS.lines().partition(|line| line.starts_with("join"));
        prop_assert_eq!(joins.len(), order.len());
        let mut lines = parts;
        lines.extend(order.iter().map(|&at| joins[at]));
        let doubled = joins[twice];
        // A cut lead said twice is two unknown joins; a metered one is the same join.
        if !doubled.contains("unknown") {
            lines.push(doubled);
        }
        let turned = lines.join("\n") + "\n";
        prop_assert_eq!(sentences(&sheet(&turned)), sentences(&sheet(BASS)));
    }
}
