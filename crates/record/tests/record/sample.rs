//! A workshop's chain and a job's chain with every released kind, and everything that can befall an entry.
//! Names are invented. Salts are fixed here so that every byte is: in use they are random.

use asfound_record::*;
use serde_json::{Value, json};

/// The frozen file. It is never made anew: a release that cannot read it byte for byte has broken the record.
pub(crate) const FROZEN: &str = include_str!("../fixtures/sample.jsonl");

/// The kinds that came later, frozen in a file of their own in the same way.
pub(crate) const FROZEN_SWEEPS: &str = include_str!("../fixtures/sweeps.jsonl");

/// The kinds that came with the drawn circuit, frozen in the same way.
pub(crate) const FROZEN_CIRCUIT: &str = include_str!("../fixtures/circuit.jsonl");

/// The kinds that came with dates and originality, frozen in the same way.
pub(crate) const FROZEN_DATES: &str = include_str!("../fixtures/dates.jsonl");

/// The kinds that came with the plan of the work, frozen in the same way.
pub(crate) const FROZEN_PLAN: &str = include_str!("../fixtures/plan.jsonl");

/// Every line of every frozen file.
pub(crate) fn every_line() -> impl Iterator<Item = &'static str> {
    [FROZEN, FROZEN_SWEEPS, FROZEN_CIRCUIT, FROZEN_DATES, FROZEN_PLAN].into_iter().flat_map(str::lines)
}

pub(crate) const JOB: &str = "j-5c0e71";
pub(crate) const WORKSHOP: &str = "w-19ab40";

/// Writes one chain.
pub(crate) struct Writer {
    head: Head,
    pub(crate) entries: Vec<Entry>,
}

impl Writer {
    pub(crate) fn new(chain: &str) -> Writer {
        Writer { head: Head::empty(chain), entries: Vec::new() }
    }

    /// Writes any draft, with a salt that follows from its place.
    pub(crate) fn draft(&mut self, draft: Draft) -> Cite {
        let salt = Hash::of(format!("salt {} {}", self.head.chain, self.head.next).as_bytes());
        let entry = Entry::make(draft, &self.head, salt.0).unwrap();
        self.head = entry.after();
        let cite = entry.cite();
        self.entries.push(entry);
        cite
    }

    fn write(&mut self, at: &str, corrects: Option<&Cite>, kind: &str, body: Value) -> Cite {
        let at = format!("2026-11-{at}+00:00");
        self.draft(Draft {
            at,
            by: "p-1".to_owned(),
            kind: kind.to_owned(),
            corrects: corrects.cloned(),
            body,
        })
    }

    pub(crate) fn keep(&mut self, at: &str, body: &Body) -> Cite {
        self.write(at, None, body.kind().unwrap(), body.value().unwrap())
    }

    pub(crate) fn correct(&mut self, at: &str, cite: &Cite, body: &Body) -> Cite {
        self.write(at, Some(cite), body.kind().unwrap(), body.value().unwrap())
    }

    /// Takes an entry's content out, as the duty to withhold does.
    pub(crate) fn withhold(&mut self, at: &str, cite: &Cite, ground: &str) -> Cite {
        let place = cite.seq as usize;
        self.entries[place] = self.entries[place].without_content();
        let (who, ground) = ("p-2".to_owned(), ground.to_owned());
        self.keep(at, &Body::Withheld(Withheld1 { of: cite.clone(), who, ground }))
    }
}

/// The file that the two chains make: the workshop's first.
pub(crate) fn file() -> String {
    workshop().iter().chain(&job()).map(|entry| entry.line() + "\n").collect()
}

pub(crate) fn frozen_chain(chain: &str) -> Vec<Entry> {
    let entries = FROZEN.lines().map(|line| Entry::from_line(line).unwrap());
    entries.filter(|entry| entry.envelope().chain == chain).collect()
}

fn text(text: &str) -> String {
    text.to_owned()
}

pub(crate) fn part(id: &str, name: &str, sort: &str, place: &str) -> Body {
    Body::Part(Part1 {
        part: text(id),
        name: text(name),
        sort: text(sort),
        place: text(place),
        count: 1,
        traced_as: None,
    })
}

