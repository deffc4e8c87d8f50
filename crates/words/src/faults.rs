//! What is at fault, in words.

use asfound_study::material::Material;

use crate::sheet::Sheet;

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let _ = material;
    Sheet::default()
}
