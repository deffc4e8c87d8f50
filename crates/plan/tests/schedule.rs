//! Two clocks, one pair of hands: worked examples, every order tried by force, and the laws of a plan.

mod bench;

use asfound_plan::estimate::Estimate;
use asfound_plan::money::{Currency, Money};
use asfound_plan::risk::Expected;
use asfound_plan::{Bench, Held, Hours, Opening, Schedule, ScheduleFault, Task, Tasks, ThreePoint};
use bench::{british, task, thursday, weekdays};
use jiff::Timestamp;
use jiff::civil::{date, time};
use jiff::tz::TimeZone;
use proptest::prelude::*;

fn two_jobs() -> Tasks {
    Tasks::new(vec![
        task("wind", 5.0, 0.0, &[]),
        task("pot", 1.0, 12.0, &["wind"]),
        task("strip", 4.0, 0.0, &[]),
        task("spray", 2.0, 72.0, &["strip"]),
        task("sand", 3.0, 0.0, &["spray"]),
        task("fit", 2.0, 0.0, &["sand", "pot"]),
    ])
    .unwrap()
}

/// Worked by hand. Strip from nine to one, spray to three, harden to three on Sunday, sand on Monday from nine to noon.
/// Counting the 72 hours on the bench's clock would give Wednesday the 15th, 15:00.
#[test]
fn lacquer_hardens_through_the_weekend() {
    let bench = weekdays(british());
    let tasks = Tasks::new(vec![
        task("strip", 4.0, 0.0, &[]),
        task("spray", 2.0, 72.0, &["strip"]),
        task("sand", 3.0, 0.0, &["spray"]),
    ])
    .unwrap();
    let plan = tasks.planned(&bench, thursday(&bench), Tasks::STEPS).unwrap();
    let shown = |at| bench.shown(at);
    assert_eq!(shown(plan.turns[0].hands_free), date(2024, 5, 2).at(13, 0, 0, 0));
    assert_eq!(shown(plan.turns[1].hands_free), date(2024, 5, 2).at(15, 0, 0, 0));
    assert_eq!(shown(plan.turns[1].ready), date(2024, 5, 5).at(15, 0, 0, 0));
    assert_eq!(shown(plan.turns[2].begins), date(2024, 5, 6).at(9, 0, 0, 0));
    assert_eq!(shown(plan.finish), date(2024, 5, 6).at(12, 0, 0, 0));
    assert_eq!((plan.turns[2].held, plan.turns[2].bench_shut), (Held::After(1), true));
    let by_the_bench = bench.worked(plan.turns[1].hands_free, Hours(72.0)).unwrap();
    assert_eq!(shown(by_the_bench), date(2024, 5, 15).at(15, 0, 0, 0));
}

/// Worked by hand: the long cure first is ready Monday at 14:00, the coil first Tuesday at 10:00.
#[test]
fn the_long_cure_goes_first() {
    let (bench, tasks) = (weekdays(british()), two_jobs());
    let finish =
        |order: &[&str]| bench.shown(tasks.in_order(&bench, thursday(&bench), order).unwrap().finish);
    let first = finish(&["strip", "spray", "wind", "pot", "sand", "fit"]);
    assert_eq!(first, date(2024, 5, 6).at(14, 0, 0, 0));
    let last = finish(&["wind", "pot", "strip", "spray", "sand", "fit"]);
    assert_eq!(last, date(2024, 5, 7).at(10, 0, 0, 0));
    let plan = tasks.planned(&bench, thursday(&bench), Tasks::STEPS).unwrap();
    assert_eq!(bench.shown(plan.finish), first);
    assert!(plan.is_proved());
    let names: Vec<&str> = plan.turns.iter().map(|turn| tasks.name(turn.task)).collect();
    assert_eq!(names[..2], ["strip", "spray"]);
    let why: Vec<&str> = plan.why_not_before().iter().map(|link| tasks.name(link.task)).collect();
    assert_eq!(why, ["strip", "spray", "sand", "fit"]);
}

/// 72 hours from 15:00 on 24 October 2024 end at 14:00 on the 27th, since the clocks go back that morning (The Summer
/// Time Order 2002, S.I. 2002/262: last Sunday of October, 01:00 UTC).
#[test]
fn a_cure_over_a_clock_change_keeps_its_hours_and_says_so() {
    let bench = weekdays(british());
    let start = bench.moment(date(2024, 10, 24).at(13, 0, 0, 0)).unwrap();
    let tasks = Tasks::new(vec![task("spray", 2.0, 72.0, &[])]).unwrap();
    let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
    assert_eq!(bench.shown(plan.finish), date(2024, 10, 27).at(14, 0, 0, 0));
    let changes = plan.waits_over_changes(&bench, &tasks);
    assert_eq!(changes.len(), 1);
    assert_eq!(
        changes[0].to_string(),
        "the clocks go back by 1 h while “spray” waits; its hours are kept, and it is over when the clock shows 14:00:00 \
         on 2024-10-27: set an alarm by that"
    );
}

