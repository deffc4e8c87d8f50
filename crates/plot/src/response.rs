//! Level in decibels over a logarithmic scale of frequency, with each curve named on its line.

use asfound_measure::Hertz;

use crate::axis::{Axis, multiples, one_two_five, step_of};
use crate::curve::Curve;
use crate::labels::{Box2, Wanted, arrange};
use crate::mark::{Anchor, Class, Drawing, Mark, Point, Series, Size};
use crate::table::Table;
use crate::text::{Face, number, signed, width, wrap};
use crate::thin::thin;

/// The lowest frequency drawn: below the lowest note of a guitar (82 Hz), close to that of a bass (41 Hz).
pub const LOWEST: Hertz = Hertz(50.0);
/// The highest frequency drawn: past the resonance of any pickup coil with its cable.
pub const HIGHEST: Hertz = Hertz(10_000.0);

/// What lies further below the highest level than this is cut off, so that a notch does not flatten the rest.
const DEEPEST: f64 = 60.0;
/// A figure shows at least this much, so that a ripple of a tenth of a decibel does not look like a mountain.
const SHALLOWEST: f64 = 6.0;
/// Steps between level lines, in decibels: halvings and doublings read at a glance.
const LEVEL_STEPS: [f64; 6] = [1.0, 2.0, 3.0, 6.0, 12.0, 24.0];
/// Height of a name from the top of its tallest letter to its lowest foot, in type sizes (Libertinus Serif Italic).
const TALL: f64 = 0.92;
/// Length of the piece of line shown before a name in the key.
const SAMPLE: f64 = 30.0;

/// Curves of level over frequency, and what the levels are measured against.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Response {
    pub(crate) title: String,
    pub(crate) reference: String,
    pub(crate) curves: Vec<Curve>,
    pub(crate) across: Across,
}

/// What runs from left to right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Across {
    /// Frequency from [`LOWEST`] to [`HIGHEST`], on a logarithmic scale.
    Frequency,
    /// The turn of a knob, 0 to 10.
    Turn,
}

impl Across {
    /// Both ends, as places along the axis.
    fn ends(self) -> (f64, f64) {
        match self {
            Across::Frequency => (libm::log10(LOWEST.value()), libm::log10(HIGHEST.value())),
            Across::Turn => (0.0, 10.0),
        }
    }

    /// Where lines stand, with their figures.
    fn lines(self) -> Vec<(f64, String)> {
        match self {
            Across::Frequency => {
                let line = |at: Hertz| (libm::log10(at.value()), tick(at.value()));
                grid_frequencies().into_iter().map(line).collect()
            }
            Across::Turn => {
                (0..=5).map(|step| f64::from(2 * step)).map(|turn| (turn, number(turn, 0))).collect()
            }
        }
    }

    const fn title(self) -> &'static str {
        match self {
            Across::Frequency => "frequency, Hz",
            Across::Turn => "turn of the knob, 0 to 10",
        }
    }

    /// A place as it is said after `at`.
    fn say(self, place: f64) -> String {
        match self {
            Across::Frequency => frequency(libm::exp10(place)),
            Across::Turn => format!("turn {}", number(place, 0)),
        }
    }
}

impl Response {
    pub(crate) fn draw(&self, size: Size) -> Drawing {
        let layout = Layout::new(self, size);
        let mut marks = vec![layout.grid(), layout.titles()];
        // All bands lie behind all lines.
        marks.extend(
            self.curves.iter().enumerate().filter_map(|(index, curve)| layout.band(curve, Series::at(index))),
        );
        let strokes: Vec<Vec<Vec<Point>>> = self.curves.iter().map(|curve| layout.strokes(curve)).collect();
        let places = self.places(&strokes, &layout);
        let mut key = Vec::new();
        for (index, (curve, strokes)) in self.curves.iter().zip(strokes).enumerate() {
            let series = Series::at(index);
            let mut group: Vec<Mark> = layout.dots(curve, series);
            if !strokes.is_empty() {
                group.push(Mark::Path { class: Class::Curve(series), strokes });
            }
            match places[index] {
                Some(place) => group.push(layout.name(curve.label(), place, series)),
                None => key.push((series, curve.label())),
            }
            marks.push(Mark::Group(group));
        }
        let (key, height) = layout.key(&key);
        marks.extend(key);
        Drawing { width: size.width(), height, marks }
    }

