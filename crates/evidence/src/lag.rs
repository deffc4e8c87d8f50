//! How long a part lay between its making and its fitting.

/// Chances of a wait of 0, 1, 2 … months, together 1.
///
/// No measured distribution of such waits has been published; which lag stands for which part is an assumption, kept
/// by name in [`crate::Assumptions`].
#[derive(Debug, Clone, PartialEq)]
pub struct Lag {
    masses: Vec<f64>,
}

/// Why a lag cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum LagFault {
    /// A mean, a shape or a scale that is not above 0.
    #[error(
        "{0} cannot be a mean, a shape or a scale of a wait in months; it must be above 0, for instance 6"
    )]
    Measure(f64),
    /// Chances that are below 0 or not numbers, or that are all 0.
    #[error("chances of a wait must be 0 or more, and one of them above 0, for instance 0.5 and 0.5")]
    Chances,
}

impl Lag {
    /// Fitted in the month it was made.
    pub fn none() -> Lag {
        Lag { masses: vec![1.0] }
    }

    /// From chances of 0, 1, 2 … months, brought to a sum of 1.
    ///
    /// # Errors
    /// [`LagFault::Chances`].
    pub fn of(chances: Vec<f64>) -> Result<Lag, LagFault> {
        let sum: f64 = chances.iter().sum();
        let chance = |mass: &f64| *mass >= 0.0;
        if !(chances.iter().all(chance) && sum > 0.0 && sum.is_finite()) {
            return Err(LagFault::Chances);
        }
        Ok(Lag { masses: chances.iter().map(|mass| mass / sum).collect() })
    }

    /// A stock drawn on at random: the same chance to be taken in every month. Masses `(1 − q) qᵏ` with
    /// `q = μ / (1 + μ)` for a mean of μ months, cut after `most` months and brought to a sum of 1. (The geometric
    /// distribution, N. L. Johnson, A. W. Kemp, S. Kotz, *Univariate Discrete Distributions*, 3rd ed. 2005, ch. 5.)
    ///
    /// # Errors
    /// [`LagFault::Measure`].
    ///
    /// ```
    /// use asfound_evidence::Lag;
    /// let lag = Lag::geometric(5.0, 119)?;
    /// assert!((lag.at(1) / lag.at(0) - 5.0 / 6.0).abs() < 1e-12);
    /// # Ok::<(), asfound_evidence::LagFault>(())
    /// ```
    pub fn geometric(mean_months: f64, most: usize) -> Result<Lag, LagFault> {
        above_nothing(mean_months)?;
        let stays = mean_months / (1.0 + mean_months);
        Lag::of(std::iter::successors(Some(1.0), |mass| Some(mass * stays)).take(most + 1).collect())
    }

    /// A wait that is seldom very short: masses `F(k + 1) − F(k)` with `F` the cumulative gamma distribution of this
    /// shape and scale in months, cut after `most` months and brought to a sum of 1. The mean is about
    /// `shape · scale − ½`. (N. L. Johnson, S. Kotz, N. Balakrishnan, *Continuous Univariate Distributions* 1, 2nd ed.
    /// 1994, ch. 17.)
    ///
    /// # Errors
    /// [`LagFault::Measure`].
    pub fn gamma(shape: f64, scale_months: f64, most: usize) -> Result<Lag, LagFault> {
        above_nothing(shape)?;
        above_nothing(scale_months)?;
        let within = |months: usize| cumulative_gamma(shape, months as f64 / scale_months);
        Lag::of((0..=most).map(|months| (within(months + 1) - within(months)).max(0.0)).collect())
    }

    /// One lag or another, each with its share: fresh stock, say, and a shelf of old stock.
    ///
    /// # Errors
    /// [`LagFault::Chances`].
    pub fn mixed(lags: &[(f64, Lag)]) -> Result<Lag, LagFault> {
        if lags.iter().any(|(share, _)| *share < 0.0) {
            return Err(LagFault::Chances);
        }
        let longest = lags.iter().map(|(_, lag)| lag.masses.len()).max().unwrap_or(0);
        let at = |months: usize| {
            lags.iter().map(|(share, lag)| share * lag.masses.get(months).unwrap_or(&0.0)).sum()
        };
        Lag::of((0..longest).map(at).collect())
    }

    /// The chance of a wait of so many months.
    pub fn at(&self, months: usize) -> f64 {
        self.masses.get(months).copied().unwrap_or(0.0)
    }

    /// The chances of 0, 1, 2 … months.
    pub fn masses(&self) -> &[f64] {
        &self.masses
    }

