//! Switches as contact plans: which lugs touch in each position, and what touches on the way.

mod library;

use std::collections::BTreeSet;

/// What touches while a switch is on its way from one position to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Between {
    /// Make before break: the contacts of both neighbours at once.
    Neighbours,
    /// Break before make: no contact at all.
    Nothing,
    /// Not tried yet. Both ways are possible and neither may be assumed.
    Unknown,
}

impl Between {
    /// The ways it may be, as "do both neighbours touch"; two of them when it is not known.
    pub fn ways(self) -> &'static [bool] {
        match self {
            Between::Neighbours => &[true],
            Between::Nothing => &[false],
            Between::Unknown => &[true, false],
        }
    }
}

/// One position of a switch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Position {
    /// What the position is called, such as `2` or `up`.
    pub name: String,
    /// The pairs of lugs that touch, as indexes into the plan's lugs.
    pub contacts: Vec<(usize, usize)>,
}

/// The contact plan of a switch, checked: lugs and positions have names of their own and every contact
/// exists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    lugs: Vec<String>,
    positions: Vec<Position>,
    between: Between,
}

/// Why a contact plan cannot be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// The switch has no lug or no position.
    #[error("a switch needs at least one {what}; this one has none")]
    Empty {
        /// `lug` or `position`.
        what: &'static str,
    },
    /// Two lugs or two positions have one name.
    #[error("two {what}s are called `{name}`; give each {what} a name of its own")]
    NameTaken {
        /// `lug` or `position`.
        what: &'static str,
        /// The name that is there twice.
        name: String,
    },
    /// A contact names a lug that the switch does not have.
    #[error("position `{position}` joins lug number {lug}, but the switch has {lugs} lugs, counted from 0")]
    NoSuchLug {
        /// The position.
        position: String,
        /// The index read.
        lug: usize,
        /// How many lugs there are.
        lugs: usize,
    },
}

impl Plan {
    /// Checks a contact plan.
    ///
    /// # Errors
    /// [`PlanError`] when there is no lug or position, a name is there twice (case does not count), or a
    /// contact names a lug that does not exist.
    pub fn new(lugs: Vec<String>, positions: Vec<Position>, between: Between) -> Result<Self, PlanError> {
        unique("lug", lugs.iter().map(String::as_str))?;
        unique("position", positions.iter().map(|position| position.name.as_str()))?;
        for position in &positions {
            for &(a, b) in &position.contacts {
                if let Some(&lug) = [a, b].iter().find(|&&lug| lug >= lugs.len()) {
                    let position = position.name.clone();
                    return Err(PlanError::NoSuchLug { position, lug, lugs: lugs.len() });
                }
            }
        }
        Ok(Self { lugs, positions, between })
    }

    /// The names of the lugs, in order.
    pub fn lugs(&self) -> &[String] {
        &self.lugs
    }

    /// The positions, in the order in which the switch passes through them.
    pub fn positions(&self) -> &[Position] {
        &self.positions
    }

    /// What touches between stops.
    pub fn between(&self) -> Between {
        self.between
    }

    /// The same plan with another answer to what touches between stops.
    pub fn with_between(mut self, between: Between) -> Self {
        self.between = between;
        self
    }

    /// The index of the position with this name; case does not count.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.positions.iter().position(|position| position.name.eq_ignore_ascii_case(name))
    }
}

fn unique<'a>(what: &'static str, names: impl Iterator<Item = &'a str>) -> Result<(), PlanError> {
    let mut seen = BTreeSet::new();
    for name in names {
        if !seen.insert(name.to_lowercase()) {
            return Err(PlanError::NameTaken { what, name: name.to_owned() });
        }
    }
    if seen.is_empty() { Err(PlanError::Empty { what }) } else { Ok(()) }
}
