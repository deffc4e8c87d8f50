//! What the weighing says.

use super::group::{Group, add_logs};
use super::trace::Trace;
use super::{Instrument, MonthShares, PartEvidence, WeighingFault};
use crate::{Month, Span};
use asfound_weigh::{Probability, Side, Strength};

/// Everything weighed: the months of assembly, and what that says of each part.
#[derive(Debug, Clone, PartialEq)]
pub struct Dated {
    pub(super) instrument: Instrument,
    pub(super) grid: Span,
    pub(super) traces: Vec<Trace>,
    pub(super) groups: Vec<Group>,
    /// The group each part is in; none for a part known to be new.
    pub(super) group_of: Vec<Option<usize>>,
    /// Prior and what is told of the whole, in logarithms.
    log_whole: Vec<f64>,
    assembled: MonthShares,
    /// The shares of the months of assembly, in logarithms.
    log_shares: Vec<f64>,
    log_normaliser: f64,
}

/// What the weighing says of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartDated {
    /// How probable it is that it was there when the whole was put together.
    pub original: Probability,
    /// The same before anything was weighed.
    pub prior: Probability,
    /// How many times as probable all that was found is if this part is original as if it was replaced. For a part of
    /// a harness the marks on the other parts of the harness speak here too, so that such ratios must not be
    /// multiplied.
    pub likelihood_ratio: f64,
    /// When it was made.
    pub made: MonthShares,
}

/// What the weighing says of parts that hang together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HarnessDated {
    /// How probable it is that it was not replaced as a whole.
    pub not_together: Probability,
    /// The same before anything was weighed.
    pub prior: Probability,
    /// How many times as probable all that was found is if it was not replaced as a whole as if it was.
    pub likelihood_ratio: f64,
}

impl PartDated {
    /// The likelihood ratio in words, with the side it supports: this is the part being original.
    pub fn strength(&self) -> (Strength, Side) {
        Strength::of(self.likelihood_ratio)
    }
}

impl HarnessDated {
    /// The likelihood ratio in words, with the side it supports: this is the harness not being replaced as a whole.
    pub fn strength(&self) -> (Strength, Side) {
        Strength::of(self.likelihood_ratio)
    }
}

impl Dated {
    pub(super) fn of(instrument: &Instrument, grid: Span) -> Result<Dated, WeighingFault> {
        let trace = |part| Trace::of(part, grid, instrument.inspected, &instrument.stock);
        let traces: Vec<Trace> = instrument.parts.iter().map(trace).collect();
        let (groups, group_of) = groups(instrument, &traces, grid.len());
        let even = -libm::log(grid.len() as f64);
        let told = |month: Month| instrument.whole.iter().map(|told| libm::log(told.at(month))).sum::<f64>();
        let log_whole: Vec<f64> = grid.months().map(|month| even + told(month)).collect();
        let Posterior { months: assembled, log_shares, log_sum } = posterior(grid, &log_whole, &groups)
            .ok_or_else(|| cannot_hold(instrument, grid, &traces, &groups))?;
        let weighed = traces.iter().zip(&group_of).filter(|(_, group)| group.is_some());
        let log_normaliser = log_sum + weighed.map(|(trace, _)| trace.log_scale).sum::<f64>();
        let instrument = instrument.clone();
        Ok(Dated {
            instrument,
            grid,
            traces,
            groups,
            group_of,
            log_whole,
            assembled,
            log_shares,
            log_normaliser,
        })
    }

    /// What was weighed.
    pub fn instrument(&self) -> &Instrument {
        &self.instrument
    }

    /// When the whole was put together.
    pub fn assembled(&self) -> &MonthShares {
        &self.assembled
    }

    /// Natural logarithm of the normaliser Z, the sum of the prior times everything found over all months. Between two
    /// sets of assumptions the greater Z explains what was found the better.
    pub fn log_normaliser(&self) -> f64 {
        self.log_normaliser
    }

