//! The trace held against the meter, in words.

use asfound_measure::engineering;
use asfound_study::material::Material;
use asfound_study::probings::{
    Checked, Limits, MeterCheck, Probe, ProbingError, Proof, ReadingJudged, SheetRow, Slip, Unused,
    WhyUnseen, per_cent, study,
};
use asfound_study::record::Body;

use crate::bench_sheet::BenchSheet;
use crate::lists::{and, capital, count, or};
use crate::sheet::{Rest, Sheet, Step, Table, Told};
use crate::{cautions, entry, wiring};

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let found = job.probings.iter().map(|item| entry::line(item, Body::Probing, job)).collect();
    let mut sheet = Sheet { found, cautions: vec![cautions::metering(job).into()], ..Sheet::default() };
    match study(job, &material.workshop, &material.before.probings) {
        MeterCheck::NothingTraced => sheet.means.push(wiring::nothing_traced()),
        MeterCheck::NotYet(_) => sheet.means.push(not_yet()),
        MeterCheck::Refused(error) => sheet.means.push(refused(&error)),
        MeterCheck::Checked(checked) => sheet.means.extend(told(&checked)),
    }
    let traced = || Rest::on_all(job.traces.iter().map(|item| item.seq));
    for told in sheet.means.iter_mut().filter(|told| told.rests_on.is_empty()) {
        told.rests_on = traced();
    }
    sheet
}

/// The check sheet to print and write on.
pub fn check_sheet(material: &Material) -> BenchSheet {
    let job = &*material.job;
    let caution = cautions::metering(job).to_owned();
    match study(job, &material.workshop, &material.before.probings) {
        MeterCheck::Checked(checked) => BenchSheet {
            caution,
            about: format!(
                "{} Nothing is unsoldered. Write what the display shows, with its unit; “open” and “beeps” are answers too.",
                whole(&checked)
            ),
            tables: vec![paper_table(&checked)],
        },
        _ => BenchSheet {
            caution,
            about: "There is no check sheet yet: the page Meter check says what the trace lacks.".into(),
            tables: Vec::new(),
        },
    }
}

fn not_yet() -> Told {
    Told {
        id: "not-yet".into(),
        sentence: "The trace does not fit together yet, so nothing can be expected of the meter.".into(),
        sure: "The page Wiring names the line and what would be right.".into(),
        ..Told::default()
    }
}

fn refused(error: &ProbingError) -> Told {
    Told {
        id: "refused".into(),
        sentence: format!("The trace cannot be held against the meter: {error}."),
        sure: "The lines and readings are kept as they are.".into(),
        ..Told::default()
    }
}

fn told(checked: &Checked) -> Vec<Told> {
    let mut told = Vec::new();
    told.extend(contradictions(checked));
    told.push(overall(checked));
    told.extend(checked.readings.iter().filter(|it| !it.agrees).map(disagrees));
    told.extend(checked.unused.iter().map(|(seq, why)| unused(*seq, why)));
    told.extend(unknown(checked));
    told.extend(checked.apart.iter().map(|parts| apart(parts)));
    told.push(few(checked));
    told.extend(unseen(checked));
    told
}

/// What all readings say together, and the next probing.
fn overall(checked: &Checked) -> Told {
    let taken = checked.readings.len();
    let (excluded, of) = checked.excluded;
    let left = of - excluded;
    let (sentence, sure) = match (taken, checked.stands) {
        (0, _) => (
            "Nothing of the trace is held against the meter yet.".to_owned(),
            format!("{} of it are possible.", capital(&count(of, "single slip", "single slips"))),
        ),
        (_, true) if checked.next.is_none() => (
            format!("The trace is verified: {} with it.", agree(taken)),
            match left {
                0 => format!("Every one of {of} single slips is excluded."),
                _ => format!("{excluded} of {of} single slips are excluded; the rest no ohmmeter shows."),
            },
        ),
        (_, true) => (
            format!("So far the trace holds: {} with it.", agree(taken)),
            format!("{excluded} of {of} single slips are excluded, {left} are not yet."),
        ),
        (_, false) => does_not_hold(checked),
    };
    Told {
        id: "trace".into(),
        sentence,
        sure,
        next: checked.next.iter().map(|probe| step(probe, checked)).collect(),
        rests_on: Rest::on_all(checked.readings.iter().map(|it| it.seq)),
        working: working(checked),
        assumptions: assumptions(checked),
        tables: judged_table(checked),
        ..Told::default()
    }
}

