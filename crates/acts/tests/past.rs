//! What was read on coils of earlier jobs is remembered, and always what working it out anew would say.

mod common;

use asfound_acts::{Meter1, Workshop};
use common::{Bench, bench, kept, titled};

fn job_with_a_coil(bench: &Bench, ohms: &str) -> String {
    let number = bench.workshop.open_job(&titled("Solid body, one coil")).unwrap();
    let lines = [
        "part neck coil, coil, neck",
        "neck coil: single coil over six rod magnets, 42 AWG",
        &format!("neck {ohms} 21C at the joints M1"),
    ];
    for (at, line) in lines.iter().enumerate() {
        kept(&bench.workshop, &number, line, &format!("{number}-{at}"));
    }
    number
}

fn meter(accuracy: &str) -> Meter1 {
    Meter1 { meter: "M1".into(), words: "hand-held".into(), accuracy: Some(accuracy.into()) }
}

fn told(workshop: &Workshop) -> Vec<(String, f64)> {
    let past = workshop.past_readings().unwrap();
    past.iter().map(|reading| (reading.job.clone(), reading.ohms_at_20.0.round())).collect()
}

#[test]
fn readings_of_all_jobs_come_back_and_follow_what_is_worked_in() {
    let bench = bench();
    bench.workshop.keep_meter(meter("0.8 % + 2")).unwrap();
    assert_eq!(told(&bench.workshop), []);
    let one = job_with_a_coil(&bench, "6k31");
    let two = job_with_a_coil(&bench, "5k9");
    let first = told(&bench.workshop);
    assert_eq!(first.iter().map(|(job, _)| job.as_str()).collect::<Vec<_>>(), [one.as_str(), two.as_str()]);
    // 6310 Ω at 21 °C is 6285 Ω at 20 °C: the copper of IEC 60028 gives 0.393 % a kelvin.
    assert_eq!(first[0].1, 6285.0);
    assert_eq!(told(&bench.workshop), first, "remembered is what was worked out");

    // A later reading takes the place of the earlier one, and a reader beside sees it, too.
    kept(&bench.workshop, &one, "neck 6k40 21C at the joints M1", "later");
    assert_eq!(told(&bench.workshop)[0].1, (6400.0_f64 / 1.00393).round());
    let reader = Workshop::open_to_read(&bench.folder).unwrap();
    assert_eq!(told(&reader), told(&bench.workshop));

    // What is withheld is in no list any more.
    let last = bench.workshop.job(&one).unwrap().readings.last().unwrap().seq;
    bench.workshop.withhold(&one, last, "the owner", "asked", "w").unwrap();
    assert_eq!(told(&bench.workshop)[0].1, 6285.0);
}

#[test]
fn what_is_said_anew_of_a_meter_is_followed() {
    let bench = bench();
    bench.workshop.keep_meter(meter("0.8 % + 2")).unwrap();
    job_with_a_coil(&bench, "6k31");
    let sure = |workshop: &Workshop| workshop.past_readings().unwrap()[0].standard_uncertainty.unwrap().0;
    let before = sure(&bench.workshop);
    bench.workshop.keep_meter(meter("5 % + 2")).unwrap();
    assert!(sure(&bench.workshop) > 2.0 * before);
}
