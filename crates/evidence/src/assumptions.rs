//! What is taken for granted, each thing by name, with its range.
//!
//! Nobody has published how long parts lay in stock, how often they were replaced, or how often a stamp is misread. The
//! figures are stated so that they can be disputed, and the ranges are wide. A workshop that has counted sets its own.

use crate::Lag;
use crate::code::DOUBTFUL_READING;

/// A matter on which something is taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Matter {
    /// Mean wait of fresh pots, switches, jacks, capacitors and resistors.
    LagOfSmallParts,
    /// Mean wait of fresh speakers.
    LagOfSpeakers,
    /// Mean wait of fresh transformers and chokes.
    LagOfTransformers,
    /// Mean wait of fresh valves.
    LagOfValves,
    /// Mean wait of all other parts.
    LagOfOthers,
    /// Share of parts fitted from old stock instead.
    OldStock,
    /// Mean age of that old stock.
    AgeOfOldStock,
    /// Mean age of the stock replacements are fitted from.
    AgeOfReplacements,
    /// Share of pots replaced.
    PotReplaced,
    /// Share of switches replaced.
    SwitchReplaced,
    /// Share of jacks replaced.
    JackReplaced,
    /// Share of capacitors replaced.
    CapacitorReplaced,
    /// Share of resistors replaced.
    ResistorReplaced,
    /// Share of coils replaced.
    CoilReplaced,
    /// Share of speakers replaced.
    SpeakerReplaced,
    /// Share of transformers and chokes replaced.
    TransformerReplaced,
    /// Share of valves replaced.
    ValveReplaced,
    /// Share of tuners replaced.
    TunerReplaced,
    /// Share of guards replaced.
    GuardReplaced,
    /// Share of all other parts replaced.
    OtherReplaced,
    /// Share of harnesses replaced whole.
    HarnessReplaced,
    /// Share of codes misread that nobody else can look at again.
    CodeMisread,
    /// Share of codes misread that a photograph shows.
    PhotographedMisread,
    /// Share of papers that are wrong or belong to another.
    DocumentWrong,
    /// Share of dates claimed by a serial that are wrong.
    SerialWrong,
    /// Share of dates by looks that are wrong.
    LooksMislead,
    /// Weight of a reading whose source no list at hand names, or that breaks a rule of thumb about the decade.
    DoubtfulReading,
    /// Longest wait of a part before it was fitted, where everything is taken at its word.
    LongestLag,
    /// Months after the assembly within which a replacement counts as of the period.
    PeriodRepair,
}

/// Something taken for granted, as it comes.
pub type Assumption = asfound_weigh::Opinion<Matter>;

/// All that is taken for granted, with the values in force.
///
/// ```
/// use asfound_evidence::{Assumptions, PartSort};
/// let mut assumptions = Assumptions::default();
/// assert_eq!(PartSort::Pot.replaced(&assumptions), 0.1);
/// assumptions.set("pot replaced", 0.3)?;
/// assert_eq!(PartSort::Pot.replaced(&assumptions), 0.3);
/// assert!(assumptions.set("pot replaced", 1.5).is_err());
/// # Ok::<(), asfound_weigh::OpinionError>(())
/// ```
pub type Assumptions = asfound_weigh::Opinions<Matter>;

const SOURCE: &str = "stated assumption, no published measurement";

const fn share(matter: Matter, name: &'static str, value: f64, least: f64, most: f64) -> Assumption {
    Assumption { matter, name, value, range: (least, most), unit: "", source: SOURCE }
}

const fn months(matter: Matter, name: &'static str, value: f64, least: f64, most: f64) -> Assumption {
    Assumption { matter, name, value, range: (least, most), unit: "months", source: SOURCE }
}

