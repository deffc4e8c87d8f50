//! Reads one line of a trace.

use asfound_measure::{Farads, Henries, Ohms};

use super::fault::{Fault, TraceFault, nearest};
use super::join;
use super::quantity::{self, Quantity};
use super::statement::{CoilLine, CoilOhms, Law, Pole, Statement, Winding, Written};
use super::words::Words;
use crate::plan::Between;

/// The words a line can begin with.
pub const OPENING_WORDS: &[&str] = &[
    "coil",
    "pot",
    "switch",
    "lugs",
    "at",
    "between",
    "capacitor",
    "resistor",
    "choke",
    "jack",
    "metal",
    "post",
    "join",
];

type Read<T> = Result<T, TraceFault>;

/// Reads a line that holds something besides a comment.
pub(super) fn statement(words: &mut Words<'_>) -> Read<Statement> {
    let opening = words.need("a part or a join")?;
    let read = match opening.text.to_ascii_lowercase().as_str() {
        "coil" => coil(words),
        "pot" => pot(words),
        "switch" => switch(words),
        "lugs" => lugs(words),
        "at" => position(words),
        "between" | "between:" => between(words),
        "capacitor" => capacitor(words),
        "resistor" => resistor(words),
        "choke" => choke(words),
        "jack" => Ok(Statement::Jack { name: name(words, "jack")? }),
        "metal" => Ok(Statement::Metal { name: name(words, "metal")? }),
        "post" => post(words),
        "join" => join::join(words).map(Statement::Join),
        _ => Err(words.fault(
            opening.column,
            Fault::UnknownOpening {
                read: opening.text.to_owned(),
                nearest: nearest(opening.text, OPENING_WORDS.iter().copied()),
            },
        )),
    }?;
    words.nothing_more()?;
    Ok(read)
}

/// Whether `text` can be the name of a part.
pub(super) fn is_name(text: &str) -> bool {
    text.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_')
        && text.chars().any(char::is_alphabetic)
        && text.chars().next().is_some_and(char::is_alphanumeric)
        && !["or", "nothing"].contains(&text.to_ascii_lowercase().as_str())
}

fn name(words: &mut Words<'_>, sort: &'static str) -> Read<String> {
    let Some(word) = words.next() else { return Err(words.fault_at_end(Fault::NameMissing { sort })) };
    if !is_name(word.text) || quantity::read(word.text).is_some() {
        return Err(words.fault(word.column, Fault::NotAName { read: word.text.to_owned() }));
    }
    Ok(word.text.to_owned())
}

/// Takes a value, in one word or as number and unit in two; `None` where the next word is no value.
pub(super) fn value(words: &mut Words<'_>) -> Option<(Written<Quantity>, usize)> {
    let word = words.peek()?.clone();
    let bare = word.text.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    let value = quantity::read(word.text)?;
    words.next();
    if bare && let Some(unit) = words.peek().filter(|next| quantity::is_unit_alone(next.text)).cloned() {
        let text = format!("{} {}", word.text, unit.text);
        if let Some(value) = quantity::read(&text) {
            words.next();
            return Some((Written { text, value }, word.column));
        }
    }
    Some((Written { text: word.text.to_owned(), value }, word.column))
}

/// The values of one part, each at most once.
#[derive(Default)]
struct Values {
    ohms: Option<Written<Ohms>>,
    henries: Option<Written<Henries>>,
    farads: Option<Written<Farads>>,
}

