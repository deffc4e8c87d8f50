//! Words cut into clauses, and a clause asked what it says.

use asfound_record::Job;

use crate::viewing::is_answer;

/// A clause of what was said, and the entry it stands in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clause {
    /// The entry.
    pub seq: u64,
    /// The clause as it was said.
    pub text: String,
    words: Vec<String>,
}

/// Words that turn a clause round: what it names is then not there.
const TURNING: [&str; 7] = ["no", "not", "never", "without", "none", "isn't", "hardly"];

impl Clause {
    fn new(seq: u64, text: &str) -> Clause {
        let words = text
            .split(|sign: char| sign.is_whitespace() || "\"“”()/".contains(sign))
            .map(|word| word.trim_matches(|sign: char| !sign.is_alphanumeric() && sign != '+').to_lowercase())
            .filter(|word| !word.is_empty())
            .collect();
        Clause { seq, text: text.trim().to_owned(), words }
    }

    /// The words, in small letters and without stops.
    pub fn words(&self) -> &[String] {
        &self.words
    }

    /// Whether a word occurs.
    pub fn has(&self, word: &str) -> bool {
        self.words.iter().any(|known| known == word)
    }

    /// Whether any of these words occurs.
    pub fn has_any(&self, words: &[&str]) -> bool {
        words.iter().any(|word| self.has(word))
    }

    /// Whether the clause says that something is not so.
    pub fn is_turned(&self) -> bool {
        self.has_any(&TURNING)
    }

    /// Whether a pattern is said: every part of it, where `a|b` is either word, and nothing turns the clause round
    /// unless the pattern itself does.
    pub fn says(&self, pattern: &str) -> bool {
        let all = pattern.split(' ').all(|alternatives| alternatives.split('|').any(|word| self.has(word)));
        let turns = || pattern.split(' ').any(|word| word.split('|').any(|word| TURNING.contains(&word)));
        all && (!self.is_turned() || turns())
    }
}

/// Everything that was said of a part, as found and later, in clauses; of the whole piece for `None`.
pub fn clauses_of(job: &Job, part: Option<&str>) -> Vec<Clause> {
    let said = job.observed.iter().filter(|item| item.body.part.as_deref() == part);
    said.flat_map(|item| clauses(item.seq, &item.body.words)).collect()
}

/// Words cut at commas, semicolons and full stops that end a word; a decimal point cuts nothing. An answer given at a
/// viewing has no clauses: it says in the words of a list what that list's own study reads.
pub fn clauses(seq: u64, text: &str) -> Vec<Clause> {
    if is_answer(text) {
        return Vec::new();
    }
    let mut cut = Vec::new();
    let mut start = 0;
    let signs: Vec<(usize, char)> = text.char_indices().collect();
    for (at, (byte, sign)) in signs.iter().enumerate() {
        let inside_number = signs.get(at + 1).is_some_and(|(_, next)| !next.is_whitespace());
        if [',', ';', '.', '\n'].contains(sign) && !inside_number {
            cut.push(&text[start..*byte]);
            start = byte + sign.len_utf8();
        }
    }
    cut.push(&text[start..]);
    cut.into_iter().filter(|text| !text.trim().is_empty()).map(|text| Clause::new(seq, text)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clause_is_cut_where_a_person_pauses_and_turned_by_a_small_word() {
        let said = clauses(7, "coppery wire under black wax, 0.063 mm, tape not new. Nothing cut");
        let texts: Vec<&str> = said.iter().map(|clause| clause.text.as_str()).collect();
        assert_eq!(texts, ["coppery wire under black wax", "0.063 mm", "tape not new", "Nothing cut"]);
        assert!(said[0].says("coppery|copper") && said[0].says("wax black"));
        assert!(!said[2].says("tape new|newer"), "it says that the tape is not new");
        assert!(said[2].says("tape not new"));
        assert!(said[3].says("nothing cut"));
    }
}
