//! `explain`: what a traced circuit does.

use std::io::Read;
use std::path::Path;

use asfound_study::wiring::{WiringTold, of_text};
use asfound_words::wiring::explained_sheet;

use crate::failure::Failure;
use crate::print::Depth;
use crate::{json, print};

/// The largest trace that is read: a hundred times the fullest cavity.
const MOST_BYTES: u64 = 16 * 1024 * 1024;

pub(crate) fn run(path: &Path, for_machine: bool) -> Result<(), Failure> {
    let text = read(path)?;
    match of_text(&text) {
        WiringTold::Explained(explained) => {
            let sheet = explained_sheet(&explained);
            print::out(&if for_machine {
                json::text(&json::sheet(&sheet))
            } else {
                print::sheet(&sheet, Depth::Tables)
            })
        }
        WiringTold::NotYet(faults) => {
            Err(Failure::NotTaken(format!("{} cannot be read as a trace.\n{faults}", path.display())))
        }
        WiringTold::NoAnswer(error) => Err(Failure::NotTaken(format!(
            "{} fits together and still has no answer: {error}.",
            path.display()
        ))),
        WiringTold::NothingTraced => Err(Failure::NotTaken(format!(
            "{} holds no trace. Begin with a part, such as `coil neck 7k2`, and see docs/trace.md.",
            path.display()
        ))),
    }
}

pub(crate) fn read(path: &Path) -> Result<String, Failure> {
    let fail = |error| Failure::file("Reading", path, error);
    let mut bytes = Vec::new();
    if path == Path::new("-") {
        std::io::stdin().take(MOST_BYTES).read_to_end(&mut bytes).map_err(fail)?;
    } else {
        std::fs::File::open(path).map_err(fail)?.take(MOST_BYTES).read_to_end(&mut bytes).map_err(fail)?;
    }
    String::from_utf8(bytes).map_err(|error| {
        let line = error.as_bytes()[..error.utf8_error().valid_up_to()].iter().filter(|byte| **byte == b'\n').count() + 1;
        Failure::NotTaken(format!(
            "{} is not a text: line {line} holds bytes that are no UTF-8. A trace is plain text, one line a part, one line a join.",
            path.display()
        ))
    })
}
