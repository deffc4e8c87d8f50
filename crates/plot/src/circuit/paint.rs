//! The finished drawing: outlines, lugs, wires, what stands beside them, and a key to the lines.

use super::lettering::{Beside, InTheWay, Set, set};
use super::nets::Nets;
use super::outline::{Scale, line_height, lug_text, plus};
use super::place::{Layout, Stand};
use super::route::{Laid, Wanted};
use super::search::best;
use super::{Circuit, Side, Tip};
use crate::labels::Box2;
use crate::mark::{Anchor, Class, Drawing, Known, Mark, Point, Series, Size};
use crate::text::{Face, width};

/// Radius of a lug, in pitches of the grid.
const LUG: f64 = 0.42;
/// Half the length of the tick on a line that was matched.
const TICK: f64 = 4.0;
/// Length of the piece of line shown in the key.
const SAMPLE: f64 = 34.0;

pub(super) fn draw(circuit: &Circuit, size: Size) -> Drawing {
    let nets = Nets::of(circuit);
    let scale = Scale::of(size);
    if !circuit.can_be_drawn() {
        return Drawing { width: size.width(), height: scale.pitch, marks: Vec::new() };
    }
    let (layout, laid, wanted) = best(circuit, &nets, size);
    let (layout, laid) = match circuit.view.side {
        Side::Back => (layout, laid),
        Side::Front => (layout.clone().mirrored(), seen_through(laid, layout.width)),
    };
    let painter = Painter { circuit, nets, scale, layout, laid, wanted };
    painter.paint()
}

/// Lines as they look from the other side.
fn seen_through(mut laid: Laid, width: f64) -> Laid {
    for point in laid.lines.iter_mut().flatten().chain(&mut laid.junctions) {
        point.x = width - point.x;
    }
    laid
}

struct Painter<'a> {
    circuit: &'a Circuit,
    nets: Nets,
    scale: Scale,
    layout: Layout,
    laid: Laid,
    wanted: Vec<Wanted>,
}

