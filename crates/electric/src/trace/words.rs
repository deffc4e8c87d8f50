//! A line of a trace as words with their columns.

use super::fault::{Fault, TraceFault, nearest};

/// One word and the column where it begins.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Word<'a> {
    /// The word.
    pub(super) text: &'a str,
    /// Its column in characters, from 1.
    pub(super) column: usize,
}

/// The words of one line, taken one after the other.
#[derive(Debug)]
pub(super) struct Words<'a> {
    line: usize,
    words: Vec<Word<'a>>,
    taken: usize,
    end: usize,
}

impl<'a> Words<'a> {
    /// Splits a line without its comment.
    pub(super) fn of(line: usize, text: &'a str) -> Self {
        let mut words = Vec::new();
        let mut start: Option<(usize, usize)> = None;
        for (column, (at, c)) in (1..).zip(text.char_indices()) {
            if c.is_whitespace() {
                if let Some((from, column)) = start.take() {
                    words.push(Word { text: &text[from..at], column });
                }
            } else if start.is_none() {
                start = Some((at, column));
            }
        }
        if let Some((from, column)) = start {
            words.push(Word { text: &text[from..], column });
        }
        let end = words.last().map_or(1, |word| word.column + word.text.chars().count());
        Self { line, words, taken: 0, end }
    }

    /// The next word, left in place.
    pub(super) fn peek(&self) -> Option<&Word<'a>> {
        self.words.get(self.taken)
    }

    /// Takes the next word.
    pub(super) fn next(&mut self) -> Option<Word<'a>> {
        let word = self.words.get(self.taken).cloned();
        self.taken += usize::from(word.is_some());
        word
    }

    /// Takes the next word where it is `wanted`, in any case of letters.
    pub(super) fn take(&mut self, wanted: &str) -> bool {
        let here = self.peek().is_some_and(|word| word.text.eq_ignore_ascii_case(wanted));
        self.taken += usize::from(here);
        here
    }

    /// Takes the next word, or says what would be right where the line ends.
    pub(super) fn need(&mut self, wanted: &str) -> Result<Word<'a>, TraceFault> {
        self.next().ok_or_else(|| self.too_soon(wanted))
    }

    /// All words not yet taken, with single spaces between them.
    pub(super) fn rest(&mut self) -> String {
        let rest: Vec<&str> = self.words[self.taken..].iter().map(|word| word.text).collect();
        self.taken = self.words.len();
        rest.join(" ")
    }

    /// A fault where the line ends.
    pub(super) fn too_soon(&self, wanted: &str) -> TraceFault {
        self.fault(self.end, Fault::EndsTooSoon { wanted: wanted.to_owned() })
    }

    /// A fault at a column of this line.
    pub(super) fn fault(&self, column: usize, fault: Fault) -> TraceFault {
        TraceFault { line: self.line, column, fault }
    }

    /// A fault at the end of what is written.
    pub(super) fn fault_at_end(&self, fault: Fault) -> TraceFault {
        self.fault(self.end, fault)
    }

    /// A fault that says which words would be right in place of `word`.
    pub(super) fn not_one_of(&self, word: &Word<'_>, wanted: &[&str]) -> TraceFault {
        self.fault(
            word.column,
            Fault::UnknownWord {
                read: word.text.to_owned(),
                nearest: nearest(word.text, wanted.iter().copied()),
                wanted: wanted.join(", "),
            },
        )
    }

    /// Nothing more may stand in the line.
    pub(super) fn nothing_more(&self) -> Result<(), TraceFault> {
        match self.peek() {
            None => Ok(()),
            Some(word) => Err(self.fault(
                word.column,
                Fault::UnknownWord {
                    read: word.text.to_owned(),
                    nearest: None,
                    wanted: "the end of the line, or # and a comment".to_owned(),
                },
            )),
        }
    }
}

/// Parts a line at its comment: a `#` that begins a word.
pub(super) fn without_comment(text: &str) -> (&str, Option<&str>) {
    let mut before = None;
    for (at, c) in text.char_indices() {
        if c == '#' && before.is_none_or(char::is_whitespace) {
            return (&text[..at], Some(&text[at + 1..]));
        }
        before = Some(c);
    }
    (text, None)
}
