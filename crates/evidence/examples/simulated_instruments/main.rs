//! Does what is said come true as often as it is said? Draws instruments of which everything is known, weighs what a
//! bench would find on them, and sets the months named and the probabilities of originality beside the truth: once with
//! the world as assumed, and then with worlds that differ from what is assumed.
//!
//! `cargo run --release -p asfound-evidence --example simulated_instruments`
#![allow(clippy::print_stdout, reason = "figures are what it is for")]

mod instruments;

use asfound_evidence::Assumptions;
use instruments::{Record, drawn};

const INSTRUMENTS: u64 = 4_000;

fn main() {
    let assumed = Assumptions::default();
    let record = drawn(INSTRUMENTS, &assumed, &assumed);
    println!("{INSTRUMENTS} instruments, {} parts, drawn as assumed", record.parts.len());
    said(&record);
    println!("\n{:>28} {:>12} {:>12}", "stated original", "true", "parts");
    for class in record.tenths() {
        println!("{:>26.1} % {:>10.1} % {:>12}", 100.0 * class.stated, 100.0 * class.came_true, class.number);
    }
    for (name, changes) in [
        ("small parts lay three times as long", &[("stock lag of small parts", 18.0)][..]),
        ("a third of the parts from old stock", &[("fitted from old stock", 0.3)]),
        (
            "pots, switches and guards replaced more often",
            &[("pot replaced", 0.3), ("switch replaced", 0.4), ("guard replaced", 0.4)],
        ),
        ("one code in ten misread", &[("code misread", 0.1)]),
    ] {
        let mut truly = assumed.clone();
        for (matter, value) in changes {
            truly.set(matter, *value).expect("there is such a matter");
        }
        println!("\nin truth, {name}; weighed as assumed");
        said(&drawn(INSTRUMENTS, &truly, &assumed));
    }
}

fn said(record: &Record) {
    let (chi_square, degrees) = record.chi_square();
    println!(
        "the true month is among those named as 95 % in {:.1} % of them; the months named hold {:.1} %",
        100.0 * record.coverage(),
        100.0 * record.named()
    );
    println!("originality: chi-square {chi_square:.1} with {degrees} degrees of freedom");
}
