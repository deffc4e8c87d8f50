//! What the meter should show between two lugs, and which parts make it uncertain.

use asfound_measure::Ohms;

use crate::direct::{Reading, solve};
use crate::fault::Probed;
use crate::nets::Current;
use crate::network::{Branch, Law, Network, Port};
use crate::state::{Changes, Wired};

use super::{ProbingError, Span, Tolerances, check_lug};

/// What the meter should show.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// With every part at its traced value.
    pub reading: Reading,
    /// With parts anywhere within their tolerances; the meter's own error is not in it.
    pub span: Span,
    /// The parts that make the span, by index, with the ohms each adds to its width, the widest first. First order: they
    /// need not add up to it.
    pub spread: Vec<(usize, Ohms)>,
}

/// What the meter should show between two lugs, at direct current, with its limits.
///
/// Between two points the resistance of a network never falls when one of its resistances grows (Rayleigh's law of
/// monotony; J. C. Maxwell, A Treatise on Electricity and Magnetism, 1873), so that its least value is that with every
/// part at its least and its most that with every part at its most. The limits are reached, not only held, wherever each
/// knob stands at an end; between, both pieces of a track are taken at their own worst at once, and the limits only hold.
///
/// # Errors
/// [`ProbingError`] where a lug, a setting or a tolerance cannot be.
pub fn expected(
    wired: &Wired,
    probed: &Probed,
    tolerances: &Tolerances,
    changes: &Changes,
) -> Result<Expected, ProbingError> {
    tolerances.check()?;
    let circuit = wired.circuit();
    check_lug(circuit, probed.from)?;
    check_lug(circuit, probed.to)?;
    let network = Network::new(wired, &probed.setting, changes, Current::Direct)?;
    let (from, to, on_path) = match network.port(probed.from, probed.to) {
        Port::Shorted => {
            let span = Span { least: Ohms(0.0), most: tolerances.touching };
            return Ok(Expected { reading: Reading::Shorted, span, spread: Vec::new() });
        }
        Port::Open => {
            let span = Span::open(tolerances);
            return Ok(Expected { reading: Reading::Open, span, spread: Vec::new() });
        }
        Port::Live { from, to, on_path } => (from, to, on_path),
    };
    let chosen: Vec<Branch> =
        network.branches.iter().zip(&on_path).filter(|&(_, &on)| on).map(|(branch, _)| *branch).collect();
    let limits: Vec<[f64; 2]> = chosen
        .iter()
        .filter_map(|branch| tolerances.of_branch(circuit, changes.sort(circuit, branch.part), branch))
        .collect();
    let at = |corner: Option<usize>| {
        let set: Vec<Branch> = chosen
            .iter()
            .zip(&limits)
            .map(|(branch, limits)| match corner {
                Some(corner) => Branch { law: Law::Resistance(limits[corner]), ..*branch },
                None => *branch,
            })
            .collect();
        solve(network.nets.count(), &set.iter().collect::<Vec<_>>(), from, to)
    };
    let nominal = at(None)?;
    let ohms = |reading: Reading| match reading {
        Reading::Ohms(ohms) => ohms.0,
        Reading::Shorted => 0.0,
        Reading::Open => f64::INFINITY,
    };
    let (least, most) = (ohms(at(Some(0))?.reading), ohms(at(Some(1))?.reading));
    let mut spread: Vec<(usize, Ohms)> = nominal
        .shares
        .iter()
        .map(|&(part, share)| {
            let margin = tolerances.margin(circuit, part);
            (part, share * (margin.under + margin.over))
        })
        .filter(|(_, width)| width.0 > 0.0)
        .collect();
    spread.sort_by(|a, b| b.1.0.total_cmp(&a.1.0).then(a.0.cmp(&b.0)));
    let span = Span { least: Ohms(least), most: Ohms(most + tolerances.touching.0) };
    Ok(Expected { reading: nominal.reading, span, spread })
}
