//! What a page or a paper is given to show: sentences, tables and figures, already in words.
//!
//! Page and paper draw the same sheet, so that what stood on the screen and what stands on paper cannot drift apart.

use asfound_study::Plot;

/// One page of a job: what was found, what it means, what to do next.
#[derive(Debug, Clone, Default)]
pub struct Sheet {
    /// Entries, in the order they were kept.
    pub found: Vec<FoundLine>,
    /// What stands above the findings: the circuit, drawn.
    pub figures: Vec<Figure>,
    /// What is to be done this minute, above everything else: its step is answered by one press.
    pub now: Option<Told>,
    /// Findings, the weightiest first.
    pub means: Vec<Told>,
    /// Steps that belong to no single finding. Those of findings stand in [`Told::next`].
    pub next: Vec<Step>,
    /// Cautions that hold for the whole page.
    pub cautions: Vec<String>,
}

/// One kept entry in words.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FoundLine {
    /// Its place in the job's chain.
    pub seq: u64,
    /// Date and time as written by the person's clock, for reading: `2026-11-03 14:02`.
    pub time: String,
    /// What was found.
    pub words: String,
    /// How, by what, at what temperature; what it is at 20 °C. May be empty.
    pub detail: String,
    /// Original hash of the photograph, where the entry is one.
    pub photograph: Option<String>,
    /// Text that describes the photograph, or is empty.
    pub alt: String,
    /// What became of the entry since: empty, `corrected by 14`, `struck out: …`, `withheld`.
    pub since: String,
    /// Whether the line tells a sum of money.
    pub money: bool,
    /// The line as the entry line would take it again, for a correction; empty where it cannot be typed.
    pub again: String,
    /// Where on a photograph that shows what the line is about is marked.
    pub look: Option<Look>,
}

/// A place on a photograph to look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// The entry that keeps the photograph.
    pub photograph: u64,
    /// The lug or part that is marked there.
    pub of: String,
}

/// One finding: a sentence, how sure, and what stands behind it.
#[derive(Debug, Clone, Default)]
pub struct Told {
    /// Stable within its page: used for anchors, decisions and tests.
    pub id: String,
    /// One sentence.
    pub sentence: String,
    /// How sure and why, in words.
    pub sure: String,
    /// What can hurt somebody at this step; empty where nothing can.
    pub caution: String,
    /// What to do or look at next.
    pub next: Vec<Step>,
    /// Entries it rests on.
    pub rests_on: Vec<Rest>,
    /// How it was worked out: formulas, sources, figures.
    pub working: Vec<String>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// What would change it.
    pub would_change: Vec<String>,
    /// Tables that are the finding itself and stand with its sentence: a bill, choices side by side.
    pub shown: Vec<Table>,
    /// Figures in tables, folded away behind it.
    pub tables: Vec<Table>,
    /// Plots.
    pub figures: Vec<Figure>,
    /// Whether it tells a sum of money.
    pub money: bool,
}

/// An entry that a finding rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rest {
    /// Its place in the chain.
    pub seq: u64,
    /// What it is, in two or three words.
    pub label: String,
}

impl Rest {
    /// An entry by its place: `entry 14`.
    pub fn on(seq: u64) -> Rest {
        Rest { seq, label: format!("entry {seq}") }
    }

    /// Entries that rise; a run of more than three is told as one, and leads to its first.
    pub fn on_all(seqs: impl IntoIterator<Item = u64>) -> Vec<Rest> {
        let mut runs: Vec<(u64, u64)> = Vec::new();
        for seq in seqs {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == seq => *last = seq,
                _ => runs.push((seq, seq)),
            }
        }
        let rests = |(first, last): (u64, u64)| match last - first {
            0..=2 => (first..=last).map(Rest::on).collect(),
            _ => vec![Rest { seq: first, label: format!("entries {first} to {last}") }],
        };
        runs.into_iter().flat_map(rests).collect()
    }
}

/// A step offered.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Step {
    /// Stable name, for keeping the decision.
    pub id: String,
    /// What to do.
    pub words: String,
    /// What it would settle, and the trouble.
    pub why: String,
    /// What can hurt somebody; empty where nothing can.
    pub caution: String,
    /// `taken`, `later` or `done` where that was kept; empty where nothing was decided.
    pub decision: String,
    /// What it may turn out to be, each to be kept by one press; empty where it is not so answered.
    pub answers: Vec<Answer>,
}

/// An answer that is kept by one press.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Answer {
    /// What is seen.
    pub words: String,
    /// What it would mean.
    pub means: String,
    /// The line that the entry line takes for it.
    pub line: String,
}

/// A table: figures first, words where they must.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Column heads.
    pub columns: Vec<Column>,
    /// Rows, as wide as the columns.
    pub rows: Vec<Vec<String>>,
}

/// A column of a table.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Column {
    /// Its head.
    pub name: String,
    /// Whether it holds figures, to be set flush on the decimal sign.
    pub numeric: bool,
}

/// A plot with its caption.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Stable within its page.
    pub id: String,
    /// What it shows.
    pub caption: String,
    /// The plot itself.
    pub plot: Plot,
}

impl Table {
    /// A table with its columns: a name that starts with `#` is a column of figures.
    pub fn with(caption: &str, columns: &[&str]) -> Table {
        let columns = columns
            .iter()
            .map(|name| Column {
                name: name.trim_start_matches('#').to_owned(),
                numeric: name.starts_with('#'),
            })
            .collect();
        Table { caption: caption.to_owned(), columns, rows: Vec::new() }
    }
}
