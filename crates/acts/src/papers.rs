//! Papers are issued: what they told is kept, and they are sealed.

use std::collections::BTreeSet;
use std::path::PathBuf;

use asfound_record::{
    Body, Cite, Entry, Hash, Manifest, Printed, Seal1, SealFault, Statement, Told1, check_sealed_paper,
    check_sealed_photographs,
};
use asfound_store::StoreError;
use asfound_study::plan::tells_money;
use serde_json::json;

use crate::error::ActError;
use crate::photographs::hash_of;
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
    /// Where the paper is kept in the workshop's folder.
    pub paper_at: PathBuf,
    /// Where its seal is kept.
    pub seal_at: PathBuf,
}

impl Workshop {
    /// The job's lines in export form and the head they end with: what a paper attaches and rests on.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read.
    pub fn lines(&self, number: &str) -> Result<(String, Cite), ActError> {
        let place = self.place_of(number)?;
        let entries = self.store.entries_of_variant(&place.chain, place.variant)?;
        let text = entries.iter().map(|entry| entry.line() + "\n").collect();
        let last = entries.last().ok_or_else(|| ActError::NoSuchJob(number.to_owned()))?;
        Ok((text, last.cite()))
    }

    /// The job's lines for a buyer: the content of every sum and of all terms is left out, and the chain still verifies. The owner's name
    /// is not among them in any case: lines of a job name persons by ids whose names stand in the workshop's chain.
    ///
    /// # Errors
    /// As [`Workshop::lines`].
    pub fn lines_without_money(&self, number: &str) -> Result<String, ActError> {
        let place = self.place_of(number)?;
        let entries = self.store.entries_of_variant(&place.chain, place.variant)?;
        let line = |entry: &Entry| {
            if tells_money(&Body::of(entry)) { entry.without_content().line() } else { entry.line() }
        };
        Ok(entries.iter().map(|entry| line(entry) + "\n").collect())
    }

    /// Keeps what a paper told, and seals it: the whole paper's hash, the head it rested on, and the photographs'
    /// manifest, signed. The seal goes into the workshop's chain and into a small file beside the paper. Each issue is a
    /// paper of its own, named by the first signs of its hash: one that was handed out is never written over.
    ///
    /// # Errors
    /// Where there is no such job, a picture's hash is none, or it cannot be written; nothing is kept then.
    pub fn issue(
        &self,
        number: &str,
        paper: &[u8],
        head: &Cite,
        told: &PaperTold,
    ) -> Result<Issued, ActError> {
        let chain = self.writable(number)?;
        let folder = self.store.folder().to_owned();
        let key = self.key.as_ref().ok_or(StoreError::OnlyReading { folder })?;
        let printed = told.pictures.iter().map(|(original, bytes)| {
            Ok(Printed { original: hash_of(original)?, rendition: Hash::of(bytes) })
        });
        let manifest = Manifest { photographs: printed.collect::<Result<_, ActError>>()? };
        let hash = Hash::of(paper);
        let statement = Statement { paper: hash, head: head.clone(), photographs: manifest.hash() };
        let seal = asfound_record::seal(&statement, key);
        let body = Told1 {
            paper: hash.to_string(),
            title: told.title.clone(),
            version: told.version.clone(),
            head: head.clone(),
            statements: told.statements.clone(),
            assumptions: told.assumptions.clone(),
        };
        let seal_text = seal_file(&seal, &manifest);
        let name = format!("{number}-dossier-{}-{}", self.today(), hash.short());
        let (paper_name, seal_name) = (format!("{name}.pdf"), format!("{name}.seal.json"));
        self.store.keep_paper(&paper_name, paper)?;
        self.store.keep_paper(&seal_name, seal_text.as_bytes())?;
        let sealed = self.entry(Body::Seal(seal.clone()), None)?;
        let body = self.entry(Body::Told(body), None)?;
        self.store.append_many(|batch| {
            batch.append(sealed, self.own_chain(), None)?;
            batch.append(body, &chain, None)
        })?;
        let papers = self.store.folder().join("papers");
        let (paper_at, seal_at) = (papers.join(paper_name), papers.join(seal_name));
        Ok(Issued { paper: hash.to_string(), seal, seal_text, paper_at, seal_at })
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

/// What is wrong with the papers kept in the workshop's folder.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PaperTrouble {
    /// A sealed paper is not there.
    #[error(
        "The paper sealed with the hash {0} is not in the folder's papers, or was changed there. A copy that was handed out can still be checked against its seal."
    )]
    Missing(String),
    /// A paper that was never sealed, or is not any more as it was.
    #[error("papers/{0} is no paper as this workshop sealed it: it was changed, or put there by hand.")]
    Unknown(String),
    /// A seal's file does not hold.
    #[error("papers/{name}: {fault}")]
    Seal {
        /// The paper's file.
        name: String,
        /// Why it does not hold.
        fault: String,
    },
}

impl Workshop {
    /// Looks at every paper in the folder: whether it is as it was sealed, whether its seal file holds, and whether every
    /// sealed paper is there.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn verify_papers(&self) -> Result<Vec<PaperTrouble>, ActError> {
        let about = self.about()?;
        let sealed: BTreeSet<&str> = about.seals.iter().map(|item| item.body.paper.as_str()).collect();
        let mut found = BTreeSet::new();
        let mut troubles = Vec::new();
        let names = self.store.papers()?;
        for name in names.iter().filter(|name| name.ends_with(".pdf")) {
            let bytes = self.store.paper(name)?;
            let hash = Hash::of(&bytes).to_string();
            if !sealed.contains(hash.as_str()) {
                troubles.push(PaperTrouble::Unknown(name.clone()));
                continue;
            }
            let seal = self.store.paper(&name.replace(".pdf", ".seal.json"));
            let seal_text =
                seal.map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default();
            if let Err(fault) = verify_paper(&bytes, &seal_text) {
                troubles.push(PaperTrouble::Seal { name: name.clone(), fault: fault.to_string() });
            }
            found.insert(hash);
        }
        let missing = sealed.iter().filter(|hash| !found.contains(**hash));
        troubles.extend(missing.map(|hash| PaperTrouble::Missing((*hash).to_owned())));
        Ok(troubles)
    }
}

/// Why a paper cannot be believed on its seal.
#[derive(Debug, thiserror::Error)]
pub enum PaperFault {
    /// The seal's file is none.
    #[error(
        "the seal beside the paper cannot be read ({0}); ask for the seal file that was handed out with it"
    )]
    NoSeal(serde_json::Error),
    /// The seal does not hold.
    #[error(transparent)]
    Seal(#[from] SealFault),
}

/// Checks a paper against the seal file beside it, with nothing else at hand: the signature, the paper's own hash, and
/// the list of photographs. Answers what was sealed.
///
/// # Errors
/// Where the seal file is none, or the paper, the list or the signature was changed.
pub fn verify_paper(paper: &[u8], seal_text: &str) -> Result<Seal1, PaperFault> {
    #[derive(serde::Deserialize)]
    struct SealFile {
        seal: Seal1,
        photographs: Vec<Printed>,
    }
    let file: SealFile = serde_json::from_str(seal_text).map_err(PaperFault::NoSeal)?;
    check_sealed_paper(&file.seal, paper)?;
    check_sealed_photographs(&file.seal, &Manifest { photographs: file.photographs })?;
    Ok(file.seal)
}
