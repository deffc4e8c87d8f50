//! What is to be fitted: unknowns, residuals, spread.

/// How an unknown may move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Domain {
    /// Anywhere; steps are measured in this size.
    Free(f64),
    /// Above nought.
    Positive,
}

/// One unknown: its name and where it may lie.
#[derive(Debug, Clone, PartialEq)]
pub struct Unknown {
    pub(super) name: String,
    pub(super) domain: Domain,
}

impl Unknown {
    /// An unknown above nought, such as a resistance. It is refused where its standard uncertainty comes out larger
    /// than itself.
    pub fn positive(name: impl Into<String>) -> Self {
        Self { name: name.into(), domain: Domain::Positive }
    }

    /// An unknown of either sign. `typical_size` is its order of magnitude (its sign is dropped; nought counts as 1).
    pub fn free(name: impl Into<String>, typical_size: f64) -> Self {
        let size = typical_size.abs();
        let size = if size.is_normal() { size } else { 1.0 };
        Self { name: name.into(), domain: Domain::Free(size) }
    }

    /// The unknown's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// From the value to what is stepped in.
    pub(super) fn inner(&self, value: f64) -> f64 {
        match self.domain {
            Domain::Free(size) => value / size,
            Domain::Positive => libm::log(value),
        }
    }

    /// From what is stepped in to the value.
    pub(super) fn outer(&self, inner: f64) -> f64 {
        match self.domain {
            Domain::Free(size) => inner * size,
            Domain::Positive => libm::exp(inner),
        }
    }

    /// How the value moves with what is stepped in, at this value.
    pub(super) fn slope(&self, value: f64) -> f64 {
        match self.domain {
            Domain::Free(size) => size,
            Domain::Positive => value,
        }
    }
}

/// How far the readings spread.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    /// The standard uncertainty of each reading, in the unit of its residual. χ² then judges the model.
    Known(Vec<f64>),
    /// Only the ratios of the standard uncertainties are known; their size is taken from the residuals.
    Relative(Vec<f64>),
    /// The same for every reading, of a size taken from the residuals.
    Equal,
}

/// Why there is no fit at all.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FitError {
    /// Fewer readings than unknowns (with [`Spread::Equal`] or [`Spread::Relative`]: not more).
    #[error("{readings} readings cannot settle {unknowns} unknowns; take more readings")]
    TooFewReadings {
        /// How many residuals there are.
        readings: usize,
        /// How many unknowns.
        unknowns: usize,
    },
    /// Nothing to fit.
    #[error("there is no unknown to fit")]
    NoUnknowns,
    /// A start has the wrong number of values, or one that its unknown cannot have.
    #[error("start {start} does not give each unknown a value that it can have")]
    Start {
        /// Which start, counted from 1.
        start: usize,
    },
    /// A spread that is not a positive number, or not one for each residual.
    #[error("each reading needs a standard uncertainty above nought")]
    Spread,
    /// From no start did the model stay within finite numbers.
    #[error("the model gives no finite numbers from any start")]
    NoFiniteStart,
    /// The fit was still moving when its patience ran out, from every start.
    #[error("the fit did not settle from any of the {starts} starts")]
    NotSettled {
        /// How many starts were tried.
        starts: usize,
    },
}

/// The residuals at given values: model less reading, one for each reading, in the unit of the reading.
pub(super) type Residuals<'a> = &'a dyn Fn(&[f64]) -> Vec<f64>;
/// Derivatives of the residuals at given values: for each unknown a column, one number for each reading.
pub(super) type Derivatives<'a> = &'a dyn Fn(&[f64]) -> Vec<Vec<f64>>;

/// Unknowns, residuals and spread.
pub struct Problem<'a> {
    pub(super) unknowns: Vec<Unknown>,
    pub(super) spread: Spread,
    pub(super) residuals: Residuals<'a>,
    pub(super) derivatives: Option<Derivatives<'a>>,
    pub(super) settled: f64,
}

/// As close as doubles allow, with something to spare.
const FINEST: f64 = 30.0 * f64::EPSILON;

impl<'a> Problem<'a> {
    /// A problem. `residuals` is handed one value for each unknown, in their order, and gives model less reading for
    /// every reading, always as many. A residual that is not finite marks a place where the fit may not go.
    pub fn new(unknowns: Vec<Unknown>, spread: Spread, residuals: Residuals<'a>) -> Self {
        Self { unknowns, spread, residuals, derivatives: None, settled: FINEST }
    }

    /// With derivatives in closed form: for each unknown a column, one number for each reading, in residual per unit
    /// of the unknown. Without, they are taken by differences.
    pub fn with_derivatives(self, derivatives: Derivatives<'a>) -> Self {
        Self { derivatives: Some(derivatives), ..self }
    }
    /// Calls the fit settled when χ² and the values change by no more than this share. Without, it goes on as far as
    /// doubles allow, which along a flat valley is far; 1e-8 is plenty for readings of three or four digits.
    pub fn settled_at(self, share: f64) -> Self {
        Self { settled: share.abs().max(FINEST), ..self }
    }
}
