//! What was traced, as it is drawn: parts at the marks of a photograph, joins as they are known.
//!
//! It takes every line that can be read, whether or not the whole fits together yet: a drawing helps most while the
//! trace is being made.

use std::collections::BTreeMap;

use asfound_electric::trace::{CoilLine, End, HowKnown, JoinLine, Law, Place, Statement, read_line};
use asfound_plot::circuit::{Circuit, Join, Lug, MOST_JOINS, MOST_PARTS, Outline, Part, Tip};
use asfound_plot::{Known, Point};
use asfound_record::Job;

use crate::wiring::how_known;

pub use asfound_plot::circuit::{Side, View};

/// A drawing, and what is to be said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// What is drawn.
    pub circuit: Circuit,
    /// How many joins were metered, seen, matched, and are not known.
    pub joins: [usize; 4],
    /// The entry of the photograph whose marks place the parts, and how many parts it places.
    pub photograph: Option<(u64, usize)>,
    /// Parts that hang together, where they are more than one circuit: no join leads from one list to another.
    pub apart: Vec<Vec<String>>,
    /// Parts that nothing is joined to yet.
    pub loose: Vec<String>,
    /// Whether it can be drawn: nothing to draw, or more than one drawing holds, cannot.
    pub fits: bool,
}

/// The most that one drawing holds, in parts and in joins.
pub const MOST: (usize, usize) = (MOST_PARTS, MOST_JOINS);

/// The drawing of a job's trace; `None` where no part was traced.
pub fn study(job: &Job, view: View) -> Option<Drawn> {
    let lines = job.traces.iter().flat_map(|item| item.body.text.lines());
    let mut read = Read::of(lines);
    let photograph = place(&mut read.parts, job);
    read.drawn(view, photograph)
}

/// The drawing of a trace that stands by itself.
pub fn of_text(text: &str, view: View) -> Option<Drawn> {
    Read::of(text.lines()).drawn(view, None)
}

/// Lines that could be read.
#[derive(Default)]
struct Read {
    parts: Vec<Part>,
    joins: Vec<Join>,
}

impl Read {
    fn of<'l>(lines: impl Iterator<Item = &'l str>) -> Read {
        let mut read = Read::default();
        let mut said: Vec<JoinLine> = Vec::new();
        for statement in lines.filter_map(|line| read_line(line).ok()?.statement) {
            match statement {
                Statement::Join(join) => said.push(join),
                Statement::Lugs(lugs) => {
                    let written_out = read.parts.last_mut().filter(|part| part.outline == Outline::Switch);
                    if let Some(part) = written_out.filter(|part| part.lugs.is_empty()) {
                        part.lugs = lugs.into_iter().map(|name| Lug { name, place: None }).collect();
                    }
                }
                other => read.parts.extend(part(&other)),
            }
        }
        // A part named twice is a fault that the page Wiring tells; the drawing takes the first.
        let mut names = std::collections::BTreeSet::new();
        read.parts.retain(|part| names.insert(key(&part.name)));
        read.joins = said.iter().filter_map(|join| read.join(join)).collect();
        read
    }

    fn join(&self, said: &JoinLine) -> Option<Join> {
        let places = said.to.iter().filter_map(|end| match end {
            End::At(place) => Some(place),
            End::Nothing => None,
        });
        let known = match &said.how {
            HowKnown::Metered(_) => Known::Metered,
            HowKnown::Seen(_) => Known::Seen,
            HowKnown::Matched(_) => Known::Matched,
            HowKnown::Unknown => Known::Unknown,
        };
        let note = match &said.how {
            HowKnown::Metered(Some(ohms)) => with_unit(&ohms.text),
            _ => String::new(),
        };
        Some(Join {
            from: self.tip(&said.from)?,
            to: places.map(|place| self.tip(place)).collect::<Option<Vec<Tip>>>()?,
            or_nothing: said.to.contains(&End::Nothing),
            known,
            note,
            said: how_known(&said.how),
        })
    }

    fn tip(&self, place: &Place) -> Option<Tip> {
        let part = self.parts.iter().position(|part| key(&part.name) == key(&place.part))?;
        let lugs = &self.parts[part].lugs;
        let lug = match &place.terminal {
            Some(name) => lugs.iter().position(|lug| key(&lug.name) == key(name))?,
            None => (lugs.len() == 1).then_some(0)?,
        };
        Some(Tip { part, lug })
    }

    fn drawn(self, view: View, photograph: Option<(u64, usize)>) -> Option<Drawn> {
        if self.parts.is_empty() {
            return None;
        }
        let joins = Known::ALL.map(|known| self.joins.iter().filter(|join| join.known == known).count());
        let (apart, loose) = self.islands();
        let title = "The circuit as traced".to_owned();
        let circuit = Circuit { title, parts: self.parts, joins: self.joins, view };
        Some(Drawn { joins, photograph, apart, loose, fits: circuit.can_be_drawn(), circuit })
    }

    /// The parts that hang together, where that is not all of them; and those that nothing is joined to.
    fn islands(&self) -> (Vec<Vec<String>>, Vec<String>) {
        let mut island: Vec<usize> = (0..self.parts.len()).collect();
        let mut joined = vec![false; self.parts.len()];
        for join in &self.joins {
            joined[join.from.part] = true;
            for tip in &join.to {
                joined[tip.part] = true;
                let (one, other) = (island[join.from.part], island[tip.part]);
                island.iter_mut().filter(|at| **at == other).for_each(|at| *at = one);
            }
        }
        let mut together: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        let mut loose = Vec::new();
        for (at, part) in self.parts.iter().enumerate() {
            if joined[at] {
                together.entry(island[at]).or_default().push(part.name.clone());
            } else {
                loose.push(part.name.clone());
            }
        }
        let mut apart: Vec<Vec<String>> = together.into_values().collect();
        if apart.len() < 2 {
            apart.clear();
        }
        (apart, loose)
    }
}

