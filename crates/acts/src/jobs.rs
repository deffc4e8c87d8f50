//! Jobs are opened, gone on with, and gone back to.

use std::sync::Arc;

use asfound_record::{Body, Cite, Job, Job1, JobKnown1, Person1, Piece1, fold};
use asfound_store::StoreError;
use asfound_study::parts::WhichPart;

use crate::elsewhere::handle;
use crate::error::ActError;
use crate::workshop::{Workshop, random_id};

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

/// Where a job's entries lie.
pub(crate) struct Place {
    pub(crate) chain: String,
    /// 0, or the number of a differing copy from elsewhere.
    pub(crate) variant: u32,
    /// Whether this workshop writes it.
    pub(crate) own: bool,
}

impl Workshop {
    /// Opens a job: a chain of its own, its first entry, and the piece. Answers the job's number.
    ///
    /// # Errors
    /// Where the title is empty, the number cannot be used, or the folder cannot be written.
    pub fn open_job(&self, new: &NewJob) -> Result<String, ActError> {
        self.begin(new, None, None)
    }

    /// As [`Workshop::open_job`]; the same draft id twice opens one job.
    ///
    /// # Errors
    /// As [`Workshop::open_job`].
    pub fn open_job_once(&self, new: &NewJob, draft_id: &str) -> Result<String, ActError> {
        self.begin(new, None, Some(draft_id))
    }

    /// Opens a job that goes on from another one, of this workshop or of another: it cites the other's last entry, and
    /// is about the same piece. What is left empty of the piece is taken over as it was said there; the owner is not,
    /// since another workshop's name for a person is not known here.
    ///
    /// # Errors
    /// As [`Workshop::open_job`], and where there is no such job.
    pub fn go_on_from(&self, from: &str, new: &NewJob, draft_id: &str) -> Result<String, ActError> {
        let job = self.job(from)?;
        self.begin(new, Some(&job), Some(draft_id))
    }

    fn begin(&self, new: &NewJob, before: Option<&Job>, draft_id: Option<&str>) -> Result<String, ActError> {
        let title = new.title.trim();
        if title.is_empty() {
            let example = "one line, such as `Short-scale bass, no sound`";
            return Err(ActError::Empty { field: "The title", example });
        }
        let _hand = self.hand();
        let number = match new.number.trim() {
            "" => self.next_number()?,
            number => self.free_number(number)?,
        };
        let chain = random_id()?;
        let owner = given(&new.owner).map(|name| Ok::<_, ActError>((random_id()?, name))).transpose()?;
        let piece =
            piece(new, before.and_then(|job| job.piece.as_ref()).map(|item| &item.body), owner.as_ref())?;
        let continues = before.and_then(|job| job.head.cite());
        let opened = Job1 { number: number.clone(), title: title.to_owned(), continues };
        let known =
            self.entry(Body::JobKnown(JobKnown1 { chain: chain.clone(), number: number.clone() }), None)?;
        let opened = self.entry(Body::Job(opened), None)?;
        let piece = self.entry(Body::Piece(piece), None)?;
        let person = owner.map(|(person, name)| Person1 { person, name, role: "owner".to_owned() });
        let person = person.map(|body| self.entry(Body::Person(body), None)).transpose()?;
        let kept = self.store.append_many(|batch| {
            let known = batch.append(known, self.own_chain(), draft_id)?;
            if !known.repeated {
                if let Some(person) = person {
                    batch.append(person, self.own_chain(), None)?;
                }
                batch.append(opened, &chain, None)?;
                batch.append(piece, &chain, None)?;
            }
            Ok(known)
        })?;
        match Body::of(&kept.entry) {
            Body::JobKnown(known) if kept.repeated => Ok(known.number),
            _ => Ok(number),
        }
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
        Ok(format!("{year}-{:03}", used.max().unwrap_or(0).saturating_add(1)))
    }

