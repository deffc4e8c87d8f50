//! `demo`: a workshop made from a scenario, told, put on paper, and served.

use std::path::Path;

use asfound_acts::Workshop;
use asfound_words::page::{self, Page};

use crate::commands::{dossier, serve};
use crate::failure::Failure;
use crate::print::Depth;
use crate::{demo, print};

pub(crate) fn run(folder: &Path, serve_it: bool, port: u16) -> Result<(), Failure> {
    if folder.join("workshop.sqlite").exists() {
        print::out(&format!("The demo is already in {}; nothing in it is changed.\n", folder.display()))?;
    } else {
        print::out(&format!("Making the demo workshop in {} …\n", folder.display()))?;
        demo::make(folder)?;
    }
    let workshop = Workshop::open(folder)?;
    headlines(&workshop)?;
    paper(&workshop)?;
    if serve_it { serve::serve(workshop, port) } else { Ok(()) }
}

/// The findings of the demo's main job, as a restorer would tell them.
fn headlines(workshop: &Workshop) -> Result<(), Failure> {
    let material = workshop.material(demo::MAIN_JOB)?;
    let title = material.job.opened.as_ref().map_or("", |item| item.body.title.as_str());
    print::out(&format!("\nJob {}: {title}\n", demo::MAIN_JOB))?;
    for shown in [Page::Readings, Page::Wiring] {
        let mut sheet = page::sheet(shown, &material);
        sheet.cautions.clear();
        sheet.next.truncate(2);
        print::out(&format!("\n{}\n{}", shown.title(), print::sheet(&sheet, Depth::Headlines)))?;
    }
    Ok(())
}

fn paper(workshop: &Workshop) -> Result<(), Failure> {
    if cfg!(feature = "dossier") {
        let written = dossier::write(workshop, demo::MAIN_JOB, None)?;
        print::out(&format!("\nThe dossier is in {}\n", written.paper.display()))?;
    }
    Ok(())
}
