//! A job with every kind of entry a job can have, and all that can befall one. Maker, owner and places are invented.

use asfound_study::record::{
    Act1, Amount1, Body, Cited, Decided1, Observed1, Person1, Photograph1, Piece1, Quantity1, Reading1, Told1,
};

use crate::bench::{Ledger, workshop};

/// What was said at the bench before the circuit was traced.
const LINES: &str = "
piece: dust of decades on everything, none of it wiped
part neck coil, coil, neck
part bridge coil, coil, bridge
part volume pot, pot, control plate
part choke, choke, cavity floor
part tone capacitor, capacitor, tone pot
part control plate, plate, body front
part plate screws, screw, control plate, 6
choke: two leads; the cloth on end b ends in a green stub, cut clean and bright
bridge coil: outer lead spliced under the tape with a short piece of thinner wire
neck coil 6k87 8C at the joints M1
bridge coil 4.67k
volume pot 512k 8C M2
choke over 20k
";

/// What was said after it.
const MORE: &str = "
tone capacitor: printed value only; left in place
note The owner remembers her uncle changing a control himself.
money deposit 150.00 GBP
did plate screws: six screws out, two of them longer
plate screws: slots burred, bright metal in them
parked control plate: warmed between boards for an hour; no change in the bow; try a longer press without heat
";

/// The workshop's chain: its meters and the owner.
pub(crate) fn owners() -> Ledger {
    let mut ledger = workshop();
    let person = |person: &str, name: &str| Person1 {
        person: person.to_owned(),
        name: name.to_owned(),
        role: "owner".to_owned(),
    };
    ledger.keep(&Body::Person(person("p-2", "Idony Varsgrave")));
    ledger
}

/// The job.
pub(crate) fn rich(trace: &str) -> Ledger {
    let mut job = Ledger::opened();
    job.meters = owners().meters;
    job.keep(&Body::Piece(Piece1 {
        piece: "piece-7".to_owned(),
        family: "bass".to_owned(),
        words: "Solid-body short-scale bass, two single coils, bolt-on neck".to_owned(),
        maker: Some("Quillmere, by the owner's memory".to_owned()),
        serial: None,
        origin: Some("It lay above the stage of a dance hall.".to_owned()),
        owner: Some("p-2".to_owned()),
    }));
    job.keep(&picture("01-front.jpg", None, "the whole bass from the front", Some(1600)));
    job.say_all(LINES);
    job.keep(&picture("04-green-stub.jpg", Some("P4"), "the green stub at the choke", Some(1600)));
    job.keep(&picture("06-bridge.raw", Some("P2"), "", None));
    job.say_all(trace);
    job.say_all(MORE);
    let slip = job.say("neck coil 5.84 ohms");
    job.keep(&Body::Act(Act1 {
        part: None,
        words: "wiped down with a dry cloth".to_owned(),
        disturbs: true,
        parked: None,
        happened: None,
    }));
    let wrong = job.say("bridge coil: magnets glued");
    job.strike(&wrong);
    let corrected = job.hear("neck coil 6k31 21C M1").expect("a reading").body;
    job.correct(&slip, &corrected);
    job.keep(&Body::Decided(Decided1 {
        step: "measure-P5".to_owned(),
        words: "Put the meter to the tone capacitor.".to_owned(),
        decision: "taken".to_owned(),
    }));
    job.keep(&Body::Told(Told1 {
        paper: "ab".repeat(32),
        title: "Condition as received".to_owned(),
        version: "0.1.0".to_owned(),
        head: Cited { chain: "j-1".to_owned(), seq: 12, hash: asfound_study::record::Hash::of(b"head") },
        statements: vec!["The neck coil sounds alone on rotary 1.".to_owned()],
        assumptions: Vec::new(),
    }));
    job.keep_unknown("resin/1");
    job.keep(&Body::Observed(Observed1 {
        part: Some("P99".to_owned()),
        words: "of a part that is not on record".to_owned(),
        as_found: None,
        happened: None,
    }));
    job.keep(&Body::Reading(Reading1 {
        part: "P98".to_owned(),
        place: "neck".to_owned(),
        quantity: "resistance".to_owned(),
        shown: Quantity1 {
            text: "7k".to_owned(),
            amount: Amount1::Exactly { decimal: "7".to_owned() },
            unit: "kOhm".to_owned(),
        },
        meter: None,
        range: None,
        temperature: None,
        method: None,
        happened: None,
    }));
    job
}

fn picture(name: &str, part: Option<&str>, caption: &str, width: Option<u32>) -> Body {
    Body::Photograph(Photograph1 {
        original: "cd".repeat(32),
        bytes: 1000,
        name: name.to_owned(),
        media: "image/jpeg".to_owned(),
        shareable: None,
        width,
        height: width,
        taken: None,
        part: part.map(str::to_owned),
        caption: caption.to_owned(),
    })
}
