//! Values of one kind along one axis, and the one among them that the question is about.

use asfound_measure::Quantity;

use crate::axis::{Axis, multiples, round_step};
use crate::mark::{Anchor, Class, Drawing, Mark, Point, Size};
use crate::table::Table;
use crate::text::{Face, number, width, wrap};

/// Prefixes of the SI with their powers of ten (SI brochure, 9th edition, table 7), as far as a bench needs them.
const PREFIXES: [(f64, &str); 7] =
    [(1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"), (1e-12, "p")];

/// Beyond this a value is a computing accident and is left out, like one that is not finite.
const NO_VALUE_BEYOND: f64 = 1e12;
/// Below this, in farads as in ohms, a value is nought to every meter at a bench.
const NOUGHT_BELOW: f64 = 1e-15;
/// Dots that would touch stand above each other, up to this many.
const STOREYS: usize = 6;

/// Values of one kind, already in the unit they are shown in.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strip {
    pub(crate) title: String,
    what: String,
    unit: String,
    values: Vec<f64>,
    marked: Option<f64>,
    name: String,
}

impl Strip {
    pub(crate) fn new<Q: Quantity>(
        title: String,
        what: String,
        values: &[Q],
        marked: Q,
        name: String,
    ) -> Self {
        let usable = |value: &f64| value.is_finite() && value.abs() < NO_VALUE_BEYOND;
        let settled = |value: f64| if value.abs() < NOUGHT_BELOW { 0.0 } else { value };
        let mut values: Vec<f64> = values.iter().map(|value| settled(value.size())).filter(usable).collect();
        values.sort_by(f64::total_cmp);
        let marked = Some(settled(marked.size())).filter(usable);
        let greatest =
            values.iter().chain(&marked).fold(0.0_f64, |greatest, value| greatest.max(value.abs()));
        let fits = |prefix: &&(f64, &str)| greatest >= prefix.0;
        let (factor, prefix) = match takes_prefix(Q::UNIT) {
            true => PREFIXES.iter().find(fits).copied().unwrap_or((1.0, "")),
            false => (1.0, ""),
        };
        Self {
            title,
            what: what.trim().to_owned(),
            unit: format!("{prefix}{}", Q::UNIT),
            values: values.iter().map(|value| value / factor).collect(),
            marked: marked.map(|value| value / factor),
            name: name.trim().to_owned(),
        }
    }

    /// The values on the axis, and how many decimals they need.
    fn ticks(&self, most: f64) -> (Vec<f64>, usize) {
        let all = || self.values.iter().chain(&self.marked).copied();
        let (low, high) = (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max));
        if low > high {
            return (vec![0.0, 1.0], 0);
        }
        // Values that agree are shown on an axis of a fiftieth of their size, not on one of rounding errors.
        let least = if high == 0.0 && low == 0.0 { 1.0 } else { 0.02 * high.abs().max(low.abs()) };
        let lacking = (least - (high - low)).max(0.0) / 2.0;
        let (low, high) = (low - lacking, high + lacking);
        let step = round_step(low, high, most);
        (multiples(step, low, high), decimals(step))
    }

    pub(crate) fn draw(&self, size: Size) -> Drawing {
        let (type_size, label_size) = (size.axis_type(), size.label_type());
        let most = match size {
            Size::Narrow => 4.0,
            Size::Wide => 7.0,
        };
        let (ticks, places) = self.ticks(most);
        let figures: Vec<String> = ticks.iter().map(|value| number(*value, places)).collect();
        let margin =
            figures.iter().map(|text| width(text, Face::Sans, type_size)).fold(0.0, f64::max) / 2.0 + 4.0;
        let (left, right) = (margin, size.width() - margin);
        let name = if self.marked.is_some() {
            wrap(&self.name, Face::Serif, label_size, size.width())
        } else {
            Vec::new()
        };
        let top = label_size * (1.25 * name.len() as f64 + 0.3);
        let base = top + 2.0 * radius(size) * STOREYS as f64 + 4.0;
        let ends = (ticks.first().copied().unwrap_or(0.0), ticks.last().copied().unwrap_or(1.0));
        let axis = Axis::new(ends, (left, right));

        let text =
            |at, anchor, text: &str| Mark::Text { class: Class::Axis, at, anchor, text: text.to_owned() };
        let mut rule = vec![Mark::Line {
            class: Class::Axis,
            from: Point::new(left, base),
            to: Point::new(right, base),
        }];
        for (value, figure) in ticks.iter().zip(&figures) {
            let x = axis.place(*value);
            rule.push(Mark::Line {
                class: Class::Axis,
                from: Point::new(x, base),
                to: Point::new(x, base + 4.0),
            });
            rule.push(text(Point::new(x, base + 4.0 + type_size * 1.1), Anchor::Middle, figure));
        }
        let mut foot = base + 4.0 + type_size * 1.1;
        for line in wrap(&self.axis_title(), Face::Sans, type_size, size.width()) {
            foot += type_size * 1.35;
            rule.push(text(Point::new(size.width() / 2.0, foot), Anchor::Middle, &line));
        }
        let mut marks = vec![Mark::Group(rule), Mark::Group(self.dots(&axis, base, radius(size)))];
        if let Some(value) = self.marked {
            marks.push(marked(axis.place(value), (top, base), &name, size));
        }
        Drawing { width: size.width(), height: foot + type_size * 0.4, marks }
    }

    fn axis_title(&self) -> String {
        let count = self.values.len();
        if self.what.is_empty() { self.unit.clone() } else { format!("{}; {count} {}", self.unit, self.what) }
    }

    fn dots(&self, axis: &Axis, base: f64, radius: f64) -> Vec<Mark> {
        // For each storey, the right edge of its last dot. Values rise, so a dot can only touch those before it.
        let mut taken = [f64::NEG_INFINITY; STOREYS];
        let mut dots = Vec::with_capacity(self.values.len());
        for value in &self.values {
            let x = axis.place(*value);
            let storey = taken.iter().position(|edge| x - radius >= *edge).unwrap_or(STOREYS - 1);
            taken[storey] = x + radius;
            let y = base - 2.0 - radius - 2.0 * radius * storey as f64;
            dots.push(Mark::Circle { class: Class::Dot, centre: Point::new(x, y), radius });
        }
        dots
    }

    fn shown(&self, value: f64) -> String {
        // Two decimals more than the axis has would be noise; one more places a value between its figures.
        let (_, places) = self.ticks(7.0);
        format!("{} {}", number(value, places + 1), self.unit)
    }

    pub(crate) fn description(&self) -> String {
        let what = if self.what.is_empty() { "values" } else { &self.what };
        let others = match (self.values.first(), self.values.last()) {
            (Some(least), Some(greatest)) => {
                format!(
                    "{} {what}, from {} to {}",
                    self.values.len(),
                    self.shown(*least),
                    self.shown(*greatest)
                )
            }
            _ => format!("No {what}"),
        };
        let name = if self.name.is_empty() { "the marked one" } else { &self.name };
        match self.marked {
            Some(value) => {
                let below = self.values.iter().filter(|other| **other < value).count();
                let rank = match below {
                    0 => "below all of them".to_owned(),
                    _ if below == self.values.len() => "above all of them".to_owned(),
                    _ => format!("above {below} of them"),
                };
                format!("{others}; {name} stands at {}, {rank}.", self.shown(value))
            }
            None => format!("{others}; {name} has no value to mark."),
        }
    }

    pub(crate) fn table(&self) -> Table {
        let header = vec!["which".to_owned(), format!("value, {}", self.unit)];
        let (_, places) = self.ticks(7.0);
        let row = |which: &str, value: f64| vec![which.to_owned(), number(value, places + 1)];
        let marked = match self.marked {
            Some(value) => row(&self.name, value),
            None => vec![self.name.clone(), "not given".to_owned()],
        };
        let others = self.values.iter().map(|value| row("other", *value));
        Table { header, rows: std::iter::once(marked).chain(others).collect() }
    }
}

