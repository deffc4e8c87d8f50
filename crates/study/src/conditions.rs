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

/// A question about a possibility, with each answer as a small number.
struct Facet {
    answers: Vec<u8>,
    tell: Box<dyn Fn(&[u8]) -> Condition>,
}

/// The plainest condition that tells these possibilities from the others of `among`: one fact, else two together, else
/// that something plain is not so.
pub fn when(explanation: &Explanation, possibilities: &[usize], among: &[usize]) -> Condition {
    let facets = facets(explanation);
    if let Some(condition) = plain(&facets, possibilities, among) {
        return condition;
    }
    let others: Vec<usize> = among.iter().copied().filter(|at| possibilities.binary_search(at).is_err()).collect();
    match plain(&facets, &others, among) {
        Some(condition) if !others.is_empty() => Condition::Unless(Box::new(condition)),
        _ => Condition::Other,
    }
}

fn plain(facets: &[Facet], possibilities: &[usize], among: &[usize]) -> Option<Condition> {
    let inside = |at: usize| possibilities.binary_search(&at).is_ok();
    let values: Vec<Vec<u8>> = facets.iter().map(|facet| values_inside(facet, possibilities)).collect();
    for (facet, values) in facets.iter().zip(&values) {
        if among.iter().all(|&at| values.contains(&facet.answers[at]) == inside(at)) {
            return Some((facet.tell)(values));
        }
    }
    for (i, first) in facets.iter().enumerate() {
        for (j, second) in facets.iter().enumerate().skip(i + 1) {
            let both = |at: usize| values[i].contains(&first.answers[at]) && values[j].contains(&second.answers[at]);
            if among.iter().all(|&at| both(at) == inside(at)) {
                let (first, second) = ((first.tell)(&values[i]), (second.tell)(&values[j]));
                return Some(Condition::Both(Box::new(first), Box::new(second)));
            }
        }
    }
    None
}

fn values_inside(facet: &Facet, possibilities: &[usize]) -> Vec<u8> {
    let mut values: Vec<u8> = possibilities.iter().map(|&at| facet.answers[at]).collect();
    values.sort_unstable();
    values.dedup();
    values
}

fn facets(explanation: &Explanation) -> Vec<Facet> {
    let possibilities = &explanation.possibilities;
    let stubs = possibilities.first().map_or(0, |first| first.choices.len());
    let mut facets: Vec<Facet> = (0..stubs).map(|stub| stub_facet(possibilities, stub)).collect();
    let coils = explanation.coils.len();
    let pairs = (0..coils).flat_map(|a| (a + 1..coils).map(move |b| (a, b)));
    for (a, b) in pairs {
        let names = [explanation.coils[a].clone(), explanation.coils[b].clone()];
        let for_strings = names.clone();
        facets.push(pair_facet(possibilities, a, b, string_sign, move |same| Condition::StringSigns {
            coils: for_strings.clone(),
            same,
        }));
        facets.push(pair_facet(possibilities, a, b, |signs| signs.clockwise, move |same| Condition::Windings {
            coils: names.clone(),
            same,
        }));
    }
    facets.extend((0..coils).map(|coil| winding_facet(explanation, coil)));
    facets
}

/// A coil's string sign is winding times magnet.
fn string_sign(signs: &CoilSigns) -> bool {
    signs.clockwise == signs.north
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
        answers.push(at.min(usize::from(u8::MAX)) as u8);
    }
    let name = possibilities[0].choices[stub].stub.clone();
    let tell = move |values: &[u8]| Condition::Stub {
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
        possibilities.iter().map(|one| u8::from(sign(&one.signs[a]) == sign(&one.signs[b]))).collect();
    Facet { answers, tell: Box::new(move |values| tell(values == [1])) }
}

fn winding_facet(explanation: &Explanation, coil: usize) -> Facet {
    let answers = explanation.possibilities.iter().map(|one| u8::from(one.signs[coil].clockwise)).collect();
    let name = explanation.coils[coil].clone();
    let tell = move |values: &[u8]| Condition::Winding { coil: name.clone(), clockwise: values == [1] };
    Facet { answers, tell: Box::new(tell) }
}
