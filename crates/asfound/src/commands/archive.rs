//! `take-in` and `copy`: the archive exchanged, and kept in a second place.

use std::path::Path;

use asfound_acts::Workshop;

use crate::failure::Failure;
use crate::print;

pub(crate) fn take_in(folder: &Path, file: &Path) -> Result<(), Failure> {
    let bytes = std::fs::read(file).map_err(|error| Failure::file("Reading", file, error))?;
    let text = String::from_utf8(bytes).map_err(|_| {
        Failure::NotTaken(format!("{} is not text, so it holds no lines of a workshop.", file.display()))
    })?;
    let workshop = Workshop::open(folder)?;
    let taken = workshop.take_in(&text)?;
    let mut told = String::new();
    for chain in &taken {
        let how = match (chain.variant, chain.added) {
            (0, 0) => "was here already; nothing was added".to_owned(),
            (0, added) => format!("{added} entries were added"),
            (variant, _) => format!(
                "differs from the copy that is here, and is kept beside it as copy {variant}: look at both"
            ),
        };
        told.push_str(&format!("Chain {}: {how}. It is only read here.\n", &chain.chain));
    }
    print::out(&told)
}

pub(crate) fn copy(folder: &Path, target: &Path) -> Result<(), Failure> {
    let workshop = Workshop::open_to_read(folder)?;
    workshop.copy_to(target)?;
    print::out(&format!(
        "The workshop is copied into {}. Verify the copy: asfound verify --in {}\n",
        target.display(),
        target.display()
    ))
}
