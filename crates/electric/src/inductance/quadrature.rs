//! Gauss's rule for integrals, and its form for an integrand that is steep at one end.

use std::f64::consts::PI;

/// A rule of n points, exact for polynomials up to degree 2n − 1 (Gauss 1814; any book on numerical analysis).
pub(super) struct Gauss {
    /// Places and weights on 0 to 1.
    points: Vec<(f64, f64)>,
}

impl Gauss {
    /// The zeros of the Legendre polynomial by Newton's method, from the usual first guess.
    pub(super) fn new(n: usize) -> Self {
        let points = (0..n).map(|i| {
            let mut x = libm::cos(PI * (i as f64 + 0.75) / (n as f64 + 0.5));
            let mut slope = 1.0;
            for _ in 0..6 {
                let (mut before, mut value) = (1.0, x);
                for k in 2..=n {
                    let k = k as f64;
                    (before, value) = (value, ((2.0 * k - 1.0) * x * value - (k - 1.0) * before) / k);
                }
                slope = n as f64 * (x * value - before) / (x * x - 1.0);
                x -= value / slope;
            }
            (0.5 * (1.0 + x), 1.0 / ((1.0 - x * x) * slope * slope))
        });
        Self { points: points.collect() }
    }

    /// The integral from 0 to `end`.
    pub(super) fn integrate(&self, end: f64, mut integrand: impl FnMut(f64) -> f64) -> f64 {
        self.points.iter().map(|(x, w)| w * integrand(end * x)).sum::<f64>() * end
    }

    /// The integral from 0 to `end` of what has its steepness within `width` of 0, as a logarithm of the distance from
    /// a point so far away: `x = w sinh u` spreads that corner out.
    pub(super) fn integrate_steep(&self, end: f64, width: f64, mut integrand: impl FnMut(f64) -> f64) -> f64 {
        // A logarithm is integrable even at its pole: what is left of it within this width is a part of 1e-6.
        let width = width.max(1e-5 * end);
        self.integrate(libm::asinh(end / width), |u| {
            let grown = libm::exp(u);
            let x = width * 0.5 * (grown - 1.0 / grown);
            integrand(x) * width * 0.5 * (grown + 1.0 / grown)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_for_polynomials() {
        // ∫₀² x⁷ dx = 32, by four points; one point fewer is not.
        assert!((Gauss::new(4).integrate(2.0, |x| libm::pow(x, 7.0)) - 32.0).abs() < 1e-12);
        assert!((Gauss::new(3).integrate(2.0, |x| libm::pow(x, 7.0)) - 32.0).abs() > 1e-3);
    }

    #[test]
    fn steep_at_one_end() {
        // ∫₀¹ dx/√(x²+w²) = asinh(1/w).
        for width in [1e-3, 0.1, 10.0] {
            let found = Gauss::new(12).integrate_steep(1.0, width, |x| 1.0 / (x * x + width * width).sqrt());
            assert!((found / libm::asinh(1.0 / width) - 1.0).abs() < 1e-13, "{width}: {found}");
        }
    }
}
