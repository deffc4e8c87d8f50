use super::groups::{Group, Groups, Joint, Numbering};
use super::{Expected, Viewing};

/// How things stand after some checks.
#[derive(Debug, Clone)]
pub struct Standing<'v> {
    viewing: &'v Viewing,
    groups: Groups,
    made: Vec<bool>,
    worth: f64,
}

/// An outcome of a check that has not been made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Foreseen {
    /// How probable it is.
    pub probability: f64,
    /// What the piece is then worth, as expected.
    pub worth: Expected,
}

/// A check with what it is worth now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// Its place in the viewing's list.
    pub check: usize,
    /// What is gained on average by deciding after it.
    pub worth: Expected,
    /// The same for each of its minutes.
    pub per_minute: Expected,
    /// What it would be worth, were the price just what the piece is worth on average: there every check that moves the
    /// worth moves the decision. It ranks checks of which none changes the decision by itself.
    pub on_the_edge: Expected,
}

/// What unknowns leave of the worth and what they cost, on average.
#[derive(Clone, Copy)]
struct Left {
    kept: f64,
    cost: f64,
}

impl Left {
    const ALL: Left = Left { kept: 1.0, cost: 0.0 };

    fn and(self, other: Left) -> Left {
        Left { kept: self.kept * other.kept, cost: self.cost + other.cost }
    }
}

