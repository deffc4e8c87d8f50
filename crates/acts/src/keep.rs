//! Entries are kept, corrected, struck out; steps are decided on.

use asfound_record::{Body, Cite, Decided1, Note1, Struck1};
use asfound_study::entry_line::{Heard, NotHeard, hear};

use crate::error::ActError;
use crate::workshop::Workshop;

/// A line that was kept, or why it could not be read.
#[derive(Debug)]
pub enum Said {
    /// It was kept at this place.
    Kept {
        /// Its place in the job's chain.
        seq: u64,
        /// What was kept.
        heard: Box<Heard>,
    },
    /// It could not be read; nothing was kept.
    NotHeard(NotHeard),
}

impl Workshop {
    /// Reads a line without keeping anything.
    ///
    /// # Errors
    /// Where there is no such job. A line that cannot be read is the inner error.
    pub fn understand(&self, number: &str, line: &str) -> Result<Result<Heard, NotHeard>, ActError> {
        let job = self.job(number)?;
        Ok(hear(line, &job, &self.meters()))
    }

    /// Reads a line and keeps what it says. The same draft id twice keeps once.
    ///
    /// # Errors
    /// Where there is no such job or it cannot be written.
    pub fn say(&self, number: &str, line: &str, draft_id: &str) -> Result<Said, ActError> {
        self.say_correcting(number, line, None, draft_id)
    }

    /// Reads a line and keeps it as the correction of an entry. The corrected entry stays.
    ///
    /// # Errors
    /// Where there is no such job or entry, or it cannot be written.
    pub fn correct(&self, number: &str, seq: u64, line: &str, draft_id: &str) -> Result<Said, ActError> {
        let cite = self.cite(number, seq)?;
        self.say_correcting(number, line, Some(cite), draft_id)
    }

    fn say_correcting(
        &self,
        number: &str,
        line: &str,
        corrects: Option<Cite>,
        draft_id: &str,
    ) -> Result<Said, ActError> {
        // A new part is given the next free number: nobody else may name one in between.
        let _hand = self.hand();
        let chain = self.writable(number)?;
        let job = self.job(number)?;
        let mut heard = match hear(line, &job, &self.meters()) {
            Ok(heard) => heard,
            Err(error) => return Ok(Said::NotHeard(error)),
        };
        if let (Some(cite), Body::Part(part)) = (&corrects, &mut heard.body)
            && let Some(known) = job.parts.iter().find(|known| known.item.versions.contains(&cite.seq))
        {
            // A corrected part keeps its short number: labels on trays already carry it.
            part.part.clone_from(&known.item.body.part);
            // Its name in the trace is taken, by itself.
            part.traced_as = part.traced_as.take().or_else(|| known.item.body.traced_as.clone());
        }
        let cite = self.keep_in(&chain, heard.body.clone(), corrects, Some(draft_id))?;
        Ok(Said::Kept { seq: cite.seq, heard: Box::new(heard) })
    }

    /// Keeps words that fit nowhere else, or a line that could not be read.
    ///
    /// # Errors
    /// Where there are no words, no such job, or it cannot be written.
    pub fn keep_note(&self, number: &str, words: &str, draft_id: &str) -> Result<u64, ActError> {
        if words.trim().is_empty() {
            return Err(ActError::Empty { field: "The note", example: "what was seen or said" });
        }
        self.keep(number, Body::Note(Note1 { words: words.trim().to_owned() }), None, Some(draft_id))
    }

    /// Keeps any body in a job's chain.
    ///
    /// # Errors
    /// Where there is no such job, it came from elsewhere, or it cannot be written.
    pub fn keep(
        &self,
        number: &str,
        body: Body,
        corrects: Option<u64>,
        draft_id: Option<&str>,
    ) -> Result<u64, ActError> {
        let corrects = corrects.map(|seq| self.cite(number, seq)).transpose()?;
        let chain = self.writable(number)?;
        Ok(self.keep_in(&chain, body, corrects, draft_id)?.seq)
    }

    /// Strikes an entry out. It stays readable in the history.
    ///
    /// # Errors
    /// Where there is no such entry, no reason is given, or it cannot be written.
    pub fn strike(&self, number: &str, seq: u64, why: &str, draft_id: &str) -> Result<u64, ActError> {
        if why.trim().is_empty() {
            return Err(ActError::Empty {
                field: "The reason",
                example: "why it is struck out, such as `wrong part`",
            });
        }
        let struck = Body::Struck(Struck1 { why: why.trim().to_owned() });
        self.keep(number, struck, Some(seq), Some(draft_id))
    }

    /// Keeps what was decided about a step that a study offered. What is decided so already is not kept again.
    ///
    /// # Errors
    /// Where there is no such job or it cannot be written.
    pub fn decide(
        &self,
        number: &str,
        step: &str,
        words: &str,
        decision: &str,
        draft_id: &str,
    ) -> Result<u64, ActError> {
        let _hand = self.hand();
        let job = self.job(number)?;
        let standing = job.decided.iter().rfind(|item| item.body.step == step);
        if let Some(same) = standing.filter(|item| item.body.decision == decision) {
            return Ok(same.seq);
        }
        let body = Decided1 { step: step.to_owned(), words: words.to_owned(), decision: decision.to_owned() };
        self.keep(number, Body::Decided(body), None, Some(draft_id))
    }
}
