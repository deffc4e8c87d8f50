//! A blank coil made to read what the ohmmeter showed.
//!
//! The reading known best is not weighed but solved for: it is drawn within its own uncertainty, carried to 20 °C, and
//! the turns are worked out that give it. The weight is then the prior density of those turns times `dN/dR`, which is
//! the same integral by another variable, and nearly every draw counts (JCGM 101 does not need it; its draws go the
//! other way). Other readings are weighed in the usual way.

use super::answer::Condition;
use super::construction::Spread;
use super::drawn::{Blank, CoilDrawn, normal_density};
use super::found::{Found, OhmsReading, Shown, Temperature};
use super::opinions::{Matter, Opinions};
use super::random::Random;
use asfound_measure::ALPHA_20;

/// Chance that a sound coil shows over range: a probe that did not touch. Common practice, no source.
const MISSED_CONTACT: f64 = 0.002;
/// Leak across a break, in ohms, even on a logarithmic scale; as often there is none to be read. No source.
pub(super) const LEAK: (f64, f64) = (20e3, 1e9);
const LEAKS: f64 = 0.5;
/// A leak wanders from reading to reading by about a fifth. Common practice, no source.
const LEAK_WANDERS: f64 = 0.2;

/// A coil that agrees with the ohms, with the logarithm of its weight.
pub(super) struct Agreed {
    pub(super) coil: CoilDrawn,
    pub(super) log_weight: f64,
    /// Temperature at the reading known best, in °C; a draw of the room where none was read.
    pub(super) celsius: f64,
}

/// `R(t)/R(20 °C)` (IEC 60028).
pub(super) fn warmed(celsius: f64) -> f64 {
    1.0 + ALPHA_20 * (celsius - 20.0)
}

/// The reading that is known best, its temperature included.
pub(super) fn best(found: &Found) -> Option<usize> {
    let doubt = |reading: &OhmsReading| match reading.shown {
        Shown::Over(_) => None,
        Shown::Ohms(ohms) => {
            let kelvins = match reading.temperature {
                Temperature::Measured(celsius) => celsius.standard_uncertainty.value(),
                Temperature::NotSaid => 3.0,
                Temperature::Cold | Temperature::Warm => 6.0,
            };
            Some(ohms.relative() + reading.gain_uncertainty + ALPHA_20 * kelvins)
        }
    };
    let doubts = found.ohms.iter().enumerate().filter_map(|(place, reading)| Some((place, doubt(reading)?)));
    doubts.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(place, _)| place)
}

/// A temperature of the coil, in °C: as said, or other than said.
pub(super) fn temperature(said: Temperature, other: bool, opinions: &Opinions, random: &mut Random) -> f64 {
    let (least, most) = (opinions.value(Matter::RoomLeast), opinions.value(Matter::RoomMost));
    match (said, other) {
        (Temperature::Measured(celsius), false) => {
            celsius.value.value() + celsius.standard_uncertainty.value() * random.normal()
        }
        (Temperature::Measured(celsius), true) => {
            let off = random.between((3.0, 20.0));
            celsius.value.value() + if random.chance(0.5) { off } else { -off }
        }
        (Temperature::NotSaid, false) | (Temperature::Cold | Temperature::Warm, true) => {
            random.between((least, most))
        }
        (Temperature::NotSaid, true) if random.chance(0.5) => random.between((least - 20.0, least)),
        (Temperature::NotSaid, true) => random.between((most, most + 15.0)),
        (Temperature::Cold, false) => random.between((least - 20.0, least)),
        (Temperature::Warm, false) => random.between((most, most + 15.0)),
    }
}

