//! The weighing: draws, shares, and the answer put together.

use super::answer::{Condition, ENOUGH, Effort, Hand, Weighed};
use super::cause;
use super::construction::Construction;
use super::drawn::Over;
use super::draws::{Draw, Draws, log_sum, plus, resample, shares};
use super::evidence::Evidence;
use super::found::{Found, FoundError, Piece};
use super::looks;
use super::opinions::{Matter, Opinions};
use super::parts::{self, Parts};
use super::prior::{self, STRATA, pair};
use super::random::Random;
use super::said;
use super::summary;
use super::tables::Tables;
use asfound_weigh::Probability;

/// Draws in all, for one weighing.
pub const DRAWS: usize = 20_000;
/// Of these, the share drawn without a reading that is solved for, which shows what that reading says.
const WITHOUT: f64 = 0.18;
/// The fewest draws.
const FEWEST: usize = 2_000;
/// Draws of equal weight, picked by weight, for intervals, causes and looks.
const PICKED: usize = 4_000;

/// A weighing at work: what is known before and after the draws.
pub(super) struct Weighing<'a> {
    number: usize,
    pub(super) evidence: Evidence<'a>,
    /// Sights of parts for each pair.
    pub(super) parts: [Parts; STRATA],
    /// Log of prior share and sights of parts for each pair.
    pub(super) log_factors: [f64; STRATA],
    pub(super) draws: Draws,
    /// Log weight of each pair.
    pub(super) log_masses: [f64; STRATA],
    /// Log weight of each pair with a piece left out that is solved for.
    without: Vec<(Piece, [f64; STRATA])>,
    /// Share of *none of these*.
    pub(super) none: f64,
}

/// Weighs what was found on a coil. The same inputs and seed give the same bits.
///
/// # Errors
/// [`FoundError`] for what cannot have been found: a figure that is not positive, two sights that exclude each other.
///
/// ```
/// use asfound_electric::coil::*;
/// use asfound_measure::{Ohms, Uncertain};
/// let found = Found {
///     ohms: vec![OhmsReading {
///         shown: Shown::Ohms(Uncertain::new(Ohms(4900.0), Ohms(5.0))),
///         temperature: Temperature::Cold,
///         meter: 1,
///         gain_uncertainty: 0.004,
///     }],
///     features: vec![Feature::TapeNewer],
///     construction: Some(Construction::SixRod),
///     ..Found::default()
/// };
/// let weighed = weigh(&found, &Opinions::default(), &Tables::default(), 1)?;
/// // Cold alone does not make 4.9k of a coil that reads 6k: even at 0 °C that is only 8 %.
/// assert!(weighed.condition(Condition::Healthy).value() < 0.9);
/// assert!(weighed.rewound().value() > 0.2);
/// assert!(!weighed.next.is_empty());
/// # Ok::<(), FoundError>(())
/// ```
pub fn weigh(found: &Found, opinions: &Opinions, tables: &Tables, seed: u64) -> Result<Weighed, FoundError> {
    weigh_drawing(DRAWS, found, opinions, tables, seed)
}

/// As [`weigh`], with a number of draws of one's own: fewer for a glance over a drawer of coils, more for a dispute. A
/// number below 2,000 is raised to it.
///
/// # Errors
/// As [`weigh`].
pub fn weigh_drawing(
    number: usize,
    found: &Found,
    opinions: &Opinions,
    tables: &Tables,
    seed: u64,
) -> Result<Weighed, FoundError> {
    found.check()?;
    let mut random = Random::from_seed(seed);
    let weighing = Weighing::new(number.max(FEWEST), found, opinions, tables, &mut random);
    Ok(weighing.answer(&mut random))
}

impl<'a> Weighing<'a> {
    fn new(
        number: usize,
        found: &'a Found,
        opinions: &'a Opinions,
        tables: &'a Tables,
        random: &mut Random,
    ) -> Self {
        let evidence = Evidence::new(found, opinions, tables);
        let over = Over {
            constructions: found.construction.map_or_else(|| Construction::ALL.to_vec(), |kind| vec![kind]),
            eras: prior::of_eras(found.period, opinions),
            opinions,
            rare_oftener: true,
        };
        let parts: [Parts; STRATA] = std::array::from_fn(|stratum| {
            let (condition, hand) = pair(stratum);
            parts::weigh(hand, condition, &found.features, opinions)
        });
        let log_factors = log_factors(&parts, opinions);
        let solved = solved_for(&evidence);
        let blind_number = (WITHOUT * number as f64) as usize;
        let own_number = number - blind_number * solved.len();
        let draws = Draws::take(&evidence, &over, &log_factors, own_number, random);
        let mut without = Vec::new();
        for (piece, blind) in solved {
            let unread = Evidence::new(&blind, opinions, tables);
            let draws = Draws::take(&unread, &over, &log_factors, blind_number, random);
            without.push((piece, plus(&log_factors, &draws.log_means(|_, draw| draw.log_weight))));
        }
        let log_masses = plus(&log_factors, &draws.log_means(|_, draw| draw.log_weight));
        let log_measured = plus(&log_priors(opinions), &draws.log_means(|_, draw| draw.log_measured));
        let none = share_of_none(&evidence, log_sum(log_measured.into_iter()), opinions);
        Self { number, evidence, parts, log_factors, draws, log_masses, without, none }
    }

    /// Share of the pairs.
    pub(super) fn shares(&self) -> [f64; STRATA] {
        shares(&self.log_masses)
    }

