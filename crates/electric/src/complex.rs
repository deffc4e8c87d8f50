//! Complex numbers, our own so that their bits are the same on every machine.

use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A complex number.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Complex {
    /// Real part.
    pub re: f64,
    /// Imaginary part.
    pub im: f64,
}

impl Complex {
    /// Nought.
    pub const ZERO: Self = Self { re: 0.0, im: 0.0 };
    /// One.
    pub const ONE: Self = Self { re: 1.0, im: 0.0 };

    /// From real and imaginary part.
    pub const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    /// A real number.
    pub const fn real(re: f64) -> Self {
        Self { re, im: 0.0 }
    }

    /// An imaginary number.
    pub const fn imaginary(im: f64) -> Self {
        Self { re: 0.0, im }
    }

    /// Absolute value, without overflow on the way.
    pub fn abs(self) -> f64 {
        libm::hypot(self.re, self.im)
    }

    /// Angle in radians, from -π to π.
    pub fn angle(self) -> f64 {
        libm::atan2(self.im, self.re)
    }

    /// The number mirrored in the real axis.
    pub const fn conjugate(self) -> Self {
        Self { re: self.re, im: -self.im }
    }

    /// |re| + |im|: within a factor of √2 of the absolute value and far cheaper, which is enough to choose a
    /// pivot.
    pub(crate) fn size(self) -> f64 {
        self.re.abs() + self.im.abs()
    }

    /// 1 divided by this number.
    pub fn reciprocal(self) -> Self {
        Self::ONE / self
    }
}

impl Add for Complex {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.re + other.re, self.im + other.im)
    }
}

impl AddAssign for Complex {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Complex {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.re - other.re, self.im - other.im)
    }
}

impl SubAssign for Complex {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Neg for Complex {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.re, -self.im)
    }
}

impl Mul for Complex {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::new(self.re * other.re - self.im * other.im, self.re * other.im + self.im * other.re)
    }
}

impl Mul<f64> for Complex {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.re * factor, self.im * factor)
    }
}

impl Div for Complex {
    type Output = Self;

    /// Smith's division (Communications of the ACM 5, 435, 1962): scaled by the larger part of the divisor,
    /// so that squares neither overflow nor vanish.
    fn div(self, by: Self) -> Self {
        if by.re.abs() >= by.im.abs() {
            let ratio = by.im / by.re;
            let scale = by.re + by.im * ratio;
            Self::new((self.re + self.im * ratio) / scale, (self.im - self.re * ratio) / scale)
        } else {
            let ratio = by.re / by.im;
            let scale = by.re * ratio + by.im;
            Self::new((self.re * ratio + self.im) / scale, (self.im * ratio - self.re) / scale)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn division_undoes_multiplication_at_both_ends_of_the_scale() {
        let numbers = [(3.0, -4.0), (-1e-140, 2e-140), (1e140, 1e140), (0.0, 7.0), (5.0, 0.0)];
        for (a, b) in numbers.iter().flat_map(|a| numbers.iter().map(move |b| (*a, *b))) {
            let (a, b) = (Complex::new(a.0, a.1), Complex::new(b.0, b.1));
            let back = (a / b) * b;
            assert!((back - a).size() <= 4e-16 * a.size(), "{a:?} / {b:?} = {back:?}");
        }
    }

    #[test]
    fn absolute_value_and_angle() {
        let number = Complex::new(-3.0, 4.0);
        assert_eq!(number.abs(), 5.0);
        assert!((Complex::imaginary(2.0).angle() - std::f64::consts::FRAC_PI_2).abs() < 1e-15);
        assert_eq!((number * number.conjugate()).re, 25.0);
    }
}
