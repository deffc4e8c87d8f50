//! How long it takes to hold a trace against the meter.

#![allow(clippy::print_stdout, reason = "how many probings there are belongs to the figure")]

use asfound_electric::probing::{Options, Survey};
use asfound_electric::trace::Trace;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

/// Three dual coils, a five-way lever, three slides, pots, capacitors and resistors: 25 parts, 40 joins, 5 positions.
const LARGE: &str = "coil neck1 4k\ncoil neck2 4k1\ncoil middle1 3k9\ncoil middle2 4k2\ncoil bridge1 4k3\ncoil bridge2 4k4\n\
    switch lever five-way lever\npot volume 500k\npot tone 500k\npot blend 250k\n\
    capacitor tone-cap 22n\ncapacitor bleed 1n\ncapacitor bass-cut 2n2\nresistor bleed-r 150k\nresistor load 1M\n\
    resistor half-r 3k3\nchoke choke 300 1H\npost p1 1\npost p2 1\npost p3 1\npost ground 2\n\
    metal strings\nmetal shield\nmetal plate\njack jack\n\
    join neck1.ground p1.1 seen\njoin neck2.hot p1.1 seen\njoin neck2.ground ground.1 seen\njoin neck1.hot lever.a3 seen\n\
    join middle1.ground p2.1 seen\njoin middle2.hot p2.1 seen\njoin middle2.ground ground.1 seen\njoin middle1.hot lever.a2 seen\n\
    join bridge1.ground p3.1 seen\njoin bridge2.hot p3.1 seen\njoin bridge2.ground ground.1 seen\njoin bridge1.hot lever.a1 seen\n\
    join lever.b3 p1.1 seen\njoin lever.b1 p3.1 seen\njoin lever.b0 half-r.a seen\njoin half-r.b blend.3 seen\n\
    join blend.1 ground.1 seen\njoin blend.2 choke.a seen\njoin choke.b bass-cut.a seen\njoin bass-cut.b ground.1 seen\n\
    join lever.a0 volume.3 seen\njoin volume.3 bleed.a seen\njoin bleed.b bleed-r.a seen\njoin bleed-r.b volume.2 seen\n\
    join volume.2 jack.tip seen\njoin volume.1 volume.case seen\njoin volume.case ground.1 seen\njoin ground.1 ground.2 seen\n\
    join ground.2 jack.sleeve seen\njoin tone.3 volume.3 seen\njoin tone.2 tone-cap.a seen\njoin tone-cap.b tone.case seen\n\
    join tone.case ground.2 seen\njoin blend.case ground.2 seen\njoin strings ground.2 seen\njoin shield ground.2 seen\n\
    join plate ground.2 seen\njoin load.a volume.2 seen\njoin load.b volume.1 seen\njoin lever.b2 p2.1 seen\n";

/// Wanted: below half a second. Where it takes longer the page waits once; the study remembers the sheet.
#[divan::bench(sample_count = 5)]
fn sheet(bencher: Bencher) {
    let circuit = Trace::read(LARGE).expect("a trace").circuit().expect("a circuit");
    assert_eq!((circuit.parts().len(), circuit.joins().len()), (25, 40));
    let sheet = Survey::new(&circuit, Options::default()).expect("a survey").sheet();
    println!(
        "{} probings, {:?}, {} slips shown, {} not",
        sheet.rows.len(),
        sheet.proof,
        sheet.shown,
        sheet.unseen.len()
    );
    bencher.bench(|| Survey::new(black_box(&circuit), Options::default()).expect("a survey").sheet());
}