pub(crate) fn seen(part: Option<&str>, words: &str, as_found: Option<bool>) -> Body {
    Body::Observed(Observed1 { part: part.map(text), words: text(words), as_found, happened: None })
}

pub(crate) fn act(part: Option<&str>, words: &str, disturbs: bool) -> Body {
    Body::Act(Act1 { part: part.map(text), words: text(words), disturbs, parked: None, happened: None })
}

pub(crate) fn note(words: &str) -> Body {
    Body::Note(Note1 { words: text(words) })
}

pub(crate) fn opening(title: &str) -> Body {
    Body::Job(Job1 { number: text("26-014"), title: text(title), continues: None })
}

pub(crate) fn piece(words: &str) -> Body {
    let (piece, family, words) = (text("piece-7"), text("bass"), text(words));
    Body::Piece(Piece1 { piece, family, words, maker: None, serial: None, origin: None, owner: None })
}

fn amount(typed: &str, amount: Amount1, unit: &str) -> Quantity1 {
    Quantity1 { text: text(typed), amount, unit: text(unit) }
}

pub(crate) fn resistance(part: &str, typed: &str, decimal: &str) -> Body {
    reading(part, amount(typed, Amount1::Exactly { decimal: text(decimal) }, "kOhm"))
}

fn reading(part: &str, shown: Quantity1) -> Body {
    Body::Reading(Reading1 {
        part: text(part),
        place: text("neck"),
        quantity: text("resistance"),
        shown,
        meter: Some(text("M1")),
        range: Some(text("20k")),
        temperature: Some(amount("21C", Amount1::Exactly { decimal: text("21") }, "Cel")),
        method: Some(text("at the joints")),
        happened: None,
    })
}

/// A measurement that came as files.
pub(crate) fn sweep(part: &str, how: &str, roles: &[&str], resistors: &[(&str, &str)]) -> Body {
    let (ending, media) = if resistors.is_empty() { ("csv", "text/csv") } else { ("wav", "audio/wav") };
    let file = |role: &&str| SweepFile1 {
        original: Hash::of(role.as_bytes()).to_string(),
        bytes: role.len() as u64,
        name: format!("{}.{ending}", role.replace(' ', "-")),
        media: text(media),
        role: text(role),
    };
    let exactly =
        |(typed, decimal): &(&str, &str)| amount(typed, Amount1::Exactly { decimal: text(decimal) }, "kOhm");
    Body::Sweep(Sweep1 {
        part: text(part),
        place: text("neck"),
        how: text(how),
        files: roles.iter().map(file).collect(),
        resistors: resistors.iter().map(exactly).collect(),
        meter: None,
        temperature: Some(amount("21C", Amount1::Exactly { decimal: text("21") }, "Cel")),
        method: Some(text("out of circuit")),
        happened: None,
    })
}

/// The workshop's own value of a name.
pub(crate) fn assumption(name: &str, value: &str, source: &str) -> Body {
    Body::Assumption(Assumption1 { name: text(name), value: text(value), source: text(source) })
}

/// The file that the later kinds make: a workshop's chain first, then a job's.
pub(crate) fn sweeps_file() -> String {
    let mut workshop = Writer::new("w-19ab40");
    workshop.keep("04T08:00:00", &Body::Workshop(Workshop1 { name: text("The Bench at Quillow Rise") }));
    let first = assumption("winding fill", "0.62", "fourteen coils cut open here");
    let first = workshop.keep("04T08:10:00", &first);
    workshop.correct(
        "04T08:20:00",
        &first,
        &assumption("winding fill", "0.64", "twenty coils cut open here"),
    );
    let mut job = Writer::new("j-77aa10");
    let number = text("26-015");
    job.keep("04T09:00:00", &Body::Job(Job1 { number, title: text("Dull neck coil"), continues: None }));
    job.keep("04T09:01:00", &part("P1", "neck coil", "coil", "neck"));
    job.keep("04T09:10:00", &sweep("P1", "impedance sweep", &["sweep"], &[]));
    let roles = ["recording with resistor A", "recording with resistor B"];
    let test =
        job.keep("04T09:20:00", &sweep("P1", "resistor test", &roles, &[("10k", "10"), ("100k", "100")]));
    job.correct(
        "04T09:25:00",
        &test,
        &sweep("P1", "resistor test", &roles, &[("9k96", "9.96"), ("100k", "100")]),
    );
    let asked = job.keep("04T09:30:00", &sweep("P1", "impedance sweep", &["sweep of another coil"], &[]));
    job.withhold("04T09:31:00", &asked, "the coil is another owner's");
    workshop.entries.iter().chain(&job.entries).map(|entry| entry.line() + "\n").collect()
}

