//! Whether the lines of a trace fit together: names, switches that are written out, and the ends of joins.

use std::collections::{BTreeMap, BTreeSet};

use super::build::plan_named;
use super::fault::{FAULTS_TOLD, Fault, Gathered, nearest};
use super::parse::OPENING_WORDS;
use super::question::column_of;
use super::statement::{End, JoinLine, Place, Statement};
use super::words::Words;
use super::{TraceLine, key};

/// A part as the joins see it.
struct Part {
    name: String,
    line: usize,
    terminals: Vec<String>,
}

/// Checks all lines against each other. `unread` are the lines that already have a fault: what they name is taken as
/// there, so that one slip is told once.
pub(super) fn lines(lines: &[TraceLine], unread: &[usize], faults: &mut Gathered) {
    let mut parts = BTreeMap::new();
    let mut excused = BTreeSet::new();
    for &line in unread {
        if let Some(name) = named_in(&lines[line - 1].text) {
            excused.insert(key(&name));
        }
    }
    let mut found = Vec::new();
    declare(lines, unread, &mut parts, &mut excused, &mut found);
    let declared = found.len();
    for (index, line) in lines.iter().enumerate() {
        if let Some(Statement::Join(join)) = &line.statement {
            // Only the first faults are told, so only they need the nearest name, which costs the most.
            let told = found.len() - declared < FAULTS_TOLD;
            ends(index + 1, &line.text, join, &parts, &excused, told, &mut found);
        }
    }
    for (line, column, fault) in found {
        faults.at(line, column, fault);
    }
}

type Found = Vec<(usize, usize, Fault)>;

/// The name in a line that begins with the word of a part.
fn named_in(text: &str) -> Option<String> {
    let mut words = Words::of(1, text);
    let opening = words.next()?.text.to_ascii_lowercase();
    let near = nearest(&opening, OPENING_WORDS.iter().copied())?;
    if near == "join" { None } else { words.next().map(|word| word.text.to_owned()) }
}

fn declare(
    lines: &[TraceLine],
    unread: &[usize],
    parts: &mut BTreeMap<String, Part>,
    excused: &mut BTreeSet<String>,
    found: &mut Found,
) {
    let mut written_out: Option<WrittenOut> = None;
    for (index, TraceLine { text, statement }) in lines.iter().enumerate() {
        let line = index + 1;
        let Some(statement) = statement else {
            // A line with a fault may be a position of the switch above; then nothing is missing there.
            if unread.contains(&line)
                && let Some(switch) = &mut written_out
            {
                switch.doubtful = true;
            }
            continue;
        };
        match statement {
            Statement::Lugs(_) | Statement::At { .. } | Statement::Between(_) => {
                let Some(switch) = &mut written_out else {
                    let read = match statement {
                        Statement::Lugs(_) => "lugs",
                        Statement::At { .. } => "at",
                        _ => "between",
                    };
                    found.push((line, 1, Fault::OutsideSwitch { read }));
                    continue;
                };
                switch.take(line, text, statement, found);
            }
            _ => {
                if let Some(switch) = written_out.take() {
                    switch.finish(parts, excused, found);
                }
                let Some((_, name)) = statement.part() else { continue };
                if let Some(first) = parts.get(&key(name)) {
                    let fault = Fault::NameTaken { name: name.to_owned(), first_line: first.line };
                    found.push((line, column_of_second(text), fault));
                    continue;
                }
                match statement {
                    Statement::Switch { plan: None, name } => {
                        written_out = Some(WrittenOut::new(line, name));
                        // Its terminals follow with `lugs`; the name is taken from here on.
                        parts.insert(key(name), Part { name: name.clone(), line, terminals: Vec::new() });
                    }
                    Statement::Switch { plan: Some(plan), name } => match plan_named(plan) {
                        Ok(_) => {
                            let terminals = statement.terminals();
                            parts.insert(key(name), Part { name: name.clone(), line, terminals });
                        }
                        Err(fault) => {
                            found.push((line, column_of(text, plan), fault));
                            excused.insert(key(name));
                        }
                    },
                    _ => {
                        let terminals = statement.terminals();
                        parts.insert(key(name), Part { name: name.to_owned(), line, terminals });
                    }
                }
            }
        }
    }
    if let Some(switch) = written_out.take() {
        switch.finish(parts, excused, found);
    }
}

fn column_of_second(text: &str) -> usize {
    let mut words = Words::of(1, text);
    words.next();
    words.next().map_or(1, |word| word.column)
}

