//! The least and the greatest that any values within their limits reach.

use asfound_measure::{Decibels, Hertz};
use std::f64::consts::TAU;

use super::drawn::{check, place};
use super::figures::{Figures, Rooms, Sweep, level};
use super::{Band, How, Interval, PeakBand, PerOctave, State, Tolerance};
use crate::network::Unsolvable;

/// Rounds in which each value is moved once. Two or three are used; the bound is against going to and fro by roundings.
const MOST_ROUNDS: usize = 12;
/// Halvings of a piece of a range in which a value does most inside: to a thousandth of the range.
const NARROWED: usize = 14;

/// The range that a value may be drawn from, by its place among the values of the state.
struct Range {
    place: usize,
    low: f64,
    high: f64,
}

/// The response of a state at its least and its greatest, with every value within its tolerance.
///
/// Each figure and each frequency has its own set of values; all of a band's edge at once is no instrument. Found by
/// moving one value after the other, so it is a greatest from which no single value leads further up.
///
/// # Errors
/// As [`super::drawn`].
pub fn worst(state: &State<'_>, tolerances: &[Tolerance], frequencies: &[Hertz]) -> Result<Band, Unsolvable> {
    check(tolerances)?;
    let sweep = Sweep::new(state, frequencies)?;
    let mut rooms = sweep.rooms();
    let ranges: Vec<Range> = tolerances
        .iter()
        .filter(|one| one.low < one.high)
        .filter_map(|one| Some(Range { place: place(&sweep, one)?, low: one.low, high: one.high }))
        .collect();
    let start = sweep.contracted.as_named();
    sweep.solve(&start, &mut rooms)?;
    let nominal = sweep.figures(&mut rooms);
    let middles = rooms.squares.clone();
    let (lows, highs) = (edge(&sweep, &ranges, -1.0), edge(&sweep, &ranges, 1.0));
    let levels = lows
        .iter()
        .zip(&middles)
        .zip(&highs)
        .map(|((&low, &middle), &high)| Interval {
            low: level(low),
            middle: level(middle),
            high: level(high),
        })
        .collect();
    let mut of = |figure: &dyn Fn(&Figures) -> Option<f64>| {
        let middle = figure(&nominal)?;
        let mut end = |sign: f64| sign * figure_end(&sweep, &mut rooms, &ranges, sign, figure);
        Some(Interval { low: end(-1.0), middle, high: end(1.0) })
    };
    let unit = |interval: Interval<f64>| Interval {
        low: Decibels(interval.low),
        middle: Decibels(interval.middle),
        high: Decibels(interval.high),
    };
    let hertz = |interval: Interval<f64>| Interval {
        low: Hertz(interval.low),
        middle: Hertz(interval.middle),
        high: Hertz(interval.high),
    };
    let at = of(&|one| one.peak.map(|peak| peak.at.0));
    let peak_level = of(&|one| one.peak.map(|peak| peak.level.0));
    let height = of(&|one| one.peak.map(|peak| peak.height.0));
    let corner = of(&|one| one.corner.map(|corner| corner.0)).map(hertz);
    let slope = of(&|one| one.slope.map(|slope| slope.0)).map(|slope| Interval {
        low: PerOctave(slope.low),
        middle: PerOctave(slope.middle),
        high: PerOctave(slope.high),
    });
    let peak = at.zip(peak_level).zip(height).map(|((at, level), height)| PeakBand {
        at: hertz(at),
        level: unit(level),
        height: unit(height),
        share: 1.0,
    });
    Ok(Band {
        how: How::Worst,
        nets: sweep.contracted.nets(),
        frequencies: sweep.frequencies,
        levels,
        nominal,
        peak,
        corner,
        slope,
    })
}

/// The greatest (or with a sign of -1 the least) square at each frequency. Each search starts from the values as named
/// and from what was found at the frequency before, and the better end stands.
fn edge(sweep: &Sweep, ranges: &[Range], sign: f64) -> Vec<f64> {
    let named = sweep.contracted.as_named();
    let (mut filled, mut room) = (sweep.contracted.filled(), sweep.contracted.room::<1>());
    let mut before = named.clone();
    let mut edge = Vec::with_capacity(sweep.frequencies.len());
    for frequency in &sweep.frequencies {
        let omega = [TAU * frequency.0];
        let mut of = |factors: &[f64]| {
            sweep.contracted.fill(factors, &mut filled);
            let [square] = sweep.contracted.squares(&filled, &omega, &mut room);
            if square.is_finite() { sign * square } else { f64::NEG_INFINITY }
        };
        let one = search(&mut of, ranges, named.clone());
        let other = search(&mut of, ranges, before);
        let best = if other.1 > one.1 { other } else { one };
        edge.push(sign * best.1);
        before = best.0;
    }
    edge
}

/// The greatest of sign × figure. Values with which there is no such figure are passed over.
fn figure_end(
    sweep: &Sweep,
    rooms: &mut Rooms,
    ranges: &[Range],
    sign: f64,
    figure: &dyn Fn(&Figures) -> Option<f64>,
) -> f64 {
    let mut of = |factors: &[f64]| {
        let solved = sweep.solve(factors, rooms).is_ok();
        let found = if solved { figure(&sweep.figures(rooms)) } else { None };
        found.map_or(f64::NEG_INFINITY, |figure| sign * figure)
    };
    search(&mut of, ranges, sweep.contracted.as_named()).1
}

/// Moves one value after the other to where the aim is greatest, until none moves.
fn search(of: &mut impl FnMut(&[f64]) -> f64, ranges: &[Range], mut at: Vec<f64>) -> (Vec<f64>, f64) {
    let mut best = of(&at);
    for _ in 0..MOST_ROUNDS {
        let before = best;
        for range in ranges {
            let stood = at[range.place];
            let mut to = |value: f64| {
                at[range.place] = value;
                of(&at)
            };
            let (value, reached) = along(&mut to, range);
            // A step that gains only roundings is none.
            let moves = reached > best + best.abs() * 1e-12;
            at[range.place] = if moves { value } else { stood };
            best = if moves { reached } else { best };
        }
        if best <= before + before.abs() * 1e-9 {
            break;
        }
    }
    (at, best)
}

/// Where along one range the aim is greatest: at an end, or inside, found by narrowing around the best of five places.
fn along(of: &mut impl FnMut(f64) -> f64, range: &Range) -> (f64, f64) {
    let quarter = (range.high - range.low) / 4.0;
    let place = |step: usize| if step == 4 { range.high } else { range.low + quarter * step as f64 };
    let tried: [f64; 5] = std::array::from_fn(|step| of(place(step)));
    let best = (0..5).max_by(|&a, &b| tried[a].total_cmp(&tried[b])).unwrap_or(0);
    if best == 0 || best == 4 {
        return (place(best), tried[best]);
    }
    let (mut at, mut reached, mut half) = (place(best), tried[best], quarter / 2.0);
    for _ in 0..NARROWED {
        for side in [at - half, at + half] {
            let there = of(side);
            if there > reached {
                (at, reached) = (side, there);
                break;
            }
        }
        half /= 2.0;
    }
    (at, reached)
}
