//! How long materials take by themselves, and what the room's temperature does to that.

use crate::table::{Row, TableFault, rows};
use crate::three_point::ThreePoint;
use asfound_measure::Celsius;

/// A material that takes time of its own, up to a stated point.
#[derive(Debug, Clone, PartialEq)]
pub struct Cure {
    /// Its id in the table.
    pub id: String,
    /// Which material, and until when, in words.
    pub material: String,
    /// How long at 20 °C.
    pub hours: ThreePoint,
    /// How many times longer for each 10 °C colder, least and most; none where no figure is known.
    pub per_ten_colder: Option<(f64, f64)>,
    /// Under which it does not cure; none where that is not known.
    pub not_under: Option<Celsius>,
    /// Where the figures are from.
    pub source: String,
}

/// Between which temperatures the work stands while it cures. Where it was not measured, the range that is taken for
/// the room; where it was, that figure twice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// The coldest.
    pub coldest: Celsius,
    /// The warmest.
    pub warmest: Celsius,
}

/// How long a material takes in a room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CureTime {
    /// How long.
    pub hours: ThreePoint,
    /// Whether the temperature was reckoned with. If not, no figure for it is known: ask the data sheet, and count on
    /// longer in a room under 20 °C.
    pub temperature_reckoned: bool,
}

/// It does not cure there.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error(
    "“{material}” does not cure under {} °C, and the room was given as down to {} °C; warm the work, or take another material",
    not_under.0, coldest.0
)]
pub struct TooCold {
    /// Which material.
    pub material: String,
    /// Its limit.
    pub not_under: Celsius,
    /// The room.
    pub coldest: Celsius,
}

impl Cure {
    /// How long it takes in a room. The least figure is for the warmest, the most for the coldest; a rate that grows two
    /// to three times with 10 °C (J. H. van 't Hoff, *Études de dynamique chimique*, 1884) is used with whichever of its
    /// two ends makes the range wider, and with its geometric middle for the likely figure.
    ///
    /// # Errors
    /// [`TooCold`].
    pub fn time(&self, room: Room) -> Result<CureTime, TooCold> {
        let Room { coldest, warmest } = room;
        if let Some(not_under) = self.not_under
            && coldest < not_under
        {
            return Err(TooCold { material: self.material.clone(), not_under, coldest });
        }
        let Some((least, most)) = self.per_ten_colder else {
            return Ok(CureTime { hours: self.hours, temperature_reckoned: false });
        };
        let tens = |at: Celsius| (20.0 - at.0) / 10.0;
        let (warm, cold) = (tens(warmest), tens(coldest));
        let short = f64::min(libm::pow(least, warm), libm::pow(most, warm));
        let long = f64::max(libm::pow(least, cold), libm::pow(most, cold));
        let likely = libm::pow((least * most).sqrt(), (warm + cold) / 2.0);
        Ok(CureTime { hours: self.hours.stretched(short, likely, long), temperature_reckoned: true })
    }
}

/// Reads the table.
pub(super) fn read(text: &str) -> Result<Vec<Cure>, TableFault> {
    let heading = ["id", "material", "hours", "per_ten_colder", "not_under", "source"];
    rows("cures", text, heading)?.iter().map(cure).collect()
}

fn cure(row: &Row<6>) -> Result<Cure, TableFault> {
    let [id, material, hours, per_ten_colder, not_under, source] = row.fields;
    let hours = row.hours(material, hours)?;
    Ok(Cure {
        id: id.to_owned(),
        material: material.to_owned(),
        hours: hours.ok_or_else(|| row.wrong("-", "three hours, as 12 24 72"))?,
        per_ten_colder: factors(row, per_ten_colder)?,
        not_under: match not_under {
            "-" => None,
            _ => Some(Celsius(
                not_under.parse().map_err(|_| row.wrong(not_under, "degrees Celsius, as 10, or -"))?,
            )),
        },
        source: source.to_owned(),
    })
}

fn factors(row: &Row<6>, field: &str) -> Result<Option<(f64, f64)>, TableFault> {
    if field == "-" {
        return Ok(None);
    }
    let read: Vec<f64> = field.split_whitespace().filter_map(|one| one.parse().ok()).collect();
    match read[..] {
        [least, most] if (1.0..=most).contains(&least) && most <= 100.0 => Ok(Some((least, most))),
        _ => Err(row.wrong(field, "two factors from 1 up, the smaller first, as 2 3, or -")),
    }
}
