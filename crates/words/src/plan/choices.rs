//! What may be done, side by side, and the order of the work, in words.

use asfound_study::plan::{
    Choice, ChoiceAnswer, HIGH, HeldBy, LOW, Order, Plan, Reversible, TaskSaid, TurnAnswer, USUAL_HOURS,
};

use super::{about, choice, hours, moment};
use crate::lists::{and, capital, count, or};
use crate::sheet::{Rest, Step, Table, Told};
use crate::time::day;

/// What the owner agreed to, with the log of changes.
pub(super) fn agreed(plan: &Plan) -> Option<Told> {
    let last = plan.agreed.last()?;
    let what = plan.choice_agreed().map(choice);
    let ceiling = plan.ceiling_agreed().map(|sum| format!("up to {sum} without asking again"));
    let told: Vec<String> = what.map(str::to_owned).into_iter().chain(ceiling).collect();
    let mut table = Table::with("What was agreed, in its order", &["when", "what"]);
    table.rows = plan.agreed.iter().map(|it| vec![day(&it.at), it.words.clone()]).collect();
    let within = plan.shown().and_then(|shown| shown.order.as_ref().ok()).and_then(|order| order.within);
    let sure = match within {
        Some(share) => format!("The chance that the work keeps within it is {}.", in_hundred(share)),
        None => "The last word stands; those before it are kept.".to_owned(),
    };
    let calls = within.is_some_and(|share| share < 0.5);
    Some(Told {
        id: "agreed".into(),
        sentence: format!("Agreed on {}: {}.", day(&last.at), and(&told)),
        sure,
        next: Vec::from_iter(calls.then(|| Step {
            id: "call-owner".into(),
            words: "Call the owner before going on: the work is likelier than not to pass the sum agreed.".into(),
            why: "A call now is cheaper than one after it is spent; write down day and answer with “agreed …”.".into(),
            ..Step::default()
        })),
        rests_on: Rest::on_all(plan.agreed.iter().map(|it| it.seq)),
        tables: vec![table],
        money: true,
        ..Told::default()
    })
}

fn in_hundred(share: f64) -> String {
    match (share * 100.0).round() {
        none if none < 1.0 => "under 1 %".into(),
        all if all > 99.0 => "over 99 %".into(),
        some => format!("{some} %"),
    }
}

/// When it is ready, and the order of the work.
pub(super) fn order(plan: &Plan) -> Option<Told> {
    let shown = plan.shown()?;
    let mut told = match &shown.order {
        Ok(order) => laid_out(plan, shown, order),
        Err(fault) => Told {
            sentence: format!("The work cannot be laid out: {}.", fault.trim_end_matches('.')),
            sure: "The tasks are kept as they were said.".into(),
            ..Told::default()
        },
    };
    told.id = "order".into();
    told.rests_on = Rest::on_all(shown.tasks.iter().map(|&task| plan.tasks[task].seq));
    Some(told)
}

fn laid_out(plan: &Plan, shown: &ChoiceAnswer, order: &Order) -> Told {
    let [_, even, late] = &order.ready;
    let proof = if order.proved {
        "no order is ready sooner with these times".to_owned()
    } else {
        format!(
            "no order is ready before {}; that this one is the soonest is not proved",
            moment(&order.at_least)
        )
    };
    let first = order.turns.iter().find(|turn| turn.hands.0 > 0.0);
    Told {
        sentence: ready(shown.choice, &day(&even.to_string()), &day(&late.to_string())),
        sure: format!("If each time is the likely one it is {}; {proof}.", moment(&order.finish)),
        next: first.map(|turn| begin(turn, plan)).into_iter().collect(),
        shown: Vec::from_iter(Some(turns(order)).filter(|table| !table.rows.is_empty())),
        tables: Vec::from_iter(Some(before_each(plan, order)).filter(|table| !table.rows.is_empty())),
        working: working(order),
        assumptions: assumptions(plan),
        would_change: vec![format!("Only a shorter {} would bring the day forward.", or(&order.critical))],
        ..Told::default()
    }
}

fn ready(what: Choice, even: &str, late: &str) -> String {
    let what = choice(what);
    if even == late {
        return format!("To {what}, ready with nine chances in ten by {late}.");
    }
    format!("To {what}, ready about {even}, and with nine chances in ten by {late}.")
}

/// What is not done yet.
fn left(order: &Order) -> impl Iterator<Item = &TurnAnswer> {
    order.turns.iter().filter(|turn| turn.hands.0 > 0.0 || turn.alone.0 > 0.0)
}