impl Painter<'_> {
    fn paint(&self) -> Drawing {
        let mut marks: Vec<Mark> = self.circuit.sound_joins().map(|(at, _)| self.wire(at)).collect();
        marks.extend(self.laid.junctions.iter().map(|at| Mark::Circle {
            class: Class::Junction,
            centre: *at,
            radius: 0.35 * self.scale.pitch,
        }));
        marks.extend((0..self.layout.stands.len()).map(|part| self.part(part)));
        marks.extend(self.beside());
        let (key, height) = self.key();
        marks.extend(key);
        Drawing { width: self.layout.width, height, marks }
    }

    fn series(&self, tip: Tip) -> Series {
        Series::at(self.nets.net(tip).unwrap_or(0))
    }

    /// One join: its line, or its lines to every end it may have.
    fn wire(&self, at: usize) -> Mark {
        let join = &self.circuit.joins[at];
        let series = self.series(join.from);
        let lines = || self.wanted.iter().zip(&self.laid.lines).filter(|(wire, _)| wire.join == at);
        let strokes: Vec<Vec<Point>> = lines().map(|(_, line)| softened(line, self.scale.pitch)).collect();
        let mut marks = vec![Mark::Path { class: Class::Wire(series, join.known), strokes }];
        if join.known == Known::Matched {
            let ticks = lines().filter_map(|(_, line)| tick(line)).collect();
            marks.push(Mark::Path { class: Class::Tick(series), strokes: ticks });
        }
        let loose = lines().filter(|(wire, _)| wire.to.is_none()).filter_map(|(_, line)| line.last());
        marks.extend(loose.map(|end| Mark::Circle {
            class: Class::Tick(series),
            centre: *end,
            radius: 0.4 * self.scale.pitch,
        }));
        Mark::Group(marks)
    }

    fn part(&self, part: usize) -> Mark {
        let stand = &self.layout.stands[part];
        let shape = &stand.shape;
        let mut marks: Vec<Mark> = shape
            .discs
            .iter()
            .map(|(at, radius)| Mark::Circle {
                class: Class::Outline,
                centre: plus(stand.at, *at),
                radius: *radius,
            })
            .collect();
        let tags = shape.spots.iter().map(|spot| vec![spot.root, spot.at]);
        let strokes: Vec<Vec<Point>> = shape
            .strokes
            .iter()
            .cloned()
            .chain(tags)
            .map(|stroke| stroke.into_iter().map(|point| plus(stand.at, point)).collect())
            .collect();
        marks.push(Mark::Path { class: Class::Outline, strokes });
        marks.extend(self.words(stand));
        for (lug, spot) in shape.spots.iter().enumerate() {
            let tip = Tip { part, lug };
            marks.push(Mark::Circle {
                class: Class::Lug,
                centre: plus(stand.at, spot.at),
                radius: LUG * self.scale.pitch,
            });
            marks.extend(self.lug_words(tip, plus(stand.at, spot.label)));
        }
        Mark::Group(marks)
    }

    fn words(&self, stand: &Stand) -> Vec<Mark> {
        let shape = &stand.shape;
        let height: f64 = shape.words.iter().map(|words| line_height(words.face, self.scale)).sum();
        let mut top = stand.at.y + shape.words_at.y - height / 2.0;
        let set = shape.words.iter().map(|words| {
            let (class, size) = match words.face {
                Face::Serif => (Class::Name, self.scale.name_type),
                Face::Sans => (Class::Value, self.scale.lug_type),
            };
            let line = line_height(words.face, self.scale);
            // The base line stands about a quarter of the type size above the foot of the line.
            let at = Point::new(stand.at.x + shape.words_at.x, top + line - 0.27 * size);
            top += line;
            Mark::Text { class, at, anchor: Anchor::Middle, text: words.text.clone() }
        });
        set.collect()
    }

    /// The number of a lug and the letter of what is joined to it, side by side.
    fn lug_words(&self, tip: Tip, at: Point) -> Vec<Mark> {
        let (name, letter) = lug_text(self.circuit, &self.nets, tip);
        let size = self.scale.lug_type;
        let wide = |text: &str| width(text, Face::Sans, size);
        let between = if name.is_empty() || letter.is_empty() { 0.0 } else { 0.35 * size };
        let left = at.x - (wide(&name) + between + wide(&letter)) / 2.0;
        let base = at.y + 0.36 * size;
        let letter_at = Point::new(left + wide(&name) + between, base);
        let text = |class, at, text| Mark::Text { class, at, anchor: Anchor::Start, text };
        [
            text(Class::Value, Point::new(left, base), name),
            text(Class::WireName(self.series(tip)), letter_at, letter),
        ]
        .into_iter()
        .filter(|mark| !matches!(mark, Mark::Text { text, .. } if text.is_empty()))
        .collect()
    }

    /// Room that the strokes across matched lines and the open ends of loose ones take.
    fn ticks(&self) -> Vec<Box2> {
        let lines = self.wanted.iter().zip(&self.laid.lines);
        let small = lines.filter_map(|(wire, line)| {
            if wire.to.is_none() {
                return line.last().copied();
            }
            let matched = self.circuit.joins[wire.join].known == Known::Matched;
            let stroke = matched.then(|| tick(line)).flatten()?;
            Some(Point::new((stroke[0].x + stroke[1].x) / 2.0, (stroke[0].y + stroke[1].y) / 2.0))
        });
        small.map(|at| Box2 { left: at.x, top: at.y, right: at.x, bottom: at.y }.grown(TICK)).collect()
    }

    /// Letters, figures and question marks beside the wires.
    fn beside(&self) -> Vec<Mark> {
        let size = self.scale.lug_type;
        let read = |text: String| {
            let wide = width(&text, Face::Sans, size);
            (text, wide)
        };
        let texts: Vec<Beside> = self
            .wanted
            .iter()
            .enumerate()
            .map(|(line, wire)| {
                let join = &self.circuit.joins[wire.join];
                let letter = self.nets.letter(join.from).unwrap_or_default();
                let unknown = join.known == Known::Unknown;
                let readings = match (unknown, join.note.is_empty()) {
                    (true, _) => vec![read(format!("{letter}?")), read("?".to_owned())],
                    (false, true) => vec![read(letter)],
                    (false, false) => {
                        vec![read(format!("{letter} {}", join.note)), read(join.note.clone()), read(letter)]
                    }
                };
                Beside { line, readings, needed: unknown }
            })
            .collect();
        let height = 0.95 * size;
        let pitch = self.scale.pitch;
        let way = InTheWay {
            boxes: self.layout.stands.iter().map(Stand::bounds).chain(self.ticks()).collect(),
            lines: &self.laid.lines,
            frame: Box2 {
                left: pitch / 2.0,
                top: pitch / 2.0,
                right: self.layout.width - pitch / 2.0,
                bottom: self.layout.height - pitch / 2.0,
            },
        };
        let mark = |set: Set| {
            let series = self.series(self.wanted[set.line].from);
            let at = Point::new((set.place.left + set.place.right) / 2.0, set.place.bottom - 0.12 * size);
            Mark::Text { class: Class::WireName(series), at, anchor: Anchor::Middle, text: set.text }
        };
        set(&texts, height, way).into_iter().map(mark).collect()
    }

    /// The lines that occur, with what they say, below the drawing; and how high the whole becomes.
    fn key(&self) -> (Vec<Mark>, f64) {
        let (size, line) = (self.scale.lug_type, 1.6 * self.scale.lug_type);
        let mut marks = Vec::new();
        let left = 3.0 * self.scale.pitch;
        let (mut x, mut y) = (left, self.layout.height + line / 2.0);
        let occurs = |known: &Known| self.circuit.sound_joins().any(|(_, join)| join.known == *known);
        for known in Known::ALL.into_iter().filter(occurs) {
            let words = known.words();
            let wide = SAMPLE + 6.0 + width(words, Face::Sans, size) + 18.0;
            if x > left && x + wide > self.layout.width {
                (x, y) = (left, y + line);
            }
            let sample = vec![Point::new(x, y), Point::new(x + SAMPLE, y)];
            if known == Known::Matched {
                marks.extend(
                    tick(&sample)
                        .map(|stroke| Mark::Path { class: Class::Tick(Series::A), strokes: vec![stroke] }),
                );
            }
            marks.push(Mark::Line { class: Class::Sample(known), from: sample[0], to: sample[1] });
            marks.push(Mark::Text {
                class: Class::Value,
                at: Point::new(x + SAMPLE + 6.0, y + 0.36 * size),
                anchor: Anchor::Start,
                text: words.to_owned(),
            });
            x += wide;
        }
        let height = if marks.is_empty() { self.layout.height } else { y + line };
        (marks, height)
    }
}