/// Ohms between two lugs.
pub(crate) fn probing(from: &str, to: &str, shown: &str, decimal: &str) -> Body {
    let amount = Amount1::Exactly { decimal: text(decimal) };
    Body::Probing(Probing1 {
        from: text(from),
        to: text(to),
        stood: Some(text("lever 2, volume full")),
        quantity: text("resistance"),
        shown: Quantity1 { text: text(shown), amount, unit: text("Ohm") },
        meter: Some(text("M1")),
        range: None,
        temperature: None,
        method: None,
        happened: None,
    })
}

/// The file that the kinds of the drawn circuit make.
pub(crate) fn circuit_file() -> String {
    let mut job = Writer::new("j-c1c017");
    let number = text("26-016");
    job.keep("05T09:00:00", &Body::Job(Job1 { number, title: text("Rewired cavity"), continues: None }));
    let first = job.keep("05T09:10:00", &probing("neck.hot", "lever.a1", "0.4", "0.4"));
    job.correct("05T09:11:00", &first, &probing("neck.hot", "lever.a2", "0.4", "0.4"));
    let mark = |x| {
        let photograph = Hash::of(b"the picture").to_string();
        Body::Mark(Mark1 { photograph, of: text("lever.a2"), x, y: 2718, seen_from: Some(text("back")) })
    };
    job.keep("05T09:20:00", &mark(4100));
    job.keep("05T09:21:00", &mark(4150));
    job.keep("05T09:30:00", &Body::Wish(Wish1 { words: text("bridge and middle in series") }));
    job.entries.iter().map(|entry| entry.line() + "\n").collect()
}

/// The file that the kinds of dates and originality make.
pub(crate) fn dates_file() -> String {
    let mut job = Writer::new("j-da7e50");
    let number = text("26-017");
    job.keep(
        "06T09:00:00",
        &Body::Job(Job1 { number, title: text("Said to be all original"), continues: None }),
    );
    job.keep("06T09:01:00", &part("P1", "guard", "guard", "body front"));
    let testimony = |manner, source, dated: Option<&str>, words, part: Option<&str>| {
        let (manner, source, words) = (text(manner), text(source), text(words));
        let (dated, part) = (dated.map(text), part.map(text));
        Body::Testimony(Testimony1 { manner, source, dated, words, part })
    };
    let claim = job.keep("06T09:10:00", &testimony("claim", "seller", None, "all original, 1962", None));
    job.correct("06T09:11:00", &claim, &testimony("claim", "seller", None, "all original, 1963", None));
    job.keep("06T09:12:00", &testimony("document", "receipt", Some("12 May 1964"), "one bass, used", None));
    job.keep("06T09:13:00", &testimony("claim", "owner", None, "cracked when she got it", Some("P1")));
    let (words, mark) =
        (text("cut from acrylic sheet, edges rubbed"), Some(text("scribed under the edge: 26-017")));
    job.keep("06T09:20:00", &Body::Made(Made1 { part: text("P1"), words, aged: true, mark, happened: None }));
    job.entries.iter().map(|entry| entry.line() + "\n").collect()
}

