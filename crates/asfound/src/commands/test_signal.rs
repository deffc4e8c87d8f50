//! `test-signal`: what to play through the resistor, as a sound file.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::Path;

use asfound_study::sweep_files::test_signal;

use crate::failure::Failure;
use crate::print;

/// Writes the signal. A file that is there already is never written over.
pub(crate) fn run(out: &Path) -> Result<(), Failure> {
    let mut file = match OpenOptions::new().write(true).create_new(true).open(out) {
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            return Err(Failure::NotTaken(format!(
                "{} is there already, and nothing is written over it. Name another file.",
                out.display()
            )));
        }
        opened => opened.map_err(|error| Failure::file("Writing", out, error))?,
    };
    file.write_all(&test_signal()).map_err(|error| Failure::file("Writing", out, error))?;
    print::out(&format!(
        "The test signal is in {}\n\
         Caution: line level only. The coil is out of its circuit, and nothing is joined to an amplifier.\n\
         Play it through a known resistor into the coil, and record both ends of the resistor: its driven end in the\n\
         first channel, the coil’s end in the second. Once more with the other resistor. Then keep both recordings:\n\
         asfound sweep JOB PART FIRST.wav SECOND.wav --resistors 10k 100k\n",
        out.display()
    ))
}
