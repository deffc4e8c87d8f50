//! One curve of levels over frequency: put in order, asked for a level, and cut to a window.

use asfound_measure::{Decibels, Hertz};

/// Beyond this a level is a computing accident: the quietest and the loudest thing that can be metered lie
/// 200 dB apart. Such a level is left out like one that is not finite.
const NO_LEVEL_BEYOND: f64 = 1000.0;

/// A named curve: levels at frequencies.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    label: String,
    /// Unbroken runs of (place along the axis, decibels), rising. A frequency's place is its decimal logarithm.
    runs: Vec<Vec<(f64, f64)>>,
    /// Between which levels the curve may lie: the low and the high edge.
    edges: Option<Box<[Curve; 2]>>,
}

impl Curve {
    /// A curve from points in any order. `label` is set on the line, so keep it to a few words.
    ///
    /// A point whose frequency is not a positive number is left out. Where a level is not finite (silence is minus
    /// infinity), or lies beyond ±1000 dB, the line breaks: joining over the gap would claim what is not known.
    pub fn new(label: impl Into<String>, points: impl IntoIterator<Item = (Hertz, Decibels)>) -> Self {
        let points = points.into_iter().map(|(frequency, level)| (frequency.value(), level.value()));
        let points = points.filter(|(frequency, _)| frequency.is_finite() && *frequency > 0.0);
        Self::placed(label.into(), points.map(|(frequency, level)| (libm::log10(frequency), level)).collect())
    }

    /// A curve of levels over the turn of a knob, 0 to 10, for [`crate::Plot::over_turn`]; else as [`new`](Self::new).
    pub fn over_turn(label: impl Into<String>, points: impl IntoIterator<Item = (f64, Decibels)>) -> Self {
        let points = points.into_iter().map(|(turn, level)| (turn, level.value()));
        Self::placed(label.into(), points.filter(|(turn, _)| turn.is_finite()).collect())
    }

    /// A curve from places along its axis, in any order.
    fn placed(label: String, mut points: Vec<(f64, f64)>) -> Self {
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let runs = points
            .split(|(_, level)| !level.is_finite() || level.abs() > NO_LEVEL_BEYOND)
            .filter(|run| !run.is_empty())
            .map(<[(f64, f64)]>::to_vec)
            .collect();
        let label = match label.trim() {
            "" => "unnamed".to_owned(),
            name => name.to_owned(),
        };
        Self { label, runs, edges: None }
    }

    /// The same curve with the levels between which it may lie, as (frequency, low, high) in any order. Drawn as a tinted
    /// band behind the line, told in the description, and set in the table as two more columns.
    #[must_use]
    pub fn between(mut self, points: impl IntoIterator<Item = (Hertz, Decibels, Decibels)>) -> Self {
        let points: Vec<_> = points.into_iter().collect();
        let low = Self::new(format!("{}, low", self.label), points.iter().map(|&(at, low, _)| (at, low)));
        let high = Self::new(format!("{}, high", self.label), points.iter().map(|&(at, _, high)| (at, high)));
        self.edges = Some(Box::new([low, high]));
        self
    }

    /// The low and the high edge of its band.
    pub(crate) fn edges(&self) -> Option<&[Curve; 2]> {
        self.edges.as_deref()
    }

    /// The outline of the band inside a window, its levels held to the window's: along the high edge and back along the low
    /// one. Empty without a band, and where an edge has a gap.
    pub(crate) fn outline(&self, frequencies: (f64, f64), levels: (f64, f64)) -> Vec<(f64, f64)> {
        let Some([low, high]) = self.edges() else { return Vec::new() };
        let ([low_run], [high_run]) = (low.runs.as_slice(), high.runs.as_slice()) else { return Vec::new() };
        let along = |run: &[(f64, f64)]| -> Vec<(f64, f64)> {
            let inside = run.iter().copied().filter(|(at, _)| *at > frequencies.0 && *at < frequencies.1);
            let edge = |at: f64| level_in(run, at).map(|level| (at, level));
            let whole = edge(frequencies.0).into_iter().chain(inside).chain(edge(frequencies.1));
            whole.map(|(at, level)| (at, level.clamp(levels.0, levels.1))).collect()
        };
        let mut outline = along(high_run);
        outline.extend(along(low_run).into_iter().rev());
        outline
    }

    /// The name set on the line, without blanks around it; `unnamed` where none was given.
    pub fn label(&self) -> &str {
        &self.label
    }

    /// The level at a frequency, read off the straight line between the two nearest points on a logarithmic scale
    /// of frequency. `None` outside the points and in a gap.
    pub fn level_at(&self, frequency: Hertz) -> Option<Decibels> {
        self.level_at_place(libm::log10(frequency.value())).map(Decibels)
    }

    /// The same at a place along the axis.
    pub(crate) fn level_at_place(&self, at: f64) -> Option<f64> {
        self.runs.iter().find_map(|run| level_in(run, at))
    }

