//! Readings in the entry line: `neck 6k31 21C at the joints M1 on 20k`.

use asfound_measure::{Amount, Dimension, Written, read};
use asfound_record::{Body, Job, Meter1, Reading1};

use super::{Heard, NotHeard, WhyNot, not_heard, several, to_wire, which};
use crate::parts::{self, WhichPart};
use crate::{doubt, settings};

/// Which quantities a part of a sort can be measured for, likeliest first.
fn quantities_of(sort: &str) -> &'static [(Dimension, &'static str)] {
    use Dimension::{Capacitance, Inductance, Length, Mass, Resistance, Voltage};
    match sort {
        "capacitor" => &[(Capacitance, "capacitance"), (Resistance, "resistance"), (Voltage, "voltage")],
        "coil" | "choke" | "pot" | "switch" | "jack" | "resistor" => &[
            (Resistance, "resistance"),
            (Inductance, "inductance"),
            (Capacitance, "capacitance"),
            (Voltage, "voltage"),
            (Length, "length"),
        ],
        _ => &[
            (Length, "length"),
            (Mass, "mass"),
            (Resistance, "resistance"),
            (Voltage, "voltage"),
            (Inductance, "inductance"),
            (Capacitance, "capacitance"),
        ],
    }
}

/// Ways a reading can have been taken, as said at the bench and as kept.
const METHODS: [(&str, &str); 8] = [
    ("at the joints", "at the joints"),
    ("at joints", "at the joints"),
    ("at its joints", "at the joints"),
    ("at the jack", "at the jack"),
    ("at jack", "at the jack"),
    ("in circuit", "in circuit"),
    ("lead lifted", "lead lifted"),
    ("out of circuit", "out of circuit"),
];

/// Measures of a coil that are said by name, as said and as kept.
const NAMED: [(&str, &str, Dimension); 16] = [
    ("wire diameter", "wire diameter", Dimension::Length),
    ("bare wire", "bare wire diameter", Dimension::Length),
    ("bare wire diameter", "bare wire diameter", Dimension::Length),
    ("wire", "wire diameter", Dimension::Length),
    ("winding depth", "winding depth", Dimension::Length),
    ("depth", "winding depth", Dimension::Length),
    ("winding height", "winding height", Dimension::Length),
    ("height", "winding height", Dimension::Length),
    ("outer length", "outer length", Dimension::Length),
    ("outer width", "outer width", Dimension::Length),
    ("pole span", "pole span", Dimension::Length),
    ("one half", "resistance of one half", Dimension::Resistance),
    ("other half", "resistance of the other half", Dimension::Resistance),
    ("turns", "turns", Dimension::Number),
    ("leak to frame", "leak to frame", Dimension::Resistance),
    ("Q", "Q", Dimension::Number),
];

const TEMPERATURE: &[(Dimension, &str)] = &[(Dimension::Temperature, "temperature")];
const FREQUENCY: &[(Dimension, &str)] = &[(Dimension::Frequency, "frequency")];

