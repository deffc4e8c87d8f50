//! How often chance alone would leave readings this far from a model that is right.

/// The upper tail of χ²: the probability of at least `chi_square` with so many degrees of freedom.
///
/// The finite sums for whole degrees of freedom (M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 1964,
/// 26.4.4 and 26.4.5). No degree of freedom, no test: 1.
pub(super) fn chance_of(chi_square: f64, degrees_of_freedom: usize) -> f64 {
    if degrees_of_freedom == 0 || chi_square <= 0.0 {
        return 1.0;
    }
    let half = chi_square / 2.0;
    let falling = libm::exp(-half);
    let (mut sum, mut term, mut at) = if degrees_of_freedom % 2 == 1 {
        (libm::erfc(half.sqrt()), 2.0 * (half / std::f64::consts::PI).sqrt() * falling, 1.5)
    } else {
        (0.0, falling, 1.0)
    };
    for _ in 0..degrees_of_freedom / 2 {
        sum += term;
        term *= half / at;
        at += 1.0;
    }
    sum.min(1.0)
}

#[cfg(test)]
mod tests {
    use super::chance_of;

    /// The critical values at 5 % and 0.1 % (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4), printed to
    /// three decimals.
    #[test]
    fn critical_values() {
        let table = [
            (1, 3.841, 10.828),
            (2, 5.991, 13.816),
            (3, 7.815, 16.266),
            (4, 9.488, 18.467),
            (5, 11.070, 20.515),
            (8, 15.507, 26.125),
            (11, 19.675, 31.264),
        ];
        for (freedom, at_5, at_01) in table {
            assert!(
                (chance_of(at_5, freedom) - 0.05).abs() < 2e-5,
                "{freedom}: {}",
                chance_of(at_5, freedom)
            );
            assert!((chance_of(at_01, freedom) - 0.001).abs() < 1e-6, "{freedom}");
        }
        assert_eq!((chance_of(7.0, 0), chance_of(0.0, 3)), (1.0, 1.0));
    }
}
