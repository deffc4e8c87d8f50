//! Linear equations over the two-valued field, each with the evidence it comes from.

/// A sum of two-valued unknowns and a constant; the unknowns as a set of bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Sum {
    pub(super) unknowns: u128,
    pub(super) odd: bool,
}

impl Sum {
    pub(super) const fn unknown(at: usize) -> Self {
        Self { unknowns: 1 << at, odd: false }
    }

    /// The same with 1 added.
    pub(super) const fn flipped(self) -> Self {
        Self { unknowns: self.unknowns, odd: !self.odd }
    }

    pub(super) const fn plus(self, other: Self) -> Self {
        Self { unknowns: self.unknowns ^ other.unknowns, odd: self.odd ^ other.odd }
    }
}

#[derive(Debug, Clone, Copy)]
struct Row {
    sum: Sum,
    /// The equations it was made from, as a set of bits.
    from: u128,
}

/// Equations `sum = 0`, brought to one leading unknown each.
#[derive(Debug, Clone, Default)]
pub(super) struct Equations {
    rows: Vec<Row>,
}

impl Equations {
    /// Takes an equation `sum = 0`, numbered by its evidence. An `Err` holds the evidence, this included, that cannot
    /// all be true; the equation is then not taken.
    pub(super) fn take(&mut self, sum: Sum, evidence: usize) -> Result<(), u128> {
        let row = self.reduce(Row { sum, from: 1 << evidence });
        if row.sum.unknowns != 0 {
            self.rows.push(row);
            return Ok(());
        }
        if row.sum.odd { Err(row.from) } else { Ok(()) }
    }

    /// The value of a sum, where the equations fix it, and the evidence that fixes it.
    pub(super) fn value(&self, sum: Sum) -> Option<(bool, u128)> {
        let row = self.reduce(Row { sum, from: 0 });
        (row.sum.unknowns == 0).then_some((row.sum.odd, row.from))
    }

    /// Each row's highest unknown stands in no later row, so one pass in order takes them all out.
    fn reduce(&self, mut row: Row) -> Row {
        for known in &self.rows {
            let lead = 127 - known.sum.unknowns.leading_zeros();
            if row.sum.unknowns >> lead & 1 == 1 {
                row = Row { sum: row.sum.plus(known.sum), from: row.from ^ known.from };
            }
        }
        row
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Against every assignment of six unknowns: a sum is fixed exactly when all that satisfy the equations agree,
        /// and the evidence given for it alone already fixes it.
        #[test]
        fn fixed_means_alike_in_all_assignments(
            equations in prop::collection::vec((1_u8..64, any::<bool>()), 0..8),
            asked in 1_u8..64,
        ) {
            let mut taken = Equations::default();
            let mut kept = Vec::new();
            let sum = |unknowns: u8, odd| Sum { unknowns: u128::from(unknowns), odd };
            for (number, &(unknowns, odd)) in equations.iter().enumerate() {
                match taken.take(sum(unknowns, odd), number) {
                    Ok(()) => kept.push((number, unknowns, odd)),
                    Err(from) => {
                        let named = |number: usize| from >> number & 1 == 1;
                        let (mut all, mut total) = (0, false);
                        for (_, &(unknowns, odd)) in equations.iter().enumerate().filter(|(at, _)| named(*at)) {
                            all ^= unknowns;
                            total ^= odd;
                        }
                        prop_assert!(all == 0 && total, "the evidence named does contradict");
                    }
                }
            }
            let even = |assignment: u8, unknowns: u8| (assignment & unknowns).count_ones() % 2 == 1;
            let fits = |assignment: u8, among: u128| {
                kept.iter()
                    .filter(|(number, ..)| among >> number & 1 == 1)
                    .all(|&(_, unknowns, odd)| even(assignment, unknowns) == odd)
            };
            let values = |among: u128| -> Vec<bool> {
                let mut values: Vec<bool> =
                    (0..64).filter(|&it| fits(it, among)).map(|it| even(it, asked)).collect();
                values.sort_unstable();
                values.dedup();
                values
            };
            match taken.value(sum(asked, false)) {
                Some((value, from)) => prop_assert_eq!(values(from), vec![value]),
                None => prop_assert_eq!(values(u128::MAX).len(), 2),
            }
        }
    }
}
