//! A workshop that another command holds for a moment is waited for.

use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use asfound_acts::{ActError, StoreError, Workshop};

/// How often it is tried, and how long between: about two seconds in all, longer than any one command writes.
const TRIES: u32 = 40;
const BETWEEN: Duration = Duration::from_millis(50);

/// Opens a workshop to write. One that is served stays held, and the sentence says so.
pub(crate) fn open(folder: &Path) -> Result<Workshop, ActError> {
    let mut left = TRIES;
    loop {
        match Workshop::open(folder) {
            Err(ActError::Store(StoreError::InUse { .. } | StoreError::Busy { .. })) if left > 0 => {
                left -= 1;
                sleep(BETWEEN);
            }
            answer => return answer,
        }
    }
}