fn agree(taken: usize) -> String {
    match taken {
        1 => "the one reading agrees".to_owned(),
        2 => "both readings agree".to_owned(),
        _ => format!("all {taken} readings agree"),
    }
}

fn does_not_hold(checked: &Checked) -> (String, String) {
    let taken = checked.readings.len();
    let alike = "It is one of those listed; nothing read so far tells them apart.";
    match checked.slips.as_slice() {
        [] => (
            "The readings do not fit the trace, and no single slip of it accounts for them.".to_owned(),
            "Two slips, a part far off its value or a misread figure would.".to_owned(),
        ),
        [one] if checked.accounted == taken => (
            format!("One slip of the trace accounts for {}: {}.", all_readings(taken), slip(one)),
            "No other single slip does.".to_owned(),
        ),
        several if checked.accounted == taken => (
            format!(
                "The trace does not hold as drawn; {} would account for {}, first: {}.",
                count(several.len(), "single slip", "single slips"),
                all_readings(taken),
                slip(&several[0])
            ),
            alike.to_owned(),
        ),
        several => (
            format!("No single slip accounts for all readings; most of them fit if {}.", slip(&several[0])),
            format!("{} of {taken} readings fit it. Read the others again.", checked.accounted),
        ),
    }
}

fn all_readings(taken: usize) -> String {
    match taken {
        1 => "the reading".to_owned(),
        2 => "both readings".to_owned(),
        _ => format!("all {taken} readings"),
    }
}

fn step(probe: &Probe, checked: &Checked) -> Step {
    let row = checked.rows.iter().find(|row| row.probe == *probe);
    let why = match row {
        Some(row) if row.expected.len() > 1 && checked.settled.len() < checked.unknown.len() => {
            format!("It settles an unknown join: {}.", expected(&row.expected))
        }
        Some(row) => format!(
            "Expected {}. It would show {} that no probing before it does.",
            expected(&row.expected),
            count(row.shows.len(), "slip", "slips")
        ),
        None => "It tells most of what is still possible apart.".to_owned(),
    };
    let stood = probe.stood();
    let stood = if stood.is_empty() { String::new() } else { format!(", {stood}") };
    Step {
        id: format!("probe-{}-{}-{}", probe.from, probe.to, probe.stood()).replace([' ', ',', '.'], "-"),
        words: format!("Probe from {} to {}{stood}.", probe.from, probe.to),
        why,
        ..Step::default()
    }
}

fn disagrees(reading: &ReadingJudged) -> Told {
    let any = if reading.any_position { "in any position" } else { "there" };
    Told {
        id: format!("reading-{}", reading.seq),
        sentence: format!(
            "From {} to {} the meter showed {}; {any} the trace says {}.",
            reading.from,
            reading.to,
            reading.text,
            expected(&reading.expected)
        ),
        sure: "It disagrees beyond what parts and meter may be off.".into(),
        rests_on: vec![Rest::on(reading.seq)],
        ..Told::default()
    }
}

fn contradictions(checked: &Checked) -> Vec<Told> {
    let one = |(a, b): &(u64, u64)| Told {
        id: format!("contradict-{a}-{b}"),
        sentence: format!(
            "Entries {a} and {b} contradict each other: the same two lugs, everything set alike."
        ),
        sure: "One of them was misread, or something moved. Read it once more and correct the wrong one."
            .into(),
        rests_on: vec![Rest::on(*a), Rest::on(*b)],
        ..Told::default()
    };
    checked.contradict.iter().map(one).collect()
}

fn unused(seq: u64, why: &Unused) -> Told {
    let (sentence, sure) = match why {
        Unused::NoSuchLug(read, nearest) => {
            let near: Vec<String> = nearest.iter().map(|name| format!("“{name}”")).collect();
            let near = if near.is_empty() { String::new() } else { format!(" Near it are {}.", and(&near)) };
            (
                format!("Entry {seq} names “{read}”, which the trace does not have."),
                format!("It is kept, and not judged.{near}"),
            )
        }
        Unused::NotSet(not_set) => (
            format!("Entry {seq} says “{}”, which the trace does not have.", not_set.read),
            format!("It is kept, and not judged. {} would be right.", or(&quoted(&not_set.right))),
        ),
        Unused::NoOhms => (
            format!("Entry {seq} is no resistance, so the trace expects nothing of it."),
            "It is kept, and not judged.".into(),
        ),
    };
    Told { id: format!("unused-{seq}"), sentence, sure, rests_on: vec![Rest::on(seq)], ..Told::default() }
}

