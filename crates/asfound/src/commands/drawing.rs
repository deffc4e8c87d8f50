//! `drawing`: a traced circuit drawn, as a picture that any program shows.

use std::path::Path;

use asfound_study::{Size, Style};
use asfound_words::wiring::{View, drawing_of};

use crate::commands::explain::read;
use crate::failure::Failure;
use crate::{new_file, print};

/// Writes the drawing as SVG.
pub(crate) fn run(trace: &Path, out: &Path, view: View) -> Result<(), Failure> {
    let figure = drawing_of(&read(trace)?, view).map_err(Failure::NotTaken)?;
    new_file::write(out, figure.plot.svg(Style::Paper, Size::Wide).as_bytes())?;
    print::out(&format!("The drawing is in {}\n{}\n", out.display(), figure.caption))
}
