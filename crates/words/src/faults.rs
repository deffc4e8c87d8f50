//! What is at fault, in words: what is most likely, what speaks for it, and the look that separates the leaders.

mod kept;
mod look;
mod named;

use asfound_study::faults::{
    About, Answer, Caution, Contradiction, FaultError, FaultsStudied, FaultsTold, Heard, Reach, Shows, Side,
    Strength, Suspicion, Weighed, study,
};
use asfound_study::material::Material;

use crate::lists::{and, capital};
use crate::sheet::{Rest, Sheet, Step, Table, Told};

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let studied = study(material);
    let mut sheet = Sheet { found: kept::found(material, &studied), ..Sheet::default() };
    match &studied.told {
        FaultsTold::NothingTraced => sheet.means.push(nothing_traced(&studied)),
        FaultsTold::TraceNotYet => sheet.means.push(not_yet(&studied)),
        FaultsTold::NothingToWeigh(weighed) => {
            sheet.means.extend(never_both(&studied, weighed));
            if sheet.means.is_empty() {
                sheet.means.push(nothing_to_weigh());
            }
            sheet.means.extend(kept::unplaced(weighed));
            sheet.means.extend(kept::left(&studied, weighed));
        }
        FaultsTold::Weighed(weighed) => {
            sheet.cautions.extend(caution(weighed));
            sheet.means.extend(never_both(&studied, weighed));
            match weighed.answer.as_ref() {
                Some(Ok(answer)) => told_of(&mut sheet, weighed, answer),
                Some(Err(error)) => sheet.means.push(cannot(weighed, error)),
                None => {}
            }
            sheet.means.extend(kept::unplaced(weighed));
            sheet.means.extend(kept::left(&studied, weighed));
        }
    }
    sheet
}

/// What comes before a touch; what comes before metering stands with the step.
fn caution(weighed: &Weighed) -> Option<String> {
    let Some(Ok(answer)) = &weighed.answer else { return None };
    let touch = [Caution::ProveProtectiveEarth, Caution::StopAtAnyTingle];
    let first = "No touch test before the protective earth of the amplifier and of its socket is proved. At any tingle let go, pull the mains plug, and call a licensed technician.";
    answer.cautions.iter().any(|caution| touch.contains(caution)).then(|| first.to_owned())
}

fn nothing_traced(studied: &FaultsStudied) -> Told {
    let next = Step {
        id: "fault-trace".into(),
        words: "Trace the circuit on page Wiring, line by line.".into(),
        why: "Then every fault that can be in it is weighed against what was heard and metered.".into(),
        ..Step::default()
    };
    let sure = if studied.complaints.is_empty() {
        "Say what is heard meanwhile, such as “heard position 2 thin”; it is kept."
    } else {
        "What is heard is kept; what touches, pairs of coils and the plug say by themselves stands on page Readings."
    };
    Told {
        id: "fault".into(),
        sentence: "No circuit is traced yet, so no fault can be weighed.".into(),
        sure: sure.into(),
        next: vec![next],
        rests_on: kept::rests(studied),
        tables: kept::heard(studied).into_iter().collect(),
        ..Told::default()
    }
}

fn not_yet(studied: &FaultsStudied) -> Told {
    Told {
        id: "fault".into(),
        sentence: "The trace does not fit together yet, so no fault can be weighed.".into(),
        sure: "Page Wiring names the line and what would be right.".into(),
        rests_on: kept::rests(studied),
        tables: kept::heard(studied).into_iter().collect(),
        ..Told::default()
    }
}

fn nothing_to_weigh() -> Told {
    let next = Step {
        id: "fault-say".into(),
        words: "Say what is heard: “heard position 2 thin”, “heard tone at zero kills it”.".into(),
        why: "A reading between two lugs or at the jack speaks too, and more plainly.".into(),
        ..Step::default()
    };
    Told {
        id: "fault".into(),
        sentence: "Nothing was heard or metered yet that this circuit could be held against.".into(),
        sure: "So nothing speaks for a fault.".into(),
        next: vec![next],
        ..Told::default()
    }
}

/// Nobody broke what was never there.
fn never_both(studied: &FaultsStudied, weighed: &Weighed) -> Option<Told> {
    let complaint = studied.complaints.get(weighed.never_both?)?;
    Some(Told {
        id: "design-never-both".into(),
        sentence: "As traced no position gives both coils: it is the design, not a fault.".into(),
        sure: "Certain as traced. Do not repair it: early circuits of two coils are often so, and the arrangement may help to date the piece.".into(),
        would_change: vec![
            "A lead that was cut or moved before the trace; look for old solder on a free lug.".into(),
        ],
        rests_on: vec![Rest::on(complaint.seq)],
        ..Told::default()
    })
}

