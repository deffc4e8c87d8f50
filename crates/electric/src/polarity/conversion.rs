//! A pair made to cancel hum that does not: which answers lead where. No verdict.

use super::found::{HumHeard, Tone};

/// Which lead the outer layer of a winding goes to. An outer layer on ground may screen the rest of the coil (a
/// thought of the trade that nobody settled; common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OuterLead {
    /// Both coils have it on ground, or both on hot.
    Alike,
    /// One coil has it on ground and one on hot.
    Unlike,
}

/// What is known of the pair so far; `None` is not looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Conversion {
    /// How the two sound together.
    pub tone: Option<Tone>,
    /// Whether the compass shows opposite poles at the strings.
    pub magnets_opposite: Option<bool>,
    /// How the two hum together, against the noisier one alone.
    pub hum: Option<HumHeard>,
    /// Where the outer layers go.
    pub outer: Option<OuterLead>,
    /// Whether both coils have all metal, poles included, grounded alike.
    pub metal_alike: Option<bool>,
    /// Whether the two alone hum about alike.
    pub alone_alike: Option<bool>,
}

/// What may be behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Explanation {
    /// The two run the same way round from ground to hot: their hum adds.
    WoundAlikeInCircuit,
    /// They run opposite ways, so hum from magnetic fields does cancel; what is left comes by electric fields, where one
    /// coil is screened better than the other.
    OneScreenedBetter,
    /// They run opposite ways but pick up unequally: turns or areas differ.
    Unequal,
    /// The hum does not come in by the coils: leads, cavity, cable or amplifier.
    NotByTheCoils,
}

/// A question that parts the explanations.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Question {
    /// Full or thin together?
    FullOrThin,
    /// Which pole at the strings, by a compass, for each?
    CompassOfEach,
    /// As much hum together as the noisier one alone, or clearly less?
    HumTogether,
    /// Does the outer layer of each go to ground or to hot?
    OuterLead,
    /// Are the poles and covers of both grounded alike?
    MetalGrounded,
    /// Do the two hum alike, each alone?
    HumOfEach,
}

/// Where one answer to a question leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeadsTo {
    /// What would be known with this answer.
    pub answered: Conversion,
    /// What would remain.
    pub explanations: Vec<Explanation>,
}

/// What remains possible. Several may be true together, and none is ruled out by a question nobody asked.
///
/// Full with opposite poles, or thin with like poles, means that the two run opposite ways from ground to hot (the
/// product rule for string and hum signs); full with like poles or thin with opposite ones means that they run alike.
pub fn not_cancelling(known: &Conversion) -> Vec<Explanation> {
    let opposite =
        known.tone.zip(known.magnets_opposite).map(|(tone, opposite)| (tone == Tone::Full) == opposite);
    let not_less = known.hum != Some(HumHeard::Less);
    // Two like windings hum more together than the noisier alone, never clearly less.
    let alike = opposite != Some(true) && not_less;
    let may_be_opposite = opposite != Some(false);
    let screened_unlike = known.outer != Some(OuterLead::Alike) || known.metal_alike != Some(true);
    let unlike_alone = known.alone_alike != Some(true);
    let mut remains = Vec::new();
    if alike {
        remains.push(Explanation::WoundAlikeInCircuit);
    }
    if may_be_opposite && screened_unlike {
        remains.push(Explanation::OneScreenedBetter);
    }
    if may_be_opposite && unlike_alone {
        remains.push(Explanation::Unequal);
    }
    if not_less {
        remains.push(Explanation::NotByTheCoils);
    }
    remains
}

/// The questions that are still open, each with where its answers lead; those that rule most out come first.
pub fn questions(known: &Conversion) -> Vec<(Question, Vec<LeadsTo>)> {
    let now = not_cancelling(known).len();
    let with = |question: Question, answers: Vec<Conversion>| {
        let leads = |answered: Conversion| LeadsTo { explanations: not_cancelling(&answered), answered };
        (question, answers.into_iter().map(leads).collect::<Vec<_>>())
    };
    let mut open = Vec::new();
    if known.tone.is_none() {
        let answers = [Tone::Full, Tone::Thin].map(|tone| Conversion { tone: Some(tone), ..*known });
        open.push(with(Question::FullOrThin, answers.to_vec()));
    }
    if known.magnets_opposite.is_none() {
        let answers = [true, false].map(|it| Conversion { magnets_opposite: Some(it), ..*known });
        open.push(with(Question::CompassOfEach, answers.to_vec()));
    }
    if known.hum.is_none() {
        let answers = [HumHeard::Less, HumHeard::NotLess].map(|it| Conversion { hum: Some(it), ..*known });
        open.push(with(Question::HumTogether, answers.to_vec()));
    }
    if known.outer.is_none() {
        let answers =
            [OuterLead::Alike, OuterLead::Unlike].map(|it| Conversion { outer: Some(it), ..*known });
        open.push(with(Question::OuterLead, answers.to_vec()));
    }
    if known.metal_alike.is_none() {
        let answers = [true, false].map(|it| Conversion { metal_alike: Some(it), ..*known });
        open.push(with(Question::MetalGrounded, answers.to_vec()));
    }
    if known.alone_alike.is_none() {
        let answers = [true, false].map(|it| Conversion { alone_alike: Some(it), ..*known });
        open.push(with(Question::HumOfEach, answers.to_vec()));
    }
    let ruled_out =
        |leads: &[LeadsTo]| leads.iter().map(|lead| now - lead.explanations.len().min(now)).sum::<usize>();
    open.sort_by_key(|(_, leads)| std::cmp::Reverse(ruled_out(leads)));
    open
}