    /// When the whole was put together, if a part's marks and signs are left out.
    ///
    /// # Panics
    /// Where there is no such part.
    pub fn without(&self, part: usize) -> MonthShares {
        let Some(group) = self.group_of[part] else { return self.assembled.clone() };
        let mut groups = self.groups.clone();
        let members = groups[group].members.iter().copied().filter(|member| *member != part).collect();
        groups[group] = Group::of(members, groups[group].together, &self.traces, self.grid.len());
        // With less to hold together, no month becomes impossible.
        posterior(self.grid, &self.log_whole, &groups)
            .map_or_else(|| self.assembled.clone(), |without| without.months)
    }

    /// What it says of a part. A part known to be new is as good as never original, and only its marks say when it was
    /// made.
    ///
    /// # Panics
    /// Where there is no such part.
    pub fn part(&self, part: usize) -> PartDated {
        let Some(group) = self.group_of[part].map(|group| &self.groups[group]) else {
            return known_new(&self.instrument.parts[part]);
        };
        let evidence = &self.instrument.parts[part];
        let prior = (1.0 - group.together) * (1.0 - evidence.replaced);
        let (original, replaced) = self.sides(part, group);
        PartDated {
            original: Probability::of_share(original / (original + replaced)),
            prior: Probability::of_share(prior),
            likelihood_ratio: original / replaced * ((1.0 - prior) / prior),
            made: self.made(part, group),
        }
    }

    /// How probable it is that a part is original; the same as in [`Dated::part`], at less cost.
    ///
    /// # Panics
    /// Where there is no such part.
    pub fn original(&self, part: usize) -> Probability {
        let Some(group) = self.group_of[part] else { return Probability::of_share(0.0) };
        let (original, replaced) = self.sides(part, &self.groups[group]);
        Probability::of_share(original / (original + replaced))
    }

    /// What it says of a harness.
    ///
    /// # Panics
    /// Where there is no such harness.
    pub fn harness(&self, harness: usize) -> HarnessDated {
        // Harnesses come first among the groups, in their order.
        let group = &self.groups[harness];
        let prior = 1.0 - group.together;
        let apart: f64 = self.each_month(group).map(|(at, log)| libm::exp(log + group.log_apart[at])).sum();
        let together: f64 =
            self.each_month(group).map(|(at, log)| libm::exp(log + group.log_together[at])).sum();
        HarnessDated {
            not_together: Probability::of_share(apart / (apart + together)),
            prior: Probability::of_share(prior),
            likelihood_ratio: apart / together * (group.together / prior),
        }
    }

    /// If a part was replaced: how probable it is that this was within so many months of the assembly, a repair of the
    /// period, and not later.
    ///
    /// # Panics
    /// Where there is no such part.
    pub fn replaced_within(&self, part: usize, months: usize) -> Probability {
        let Some(group) = self.group_of[part].map(|group| &self.groups[group]) else {
            return Probability::of_share(f64::NAN);
        };
        let trace = &self.traces[part];
        let share = self.instrument.parts[part].replaced;
        let later = trace.fitted.len();
        let alone = self.alone(part, group);
        let mut within = 0.0;
        for (at, alone) in alone.iter().enumerate().filter(|(at, alone)| *at < later && **alone > 0.0) {
            let soon = &trace.fitted[at..later.min(at + months)];
            within += alone * share * soon.iter().sum::<f64>() / (later - at) as f64;
        }
        for (at, log) in self.each_month(group).filter(|(at, _)| *at < group.log_fitted.len()) {
            let soon = &group.log_fitted[at..later.min(at + months)];
            let log_each = log + libm::log(group.together / (later - at) as f64);
            within += soon.iter().map(|fitted| libm::exp(log_each + fitted)).sum::<f64>();
        }
        let (_, replaced) = self.sides(part, group);
        Probability::of_share(within / replaced)
    }

