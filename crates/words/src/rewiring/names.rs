//! Names of wishes, coils, knobs and positions.

use asfound_study::rewiring::{Answered, Joined, Met, Rewiring, Sound, StringPhase, Terminal};

use crate::lists::and;
use crate::sheet::Table;

/// What is named on the page.
pub(super) struct Names<'a> {
    answered: &'a Answered,
    /// Wishes that could be read: entry and words.
    wishes: Vec<(u64, &'a str)>,
}

impl<'a> Names<'a> {
    pub(super) fn of(answered: &'a Answered, rewiring: &'a Rewiring) -> Self {
        let read = rewiring.wishes.iter().filter(|it| it.read.is_ok());
        Self { answered, wishes: read.map(|it| (it.seq, it.words.as_str())).collect() }
    }

    pub(super) fn wish(&self, at: usize) -> &'a str {
        self.wishes.get(at).map_or("", |(_, words)| words)
    }

    pub(super) fn wish_entry(&self, at: usize) -> u64 {
        self.wishes.get(at).map_or(0, |(seq, _)| *seq)
    }

    /// `the middle`.
    pub(super) fn coil(&self, coil: usize) -> String {
        format!("the {}", self.coil_alone(coil))
    }

    fn coil_alone(&self, coil: usize) -> String {
        let circuit = &self.answered.answer.as_found;
        let part = circuit.coils().nth(coil).map(|(part, _)| circuit.parts()[part].name.as_str());
        part.unwrap_or_default().replace(['-', '_'], " ")
    }

    pub(super) fn knob(&self, knob: usize) -> String {
        let circuit = &self.answered.answer.as_found;
        let part = circuit.pots().nth(knob).map(|(part, _)| circuit.parts()[part].name.clone());
        part.unwrap_or_default()
    }

    /// A lug as the trace names it.
    pub(super) fn lug(&self, lug: Terminal) -> String {
        self.answered.answer.as_found.name_of(lug)
    }

    /// The part of a lug, as the trace names it.
    pub(super) fn part(&self, lug: Terminal) -> &'a str {
        &self.answered.answer.as_found.parts()[lug.part].name
    }

    /// The lug's own name.
    pub(super) fn lug_alone(&self, lug: Terminal) -> String {
        self.lug(lug).rsplit_once('.').map_or_else(String::new, |(_, lug)| lug.to_owned())
    }

    /// `position 2`, or `lever 2, slide up` where there are several switches; empty without one.
    pub(super) fn position(&self, sound: &Sound) -> String {
        let circuit = &self.answered.answer.as_found;
        let stands: Vec<(&str, &str)> = circuit
            .switches()
            .zip(&sound.setting.positions)
            .filter_map(|((part, plan), &at)| {
                Some((circuit.parts()[part].name.as_str(), plan.positions().get(at)?.name.as_str()))
            })
            .collect();
        match stands.as_slice() {
            [(_, position)] => format!("position {position}"),
            several => several.iter().map(|(name, at)| format!("{name} {at}")).collect::<Vec<_>>().join(", "),
        }
    }

    /// `bridge and neck in series, in phase`.
    pub(super) fn sound(&self, sound: &Sound) -> String {
        let coils: Vec<String> = sound.coils.iter().map(|&coil| self.coil_alone(coil)).collect();
        let mut words = match coils.as_slice() {
            [] => return "nothing".to_owned(),
            [one] => return one.clone(),
            several => and(several),
        };
        match sound.joined {
            Some(Joined::Series) => words += " in series",
            Some(Joined::Parallel) => words += " in parallel",
            None => {}
        }
        match sound.phase {
            Some(StringPhase::In) => words += ", in phase",
            Some(StringPhase::Out) => words += ", out of phase",
            None => words += ", phase not known",
        }
        words
    }

    /// Each wish, and whether it is met.
    pub(super) fn wishes_met(&self, caption: &str, met: &[Met]) -> Table {
        let mut table = Table::with(caption, &["wish", "met"]);
        table.rows = met
            .iter()
            .enumerate()
            .map(|(at, met)| {
                let word = match met {
                    Met::Yes => "yes".to_owned(),
                    Met::No => "no".to_owned(),
                    Met::Depends(share) => {
                        format!("perhaps: in {:.0} % of what signs and contacts may be", 100.0 * share)
                    }
                };
                vec![self.wish(at).to_owned(), word]
            })
            .collect();
        table
    }
}