impl Values {
    /// Keeps a value where this sort of part has one of its dimension.
    fn keep(
        &mut self,
        words: &Words<'_>,
        (written, column): (Written<Quantity>, usize),
        sort: &'static str,
        takes: (bool, bool, bool),
        wanted: &'static str,
    ) -> Read<()> {
        let Written { text, value } = written;
        let allowed = match value {
            Quantity::Ohms(_) => takes.0,
            Quantity::Henries(_) => takes.1,
            Quantity::Farads(_) => takes.2,
        };
        if !allowed {
            let found = value.dimension();
            return Err(words.fault(column, Fault::WrongDimension { read: text, found, sort, wanted }));
        }
        if value.value() <= 0.0 {
            return Err(words.fault(column, Fault::NotPositive { read: text }));
        }
        let (what, taken) = match value {
            Quantity::Ohms(_) => ("resistance", self.ohms.is_some()),
            Quantity::Henries(_) => ("inductance", self.henries.is_some()),
            Quantity::Farads(_) => ("capacitance", self.farads.is_some()),
        };
        if taken {
            return Err(words.fault(column, Fault::ValueTwice { what, read: text }));
        }
        match value {
            Quantity::Ohms(value) => self.ohms = Some(Written { text, value: Ohms(value) }),
            Quantity::Henries(value) => self.henries = Some(Written { text, value: Henries(value) }),
            Quantity::Farads(value) => self.farads = Some(Written { text, value: Farads(value) }),
        }
        Ok(())
    }
}

fn required<T>(
    words: &Words<'_>,
    value: Option<T>,
    sort: &'static str,
    what: &'static str,
    example: &'static str,
) -> Read<T> {
    value.ok_or_else(|| words.fault_at_end(Fault::ValueMissing { sort, what, example }))
}

fn coil(words: &mut Words<'_>) -> Read<Statement> {
    const WANTED: &str = "a resistance, an inductance and a capacitance";
    const MORE: &[&str] = &[
        "clockwise",
        "anticlockwise",
        "winding unknown",
        "north",
        "south",
        "pole unknown",
        "covered",
        "open",
        "over and a value",
        "not measured",
        "a value",
    ];
    const COIL_OHMS: &str = "`coil neck 7k2`, `coil neck open` or `coil neck not measured`";
    let name = name(words, "coil")?;
    let mut values = Values::default();
    let (mut winding, mut pole, mut cover) = (None, None, false);
    let mut unread: Option<CoilOhms> = None;
    loop {
        if let Some((found, column)) = value(words) {
            if unread.is_some() && matches!(found.value, Quantity::Ohms(_)) {
                let fault = Fault::ValueTwice { what: "resistance", read: found.text };
                return Err(words.fault(column, fault));
            }
            values.keep(words, (found, column), "coil", (true, true, true), WANTED)?;
            continue;
        }
        let Some(word) = words.next() else { break };
        let twice =
            |what| Err(words.fault(word.column, Fault::ValueTwice { what, read: word.text.to_owned() }));
        match word.text.to_ascii_lowercase().as_str() {
            "clockwise" | "anticlockwise" | "winding" if winding.is_some() => return twice("winding sense"),
            "north" | "south" | "pole" if pole.is_some() => return twice("pole"),
            "covered" if cover => return twice("cover"),
            "open" | "over" | "not" if unread.is_some() || values.ohms.is_some() => {
                return twice("resistance");
            }
            "open" => unread = Some(CoilOhms::Open),
            "over" => unread = Some(CoilOhms::Over(bound(words)?)),
            "not" => {
                this_word(words, "measured")?;
                unread = Some(CoilOhms::NotMeasured);
            }
            "covered" => cover = true,
            "clockwise" => winding = Some(Some(Winding::Clockwise)),
            "anticlockwise" => winding = Some(Some(Winding::Anticlockwise)),
            "north" => pole = Some(Some(Pole::North)),
            "south" => pole = Some(Some(Pole::South)),
            "winding" => {
                unknown(words)?;
                winding = Some(None);
            }
            "pole" => {
                unknown(words)?;
                pole = Some(None);
            }
            _ => return Err(words.not_one_of(&word, MORE)),
        }
    }
    let resistance = match unread {
        Some(unread) => unread,
        None => CoilOhms::Read(required(words, values.ohms, "coil", "resistance", COIL_OHMS)?),
    };
    Ok(Statement::Coil(CoilLine {
        name,
        resistance,
        inductance: values.henries,
        capacitance: values.farads,
        winding: winding.flatten(),
        pole: pole.flatten(),
        cover,
    }))
}

fn unknown(words: &mut Words<'_>) -> Read<()> {
    this_word(words, "unknown")
}

fn this_word(words: &mut Words<'_>, wanted: &'static str) -> Read<()> {
    let word = words.need(wanted)?;
    if word.text.eq_ignore_ascii_case(wanted) { Ok(()) } else { Err(words.not_one_of(&word, &[wanted])) }
}

