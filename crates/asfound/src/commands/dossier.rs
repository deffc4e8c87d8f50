//! `dossier`: a job's paper, issued and sealed.

use std::path::{Path, PathBuf};

use asfound_acts::Workshop;

use crate::failure::Failure;
use crate::{patiently, print};

pub(crate) fn run(folder: &Path, number: &str, out: Option<&Path>) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let written = write(&workshop, number, out)?;
    print::out(&format!(
        "The dossier is in {}\nIts seal is in {}\n",
        written.paper.display(),
        written.seal.display()
    ))
}

/// Where a paper and its seal were written.
pub(crate) struct WrittenPaper {
    pub(crate) paper: PathBuf,
    pub(crate) seal: PathBuf,
}

/// Sets, issues, seals and writes the paper.
#[cfg(feature = "dossier")]
pub(crate) fn write(workshop: &Workshop, number: &str, out: Option<&Path>) -> Result<WrittenPaper, Failure> {
    use asfound_acts::PaperTold;
    use asfound_dossier::{PaperPicture, Sources};

    let material = workshop.material(number)?;
    let (lines, head) = workshop.lines(number)?;
    let pictures: Vec<PaperPicture> = workshop
        .pictures_for_paper(number)?
        .into_iter()
        .map(|(original, jpeg)| PaperPicture { original, jpeg })
        .collect();
    let printed = pictures.iter().map(|picture| (picture.original.clone(), picture.jpeg.clone())).collect();
    let sources = Sources {
        material: &material,
        pictures: &pictures,
        today: &workshop.today(),
        lines: &lines,
        head: &head.hash.to_string(),
    };
    let composed = asfound_dossier::dossier(sources)
        .map_err(|error| Failure::Broken(format!("The paper could not be set: {error}")))?;
    let told = PaperTold {
        title: composed.title.clone(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        statements: composed.statements.clone(),
        assumptions: composed.assumptions.clone(),
        pictures: printed,
    };
    let issued = workshop.issue(number, &composed.pdf, &head, &told)?;
    let Some(paper) = out.map(Path::to_owned) else {
        return Ok(WrittenPaper { paper: issued.paper_at, seal: issued.seal_at });
    };
    let seal = paper.with_extension("seal.json");
    if let Some(parent) = paper.parent() {
        std::fs::create_dir_all(parent).map_err(|error| Failure::file("Making the folder", parent, error))?;
    }
    std::fs::write(&paper, &composed.pdf).map_err(|error| Failure::file("Writing", &paper, error))?;
    std::fs::write(&seal, issued.seal_text).map_err(|error| Failure::file("Writing", &seal, error))?;
    Ok(WrittenPaper { paper, seal })
}

/// This build has no typesetter.
#[cfg(not(feature = "dossier"))]
pub(crate) fn write(_: &Workshop, _: &str, _: Option<&Path>) -> Result<WrittenPaper, Failure> {
    Err(Failure::NotTaken(
        "This program was built without paper. Build it with its default features: cargo build --release"
            .to_owned(),
    ))
}
