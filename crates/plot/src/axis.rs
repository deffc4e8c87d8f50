//! Axes: where a value stands, and which values get a line and a figure.

/// A straight mapping from values to places. On a logarithmic axis the values are the logarithms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Axis {
    low: f64,
    high: f64,
    at_low: f64,
    at_high: f64,
}

impl Axis {
    /// An axis from `low` to `high` (`low < high`, both finite) drawn from `at_low` to `at_high`.
    pub(crate) fn new((low, high): (f64, f64), (at_low, at_high): (f64, f64)) -> Self {
        Self { low, high, at_low, at_high }
    }

    /// Where a value stands.
    pub(crate) fn place(&self, value: f64) -> f64 {
        self.at_low + (value - self.low) / (self.high - self.low) * (self.at_high - self.at_low)
    }
}

/// The steps 1, 2 and 5 times a power of ten that lie in `low..=high`, both positive.
pub(crate) fn one_two_five(low: f64, high: f64) -> Vec<f64> {
    let (first, last) = (libm::floor(libm::log10(low)) as i32, libm::ceil(libm::log10(high)) as i32);
    let steps =
        (first..=last).flat_map(|power| [1.0, 2.0, 5.0].map(|step| step * libm::exp10(f64::from(power))));
    // A hair of slack, so that an end that is itself a step is not lost to rounding.
    steps.filter(|step| *step >= low * (1.0 - 1e-9) && *step <= high * (1.0 + 1e-9)).collect()
}

/// The smallest of `steps` that cuts `low..high` into at most `most` pieces, or the last.
pub(crate) fn step_of(steps: &[f64], low: f64, high: f64, most: f64) -> f64 {
    let fits = |step: &&f64| libm::ceil(high / **step) - libm::floor(low / **step) <= most;
    steps.iter().find(fits).or(steps.last()).copied().unwrap_or(1.0)
}

/// A round step for a plain linear axis from `low` to `high`: 1, 2 or 5 times a power of ten.
pub(crate) fn round_step(low: f64, high: f64, most: f64) -> f64 {
    let rough = (high - low) / most;
    let steps = one_two_five(rough / 2.0, rough * 20.0);
    step_of(&steps, low, high, most)
}

/// Multiples of `step` from the last at or below `low` to the first at or above `high`.
pub(crate) fn multiples(step: f64, low: f64, high: f64) -> Vec<f64> {
    // Slack again: 5.4 / 0.2 must count as 27.
    let (first, last) = (libm::floor(low / step + 1e-9), libm::ceil(high / step - 1e-9));
    let count = (last - first) as usize;
    (0..=count).map(|index| (first + index as f64) * step).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_audio_band_is_ruled_at_one_two_five() {
        assert_eq!(one_two_five(50.0, 10e3), [50.0, 100.0, 200.0, 500.0, 1e3, 2e3, 5e3, 10e3]);
    }

    #[test]
    fn linear_steps_are_round_and_enclose_the_range() {
        let step = round_step(5.14, 6.32, 7.0);
        let ticks = multiples(step, 5.14, 6.32);
        assert_eq!(step, 0.2);
        assert!(ticks.first() <= Some(&5.14) && ticks.last() >= Some(&6.32) && ticks.len() <= 8);
        assert_eq!(multiples(0.2, 5.4, 5.6).len(), 2);
    }

    #[test]
    fn an_axis_is_monotone() {
        let axis = Axis::new((-30.0, 12.0), (256.0, 16.0));
        let places: Vec<f64> = (-30..=12).map(|level| axis.place(f64::from(level))).collect();
        assert!(places.windows(2).all(|pair| pair[1] < pair[0]));
        assert_eq!((axis.place(-30.0), axis.place(12.0)), (256.0, 16.0));
    }
}
