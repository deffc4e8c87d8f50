//! A selector with more contacts in place of the old one: laid out from what each position is to sound like.
//!
//! Each lead that has to go to different points in different positions gets a pole of its own, its throws wired to those
//! points. What comes out is written as a trace and tried like any other wiring.

use std::collections::BTreeMap;

use super::answer::{Doing, Sound};
use super::bench::Bench;
use super::wires::{Wires, is_lead, is_metal, wire};
use super::wish::{Place, Wish};
use super::written::PLANNED;
use crate::circuit::{Circuit, Sort, Terminal};
use crate::explain::CoilSigns;
use crate::polarity::{Joined, Phase};
use crate::solve::Prepared;
use crate::state::Changes;
use crate::trace::{Statement, Trace};

/// Poles that a selector is laid out with at most: a lever switch has up to four (common practice, no source), a rotary
/// one of two wafers more.
pub const MOST_POLES: usize = 6;

/// Where a lead goes in a position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum To {
    Out,
    Ground,
    Lead(Terminal),
    Nowhere,
}

/// What a position is to sound like.
struct Target {
    coils: Vec<usize>,
    joined: Option<Joined>,
    phase: Option<Phase>,
}

/// A new selector as it is laid out.
struct Layout<'a> {
    circuit: &'a Circuit,
    switch: usize,
    part: usize,
    name: String,
    positions: usize,
    out: Terminal,
    ground: Terminal,
    /// For each lead, where it must go in each position; none where it does not matter.
    leads: BTreeMap<Terminal, Vec<Option<To>>>,
}

/// The trace with a new selector, the thing done, and the old selector's name: one for each point that may be the output.
pub(super) fn layouts(
    found: &Trace,
    bench: &Bench,
    circuit: &Circuit,
    sounds: &[Sound],
    wishes: &[Wish],
) -> Vec<(Doing, String, String)> {
    let Some((switch, targets)) = targets(bench, sounds, wishes) else { return Vec::new() };
    let Some((part, _)) = circuit.switches().nth(switch) else { return Vec::new() };
    let wires = Wires::of(circuit.joins());
    let own = |end: &Terminal| end.part == part;
    let beside = wires.wires.iter().filter_map(|(a, b)| match (own(a), own(b)) {
        (true, false) => Some(*b),
        (false, true) => Some(*a),
        _ => None,
    });
    let beside: std::collections::BTreeSet<Terminal> = beside.collect();
    let outs = beside.iter().copied().filter(|&end| !is_lead(circuit, end) && !is_metal(circuit, end));
    outs.filter_map(|out| {
        let mut layout = Layout::new(circuit, switch, part, out, &wires, targets.len())?;
        layout.coils(&targets, bench.signs.first()?)?;
        let others: Vec<Terminal> = beside.iter().copied().filter(|&end| end != out).collect();
        layout.others(bench, &others);
        layout.written(found, &wires)
    })
    .collect()
}

/// The switch that wishes name, and what each of its positions is to sound like: as wished, else as found.
fn targets(bench: &Bench, sounds: &[Sound], wishes: &[Wish]) -> Option<(usize, Vec<Target>)> {
    let at = |wish: &Wish| match wish {
        Wish::Heard { place: Place::At { switch, position }, .. } => Some((*switch, *position)),
        _ => None,
    };
    let (switch, _) = wishes.iter().find_map(at)?;
    let (_, plan) = bench.circuit.switches().nth(switch)?;
    let targets = (0..plan.positions().len()).map(|position| {
        let wished = wishes.iter().find(|wish| at(wish) == Some((switch, position)));
        if let Some(Wish::Heard { coils, joined, phase, .. }) = wished {
            return Some(Target { coils: coils.clone(), joined: *joined, phase: *phase });
        }
        let sound = sounds.iter().find(|it| it.setting.positions.get(switch) == Some(&position))?;
        let plain = sound.coils.len() < 2 || sound.joined.is_some();
        plain.then(|| Target { coils: sound.coils.clone(), joined: sound.joined, phase: sound.phase })
    });
    Some((switch, targets.collect::<Option<Vec<Target>>>()?))
}

impl<'a> Layout<'a> {
    fn new(
        circuit: &'a Circuit,
        switch: usize,
        part: usize,
        out: Terminal,
        wires: &Wires,
        positions: usize,
    ) -> Option<Self> {
        let jack = circuit.jacks().next()?;
        let sleeve = Terminal { part: jack, lug: 1 };
        // Grounds meet where the sleeve's wire goes, mostly a pot; the sleeve itself is hard to reach.
        let ground = wires.at(sleeve).into_iter().find(|&end| !is_lead(circuit, end)).unwrap_or(sleeve);
        let mut name = "new-selector".to_owned();
        while circuit.part(&name).is_some() {
            name.push('x');
        }
        Some(Self { circuit, switch, part, name, positions, out, ground, leads: BTreeMap::new() })
    }

