//! Whether everything that was kept is there, byte for byte.

use std::collections::BTreeMap;

use asfound_record::{Body, Cite, Entry, Hash, Head, Report, verify_lines};
use rusqlite::{Row, params};

use crate::Store;
use crate::error::StoreError;

/// What a look at the whole workshop found.
#[derive(Debug)]
pub struct StoreReport {
    /// Each chain, and each differing copy of one, as checked from its bytes.
    pub chains: Vec<Report>,
    /// Photographs that are missing or damaged.
    pub photographs: Vec<PhotographFault>,
    /// Files in the vault that no entry names. No fault: an entry may be on its way, or was given up.
    pub unnamed: Vec<Hash>,
    /// What is wrong with the ledger's file itself, in sentences.
    pub ledger: Vec<String>,
}

impl StoreReport {
    /// Whether nothing is wrong. Photographs that a chain from elsewhere came without are no fault.
    pub fn is_whole(&self) -> bool {
        self.ledger.is_empty()
            && self.chains.iter().all(Report::is_whole)
            && self.photographs.iter().all(|fault| fault.came_without)
    }
}

/// A photograph that cannot be shown as it was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotographFault {
    /// Its hash.
    pub hash: Hash,
    /// An entry that shows it; `None` where none does.
    pub shown_by: Option<Cite>,
    /// It is missing, and only chains from elsewhere name it.
    pub came_without: bool,
    /// A sentence with the place and what to do.
    pub sentence: String,
}

/// Who shows a photograph.
struct Shown {
    by: Cite,
    own: bool,
}

impl Store {
    /// Looks at every entry, every photograph and the database's own structure. Reads everything, so with many
    /// photographs it takes as long as the disk takes.
    ///
    /// # Errors
    /// Only where not even the list of chains can be read; all else is in the report.
    pub fn verify(&self) -> Result<StoreReport, StoreError> {
        let mut ledger = self.integrity();
        let mut chains = Vec::new();
        let mut shown: BTreeMap<Hash, Shown> = BTreeMap::new();
        for info in self.chains()? {
            let lines = match self.reading(|connection| lines(connection, &info.chain, info.variant)) {
                Ok(lines) => lines,
                Err(error) => {
                    ledger.push(format!("Chain {}: {error}", info.chain));
                    continue;
                }
            };
            for entry in lines.lines().filter_map(|line| Entry::from_line(line).ok()) {
                note_shown(&mut shown, &entry, info.own);
            }
            let reports = verify_lines(&lines);
            if !reports.iter().any(|report| report.head.as_ref() == Some(&info.head)) {
                ledger.push(ends_elsewhere(&info.head));
            }
            chains.extend(reports);
        }
        let kept = self.vault.photographs()?;
        let unnamed = kept.iter().filter(|hash| !shown.contains_key(hash)).copied().collect();
        let photographs = self.check_photographs(&kept, &shown);
        Ok(StoreReport { chains, photographs, unnamed, ledger })
    }

    /// SQLite's own check of its file, as sentences; none where it holds.
    fn integrity(&self) -> Vec<String> {
        let found = self.reading(|connection| {
            let mut rows = connection.prepare("PRAGMA integrity_check")?;
            rows.query_map((), |row| row.get(0))?.collect::<rusqlite::Result<Vec<String>>>()
        });
        match found {
            Ok(found) => found
                .into_iter()
                .filter(|line| line != "ok")
                .map(|what| StoreError::Damaged { place: self.ledger(), what }.to_string())
                .collect(),
            Err(error) => vec![error.to_string()],
        }
    }

    fn check_photographs(&self, kept: &[Hash], shown: &BTreeMap<Hash, Shown>) -> Vec<PhotographFault> {
        let missing = shown.keys().filter(|hash| kept.binary_search(hash).is_err());
        let mut all: Vec<Hash> = kept.iter().chain(missing).copied().collect();
        all.sort();
        let fault = |hash: Hash| {
            let error = self.vault.photograph(hash).err()?;
            let shown = shown.get(&hash);
            Some(PhotographFault {
                hash,
                shown_by: shown.map(|shown| shown.by.clone()),
                came_without: matches!(error, StoreError::NoPhotograph { .. })
                    && shown.is_some_and(|shown| !shown.own),
                sentence: error.to_string(),
            })
        };
        all.into_iter().filter_map(fault).collect()
    }
}

fn note_shown(shown: &mut BTreeMap<Hash, Shown>, entry: &Entry, own: bool) {
    for hash in Body::of(entry).files().into_iter().filter_map(Hash::from_hex) {
        let first = shown.entry(hash).or_insert_with(|| Shown { by: entry.cite(), own });
        if own && !first.own {
            *first = Shown { by: entry.cite(), own };
        }
    }
}

fn ends_elsewhere(head: &Head) -> String {
    format!(
        "Chain {} does not end at entry {} as the ledger's list of chains says; bring back the newest copy into \
         another folder and compare.",
        head.chain,
        head.next.saturating_sub(1)
    )
}

/// A chain in its export form, pasted from the columns as they are: damage is for the check to find, not for the reader
/// to stumble over.
fn lines(connection: &rusqlite::Connection, chain: &str, variant: u32) -> rusqlite::Result<String> {
    let mut rows = connection.prepare_cached(
        "SELECT envelope, content, lower(hex(hash)) FROM entry WHERE chain = ?1 AND variant = ?2 ORDER BY seq",
    )?;
    let mut lines = String::new();
    let mut found = rows.query(params![chain, variant])?;
    while let Some(row) = found.next()? {
        let (envelope, content, hash) = (text(row, 0)?, text(row, 1)?, text(row, 2)?);
        let content = content.unwrap_or_else(|| "null".to_owned());
        let (envelope, hash) = (envelope.unwrap_or_default(), hash.unwrap_or_default());
        lines.push_str(&format!("{{\"content\":{content},\"envelope\":{envelope},\"hash\":\"{hash}\"}}\n"));
    }
    Ok(lines)
}

/// A column's text, with signs that are no text put in for bytes that are none; `None` for null.
fn text(row: &Row<'_>, column: usize) -> rusqlite::Result<Option<String>> {
    Ok(row.get_ref(column)?.as_bytes_or_null()?.map(|bytes| String::from_utf8_lossy(bytes).into_owned()))
}
