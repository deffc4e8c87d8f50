//! The order against a second route: instances from stated seeds, solved by a general constraint solver.

mod bench;

use asfound_plan::{Bench, Hours, Task, Tasks};
use bench::{task, thursday, weekdays};
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// Whole hours from a stated seed (the linear congruential generator of ISO/IEC 9899, 7.22.2): up to six hours of hands,
/// cures of a night to a week, chains side by side with some cross ties, some parts late, some work in one go.
fn stated(seed: u32, count: usize, bench: &Bench, start: Timestamp) -> Tasks {
    let mut state = seed;
    let mut any = || {
        state = state.wrapping_mul(1_103_515_245).wrapping_add(12_345) % (1 << 31);
        state >> 16 & 0x7fff
    };
    let chains = (count / 6).max(2);
    let mut tasks = Vec::new();
    for place in 0..count {
        let work = 1 + any() % 6;
        let wait = [0, 0, 12, 24, 72, 168][any() as usize % 6];
        let mut after = Vec::new();
        if any() % 10 < 8 && place >= chains {
            after.push((place - chains).to_string());
        }
        let (tie, other) = (any() % 10 < 2, any() as usize);
        if tie && place > 0 && !after.contains(&(other % place).to_string()) {
            after.push((other % place).to_string());
        }
        let (late, hours) = (any() % 10 == 0, any() % 200);
        let parts = late.then(|| bench.elapsed(start, Hours(f64::from(hours))).unwrap());
        let one = task(&place.to_string(), f64::from(work), f64::from(wait), &[]);
        tasks.push(Task { after, not_before: parts, in_one_go: any() % 4 == 0, ..one });
    }
    Tasks::new(tasks).unwrap()
}

/// The same instances were given to a general constraint solver, with the openings as tables of hours: it proved these
/// finishes the earliest, in elapsed hours. Equal to the second, since all times are whole hours.
#[test]
fn a_general_constraint_solver_finds_the_same_finish() {
    let bench = weekdays(TimeZone::UTC);
    let start = thursday(&bench);
    let solved = [
        (1, 12, 293),
        (2, 12, 773),
        (3, 24, 510),
        (4, 24, 606),
        (5, 24, 488),
        (6, 40, 606),
        (7, 40, 774),
        (8, 40, 630),
    ];
    for (seed, count, hours) in solved {
        let plan = stated(seed, count, &bench, start).planned(&bench, start, Tasks::STEPS).unwrap();
        assert!(plan.is_proved(), "seed {seed}");
        assert_eq!(plan.finish, bench.elapsed(start, Hours(f64::from(hours))).unwrap(), "seed {seed}");
    }
}