    fn answer(&self, random: &mut Random) -> Weighed {
        let weights = self.draws.weights(&self.log_factors);
        let squares: f64 = weights.iter().map(|weight| weight * weight).sum();
        let effective = if squares > 0.0 { 1.0 / squares } else { 0.0 };
        let places = resample(&weights, PICKED, random);
        let picked: Vec<&Draw> = places.iter().map(|place| &self.draws.kept[*place]).collect();
        let found = self.evidence.found;
        let has_ohms = !found.ohms.is_empty();
        let disagreement = cause::disagreement(found, &picked);
        let chiefs = disagreement.as_ref().map(|(_, chiefs)| chiefs.as_slice());
        let next = looks::rank(&self.evidence, &picked, chiefs, effective, &self.parts, random);
        let latent = summary::Latent::of(&self.draws, &weights, 1.0 - self.none);
        Weighed {
            conditions: said::conditions(self),
            hands: said::hands(self),
            condition_lead: said::condition_lead(self, effective),
            hand_lead: said::hand_lead(self, effective),
            none_of_these: Probability::of_share(self.none),
            constructions: latent.constructions,
            eras: latent.eras,
            gauges: latent.gauges,
            builds: latent.builds,
            insulations: latent.insulations,
            parts: summary::parts(self, &weights),
            figures: summary::figures(&picked, self.evidence.tables),
            joint: summary::joint(&picked),
            lost_turns: summary::lost_turns(&picked),
            disagreement: disagreement.map(|(disagreement, _)| disagreement),
            ohms_alone: has_ohms.then(|| said::ohms_alone(self)),
            next,
            effort: Effort { draws: self.number, effective, enough: effective >= ENOUGH },
        }
    }

    /// Log weight of each pair with one piece left out.
    pub(super) fn log_masses_without(&self, piece: usize) -> [f64; STRATA] {
        let left_out = self.evidence.pieces[piece];
        if let Some((_, logs)) = self.without.iter().find(|(solved, _)| *solved == left_out) {
            return *logs;
        }
        match left_out {
            Piece::Seen(seen) if parts::is_of_parts(seen) => {
                let mut logs = self.log_masses;
                for (stratum, log) in logs.iter_mut().enumerate() {
                    let (condition, hand) = pair(stratum);
                    *log -= self.evidence.sight_of_parts(seen, hand, condition);
                }
                logs
            }
            _ => {
                let pieces = self.evidence.pieces.len();
                let without = self
                    .draws
                    .log_means(|place, draw| draw.log_weight - self.draws.pieces[place * pieces + piece]);
                plus(&self.log_factors, &without)
            }
        }
    }

    /// Shares of the pairs with one opinion changed, of those that hang on condition and hand alone.
    pub(super) fn shares_with(&self, matter: Matter, value: f64) -> [f64; STRATA] {
        let opinions = self.evidence.opinions.with(matter, value);
        let parts: [Parts; STRATA] = std::array::from_fn(|stratum| {
            let (condition, hand) = pair(stratum);
            parts::weigh(hand, condition, &self.evidence.found.features, &opinions)
        });
        let factors = log_factors(&parts, &opinions);
        let mut logs = self.log_masses;
        for (log, (new, old)) in logs.iter_mut().zip(factors.iter().zip(&self.log_factors)) {
            *log += new - old;
        }
        shares(&logs)
    }
}

/// The pieces that draws are solved for, each with what was found but for it.
fn solved_for(evidence: &Evidence) -> Vec<(Piece, Found)> {
    let found = evidence.found;
    let mut solved = Vec::new();
    if !found.ohms.is_empty() {
        solved.push((Piece::Ohms, Found { ohms: Vec::new(), ..found.clone() }));
    }
    if let Some(place) = evidence.solved_inductance {
        let mut blind = found.clone();
        blind.inductance.remove(place);
        solved.push((Piece::Inductance(place), blind));
    }
    solved
}

fn log_priors(opinions: &Opinions) -> [f64; STRATA] {
    std::array::from_fn(|stratum| {
        let (condition, hand) = pair(stratum);
        libm::log(prior::of_condition(condition, opinions) * prior::of_hand(hand, opinions))
    })
}

fn log_factors(parts: &[Parts; STRATA], opinions: &Opinions) -> [f64; STRATA] {
    let sights: [f64; STRATA] = std::array::from_fn(|stratum| parts[stratum].log_likelihood);
    plus(&log_priors(opinions), &sights)
}

/// Posterior share of *none of these*: sights leave it as it was, measures move it.
fn share_of_none(evidence: &Evidence, log_measured: f64, opinions: &Opinions) -> f64 {
    let prior = opinions.value(Matter::NoneOfThese);
    let log_odds = libm::log(prior / (1.0 - prior)) + evidence.log_if_none_of_these() - log_measured;
    1.0 / (1.0 + libm::exp(-log_odds))
}

/// Sum of the shares of pairs with this condition.
pub(super) fn of_condition(shares: &[f64; STRATA], condition: Condition) -> f64 {
    Hand::ALL.map(|hand| shares[prior::stratum(condition, hand)]).iter().sum()
}

/// Sum of the shares of pairs with this hand.
pub(super) fn of_hand(shares: &[f64; STRATA], hand: Hand) -> f64 {
    Condition::ALL.map(|condition| shares[prior::stratum(condition, hand)]).iter().sum()
}
