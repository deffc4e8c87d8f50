//! Eighty tasks of eight instruments on one bench: the order, and ten thousand draws of it.

use asfound_plan::{Bench, Hours, Task, Tasks, ThreePoint};
use divan::{Bencher, black_box};
use jiff::Timestamp;
use jiff::civil::{date, time};
use jiff::tz::TimeZone;

fn main() {
    divan::main();
}

/// Ten tasks each, with cures of a night to two weeks, hours from a stated pattern.
fn eighty() -> Tasks {
    let mut tasks = Vec::new();
    for instrument in 0..8_usize {
        for step in 0..10_usize {
            let name = format!("{instrument}.{step}");
            let hands = 0.5 + ((instrument * 7 + step * 5) % 9) as f64 / 2.0;
            let alone = [0.0, 12.0, 0.0, 24.0, 0.0, 72.0, 0.0, 0.0, 336.0, 0.0][(step + instrument) % 10];
            let three = |hours: f64| {
                ThreePoint::new(&name, Hours(hours * 0.7), Hours(hours), Hours(hours * 2.0)).unwrap()
            };
            let mut after = Vec::new();
            if step >= 2 {
                after.push(format!("{instrument}.{}", step - 2));
            }
            if step == 9 {
                after.push(format!("{instrument}.8"));
            }
            tasks.push(Task {
                attended: three(hands),
                unattended: three(alone),
                after,
                not_before: None,
                in_one_go: step % 4 == 3,
                name,
            });
        }
    }
    Tasks::new(tasks).unwrap()
}

fn bench() -> (Bench, Timestamp) {
    let zone = TimeZone::posix("GMT0BST,M3.5.0/1,M10.5.0").unwrap();
    let bench = Bench::weekdays(zone, time(9, 0, 0, 0), time(17, 0, 0, 0)).unwrap();
    let start = bench.moment(date(2024, 5, 2).at(9, 0, 0, 0)).unwrap();
    (bench, start)
}

#[divan::bench]
fn order_of_eighty(bencher: Bencher) {
    let (tasks, (bench, start)) = (eighty(), bench());
    bencher.bench_local(|| tasks.planned(black_box(&bench), start, Tasks::STEPS));
}

#[divan::bench]
fn ten_thousand_draws_of_eighty(bencher: Bencher) {
    let (tasks, (bench, start)) = (eighty(), bench());
    let plan = tasks.planned(&bench, start, 0).unwrap();
    bencher.bench_local(|| tasks.forecast(black_box(&bench), start, &plan, 10_000, 1));
}
