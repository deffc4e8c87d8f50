//! A coil pair read whole and by one half, in words: what the other half must be, and what that does not explain.

use asfound_measure::{Ohms, engineering};
use asfound_study::readings::ReadingStudied;

use crate::lists::capital;
use crate::sheet::{Rest, Step, Told};

/// Halves that differ by more than this share are unusual. Common practice, no source.
const USUAL: f64 = 0.2;

/// Findings about parts that were read whole and by one half.
pub(crate) fn halves(readings: &[ReadingStudied]) -> Vec<Told> {
    readings
        .iter()
        .filter(|half| half.quantity == "resistance of one half")
        .filter_map(|half| told(readings, half))
        .collect()
}

fn told(readings: &[ReadingStudied], half: &ReadingStudied) -> Option<Told> {
    let whole = readings.iter().rev().find(|it| it.part == half.part && it.quantity == "resistance")?;
    let (all, one) = (whole.shown.as_ref()?.value, half.shown.as_ref()?.value);
    let other = all - one;
    if other <= 0.0 {
        return None;
    }
    let ohms = |ohms: f64| engineering(ohms, 2, Ohms::SYMBOL);
    let differ = one.max(other) / one.min(other) - 1.0;
    let unusual = if differ > USUAL { ", which is unusual" } else { "" };
    Some(Told {
        id: format!("halves-{}", half.root),
        sentence: format!(
            "{} in series leaves {} for the other half: the halves differ by {:.0} %{unusual}.",
            capital(&half.name),
            ohms(other),
            differ * 100.0
        ),
        sure: "Both conduct, so an open coil explains no silence; what it cannot support it does not say. It may have been read in circuit.".into(),
        next: vec![Step {
            id: format!("halves-alone-{}", half.root),
            words: format!("Read the {} out of circuit, each lead against its screen too; then tap each half with steel.", half.name),
            why: "Suspects are the jack or cable, a short to the screen, or something else across it when it was read.".into(),
            caution: "Unplug from any amplifier first.".into(),
            ..Step::default()
        }],
        rests_on: Rest::on_all([whole.seq, half.seq]),
        working: vec![format!("{} whole, less {} of one half.", ohms(all), ohms(one))],
        assumptions: vec!["The two halves are in series.".into()],
        ..Told::default()
    })
}
