//! Where the parts stand: in rows by rule, or where a photograph shows them.

use super::nets::Nets;
use super::outline::{Scale, Shape, plus, shape};
use super::{Circuit, Outline, Part, Tip};
use crate::labels::Box2;
use crate::mark::{Point, Size};

/// A part in its place.
#[derive(Debug, Clone)]
pub(super) struct Stand {
    pub(super) shape: Shape,
    pub(super) at: Point,
}

/// All parts in their places.
#[derive(Debug, Clone)]
pub(super) struct Layout {
    pub(super) stands: Vec<Stand>,
    pub(super) width: f64,
    pub(super) height: f64,
}

/// A part and how it is turned, in eighths of a turn.
pub(super) type Turned = (usize, u8);

impl Stand {
    pub(super) fn bounds(&self) -> Box2 {
        self.shape.bounds.moved(self.at)
    }
}

impl Layout {
    pub(super) fn lug(&self, tip: Tip) -> Point {
        let stand = &self.stands[tip.part];
        plus(stand.at, stand.shape.spots[tip.lug].at)
    }

    /// The same with left and right changed, parts and all, as it looks from the other side.
    pub(super) fn mirrored(mut self) -> Self {
        for stand in &mut self.stands {
            stand.at.x = self.width - stand.at.x;
            stand.shape.mirror();
        }
        self
    }
}

/// Lets the makers of plans and routes share what a drawing is made for.
pub(super) struct Room<'a> {
    pub(super) circuit: &'a Circuit,
    pub(super) scale: Scale,
    pub(super) width: f64,
    /// Every part as it stands by itself, and with half a turn.
    shapes: Vec<[Shape; 2]>,
    nets: &'a Nets,
}

impl<'a> Room<'a> {
    pub(super) fn new(circuit: &'a Circuit, nets: &'a Nets, size: Size) -> Self {
        let scale = Scale::of(size);
        let both = |part| [0, 4].map(|turn| shape(circuit, nets, part, turn, scale));
        let shapes: Vec<[Shape; 2]> = (0..circuit.parts.len()).map(both).collect();
        // A part wider than the page makes the page wider: nothing is cut off.
        let widest =
            shapes.iter().map(|[shape, _]| shape.bounds.right - shape.bounds.left).fold(0.0, f64::max);
        let width = size.width().max(widest + 2.0 * MARGIN * scale.pitch);
        Self { circuit, scale, width, shapes, nets }
    }

    fn shape(&self, (part, turn): Turned) -> Shape {
        match turn {
            0 => self.shapes[part][0].clone(),
            4 => self.shapes[part][1].clone(),
            other => shape(self.circuit, self.nets, part, other, self.scale),
        }
    }

    fn wide(&self, part: usize) -> f64 {
        let bounds = self.shapes[part][0].bounds;
        bounds.right - bounds.left
    }

    pub(super) fn may_turn(&self, part: usize) -> bool {
        self.shapes[part][0].turns
    }

    fn on_grid(&self, length: f64) -> f64 {
        (length / self.scale.pitch).round() * self.scale.pitch
    }
}

/// Free lanes along the edge of the drawing.
const MARGIN: f64 = 3.0;
/// Free lanes between neighbours in a row, at least.
const BESIDE: f64 = 5.0;

/// How early a part meets the signal.
pub(super) fn rank(part: &Part) -> u8 {
    match part.outline {
        Outline::Strings | Outline::Plate => 0,
        Outline::Coil => 1,
        Outline::Jack => 4,
        Outline::Pot => 3,
        _ => 2,
    }
}

/// Parts in rows, in the order given; `lanes` are kept free between two rows.
pub(super) fn rows(room: &Room<'_>, order: &[Turned], lanes: f64) -> Layout {
    let mut layout = Layout { stands: Vec::new(), width: room.width, height: 0.0 };
    let mut stands: Vec<(usize, Stand)> = Vec::new();
    let top = MARGIN.max(lanes / 2.0) * room.scale.pitch;
    let foot = lay(room, order, lanes, top, &mut stands);
    stands.sort_by_key(|(part, _)| *part);
    layout.height = foot + top;
    layout.stands = stands.into_iter().map(|(_, stand)| stand).collect();
    layout
}

