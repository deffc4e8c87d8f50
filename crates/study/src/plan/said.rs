//! Terms, tasks and times as people write them, cut into clauses and their figures.

use asfound_plan::money::{Currency, Money, Rate};
use asfound_plan::{Hours, ThreePoint};

use crate::said::clauses;

/// Something that was said and could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// The entry; none for a line that is only being typed.
    pub seq: u64,
    /// The words.
    pub read: String,
    /// One sentence without its stop: what is the matter, and what would be right.
    pub sentence: String,
}

impl Unread {
    pub(super) fn new(seq: u64, read: &str, sentence: impl ToString) -> Unread {
        Unread { seq, read: read.to_owned(), sentence: sentence.to_string() }
    }
}

/// One piece of a clause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Piece {
    /// A word in small letters.
    Word(String),
    /// A figure, as typed.
    Figure(String),
    /// A figure in per cent.
    Rate(Rate),
    /// A currency's three letters.
    Currency(Currency),
}

/// A clause with its pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Clause {
    pub(super) seq: u64,
    pub(super) text: String,
    pub(super) pieces: Vec<Piece>,
}

/// The clauses of words, cut where a person pauses.
pub(super) fn cut(seq: u64, words: &str) -> Vec<Clause> {
    let cut = clauses::clauses(seq, words);
    cut.into_iter().map(|clause| Clause { seq, pieces: pieces(&clause.text), text: clause.text }).collect()
}

fn pieces(text: &str) -> Vec<Piece> {
    let spaced = text.replace(['(', ')'], " ").replace('%', " % ");
    let mut pieces: Vec<Piece> = Vec::new();
    for word in spaced.split_whitespace() {
        if word == "%" {
            if let Some(Piece::Figure(figure)) = pieces.last()
                && let Ok(rate) = Rate::percent(figure)
            {
                pieces.pop();
                pieces.push(Piece::Rate(rate));
            }
            continue;
        }
        let word = word.trim_end_matches(['.', ';', ':']);
        let begins = word.trim_start_matches(['-', '\u{2212}']);
        pieces.push(match Currency::of(word) {
            Ok(currency) => Piece::Currency(currency),
            Err(_) if begins.starts_with(|sign: char| sign.is_ascii_digit()) => {
                Piece::Figure(word.to_owned())
            }
            Err(_) => Piece::Word(word.to_lowercase()),
        });
    }
    pieces
}

impl Clause {
    /// Whether a word occurs.
    pub(super) fn has(&self, word: &str) -> bool {
        self.pieces.iter().any(|piece| matches!(piece, Piece::Word(known) if known == word))
    }

    /// Whether it begins with these words.
    pub(super) fn begins(&self, words: &str) -> bool {
        let mut pieces = self.pieces.iter();
        words.split(' ').all(|word| matches!(pieces.next(), Some(Piece::Word(known)) if known == word))
    }

    /// Its rates, in order.
    pub(super) fn rates(&self) -> Vec<Rate> {
        let rate = |piece: &Piece| match piece {
            Piece::Rate(rate) => Some(rate.clone()),
            _ => None,
        };
        self.pieces.iter().filter_map(rate).collect()
    }

    /// The figures that are no rates, as typed.
    pub(super) fn figures(&self) -> Vec<&str> {
        let figures = self.pieces.iter().map(|piece| match piece {
            Piece::Figure(typed) => Some(typed.as_str()),
            _ => None,
        });
        figures.flatten().collect()
    }

    /// The sums in it: each figure with the currency behind it, or that of the job.
    pub(super) fn sums(&self, usual: Option<Currency>) -> Result<Vec<Money>, Unread> {
        let mut sums = Vec::new();
        for (place, piece) in self.pieces.iter().enumerate() {
            let Piece::Figure(figure) = piece else { continue };
            let own = self.pieces[place..].iter().find_map(|piece| match piece {
                Piece::Currency(currency) => Some(*currency),
                _ => None,
            });
            let Some(currency) = own.or(usual) else {
                return Err(self
                    .unread("no currency is said yet; write its three letters once, for instance 180 GBP"));
            };
            sums.push(Money::read(figure, currency).map_err(|fault| self.unread(fault))?);
        }
        Ok(sums)
    }

    /// The words behind a word, to the clause's end.
    pub(super) fn behind(&self, word: &str) -> Option<&str> {
        let lower = self.text.to_lowercase();
        let at = lower.find(&format!(" {word} "))?;
        self.text.get(at + word.len() + 2..).map(str::trim)
    }

    /// It cannot be read.
    pub(super) fn unread(&self, sentence: impl ToString) -> Unread {
        Unread::new(self.seq, &self.text, sentence)
    }

    /// Its hours: one figure, two from the least to the most, or three. Of two the middle is taken as the likely one.
    pub(super) fn hours(&self, of: &str) -> Result<Option<ThreePoint>, Unread> {
        let unit =
            |word: &str| self.pieces.iter().any(|piece| matches!(piece, Piece::Word(known) if known == word));
        let factor = if ["hours", "hour", "h"].iter().any(|word| unit(word)) {
            1.0
        } else if ["minutes", "min", "minute"].iter().any(|word| unit(word)) {
            1.0 / 60.0
        } else if ["days", "day"].iter().any(|word| unit(word)) {
            24.0
        } else {
            return Ok(None);
        };
        let read = |typed: &str| typed.replace(',', ".").parse::<f64>().ok();
        let figures: Option<Vec<f64>> = self.figures().into_iter().map(read).collect();
        let (low, likely, high) = match figures.as_deref() {
            Some([only]) => (*only, *only, *only),
            Some([low, high]) => (*low, (low + high) / 2.0, *high),
            Some([low, likely, high]) => (*low, *likely, *high),
            _ => {
                return Err(
                    self.unread("a time is one figure, two or three that rise, for instance 6 to 12 hours")
                );
            }
        };
        let hours = |figure: f64| Hours(figure * factor);
        ThreePoint::new(of, hours(low), hours(likely), hours(high))
            .map(Some)
            .map_err(|fault| self.unread(fault))
    }
}

/// A stretch of time that was spent, in minutes, and the words behind it: `1h20 refret`, `80 min refret`, `1.5 h refret`.
pub(crate) fn minutes(text: &str) -> Option<(u32, &str)> {
    let text = text.trim();
    let end = text.find(|sign: char| !(sign.is_ascii_digit() || ".,".contains(sign)))?;
    let figure: f64 = text[..end].replace(',', ".").parse().ok()?;
    let rest = text[end..].trim_start();
    let unit_end = rest.find(|sign: char| !sign.is_alphabetic()).unwrap_or(rest.len());
    let (unit, behind) = rest.split_at(unit_end);
    let whole = |minutes: f64| (1.0..=1e6).contains(&minutes).then(|| minutes.round() as u32);
    match unit.to_lowercase().as_str() {
        "min" | "minute" | "minutes" => Some((whole(figure)?, behind.trim())),
        "h" | "hour" | "hours" => {
            let digits = behind.trim_start();
            let end = digits.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(digits.len());
            let more: f64 = if end == 0 { 0.0 } else { digits[..end].parse().ok()? };
            let behind = digits[end..].trim_start();
            let cut = ["minutes", "min"].iter().find_map(|unit| behind.strip_prefix(unit)).unwrap_or(behind);
            (more < 60.0).then_some(())?;
            Some((whole(figure * 60.0 + more)?, cut.trim()))
        }
        _ => None,
    }
}
