//! Readings at the jack in words: what each coil must be, how it is wired, which reading disagrees.

use asfound_measure::{Ohms, engineering, show_expanded};
use asfound_study::jack::{
    Answer, CoilsJoined, Controls, Doubted, ExpectedRow, Extra, Fault, Fitted, JackStudied, Kind, Knobs,
    NextReading, Probe, Proposed, Used, Value, Verdict, Wiring,
};

use crate::lists::{and, capital, or};
use crate::sheet::{Rest, Step, Table, Told};

const UNPLUG: &str = "Unplug from any amplifier before metering at the plug.";

/// Every finding about the jack.
pub(crate) fn jack(studied: &JackStudied, expected: &[ExpectedRow]) -> Vec<Told> {
    let mut told = Vec::new();
    match &studied.answer {
        Some(Ok(answer)) => told.push(answered(studied, answer)),
        Some(Err(error)) => told.push(Told {
            id: "jack".into(),
            sentence: "The readings at the jack do not fit together yet.".into(),
            sure: format!("{}.", capital(&error.to_string())),
            rests_on: rests(studied),
            ..Told::default()
        }),
        None => {}
    }
    for (seq, missing) in &studied.unused {
        told.push(Told {
            id: format!("jack-{seq}"),
            sentence: format!("The reading at the jack in entry {seq} lacks {missing}."),
            sure: "It is kept, and nothing rests on it yet.".into(),
            rests_on: vec![Rest::on(*seq)],
            ..Told::default()
        });
    }
    if !expected.is_empty() {
        match told.iter_mut().find(|it| it.id == "jack") {
            Some(first) => first.tables.push(should_show(expected)),
            None => told.push(to_check(expected)),
        }
    }
    told
}

fn rests(studied: &JackStudied) -> Vec<Rest> {
    Rest::on_all(studied.used.iter().map(|used| used.seq))
}

fn answered(studied: &JackStudied, answer: &Answer) -> Told {
    let standing: Vec<&Fitted> = answer.standing().collect();
    let mut told = Told {
        id: "jack".into(),
        caution: UNPLUG.into(),
        rests_on: rests(studied),
        assumptions: assumptions(studied),
        would_change: vec!["The volume not full up, a cable that leaks, or a hand on the tip.".into()],
        ..Told::default()
    };
    told.sentence = match standing.first() {
        None => match answer.doubted.first() {
            Some(it) => {
                let Used { seq, text, how, .. } = &studied.used[it.reading];
                let rest = show_expanded(it.expected);
                format!(
                    "At the jack one reading disagrees with the rest: entry {seq} ({how}) shows {text}, and they say {rest}."
                )
            }
            None => "No way of wiring agrees with all the readings at the jack.".to_owned(),
        },
        Some(best) => sentence(answer, best),
    };
    told.sure = sure(&standing);
    let mut steps = steps(studied, answer).into_iter();
    told.next = steps.next().into_iter().collect();
    told.would_change.extend(steps.map(|step| format!("{} {}", step.words, step.why)));
    told.tables = standing.iter().take(MOST_FITS).map(|fit| values(studied, fit)).collect();
    told.tables.push(wirings(answer));
    told.tables.extend(answer.doubted.iter().map(|it| doubted(studied, it)));
    told.tables.retain(|table| !table.rows.is_empty());
    told.working = vec![
        "All readings are fitted at once to the network itself, with one error of the meter's gain common to all, and pots within 20 % of their nominal value where they were not metered (common practice, no source).".into(),
    ];
    told
}

/// Fits whose values are printed.
const MOST_FITS: usize = 3;

