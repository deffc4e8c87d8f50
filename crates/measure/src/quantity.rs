//! Quantities as types, each in one coherent unit, so that an ohm cannot be handed to a room that wants a henry.

/// What every quantity can do: be made from, and give back, the bare number in its own unit.
///
/// It lets one rule for uncertainty or for a meter serve ohms and farads alike.
pub trait Quantity: Copy {
    /// The unit's symbol, as the SI brochure prints it.
    const UNIT: &'static str;

    /// The quantity of this size, in the unit of the type.
    fn of(value: f64) -> Self;

    /// The bare number, in the unit of the type.
    fn size(self) -> f64;
}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident, $symbol:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(pub f64);

        impl $name {
            /// The unit's symbol, as the SI brochure prints it.
            pub const SYMBOL: &'static str = $symbol;

            /// The bare number, in the unit of the type.
            pub const fn value(self) -> f64 {
                self.0
            }
        }

        impl Quantity for $name {
            const UNIT: &'static str = $symbol;

            fn of(value: f64) -> Self {
                Self(value)
            }

            fn size(self) -> f64 {
                self.0
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
    )*};
}

quantities! {
    /// Resistance in ohms.
    Ohms, "Ω";
    /// Inductance in henries.
    Henries, "H";
    /// Capacitance in farads.
    Farads, "F";
    /// Frequency in hertz.
    Hertz, "Hz";
    /// Temperature on the Celsius scale.
    Celsius, "°C";
    /// Length in millimetres.
    Millimetres, "mm";
    /// Mass in grams.
    Grams, "g";
    /// Electric potential difference in volts.
    Volts, "V";
    /// Electric current in amperes.
    Amperes, "A";
    /// Time in seconds.
    Seconds, "s";
    /// A level against a stated reference, in decibels.
    Decibels, "dB";
    /// A pure number, such as a quality factor or a ratio.
    Ratio, "";
    /// A plane angle in degrees.
    Degrees, "°";
}
