//! Explanations with their prior shares, the evidence, and what follows.

use crate::{Probability, Side, Strength};

/// The usual prior share of *none of these*: one in a hundred. A choice, no source.
pub const NONE_OF_THESE: f64 = 0.01;

/// For the rare question whose explanations are all there are (a fault is there, or it is not).
pub const NO_OTHER: f64 = 0.0;

/// One piece of evidence: the logarithm of how probable it was under each explanation.
///
/// Densities serve as well as probabilities, as long as they are in one unit for all explanations.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence<E> {
    /// What was seen, in whatever form the caller keeps it.
    pub about: E,
    /// `ln p(E|H)`, one for each explanation in its order. Minus infinity for the impossible.
    pub log_likelihoods: Vec<f64>,
    /// `ln p(E|none of these)`. `None` stands for the mean over the explanations by their prior shares: none of these
    /// then neither gains nor loses by it.
    pub if_none_of_these: Option<f64>,
}

impl<E> Evidence<E> {
    /// Evidence about which *none of these* says nothing in particular.
    pub fn new(about: E, log_likelihoods: Vec<f64>) -> Self {
        Self { about, log_likelihoods, if_none_of_these: None }
    }
}

/// Why a question cannot be weighed.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum WeighError {
    /// No explanation was given.
    #[error("there is nothing to weigh; name at least one explanation")]
    Nothing,
    /// A prior share that is no share.
    #[error(
        "the prior share {1} of explanation {0} is not a share; it must be a number above 0, such as 0.2"
    )]
    Prior(usize, f64),
    /// The share of none of these is no share.
    #[error("{0} is not a share for \"none of these\"; it must be at least 0 and less than 1, such as 0.01")]
    NoneOfThese(f64),
    /// A piece of evidence that does not speak of every explanation.
    #[error("this evidence speaks of {found} explanations; there are {expected}")]
    Shape {
        /// How many explanations the question has.
        expected: usize,
        /// How many the evidence speaks of.
        found: usize,
    },
    /// A log likelihood that is not a number, or plus infinity.
    #[error(
        "the log likelihood {1} under explanation {0} is not one; it must be a number, or minus infinity"
    )]
    Likelihood(usize, f64),
    /// With what was seen before, every explanation says that this cannot be.
    #[error("with what was seen before, no explanation allows this; leave room for a misreading")]
    Impossible,
    /// A range of priors that does not hold its prior.
    #[error("the range {1} to {2} of explanation {0} does not hold its own prior share")]
    Range(usize, f64, f64),
}

/// Explanations that exclude each other, with prior shares, and the evidence so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Question<H, E> {
    explanations: Vec<H>,
    /// Shares of the explanations and, last, of none of these; they sum to one.
    prior: Vec<f64>,
    evidence: Vec<Evidence<E>>,
}

impl<H, E> Question<H, E> {
    /// A question from explanations and prior weights (any scale; they are made to sum to `1 − none_of_these`).
    ///
    /// # Errors
    /// [`WeighError::Nothing`], [`WeighError::Prior`], [`WeighError::NoneOfThese`].
    pub fn new(explanations: Vec<(H, f64)>, none_of_these: f64) -> Result<Self, WeighError> {
        if explanations.is_empty() {
            return Err(WeighError::Nothing);
        }
        if !(0.0..1.0).contains(&none_of_these) {
            return Err(WeighError::NoneOfThese(none_of_these));
        }
        for (place, (_, weight)) in explanations.iter().enumerate() {
            if !(*weight > 0.0 && weight.is_finite()) {
                return Err(WeighError::Prior(place, *weight));
            }
        }
        let sum: f64 = explanations.iter().map(|(_, weight)| weight).sum();
        let mut prior: Vec<f64> =
            explanations.iter().map(|(_, weight)| weight / sum * (1.0 - none_of_these)).collect();
        prior.push(none_of_these);
        let explanations = explanations.into_iter().map(|(name, _)| name).collect();
        Ok(Self { explanations, prior, evidence: Vec::new() })
    }

