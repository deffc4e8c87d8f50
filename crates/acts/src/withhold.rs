//! Content is taken out for good: by duty, or because somebody asked.

use asfound_record::{Body, Cite, Hash, Person1, Withheld1};

use crate::error::ActError;
use crate::workshop::{Workshop, random_id};

/// The role of a person who is known only because they asked for something to be withheld.
const ASKED: &str = "asked to withhold";

/// An entry whose content was taken out, and what a person should know then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenOut {
    /// The place of the entry that says so, in the job's chain; for a job from elsewhere, in the workshop's.
    pub seq: u64,
    /// Originals that the content named and that stay because other entries show them too: hashes, hex.
    pub still_shown: Vec<String>,
    /// What was in the way of clearing the last traces, as a sentence. They go at the next start.
    pub unfinished: Option<String>,
    /// Papers that rest on the entry and are out of reach.
    pub handed_out: Vec<HandedOut>,
}

/// A paper that was issued when an entry stood in the record already, so that it may tell what the entry says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandedOut {
    /// The entry that tells of the paper.
    pub seq: u64,
    /// What paper it is.
    pub title: String,
    /// When it was issued, as the clock said.
    pub at: String,
}

impl Workshop {
    /// Takes the content of an entry out for good: its body, its pictures, its place in the search. The envelope stays,
    /// so the chain still verifies. `who` asked for it, by name; the name is kept as a person's, so that it can be
    /// withheld in turn. Whether there is a duty to do so is a matter of local law.
    ///
    /// # Errors
    /// Where there is no such entry, nobody or no ground is named, or it cannot be written.
    pub fn withhold(
        &self,
        number: &str,
        seq: u64,
        who: &str,
        ground: &str,
        draft_id: &str,
    ) -> Result<TakenOut, ActError> {
        let (who, ground) = (who.trim(), ground.trim());
        if who.is_empty() {
            return Err(ActError::Empty {
                field: "Who asked for it",
                example: "a name, such as the owner's",
            });
        }
        if ground.is_empty() {
            let example = "why it is withheld, such as `asked by the owner`";
            return Err(ActError::Empty { field: "The ground", example });
        }
        let _hand = self.hand();
        let place = self.place_of(number)?;
        let of = self.cite(number, seq)?;
        // A chain from elsewhere is never written, so what is withheld of it is said in the workshop's own.
        let chain = if place.own { place.chain } else { self.own_chain().to_owned() };
        let body = Withheld1 { of: of.clone(), who: self.known_as(who)?, ground: ground.to_owned() };
        let make = self.entry(Body::Withheld(body), None)?;
        let withheld = self.store.withhold(&of, make, &chain, Some(draft_id))?;
        Ok(TakenOut {
            seq: withheld.appended.entry.envelope().seq,
            still_shown: withheld.still_shown.iter().map(Hash::to_string).collect(),
            unfinished: withheld.unfinished.map(|error| error.to_string()),
            handed_out: self.handed_out(number, seq)?,
        })
    }

    /// Papers that were issued after an entry was kept: copies of what it says may be with others.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read.
    pub fn handed_out(&self, number: &str, seq: u64) -> Result<Vec<HandedOut>, ActError> {
        let job = self.job(number)?;
        let rests_on_it = |head: &Cite| head.chain == job.chain && head.seq >= seq;
        let papers = job.told.iter().filter(|item| rests_on_it(&item.body.head));
        Ok(papers
            .map(|item| HandedOut { seq: item.seq, title: item.body.title.clone(), at: item.at.clone() })
            .collect())
    }

    /// The id of a person of this name; one who is not known yet becomes known.
    fn known_as(&self, name: &str) -> Result<String, ActError> {
        let about = self.about()?;
        if let Some(known) = about.persons.iter().find(|item| item.body.name == name) {
            return Ok(known.body.person.clone());
        }
        let person = random_id()?;
        let body = Person1 { person: person.clone(), name: name.to_owned(), role: ASKED.to_owned() };
        self.keep_in_workshop(Body::Person(body))?;
        Ok(person)
    }
}