    /// Shares of everything with a part original, and with it replaced; together 1.
    fn sides(&self, part: usize, group: &Group) -> (f64, f64) {
        let trace = &self.traces[part];
        let share = self.instrument.parts[part].replaced;
        let (mut original, mut replaced) = (0.0, 0.0);
        for (at, alone) in self.alone(part, group).into_iter().enumerate() {
            original += alone * (1.0 - share) * trace.original[at];
            replaced += alone * share * trace.replaced[at];
        }
        if group.together > 0.0 {
            replaced +=
                self.each_month(group).map(|(at, log)| libm::exp(log + group.log_together[at])).sum::<f64>();
        }
        (original, replaced)
    }

    /// Months that are possible, with the logarithm of their share over the group's weight.
    pub(super) fn each_month<'a>(&'a self, group: &'a Group) -> impl Iterator<Item = (usize, f64)> + 'a {
        let over_the_group = |(share, weight): (&f64, &f64)| share - weight;
        let shares = self.log_shares.iter().zip(&group.log_weight).map(over_the_group).enumerate();
        // A month without a share may have no weight either, and then nothing is left to divide.
        shares.filter(|(at, _)| self.log_shares[*at] > f64::NEG_INFINITY)
    }

    /// For each month of assembly its share times the prior and weight of the group not replaced together, over the
    /// group's weight and the part's: what a part's own `O` or `R` is multiplied with.
    pub(super) fn alone(&self, part: usize, group: &Group) -> Vec<f64> {
        let mut alone = vec![0.0; self.grid.len()];
        for (at, log) in self.each_month(group) {
            let mixed = self.traces[part].log_mixed[at];
            if mixed > f64::NEG_INFINITY {
                alone[at] = libm::exp(log + group.log_apart[at] - mixed);
            }
        }
        alone
    }

    /// When a part was made: `L(p)` times what each way from a month of making to the instrument weighs.
    fn made(&self, part: usize, group: &Group) -> MonthShares {
        let evidence = &self.instrument.parts[part];
        let alone = self.alone(part, group);
        let fitted = self.fitted(part, group, &alone);
        let as_original = (1.0 - evidence.replaced) * evidence.if_original;
        let (span, first) = (evidence.made_in.span(), self.grid.first);
        let reach = |weights: &[f64], lag: &crate::Lag, from: i32| -> f64 {
            let waited = (-from).max(0) as usize;
            let here = (from.max(0) as usize).min(weights.len());
            weights[here..]
                .iter()
                .zip(lag.masses().iter().skip(waited))
                .map(|(weight, mass)| weight * mass)
                .sum()
        };
        let weight = |(month, weight): (Month, &f64)| {
            if *weight <= 0.0 {
                return 0.0;
            }
            let original = as_original * reach(&alone, &evidence.lag, month - first);
            let later = reach(&fitted, &self.instrument.stock, month - first - 1);
            weight * (original + later)
        };
        MonthShares::of(span.first, span.months().zip(evidence.made_in.weights()).map(weight).collect())
    }

    /// For each month of fitting a part later, its share over what the part's marks weigh then.
    fn fitted(&self, part: usize, group: &Group, alone: &[f64]) -> Vec<f64> {
        let (trace, evidence) = (&self.traces[part], &self.instrument.parts[part]);
        let later = trace.fitted.len();
        let mut fitted = vec![0.0; later];
        let mut before = 0.0;
        for (at, to) in fitted.iter_mut().enumerate() {
            before += alone.get(at).unwrap_or(&0.0) / (later - at) as f64;
            *to = before * evidence.replaced * evidence.if_replaced;
        }
        if group.log_fitted.is_empty() {
            return fitted;
        }
        let mut per_month = vec![f64::NEG_INFINITY; later];
        for (at, log) in self.each_month(group).filter(|(at, _)| *at < later) {
            per_month[at] = log + libm::log(group.together / (later - at) as f64);
        }
        let mut before = f64::NEG_INFINITY;
        for (at, to) in fitted.iter_mut().enumerate() {
            before = add_logs(before, per_month[at]);
            if trace.fitted[at] > 0.0 {
                *to += libm::exp(before + group.log_fitted[at]) / trace.fitted[at] * evidence.if_replaced;
            }
        }
        fitted
    }
}