/// What stands behind the part's name, as far as it was read.
#[derive(Default)]
struct Said {
    shown: Option<(&'static str, Written)>,
    temperature: Option<Written>,
    method: Option<&'static str>,
    /// How knobs and switches stood, in the words said.
    stood: Vec<String>,
    frequency: Option<Written>,
    meter: Option<String>,
    range: Option<String>,
}

impl Said {
    /// Reads what stands at the front, in any order and each thing once; answers how many words it took, 0 for none.
    fn take(&mut self, words: &[&str], sort: &str, job: &Job, meters: &[Meter1]) -> usize {
        if let Some(long) = self.take_named(words, sort).or_else(|| self.take_at(words)) {
            return long;
        }
        if self.method.is_none()
            && let Some((method, long)) = method(words)
        {
            self.method = Some(method);
            return long;
        }
        let known = meters.iter().find(|known| known.meter.eq_ignore_ascii_case(words[0]));
        if let Some(known) = known
            && self.meter.is_none()
        {
            self.meter = Some(known.meter.clone());
            return 1;
        }
        if let ["on", range, ..] = words
            && self.shown.is_some()
            && self.range.is_none()
        {
            self.range = Some((*range).to_owned());
            return 2;
        }
        let at_the_jack = sort == "jack" || self.method == Some("at the jack");
        if at_the_jack
            && self.shown.is_some()
            && let Some((_, long)) = settings::one(words, job)
        {
            self.stood.push(words[..long].join(" ").trim_matches([',', ';']).to_owned());
            return long;
        }
        let shown = if self.shown.is_none() { longest(words, quantities_of(sort)) } else { None };
        let temperature = if self.temperature.is_none() { longest(words, TEMPERATURE) } else { None };
        // `21 °C` is a temperature, though `21` alone would be ohms.
        match (shown, temperature) {
            (Some((quantity, written, long)), temperature)
                if temperature.as_ref().is_none_or(|it| it.2 <= long) =>
            {
                self.shown = Some((quantity, written));
                return long;
            }
            (_, Some((_, written, long))) => {
                self.temperature = Some(written);
                return long;
            }
            _ => {}
        }
        0
    }

    /// `depth 5.1 mm`: a measure of a coil that is said by its name.
    fn take_named(&mut self, words: &[&str], sort: &str) -> Option<usize> {
        if sort != "coil" || self.shown.is_some() {
            return None;
        }
        let (kept, dimension, named) = NAMED
            .iter()
            .find_map(|(said, kept, dimension)| Some((*kept, *dimension, said_at_front(said, words)?)))?;
        let (_, written, long) = longest(&words[named..], &[(dimension, kept)])?;
        self.shown = Some((kept, written));
        Some(named + long)
    }

    /// `at 1 kHz` behind an inductance or a Q, `at 21 C` behind anything.
    fn take_at(&mut self, words: &[&str]) -> Option<usize> {
        let ["at", rest @ ..] = words else { return None };
        let hangs_on_frequency =
            self.shown.as_ref().is_some_and(|(kept, _)| ["inductance", "Q"].contains(kept));
        if hangs_on_frequency
            && self.frequency.is_none()
            && let Some((_, written, long)) = longest(rest, FREQUENCY)
            && !rest[long - 1].ends_with(['C', 'F'])
        {
            self.frequency = Some(written);
            return Some(1 + long);
        }
        if self.temperature.is_some() {
            return None;
        }
        let (_, written, long) = longest(rest, TEMPERATURE)?;
        self.temperature = Some(written);
        Some(1 + long)
    }

    /// The quantity's name as it is kept, with its frequency where it hangs on one.
    fn quantity(&self, named: &str) -> String {
        match &self.frequency {
            Some(frequency) => format!("{named} at {}", spelt(frequency)),
            None => named.to_owned(),
        }
    }

