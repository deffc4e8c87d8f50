//! What is put to the weighing: the parts with their marks, materials and signs, and what is told of the whole.

use asfound_evidence::sign::{Sign, SignsWeighed, weigh_part};
use asfound_evidence::{
    Aspect, Assumptions, Days, Harness, Instrument, MadeIn, Matter, Month, MonthlyEvidence, PartEvidence,
    PartSort, Span, replacement_stock,
};

use super::{MarkRead, MarkSays, Material, MaterialSeen, SignSeen};

/// No electric instrument or amplifier is weighed for a month before this one: none of the trade's is older. Common
/// practice, no source.
pub(super) const FIRST: Month = Month::january(1930);
/// Longer before that than anything lies in stock: what has no date may have been made in any month from here on.
const MADE_FIRST: Month = Month::january(1900);

/// A part as it is put to the weighing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PartAsked {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) sort: String,
    /// Places among the marks.
    pub(super) marks: Vec<usize>,
    /// Places among the materials.
    pub(super) materials: Vec<usize>,
    pub(super) signs: Vec<SignSeen>,
    /// The entry that says that this workshop made it.
    pub(super) made_here: Option<u64>,
}

impl PartAsked {
    /// What sort it is, as far as lags and replacements go.
    pub(super) fn part_sort(&self) -> PartSort {
        let says = |word: &str| self.sort.to_lowercase().contains(word);
        let sorts = [
            ("pot", PartSort::Pot),
            ("switch", PartSort::Switch),
            ("jack", PartSort::Jack),
            ("capacitor", PartSort::Capacitor),
            ("resistor", PartSort::Resistor),
            ("coil", PartSort::Coil),
            ("pickup", PartSort::Coil),
            ("speaker", PartSort::Speaker),
            ("transformer", PartSort::Transformer),
            ("choke", PartSort::Transformer),
            ("valve", PartSort::Valve),
            ("tuner", PartSort::Tuner),
            ("guard", PartSort::Guard),
        ];
        sorts.into_iter().find(|(word, _)| says(word)).map_or(PartSort::Other, |(_, sort)| sort)
    }

    /// Whether anything was said that bears on its age or its being original.
    pub(super) fn says_something(&self, marks: &[MarkRead]) -> bool {
        let legible = |at: &usize| matches!(marks[*at].says, MarkSays::Code(_) | MarkSays::Date(_));
        self.marks.iter().any(legible)
            || !self.materials.is_empty()
            || !self.signs.is_empty()
            || self.made_here.is_some()
    }
}

/// What bounds the whole, by somebody's word.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ToldAsked {
    pub(super) seq: u64,
    pub(super) source: String,
    /// The days of assembly that it allows.
    pub(super) days: Days,
    /// What says how far it is doubted.
    pub(super) doubt: Matter,
}

impl ToldAsked {
    fn evidence(&self, doubt: f64, span: Span) -> MonthlyEvidence {
        let month = |day| Month::of(day).clamp(span.first, span.last);
        let (first, last) = (month(self.days.first), month(self.days.last));
        MonthlyEvidence::interval(first, last, doubt)
    }
}

/// Everything that is put to the weighing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Asked {
    pub(super) inspected: Month,
    pub(super) marks: Vec<MarkRead>,
    pub(super) materials: Vec<MaterialSeen>,
    pub(super) parts: Vec<PartAsked>,
    /// Names and members, as places among the parts.
    pub(super) harnesses: Vec<(String, Vec<usize>)>,
    pub(super) told: Vec<ToldAsked>,
    pub(super) assumptions: Assumptions,
}

impl Asked {
    /// The months in which the whole can have been put together, and in which a code is looked for.
    pub(super) fn span(&self) -> Span {
        Span { first: FIRST, last: self.inspected.max(FIRST) }
    }

    /// The months in which a part can have been made.
    pub(super) fn made_span(&self) -> Span {
        Span { first: MADE_FIRST, ..self.span() }
    }

    /// Whether anything dates the whole.
    pub(super) fn dates_anything(&self) -> bool {
        let dated = |part: &PartAsked| part.made_here.is_none() && self.is_dated(part);
        !self.told.is_empty() || self.parts.iter().any(dated)
    }