/// A question that cannot be answered: what is wrong with it, and what would be right.
fn cannot(weighed: &Weighed, error: &FaultError) -> Told {
    let about = match error {
        FaultError::NoSuchLug { reading, .. } | FaultError::Shown { reading, .. } => {
            weighed.source(About::Metered(reading.saturating_sub(1)))
        }
        FaultError::Setting { about, .. }
        | FaultError::NotThatSort { about, .. }
        | FaultError::NoCover { about, .. } => weighed.source(*about),
        _ => None,
    };
    let place = about.map_or(String::new(), |(seq, text)| format!("Entry {seq}, “{text}”: "));
    Told {
        id: "fault".into(),
        sentence: "The faults cannot be weighed yet.".into(),
        sure: capital(&format!("{place}{}.", error.to_string().trim_end_matches('.'))),
        rests_on: kept::evidence(weighed),
        ..Told::default()
    }
}

fn told_of(sheet: &mut Sheet, weighed: &Weighed, answer: &Answer) {
    sheet.means.extend(leading(weighed, answer));
    let mut told: Vec<Told> = Vec::new();
    for (at, contradiction) in answer.contradictions.iter().enumerate() {
        let one = contradicted(weighed, contradiction, at);
        // One clause may be several pieces of evidence, a position each.
        told.extend(one.filter(|one| told.iter().all(|known| known.sentence != one.sentence)));
    }
    sheet.means.extend(told);
}

/// Suspicions that are told in the table.
const MOST_TOLD: usize = 8;

/// The finding: what leads, how sure, and the look that separates the leaders.
fn leading(weighed: &Weighed, answer: &Answer) -> Option<Told> {
    let first = answer.ranked.first()?;
    let class = class_of(answer);
    let share: f64 = class.iter().map(|&at| answer.ranked[at].probability.value()).sum();
    // A look that shows the same for all that lead tells nothing that is asked now.
    let parting = answer.next.iter().find(|next| look::parts_the_leaders(answer, next));
    let next = match parting {
        Some(next) => Some(look::step(weighed, answer, next)),
        None => look::confirm(weighed, answer, class.len()),
    };
    let mut told = Told {
        id: "fault".into(),
        sentence: sentence(weighed, answer, &class, share),
        sure: sure(answer, &class, share),
        next: next.into_iter().collect(),
        rests_on: kept::evidence(weighed),
        working: working(weighed, answer),
        assumptions: assumptions(weighed, answer),
        ..Told::default()
    };
    if first.is_design() {
        told.would_change.push(
            "Where page Wiring knows the arrangement as a historic one, leave it as it is: nothing is to be repaired."
                .into(),
        );
    }
    told.tables.push(suspicions(weighed, answer));
    told.tables.extend(parting.map(|next| look::outcomes(weighed, answer, next)));
    told.tables.push(look::all(weighed, answer));
    told.tables.push(cures(weighed, first));
    told.tables.push(kept::weighed(weighed));
    told.tables.retain(|table| !table.rows.is_empty());
    Some(told)
}

/// The first suspicion and those that no look within reach tells from it, in their order.
fn class_of(answer: &Answer) -> Vec<usize> {
    let first = &answer.ranked[0];
    let mut class: Vec<usize> =
        (0..answer.ranked.len()).filter(|&at| at == 0 || alike(answer, 0, at)).collect();
    // One that is far less probable is no rival, though no meter tells it apart.
    class.retain(|&at| answer.ranked[at].probability.value() > first.probability.value() / RIVAL);
    class
}

/// How many times less probable than the first a rival may be.
const RIVAL: f64 = 3.0;

/// Whether neither a probing nor a look that is offered tells one from the other.
fn alike(answer: &Answer, one: usize, other: usize) -> bool {
    let shown =
        |shows: &[(usize, Shows)], at: usize| shows.iter().find(|(of, _)| *of == at).map(|(_, shows)| *shows);
    answer.ranked[one].not_told_from.contains(&other)
        && answer.next.iter().all(|next| {
            let (a, b) = (shown(&next.shows, one), shown(&next.shows, other));
            a.is_none() || b.is_none() || a == b
        })
}

/// Suspicions named in one sentence before nobody reads on.
const MOST_NAMED: usize = 3;