/// The file that the kinds of the plan make.
pub(crate) fn plan_file() -> String {
    let mut job = Writer::new("j-91a4e0");
    let number = text("26-018");
    job.keep(
        "07T09:00:00",
        &Body::Job(Job1 { number, title: text("Refret and a lot to bid on"), continues: None }),
    );
    let terms = |of, words| Body::Terms(Terms1 { of: text(of), words: text(words) });
    let task = |task, words| Body::Task(Task1 { task: text(task), words: text(words) });
    let lot = job.keep("07T09:10:00", &terms("lot", "premium 52 %, tax 20 % on the premium"));
    job.correct("07T09:11:00", &lot, &terms("lot", "premium 25 %, tax 20 % on the premium"));
    job.keep("07T09:12:00", &terms("agreed", "restore, up to 1800 GBP, by telephone"));
    job.keep("07T09:20:00", &task("clean board", "restore"));
    job.keep("07T09:21:00", &task("refret", "6 to 12 hours, after clean board, restore"));
    job.keep("07T09:22:00", &task("refret", "6 to 14 hours, after clean board, restore"));
    let hours = |task, minutes, done, words| {
        Body::Hours(Hours1 { task: text(task), minutes, done, words: text(words), happened: None })
    };
    job.keep("07T17:00:00", &hours("clean board", 80, true, "two swabs"));
    let (words, happened) = (text(""), Some(text("the day before")));
    job.keep(
        "08T09:00:00",
        &Body::Hours(Hours1 { task: text("refret"), minutes: 45, done: false, words, happened }),
    );
    job.entries.iter().map(|entry| entry.line() + "\n").collect()
}

fn photograph(part: &str) -> Body {
    Body::Photograph(Photograph1 {
        original: Hash::of(b"the picture").to_string(),
        bytes: 11,
        name: text("IMG 0042.jpg"),
        media: text("image/jpeg"),
        shareable: Some(Hash::of(b"the picture without its place").to_string()),
        width: Some(4032),
        height: Some(3024),
        taken: Some(text("2026:11:02 10:04:31")),
        part: Some(text(part)),
        caption: text("the lugs before anything was touched"),
    })
}

/// The job's chain up to the paper that is sealed.
fn job_until_paper() -> Writer {
    let mut chain = Writer::new(JOB);
    chain.keep("02T09:00:00", &opening("Hums, and the neck coil is weak"));
    chain.keep(
        "02T09:05:00",
        &Body::Piece(Piece1 {
            piece: text("piece-7"),
            family: text("guitar"),
            words: text("solid body, two single coils, bolt-on neck"),
            maker: None,
            serial: Some(text("L?4471")),
            origin: Some(text("from an attic, in its case, strings on")),
            owner: Some(text("p-2")),
        }),
    );
    chain.keep("02T09:20:00", &part("P1", "neck coil", "coil", "neck"));
    chain.keep("02T09:21:00", &part("P2", "volume pot", "pot", "control cavity"));
    chain.keep("02T09:30:00", &seen(Some("P1"), "Black wax over the outer turns – “untouched”.", None));
    let shown = chain.keep("02T09:40:00", &resistance("P1", "6k13", "6.13"));
    chain.keep("02T09:41:00", &reading("P2", amount("OL", Amount1::OverRange, "kOhm")));
    chain.keep("02T10:04:31", &photograph("P2"));
    let lines = text("coil neck 6k31\npot volume 250k\njoin neck.hot volume.3 metered 0.4\n");
    chain.keep("02T10:20:00", &Body::Trace(Trace1 { grammar: 1, text: lines }));
    chain.keep("02T10:30:00", &act(Some("P2"), "Unsoldered both lugs.", true));
    chain.keep("02T10:40:00", &seen(Some("P2"), "The case is bright where the lug sat.", None));
    chain.keep("02T10:41:00", &seen(Some("P2"), "Old solder lies under the new.", Some(true)));
    // Two people at the bench read the meter's last figures differently; both name the first reading.
    chain.correct("02T11:00:00", &shown, &resistance("P1", "6k31", "6.31"));
    chain.correct("02T11:02:00", &shown, &resistance("P1", "6.32k", "6.32"));
    let price = Money1 { words: text("paid at the door"), minor: 145_000, currency: text("GBP") };
    let price = chain.keep("02T11:10:00", &Body::Money(price));
    chain.withhold("02T11:12:00", &price, "the owner asked that the price be taken out");
    let sentence = note("The owner's brother phoned.");
    let sentence = chain.keep("02T11:20:00", &sentence);
    chain.correct(
        "02T11:21:00",
        &sentence,
        &Body::Struck(Struck1 { why: text("written into the wrong job") }),
    );
    let estimate = Money1 { words: text("estimate"), minor: 18_000, currency: text("GBP") };
    chain.keep("02T11:30:00", &Body::Money(estimate));
    chain
}

