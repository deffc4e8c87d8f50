//! What may be paid, what is to be done, what it costs and when it is ready, from lines said at the bench.

#[path = "common/mod.rs"]
mod bench;

use asfound_study::entry_line::WhyNot;
use asfound_study::plan::{
    Ask, CeilingAnswer, Choice, Choice::Restore, HeldBy, Plan, State, Tax, WorkTaken, study,
};

use bench::Ledger;

fn plan(lines: &str) -> Plan {
    study(&Ledger::with(lines).job, &asfound_study::plan::PlannedBefore::default())
}

fn refused(line: &str) -> String {
    match Ledger::opened().hear(line).unwrap_err().why {
        WhyNot::Plan(sentence) => sentence,
        other => panic!("{line}: {other:?}"),
    }
}

fn highest_bid(lines: &str) -> String {
    match plan(lines).lot.ceiling {
        Some(CeilingAnswer::Known(ceiling)) => ceiling.bid.to_string(),
        other => panic!("{lines}: {other:?}"),
    }
}

/// Three houses' published fee pages, worked by hand: 2000 all in, premium 24 % and tax 20 % on it is 2000 / 1.288;
/// premium 18 % and the tax on everything is 2000 / 1.416; each rounded down.
#[test]
fn the_highest_bid_is_worked_out_from_the_lines_of_a_sale_page() {
    let kept = "lot budget 2000 GBP, to keep, the owner pays\n";
    let highest = |terms: &str| highest_bid(&format!("{kept}lot {terms}"));
    assert_eq!(highest("premium 24 %, tax 20 % on the premium"), "1552.79 GBP");
    assert_eq!(highest("premium 18 %, tax 20 % on everything"), "1412.42 GBP");
    assert_eq!(highest("premium 18 %, tax 20 % inside the premium"), "1694.91 GBP");
    let online = "premium 24 %, tax 20 % on the premium, online 4.95 % plus 20 % tax";
    assert_eq!(highest(online), "1484.34 GBP");
    assert_eq!(highest("premium 24 %, tax 20 % on the premium, bid step 50"), "1550.00 GBP");
    // Tiers and carriage: 369375/41, worked in exact fractions.
    let tiers = "lot budget 12000 GBP, to keep, the owner pays, carriage 180 GBP\nlot premium 26 % to 10000 then 20 % to \
                 50000 then 14 %, tax 20 % on the premium";
    assert_eq!(highest_bid(tiers), "9009.14 GBP");
}

#[test]
fn work_comes_first_and_a_sum_for_it_is_taken_off_before_the_fees() {
    let lines = "lot budget 2000 GBP, to keep, the owner pays, work 600 GBP\nlot premium 24 %, tax 20 % on the premium";
    let plan = plan(lines);
    assert_eq!(plan.lot.work, Some(WorkTaken::Said));
    let Some(CeilingAnswer::UnderRisk(found)) = plan.lot.ceiling else { panic!("{:?}", plan.lot) };
    assert_eq!(found.ceiling.bid.to_string(), "1086.95 GBP");
    assert!(found.ceiling.bill.lines.len() >= 3, "every line of the bill is written out");
}

#[test]
fn who_pays_and_keep_or_sell_are_asked_and_a_tax_basis_is_never_supposed() {
    let asked = plan("lot premium 25 %").asked();
    assert_eq!(asked, [Ask::WhoPays, Ask::KeepOrSell, Ask::Tax]);
    let each = plan("lot premium 25 %, tax 20 %, budget 5000 GBP, to keep, the owner pays, bid step 100");
    assert_eq!(each.asked(), [Ask::Tax]);
    let Some(CeilingAnswer::EachBasis(_, each)) = each.lot.ceiling else { panic!("{:?}", each.lot) };
    let bids: Vec<String> = each.iter().map(|(_, ceiling)| ceiling.bid.to_string()).collect();
    // 5000 / 1.3, / 1.5 and / 1.25, down to the hundred.
    assert_eq!(bids, ["3800.00 GBP", "3300.00 GBP", "4000.00 GBP"]);
    assert!(matches!(each[0].0, Tax::OnPremium(_)));
    assert_eq!(plan("lot premium 25 %, to sell").asked(), [Ask::WhoPays, Ask::Value, Ask::Tax]);
    assert!(plan("note nothing of a sale").lot.ceiling.is_none());
}

/// A restorer's published rule: as found at best a fifth, refinished well half to two thirds of one that is perfect.
#[test]
fn a_value_is_a_range_in_each_state_by_whose_word_it_is() {
    let plan = plan(
        "lot value original 25000 GBP by a restorer (published account)\n\
         lot value as found up to 20 % of original by the same restorer (published account)\n\
         lot value restored 50 % to 66.67 % of original by the same restorer (published account)",
    );
    let value = plan.lot.value.unwrap().unwrap();
    let told: Vec<(State, Option<String>, String)> = value
        .worth
        .iter()
        .map(|(state, worth)| (*state, worth.low.map(|low| low.to_string()), worth.high.to_string()))
        .collect();
    assert_eq!(told[0], (State::AsFound, None, "5000.00 GBP".into()));
    assert_eq!(told[1].1.as_deref(), Some("12500.00 GBP"));
    assert_eq!(told[1].2, "16667.50 GBP");
    let rise = value.rise.unwrap();
    assert_eq!(rise.low.unwrap().to_string(), "7500.00 GBP");
    assert_eq!(value.value.opinions()[1].whose, "the same restorer");
}

