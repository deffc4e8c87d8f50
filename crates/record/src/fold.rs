//! The fold: from a chain's entries to the job they make.
//!
//! It never fails. What cannot be understood is kept and said: in the history, among the others, or as a finding.

use std::collections::BTreeMap;

use crate::body::Body;
use crate::entry::{Cite, Entry, Head};
use crate::hash::Hash;
use crate::job::{FoldFinding, Item, Job, Line, Part, Standing, Whole};
use crate::kinds::{Act1, Part1};
use crate::moment;

/// Folds a chain's entries, given in the order of `seq`.
pub fn fold(entries: &[Entry]) -> Job {
    let mut kept = Kept::default();
    for entry in entries {
        kept.take(entry);
    }
    kept.derive()
}

impl Default for Job {
    fn default() -> Job {
        Kept::default().derive()
    }
}

impl Job {
    /// What an entry of the chain says, whether it stands or not; `None` where the chain has no such entry.
    pub fn body(&self, seq: u64) -> Option<&Body> {
        let records = &self.kept.records;
        let at = records.binary_search_by_key(&seq, |record| record.seq).ok()?;
        Some(&records[at].body)
    }

    /// Takes in the next entry. The result equals the [`fold`] of all entries so far.
    ///
    /// An entry that begins something new costs little; one that acts on earlier entries derives the job anew from what
    /// is in memory.
    pub fn take(&mut self, entry: &Entry) {
        let mut kept = std::mem::take(&mut self.kept);
        let before = kept.records.len();
        kept.take(entry);
        if kept.has_only_begun_something(before) {
            kept.place_last(self);
            self.kept = kept;
        } else {
            *self = kept.derive();
        }
    }
}

/// What was taken in: all that the job is derived from.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Kept {
    head: Option<Head>,
    records: Vec<Record>,
    findings: Vec<FoldFinding>,
}

/// One entry, as far as the fold needs it. Places are places in [`Kept::records`].
#[derive(Debug, Clone, PartialEq, Eq)]
struct Record {
    seq: u64,
    at: String,
    by: String,
    kind: String,
    hash: Hash,
    body: Body,
    /// The place of the entry it corrects.
    corrects: Option<usize>,
    /// The place of the first version.
    root: usize,
    withheld_by: Option<u64>,
    clock_stepped_back: bool,
}

impl Record {
    fn line(&self, standing: Standing) -> Line {
        Line {
            seq: self.seq,
            at: self.at.clone(),
            by: self.by.clone(),
            kind: self.kind.clone(),
            standing,
            hash: self.hash,
            clock_stepped_back: self.clock_stepped_back,
        }
    }

    /// Whether it is a part, or may name one.
    fn binds(&self) -> bool {
        use Body::{Act, Made, Observed, Part, Photograph, Reading, Sweep, Testimony};
        matches!(
            self.body,
            Part(_) | Observed(_) | Reading(_) | Sweep(_) | Photograph(_) | Act(_) | Made(_) | Testimony(_)
        )
    }
}

impl Kept {
    fn take(&mut self, entry: &Entry) {
        let envelope = entry.envelope();
        let seq = envelope.seq;
        let head = self.head.get_or_insert_with(|| Head::empty(&envelope.chain));
        if envelope.chain != head.chain {
            self.findings.push(FoldFinding::OtherChain { seq, chain: envelope.chain.clone() });
            return;
        }
        if seq < head.next {
            self.findings.push(FoldFinding::NotAfter { seq });
            return;
        }
        if seq > head.next {
            self.findings.push(FoldFinding::Gap { seq });
        }
        let corrects = envelope.corrects.as_ref().and_then(|cite| self.find(cite));
        if envelope.corrects.is_some() && corrects.is_none() {
            self.findings.push(FoldFinding::CorrectsNothing { seq });
        }
        let body = Body::of(entry);
        if let Body::Withheld(withheld) = &body {
            self.withhold(&withheld.of, seq);
        }
        let stepped = self.records.last().is_some_and(|last| moment::steps_back(&last.at, &envelope.at));
        self.records.push(Record {
            seq,
            at: envelope.at.clone(),
            by: envelope.by.clone(),
            kind: envelope.kind.clone(),
            hash: entry.hash(),
            body,
            corrects,
            root: corrects.map_or(self.records.len(), |place| self.records[place].root),
            withheld_by: None,
            clock_stepped_back: stepped,
        });
        self.head = Some(entry.after());
    }