fn sealed_paper() -> Hash {
    Hash::of(b"the paper")
}

/// The job's chain.
pub(crate) fn job() -> Vec<Entry> {
    let mut chain = job_until_paper();
    let head = chain.head.cite().unwrap();
    chain.keep(
        "03T09:00:00",
        &Body::Told(Told1 {
            paper: sealed_paper().to_string(),
            title: text("First findings"),
            version: text("0.1.0"),
            head,
            statements: vec![text("The neck coil reads 6.32 kΩ at 21 °C.")],
            assumptions: vec![text("copper wire")],
        }),
    );
    let decided =
        Decided1 { step: text("coil.inductance"), words: text("Measure it."), decision: text("later") };
    // The clock of the second device is an hour slow.
    chain.keep("03T08:05:00", &Body::Decided(decided));
    let parked =
        Some(Parked1 { stopped: text("the screw head turns out"), next: text("warm the plate first") });
    chain.keep(
        "03T09:10:00",
        &Body::Act(Act1 {
            part: Some(text("P1")),
            words: text("Tried to lift the coil's plate."),
            disturbs: false,
            parked,
            happened: Some(text("the evening before")),
        }),
    );
    // A part that nobody entered yet, a kind and a field that this release does not know.
    chain.keep("03T09:20:00", &resistance("P9", "over 20k?", "20"));
    chain.write("03T09:30:00", None, "odour/1", json!({ "part": "P1", "like": "camphor", "strength": 3 }));
    chain.write(
        "03T09:31:00",
        None,
        "note/1",
        json!({ "words": "Case smells, too.", "mood": { "calm": true } }),
    );
    chain.keep("03T09:40:00", &seen(None, "Fine checking all over, along the grain.", None));
    chain.entries
}

pub(crate) fn first_key() -> SigningKey {
    SigningKey::from_secret(Hash::of(b"first key").0)
}

pub(crate) fn second_key() -> SigningKey {
    SigningKey::from_secret(Hash::of(b"second key").0)
}

/// The workshop's chain.
pub(crate) fn workshop() -> Vec<Entry> {
    let mut chain = Writer::new(WORKSHOP);
    chain.keep("01T08:00:00", &Body::Workshop(Workshop1 { name: text("The Bench at Quillow Rise") }));
    let key = succession(None, &first_key(), "first start");
    chain.keep("01T08:00:01", &Body::Key(key));
    for (person, name, role) in
        [("p-1", "Wenna Tallowfield", "restorer"), ("p-2", "Ambrose Quellworthy", "owner")]
    {
        let person = Person1 { person: text(person), name: text(name), role: text(role) };
        chain.keep("01T08:10:00", &Body::Person(person));
    }
    let words = text("hand-held meter, 20 000 counts");
    let meter = Meter1 { meter: text("M1"), words, accuracy: Some(text("0.9 % + 2")) };
    chain.keep("01T08:20:00", &Body::Meter(meter));
    chain.keep("02T08:59:00", &Body::JobKnown(JobKnown1 { chain: text(JOB), number: text("26-014") }));
    let key = succession(Some(&first_key()), &second_key(), "a new machine");
    chain.keep("03T07:00:00", &Body::Key(key));
    let photographs = Manifest {
        photographs: vec![Printed { original: Hash::of(b"the picture"), rendition: Hash::of(b"as printed") }],
    };
    let head = job_until_paper().head.cite().unwrap();
    let statement = Statement { paper: sealed_paper(), head, photographs: photographs.hash() };
    chain.keep("03T09:01:00", &Body::Seal(seal(&statement, &second_key())));
    chain.entries
}
