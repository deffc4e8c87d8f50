//! What an instrument is to do, read from the words it was wished in.
//!
//! ```text
//! bridge and middle in series in position 2
//! neck alone in position 3
//! hum cancels in position 2
//! treble kept on volume            tone only on bridge
//! volumes independent              master volume
//! keep the selector                nothing drilled
//! ```
//!
//! A wish that cannot be read is kept as it was said; the page says what stood in the way and what would be right.

use asfound_electric::polarity::{Joined, Phase};
use asfound_electric::rewiring::{Place, Wish};
use asfound_electric::{Circuit, Sort};
use asfound_record::Job;

/// Why a wish cannot be read against the circuit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unread {
    /// No words of it say what is wished.
    Nothing,
    /// It names no coil of the circuit.
    NoCoil,
    /// It says how coils are together, and names only one.
    OneCoil,
    /// No switch has this position; these are there.
    NoPosition {
        /// What was read.
        read: String,
        /// The positions of the selector, in their order.
        there: Vec<String>,
    },
    /// It does not say which knob, and any of these can be meant.
    WhichKnob(Vec<String>),
}

/// Reads a wish.
///
/// # Errors
/// [`Unread`] says what stands in the way.
pub fn read(words: &str, circuit: &Circuit, job: &Job) -> Result<Wish, Unread> {
    let said = Said { words: words_of(words), circuit, job };
    if said.any(&["keep", "keeps", "kept", "original", "stays"]) && said.any(&["selector", "switch"]) {
        return Ok(Wish::KeepSelector);
    }
    if said.any(&["drilled", "drilling", "drill", "hole", "holes"]) {
        return Ok(Wish::NothingDrilled);
    }
    if said.any(&["volumes", "volume"]) && said.any(&["independent", "independently", "apart"]) {
        return Ok(Wish::VolumesIndependent);
    }
    if said.any(&["master"]) || said.any(&["one"]) && said.any(&["volume"]) && said.any(&["all"]) {
        return Ok(Wish::MasterVolume);
    }
    if said.any(&["treble", "highs"]) && said.any(&["kept", "keep", "keeps", "stay", "stays", "bleed"]) {
        return said.knob().map(|knob| Wish::TrebleKept { knob });
    }
    let coils = said.coils();
    if said.any(&["tone"]) && said.any(&["only", "alone"]) {
        return match coils.as_slice() {
            [coil, ..] => Ok(Wish::ToneOnly { coil: *coil }),
            [] => Err(Unread::NoCoil),
        };
    }
    let place = said.place()?;
    if said.any(&["hum", "humming", "noise", "quiet", "hum-cancelling", "humcancelling"]) {
        return Ok(Wish::HumCancels { place, coils });
    }
    said.heard(place, coils)
}

fn words_of(text: &str) -> Vec<String> {
    let plain = |word: &str| {
        let word = word.trim_matches(|sign: char| ",.;:()“”\"".contains(sign)).to_lowercase();
        match word.as_str() {
            "first" => "1".to_owned(),
            "second" => "2".to_owned(),
            "third" => "3".to_owned(),
            "fourth" => "4".to_owned(),
            "fifth" => "5".to_owned(),
            _ => word,
        }
    };
    text.split_whitespace().map(plain).filter(|word| !word.is_empty()).collect()
}

struct Said<'a> {
    words: Vec<String>,
    circuit: &'a Circuit,
    job: &'a Job,
}

