//! Reads a join: two places, or one place and its candidates, and how it is known.

use asfound_measure::Ohms;

use super::fault::{Fault, TraceFault};
use super::parse::{is_lug, is_name, value};
use super::quantity::Quantity;
use super::statement::{End, HowKnown, JoinLine, Place, Written};
use super::words::{Word, Words};

type Read<T> = Result<T, TraceFault>;

fn place(words: &Words<'_>, word: &Word<'_>) -> Read<Place> {
    let (part, terminal) = match word.text.split_once('.') {
        Some((part, terminal)) => (part, Some(terminal)),
        None => (word.text, None),
    };
    if !is_name(part) || terminal.is_some_and(|terminal| !is_lug(terminal)) {
        return Err(words.fault(
            word.column,
            Fault::UnknownWord {
                read: word.text.to_owned(),
                nearest: None,
                wanted: "a part and its terminal, as in `volume.3`".to_owned(),
            },
        ));
    }
    Ok(Place { part: part.to_owned(), terminal: terminal.map(str::to_owned) })
}

fn end(words: &mut Words<'_>, before: &[End]) -> Read<End> {
    let word = words.need("a second terminal, as in `volume.3`")?;
    let end =
        if word.text.eq_ignore_ascii_case("nothing") { End::Nothing } else { End::At(place(words, &word)?) };
    if before.contains(&end) {
        return Err(words.fault(word.column, Fault::SamePlaceTwice { read: word.text.to_owned() }));
    }
    Ok(end)
}

pub(super) fn join(words: &mut Words<'_>) -> Read<JoinLine> {
    let word = words.need("two terminals, as in `join neck.hot volume.3 metered`")?;
    let from = place(words, &word)?;
    let mut named = vec![End::At(from.clone())];
    loop {
        let end = end(words, &named)?;
        named.push(end);
        if !words.take("or") {
            break;
        }
    }
    let to = named.split_off(1);
    let odds = odds(words, to.len())?;
    let how = how(words)?;
    match how {
        HowKnown::Unknown if to.len() < 2 => Err(words.fault_at_end(Fault::UnknownButOne)),
        HowKnown::Unknown => Ok(JoinLine { from, to, odds, how }),
        _ if to.len() > 1 => Err(words.fault_at_end(Fault::OrButKnown)),
        _ if to == [End::Nothing] => Err(words.fault_at_end(Fault::EndsTooSoon {
            wanted: "a second terminal in place of `nothing`".to_owned(),
        })),
        _ => Ok(JoinLine { from, to, odds, how }),
    }
}

/// Reads `odds 3:1`, one whole number above zero for each end.
fn odds(words: &mut Words<'_>, ends: usize) -> Read<Vec<u32>> {
    if !words.take("odds") {
        return Ok(Vec::new());
    }
    let word = words.need("the odds, as in `odds 3:1`")?;
    let read: Option<Vec<u32>> =
        word.text.split(':').map(|part| part.parse().ok().filter(|odds| (1..=1000).contains(odds))).collect();
    match read {
        Some(odds) if odds.len() == ends => Ok(odds),
        Some(odds) => Err(words.fault(word.column, Fault::OddsCount { odds: odds.len(), ends })),
        None => Err(words.fault(
            word.column,
            Fault::UnknownWord {
                read: word.text.to_owned(),
                nearest: None,
                wanted: "whole numbers from 1 to 1000 with : between them, as in `odds 3:1`".to_owned(),
            },
        )),
    }
}

fn how(words: &mut Words<'_>) -> Read<HowKnown> {
    const WORDS: &[&str] = &["metered", "seen", "matched", "unknown"];
    let Some(word) = words.next() else { return Err(words.fault_at_end(Fault::HowMissing)) };
    match word.text.to_ascii_lowercase().as_str() {
        "metered" => {
            let Some(next) = words.peek().cloned() else { return Ok(HowKnown::Metered(None)) };
            match value(words) {
                Some((Written { text, value: Quantity::Ohms(value) }, _)) => {
                    Ok(HowKnown::Metered(Some(Written { text, value: Ohms(value) })))
                }
                Some((Written { text, value }, column)) => Err(words.fault(
                    column,
                    Fault::WrongDimension {
                        read: text,
                        found: value.dimension(),
                        sort: "join",
                        wanted: "ohms",
                    },
                )),
                None => Err(words.not_one_of(&next, &["ohms, as in 0.4", "the end of the line"])),
            }
        }
        "seen" => Ok(HowKnown::Seen(words.rest())),
        "matched" => Ok(HowKnown::Matched(words.rest())),
        "unknown" => Ok(HowKnown::Unknown),
        _ => Err(words.not_one_of(&word, WORDS)),
    }
}
