//! What is the same in all possibilities, and what depends.

/// A fact over all possibilities that the unknown joins and signs leave.
#[derive(Debug, Clone, PartialEq)]
pub enum Agreed<T> {
    /// The same in every possibility.
    Certain(T),
    /// It depends; the cases in order of falling weight.
    Depends(Vec<Case<T>>),
}

/// One of several cases of a fact.
#[derive(Debug, Clone, PartialEq)]
pub struct Case<T> {
    /// What is the case there.
    pub fact: T,
    /// The possibilities in which it is: indexes into [`super::Explanation::possibilities`], rising.
    pub possibilities: Vec<usize>,
    /// Their weight together, 0 to 1.
    pub weight: f64,
}

/// Facts that may be told as one although their figures differ in digits that nobody can hear or meter.
pub(crate) trait Alike {
    /// Whether the two would be told in the same words.
    fn alike(&self, other: &Self) -> bool;
}

impl<T> Agreed<T> {
    /// The fact where it is the same in every possibility.
    pub fn certain(&self) -> Option<&T> {
        match self {
            Self::Certain(fact) => Some(fact),
            Self::Depends(_) => None,
        }
    }

    /// The fact in one possibility; the certain one where it does not depend.
    pub fn in_possibility(&self, possibility: usize) -> Option<&T> {
        match self {
            Self::Certain(fact) => Some(fact),
            Self::Depends(cases) => {
                cases.iter().find(|case| case.possibilities.contains(&possibility)).map(|case| &case.fact)
            }
        }
    }

    /// All facts that may be the case, the likeliest first.
    pub fn facts(&self) -> impl Iterator<Item = &T> {
        let (one, many) = match self {
            Self::Certain(fact) => (Some(fact), [].as_slice()),
            Self::Depends(cases) => (None, cases.as_slice()),
        };
        one.into_iter().chain(many.iter().map(|case| &case.fact))
    }
}

/// Gathers facts given with the possibilities in which they hold.
pub(crate) fn gather<T: Alike>(
    given: impl IntoIterator<Item = (T, Vec<usize>)>,
    weights: &[f64],
) -> Agreed<T> {
    let mut cases: Vec<Case<T>> = Vec::new();
    for (fact, possibilities) in given {
        let weight: f64 = possibilities.iter().map(|&index| weights[index]).sum();
        match cases.iter_mut().find(|case| case.fact.alike(&fact)) {
            Some(case) => {
                case.possibilities.extend(possibilities);
                case.weight += weight;
            }
            None => cases.push(Case { fact, possibilities, weight }),
        }
    }
    if cases.len() == 1
        && let Some(case) = cases.pop()
    {
        return Agreed::Certain(case.fact);
    }
    for case in &mut cases {
        case.possibilities.sort_unstable();
    }
    cases.sort_by(|a, b| b.weight.total_cmp(&a.weight).then_with(|| a.possibilities.cmp(&b.possibilities)));
    Agreed::Depends(cases)
}

impl<T: Alike> Alike for Agreed<T> {
    fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Certain(a), Self::Certain(b)) => a.alike(b),
            (Self::Depends(a), Self::Depends(b)) => {
                a.len() == b.len()
                    && a.iter()
                        .zip(b)
                        .all(|(a, b)| a.possibilities == b.possibilities && a.fact.alike(&b.fact))
            }
            _ => false,
        }
    }
}