    /// Whether a part's marks or materials say anything of its month of making.
    pub(super) fn is_dated(&self, part: &PartAsked) -> bool {
        self.made_in(part, &self.assumptions).is_some()
    }

    /// What a part's marks and materials say of its month of making; `None` where they say nothing.
    pub(super) fn made_in(&self, part: &PartAsked, assumptions: &Assumptions) -> Option<MadeIn> {
        let doubtful = assumptions.value(Matter::DoubtfulReading);
        let span = self.made_span();
        let marks = part.marks.iter().map(|at| &self.marks[*at]).filter_map(|mark| {
            // What a photograph shows can be read again by anybody.
            let misread = match mark.photograph {
                Some(_) => assumptions.value(Matter::PhotographedMisread),
                None => assumptions.value(Matter::CodeMisread),
            };
            Some(made_by_mark(&mark.says, span, doubtful)?.doubted(misread))
        });
        let materials = part.materials.iter().map(|at| self.materials[*at].material);
        let materials = materials.filter(|material| dates_a_part(material));
        let all = marks.chain(materials.map(|material| material.made_in(span)));
        all.reduce(|one, other| one.and(&other))
    }

    /// Whether anything here hangs on an assumption: whether the instrument is another with another value of it. What is
    /// held against the calendar alone, or tells a repair of the period, is always told.
    pub(super) fn hangs_on(&self, name: &str) -> bool {
        let Some(row) = Assumptions::all().iter().find(|row| row.name == name) else { return false };
        if matches!(row.matter, Matter::LongestLag | Matter::PeriodRepair) {
            return true;
        }
        let other = |end: f64| self.instrument(&self.assumptions.with(row.matter, end));
        let stated = self.instrument(&self.assumptions);
        other(row.range.0) != stated || other(row.range.1) != stated
    }

    /// The instrument under these assumptions.
    pub(super) fn instrument(&self, assumptions: &Assumptions) -> Instrument {
        self.with_signs(assumptions, |weighed| (weighed.if_original.value, weighed.if_replaced.value))
    }

    /// The same with other figures of the signs inside their ranges.
    pub(super) fn with_signs(
        &self,
        assumptions: &Assumptions,
        figures: impl Fn(&SignsWeighed) -> (f64, f64),
    ) -> Instrument {
        let span = self.span();
        let part = |part: &PartAsked| {
            let signs: Vec<Sign> = part.signs.iter().map(|seen| seen.sign).collect();
            let (if_original, if_replaced) = figures(&weigh_part(&signs));
            let sort = part.part_sort();
            PartEvidence {
                made_in: self
                    .made_in(part, assumptions)
                    .unwrap_or_else(|| MadeIn::nothing_known(self.made_span())),
                lag: sort.lag(assumptions),
                replaced: sort.replaced(assumptions),
                if_original,
                if_replaced,
                known_new: part.made_here.is_some(),
            }
        };
        let harness = |(_, members): &(String, Vec<usize>)| Harness {
            members: members.clone(),
            replaced_together: assumptions.value(Matter::HarnessReplaced),
        };
        Instrument {
            assembly: span,
            inspected: self.inspected,
            stock: replacement_stock(assumptions),
            parts: self.parts.iter().map(part).collect(),
            harnesses: self.harnesses.iter().map(harness).collect(),
            whole: self.told.iter().map(|told| told.evidence(assumptions.value(told.doubt), span)).collect(),
        }
    }
}

/// A material that came into use before any part looked at can have been made, and never went out, says nothing here.
fn dates_a_part(material: &Material) -> bool {
    let came = material.not_before.is_some_and(|ramp| Month::january(ramp.to) > FIRST);
    material.dates == Aspect::Itself && (came || material.not_after.is_some())
}

fn made_by_mark(says: &MarkSays, span: Span, doubtful: f64) -> Option<MadeIn> {
    match says {
        MarkSays::Code(stamp) => Some(stamp.made_in_at(span, doubtful)),
        MarkSays::Date(readings) => {
            let months = readings.iter().flat_map(|days| {
                let last = Month::of(days.last).max(Month::of(days.first));
                let its = Span { first: Month::of(days.first), last };
                its.months().map(move |month| (month, 1.0 / its.len() as f64)).collect::<Vec<_>>()
            });
            Some(MadeIn::of(span, months))
        }
        MarkSays::Unread | MarkSays::NoCode(_) => None,
    }
}
