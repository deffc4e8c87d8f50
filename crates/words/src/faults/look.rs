//! The next look, and what each outcome would mean.

use asfound_measure::{Ohms, engineering};
use asfound_study::faults::{
    Answer, Look, NextLook, OnTouch, Reach, Reading, Setting, Shows, Sounds, Touched, Weighed,
};

use super::named;
use crate::lists::capital;
use crate::sheet::{Step, Table};
use crate::wiring::names;

/// The look as a step.
pub(super) fn step(weighed: &Weighed, answer: &Answer, next: &NextLook) -> Step {
    let id = match &next.look {
        Look::Meter(probed) => {
            format!("fault-{}-{}", weighed.lug(probed.from), weighed.lug(probed.to)).to_lowercase()
        }
        Look::Listen { .. } => "fault-listen".to_owned(),
        Look::Tap { .. } => "fault-tap".to_owned(),
        Look::Touch(_) => "fault-touch".to_owned(),
    };
    let caution = match next.look {
        Look::Meter(_) => "Unplug from any amplifier before metering.",
        Look::Touch(_) => {
            "Only with the protective earth proved. At any tingle let go, pull the mains plug, and call a licensed technician."
        }
        Look::Listen { .. } | Look::Tap { .. } => "",
    };
    let outcomes = grouped(weighed, answer, next);
    let told: Vec<String> = outcomes
        .iter()
        .take(2)
        .map(|(shows, all)| {
            format!("{}: {}.", capital(shows), all.iter().take(2).cloned().collect::<Vec<_>>().join("; "))
        })
        .collect();
    let why = if told.is_empty() { "It tells most for its trouble.".to_owned() } else { told.join(" ") };
    Step {
        id,
        words: format!("{}.", doing(weighed, &next.look)),
        why,
        caution: caution.into(),
        ..Step::default()
    }
}

/// A suspicion below this share is not among those that lead.
const LEADS_FROM: f64 = 0.005;

/// Whether the look shows something else for the first than for another that leads.
pub(super) fn parts_the_leaders(answer: &Answer, next: &NextLook) -> bool {
    let shown =
        |at: usize| next.shows.iter().find(|(place, _)| *place == at).map(|(_, shows)| outcome(shows));
    let first = shown(0);
    let leads = |at: &usize| answer.ranked[*at].probability.value() >= LEADS_FROM;
    first.is_some()
        && (1..answer.ranked.len()).filter(leads).any(|at| shown(at).is_some_and(|it| Some(it) != first))
}

/// Where no look within reach tells the leaders apart: the guard off first, else the check that proves the leader.
pub(super) fn confirm(weighed: &Weighed, answer: &Answer, alike: usize) -> Option<Step> {
    if weighed.reach == Reach::JackOnly && alike > 1 {
        return Some(Step {
            id: "fault-open".into(),
            words: "Photograph the works and lift the guard; then say “did guard: lifted”.".into(),
            why: "With every lug within reach the meter tells apart what looks alike from the plug.".into(),
            ..Step::default()
        });
    }
    let fault = answer.ranked.first()?.faults.first()?;
    Some(Step {
        id: "fault-confirm".into(),
        words: format!("Look whether it is so: {}.", named::confirmed(weighed, fault)),
        why: format!("It proves or rules out that {}.", named::fault(weighed, fault, None)),
        caution: "Unplug from any amplifier before metering.".into(),
        ..Step::default()
    })
}

/// What to do, without a full stop.
pub(super) fn doing(weighed: &Weighed, look: &Look) -> String {
    match look {
        Look::Meter(probed) => format!(
            "Meter from {} to {}{}",
            weighed.lug(probed.from),
            weighed.lug(probed.to),
            stood(weighed, &probed.setting, true)
        ),
        Look::Listen { setting } => format!("Listen{}", stood(weighed, setting, false)),
        Look::Tap { coil, setting } => {
            let stood = stood(weighed, setting, true);
            format!("Tap {} with a screwdriver{stood}, and listen", coil_name(weighed, *coil))
        }
        Look::Touch(Touched::Strings) => "Touch the strings and listen to the hum".to_owned(),
        Look::Touch(Touched::Sleeve) => "Touch the plug's sleeve and listen to the hum".to_owned(),
        Look::Touch(Touched::Cover(coil)) => {
            format!("Touch the cover of {} and listen to the hum", coil_name(weighed, *coil))
        }
    }
}

