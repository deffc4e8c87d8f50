//! Reads codes that were changed at random, a million of them: nothing may panic, a fault must name a
//! place that is in the text, and a reading must lie in the months looked at.
//!
//! `cargo run --release -p asfound-evidence --example mutated_codes`
#![allow(clippy::print_stdout, reason = "figures are what it is for")]

use asfound_evidence::code::{System, read};
use asfound_evidence::{Month, Span};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// Texts read.
const ROUNDS: u64 = 1_000_000;
/// Stamps as they are met, to start from.
const MET: [&str; 16] = [
    "137634",
    "1377833",
    "190-7215",
    "235-7051Y",
    "606-4-21",
    "67-01 12A 0217 G1",
    "220753",
    "137-6[38]24",
    "542",
    "M9",
    "B2H3",
    "IS1 / B2H3",
    "FG",
    "41201",
    "KB/CE",
    "U.S. Pat. No. 2,524,035",
];
/// What a change puts in.
const SIGNS: [char; 24] = [
    '0', '1', '3', '5', '7', '9', '?', '[', ']', '-', ' ', '/', '.', ',', 'A', 'L', 'M', 'd', 'µ', '–', '½',
    '\n', '\0', '𝄞',
];

/// One change: a sign put in, taken out or put for another, or a stretch said twice.
fn change(signs: &mut Vec<char>, dice: &mut ChaCha8Rng) {
    let mut below = |most: usize| dice.next_u32() as usize % most.max(1);
    let (at, sign) = (below(signs.len() + 1), SIGNS[below(SIGNS.len())]);
    match below(4) {
        0 => signs.insert(at, sign),
        1 if at < signs.len() => drop(signs.remove(at)),
        2 if at < signs.len() => signs[at] = sign,
        _ => {
            let end = (at + below(5)).min(signs.len());
            signs.extend_from_within(at..end);
        }
    }
}

fn main() {
    let mut dice = ChaCha8Rng::seed_from_u64(1945);
    let (mut dates, mut faults, mut readings) = (0_u64, 0_u64, 0_usize);
    for round in 0..ROUNDS {
        let mut signs: Vec<char> = MET[round as usize % MET.len()].chars().collect();
        for _ in 0..=dice.next_u32() % 6 {
            change(&mut signs, &mut dice);
        }
        let text: String = signs.into_iter().collect();
        let first = Month::january(1900) + (dice.next_u32() % 1600) as i32;
        let Some(seen) = Span::new(first, first + (dice.next_u32() % 1300) as i32) else { continue };
        for system in System::ALL {
            match read(system, &text, seen) {
                Ok(stamp) => {
                    let days = stamp.days();
                    assert!(
                        Month::of(days.first) <= seen.last && Month::of(days.last) >= seen.first,
                        "{text:?}"
                    );
                    assert!(
                        stamp.made_in(seen).weights().iter().all(|weight| weight.is_finite()),
                        "{text:?}"
                    );
                    readings += stamp.readings.len();
                    dates += 1;
                }
                Err(fault) => {
                    assert_eq!(text.get(fault.place.clone()), Some(fault.read.as_str()), "{text:?}");
                    assert!(!fault.to_string().is_empty());
                    faults += 1;
                }
            }
        }
    }
    println!(
        "{ROUNDS} texts by {} systems: {dates} dates with {readings} readings, {faults} faults",
        System::ALL.len()
    );
}
