//! A workshop is opened, and things are kept in its chains.

use std::path::Path;
use std::sync::Arc;

use asfound_record::{Body, Cite, Draft, Entry, Job, Meter1, Person1, Workshop1};
use asfound_store::Store;

use crate::error::ActError;
use crate::keys::Keys;

/// The clock as the person's machine tells it, RFC 3339 with offset.
pub type Clock = Box<dyn Fn() -> String + Send + Sync>;

/// The role under which the person who keeps the record is known.
const RESTORER: &str = "restorer";

/// An open workshop: one folder, one restorer's hand.
pub struct Workshop {
    pub(crate) store: Store,
    pub(crate) keys: Keys,
    clock: Clock,
    chain: String,
    me: String,
}

impl Workshop {
    /// Starts a workshop in an empty folder: its chain, the restorer's id and a first key.
    ///
    /// # Errors
    /// Where the folder cannot be used, with the reason.
    pub fn start(folder: &Path, name: &str) -> Result<Workshop, ActError> {
        Workshop::start_with_clock(folder, name, Box::new(machine_clock))
    }

    /// As [`Workshop::start`], with another clock: for tests, and for a demo whose work lies in the past.
    ///
    /// # Errors
    /// As [`Workshop::start`].
    pub fn start_with_clock(folder: &Path, name: &str, clock: Clock) -> Result<Workshop, ActError> {
        if name.trim().is_empty() {
            return Err(ActError::Empty { field: "The workshop's name", example: "a few words, such as your own name" });
        }
        let store = Store::start(folder)?;
        let chain = random_id()?;
        let me = random_id()?;
        let keys = Keys::open(&store)?;
        let workshop = Workshop { store, keys, clock, chain, me };
        workshop.keep_in_workshop(Body::Workshop(Workshop1 { name: name.trim().to_owned() }))?;
        let person = Person1 { person: workshop.me.clone(), name: name.trim().to_owned(), role: RESTORER.to_owned() };
        workshop.keep_in_workshop(Body::Person(person))?;
        workshop.keep_in_workshop(Body::Key(workshop.keys.first()))?;
        Ok(workshop)
    }

    /// Opens a workshop that is there.
    ///
    /// # Errors
    /// Where the folder is no workshop, is damaged, is newer than this program, or is in use.
    pub fn open(folder: &Path) -> Result<Workshop, ActError> {
        Workshop::open_with_clock(folder, Box::new(machine_clock))
    }

    /// As [`Workshop::open`], with another clock.
    ///
    /// # Errors
    /// As [`Workshop::open`].
    pub fn open_with_clock(folder: &Path, clock: Clock) -> Result<Workshop, ActError> {
        let store = Store::open(folder)?;
        Workshop::over(store, clock)
    }

    /// Opens a workshop only to read it, also beside a program that writes.
    ///
    /// # Errors
    /// As [`Workshop::open`], but a workshop in use is no obstacle.
    pub fn open_to_read(folder: &Path) -> Result<Workshop, ActError> {
        Workshop::over(Store::open_to_read(folder)?, Box::new(machine_clock))
    }

    fn over(store: Store, clock: Clock) -> Result<Workshop, ActError> {
        let chains = store.chains()?;
        let own = chains.iter().find(|info| info.own && info.first_kind == "workshop/1");
        let chain = own.map(|info| info.chain.clone()).ok_or_else(|| ActError::NoWorkshopChain)?;
        let about = store.job(&chain)?;
        let restorer = about.persons.iter().find(|item| item.body.role == RESTORER);
        let me = restorer.map(|item| item.body.person.clone()).unwrap_or_default();
        let keys = Keys::open(&store)?;
        Ok(Workshop { store, keys, clock, chain, me })
    }

    /// What the person's clock says now.
    pub(crate) fn now(&self) -> String {
        (self.clock)()
    }

    /// The day by the person's clock, ISO 8601.
    pub fn today(&self) -> String {
        self.now().get(..10).unwrap_or("1970-01-01").to_owned()
    }

    /// The workshop's own entries, folded: its name, persons, meters, keys and seals.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn about(&self) -> Result<Arc<Job>, ActError> {
        Ok(self.store.job(&self.chain)?)
    }

    /// The workshop's name.
    pub fn name(&self) -> String {
        let about = self.about().ok();
        let named = about.as_ref().and_then(|job| job.workshop.as_ref()).map(|item| item.body.name.clone());
        named.unwrap_or_else(|| "Workshop".to_owned())
    }

    /// The meters known to the workshop.
    pub fn meters(&self) -> Vec<Meter1> {
        let about = self.about().ok();
        about.map(|job| job.meters.iter().map(|item| item.body.clone()).collect()).unwrap_or_default()
    }

    /// A meter comes into use, with its accuracy statement.
    ///
    /// # Errors
    /// Where it cannot be kept.
    pub fn keep_meter(&self, meter: Meter1) -> Result<Cite, ActError> {
        self.keep_in_workshop(Body::Meter(meter))
    }

    /// A person becomes known: answers the opaque id by which entries name them.
    ///
    /// # Errors
    /// Where it cannot be kept.
    pub fn keep_person(&self, name: &str, role: &str) -> Result<String, ActError> {
        let person = random_id()?;
        let body = Person1 { person: person.clone(), name: name.to_owned(), role: role.to_owned() };
        self.keep_in_workshop(Body::Person(body))?;
        Ok(person)
    }

    /// The name behind a person's id, where it is known and not withheld.
    pub fn person(&self, id: &str) -> Option<String> {
        let about = self.about().ok()?;
        about.persons.iter().find(|item| item.body.person == id).map(|item| item.body.name.clone())
    }

    pub(crate) fn keep_in_workshop(&self, body: Body) -> Result<Cite, ActError> {
        self.keep_in(&self.chain, body, None, None)
    }

    /// Keeps one entry at the end of a chain. A draft id makes a retry harmless.
    pub(crate) fn keep_in(
        &self,
        chain: &str,
        body: Body,
        corrects: Option<Cite>,
        draft_id: Option<&str>,
    ) -> Result<Cite, ActError> {
        let draft = self.draft(body, corrects);
        let salt = random_bytes()?;
        let appended = self.store.append(|head| Entry::make(draft, head, salt), chain, draft_id)?;
        Ok(appended.entry.cite())
    }

    pub(crate) fn draft(&self, body: Body, corrects: Option<Cite>) -> Draft {
        Draft {
            at: self.now(),
            by: self.me.clone(),
            kind: body.kind().unwrap_or("note/1").to_owned(),
            corrects,
            body: body.value().unwrap_or_default(),
        }
    }
}

/// Now, to the second, with the offset of the machine's time zone.
fn machine_clock() -> String {
    let now = jiff::ZonedDateTime::now();
    now.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
}

/// 32 bytes that nobody can guess.
pub(crate) fn random_bytes() -> Result<[u8; 32], ActError> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes).map_err(|error| ActError::NoRandomness(error.to_string()))?;
    Ok(bytes)
}

/// An id that collides with no other: 16 random bytes as hex.
pub(crate) fn random_id() -> Result<String, ActError> {
    Ok(asfound_record::to_hex(&random_bytes()?[..16]))
}
