//! Several complex numbers side by side: the same step of an elimination at several frequencies.

/// `N` complex numbers, real and imaginary parts apart, so that a compiler puts several into one instruction. Each lane
/// is reckoned as it would be alone, so the bits do not depend on how many there are.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lanes<const N: usize> {
    pub(super) re: [f64; N],
    pub(super) im: [f64; N],
}

impl<const N: usize> Lanes<N> {
    pub(super) const ZERO: Self = Self { re: [0.0; N], im: [0.0; N] };

    /// A real part, and an imaginary part that rises with the angular frequency.
    #[inline(always)]
    pub(super) fn rising(real: f64, slope: f64, omega: &[f64; N]) -> Self {
        Self { re: [real; N], im: omega.map(|omega| omega * slope) }
    }

    #[inline(always)]
    pub(super) fn add(&mut self, other: &Self, factor: f64) {
        for lane in 0..N {
            self.re[lane] += factor * other.re[lane];
            self.im[lane] += factor * other.im[lane];
        }
    }

    #[inline(always)]
    pub(super) fn times(&self, other: &Self) -> Self {
        let mut out = Self::ZERO;
        for lane in 0..N {
            out.re[lane] = self.re[lane] * other.re[lane] - self.im[lane] * other.im[lane];
            out.im[lane] = self.re[lane] * other.im[lane] + self.im[lane] * other.re[lane];
        }
        out
    }

    /// Takes a product away.
    #[inline(always)]
    pub(super) fn less(&mut self, a: &Self, b: &Self) {
        for lane in 0..N {
            self.re[lane] -= a.re[lane] * b.re[lane] - a.im[lane] * b.im[lane];
            self.im[lane] -= a.re[lane] * b.im[lane] + a.im[lane] * b.re[lane];
        }
    }

    /// 1 divided by each. Admittances and impedances of parts lie far inside the range of the exponent, so that the
    /// square may be taken as it is.
    #[inline(always)]
    pub(super) fn reciprocal(&self) -> Self {
        let mut out = Self::ZERO;
        for lane in 0..N {
            let over = 1.0 / (self.re[lane] * self.re[lane] + self.im[lane] * self.im[lane]);
            out.re[lane] = self.re[lane] * over;
            out.im[lane] = -self.im[lane] * over;
        }
        out
    }

    /// Squares of the absolute values.
    #[inline(always)]
    pub(super) fn squares(&self) -> [f64; N] {
        std::array::from_fn(|lane| self.re[lane] * self.re[lane] + self.im[lane] * self.im[lane])
    }
}
