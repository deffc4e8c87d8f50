//! Papers are issued: what they told is kept, and they are sealed.

use asfound_record::{Body, Cite, Hash, Manifest, Seal1, Statement, Told1};

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
    /// The head that the paper rested on.
    pub head: Cite,
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
        let job = self.job(number)?;
        let mut manifest = Manifest::default();
        for item in &job.photographs {
            manifest.add(&item.body.original, item.body.shareable.as_deref());
        }
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
        let seal_text = asfound_record::seal_text(&seal, &manifest);
        self.store.keep_paper(&format!("{number}-{}.pdf", hash.short()), paper)?;
        self.store.keep_paper(&format!("{number}-{}.seal.json", hash.short()), seal_text.as_bytes())?;
        Ok(Issued { paper: hash.to_string(), seal, seal_text, head: head.clone() })
    }
}
