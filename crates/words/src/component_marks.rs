//! What is marked on resistors and capacitors, in words.

use asfound_measure::engineering;
use asfound_study::Job;
use asfound_study::bench::is_mains_powered;
use asfound_study::component_marks::marks::{Dielectric, MarkedTolerance};
use asfound_study::component_marks::{
    Admissible, DRIFT_FLAGGED, Kind, Lies, Manner, MarkedPart, Marking, Metered, USUAL_DRIFT, steps_of_block,
};

use crate::lists::{and, capital, or};
use crate::sheet::{Rest, Step, Table, Told};

/// One finding for each marked part.
pub(crate) fn findings(marked: &[MarkedPart], job: &Job) -> Vec<Told> {
    marked.iter().map(|part| one(part, job)).collect()
}

fn one(part: &MarkedPart, job: &Job) -> Told {
    let mut told = match &part.marking {
        Marking::Value(ways) => value(part, ways, job),
        Marking::Block(sections) => {
            let each: Vec<String> = sections.iter().map(|it| amount(it.0, Kind::Capacitor)).collect();
            let steps: Vec<String> = steps_of_block(sections).iter().map(|it| micro(it.0)).collect();
            Told {
                sentence: format!(
                    "{}: one part that holds {}, with one common end.",
                    capital(&part.name),
                    and(&each)
                ),
                sure: format!("Switched in one after the other they make {}.", and(&steps)),
                working: vec![
                    "Capacitors side by side add.".into(),
                    "It is kept as one original part with its values.".into(),
                ],
                ..Told::default()
            }
        }
        Marking::Colours(fault) => unread(part, &fault.to_string()),
        Marking::NoColour(fault) => unread(part, &fault.to_string()),
        Marking::Unread(signs) => unread(part, &format!("“{signs}” gives no value that is known here")),
    };
    told.id = format!("marked-{}", part.part);
    told.rests_on = vec![Rest::on(part.seq)];
    told.rests_on.extend(part.metered.iter().map(|metered| Rest::on(metered.seq)));
    told
}

fn unread(part: &MarkedPart, why: &str) -> Told {
    Told {
        sentence: format!("{}: its marking is not read.", capital(&part.name)),
        sure: format!(
            "{}. Type it as “bands red red orange black yellow”, “dots white brown red / ? blue red” or “marked 103M”.",
            capital(why)
        ),
        ..Told::default()
    }
}

fn value(part: &MarkedPart, ways: &[Admissible], job: &Job) -> Told {
    let first = &ways[0];
    let mut values: Vec<String> = ways.iter().map(|way| amount(way.value, part.kind)).collect();
    values.dedup();
    let volts = first.voltage.map(|volts| format!(", {}", engineering(volts.0, 3, "V"))).unwrap_or_default();
    let filled = match first.dielectric {
        Some(Dielectric::Mica) => "mica, ",
        Some(Dielectric::Paper) => "paper, ",
        None => "",
    };
    let sentence = format!(
        "{} is marked {filled}{}{}{volts}.",
        capital(&part.name),
        or(&values),
        plus_minus(&first.tolerance)
    );
    let mut working = vec![manner(&part.manner)];
    working.extend(limits(first, part.kind));
    working.extend(
        ways.iter()
            .filter(|_| ways.len() > 1)
            .map(|way| format!("{}: {}.", amount(way.value, part.kind), way.because)),
    );
    working.push(series(first));
    working.extend(good_for(part, job));
    Told {
        sentence,
        sure: sure(part, first, ways.len() > 1),
        next: next(part, first, job).into_iter().collect(),
        tables: disputed(&first.tolerance).into_iter().collect(),
        working,
        assumptions: assumptions(part),
        ..Told::default()
    }
}

fn plus_minus(tolerance: &MarkedTolerance) -> String {
    match tolerance {
        MarkedTolerance::Percent(percent) => format!(" ±{} %", percent.to_f64()),
        MarkedTolerance::Disputed(_) => ", tolerance disputed".to_owned(),
        MarkedTolerance::Unknown => String::new(),
    }
}

/// `0.022 µF`, and nanofarads beside it where the trade writes both.
fn amount(value: f64, kind: Kind) -> String {
    match kind {
        Kind::Resistor => engineering(value, 3, "Ω"),
        Kind::Capacitor if value < 1e-9 => engineering(value, 3, "F"),
        Kind::Capacitor if value < 10e-9 => format!("{} ({})", engineering(value, 3, "F"), picofarads(value)),
        Kind::Capacitor => format!("{} ({})", micro(value), engineering(value, 3, "F")),
    }
}

fn micro(value: f64) -> String {
    format!("{} µF", figures(value * 1e6))
}

fn picofarads(value: f64) -> String {
    format!("{} pF", figures(value * 1e12))
}

