//! When is a case the case? Finds the plainest condition that picks out a set of possibilities.

use asfound_electric::explain::{CoilSigns, Explanation, Possibility};

/// What must be so for a case to be the case.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Condition {
    /// A cut lead goes to one of these; `None` among them for nowhere.
    Stub {
        /// The end that is there.
        stub: String,
        /// Where it goes.
        goes_to: Vec<Option<String>>,
    },
    /// A coil is wound this way.
    Winding {
        /// The coil's name.
        coil: String,
        /// Clockwise or not.
        clockwise: bool,
    },
    /// Two coils answer a string with the same sign, or with opposite signs.
    StringSigns {
        /// The coils' names.
        coils: [String; 2],
        /// Whether the signs are the same.
        same: bool,
    },
    /// Two coils are wound the same way, or opposite ways.
    Windings {
        /// The coils' names.
        coils: [String; 2],
        /// Whether they are wound the same way.
        same: bool,
    },
    /// Both are so.
    Both(Box<Condition>, Box<Condition>),
    /// This is not so.
    Unless(Box<Condition>),
    /// No plain condition picks it out.
    Other,
}

impl Condition {
    /// Whether it is so in a possibility; `None` where it says too little to tell.
    pub fn holds_in(&self, explanation: &Explanation, possibility: usize) -> Option<bool> {
        let one = explanation.possibilities.get(possibility)?;
        let signs = |coil: &String| {
            let at = explanation.coils.iter().position(|name| name == coil)?;
            one.signs.get(at)
        };
        Some(match self {
            Condition::Stub { stub, goes_to } => {
                goes_to.contains(&one.choices.iter().find(|choice| choice.stub == *stub)?.goes_to)
            }
            Condition::Winding { coil, clockwise } => signs(coil)?.clockwise == *clockwise,
            Condition::StringSigns { coils: [a, b], same } => {
                (signs(a)?.string_positive() == signs(b)?.string_positive()) == *same
            }
            Condition::Windings { coils: [a, b], same } => {
                (signs(a)?.clockwise == signs(b)?.clockwise) == *same
            }
            Condition::Both(first, second) => {
                first.holds_in(explanation, possibility)? && second.holds_in(explanation, possibility)?
            }
            Condition::Unless(other) => !other.holds_in(explanation, possibility)?,
            Condition::Other => return None,
        })
    }
}

/// Says which condition these answers of a facet come to.
type Tell = Box<dyn Fn(&[u16]) -> Condition>;

/// A question about a possibility, with each answer as a number.
struct Facet {
    answers: Vec<u16>,
    tell: Tell,
}

/// The plainest condition that tells these possibilities from the others of `among`: one fact, else two together, else
/// that something plain is not so, else several facts together, with one exception at most. Both lists rise, and
/// `possibilities` are among `among`; where they are none or all of them, there is nothing to tell apart, and the answer
/// is [`Condition::Other`].
pub fn when(explanation: &Explanation, possibilities: &[usize], among: &[usize]) -> Condition {
    if possibilities.is_empty() || possibilities.len() == among.len() {
        return Condition::Other;
    }
    let facets = facets(explanation);
    if let Some(condition) = plain(&facets, possibilities, among) {
        return condition;
    }
    if let Some(condition) = plain(&facets, &without(among, possibilities), among) {
        return Condition::Unless(Box::new(condition));
    }
    several(&facets, possibilities, among).unwrap_or(Condition::Other)
}

/// How likely it is that one of these possibilities is the case, 0 to 1; rounded to a billionth, so that shares that are
/// equal compare equal.
pub fn share(explanation: &Explanation, possibilities: &[usize]) -> f64 {
    let weights = possibilities.iter().filter_map(|&at| explanation.possibilities.get(at));
    let sum: f64 = weights.map(|possibility| possibility.weight).sum();
    (sum * 1e9).round() / 1e9
}

fn without(among: &[usize], possibilities: &[usize]) -> Vec<usize> {
    among.iter().copied().filter(|at| possibilities.binary_search(at).is_err()).collect()
}

fn plain(facets: &[Facet], possibilities: &[usize], among: &[usize]) -> Option<Condition> {
    let values: Vec<Vec<u16>> = facets.iter().map(|facet| values_inside(facet, possibilities)).collect();
    let picks = |chosen: &[usize]| picked(facets, &values, chosen, among) == possibilities;
    let tell = |chosen: &[usize]| together(facets, &values, chosen);
    for first in 0..facets.len() {
        if picks(&[first]) {
            return tell(&[first]);
        }
    }
    let mut pairs =
        (0..facets.len()).flat_map(|first| (first + 1..facets.len()).map(move |second| [first, second]));
    pairs.find(|pair| picks(pair)).and_then(|pair| tell(&pair))
}

