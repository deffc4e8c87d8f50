//! The workshop's own values for what studies take for granted.

use asfound_record::{Assumption1, Body, Cite, Struck1};

use crate::error::ActError;
use crate::workshop::Workshop;

impl Workshop {
    /// Keeps the workshop's own value of a name, with where it comes from in words. The value that stood before stays in
    /// the history. What stands already is not kept again. Answers the value as it is kept, in decimal text.
    ///
    /// # Errors
    /// Where a field is empty, the value is no decimal number, or it cannot be written.
    pub fn assume(&self, name: &str, value: &str, source: &str) -> Result<String, ActError> {
        let (name, source) = (name.trim(), source.trim());
        if name.is_empty() {
            return Err(ActError::Empty { field: "The name", example: "the name as it is listed" });
        }
        if source.is_empty() {
            let example = "where the value comes from, such as `twenty coils unwound here`";
            return Err(ActError::Empty { field: "The source", example });
        }
        let value = decimal(value)?;
        let _hand = self.hand();
        let about = self.about()?;
        let standing = about.assumption(name);
        if standing.is_some_and(|item| item.body.value == value && item.body.source == source) {
            return Ok(value);
        }
        let body = Assumption1 { name: name.to_owned(), value: value.clone(), source: source.to_owned() };
        // A correction, so that the values of one name are one thing with a history, and can be struck out together.
        let corrects = standing.map(|item| self.cite_own(item.seq)).transpose()?;
        self.keep_in(self.own_chain(), Body::Assumption(body), corrects, None)?;
        Ok(value)
    }

    /// Goes back to the value that the studies come with; answers whether there was one of the workshop's own.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn assume_as_given(&self, name: &str) -> Result<bool, ActError> {
        let _hand = self.hand();
        let mut was_own = false;
        while let Some(seq) = self.about()?.assumption(name.trim()).map(|item| item.seq) {
            let why = "back to the value that the program comes with".to_owned();
            let corrects = self.cite_own(seq)?;
            self.keep_in(self.own_chain(), Body::Struck(Struck1 { why }), Some(corrects), None)?;
            was_own = true;
        }
        Ok(was_own)
    }

    /// A citation of an entry of the workshop's own chain.
    fn cite_own(&self, seq: u64) -> Result<Cite, ActError> {
        let about = self.about()?;
        let line = about.history.iter().find(|line| line.seq == seq);
        let line = line.ok_or(ActError::NoWorkshopChain)?;
        Ok(Cite { chain: about.chain.clone(), seq, hash: line.hash })
    }
}

/// A number as typed, in decimal text with a point.
fn decimal(typed: &str) -> Result<String, ActError> {
    let text = typed.trim().replace(',', ".");
    let unsigned = text.strip_prefix(['-', '+']).unwrap_or(&text);
    let digits = unsigned.replacen('.', "", 1);
    let is_number = (1..=18).contains(&digits.len()) && digits.bytes().all(|sign| sign.is_ascii_digit());
    if is_number {
        // `.5` and `1.` are what people type; the record holds the plain form.
        let (whole, part) = unsigned.split_once('.').unwrap_or((unsigned, ""));
        let sign = if text.starts_with('-') { "-" } else { "" };
        let whole = if whole.is_empty() { "0" } else { whole };
        let point = if part.is_empty() { "" } else { "." };
        return Ok(format!("{sign}{whole}{point}{part}"));
    }
    Err(ActError::BadFigure {
        field: "The value",
        typed: typed.trim().to_owned(),
        why: "a decimal number of at most eighteen figures is wanted, such as 0.62, 42 or -1.5".to_owned(),
    })
}
