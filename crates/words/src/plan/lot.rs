//! The ceiling and the value, in words.

use asfound_study::plan::{
    Ask, Bill, Ceiling, CeilingAnswer, CeilingUnderRisk, Item, Line, Money, Opinion, Plan, Rise, Says, State,
    Tax, ValueAnswer, WorkTaken, Worth,
};

use super::{about, choice, range};
use crate::lists::and;
use crate::sheet::{Rest, Step, Table, Told};

/// The highest bid, or what is in its way.
pub(super) fn ceiling(plan: &Plan) -> Option<Told> {
    let answer = plan.lot.ceiling.as_ref()?;
    let mut told = match answer {
        CeilingAnswer::Asked(asked) => not_yet(asked),
        CeilingAnswer::EachBasis(rate, each) => each_basis(&rate.to_string(), each),
        CeilingAnswer::Known(ceiling) => known(ceiling),
        CeilingAnswer::UnderRisk(found) => under_risk(found),
        CeilingAnswer::Refused(sentence) => Told {
            sentence: format!("No bid fits: {}.", sentence.trim_end_matches('.')),
            sure: "The terms are kept as they were said.".into(),
            ..Told::default()
        },
    };
    told.id = "ceiling".into();
    told.money = true;
    told.rests_on = Rest::on_all(plan.said.rests_on.iter().copied());
    told.assumptions.extend(work_taken(plan));
    told.assumptions.push("Rates, tax and duty are those that were typed, from the sale's own page and the notices of the day; ask where in doubt.".into());
    Some(told)
}

fn not_yet(asked: &[Ask]) -> Told {
    let names: Vec<&str> = asked.iter().map(|ask| name(*ask)).collect();
    Told {
        sentence: format!("There is no ceiling before it is said {}.", and(&names)),
        sure: "Nothing of it is supposed.".into(),
        next: asked.iter().find_map(|ask| step(*ask)).into_iter().collect(),
        ..Told::default()
    }
}

fn name(ask: Ask) -> &'static str {
    match ask {
        Ask::WhoPays => "who pays",
        Ask::KeepOrSell => "whether to keep or to sell",
        Ask::Budget => "what there is to spend, all in",
        Ask::Value => "what it is worth once the work is done",
        Ask::Premium => "what the house adds",
        Ask::Tax => "what the tax is charged on",
    }
}

/// Who pays and to keep or to sell are asked in a finding of their own.
fn step(ask: Ask) -> Option<Step> {
    let (id, words, why) = match ask {
        Ask::WhoPays | Ask::KeepOrSell => return None,
        Ask::Budget => ("say-budget", "Ask what there is to spend, all in.", "As “lot budget 5000 GBP”."),
        Ask::Value => (
            "say-value",
            "Say what it is worth restored, and by whose word.",
            "As “lot value restored 4000 to 5500 GBP by three sales this year”.",
        ),
        Ask::Premium => ("say-premium", "Copy the premium from the sale's page.", "As “lot premium 25 %”."),
        Ask::Tax => (
            "say-tax",
            "Ask the house what its tax is charged on.",
            "As “lot tax 20 % on the premium”, “on everything”, “inside the premium” or “lot no tax”.",
        ),
    };
    Some(Step { id: id.into(), words: words.into(), why: why.into(), ..Step::default() })
}

fn known(ceiling: &Ceiling) -> Told {
    Told {
        sentence: format!("Bid no more than {}: all in that is {}.", ceiling.bid, ceiling.bill.total),
        sure: format!(
            "The next bid, {}, comes to {}, over the limit of {}.",
            ceiling.next_bid, ceiling.next_bill.total, ceiling.limit
        ),
        shown: vec![bill(&ceiling.bill)],
        working: working(ceiling),
        ..Told::default()
    }
}