/// Facts together that hold in no more of `among` than they must; where that is still too many, with what is plain
/// about the rest as an exception.
fn several(facets: &[Facet], possibilities: &[usize], among: &[usize]) -> Option<Condition> {
    let values: Vec<Vec<u16>> = facets.iter().map(|facet| values_inside(facet, possibilities)).collect();
    let mut chosen: Vec<usize> = (0..facets.len()).collect();
    let closest = picked(facets, &values, &chosen, among);
    // Facts that pick nothing out are dropped from the end: the plainer ones stand first and stay.
    for facet in (0..facets.len()).rev() {
        let fewer: Vec<usize> = chosen.iter().copied().filter(|&other| other != facet).collect();
        if picked(facets, &values, &fewer, among) == closest {
            chosen = fewer;
        }
    }
    if closest == possibilities {
        return together(facets, &values, &chosen);
    }
    let exception = plain(facets, &without(&closest, possibilities), &closest)?;
    let unless = Condition::Unless(Box::new(exception));
    Some(match together(facets, &values, &chosen) {
        Some(condition) => Condition::Both(Box::new(condition), Box::new(unless)),
        None => unless,
    })
}

/// Those of `among` in which each chosen facet has one of its values.
fn picked(facets: &[Facet], values: &[Vec<u16>], chosen: &[usize], among: &[usize]) -> Vec<usize> {
    let fits = |at: usize| chosen.iter().all(|&facet| values[facet].contains(&facets[facet].answers[at]));
    among.iter().copied().filter(|&at| fits(at)).collect()
}

fn together(facets: &[Facet], values: &[Vec<u16>], chosen: &[usize]) -> Option<Condition> {
    let conditions = chosen.iter().map(|&facet| (facets[facet].tell)(&values[facet]));
    conditions.reduce(|first, second| Condition::Both(Box::new(first), Box::new(second)))
}

fn values_inside(facet: &Facet, possibilities: &[usize]) -> Vec<u16> {
    let mut values: Vec<u16> = possibilities.iter().map(|&at| facet.answers[at]).collect();
    values.sort_unstable();
    values.dedup();
    values
}

fn facets(explanation: &Explanation) -> Vec<Facet> {
    let possibilities = &explanation.possibilities;
    // By name, so that a condition reads the same in whatever order the joins were traced.
    let choices = possibilities.first().map_or(&[][..], |first| &first.choices);
    let mut stubs: Vec<usize> = (0..choices.len()).collect();
    stubs.sort_by(|&a, &b| choices[a].stub.cmp(&choices[b].stub));
    let mut facets: Vec<Facet> = stubs.into_iter().map(|stub| stub_facet(possibilities, stub)).collect();
    let coils = explanation.coils.len();
    let pairs = (0..coils).flat_map(|a| (a + 1..coils).map(move |b| (a, b)));
    for (a, b) in pairs {
        let names = [explanation.coils[a].clone(), explanation.coils[b].clone()];
        let for_strings = names.clone();
        facets.push(pair_facet(
            possibilities,
            a,
            b,
            |signs| signs.string_positive(),
            move |same| Condition::StringSigns { coils: for_strings.clone(), same },
        ));
        facets.push(pair_facet(
            possibilities,
            a,
            b,
            |signs| signs.clockwise,
            move |same| Condition::Windings { coils: names.clone(), same },
        ));
    }
    facets.extend((0..coils).map(|coil| winding_facet(explanation, coil)));
    facets
}

fn stub_facet(possibilities: &[Possibility], stub: usize) -> Facet {
    let mut ends: Vec<Option<String>> = Vec::new();
    let mut answers = Vec::with_capacity(possibilities.len());
    for possibility in possibilities {
        let goes_to = &possibility.choices[stub].goes_to;
        let at = ends.iter().position(|end| end == goes_to).unwrap_or_else(|| {
            ends.push(goes_to.clone());
            ends.len() - 1
        });
        answers.push(at as u16);
    }
    let name = possibilities[0].choices[stub].stub.clone();
    let tell = move |values: &[u16]| Condition::Stub {
        stub: name.clone(),
        goes_to: values.iter().filter_map(|&at| ends.get(usize::from(at)).cloned()).collect(),
    };
    Facet { answers, tell: Box::new(tell) }
}

fn pair_facet(
    possibilities: &[Possibility],
    a: usize,
    b: usize,
    sign: fn(&CoilSigns) -> bool,
    tell: impl Fn(bool) -> Condition + 'static,
) -> Facet {
    let answers =
        possibilities.iter().map(|one| u16::from(sign(&one.signs[a]) == sign(&one.signs[b]))).collect();
    Facet { answers, tell: Box::new(move |values| tell(values == [1])) }
}

fn winding_facet(explanation: &Explanation, coil: usize) -> Facet {
    let answers = explanation.possibilities.iter().map(|one| u16::from(one.signs[coil].clockwise)).collect();
    let name = explanation.coils[coil].clone();
    let tell = move |values: &[u16]| Condition::Winding { coil: name.clone(), clockwise: values == [1] };
    Facet { answers, tell: Box::new(tell) }
}