fn sentence(answer: &Answer, best: &Fitted) -> String {
    if !best.open.is_empty() {
        let rest: Vec<String> = best
            .values
            .iter()
            .filter(|it| it.kind == Kind::Coil && !best.open.contains(&it.part))
            .map(value)
            .collect();
        let rest = if rest.is_empty() { String::new() } else { format!("; {}", and(&rest)) };
        let what = if rest.is_empty() { " What shows is the volume alone." } else { "" };
        return format!("At the jack the {} is open{rest}.{what}", and(&best.open));
    }
    if !best.shorted.is_empty() {
        return format!("At the jack the {} is shorted.", and(&best.shorted));
    }
    if let Some(extra) = &best.extra {
        return format!("The readings at the jack agree only with {}.", extra_words(extra));
    }
    let coils: Vec<String> = answer
        .spans
        .iter()
        .filter(|span| span.kind == Kind::Coil)
        .map(|span| {
            let [low, high] = span.between;
            let told = best.value(&span.part).and_then(|value| value.ohms.as_ref().ok());
            match told {
                // What the tracks and wirings leave open is wider than what the readings do.
                _ if high.0 - low.0 > 0.004 * low.0 => {
                    format!("{} from {} to {}", span.part, kilohms(low), kilohms(high))
                }
                Some(ohms) => format!("{} {}", span.part, show_expanded(*ohms)),
                None => format!("{} about {}", span.part, kilohms(low)),
            }
        })
        .collect();
    format!("By the jack: {}.", and(&coils))
}

fn value(value: &Value) -> String {
    match &value.ohms {
        Ok(ohms) => format!("{} {}", value.part, show_expanded(*ohms)),
        Err(_) => format!("the {} is not told", value.part),
    }
}

fn kilohms(ohms: Ohms) -> String {
    engineering(ohms.0, 4, Ohms::SYMBOL)
}

fn sure(standing: &[&Fitted]) -> String {
    let mut pieces = Vec::new();
    let ways: Vec<String> = {
        let mut ways: Vec<String> = standing.iter().map(|fit| wiring(&fit.wiring)).collect();
        ways.dedup();
        ways.sort();
        ways.dedup();
        ways
    };
    match ways.as_slice() {
        [] => pieces.push("That position is at fault, or it is wired in a way that was not tried; what each fault would show stands behind it.".to_owned()),
        [one] => pieces.push(format!("It agrees with {one}, and with no other way that was tried.")),
        several => pieces.push(format!("It agrees with {}; the spread is theirs and the volume pots'.", or(several))),
    }
    if standing.iter().all(|fit| matches!(fit.verdict, Verdict::NothingToTest)) && !standing.is_empty() {
        pieces.push("There are no more readings than unknowns, so nothing tests it.".to_owned());
    }
    if standing.first().is_some_and(|fit| !fit.interchangeable.is_empty()) {
        pieces.push("Which coil has which of the values, these readings do not say.".to_owned());
    }
    pieces.join(" ")
}

fn wiring(wiring: &Wiring) -> String {
    match wiring {
        Wiring::Traced { possibility } => {
            if *possibility == 0 {
                "the circuit as traced".to_owned()
            } else {
                format!("the traced circuit, possibility {}", possibility + 1)
            }
        }
        Wiring::Plain { controls, joined } => {
            let controls = match controls {
                Controls::NoPot => "no pot across the output",
                Controls::Master => "one volume for all",
                Controls::Coupled => "a volume each, coils to the outer lugs, so that one shut silences all",
                Controls::Independent => {
                    "a volume each, coils to the wipers, so that one shut leaves the other"
                }
            };
            match joined {
                Some(CoilsJoined::Parallel) => format!("{controls}, coils side by side"),
                Some(CoilsJoined::Series) => format!("{controls}, coils in series"),
                None => controls.to_owned(),
            }
        }
    }
}

fn extra_words(extra: &Extra) -> String {
    match extra {
        Extra::LeakyCapacitor { part } => format!("a leak through the {part}"),
        Extra::AcrossOutput => "a leak between tip and sleeve".to_owned(),
        Extra::AheadOfTip => {
            "a resistance ahead of the tip: a poor contact, or a volume not quite full up".to_owned()
        }
    }
}

fn assumptions(studied: &JackStudied) -> Vec<String> {
    let mut lines = Vec::new();
    if studied.volume_not_said {
        lines.push("The volume was full up: for some readings nobody said so.".to_owned());
    }
    if studied.poor_meter {
        lines
            .push("A meter whose accuracy is not known is taken as a poor one: 3 % and 5 digits.".to_owned());
    }
    lines.push("Capacitors block the meter's current; a tone control is then no load.".to_owned());
    lines
}