impl Said<'_> {
    fn any(&self, known: &[&str]) -> bool {
        self.words.iter().any(|word| known.contains(&word.as_str()))
    }

    /// Whether a name occurs as a run of words; words that only say the sort may be left out.
    fn names(&self, name: &str) -> bool {
        let lower = name.to_lowercase();
        let pieces =
            lower.split(['-', '_', ' ']).filter(|it| !["coil", "pickup", "knob", "pot"].contains(it));
        let pieces: Vec<&str> = pieces.collect();
        let run = |words: &[String]| words.iter().map(String::as_str).eq(pieces.iter().copied());
        self.words.contains(&lower) || !pieces.is_empty() && self.words.windows(pieces.len()).any(run)
    }

    /// What else a part of the trace is called in the job.
    fn also_called(&self, traced: &str) -> impl Iterator<Item = &str> {
        let parts = self.job.parts.iter().map(|part| &part.item.body);
        let same = move |it: &&asfound_record::Part1| {
            it.traced_as.as_deref().is_some_and(|name| name.eq_ignore_ascii_case(traced))
        };
        parts.filter(same).map(|it| it.name.as_str())
    }

    fn means(&self, part: usize) -> bool {
        let name = &self.circuit.parts()[part].name;
        self.names(name) || self.also_called(name).any(|other| self.names(other))
    }

    fn coils(&self) -> Vec<usize> {
        let parts: Vec<usize> = self.circuit.coils().map(|(part, _)| part).collect();
        let named: Vec<usize> = (0..parts.len()).filter(|&coil| self.means(parts[coil])).collect();
        let everything = ["all", "both", "three", "every"];
        if named.is_empty() && self.any(&everything) { (0..parts.len()).collect() } else { named }
    }

    fn knob(&self) -> Result<usize, Unread> {
        let pots: Vec<usize> = self.circuit.pots().map(|(part, _)| part).collect();
        if let Some(knob) = pots.iter().position(|&pot| self.means(pot)) {
            return Ok(knob);
        }
        let name = |pot: usize| self.circuit.parts()[pot].name.clone();
        let volumes: Vec<usize> =
            (0..pots.len()).filter(|&knob| name(pots[knob]).to_lowercase().contains("vol")).collect();
        match (volumes.as_slice(), pots.len()) {
            ([one], _) => Ok(*one),
            (_, 1) => Ok(0),
            _ => Err(Unread::WhichKnob(pots.into_iter().map(name).collect())),
        }
    }

    /// The switch that is named, else the one with the most positions: the selector.
    fn switch(&self) -> Option<(usize, Vec<String>)> {
        let all: Vec<(usize, usize, Vec<String>)> = self
            .circuit
            .switches()
            .enumerate()
            .map(|(at, (part, plan))| (at, part, plan.positions().iter().map(|it| it.name.clone()).collect()))
            .collect();
        let named = all.iter().find(|(_, part, _)| self.means(*part));
        // Of two with as many positions the first is taken.
        let most = || all.iter().rev().max_by_key(|(_, _, positions)| positions.len());
        named.or_else(most).map(|(at, _, positions)| (*at, positions.clone()))
    }

    fn place(&self) -> Result<Place, Unread> {
        let at = self
            .words
            .iter()
            .position(|it| ["position", "positions", "pos", "between"].contains(&it.as_str()));
        let Some(at) = at else { return Ok(Place::Anywhere) };
        let Some((switch, there)) = self.switch() else {
            return Err(Unread::NoPosition { read: self.words[at..].join(" "), there: Vec::new() });
        };
        let is_filler =
            |it: &&String| !["position", "positions", "pos", "between", "the"].contains(&it.as_str());
        let mut rest = self.words[at..].iter().filter(is_filler);
        let read = rest.next().cloned().unwrap_or_default();
        let position = |read: &str| {
            let named = there.iter().position(|name| name.eq_ignore_ascii_case(read));
            let counted = read.parse::<usize>().ok().and_then(|it| it.checked_sub(1));
            named.or(counted.filter(|&it| it < there.len()))
        };
        let unknown = || Unread::NoPosition { read: read.clone(), there: there.clone() };
        let first = position(&read).ok_or_else(unknown)?;
        if self.words[at] != "between" {
            return Ok(Place::At { switch, position: first });
        }
        let second = rest.find(|it| it.as_str() != "and").and_then(|it| position(it)).ok_or_else(unknown)?;
        if first.abs_diff(second) != 1 {
            return Err(unknown());
        }
        Ok(Place::Between { switch, from: first.min(second) })
    }

    fn heard(&self, place: Place, coils: Vec<usize>) -> Result<Wish, Unread> {
        let joined = if self.any(&["series"]) {
            Some(Joined::Series)
        } else {
            self.any(&["parallel", "side-by-side"]).then_some(Joined::Parallel)
        };
        let phase = if self.any(&["out-of-phase"])
            || self.any(&["out"]) && self.any(&["phase"])
            || self.any(&["thin"])
        {
            Some(Phase::Out)
        } else {
            self.any(&["phase", "in-phase", "full"]).then_some(Phase::In)
        };
        let together = joined.is_some() || phase.is_some();
        let says = together
            || self.any(&["alone", "together", "and", "on", "both", "all"])
            || place != Place::Anywhere;
        match (coils.len(), says) {
            (0, true) => Err(Unread::NoCoil),
            (_, false) => Err(Unread::Nothing),
            (1, _) if together => Err(Unread::OneCoil),
            _ => Ok(Wish::Heard { place, coils, joined, phase }),
        }
    }
}

/// Whether a name belongs to a part of the circuit already.
pub(crate) fn is_traced(circuit: &Circuit, name: &str) -> bool {
    circuit.part(name).is_some_and(|part| !matches!(circuit.parts()[part].sort, Sort::Post { .. }))
}
