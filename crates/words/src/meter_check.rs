//! The trace held against the meter, in words.

use asfound_study::material::Material;
use asfound_study::record::Body;

use crate::entry;
use crate::sheet::Sheet;

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let found = job.probings.iter().map(|item| entry::line(item, Body::Probing, job)).collect();
    Sheet { found, ..Sheet::default() }
}
