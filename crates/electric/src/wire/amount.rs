//! The amounts that wire is spoken of in: resistance for each metre, length, and a figure with its limits.

use asfound_measure::{Millimetres, Ohms, Quantity};

/// Resistance of a conductor for each metre of its length, in ohms per metre, at 20 °C unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct OhmsPerMetre(pub f64);

impl OhmsPerMetre {
    /// The bare number, in ohms per metre.
    pub const fn value(self) -> f64 {
        self.0
    }

    /// In ohms per thousand feet, the unit of the wire tables; a foot is 0.3048 m (yard and pound agreement of 1959).
    pub fn per_thousand_feet(self) -> f64 {
        self.0 * 304.8
    }

    /// The resistance of a length of it.
    pub fn over(self, length: Metres) -> Ohms {
        Ohms(self.0 * length.0)
    }
}

impl Quantity for OhmsPerMetre {
    const UNIT: &'static str = "Ω/m";

    fn of(value: f64) -> Self {
        Self(value)
    }

    fn size(self) -> f64 {
        self.0
    }
}

/// A length of wire in metres: a coil's wire is a kilometre long, and millimetres do not suit it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Metres(pub f64);

impl Metres {
    /// The bare number, in metres.
    pub const fn value(self) -> f64 {
        self.0
    }

    /// In feet of 0.3048 m (yard and pound agreement of 1959).
    pub fn feet(self) -> f64 {
        self.0 / 0.3048
    }

    /// As millimetres.
    pub fn millimetres(self) -> Millimetres {
        Millimetres(self.0 * 1e3)
    }
}

impl Quantity for Metres {
    const UNIT: &'static str = "m";

    fn of(value: f64) -> Self {
        Self(value)
    }

    fn size(self) -> f64 {
        self.0
    }
}

/// A figure with the limits that a standard, or whoever states it, sets to it: least ≤ nominal ≤ most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits<T> {
    /// The least it may be.
    pub least: T,
    /// What it is meant to be.
    pub nominal: T,
    /// The most it may be.
    pub most: T,
}

impl<T: Copy> Limits<T> {
    /// Known, as far as this cause goes: all three the same.
    pub fn known(value: T) -> Self {
        Self { least: value, nominal: value, most: value }
    }

    /// Carried through a function that rises with the figure.
    pub fn rising<U>(self, function: impl Fn(T) -> U) -> Limits<U> {
        Limits { least: function(self.least), nominal: function(self.nominal), most: function(self.most) }
    }

    /// Carried through a function that falls as the figure rises: the ends change places.
    pub fn falling<U>(self, function: impl Fn(T) -> U) -> Limits<U> {
        Limits { least: function(self.most), nominal: function(self.nominal), most: function(self.least) }
    }
}

impl<Q: Quantity> Limits<Q> {
    /// The standard uncertainty, if nothing is known but the limits: half their distance over √3 (JCGM 100, 4.3.7; the
    /// nominal need not lie in the middle, and 4.3.8 allows this for limits not far from even).
    pub fn standard_uncertainty(self) -> Q {
        Q::of(asfound_measure::rectangular((self.most.size() - self.least.size()) / 2.0))
    }

    /// Whether a value lies within the limits, ends included.
    pub fn hold(self, value: Q) -> bool {
        (self.least.size()..=self.most.size()).contains(&value.size())
    }
}
