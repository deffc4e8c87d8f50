//! Jobs are opened, listed, and gone back to.

use std::sync::Arc;

use asfound_record::{Body, Cite, Job, Job1, JobKnown1, Piece1};
use asfound_store::StoreError;
use asfound_study::bench::{self, Card};
use asfound_study::parts::WhichPart;

use crate::error::ActError;
use crate::workshop::{Workshop, random_id};

/// The sort under which cards are remembered.
const CARD: &str = "card/1";
/// The sort under which the page is remembered on which the hand left off.
const LEFT_AT: &str = "left-at";

/// What is needed to open a job. Only the title is.
#[derive(Debug, Clone, Default)]
pub struct NewJob {
    /// The number on labels; the next free one where it is empty.
    pub number: String,
    /// One line that says what the job is about.
    pub title: String,
    /// `guitar`, `bass`, `amplifier` or other words.
    pub family: String,
    /// The piece in plain words.
    pub words: String,
    /// The maker as said by whom.
    pub maker: String,
    /// The serial number as read.
    pub serial: String,
    /// Where it came from and how it was found.
    pub origin: String,
    /// The owner's name.
    pub owner: String,
}

impl Workshop {
    /// Opens a job: a chain of its own, its first entry, and the piece. Answers the job's number.
    ///
    /// # Errors
    /// Where the title is empty or the folder cannot be written.
    pub fn open_job(&self, new: &NewJob) -> Result<String, ActError> {
        let title = new.title.trim();
        if title.is_empty() {
            return Err(ActError::Empty { field: "The title", example: "one line, such as `Short-scale bass, no sound`" });
        }
        let number = if new.number.trim().is_empty() { self.next_number()? } else { new.number.trim().to_owned() };
        let chain = random_id()?;
        let opened = Job1 { number: number.clone(), title: title.to_owned(), continues: None };
        self.keep_in(&chain, Body::Job(opened), None, None)?;
        let owner = given(&new.owner).map(|name| self.keep_person(&name, "owner")).transpose()?;
        let piece = Piece1 {
            piece: random_id()?,
            family: given(&new.family).unwrap_or_else(|| "instrument".to_owned()),
            words: given(&new.words).unwrap_or_else(|| title.to_owned()),
            maker: given(&new.maker),
            serial: given(&new.serial),
            origin: given(&new.origin),
            owner,
        };
        self.keep_in(&chain, Body::Piece(piece), None, None)?;
        self.keep_in_workshop(Body::JobKnown(JobKnown1 { chain, number: number.clone() }))?;
        Ok(number)
    }

    /// The next free number: the year's last two digits and a running one.
    fn next_number(&self) -> Result<String, ActError> {
        let now = self.now();
        let year = now.get(2..4).unwrap_or("00").to_owned();
        let about = self.about()?;
        let used = about.jobs.iter().filter_map(|item| {
            let (prefix, running) = item.body.number.split_once('-')?;
            (prefix == year).then(|| running.parse::<u32>().ok()).flatten()
        });
        Ok(format!("{year}-{:03}", used.max().unwrap_or(0) + 1))
    }

    /// The chain of the job with this number.
    pub(crate) fn chain_of(&self, number: &str) -> Result<String, ActError> {
        let about = self.about()?;
        let known = about.jobs.iter().rev().find(|item| item.body.number == number);
        known.map(|item| item.body.chain.clone()).ok_or_else(|| ActError::NoSuchJob(number.to_owned()))
    }

    /// The job with this number, folded.
    ///
    /// # Errors
    /// Where there is none, or the folder cannot be read.
    pub fn job(&self, number: &str) -> Result<Arc<Job>, ActError> {
        Ok(self.store.job(&self.chain_of(number)?)?)
    }

    /// A citation of an entry of a job.
    pub(crate) fn cite(&self, number: &str, seq: u64) -> Result<Cite, ActError> {
        let job = self.job(number)?;
        let line = job.history.iter().find(|line| line.seq == seq);
        let no_entry = || ActError::NoSuchEntry { number: number.to_owned(), seq };
        let line = line.ok_or_else(no_entry)?;
        Ok(Cite { chain: job.chain.clone(), seq, hash: line.hash })
    }

    /// A card for every job, the latest touched first.
    ///
    /// What a card shows is remembered beside the chain's head, so that a start page of a thousand jobs folds none.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn cards(&self) -> Result<Vec<Card>, ActError> {
        let about = self.about()?;
        let remembered = self.store.remembered(CARD)?;
        let mut cards = Vec::with_capacity(about.jobs.len());
        let mut fresh = Vec::new();
        for item in &about.jobs {
            let chain = &item.body.chain;
            let card = match remembered.get(chain).and_then(|text| Card::from_text(text)) {
                Some(card) => card,
                None => {
                    let job = self.store.job(chain)?;
                    let card = bench::card(&job);
                    fresh.push((chain.clone(), job.head.next, card.to_text()));
                    card
                }
            };
            cards.push(card);
        }
        self.remember(CARD, &fresh)?;
        cards.sort_by(|a, b| b.last_at.cmp(&a.last_at).then_with(|| b.number.cmp(&a.number)));
        Ok(cards)
    }

    /// The id of the part that a name means.
    ///
    /// # Errors
    /// Where no part, or more than one, is called so.
    pub fn part_named(&self, number: &str, name: &str) -> Result<String, ActError> {
        match asfound_study::parts::find(&*self.job(number)?, name, None) {
            WhichPart::One(id) => Ok(id),
            WhichPart::Several(names) => Err(ActError::NoSuchPart { name: name.to_owned(), nearest: names }),
            WhichPart::None { nearest } => Err(ActError::NoSuchPart { name: name.to_owned(), nearest }),
        }
    }

    /// A new draft id. A page puts it into a form, so that the form sent twice keeps once.
    ///
    /// # Errors
    /// Where the machine gives no random bytes.
    pub fn draft_id(&self) -> Result<String, ActError> {
        random_id()
    }

    /// Notes on which page of a job the hand left off.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn left_at(&self, number: &str, page: &str) -> Result<(), ActError> {
        let chain = self.chain_of(number)?;
        let head = self.store.head(&chain)?;
        self.remember(LEFT_AT, &[(chain, head.next, page.to_owned())])
    }

    /// The page on which the hand left off.
    pub fn return_to(&self, number: &str) -> Option<String> {
        let chain = self.chain_of(number).ok()?;
        self.store.last_remembered(LEFT_AT, &chain).ok().flatten()
    }

    /// Remembers what can be worked out again. A workshop that is only read forgets it, which does no harm.
    fn remember(&self, sort: &str, texts: &[(String, u64, String)]) -> Result<(), ActError> {
        if texts.is_empty() {
            return Ok(());
        }
        match self.store.remember(sort, texts) {
            Ok(()) | Err(StoreError::OnlyReading { .. }) => Ok(()),
            Err(error) => Err(error.into()),
        }
    }
}

fn given(text: &str) -> Option<String> {
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}