    /// The place of an entry taken in before, if the citation fits it.
    fn find(&self, cite: &Cite) -> Option<usize> {
        let place = self.records.binary_search_by_key(&cite.seq, |record| record.seq).ok()?;
        let fits = self.head.as_ref().is_some_and(|head| head.chain == cite.chain);
        (fits && self.records[place].hash == cite.hash).then_some(place)
    }

    /// A `withheld/1` holds even where the content is still at hand, as in a copy brought back from before it.
    fn withhold(&mut self, of: &Cite, by: u64) {
        let Some(place) = self.find(of) else {
            self.findings.push(FoldFinding::WithholdsNothing { seq: by });
            return;
        };
        let record = &mut self.records[place];
        record.body = Body::Gone;
        record.withheld_by.get_or_insert(by);
    }

    fn derive(self) -> Job {
        let threads = self.threads();
        let mut job = empty_job(self.head.clone().unwrap_or_else(|| Head::empty("")));
        for thread in &threads {
            self.place(thread, &mut job);
        }
        job.history = self.history(&threads);
        bind(&mut job);
        job.findings.extend(self.findings.iter().cloned());
        job.findings.sort_by_key(FoldFinding::seq);
        job.kept = self;
        job
    }

    /// Whether, since there were `before` records, one came that acts on none of them and that nothing is to be said
    /// about. Findings are sorted, so where there are any, deriving anew is the plain way to place one more.
    fn has_only_begun_something(&self, before: usize) -> bool {
        let [last] = &self.records[before..] else { return false };
        self.findings.is_empty() && last.corrects.is_none() && !matches!(last.body, Body::Withheld(_))
    }

    /// Adds to the job what the last record begins.
    fn place_last(&self, job: &mut Job) {
        let (Some(head), Some(last)) = (&self.head, self.records.last()) else { return };
        job.chain.clone_from(&head.chain);
        job.head = head.clone();
        let place = self.records.len() - 1;
        let thread = self.thread(vec![place]);
        self.place(&thread, job);
        job.history.push(last.line(self.standing(place, &thread)));
        if last.binds() {
            bind(job);
        }
    }

    /// The versions of each thing, by the place of the root.
    fn threads(&self) -> Vec<Thread> {
        let mut by_root: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (place, record) in self.records.iter().enumerate() {
            by_root.entry(record.root).or_default().push(place);
        }
        by_root.into_values().map(|versions| self.thread(versions)).collect()
    }

    fn thread(&self, versions: Vec<usize>) -> Thread {
        let mut corrected_by: BTreeMap<usize, Vec<u64>> = BTreeMap::new();
        for &place in &versions {
            let record = &self.records[place];
            if let Some(corrected) = record.corrects {
                corrected_by.entry(corrected).or_default().push(record.seq);
            }
        }
        let standing = versions.iter().copied().rfind(|&place| self.records[place].body != Body::Gone);
        Thread { versions, standing, corrected_by }
    }

    /// Puts what stands of a thread where its kind belongs.
    fn place(&self, thread: &Thread, job: &mut Job) {
        let Some(standing) = thread.standing else { return };
        let (seq, item) = (self.records[standing].seq, Thing { thread, records: &self.records, standing });
        match &self.records[standing].body {
            Body::Workshop(body) => job.workshop = job.workshop.take().or_else(|| Some(item.of(body))),
            Body::Person(body) => job.persons.push(item.of(body)),
            Body::Meter(body) => job.meters.push(item.of(body)),
            Body::JobKnown(body) => job.jobs.push(item.of(body)),
            Body::Key(body) => job.keys.push(item.of(body)),
            Body::Seal(body) => job.seals.push(item.of(body)),
            Body::Job(_) if job.opened.is_some() => job.findings.push(FoldFinding::SecondOpening { seq }),
            Body::Job(body) => job.opened = Some(item.of(body)),
            Body::Piece(body) => {
                if job.piece.replace(item.of(body)).is_some() {
                    job.findings.push(FoldFinding::SecondPiece { seq });
                }
            }
            Body::Part(body) => {
                if job.part(&body.part).is_some() {
                    job.findings.push(FoldFinding::SamePart { seq, part: body.part.clone() });
                }
                job.parts.push(part_alone(item.of(body)));
            }
            Body::Observed(body) => job.observed.push(item.of(body)),
            Body::Reading(body) => job.readings.push(item.of(body)),
            Body::Sweep(body) => job.sweeps.push(item.of(body)),
            Body::Photograph(body) => job.photographs.push(item.of(body)),
            Body::Trace(body) => job.traces.push(item.of(body)),
            Body::Act(body) => job.acts.push(item.of(body)),
            Body::Note(body) => job.notes.push(item.of(body)),
            Body::Money(body) => job.money.push(item.of(body)),
            Body::Decided(body) => job.decided.push(item.of(body)),
            Body::Told(body) => job.told.push(item.of(body)),
            Body::Assumption(body) => job.assumptions.push(item.of(body)),
            Body::Probing(body) => job.probings.push(item.of(body)),
            Body::Mark(body) => job.marks.push(item.of(body)),
            Body::Wish(body) => job.wishes.push(item.of(body)),
            Body::Testimony(body) => job.testimonies.push(item.of(body)),
            Body::Made(body) => job.made.push(item.of(body)),
            Body::Terms(body) => job.terms.push(item.of(body)),
            Body::Task(body) => job.tasks.push(item.of(body)),
            Body::Hours(body) => job.hours.push(item.of(body)),
            Body::Other => job.others.push(seq),
            // These act on other entries and are shown with them in the history.
            Body::Withheld(_) | Body::Struck(_) | Body::Gone => {}
        }
    }

