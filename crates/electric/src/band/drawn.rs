//! Bands by Monte Carlo.

use asfound_measure::{Decibels, Hertz};

use super::figures::{Figures, Sweep, level};
use super::{Band, COVERAGE, How, Interval, PeakBand, PerOctave, State, Tolerance};
use crate::coil::random::Random;
use crate::network::Unsolvable;

/// The response of a state with every value drawn within its tolerance, again and again. Values that no tolerance names
/// stay as they are.
///
/// # Errors
/// [`Unsolvable`] where the state has no output to solve, is asked with wrong settings, signs or frequencies, or a
/// tolerance has limits that are none: not above 0, or the wrong way round; and with no draws at all.
pub fn drawn(
    state: &State<'_>,
    tolerances: &[Tolerance],
    frequencies: &[Hertz],
    draws: usize,
    seed: u64,
) -> Result<Band, Unsolvable> {
    check(tolerances)?;
    if draws == 0 {
        let wanted = "at least 1, and 1000 for an interval worth telling".to_owned();
        return Err(Unsolvable::Setting { what: "the number of draws is", read: 0.0, wanted });
    }
    let sweep = Sweep::new(state, frequencies)?;
    let mut rooms = sweep.rooms();
    let mut factors = sweep.contracted.as_named();
    sweep.solve(&factors, &mut rooms)?;
    let nominal = sweep.figures(&mut rooms);
    let places: Vec<Option<usize>> = tolerances.iter().map(|one| place(&sweep, one)).collect();

    let points = sweep.frequencies.len();
    let mut random = Random::from_seed(seed);
    let mut all = Vec::with_capacity(draws * points);
    let mut found = Vec::with_capacity(draws);
    for _ in 0..draws {
        // Every tolerance is drawn, also of parts that are idle here, so that all states hear the same instrument.
        for (tolerance, place) in tolerances.iter().zip(&places) {
            let share = tolerance.draw(&mut random);
            if let Some(place) = place {
                factors[*place] = share;
            }
        }
        sweep.solve(&factors, &mut rooms)?;
        all.extend_from_slice(&rooms.squares);
        found.push(sweep.figures(&mut rooms));
    }
    let mut column = vec![0.0; draws];
    let levels = (0..points)
        .map(|point| {
            column.iter_mut().zip(all.chunks_exact(points)).for_each(|(cell, row)| *cell = row[point]);
            interval(&mut column, level)
        })
        .collect();
    Ok(Band {
        how: How::Drawn { draws, seed },
        nets: sweep.contracted.nets(),
        frequencies: sweep.frequencies,
        levels,
        nominal,
        peak: peak(&found, &nominal),
        corner: of_most(&found, |one| one.corner.map(|corner| corner.0), Hertz),
        slope: of_most(&found, |one| one.slope.map(|slope| slope.0), PerOctave),
    })
}

/// Where a tolerance goes among the values of a state; `None` where its part is idle there.
pub(super) fn place(sweep: &Sweep, tolerance: &Tolerance) -> Option<usize> {
    sweep.contracted.values.iter().position(|known| *known == (tolerance.part, tolerance.value))
}

/// Checks the limits.
pub(super) fn check(tolerances: &[Tolerance]) -> Result<(), Unsolvable> {
    for one in tolerances {
        if !(one.low > 0.0 && one.low <= one.high && one.high.is_finite()) {
            let wanted = format!(
                "above 0 and not above the greatest, which is {}: 0.8 to 1.2 for 20 % either way",
                one.high
            );
            return Err(Unsolvable::Setting {
                what: "the least share of a tolerance is",
                read: one.low,
                wanted,
            });
        }
    }
    Ok(())
}

fn peak(found: &[Figures], nominal: &Figures) -> Option<PeakBand> {
    let peaks: Vec<_> = found.iter().filter_map(|one| one.peak).collect();
    let share = peaks.len() as f64 / found.len() as f64;
    if peaks.is_empty() || share < 0.5 && nominal.peak.is_none() {
        return None;
    }
    let of = |figure: fn(&super::Peak) -> f64| peaks.iter().map(figure).collect::<Vec<_>>();
    Some(PeakBand {
        at: interval(&mut of(|peak| peak.at.0), Hertz),
        level: interval(&mut of(|peak| peak.level.0), Decibels),
        height: interval(&mut of(|peak| peak.height.0), Decibels),
        share,
    })
}

/// The interval of a figure that most draws have.
fn of_most<T>(
    found: &[Figures],
    figure: impl Fn(&Figures) -> Option<f64>,
    unit: impl Fn(f64) -> T,
) -> Option<Interval<T>> {
    let mut values: Vec<f64> = found.iter().filter_map(figure).collect();
    (2 * values.len() > found.len()).then(|| interval(&mut values, unit))
}

/// The probabilistically symmetric interval (JCGM 101:2008, 7.7) of some values, which are moved about, and their median.
fn interval<T>(values: &mut [f64], unit: impl Fn(f64) -> T) -> Interval<T> {
    let mut at = |share: f64| {
        let place = (share * (values.len() - 1) as f64 + 0.5) as usize;
        unit(*values.select_nth_unstable_by(place, f64::total_cmp).1)
    };
    let tail = (1.0 - COVERAGE) / 2.0;
    Interval { low: at(tail), middle: at(0.5), high: at(1.0 - tail) }
}