fn under_risk(found: &CeilingUnderRisk) -> Told {
    let ceiling = &found.ceiling;
    let per_cent = |chance: asfound_study::plan::Chance| in_hundred(chance.value());
    Told {
        sentence: format!(
            "Bid no more than {}: all in that is {}, and the chance to lose on it is {}.",
            ceiling.bid, ceiling.bill.total, per_cent(found.at_bid)
        ),
        sure: format!(
            "A chance of loss of {} is accepted; the next bid, {}, brings it to {}.",
            per_cent(found.accepted), ceiling.next_bid, per_cent(found.at_next)
        ),
        shown: vec![bill(&ceiling.bill)],
        working: [
            vec![format!(
                "What is left for the lot was drawn twenty thousand times; with more draws the limit would lie between {}.",
                range(found.limit_between.0, found.limit_between.1).replace(" to ", " and ")
            )],
            working(ceiling),
        ]
        .concat(),
        would_change: vec!["Another chance of loss: “lot chance of loss 10 %”.".into()],
        ..Told::default()
    }
}

fn in_hundred(share: f64) -> String {
    format!("{} %", (share * 100.0).round())
}

fn working(ceiling: &Ceiling) -> Vec<String> {
    let mut working = vec![
        "Within each band of the premium the cost is a straight line in the hammer price, which the limit cuts; the price is brought down to a bid, and its bill is added up again line by line.".to_owned(),
    ];
    working.extend(ceiling.gaps.iter().map(|gap| {
        format!(
            "From {} to {} the hammer costs more than the limit, though higher bids do not.",
            gap.first, gap.last
        )
    }));
    working
}

fn each_basis(rate: &str, each: &[(Tax, Ceiling)]) -> Told {
    let lowest = each.iter().map(|(_, ceiling)| ceiling).min_by_key(|ceiling| ceiling.bid.minor());
    let safe = lowest.map(|ceiling| ceiling.bid.to_string()).unwrap_or_default();
    let mut table =
        Table::with("The highest bid, by what the tax is charged on", &["tax", "#highest bid", "#all in"]);
    table.rows = each
        .iter()
        .map(|(tax, ceiling)| vec![basis(tax), ceiling.bid.to_string(), ceiling.bill.total.to_string()])
        .collect();
    Told {
        sentence: format!(
            "What the tax of {rate} is charged on was not said; {safe} is safe whichever holds."
        ),
        sure: "Houses differ, so it is asked and not supposed.".into(),
        next: step(Ask::Tax).into_iter().collect(),
        shown: vec![table],
        ..Told::default()
    }
}

fn basis(tax: &Tax) -> String {
    match tax {
        Tax::None => "none".into(),
        Tax::OnPremium(_) => "on the premium only".into(),
        Tax::OnAll(_) => "on hammer price and premium".into(),
        Tax::InPremium(_) => "inside the premium".into(),
    }
}

/// Every line of the bill.
fn bill(bill: &Bill) -> Table {
    let mut table = Table::with("The bill, every line", &["line", "how", "#sum"]);
    table.rows = bill.lines.iter().map(row).collect();
    let inside = |tax: Money| vec!["of the premium, tax inside it".into(), String::new(), tax.to_string()];
    table.rows.extend(bill.tax_in_premium.map(inside));
    table.rows.push(vec!["all in".into(), String::new(), bill.total.to_string()]);
    table
}

fn row(line: &Line) -> Vec<String> {
    let how: Vec<String> = line.working.iter().map(|working| working.rate.to_string()).collect();
    vec![item(&line.item), and(&how), line.printed.to_string()]
}

fn item(item: &Item) -> String {
    match item {
        Item::Hammer => "hammer price".into(),
        Item::Premium => "premium".into(),
        Item::TaxOnPremium => "tax on the premium".into(),
        Item::TaxOnAll => "tax on hammer price and premium".into(),
        Item::Online => "online surcharge".into(),
        Item::TaxOnOnline => "tax on the surcharge".into(),
        Item::Extra(what) => what.clone(),
        Item::TaxOnExtra(what) => format!("tax on {what}"),
        Item::Duty => "duty".into(),
        Item::ImportTax => "import tax".into(),
        Item::Commission => "commission".into(),
        Item::TaxOnCommission => "tax on the commission".into(),
    }
}

