//! Bands on a resistor.

use super::{Colour, MarkFault, Marked, MarkedTolerance, PLACES, digit, value};
use crate::decimal::Decimal;
use crate::quantity::Ohms;

/// Three to five bands from the crowded end: figures, power of ten, tolerance (IEC 60062). Without a band for it the
/// tolerance is 20 %.
///
/// Orange, yellow and grey as a tolerance are disputed: an older list gives 3 and 4 % for the first two, IEC 60062:2016
/// gives 0.05, 0.02 and 0.01 % (from memory, fairly sure). On a part older than that edition neither is certain.
///
/// # Errors
/// [`MarkFault`] with the colour that cannot stand where it stands.
pub fn resistor_bands(bands: &[Colour]) -> Result<Marked<Ohms>, MarkFault> {
    let figures = match bands.len() {
        3 | 4 => 2,
        5 => 3,
        found => return Err(MarkFault::Count { found, wanted: "a resistor has three to five bands" }),
    };
    let digits = (0..figures).map(|at| digit(bands, at)).collect::<Result<Vec<u8>, _>>()?;
    let tolerance = match bands.get(figures + 1) {
        None => MarkedTolerance::Percent(Decimal::whole(20)),
        Some(&colour) => tolerance(colour, figures + 1)?,
    };
    Ok(Marked { value: Ohms(value(&digits, bands[figures].power(), 0)), tolerance })
}

fn tolerance(colour: Colour, at: usize) -> Result<MarkedTolerance, MarkFault> {
    if let Some(percent) = colour.resistor_percent() {
        return Ok(MarkedTolerance::Percent(percent));
    }
    const OLD: &str = "an older list";
    const NEW: &str = "IEC 60062:2016, from memory";
    let hundredths = |mantissa| Decimal { mantissa, exponent: -2 };
    Ok(match colour {
        Colour::Orange => MarkedTolerance::Disputed(vec![(Decimal::whole(3), OLD), (hundredths(5), NEW)]),
        Colour::Yellow => MarkedTolerance::Disputed(vec![(Decimal::whole(4), OLD), (hundredths(2), NEW)]),
        Colour::Grey => MarkedTolerance::Disputed(vec![(hundredths(1), NEW)]),
        _ => return Err(MarkFault::Place { colour, place: PLACES[at], role: "a tolerance" }),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Marked<Ohms> {
        resistor_bands(&Colour::read_all(text).unwrap()).unwrap_or_else(|fault| panic!("{text}: {fault}"))
    }

    #[test]
    fn bands() {
        // IEC 60062; the first five are a practitioners' list of parts, no source, worked out by the standard.
        for (text, ohms, percent) in [
            ("yellow violet yellow silver", 470e3, 10),
            ("red red green silver", 2.2e6, 10),
            ("orange orange black gold", 33.0, 5),
            ("white brown brown gold", 910.0, 5),
            ("brown red gold gold", 1.2, 5),
            ("brown black yellow", 100e3, 20),
            ("yellow violet orange gold", 47e3, 5),
            ("brown green yellow silver", 150e3, 10),
            ("brown black black red brown", 10e3, 1),
            ("red red silver gold", 0.22, 5),
        ] {
            let read = read(text);
            assert_eq!(read.value, Ohms(ohms), "{text}");
            assert_eq!(read.tolerance, MarkedTolerance::Percent(Decimal::whole(percent)), "{text}");
        }
    }

    #[test]
    fn what_lists_dispute_is_shown_with_both() {
        let MarkedTolerance::Disputed(said) = read("brown black red yellow").tolerance else {
            panic!("disputed")
        };
        assert_eq!(said.iter().map(|(percent, _)| percent.to_f64()).collect::<Vec<_>>(), [4.0, 0.02]);
    }

    #[test]
    fn what_is_no_marking_names_the_place() {
        let fault = |text: &str| resistor_bands(&Colour::read_all(text).unwrap()).unwrap_err().to_string();
        assert_eq!(
            fault("gold orange orange black"),
            "gold cannot be the first colour, which is a figure; begin at the end where the colours crowd"
        );
        assert_eq!(
            fault("red red red white"),
            "white cannot be the fourth colour, which is a tolerance; begin at the end where the colours crowd"
        );
        assert_eq!(fault("red red"), "2 colours; a resistor has three to five bands");
    }
}