    fn history(&self, threads: &[Thread]) -> Vec<Line> {
        let mut standings = vec![Standing::Stands; self.records.len()];
        for thread in threads {
            for &place in &thread.versions {
                standings[place] = self.standing(place, thread);
            }
        }
        self.records.iter().zip(standings).map(|(record, standing)| record.line(standing)).collect()
    }

    fn standing(&self, place: usize, thread: &Thread) -> Standing {
        let record = &self.records[place];
        match (&record.body, thread.standing) {
            (Body::Gone, _) | (_, None) => Standing::Withheld { by: record.withheld_by },
            (Body::Other, Some(standing)) if standing == place => Standing::Unread,
            (_, Some(standing)) if standing == place => Standing::Stands,
            (_, Some(standing)) => {
                let by = &self.records[standing];
                if let Body::Struck(_) = by.body {
                    return Standing::Struck { by: by.seq };
                }
                Standing::Corrected {
                    by: thread.corrected_by.get(&place).cloned().unwrap_or_else(|| vec![by.seq]),
                }
            }
        }
    }
}

/// All versions of one thing: an entry that corrects nothing, and every correction that leads back to it.
struct Thread {
    /// Places of the versions, the root first.
    versions: Vec<usize>,
    /// The last version whose content is there.
    standing: Option<usize>,
    /// For the place of each corrected version, the entries that name it.
    corrected_by: BTreeMap<usize, Vec<u64>>,
}

/// A thread whose standing version is known.
struct Thing<'a> {
    thread: &'a Thread,
    records: &'a [Record],
    standing: usize,
}

impl Thing<'_> {
    fn of<T: Clone>(&self, body: &T) -> Item<T> {
        let standing = &self.records[self.standing];
        let versions: Vec<u64> = self.thread.versions.iter().map(|&place| self.records[place].seq).collect();
        Item {
            root: versions.first().copied().unwrap_or(standing.seq),
            seq: standing.seq,
            at: standing.at.clone(),
            by: standing.by.clone(),
            body: body.clone(),
            contested: self.thread.corrected_by.values().any(|rivals| rivals.len() > 1),
            versions,
        }
    }
}

fn part_alone(item: Item<Part1>) -> Part {
    Part {
        item,
        as_found: Vec::new(),
        later: Vec::new(),
        readings: Vec::new(),
        sweeps: Vec::new(),
        photographs: Vec::new(),
        acts: Vec::new(),
        first_disturbed: None,
    }
}

/// What an entry is about.
#[derive(Clone, Copy)]
enum About {
    /// The whole piece.
    Whole,
    /// The part at this place in the job's list.
    Part(usize),
    /// A part id that no standing part has.
    Unknown,
}