    /// The mean wait in months, after the cut.
    pub fn mean_months(&self) -> f64 {
        self.masses.iter().enumerate().map(|(months, mass)| months as f64 * mass).sum()
    }
}

/// The cumulative gamma distribution of scale 1: `xˢ e⁻ˣ / Γ(s + 1) · Σ xⁿ / ((s + 1) … (s + n))` (NIST Digital Library of
/// Mathematical Functions, 8.7.1 with 8.2.4). Written out, so that its bits are the same everywhere; all terms are
/// positive, so that none cancel.
fn cumulative_gamma(shape: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    let (mut sum, mut term, mut above) = (1.0, 1.0, shape);
    while term > sum * f64::EPSILON {
        above += 1.0;
        term *= x / above;
        sum += term;
    }
    libm::exp(shape * libm::log(x) - x - libm::lgamma(shape + 1.0) + libm::log(sum)).min(1.0)
}

fn above_nothing(measure: f64) -> Result<(), LagFault> {
    if measure > 0.0 && measure.is_finite() { Ok(()) } else { Err(LagFault::Measure(measure)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First masses worked out with a general numerical library; printed to 6 digits, so half of the last is allowed.
    #[test]
    fn gamma_masses_agree_with_those_of_a_general_library() {
        for (scale, expected) in
            [(3.0, [0.044625, 0.099680, 0.119936, 0.120699]), (2.0, [0.090204, 0.174037, 0.177933, 0.151820])]
        {
            let lag = Lag::gamma(2.0, scale, 59).expect("it can be made");
            for (months, mass) in expected.into_iter().enumerate() {
                assert!((lag.at(months) - mass).abs() < 5.1e-7, "{months}: {}", lag.at(months));
            }
        }
    }

    /// For shape 2 the cumulative gamma distribution is `1 − (1 + x) e⁻ˣ` (Johnson, Kotz and Balakrishnan 1994, ch. 17);
    /// rounding only.
    #[test]
    fn a_gamma_lag_of_shape_two_has_its_closed_form() {
        let lag = Lag::gamma(2.0, 3.0, 59).expect("it can be made");
        let within = |months: f64| 1.0 - (1.0 + months / 3.0) * libm::exp(-months / 3.0);
        for months in 0..60 {
            let months_later = months as f64 + 1.0;
            let expected = (within(months_later) - within(months as f64)) / within(60.0);
            assert!((lag.at(months) - expected).abs() < 1e-13);
        }
        assert!((lag.mean_months() - 5.5).abs() < 1e-3, "{}", lag.mean_months());
    }

    /// Another program's incomplete gamma function (the `statrs` library); a sum of a few hundred terms loses a few
    /// digits of sixteen.
    #[test]
    fn the_cumulative_gamma_agrees_with_another_library() {
        for shape in [0.3, 1.0, 2.0, 2.5, 7.0, 40.0] {
            for x in [1e-6, 0.1, 1.0, 3.0, 12.0, 45.0, 240.0, 900.0, 5000.0] {
                let expected = statrs::function::gamma::checked_gamma_lr(shape, x).expect("it is defined");
                assert!((cumulative_gamma(shape, x) - expected).abs() < 1e-12, "{shape} {x}");
            }
        }
    }

    #[test]
    fn chances_come_to_one_and_mix_by_their_shares() {
        let fresh = Lag::gamma(2.0, 3.0, 59).expect("it can be made");
        let old = Lag::geometric(36.0, 359).expect("it can be made");
        let both = Lag::mixed(&[(0.9, fresh.clone()), (0.1, old.clone())]).expect("it can be made");
        for lag in [&fresh, &old, &both, &Lag::none()] {
            assert!((lag.masses().iter().sum::<f64>() - 1.0).abs() < 1e-12);
        }
        let mean = 0.9 * fresh.mean_months() + 0.1 * old.mean_months();
        assert!((both.mean_months() - mean).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_lag_is_refused_with_what_would_be() {
        for mean in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Lag::geometric(mean, 10).is_err() && Lag::gamma(mean, 1.0, 10).is_err());
        }
        for chances in [vec![], vec![0.0], vec![-0.5, 1.5], vec![f64::NAN]] {
            assert_eq!(Lag::of(chances), Err(LagFault::Chances));
        }
        assert!(Lag::mixed(&[(1.5, Lag::none()), (-0.5, Lag::none())]).is_err());
        assert!(LagFault::Measure(-1.0).to_string().contains("for instance 6"));
    }
}
