//! Fewer points for the same line.

use crate::mark::Point;

/// A point this close to the line without it is not missed: a sixth of a pixel.
const UNSEEN: f64 = 0.15;

/// Leaves out the points that do not change how a stroke looks.
///
/// The farthest point from the straight line between the ends is kept, and so on for the two halves
/// (D. H. Douglas and T. K. Peucker, *Cartographica* 10 (1973) 112–122).
pub(crate) fn thin(stroke: &[Point]) -> Vec<Point> {
    let mut kept = vec![false; stroke.len()];
    let Some(end) = stroke.len().checked_sub(1) else { return Vec::new() };
    kept[0] = true;
    kept[end] = true;
    // A list of spans instead of recursion, which a long stroke would take too deep.
    let mut spans = vec![(0, end)];
    while let Some((first, last)) = spans.pop() {
        let distances =
            (first + 1..last).map(|index| (index, distance(stroke[index], stroke[first], stroke[last])));
        let farthest = distances.max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((index, distance)) = farthest
            && distance > UNSEEN
        {
            kept[index] = true;
            spans.extend([(first, index), (index, last)]);
        }
    }
    stroke.iter().zip(kept).filter_map(|(point, keep)| keep.then_some(*point)).collect()
}

/// The distance of a point from the line through two others.
fn distance(point: Point, from: Point, to: Point) -> f64 {
    let (run, rise) = (to.x - from.x, to.y - from.y);
    let (right, down) = (point.x - from.x, point.y - from.y);
    let length = libm::hypot(run, rise);
    if length == 0.0 { libm::hypot(right, down) } else { (run * down - rise * right).abs() / length }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_stroke_needs_its_ends_only() {
        let stroke: Vec<Point> = (0..100).map(|x| Point::new(f64::from(x), 3.0 * f64::from(x))).collect();
        assert_eq!(thin(&stroke), [stroke[0], stroke[99]]);
    }

    #[test]
    fn a_corner_stays() {
        let stroke =
            [Point::new(0.0, 0.0), Point::new(5.0, 0.1), Point::new(10.0, 8.0), Point::new(20.0, 0.0)];
        assert_eq!(thin(&stroke), [stroke[0], stroke[1], stroke[2], stroke[3]]);
        assert!(thin(&[]).is_empty());
    }
}
