//! A sweep in words: the coil that explains it, and what it says of shorted turns.

use asfound_measure::{Farads, Henries, Hertz, Ohms, Quantity, Uncertain, engineering, show_expanded};
use asfound_study::sweeps::{Kind, Measured, NotTold, ShortedTurns, SweepStudied, plot};

use crate::lists::capital;
use crate::sheet::{Figure, Rest, Step, Table, Told};

/// The finding about one measurement that came as files.
pub(crate) fn sweep(studied: &SweepStudied) -> Told {
    let mut told = match &studied.told {
        Ok(measured) => said(studied, measured),
        Err(trouble) => Told {
            sentence: format!("The {} of the {} cannot be read yet.", studied.how, studied.name),
            sure: format!("{}. It is kept as it came.", capital(trouble)),
            next: vec![Step {
                id: format!("sweep-again-{}", studied.seq),
                words: "Keep the file again once that is put right.".into(),
                why: "The one that was kept stays.".into(),
                ..Step::default()
            }],
            ..Told::default()
        },
    };
    told.id = format!("sweep-{}", studied.seq);
    told.rests_on = vec![Rest::on(studied.seq)];
    told.working.extend(studied.notes.iter().map(|note| format!("{}.", capital(note.trim_end_matches('.')))));
    told
}

fn said(studied: &SweepStudied, measured: &Measured) -> Told {
    let fitted = &measured.fitted;
    let name = capital(&studied.name);
    if !fitted.explained() {
        return Told {
            sentence: format!("{name}: no model of a coil runs through this sweep."),
            sure: "Something else lay across it, or a lead moved on the way; nothing is read off it.".into(),
            figures: vec![figure(studied, measured)],
            ..Told::default()
        };
    }
    let (words, sure) = shorted(fitted.shorted_turns);
    Told {
        sentence: format!(
            "{name} by its sweep: {}, {}, {}; {words}.",
            either(&fitted.resistance),
            either(&fitted.inductance),
            either(&fitted.capacitance)
        ),
        sure: sure.into(),
        tables: vec![values(measured), tried(measured)],
        figures: vec![figure(studied, measured)],
        working: vec![
            "Least squares over magnitude and phase (Levenberg and Marquardt); the simplest model is taken that explains the points nearly as well as any (Akaike's criterion for few readings). A figure that the points cannot tell is refused, not guessed.".into(),
        ],
        assumptions: vec![
            "Above a ratio of 1.01 between the inductances at 120 Hz and 1 kHz iron or a short is taken to be at work, below nine tenths of the Q that the wire alone would give a loss (common practice, no source).".into(),
        ],
        would_change: vec!["A cable left on the coil, a metal cover, or steel lying near it.".into()],
        ..Told::default()
    }
}

fn shorted(turns: ShortedTurns) -> (&'static str, &'static str) {
    match turns {
        ShortedTurns::NothingSeen => (
            "nothing speaks for shorted turns",
            "The wire explains the losses up to 1 kHz; a short of a few turns in thousands would not show there, but it would at 10 kHz.",
        ),
        ShortedTurns::AsSteel => (
            "its inductance falls with frequency as steel cores do it",
            "With little loss for it: no sign of a short.",
        ),
        ShortedTurns::LossWithoutSteel => (
            "it loses more than its wire explains",
            "A metal cover does that, a leak across the coil, or many turns shorted; its inductance hardly falls.",
        ),
        ShortedTurns::SteelOrShort => (
            "steel, a cover or shorted turns make it lossy, and the sweep alone cannot tell which",
            "What it is made of, and its ohms against what its wire and turns should give, tell them apart.",
        ),
        ShortedTurns::CannotTell => (
            "of shorted turns it tells nothing",
            "The points do not fix its resistance and inductance well enough.",
        ),
    }
}

fn either<Q: Quantity>(value: &Result<Uncertain<Q>, NotTold>) -> String {
    match value {
        Ok(value) => show_expanded(*value),
        Err(_) => format!("{} not told by it", Q::UNIT),
    }
}

fn row<Q: Quantity>(name: &str, value: &Result<Uncertain<Q>, NotTold>) -> Vec<String> {
    let words = match value {
        Ok(value) => show_expanded(*value),
        Err(why) => why.to_string(),
    };
    vec![name.to_owned(), words]
}

fn values(measured: &Measured) -> Table {
    let fitted = &measured.fitted;
    let mut table = Table::with("What the sweep says", &["of the coil", "value"]);
    table.rows.push(row::<Ohms>("resistance of the wire, as warm as it was", &fitted.resistance));
    table.rows.push(row::<Henries>("inductance, at low frequency", &fitted.inductance));
    table.rows.push(row::<Farads>("capacitance, with leads and instrument", &fitted.capacitance));
    if let Some(loss) = &fitted.parallel_loss {
        table.rows.push(row::<Ohms>("loss across the whole coil", loss));
    }
    for eddy in &fitted.eddies {
        table.rows.push(row::<Henries>("inductance that eddy currents shunt", &eddy.inductance));
        table.rows.push(row::<Ohms>("their loss", &eddy.loss));
    }
    if let Some(frequency) = fitted.resonance_frequency {
        let inside = measured.sweep.span().1.0 >= frequency.value.0;
        let carried = if inside { "" } else { ", carried on past the sweep's end" };
        table.rows.push(row::<Hertz>(&format!("resonance of the coil alone{carried}"), &Ok(frequency)));
    }
    for loss in &fitted.losses {
        table.rows.push(vec![
            format!("Q at {}", engineering(loss.frequency.0, 2, Hertz::UNIT)),
            format!("{:.2}, of {:.2} with no loss but the wire's", loss.quality, loss.of_wire_alone),
        ]);
    }
    table
}

fn tried(measured: &Measured) -> Table {
    let mut table = Table::with("Models tried", &["model", "#left over, % of the impedance", "taken"]);
    table.rows = measured
        .fitted
        .tried
        .iter()
        .map(|it| {
            let left = it.residual.map_or("no fit".to_owned(), |share| format!("{:.2}", share * 100.0));
            let taken = if it.kind == measured.fitted.kind { "taken" } else { "" };
            vec![kind(it.kind).to_owned(), left, taken.to_owned()]
        })
        .collect();
    table
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Plain => "resistance and inductance, a capacitance across",
        Kind::ParallelLoss => "with a loss across the whole",
        Kind::OneEddy => "with part of the inductance shunted by eddy currents",
        Kind::TwoEddies => "with two such parts",
    }
}

fn figure(studied: &SweepStudied, measured: &Measured) -> Figure {
    Figure {
        id: format!("sweep-{}", studied.seq),
        caption: format!("Impedance of the {}, in decibels over 1 kΩ.", studied.name),
        plot: plot(measured, &format!("Impedance of the {}", studied.name)),
    }
}