fn sentence(weighed: &Weighed, answer: &Answer, class: &[usize], share: f64) -> String {
    if answer.not_listed.value() > EVEN {
        return "What is heard and metered fits no fault that is weighed here.".to_owned();
    }
    if class.len() == 1 && answer.ranked[0].is_design() && (share >= EVEN || far_ahead(answer)) {
        return "Most likely nothing is broken: what is heard and metered is how it is wired.".to_owned();
    }
    if share < EVEN {
        let leaders = answer.ranked.iter().take(MOST_NAMED);
        let named: Vec<String> = leaders.map(|it| named::suspicion(weighed, it)).collect();
        return match named.as_slice() {
            [first, rest @ ..] if far_ahead(answer) && !rest.is_empty() => {
                format!("Not decided, but first by far comes that {first}; then: {}.", rest.join("; "))
            }
            all => format!("Not decided; the likeliest first: {}.", all.join("; ")),
        };
    }
    let named: Vec<String> =
        class.iter().take(MOST_NAMED).map(|&at| named::suspicion(weighed, &answer.ranked[at])).collect();
    match (named.as_slice(), class.len() - named.len()) {
        ([one], _) => format!("Most likely {one}."),
        (several, 0) => format!("Most likely one of these: {}.", several.join("; ")),
        (several, more) => format!(
            "Most likely one of these: {}; or one of {more} more that look alike.",
            several.join("; ")
        ),
    }
}

/// Whether the first suspicion is far more probable than any other.
fn far_ahead(answer: &Answer) -> bool {
    let [first, second, ..] = answer.ranked.as_slice() else { return true };
    first.probability.value() > AHEAD * second.probability.value()
}

/// So many times as probable as the second, the first is far ahead.
const AHEAD: f64 = 2.0;

/// A leader below this is none.
const EVEN: f64 = 0.5;

fn sure(answer: &Answer, class: &[usize], share: f64) -> String {
    if answer.not_listed.value() > EVEN {
        return "Something was misread or misheard, or the trace is not what is there; what does not go with the rest is named below.".to_owned();
    }
    let word = match share {
        share if share >= 0.95 => "Very likely",
        share if share >= 0.8 => "Likely",
        share if share >= EVEN => "More likely than not",
        _ => "Open",
    };
    if share < EVEN && class.len() == 1 && answer.ranked[0].is_design() && far_ahead(answer) {
        return format!(
            "Nothing speaks for a fault: {}, the rest spread thin over faults that would not show.",
            in_100(share)
        );
    }
    let apart = if class.len() > 1 { " Nothing within reach tells these apart." } else { "" };
    let weighed = if answer.pairs > 0 {
        format!("{} single faults and {} pairs", answer.singles, answer.pairs)
    } else {
        format!("{} single faults", answer.singles)
    };
    format!("{word}: {}, weighed beside {weighed}, if the trace is right.{apart}", in_100(share))
}

/// `94 in 100`; never nothing and never all.
fn in_100(share: f64) -> String {
    match share {
        share if share > 0.995 => "over 99 in 100".to_owned(),
        share if share < 0.005 => "under 1 in 100".to_owned(),
        share => format!("{:.0} in 100", 100.0 * share),
    }
}

/// Suspicions that are worth a row: their places in the answer.
fn worth_a_row(answer: &Answer) -> Vec<usize> {
    let shown = |at: &usize| *at == 0 || answer.ranked[*at].probability.value() >= 0.005;
    (0..answer.ranked.len()).filter(shown).take(MOST_TOLD).collect()
}

fn suspicions(weighed: &Weighed, answer: &Answer) -> Table {
    let columns = ["row", "what", "how likely", "what speaks for it, and against", "not told from row"];
    let mut table = Table::with("What may be behind it", &columns);
    let rows = worth_a_row(answer);
    for (row, &at) in rows.iter().enumerate() {
        let it = &answer.ranked[at];
        let others = rows.iter().enumerate().filter(|(_, other)| **other != at && alike(answer, at, **other));
        let others: Vec<String> = others.map(|(row, _)| (row + 1).to_string()).collect();
        table.rows.push(vec![
            (row + 1).to_string(),
            capital(&named::suspicion(weighed, it)),
            in_100(it.probability.value()),
            for_and_against(weighed, it),
            others.join(", "),
        ]);
    }
    let mut last =
        vec![String::new(), "Something that is not in the list".into(), in_100(answer.not_listed.value())];
    last.resize(columns.len(), String::new());
    table.rows.push(last);
    table
}

fn for_and_against(weighed: &Weighed, suspicion: &Suspicion) -> String {
    let for_it = speaks(weighed, suspicion, Side::This);
    match speaks(weighed, suspicion, Side::Alternative) {
        against if against.is_empty() => for_it,
        against if for_it.is_empty() => format!("against: {against}"),
        against => format!("{for_it}; against: {against}"),
    }
}