    /// How it was taken, as it is kept: the way, then how knobs and switches stood.
    fn method(&self, sort: &str) -> Option<String> {
        let way = self.method.or((sort == "jack" && !self.stood.is_empty()).then_some("at the jack"));
        let mut method = way?.to_owned();
        for stood in &self.stood {
            // `neck and bridge` is one thing that was said, `volume full` another.
            let goes_on = ["and ", "with ", "+ "].iter().any(|word| stood.to_lowercase().starts_with(word));
            method.push_str(if goes_on { " " } else { ", " });
            method.push_str(stood);
        }
        Some(method)
    }
}

/// What stands before and behind the figure so that a quantity is heard as itself again: `depth` before, ` at 1 kHz`
/// behind; both empty for what the unit alone tells.
pub fn said_around(quantity: &str) -> (String, String) {
    let (name, frequency) = match quantity.split_once(" at ") {
        Some((name, frequency)) => (name, format!(" at {frequency}")),
        None => (quantity, String::new()),
    };
    let named = NAMED.iter().find(|(_, kept, _)| *kept == name).map(|(said, ..)| format!("{said} "));
    (named.unwrap_or_default(), frequency)
}

/// A frequency as it is kept in a quantity's name: `1 kHz`, `120 Hz`.
fn spelt(frequency: &Written) -> String {
    match &frequency.amount {
        Amount::Exactly(decimal) => format!("{decimal} {}", frequency.unit),
        _ => frequency.text.clone(),
    }
}

/// How many words a phrase takes where it stands at the front.
fn said_at_front(phrase: &str, words: &[&str]) -> Option<usize> {
    let long = phrase.split(' ').count();
    let is_said = words.len() > long
        && phrase
            .split(' ')
            .zip(words)
            .all(|(phrase, word)| word.trim_matches(':').eq_ignore_ascii_case(phrase));
    is_said.then_some(long)
}

/// A way of reading at the front, and how many words it is.
fn method(words: &[&str]) -> Option<(&'static str, usize)> {
    METHODS.iter().find_map(|(said, kept)| {
        let long = said.split(' ').count();
        let same = words.len() >= long
            && said
                .split(' ')
                .zip(words)
                .all(|(said, word)| word.trim_end_matches(',').eq_ignore_ascii_case(said));
        same.then_some((*kept, long))
    })
}

/// Hears a reading: a part's name, then what was shown, and in any order the temperature, how, with which meter and on
/// which range.
pub(super) fn hear(line: &str, text: &str, job: &Job, meters: &[Meter1]) -> Result<Heard, NotHeard> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (part, used) = part_at_front(line, &words, job)?;
    let kept = job.part(&part);
    let (sort, place) =
        kept.map_or(("", ""), |kept| (kept.item.body.sort.as_str(), kept.item.body.place.as_str()));
    let mut said = Said::default();
    let mut at = used;
    while at < words.len() {
        match said.take(&words[at..], sort, job, meters) {
            0 => {
                let why = if said.shown.is_none() { WhyNot::NoReading } else { WhyNot::LeftOver };
                let hints =
                    ["neck 6k31 21C at the joints", "neck over 20k", "neck: words about what is seen"];
                return Err(not_heard(line, words[at], why, &hints));
            }
            long => at += long,
        }
    }
    let method = said.method(sort);
    let Some((named, written)) = &said.shown else {
        let hints = ["neck 6k31 21C", "neck not measured", "neck: words about what is seen"];
        return Err(not_heard(line, text, WhyNot::NoReading, &hints));
    };
    let of_the_figure = (sort == "coil").then(|| doubt::of_figure(named, written)).flatten();
    let doubt = of_the_figure.or_else(|| said.temperature.as_ref().and_then(doubt::of_temperature));
    let body = Reading1 {
        part,
        place: place.to_owned(),
        quantity: said.quantity(named),
        shown: to_wire(written),
        temperature: said.temperature.as_ref().map(to_wire),
        meter: said.meter,
        range: said.range,
        method,
        happened: None,
    };
    Ok(Heard { body: Body::Reading(body), doubt, evidence_lost: None })
}

/// The longest run of words at the front that names one part.
fn part_at_front(line: &str, words: &[&str], job: &Job) -> Result<(String, usize), NotHeard> {
    let mut found_several = None;
    for used in (1..=words.len().min(parts::most_words(job))).rev() {
        let name = words[..used].join(" ");
        match parts::find(job, &name, Some(Dimension::Resistance)) {
            WhichPart::One(id) => return Ok((id, used)),
            WhichPart::Several(names) => found_several = found_several.or(Some((name, names))),
            WhichPart::None { .. } => {}
        }
    }
    match found_several {
        Some((name, names)) => Err(several(line, &name, names)),
        None => which(line, words.first().copied().unwrap_or_default(), job).map(|id| (id, 1)),
    }
}

/// The longest run of words at the front that reads as one of the quantities, the likelier quantity first.
fn longest(
    words: &[&str],
    quantities: &[(Dimension, &'static str)],
) -> Option<(&'static str, Written, usize)> {
    for long in (1..=words.len().min(4)).rev() {
        let text = words[..long].join(" ");
        for (dimension, name) in quantities {
            if let Ok(written) = read(&text, *dimension) {
                return Some((name, written, long));
            }
        }
    }
    None
}
