//! Papers are issued: what they told is kept, and they are sealed.

use asfound_record::{Body, Cite, Hash, Manifest, Printed, Seal1, Statement, Told1};
use serde_json::json;

use crate::error::ActError;
use crate::workshop::Workshop;

/// What a paper says, to be kept when it is issued.
#[derive(Debug, Clone, Default)]
pub struct PaperTold {
    /// What paper it is.
    pub title: String,
    /// Version of the program that worked the findings out.
    pub version: String,
    /// The sentences as told.
    pub statements: Vec<String>,
    /// The assumptions they were told under.
    pub assumptions: Vec<String>,
    /// The pictures in it: hash of the original, and the bytes as printed.
    pub pictures: Vec<(String, Vec<u8>)>,
}

/// A paper that was issued.
#[derive(Debug, Clone)]
pub struct Issued {
    /// SHA-256 of the paper, hex.
    pub paper: String,
    /// The seal, as it stands in the file beside the paper.
    pub seal: Seal1,
    /// The seal's file, as text.
    pub seal_text: String,
}

impl Workshop {
    /// The job's lines in export form and the head they end with: what a paper attaches and rests on.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read.
    pub fn lines(&self, number: &str) -> Result<(String, Cite), ActError> {
        let chain = self.chain_of(number)?;
        let entries = self.store.entries(&chain)?;
        let text = entries.iter().map(|entry| entry.line() + "\n").collect();
        let last = entries.last().ok_or_else(|| ActError::NoSuchJob(number.to_owned()))?;
        Ok((text, last.cite()))
    }

    /// Keeps what a paper told, and seals it: the whole paper's hash, the head it rested on, and the photographs'
    /// manifest, signed. The seal goes into the workshop's chain and into a small file for beside the paper.
    ///
    /// # Errors
    /// Where there is no such job or it cannot be written.
    pub fn issue(&self, number: &str, paper: &[u8], head: &Cite, told: &PaperTold) -> Result<Issued, ActError> {
        let photographs = told.pictures.iter().filter_map(|(original, printed)| {
            Some(Printed { original: Hash::from_hex(original)?, rendition: Hash::of(printed) })
        });
        let manifest = Manifest { photographs: photographs.collect() };
        let hash = Hash::of(paper);
        let statement = Statement { paper: hash, head: head.clone(), photographs: manifest.hash() };
        let seal = asfound_record::seal(&statement, self.keys.signing());
        self.keep_in_workshop(Body::Seal(seal.clone()))?;
        let body = Told1 {
            paper: hash.to_string(),
            title: told.title.clone(),
            version: told.version.clone(),
            head: head.clone(),
            statements: told.statements.clone(),
            assumptions: told.assumptions.clone(),
        };
        self.keep(number, Body::Told(body), None, None)?;
        let seal_text = seal_file(&seal, &manifest);
        Ok(Issued { paper: hash.to_string(), seal, seal_text })
    }
}

/// The small file beside a paper: the seal, and the list of photographs whose hash it signs.
fn seal_file(seal: &Seal1, manifest: &Manifest) -> String {
    let text = serde_json::to_string_pretty(&json!({
        "seal": seal,
        "photographs": manifest.photographs,
        "how": "signature: Ed25519 (RFC 8032) by `public` over the RFC 8785 form of {head, paper, photographs} of the seal; \
                paper: SHA-256 of the PDF file; photographs: SHA-256 over the RFC 8785 form of {photographs}",
    }));
    text.unwrap_or_default() + "\n"
}
