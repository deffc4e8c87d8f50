//! How a part looks: its outline, its lugs, and room for its name, all around its own middle.
//!
//! Sizes follow from what has to be read: a part is as large as its name, its value and the numbers of its lugs need.
//! Lugs stand on the rim and their numbers inside it, so that no wire can run over a number.

use super::nets::Nets;
use super::{Circuit, Outline, Part, Tip};
use crate::labels::Box2;
use crate::mark::{Point, Size};
use crate::text::{Face, width, wrap};

/// Type sizes and the pitch of the grid on which wires run.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    pub(super) pitch: f64,
    pub(super) lug_type: f64,
    pub(super) name_type: f64,
}

impl Scale {
    pub(super) fn of(size: Size) -> Self {
        let pitch = match size {
            Size::Narrow => 6.0,
            Size::Wide => 8.0,
        };
        Self { pitch, lug_type: size.lug_type(), name_type: size.name_type() }
    }

    /// From one base line to the next of small type.
    pub(super) fn line(self) -> f64 {
        1.25 * self.lug_type
    }

    fn up(self, length: f64) -> f64 {
        (length / self.pitch).ceil() * self.pitch
    }
}

/// What a wire keeps out of.
#[derive(Debug, Clone, Copy)]
pub(super) enum Solid {
    Disc { at: Point, radius: f64 },
    Block(Box2),
}

/// A lug on the rim.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub(super) at: Point,
    /// Unit vector that leads away from the part.
    pub(super) out: Point,
    /// Where its tag meets the outline.
    pub(super) root: Point,
    /// Middle of its number.
    pub(super) label: Point,
}

/// A line of text in the middle of a part.
#[derive(Debug, Clone)]
pub(super) struct Words {
    pub(super) text: String,
    pub(super) face: Face,
}

/// An outline around its own middle.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    pub(super) bounds: Box2,
    pub(super) strokes: Vec<Vec<Point>>,
    pub(super) discs: Vec<(Point, f64)>,
    pub(super) solids: Vec<Solid>,
    pub(super) spots: Vec<Spot>,
    pub(super) words: Vec<Words>,
    /// Middle of the words.
    pub(super) words_at: Point,
    /// Whether it may stand upside down in a plan, its lugs on the other side.
    pub(super) turns: bool,
}

/// Between what stands inside an outline and its rim.
const PAD: f64 = 5.0;
/// The longest line of a name before it is broken, in type sizes.
const LONGEST: f64 = 8.5;
/// Lugs that stand in one row before they are set in two columns.
const LONGEST_ROW: usize = 6;

/// The number and the letter of a lug as one text, for its width.
pub(super) fn lug_text(circuit: &Circuit, nets: &Nets, tip: Tip) -> (String, String) {
    let part = &circuit.parts[tip.part];
    let name = if part.lugs.len() == 1 { String::new() } else { part.lugs[tip.lug].name.clone() };
    (name, nets.letter(tip).unwrap_or_default())
}

pub(super) fn lug_text_width((name, letter): &(String, String), scale: Scale) -> f64 {
    let between = if name.is_empty() || letter.is_empty() { 0.0 } else { 0.35 * scale.lug_type };
    [name, letter].map(|text| width(text, Face::Sans, scale.lug_type)).iter().sum::<f64>() + between
}

/// The outline of a part, `turn` eighths of a turn clockwise from how it stands by itself.
pub(super) fn shape(circuit: &Circuit, nets: &Nets, part: usize, turn: u8, scale: Scale) -> Shape {
    let drawn = &circuit.parts[part];
    let widths: Vec<f64> = (0..drawn.lugs.len())
        .map(|lug| lug_text_width(&lug_text(circuit, nets, Tip { part, lug }), scale))
        .collect();
    let made = Maker { part: drawn, widths, words: words(drawn, scale), scale };
    match drawn.outline {
        Outline::Rotary => made.ring(turn),
        Outline::Pot if drawn.lugs.len() >= 3 => made.can().turned(turn),
        _ => made.plate().turned(turn),
    }
}

