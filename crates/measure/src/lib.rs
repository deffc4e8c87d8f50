//! Quantities, how people write them at a bench, and how sure they are.

mod quantity;

pub use quantity::{
    Amperes, Celsius, Decibels, Degrees, Farads, Grams, Henries, Hertz, Millimetres, Ohms, Seconds, Volts,
};
