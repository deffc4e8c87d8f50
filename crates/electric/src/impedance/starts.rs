//! Where the fits begin, read off the sweep itself.

use super::choose::Kind;
use crate::sweep::Sweep;

/// Rough values of resistance, inductance and capacitance, and the highest impedance.
struct Rough {
    resistance: f64,
    inductance: f64,
    capacitance: f64,
    highest: f64,
    resonance: f64,
}

impl Rough {
    /// The lowest frequency shows R, the peak the resonance, and the rise between them L.
    fn of(sweep: &Sweep) -> Self {
        let points = sweep.points();
        let lowest = points[0];
        let resistance =
            lowest.impedance().map_or(lowest.magnitude.0, |z| z.re).max(lowest.magnitude.0 * 0.05);
        let peak = points.iter().max_by(|a, b| a.magnitude.0.total_cmp(&b.magnitude.0)).unwrap_or(&lowest);
        // Where the impedance is the geometric mean of both, the inductance rules.
        let middle = (resistance * peak.magnitude.0).sqrt();
        let rising = points.iter().find(|point| point.magnitude.0 >= middle).unwrap_or(peak);
        let reactance = (rising.magnitude.0 * rising.magnitude.0 - resistance * resistance).max(0.0).sqrt();
        let reactance = reactance.max(0.1 * rising.magnitude.0);
        let inductance = reactance / (2.0 * std::f64::consts::PI * rising.frequency.0);
        let resonance = 2.0 * std::f64::consts::PI * peak.frequency.0;
        let capacitance = 1.0 / (resonance * resonance * inductance);
        Self { resistance, inductance, capacitance, highest: peak.magnitude.0, resonance }
    }
}

/// Starts for a kind of model, in the order of its values.
pub(super) fn starts(kind: Kind, sweep: &Sweep) -> Vec<Vec<f64>> {
    let rough = Rough::of(sweep);
    let plain = |inductance: f64, capacitance: f64| {
        vec![rough.resistance, rough.inductance * inductance, rough.capacitance * capacitance]
    };
    let loss = rough.resonance * rough.inductance;
    let eddy = |share: f64, by: f64| vec![rough.inductance * share, loss * by];
    match kind {
        Kind::Plain => vec![plain(1.0, 1.0), plain(2.0, 0.5), plain(0.5, 2.0)],
        Kind::ParallelLoss => {
            [1.2, 10.0].map(|by| [plain(1.0, 1.0), vec![rough.highest * by]].concat()).to_vec()
        }
        Kind::OneEddy => vec![
            [plain(0.7, 1.0), eddy(0.3, 0.3)].concat(),
            [plain(0.4, 1.0), eddy(0.6, 2.0)].concat(),
            [plain(1.4, 0.5), eddy(0.6, 0.3)].concat(),
        ],
        Kind::TwoEddies => vec![
            [plain(0.6, 1.0), eddy(0.2, 0.1), eddy(0.2, 1.0)].concat(),
            [plain(0.3, 1.0), eddy(0.2, 0.2), eddy(0.5, 3.0)].concat(),
            [plain(1.2, 0.5), eddy(0.4, 0.1), eddy(0.4, 1.0)].concat(),
        ],
    }
}