fn words(part: &Part, scale: Scale) -> Vec<Words> {
    let room = LONGEST * scale.name_type;
    let set = |text: &str, face, size| {
        wrap(text, face, size, room).into_iter().map(move |text| Words { text, face })
    };
    set(&part.name, Face::Serif, scale.name_type)
        .chain(set(&part.value, Face::Sans, scale.lug_type))
        .collect()
}

/// Height of a line of words from one to the next.
pub(super) fn line_height(face: Face, scale: Scale) -> f64 {
    match face {
        Face::Serif => 1.12 * scale.name_type,
        Face::Sans => 1.2 * scale.lug_type,
    }
}

struct Maker<'a> {
    part: &'a Part,
    /// Of the text at each lug.
    widths: Vec<f64>,
    words: Vec<Words>,
    scale: Scale,
}

impl Maker<'_> {
    fn words_width(&self) -> f64 {
        let wide = |words: &Words| match words.face {
            Face::Serif => width(&words.text, Face::Serif, self.scale.name_type),
            Face::Sans => width(&words.text, Face::Sans, self.scale.lug_type),
        };
        self.words.iter().map(wide).fold(0.0, f64::max)
    }

    fn words_height(&self) -> f64 {
        self.words.iter().map(|words| line_height(words.face, self.scale)).sum()
    }

    fn widest(&self, lugs: &[usize]) -> f64 {
        lugs.iter().map(|&lug| self.widths[lug]).fold(0.0, f64::max)
    }

    /// Between neighbours in a row of lugs: their texts stand apart, and three wires find room.
    fn step(&self, lugs: &[usize]) -> f64 {
        self.scale.up((self.widest(lugs) + 5.0).max(3.0 * self.scale.pitch))
    }

    /// A rotary switch: its lugs clockwise on a ring, the first at the foot.
    fn ring(self, turn: u8) -> Shape {
        let count = self.widths.len().max(1);
        let all: Vec<usize> = (0..self.widths.len()).collect();
        let tall = self.scale.line().max(self.widest(&all));
        let inner = libm::hypot(self.words_width() / 2.0, self.words_height() / 2.0);
        let round = count as f64 * (tall + 4.0) / core::f64::consts::TAU + tall / 2.0;
        let radius = (inner + self.widest(&all) + 2.0 * PAD).max(round);
        let tag = 0.8 * self.scale.pitch;
        let spots = (0..self.widths.len()).map(|lug| {
            let angle = core::f64::consts::TAU * (0.25 + f64::from(turn) / 8.0 + lug as f64 / count as f64);
            let out = Point::new(libm::cos(angle), libm::sin(angle));
            let inward = PAD + out.x.abs() * self.widths[lug] / 2.0 + out.y.abs() * self.scale.lug_type / 2.0;
            Spot {
                at: along(out, radius + tag),
                root: along(out, radius),
                label: along(out, radius - inward),
                out,
            }
        });
        let middle = Point::new(0.0, 0.0);
        Shape {
            bounds: around(middle, radius + tag, radius + tag),
            strokes: Vec::new(),
            discs: vec![(middle, radius)],
            solids: vec![Solid::Disc { at: middle, radius }],
            spots: spots.collect(),
            words_at: middle,
            words: self.words,
            turns: false,
        }
    }

    /// A pot from behind, lugs down: the can, the lugs counted from the right, and solder on the can's upper rim.
    fn can(self) -> Shape {
        let row: Vec<usize> = (0..self.widths.len().min(3)).collect();
        let (step, line) = (self.step(&row), self.scale.line());
        let has_case = self.widths.len() > 3;
        let half = step + self.widest(&row) / 2.0 + 2.0;
        let top = if has_case { line } else { 0.0 };
        let tall = top + self.words_height() + line;
        let wide = (self.words_width() / 2.0 + PAD).max(half);
        let radius = self.scale.up(libm::hypot(wide, (tall - line) / 2.0).max(tall / 2.0 + PAD));
        let foot = radius + 1.2 * self.scale.pitch;
        let label = tall / 2.0 - line / 2.0;
        let down = Point::new(0.0, 1.0);
        let mut spots: Vec<Spot> = row
            .iter()
            .map(|&lug| {
                let x = (1.0 - lug as f64) * step;
                Spot {
                    at: Point::new(x, foot),
                    out: down,
                    root: Point::new(x, (radius * radius - x * x).max(0.0).sqrt()),
                    label: Point::new(x, label),
                }
            })
            .collect();
        let up = Point::new(0.0, -1.0);
        for _ in 3..self.widths.len() {
            let rim = Point::new(0.0, -radius);
            spots.push(Spot {
                at: rim,
                out: up,
                root: rim,
                label: Point::new(0.0, -tall / 2.0 + line / 2.0 - 2.0),
            });
        }
        let side = step + 0.7 * self.scale.pitch;
        let block = Box2 { left: -side, top: 0.0, right: side, bottom: foot };
        Shape {
            bounds: Box2 { left: -radius, top: -radius, right: radius, bottom: foot },
            strokes: Vec::new(),
            discs: vec![(Point::new(0.0, 0.0), radius)],
            solids: vec![Solid::Disc { at: Point::new(0.0, 0.0), radius }, Solid::Block(block)],
            spots,
            words_at: Point::new(0.0, (top - line) / 2.0),
            words: self.words,
            turns: true,
        }
    }

    /// Which lugs stand on the upper and on the lower edge, on the left and on the right.
    fn edges(&self) -> [Vec<usize>; 4] {
        let all: Vec<usize> = (0..self.widths.len()).collect();
        let (first, second) = all.split_at(all.len().div_ceil(2));
        let columns = || [vec![], vec![], first.to_vec(), second.to_vec()];
        match self.part.outline {
            Outline::Capacitor | Outline::Resistor | Outline::Choke => {
                [first.to_vec(), second.to_vec(), vec![], vec![]]
            }
            Outline::Lever => {
                let pole = |lug: &usize| self.part.lugs[*lug].name.chars().next();
                let (lower, upper): (Vec<usize>, Vec<usize>) = all
                    .iter()
                    .partition(|lug| pole(lug) == pole(&0) || pole(lug).is_some_and(char::is_numeric));
                if lower.len().max(upper.len()) > LONGEST_ROW {
                    columns()
                } else {
                    [upper, lower, vec![], vec![]]
                }
            }
            Outline::Coil | Outline::Jack | Outline::Strings | Outline::Plate | Outline::Post
                if all.len() <= LONGEST_ROW =>
            {
                [vec![], all, vec![], vec![]]
            }
            _ => columns(),
        }
    }

    /// A part whose lugs stand on the edges of a plate.
    fn plate(self) -> Shape {
        let scale = self.scale;
        let edges = self.edges();
        let [upper, lower, left, right] = &edges;
        let row = |lugs: &[usize]| if lugs.is_empty() { 0.0 } else { scale.line() };
        let pitch = scale.up((scale.line() + 2.0).max(3.0 * scale.pitch));
        let rows = left.len().max(right.len()) as f64;
        let crown = if self.has_crown() { 2.6 * scale.pitch } else { 0.0 };
        // Round ends, and the holes of a lever's frame, lie beside what is read.
        let ends = [Outline::Coil, Outline::Lever].contains(&self.part.outline);
        let round = if ends { 2.5 * scale.pitch } else { 0.0 };
        let wide = (self.words_width() + 2.0 * PAD)
            .max(upper.len() as f64 * self.step(upper))
            .max(lower.len() as f64 * self.step(lower))
            .max(self.widest(left) + self.widest(right) + 4.0 * PAD)
            + 2.0 * round;
        let tall = 2.0 * PAD + row(upper) + crown + self.words_height() + rows * pitch + row(lower);
        let half = Point::new(scale.up(wide / 2.0), scale.up(tall / 2.0));
        let words_at = Point::new(0.0, -half.y + PAD + row(upper) + crown + self.words_height() / 2.0);
        let crown_at = Point::new(0.0, -half.y + PAD + row(upper) + 1.1 * scale.pitch);
        let first_row = half.y - PAD - row(lower) - (rows - 0.5) * pitch;
        let mut spots = vec![None; self.widths.len()];
        for (lugs, y) in [(upper, -1.0), (lower, 1.0)] {
            for (at, &lug) in lugs.iter().enumerate() {
                let x = (at as f64 - (lugs.len() as f64 - 1.0) / 2.0) * self.step(lugs);
                spots[lug] = Some(self.on_rim(lug, Point::new(x, y * half.y), Point::new(0.0, y)));
            }
        }
        for (lugs, x) in [(left, -1.0), (right, 1.0)] {
            for (at, &lug) in lugs.iter().enumerate() {
                let y = first_row + at as f64 * pitch;
                spots[lug] = Some(self.on_rim(lug, Point::new(x * half.x, y), Point::new(x, 0.0)));
            }
        }
        let spots: Vec<Spot> = spots.into_iter().flatten().collect();
        let rim = Box2 { left: -half.x, top: -half.y, right: half.x, bottom: half.y };
        let (strokes, discs) = self.look(half, crown_at);
        let bounds = spots.iter().fold(rim, |bounds, spot| bounds.with(spot.at));
        Shape {
            bounds,
            strokes,
            discs,
            solids: vec![Solid::Block(rim)],
            spots,
            words_at,
            words: self.words,
            turns: left.is_empty() && right.is_empty(),
        }
    }

    fn on_rim(&self, lug: usize, root: Point, out: Point) -> Spot {
        let deep = out.x.abs() * self.widths[lug] / 2.0 + out.y.abs() * self.scale.lug_type / 2.0 + PAD - 1.0;
        let tag = 0.8 * self.scale.pitch;
        Spot { at: plus(root, along(out, tag)), out, root, label: plus(root, along(out, -deep)) }
    }

    fn has_crown(&self) -> bool {
        use Outline::{Jack, PushPull, Slide, Strings, Switch, Toggle};
        matches!(self.part.outline, Jack | PushPull | Slide | Strings | Switch | Toggle)
    }

    /// The strokes and circles that make a plate look like the thing itself.
    fn look(&self, half: Point, crown: Point) -> (Vec<Vec<Point>>, Vec<(Point, f64)>) {
        let p = self.scale.pitch;
        let line = |x1: f64, y1: f64, x2: f64, y2: f64| vec![Point::new(x1, y1), Point::new(x2, y2)];
        let rim = |corner: f64| rounded(half, corner);
        match self.part.outline {
            Outline::Coil => {
                let inner = Point::new(half.x - 2.5, half.y - 2.5);
                (vec![rim(2.5 * p), rounded(inner, 2.5 * p - 2.5)], vec![])
            }
            Outline::Capacitor => (vec![rim(1.6 * p)], vec![]),
            Outline::Resistor => (vec![chamfered(half, p)], vec![]),
            Outline::Choke => {
                let core = |x: f64| line(x, -half.y, x, half.y);
                (vec![rim(0.0), core(-half.x + 3.0), core(half.x - 3.0)], vec![])
            }
            Outline::Jack => (vec![rim(p)], vec![(crown, p), (crown, 0.5 * p)]),
            Outline::PushPull => (vec![rim(0.4 * p)], vec![(crown, p), (crown, 0.4 * p)]),
            Outline::Toggle => (
                vec![rim(0.4 * p), line(crown.x, crown.y, crown.x + 1.6 * p, crown.y)],
                vec![(crown, 0.7 * p)],
            ),
            Outline::Slide | Outline::Switch => {
                let slot = rounded_at(crown, Point::new(1.6 * p, 0.6 * p), 2.0);
                (
                    vec![rim(0.4 * p), slot, line(crown.x, crown.y - 0.6 * p, crown.x, crown.y + 0.6 * p)],
                    vec![],
                )
            }
            Outline::Strings => {
                let string = |at: i32| {
                    let y = crown.y + f64::from(at) * 0.5 * p;
                    line(-half.x, y, half.x, y)
                };
                (std::iter::once(rim(0.0)).chain((-1..=1).map(string)).collect(), vec![])
            }
            Outline::Plate => {
                let hatch = |at: f64| line(half.x - at * p, -half.y, half.x, -half.y + at * p);
                (vec![rim(0.0), hatch(0.8), hatch(1.6)], vec![])
            }
            Outline::Lever => {
                let holes = [-1.0, 1.0].map(|side| (Point::new(side * (half.x - 0.8 * p), 0.0), 0.35 * p));
                (vec![rim(0.4 * p)], holes.to_vec())
            }
            _ => (vec![rim(0.4 * p)], vec![]),
        }
    }
}