/// Gives each part, and the whole, what names it.
fn bind(job: &mut Job) {
    unbind(job);
    let Job {
        parts, whole, observed, readings, sweeps, photographs, acts, made, testimonies, unbound, ..
    } = job;
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    for (place, part) in parts.iter().enumerate() {
        places.entry(part.item.body.part.clone()).or_insert(place);
    }
    let about = |part: Option<&String>| match part {
        None => About::Whole,
        Some(id) => places.get(id).map_or(About::Unknown, |&place| About::Part(place)),
    };
    for (place, act) in acts.iter().enumerate() {
        match about(act.body.part.as_ref()) {
            About::Whole => whole.acts.push(place),
            About::Part(part) => parts[part].acts.push(place),
            About::Unknown => unbound.push(act.seq),
        }
    }
    // Acts come before what was seen: they decide what was still as found.
    disturb(acts, whole, parts);
    for (place, seen) in observed.iter().enumerate() {
        let (as_found, later, disturbed) = match about(seen.body.part.as_ref()) {
            About::Whole => (&mut whole.as_found, &mut whole.later, whole.first_disturbed),
            About::Part(part) => {
                let part = &mut parts[part];
                (&mut part.as_found, &mut part.later, part.first_disturbed)
            }
            About::Unknown => {
                unbound.push(seen.seq);
                continue;
            }
        };
        let untouched = disturbed.is_none_or(|act| seen.root < act);
        if seen.body.as_found.unwrap_or(untouched) { as_found.push(place) } else { later.push(place) }
    }
    for (place, reading) in readings.iter().enumerate() {
        match about(Some(&reading.body.part)) {
            About::Part(part) => parts[part].readings.push(place),
            About::Whole | About::Unknown => unbound.push(reading.seq),
        }
    }
    for (place, sweep) in sweeps.iter().enumerate() {
        match about(Some(&sweep.body.part)) {
            About::Part(part) => parts[part].sweeps.push(place),
            About::Whole | About::Unknown => unbound.push(sweep.seq),
        }
    }
    for (place, photograph) in photographs.iter().enumerate() {
        match about(photograph.body.part.as_ref()) {
            About::Whole => whole.photographs.push(place),
            About::Part(part) => parts[part].photographs.push(place),
            About::Unknown => unbound.push(photograph.seq),
        }
    }
    let named = made.iter().map(|item| (item.seq, Some(&item.body.part)));
    let named = named.chain(testimonies.iter().map(|item| (item.seq, item.body.part.as_ref())));
    unbound.extend(named.filter(|(_, part)| matches!(about(*part), About::Unknown)).map(|(seq, _)| seq));
    unbound.sort_unstable();
}

fn unbind(job: &mut Job) {
    job.whole = Whole::default();
    job.unbound.clear();
    for Part { item: _, as_found, later, readings, sweeps, photographs, acts, first_disturbed } in
        &mut job.parts
    {
        for list in [as_found, later, readings, sweeps, photographs, acts] {
            list.clear();
        }
        *first_disturbed = None;
    }
}

/// Says of the whole and of each part which act first ended its state as found.
fn disturb(acts: &[Item<Act1>], whole: &mut Whole, parts: &mut [Part]) {
    // An act has the place of its root: a correction of its words does not move it.
    let first = |places: &[usize]| {
        places.iter().map(|&place| &acts[place]).find(|act| act.body.disturbs).map(|act| act.root)
    };
    whole.first_disturbed = first(&whole.acts);
    for part in parts {
        part.first_disturbed = first(&part.acts).into_iter().chain(whole.first_disturbed).min();
    }
}

fn empty_job(head: Head) -> Job {
    Job {
        chain: head.chain.clone(),
        head,
        opened: None,
        piece: None,
        parts: Vec::new(),
        whole: Whole::default(),
        observed: Vec::new(),
        readings: Vec::new(),
        sweeps: Vec::new(),
        photographs: Vec::new(),
        marks: Vec::new(),
        traces: Vec::new(),
        probings: Vec::new(),
        acts: Vec::new(),
        made: Vec::new(),
        testimonies: Vec::new(),
        terms: Vec::new(),
        tasks: Vec::new(),
        hours: Vec::new(),
        wishes: Vec::new(),
        notes: Vec::new(),
        money: Vec::new(),
        decided: Vec::new(),
        told: Vec::new(),
        workshop: None,
        persons: Vec::new(),
        meters: Vec::new(),
        jobs: Vec::new(),
        keys: Vec::new(),
        seals: Vec::new(),
        assumptions: Vec::new(),
        history: Vec::new(),
        others: Vec::new(),
        unbound: Vec::new(),
        findings: Vec::new(),
        kept: Kept::default(),
    }
}