    /// A number that was asked for, where it can be had. It stands in addresses and in names of files.
    fn free_number(&self, number: &str) -> Result<String, ActError> {
        let plain = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '.';
        if number.len() > 60
            || !number.chars().all(plain)
            || !number.starts_with(|sign: char| sign.is_ascii_alphanumeric())
        {
            return Err(ActError::BadNumber(number.to_owned()));
        }
        match self.place_of(number) {
            Ok(_) => Err(ActError::NumberTaken(number.to_owned())),
            Err(ActError::NoSuchJob(_)) => Ok(number.to_owned()),
            Err(error) => Err(error),
        }
    }

    /// Where the job with this number lies: among this workshop's own, else among those from elsewhere.
    pub(crate) fn place_of(&self, number: &str) -> Result<Place, ActError> {
        let about = self.about()?;
        if let Some(known) = about.jobs.iter().rev().find(|item| item.body.number == number) {
            return Ok(Place { chain: known.body.chain.clone(), variant: 0, own: true });
        }
        if number.starts_with(crate::elsewhere::PREFIX) {
            let found = self.store.chains()?.into_iter().find(|info| !info.own && handle(info) == number);
            if let Some(info) = found {
                return Ok(Place { chain: info.chain, variant: info.variant, own: false });
            }
        }
        Err(ActError::NoSuchJob(number.to_owned()))
    }

    /// The job's chain, where this workshop is its writer.
    pub(crate) fn writable(&self, number: &str) -> Result<String, ActError> {
        let place = self.place_of(number)?;
        if place.own { Ok(place.chain) } else { Err(ActError::Foreign(number.to_owned())) }
    }

    /// The job with this number, folded.
    ///
    /// # Errors
    /// Where there is none, or the folder cannot be read.
    pub fn job(&self, number: &str) -> Result<Arc<Job>, ActError> {
        let place = self.place_of(number)?;
        match place.variant {
            0 => Ok(self.store.job(&place.chain)?),
            variant => Ok(Arc::new(fold(&self.store.entries_of_variant(&place.chain, variant)?))),
        }
    }

    /// A citation of an entry of a job.
    pub(crate) fn cite(&self, number: &str, seq: u64) -> Result<Cite, ActError> {
        let job = self.job(number)?;
        let line = job.history.iter().find(|line| line.seq == seq);
        let line = line.ok_or_else(|| ActError::NoSuchEntry { number: number.to_owned(), seq })?;
        Ok(Cite { chain: job.chain.clone(), seq, hash: line.hash })
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
        let chain = self.writable(number)?;
        let head = self.store.head(&chain)?;
        self.remember(LEFT_AT, &[(chain, head.next, page.to_owned())])
    }

    /// The page on which the hand left off.
    pub fn return_to(&self, number: &str) -> Option<String> {
        let place = self.place_of(number).ok()?;
        self.store.last_remembered(LEFT_AT, &place.chain).ok().flatten()
    }

    /// Remembers what can be worked out again. A workshop that is only read forgets it, which does no harm.
    pub(crate) fn remember(&self, sort: &str, texts: &[(String, u64, String)]) -> Result<(), ActError> {
        if texts.is_empty() {
            return Ok(());
        }
        match self.store.remember(sort, texts) {
            Ok(()) | Err(StoreError::OnlyReading { .. }) => Ok(()),
            Err(error) => Err(error.into()),
        }
    }
}

/// The piece as it is said, and what is not said of it as the job before told it.
fn piece(
    new: &NewJob,
    before: Option<&Piece1>,
    owner: Option<&(String, String)>,
) -> Result<Piece1, ActError> {
    Ok(Piece1 {
        piece: before.map_or_else(random_id, |piece| Ok(piece.piece.clone()))?,
        family: given(&new.family)
            .or_else(|| before.map(|piece| piece.family.clone()))
            .unwrap_or_else(|| "instrument".to_owned()),
        words: given(&new.words)
            .or_else(|| before.map(|piece| piece.words.clone()))
            .unwrap_or_else(|| new.title.trim().to_owned()),
        maker: given(&new.maker).or_else(|| before?.maker.clone()),
        serial: given(&new.serial).or_else(|| before?.serial.clone()),
        origin: given(&new.origin).or_else(|| before?.origin.clone()),
        owner: owner.map(|(person, _)| person.clone()),
    })
}

fn given(text: &str) -> Option<String> {
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}
