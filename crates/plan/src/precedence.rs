//! What comes after what: named things in an order that keeps every dependency.

use std::collections::BTreeMap;

/// Why names and dependencies make no order.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PrecedenceFault {
    /// Two have one name.
    #[error("“{0}” stands twice; give each a name of its own")]
    Twice(String),
    /// A name that nothing has.
    #[error(
        "“{task}” waits for “{missing}”, which is not in the list; add it, or take it out of what “{task}” waits for"
    )]
    Unknown {
        /// Which waits.
        task: String,
        /// For what.
        missing: String,
    },
    /// Each waits for the next, and the last for the first.
    #[error("these wait for one another in a circle: {}; take one of these dependencies out", in_a_ring(.0))]
    Circle(Vec<String>),
}

fn in_a_ring(names: &[String]) -> String {
    let ring: Vec<String> = names.iter().chain(names.first()).map(|name| format!("“{name}”")).collect();
    ring.join(" waits for ")
}

/// Dependencies that are known to have no circle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Precedence {
    /// For which each waits.
    pub(crate) after: Vec<Vec<usize>>,
    /// Which wait for each.
    pub(crate) before: Vec<Vec<usize>>,
    /// All, each after those it waits for; otherwise as they were listed.
    pub(crate) order: Vec<usize>,
}

impl Precedence {
    /// From names, each with the names it waits for.
    pub(crate) fn new<'a>(
        listed: impl Iterator<Item = (&'a str, &'a [String])> + Clone,
    ) -> Result<Self, PrecedenceFault> {
        let mut places = BTreeMap::new();
        for (place, (name, _)) in listed.clone().enumerate() {
            if places.insert(name, place).is_some() {
                return Err(PrecedenceFault::Twice(name.to_owned()));
            }
        }
        let mut after = Vec::new();
        let mut before = vec![Vec::new(); places.len()];
        for (place, (name, waits_for)) in listed.clone().enumerate() {
            let mut found = Vec::new();
            for other in waits_for {
                let unknown = || PrecedenceFault::Unknown { task: name.to_owned(), missing: other.clone() };
                let earlier = *places.get(other.as_str()).ok_or_else(unknown)?;
                if !found.contains(&earlier) {
                    found.push(earlier);
                    before[earlier].push(place);
                }
            }
            after.push(found);
        }
        let order = in_order(&after);
        if order.len() < after.len() {
            let names: Vec<&str> = listed.map(|(name, _)| name).collect();
            let circle = circle(&after, &order).into_iter().map(|place| names[place].to_owned()).collect();
            return Err(PrecedenceFault::Circle(circle));
        }
        Ok(Self { after, before, order })
    }

    /// All: first those that are wanted, in their order, but each only after what it waits for; then the others.
    pub(crate) fn all_after(&self, wanted: &[usize]) -> Vec<usize> {
        let mut all = Vec::with_capacity(self.order.len());
        for &task in wanted.iter().chain(&self.order) {
            self.put_after(task, &mut all);
        }
        all
    }

    fn put_after(&self, task: usize, all: &mut Vec<usize>) {
        if !all.contains(&task) {
            for &earlier in &self.after[task] {
                self.put_after(earlier, all);
            }
            all.push(task);
        }
    }
}

/// All that can be put in order: again and again the first listed whose forerunners are all there.
fn in_order(after: &[Vec<usize>]) -> Vec<usize> {
    let mut placed = vec![false; after.len()];
    let mut order = Vec::with_capacity(after.len());
    while let Some(next) =
        (0..after.len()).find(|&task| !placed[task] && after[task].iter().all(|&earlier| placed[earlier]))
    {
        placed[next] = true;
        order.push(next);
    }
    order
}

/// A circle among those that could not be put in order: each of them waits for another of them, so that following what
/// is waited for comes back to where it was.
fn circle(after: &[Vec<usize>], ordered: &[usize]) -> Vec<usize> {
    let stuck = |task: &usize| !ordered.contains(task);
    let Some(first) = (0..after.len()).find(stuck) else { return Vec::new() };
    let mut walked = vec![first];
    loop {
        let here = walked[walked.len() - 1];
        let Some(next) = after[here].iter().copied().find(stuck) else { return walked };
        if let Some(begin) = walked.iter().position(|&seen| seen == next) {
            return walked.split_off(begin);
        }
        walked.push(next);
    }
}
