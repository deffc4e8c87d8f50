//! Where the rows of a strip of months stand, and what is drawn in each.

use std::ops::RangeInclusive;

use super::{LEVELS, MonthRow, Months};
use crate::axis::Axis;
use crate::mark::{Anchor, Class, Drawing, Mark, Point, Size};
use crate::text::{Face, width, wrap};

/// Years between lines that have a figure.
const YEAR_STEPS: [i32; 7] = [1, 2, 5, 10, 20, 50, 100];
/// Months drawn as one cell where the axis is long.
const MONTHS_OF_A_CELL: [i32; 5] = [1, 2, 3, 6, 12];
/// A cell narrower than this is not seen.
const NARROWEST: f64 = 1.2;
/// Years closer together than this have no stroke each on the axis.
const CLOSEST: f64 = 4.0;
/// From this many rows on the years stand above the rows too.
const TALL: usize = 9;
/// How far the feet of a bracket reach.
const FOOT: f64 = 4.0;
/// Length of what is shown before the words of the key.
const SAMPLE: f64 = 30.0;
/// The widest that the column of names may be, as a share of the figure.
const NAMES: f64 = 0.3;

impl Months {
    pub(crate) fn draw(&self, size: Size) -> Drawing {
        let layout = Layout::new(self, size);
        let type_size = size.axis_type();
        let mut top = 2.0;
        let mut marks = Vec::new();
        if self.parts.len() + 1 >= TALL {
            marks.push(layout.figures(self.first_year, top + type_size));
            top += 1.5 * type_size;
        }
        let head = top;
        let mut rows = Vec::new();
        for (at, row) in self.rows().enumerate() {
            let (mark, below) = layout.row(row, at == 0, top);
            rows.push(mark);
            top = below;
        }
        marks.push(layout.lines(self.first_year, (head, top)));
        marks.extend(rows);
        marks.push(layout.figures(self.first_year, top + 1.1 * type_size));
        let (key, height) = layout.key(self, top + 1.6 * type_size);
        marks.push(key);
        Drawing { width: size.width(), height, marks }
    }
}

struct Layout {
    size: Size,
    /// Months shown, the second not counted.
    shown: (i32, i32),
    across: Axis,
    ends: (f64, f64),
    /// The room for a name: beside the cells, or over them.
    names: f64,
    cell: i32,
}

impl Layout {
    fn new(months: &Months, size: Size) -> Self {
        let shown = months.shown();
        let widest = months.rows().map(|row| width(&row.name, Face::Serif, size.name_type()));
        let names = match size {
            Size::Narrow => size.width(),
            Size::Wide => widest.fold(0.0, f64::max).min(NAMES * size.width()),
        };
        // Half a figure stands outside either end of the axis.
        let margin = width("0000", Face::Sans, size.axis_type()) / 2.0 + 1.0;
        let left = match size {
            Size::Narrow => margin,
            Size::Wide => (names + 12.0).max(margin),
        };
        let ends = (left, size.width() - margin);
        let across = Axis::new((f64::from(shown.0), f64::from(shown.1)), ends);
        let month = (ends.1 - ends.0) / f64::from(shown.1 - shown.0);
        let seen = |months: &&i32| f64::from(**months) * month >= NARROWEST;
        let cell = MONTHS_OF_A_CELL.iter().find(seen).copied().unwrap_or(12);
        Self { size, shown, across, ends, names, cell }
    }

    fn x(&self, month: i32) -> f64 {
        self.across.place(f64::from(month))
    }

    /// The January lines that have a figure, with their years.
    fn years(&self, first_year: i32) -> Vec<(f64, i32)> {
        let (from, to) = (first_year + self.shown.0 / 12, first_year + self.shown.1 / 12);
        let room = (self.ends.1 - self.ends.0) / (1.5 * width("0000", Face::Sans, self.size.axis_type()));
        let fits = |step: &&i32| f64::from(to - from) / f64::from(**step) <= room;
        let step = YEAR_STEPS.iter().find(fits).copied().unwrap_or(100);
        let ruled = (from..=to).filter(|year| year.rem_euclid(step) == 0);
        ruled.map(|year| (self.x(12 * (year - first_year)), year)).collect()
    }

