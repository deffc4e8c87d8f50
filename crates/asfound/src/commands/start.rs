//! `start`: a workshop in an empty folder.

use std::path::Path;

use asfound_acts::Workshop;

use crate::failure::Failure;
use crate::print;

pub(crate) fn run(folder: &Path, name: &str) -> Result<(), Failure> {
    let workshop = Workshop::start(folder, name)?;
    print::out(&format!(
        "The workshop “{}” is in {}. Open a job: asfound open \"Short-scale bass, two coils\" --in {}\n",
        workshop.name(),
        folder.display(),
        folder.display()
    ))
}