fn quoted(words: &[String]) -> Vec<String> {
    words.iter().map(|word| format!("“{word}”")).collect()
}

fn unknown(checked: &Checked) -> Option<Told> {
    if checked.unknown.is_empty() {
        return None;
    }
    let said: Vec<String> = checked
        .settled
        .iter()
        .map(|(from, to)| match to {
            Some(to) => format!("{from} goes to {to}"),
            None => format!("{from} goes nowhere"),
        })
        .collect();
    let (sentence, sure) = if said.is_empty() {
        (
            format!(
                "Where {} {} is not known yet.",
                and(&checked.unknown),
                if checked.unknown.len() == 1 { "goes" } else { "go" }
            ),
            "The check sheet settles it as far as ohms can.".to_owned(),
        )
    } else {
        (format!("The readings settle it: {}.", and(&said)), "Write it into the trace as metered.".to_owned())
    };
    Some(Told { id: "unknown".into(), sentence, sure, ..Told::default() })
}

fn apart(parts: &[String]) -> Told {
    Told {
        id: format!("apart-{}", parts[0]),
        sentence: format!("{} hang together, and nothing joins them to the jack.", capital(&and(parts))),
        sure: "A join is not traced yet, or two instruments are in one trace: give each a job of its own."
            .into(),
        ..Told::default()
    }
}

/// How many probings verify the trace, and whether fewer could.
fn whole(checked: &Checked) -> String {
    let slips = count(checked.shown, "single slip", "single slips");
    match checked.rows.len() {
        1 => format!("One probing shows all of {slips} of the trace that a meter can show."),
        rows => format!("{rows} probings together show all of {slips} of the trace that a meter can show."),
    }
}

fn few(checked: &Checked) -> Told {
    let sure = match checked.proof {
        Proof::Least if checked.thorough => "No fewer would do: that is proved.".to_owned(),
        Proof::Least => "No fewer of those thought of would do: that is proved.".to_owned(),
        Proof::AtLeast(least) => {
            format!("Whether fewer would do is not proved; {least} are needed at least.")
        }
    };
    let mut table = Table::with(
        "The check sheet: nothing unsoldered",
        &["no.", "from", "to", "switches", "knobs", "expected", "#shows", "read"],
    );
    table.rows = checked.rows.iter().enumerate().map(|(at, row)| sheet_row(at, row)).collect();
    Told {
        id: "check-sheet".into(),
        sentence: whole(checked),
        sure,
        working: vec![
            "A slip is one join missing, one end of a join at another lug of the same part, or one bridge between neighbouring lugs or between two points.".into(),
            "A probing shows a slip where the limits of both readings do not meet. The least set of probings is found by set covering (Karp 1972; greedy bound: Chvátal 1979).".into(),
        ],
        assumptions: assumptions(checked),
        tables: vec![table],
        ..Told::default()
    }
}

fn sheet_row(at: usize, row: &SheetRow) -> Vec<String> {
    let read = row.taken.as_ref().map_or(String::new(), |(seq, text)| format!("{text} (entry {seq})"));
    vec![
        (at + 1).to_string(),
        row.probe.from.clone(),
        row.probe.to.clone(),
        row.probe.switches.clone(),
        row.probe.knobs.clone(),
        expected(&row.expected),
        row.shows.len().to_string(),
        read,
    ]
}

fn paper_table(checked: &Checked) -> Table {
    let columns = ["no.", "from", "to", "switches and knobs", "expected", "as read", "agrees"];
    let mut table = Table::with("Meter check", &columns);
    table.rows = checked
        .rows
        .iter()
        .enumerate()
        .map(|(at, row)| {
            let read = row.taken.as_ref().map(|(_, text)| text.clone()).unwrap_or_default();
            let stood = row.probe.stood();
            let (from, to) = (row.probe.from.clone(), row.probe.to.clone());
            vec![(at + 1).to_string(), from, to, stood, expected(&row.expected), read, "☐".into()]
        })
        .collect();
    table
}

