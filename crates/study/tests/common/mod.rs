//! A job as it grows at a bench, for tests: lines are heard and kept the way a person keeps them.

use asfound_study::Job;
use asfound_study::entry_line::{Heard, NotHeard, hear};
use asfound_study::record::{Body, Cite, Draft, Entry, Head, Job1, Meter1, Struck1, fold};

/// A chain that is written to. Salts and times are fixed, so that every byte is.
pub(crate) struct Ledger {
    head: Head,
    entries: Vec<Entry>,
    /// The chain, folded.
    pub(crate) job: Job,
    /// Meters that the workshop knows.
    pub(crate) meters: Vec<Meter1>,
}

#[allow(dead_code, reason = "each test program uses what it needs")]
impl Ledger {
    /// A chain with no entry.
    pub(crate) fn empty(chain: &str) -> Ledger {
        Ledger { head: Head::empty(chain), entries: Vec::new(), job: Job::default(), meters: Vec::new() }
    }

    /// A job that was opened.
    pub(crate) fn opened() -> Ledger {
        let mut ledger = Ledger::empty("j-1");
        let title = "Short-scale bass, two coils, no sound".to_owned();
        ledger.keep(&Body::Job(Job1 { number: "26-014".to_owned(), title, continues: None }));
        ledger
    }

    /// A job with these lines said to it.
    pub(crate) fn with(lines: &str) -> Ledger {
        let mut ledger = Ledger::opened();
        ledger.say_all(lines);
        ledger
    }

    /// The same job in a workshop with these meters.
    pub(crate) fn with_meters(self, meters: Vec<Meter1>) -> Ledger {
        Ledger { meters, ..self }
    }

    /// Hears a line and keeps nothing.
    pub(crate) fn hear(&self, line: &str) -> Result<Heard, NotHeard> {
        hear(line, &self.job, &self.meters)
    }

    /// Hears a line and keeps what it says.
    pub(crate) fn say(&mut self, line: &str) -> Cite {
        let heard = self.hear(line).unwrap_or_else(|error| panic!("{line}: {error:?}"));
        self.keep(&heard.body)
    }

    /// Says every line that is not blank or a comment.
    pub(crate) fn say_all(&mut self, lines: &str) {
        for line in lines.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
            self.say(line);
        }
    }

    /// Keeps a body.
    pub(crate) fn keep(&mut self, body: &Body) -> Cite {
        self.write(body, None)
    }

    /// Keeps a body as the correction of an entry.
    pub(crate) fn correct(&mut self, cite: &Cite, body: &Body) -> Cite {
        self.write(body, Some(cite.clone()))
    }

    /// Strikes an entry out.
    pub(crate) fn strike(&mut self, cite: &Cite) -> Cite {
        self.write(&Body::Struck(Struck1 { why: "said of the wrong part".to_owned() }), Some(cite.clone()))
    }

    /// Keeps an entry of a kind that no release knows.
    pub(crate) fn keep_unknown(&mut self, kind: &str) -> Cite {
        let body = Body::Note(asfound_study::record::Note1 { words: "from later".to_owned() });
        let draft = Draft { kind: kind.to_owned(), ..self.draft(&body, None) };
        self.append(draft)
    }

    fn write(&mut self, body: &Body, corrects: Option<Cite>) -> Cite {
        let draft = self.draft(body, corrects);
        self.append(draft)
    }

    fn draft(&self, body: &Body, corrects: Option<Cite>) -> Draft {
        let (hour, minute) = (9 + self.head.next / 60, self.head.next % 60);
        Draft {
            at: format!("2026-11-03T{hour:02}:{minute:02}:00+00:00"),
            by: "p-1".to_owned(),
            kind: body.kind().expect("a body that can be written").to_owned(),
            corrects,
            body: body.value().expect("a body that can be written"),
        }
    }

    fn append(&mut self, draft: Draft) -> Cite {
        let entry = Entry::make(draft, &self.head, [7; 32]).expect("a sound draft");
        self.head = entry.after();
        let cite = entry.cite();
        self.job.take(&entry);
        self.entries.push(entry);
        assert_eq!(self.job.history.len(), self.entries.len());
        cite
    }

    /// The same job, folded anew from its entries.
    pub(crate) fn folded(&self) -> Job {
        fold(&self.entries)
    }
}

/// The workshop's own chain, with one meter of a known accuracy and one without.
#[allow(dead_code, reason = "each test program uses what it needs")]
pub(crate) fn workshop() -> Ledger {
    let mut ledger = Ledger::empty("w-1");
    let meter = |meter: &str, accuracy: Option<&str>| Meter1 {
        meter: meter.to_owned(),
        words: "hand-held multimeter".to_owned(),
        accuracy: accuracy.map(str::to_owned),
    };
    for meter in [meter("M1", Some("0.9 % + 2")), meter("M2", None)] {
        ledger.keep(&Body::Meter(meter.clone()));
        ledger.meters.push(meter);
    }
    ledger
}
