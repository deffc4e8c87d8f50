//! What it costs to weigh every single fault and every pair of a full harness: 25 parts, 40 joins, 5 positions.

use asfound_electric::fault::{Evidence, Heard, Metered, Options, Probed, Reach, suspects};
use asfound_electric::jack::Shown;
use asfound_electric::trace::Trace;
use asfound_electric::{Changes, Circuit, Load, Reading, Setting, resistance};
use asfound_measure::{Farads, Ohms, Uncertain};

fn main() {
    divan::main();
}

fn harness() -> Circuit {
    let trace = Trace::read(include_str!("harness.trace")).expect("it reads");
    let circuit = trace.circuit().expect("it is whole");
    assert_eq!((circuit.parts().len(), circuit.joins().len(), Setting::count(&circuit)), (25, 40, 5));
    circuit
}

/// Readings at these lugs in every position, with these changes to the circuit.
fn metered(circuit: &Circuit, lugs: &[(&str, &str)], changes: &Changes) -> Vec<Metered> {
    let wired = circuit.possibilities().next().expect("there is one");
    let mut all = Vec::new();
    for setting in Setting::every_position(circuit) {
        for (from, to) in lugs {
            let [from, to] = [from, to].map(|lug| circuit.terminal(lug).expect("it is there"));
            let read = resistance(&wired, &setting, changes, from, to).expect("it can be solved");
            let shown = match read.reading {
                Reading::Ohms(Ohms(ohms)) => {
                    Shown::Ohms(Uncertain::rectangular(Ohms(ohms.round()), Ohms(0.5)))
                }
                Reading::Shorted => Shown::Ohms(Uncertain::rectangular(Ohms(0.2), Ohms(0.05))),
                Reading::Open => Shown::Over(Ohms(20e6)),
            };
            all.push(Metered { probed: Probed { from, to, setting: setting.clone() }, shown });
        }
    }
    all
}

fn evidence(metered: Vec<Metered>, heard: Vec<Heard>) -> Evidence {
    let load = Load { capacitance: Farads(500e-12), resistance: Some(Ohms(1e6)) };
    Evidence { metered, heard, reach: Reach::Everything, coated_cavity: None, earth_proved: false, load }
}

/// Five readings at the plug of a harness whose middle coil's joint is open.
#[divan::bench(sample_count = 5)]
fn singles_and_pairs_from_the_plug(bencher: divan::Bencher) {
    let circuit = harness();
    let it =
        evidence(metered(&circuit, &[("jack.tip", "jack.sleeve")], &Changes::without_join(1)), Vec::new());
    bencher.bench(|| suspects(&circuit, &it, &Options::default()));
}

/// Thirty readings in the cavity.
#[divan::bench(sample_count = 5)]
fn singles_and_pairs_from_thirty_readings(bencher: divan::Bencher) {
    let circuit = harness();
    let lugs = [
        ("jack.tip", "jack.sleeve"),
        ("middle.hot", "middle.ground"),
        ("neck.hot", "lever.a3"),
        ("bridge.hot", "lever.a1"),
        ("p.2", "g.1"),
        ("strings.case", "jack.sleeve"),
    ];
    let it = evidence(metered(&circuit, &lugs, &Changes::without_join(1)), Vec::new());
    bencher.bench(|| suspects(&circuit, &it, &Options::default()));
}

/// Two complaints and no reading: every pair is listened to that could matter.
#[divan::bench(sample_count = 5)]
fn singles_and_pairs_from_what_is_heard(bencher: divan::Bencher) {
    let circuit = harness();
    let [one, two] = [0, 1].map(|position| Setting::every_position(&circuit).nth(position).expect("five"));
    let heard = vec![Heard::Thin { setting: two, against: None }, Heard::Normal { setting: one }];
    let it = evidence(Vec::new(), heard);
    bencher.bench(|| suspects(&circuit, &it, &Options::default()));
}