impl Shape {
    /// Half a turn puts the lugs on the other side; whatever reads stays upright.
    fn turned(mut self, turn: u8) -> Self {
        if turn != 4 {
            return self;
        }
        let back = |point: &mut Point| *point = Point::new(-point.x, -point.y);
        self.bounds = self.bounds.turned();
        self.strokes.iter_mut().flatten().for_each(back);
        self.discs.iter_mut().for_each(|(at, _)| back(at));
        back(&mut self.words_at);
        for spot in &mut self.spots {
            [&mut spot.at, &mut spot.out, &mut spot.root, &mut spot.label].into_iter().for_each(back);
        }
        for solid in &mut self.solids {
            match solid {
                Solid::Disc { at, .. } => back(at),
                Solid::Block(block) => *block = block.turned(),
            }
        }
        self
    }
}

impl Shape {
    /// Left and right changed, as it looks from the other side; whatever reads stays as it is.
    pub(super) fn mirror(&mut self) {
        self.bounds = self.bounds.mirrored();
        self.strokes.iter_mut().flatten().for_each(|point| point.x = -point.x);
        self.discs.iter_mut().for_each(|(at, _)| at.x = -at.x);
        self.words_at.x = -self.words_at.x;
        for spot in &mut self.spots {
            [&mut spot.at, &mut spot.out, &mut spot.root, &mut spot.label]
                .into_iter()
                .for_each(|point| point.x = -point.x);
        }
        for solid in &mut self.solids {
            match solid {
                Solid::Disc { at, .. } => at.x = -at.x,
                Solid::Block(block) => *block = block.mirrored(),
            }
        }
    }
}