fn judged_table(checked: &Checked) -> Vec<Table> {
    let mut tables = Vec::new();
    if !checked.readings.is_empty() {
        let mut table =
            Table::with("Readings, judged", &["entry", "from", "to", "read", "expected", "judged"]);
        table.rows = checked
            .readings
            .iter()
            .map(|it| {
                let judged = if it.agrees { "agrees" } else { "disagrees" };
                let (seq, text) = (it.seq.to_string(), it.text.clone());
                vec![seq, it.from.clone(), it.to.clone(), text, expected(&it.expected), judged.into()]
            })
            .collect();
        tables.push(table);
    }
    let slips = &checked.slips;
    if slips.len() > 1 {
        let mut table = Table::with("It would be so if", &["no.", "slip"]);
        let several = slips.iter().take(MOST_SLIPS).enumerate();
        table.rows = several.map(|(at, one)| vec![(at + 1).to_string(), slip(one)]).collect();
        tables.push(table);
    }
    tables
}

/// Slips that are listed; more are told by their number.
const MOST_SLIPS: usize = 12;

fn slip(slip: &Slip) -> String {
    match slip {
        Slip::Missing(a, b) if b.is_empty() => format!("the join from {a} is open or not there"),
        Slip::Missing(a, b) => format!("the join from {a} to {b} is open or not there"),
        Slip::Elsewhere { from, drawn, at } => format!("the wire from {from} is at {at}, not at {drawn}"),
        Slip::Extra(a, b) => format!("{a} and {b} are joined, which the trace does not have"),
    }
}

fn unseen(checked: &Checked) -> Option<Told> {
    let total = checked.unseen.len();
    if total == 0 {
        return None;
    }
    let mut table = Table::with("What no probing shows", &["slip", "why"]);
    table.rows = checked
        .unseen
        .iter()
        .take(MOST_SLIPS)
        .map(|(one, why)| {
            let why = match why {
                WhyUnseen::Loop => "the wire is one of a loop: every lug stays joined to the same lugs",
                WhyUnseen::NoDifference => "the two touch anyway, in every position",
                WhyUnseen::WithinTolerance => {
                    "it changes the reading by less than parts and meter may be off"
                }
            };
            vec![slip(one), why.to_owned()]
        })
        .collect();
    Some(Told {
        id: "unseen".into(),
        sentence: format!("{} cannot be shown with an ohmmeter.", capital(&count(total, "slip", "slips"))),
        sure: "The eye has to: follow the wire.".into(),
        tables: vec![table],
        ..Told::default()
    })
}

fn working(checked: &Checked) -> Vec<String> {
    let mut working = vec![
        "Expected: at direct current a capacitor blocks and a coil is its resistance. The limits are those with every part at its least and every part at its most, since a reading never falls when a resistance grows (Rayleigh's law of monotony).".to_owned(),
    ];
    if checked.poor_meter && !checked.readings.is_empty() {
        working.push(
            "Where the meter's accuracy is not on record, ±(3 % + 5 digits) was taken; common practice, no source.".into(),
        );
    }
    working
}

fn assumptions(checked: &Checked) -> Vec<String> {
    let tolerances = &checked.tolerances;
    let (coil, track) = (per_cent(tolerances.winding).0, per_cent(tolerances.track).0);
    let (under, over) = per_cent(tolerances.resistor);
    vec![
        format!(
            "Coils and chokes as traced, ±{coil:.0} % for 15 to 25 °C and the meter; pots ±{track:.0} % as sold; resistors −{under:.0} to +{over:.0} % for their age. Common practice, no source, but copper's 0.39 % per kelvin (IEC 60028)."
        ),
        format!(
            "What touches shows up to {}, what is open {} or more; the meter is right to ±{:.0} %.",
            ohms(tolerances.touching.0),
            ohms(tolerances.open_from.0),
            tolerances.meter * 100.0
        ),
        "A knob of which nothing was said stood full up.".into(),
    ]
}

/// Limits as the bench says them: `5.59 kΩ to 6.16 kΩ`, `0 to 10 Ω`, `open`.
fn expected(limits: &[Limits]) -> String {
    let mut said: Vec<String> = limits
        .iter()
        .map(|limits| match limits {
            Limits::Open => "open".to_owned(),
            Limits::Touching(most) => format!("0 to {}", ohms(most.0)),
            Limits::Ohms(least, most) => format!("{} to {}", ohms(least.0), ohms(most.0)),
        })
        .collect();
    said.dedup();
    let more = said.len().saturating_sub(MOST_LIMITS);
    match more {
        0 | 1 => or(&said),
        _ => format!("{} or one of {more} more", said[..MOST_LIMITS].join(", ")),
    }
}

/// Limits that are listed for one reading.
const MOST_LIMITS: usize = 4;

fn ohms(value: f64) -> String {
    engineering(value, if value >= 100.0 { 3 } else { 2 }, "Ω")
}