static ASSUMPTIONS: [Assumption; 29] = [
    months(Matter::LagOfSmallParts, "stock lag of small parts", 6.0, 2.0, 18.0),
    months(Matter::LagOfSpeakers, "stock lag of a speaker", 4.0, 1.0, 12.0),
    months(Matter::LagOfTransformers, "stock lag of a transformer", 6.0, 1.0, 18.0),
    months(Matter::LagOfValves, "stock lag of a valve", 6.0, 1.0, 24.0),
    months(Matter::LagOfOthers, "stock lag of other parts", 6.0, 1.0, 24.0),
    share(Matter::OldStock, "fitted from old stock", 0.1, 0.02, 0.3),
    months(Matter::AgeOfOldStock, "age of old stock", 36.0, 18.0, 72.0),
    months(Matter::AgeOfReplacements, "age of replacement stock", 24.0, 3.0, 96.0),
    share(Matter::PotReplaced, "pot replaced", 0.10, 0.03, 0.30),
    share(Matter::SwitchReplaced, "switch replaced", 0.15, 0.04, 0.40),
    share(Matter::JackReplaced, "jack replaced", 0.25, 0.08, 0.60),
    share(Matter::CapacitorReplaced, "capacitor replaced", 0.20, 0.05, 0.60),
    share(Matter::ResistorReplaced, "resistor replaced", 0.10, 0.03, 0.30),
    share(Matter::CoilReplaced, "coil replaced", 0.10, 0.03, 0.30),
    share(Matter::SpeakerReplaced, "speaker replaced", 0.20, 0.08, 0.45),
    share(Matter::TransformerReplaced, "transformer replaced", 0.07, 0.02, 0.20),
    share(Matter::ValveReplaced, "valve replaced", 0.70, 0.40, 0.95),
    share(Matter::TunerReplaced, "tuner replaced", 0.20, 0.05, 0.45),
    share(Matter::GuardReplaced, "guard replaced", 0.15, 0.04, 0.40),
    share(Matter::OtherReplaced, "other part replaced", 0.15, 0.03, 0.45),
    share(Matter::HarnessReplaced, "harness replaced whole", 0.10, 0.03, 0.30),
    share(Matter::CodeMisread, "code misread", 0.02, 0.005, 0.10),
    share(Matter::PhotographedMisread, "photographed code misread", 0.003, 0.0005, 0.02),
    share(Matter::DocumentWrong, "document wrong", 0.05, 0.01, 0.20),
    share(Matter::SerialWrong, "serial wrong", 0.10, 0.03, 0.40),
    share(Matter::LooksMislead, "looks mislead", 0.15, 0.05, 0.40),
    share(Matter::DoubtfulReading, "doubtful reading", DOUBTFUL_READING, 0.002, 0.05),
    months(Matter::LongestLag, "longest stock lag", 60.0, 24.0, 240.0),
    months(Matter::PeriodRepair, "repair of the period", 36.0, 12.0, 120.0),
];

impl asfound_weigh::Matter for Matter {
    fn rows() -> &'static [Assumption] {
        &ASSUMPTIONS
    }

    fn place(self) -> usize {
        self as usize
    }

    fn stand(assumptions: &Assumptions, set: &Assumption) -> bool {
        let value = assumptions.value(set.matter);
        // Longer than a century no part lay anywhere, and the lags are cut long before.
        if set.unit.is_empty() { value > 0.0 && value < 1.0 } else { value > 0.0 && value <= 1200.0 }
    }
}

/// What sort of part it is, as far as lags and replacements go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartSort {
    /// A pot.
    Pot,
    /// A switch.
    Switch,
    /// A jack.
    Jack,
    /// A capacitor.
    Capacitor,
    /// A resistor.
    Resistor,
    /// A pickup's coil, or a pickup.
    Coil,
    /// A speaker.
    Speaker,
    /// A transformer or a choke.
    Transformer,
    /// A valve.
    Valve,
    /// A tuner.
    Tuner,
    /// A guard.
    Guard,
    /// Anything else.
    Other,
}

impl PartSort {
    /// Mean wait in months of fresh parts of this sort.
    fn lag_matter(self) -> Matter {
        match self {
            PartSort::Pot | PartSort::Switch | PartSort::Jack | PartSort::Capacitor | PartSort::Resistor => {
                Matter::LagOfSmallParts
            }
            PartSort::Speaker => Matter::LagOfSpeakers,
            PartSort::Transformer => Matter::LagOfTransformers,
            PartSort::Valve => Matter::LagOfValves,
            PartSort::Coil | PartSort::Tuner | PartSort::Guard | PartSort::Other => Matter::LagOfOthers,
        }
    }

