//! The resistance of copper and its temperature.
//!
//! `R(t) = R₂₀ [1 + α₂₀ (t − 20 °C)]`, with `α₂₀ = 0.003 93` per kelvin for annealed copper (IEC 60028, as restated in
//! published tables of conductor resistance). Used from −40 °C to 150 °C, where the straight line serves.

use crate::distribution::Distribution;
use crate::quantity::{Celsius, Ohms, Quantity};
use crate::simulate::{Simulated, simulate};
use crate::uncertain::{Contribution, Input, Propagated, Uncertain, rectangular};

/// Temperature coefficient of annealed copper at 20 °C, per kelvin (IEC 60028, as restated).
pub const ALPHA_20: f64 = 0.003_93;

/// The coefficient that the resistance test of winding wires uses from 15 °C to 25 °C, per kelvin (IEC 60851-5, test 1,
/// as restated). It disagrees with [`ALPHA_20`] by 0.8 %, and no computation here uses it; over 5 K the two differ by
/// 0.015 % of the resistance. [`ALPHA_20_RELATIVE_HALF_WIDTH`] is wide enough to hold both.
pub const ALPHA_20_WIRE_TEST: f64 = 0.003_96;

/// Half-width within which the coefficient of a coil's wire is taken to lie, as a fraction of [`ALPHA_20`]. It covers
/// the disagreement of the two standards; that hard-drawn or old wire stays inside it is an assumption, no source.
pub const ALPHA_20_RELATIVE_HALF_WIDTH: f64 = 0.01;

/// The room a bench is taken to be in where nobody wrote a temperature: 15 °C to 25 °C. An assumption, no source.
pub const UNKNOWN_ROOM: (Celsius, Celsius) = (Celsius(15.0), Celsius(25.0));

/// The range in which the straight line serves.
const RANGE: (f64, f64) = (-40.0, 150.0);

/// Why a resistance could not be carried to another temperature.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CopperError {
    /// The temperature is one at which no coil is measured.
    #[error("{0} °C is outside −40 °C to 150 °C; check whether it was typed in °F")]
    Temperature(f64),
    /// The resistance is zero, negative or not a number.
    #[error("{0} Ω is not the resistance of a coil; it must be more than nothing")]
    Resistance(f64),
}

/// A named part of a reading's uncertainty, for the working.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cause {
    /// What it is: the meter, the display, the leads.
    pub name: &'static str,
    /// Its standard uncertainty.
    pub standard_uncertainty: Ohms,
}

/// A resistance read at a temperature, referred to 20 °C, with the working.
///
/// # Errors
/// [`CopperError`] for a temperature beyond −40 °C to 150 °C.
pub fn at_20(reading: Uncertain<Ohms>, temperature: Uncertain<Celsius>) -> Result<Propagated, CopperError> {
    at_20_for(
        reading.value,
        &[Cause { name: "reading", standard_uncertainty: reading.standard_uncertainty }],
        temperature,
    )
}

/// As [`at_20`], with the causes of the reading's uncertainty kept apart in the working.
///
/// `R₂₀ = R/q`, `q = 1 + α₂₀ (t − 20 °C)`; sensitivities `1/q`, `−R α₂₀/q²` and `−R (t − 20 °C)/q²`.
///
/// # Errors
/// As [`at_20`].
///
/// ```
/// use asfound_measure::{Cause, Celsius, Ohms, Uncertain, at_20_for};
/// let causes = [Cause { name: "meter", standard_uncertainty: Ohms(43.5) }];
/// let air = Uncertain::rectangular(Celsius(5.0), Celsius(1.0));
/// let referred = at_20_for(Ohms(6150.0), &causes, air)?;
/// assert_eq!(referred.value.round(), 6535.0);
/// # Ok::<(), asfound_measure::CopperError>(())
/// ```
pub fn at_20_for(
    reading: Ohms,
    causes: &[Cause],
    temperature: Uncertain<Celsius>,
) -> Result<Propagated, CopperError> {
    let q = factor(temperature.value)?;
    let (ohms, kelvins) = (reading.value(), temperature.value.value() - 20.0);
    let mut contributions: Vec<Contribution> = causes
        .iter()
        .map(|cause| contribution(cause.name, ohms, cause.standard_uncertainty.value(), 1.0 / q))
        .collect();
    let u_temperature = temperature.standard_uncertainty.size();
    contributions.push(contribution(
        "temperature",
        temperature.value.value(),
        u_temperature,
        -ohms * ALPHA_20 / (q * q),
    ));
    let u_alpha = rectangular(ALPHA_20 * ALPHA_20_RELATIVE_HALF_WIDTH);
    contributions.push(contribution("coefficient of copper", ALPHA_20, u_alpha, -ohms * kelvins / (q * q)));
    let squares: f64 = contributions.iter().map(|c| c.in_result() * c.in_result()).sum();
    Ok(Propagated { value: ohms / q, standard_uncertainty: squares.sqrt(), contributions })
}

