//! Where the name of a curve can stand: beside its own line, away from every other, on no other name, in the frame.

use crate::mark::Point;

/// An upright box in the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Box2 {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Box2 {
    pub(crate) fn grown(&self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    pub(crate) fn moved(&self, by: Point) -> Self {
        Self {
            left: self.left + by.x,
            top: self.top + by.y,
            right: self.right + by.x,
            bottom: self.bottom + by.y,
        }
    }

    /// The same box after half a turn round the origin.
    pub(crate) fn turned(&self) -> Self {
        Self { left: -self.right, top: -self.bottom, right: -self.left, bottom: -self.top }
    }

    /// The same box with left and right changed, round the origin.
    pub(crate) fn mirrored(&self) -> Self {
        Self { left: -self.right, right: -self.left, ..*self }
    }

    /// The least box that holds this one and a point.
    pub(crate) fn with(&self, point: Point) -> Self {
        Self {
            left: self.left.min(point.x),
            top: self.top.min(point.y),
            right: self.right.max(point.x),
            bottom: self.bottom.max(point.y),
        }
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// The strokes of one curve, and the size of the name it wants.
pub(crate) struct Wanted<'a> {
    pub(crate) strokes: &'a [Vec<Point>],
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// Width of the columns in which lines and boxes are compared.
const COLUMN: f64 = 2.0;
/// Between a name and its own line.
const GAP: f64 = 3.0;
/// Between two names.
const APART: f64 = 1.5;
/// Between a name and any other line: so much more than the gap that nobody takes the name for that line's. It follows
/// that where two lines run together neither gets its name.
const CLEAR: f64 = 8.0;
/// Room around a name beyond which more room is no gain.
const ROOMY: f64 = 30.0;

/// For each column, the highest and the lowest place of a curve in it.
type Columns = Vec<Option<(f64, f64)>>;

#[derive(Clone, Copy)]
struct Spot {
    place: Box2,
    cost: f64,
}

/// Chooses a box for each name, or `None` where there is no place beside the line. The result depends on nothing
/// but the input.
///
/// Names are set one after the other, each at its cheapest spot that is still free. That is tried once with each
/// curve first, and the best of these rounds stands.
pub(crate) fn arrange(wanted: &[Wanted<'_>], frame: Box2) -> Vec<Option<Box2>> {
    let columns: Vec<Columns> = wanted.iter().map(|want| columns_of(want.strokes, frame)).collect();
    let spots: Vec<Vec<Spot>> =
        (0..wanted.len()).map(|own| spots_of(own, &wanted[own], &columns, frame)).collect();
    let rounds = (0..wanted.len()).map(|first| one_round(first, &spots));
    let best = rounds.min_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or_else(Vec::new, |(_, places)| places)
}

fn one_round(first: usize, spots: &[Vec<Spot>]) -> (f64, Vec<Option<Box2>>) {
    let mut places: Vec<Option<Box2>> = vec![None; spots.len()];
    let mut total = 0.0;
    for step in 0..spots.len() {
        let own = (first + step) % spots.len();
        let free = |spot: &&Spot| places.iter().flatten().all(|taken| !taken.meets(&spot.place.grown(APART)));
        let cheapest = spots[own].iter().filter(free).min_by(|a, b| a.cost.total_cmp(&b.cost)).copied();
        // A name without a place costs more than any place does.
        total += cheapest.map_or(1e6, |spot| spot.cost);
        places[own] = cheapest.map(|spot| spot.place);
    }
    (total, places)
}

fn columns_of(strokes: &[Vec<Point>], frame: Box2) -> Columns {
    let count = libm::ceil((frame.right - frame.left) / COLUMN) as usize;
    let mut columns: Columns = vec![None; count];
    for pair in strokes.iter().flat_map(|stroke| stroke.windows(2)) {
        let (from, to) = (pair[0], pair[1]);
        let first = libm::floor((from.x - frame.left) / COLUMN).max(0.0) as usize;
        let last = libm::floor((to.x - frame.left) / COLUMN).max(0.0) as usize;
        for (index, column) in columns.iter_mut().enumerate().take(last + 1).skip(first) {
            let edge = frame.left + index as f64 * COLUMN;
            let at = |x: f64| from.y + (x - from.x) / (to.x - from.x) * (to.y - from.y);
            let upright = to.x <= from.x;
            let ends =
                if upright { [from.y, to.y] } else { [at(edge.max(from.x)), at((edge + COLUMN).min(to.x))] };
            let (high, low) = column.unwrap_or((ends[0], ends[0]));
            *column = Some((high.min(ends[0]).min(ends[1]), low.max(ends[0]).max(ends[1])));
        }
    }
    columns
}

fn spots_of(own: usize, want: &Wanted<'_>, columns: &[Columns], frame: Box2) -> Vec<Spot> {
    let span = libm::ceil(want.width / COLUMN) as usize;
    let count = columns[own].len();
    if span > count {
        return Vec::new();
    }
    let starts = (0..=count - span).step_by(2);
    starts
        .flat_map(|start| {
            [true, false].map(|above| spot(own, want, columns, frame, start..start + span, above))
        })
        .flatten()
        .collect()
}

/// The spot that touches its own line from above or below over the given columns, and what it costs.
fn spot(
    own: usize,
    want: &Wanted<'_>,
    columns: &[Columns],
    frame: Box2,
    span: std::ops::Range<usize>,
    above: bool,
) -> Option<Spot> {
    let line: Vec<(f64, f64)> = columns[own][span.clone()].iter().copied().collect::<Option<_>>()?;
    let left = frame.left + span.start as f64 * COLUMN;
    let top = if above {
        line.iter().fold(f64::INFINITY, |best, column| best.min(column.0)) - GAP - want.height
    } else {
        line.iter().fold(f64::NEG_INFINITY, |best, column| best.max(column.1)) + GAP
    };
    let place = Box2 { left, top, right: left + want.width, bottom: top + want.height };
    if place.top < frame.top || place.bottom > frame.bottom || place.right > frame.right {
        return None;
    }
    let reach = |column: &(f64, f64)| if above { column.0 - place.bottom } else { place.top - column.1 };
    let looseness = line.iter().map(reach).sum::<f64>() / line.len() as f64;
    let mut room = ROOMY;
    // A line that passes just beside the name is as near as one that passes over it.
    let (begin, end) = (span.start.saturating_sub(2), (span.end + 2).min(columns[own].len()));
    for (_, others) in columns.iter().enumerate().filter(|(index, _)| *index != own) {
        for other in others[begin..end].iter().flatten() {
            room = room.min((other.0 - place.bottom).max(place.top - other.1));
        }
    }
    if room < CLEAR {
        return None;
    }
    // A roomy spot reads best; a name far from its line, as on a steep slope, reads worst.
    Some(Spot { place, cost: looseness - 0.8 * room })
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Box2 = Box2 { left: 0.0, top: 0.0, right: 200.0, bottom: 100.0 };

    fn level(y: f64) -> Vec<Vec<Point>> {
        vec![vec![Point::new(0.0, y), Point::new(200.0, y)]]
    }

    #[test]
    fn names_keep_to_the_frame_and_off_each_other() {
        let lines = [level(40.0), level(60.0), level(90.0)];
        let wanted: Vec<Wanted<'_>> =
            lines.iter().map(|strokes| Wanted { strokes, width: 80.0, height: 14.0 }).collect();
        let places: Vec<Box2> = arrange(&wanted, FRAME).into_iter().flatten().collect();
        assert_eq!(places.len(), 3);
        for (index, place) in places.iter().enumerate() {
            assert!(place.left >= 0.0 && place.right <= 200.0 && place.top >= 0.0 && place.bottom <= 100.0);
            assert!(places[index + 1..].iter().all(|other| !place.meets(other)));
        }
    }

    #[test]
    fn a_line_hemmed_in_on_both_sides_gets_no_name_beside_it() {
        let lines = [level(45.0), level(50.0), level(55.0)];
        let wanted: Vec<Wanted<'_>> =
            lines.iter().map(|strokes| Wanted { strokes, width: 80.0, height: 14.0 }).collect();
        let places = arrange(&wanted, FRAME);
        assert!(places[0].is_some() && places[1].is_none() && places[2].is_some());
    }

    #[test]
    fn a_name_wider_than_the_frame_gets_no_place() {
        let strokes = level(50.0);
        assert_eq!(arrange(&[Wanted { strokes: &strokes, width: 300.0, height: 14.0 }], FRAME), [None]);
    }
}