/// Evidence on one side, the strongest first, each piece once.
fn speaks(weighed: &Weighed, suspicion: &Suspicion, side: Side) -> String {
    let mut told: Vec<(&str, Strength)> = Vec::new();
    for it in suspicion.speaks.iter().filter(|it| it.side == side && it.strength > Strength::None) {
        let Some((_, text)) = weighed.source(it.about) else { continue };
        if !told.iter().any(|(known, _)| *known == text) {
            told.push((text, it.strength));
        }
    }
    let one = |(text, strength): &(&str, Strength)| format!("“{text}”, {}", strength_word(*strength));
    told.iter().take(3).map(one).collect::<Vec<_>>().join("; ")
}

fn strength_word(strength: Strength) -> &'static str {
    match strength {
        Strength::None => "no support",
        Strength::Weak => "weakly",
        Strength::Moderate => "moderately",
        Strength::ModeratelyStrong => "moderately strongly",
        Strength::Strong => "strongly",
        Strength::VeryStrong => "very strongly",
        Strength::ExtremelyStrong => "extremely strongly",
    }
}

fn cures(weighed: &Weighed, first: &Suspicion) -> Table {
    let mut table = Table::with(
        "How to confirm it, and what to do then (common practice, no source)",
        &["what", "it is so if", "then"],
    );
    table.rows = first
        .faults
        .iter()
        .map(|fault| {
            let named = capital(&named::fault(weighed, fault, None));
            vec![named, named::confirmed(weighed, fault), named::cure(weighed, fault)]
        })
        .collect();
    table
}

fn working(weighed: &Weighed, answer: &Answer) -> Vec<String> {
    let mut lines = vec![
        "Each fault is put into the traced network, which then says what a meter would read at direct current and how loud and bright each position would be. How well that agrees with what was found weighs the fault (Bayes 1763; words of strength after ENFSI 2015)."
            .to_owned(),
    ];
    let silences = weighed.heard.iter().filter(|it| matches!(it.heard, Heard::KnobSilences { .. })).count();
    if answer.ranked.first().is_some_and(Suspicion::is_design)
        && silences > 0
        && weighed.volumes_are_coupled()
    {
        lines.push("Each volume has its coil at an outer lug and its wiper towards the output, so at zero it puts the common point on ground and silences all. With the coil's lead and the output's exchanged on each pot, one shut leaves the other; the price is that a pot turned down shorts its own coil and costs treble.".to_owned());
    }
    if answer.pairs_left_out > 0 {
        lines.push(format!(
            "{} pairs of faults, the least probable beforehand, were left out.",
            answer.pairs_left_out
        ));
    }
    lines
}

fn assumptions(weighed: &Weighed, answer: &Answer) -> Vec<String> {
    let mut lines = vec![
        "How common each fault is beforehand (common practice, no source): broken coils, string grounds and joints come before strands and stuck contacts.".to_owned(),
        "Tracks within 20 % of their value, coils as traced, cable and amplifier sound.".to_owned(),
        "Not weighed: strings, magnets, the amplifier, more than two faults at once.".to_owned(),
    ];
    if weighed.reach == Reach::JackOnly {
        lines.push("The guard is taken to be closed: only the plug is within reach.".to_owned());
    }
    if weighed.coated.is_none() {
        lines.push("Whether the cavity is painted or lined with foil was not said; say “cavity painted with conductive paint” or “cavity not painted”.".to_owned());
    }
    if !answer.taken_in_phase.is_empty() {
        let coils: Vec<String> = answer
            .taken_in_phase
            .iter()
            .filter_map(|&part| weighed.circuit.parts().get(part))
            .map(|part| part.name.clone())
            .collect();
        lines.push(format!("The signs of {} are not known; they are taken to work together.", and(&coils)));
    }
    lines
}

fn contradicted(weighed: &Weighed, contradiction: &Contradiction, at: usize) -> Option<Told> {
    let (sentence, sure, seqs) = match contradiction {
        Contradiction::ReadTwice { first, second } => {
            let (one, first) = weighed.source(About::Metered(*first))?;
            let (other, second) = weighed.source(About::Metered(*second))?;
            (
                format!("Entry {one} (“{first}”) and entry {other} (“{second}”) contradict each other."),
                "One circuit cannot give both. Read it again, and correct the entry that is wrong.",
                vec![one, other],
            )
        }
        Contradiction::NotExplained { about } => {
            let (seq, text) = weighed.source(*about)?;
            let sure = match about {
                About::Metered(_) => {
                    "It is taken as misread. Read it again; if it stays, look at the trace around it."
                }
                About::Heard(_) => {
                    "It is taken as misheard. Listen again; if it stays, look at the trace around it."
                }
            };
            (format!("Entry {seq} (“{text}”) does not go with the rest."), sure, vec![seq])
        }
    };
    Some(Told {
        id: format!("against-{at}"),
        sentence,
        sure: sure.into(),
        rests_on: Rest::on_all(seqs),
        ..Told::default()
    })
}
