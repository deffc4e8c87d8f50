//! Bands and dots on a capacitor. They count picofarads.
//!
//! The manners are those of moulded paper tubes and moulded mica blocks of the 1940s to 1960s. The figures of value agree
//! in all lists; those of tolerance do not, and are answered with who says so.

use super::{Colour, MarkFault, Marked, MarkedTolerance, PLACES, digit, value};
use crate::decimal::Decimal;
use crate::quantity::{Farads, Volts};

/// What the first dot says it is filled with (lists of the time, from memory).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dielectric {
    /// White: mica, of the trade's own code; black: mica, of the forces' code.
    Mica,
    /// Silver: paper.
    Paper,
}

/// A capacitor's marking, read.
#[derive(Debug, Clone, PartialEq)]
pub struct CapacitorMark {
    /// Capacitance and tolerance.
    pub marked: Marked<Farads>,
    /// The direct voltage it is made for, where that is marked.
    pub voltage: Option<Volts>,
    /// What it is filled with, where that is marked.
    pub dielectric: Option<Dielectric>,
}

/// A tubular capacitor: two figures, power of ten in picofarads, tolerance, and one or two figures of hundreds of volts,
/// from the crowded end.
///
/// # Errors
/// [`MarkFault`] with the colour that cannot stand where it stands.
pub fn capacitor_bands(bands: &[Colour]) -> Result<CapacitorMark, MarkFault> {
    if !(3..=6).contains(&bands.len()) {
        return Err(MarkFault::Count { found: bands.len(), wanted: "a banded capacitor has three to six" });
    }
    let digits = [digit(bands, 0)?, digit(bands, 1)?];
    let tolerance = bands.get(3).map_or(MarkedTolerance::Unknown, |colour| tube_tolerance(*colour));
    let volts = (4..bands.len()).map(|at| digit(bands, at)).collect::<Result<Vec<u8>, _>>()?;
    let voltage = (!volts.is_empty()).then(|| Volts(value(&volts, 2, 0)));
    let farads = Farads(value(&digits, bands[2].power(), -12));
    Ok(CapacitorMark { marked: Marked { value: farads, tolerance }, voltage, dielectric: None })
}

/// Six dots on a moulded block, read along the arrow: above from the left, below from the left. Above stand what it is
/// filled with and two figures; below, from the right, the power of ten in picofarads, the tolerance, and a class that
/// says nothing of the value. A dot that cannot be read is `None`; the class need not be.
///
/// # Errors
/// [`MarkFault`] with the colour that cannot stand where it stands, or where a dot that the value needs is not read.
pub fn capacitor_dots(
    above: [Option<Colour>; 3],
    below: [Option<Colour>; 3],
) -> Result<CapacitorMark, MarkFault> {
    let needed = [above[0], above[1], above[2], below[2]];
    let needed: Vec<Colour> = needed.into_iter().flatten().collect();
    let [kind, first, second, power] = needed.as_slice() else {
        return Err(MarkFault::Count {
            found: needed.len(),
            wanted: "the value needs the three dots above and the right one below",
        });
    };
    let dielectric = match kind {
        Colour::White | Colour::Black => Dielectric::Mica,
        Colour::Silver => Dielectric::Paper,
        other => {
            let role = "white or black for mica, silver for paper";
            return Err(MarkFault::Place { colour: *other, place: PLACES[0], role });
        }
    };
    let figures = [*kind, *first, *second];
    let digits = [digit(&figures, 1)?, digit(&figures, 2)?];
    let tolerance = below[1].map_or(MarkedTolerance::Unknown, mica_tolerance);
    let farads = Farads(value(&digits, power.power(), -12));
    let marked = Marked { value: farads, tolerance };
    Ok(CapacitorMark { marked, voltage: None, dielectric: Some(dielectric) })
}

/// Black 20 %, silver 10 %, gold 5 % (lists of the time, from memory); of the others they say different things.
fn tube_tolerance(colour: Colour) -> MarkedTolerance {
    match colour {
        Colour::Black => MarkedTolerance::Percent(Decimal::whole(20)),
        Colour::Silver => MarkedTolerance::Percent(Decimal::whole(10)),
        Colour::Gold => MarkedTolerance::Percent(Decimal::whole(5)),
        _ => MarkedTolerance::Unknown,
    }
}

/// Black 20 %, silver 10 %, gold and green 5 %, red 2 %. Blue is disputed: the figure it stands for elsewhere is 6, and
/// a training text on electronic components (http://armyordnance.tpub.com/OD1647) prints 2 % for it. The other colours are
/// read as their figure, from memory.
fn mica_tolerance(colour: Colour) -> MarkedTolerance {
    let percent = |percent| MarkedTolerance::Percent(Decimal::whole(percent));
    match colour {
        Colour::Black => percent(20),
        Colour::Silver => percent(10),
        Colour::Gold | Colour::Green => percent(5),
        Colour::Red => percent(2),
        Colour::Blue => MarkedTolerance::Disputed(vec![
            (Decimal::whole(6), "the figure of the colour, by code"),
            (Decimal::whole(2), "a training text, OD 1647"),
        ]),
        other => other.digit().map_or(MarkedTolerance::Unknown, |figure| percent(i64::from(figure))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bands(text: &str) -> CapacitorMark {
        capacitor_bands(&Colour::read_all(text).unwrap()).unwrap_or_else(|fault| panic!("{text}: {fault}"))
    }

    fn dots(text: &str) -> Result<CapacitorMark, MarkFault> {
        let six: Vec<Option<Colour>> = text.split_whitespace().map(Colour::read).collect();
        capacitor_dots([six[0], six[1], six[2]], [six[3], six[4], six[5]])
    }

    #[test]
    fn a_banded_tube_of_the_late_1950s() {
        // A practitioners' case, no source: red red orange, black, yellow is 0.022 µF, 20 %, 400 V.
        let read = bands("red red orange black yellow");
        assert_eq!(read.marked.value, Farads(22e-9));
        assert_eq!(read.marked.tolerance, MarkedTolerance::Percent(Decimal::whole(20)));
        assert_eq!(read.voltage, Some(Volts(400.0)));
        assert_eq!(bands("brown black yellow black brown red").voltage, Some(Volts(1200.0)));
        assert_eq!(bands("brown black yellow white").marked.tolerance, MarkedTolerance::Unknown);
    }

    #[test]
    fn six_dots_with_a_disputed_tolerance() {
        // The worked figure of the training text OD 1647: white, brown, red above; red right, blue centre below.
        let read = dots("white brown red ? blue red").unwrap();
        assert_eq!((read.marked.value, read.dielectric), (Farads(1200e-12), Some(Dielectric::Mica)));
        let MarkedTolerance::Disputed(said) = read.marked.tolerance else { panic!("disputed") };
        assert_eq!(said.iter().map(|(percent, _)| percent.to_f64()).collect::<Vec<_>>(), [6.0, 2.0]);
    }

    #[test]
    fn dots_that_cannot_be_read_are_said() {
        assert!(dots("white ? red red blue red").unwrap_err().to_string().contains("three dots above"));
        assert!(dots("green brown red red blue red").unwrap_err().to_string().contains("green cannot be"));
    }
}
