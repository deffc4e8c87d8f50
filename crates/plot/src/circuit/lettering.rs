//! What stands beside the wires: the letter, what the meter showed, a question mark. Never on a part, on a text or on
//! another wire, so that it cannot be taken for that wire's.

use crate::labels::Box2;
use crate::mark::Point;

/// A text that is to stand beside a line.
#[derive(Debug, Clone)]
pub(super) struct Beside {
    /// The line's place among the lines.
    pub(super) line: usize,
    /// What it may read, the fullest first, with how wide each is.
    pub(super) readings: Vec<(String, f64)>,
    /// Whether it has to be set even where there is no good room.
    pub(super) needed: bool,
}

/// A text in its place: its box, and what it reads.
#[derive(Debug, Clone)]
pub(super) struct Set {
    pub(super) line: usize,
    pub(super) place: Box2,
    pub(super) text: String,
}

/// Between a line and what is written beside it.
const GAP: f64 = 2.0;
/// Room kept free around a text.
const CLEAR: f64 = 1.5;

/// What is in the way of texts.
pub(super) struct InTheWay<'a> {
    pub(super) boxes: Vec<Box2>,
    pub(super) lines: &'a [Vec<Point>],
    pub(super) frame: Box2,
}

/// Finds a place for each text: needed ones first, then in the order of the lines.
pub(super) fn set(texts: &[Beside], height: f64, mut way: InTheWay<'_>) -> Vec<Set> {
    let mut order: Vec<&Beside> = texts.iter().collect();
    order.sort_by_key(|text| (!text.needed, text.line));
    let mut placed = Vec::new();
    for text in order {
        let found = text.readings.iter().find_map(|(read, wide)| {
            let spots = spots(&way.lines[text.line], *wide, height);
            spots.into_iter().find(|spot| way.is_free(*spot, text.line)).map(|spot| (read, spot))
        });
        let found = found.or_else(|| {
            let (read, wide) = text.readings.last().filter(|_| text.needed)?;
            let spots = spots(&way.lines[text.line], *wide, height).into_iter();
            let least = |spot: &Box2| way.met(*spot, text.line);
            Some((read, spots.min_by_key(least)?))
        });
        if let Some((read, place)) = found {
            way.boxes.push(place);
            placed.push(Set { line: text.line, place, text: read.clone() });
        }
    }
    placed
}

/// Places beside a line, the longest piece first, its middle first.
fn spots(line: &[Point], wide: f64, height: f64) -> Vec<Box2> {
    let mut pieces: Vec<(Point, Point)> = line.windows(2).map(|ends| (ends[0], ends[1])).collect();
    let long = |(a, b): &(Point, Point)| libm::hypot(a.x - b.x, a.y - b.y);
    pieces.sort_by(|a, b| long(b).total_cmp(&long(a)));
    let mut spots = Vec::new();
    for (a, b) in pieces {
        for share in [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9] {
            let at = Point::new(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y));
            let across = (a.y - b.y).abs() < (a.x - b.x).abs();
            for side in [-1.0, 1.0] {
                let middle = match across {
                    true => Point::new(at.x, at.y + side * (height / 2.0 + GAP)),
                    false => Point::new(at.x - side * (wide / 2.0 + GAP + 1.0), at.y),
                };
                spots.push(Box2 {
                    left: middle.x - wide / 2.0,
                    top: middle.y - height / 2.0,
                    right: middle.x + wide / 2.0,
                    bottom: middle.y + height / 2.0,
                });
            }
        }
    }
    spots
}

impl InTheWay<'_> {
    fn is_free(&self, spot: Box2, own: usize) -> bool {
        self.met(spot, own) == 0
    }

    /// How much a place meets: a wire counts one, what is read or the frame counts a hundred.
    fn met(&self, spot: Box2, own: usize) -> usize {
        let roomy = spot.grown(CLEAR);
        let texts = self.boxes.iter().filter(|other| other.meets(&roomy)).count();
        let frame = &self.frame;
        let outside = spot.left < frame.left
            || spot.right > frame.right
            || spot.top < frame.top
            || spot.bottom > frame.bottom;
        let wires = self.lines.iter().enumerate().filter(|(at, line)| {
            let room = if *at == own { spot } else { roomy };
            line.windows(2).any(|ends| crosses(&room, ends[0], ends[1]))
        });
        100 * (texts + usize::from(outside)) + wires.count()
    }
}

/// Whether a straight piece runs through a box (the method of Liang and Barsky, ACM Trans. Graph. 3 (1984) 1).
pub(super) fn crosses(room: &Box2, a: Point, b: Point) -> bool {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (step, before) in
        [(-dx, a.x - room.left), (dx, room.right - a.x), (-dy, a.y - room.top), (dy, room.bottom - a.y)]
    {
        if step == 0.0 {
            if before <= 0.0 {
                return false;
            }
            continue;
        }
        let at = before / step;
        if step < 0.0 { enters = enters.max(at) } else { leaves = leaves.min(at) }
    }
    enters < leaves
}
