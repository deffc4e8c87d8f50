//! What it costs to read an instrument at the jack: readings that agree, and readings with a fault to be found.

#[path = "../tests/common/plug.rs"]
mod plug;

use asfound_electric::jack::*;
use asfound_measure::Ohms;
use plug::*;

fn main() {
    divan::main();
}

fn five_positions(second: f64) -> Plain {
    let rows: [(&[usize], f64); 5] =
        [(&[2], 6145.0), (&[1, 2], second), (&[1], 5668.0), (&[0, 1], 2842.0), (&[0], 5573.0)];
    let readings = rows.map(|(on, ohms)| full_up(on, shown(ohms, 0.5)));
    let mut asked = unknown(&["neck", "middle", "bridge"], readings.to_vec());
    asked.tracks = OhmsKnown::Nominal(COMMON_TRACKS.to_vec());
    asked
}

/// Three coils in five positions, nothing said of volume or wiring.
#[divan::bench]
fn readings_that_agree(bencher: divan::Bencher) {
    let asked = five_positions(2984.0);
    bencher.bench(|| read_plain(&asked, Meter { gain: 0.005 }));
}

/// The same with one reading that disagrees, one volume said.
#[divan::bench]
fn a_reading_that_disagrees(bencher: divan::Bencher) {
    let asked = Plain { controls: Some(Controls::Master), ..five_positions(5668.0) };
    bencher.bench(|| read_plain(&asked, Meter { gain: 0.005 }));
}

/// Two readings, of which the second says that a coil is open.
#[divan::bench]
fn a_coil_that_is_open(bencher: divan::Bencher) {
    let readings = vec![full_up(&[0], shown(5808.0, 0.5)), full_up(&[0, 1], shown(5808.0, 0.5))];
    let mut asked = known(Controls::Master, &["neck", "bridge"], readings);
    asked.tracks = OhmsKnown::Nominal(vec![Ohms(250e3)]);
    bencher.bench(|| read_plain(&asked, EXACT));
}
