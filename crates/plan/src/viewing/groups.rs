//! Joint tables: which unknowns answered checks have tied together, and how probable their states are together.

use super::{Check, Unknown};

/// One joint state of the unknowns of a group.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Joint {
    /// The state of each unknown of the group, in the group's order.
    pub(super) states: Vec<u8>,
    pub(super) probability: f64,
}

/// Unknowns that depend on each other.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    pub(super) unknowns: Vec<usize>,
    pub(super) joint: Vec<Joint>,
}

/// All unknowns, each in exactly one group; groups are independent of each other.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Groups(pub(super) Vec<Group>);

impl Groups {
    /// Each unknown by itself.
    pub(super) fn of(unknowns: &[Unknown]) -> Groups {
        let alone = |(at, unknown): (usize, &Unknown)| {
            let states = unknown.states().iter().zip(0_u8..);
            let joint =
                states.map(|(state, number)| Joint { states: vec![number], probability: state.probability });
            Group { unknowns: vec![at], joint: joint.collect() }
        };
        Groups(unknowns.iter().enumerate().map(alone).collect())
    }

    /// The group of all unknowns that are tied to these, and the others.
    pub(super) fn together(&self, about: &[usize]) -> (Group, Vec<&Group>) {
        let is_tied = |group: &&Group| group.unknowns.iter().any(|unknown| about.contains(unknown));
        let (tied, others): (Vec<&Group>, Vec<&Group>) = self.0.iter().partition(is_tied);
        let nothing =
            Group { unknowns: Vec::new(), joint: vec![Joint { states: Vec::new(), probability: 1.0 }] };
        (tied.into_iter().fold(nothing, |all, group| all.and(group)), others)
    }

    /// Takes in what a check showed; `None` where that cannot be.
    pub(super) fn learn(&mut self, check: &Check, outcome: usize, unknowns: &[Unknown]) -> Option<()> {
        let (mut tied, others) = self.together(check.about());
        let numbers = Numbering::of(&tied, check.about(), unknowns);
        for joint in &mut tied.joint {
            joint.probability *= check.table()[numbers.of_joint(joint)][outcome];
        }
        let sum: f64 = tied.joint.iter().map(|joint| joint.probability).sum();
        if sum <= 0.0 {
            return None;
        }
        tied.joint.retain(|joint| joint.probability > 0.0);
        tied.joint.iter_mut().for_each(|joint| joint.probability /= sum);
        let mut groups: Vec<Group> = others.into_iter().cloned().collect();
        groups.push(tied);
        self.0 = groups;
        Some(())
    }

    /// How many joint states the largest group would have, were every check answered.
    pub(super) fn largest_tied(&self, checks: &[Check], unknowns: &[Unknown]) -> usize {
        let mut group_of: Vec<usize> = (0..unknowns.len()).collect();
        for check in checks {
            let into = group_of[check.about()[0]];
            let tied: Vec<usize> = check.about().iter().map(|&unknown| group_of[unknown]).collect();
            group_of.iter_mut().filter(|group| tied.contains(group)).for_each(|group| *group = into);
        }
        let states_of = |group: usize| {
            let tied = group_of.iter().zip(unknowns).filter(|(of, _)| **of == group);
            tied.fold(1_usize, |states, (_, unknown)| states.saturating_mul(unknown.states().len()))
        };
        (0..unknowns.len()).map(states_of).max().unwrap_or(1)
    }
}

impl Group {
    fn and(&self, other: &Group) -> Group {
        let unknowns = self.unknowns.iter().chain(&other.unknowns).copied().collect();
        let pair = |one: &Joint, other: &Joint| Joint {
            states: one.states.iter().chain(&other.states).copied().collect(),
            probability: one.probability * other.probability,
        };
        let joint = self.joint.iter().flat_map(|one| other.joint.iter().map(move |other| pair(one, other)));
        Group { unknowns, joint: joint.collect() }
    }
}

/// The number that a joint state of a group has among the joint states of some of its unknowns, the last of these
/// running fastest.
pub(super) struct Numbering(Vec<(usize, usize)>);

impl Numbering {
    pub(super) fn of(group: &Group, about: &[usize], unknowns: &[Unknown]) -> Numbering {
        let place = |unknown: &usize| group.unknowns.iter().position(|known| known == unknown);
        let places =
            about.iter().filter_map(|unknown| Some((place(unknown)?, unknowns[*unknown].states().len())));
        Numbering(places.collect())
    }

    pub(super) fn of_joint(&self, joint: &Joint) -> usize {
        self.0.iter().fold(0, |number, (place, states)| number * states + usize::from(joint.states[*place]))
    }
}