fn begin(turn: &TurnAnswer, plan: &Plan) -> Step {
    let said = &plan.tasks[turn.task];
    let first = match said.takes_away.as_str() {
        "" => String::new(),
        lost => format!(" First photograph {lost}."),
    };
    let waits = match turn.held {
        HeldBy::Parts => format!(", not before {}", day(&turn.begins.to_string())),
        _ => String::new(),
    };
    Step {
        id: format!("begin-{}", turn.name.replace(' ', "-")),
        words: format!("Next at the bench{waits}: {}, about {}.{first}", turn.name, hours(turn.hands)),
        why: format!("When it is done say “hours … {}, done”: what cures then runs from there.", said.name),
        caution: said.cautions().join(" "),
        ..Step::default()
    }
}

fn turns(order: &Order) -> Table {
    let mut table = Table::with(
        "The order of the work, by the likely times",
        &["task", "begins", "#hands", "#by itself", "ready", "why not sooner"],
    );
    table.rows = left(order)
        .map(|turn| {
            vec![
                turn.name.clone(),
                moment(&turn.begins),
                hours(turn.hands),
                hours(turn.alone),
                moment(&turn.ready),
                held(&turn.held),
            ]
        })
        .collect();
    table
}

fn held(by: &HeldBy) -> String {
    match by {
        HeldBy::Nothing => "it is the first".into(),
        HeldBy::Parts => "parts are waited for".into(),
        HeldBy::After(task) => format!("after {task}"),
        HeldBy::Hands(task) => format!("the hands are at {task}"),
    }
}

/// Before each task: what to photograph, whether it can be undone, what can hurt.
fn before_each(plan: &Plan, order: &Order) -> Table {
    let mut table =
        Table::with("Before each task", &["task", "photograph first", "can it be undone", "what can hurt"]);
    let mut seen = Vec::new();
    for turn in left(order).filter(|turn| turn.hands.0 > 0.0) {
        if !seen.contains(&turn.task) {
            seen.push(turn.task);
            let task = &plan.tasks[turn.task];
            let row = [
                task.name.clone(),
                task.takes_away.clone(),
                undone(task).to_owned(),
                task.cautions().join(" "),
            ];
            table.rows.push(row.into());
        }
    }
    table
}

fn undone(task: &TaskSaid) -> &'static str {
    match task.reversible {
        Some(Reversible::Fully) => "yes",
        Some(Reversible::WithTrace) => "yes, and it will show",
        Some(Reversible::No) => "no",
        None => "not said",
    }
}

fn working(order: &Order) -> Vec<String> {
    let mut working = vec![
        "Hands work while the bench is open and at one task at a time; what cures goes on through nights and days off.".to_owned(),
        format!("What decides the day, one after the other: {}.", order.critical.join(", then ")),
        "The days with their chances come from drawing every time four thousand times from its three figures (beta, as PERT supposes: Malcolm, Roseboom, Clark and Fazar, Operations Research 7, 1959); times are drawn apart from one another, and where one surprise delays several tasks the spread is wider.".to_owned(),
    ];
    working
        .extend(order.clocks.iter().map(|sentence| format!("{}.", capital(sentence.trim_end_matches('.')))));
    working
}

fn assumptions(plan: &Plan) -> Vec<String> {
    let mut all = Vec::new();
    if plan.bench.open.is_none() {
        all.push(format!(
            "The bench is open {USUAL_HOURS} (common practice, no source); say “work open weekdays 9 to 17”."
        ));
    }
    if plan.bench.room.is_none() {
        all.push("The room is between 15 and 25 °C; say “work room 18 to 22 C”.".into());
    }
    if plan.bench.clocks.is_none() {
        all.push("The clocks are taken not to change; say their rule with “work clocks …”.".into());
    }
    all.push("Of two figures for a time the middle is taken as the likely one. Hours of the library are where a first estimate begins; your own are better.".into());
    all
}