/// A winding's resistance at 20 °C, drawn (JCGM 101): each half-width of the reading, in ohms, is a rectangle of its own,
/// and so are the temperature's, in kelvins, and that of the coefficient of copper.
///
/// One wide rectangle, as a meter's statement is, makes the interval that holds 95 % shorter than twice the standard
/// uncertainty of [`at_20_for`] has it.
///
/// # Errors
/// [`CopperError`] for a temperature outside −40 °C to 150 °C.
pub fn drawn_at_20(
    reading: Ohms,
    half_widths: &[Ohms],
    temperature: Celsius,
    temperature_half_width: Celsius,
    draws: usize,
    seed: u64,
) -> Result<Simulated, CopperError> {
    factor(temperature)?;
    let around = |middle: f64, half: f64| Distribution::rectangular(middle - half, middle + half);
    let mut inputs = vec![
        around(temperature.value(), temperature_half_width.value()),
        around(ALPHA_20, ALPHA_20 * ALPHA_20_RELATIVE_HALF_WIDTH),
    ];
    inputs.extend(half_widths.iter().map(|half| around(0.0, half.value())));
    let model = |x: &[f64]| (reading.value() + x[2..].iter().sum::<f64>()) / (1.0 + x[1] * (x[0] - 20.0));
    simulate(&inputs, model, draws, seed).map_err(|_| CopperError::Resistance(reading.value()))
}

fn contribution(name: &'static str, value: f64, standard_uncertainty: f64, sensitivity: f64) -> Contribution {
    Contribution { input: Input { name, value, standard_uncertainty }, sensitivity }
}

/// `1 + α₂₀ (t − 20 °C)`.
fn factor(temperature: Celsius) -> Result<f64, CopperError> {
    let celsius = temperature.value();
    if !(RANGE.0..=RANGE.1).contains(&celsius) {
        return Err(CopperError::Temperature(celsius));
    }
    Ok(1.0 + ALPHA_20 * (celsius - 20.0))
}

/// What a resistance read at one temperature would read at another.
///
/// # Errors
/// [`CopperError`] for a temperature beyond −40 °C to 150 °C.
pub fn carried_to(reading: Ohms, from: Celsius, to: Celsius) -> Result<Ohms, CopperError> {
    Ok(Ohms(reading.value() / factor(from)? * factor(to)?))
}

/// The least and the most a reading can be at 20 °C where nobody wrote the temperature: from 25 °C and from 15 °C.
/// About 2 % either way.
pub fn when_temperature_unknown(reading: Ohms) -> (Ohms, Ohms) {
    let at = |room: Celsius| Ohms(reading.value() / (1.0 + ALPHA_20 * (room.value() - 20.0)));
    let (cold, warm) = UNKNOWN_ROOM;
    (at(warm), at(cold))
}