/// A figure without noughts that say nothing; figures of a marking have three places at most.
fn figures(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn manner(manner: &Manner) -> String {
    match manner {
        Manner::Bands(colours) => {
            let names: Vec<&str> = colours.iter().map(|colour| colour.name()).collect();
            format!("Read from its bands, from the crowded end: {} (figures after IEC 60062).", names.join(", "))
        }
        Manner::Dots => "Read from its dots along the arrow, above from the left, below from the right: kind, figure, figure, power of ten, tolerance (lists of the time, from memory).".to_owned(),
        Manner::Printed(signs) => format!("Read from the print, “{signs}” (codes after IEC 60062; a leading point in microfarads and mmf for picofarads are old practice, no source)."),
    }
}

fn limits(way: &Admissible, kind: Kind) -> Option<String> {
    let (least, most) = way.limits()?;
    Some(format!("So anything from {} to {} is as marked.", amount(least, kind), amount(most, kind)))
}

fn series(way: &Admissible) -> String {
    match (way.series(), way.is_old_decade()) {
        (Some(series), _) => format!("It is a preferred value, of the series {} (IEC 60063).", series.name()),
        (None, true) => "It is a round figure from before the preferred series, as parts of the time have (common practice, no source).".to_owned(),
        (None, false) => "It is in no preferred series: look at the marking once more.".to_owned(),
    }
}

fn disputed(tolerance: &MarkedTolerance) -> Option<Table> {
    let MarkedTolerance::Disputed(said) = tolerance else { return None };
    let mut table =
        Table::with("What the tolerance colour stands for, unresolved", &["#per cent", "who says so"]);
    table.rows =
        said.iter().map(|(percent, who)| vec![format!("{}", percent.to_f64()), (*who).to_owned()]).collect();
    Some(table)
}

fn sure(part: &MarkedPart, first: &Admissible, several: bool) -> String {
    let marking = match (&first.tolerance, several) {
        (MarkedTolerance::Disputed(said), _) => {
            let said: Vec<String> =
                said.iter().map(|(percent, who)| format!("{} % by {who}", percent.to_f64())).collect();
            format!("The value is certain; the tolerance is {}, unresolved.", or(&said))
        }
        (_, true) => "The marking can be read in more than one way; the meter tells which.".to_owned(),
        _ => "Certain as a reading of the marking, which says what it was made to be.".to_owned(),
    };
    match &part.metered {
        Some(metered) => format!("{marking} {}", lies(part, metered)),
        None => marking,
    }
}

fn lies(part: &MarkedPart, metered: &Metered) -> String {
    let value = amount(metered.value, part.kind);
    let off = format!("{:+.0} %", metered.off * 100.0).replace('-', "−");
    match metered.lies {
        Lies::Within => format!("The meter's {value} lies within it."),
        Lies::DriftedUp => format!("The meter's {value} lies {off}: old composition parts drift up so far."),
        Lies::DriftedFar => {
            format!("The meter's {value} lies {off}: drifted far, or something else is in circuit with it.")
        }
        Lies::Outside => {
            format!("The meter's {value} lies {off}, outside the marking: meter it with one lead free.")
        }
        Lies::CannotTell => format!("The meter's {value} lies {off}; no tolerance is marked."),
    }
}

fn assumptions(part: &MarkedPart) -> Vec<String> {
    match (part.kind, &part.metered) {
        (Kind::Resistor, Some(_)) => vec![format!(
            "Old composition resistors lie up to {:.0} % above their marking (restorers' readings of unused old stock; Church, IRE Transactions on Component Parts 8, 31, 1961); beyond {:.0} % is flagged (common practice, no source).",
            USUAL_DRIFT * 100.0,
            DRIFT_FLAGGED * 100.0
        )],
        _ => Vec::new(),
    }
}

/// What a kept part is still good for.
fn good_for(part: &MarkedPart, job: &Job) -> Vec<String> {
    if part.kind == Kind::Resistor {
        return vec!["Kept even where it is replaced: a part of the time belongs to the piece.".into()];
    }
    let leak = if is_mains_powered(job) {
        "In an amplifier it holds off a direct voltage, so value alone is not enough: it must not leak at the voltage it works at."
    } else {
        "In a tone control no direct voltage stands across it: a leak shows at the plug only as ohms that change with the tone knob."
    };
    vec![
        "Keep it even if it is replaced: a part of the time has a value of its own.".into(),
        format!(
            "What it is still good for is told by three tests, in this order: its value, its leak, its voltage. {leak}"
        ),
    ]
}

fn next(part: &MarkedPart, first: &Admissible, job: &Job) -> Option<Step> {
    let name = &part.name;
    if part.metered.is_none() {
        let example = if part.kind == Kind::Resistor { "470k" } else { "22n" };
        return Some(Step {
            id: format!("meter-marked-{}", part.part),
            words: format!("Meter the {name} with one lead free, and type “{name} {example}”."),
            why: "The marking says what it was made to be; the meter says what it is.".into(),
            caution: crate::cautions::metering(job).into(),
            ..Step::default()
        });
    }
    let volts = first.voltage.map(|volts| engineering(volts.0, 3, "V"));
    (part.kind == Kind::Capacitor).then(|| Step {
        id: format!("leak-{}", part.part),
        words: format!("Test the {name} for leakage before it is trusted{}.", volts.map(|volts| format!(", up to its {volts}")).unwrap_or_default()),
        why: "Value tells nothing of leakage; old paper leaks.".into(),
        caution: "A leakage test runs at up to hundreds of volts: limit the current, guard it from hands, discharge it, then measure that it is discharged. Local codes and licensed practice come first.".into(),
        ..Step::default()
    })
}