/// The ohms behind `over`: how far the meter's range went.
fn bound(words: &mut Words<'_>) -> Read<Written<Ohms>> {
    const WANTED: &str = "the ohms that the meter's range reached, as in `over 20k`";
    let word = words.peek().cloned();
    let mut values = Values::default();
    match (value(words), word) {
        (Some(found), _) => values.keep(words, found, "coil", (true, false, false), WANTED)?,
        (None, Some(word)) => return Err(words.not_one_of(&word, &[WANTED])),
        (None, None) => return Err(words.too_soon(WANTED)),
    }
    required(words, values.ohms, "coil", "resistance", "`coil neck over 20k`")
}

fn pot(words: &mut Words<'_>) -> Read<Statement> {
    const MORE: &[&str] = &["linear", "audio", "reverse", "taper unknown", "the track's ohms"];
    let name = name(words, "pot")?;
    let mut values = Values::default();
    let mut law: Option<Option<Law>> = None;
    loop {
        if let Some(found) = value(words) {
            values.keep(words, found, "pot", (true, false, false), "the ohms of its whole track")?;
            continue;
        }
        let Some(word) = words.next() else { break };
        let said = match word.text.to_ascii_lowercase().as_str() {
            "linear" => Some(Law::Linear),
            "audio" => Some(Law::Audio(share(words))),
            "reverse" => Some(Law::Reverse(share(words))),
            "taper" => {
                unknown(words)?;
                None
            }
            _ => return Err(words.not_one_of(&word, MORE)),
        };
        if law.replace(said).is_some() {
            let read = word.text.to_owned();
            return Err(words.fault(word.column, Fault::ValueTwice { what: "taper", read }));
        }
    }
    let track = required(words, values.ohms, "pot", "track", "`pot volume 500k audio`")?;
    Ok(Statement::Pot { name, track, law: law.flatten() })
}

/// Takes the share of the track at half turn, as metered: a bare number below 1.
fn share(words: &mut Words<'_>) -> Option<Written<f64>> {
    let text = words.peek()?.text;
    let value = text.replace(',', ".").parse::<f64>().ok().filter(|share| *share > 0.0 && *share < 1.0)?;
    words.next();
    Some(Written { text: text.to_owned(), value })
}

fn switch(words: &mut Words<'_>) -> Read<Statement> {
    let name = name(words, "switch")?;
    let plan = words.rest();
    Ok(Statement::Switch { name, plan: (!plan.is_empty()).then_some(plan) })
}

pub(super) fn is_lug(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c.is_alphanumeric() || c == '_')
}

fn lug(words: &Words<'_>, text: &str, column: usize) -> Read<String> {
    if is_lug(text) {
        return Ok(text.to_owned());
    }
    Err(words.fault(
        column,
        Fault::UnknownWord {
            read: text.to_owned(),
            nearest: None,
            wanted: "a lug of letters and digits, as in `1` or `a0`".to_owned(),
        },
    ))
}

fn lugs(words: &mut Words<'_>) -> Read<Statement> {
    let mut lugs: Vec<String> = Vec::new();
    while let Some(word) = words.next() {
        let read = lug(words, word.text, word.column)?;
        if lugs.contains(&read) {
            return Err(words.fault(word.column, Fault::ValueTwice { what: "lug", read }));
        }
        lugs.push(read);
    }
    if lugs.is_empty() {
        return Err(words.too_soon("the names of the lugs, as in `lugs 1 2 3`"));
    }
    Ok(Statement::Lugs(lugs))
}

