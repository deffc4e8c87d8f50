//! A part's year of assembly, month of making and originality, jointly.

use super::dated::Dated;
use super::group::Group;
use super::trace::dates_nothing;
use crate::look::Standing;
use crate::{Lag, Month, Span};

impl Dated {
    /// How many parts there are.
    pub fn parts(&self) -> usize {
        self.traces.len()
    }

    /// How a part stands after everything weighed, to see what a look at it would tell. Nothing for a part known to be
    /// new, which has nothing left to tell.
    ///
    /// # Panics
    /// Where there is no such part.
    pub fn standing(&self, part: usize) -> Option<Standing> {
        let group = &self.groups[self.group_of[part]?];
        let evidence = &self.instrument.parts[part];
        let made = self.made_when(part);
        let weights = made.weights();
        let alone = self.alone(part, group);
        let (mut original, mut replaced) = (self.rows(made.span), self.rows(made.span));

        let as_original = (1.0 - evidence.replaced) * evidence.if_original;
        for (assembled, alone) in self.grid.months().zip(&alone).filter(|(_, alone)| **alone > 0.0) {
            let row = &mut original[self.row(assembled)];
            made.lay_back(assembled, &evidence.lag, alone * as_original, row);
        }
        let later = self.traces[part].fitted.len();
        let as_replaced = evidence.replaced * evidence.if_replaced;
        let log_alone = |(at, alone): (usize, &f64)| match later - at.min(later) {
            0 => f64::NEG_INFINITY,
            months => libm::log(alone * as_replaced / months as f64),
        };
        let alone: Vec<f64> = alone.iter().enumerate().map(log_alone).collect();
        self.add_later(&made, &alone, &vec![0.0; later], &mut replaced);
        if !group.log_fitted.is_empty() {
            let (months, fitted) = self.together(part, group);
            self.add_later(&made, &months, &fitted, &mut replaced);
        }
        for row in original.iter_mut().chain(&mut replaced) {
            row.iter_mut().zip(&weights).for_each(|(share, weight)| *share *= weight);
        }
        Some(Standing::worked_out(made.span, original, replaced))
    }

    /// The months a part may be made in, with their weights.
    fn made_when(&self, part: usize) -> MadeWhen<'_> {
        let evidence = &self.instrument.parts[part];
        let span = evidence.made_in.span();
        if !dates_nothing(evidence) {
            return MadeWhen { span, weights: Some(evidence.made_in.weights()) };
        }
        // Every month alike, as far back as stock goes, so that nothing is cut off.
        let oldest = evidence.lag.masses().len().max(self.instrument.stock.masses().len()) as i32;
        let last = self.instrument.inspected.max(self.grid.last);
        MadeWhen { span: Span { first: self.grid.first - oldest, last }, weights: None }
    }

    /// No shares yet: a row for each year of assembly.
    fn rows(&self, made: Span) -> Vec<Vec<f64>> {
        vec![vec![0.0; made.len()]; self.row(self.grid.last) + 1]
    }

    /// The row of the year in which a month of assembly lies.
    fn row(&self, assembled: Month) -> usize {
        (assembled.year() - self.grid.first.year()) as usize
    }

    /// For each month of assembly the logarithm of its share with the group replaced together, for each month of fitting
    /// alike; for each month of fitting the logarithm of what the other parts' marks weigh.
    fn together(&self, part: usize, group: &Group) -> (Vec<f64>, Vec<f64>) {
        let fitted = &self.traces[part].fitted;
        let signs = libm::log(self.instrument.parts[part].if_replaced);
        let mut months = vec![f64::NEG_INFINITY; self.grid.len()];
        for (at, log) in self.each_month(group).filter(|(at, _)| *at < fitted.len()) {
            months[at] = log + libm::log(group.together / (fitted.len() - at) as f64) + signs;
        }
        let others = |(together, own): (&f64, &f64)| match *own > 0.0 {
            true => together - libm::log(*own),
            false => f64::NEG_INFINITY,
        };
        (months, group.log_fitted.iter().zip(fitted).map(others).collect())
    }

    /// Adds what comes of fitting later: for each month of assembly, all months of fitting after it. Worked backwards, so
    /// that these months only grow in number; and scaled by the greatest of them, so that no number leaves its range.
    fn add_later(&self, made: &MadeWhen<'_>, log_months: &[f64], log_fitted: &[f64], rows: &mut [Vec<f64>]) {
        let mut laid = vec![0.0; made.span.len()];
        let mut scale = f64::NEG_INFINITY;
        for (at, log) in log_fitted.iter().enumerate().rev() {
            if *log > scale {
                let less = libm::exp(scale - log);
                laid.iter_mut().for_each(|share| *share *= less);
                scale = *log;
            }
            if *log > f64::NEG_INFINITY {
                let fitted = self.grid.first + 1 + at as i32;
                made.lay_back(fitted, &self.instrument.stock, libm::exp(log - scale), &mut laid);
            }
            let month = log_months.get(at).copied().unwrap_or(f64::NEG_INFINITY) + scale;
            if month > f64::NEG_INFINITY {
                let share = libm::exp(month);
                let row = &mut rows[self.row(self.grid.first + at as i32)];
                row.iter_mut().zip(&laid).for_each(|(to, laid)| *to += share * laid);
            }
        }
    }
}

/// The months a part may be made in.
struct MadeWhen<'e> {
    span: Span,
    /// What its marks weigh in each; none where they weigh every month alike.
    weights: Option<&'e [f64]>,
}

impl MadeWhen<'_> {
    /// The weights, the greatest of them 1.
    fn weights(&self) -> Vec<f64> {
        match self.weights {
            None => vec![1.0; self.span.len()],
            Some(weights) => {
                let greatest = weights.iter().copied().fold(0.0, f64::max);
                weights.iter().map(|weight| weight / greatest).collect()
            }
        }
    }

    /// Spreads a share over the months of making from which a lag leads to a month.
    fn lay_back(&self, reached: Month, lag: &Lag, share: f64, to: &mut [f64]) {
        for (months, mass) in lag.masses().iter().enumerate() {
            let made = reached - months as i32;
            if self.span.has(made) {
                to[(made - self.span.first) as usize] += share * mass;
            }
        }
    }
}
