//! Files that are made and never written over.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::Path;

use crate::failure::Failure;

/// Writes a new file. One that is there already is left as it is.
pub(crate) fn write(out: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut file = match OpenOptions::new().write(true).create_new(true).open(out) {
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            return Err(Failure::NotTaken(format!(
                "{} is there already, and nothing is written over it. Name another file.",
                out.display()
            )));
        }
        opened => opened.map_err(|error| Failure::file("Writing", out, error))?,
    };
    file.write_all(bytes).map_err(|error| Failure::file("Writing", out, error))
}