/// The seven jobs of J. Carlier, *The one-machine sequencing problem*, European Journal of Operational Research 11, 42
/// (1982): heads, work, tails. On a bench that never shuts, found 50 by trying all orders in an independent program;
/// the bound, which lets hands change tasks at will, is 49.
#[test]
fn one_machine_with_heads_and_tails() {
    let bench = Bench::new(
        TimeZone::UTC,
        std::array::from_fn(|_| vec![Opening { from: midnight(), until: midnight() }]),
    );
    let bench = bench.unwrap();
    let start = thursday(&bench);
    let rows = [(10, 5, 7), (13, 6, 26), (11, 7, 24), (20, 4, 21), (30, 3, 8), (0, 6, 17), (30, 2, 0)];
    let tasks = rows.iter().enumerate().map(|(place, &(head, work, tail))| Task {
        not_before: Some(bench.elapsed(start, Hours(f64::from(head))).unwrap()),
        ..task(&place.to_string(), f64::from(work), f64::from(tail), &[])
    });
    let tasks = Tasks::new(tasks.collect()).unwrap();
    let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
    assert_eq!(plan.finish, bench.elapsed(start, Hours(50.0)).unwrap());
    assert!(plan.is_proved());
    let unproved = tasks.planned(&bench, start, 0).unwrap();
    assert_eq!(unproved.at_least, bench.elapsed(start, Hours(49.0)).unwrap());
    assert!(!unproved.is_proved());
}

fn midnight() -> jiff::civil::Time {
    time(0, 0, 0, 0)
}

/// What others do takes no hands: it begins on its day and the bench goes on.
#[test]
fn what_is_away_takes_no_hands() {
    let bench = weekdays(british());
    let tasks = Tasks::new(vec![
        task("take out", 1.0, 0.0, &[]),
        task("plating, away", 0.0, 100.0, &["take out"]),
        task("dress frets", 6.0, 0.0, &[]),
        task("put back", 1.0, 0.0, &["plating, away", "dress frets"]),
    ])
    .unwrap();
    let plan = tasks.planned(&bench, thursday(&bench), Tasks::STEPS).unwrap();
    // Out at ten on Thursday; away till 14:00 on Monday; back in by three.
    assert_eq!(bench.shown(plan.finish), date(2024, 5, 6).at(15, 0, 0, 0));
    assert!(plan.is_proved());
}

/// Published networks laid out by the planner itself: done elsewhere, on a bench that never shuts, at their mean times, so
/// that nothing but the dependencies decides. Lecture slides on project management (document host, number 396883604): 17.
/// A worked question (wizedu.com, 717873): 305/6 = 50.8333. The contractor of F. S. Hillier and G. J. Lieberman,
/// *Introduction to Operations Research*, figures from memory: 44. Within a second for each of fourteen activities, since the planner counts whole seconds.
#[test]
fn published_networks_end_when_they_are_printed_to() {
    let open = std::array::from_fn(|_| vec![Opening { from: midnight(), until: midnight() }]);
    let bench = Bench::new(TimeZone::UTC, open).unwrap();
    let start = thursday(&bench);
    for (rows, printed) in [
        (
            "A 5 6 7|B 1 3 5|C 1 4 7|D 1 2 3 A|E 1 2 9 B|F 1 5 9 C|G 2 2 8 C|H 4 4 10 E F|I 2 5 8 D|J 2 2 8 H G",
            17.0,
        ),
        (
            "A 5 5 7|B 1 2 5|C 5 5 5 A|D 4 8 13 A|E 1 10 17 B C|F 1 5 7 D|G 2 6 9 D|H 4 4 6 E F|I 2 7 10 G H|\
             J 2 4 7 I|K 6 10 13 I|L 2 6 6 J|M 2 2 3 K|N 7 7 12 L M",
            305.0 / 6.0,
        ),
        (
            "A 1 2 3|B 2 3.5 8 A|C 6 9 18 B|D 4 5.5 10 C|E 1 4.5 5 C|F 4 4 10 E|G 5 6.5 11 D|H 5 8 17 E G|\
             I 3 7.5 9 C|J 3 9 9 F I|K 4 4 4 J|L 1 5.5 7 J|M 1 2 3 H|N 5 5.5 9 K L",
            44.0,
        ),
    ] {
        let tasks = rows.split('|').map(|row| {
            let words: Vec<&str> = row.split_whitespace().collect();
            let [least, likely, most] = [1, 2, 3].map(|at| words[at].parse::<f64>().unwrap());
            task(words[0], 0.0, (least + 4.0 * likely + most) / 6.0, &words[4..])
        });
        let tasks = Tasks::new(tasks.collect()).unwrap();
        let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
        let wanted = bench.elapsed(start, Hours(printed)).unwrap();
        assert!((plan.finish.as_second() - wanted.as_second()).abs() <= 14, "{printed}: {}", plan.finish);
    }
}