fn work_taken(plan: &Plan) -> Option<String> {
    Some(match plan.lot.work.as_ref()? {
        WorkTaken::Said => "The work is taken at the sum that was said.".into(),
        WorkTaken::Hours(taken, [low, even, high]) => format!(
            "The work is taken from the plan to {}: about {}, eight chances in ten between {} and {}.",
            choice(*taken),
            about(*even),
            about(*low),
            about(*high)
        ),
    })
}

/// The value in three states.
pub(super) fn value(plan: &Plan) -> Option<Told> {
    let mut told = match plan.lot.value.as_ref()? {
        Ok(value) => valued(value),
        Err(fault) => Told {
            sentence: format!("The value cannot be worked out: {}.", fault.trim_end_matches('.')),
            sure: "What was said is kept.".into(),
            ..Told::default()
        },
    };
    told.id = "value".into();
    told.money = true;
    told.tables.extend(comparables(plan));
    told.rests_on = Rest::on_all(plan.said.rests_on.iter().copied());
    Some(told)
}

fn valued(value: &ValueAnswer) -> Told {
    let of = |wanted: State| value.worth.iter().find(|(state, _)| *state == wanted).map(|(_, worth)| worth);
    let named = [State::AsFound, State::Restored, State::FullyOriginal];
    let told: Vec<String> = named
        .iter()
        .filter_map(|state| Some(format!("{} {}", state_name(*state), worth(of(*state)?))))
        .collect();
    let mut table = Table::with("By whose word", &["state", "says", "whose word", "where"]);
    table.rows = value.value.opinions().iter().map(opinion).collect();
    let sentence = if told.is_empty() {
        "Shares of a fully original one are said, and not what that is worth.".to_owned()
    } else {
        format!("By what was said it is worth {}.", and(&told))
    };
    Told {
        sentence,
        sure: value.rise.as_ref().map_or_else(
            || "Nobody knows a value before a sale; each range is somebody's word.".to_owned(),
            rise,
        ),
        tables: vec![table],
        working: vec!["A share is taken of the whole range of a fully original one; where several speak, the range reaches from the lowest to the highest and none is averaged away.".into()],
        ..Told::default()
    }
}

fn rise(rise: &Rise) -> String {
    let more =
        if rise.from_highest_before { ", counted from the most it is said to be worth as found" } else { "" };
    match rise.low {
        Some(low) if low.minor() < 0 => {
            format!("Restoring may raise it by up to {}, or lose by it{more}.", rise.high)
        }
        Some(low) => format!(
            "Restoring raises it by {}{more}: spend less than the lower, margin and risk taken off.",
            range(low, rise.high)
        ),
        None => format!("Restoring raises it by up to {}{more}.", rise.high),
    }
}

fn worth(worth: &Worth) -> String {
    match worth.low {
        Some(low) => range(low, worth.high),
        None => format!("up to {}", worth.high),
    }
}

fn state_name(state: State) -> &'static str {
    match state {
        State::AsFound => "as found",
        State::Restored => "restored",
        State::FullyOriginal => "fully original",
    }
}

fn opinion(opinion: &Opinion) -> Vec<String> {
    let says = match &opinion.says {
        Says::Sum { low: None, high } => format!("up to {high}"),
        Says::Sum { low: Some(low), high } => range(*low, *high),
        Says::Share { low: None, high } => format!("up to {high} of a fully original one"),
        Says::Share { low: Some(low), high } if low == high => format!("{high} of a fully original one"),
        Says::Share { low: Some(low), high } => format!("{low} to {high} of a fully original one"),
    };
    vec![state_name(opinion.state).into(), says, opinion.whose.clone(), opinion.source.clone()]
}

fn comparables(plan: &Plan) -> Option<Table> {
    let mut table = Table::with("Like pieces that were sold", &["as said", "#price"]);
    table.rows =
        plan.said.comparables.iter().map(|one| vec![one.words.clone(), one.price.to_string()]).collect();
    (!table.rows.is_empty()).then_some(table)
}