/// Lays rows from `top` on, and answers where the last one ends.
fn lay(room: &Room<'_>, order: &[Turned], lanes: f64, top: f64, stands: &mut Vec<(usize, Stand)>) -> f64 {
    let pitch = room.scale.pitch;
    let usable = room.width - 2.0 * MARGIN * pitch;
    let mut row: Vec<Turned> = Vec::new();
    let mut filled = 0.0;
    let mut foot = top;
    let mut first = true;
    let mut close = |row: &mut Vec<Turned>, filled: f64| {
        if row.is_empty() {
            return;
        }
        let start = if first { foot } else { foot + lanes * pitch };
        first = false;
        let shapes: Vec<(usize, Shape)> =
            row.drain(..).map(|turned| (turned.0, room.shape(turned))).collect();
        let tall = |shape: &Shape| shape.bounds.bottom - shape.bounds.top;
        let row_height = shapes.iter().map(|(_, shape)| tall(shape)).fold(0.0, f64::max);
        let spare = usable - filled + BESIDE * pitch * (shapes.len() as f64 - 1.0);
        let beside = spare / (shapes.len() as f64 + 1.0);
        let mut left = MARGIN * pitch + beside;
        for (part, shape) in shapes {
            let wide = shape.bounds.right - shape.bounds.left;
            let upper = start + (row_height - tall(&shape)) / 2.0;
            let at = Point::new(
                room.on_grid(left - shape.bounds.left),
                (((upper - shape.bounds.top) / pitch).ceil()) * pitch,
            );
            foot = foot.max(at.y + shape.bounds.bottom);
            left += wide + beside;
            stands.push((part, Stand { shape, at }));
        }
    };
    let mut last_rank = None;
    for &turned in order {
        let rank = rank(&room.circuit.parts[turned.0]);
        let wide = room.wide(turned.0);
        let coils_end = last_rank.is_some_and(|last| last <= 1) && rank > 1;
        let longer = filled + wide + if row.is_empty() { 0.0 } else { BESIDE * pitch };
        if coils_end || longer > usable {
            close(&mut row, filled);
            filled = wide;
        } else {
            filled = longer;
        }
        row.push(turned);
        last_rank = Some(rank);
    }
    close(&mut row, filled);
    foot
}

/// Whether a photograph shows enough to place the parts by it.
pub(super) fn is_marked(circuit: &Circuit) -> bool {
    circuit.parts.iter().filter(|part| middle(part).is_some()).count() >= 2
}

/// Where a photograph shows a part: its own mark, or the middle of its lugs.
fn middle(part: &Part) -> Option<Point> {
    let lugs: Vec<Point> = part.lugs.iter().filter_map(|lug| lug.place).collect();
    part.place.or_else(|| mean(&lugs))
}

fn mean(points: &[Point]) -> Option<Point> {
    let count = points.len() as f64;
    let sum = points.iter().fold(Point::new(0.0, 0.0), |sum, point| plus(sum, *point));
    (!points.is_empty()).then(|| Point::new(sum.x / count, sum.y / count))
}

/// Parts as a photograph shows them, pushed apart where their names need the room; the rest in rows above and below.
pub(super) fn marked(room: &Room<'_>, order: &[Turned], lanes: f64) -> Layout {
    let pitch = room.scale.pitch;
    let mut shown: Vec<(usize, Shape, Point)> = room
        .circuit
        .parts
        .iter()
        .enumerate()
        .filter_map(|(at, part)| middle(part).map(|middle| (at, part, middle)))
        .map(|(at, part, middle)| {
            let shape = room.shape((at, best_turn(room, at, part, middle)));
            (at, shape, middle)
        })
        .collect();
    let rest = |above: bool| -> Vec<Turned> {
        let is_above = |part: usize| rank(&room.circuit.parts[part]) <= 1;
        let unseen = |(part, _): &&Turned| middle(&room.circuit.parts[*part]).is_none();
        order.iter().filter(unseen).filter(|(part, _)| is_above(*part) == above).copied().collect()
    };
    let mut stands = Vec::new();
    let top = MARGIN.max(lanes / 2.0) * pitch;
    let above = rest(true);
    let start = match above.is_empty() {
        true => top,
        false => lay(room, &above, lanes, top, &mut stands) + lanes * pitch,
    };
    spread(room, &mut shown, lanes);
    let upper = shown.iter().map(|(_, shape, at)| at.y + shape.bounds.top).fold(f64::INFINITY, f64::min);
    let mut foot = start;
    for (part, shape, at) in shown {
        let at = Point::new(room.on_grid(at.x), room.on_grid(at.y - upper + start + pitch));
        foot = foot.max(at.y + shape.bounds.bottom);
        stands.push((part, Stand { shape, at }));
    }
    let below = rest(false);
    if !below.is_empty() {
        foot = lay(room, &below, lanes, foot + lanes * pitch, &mut stands);
    }
    stands.sort_by_key(|(part, _)| *part);
    Layout {
        stands: stands.into_iter().map(|(_, stand)| stand).collect(),
        width: room.width,
        height: foot + top,
    }
}