    fn lines(&self, first_year: i32, (top, bottom): (f64, f64)) -> Mark {
        let line = |class, from: (f64, f64), to: (f64, f64)| Mark::Line {
            class,
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
        };
        let mut marks: Vec<Mark> = self
            .years(first_year)
            .into_iter()
            .map(|(x, _)| line(Class::Grid, (x, top), (x, bottom)))
            .collect();
        marks.push(line(Class::Axis, (self.ends.0, bottom), (self.ends.1, bottom)));
        let januaries = (self.shown.0..=self.shown.1).step_by(12).map(|month| self.x(month));
        if self.x(12) - self.x(0) >= CLOSEST {
            marks.extend(januaries.map(|x| line(Class::Axis, (x, bottom), (x, bottom + 3.0))));
        }
        Mark::Group(marks)
    }

    fn figures(&self, first_year: i32, base: f64) -> Mark {
        let figure = |(x, year): (f64, i32)| Mark::Text {
            class: Class::Axis,
            at: Point::new(x, base),
            anchor: Anchor::Middle,
            text: year.to_string(),
        };
        Mark::Group(self.years(first_year).into_iter().map(figure).collect())
    }

    /// A row with its name, and where the next one begins.
    fn row(&self, row: &MonthRow, whole: bool, top: f64) -> (Mark, f64) {
        let name_size = self.size.name_type();
        let lines = wrap(&row.name, Face::Serif, name_size, self.names);
        let written = 1.15 * name_size * lines.len() as f64;
        let thick = self.size.row(whole);
        let held = thick + if row.within.is_empty() { 0.0 } else { FOOT + 2.0 };
        let (cells, below) = match self.size {
            Size::Narrow => (top + written + 5.0, top + written + 5.0 + held + 7.0),
            Size::Wide => {
                let room = written.max(held);
                (top + 4.0 + (room - held) / 2.0, top + 4.0 + room + 6.0)
            }
        };
        let first = match self.size {
            Size::Narrow => top + 0.95 * name_size,
            Size::Wide => top + 4.0 + (written.max(held) - written) / 2.0 + 0.85 * name_size,
        };
        let mut marks: Vec<Mark> = lines
            .into_iter()
            .enumerate()
            .map(|(at, text)| Mark::Text {
                class: Class::Name,
                at: Point::new(0.0, first + 1.15 * name_size * at as f64),
                anchor: Anchor::Start,
                text,
            })
            .collect();
        marks.extend(self.inside(row, whole, cells));
        (Mark::Group(marks), below)
    }

    /// What stands in the row: its ground, its cells or the words that there is nothing to be seen, its brackets.
    fn inside(&self, row: &MonthRow, whole: bool, top: f64) -> Vec<Mark> {
        let thick = self.size.row(whole);
        let (middle, bottom) = (top + thick / 2.0, top + thick);
        let mut marks = vec![Mark::Line {
            class: Class::Grid,
            from: Point::new(self.ends.0, bottom),
            to: Point::new(self.ends.1, bottom),
        }];
        let words = match (row.highest() > 0.0, row.is_even()) {
            (false, _) => Some("no month"),
            (_, true) => Some("every month alike"),
            _ => None,
        };
        match words {
            Some(words) => marks.push(Mark::Text {
                class: Class::Value,
                at: Point::new(self.ends.0 + 6.0, middle + 0.36 * self.size.lug_type()),
                anchor: Anchor::Start,
                text: words.to_owned(),
            }),
            None => marks.extend(self.cells(row, whole, middle)),
        }
        let brackets = row.within.iter().filter_map(|run| self.bracket(run, bottom + 2.0));
        if !row.within.is_empty() {
            marks.push(Mark::Path { class: Class::Within, strokes: brackets.collect() });
        }
        if let Some(month) = row.not_before.filter(|month| *month >= self.shown.0) {
            marks.push(open_bracket(self.x(month), (top, bottom)));
        }
        marks
    }