/// Attended 55 to 75 minutes and six hours in the press, a repair shop's published note: price from the one, day from
/// the other.
#[test]
fn hands_and_waiting_are_two_clocks() {
    let lines =
        "work rate 60 GBP an hour\ntask press neck, restore\ntask string up, after press neck, restore";
    let plan = plan(lines);
    let order = plan.choices.iter().find(|it| it.choice == Restore).unwrap().order.clone().unwrap();
    let names: Vec<&str> = order.turns.iter().map(|turn| turn.name.as_str()).collect();
    assert_eq!(names[..3], ["press neck", "press neck, after the wait", "string up"]);
    assert_eq!(order.turns[0].alone.0, 6.0);
    assert_eq!(order.turns[1].held, HeldBy::After("press neck".into()));
    assert!(order.proved && order.at_least == order.finish);
    // Six hours in a press are no labour.
    let hands: f64 = order.turns.iter().map(|turn| turn.hands.0).sum();
    assert!(hands < 6.0 && order.hands[2].0 < 6.0, "{:?}", order.hands);
    let cost = order.cost.unwrap();
    assert!(cost[0].minor() < cost[1].minor() && cost[1].minor() < cost[2].minor());
    assert!(order.ready[0] <= order.ready[1] && order.ready[1] <= order.ready[2]);
}

#[test]
fn choices_stand_beside_each_other_and_the_agreed_one_is_laid_out() {
    let lines = "task level frets, playable\ntask refret, restore\ntask clean board, playable and restore\n\
                 work rate 60 GBP an hour";
    let both = plan(lines);
    let tasks: Vec<(Choice, usize)> = both.choices.iter().map(|it| (it.choice, it.tasks.len())).collect();
    assert_eq!(tasks, [(Choice::Keep, 0), (Choice::Playable, 2), (Restore, 2)]);
    assert_eq!(both.shown().unwrap().choice, Restore);
    let agreed = plan(&format!(
        "{lines}\nagreed playable, up to 400 GBP, by telephone\nagreed up to 500 GBP, by letter"
    ));
    assert_eq!(agreed.shown().unwrap().choice, Choice::Playable);
    assert_eq!(agreed.ceiling_agreed().unwrap().to_string(), "500.00 GBP");
    assert_eq!(agreed.agreed.len(), 2, "the log keeps both");
    let within = agreed.shown().unwrap().order.as_ref().unwrap().within.unwrap();
    assert!((0.0..=1.0).contains(&within));
}

#[test]
fn of_one_task_the_latest_words_stand_and_a_dropped_one_is_gone() {
    let plan = plan("task polish, 2 hours\ntask polish, 3 hours\ntask plug, 1 hour\ntask plug, dropped");
    assert_eq!(plan.tasks.len(), 1);
    assert_eq!(plan.tasks[0].attended.likely().0, 3.0);
}

#[test]
fn hours_are_held_against_what_was_thought_and_a_cure_runs_from_when_the_hands_were_done() {
    let lines = "task lacquer, 2 hours, cures 70 to 74 hours, restore\ntask sand, 3 hours, after lacquer, restore\n\
                 hours 1h20 lacquer\nhours 45 min lacquer, done, two coats";
    let curing = plan(lines);
    let on = &curing.spent.by_task[0];
    assert!((on.hours - 125.0 / 60.0).abs() < 1e-9 && on.is_done() && on.words == ["two coats"]);
    assert_eq!(curing.curing.len(), 1);
    let [soonest, likely, latest] = curing.curing[0].over;
    assert_eq!((likely.duration_since(soonest)).as_hours(), 2);
    assert_eq!((latest.duration_since(likely)).as_hours(), 2);
    let order = curing.shown().unwrap().order.as_ref().unwrap();
    assert_eq!(order.turns[0].hands.0, 0.0, "nothing is left for the hands");
    let waits = asfound_study::bench::waits(&Ledger::with(lines).job);
    assert_eq!(waits[0].name, "lacquer until about 2026-11-06 09:04, at the latest 2026-11-06 11:04");
    let begun = plan(&format!("{lines}\nhours 1h sand"));
    assert!(begun.curing.is_empty(), "what comes after it was begun");
    assert!(plan("task plug, 1 hour\nhours 2h plug").spent.by_task[0].is_over());
}