    /// Adds a piece of evidence that is independent of the others once the explanation is known. Pieces that are not
    /// must be weighed together by the caller and added as one.
    ///
    /// # Errors
    /// [`WeighError::Shape`], [`WeighError::Likelihood`], [`WeighError::Impossible`]; the question stays as it was.
    pub fn add(&mut self, mut evidence: Evidence<E>) -> Result<(), WeighError> {
        let (expected, found) = (self.explanations.len(), evidence.log_likelihoods.len());
        if expected != found {
            return Err(WeighError::Shape { expected, found });
        }
        let stated = evidence.log_likelihoods.iter().chain(&evidence.if_none_of_these);
        for (place, log) in stated.enumerate() {
            if log.is_nan() || *log == f64::INFINITY {
                return Err(WeighError::Likelihood(place, *log));
            }
        }
        let mean = self.mean_log_likelihood(&evidence.log_likelihoods);
        evidence.if_none_of_these.get_or_insert(mean);
        self.evidence.push(evidence);
        if log_sum(&self.log_weights_without(None)) == f64::NEG_INFINITY {
            self.evidence.pop();
            return Err(WeighError::Impossible);
        }
        Ok(())
    }

    /// `ln Σ p(H) p(E|H)` over the named explanations, their shares made to sum to one.
    fn mean_log_likelihood(&self, logs: &[f64]) -> f64 {
        let named = 1.0 - self.prior[logs.len()];
        let terms: Vec<f64> =
            logs.iter().zip(&self.prior).map(|(log, share)| log + libm::log(share / named)).collect();
        log_sum(&terms)
    }

    /// The explanations, in their order.
    pub fn explanations(&self) -> &[H] {
        &self.explanations
    }

    /// What was added, in order.
    pub fn evidence(&self) -> &[Evidence<E>] {
        &self.evidence
    }

    /// The posterior shares. Asking again gives the same; the order in which evidence was added does not matter.
    pub fn weigh(&self) -> Weighed<'_, H, E> {
        Weighed { shares: self.shares_without(None), question: self }
    }

    /// Posterior shares, with one piece of evidence left out if so asked; the last is none of these.
    fn shares_without(&self, left_out: Option<usize>) -> Vec<f64> {
        shares(&self.log_weights_without(left_out))
    }

    fn log_weights_without(&self, left_out: Option<usize>) -> Vec<f64> {
        let mut logs: Vec<f64> = self.prior.iter().map(|share| libm::log(*share)).collect();
        for (_, evidence) in self.evidence.iter().enumerate().filter(|(place, _)| Some(*place) != left_out) {
            let said = evidence.log_likelihoods.iter().chain(&evidence.if_none_of_these);
            for (log, likelihood) in logs.iter_mut().zip(said) {
                *log += likelihood;
            }
        }
        logs
    }

    /// Whether the leader stays the leader for every set of prior weights inside the ranges, one `(low, high)` for each
    /// explanation, on the scale on which the shares sum to one.
    ///
    /// It is exact: a rival overtakes somewhere inside the ranges if and only if it does with its own weight at the
    /// high end and the leader's at the low end.
    ///
    /// # Errors
    /// [`WeighError::Shape`] where the ranges are not as many as the explanations, [`WeighError::Range`] for one that
    /// does not hold the prior share it is the range of.
    pub fn decision(&self, ranges: &[(f64, f64)]) -> Result<Decision, WeighError> {
        let (expected, found) = (self.explanations.len(), ranges.len());
        if expected != found {
            return Err(WeighError::Shape { expected, found });
        }
        let slack = 1e-12;
        for (place, ((low, high), share)) in ranges.iter().zip(&self.prior).enumerate() {
            if !(*low > 0.0 && *low <= share + slack && *high >= share - slack && high.is_finite()) {
                return Err(WeighError::Range(place, *low, *high));
            }
        }
        let logs = self.log_weights_without(None);
        let with = |place: usize, weight: f64| logs[place] - libm::log(self.prior[place]) + libm::log(weight);
        let leader = first_greatest(&logs[..expected]);
        let at_worst = with(leader, ranges[leader].0);
        let none = self.prior[expected] > 0.0 && logs[expected] >= at_worst;
        let rivals: Vec<usize> = (0..expected)
            .filter(|rival| *rival != leader && with(*rival, ranges[*rival].1) >= at_worst)
            .collect();
        if rivals.is_empty() && !none {
            return Ok(Decision::Decided(leader));
        }
        Ok(Decision::NotDecided { leader, rivals, none_of_these: none })
    }
}