    fn places(&self, strokes: &[Vec<Vec<Point>>], layout: &Layout) -> Vec<Option<Box2>> {
        let size = layout.size.label_type();
        let wanted: Vec<Wanted<'_>> = self
            .curves
            .iter()
            .zip(strokes)
            .map(|(curve, strokes)| Wanted {
                strokes,
                width: width(curve.label(), Face::Serif, size),
                height: size * TALL,
            })
            .collect();
        arrange(&wanted, layout.inner())
    }

    fn axis_title(&self) -> String {
        if self.reference.trim().is_empty() {
            "dB".to_owned()
        } else {
            format!("dB, against {}", self.reference.trim())
        }
    }

    pub(crate) fn description(&self) -> String {
        let against = match self.reference.trim() {
            "" => String::new(),
            reference => format!(" against {reference}"),
        };
        let curves: Vec<String> = self.curves.iter().map(|curve| describe(curve, self.across)).collect();
        let curves = if curves.is_empty() { "no curves".to_owned() } else { curves.join("; ") };
        let (low, high) = self.across.ends();
        let (low, high) = (self.across.say(low), self.across.say(high));
        format!("Level in decibels{against}, from {low} to {high}: {curves}.")
    }

    pub(crate) fn table(&self, frequencies: &[Hertz]) -> Table {
        let (name, places): (&str, Vec<f64>) = match self.across {
            Across::Frequency => {
                ("frequency", frequencies.iter().map(|frequency| libm::log10(frequency.value())).collect())
            }
            Across::Turn => ("turn", (0..=10).map(f64::from).collect()),
        };
        let mut header = vec![name.to_owned()];
        let columns = || {
            self.curves
                .iter()
                .flat_map(|curve| std::iter::once(curve).chain(curve.edges().into_iter().flatten()))
        };
        header.extend(columns().map(|curve| format!("{}, dB", curve.label())));
        let row = |&at: &f64| {
            let levels = columns().map(|curve| match curve.level_at_place(at) {
                Some(level) => signed(level, 1),
                None => "not given".to_owned(),
            });
            std::iter::once(self.across.say(at)).chain(levels).collect()
        };
        Table { header, rows: places.iter().map(row).collect() }
    }
}

/// The frequencies of the grid: 1, 2 and 5 times the powers of ten.
pub(crate) fn grid_frequencies() -> Vec<Hertz> {
    one_two_five(LOWEST.value(), HIGHEST.value()).into_iter().map(Hertz).collect()
}

/// What a curve does, in a few words.
fn describe(curve: &Curve, across: Across) -> String {
    let label = curve.label();
    let highest = curve.inside(across.ends()).max_by(|a, b| a.1.total_cmp(&b.1));
    let lowest = curve.inside(across.ends()).min_by(|a, b| a.1.total_cmp(&b.1));
    let (Some(highest), Some(lowest)) = (highest, lowest) else {
        return format!("{label} has no levels here");
    };
    if highest.1 - lowest.1 < 0.5 {
        return format!("{label} stays near {} dB", signed(highest.1, 1));
    }
    let at = |point: (f64, f64)| format!("{} dB at {}", signed(point.1, 1), across.say(point.0));
    format!(
        "{label} is highest with {} and lowest with {}{}",
        at(highest),
        at(lowest),
        describe_band(curve, highest.0)
    )
}

/// How wide the band is where the curve is highest, and that there is one.
fn describe_band(curve: &Curve, place: f64) -> String {
    let Some(edges) = curve.edges() else { return String::new() };
    let [low, high] = edges.each_ref().map(|edge| edge.level_at_place(place));
    match low.zip(high) {
        Some((low, high)) => {
            format!(", and may lie between {} and {} dB at its highest", signed(low, 1), signed(high, 1))
        }
        None => String::new(),
    }
}

