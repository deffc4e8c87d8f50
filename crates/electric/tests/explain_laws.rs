//! Laws of explanations: what a person calls things, and in which order they were metered, changes no fact.

#[path = "common/document.rs"]
mod document;
#[path = "common/explained.rs"]
mod explained;

use std::collections::BTreeSet;

use asfound_electric::explain::{Agreed, CoilWord, Explanation, FAINT_BELOW, SILENT_BELOW};
use document::document;
use explained::explained;
use proptest::prelude::*;

const TRACES: [&str; 3] = [
    include_str!("traces/five-way-lever.trace"),
    include_str!("traces/four-slides.trace"),
    include_str!("traces/half-cut-rotary.trace"),
];

/// A trace of parts thrown between a few tie points; `ends` are numbers of tie points, two to a part.
fn thrown(kinds: &[u8], ends: &[u8], signs: &[u8]) -> String {
    let mut parts = "post tag 6\njack jack\nswitch s two-pole slide\n".to_owned();
    let mut joins = "join jack.tip tag.1 metered\njoin jack.sleeve tag.2 metered\n\
        join s.1 tag.3 metered\njoin s.2 tag.4 metered\njoin s.3 tag.5 metered\n"
        .to_owned();
    for (index, kind) in kinds.iter().enumerate() {
        let sign = ["clockwise north", "anticlockwise south", "clockwise", ""][usize::from(signs[index] % 4)];
        let (line, a, b) = match kind % 5 {
            0 | 1 => (format!("coil p{index} 6k2 2H4 110p {sign}"), "hot", "ground"),
            2 => (format!("capacitor p{index} 10n"), "a", "b"),
            3 => (format!("resistor p{index} 100k"), "a", "b"),
            _ => (format!("pot p{index} 250k"), "3", "2"),
        };
        parts += &format!("{line}\n");
        for (lug, end) in [(a, ends[2 * index]), (b, ends[2 * index + 1])] {
            joins += &format!("join p{index}.{lug} tag.{} metered\n", end % 6 + 1);
        }
    }
    format!("{parts}{joins}join tag.6 tag.1 or tag.3 unknown\n")
}

/// The joins of a trace that are known, turned round by `by`, its other lines left in place.
fn turned(text: &str, by: usize) -> String {
    let known = |line: &&str| line.starts_with("join") && !line.contains(" or ");
    let mut joins: Vec<&str> = text.lines().filter(known).collect();
    let by = by % joins.len().max(1);
    joins.rotate_left(by);
    let mut next = joins.into_iter();
    text.lines().map(|line| format!("{}\n", if known(&line) { next.next().unwrap() } else { line })).collect()
}

fn same(a: &Explanation, b: &Explanation) -> Result<(), TestCaseError> {
    prop_assert_eq!(document(a), document(b));
    prop_assert_eq!(a, b);
    Ok(())
}

fn circuits() -> impl Strategy<Value = String> {
    (2usize..7)
        .prop_flat_map(|count| {
            let bytes = |count| proptest::collection::vec(any::<u8>(), count);
            (bytes(count), bytes(2 * count), bytes(count))
        })
        .prop_map(|(kinds, ends, signs)| thrown(&kinds, &ends, &signs))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn order_and_doubling_of_joins_change_nothing(text in circuits(), by in 1usize..20) {
        let first = explained(&text);
        same(&first, &explained(&turned(&text, by)))?;
        let doubled: String = text
            .lines()
            .map(|line| {
                let again = line.starts_with("join") && !line.contains(" or ");
                if again { format!("{line}\n{line}\n") } else { format!("{line}\n") }
            })
            .collect();
        same(&first, &explained(&doubled))?;
    }

    #[test]
    fn names_change_nothing_but_names(text in circuits()) {
        let renamed = text.replace(" p", " quite-another-part");
        let (first, second) = (explained(&text), explained(&renamed));
        prop_assert_eq!(document(&first).replace("p", ""), document(&second).replace("quite-another-part", "").replace("p", ""));
    }

    #[test]
    fn weights_add_up_and_every_fact_covers_every_possibility(text in circuits()) {
        let explanation = explained(&text);
        let all: BTreeSet<usize> = (0..explanation.possibilities.len()).collect();
        let sum: f64 = explanation.possibilities.iter().map(|it| it.weight).sum();
        prop_assert!((sum - 1.0).abs() < 1e-12);
        for state in &explanation.states {
            covers(&state.output, &all)?;
            covers(&state.hum, &all)?;
            covers(&state.ohms, &all)?;
            covers(&state.curve, &all)?;
            for fact in &state.coils { covers(fact, &all)?; }
            for fact in &state.knobs { covers(fact, &all)?; }
            for pair in &state.pairs {
                covers(&pair.relation, &all)?;
                covers(&pair.phase, &all)?;
            }
        }
        let grouped: usize = explanation.groups.iter().map(|group| group.states.len()).sum();
        prop_assert_eq!(grouped, explanation.states.len());
        let bits = libm::log2(explanation.possibilities.len() as f64);
        for look in &explanation.next {
            prop_assert!(look.bits > 0.0 && look.bits <= bits + 1e-9, "{look:?}");
        }
    }

    #[test]
    fn coil_words_follow_from_the_levels_told(text in circuits()) {
        let explanation = explained(&text);
        for state in &explanation.states {
            for possibility in 0..explanation.possibilities.len() {
                let facts: Vec<_> = state.coils.iter().map(|it| it.in_possibility(possibility).unwrap()).collect();
                for fact in &facts {
                    let level = fact.level;
                    let bands = [level.low.0, level.middle.0, level.high.0];
                    let loudest = facts.iter().fold([-200.0f64; 3], |most, it| {
                        [most[0].max(it.level.low.0), most[1].max(it.level.middle.0), most[2].max(it.level.high.0)]
                    });
                    let silent = bands.iter().all(|&level| level < SILENT_BELOW.0);
                    let faint = bands.iter().zip(loudest).all(|(level, most)| level - most <= FAINT_BELOW.0);
                    // Facts that are told as one may differ by half a decibel; words at a bound are left out.
                    let near = bands.iter().zip(loudest).any(|(level, most)| {
                        (level - SILENT_BELOW.0).abs() < 1.0 || (level - most - FAINT_BELOW.0).abs() < 1.0
                    });
                    match fact.word {
                        _ if near => {}
                        CoilWord::Dead(_) | CoilWord::Silent => prop_assert!(silent, "{fact:?}"),
                        CoilWord::Faint => prop_assert!(!silent && faint, "{fact:?}"),
                        CoilWord::Sounds => prop_assert!(!silent && !faint, "{fact:?}"),
                    }
                }
            }
        }
    }
}

fn covers<T>(fact: &Agreed<T>, all: &BTreeSet<usize>) -> Result<(), TestCaseError> {
    if let Agreed::Depends(cases) = fact {
        let named: Vec<usize> = cases.iter().flat_map(|case| case.possibilities.iter().copied()).collect();
        prop_assert_eq!(named.len(), all.len());
        prop_assert_eq!(&named.into_iter().collect::<BTreeSet<_>>(), all);
    }
    Ok(())
}

#[test]
fn the_three_traces_obey_them_too() {
    for text in TRACES {
        for by in [1, 5] {
            assert_eq!(explained(text), explained(&turned(text, by)));
        }
    }
}