    /// The cells, those of like ink in one mark; a long axis has several months in a cell, inked as the likeliest of
    /// them, so that a single month is never lost.
    fn cells(&self, row: &MonthRow, whole: bool, y: f64) -> Vec<Mark> {
        let highest = row.highest();
        let share = |month: i32| {
            usize::try_from(month).ok().and_then(|at| row.shares.get(at)).copied().unwrap_or(0.0)
        };
        let mut strokes: Vec<Vec<Vec<Point>>> = vec![Vec::new(); usize::from(LEVELS) + 1];
        let mut run: Option<(u8, i32)> = None;
        let mut close = |run: Option<(u8, i32)>, end: i32| {
            if let Some((level, from)) = run.filter(|(level, _)| *level > 0) {
                strokes[usize::from(level)]
                    .push(vec![Point::new(self.x(from), y), Point::new(self.x(end), y)]);
            }
        };
        for from in (self.shown.0..self.shown.1).step_by(self.cell as usize) {
            let months = from..(from + self.cell).min(self.shown.1);
            let level = months.map(|month| row.level(share(month), highest)).max().unwrap_or(0);
            if run.is_none_or(|(before, _)| before != level) {
                close(run, from);
                run = Some((level, from));
            }
        }
        close(run, self.shown.1);
        let inked = (0..).zip(strokes).filter(|(_, strokes)| !strokes.is_empty());
        inked.map(|(level, strokes)| Mark::Path { class: Class::Share { level, whole }, strokes }).collect()
    }

    /// The bracket under a run of months, without a foot where it runs out of the figure.
    fn bracket(&self, run: &RangeInclusive<usize>, y: f64) -> Option<Vec<Point>> {
        let (from, to) = (*run.start() as i32, *run.end() as i32 + 1);
        let (shown_from, shown_to) = (from.max(self.shown.0), to.min(self.shown.1));
        if shown_from >= shown_to {
            return None;
        }
        let mut points = held(self.x(shown_from), self.x(shown_to), y);
        if to > shown_to {
            points.pop();
        }
        if from < shown_from {
            points.remove(0);
        }
        Some(points)
    }

    /// What the ink and the brackets stand for, each with a sample; and the height of the figure.
    fn key(&self, months: &Months, top: f64) -> (Mark, f64) {
        let mut entries = vec![("the fuller the ink, the likelier the month, row by row", Sample::Ink)];
        if months.rows().any(|row| !row.within.is_empty()) {
            entries.push(("95 % of its share lies in these months", Sample::Within));
        }
        if months.rows().any(|row| row.not_before.is_some_and(|month| month >= self.shown.0)) {
            entries.push(("made in this month or later", Sample::NotBefore));
        }
        let type_size = self.size.axis_type();
        let left = SAMPLE + 9.0;
        let mut y = top + 0.4 * type_size;
        let mut marks = Vec::new();
        for (words, sample) in entries {
            marks.extend(self.sample(sample, y + 0.7 * type_size));
            for line in wrap(words, Face::Sans, type_size, self.size.width() - left) {
                y += 1.1 * type_size;
                let at = Point::new(left, y);
                marks.push(Mark::Text { class: Class::Axis, at, anchor: Anchor::Start, text: line });
            }
            y += 0.7 * type_size;
        }
        (Mark::Group(marks), y)
    }

    fn sample(&self, sample: Sample, middle: f64) -> Vec<Mark> {
        let half = self.size.row(false) / 2.0;
        match sample {
            Sample::Ink => (0..3)
                .map(|step| {
                    let (from, to) = (SAMPLE * f64::from(step) / 3.0, SAMPLE * f64::from(step + 1) / 3.0);
                    let class = Class::Share { level: 2 + 3 * step, whole: false };
                    Mark::Path {
                        class,
                        strokes: vec![vec![Point::new(from, middle), Point::new(to, middle)]],
                    }
                })
                .collect(),
            Sample::Within => {
                vec![Mark::Path { class: Class::Within, strokes: vec![held(1.0, SAMPLE, middle)] }]
            }
            Sample::NotBefore => vec![open_bracket(SAMPLE / 2.0, (middle - half, middle + half))],
        }
    }
}

/// What a line of the key shows before its words.
enum Sample {
    Ink,
    Within,
    NotBefore,
}

/// The bracket under months, its feet upwards from `y`.
fn held(from: f64, to: f64, y: f64) -> Vec<Point> {
    vec![Point::new(from, y), Point::new(from, y + FOOT), Point::new(to, y + FOOT), Point::new(to, y)]
}

fn open_bracket(x: f64, (top, bottom): (f64, f64)) -> Mark {
    let arm = x + 1.5 * FOOT;
    let stroke = vec![
        Point::new(arm, top - 1.0),
        Point::new(x, top - 1.0),
        Point::new(x, bottom + 1.0),
        Point::new(arm, bottom + 1.0),
    ];
    Mark::Path { class: Class::NotBefore, strokes: vec![stroke] }
}
