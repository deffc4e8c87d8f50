//! Plants faults in circuits, meters them with noise, and prints how often the planted fault is found.
//!
//! `cargo run --release -p asfound-electric --example planted_faults`: a thousand trials in ten circuits, from stated
//! seeds, so that the figures are the same everywhere.
#![allow(clippy::print_stdout, reason = "figures are what it is for")]

mod trial;

use asfound_electric::fault::Options;
use trial::{CIRCUITS, Ended, trial};

/// Trials run.
const TRIALS: u64 = 1000;
/// Seed of the first; each has the next.
const FIRST_SEED: u64 = 1;

fn main() {
    let mut counts = [[0_usize; 3]; CIRCUITS.len()];
    let mut probings = 0;
    for number in 0..TRIALS {
        let which = (number % CIRCUITS.len() as u64) as usize;
        let it = trial(which, FIRST_SEED + number, &Options::default());
        counts[which][it.ended as usize] += 1;
        probings += it.probings;
        let (fault, first) = (&it.fault, &it.first);
        let named = if first.is_empty() { "the design".to_owned() } else { format!("{first:?}") };
        match it.ended {
            Ended::First => {}
            Ended::Missed => println!("seed {}: missed {fault:?}, {named} came first", FIRST_SEED + number),
            Ended::NotSeparable => {
                println!("seed {}: {fault:?} cannot be told from {named}", FIRST_SEED + number)
            }
        }
    }
    println!("{:22} {:>6} {:>7} {:>14}", "circuit", "first", "missed", "not separable");
    for ((name, _), [first, missed, not]) in CIRCUITS.iter().zip(&counts) {
        println!("{name:22} {first:>6} {missed:>7} {not:>14}");
    }
    let sum = |at: usize| counts.iter().map(|it| it[at]).sum::<usize>();
    let (first, missed, not) = (sum(0), sum(1), sum(2));
    let share = 100.0 * first as f64 / (first + missed).max(1) as f64;
    println!("first in {first} of {} that can be separated: {share:.1} %; {not} cannot", first + missed);
    println!("{:.1} probings after the readings at the plug", probings as f64 / TRIALS as f64);
}