    /// What says how often parts of this sort were replaced.
    pub fn replaced_matter(self) -> Matter {
        match self {
            PartSort::Pot => Matter::PotReplaced,
            PartSort::Switch => Matter::SwitchReplaced,
            PartSort::Jack => Matter::JackReplaced,
            PartSort::Capacitor => Matter::CapacitorReplaced,
            PartSort::Resistor => Matter::ResistorReplaced,
            PartSort::Coil => Matter::CoilReplaced,
            PartSort::Speaker => Matter::SpeakerReplaced,
            PartSort::Transformer => Matter::TransformerReplaced,
            PartSort::Valve => Matter::ValveReplaced,
            PartSort::Tuner => Matter::TunerReplaced,
            PartSort::Guard => Matter::GuardReplaced,
            PartSort::Other => Matter::OtherReplaced,
        }
    }

    /// Prior share of such parts that were replaced.
    pub fn replaced(self, assumptions: &Assumptions) -> f64 {
        assumptions.value(self.replaced_matter())
    }

    /// How long such a part lay before it was fitted at first: mostly fresh stock, a gamma lag of shape 2 with the mean
    /// of the sort, and a share of old stock, drawn on at random. Both shapes are a choice, no source.
    pub fn lag(self, assumptions: &Assumptions) -> Lag {
        let fresh = (assumptions.value(self.lag_matter()) + 0.5) / 2.0;
        let old = assumptions.value(Matter::OldStock);
        let lag = Lag::gamma(2.0, fresh, LONGEST)
            .and_then(|fresh| Ok([(1.0 - old, fresh), (old, at_random(assumptions, Matter::AgeOfOldStock)?)]))
            .and_then(|both| Lag::mixed(&both));
        or_none(lag)
    }
}

/// How old the stock is from which replacements are fitted.
pub fn replacement_stock(assumptions: &Assumptions) -> Lag {
    or_none(at_random(assumptions, Matter::AgeOfReplacements))
}

/// Thirty years: no lag is followed for longer.
const LONGEST: usize = 359;

fn at_random(assumptions: &Assumptions, mean: Matter) -> Result<Lag, crate::LagFault> {
    Lag::geometric(assumptions.value(mean), LONGEST)
}

/// Values that were set are above 0, so the lag can be made; a mean of nothing would be no wait.
fn or_none(lag: Result<Lag, crate::LagFault>) -> Lag {
    lag.unwrap_or_else(|_| Lag::none())
}

#[cfg(test)]
mod tests {
    use asfound_weigh::OpinionError;

    use super::*;

    #[test]
    fn each_matter_has_its_row_and_each_row_makes_sense() {
        for (place, row) in ASSUMPTIONS.iter().enumerate() {
            assert_eq!(row.matter as usize, place, "{}", row.name);
            let (least, most) = row.range;
            assert!(least < row.value && row.value < most, "{}", row.name);
            assert!(ASSUMPTIONS.iter().filter(|other| other.name == row.name).count() == 1);
            for end in [least, row.value, most] {
                assert_eq!(Assumptions::default().set(row.name, end), Ok(()), "{} at {end}", row.name);
            }
        }
    }

    #[test]
    fn what_cannot_be_is_refused_and_changes_nothing() {
        let mut assumptions = Assumptions::default();
        for (name, value) in [
            ("pot replaced", 0.0),
            ("pot replaced", 1.0),
            ("code misread", f64::NAN),
            ("age of old stock", -1.0),
        ] {
            assert!(
                matches!(assumptions.set(name, value), Err(OpinionError::Value { .. })),
                "{name} {value}"
            );
        }
        let unknown = assumptions.set("pots replaced", 0.1).unwrap_err().to_string();
        assert!(unknown.contains("the nearest is \"pot replaced\""), "{unknown}");
        assert_eq!(assumptions, Assumptions::default());
    }

    #[test]
    fn fresh_parts_wait_as_long_as_assumed() {
        let mut assumptions = Assumptions::default();
        assumptions.set("fitted from old stock", 1e-9).expect("it can be set");
        // The lag is cut into whole months and at thirty years; a hundredth of a month covers both.
        assert!((PartSort::Pot.lag(&assumptions).mean_months() - 6.0).abs() < 0.01);
        assert!((PartSort::Speaker.lag(&assumptions).mean_months() - 4.0).abs() < 0.01);
        assert!((replacement_stock(&assumptions).mean_months() - 24.0).abs() < 0.01);
    }
}
