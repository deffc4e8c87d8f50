//! What it may be worth, what is not known by what it takes off, and what each check is worth.

use asfound_study::viewing::{
    Expected, InRange, NotKnown, Open, Price, Reckoned, UnknownNow, ViewingStudied,
};

use crate::entry;
use crate::lists::{and, capital};
use crate::sheet::{Rest, Step, Table, Told};

use super::{flaws, say};

/// The sums still to be said.
pub(super) fn to_say(studied: &ViewingStudied) -> Vec<Step> {
    let sums = &studied.sums;
    let mut steps = Vec::new();
    if studied.kind.is_none() {
        steps.push(say(
            "kind",
            "Say what sort of piece it is when the job is opened: guitar, bass, lap steel or amplifier.",
            "Then its checks stand here in a good order, hazards and matters of law first.",
        ));
        return steps;
    }
    if sums.sound.is_none() {
        steps.push(say(
            "sound",
            "Say what it would bring with nothing wrong with it: “money sound 2600 GBP”.",
            "Then what is not known is told by what it takes off.",
        ));
    }
    if sums.price.is_none() {
        steps.push(say(
            "price",
            "Say the price: “money asking 1800 GBP”; at an auction “money estimate low 1200 GBP” and “money estimate high 1800 GBP”.",
            "Then checks are ranked by what deciding after each is worth.",
        ));
    }
    if sums.hour.is_none() && studied.reckoned.is_some() {
        steps.push(say(
            "hour",
            "Say what an hour's work costs: “work rate 50 GBP an hour”.",
            "Until then the hours of putting things right are not counted.",
        ));
    }
    steps
}

/// Where the decision stands.
pub(super) fn decision(studied: &ViewingStudied) -> Option<Told> {
    if let Some(fault) = &studied.fault {
        return Some(Told {
            id: "worth".into(),
            sentence: "What it may be worth cannot be reckoned.".into(),
            sure: capital(&format!("{fault}.")),
            ..Told::default()
        });
    }
    let reckoned = studied.reckoned.as_ref()?;
    let worth = reckoned.worth;
    let range = format!("{} to {}", about(worth.least), about(worth.most));
    let mut told = Told {
        id: "worth".into(),
        sentence: sentence(reckoned),
        sure: format!(
            "From {range} within the ranges of its figures; a mean over what is not known, and no estimate of a sale."
        ),
        rests_on: Rest::on_all(entries(studied)),
        working: working(studied),
        assumptions: assumptions(),
        would_change: vec![
            "The answer to any check below; another price; your own figures of what a flaw takes off."
                .to_owned(),
        ],
        money: true,
        ..Told::default()
    };
    let left_out = &studied.sums.other_currency;
    if !left_out.is_empty() {
        let seqs: Vec<String> = left_out.iter().map(|seq| format!("entry {seq}")).collect();
        told.working.push(format!("Left out, being in another currency than the worth: {}.", and(&seqs)));
    }
    if let Some(seq) = studied.sums.half_a_range {
        told.working.push(format!("Of the estimates at entry {seq} one is missing or the low one is above the high; both are wanted."));
    }
    Some(told)
}

fn sentence(reckoned: &Reckoned) -> String {
    let InRange { stated, least, most } = reckoned.worth;
    let worth = about(stated);
    let Some(price) = reckoned.price else {
        return format!("As far as is known it is worth {worth} on average, and no price was said.");
    };
    let [low, high] = price.sums().map(|sum| sum.minor() as f64);
    if low < high {
        return format!("As far as is known it is worth {worth} on average, and no bid above that gains.");
    }
    let asked = exactly(price);
    match (least.minor > high, most.minor <= low) {
        (true, _) => format!("Worth {worth} on average against {asked} asked: more than its price."),
        (_, true) => format!("Worth {worth} on average against {asked} asked: less than its price."),
        _ => format!("Not decided: worth {worth} on average against {asked} asked."),
    }
}

fn entries(studied: &ViewingStudied) -> std::collections::BTreeSet<u64> {
    let heard = studied.heard.iter().map(|heard| heard.seq);
    let answers = studied.answers.iter().map(|answer| answer.seq);
    studied.sums.entries.iter().copied().chain(heard).chain(answers).collect()
}