/// A short stroke across the longest piece of a line, in its middle.
fn tick(line: &[Point]) -> Option<Vec<Point>> {
    let long = |ends: &&[Point]| libm::hypot(ends[0].x - ends[1].x, ends[0].y - ends[1].y);
    let ends = line.windows(2).max_by(|a, b| long(a).total_cmp(&long(b)))?;
    let (a, b, length) = (ends[0], ends[1], long(&ends));
    if length == 0.0 {
        return None;
    }
    let middle = Point::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
    let (x, y) = ((a.y - b.y) / length * TICK, (b.x - a.x) / length * TICK);
    Some(vec![Point::new(middle.x - x, middle.y - y), Point::new(middle.x + x, middle.y + y)])
}

/// A line with its corners rounded, as a lead bends.
fn softened(line: &[Point], pitch: f64) -> Vec<Point> {
    let mut soft = Vec::new();
    for (at, point) in line.iter().enumerate() {
        let (Some(before), Some(after)) = (at.checked_sub(1).map(|at| line[at]), line.get(at + 1)) else {
            soft.push(*point);
            continue;
        };
        let towards = |other: Point| {
            let far = libm::hypot(other.x - point.x, other.y - point.y);
            let reach = (0.75 * pitch).min(far / 2.0) / far.max(1e-9);
            Point::new(point.x + reach * (other.x - point.x), point.y + reach * (other.y - point.y))
        };
        let (first, last) = (towards(before), towards(*after));
        // A quadratic curve with the corner as its handle.
        for step in 0..=3 {
            let t = f64::from(step) / 3.0;
            let mix =
                |a: f64, b: f64, c: f64| (1.0 - t) * (1.0 - t) * a + 2.0 * t * (1.0 - t) * b + t * t * c;
            soft.push(Point::new(mix(first.x, point.x, last.x), mix(first.y, point.y, last.y)));
        }
    }
    soft
}
