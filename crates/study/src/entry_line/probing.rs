//! Probings in the entry line: `neck.hot volume.3 0.4`, `jack.tip jack.sleeve 3.04k lever 2, volume full`,
//! `rotary.a1 rotary.a2 beeps`.

use asfound_electric::Circuit;
use asfound_electric::trace::Trace;
use asfound_measure::{Amount, Dimension, Written, read};
use asfound_record::{Amount1, Body, Job, Meter1, Probing1, Quantity1};

use super::{Heard, NotHeard, WhyNot, not_heard, plain, to_wire};
use crate::probings::{BEEPS_BELOW, at_front};
use crate::wiring::declared_names;

/// Whether a line begins with a lug of the job's trace, or with two words that can only be lugs.
pub(super) fn begins(text: &str, job: &Job) -> bool {
    if text.contains(':') {
        return false;
    }
    let lug = |word: &str| {
        let (part, lug) = word.rsplit_once('.')?;
        let is_name = part.starts_with(char::is_alphabetic) && !lug.is_empty();
        is_name.then(|| part.to_lowercase())
    };
    let mut words = text.split_whitespace();
    let [front, behind] = [words.next(), words.next()];
    let (first, second) = (front.and_then(lug), behind.and_then(lug));
    let declared = |part: &str| declared_names(job).iter().any(|name| name.eq_ignore_ascii_case(part));
    // A metal has no lugs: it is called by its name alone, `strings jack.sleeve 0.3`.
    let metal = second.is_some() && front.is_some_and(declared);
    metal || first.as_ref().is_some_and(|part| second.is_some() || declared(part))
}

/// What stands behind the two lugs, as far as it was read.
#[derive(Default)]
struct Said {
    shown: Option<(&'static str, Quantity1)>,
    temperature: Option<Quantity1>,
    stood: Vec<String>,
    method: Option<&'static str>,
    meter: Option<String>,
    range: Option<String>,
}

/// Ways a probing can have been made, as said and as kept.
const METHODS: [&str; 4] = ["in circuit", "lead lifted", "out of circuit", "leads zeroed"];

/// Hears a probing: two lugs, what was shown, and in any order how everything stood, the temperature, the meter and its
/// range.
pub(super) fn hear(line: &str, text: &str, job: &Job, meters: &[Meter1]) -> Result<Heard, NotHeard> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let circuit = circuit(job);
    let from = lug(line, words.first().copied().unwrap_or_default(), circuit.as_ref(), job)?;
    let to = lug(line, words.get(1).copied().unwrap_or_default(), circuit.as_ref(), job)?;
    let mut said = Said::default();
    let mut at = 2;
    while at < words.len() {
        match said.take(line, &words[at..], circuit.as_ref(), meters)? {
            0 => {
                let why = if said.shown.is_none() { WhyNot::NoProbing } else { WhyNot::LeftOver };
                return Err(not_heard(line, words[at], why, &HINTS));
            }
            long => at += long,
        }
    }
    let Some((quantity, shown)) = said.shown else {
        return Err(not_heard(line, text, WhyNot::NoProbing, &HINTS));
    };
    Ok(plain(Body::Probing(Probing1 {
        from,
        to,
        stood: (!said.stood.is_empty()).then(|| said.stood.join(", ")),
        quantity: quantity.to_owned(),
        shown,
        meter: said.meter,
        range: said.range,
        temperature: said.temperature,
        method: said.method.map(str::to_owned),
        happened: None,
    })))
}

const HINTS: [&str; 3] =
    ["neck.hot volume.3 0.4", "jack.tip jack.sleeve 3.04k lever 2, volume full", "rotary.a1 rotary.a2 open"];

fn circuit(job: &Job) -> Option<Circuit> {
    let lines: Vec<&str> = job.traces.iter().map(|item| item.body.text.trim_end()).collect();
    Trace::read(&lines.join("\n")).ok()?.circuit().ok()
}

