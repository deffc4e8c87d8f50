//! How switches and knobs stood while a probing was made: `lever 2, volume 0`, by their names in the trace.

use asfound_electric::{Circuit, Setting};

/// What was said of switches and knobs that cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotSet {
    /// What was read.
    pub read: String,
    /// What would be right.
    pub right: Vec<String>,
}

/// How everything stood, as far as it was said.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Set {
    /// For each switch its position; `None` where nothing was said.
    positions: Vec<Option<usize>>,
    /// For each knob its turn; full up where nothing was said.
    wipers: Vec<f64>,
}

impl Set {
    /// Every setting it may have been.
    pub(crate) fn settings<'a>(&'a self, circuit: &'a Circuit) -> impl Iterator<Item = Setting> + 'a {
        let fits = |setting: &Setting| {
            let said = setting.positions.iter().zip(&self.positions);
            said.into_iter().all(|(at, said)| said.is_none_or(|said| said == *at))
        };
        Setting::every_position(circuit)
            .filter(move |setting| fits(setting))
            .map(|setting| Setting { wipers: self.wipers.clone(), ..setting })
    }
}

/// Words that stand between a name and where it stood.
const BETWEEN: [&str; 4] = ["at", "position", "in", "on"];

/// Reads how everything stood. Words that name no switch and no knob are passed over.
pub(crate) fn read(circuit: &Circuit, text: &str) -> Result<Set, NotSet> {
    let mut set =
        Set { positions: vec![None; circuit.switches().count()], wipers: vec![1.0; circuit.pots().count()] };
    let words: Vec<String> = text
        .split(|sign: char| sign.is_whitespace() || ",;".contains(sign))
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let mut at = 0;
    while at < words.len() {
        at += one(circuit, &words[at..], &mut set)?.max(1);
    }
    Ok(set)
}

/// Whether the words at the front say how something stood, and how many words that is.
pub(crate) fn at_front(circuit: &Circuit, words: &[&str]) -> Result<usize, NotSet> {
    let mut set =
        Set { positions: vec![None; circuit.switches().count()], wipers: vec![1.0; circuit.pots().count()] };
    let words: Vec<String> = words.iter().map(|word| word.trim_matches([',', ';']).to_lowercase()).collect();
    one(circuit, &words, &mut set)
}

/// Reads one thing at the front and answers how many words it took; 0 where it names nothing.
fn one(circuit: &Circuit, words: &[String], set: &mut Set) -> Result<usize, NotSet> {
    let Some(name) = words.first() else { return Ok(0) };
    let between = usize::from(words.get(1).is_some_and(|word| BETWEEN.contains(&word.as_str())));
    let value = words.get(1 + between).map(String::as_str).unwrap_or_default();
    let wrong = |right: Vec<String>| NotSet { read: format!("{name} {value}").trim_end().to_owned(), right };
    let called = |part: usize| circuit.parts()[part].name.eq_ignore_ascii_case(name);
    let switches: Vec<_> = circuit.switches().collect();
    let any_switch =
        switches.len() == 1 && ["selector", "lever", "switch", "position"].contains(&name.as_str());
    if let Some(which) = switches.iter().position(|(part, _)| called(*part) || any_switch) {
        let plan = switches[which].1;
        let positions = plan.positions().iter();
        let right = || positions.take(3).map(|position| format!("{name} {}", position.name)).collect();
        set.positions[which] = Some(plan.position(value).ok_or_else(|| wrong(right()))?);
        return Ok(2 + between);
    }
    let pots: Vec<usize> = circuit.pots().map(|(part, _)| part).collect();
    let all = ["knobs", "all"].contains(&name.as_str());
    if let Some(which) = pots.iter().position(|&part| called(part)).or(all.then_some(0)) {
        if all && words.get(1).is_some_and(|word| word == "knobs") {
            return Ok(1 + one(circuit, &words[1..], set)?);
        }
        let right = ["full", "half", "0"].map(|turn| format!("{name} {turn}"));
        let turn = crate::settings::turn(value).ok_or_else(|| wrong(right.into()))?;
        let which = if all { 0..pots.len() } else { which..which + 1 };
        set.wipers.get_mut(which).into_iter().flatten().for_each(|wiper| *wiper = turn);
        return Ok(2 + between);
    }
    Ok(0)
}

/// Switches and knobs in words that [`read`] takes: what is full up with the rest is said once.
pub(super) fn words(circuit: &Circuit, setting: &Setting) -> (String, String) {
    let name = |part: usize| circuit.parts()[part].name.as_str();
    let switches = circuit.switches().zip(&setting.positions);
    let switches: Vec<String> =
        switches.map(|((part, plan), &at)| format!("{} {}", name(part), plan.positions()[at].name)).collect();
    let turn = |turn: f64| match turn {
        1.0 => "full".to_owned(),
        0.5 => "half".to_owned(),
        _ => format!("{}", turn * 10.0),
    };
    let pots: Vec<usize> = circuit.pots().map(|(part, _)| part).collect();
    let knobs = match setting.wipers.as_slice() {
        [] => Vec::new(),
        [first, rest @ ..] if !rest.is_empty() && rest.iter().all(|wiper| wiper == first) => {
            vec![format!("all knobs {}", turn(*first))]
        }
        wipers => {
            pots.iter().zip(wipers).map(|(&part, &at)| format!("{} {}", name(part), turn(at))).collect()
        }
    };
    (switches.join(", "), knobs.join(", "))
}