impl<'v> Standing<'v> {
    pub(super) fn of(viewing: &'v Viewing, groups: Groups, made: Vec<bool>) -> Standing<'v> {
        let mut standing = Standing { viewing, groups, made, worth: 0.0 };
        standing.worth = standing.worth_with(standing.left_by(standing.groups.0.iter()));
        standing
    }

    /// What the piece is worth on average, as far as is known.
    pub fn expected_worth(&self) -> Expected {
        self.expected(self.worth)
    }

    /// What is gained on average by the best decision now: to have it where it is worth more than its price.
    pub fn gain(&self) -> Expected {
        self.expected(self.viewing.price.gain(self.worth))
    }

    /// How probable each state of an unknown is now; nothing for one that is not listed.
    pub fn probabilities(&self, unknown: usize) -> Vec<f64> {
        let states = self.viewing.unknowns.get(unknown).map_or(0, |known| known.states().len());
        let mut shares = vec![0.0; states];
        for group in &self.groups.0 {
            let Some(place) = group.unknowns.iter().position(|known| *known == unknown) else { continue };
            for joint in &group.joint {
                shares[usize::from(joint.states[place])] += joint.probability;
            }
        }
        shares
    }

    /// What the piece would be worth on average in each state of an unknown; `None` for a state that cannot be any more.
    pub fn worth_in_each_state(&self, unknown: usize) -> Vec<Option<Expected>> {
        let Some(known) = self.viewing.unknowns.get(unknown) else { return Vec::new() };
        let number = known.states().len();
        self.foreseen(&[unknown], number, |joint, outcome| f64::from(joint == outcome))
            .into_iter()
            .map(|seen| (seen.probability > 0.0).then_some(seen.worth))
            .collect()
    }

    /// What each outcome of a check would mean, with how probable it is. Nothing for a check that is not listed.
    pub fn outcomes(&self, check: usize) -> Vec<Foreseen> {
        let Some(known) = self.viewing.checks.get(check) else { return Vec::new() };
        self.foreseen(known.about(), known.outcomes(), |joint, outcome| known.table()[joint][outcome])
    }

    /// What a check is worth: the gain of deciding after it less that of deciding now. 0 for one that was made.
    pub fn worth_of(&self, check: usize) -> Expected {
        if self.made.get(check).copied().unwrap_or(true) {
            return self.expected(0.0);
        }
        self.worth_of_seeing(&self.outcomes(check))
    }

    /// What it would be worth to know these unknowns for certain: no check that bears on them alone is worth more.
    /// Places that are not in the list are passed over.
    pub fn worth_of_knowing(&self, unknowns: &[usize]) -> Expected {
        let listed: Vec<usize> =
            unknowns.iter().copied().filter(|unknown| *unknown < self.viewing.unknowns.len()).collect();
        let number = listed.iter().map(|unknown| self.viewing.unknowns[*unknown].states().len()).product();
        let seen = self.foreseen(&listed, number, |joint, outcome| f64::from(joint == outcome));
        self.worth_of_seeing(&seen)
    }

    /// The checks that are not made yet: the one that brings most a minute first; those that bring nothing follow by what
    /// they would bring on the edge ([`Ranked::on_the_edge`]), a minute; at last in the viewing's own order.
    pub fn ranked(&self) -> Vec<Ranked> {
        let open = self.viewing.checks.iter().enumerate().filter(|(at, _)| !self.made[*at]);
        let mut ranked: Vec<(Ranked, f64)> = open
            .map(|(at, check)| {
                let outcomes = self.outcomes(at);
                let worth = self.worth_of_seeing(&outcomes);
                let per_minute = self.expected(worth.minor / check.minutes());
                let on_the_edge = self.worth_on_the_edge(&outcomes);
                let edge_per_minute = on_the_edge.minor / check.minutes();
                (Ranked { check: at, worth, per_minute, on_the_edge }, edge_per_minute)
            })
            .collect();
        ranked.sort_by(|(one, one_edge), (other, other_edge)| {
            let by_worth = other.per_minute.minor.total_cmp(&one.per_minute.minor);
            by_worth.then(other_edge.total_cmp(one_edge))
        });
        ranked.into_iter().map(|(ranked, _)| ranked).collect()
    }

    fn worth_of_seeing(&self, outcomes: &[Foreseen]) -> Expected {
        let price = self.viewing.price;
        let possible = outcomes.iter().filter(|seen| seen.probability > 0.0);
        self.expected(possible.map(|seen| seen.probability * price.saved(self.worth, seen.worth.minor)).sum())
    }

    /// With the price at the expected worth: `E[max(0, m(o) − m)]`.
    fn worth_on_the_edge(&self, outcomes: &[Foreseen]) -> Expected {
        let above = outcomes.iter().map(|seen| seen.probability * (seen.worth.minor - self.worth).max(0.0));
        self.expected(above.sum())
    }

    /// What is foreseen of outcomes, each as probable as `shows` says in a joint state of the unknowns it is about.
    fn foreseen(
        &self,
        about: &[usize],
        outcomes: usize,
        shows: impl Fn(usize, usize) -> f64,
    ) -> Vec<Foreseen> {
        let (tied, others) = self.groups.together(about);
        let rest = self.left_by(others.into_iter());
        let numbers = Numbering::of(&tied, about, &self.viewing.unknowns);
        let mut sums = vec![(0.0, Left { kept: 0.0, cost: 0.0 }); outcomes];
        for joint in &tied.joint {
            let left = self.left_in(&tied, joint);
            let number = numbers.of_joint(joint);
            for (outcome, (probability, sum)) in sums.iter_mut().enumerate() {
                let share = joint.probability * shows(number, outcome);
                *probability += share;
                sum.kept += share * left.kept;
                sum.cost += share * left.cost;
            }
        }
        let seen = |(probability, sum): (f64, Left)| {
            let own = Left { kept: sum.kept / probability, cost: sum.cost / probability };
            let worth = if probability > 0.0 { self.worth_with(own.and(rest)) } else { self.worth };
            Foreseen { probability, worth: self.expected(worth) }
        };
        sums.into_iter().map(seen).collect()
    }

    /// Independent groups: the mean of a product is the product of the means.
    fn left_by<'g>(&self, groups: impl Iterator<Item = &'g Group>) -> Left {
        groups.map(|group| self.mean_left(group)).fold(Left::ALL, Left::and)
    }

    fn mean_left(&self, group: &Group) -> Left {
        let mut mean = Left { kept: 0.0, cost: 0.0 };
        for joint in &group.joint {
            let left = self.left_in(group, joint);
            mean.kept += joint.probability * left.kept;
            mean.cost += joint.probability * left.cost;
        }
        mean
    }

    fn left_in(&self, group: &Group, joint: &Joint) -> Left {
        let states = group.unknowns.iter().zip(&joint.states);
        let each = states.map(|(unknown, state)| {
            let state = &self.viewing.unknowns[*unknown].states()[usize::from(*state)];
            Left { kept: 1.0 - state.share_lost, cost: state.cost.minor() as f64 }
        });
        each.fold(Left::ALL, Left::and)
    }

    fn worth_with(&self, left: Left) -> f64 {
        self.viewing.sound.minor() as f64 * left.kept - left.cost
    }

    fn expected(&self, minor: f64) -> Expected {
        Expected { minor, currency: self.viewing.sound.currency() }
    }
}
