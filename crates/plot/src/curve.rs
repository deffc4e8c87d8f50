//! One curve of levels over frequency: put in order, asked for a level, and cut to a window.

use asfound_measure::{Decibels, Hertz};

/// Beyond this a level is a computing accident: the quietest and the loudest thing that can be metered lie
/// 200 dB apart. Such a level is left out like one that is not finite.
const NO_LEVEL_BEYOND: f64 = 1000.0;

/// A named curve: levels at frequencies.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    label: String,
    /// Unbroken runs of (decimal logarithm of hertz, decibels), rising in frequency.
    runs: Vec<Vec<(f64, f64)>>,
}

impl Curve {
    /// A curve from points in any order. `label` is set on the line, so keep it to a few words.
    ///
    /// A point whose frequency is not a positive number is left out. Where a level is not finite (silence is minus
    /// infinity), or lies beyond ±1000 dB, the line breaks: joining over the gap would claim what is not known.
    pub fn new(label: impl Into<String>, points: impl IntoIterator<Item = (Hertz, Decibels)>) -> Self {
        let mut points: Vec<(f64, f64)> = points
            .into_iter()
            .map(|(frequency, level)| (frequency.value(), level.value()))
            .filter(|(frequency, _)| frequency.is_finite() && *frequency > 0.0)
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let runs = points
            .split(|(_, level)| !level.is_finite() || level.abs() > NO_LEVEL_BEYOND)
            .filter(|run| !run.is_empty())
            .map(|run| run.iter().map(|&(frequency, level)| (libm::log10(frequency), level)).collect())
            .collect();
        let label: String = label.into();
        let label = match label.trim() {
            "" => "unnamed".to_owned(),
            name => name.to_owned(),
        };
        Self { label, runs }
    }

    /// The name set on the line, without blanks around it; `unnamed` where none was given.
    pub fn label(&self) -> &str {
        &self.label
    }

    /// The level at a frequency, read off the straight line between the two nearest points on a logarithmic scale
    /// of frequency. `None` outside the points and in a gap.
    pub fn level_at(&self, frequency: Hertz) -> Option<Decibels> {
        let at = libm::log10(frequency.value());
        self.runs.iter().find_map(|run| level_in(run, at)).map(Decibels)
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
    fn strokes_are_cut_at_the_window() {
        let curve = curve(&[(10.0, 0.0), (1000.0, -20.0), (100_000.0, 0.0)]);
        let strokes = curve.strokes((1.0, 4.0), (-15.0, 10.0));
        let want = vec![vec![(1.0, 0.0), (2.5, -15.0)], vec![(3.5, -15.0), (4.0, -10.0)]];
        assert_eq!(strokes, want);
    }
}