#[test]
fn what_must_be_done_in_one_go_waits_for_a_day_long_enough() {
    let bench = weekdays(british());
    let glue = Task { in_one_go: true, ..task("glue", 3.0, 12.0, &["clean"]) };
    let tasks = Tasks::new(vec![task("clean", 6.0, 0.0, &[]), glue.clone()]).unwrap();
    let plan = tasks.planned(&bench, thursday(&bench), Tasks::STEPS).unwrap();
    assert_eq!(bench.shown(plan.turns[1].begins), date(2024, 5, 3).at(9, 0, 0, 0));
    let whole = ThreePoint::fixed("glue", Hours(9.0)).unwrap();
    let tasks = Tasks::new(vec![Task { attended: whole, after: vec![], ..glue }]).unwrap();
    let fault = tasks.planned(&bench, thursday(&bench), Tasks::STEPS).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "“glue” is to be done in one go and takes 9 h, and the bench is never open for longer than 8 h; part it in two, or \
         open the bench for longer on one day"
    );
}

#[test]
fn orders_that_are_none_are_said() {
    let (bench, tasks) = (weekdays(british()), two_jobs());
    let fault = |order: &[&str]| tasks.in_order(&bench, thursday(&bench), order).unwrap_err();
    assert_eq!(fault(&["wind", "pot"]), ScheduleFault::NotOnce("strip".into()));
    let early = fault(&["spray", "strip", "wind", "pot", "sand", "fit"]);
    assert_eq!(
        early.to_string(),
        "the order has “spray” before “strip”, for which it waits; put “strip” first"
    );
    let circle =
        Tasks::new(vec![task("glue", 1.0, 0.0, &["clamp"]), task("clamp", 1.0, 0.0, &["glue"])]).unwrap_err();
    assert!(circle.to_string().contains("“glue” waits for “clamp” waits for “glue”"));
}

/// Drawn from three figures, the plan is late more often than not: the figures lean to the long side.
#[test]
fn a_forecast_says_when_it_may_really_be_ready() {
    let bench = weekdays(british());
    let spread = |one: Task| {
        let likely = one.attended.likely().0;
        let attended =
            ThreePoint::new(&one.name, Hours(likely * 0.8), Hours(likely), Hours(likely * 2.0)).unwrap();
        Task { attended, ..one }
    };
    let tasks = Tasks::new(two_jobs().tasks().iter().cloned().map(spread).collect()).unwrap();
    let start = thursday(&bench);
    let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
    let forecast = tasks.forecast(&bench, start, &plan, 2000, 1).unwrap();
    assert!(forecast.chance_by(plan.finish).value() < 0.5);
    assert!(forecast.ready_by(0.95).unwrap() > forecast.ready_by(0.5).unwrap());
    assert!(forecast.task_ready_by(1, 0.5).unwrap() < forecast.ready_by(0.5).unwrap());
    // Means add: (0.8 + 4 + 2)/6 of 17 hours; four deviations of the mean of 2,000 draws are under 0.2 h.
    assert!((forecast.hands().unwrap().mean - 17.0 * 6.8 / 6.0).abs() < 0.2);
    let again = tasks.forecast(&bench, start, &plan, 2000, 1).unwrap();
    assert_eq!(forecast, again);
}

