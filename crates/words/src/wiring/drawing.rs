//! The drawing of the circuit in words: what stands under it, what it leaves open, and the sheet it is printed on.

use asfound_study::drawing::{Drawn, MOST, Side, View, of_text, study};
use asfound_study::{Job, Plot};

use crate::cautions;
use crate::lists::{and, capital, count};
use crate::sheet::{Figure, Step, Table, Told};
use crate::wiring::names;

/// The drawing as it stands on the page, where there is one.
pub(super) fn figure(drawn: &Drawn) -> Option<Figure> {
    drawn.fits.then(|| Figure {
        id: "drawing".into(),
        caption: caption(drawn),
        plot: Plot::circuit(drawn.circuit.clone()),
    })
}

fn caption(drawn: &Drawn) -> String {
    let view = drawn.circuit.view;
    let side = match view.side {
        Side::Back => "Seen from the back",
        Side::Front => "Seen from the front",
    };
    let hand = if view.left_handed {
        ", for the left hand: the parts change sides, each part stays as it is built"
    } else {
        ""
    };
    let joins: Vec<String> = drawn
        .joins
        .iter()
        .zip(["metered", "seen", "matched", "not known"])
        .filter(|(count, _)| **count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    let joins = match drawn.joins.iter().sum() {
        0 => "no join yet".to_owned(),
        all => format!("{}: {}", count(all, "join", "joins"), and(&joins)),
    };
    let places = match drawn.photograph {
        Some((entry, parts)) if parts == drawn.circuit.parts.len() => {
            format!("The parts stand as marked on the photograph, entry {entry}.")
        }
        Some((entry, parts)) => format!(
            "{} as marked on the photograph, entry {entry}; the others stand by rule.",
            capital(&count(parts, "part stands", "parts stand"))
        ),
        None => "The parts stand by rule, not as in the cavity.".to_owned(),
    };
    let loose = match drawn.loose.len() {
        0 => String::new(),
        _ => format!(" Nothing is joined to {} yet.", and(&parts(&drawn.loose))),
    };
    format!("{side}{hand}. {}. {places}{loose}", capital(&joins))
}

fn parts(names: &[String]) -> Vec<String> {
    names.iter().map(|name| names::part(name)).collect()
}

/// What the drawing leaves to be said: that the trace falls apart, or that it is too much for one drawing.
pub(super) fn findings(drawn: &Drawn) -> Vec<Told> {
    falls_apart(drawn).into_iter().chain(too_much(drawn)).collect()
}

fn falls_apart(drawn: &Drawn) -> Option<Told> {
    if drawn.apart.is_empty() {
        return None;
    }
    let pieces: Vec<String> = drawn.apart.iter().map(|island| and(&parts(island))).collect();
    Some(Told {
        id: "apart".into(),
        sentence: format!("No join leads from one to the other: {}.", pieces.join("; ")),
        sure: "Certain as traced: a join is missing, or two instruments stand in one trace.".into(),
        next: vec![Step {
            id: "wiring-apart".into(),
            words: "Look for the lead between them, ground first.".into(),
            why: "One join makes them one circuit; two instruments are two jobs.".into(),
            ..Step::default()
        }],
        ..Told::default()
    })
}

fn too_much(drawn: &Drawn) -> Option<Told> {
    let (parts, joins) = MOST;
    (!drawn.fits).then(|| Told {
        id: "not-drawn".into(),
        sentence: format!(
            "The circuit is not drawn: it has {} and {}, and a drawing that can be followed holds {parts} and {joins}.",
            count(drawn.circuit.parts.len(), "part", "parts"),
            count(drawn.circuit.joins.len(), "join", "joins"),
        ),
        sure: "Every line is kept, and the sheet to print lists every join.".into(),
        ..Told::default()
    })
}

/// The drawing on a sheet of its own, to be printed and checked off at the bench.
#[derive(Debug, Clone)]
pub struct DrawingSheet {
    /// What can hurt, first.
    pub caution: String,
    /// How to use it.
    pub about: String,
    /// The drawing; `None` where it cannot be drawn.
    pub figure: Option<Figure>,
    /// Why there is none, or nothing.
    pub instead: String,
    /// Every join.
    pub joins: Table,
}

/// The sheet of a job's drawing.
pub fn drawing_sheet(job: &Job, view: View) -> DrawingSheet {
    let drawn = study(job, view);
    let (figure, instead) = match shown(drawn.as_ref()) {
        Ok(figure) => (Some(figure), String::new()),
        Err(instead) => (None, instead),
    };
    DrawingSheet {
        caution: cautions::metering(job).to_owned(),
        about: "Check one join after the other with the meter: lug to lug, at the letter. Tick it here and note what reads otherwise.".to_owned(),
        figure,
        instead,
        joins: drawn.as_ref().map(joins).unwrap_or_default(),
    }
}

/// The drawing of a trace that stands by itself.
///
/// # Errors
/// Why there is none, as a sentence.
pub fn drawing_of(text: &str, view: View) -> Result<Figure, String> {
    shown(of_text(text, view).as_ref())
}

fn shown(drawn: Option<&Drawn>) -> Result<Figure, String> {
    let Some(drawn) = drawn else {
        return Err(
            "Nothing of the circuit is traced yet: a part comes first, as in “coil neck 7k2”.".to_owned()
        );
    };
    figure(drawn).ok_or_else(|| too_much(drawn).map(|told| told.sentence).unwrap_or_default())
}

/// Every join as drawn: the letter of its line, its ends, how it is known, and room for a tick.
fn joins(drawn: &Drawn) -> Table {
    let plot = Plot::circuit(drawn.circuit.clone());
    let mut table = Table::with("Every join", &["line", "from", "to", "how it is known", "checked"]);
    table.rows = plot
        .table()
        .rows
        .into_iter()
        .map(|mut row| {
            row.push(String::new());
            row
        })
        .collect();
    table
}