fn coil_name(weighed: &Weighed, part: usize) -> String {
    let name = weighed.circuit.parts().get(part).map(|part| part.name.clone()).unwrap_or_default();
    format!("the {}", names::coil_named(&name))
}

/// How switches and knobs stand: `, lever 2, volume at 0`; knobs that are full up go without saying, and for a meter or a
/// tap those that only lead to a capacitor.
fn stood(weighed: &Weighed, setting: &Setting, by_meter: bool) -> String {
    let explanation = &weighed.explained.explanation;
    let switches = explanation.switches.iter().zip(&setting.positions);
    let mut told: Vec<String> = switches
        .filter_map(|(switch, &at)| Some(format!("{} {}", switch.name, switch.positions.get(at)?)))
        .collect();
    for (knob, ((pot, wiper), open)) in
        explanation.pots.iter().zip(&setting.wipers).zip(weighed.open_ends()).enumerate()
    {
        let turn = if open > 0.5 { *wiper } else { 1.0 - wiper };
        if turn < 1.0 && !(by_meter && weighed.ends_in_capacitor(knob)) {
            told.push(format!("{} at {:.0}", names::said(pot), 10.0 * turn));
        }
    }
    told.iter().map(|it| format!(", {it}")).collect()
}

/// Looks in the order of what they tell for their trouble.
pub(super) fn all(weighed: &Weighed, answer: &Answer) -> Table {
    let mut table = Table::with("Looks that tell most for their trouble", &["look", "minutes"]);
    let rows = answer.next.iter().take(MOST_LOOKS);
    table.rows =
        rows.map(|next| vec![doing(weighed, &next.look), format!("{:.0}", next.minutes.max(1.0))]).collect();
    table
}

/// Suspicions named for one outcome.
const MOST_NAMED: usize = 4;

/// Looks that are told.
const MOST_LOOKS: usize = 4;

/// What each outcome would mean.
pub(super) fn outcomes(weighed: &Weighed, answer: &Answer, next: &NextLook) -> Table {
    let mut table =
        Table::with(&format!("What “{}” would show", doing(weighed, &next.look)), &["it shows", "where"]);
    table.rows = grouped(weighed, answer, next)
        .into_iter()
        .map(|(shows, mut named)| {
            let more = named.len().saturating_sub(MOST_NAMED);
            named.truncate(MOST_NAMED);
            named.extend((more > 0).then(|| format!("{more} that are less likely")));
            vec![shows, capital(&named.join("; "))]
        })
        .collect();
    table
}

/// Outcomes with the suspicions that each speaks for, in the order of those.
fn grouped(weighed: &Weighed, answer: &Answer, next: &NextLook) -> Vec<(String, Vec<String>)> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (at, shows) in &next.shows {
        let Some(suspicion) = answer.ranked.get(*at) else { continue };
        let (shown, named) = (outcome(shows), named::suspicion(weighed, suspicion));
        match groups.iter_mut().find(|(known, _)| *known == shown) {
            Some((_, all)) => all.push(named),
            None => groups.push((shown, vec![named])),
        }
    }
    groups
}

fn outcome(shows: &Shows) -> String {
    match shows {
        Shows::Meter(Reading::Ohms(ohms)) => format!("about {}", engineering(ohms.0, 3, Ohms::SYMBOL)),
        Shows::Meter(Reading::Open) => "over range".to_owned(),
        Shows::Meter(Reading::Shorted) => "0 Ω".to_owned(),
        Shows::Sound(Sounds::Normal) => "as it should sound".to_owned(),
        Shows::Sound(Sounds::Thin) => "thin".to_owned(),
        Shows::Sound(Sounds::Dark) => "dark".to_owned(),
        Shows::Sound(Sounds::Weak) => "weak".to_owned(),
        Shows::Sound(Sounds::Silent) => "silent".to_owned(),
        Shows::Tapped(true) => "the tap is heard".to_owned(),
        Shows::Tapped(false) => "the tap is not heard".to_owned(),
        Shows::Hum(OnTouch::Better) => "the hum gets less".to_owned(),
        Shows::Hum(OnTouch::Worse) => "the hum gets more".to_owned(),
        Shows::Hum(OnTouch::NoChange) => "the hum stays".to_owned(),
    }
}