/// What is done at once if all goes well may take hands if not; what waits for it is still laid out.
#[test]
fn a_task_that_may_take_no_time_is_drawn_all_the_same() {
    let bench = weekdays(british());
    let start = thursday(&bench);
    let unsure = ThreePoint::new("free the screw", Hours(0.0), Hours(0.0), Hours(40.0)).unwrap();
    let first = Task { attended: unsure, ..task("free the screw", 0.0, 0.0, &[]) };
    let tasks = Tasks::new(vec![task("put back", 1.0, 2000.0, &["free the screw"]), first]).unwrap();
    let plan = tasks.in_order(&bench, start, &["put back"]).unwrap();
    assert_eq!(plan, Schedule { steps: plan.steps, ..tasks.planned(&bench, start, Tasks::STEPS).unwrap() });
    let forecast = tasks.forecast(&bench, start, &plan, 1000, 1).unwrap();
    assert!(forecast.ready_by(0.99).unwrap() > plan.finish);
}

/// 17 hours for certain at 60.00 are 1020.00; materials between 50.00 and 110.00, most likely 80.00, add 80.00 on the
/// mean. Quantiles of a symmetric sum lie about its mean; four deviations of 2,000 draws are under 1.00.
#[test]
fn a_forecast_says_what_it_may_cost() {
    let (bench, tasks) = (weekdays(british()), two_jobs());
    let start = thursday(&bench);
    let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
    let forecast = tasks.forecast(&bench, start, &plan, 2000, 1).unwrap();
    let pound = Currency::of("GBP").unwrap();
    let sum = |text: &str| Money::read(text, pound).unwrap();
    let bare = forecast.cost(sum("60"), &[], 2).unwrap();
    assert_eq!((bare.quantile(0.0).unwrap(), bare.quantile(1.0).unwrap()), (sum("1020"), sum("1020")));
    let materials = Expected::new("lacquer and wire", pound, Estimate::pert(50.0, 80.0, 110.0).unwrap());
    let cost = forecast.cost(sum("60"), std::slice::from_ref(&materials), 2).unwrap();
    assert!((cost.mean() / 100.0 - 1100.0).abs() < 1.0);
    assert!(cost.quantile(0.8).unwrap().minor() > cost.quantile(0.5).unwrap().minor());
    assert!(cost.chance_within(sum("1130")).unwrap().value() > 0.99);
    let euro = Currency::of("EUR").unwrap();
    let abroad = forecast.cost(Money::read("60", euro).unwrap(), &[materials], 2).unwrap_err();
    assert!(abroad.to_string().contains("lacquer and wire"));
}

/// With no spread every draw is the plan, though gaps are filled on the way.
#[test]
fn a_forecast_without_spread_is_the_plan() {
    let (bench, tasks) = (weekdays(british()), two_jobs());
    let start = thursday(&bench);
    let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
    let forecast = tasks.forecast(&bench, start, &plan, 1000, 1).unwrap();
    assert_eq!(forecast.ready_by(0.0).unwrap(), plan.finish);
    assert_eq!(forecast.ready_by(1.0).unwrap(), plan.finish);
}

/// The best of all orders, each laid out as given.
fn by_force(tasks: &Tasks, bench: &Bench, start: Timestamp) -> Timestamp {
    fn go<'a>(tasks: &'a Tasks, order: &mut Vec<&'a str>, finish: &mut dyn FnMut(&[&str])) {
        if order.len() == tasks.tasks().len() {
            return finish(order);
        }
        for one in tasks.tasks() {
            let free = one.after.iter().all(|early| order.contains(&early.as_str()));
            if free && !order.contains(&one.name.as_str()) {
                order.push(&one.name);
                go(tasks, order, finish);
                order.pop();
            }
        }
    }
    let mut best = None;
    go(tasks, &mut Vec::new(), &mut |order| {
        let finish = tasks.in_order(bench, start, order).unwrap().finish;
        best = Some(best.map_or(finish, |other: Timestamp| other.min(finish)));
    });
    best.unwrap()
}

type Row = (u8, u8, u8, bool, u16);

/// Random tasks: hours of hands, hours alone, hours until the parts are there, in one go, what it waits for.
fn random(rows: &[Row], bench: &Bench, start: Timestamp) -> Tasks {
    let tasks = rows.iter().enumerate().map(|(place, &(work, wait, release, in_one_go, waits))| {
        let after: Vec<String> =
            (0..place).filter(|early| waits >> (2 * early) & 3 == 3).map(|early| early.to_string()).collect();
        let after: Vec<&str> = after.iter().map(String::as_str).collect();
        let parts = bench.elapsed(start, Hours(f64::from(release.saturating_sub(30)))).unwrap();
        let one = task(&place.to_string(), f64::from(work), f64::from(wait), &after);
        Task { in_one_go, not_before: Some(parts), ..one }
    });
    Tasks::new(tasks.collect()).unwrap()
}