/// A lug in the trace's spelling. While the trace does not fit together yet, a lug of a part it names is kept as typed.
fn lug(line: &str, read: &str, circuit: Option<&Circuit>, job: &Job) -> Result<String, NotHeard> {
    let no_such = |nearest: &[String]| {
        let hints: Vec<&str> = nearest.iter().map(String::as_str).collect();
        not_heard(line, read, WhyNot::NoSuchLug, &hints)
    };
    let declared = declared_names(job);
    match circuit {
        Some(circuit) => match circuit.terminal(read) {
            Ok(terminal) => Ok(circuit.name_of(terminal)),
            Err(error) => Err(no_such(&error.nearest)),
        },
        None => {
            let part = read.rsplit_once('.').map_or(read, |(part, _)| part);
            let known = declared.iter().any(|name| name.eq_ignore_ascii_case(part)) && read.contains('.');
            if known { Ok(read.to_owned()) } else { Err(no_such(&[])) }
        }
    }
}

impl Said {
    /// Reads what stands at the front, in any order and each thing once; answers how many words it took, 0 for none.
    fn take(
        &mut self,
        line: &str,
        words: &[&str],
        circuit: Option<&Circuit>,
        meters: &[Meter1],
    ) -> Result<usize, NotHeard> {
        if let Some(circuit) = circuit {
            let long = at_front(circuit, words).map_err(|not_set| {
                let hints: Vec<&str> = not_set.right.iter().map(String::as_str).collect();
                not_heard(line, words[0], WhyNot::NoSuchPosition(not_set.read.clone()), &hints)
            })?;
            if long > 0 {
                let stood = words[..long.min(words.len())].join(" ");
                self.stood.push(stood.trim_matches([',', ';']).to_owned());
                return Ok(long.min(words.len()));
            }
        }
        let two = words.iter().take(2).map(|word| word.trim_matches(',')).collect::<Vec<_>>().join(" ");
        let three = words.iter().take(3).map(|word| word.trim_matches(',')).collect::<Vec<_>>().join(" ");
        if self.method.is_none()
            && let Some(method) = METHODS.iter().find(|method| **method == two || **method == three)
        {
            self.method = Some(method);
            return Ok(method.split(' ').count());
        }
        if let Some(known) = meters.iter().find(|known| known.meter.eq_ignore_ascii_case(words[0]))
            && self.meter.is_none()
        {
            self.meter = Some(known.meter.clone());
            return Ok(1);
        }
        if let ["on", range, ..] = words
            && self.range.is_none()
        {
            self.range = Some((*range).to_owned());
            return Ok(2);
        }
        Ok(self.take_figure(words))
    }

    fn take_figure(&mut self, words: &[&str]) -> usize {
        if self.shown.is_none()
            && let Some((shown, long)) = continuity(words)
        {
            self.shown = Some(("continuity", shown));
            return long;
        }
        let shown = self.shown.is_none().then(|| longest(words, Dimension::Resistance)).flatten();
        let temperature =
            self.temperature.is_none().then(|| longest(words, Dimension::Temperature)).flatten();
        match (shown, temperature) {
            (Some((written, long)), temperature) if temperature.as_ref().is_none_or(|it| it.1 <= long) => {
                self.shown = Some(("resistance", to_wire(&written)));
                long
            }
            (_, Some((written, long))) => {
                self.temperature = Some(to_wire(&written));
                long
            }
            _ => 0,
        }
    }
}

/// What a continuity test says: `beeps` is under what a meter beeps at, `silent` over it, `open` over every range.
fn continuity(words: &[&str]) -> Option<(Quantity1, usize)> {
    let beep = || format!("{}", BEEPS_BELOW.0);
    let under = Amount1::Under { decimal: beep() };
    let over = Amount1::Over { decimal: beep() };
    let clean: Vec<String> = words.iter().take(2).map(|word| word.trim_matches(',').to_lowercase()).collect();
    let (amount, long) = match clean.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["no", "beep" | "continuity", ..] => (over, 2),
        ["beeps" | "beep" | "continuity", ..] => (under, 1),
        ["silent", ..] => (over, 1),
        ["open", ..] => (Amount1::OverRange, 1),
        _ => return None,
    };
    let text = words[..long].join(" ").trim_matches(',').to_owned();
    Some((Quantity1 { text, amount, unit: asfound_measure::Unit::Ohm.ucum().to_owned() }, long))
}

/// The longest run of words at the front that reads as a quantity of this dimension.
fn longest(words: &[&str], dimension: Dimension) -> Option<(Written, usize)> {
    (1..=words.len().min(3)).rev().find_map(|long| {
        let text = words[..long].join(" ");
        let written = read(text.trim_matches(','), dimension).ok()?;
        (!matches!(written.amount, Amount::NotMeasured | Amount::CannotTell)).then_some((written, long))
    })
}
