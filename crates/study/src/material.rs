//! What a page is worked out from: a job, the workshop beside it, its past readings, and the files that were kept.

use std::sync::Arc;

use asfound_record::Job;

use crate::coils::WeighedBefore;
use crate::dates::DatedBefore;
use crate::faults::WeighedBefore as WeighedFaultsBefore;
use crate::jack::AnsweredBefore;
use crate::past::PastReading;
use crate::plan::PlannedBefore;
use crate::probings::CheckedBefore;
use crate::rewiring::RewiredBefore;
use crate::sound::SoundedBefore;
use crate::sweep_files::SweepFile;
use crate::sweeps::FittedBefore;

/// Everything that a job's pages are worked out from. Cheap to clone.
#[derive(Debug, Clone, Default)]
pub struct Material {
    /// The job, folded.
    pub job: Arc<Job>,
    /// The workshop's own chain, folded: it knows the meters, persons and the workshop's own values.
    pub workshop: Arc<Job>,
    /// What this workshop read of coils in all its jobs.
    pub past: Arc<[PastReading]>,
    /// The job's measurements that came as files, with their bytes.
    pub sweeps: Arc<[SweepFile]>,
    /// What was weighed and fitted before, so that a page is drawn again at once.
    pub before: Arc<WorkedOut>,
}

/// Results that can be thrown away and worked out again.
#[derive(Debug, Default)]
pub struct WorkedOut {
    /// Dates and originality.
    pub dates: DatedBefore,
    /// Coils.
    pub coils: WeighedBefore,
    /// Readings at the jack.
    pub jack: AnsweredBefore,
    /// Faults.
    pub faults: WeighedFaultsBefore,
    /// Traces held against the meter.
    pub probings: CheckedBefore,
    /// Sweeps.
    pub sweeps: FittedBefore,
    /// How the traced circuit sounds.
    pub sounds: SoundedBefore,
    /// What may be paid, what is to be done and when it is ready.
    pub plans: PlannedBefore,
    /// Other wirings.
    pub rewired: RewiredBefore,
}

impl Material {
    /// A job and its workshop, with nothing read before and no files.
    pub fn of(job: Job, workshop: Job) -> Material {
        Material { job: Arc::new(job), workshop: Arc::new(workshop), ..Material::default() }
    }
}
