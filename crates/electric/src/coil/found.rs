//! What was found on a coil: readings, measures and what the eye saw; checked before it is weighed.

use super::construction::Construction;
use super::feature::Feature;
use asfound_measure::{Celsius, Henries, Hertz, Millimetres, Ohms, Quantity, Ratio, Uncertain};

/// What is known of a coil's temperature when its ohms were read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Temperature {
    /// Measured, with its standard uncertainty.
    Measured(Uncertain<Celsius>),
    /// Nobody wrote it; taken as a room (its ends are opinions).
    NotSaid,
    /// Said to be cold: from the van, from a cold house.
    Cold,
    /// Said to be warm: in the sun, from the hand, near a lamp.
    Warm,
}

/// What the ohmmeter showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// A value, with the standard uncertainty of this one reading (digits, leads), *without* the meter's gain error.
    Ohms(Uncertain<Ohms>),
    /// Over the end of the range: a bound, not a number.
    Over(Ohms),
}

/// A reading of the coil's resistance, coil alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OhmsReading {
    /// What was shown.
    pub shown: Shown,
    /// How warm the coil was.
    pub temperature: Temperature,
    /// Which meter, by any number the caller likes. Readings with one number share the gain error.
    pub meter: u32,
    /// Standard uncertainty of that meter's gain, as a fraction (0.004 for four in a thousand).
    pub gain_uncertainty: f64,
}

/// A figure read at a frequency on a bridge, series equivalent, nothing else connected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At<Q> {
    /// The frequency.
    pub frequency: Hertz,
    /// What was read.
    pub read: Uncertain<Q>,
}

/// When the coil is taken to have been made, both years included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// Not before.
    pub from: i32,
    /// Not after.
    pub to: i32,
}

/// Everything that was found on one coil. What is not there was not looked at; nothing is filled in for it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// Readings of resistance.
    pub ohms: Vec<OhmsReading>,
    /// Depth of the winding on its former, measured at the side.
    pub depth: Option<Uncertain<Millimetres>>,
    /// Width over the winding, across the former, from outside to outside.
    pub outer_width: Option<Uncertain<Millimetres>>,
    /// Length over the winding, along the former.
    pub outer_length: Option<Uncertain<Millimetres>>,
    /// Height of the winding between its plates.
    pub winding_height: Option<Uncertain<Millimetres>>,
    /// Series inductance at given frequencies.
    pub inductance: Vec<At<Henries>>,
    /// Quality factor `Q = ωL_s/R_s` at given frequencies.
    pub quality: Vec<At<Ratio>>,
    /// Diameter of the wire over its insulation, by micrometer on a loose end.
    pub wire_over_insulation: Option<Uncertain<Millimetres>>,
    /// Diameter of the bare copper, where an end is bare already. Nothing is ever scraped for it.
    pub wire_bare: Option<Uncertain<Millimetres>>,
    /// What was seen, in words.
    pub features: Vec<Feature>,
    /// What kind of coil it is; `None` where that is not known, and all kinds are gone over.
    pub construction: Option<Construction>,
    /// When it is taken to have been made; `None` where that is not known, and all periods are gone over.
    pub period: Option<Period>,
}

/// A piece of what was found, as the answer refers to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Piece {
    /// All readings of resistance together.
    Ohms,
    /// [`Found::depth`].
    Depth,
    /// [`Found::outer_width`].
    OuterWidth,
    /// [`Found::outer_length`].
    OuterLength,
    /// [`Found::winding_height`].
    WindingHeight,
    /// The inductance at this place of [`Found::inductance`].
    Inductance(usize),
    /// The quality factor at this place of [`Found::quality`].
    Quality(usize),
    /// [`Found::wire_over_insulation`].
    WireOverInsulation,
    /// [`Found::wire_bare`].
    WireBare,
    /// Something seen.
    Seen(Feature),
}

