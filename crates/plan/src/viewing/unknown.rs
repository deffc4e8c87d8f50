use crate::money::Money;

use super::ViewingFault;

/// How far probabilities typed by hand may miss a sum of 1.
pub(super) const NEAR_ONE: f64 = 1e-6;

/// One way an unknown may turn out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State {
    /// How probable it is, 0 to 1.
    pub probability: f64,
    /// The share of the worth it takes away for good, 0 to 1; below 0 where it adds.
    pub share_lost: f64,
    /// What it costs besides: the hours and parts of putting it right.
    pub cost: Money,
}

/// Something that is not known of a piece: its states, of which exactly one is so.
#[derive(Debug, Clone, PartialEq)]
pub struct Unknown {
    states: Vec<State>,
}

impl Unknown {
    /// # Errors
    /// [`ViewingFault::NoStates`], [`ViewingFault::Probabilities`], [`ViewingFault::ShareLost`].
    pub fn new(mut states: Vec<State>) -> Result<Self, ViewingFault> {
        if states.is_empty() || states.len() > usize::from(u8::MAX) {
            return Err(ViewingFault::NoStates);
        }
        let sum = checked_sum(states.iter().map(|state| state.probability))?;
        for state in &mut states {
            if !state.share_lost.is_finite() || state.share_lost > 1.0 {
                return Err(ViewingFault::ShareLost(state.share_lost));
            }
            state.probability /= sum;
        }
        Ok(Self { states })
    }

    /// The same after something was learnt beforehand, such as words of the seller: `likelihoods` has how probable that
    /// was in each state (Bayes).
    ///
    /// # Errors
    /// [`ViewingFault::Likelihoods`] where there are more or fewer than states, or one is no probability, or none of the
    /// states can be.
    pub fn given(&self, likelihoods: &[f64]) -> Result<Self, ViewingFault> {
        let all_are = likelihoods.iter().all(|likelihood| (0.0..=1.0).contains(likelihood));
        let mut states = self.states.clone();
        for (state, likelihood) in states.iter_mut().zip(likelihoods) {
            state.probability *= likelihood;
        }
        let sum: f64 = states.iter().map(|state| state.probability).sum();
        if likelihoods.len() != states.len() || !all_are || sum <= 0.0 {
            return Err(ViewingFault::Likelihoods { states: states.len(), read: likelihoods.to_vec() });
        }
        for state in &mut states {
            state.probability /= sum;
        }
        Ok(Self { states })
    }

    /// Its states; their probabilities add up to 1.
    pub fn states(&self) -> &[State] {
        &self.states
    }
}

/// The sum of probabilities, which has to be 1 but for the last digit typed.
pub(super) fn checked_sum(probabilities: impl Iterator<Item = f64> + Clone) -> Result<f64, ViewingFault> {
    let all_are = probabilities.clone().all(|probability| (0.0..=1.0).contains(&probability));
    let sum: f64 = probabilities.clone().sum();
    if all_are && (sum - 1.0).abs() <= NEAR_ONE {
        Ok(sum)
    } else {
        Err(ViewingFault::Probabilities(probabilities.collect()))
    }
}
