//! How far a part's value may lie from the one that stands for it.

use crate::circuit::{Circuit, Sort};
use crate::coil::random::Random;
use crate::explain::{Assumed, AssumedValue};
use crate::sensitivity::Value;

/// How a value lies between its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Anywhere alike (JCGM 101:2008, 6.4.2): limits and nothing else are known.
    Rectangular,
    /// Most near the middle: the limits stand two standard deviations out, and none lies beyond them.
    Normal,
}

/// How far one value of one part may lie from the one in the circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// Index of the part; `None` is the load.
    pub part: Option<usize>,
    /// Which of its values.
    pub value: Value,
    /// Least value as a share of the one in the circuit, above 0: 0.8 for 20 % less.
    pub low: f64,
    /// Greatest value as a share of the one in the circuit.
    pub high: f64,
    /// How it lies between them.
    pub shape: Shape,
}

/// Tracks of pots: ±20 % (makers' limits; three pots sold as 250 kΩ read 219, 248 and 270 kΩ). Common practice, no source.
const TRACK: (f64, f64) = (0.8, 1.2);
/// Capacitors without a letter: ±20 %, which is also what letter M and no band mean (IEC 60062).
const CAPACITOR: (f64, f64) = (0.8, 1.2);
/// A resistor without a band of tolerance: ±20 % (IEC 60062).
const RESISTOR: (f64, f64) = (0.8, 1.2);
/// A winding that was metered: its copper between 15 and 25 °C (IEC 60028), and the meter.
const OHMS_METERED: (f64, f64) = (0.97, 1.03);
/// A winding that was not metered, as a share of the 7 kΩ that stand for it: 5 to 9 kΩ. Common practice, no source.
const OHMS_ASSUMED: (f64, f64) = (0.71, 1.29);
/// An inductance read on a component meter: iron and magnet make it differ with frequency. Common practice, no source.
const HENRIES_READ: (f64, f64) = (0.95, 1.05);
/// An inductance that was not read, as a share of the 2.4 H that stand for it: 1.9 to 2.9 H, about what single coils of
/// one kind spread over (average 2.4 H, six-rod coils 2.8 H in published readings). Common practice, no source.
const HENRIES_ASSUMED: (f64, f64) = (0.8, 1.2);
/// A winding capacitance that was given.
const FARADS_READ: (f64, f64) = (0.9, 1.1);
/// One that was not, as a share of the 120 pF that stand for it: 80 to 200 pF (H. Lemme, 2003).
const FARADS_ASSUMED: (f64, f64) = (0.67, 1.67);

impl Tolerance {
    /// The usual tolerances of every part of a circuit, rectangular: tracks, capacitors and resistors ±20 %, coils closer
    /// where they were measured than where a typical value stands for them.
    pub fn usual(circuit: &Circuit, assumed: &[Assumed]) -> Vec<Self> {
        let mut all = Vec::new();
        for (index, part) in circuit.parts().iter().enumerate() {
            let mut add = |value, (low, high): (f64, f64)| {
                all.push(Self { part: Some(index), value, low, high, shape: Shape::Rectangular });
            };
            let taken = |which: fn(&AssumedValue) -> bool| {
                assumed.iter().any(|one| one.coil.eq_ignore_ascii_case(&part.name) && which(&one.value))
            };
            let either = |taken: bool, read, assumed| if taken { assumed } else { read };
            match &part.sort {
                Sort::Pot(_) => add(Value::Track, TRACK),
                Sort::Capacitor(_) => add(Value::Capacitance, CAPACITOR),
                Sort::Resistor(_) => add(Value::Resistance, RESISTOR),
                Sort::Choke { .. } => {
                    add(Value::Resistance, OHMS_METERED);
                    add(Value::Inductance, HENRIES_ASSUMED);
                }
                Sort::Coil(_) => {
                    let ohms = taken(|value| matches!(value, AssumedValue::Resistance(_)));
                    let henries = taken(|value| matches!(value, AssumedValue::Inductance(_)));
                    let farads = taken(|value| matches!(value, AssumedValue::Capacitance(_)));
                    add(Value::Resistance, either(ohms, OHMS_METERED, OHMS_ASSUMED));
                    add(Value::Inductance, either(henries, HENRIES_READ, HENRIES_ASSUMED));
                    add(Value::Capacitance, either(farads, FARADS_READ, FARADS_ASSUMED));
                }
                Sort::Switch(_) | Sort::Jack | Sort::Metal | Sort::Post { .. } => {}
            }
        }
        all
    }

    /// One value drawn, as a share of the one in the circuit.
    pub(super) fn draw(&self, random: &mut Random) -> f64 {
        match self.shape {
            Shape::Rectangular => random.between((self.low, self.high)),
            Shape::Normal => {
                let (mean, deviation) = ((self.low + self.high) / 2.0, (self.high - self.low) / 4.0);
                loop {
                    let drawn = mean + deviation * random.normal();
                    if (self.low..=self.high).contains(&drawn) || deviation <= 0.0 {
                        return drawn;
                    }
                }
            }
        }
    }
}