fn position(words: &mut Words<'_>) -> Read<Statement> {
    const WANTED: &str =
        "the position's name and a colon, then pairs of lugs or `nothing`, as in `at up: 1-2 3-4`";
    let mut name: Vec<String> = Vec::new();
    loop {
        let word = words.need(WANTED)?;
        match word.text.strip_suffix(':') {
            Some("") if name.is_empty() => return Err(words.too_soon(WANTED)),
            Some("") => break,
            Some(last) => {
                name.push(last.to_owned());
                break;
            }
            None => name.push(word.text.to_owned()),
        }
    }
    let mut pairs = Vec::new();
    if !words.take("nothing") {
        let mut word = words.need("pairs of lugs, or `nothing`")?;
        loop {
            let Some((a, b)) = word.text.split_once('-') else {
                let wanted = "two lugs with - between them, as in `1-2`".to_owned();
                let fault = Fault::UnknownWord { read: word.text.to_owned(), nearest: None, wanted };
                return Err(words.fault(word.column, fault));
            };
            pairs.push((lug(words, a, word.column)?, lug(words, b, word.column + a.chars().count() + 1)?));
            match words.next() {
                Some(next) => word = next,
                None => break,
            }
        }
    }
    Ok(Statement::At { position: name.join(" "), pairs })
}

fn between(words: &mut Words<'_>) -> Read<Statement> {
    words.take(":");
    let word = words.need("nothing, both neighbours, unknown")?;
    match word.text.to_ascii_lowercase().as_str() {
        "nothing" => Ok(Statement::Between(Between::Nothing)),
        "unknown" => Ok(Statement::Between(Between::Unknown)),
        "both" => {
            let next = words.need("neighbours")?;
            if next.text.eq_ignore_ascii_case("neighbours") || next.text.eq_ignore_ascii_case("neighbors") {
                Ok(Statement::Between(Between::Neighbours))
            } else {
                Err(words.not_one_of(&next, &["neighbours"]))
            }
        }
        _ => Err(words.not_one_of(&word, &["nothing", "both neighbours", "unknown"])),
    }
}

/// Reads the values of a part that has nothing but values.
fn only_values(
    words: &mut Words<'_>,
    sort: &'static str,
    takes: (bool, bool, bool),
    wanted: &'static str,
) -> Read<Values> {
    let mut values = Values::default();
    while let Some(word) = words.peek().cloned() {
        let Some(found) = value(words) else { return Err(words.not_one_of(&word, &[wanted])) };
        values.keep(words, found, sort, takes, wanted)?;
    }
    Ok(values)
}

fn capacitor(words: &mut Words<'_>) -> Read<Statement> {
    let name = name(words, "capacitor")?;
    let values = only_values(words, "capacitor", (false, false, true), "a capacitance, as in 47n")?;
    let value = required(words, values.farads, "capacitor", "capacitance", "`capacitor c1 47n`")?;
    Ok(Statement::Capacitor { name, value })
}

fn resistor(words: &mut Words<'_>) -> Read<Statement> {
    let name = name(words, "resistor")?;
    let values = only_values(words, "resistor", (true, false, false), "a resistance, as in 220k")?;
    let value = required(words, values.ohms, "resistor", "resistance", "`resistor rb 220k`")?;
    Ok(Statement::Resistor { name, value })
}

fn choke(words: &mut Words<'_>) -> Read<Statement> {
    let name = name(words, "choke")?;
    let values =
        only_values(words, "choke", (true, true, false), "a resistance and an inductance, as in 420 1H5")?;
    let resistance = required(words, values.ohms, "choke", "resistance", "`choke ch 420 1H5`")?;
    let inductance = required(words, values.henries, "choke", "inductance", "`choke ch 420 1H5`")?;
    Ok(Statement::Choke { name, resistance, inductance })
}

/// Lugs a post may have: more is a slip of the hand.
const MOST_POST_LUGS: u8 = 64;

fn post(words: &mut Words<'_>) -> Read<Statement> {
    let name = name(words, "post")?;
    let Some(word) = words.next() else {
        return Err(words.fault_at_end(Fault::ValueMissing {
            sort: "post",
            what: "number of lugs",
            example: "`post bus 3`",
        }));
    };
    match word.text.parse::<u8>() {
        Ok(lugs) if (1..=MOST_POST_LUGS).contains(&lugs) => Ok(Statement::Post { name, lugs }),
        _ => Err(words.fault(
            word.column,
            Fault::UnknownWord {
                read: word.text.to_owned(),
                nearest: None,
                wanted: format!("a number of lugs from 1 to {MOST_POST_LUGS}"),
            },
        )),
    }
}