/// The turn in which the lugs of an outline lie most as the photograph shows them.
fn best_turn(room: &Room<'_>, at: usize, part: &Part, middle: Point) -> u8 {
    let turns: &[u8] = match part.outline {
        Outline::Rotary => &[0, 1, 2, 3, 4, 5, 6, 7],
        _ => &[0, 4],
    };
    let apart = |turn: u8| {
        let shape = room.shape((at, turn));
        let seen = part.lugs.iter().zip(&shape.spots);
        seen.filter_map(|(lug, spot)| {
            let place = lug.place?;
            let (x, y) = (place.x - middle.x, place.y - middle.y);
            let (far, reach) = (libm::hypot(x, y), libm::hypot(spot.at.x, spot.at.y));
            (far > 0.0 && reach > 0.0).then(|| 1.0 - (x * spot.at.x + y * spot.at.y) / (far * reach))
        })
        .sum::<f64>()
    };
    turns.iter().copied().min_by(|a, b| apart(*a).total_cmp(&apart(*b))).unwrap_or(0)
}

/// Rounds of pushing before the rest is set under each other.
const ROUNDS: usize = 300;
/// A photograph of one corner is not blown up further than to this many widths.
const MOST_BLOWN_UP: f64 = 4.0;

/// Brings the marks to the scale of the drawing and pushes the parts apart until no two come too close.
fn spread(room: &Room<'_>, shown: &mut [(usize, Shape, Point)], lanes: f64) {
    let pitch = room.scale.pitch;
    let apart = BESIDE.max(lanes * 0.75) * pitch;
    let low = shown.iter().map(|(_, _, at)| at.x).fold(f64::INFINITY, f64::min);
    let high = shown.iter().map(|(_, _, at)| at.x).fold(f64::NEG_INFINITY, f64::max);
    let inner = room.width - 2.0 * MARGIN * pitch;
    let scale = (inner / (high - low).max(1e-6)).min(MOST_BLOWN_UP * room.width);
    let clamp = |shape: &Shape, x: f64| {
        let (least, most) =
            (MARGIN * pitch - shape.bounds.left, room.width - MARGIN * pitch - shape.bounds.right);
        x.max(least).min(most.max(least))
    };
    let centre = (low + high) / 2.0;
    for (_, shape, at) in shown.iter_mut() {
        *at = Point::new(clamp(shape, room.width / 2.0 + (at.x - centre) * scale), at.y * scale);
    }
    for _ in 0..ROUNDS {
        let mut still = true;
        for one in 0..shown.len() {
            for other in one + 1..shown.len() {
                let (a, b) =
                    (shown[one].1.bounds.moved(shown[one].2), shown[other].1.bounds.moved(shown[other].2));
                let over_x = a.right.min(b.right) - a.left.max(b.left) + apart;
                let over_y = a.bottom.min(b.bottom) - a.top.max(b.top) + apart;
                if over_x <= 0.5 || over_y <= 0.5 {
                    continue;
                }
                still = false;
                let (dx, dy) = (shown[other].2.x - shown[one].2.x, shown[other].2.y - shown[one].2.y);
                let sideways = over_x < over_y && over_x < inner / 3.0;
                let push = if sideways {
                    Point::new(over_x / 2.0 * sign(dx), 0.0)
                } else {
                    Point::new(0.0, over_y / 2.0 * sign(dy))
                };
                for (at, way) in [(one, -1.0), (other, 1.0)] {
                    let moved = Point::new(shown[at].2.x + way * push.x, shown[at].2.y + way * push.y);
                    shown[at].2 = Point::new(clamp(&shown[at].1, moved.x), moved.y);
                }
            }
        }
        if still {
            break;
        }
    }
    settle(shown, apart);
}

/// Sets what still comes too close further down: from the top, each below all before it that stand in its way.
fn settle(shown: &mut [(usize, Shape, Point)], apart: f64) {
    let mut down: Vec<usize> = (0..shown.len()).collect();
    down.sort_by(|a, b| shown[*a].2.y.total_cmp(&shown[*b].2.y));
    for at in 1..down.len() {
        let (before, rest) = down.split_at(at);
        let this = rest[0];
        loop {
            let box_of = |at: usize| shown[at].1.bounds.moved(shown[at].2);
            let mine = box_of(this).grown(apart - 1.0);
            let Some(foot) = before
                .iter()
                .map(|other| box_of(*other))
                .filter(|other| other.meets(&mine))
                .map(|other| other.bottom)
                .reduce(f64::max)
            else {
                break;
            };
            shown[this].2.y = foot + apart - shown[this].1.bounds.top;
        }
    }
}

fn sign(value: f64) -> f64 {
    if value < 0.0 { -1.0 } else { 1.0 }
}
