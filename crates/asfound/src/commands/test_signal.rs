//! `test-signal`: what to play through the resistor, as a sound file.

use std::path::Path;

use asfound_study::sweep_files::test_signal;

use crate::failure::Failure;
use crate::{new_file, print};

/// Writes the signal. A file that is there already is never written over.
pub(crate) fn run(out: &Path) -> Result<(), Failure> {
    new_file::write(out, &test_signal())?;
    print::out(&format!(
        "The test signal is in {}\n\
         Caution: line level only. The coil is out of its circuit, and nothing is joined to an amplifier.\n\
         Play it through a known resistor into the coil, and record both ends of the resistor: its driven end in the\n\
         first channel, the coil’s end in the second. Once more with the other resistor. Then keep both recordings:\n\
         asfound sweep JOB PART FIRST.wav SECOND.wav --resistors 10k 100k\n",
        out.display()
    ))
}