/// The choices beside each other, without money.
pub(super) fn side_by_side(plan: &Plan) -> Option<Told> {
    if plan.choices.len() < 2 {
        return None;
    }
    let mut heads = vec!["".to_owned()];
    heads.extend(plan.choices.iter().map(|it| capital(choice(it.choice))));
    let mut table = Table::with("The choices", &heads.iter().map(String::as_str).collect::<Vec<_>>());
    let mut row = |name: &str, of: &dyn Fn(&ChoiceAnswer) -> String| {
        table.rows.push(std::iter::once(name.to_owned()).chain(plan.choices.iter().map(of)).collect());
    };
    row("hours of hands to come", &|it| {
        in_order(it, &|order| format!("{} to {}", hours(order.hands[0]), hours(order.hands[2])))
    });
    row("ready between", &|it| {
        in_order(it, &|order| {
            format!("{} and {}", day(&order.ready[0].to_string()), day(&order.ready[2].to_string()))
        })
    });
    row("what cannot be undone", &|it| named(it, plan, |task| task.reversible == Some(Reversible::No)));
    row("evidence it takes away", &|it| lost(it, plan));
    let last = plan.choices.last().map_or(Choice::Keep, |it| it.choice);
    Some(Told {
        id: "choices".into(),
        sentence: format!(
            "There {} beside each other, from keeping it as it is to {}.",
            are(plan.choices.len()),
            as_noun(last)
        ),
        sure: "Keeping it as it is takes nothing away and stays open.".into(),
        shown: vec![table],
        working: vec![format!(
            "Ranges hold eight chances in ten: {} in a hundred end lower, {} higher.",
            (LOW * 100.0).round(),
            ((1.0 - HIGH) * 100.0).round()
        )],
        ..Told::default()
    })
}

fn are(choices: usize) -> String {
    if choices == 2 { "are two choices".into() } else { "are three choices".into() }
}

fn as_noun(of: Choice) -> &'static str {
    match of {
        Choice::Keep => "that alone",
        Choice::Playable => "making it playable",
        Choice::Restore => "restoring it",
    }
}

fn in_order(answer: &ChoiceAnswer, say: &dyn Fn(&Order) -> String) -> String {
    match &answer.order {
        _ if answer.tasks.is_empty() => "nothing to do".into(),
        Ok(order) => say(order),
        Err(_) => "cannot be laid out".into(),
    }
}

fn named(answer: &ChoiceAnswer, plan: &Plan, which: impl Fn(&TaskSaid) -> bool) -> String {
    let tasks = answer.tasks.iter().map(|&task| &plan.tasks[task]).filter(|task| which(task));
    let names: Vec<&str> = tasks.map(|task| task.name.as_str()).collect();
    if names.is_empty() { "nothing".into() } else { and(&names) }
}

fn lost(answer: &ChoiceAnswer, plan: &Plan) -> String {
    let tasks = answer.tasks.iter().map(|&task| &plan.tasks[task]).filter(|task| !task.takes_away.is_empty());
    let told: Vec<String> = tasks.map(|task| format!("{}: {}", task.name, task.takes_away)).collect();
    if told.is_empty() { "none known".into() } else { told.join("; ") }
}

/// What each choice costs: an estimate, not a quotation.
pub(super) fn costs(plan: &Plan) -> Option<Told> {
    let priced = |it: &ChoiceAnswer| it.order.as_ref().ok().and_then(|order| order.cost);
    let shown = plan.shown()?;
    let Some([low, even, high]) = priced(shown) else {
        return plan.bench.rate.is_none().then(no_rate);
    };
    let mut table = Table::with("The estimate", &["choice", "#low", "#middle", "#high"]);
    for it in plan.choices.iter().filter(|it| !it.tasks.is_empty()) {
        if let Some(cost) = priced(it) {
            let sums = cost.map(about);
            table.rows.push(std::iter::once(capital(choice(it.choice))).chain(sums).collect());
        }
    }
    let tasks = count(shown.tasks.len(), "task", "tasks");
    Some(Told {
        id: "costs".into(),
        sentence: format!(
            "To {} is estimated at about {}, with eight chances in ten between {} and {}.",
            choice(shown.choice),
            about(even),
            about(low),
            about(high)
        ),
        sure: "This is an estimate and not a quotation.".into(),
        rests_on: Rest::on_all(plan.bench.rests_on.iter().copied()),
        shown: vec![table],
        working: vec![
            format!("Hours of hands of {tasks} at the rate by the hour, those so far with those to come, with materials and the work of others beside them; time in which something cures costs nothing."),
            "An estimate is a true approximation; a quotation, once accepted, fixes price and scope (Northern Territory Government, quotes and estimates). What the law of the place says of either, and of an owner's right to withdraw, comes first: check it there.".into(),
        ],
        would_change: vec!["What is only seen once it is open: then the owner is asked before more is done.".into()],
        money: true,
        ..Told::default()
    })
}

fn no_rate() -> Told {
    Told {
        id: "costs".into(),
        sentence: "What it costs waits for the rate by the hour.".into(),
        sure: "Days and hours stand without it.".into(),
        next: vec![Step {
            id: "say-rate".into(),
            words: "Say the rate by the hour.".into(),
            why: "As “work rate 60 GBP an hour”.".into(),
            ..Step::default()
        }],
        money: true,
        ..Told::default()
    }
}
