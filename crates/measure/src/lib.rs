//! Quantities, how people write them at a bench, and how sure they are.

mod decimal;
mod number;
mod quantity;
mod read_error;
mod unit;
mod written;

mod copper;
mod meter;
mod questioned;
mod uncertain;

pub use copper::{
    ALPHA_20, ALPHA_20_RELATIVE_HALF_WIDTH, ALPHA_20_WIRE_TEST, Cause, CopperError, UNKNOWN_ROOM, at_20, at_20_for,
    carried_to, implied_temperature, when_temperature_unknown,
};
pub use decimal::{Decimal, NotDecimal};
pub use meter::MeterStatement;
pub use questioned::{Question, Why, question_coil_resistance};
pub use uncertain::{
    Contribution, Correlation, CorrelationError, Input, Propagated, Uncertain, combine, propagate, rectangular,
};
pub use quantity::{
    Amperes, Celsius, Decibels, Degrees, Farads, Grams, Henries, Hertz, Millimetres, Ohms, Quantity, Seconds, Volts,
};
pub use read_error::{Problem, ReadError};
pub use unit::{Dimension, Unit};
pub use written::{Amount, Written, read};