fn values(studied: &JackStudied, fit: &Fitted) -> Table {
    let mut table =
        Table::with(&format!("With {}", wiring(&fit.wiring)), &["of it", "#value", "#as its limits go"]);
    table.rows = fit
        .values
        .iter()
        .map(|it| {
            let words = match &it.ohms {
                Ok(ohms) => show_expanded(*ohms),
                Err(why) => why.to_string(),
            };
            let limits = it
                .limits
                .map_or(String::new(), |[low, high]| format!("{} to {}", kilohms(low), kilohms(high)));
            vec![it.part.clone(), words, limits]
        })
        .collect();
    for (used, expected) in studied.used.iter().zip(&fit.expected) {
        let expected = expected.map_or("open".to_owned(), kilohms);
        let read = format!("entry {}, {}: read {}", used.seq, used.how, used.text);
        table.rows.push(vec![read, expected, String::new()]);
    }
    table
}

fn wirings(answer: &Answer) -> Table {
    let mut table = Table::with("Ways of wiring held against the readings", &["way", "verdict"]);
    for fit in &answer.fits {
        let mut way = wiring(&fit.wiring);
        if !fit.open.is_empty() {
            way = format!("{way}, {} open", and(&fit.open));
        }
        if !fit.shorted.is_empty() {
            way = format!("{way}, {} shorted", and(&fit.shorted));
        }
        if let Some(extra) = &fit.extra {
            way = format!("{way}, {}", extra_words(extra));
        }
        let row = vec![way, verdict(&fit.verdict)];
        if !table.rows.contains(&row) {
            table.rows.push(row);
        }
    }
    table
}

fn verdict(verdict: &Verdict) -> String {
    match verdict {
        Verdict::Agrees { .. } => "agrees".to_owned(),
        Verdict::NothingToTest => "agrees, and nothing tests it".to_owned(),
        Verdict::Doubtful { .. } => "does not agree well".to_owned(),
        Verdict::RuledOut { .. } => "ruled out".to_owned(),
        Verdict::CannotShow { reading } => format!("ruled out: reading {} could not be", reading + 1),
        Verdict::NotSettled => "no values suit it".to_owned(),
        Verdict::Unlikely { coil } => format!("only with the {coil} as good as open or shorted"),
    }
}

fn doubted(studied: &JackStudied, it: &Doubted) -> Table {
    let Used { seq, text: typed, how, .. } = &studied.used[it.reading];
    let caption = format!(
        "Entry {seq} ({how}, {typed}) disagrees with the rest, which say {}",
        show_expanded(it.expected)
    );
    let mut table = Table::with(&caption, &["if", "#it would read", "suits"]);
    table.rows = it
        .suspects
        .iter()
        .map(|suspect| {
            let reads = suspect.would_read.map_or("open".to_owned(), kilohms);
            let suits = if suspect.suits { "yes" } else { "no" };
            vec![fault(studied, &suspect.fault), reads, suits.to_owned()]
        })
        .collect();
    table
}

fn fault(studied: &JackStudied, fault: &Fault) -> String {
    match fault {
        Fault::CoilOut { coil } => format!("the {coil} is not connected there, or open"),
        Fault::CoilShorted { coil } => format!("the {coil}'s leads touch there"),
        Fault::VolumeAt { pot, share } => format!("the {pot} stood at {:.0} % of its ohms", share * 100.0),
        Fault::AsForReading { reading } => {
            format!("the switch stood or touched as for entry {}", studied.used[*reading].seq)
        }
        Fault::Extra { extra, ohms } => format!("{}, {}", extra_words(extra), kilohms(*ohms)),
        Fault::OutputShorted => "tip and sleeve touch: a shorted selector, or a volume shut".to_owned(),
    }
}

fn steps(studied: &JackStudied, answer: &Answer) -> Vec<Step> {
    let mut steps = Vec::new();
    if let Some(doubted) = answer.doubted.first() {
        let Used { seq, how, .. } = &studied.used[doubted.reading];
        steps.push(Step {
            id: format!("jack-reread-{seq}"),
            words: format!("Read entry {seq} again ({how}): it disagrees with the rest."),
            why: format!("The rest say {} there.", show_expanded(doubted.expected)),
            caution: UNPLUG.into(),
            ..Step::default()
        });
    }
    if let Some(apart) = answer.tells_apart.first() {
        steps.push(Step {
            id: "jack-apart".into(),
            words: format!("At the jack read {}.", proposed(studied, &apart.take)),
            why: format!(
                "With {} it shows {}, with {} {}.",
                wiring(&apart.one.0),
                kilohms(apart.one.1.value),
                wiring(&apart.other.0),
                kilohms(apart.other.1.value)
            ),
            caution: UNPLUG.into(),
            ..Step::default()
        });
    }
    if let Some(next) = answer.next.first() {
        steps.push(more(studied, next));
    }
    steps
}

