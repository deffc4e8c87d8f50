//! What a workshop believes before it looks: each belief by name, with its value, its range and its source.
//!
//! Beliefs are stated so that they can be disputed. A workshop that has counted for itself sets its own values; what is
//! in force is printed with every result that rests on it.

use std::fmt;

/// The matters of one subject on which there are opinions.
pub trait Matter: Copy + PartialEq + fmt::Debug + 'static {
    /// The opinions as they come, one for each matter, in the order of [`Matter::place`].
    fn rows() -> &'static [Opinion<Self>];

    /// The matter's place among the rows.
    fn place(self) -> usize;

    /// Whether all opinions together still make sense after this one was set.
    fn stand(opinions: &Opinions<Self>, set: &Opinion<Self>) -> bool;
}

/// An opinion as it comes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opinion<M> {
    /// What it is about.
    pub matter: M,
    /// Its name, in words: what [`Opinions::set`] takes.
    pub name: &'static str,
    /// The value unless a workshop states its own.
    pub value: f64,
    /// The range within which another restorer might put it.
    pub range: (f64, f64),
    /// The unit, empty for a share.
    pub unit: &'static str,
    /// Where it is from.
    pub source: &'static str,
}

/// Every opinion of a subject with the value in force.
#[derive(Debug, Clone, PartialEq)]
pub struct Opinions<M: 'static> {
    values: Vec<f64>,
    rows: &'static [Opinion<M>],
}

/// Why an opinion cannot be set.
#[derive(Debug, Clone, PartialEq)]
pub enum OpinionError {
    /// No opinion has this name.
    Unknown {
        /// What was given.
        name: String,
        /// The nearest name there is.
        nearest: &'static str,
    },
    /// The value cannot be one: a share outside 0 to 1, a measure that is not above 0, or ends that change places.
    Value {
        /// The opinion's name.
        name: &'static str,
        /// What was given.
        value: f64,
        /// What would be right, such as the stated range.
        between: (f64, f64),
    },
}

impl fmt::Display for OpinionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OpinionError::Unknown { name, nearest } => {
                write!(f, "there is no opinion named \"{name}\"; the nearest is \"{nearest}\"")
            }
            OpinionError::Value { name, value, between: (least, most) } => {
                write!(f, "{value} cannot be \"{name}\"; something between {least} and {most} would be usual")
            }
        }
    }
}

impl std::error::Error for OpinionError {}

impl<M: Matter> Default for Opinions<M> {
    fn default() -> Self {
        let rows = M::rows();
        Self { values: rows.iter().map(|opinion| opinion.value).collect(), rows }
    }
}

impl<M: Matter> Opinions<M> {
    /// All opinions as they come, in order.
    pub fn all() -> &'static [Opinion<M>] {
        M::rows()
    }

    /// The value in force.
    pub fn value(&self, matter: M) -> f64 {
        self.values[matter.place()]
    }

    /// States a workshop's own value, by the opinion's name.
    ///
    /// # Errors
    /// [`OpinionError`], with the nearest name or the usual range; nothing is changed then.
    pub fn set(&mut self, name: &str, value: f64) -> Result<(), OpinionError> {
        let wanted = name.trim().to_lowercase();
        let Some(opinion) = self.rows.iter().find(|opinion| opinion.name == wanted) else {
            let distance = |opinion: &&Opinion<M>| strsim::damerau_levenshtein(opinion.name, &wanted);
            let nearest = self.rows.iter().min_by_key(distance).map_or("", |opinion| opinion.name);
            return Err(OpinionError::Unknown { name: name.to_owned(), nearest });
        };
        let other = self.with(opinion.matter, value);
        if !M::stand(&other, opinion) {
            return Err(OpinionError::Value { name: opinion.name, value, between: opinion.range });
        }
        *self = other;
        Ok(())
    }

    /// The same with one value changed and nothing asked: for going over the ends of a range.
    #[must_use]
    pub fn with(&self, matter: M, value: f64) -> Self {
        let mut other = self.clone();
        other.values[matter.place()] = value;
        other
    }
}
