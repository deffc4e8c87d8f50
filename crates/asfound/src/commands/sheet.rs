//! `sheet`: a job's pages, as the screen and the paper show them.

use std::path::Path;

use asfound_acts::Workshop;
use asfound_words::page::{self, Page};
use serde_json::{Map, Value};

use crate::failure::Failure;
use crate::print::Depth;
use crate::{json, print};

/// Prints one page, or all of them where none is named.
pub(crate) fn run(folder: &Path, number: &str, name: Option<&str>, for_machine: bool) -> Result<(), Failure> {
    let pages = match name {
        Some(name) => vec![named(name)?],
        None => Page::ALL.to_vec(),
    };
    let workshop = Workshop::open_to_read(folder)?;
    let material = workshop.material(number)?;
    let sheets = pages.iter().map(|shown| (*shown, page::sheet(*shown, &material)));
    if for_machine {
        let by_page: Map<String, Value> =
            sheets.map(|(shown, sheet)| (shown.slug().to_owned(), json::sheet(&sheet))).collect();
        return print::out(&json::text(&Value::Object(by_page)));
    }
    let told: Vec<String> = sheets
        .map(|(shown, sheet)| {
            format!(
                "{}\n\n{}{}",
                shown.title(),
                print::found(&sheet.found),
                print::sheet(&sheet, Depth::Working)
            )
        })
        .collect();
    let title = material.job.opened.as_ref().map_or("", |item| item.body.title.as_str());
    print::out(&format!("Job {number}: {title}\n\n{}", told.join("\n\n")))
}

/// A page by its name; capital letters do not matter.
fn named(name: &str) -> Result<Page, Failure> {
    Page::from_slug(&name.to_lowercase()).ok_or_else(|| {
        let pages: Vec<&str> = Page::ALL.iter().map(|page| page.slug()).collect();
        Failure::NotTaken(format!("A job has no page “{name}”. It has {}.", pages.join(", ")))
    })
}
