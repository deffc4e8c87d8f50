//! How long the inductance in air takes: the table for a bobbin, and a figure from it.

use asfound_electric::bobbin::{Bobbin, Former, Lay, Turns};
use asfound_electric::inductance::AirCore;
use asfound_measure::Millimetres;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

/// A coil over six rods, one on a rectangle, one on a rod: all kinds of former.
fn bobbins() -> [Bobbin; 3] {
    [
        Former::Obround { straight: Millimetres(52.4), end_radius: Millimetres(2.48) },
        Former::Rectangular { length: Millimetres(55.0), width: Millimetres(7.0), lay: Lay::Rounded },
        Former::Circular { radius: Millimetres(10.0) },
    ]
    .map(|former| Bobbin::new(former, Millimetres(11.0)).expect("a bobbin"))
}

/// Wanted: below 10 ms, so that a table is made when it is asked for.
#[divan::bench(args = [0, 1, 2])]
fn table(bencher: Bencher, which: usize) {
    let bobbin = bobbins()[which];
    bencher.bench(|| AirCore::tabulate(black_box(&bobbin), Millimetres(8.0)));
}

/// Wanted: nanoseconds, since a study of a coil asks some ten thousand times.
#[divan::bench]
fn figure(bencher: Bencher) {
    let table = AirCore::tabulate(&bobbins()[0], Millimetres(8.0)).expect("a table");
    bencher.bench(|| table.inductance(black_box(Millimetres(5.1)), black_box(Turns(8105.0))));
}
