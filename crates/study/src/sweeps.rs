//! Measurements that came as files: read, fitted, and what they say of the coil.

use std::sync::Arc;

use asfound_electric::impedance::{Fitted, fit};
use asfound_electric::resistor_test::{self, Recording};
use asfound_electric::sweep::{self, Sweep};
use asfound_measure::{Decibels, Hertz, Ohms};
use asfound_plot::{Curve, Plot};
use asfound_record::Job;

use crate::before::Before;
use crate::readings::from_wire;
use crate::sweep_files::{IMPEDANCE_SWEEP, RESISTOR_TEST, SweepFile};

pub use asfound_electric::impedance::{Kind, LossAt, ShortedTurns};
pub use asfound_electric::least_squares::NotTold;

/// What a kept measurement says.
#[derive(Debug, Clone)]
pub struct SweepStudied {
    /// The entry.
    pub seq: u64,
    /// The part's id.
    pub part: String,
    /// The part's name.
    pub name: String,
    /// How it was taken.
    pub how: String,
    /// What a person should know about how it was read.
    pub notes: Vec<String>,
    /// What it says, or why it says nothing: the place, what was read there and what would be right.
    pub told: Result<Arc<Measured>, String>,
}

/// A sweep and the coil that explains it.
#[derive(Debug, Clone)]
pub struct Measured {
    /// The points.
    pub sweep: Sweep,
    /// The fit.
    pub fitted: Fitted,
    /// What a person should know about how it was read.
    notes: Vec<String>,
}

/// What was fitted before.
pub type FittedBefore = Before<SweepFile, Result<Arc<Measured>, String>>;

/// Studies every measurement that came as files.
pub fn study(job: &Job, files: &[SweepFile], before: &FittedBefore) -> Vec<SweepStudied> {
    files
        .iter()
        .map(|file| {
            let told = match file.missing.first() {
                Some(missing) => Err(missing.clone()),
                None => before.answer(file.clone(), |file| measure(file).map(Arc::new)),
            };
            let notes = told.as_ref().map(|measured| measured.notes.clone()).unwrap_or_default();
            let name =
                job.part(&file.part).map_or_else(|| file.part.clone(), |part| part.item.body.name.clone());
            SweepStudied { seq: file.seq, part: file.part.clone(), name, how: file.how.clone(), notes, told }
        })
        .collect()
}

fn measure(file: &SweepFile) -> Result<Measured, String> {
    let (sweep, notes) = match file.how.as_str() {
        IMPEDANCE_SWEEP => {
            let (_, bytes) = file.files.first().ok_or("no file was kept with it; keep the sweep again")?;
            let read = sweep::read(bytes).map_err(|error| error.to_string())?;
            (read.sweep, read.notes.iter().map(ToString::to_string).collect())
        }
        RESISTOR_TEST => recorded(file)?,
        other => return Err(format!("“{other}” is a way of measuring that this release does not know")),
    };
    let fitted = fit(&sweep).map_err(|error| error.to_string())?;
    Ok(Measured { sweep, fitted, notes })
}

fn recorded(file: &SweepFile) -> Result<(Sweep, Vec<String>), String> {
    let resistors: Vec<Ohms> =
        file.resistors.iter().filter_map(|kept| from_wire(kept)?.value_in_base()).map(Ohms).collect();
    let ([(_, first), (_, second)], [a, b]) = (file.files.as_slice(), resistors.as_slice()) else {
        return Err(
            "the test with two resistors needs two recordings and the two resistors' values".to_owned()
        );
    };
    let [one, other] =
        [(first, a), (second, b)].map(|(wav, resistor)| Recording { wav, resistor: *resistor });
    let measured = resistor_test::measure(one, other, None).map_err(|error| error.to_string())?;
    Ok((measured.sweep, measured.notes.iter().map(ToString::to_string).collect()))
}

/// Frequencies at which the fitted coil is drawn: forty a decade.
const A_DECADE: f64 = 40.0;

/// The sweep's points and the fitted coil, as a level over one kilohm.
pub fn plot(measured: &Measured, title: &str) -> Plot {
    let level = |ohms: f64| Decibels(20.0 * libm::log10(ohms.max(1e-3) / 1e3));
    let (low, high) = measured.sweep.span();
    let steps = (libm::log10(high.0 / low.0) * A_DECADE).clamp(1.0, 400.0) as usize;
    let model = (0..=steps).map(|step| {
        let frequency = Hertz(low.0 * libm::pow(high.0 / low.0, step as f64 / steps as f64));
        (frequency, level(measured.fitted.model.impedance(frequency).abs()))
    });
    let points = measured.sweep.points().iter().map(|point| (point.frequency, level(point.magnitude.0)));
    Plot::response(
        title,
        "1 kΩ",
        vec![Curve::new("as measured", points), Curve::new("the fitted coil", model)],
    )
}
