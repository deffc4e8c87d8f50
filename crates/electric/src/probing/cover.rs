//! The fewest sets that cover everything: which probings to make.
//!
//! Set covering (R. M. Karp, in Complexity of Computer Computations, 1972). What every answer must contain is taken first
//! and what is covered anyway is left out; then every choice is tried that may still be smaller, and where that takes too
//! long the greedy answer stands, which is at most 1 + 1/2 + … + 1/n times the least (V. Chvátal, Mathematics of
//! Operations Research 4, 233, 1979), beside a number that no answer can be below. Both sources are cited from memory.

use std::collections::BTreeMap;

/// A set of small numbers.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bits(Vec<u64>);

impl Bits {
    pub(super) fn none(size: usize) -> Bits {
        Bits(vec![0; size.div_ceil(64)])
    }

    pub(super) fn put(&mut self, at: usize) {
        self.0[at / 64] |= 1 << (at % 64);
    }

    pub(super) fn has(&self, at: usize) -> bool {
        self.0[at / 64] >> (at % 64) & 1 == 1
    }

    pub(super) fn is_none(&self) -> bool {
        self.0.iter().all(|&word| word == 0)
    }

    pub(super) fn add(&mut self, other: &Bits) {
        self.0.iter_mut().zip(&other.0).for_each(|(word, other)| *word |= other);
    }

    pub(super) fn remove(&mut self, other: &Bits) {
        self.0.iter_mut().zip(&other.0).for_each(|(word, other)| *word &= !other);
    }

    pub(super) fn within(&self, other: &Bits) -> bool {
        self.0.iter().zip(&other.0).all(|(word, other)| word & !other == 0)
    }

    pub(super) fn shared(&self, other: &Bits) -> usize {
        self.0.iter().zip(&other.0).map(|(word, other)| (word & other).count_ones() as usize).sum()
    }

    pub(super) fn members(&self) -> impl Iterator<Item = usize> + '_ {
        self.0.iter().enumerate().flat_map(|(word, &bits)| {
            (0..64).filter(move |bit| bits >> bit & 1 == 1).map(move |bit| word * 64 + bit)
        })
    }
}

/// Sets that cover everything that can be covered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cover {
    /// Which sets, by index, rising.
    pub(super) chosen: Vec<usize>,
    /// No cover has fewer. Equal to the number chosen where that is proved least.
    pub(super) least: usize,
}

/// Choices that are tried before the greedy answer is left to stand.
pub(super) const MOST_CHOICES: usize = 100_000;

/// The fewest of these sets that cover whatever any of them covers; of sets that cover alike the first is taken.
pub(super) fn fewest(sets: &[Bits], size: usize, most_choices: usize) -> Cover {
    let mut left = Left::of(sets, size);
    left.reduce();
    let mut search = Search {
        columns: left.columns(),
        sets: &left.sets,
        best: left.greedy(),
        chosen: Vec::new(),
        choices: 0,
        most_choices,
    };
    let open: Vec<usize> = (0..left.elements.len()).collect();
    let bound = search.disjoint(&open);
    let finished = bound == search.best.len() || search.descend(&open);
    let least = if finished { search.best.len() } else { bound };
    let mut chosen: Vec<usize> = search.best.iter().map(|&set| left.ids[set]).collect();
    chosen.sort_unstable();
    Cover { chosen, least }
}

/// What is left of the problem: sets over elements, both numbered anew.
struct Left {
    ids: Vec<usize>,
    sets: Vec<Bits>,
    elements: Vec<usize>,
}

impl Left {
    fn of(sets: &[Bits], size: usize) -> Left {
        let mut first: BTreeMap<&Bits, usize> = BTreeMap::new();
        for (id, set) in sets.iter().enumerate().filter(|(_, set)| !set.is_none()) {
            first.entry(set).or_insert(id);
        }
        let mut ids: Vec<usize> = first.into_values().collect();
        ids.sort_unstable();
        let elements = (0..size).filter(|&at| sets.iter().any(|set| set.has(at))).collect();
        let mut left = Left { sets: ids.iter().map(|&id| sets[id].clone()).collect(), ids, elements };
        left.renumber(left.elements.clone());
        left
    }

    /// Keeps these elements of those it has, numbered from 0.
    fn renumber(&mut self, kept: Vec<usize>) {
        for set in &mut self.sets {
            let mut anew = Bits::none(kept.len());
            kept.iter().enumerate().filter(|(_, old)| set.has(**old)).for_each(|(new, _)| anew.put(new));
            *set = anew;
        }
        self.elements = kept;
    }

    fn columns(&self) -> Vec<Bits> {
        let mut columns = vec![Bits::none(self.sets.len()); self.elements.len()];
        for (at, set) in self.sets.iter().enumerate() {
            set.members().for_each(|element| columns[element].put(at));
        }
        columns
    }

    /// Leaves out elements that are covered whenever another is, and sets that lie within another.
    fn reduce(&mut self) {
        loop {
            let before = (self.sets.len(), self.elements.len());
            let columns = self.columns();
            let kept: Vec<usize> = without(columns.len(), |at, by| columns[by].within(&columns[at]));
            self.renumber(kept);
            let sets = &self.sets;
            let kept: Vec<usize> = without(sets.len(), |at, by| sets[at].within(&sets[by]));
            self.ids = kept.iter().map(|&at| self.ids[at]).collect();
            self.sets = kept.iter().map(|&at| self.sets[at].clone()).collect();
            if (self.sets.len(), self.elements.len()) == before {
                return;
            }
        }
    }