/// The coil of a blank that agrees with the ohms found; with turns from their prior where there are none, or where the
/// wire is broken. `None` for a draw of no weight.
pub(super) fn agree(
    blank: Blank,
    found: &Found,
    best: Option<usize>,
    opinions: &Opinions,
    random: &mut Random,
) -> Option<Agreed> {
    let other = blank.condition == Condition::OtherTemperature;
    let Some(first) = best else {
        let said = found.ohms.first().map_or(Temperature::NotSaid, |reading| reading.temperature);
        let celsius = temperature(said, other, opinions, random);
        let coil = blank.with_drawn_turns(random)?;
        let log_weight = match blank.condition {
            Condition::Open => found.ohms.iter().map(open_over).sum(),
            _ => rest(found, None, coil.ohms_at_20(), celsius, opinions, other, random),
        };
        return Some(Agreed { coil, log_weight, celsius });
    };
    let reading = &found.ohms[first];
    let celsius = temperature(reading.temperature, other, opinions, random);
    let Shown::Ohms(shown) = reading.shown else { return None };
    if blank.condition == Condition::Open {
        let coil = blank.with_drawn_turns(random)?;
        return Some(Agreed { coil, log_weight: leak(found, first, shown.value.value())?, celsius });
    }
    let gain = reading.gain_uncertainty * random.normal();
    let ohms = (shown.value.value() - shown.standard_uncertainty.value() * random.normal()) / (1.0 + gain);
    let (coil, density) = blank.that_reads(ohms / warmed(celsius))?;
    let log_density = libm::log(density / (warmed(celsius) * (1.0 + gain)));
    let others = rest(found, Some((first, gain)), coil.ohms_at_20(), celsius, opinions, other, random);
    Some(Agreed { coil, log_weight: log_density + others, celsius })
}

/// Log likelihood of the readings but the best, for a coil of known ohms at 20 °C. Readings that say the same of their
/// temperature in words were taken in the same warmth; a meter's gain is one for all its readings.
fn rest(
    found: &Found,
    best: Option<(usize, f64)>,
    ohms_at_20: f64,
    celsius: f64,
    opinions: &Opinions,
    other: bool,
    random: &mut Random,
) -> f64 {
    let first = best.map(|(first, _)| &found.ohms[first]);
    let mut gains: Vec<(u32, f64)> = Vec::new();
    if let (Some(reading), Some((_, gain))) = (first, best) {
        gains.push((reading.meter, gain));
    }
    let mut log = 0.0;
    for (place, reading) in found.ohms.iter().enumerate() {
        if best.is_some_and(|(first, _)| first == place) {
            continue;
        }
        let same_warmth = match (first, reading.temperature) {
            (_, Temperature::Measured(_)) => false,
            (Some(first), said) => first.temperature == said,
            (None, _) => place == 0,
        };
        let celsius =
            if same_warmth { celsius } else { temperature(reading.temperature, other, opinions, random) };
        let known = gains.iter().find(|(meter, _)| *meter == reading.meter).map(|(_, gain)| *gain);
        let gain = known.unwrap_or_else(|| {
            let gain = reading.gain_uncertainty * random.normal();
            gains.push((reading.meter, gain));
            gain
        });
        let expected = ohms_at_20 * warmed(celsius) * (1.0 + gain);
        log += match reading.shown {
            Shown::Ohms(shown) => log_normal(
                shown.value.value(),
                Spread { mean: expected, deviation: shown.standard_uncertainty.value() },
            ),
            Shown::Over(bound) => {
                let probable = if expected > bound.value() { 1.0 - MISSED_CONTACT } else { MISSED_CONTACT };
                libm::log(probable)
            }
        };
    }
    log
}

/// Log of a normal density, without underflow.
pub(super) fn log_normal(x: f64, Spread { mean, deviation }: Spread) -> f64 {
    let z = (x - mean) / deviation;
    -0.5 * z * z - libm::log(deviation * (2.0 * std::f64::consts::PI).sqrt())
}

/// Log probability that an open coil shows over a bound.
fn open_over(reading: &OhmsReading) -> f64 {
    let Shown::Over(bound) = reading.shown else { return 0.0 };
    let above = libm::log(LEAK.1 / bound.value().clamp(LEAK.0, LEAK.1)) / libm::log(LEAK.1 / LEAK.0);
    libm::log(1.0 - LEAKS + LEAKS * above)
}

/// Log likelihood of an open coil whose best reading is this leak; `None` where no leak is so small.
fn leak(found: &Found, first: usize, ohms: f64) -> Option<f64> {
    if !(LEAK.0..=LEAK.1).contains(&ohms) {
        return None;
    }
    let mut density = LEAKS / (ohms * libm::log(LEAK.1 / LEAK.0));
    for (place, reading) in found.ohms.iter().enumerate().filter(|(place, _)| *place != first) {
        debug_assert_ne!(place, first);
        density *= match reading.shown {
            Shown::Ohms(shown) => {
                normal_density(shown.value.value(), Spread { mean: ohms, deviation: LEAK_WANDERS * ohms })
            }
            Shown::Over(bound) if ohms > bound.value() => 1.0,
            Shown::Over(_) => 0.1,
        };
    }
    Some(libm::log(density))
}
