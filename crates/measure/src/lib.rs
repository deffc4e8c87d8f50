//! Quantities, how people write them at a bench, and how sure they are.

mod decimal;
mod number;
mod quantity;
mod read_error;
mod unit;
mod written;

pub use decimal::{Decimal, NotDecimal};
pub use quantity::{
    Amperes, Celsius, Decibels, Degrees, Farads, Grams, Henries, Hertz, Millimetres, Ohms, Quantity, Seconds, Volts,
};
pub use read_error::{Problem, ReadError};
pub use unit::{Dimension, Unit};
pub use written::{Amount, Written, read};