fn rows(most: usize) -> impl Strategy<Value = Vec<Row>> {
    proptest::collection::vec((0_u8..7, 0_u8..90, 0_u8..120, any::<bool>(), any::<u16>()), 1..=most)
}

fn keeps_everything(tasks: &Tasks, bench: &Bench, plan: &Schedule) -> Result<(), TestCaseError> {
    let place = |name: &String| tasks.tasks().iter().position(|one| one.name == *name).unwrap();
    let turn = |task: usize| plan.turns.iter().find(|turn| turn.task == task).unwrap();
    prop_assert_eq!(plan.turns.len(), tasks.tasks().len());
    let mut busy = Vec::new();
    for turn_here in &plan.turns {
        let one = &tasks.tasks()[turn_here.task];
        for early in &one.after {
            prop_assert!(turn(place(early)).ready <= turn_here.begins);
        }
        prop_assert!(one.not_before.is_none_or(|parts| parts <= turn_here.begins));
        if one.attended.likely().0 > 0.0 {
            busy.push((turn_here.begins, turn_here.hands_free));
            prop_assert_eq!(
                bench.worked(turn_here.begins, one.attended.likely()).unwrap(),
                turn_here.hands_free
            );
            let hour = bench.shown(turn_here.begins).hour();
            prop_assert!((9..17).contains(&hour));
        }
        prop_assert_eq!(
            bench.elapsed(turn_here.hands_free, one.unattended.likely()).unwrap(),
            turn_here.ready
        );
        prop_assert!(turn_here.ready <= plan.finish);
    }
    for pair in busy.windows(2) {
        prop_assert!(pair[0].1 <= pair[1].0, "two tasks at once");
    }
    prop_assert!(plan.at_least <= plan.finish);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// No order of all is ready before the plan, and the plan is proved.
    #[test]
    fn the_plan_is_the_best_of_all_orders(rows in rows(6)) {
        let bench = weekdays(british());
        let start = thursday(&bench);
        let tasks = random(&rows, &bench, start);
        let plan = tasks.planned(&bench, start, Tasks::STEPS).unwrap();
        prop_assert!(plan.is_proved());
        prop_assert_eq!(plan.finish, by_force(&tasks, &bench, start));
        let bound = tasks.planned(&bench, start, 0).unwrap();
        prop_assert!(bound.at_least <= plan.finish && plan.finish <= bound.finish);
        keeps_everything(&tasks, &bench, &plan)?;
        keeps_everything(&tasks, &bench, &bound)?;
        let chain = plan.why_not_before();
        prop_assert!(matches!(chain[0].held, Held::Nothing | Held::Parts));
    }

    /// Hands that take longer are never ready earlier, nor are cures that do.
    #[test]
    fn longer_is_never_earlier(rows in rows(7), which in any::<prop::sample::Index>(), more: u8, by_hand: bool) {
        let bench = weekdays(british());
        let start = thursday(&bench);
        let mut longer = rows.clone();
        let row = &mut longer[which.index(rows.len())];
        if by_hand { row.0 = row.0.saturating_add(more % 3).min(8) } else { row.1 = row.1.saturating_add(more) }
        let finish = |rows: &[Row]| random(rows, &bench, start).planned(&bench, start, Tasks::STEPS).unwrap().finish;
        prop_assert!(finish(&rows) <= finish(&longer));
    }

    /// However little is searched, what comes out is a plan, and its bound holds.
    #[test]
    fn a_short_search_gives_a_plan(rows in rows(8), steps in 0_u32..20) {
        let bench = weekdays(british());
        let start = thursday(&bench);
        let tasks = random(&rows, &bench, start);
        let plan = tasks.planned(&bench, start, steps).unwrap();
        keeps_everything(&tasks, &bench, &plan)?;
        prop_assert!(plan.at_least <= tasks.planned(&bench, start, Tasks::STEPS).unwrap().finish);
    }

    /// Drawn times keep every dependency, and with no spread they are the plan or, with a gap filled, no later.
    #[test]
    fn a_forecast_of_any_tasks_has_an_answer(rows in rows(8)) {
        let bench = weekdays(british());
        let start = thursday(&bench);
        let tasks = random(&rows, &bench, start);
        let plan = tasks.planned(&bench, start, 0).unwrap();
        let forecast = tasks.forecast(&bench, start, &plan, 1000, 1).unwrap();
        prop_assert!(forecast.ready_by(1.0).unwrap() <= plan.finish);
        prop_assert!(forecast.ready_by(0.0).unwrap() >= plan.at_least);
    }
}
