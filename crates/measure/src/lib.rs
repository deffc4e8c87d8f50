//! Quantities, how people write them at a bench, and how sure they are.
//!
//! It answers: what does this text say, exactly as typed ([`read`], [`Written`])? Which numbers are odd
//! ([`question_coil_resistance`], [`question_coil_inductance`], [`question_temperature`])? How sure is a meter ([`MeterStatement`]), a coil at 20 °C ([`at_20`]), a result of
//! several inputs ([`propagate`], [`simulate`])? What does a handful of values say of the next ([`Sample`])? And how is it printed without a false digit ([`show`], [`engineering`])?
//!
//! **The design decision: a typed number stays a decimal, and its text stays beside it.** `6k31` says 6310 Ω and also
//! that the last digit is worth ten ohms; an `f64` forgets the second and bends the first. So [`Written`] keeps the text,
//! the [`Decimal`] and the [`Unit`], and a float is made once, in one rounding, where a science asks for it. What can be
//! read in two ways is asked back with its place and three right answers ([`ReadError`]), because a guess that is wrong
//! by a thousand looks like a finding.
//!
//! Equations and their sources:
//! - limits into standard uncertainty `u = a/√3`: JCGM 100:2008 (GUM), 4.3.7;
//! - combination `u² = ΣΣ cᵢ cⱼ uᵢ uⱼ r(xᵢ, xⱼ)`: JCGM 100:2008, 5.1.2 and 5.2.2;
//! - expanded uncertainty `U = k u`, two significant digits: JCGM 100:2008, 6.2.1 and 7.2.6;
//! - few readings: mean, spread, degrees of freedom, `t_p(ν)`: JCGM 100:2008, 4.2 and annex G;
//! - distributions, Monte Carlo, coverage intervals: JCGM 101:2008, clauses 6 and 7;
//! - copper `R(t) = R₂₀ [1 + 0.003 93 (t − 20 °C)]`: IEC 60028 as restated; IEC 60851-5 differs, see [`ALPHA_20_WIRE_TEST`];
//! - codes on parts: IEC 60062; units: SI brochure, 9th edition, and the yard and pound agreement of 1959;
//! - meter accuracy ±(% of the reading + digits): common practice, no source.
//!
//! ```
//! use asfound_measure::{Cause, Celsius, Dimension, MeterStatement, Ohms, Uncertain, at_20_for, read, show_expanded};
//! let typed = read("6k15", Dimension::Resistance)?;
//! let reading = Ohms(typed.value_in_base().expect("a number was typed"));
//! let last_digit = Ohms(typed.last_place().expect("a number was typed"));
//! let meter = MeterStatement::parse("0.9 % + 2")?;
//! let causes = [Cause { name: "meter", standard_uncertainty: meter.standard_uncertainty(reading, last_digit) }];
//! let cold_room = Uncertain::rectangular(Celsius(5.0), Celsius(1.0));
//! let referred = at_20_for(reading, &causes, cold_room)?;
//! assert_eq!(show_expanded(referred.of::<Ohms>()), "(6.535\u{202F}±\u{202F}0.098)\u{202F}kΩ");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod codes;
mod copper;
mod decimal;
mod dimension;
mod distribution;
mod freedom;
pub mod marks;
mod meter;
mod number;
mod print;
mod quantity;
mod questioned;
mod read_error;
mod sample;
mod simulate;
mod ucum;
mod uncertain;
mod unit;
mod written;

pub use codes::{CapacitorCode, Tolerance, capacitor_code, resistor_code, tolerance};
pub use copper::{
    ALPHA_20, ALPHA_20_RELATIVE_HALF_WIDTH, ALPHA_20_WIRE_TEST, Cause, CopperError, UNKNOWN_ROOM, at_20,
    at_20_for, carried_to, drawn_at_20, implied_temperature, when_temperature_unknown,
};
pub use decimal::{Decimal, NotDecimal};
pub use dimension::Dimension;
pub use distribution::{Chance, Distribution};
pub use freedom::{coverage_factor, effective_degrees_of_freedom};
pub use meter::MeterStatement;
pub use print::{CANNOT_TELL, NARROW_SPACE, engineering, show, show_expanded};
pub use quantity::{
    Amperes, Celsius, Decibels, Degrees, Farads, Grams, Henries, Hertz, Millimetres, Ohms, Quantity, Ratio,
    Seconds, Volts,
};
pub use questioned::{
    Question, Why, WhyInductance, WhyTemperature, question_coil_inductance, question_coil_resistance,
    question_temperature,
};
pub use read_error::{Problem, ReadError};
pub use sample::Sample;
pub use simulate::{SimulateError, Simulated, simulate};
pub use uncertain::{
    Contribution, Correlation, CorrelationError, Input, Propagated, Uncertain, combine, propagate,
    rectangular,
};
pub use unit::Unit;
pub use written::{Amount, Written, read};
