//! What a coil study costs: ohms alone, everything measured, and a kind nobody knows.

use asfound_electric::coil::{
    At, Construction, Feature, Found, OhmsReading, Opinions, Shown, Tables, Temperature, Weighed, weigh,
};
use asfound_measure::{Henries, Hertz, Millimetres, Ohms, Ratio, Uncertain};

fn main() {
    divan::main();
}

fn ohms_alone(construction: Option<Construction>) -> Found {
    let reading = OhmsReading {
        shown: Shown::Ohms(Uncertain::new(Ohms(5820.0), Ohms(5.0))),
        temperature: Temperature::NotSaid,
        meter: 1,
        gain_uncertainty: 0.004,
    };
    Found { ohms: vec![reading], construction, ..Found::default() }
}

fn everything() -> Found {
    let frequency = Hertz(1e3);
    Found {
        depth: Some(Uncertain::new(Millimetres(5.2), Millimetres(0.25))),
        inductance: vec![At { frequency, read: Uncertain::new(Henries(2.4), Henries(0.05)) }],
        quality: vec![At { frequency, read: Uncertain::new(Ratio(2.4), Ratio(0.1)) }],
        features: vec![Feature::WireCoppery, Feature::TapeDryOld, Feature::LeadOriginal, Feature::RodsDirty],
        ..ohms_alone(Some(Construction::SixRod))
    }
}

fn study(bencher: divan::Bencher, found: Found) {
    let (opinions, tables) = (Opinions::default(), Tables::default());
    let weighed = |seed| -> Weighed { weigh(&found, &opinions, &tables, seed).expect("can be weighed") };
    weighed(0); // the tables are built
    bencher.bench_local(|| weighed(divan::black_box(1)));
}

#[divan::bench(sample_count = 10)]
fn of_ohms_alone(bencher: divan::Bencher) {
    study(bencher, ohms_alone(Some(Construction::SixRod)));
}

#[divan::bench(sample_count = 10)]
fn of_everything(bencher: divan::Bencher) {
    study(bencher, everything());
}

#[divan::bench(sample_count = 10)]
fn of_an_unknown_kind(bencher: divan::Bencher) {
    study(bencher, ohms_alone(None));
}