/// A frequency as it is said: three figures are finer than any peak can be read.
fn frequency(hertz: f64) -> String {
    let (value, unit) = if hertz >= 999.5 { (hertz / 1000.0, "kHz") } else { (hertz, "Hz") };
    let places = if value >= 99.95 {
        0
    } else if value >= 9.995 {
        1
    } else {
        2
    };
    let text = number(value, places);
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    format!("{text} {unit}")
}

fn tick(hertz: f64) -> String {
    if hertz >= 1000.0 { format!("{}k", number(hertz / 1000.0, 0)) } else { number(hertz, 0) }
}

/// The levels at which lines are drawn; the first and the last are the edges of the frame.
fn level_lines(curves: &[Curve], ends: (f64, f64)) -> Vec<f64> {
    let all =
        || curves.iter().flat_map(|curve| std::iter::once(curve).chain(curve.edges().into_iter().flatten()));
    let levels = || all().flat_map(|curve| curve.inside(ends)).map(|(_, level)| level);
    let highest = levels().fold(f64::NEG_INFINITY, f64::max);
    if !highest.is_finite() {
        return multiples(SHALLOWEST, -SHALLOWEST, SHALLOWEST);
    }
    let lowest = levels().fold(f64::INFINITY, f64::min).max(highest - DEEPEST);
    let lacking = (SHALLOWEST - (highest - lowest)).max(0.0) / 2.0;
    let (low, high) = (lowest - lacking, highest + lacking);
    let lines = multiples(step_of(&LEVEL_STEPS, low, high, 6.0), low, high);
    debug_assert!(lines.len() >= 2);
    lines
}

/// Where everything stands.
struct Layout {
    size: Size,
    frame: Box2,
    levels: Vec<f64>,
    kind: Across,
    across: Axis,
    up: Axis,
    title: Vec<String>,
}

impl Layout {
    fn new(response: &Response, size: Size) -> Self {
        let levels = level_lines(&response.curves, response.across.ends());
        let ticks = levels.iter().map(|level| width(&number(*level, 0), Face::Sans, size.axis_type()));
        let left = ticks.fold(0.0, f64::max) + 8.0;
        let title = wrap(&response.axis_title(), Face::Sans, size.axis_type(), size.width());
        let top = size.axis_type() * (1.3 * title.len() as f64 + 0.6);
        let height = match size {
            Size::Narrow => 230.0,
            Size::Wide => 240.0,
        };
        // Half of "10k" stands to the right of the frame.
        let right = size.width() - width("10k", Face::Sans, size.axis_type()) / 2.0 - 1.0;
        let frame = Box2 { left, top, right, bottom: top + height };
        let across = Axis::new(response.across.ends(), (frame.left, frame.right));
        let ends = (levels.first().copied().unwrap_or(0.0), levels.last().copied().unwrap_or(1.0));
        let up = Axis::new(ends, (frame.bottom, frame.top));
        Self { size, frame, levels, kind: response.across, across, up, title }
    }

    /// The frame less a little air, for names.
    fn inner(&self) -> Box2 {
        let frame = self.frame;
        Box2 {
            left: frame.left + 4.0,
            top: frame.top + 2.0,
            right: frame.right - 4.0,
            bottom: frame.bottom - 3.0,
        }
    }

    fn ends(&self) -> (f64, f64) {
        (self.levels.first().copied().unwrap_or(0.0), self.levels.last().copied().unwrap_or(1.0))
    }