/// Whether a leader holds inside the stated ranges of the priors.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Decision {
    /// This explanation leads whichever priors inside the ranges one holds.
    Decided(usize),
    /// Somebody with other priors, inside the ranges, would name another.
    NotDecided {
        /// Leads with the priors as stated.
        leader: usize,
        /// Lead for somebody.
        rivals: Vec<usize>,
        /// Whether *none of these* is among them.
        none_of_these: bool,
    },
}

/// What one piece of evidence says about one explanation, against all the others together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speaks {
    /// Which piece, by its place in [`Question::evidence`].
    pub evidence: usize,
    /// Natural logarithm of the likelihood ratio: above 0 it speaks for, below 0 against. The alternative is *every
    /// other explanation, each by its share without this piece*.
    pub log_ratio: f64,
    /// What the explanation's probability would be without this piece.
    pub without: Probability,
}

impl Speaks {
    /// The word of the scale; [`Speaks::side`] says whom it supports.
    pub fn strength(&self) -> Strength {
        Strength::of_log(self.log_ratio).0
    }

    /// For the explanation, for the others, or neither.
    pub fn side(&self) -> Side {
        Strength::of_log(self.log_ratio).1
    }
}

/// The posterior of a question.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed<'q, H, E> {
    question: &'q Question<H, E>,
    shares: Vec<f64>,
}

impl<H, E> Weighed<'_, H, E> {
    /// Each explanation with its probability, in the order of the question.
    pub fn probabilities(&self) -> impl Iterator<Item = (&H, Probability)> {
        self.question.explanations.iter().zip(self.shares.iter().map(|share| Probability::of_share(*share)))
    }

    /// The bare posterior share of an explanation, for further arithmetic; shares and [`Weighed::share_of_none`] sum
    /// to one.
    ///
    /// # Panics
    /// Where there is no such explanation.
    pub fn share(&self, explanation: usize) -> f64 {
        assert!(explanation < self.question.explanations.len(), "no explanation {explanation}");
        self.shares[explanation]
    }

    /// The bare posterior share of *none of these*.
    pub fn share_of_none(&self) -> f64 {
        self.shares[self.question.explanations.len()]
    }

    /// The probability of *none of these*.
    pub fn none_of_these(&self) -> Probability {
        Probability::of_share(self.share_of_none())
    }

    /// The most probable explanation, the first of several; `None` where that is *none of these*.
    pub fn leader(&self) -> Option<usize> {
        let leader = first_greatest(&self.shares);
        (leader < self.question.explanations.len()).then_some(leader)
    }

    /// What each piece of evidence says about an explanation, strongest first: by the posterior odds with it over the
    /// odds without it.
    ///
    /// # Panics
    /// Where there is no such explanation.
    pub fn speaks(&self, explanation: usize) -> Vec<Speaks> {
        assert!(explanation < self.question.explanations.len(), "no explanation {explanation}");
        let mut all: Vec<Speaks> = (0..self.question.evidence.len())
            .map(|evidence| {
                let logs = self.question.log_weights_without(Some(evidence));
                let without = shares(&logs)[explanation];
                let with = self.question.log_weights_without(None);
                let change = log_odds(&with, explanation) - log_odds(&logs, explanation);
                // Ruled out with the piece and without it, or alone in the field both times: it tells nothing.
                let log_ratio = if change.is_nan() { 0.0 } else { change };
                Speaks { evidence, log_ratio, without: Probability::of_share(without) }
            })
            .collect();
        all.sort_by(|a, b| b.log_ratio.abs().total_cmp(&a.log_ratio.abs()));
        all
    }
}

/// `ln [w / Σ other w]`, without the loss of digits that the share itself would bring near 1.
fn log_odds(logs: &[f64], place: usize) -> f64 {
    let others: Vec<f64> =
        logs.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, log)| *log).collect();
    logs[place] - log_sum(&others)
}

fn shares(logs: &[f64]) -> Vec<f64> {
    let sum = log_sum(logs);
    logs.iter().map(|log| libm::exp(log - sum)).collect()
}

/// `ln Σ exp`, safe from overflow.
fn log_sum(logs: &[f64]) -> f64 {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if most == f64::NEG_INFINITY {
        return most;
    }
    most + libm::log(logs.iter().map(|log| libm::exp(log - most)).sum())
}

fn first_greatest(values: &[f64]) -> usize {
    let mut best = 0;
    for (place, value) in values.iter().enumerate() {
        if *value > values[best] {
            best = place;
        }
    }
    best
}