    /// The levels inside a window of logarithmic frequency, with the frequencies: the points themselves and the
    /// levels read off at its edges.
    pub(crate) fn inside(&self, (low, high): (f64, f64)) -> impl Iterator<Item = (f64, f64)> + '_ {
        let points = self.runs.iter().flatten().copied().filter(move |(at, _)| *at >= low && *at <= high);
        let edge = move |at: f64| self.runs.iter().find_map(|run| level_in(run, at)).map(|level| (at, level));
        points.chain(edge(low)).chain(edge(high))
    }

    /// The strokes that lie inside a window of logarithmic frequency and level, cut exactly at its edges.
    pub(crate) fn strokes(&self, frequencies: (f64, f64), levels: (f64, f64)) -> Vec<Vec<(f64, f64)>> {
        let mut strokes: Vec<Vec<(f64, f64)>> = Vec::new();
        for run in &self.runs {
            for pair in run.windows(2) {
                let Some((from, to)) = cut(pair[0], pair[1], frequencies, levels) else { continue };
                match strokes.last_mut() {
                    Some(stroke) if stroke.last() == Some(&from) => stroke.push(to),
                    _ => strokes.push(vec![from, to]),
                }
            }
        }
        strokes
    }

    /// Points with a gap on both sides: there is no line to draw through them.
    pub(crate) fn lone_points(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.runs.iter().filter(|run| run.len() == 1).map(|run| run[0])
    }
}

fn level_in(run: &[(f64, f64)], at: f64) -> Option<f64> {
    let after = run.partition_point(|point| point.0 < at);
    let next = run.get(after)?;
    if next.0 == at {
        return Some(next.1);
    }
    let before = run.get(after.checked_sub(1)?)?;
    Some(before.1 + (at - before.0) / (next.0 - before.0) * (next.1 - before.1))
}

/// The part of a straight stroke that lies inside a window, found side by side.
fn cut(
    from: (f64, f64),
    to: (f64, f64),
    across: (f64, f64),
    up: (f64, f64),
) -> Option<((f64, f64), (f64, f64))> {
    let (run, rise) = (to.0 - from.0, to.1 - from.1);
    let (mut begin, mut end) = (0.0_f64, 1.0_f64);
    // Each side of the window: how fast the stroke leaves through it, and how much room there is at the start.
    let sides =
        [(-run, from.0 - across.0), (run, across.1 - from.0), (-rise, from.1 - up.0), (rise, up.1 - from.1)];
    for (speed, room) in sides {
        if speed == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if speed > 0.0 {
            end = end.min(room / speed);
        } else {
            begin = begin.max(room / speed);
        }
    }
    let at = |share: f64| match share {
        0.0 => from,
        1.0 => to,
        _ => (from.0 + share * run, from.1 + share * rise),
    };
    (begin < end).then(|| (at(begin), at(end)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve(points: &[(f64, f64)]) -> Curve {
        Curve::new("x", points.iter().map(|&(frequency, level)| (Hertz(frequency), Decibels(level))))
    }

    #[test]
    fn points_come_in_any_order_and_nonsense_is_left_out() {
        let curve = curve(&[(1000.0, 3.0), (-5.0, 1.0), (100.0, 0.0), (f64::NAN, 2.0), (f64::INFINITY, 2.0)]);
        assert_eq!(curve.level_at(Hertz(100.0)), Some(Decibels(0.0)));
        assert_eq!(curve.level_at(Hertz(1000.0)), Some(Decibels(3.0)));
        // Half a decade up, half the rise.
        let between = curve.level_at(Hertz(316.227_766_016_837_9)).map(Decibels::value);
        assert!(between.is_some_and(|level| (level - 1.5).abs() < 1e-12));
        assert_eq!(curve.level_at(Hertz(99.0)), None);
    }

    #[test]
    fn a_gap_is_not_bridged() {
        let curve = curve(&[(100.0, 0.0), (200.0, 0.0), (300.0, f64::NEG_INFINITY), (400.0, 0.0)]);
        assert_eq!(curve.level_at(Hertz(250.0)), None);
        assert_eq!(curve.strokes((1.0, 4.0), (-10.0, 10.0)).len(), 1);
        assert_eq!(curve.lone_points().count(), 1);
    }

    #[test]
    fn a_band_is_one_outline_held_to_the_window() {
        let points = [(10.0, -3.0, 3.0), (100.0, -30.0, 3.0), (100_000.0, -3.0, 3.0)];
        let points = points.map(|(at, low, high)| (Hertz(at), Decibels(low), Decibels(high)));
        let banded = curve(&[(10.0, 0.0), (100_000.0, 0.0)]).between(points);
        let outline = banded.outline((1.5, 4.0), (-15.0, 10.0));
        let want = [(1.5, 3.0), (2.0, 3.0), (4.0, 3.0), (4.0, -12.0), (2.0, -15.0), (1.5, -15.0)];
        assert_eq!(outline, want);
        assert!(curve(&[(10.0, 0.0)]).outline((1.0, 4.0), (-15.0, 10.0)).is_empty());
    }

    #[test]
    fn strokes_are_cut_at_the_window() {
        let curve = curve(&[(10.0, 0.0), (1000.0, -20.0), (100_000.0, 0.0)]);
        let strokes = curve.strokes((1.0, 4.0), (-15.0, 10.0));
        let want = vec![vec![(1.0, 0.0), (2.5, -15.0)], vec![(3.5, -15.0), (4.0, -10.0)]];
        assert_eq!(strokes, want);
    }
}