/// Whether a unit takes prefixes at a bench: degrees and decibels do not, and millimetres have theirs.
fn takes_prefix(unit: &str) -> bool {
    matches!(unit, "Ω" | "H" | "F" | "Hz" | "V" | "A" | "s")
}

/// The stroke at the marked value, with its name above, as near over it as the edges allow.
fn marked(x: f64, (top, base): (f64, f64), name: &[String], size: Size) -> Mark {
    let strokes = vec![vec![Point::new(x, top), Point::new(x, base)]];
    let mut marks = vec![Mark::Path { class: Class::Marked, strokes }];
    for (index, line) in name.iter().enumerate() {
        let half = width(line, Face::Serif, size.label_type()) / 2.0;
        let middle = x.min(size.width() - half).max(half);
        let at = Point::new(middle, size.label_type() * (1.0 + 1.25 * index as f64));
        marks.push(Mark::Text { class: Class::MarkedLabel, at, anchor: Anchor::Middle, text: line.clone() });
    }
    Mark::Group(marks)
}

/// The radius of a dot.
fn radius(size: Size) -> f64 {
    match size {
        Size::Narrow => 3.0,
        Size::Wide => 4.0,
    }
}

/// How many decimals the multiples of a step need.
fn decimals(step: f64) -> usize {
    libm::ceil(-libm::log10(step) - 1e-9).max(0.0) as usize
}
