//! What a job's pages are worked out from, drawn together.

use std::sync::Arc;

use asfound_study::material::Material;

use crate::error::ActError;
use crate::workshop::Workshop;

impl Workshop {
    /// Everything that a job's pages are worked out from: the job, the workshop, its past readings, and the files of
    /// measurements.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read.
    pub fn material(&self, number: &str) -> Result<Material, ActError> {
        let at_hand = self.material_at_hand(number)?;
        Ok(Material {
            past: self.past_readings()?.into(),
            sweeps: self.sweep_files(number)?.into(),
            ..at_hand
        })
    }

    /// The job and the workshop alone: for pages on which nothing is measured.
    ///
    /// # Errors
    /// As [`Workshop::material`].
    pub fn material_at_hand(&self, number: &str) -> Result<Material, ActError> {
        Ok(Material {
            job: self.job(number)?,
            workshop: self.about()?,
            before: Arc::clone(&self.before),
            ..Material::default()
        })
    }
}
