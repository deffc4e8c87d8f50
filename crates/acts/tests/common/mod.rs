//! A workshop in a temporary folder, with a clock that the test sets.

#![allow(dead_code, reason = "each test program uses some of it")]

use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use asfound_acts::{NewJob, Said, Workshop};
use tempfile::TempDir;

/// A workshop, and what holds its folder and its clock.
pub(crate) struct Bench {
    pub(crate) workshop: Workshop,
    pub(crate) folder: PathBuf,
    pub(crate) time: Arc<Mutex<String>>,
    _home: TempDir,
}

impl Bench {
    pub(crate) fn set_clock(&self, time: &str) {
        *self.time.lock().unwrap() = time.to_owned();
    }

    /// Closes the workshop and opens it again.
    pub(crate) fn reopened(self) -> Bench {
        let Bench { workshop, folder, time, _home } = self;
        drop(workshop);
        let clock = Arc::clone(&time);
        let workshop =
            Workshop::open_with_clock(&folder, Box::new(move || clock.lock().unwrap().clone())).unwrap();
        Bench { workshop, folder, time, _home }
    }
}

/// A new workshop at nine in the morning.
pub(crate) fn bench() -> Bench {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("workshop");
    let time = Arc::new(Mutex::new("2026-11-25T09:00:00+01:00".to_owned()));
    let clock = Arc::clone(&time);
    let clock = Box::new(move || clock.lock().unwrap().clone());
    let workshop = Workshop::start_with_clock(&folder, "A bench of my own", clock).unwrap();
    Bench { workshop, folder, time, _home: home }
}

pub(crate) fn titled(title: &str) -> NewJob {
    NewJob { title: title.to_owned(), ..NewJob::default() }
}

/// A bench with one job that has one part.
pub(crate) fn with_a_job() -> (Bench, String) {
    let bench = bench();
    let number = bench.workshop.open_job(&titled("Short-scale bass, two coils")).unwrap();
    kept(&bench.workshop, &number, "part neck coil, coil, neck", "first-part");
    (bench, number)
}

/// Says a line that must be understood; answers its place.
pub(crate) fn kept(workshop: &Workshop, number: &str, line: &str, draft: &str) -> u64 {
    match workshop.say(number, line, draft).unwrap() {
        Said::Kept { seq, .. } => seq,
        Said::NotHeard(error) => panic!("{line}: {error:?}"),
    }
}

/// An error as a person reads it: a sentence, with a capital and an end.
pub(crate) fn sentence(error: &dyn std::fmt::Display) -> String {
    let text = error.to_string();
    assert!(text.ends_with('.'), "{text}");
    text
}

/// A picture of this size as JPEG, each size of another look.
pub(crate) fn photograph(width: u32, height: u32) -> Vec<u8> {
    let picture =
        image::RgbImage::from_fn(width, height, |x, y| image::Rgb([(x % 256) as u8, (y % 256) as u8, 90]));
    let mut out = Vec::new();
    picture.write_with_encoder(image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, 90)).unwrap();
    out
}