/// Names are compared without capitals, as the trace compares them.
fn key(name: &str) -> String {
    name.to_lowercase()
}

/// Ohms as they were typed; bare figures get their unit.
fn with_unit(typed: &str) -> String {
    let bare = typed.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    if bare { format!("{typed} Ω") } else { typed.to_owned() }
}

fn part(statement: &Statement) -> Option<Part> {
    let (_, name) = statement.part()?;
    let lugs = statement.terminals().into_iter().map(|name| Lug { name, place: None }).collect();
    let (outline, value) = looks(statement)?;
    Some(Part { name: name.to_owned(), value, outline, lugs, place: None })
}

/// What a part looks like, and its value as it stands beneath its name.
fn looks(statement: &Statement) -> Option<(Outline, String)> {
    Some(match statement {
        Statement::Coil(CoilLine { resistance, .. }) => (Outline::Coil, resistance.to_string()),
        Statement::Pot { track, law, .. } => {
            let law = match law {
                Some(Law::Linear) => " linear",
                Some(Law::Audio(_)) => " audio",
                Some(Law::Reverse(_)) => " reverse",
                None => "",
            };
            (Outline::Pot, format!("{track}{law}"))
        }
        Statement::Switch { plan, .. } => (switch_outline(plan.as_deref()), String::new()),
        Statement::Capacitor { value, .. } => (Outline::Capacitor, value.to_string()),
        Statement::Resistor { value, .. } => (Outline::Resistor, value.to_string()),
        Statement::Choke { resistance, inductance, .. } => {
            (Outline::Choke, format!("{resistance} {inductance}"))
        }
        Statement::Jack { .. } => (Outline::Jack, String::new()),
        Statement::Metal { name } if key(name).contains("string") => (Outline::Strings, String::new()),
        Statement::Metal { .. } => (Outline::Plate, String::new()),
        Statement::Post { .. } => (Outline::Post, String::new()),
        Statement::Lugs(_) | Statement::At { .. } | Statement::Between(_) | Statement::Join(_) => {
            return None;
        }
    })
}

fn switch_outline(plan: Option<&str>) -> Outline {
    let plan = plan.unwrap_or_default().to_lowercase().replace('-', " ");
    let kinds = [
        ("push pull", Outline::PushPull),
        ("lever", Outline::Lever),
        ("rotary", Outline::Rotary),
        ("slide", Outline::Slide),
        ("toggle", Outline::Toggle),
    ];
    kinds.iter().find(|(word, _)| plan.contains(word)).map_or(Outline::Switch, |(_, outline)| *outline)
}

/// Ten-thousandths, in which marks are kept.
const WHOLE: f64 = 10_000.0;

/// Gives parts and lugs their places on the photograph that shows the most parts; of alike ones the later. Answers its
/// entry and how many parts it places; nothing where none shows two.
fn place(parts: &mut [Part], job: &Job) -> Option<(u64, usize)> {
    let shown = |original: &str| -> usize {
        let marks = || job.marks.iter().filter(|item| item.body.photograph == original);
        parts.iter().filter(|part| marks().any(|item| is_of(&item.body.of, part).is_some())).count()
    };
    let (photograph, count) = job
        .photographs
        .iter()
        .filter(|item| item.body.width.is_some() && item.body.height.is_some())
        .map(|item| (item, shown(&item.body.original)))
        .filter(|(_, count)| *count >= 2)
        .max_by_key(|(item, count)| (*count, item.root))?;
    let (width, height) = (f64::from(photograph.body.width?), f64::from(photograph.body.height?));
    for item in job.marks.iter().filter(|item| item.body.photograph == photograph.body.original) {
        let mark = &item.body;
        let across = f64::from(mark.x) / WHOLE;
        let from_front = mark.seen_from.as_deref() == Some("front");
        let x = if from_front { 1.0 - across } else { across };
        let at = Point::new(x, f64::from(mark.y) / WHOLE * height / width);
        for part in parts.iter_mut() {
            match is_of(&mark.of, part) {
                Some(Some(lug)) => part.lugs[lug].place = Some(at),
                Some(None) => part.place = Some(at),
                None => {}
            }
        }
    }
    Some((photograph.root, count))
}

/// Whether a mark is of this part, and of which of its lugs, where it is of one.
fn is_of(of: &str, part: &Part) -> Option<Option<usize>> {
    let (name, lug) = of.split_once('.').map_or((of, None), |(name, lug)| (name, Some(lug)));
    if key(name) != key(&part.name) {
        return None;
    }
    match lug {
        None => Some(None),
        Some(lug) => part.lugs.iter().position(|known| key(&known.name) == key(lug)).map(Some),
    }
}
