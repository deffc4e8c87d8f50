//! Another wiring, in words.

use asfound_study::material::Material;
use asfound_study::record::Body;

use crate::entry;
use crate::sheet::Sheet;

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let found = job.wishes.iter().map(|item| entry::line(item, Body::Wish, job)).collect();
    Sheet { found, ..Sheet::default() }
}