fn more(studied: &JackStudied, next: &NextReading) -> Step {
    let [now, then] = next.worst_coil;
    Step {
        id: "jack-next".into(),
        words: format!(
            "At the jack read {}; about {} is expected.",
            proposed(studied, &next.take),
            kilohms(next.expected)
        ),
        why: format!(
            "It tells most of all readings at the plug: the coil known worst goes from {:.1} % to {:.1} %.",
            now * 100.0,
            then * 100.0
        ),
        caution: UNPLUG.into(),
        ..Step::default()
    }
}

fn proposed(studied: &JackStudied, proposed: &Proposed) -> String {
    match proposed {
        Proposed::Plain { on, knobs, .. } => {
            let coils: Vec<&str> =
                on.iter().filter_map(|coil| studied.coils.get(*coil)).map(String::as_str).collect();
            format!("{}, {}", and(&coils), knob_words(knobs, &studied.coils))
        }
        Proposed::Traced(probe) => probe_words(probe, studied),
    }
}

fn knob_words(knobs: &Knobs, coils: &[String]) -> String {
    let volume = |coil: &usize| match coils.get(*coil) {
        Some(name) if coils.len() > 1 => format!("the volume of the {name}"),
        _ => "the volume".to_owned(),
    };
    match knobs {
        Knobs::FullUp | Knobs::NotSaid => "volume full".to_owned(),
        Knobs::At { volume: coil, share } if *share == 0.0 => format!("{} shut", volume(coil)),
        Knobs::At { volume: coil, share } => {
            format!("{} at {:.0} % of its ohms", volume(coil), share * 100.0)
        }
        Knobs::Largest { volume: coil } => format!("{} turned until it shows most", volume(coil)),
    }
}

fn probe_words(probe: &Probe, studied: &JackStudied) -> String {
    let (switches, pots) = &studied.controls;
    let mut pieces: Vec<String> = switches
        .iter()
        .zip(&probe.setting.positions)
        .map(|((name, positions), at)| format!("{name} {}", positions.get(*at).map_or("?", String::as_str)))
        .collect();
    for (at, name) in pots.iter().enumerate() {
        let turned = probe.setting.wipers.get(at).copied().unwrap_or(1.0);
        if probe.largest == Some(at) {
            pieces.push(format!("{name} turned until it shows most"));
        } else if turned < 1.0 {
            pieces.push(format!("{name} at {:.0}", turned * 10.0));
        }
    }
    if pieces.is_empty() { "it again".to_owned() } else { pieces.join(", ") }
}

/// The table alone, before anything was read at the jack.
pub(crate) fn to_check(expected: &[ExpectedRow]) -> Told {
    Told {
        id: "jack-expected".into(),
        sentence: "What the jack should show of these coils is worked out.".into(),
        sure: "With one volume full up and coils side by side. A row that reads like its neighbour's means that the other coil is open.".into(),
        caution: UNPLUG.into(),
        tables: vec![should_show(expected)],
        ..Told::default()
    }
}

fn should_show(expected: &[ExpectedRow]) -> Table {
    let mut table = Table::with(
        "What the jack should show, by the coils' own readings",
        &["on", "#expected", "read", "agrees"],
    );
    table.rows = expected
        .iter()
        .map(|row| {
            let on = and(&row.on);
            let (read, agrees) = match &row.read {
                Some((seq, text, agrees)) => {
                    (format!("{text} (entry {seq})"), if *agrees { "yes" } else { "no: look at this one" })
                }
                None => ("not read yet".to_owned(), ""),
            };
            vec![on, kilohms(row.ohms), read, agrees.to_owned()]
        })
        .collect();
    table
}
