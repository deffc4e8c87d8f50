//! Several values of one kind: their mean, their spread, and where one more of the kind may lie.

use crate::freedom::coverage_factor;
use crate::quantity::Quantity;

/// Values of one kind, summed up (JCGM 100:2008, 4.2).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample<Q> {
    /// How many.
    pub count: u32,
    /// The arithmetic mean (JCGM 100, equation 3).
    pub mean: Q,
    /// The experimental standard deviation, `√(Σ(xᵢ − x̄)²/(n − 1))` (JCGM 100, equation 4); `None` for a single value,
    /// which has none.
    pub standard_deviation: Option<Q>,
}

impl<Q: Quantity> Sample<Q> {
    /// Sums values up. `None` where there are none, or where one is not finite.
    pub fn of(values: &[Q]) -> Option<Self> {
        let count = u32::try_from(values.len()).ok().filter(|count| *count > 0)?;
        if values.iter().any(|value| !value.size().is_finite()) {
            return None;
        }
        let n = f64::from(count);
        let mean = values.iter().map(|value| value.size()).sum::<f64>() / n;
        let squares: f64 = values.iter().map(|value| (value.size() - mean) * (value.size() - mean)).sum();
        let standard_deviation = (count > 1).then(|| Q::of((squares / (n - 1.0)).sqrt()));
        Some(Self { count, mean: Q::of(mean), standard_deviation })
    }

    /// The standard uncertainty of the mean, `s/√n`, on `n − 1` degrees of freedom (JCGM 100, 4.2.3); `None` for a
    /// single value.
    pub fn of_the_mean(&self) -> Option<Q> {
        Some(Q::of(self.standard_deviation?.size() / f64::from(self.count).sqrt()))
    }

    /// Where one more value of the kind lies with this probability, if the kind is normally spread:
    /// `x̄ ± t_p(n − 1) s √(1 + 1/n)` (the prediction interval of ISO 16269-8 for one further observation).
    ///
    /// `None` for a single value, whose spread nobody knows, and for values that are all the same: that they differ by
    /// nothing at all is the rounding of whoever wrote them down.
    ///
    /// ```
    /// use asfound_measure::{Ohms, Sample};
    /// let seen = Sample::of(&[5.9e3, 6.0e3, 6.1e3].map(Ohms)).expect("finite values");
    /// let (low, high) = seen.one_more(0.95).expect("three values");
    /// assert_eq!((low.0.round(), high.0.round()), (5503.0, 6497.0));
    /// ```
    pub fn one_more(&self, probability: f64) -> Option<(Q, Q)> {
        let spread = self.standard_deviation?.size();
        if spread == 0.0 {
            return None;
        }
        let n = f64::from(self.count);
        let half = coverage_factor(probability, n - 1.0)? * spread * (1.0 + 1.0 / n).sqrt();
        Some((Q::of(self.mean.size() - half), Q::of(self.mean.size() + half)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Celsius, Ohms, Volts};
    use proptest::prelude::*;

    #[test]
    fn twenty_temperatures_as_in_table_1() {
        // JCGM 100:2008, 4.4.3 and table 1: mean 100.145 °C (printed 100,14), s = 1.489 °C, s of the mean 0.333 °C.
        let read = [
            96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68,
            100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
        ];
        let sample = Sample::of(&read.map(Celsius)).expect("finite");
        assert!((sample.mean.0 - 100.145).abs() < 5e-4);
        assert!((sample.standard_deviation.expect("twenty").0 - 1.489).abs() < 5e-4);
        assert!((sample.of_the_mean().expect("twenty").0 - 0.333).abs() < 5e-4);
    }

    #[test]
    fn five_voltages_as_in_annex_h2() {
        // JCGM 100:2008, table H.2: mean 4.9990 V, standard uncertainty of the mean 0.0032 V.
        let sample = Sample::of(&[5.007, 4.994, 5.005, 4.990, 4.999].map(Volts)).expect("finite");
        assert!((sample.mean.0 - 4.9990).abs() < 1e-12);
        assert!((sample.of_the_mean().expect("five").0 - 0.003_209_36).abs() < 5e-9);
    }

    #[test]
    fn one_value_and_equal_values_have_no_interval() {
        let one = Sample::of(&[Ohms(8000.0)]).expect("one");
        assert_eq!((one.standard_deviation, one.of_the_mean(), one.one_more(0.95)), (None, None, None));
        assert_eq!(Sample::of(&[Ohms(6000.0); 2]).expect("two").one_more(0.95), None);
        assert_eq!(Sample::<Ohms>::of(&[]), None);
        assert_eq!(Sample::of(&[Ohms(1.0), Ohms(f64::NAN)]), None);
    }

    proptest! {
        #[test]
        fn the_interval_moves_and_stretches_with_the_values(
            values in proptest::collection::vec(1.0..2.0_f64, 3..12), scale in 1.0..1e4_f64, shift in -1e3..1e3_f64
        ) {
            let plain = Sample::of(&values.iter().map(|v| Ohms(*v)).collect::<Vec<_>>()).expect("finite");
            let moved = Sample::of(&values.iter().map(|v| Ohms(v * scale + shift)).collect::<Vec<_>>()).expect("finite");
            let (Some(plain), Some(moved)) = (plain.one_more(0.95), moved.one_more(0.95)) else { return Ok(()) };
            // Rounding of the sums, against values of at most 2e4.
            prop_assert!((plain.0.0 * scale + shift - moved.0.0).abs() < 1e-8 * (scale + shift.abs()));
            prop_assert!((plain.1.0 * scale + shift - moved.1.0).abs() < 1e-8 * (scale + shift.abs()));
        }
    }
}
