//! The workshop's own values for what studies take for granted.

use asfound_record::{Assumption1, Body, Cite, Struck1};
use asfound_study::own_values::own_value;

use crate::error::ActError;
use crate::workshop::Workshop;

impl Workshop {
    /// Keeps the workshop's own value of an opinion, by its name, with where it comes from in words. The value that stood
    /// before stays in the history. What stands already is not kept again. Answers the value as it is kept: decimal text
    /// in the opinion's unit.
    ///
    /// # Errors
    /// Where no opinion has the name, the value cannot be one, no source is said, or it cannot be written.
    pub fn assume(&self, name: &str, value: &str, source: &str) -> Result<String, ActError> {
        let (name, source) = (name.trim(), source.trim());
        if source.is_empty() {
            let example = "where the value comes from, such as `twenty coils unwound here`";
            return Err(ActError::Empty { field: "The source", example });
        }
        let _hand = self.hand();
        let about = self.about()?;
        let (name, value) = own_value(name, value, &about).map_err(ActError::NoOwnValue)?;
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

    /// Goes back to the value as the program comes with it; answers whether there was one of the workshop's own.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn assume_as_it_comes(&self, name: &str) -> Result<bool, ActError> {
        let _hand = self.hand();
        let mut was_own = false;
        while let Some(seq) = self.about()?.assumption(&name.trim().to_lowercase()).map(|item| item.seq) {
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