/// A switch that is being written out.
struct WrittenOut {
    line: usize,
    name: String,
    lugs: Vec<String>,
    positions: Vec<String>,
    between: bool,
    doubtful: bool,
}

impl WrittenOut {
    fn new(line: usize, name: &str) -> Self {
        Self { line, name: name.to_owned(), lugs: vec![], positions: vec![], between: false, doubtful: false }
    }

    fn take(&mut self, line: usize, text: &str, statement: &Statement, found: &mut Found) {
        match statement {
            Statement::Lugs(lugs) => {
                for lug in lugs {
                    if has(&self.lugs, lug) {
                        let fault = Fault::ValueTwice { what: "lug", read: lug.clone() };
                        found.push((line, column_of(text, lug), fault));
                    } else {
                        self.lugs.push(lug.clone());
                    }
                }
            }
            Statement::At { position, pairs } => {
                if has(&self.positions, position) {
                    let fault = Fault::ValueTwice { what: "position", read: position.clone() };
                    found.push((line, column_of_second(text), fault));
                }
                self.positions.push(position.clone());
                for (a, b) in pairs {
                    let column = column_of(text, &format!("{a}-{b}"));
                    if key(a) == key(b) {
                        found.push((line, column, Fault::SamePlaceTwice { read: a.clone() }));
                    }
                    for lug in [a, b] {
                        if !has(&self.lugs, lug) && !self.doubtful {
                            let fault = Fault::NoSuchTerminal {
                                part: self.name.clone(),
                                read: lug.clone(),
                                nearest: nearest(lug, self.lugs.iter().map(String::as_str)),
                                terminals: self.lugs.clone(),
                            };
                            found.push((line, column, fault));
                        }
                    }
                }
            }
            _ => {
                if self.between {
                    let fault = Fault::ValueTwice {
                        what: "behaviour between positions",
                        read: text.trim().to_owned(),
                    };
                    found.push((line, 1, fault));
                }
                self.between = true;
            }
        }
    }

    fn finish(self, parts: &mut BTreeMap<String, Part>, excused: &mut BTreeSet<String>, found: &mut Found) {
        if self.doubtful {
            excused.insert(key(&self.name));
            return;
        }
        for (missing, what) in [(self.lugs.is_empty(), "lugs"), (self.positions.is_empty(), "positions")] {
            if missing {
                found.push((self.line, 1, Fault::SwitchUnfinished { name: self.name.clone(), what }));
                excused.insert(key(&self.name));
                return;
            }
        }
        if let Some(part) = parts.get_mut(&key(&self.name)) {
            part.terminals = self.lugs;
        }
    }
}

fn ends(
    line: usize,
    text: &str,
    join: &JoinLine,
    parts: &BTreeMap<String, Part>,
    excused: &BTreeSet<String>,
    told: bool,
    found: &mut Found,
) {
    let places = std::iter::once(&join.from).chain(join.to.iter().filter_map(|end| match end {
        End::At(place) => Some(place),
        End::Nothing => None,
    }));
    for place in places.filter(|place| !excused.contains(&key(&place.part))) {
        if let Some(fault) = place_fault(place, parts, told) {
            found.push((line, column_of(text, &place.to_string()), fault));
        }
    }
}

fn place_fault(place: &Place, parts: &BTreeMap<String, Part>, told: bool) -> Option<Fault> {
    let Some(part) = parts.get(&key(&place.part)) else {
        let near = || nearest(&place.part, parts.values().map(|part| part.name.as_str()));
        return Some(Fault::NoSuchPart { read: place.part.clone(), nearest: told.then(near).flatten() });
    };
    let written = |terminal: &String| format!("{}.{terminal}", part.name);
    let terminals = || part.terminals.iter().map(written).collect();
    match &place.terminal {
        None if part.terminals == ["case"] => None,
        None => Some(Fault::TerminalMissing { part: part.name.clone(), terminals: terminals() }),
        Some(read) if has(&part.terminals, read) => None,
        Some(read) => Some(Fault::NoSuchTerminal {
            part: part.name.clone(),
            read: read.clone(),
            nearest: nearest(read, part.terminals.iter().map(String::as_str)).as_ref().map(written),
            terminals: terminals(),
        }),
    }
}

/// Whether a name is among others; the case of letters does not count.
fn has(names: &[String], name: &str) -> bool {
    names.iter().any(|known| key(known) == key(name))
}