fn known_new(part: &PartEvidence) -> PartDated {
    let never = Probability::of_share(0.0);
    let made = MonthShares::of(part.made_in.span().first, part.made_in.weights().to_vec());
    PartDated { original: never, prior: never, likelihood_ratio: 1.0, made }
}

/// Harnesses in their order, then each part on its own.
fn groups(instrument: &Instrument, traces: &[Trace], months: usize) -> (Vec<Group>, Vec<Option<usize>>) {
    let weighed = |part: &usize| !instrument.parts[*part].known_new;
    let mut group_of = vec![None; traces.len()];
    let mut groups = Vec::new();
    for harness in &instrument.harnesses {
        let members: Vec<usize> = harness.members.iter().copied().filter(weighed).collect();
        members.iter().for_each(|part| group_of[*part] = Some(groups.len()));
        groups.push(Group::of(members, harness.replaced_together, traces, months));
    }
    for part in (0..traces.len()).filter(weighed) {
        if group_of[part].is_none() {
            group_of[part] = Some(groups.len());
            groups.push(Group::of(vec![part], 0.0, traces, months));
        }
    }
    (groups, group_of)
}

/// The months of assembly, their shares in logarithms too, and the logarithm of the sum of their weights.
struct Posterior {
    months: MonthShares,
    log_shares: Vec<f64>,
    log_sum: f64,
}

/// Everything multiplied; nothing where no month is possible.
fn posterior(grid: Span, log_whole: &[f64], groups: &[Group]) -> Option<Posterior> {
    let mut logs = log_whole.to_vec();
    for group in groups {
        logs.iter_mut().zip(&group.log_weight).for_each(|(log, weight)| *log += weight);
    }
    let greatest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if greatest == f64::NEG_INFINITY {
        return None;
    }
    let weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - greatest)).collect();
    let log_sum = greatest + libm::log(weights.iter().sum());
    logs.iter_mut().for_each(|log| *log -= log_sum);
    Some(Posterior { months: MonthShares::of(grid.first, weights), log_shares: logs, log_sum })
}

/// Which parts and things told leave no month, and any one of them left out does.
fn cannot_hold(instrument: &Instrument, grid: Span, traces: &[Trace], groups: &[Group]) -> WeighingFault {
    let months = grid.len();
    let mut parts: Vec<usize> = groups.iter().flat_map(|group| group.members.iter().copied()).collect();
    let mut whole: Vec<usize> = (0..instrument.whole.len()).collect();
    let impossible = |parts: &[usize], whole: &[usize]| {
        let kept =
            |group: &Group| group.members.iter().copied().filter(|part| parts.contains(part)).collect();
        let groups: Vec<Group> =
            groups.iter().map(|group| Group::of(kept(group), group.together, traces, months)).collect();
        let told = |month| whole.iter().map(|place| libm::log(instrument.whole[*place].at(month))).sum();
        posterior(grid, &grid.months().map(told).collect::<Vec<f64>>(), &groups).is_none()
    };
    for part in parts.clone() {
        let fewer: Vec<usize> = parts.iter().copied().filter(|other| *other != part).collect();
        if impossible(&fewer, &whole) {
            parts = fewer;
        }
    }
    for place in whole.clone() {
        let fewer: Vec<usize> = whole.iter().copied().filter(|other| *other != place).collect();
        if impossible(&parts, &fewer) {
            whole = fewer;
        }
    }
    parts.sort();
    WeighingFault::CannotHold { assembly: grid, parts, whole }
}