    fn greedy(&self) -> Vec<usize> {
        let mut open = Bits::none(self.elements.len());
        (0..self.elements.len()).for_each(|at| open.put(at));
        let mut chosen = Vec::new();
        while !open.is_none() {
            let gains = self.sets.iter().map(|set| set.shared(&open)).enumerate();
            let Some((best, gain)) = gains.max_by_key(|&(at, gain)| (gain, std::cmp::Reverse(at))) else {
                break;
            };
            if gain == 0 {
                break;
            }
            chosen.push(best);
            open.remove(&self.sets[best]);
        }
        chosen
    }
}

/// The numbers below `count` that no other makes needless; of two that make each other needless the first stays.
fn without(count: usize, needless: impl Fn(usize, usize) -> bool) -> Vec<usize> {
    let mut kept: Vec<usize> = Vec::new();
    for at in 0..count {
        let by_kept = kept.iter().any(|&by| needless(at, by));
        let by_later = || (at + 1..count).any(|by| needless(at, by) && !needless(by, at));
        if !by_kept && !by_later() {
            kept.push(at);
        }
    }
    kept
}

/// Branch and bound.
struct Search<'l> {
    columns: Vec<Bits>,
    sets: &'l [Bits],
    best: Vec<usize>,
    chosen: Vec<usize>,
    choices: usize,
    most_choices: usize,
}

impl Search<'_> {
    /// How many of the open elements no two of which have a set in common: each needs a set of its own.
    fn disjoint(&self, open: &[usize]) -> usize {
        let mut by_choice: Vec<(usize, usize)> =
            open.iter().map(|&at| (self.columns[at].shared(&self.columns[at]), at)).collect();
        by_choice.sort_unstable();
        let mut taken = Bits::none(self.sets.len());
        let mut count = 0;
        for (_, at) in by_choice {
            if self.columns[at].shared(&taken) == 0 {
                taken.add(&self.columns[at]);
                count += 1;
            }
        }
        count
    }

    /// Tries every choice that may be smaller than the best; false where that was too many.
    fn descend(&mut self, open: &[usize]) -> bool {
        if open.is_empty() {
            if self.chosen.len() < self.best.len() {
                self.best = self.chosen.clone();
            }
            return true;
        }
        if self.chosen.len() + self.disjoint(open) >= self.best.len() {
            return true;
        }
        self.choices += 1;
        if self.choices > self.most_choices {
            return false;
        }
        let Some(&hardest) = open.iter().min_by_key(|&&at| self.columns[at].shared(&self.columns[at])) else {
            return true;
        };
        let mut uncovered = Bits::none(self.columns.len());
        open.iter().for_each(|&at| uncovered.put(at));
        let mut ways: Vec<usize> = self.columns[hardest].members().collect();
        ways.sort_by_key(|&set| std::cmp::Reverse(self.sets[set].shared(&uncovered)));
        for set in ways {
            let rest: Vec<usize> = open.iter().copied().filter(|&at| !self.sets[set].has(at)).collect();
            self.chosen.push(set);
            let finished = self.descend(&rest);
            self.chosen.pop();
            if !finished {
                return false;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bits(size: usize, members: &[usize]) -> Bits {
        let mut bits = Bits::none(size);
        members.iter().for_each(|&at| bits.put(at));
        bits
    }

    /// The definition: try every collection of sets, the smallest first.
    fn by_trying(sets: &[Bits], size: usize) -> usize {
        let mut all = Bits::none(size);
        sets.iter().for_each(|set| all.add(set));
        (0_u32..1 << sets.len())
            .filter(|chosen| {
                let mut covered = Bits::none(size);
                (0..sets.len()).filter(|at| chosen >> at & 1 == 1).for_each(|at| covered.add(&sets[at]));
                covered == all
            })
            .map(u32::count_ones)
            .min()
            .unwrap_or(0) as usize
    }

    proptest! {
        #[test]
        fn no_cover_is_smaller_than_the_one_proved_least(
            sets in prop::collection::vec(prop::collection::vec(0_usize..12, 0..6), 0..11),
        ) {
            let sets: Vec<Bits> = sets.iter().map(|members| bits(12, members)).collect();
            let cover = fewest(&sets, 12, MOST_CHOICES);
            prop_assert_eq!(cover.chosen.len(), by_trying(&sets, 12));
            prop_assert_eq!(cover.least, cover.chosen.len());
        }

        #[test]
        fn cut_short_the_answer_covers_all_and_its_bound_holds(
            sets in prop::collection::vec(prop::collection::vec(0_usize..12, 1..5), 1..11),
        ) {
            let sets: Vec<Bits> = sets.iter().map(|members| bits(12, members)).collect();
            let cover = fewest(&sets, 12, 0);
            let (mut covered, mut all) = (Bits::none(12), Bits::none(12));
            cover.chosen.iter().for_each(|&at| covered.add(&sets[at]));
            sets.iter().for_each(|set| all.add(set));
            prop_assert_eq!(covered, all);
            let least = by_trying(&sets, 12);
            prop_assert!(cover.least <= least && least <= cover.chosen.len());
        }
    }

    #[test]
    fn the_greedy_answer_is_bettered() {
        // Greedy takes the set of six first and then needs both others: three, where two do.
        let sets = [bits(8, &[0, 1, 2, 4, 5, 6]), bits(8, &[0, 1, 2, 3]), bits(8, &[4, 5, 6, 7])];
        assert_eq!(fewest(&sets, 8, MOST_CHOICES), Cover { chosen: vec![1, 2], least: 2 });
    }
}