/// Why what was found cannot be weighed. Each names the place and what would be right.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FoundError {
    /// Nothing at all was found.
    #[error("nothing was found yet; read the ohms of the coil, or say one thing that is seen on it")]
    Nothing,
    /// A figure that must be more than nothing is not.
    #[error("{what} is {value}; it must be a number above 0")]
    NotPositive {
        /// Which figure.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// An uncertainty that is not a number, is negative, or is nothing.
    #[error("the uncertainty of {what} is {value}; no measure is perfect, so it must be a number above 0")]
    Uncertainty {
        /// Of which figure.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// A temperature no coil is measured at.
    #[error("{0} °C is outside −40 °C to 150 °C; check whether it was typed in °F")]
    Temperature(f64),
    /// A period that ends before it begins.
    #[error("the period from {0} to {1} ends before it begins")]
    Period(i32, i32),
    /// Two things were said of which only one can be true.
    #[error("\"{}\" and \"{}\" cannot both be; keep the one that is seen", .0.words(), .1.words())]
    Contradiction(Feature, Feature),
    /// One thing was said twice: it would count twice.
    #[error("\"{}\" is said twice; once is enough", .0.words())]
    Twice(Feature),
    /// Bare wire that is thicker than the insulated one.
    #[error("the wire is {bare} mm bare and {over} mm over its insulation; one of the two is mistaken")]
    WireInsideOut {
        /// Diameter over the copper.
        bare: f64,
        /// Diameter over the insulation.
        over: f64,
    },
}

impl Found {
    /// The pieces, in a fixed order.
    pub fn pieces(&self) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut given = |there: bool, piece: Piece| {
            if there {
                pieces.push(piece);
            }
        };
        given(!self.ohms.is_empty(), Piece::Ohms);
        given(self.depth.is_some(), Piece::Depth);
        given(self.outer_width.is_some(), Piece::OuterWidth);
        given(self.outer_length.is_some(), Piece::OuterLength);
        given(self.winding_height.is_some(), Piece::WindingHeight);
        (0..self.inductance.len()).for_each(|place| given(true, Piece::Inductance(place)));
        (0..self.quality.len()).for_each(|place| given(true, Piece::Quality(place)));
        given(self.wire_over_insulation.is_some(), Piece::WireOverInsulation);
        given(self.wire_bare.is_some(), Piece::WireBare);
        self.features.iter().for_each(|feature| given(true, Piece::Seen(*feature)));
        pieces
    }

    /// Whether it can be weighed.
    ///
    /// # Errors
    /// The first [`FoundError`] in it.
    pub fn check(&self) -> Result<(), FoundError> {
        if self.pieces().is_empty() {
            return Err(FoundError::Nothing);
        }
        self.ohms.iter().try_for_each(check_ohms)?;
        for (what, measure) in [
            ("depth of the winding, in mm", self.depth),
            ("outer width, in mm", self.outer_width),
            ("outer length, in mm", self.outer_length),
            ("winding height, in mm", self.winding_height),
            ("wire over its insulation, in mm", self.wire_over_insulation),
            ("bare wire, in mm", self.wire_bare),
        ] {
            measure.map_or(Ok(()), |measure| uncertain(what, measure))?;
        }
        for At { frequency, read } in &self.inductance {
            positive("frequency, in Hz", frequency.value())?;
            uncertain("inductance, in H", *read)?;
        }
        for At { frequency, read } in &self.quality {
            positive("frequency, in Hz", frequency.value())?;
            uncertain("quality factor", *read)?;
        }
        if let (Some(bare), Some(over)) = (self.wire_bare, self.wire_over_insulation) {
            let doubt = 3.0 * (bare.standard_uncertainty + over.standard_uncertainty).value();
            let (bare, over) = (bare.value.value(), over.value.value());
            if bare > over + doubt {
                return Err(FoundError::WireInsideOut { bare, over });
            }
        }
        self.check_features()?;
        match self.period {
            Some(Period { from, to }) if from > to => Err(FoundError::Period(from, to)),
            _ => Ok(()),
        }
    }

    fn check_features(&self) -> Result<(), FoundError> {
        for (place, feature) in self.features.iter().enumerate() {
            for other in &self.features[..place] {
                if other == feature {
                    return Err(FoundError::Twice(*feature));
                }
                if other.about() == feature.about() {
                    return Err(FoundError::Contradiction(*other, *feature));
                }
            }
        }
        Ok(())
    }
}

fn check_ohms(reading: &OhmsReading) -> Result<(), FoundError> {
    match reading.shown {
        Shown::Ohms(ohms) => uncertain("resistance, in Ω", ohms)?,
        Shown::Over(bound) => positive("end of the range, in Ω", bound.value())?,
    }
    let gain = reading.gain_uncertainty;
    if !(0.0..0.5).contains(&gain) {
        return Err(FoundError::Uncertainty { what: "the meter's gain", value: gain });
    }
    if let Temperature::Measured(temperature) = reading.temperature {
        let celsius = temperature.value.value();
        if !(-40.0..=150.0).contains(&celsius) {
            return Err(FoundError::Temperature(celsius));
        }
        let doubt = temperature.standard_uncertainty.value();
        if !(0.0..50.0).contains(&doubt) {
            return Err(FoundError::Uncertainty { what: "temperature, in °C", value: doubt });
        }
    }
    Ok(())
}

fn uncertain<Q: Quantity>(what: &'static str, figure: Uncertain<Q>) -> Result<(), FoundError> {
    positive(what, figure.value.size())?;
    let value = figure.standard_uncertainty.size();
    if value > 0.0 && value.is_finite() { Ok(()) } else { Err(FoundError::Uncertainty { what, value }) }
}

fn positive(what: &'static str, value: f64) -> Result<(), FoundError> {
    if value > 0.0 && value.is_finite() { Ok(()) } else { Err(FoundError::NotPositive { what, value }) }
}