fn working(studied: &ViewingStudied) -> Vec<String> {
    let mut working = vec![
        "The range of the worth is the root of the sum of squares of what each unknown moves it to the ends of its own figures (JCGM 100, 5.1.2); that of a check is with the figures of any one unknown at an end.".to_owned(),
        "Worth = sound worth × the product of (1 − share lost) − hours × price of an hour, taken as a mean over what is not known.".to_owned(),
        "A check is worth the sum over its outcomes of probability × what deciding after it saves (Raiffa and Schlaifer 1961, chapter 4; Howard 1966).".to_owned(),
    ];
    for heard in &studied.heard {
        let name = studied.known.unknowns.iter().find(|unknown| unknown.id == heard.says.unknown);
        let name = name.map_or("", |unknown| unknown.name);
        working.push(format!("“{}” in entry {} was heard as speaking of: {name}.", heard.clause, heard.seq));
    }
    working
}

fn assumptions() -> Vec<String> {
    vec![
        "How often flaws are there, what they take off and how often a check shows them: common practice, no source, unless a row says otherwise.".to_owned(),
        "What is not known hangs together only where one check bears on several; two checks of one thing err apart from each other.".to_owned(),
        "A price between two estimates is equally likely anywhere between them; an auction's fees are not in it.".to_owned(),
    ]
}

/// Things told by name before the sentence grows too long.
const MOST_NAMED: usize = 3;

/// What is not known, by what it takes off.
pub(super) fn not_known(studied: &ViewingStudied) -> Told {
    match &studied.reckoned {
        Some(reckoned) => by_money(studied, reckoned),
        None => by_share(studied),
    }
}

fn by_money(studied: &ViewingStudied, reckoned: &Reckoned) -> Told {
    let named: Vec<&str> =
        reckoned.unknowns.iter().take(MOST_NAMED).filter_map(|now| Some(known(studied, now)?.name)).collect();
    let columns =
        ["not known", "what it may be", "#of 100", "#takes off on average", "#from", "#to", "#hours"];
    let mut table = Table::with("What is not known, by what it takes off the worth", &columns);
    table.rows = reckoned.unknowns.iter().filter_map(|now| money_row(known(studied, now)?, now)).collect();
    Told {
        id: "not-known".into(),
        sentence: format!("What takes off most as long as it is not known: {}.", and(&named)),
        sure: "Each figure is a mean; found to be so, it takes off more, and found sound, nothing.".into(),
        working: flaw_sources(studied),
        tables: vec![table],
        money: true,
        ..Told::default()
    }
}

fn known(studied: &ViewingStudied, now: &UnknownNow) -> Option<&'static NotKnown> {
    studied.known.unknowns.get(now.unknown).copied()
}

fn money_row(unknown: &NotKnown, now: &UnknownNow) -> Option<Vec<String>> {
    let sound = now.probabilities.first()?;
    let of_hundred = ((1.0 - sound) * 100.0).round();
    let InRange { stated, least, most } = now.takes_off;
    let figure = |sum: Expected| two_figures(sum).to_string();
    let hours = hours(unknown);
    let row = [figure(stated), figure(least), figure(most), hours];
    Some([unknown.name.to_owned(), flaws(unknown), format!("{of_hundred}")].into_iter().chain(row).collect())
}

fn hours(unknown: &NotKnown) -> String {
    let least = unknown.flaws.iter().map(|flaw| flaw.hours.least).fold(f64::INFINITY, f64::min);
    let most = unknown.flaws.iter().map(|flaw| flaw.hours.most).fold(0.0, f64::max);
    if most > 0.0 { format!("{least} to {most}") } else { "none".to_owned() }
}

fn by_share(studied: &ViewingStudied) -> Told {
    use asfound_study::viewing::End::{Least, Most, Stated};
    let mut unknowns = studied.known.unknowns.clone();
    unknowns.sort_by(|one, other| other.mean_share_lost(Stated).total_cmp(&one.mean_share_lost(Stated)));
    let named: Vec<&str> = unknowns.iter().take(MOST_NAMED).map(|unknown| unknown.name).collect();
    let columns = ["not known", "what it may be", "#per cent off on average", "#from", "#to", "#hours"];
    let mut table = Table::with("What is often not known, before anything is seen", &columns);
    table.rows = unknowns
        .iter()
        .map(|unknown| {
            let share = |end| format!("{:.1}", unknown.mean_share_lost(end) * 100.0);
            let figures = [share(Stated), share(Least), share(Most), hours(unknown)];
            [unknown.name.to_owned(), flaws(unknown)].into_iter().chain(figures).collect()
        })
        .collect();
    Told {
        id: "not-known".into(),
        sentence: format!("What takes off most as long as it is not known: {}.", and(&named)),
        sure: "Common practice over such pieces, before anything is seen of this one; what was answered is not in it.".into(),
        working: flaw_sources(studied),
        tables: vec![table],
        ..Told::default()
    }
}