#[test]
fn parts_that_are_waited_for_hold_a_task() {
    let plan = plan("task refret, not before 2027-03-01 for fret wire, restore");
    let order = plan.shown().unwrap().order.as_ref().unwrap();
    assert_eq!(order.turns[0].begins.date().to_string(), "2027-03-01");
    assert_eq!(order.turns[0].held, HeldBy::Parts);
    assert_eq!(plan.tasks[0].not_before.as_ref().unwrap().1, "fret wire");
}

/// A quarter hour begun is one billed, or the nearest is: where both come to the same there is nothing to ask.
#[test]
fn an_invoice_bills_hours_as_the_terms_say_and_credits_what_was_sold() {
    let lines = "work rate 60 GBP an hour, billed by quarter hours\nhours 1h24 level frets\n\
                 money materials wire 12.50 GBP\nmoney deposit 50 GBP\nmoney sold old tuners 20 GBP";
    let invoice = plan(lines).invoice.unwrap();
    let [way] = invoice.ways.as_slice() else { panic!("{:?}", invoice.ways) };
    assert_eq!((way.billed.0, way.owed.total.to_string()), (90, "102.50 GBP".into()));
    assert_eq!(way.owed.due.to_string(), "32.50 GBP");
    let open =
        plan("work rate 60 GBP an hour, billed by quarter hours\nhours 1h20 level frets").invoice.unwrap();
    assert_eq!(open.ways.len(), 2, "1 h 20 min is 1 h 30 or 1 h 15: both are shown");
}

#[test]
fn due_dates_are_read_as_days_or_counted_from_the_entry() {
    let plan = plan("due bias 2027-11-25\ndue guard looked at for gassing 2027-05-01");
    let due: Vec<(&str, String)> =
        plan.due.iter().map(|due| (due.words.as_str(), due.day.to_string())).collect();
    assert_eq!(due, [("guard looked at for gassing", "2027-05-01".into()), ("bias", "2027-11-25".into())]);
    assert_eq!(self::plan("due relief in 6 months").due.len(), 1);
    assert!(refused("due bias").contains("what and when"));
}

#[test]
fn what_cannot_be_read_is_answered_with_what_would_be_right() {
    assert!(refused("lot premium 25").contains("a rate in per cent"));
    assert!(refused("lot carriage 180").contains("three letters"));
    assert!(refused("lot wobble").contains("premium 25 %"));
    assert!(refused("lot value restored 4000 GBP").contains("whose word"));
    assert!(refused("task refit").contains("give hours"));
    assert!(refused("task refret, 12 to 6 hours").contains("do not rise"));
    assert!(refused("task refret, keep the old frets").contains("one thing to a clause"));
    assert!(refused("work rate soon").contains("60 GBP"));
    assert!(refused("work clocks whenever").contains("1003.1"));
    assert!(refused("agreed whatever").contains("1800"));
    assert_eq!(Ledger::opened().hear("hours soon").unwrap_err().why, WhyNot::NoHours);
}

fn lot_refused(lines: &str) -> String {
    match plan(lines).lot.ceiling {
        Some(CeilingAnswer::Refused(sentence)) => sentence,
        other => panic!("{lines}: {other:?}"),
    }
}

#[test]
fn terms_that_cannot_be_name_their_place() {
    let kept = "lot budget 5000 GBP, to keep, the owner pays\n";
    let wrong = |terms: &str| lot_refused(&format!("{kept}lot {terms}, tax 20 % on the premium"));
    assert!(wrong("premium 120 %").starts_with("premium"));
    assert!(wrong("premium 26 % to 50000 then 20 % to 10000 then 14 %").contains("rising order"));
    assert!(wrong("premium 25 %, carriage 6000 GBP").contains("raise the limit"));
    assert!(wrong("premium 25 %, carriage 60 EUR").contains("turn it into GBP first"));
}

fn order_refused(lines: &str) -> String {
    plan(lines).shown().unwrap().order.clone().unwrap_err()
}

#[test]
fn tasks_that_cannot_be_laid_out_say_why() {
    let ring = "task strip, 1 hour, after spray, restore\ntask spray, 1 hour, after strip, restore";
    assert!(order_refused(ring).contains("circle"));
    assert!(order_refused("task spray, 1 hour, after strip, restore").contains("not in the list"));
    assert!(order_refused("task glue, 20 hours, in one go, restore").contains("part it in two"));
    assert!(
        order_refused("work room 5 to 12 C\ntask weld, 1 hour, cure white glue clamps")
            .contains("does not cure")
    );
}

/// From November 4000 hours of curing run over the last Sunday of March, when the clocks go forward.
#[test]
fn a_change_of_the_clocks_inside_a_cure_is_told() {
    let lines = "work clocks GMT0BST,M3.5.0/1,M10.5.0\ntask lacquer, 1 hour, cures 4000 hours, restore";
    let order = plan(lines).shown().unwrap().order.clone().unwrap();
    assert_eq!(order.clocks.len(), 1, "{:?}", order.clocks);
    assert!(order.clocks[0].contains("set an alarm"));
}
