//! Measurements that come as files are kept, and given back to whoever reads them.

use std::sync::Arc;

use asfound_photo::Media;
use asfound_record::{Amount1, Body, Hash, Item, Quantity1, Sweep1, SweepFile1};
use asfound_store::StoreError;
use asfound_study::sweep_files::{self, IMPEDANCE_SWEEP, RESISTOR_TEST, SweepFile};

use crate::error::ActError;
use crate::photographs::MOST_BYTES;
use crate::workshop::Workshop;

/// The largest file that is handed to a study, in bytes: a minute of two channels in 32 bits is a third of it. A larger one
/// is kept all the same, and would only hold up the page.
const MOST_READ: u64 = 64_000_000;

/// A measurement to be kept. Only the part and a file are needed.
#[derive(Debug, Clone, Default)]
pub struct NewSweep {
    /// The part's id.
    pub part: String,
    /// The files: name and bytes. Whatever they are, they are kept.
    pub files: Vec<(String, Vec<u8>)>,
    /// The known resistors as typed, one for each recording; none where the file needs none.
    pub resistors: Vec<String>,
    /// The temperature of the part as typed; empty where not taken.
    pub temperature: String,
    /// `out of circuit`, `at the joints`; empty where not said.
    pub method: String,
    /// The short id of the meter or bridge; empty where not said.
    pub meter: String,
}

impl Workshop {
    /// Keeps the files in the vault and one entry that cites them; answers its place. Whether they can be read is for a
    /// study to say, and never in the way of keeping them. The same draft id twice keeps once.
    ///
    /// # Errors
    /// Where there is no file, no such job or part, the resistors do not fit the files, a figure cannot be read, or it
    /// cannot be written.
    pub fn keep_sweep(&self, number: &str, new: &NewSweep, draft_id: Option<&str>) -> Result<u64, ActError> {
        must_have_bytes(&new.files)?;
        let resistors = resistors(new)?;
        let temperature = match new.temperature.trim() {
            "" => None,
            typed => Some(
                sweep_files::temperature(typed).map_err(|why| bad_figure("The temperature", typed, &why))?,
            ),
        };
        let chain = self.writable(number)?;
        let job = self.job(number)?;
        self.must_have_part(number, Some(&new.part))?;
        let place = job.part(&new.part).map(|part| part.item.body.place.clone()).unwrap_or_default();
        let roles = roles(new.files.len(), resistors.len());
        let mut files = Vec::with_capacity(new.files.len());
        for ((name, bytes), role) in new.files.iter().zip(roles) {
            files.push(SweepFile1 {
                original: self.store.keep_photograph(bytes)?.to_string(),
                bytes: bytes.len() as u64,
                name: name.clone(),
                media: media_type(bytes).to_owned(),
                role,
            });
        }
        let how = if resistors.is_empty() { IMPEDANCE_SWEEP } else { RESISTOR_TEST };
        let body = Sweep1 {
            part: new.part.clone(),
            place,
            how: how.to_owned(),
            files,
            resistors,
            meter: given(&new.meter),
            temperature,
            method: given(&new.method),
            happened: None,
        };
        Ok(self.keep_in(&chain, Body::Sweep(body), None, draft_id)?.seq)
    }

    /// The job's measurements that came as files, each with the bytes of its files.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read. A file that is missing or damaged is said with its
    /// measurement.
    pub fn sweep_files(&self, number: &str) -> Result<Vec<SweepFile>, ActError> {
        let job = self.job(number)?;
        let given = |item: &Item<Sweep1>| {
            let body = &item.body;
            let (mut files, mut missing) = (Vec::new(), Vec::new());
            for file in &body.files {
                match self.kept_file(file) {
                    Ok(Ok(bytes)) => files.push((file.role.clone(), bytes)),
                    Ok(Err(sentence)) => missing.push(sentence),
                    Err(error) => return Err(error),
                }
            }
            let (part, how) = (body.part.clone(), body.how.clone());
            Ok(SweepFile { seq: item.seq, part, how, resistors: body.resistors.clone(), files, missing })
        };
        job.sweeps.iter().map(given).collect()
    }