/// Where the figures of flaws are from, where that is not common practice alone.
fn flaw_sources(studied: &ViewingStudied) -> Vec<String> {
    let mut lines = vec!["Figures: common practice, no source, unless said here.".to_owned()];
    for unknown in &studied.known.unknowns {
        for flaw in unknown.flaws.iter().filter(|flaw| flaw.source != "common practice, no source") {
            let source = flaw.source.trim_end_matches('.');
            lines.push(format!("{}, {}: {source}.", capital(unknown.name), flaw.words));
        }
    }
    lines
}

/// What each check is worth, and what each of its outcomes would make of the worth.
pub(super) fn worth_of_checks(studied: &ViewingStudied) -> Option<Told> {
    let reckoned = studied.reckoned.as_ref()?;
    let mut table = Table::with(
        "What deciding after each check is worth, the next first",
        &["check", "#worth", "#a minute", "#from", "#to", "what each outcome moves the worth by"],
    );
    for open in &studied.open {
        let (Some(check), Some(now)) = (studied.check(open.check), &open.now) else { continue };
        let InRange { stated, least, most } = now.worth;
        let minute = Expected { minor: stated.minor / check.minutes.stated, ..stated };
        let after = check.outcomes.iter().zip(&now.outcomes).map(|(outcome, now)| {
            let by = Expected { minor: now.worth.minor - reckoned.worth.stated.minor, ..now.worth };
            format!("{}: {} ({:.0} of 100)", outcome.seen, moved(by), now.probability * 100.0)
        });
        let after: Vec<String> = after.collect();
        let figures = [stated, minute, least, most].map(|sum| two_figures(sum).to_string());
        let row = [check.name.to_owned()].into_iter().chain(figures).chain([after.join("; ")]);
        table.rows.push(row.collect());
    }
    let is_no_flag = |open: &&Open| studied.check(open.check).is_some_and(|check| check.flag.is_none());
    let first = studied.open.iter().find(is_no_flag)?;
    let (check, now) = (studied.check(first.check)?, first.now.as_ref()?);
    let sentence = if reckoned.some_check_decides {
        format!(
            "The check that gains most a minute is {}, worth {} on average.",
            check.name,
            about(now.worth.stated)
        )
    } else {
        "No check changes the decision by itself, so they are ranked by how far they move the worth."
            .to_owned()
    };
    Some(Told {
        id: "worth-of-checks".into(),
        sentence,
        sure: "Hazards and matters of law stand first whatever they are worth; each figure looks one check ahead.".into(),
        assumptions: assumptions(),
        tables: vec![table],
        money: true,
        ..Told::default()
    })
}

/// A price that is known, as it was said.
fn exactly(price: Price) -> String {
    let [sum, _] = price.sums();
    entry::money(sum.minor(), sum.currency().code())
}

/// A sum with two figures that mean something: `about 1300 GBP`.
fn about(sum: Expected) -> String {
    let sign = if two_figures(sum) < 0 { "\u{2212}" } else { "" };
    format!("about {sign}{} {}", two_figures(sum).unsigned_abs(), sum.currency.code())
}

/// A difference with its sign: `+120`, `−45`.
fn moved(by: Expected) -> String {
    match two_figures(by) {
        0 => "0".to_owned(),
        more if more > 0 => format!("+{more}"),
        less => format!("\u{2212}{}", less.unsigned_abs()),
    }
}

/// A sum in whole units, with two figures.
fn two_figures(sum: Expected) -> i64 {
    let unit: f64 = (0..sum.currency.minor_digits()).map(|_| 10.0).product();
    let (mut whole, mut zeros) = (sum.minor / unit, 1.0);
    while whole.abs() >= 99.5 {
        (whole, zeros) = (whole / 10.0, zeros * 10.0);
    }
    (whole.round() * zeros) as i64
}