    fn grid(&self) -> Mark {
        let frame = self.frame;
        let mut marks = Vec::new();
        let text = |at, anchor, text| Mark::Text { class: Class::Axis, at, anchor, text };
        for level in &self.levels {
            let y = self.up.place(*level);
            // Nought is the level that all others are measured against.
            let class = if *level == 0.0 { Class::Axis } else { Class::Grid };
            marks.push(Mark::Line { class, from: Point::new(frame.left, y), to: Point::new(frame.right, y) });
            let at = Point::new(frame.left - 6.0, y + self.size.axis_type() * 0.36);
            marks.push(text(at, Anchor::End, number(*level, 0)));
        }
        for (place, figure) in self.kind.lines() {
            let x = self.across.place(place);
            let (from, to) = (Point::new(x, frame.top), Point::new(x, frame.bottom));
            marks.push(Mark::Line { class: Class::Grid, from, to });
            let at = Point::new(x, frame.bottom + self.size.axis_type() * 1.4);
            marks.push(text(at, Anchor::Middle, figure));
        }
        Mark::Group(marks)
    }

    fn titles(&self) -> Mark {
        let size = self.size.axis_type();
        let text =
            |at, anchor, text: &str| Mark::Text { class: Class::Axis, at, anchor, text: text.to_owned() };
        let lines = self.title.iter().enumerate();
        let mut marks: Vec<Mark> = lines
            .map(|(index, line)| {
                text(Point::new(0.0, size * (1.0 + 1.3 * index as f64)), Anchor::Start, line)
            })
            .collect();
        let middle = (self.frame.left + self.frame.right) / 2.0;
        marks.push(text(
            Point::new(middle, self.frame.bottom + size * 2.8),
            Anchor::Middle,
            self.kind.title(),
        ));
        Mark::Group(marks)
    }

    fn place(&self, (at, level): (f64, f64)) -> Point {
        Point::new(self.across.place(at), self.up.place(level))
    }

    fn strokes(&self, curve: &Curve) -> Vec<Vec<Point>> {
        let strokes = curve.strokes(self.kind.ends(), self.ends()).into_iter();
        strokes
            .map(|stroke| thin(&stroke.into_iter().map(|point| self.place(point)).collect::<Vec<_>>()))
            .collect()
    }

    fn band(&self, curve: &Curve, series: Series) -> Option<Mark> {
        let outline = curve.outline(self.kind.ends(), self.ends());
        let outline: Vec<Point> = outline.into_iter().map(|point| self.place(point)).collect();
        (outline.len() > 2).then_some(Mark::Area { class: Class::Band(series), outline })
    }

    fn dots(&self, curve: &Curve, series: Series) -> Vec<Mark> {
        let ((left, right), (low, high)) = (self.kind.ends(), self.ends());
        let seen = move |point: &(f64, f64)| {
            point.0 >= left && point.0 <= right && point.1 >= low && point.1 <= high
        };
        let dot =
            |point| Mark::Circle { class: Class::Curve(series), centre: self.place(point), radius: 2.0 };
        curve.lone_points().filter(seen).map(dot).collect()
    }

    fn name(&self, label: &str, place: Box2, series: Series) -> Mark {
        // The feet of letters such as p reach 0.23 of the type size below the base line.
        let at = Point::new(place.left, place.bottom - self.size.label_type() * 0.23);
        Mark::Text { class: Class::Label(series), at, anchor: Anchor::Start, text: label.to_owned() }
    }

    /// The curves that have no room for a name beside their line, each with a piece of that line; and the height
    /// of the whole figure.
    fn key(&self, names: &[(Series, &str)]) -> (Vec<Mark>, f64) {
        let size = self.size.label_type();
        let mut y = self.frame.bottom + self.size.axis_type() * 3.3;
        let mut marks = Vec::new();
        for (series, label) in names {
            let class = Class::Curve(*series);
            let middle = y + size * 0.95;
            let strokes = vec![vec![Point::new(1.0, middle), Point::new(1.0 + SAMPLE, middle)]];
            let mut group = vec![Mark::Path { class, strokes }];
            let left = SAMPLE + 9.0;
            for line in wrap(label, Face::Serif, size, self.size.width() - left) {
                y += size * 1.25;
                let at = Point::new(left, y);
                group.push(Mark::Text {
                    class: Class::Label(*series),
                    at,
                    anchor: Anchor::Start,
                    text: line,
                });
            }
            marks.push(Mark::Group(group));
        }
        (marks, y + size * 0.35)
    }
}