/// The temperature of a coil from a second reading, given a first one at a known temperature:
/// `t₂ = 20 + [(R₂/R₁) q₁ − 1]/α₂₀`. Says whether two readings differ by no more than a warm room.
///
/// # Errors
/// [`CopperError`] for a resistance that is not positive, a first temperature beyond −40 °C to 150 °C, or an answer
/// beyond it: then something other than warmth has changed the coil.
pub fn implied_temperature(first: Ohms, at: Celsius, second: Ohms) -> Result<Celsius, CopperError> {
    for ohms in [first.value(), second.value()] {
        if !(ohms > 0.0 && ohms.is_finite()) {
            return Err(CopperError::Resistance(ohms));
        }
    }
    let implied = Celsius(20.0 + (second.value() / first.value() * factor(at)? - 1.0) / ALPHA_20);
    factor(implied)?;
    Ok(implied)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::MeterStatement;
    use proptest::prelude::*;

    #[test]
    fn referred_to_20_degrees() {
        // R/(1 + 0.00393 (t − 20)), evaluated independently in double precision; half of the last printed digit.
        for (ohms, celsius, at_20) in [
            (6150.0, 5.0, 6535.253),
            (6150.0, 15.0, 6273.270),
            (6150.0, 25.0, 6031.481),
            (6150.0, 35.0, 5807.640),
            (6000.0, -5.0, 6653.729),
            (8000.0, 30.0, 7697.489),
            (4000.0, 20.0, 4000.000),
        ] {
            let found = carried_to(Ohms(ohms), Celsius(celsius), Celsius(20.0)).expect("in range").value();
            assert!((found - at_20).abs() <= 5e-4, "{ohms} at {celsius}: {found}");
        }
        let warmed = carried_to(Ohms(6150.0), Celsius(5.0), Celsius(25.0)).expect("in range").value();
        assert!((warmed - 6663.671).abs() <= 5e-4, "{warmed}");
    }

    #[test]
    fn the_two_standards_differ_by_less_than_the_half_width_taken() {
        assert!((ALPHA_20_WIRE_TEST / ALPHA_20 - 1.0).abs() < ALPHA_20_RELATIVE_HALF_WIDTH);
        // With the winding-wire coefficient the same reading is 6538.380 Ω, inside what the working allows for alpha.
        let exact = Uncertain::new(Ohms(6150.0), Ohms(0.0));
        let known = Uncertain::new(Celsius(5.0), Celsius(0.0));
        let referred = at_20(exact, known).expect("in range");
        let wire_test = 6150.0 / (1.0 + ALPHA_20_WIRE_TEST * -15.0);
        assert!((wire_test - 6538.380).abs() <= 5e-4);
        assert!((wire_test - referred.value) < 3.0_f64.sqrt() * referred.standard_uncertainty);
    }

    #[test]
    fn the_working_of_one_reading() {
        // 6.15 kΩ on a 10 Ω display, ±(0.9 % + 2 digits), air at 5 °C ± 1 K, coefficient ± 1 %, all rectangular:
        // JCGM 100, 5.1.2 by hand, and by Monte Carlo of four million trials (s = 48.99). Tolerance 1e-5, the printed
        // digits.
        let meter = MeterStatement::parse("0.9 % + 2").expect("a statement");
        let (reading, resolution) = (Ohms(6150.0), Ohms(10.0));
        let causes = [
            Cause { name: "meter", standard_uncertainty: meter.standard_uncertainty(reading, resolution) },
            Cause { name: "display", standard_uncertainty: Ohms(rectangular(5.0)) },
        ];
        let air = Uncertain::rectangular(Celsius(5.0), Celsius(1.0));
        let referred = at_20_for(reading, &causes, air).expect("in range");
        let expected = [46.228_51, 3.067_586, -15.757_294, 2.363_594];
        assert_eq!(referred.contributions.len(), expected.len());
        for (contribution, expected) in referred.contributions.iter().zip(expected) {
            let found = contribution.in_result();
            assert!((found - expected).abs() <= 1e-5, "{}: {found}", contribution.input.name);
        }
        assert!((referred.contributions[2].sensitivity + 27.292_434).abs() <= 1e-6);
        assert!((referred.contributions[3].sensitivity - 104_169.595).abs() <= 1e-3);
        assert!(
            (referred.standard_uncertainty / 48.9935 - 1.0).abs() <= 1e-5,
            "{}",
            referred.standard_uncertainty
        );
        assert!((referred.expanded(2.0) - 97.99).abs() <= 5e-3);
        let u = referred.of::<Ohms>().standard_uncertainty;
        let joined = at_20(Uncertain::combined(reading, &causes.map(|c| c.standard_uncertainty)), air)
            .expect("in range");
        assert!((joined.standard_uncertainty - u.value()).abs() < 1e-12);
    }

    #[test]
    fn an_unwritten_temperature_is_two_percent_either_way() {
        let (low, high) = when_temperature_unknown(Ohms(6150.0));
        assert!((low.value() - 6031.481).abs() <= 5e-4 && (high.value() - 6273.270).abs() <= 5e-4);
        assert!((high.value() / 6150.0 - 1.0 - 0.02).abs() < 5e-4);
    }

    #[test]
    fn odd_temperatures_and_resistances_are_refused() {
        assert_eq!(
            carried_to(Ohms(1.0), Celsius(-207.0), Celsius(20.0)),
            Err(CopperError::Temperature(-207.0))
        );
        assert!(carried_to(Ohms(1.0), Celsius(f64::NAN), Celsius(20.0)).is_err());
        let room = Celsius(20.0);
        assert_eq!(implied_temperature(Ohms(0.0), room, Ohms(1.0)), Err(CopperError::Resistance(0.0)));
        assert_eq!(
            implied_temperature(Ohms(1.0), room, Ohms(f64::INFINITY)),
            Err(CopperError::Resistance(f64::INFINITY))
        );
        // Half the ohms are not the same coil on a cold day.
        assert!(matches!(
            implied_temperature(Ohms(6000.0), room, Ohms(3000.0)),
            Err(CopperError::Temperature(_))
        ));
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same(ohms in 1.0..1e6_f64, from in -40.0..150.0_f64, to in -40.0..150.0_f64) {
            let there = carried_to(Ohms(ohms), Celsius(from), Celsius(to)).expect("in range");
            let back = carried_to(there, Celsius(to), Celsius(from)).expect("in range");
            // Four roundings.
            prop_assert!((back.value() / ohms - 1.0).abs() < 1e-14);
            let implied = implied_temperature(Ohms(ohms), Celsius(from), there);
            // The answer may fall a rounding beyond the range's own end.
            if let Ok(implied) = implied {
                prop_assert!((implied.value() - to).abs() < 1e-9);
            }
        }
    }
}