    /// Both leads of each coil, position after position.
    fn coils(&mut self, targets: &[Target], signs: &[CoilSigns]) -> Option<()> {
        let parts: Vec<usize> = self.circuit.coils().map(|(part, _)| part).collect();
        let mut leads: BTreeMap<Terminal, Vec<Option<To>>> = BTreeMap::new();
        for target in targets {
            let turned = turned(target, signs);
            let end = |coil: usize, upper: bool| {
                let lug = usize::from(upper == turned.contains(&coil));
                Terminal { part: parts[coil], lug }
            };
            let mut goes: BTreeMap<Terminal, To> = BTreeMap::new();
            for (at, &coil) in target.coils.iter().enumerate() {
                let series = target.joined == Some(Joined::Series);
                let next = target.coils.get(at + 1).filter(|_| series);
                let (upper, lower) = (end(coil, true), end(coil, false));
                if at == 0 || !series {
                    goes.insert(upper, To::Out);
                } else {
                    // The coil before is brought here.
                    goes.insert(upper, To::Nowhere);
                }
                goes.insert(lower, next.map_or(To::Ground, |&next| To::Lead(end(next, true))));
            }
            for &part in &parts {
                let (hot, ground) = (Terminal { part, lug: 0 }, Terminal { part, lug: 1 });
                let heard = goes.contains_key(&hot);
                leads.entry(hot).or_default().push(Some(goes.get(&hot).copied().unwrap_or(To::Nowhere)));
                let there = goes.get(&ground).copied();
                leads.entry(ground).or_default().push(if heard { there } else { None });
            }
        }
        self.leads = leads;
        Some(())
    }

    /// Whatever else hung on the old selector is joined to the output where it was as found.
    fn others(&mut self, bench: &Bench, ends: &[Terminal]) {
        let is_coil = |end: &Terminal| matches!(self.circuit.parts()[end.part].sort, Sort::Coil(_));
        for end in ends.iter().filter(|end| !is_coil(end)) {
            let goes = (0..self.positions).map(|position| {
                let setting =
                    bench.states.iter().find(|it| it.positions.get(self.switch) == Some(&position))?;
                let prepared = Prepared::new(&bench.wired, setting, bench.load, &Changes::default()).ok()?;
                Some(if prepared.nets().same(*end, self.out) { To::Out } else { To::Nowhere })
            });
            self.leads.insert(*end, goes.collect());
        }
    }

    /// Leads that need a pole, each with its letter.
    fn poles(&self) -> Vec<(Terminal, char)> {
        let differs = |goes: &Vec<Option<To>>| {
            let mut known = goes.iter().flatten();
            let first = known.next();
            known.any(|it| Some(it) != first)
        };
        let leads = self.leads.iter().filter(|(_, goes)| differs(goes)).map(|(lead, _)| *lead);
        leads.zip('a'..='z').collect()
    }

    fn written(&self, found: &Trace, wires: &Wires) -> Option<(Doing, String, String)> {
        let poles = self.poles();
        if poles.is_empty() || poles.len() > MOST_POLES {
            return None;
        }
        let mut joins: Vec<(String, String)> = Vec::new();
        let name = |end: Terminal| self.circuit.name_of(end);
        let lug = |pole: char, at: usize| format!("{}.{pole}{at}", self.name);
        let point = |to: To| match to {
            To::Out => Some(name(self.out)),
            To::Ground => Some(name(self.ground)),
            To::Lead(lead) => {
                let pole = poles.iter().find(|(known, _)| *known == lead);
                Some(pole.map_or_else(|| name(lead), |(_, letter)| lug(*letter, 0)))
            }
            To::Nowhere => None,
        };
        let mut kept = wires.clone();
        kept.wires.retain(|(a, b)| a.part != self.part && b.part != self.part);
        for (&lead, goes) in &self.leads {
            let pole = poles.iter().find(|(known, _)| *known == lead);
            let fixed = goes.iter().flatten().next().copied();
            let is_coil = matches!(self.circuit.parts()[lead.part].sort, Sort::Coil(_));
            // A ground lead that stays at ground is left alone.
            if pole.is_none() && (fixed == Some(To::Ground) && lead.lug == 1 || fixed.is_none()) {
                continue;
            }
            if is_coil {
                self.free(&mut kept, lead);
            }
            match pole {
                None => joins.extend(fixed.and_then(point).map(|to| (name(lead), to))),
                Some((_, letter)) => {
                    joins.push((name(lead), lug(*letter, 0)));
                    let mut first: BTreeMap<To, usize> = BTreeMap::new();
                    for (position, to) in goes.iter().enumerate() {
                        let Some(to) = *to else { continue };
                        let throw = position + 1;
                        match first.get(&to) {
                            Some(&before) => joins.push((lug(*letter, before), lug(*letter, throw))),
                            None => {
                                let Some(point) = point(to) else { continue };
                                joins.push((lug(*letter, throw), point));
                                first.insert(to, throw);
                            }
                        }
                    }
                }
            }
        }
        let doing = Doing::NewSelector { switch: self.switch, poles: poles.len(), positions: self.positions };
        let text = self.text(found, &kept, &joins, &poles);
        Some((doing, text, self.circuit.parts()[self.part].name.clone()))
    }