pub(super) fn plus(a: Point, b: Point) -> Point {
    Point::new(a.x + b.x, a.y + b.y)
}

fn along(direction: Point, length: f64) -> Point {
    Point::new(direction.x * length, direction.y * length)
}

fn around(at: Point, half_width: f64, half_height: f64) -> Box2 {
    Box2 {
        left: at.x - half_width,
        top: at.y - half_height,
        right: at.x + half_width,
        bottom: at.y + half_height,
    }
}

fn rounded(half: Point, corner: f64) -> Vec<Point> {
    rounded_at(Point::new(0.0, 0.0), half, corner)
}

/// A closed rim with round corners.
fn rounded_at(at: Point, half: Point, corner: f64) -> Vec<Point> {
    let corner = corner.min(half.x).min(half.y);
    let steps = if corner > 4.0 { 8 } else { 3 };
    let mut rim = Vec::new();
    for (turn, (x, y)) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].into_iter().enumerate() {
        for step in 0..=steps {
            let angle = core::f64::consts::FRAC_PI_2 * (turn as f64 + f64::from(step) / f64::from(steps));
            rim.push(Point::new(
                at.x + x * (half.x - corner) + corner * libm::cos(angle),
                at.y + y * (half.y - corner) + corner * libm::sin(angle),
            ));
        }
    }
    rim.push(rim[0]);
    rim
}

/// A closed rim with its corners cut off.
fn chamfered(half: Point, cut: f64) -> Vec<Point> {
    let corner = |x: f64, y: f64, first_x: f64, first_y: f64| {
        [
            Point::new(x * (half.x - first_x), y * (half.y - first_y)),
            Point::new(x * (half.x - (cut - first_x)), y * (half.y - (cut - first_y))),
        ]
    };
    let mut rim: Vec<Point> = [
        corner(1.0, 1.0, 0.0, cut),
        corner(-1.0, 1.0, cut, 0.0),
        corner(-1.0, -1.0, 0.0, cut),
        corner(1.0, -1.0, cut, 0.0),
    ]
    .into_iter()
    .flatten()
    .collect();
    rim.push(rim[0]);
    rim
}
