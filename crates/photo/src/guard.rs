//! A fence around code that is not ours and reads bytes that are not ours.

use std::panic::{AssertUnwindSafe, catch_unwind};

/// Runs a piece of work and turns a panic in it into its message.
///
/// The work takes its input by reference and hands back a fresh value, so nothing half-done outlives a panic.
pub(crate) fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|thrown| {
        let said = thrown.downcast_ref::<&str>().map(|said| (*said).to_owned());
        said.or_else(|| thrown.downcast_ref::<String>().cloned())
            .unwrap_or_else(|| "no reason given".to_owned())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_its_message() {
        assert_eq!(guarded(|| 3), Ok(3));
        assert_eq!(guarded(|| -> u8 { panic!("bad block {}", 7) }), Err("bad block 7".to_owned()));
    }
}
