//! One-port Touchstone files of version 1 (Touchstone File Format Specification 1.1, IBIS Open Forum).

use super::SweepFile;
use super::error::{Note, Place, SweepError};
use super::headings::unit;
use super::numbers::number;
use super::points::{Point, Sweep};
use super::table::shortened;
use crate::complex::Complex;
use asfound_measure::{Hertz, Ohms};

/// What the two numbers of a row are.
#[derive(Clone, Copy, PartialEq)]
enum Pair {
    RealImaginary,
    MagnitudeAngle,
    DecibelsAngle,
}

/// What the parameter is.
#[derive(Clone, Copy, PartialEq)]
enum Parameter {
    Reflection,
    Impedance,
    Admittance,
}

/// The option line, with the specification's defaults: GHz S MA R 50.
struct Options {
    hertz: f64,
    parameter: Parameter,
    pair: Pair,
    reference: f64,
}

/// A line without its comment, which begins at `!`.
fn without_comment(line: &str) -> &str {
    line.split('!').next().unwrap_or("").trim()
}

/// Whether the first line that says anything is an option line (or a keyword of version 2).
pub(super) fn is_touchstone(text: &str) -> bool {
    let Some(line) = text.lines().map(without_comment).find(|line| !line.is_empty()) else { return false };
    let Some(options) = line.strip_prefix('#') else { return line.to_lowercase().starts_with("[version]") };
    let words = ["hz", "khz", "mhz", "ghz", "s", "y", "z", "g", "h", "ma", "db", "ri", "r"];
    let first = options.split_whitespace().next().map(str::to_lowercase);
    !options.contains([',', ';', '\t']) && first.is_none_or(|first| words.contains(&first.as_str()))
}

/// Reads a file.
pub(super) fn read(text: &str) -> Result<SweepFile, SweepError> {
    let mut options: Option<Options> = None;
    let mut points: Vec<(usize, Point)> = Vec::new();
    for (index, whole) in text.lines().enumerate() {
        let (line, stands) = (index + 1, without_comment(whole));
        if stands.starts_with('[') {
            return Err(SweepError::Version { line, read: shortened(stands) });
        }
        if stands.starts_with('#') {
            // Only the first option line counts (section 2 of the specification).
            if options.is_none() {
                options = Some(option_line(line, whole)?);
            }
        } else if let (Some(options), false) = (&options, stands.is_empty()) {
            points.push((line, row(options, line, stands)?));
        }
    }
    let mut notes = Vec::new();
    if let Some(options) = options.filter(|o| o.parameter != Parameter::Reflection && o.reference != 1.0) {
        notes.push(Note::Normalised { reference: Ohms(options.reference) });
    }
    if points.is_empty() {
        return Err(SweepError::NoNumbers);
    }
    if let Some(pair) = points.windows(2).find(|pair| pair[1].1.frequency < pair[0].1.frequency) {
        notes.push(Note::Sorted { line: pair[1].0 });
    }
    let sweep = Sweep::new(points.into_iter().map(|(_, point)| point).collect())?;
    notes.extend(sweep.notes());
    Ok(SweepFile { sweep, notes })
}

fn option_line(line: usize, whole: &str) -> Result<Options, SweepError> {
    let mut options =
        Options { hertz: 1e9, parameter: Parameter::Reflection, pair: Pair::MagnitudeAngle, reference: 50.0 };
    let stands = without_comment(whole).trim_start_matches('#').to_owned();
    let mut words = stands.split_whitespace().enumerate();
    while let Some((index, word)) = words.next() {
        // The mark itself is the first field of the line.
        let place = Place { line, column: index + 2 };
        match word.to_lowercase().as_str() {
            "hz" | "khz" | "mhz" | "ghz" => options.hertz = unit(word).map_or(1.0, |unit| unit.factor),
            "s" => options.parameter = Parameter::Reflection,
            "z" => options.parameter = Parameter::Impedance,
            "y" => options.parameter = Parameter::Admittance,
            "g" | "h" => return Err(SweepError::Parameter { place, read: word.to_uppercase() }),
            "ma" => options.pair = Pair::MagnitudeAngle,
            "db" => options.pair = Pair::DecibelsAngle,
            "ri" => options.pair = Pair::RealImaginary,
            "r" => {
                let resistance = words.next().and_then(|(_, word)| number(word, '.'));
                options.reference = resistance
                    .filter(|resistance| resistance.is_normal() && *resistance > 0.0)
                    .ok_or_else(|| SweepError::Option { place, read: shortened(stands.trim()) })?;
            }
            _ => return Err(SweepError::Option { place, read: shortened(word) }),
        }
    }
    Ok(options)
}

fn row(options: &Options, line: usize, stands: &str) -> Result<Point, SweepError> {
    let words: Vec<&str> = stands.split_whitespace().collect();
    if words.len() < 3 {
        return Err(SweepError::ShortLine { line, found: words.len(), needed: 3 });
    }
    if words.len() > 3 {
        return Err(SweepError::MorePorts { line, found: words.len() });
    }
    let read = |column: usize, what: &'static str| {
        let place = Place { line, column: column + 1 };
        let read = shortened(words[column]);
        number(words[column], '.').ok_or(SweepError::NotNumber { place, what, read })
    };
    let frequency = read(0, "frequency")? * options.hertz;
    if frequency <= 0.0 || !frequency.is_finite() {
        let place = Place { line, column: 1 };
        return Err(SweepError::NotAboveNought { place, read: shortened(words[0]) });
    }
    let (one, other) = (read(1, "parameter")?, read(2, "parameter")?);
    let polar = |magnitude: f64| {
        let (sine, cosine) = libm::sincos(other.to_radians());
        Complex::new(cosine, sine) * magnitude
    };
    let value = match options.pair {
        Pair::RealImaginary => Complex::new(one, other),
        Pair::MagnitudeAngle => polar(one),
        Pair::DecibelsAngle => polar(libm::pow(10.0, one / 20.0)),
    };
    let multiple = match options.parameter {
        Parameter::Impedance => value,
        Parameter::Admittance => value.reciprocal(),
        Parameter::Reflection if value == Complex::ONE => return Err(SweepError::OpenEnd { line }),
        Parameter::Reflection => (Complex::ONE + value) / (Complex::ONE - value),
    };
    let point = Point::complex(Hertz(frequency), multiple * options.reference, None);
    if !point.magnitude.0.is_normal() {
        let place = Place { line, column: 2 };
        return Err(SweepError::Magnitude { place, read: shortened(words[1]) });
    }
    Ok(point)
}