    /// Takes a coil's lead off; metal tied to it gets a wire of its own to ground.
    fn free(&self, wires: &mut Wires, lead: Terminal) {
        for other in wires.at(lead) {
            wires.wires.remove(&wire(lead, other));
            if is_metal(self.circuit, other) {
                wires.wires.insert(wire(other, self.ground));
            }
        }
    }

    fn text(
        &self,
        found: &Trace,
        kept: &Wires,
        joins: &[(String, String)],
        poles: &[(Terminal, char)],
    ) -> String {
        let mut text = String::new();
        let mut inside = false;
        for line in found.lines() {
            match &line.statement {
                Some(Statement::Join(_)) => continue,
                Some(Statement::Switch { name, .. }) => {
                    inside = name.eq_ignore_ascii_case(&self.circuit.parts()[self.part].name);
                    if inside {
                        text += &self.plan(poles);
                        continue;
                    }
                }
                Some(Statement::Lugs(_) | Statement::At { .. } | Statement::Between(_)) if inside => continue,
                Some(_) => inside = false,
                None => {}
            }
            text += &line.text;
            text.push('\n');
        }
        let known: Vec<&str> = found
            .lines()
            .iter()
            .filter(|line| matches!(line.statement, Some(Statement::Join(_))))
            .map(|line| line.text.as_str())
            .collect();
        for (a, b) in &kept.wires {
            let (a, b) = (self.circuit.name_of(*a), self.circuit.name_of(*b));
            let typed = known.iter().find(|line| joins_these(line, &a, &b));
            match typed {
                Some(line) => text += line,
                None => text += &format!("join {a} {b} {PLANNED}"),
            }
            text.push('\n');
        }
        for (a, b) in joins {
            text += &format!("join {a} {b} {PLANNED}\n");
        }
        text
    }

    fn plan(&self, poles: &[(Terminal, char)]) -> String {
        let Sort::Switch(plan) = &self.circuit.parts()[self.part].sort else { return String::new() };
        let mut text = format!("switch {}\n  lugs", self.name);
        for (_, letter) in poles {
            for at in 0..=self.positions {
                text += &format!(" {letter}{at}");
            }
        }
        for (at, position) in plan.positions().iter().enumerate() {
            text += &format!("\n  at {}:", position.name);
            for (_, letter) in poles {
                text += &format!(" {letter}0-{letter}{}", at + 1);
            }
        }
        text + "\n  between: unknown\n"
    }
}

/// Whether a typed line joins these two, one way or the other.
fn joins_these(line: &str, a: &str, b: &str) -> bool {
    let words: Vec<String> = line.split_whitespace().map(str::to_lowercase).collect();
    let is = |word: Option<&String>, name: &str| {
        let name = name.to_lowercase();
        word.is_some_and(|word| *word == name || format!("{word}.case") == name)
    };
    let (one, other) = (words.get(1), words.get(2));
    is(one, a) && is(other, b) || is(one, b) && is(other, a)
}

/// Coils whose leads change places, so that the strings add or fight as wished: those unlike the first.
fn turned(target: &Target, signs: &[CoilSigns]) -> Vec<usize> {
    let [first, rest @ ..] = target.coils.as_slice() else { return Vec::new() };
    let wanted = match target.phase {
        None => return Vec::new(),
        Some(phase) => phase == Phase::In,
    };
    let alike = |coil: usize| signs[coil].string_positive() == signs[*first].string_positive();
    rest.iter().copied().filter(|&coil| alike(coil) != wanted).collect()
}
