//! A workshop is opened, and things are kept in its chains.

use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use asfound_record::{
    Body, Cite, Draft, Entry, EntryError, Head, Job, Meter1, Person1, SigningKey, Workshop1,
};
use asfound_store::{Appended, Store};
use asfound_study::material::WorkedOut;
use serde_json::Value;

use crate::error::ActError;
use crate::keys;

/// The clock as the person's machine tells it, RFC 3339 with offset.
pub type Clock = Box<dyn Fn() -> String + Send + Sync>;

/// The role under which the person who keeps the record is known.
const RESTORER: &str = "restorer";

/// An open workshop: one folder, one restorer's hand.
pub struct Workshop {
    pub(crate) store: Store,
    /// `None` where the workshop was opened to read: nothing is sealed then.
    pub(crate) key: Option<SigningKey>,
    clock: Clock,
    chain: String,
    me: String,
    /// Held by an act that looks first and writes then, such as giving the next free number.
    hand: Mutex<()>,
    /// What studies worked out before.
    pub(crate) before: Arc<WorkedOut>,
}

impl Workshop {
    /// Starts a workshop in an empty folder: its chain, the restorer's id and a first key. A start that was cut off is
    /// done again.
    ///
    /// # Errors
    /// Where the folder cannot be used or holds a workshop already, with the reason.
    pub fn start(folder: &Path, name: &str) -> Result<Workshop, ActError> {
        Workshop::start_with_clock(folder, name, Box::new(machine_clock))
    }

    /// As [`Workshop::start`], with another clock: for tests, and for a demo whose work lies in the past.
    ///
    /// # Errors
    /// As [`Workshop::start`].
    pub fn start_with_clock(folder: &Path, name: &str, clock: Clock) -> Result<Workshop, ActError> {
        let name = name.trim();
        if name.is_empty() {
            return Err(ActError::Empty {
                field: "The workshop's name",
                example: "a few words, such as your own name",
            });
        }
        let store = Store::start(folder)?;
        if own_chain(&store)?.is_some() {
            return Err(ActError::AlreadyStarted(Workshop::over(store, None, clock)?.name()));
        }
        let key = keys::take_or_make(&store)?;
        let (chain, me) = (random_id()?, random_id()?);
        let workshop =
            Workshop { store, key: None, clock, chain, me, hand: Mutex::default(), before: Arc::default() };
        let person =
            Person1 { person: workshop.me.clone(), name: name.to_owned(), role: RESTORER.to_owned() };
        let named = workshop.entry(Body::Workshop(Workshop1 { name: name.to_owned() }), None)?;
        let person = workshop.entry(Body::Person(person), None)?;
        let first = workshop.entry(keys::first(&key), None)?;
        workshop.store.append_many(|batch| {
            batch.append(named, &workshop.chain, None)?;
            batch.append(person, &workshop.chain, None)?;
            batch.append(first, &workshop.chain, None)
        })?;
        Ok(Workshop { key: Some(key), ..workshop })
    }

    /// Opens a workshop that is there. Where the key file is gone a new key is made, and the record says so.
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
        let key = keys::take_or_make(&store)?;
        let workshop = Workshop::over(store, Some(key), clock)?;
        workshop.tell_of_new_key()?;
        Ok(workshop)
    }

    /// Opens a workshop only to read it, also beside a program that writes.
    ///
    /// # Errors
    /// As [`Workshop::open`], but a workshop in use is no obstacle.
    pub fn open_to_read(folder: &Path) -> Result<Workshop, ActError> {
        Workshop::over(Store::open_to_read(folder)?, None, Box::new(machine_clock))
    }

    fn over(store: Store, key: Option<SigningKey>, clock: Clock) -> Result<Workshop, ActError> {
        let chain = own_chain(&store)?.ok_or(ActError::NoWorkshopChain)?;
        // Whoever began the chain keeps the record. The envelope says so even where the name was withheld since.
        let me = store.job(&chain)?.history.first().map(|line| line.by.clone()).unwrap_or_default();
        Ok(Workshop { store, key, clock, chain, me, hand: Mutex::default(), before: Arc::default() })
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

    /// The id of the workshop's own chain.
    pub(crate) fn own_chain(&self) -> &str {
        &self.chain
    }

    /// One act at a time looks and writes. Nothing is left half done by an act that broke off, so its lock is taken
    /// over.
    pub(crate) fn hand(&self) -> MutexGuard<'_, ()> {
        self.hand.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(crate) fn keep_in_workshop(&self, body: Body) -> Result<Cite, ActError> {
        self.keep_in(&self.chain, body, None, None)
    }

    /// Keeps one entry at the end of a chain. A draft id makes a retry harmless; one that comes with something else
    /// is refused, so that nothing said is lost in silence.
    pub(crate) fn keep_in(
        &self,
        chain: &str,
        body: Body,
        corrects: Option<Cite>,
        draft_id: Option<&str>,
    ) -> Result<Cite, ActError> {
        let said = body.value();
        let make = self.entry(body, corrects.clone())?;
        let Appended { entry, repeated } = self.store.append(make, chain, draft_id)?;
        let cite = entry.cite();
        if repeated && !says(&entry, said, corrects.as_ref()) {
            return Err(ActError::SaidBefore { seq: cite.seq });
        }
        Ok(cite)
    }

    /// What makes the entry once its place is known: with the clock's time, this hand's id and a fresh salt.
    pub(crate) fn entry(
        &self,
        body: Body,
        corrects: Option<Cite>,
    ) -> Result<impl FnOnce(&Head) -> Result<Entry, EntryError> + use<>, ActError> {
        let (Some(kind), Some(value)) = (body.kind(), body.value()) else {
            return Err(ActError::Empty {
                field: "The entry",
                example: "something that this release can say",
            });
        };
        let draft =
            Draft { at: self.now(), by: self.me.clone(), kind: kind.to_owned(), corrects, body: value };
        let salt = random_bytes()?;
        Ok(move |head: &Head| Entry::make(draft, head, salt))
    }
}

/// The workshop's own chain in a folder, where there is one.
fn own_chain(store: &Store) -> Result<Option<String>, ActError> {
    let chains = store.chains()?;
    Ok(chains.into_iter().find(|info| info.own && info.first_kind == "workshop/1").map(|info| info.chain))
}

/// Whether a kept entry says this. A part's number and its name in the trace are given when it is kept, and a retry
/// would be given others. What was withheld since cannot be compared.
fn says(entry: &Entry, said: Option<Value>, corrects: Option<&Cite>) -> bool {
    let without_given = |mut value: Value| {
        if let Some(fields) = value.as_object_mut().filter(|_| entry.envelope().kind == "part/1") {
            fields.remove("part");
            fields.remove("traced_as");
        }
        value
    };
    let same = match (entry.body().cloned(), said) {
        (Some(kept), Some(said)) => without_given(kept) == without_given(said),
        (kept, _) => kept.is_none(),
    };
    same && entry.envelope().corrects.as_ref() == corrects
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