    /// A kept file's bytes, or why they cannot be had.
    fn kept_file(&self, file: &SweepFile1) -> Result<Result<Arc<[u8]>, String>, ActError> {
        if file.bytes > MOST_READ {
            return Ok(Err(format!(
                "{} is kept, and with {} MB too large to be read as a measurement. The most is {} MB: cut the recording to \
                 the signal and keep it again.",
                file.name,
                file.bytes / 1_000_000,
                MOST_READ / 1_000_000
            )));
        }
        let Some(hash) = Hash::from_hex(&file.original) else {
            return Ok(Err(format!("“{}” names no kept file: it is not 64 hex signs.", file.original)));
        };
        match self.store.photograph(hash) {
            Ok(bytes) => Ok(Ok(bytes.into())),
            Err(error @ (StoreError::NoPhotograph { .. } | StoreError::DamagedPhotograph { .. })) => {
                Ok(Err(error.to_string()))
            }
            Err(error) => Err(error.into()),
        }
    }
}

fn must_have_bytes(files: &[(String, Vec<u8>)]) -> Result<(), ActError> {
    if files.is_empty() || files.iter().any(|(_, bytes)| bytes.is_empty()) {
        let example = "the file that the bridge wrote, or the recordings";
        return Err(ActError::Empty { field: "The file", example });
    }
    let size: u64 = files.iter().map(|(_, bytes)| bytes.len() as u64).sum();
    if size > MOST_BYTES {
        return Err(ActError::TooLarge { megabytes: size / 1_000_000, limit: MOST_BYTES / 1_000_000 });
    }
    Ok(())
}

/// The resistors as read: as many as there are files, so that each recording has its own, or none.
fn resistors(new: &NewSweep) -> Result<Vec<Quantity1>, ActError> {
    let typed: Vec<&str> =
        new.resistors.iter().map(|typed| typed.trim()).filter(|typed| !typed.is_empty()).collect();
    if !typed.is_empty() && typed.len() != new.files.len() {
        return Err(ActError::ResistorsDoNotFit { resistors: typed.len(), files: new.files.len() });
    }
    typed.into_iter().map(resistor).collect()
}

/// A known resistor is one figure: a bound or a word in its place would make the recording worthless.
fn resistor(typed: &str) -> Result<Quantity1, ActError> {
    let read = sweep_files::resistor(typed).map_err(|why| bad_figure("The resistor", typed, &why))?;
    match &read.amount {
        Amount1::Exactly { .. } => Ok(read),
        _ => Err(bad_figure("The resistor", typed, &"one figure is wanted, such as 10k, 9.96k or 100 kΩ")),
    }
}

/// What each file is to the measurement.
fn roles(files: usize, resistors: usize) -> Vec<String> {
    let letters = ('A'..='Z').cycle().take(files);
    match resistors {
        0 => vec!["sweep".to_owned(); files],
        _ => letters.map(|letter| format!("recording with resistor {letter}")).collect(),
    }
}

fn bad_figure(field: &'static str, typed: &str, why: &dyn std::fmt::Display) -> ActError {
    ActError::BadFigure { field, typed: typed.to_owned(), why: why.to_string() }
}

/// The registered media type, as far as the bytes tell it.
fn media_type(bytes: &[u8]) -> &'static str {
    match Media::of(bytes) {
        Some(Media::Other("WAV sound")) => "audio/vnd.wave",
        Some(media) => media.media_type(),
        None if std::str::from_utf8(bytes).is_ok_and(|text| !text.contains('\0')) => "text/plain",
        None => "application/octet-stream",
    }
}

fn given(text: &str) -> Option<String> {
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}
