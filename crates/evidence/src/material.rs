//! Materials and techniques that came into use, or went out of it, in known years.
//!
//! **A material dates the part or the side of it that it is on, and nothing else**: a later part proves a later part,
//! not a later object. **A year is a ramp and never a step**: sources differ, new things were tried before they were
//! sold, and an eye may take one material for another. So a month before the first year keeps [`FLOOR`] of its weight.
//!
//! ```
//! use asfound_evidence::{Month, Span, material};
//!
//! let film = material::material("polyester-capacitor").unwrap();
//! let made = film.made_in(Span::years(1940, 1970).unwrap());
//! assert_eq!(made.at(Month::january(1950)), material::FLOOR);
//! assert_eq!(made.at(Month::january(1960)), 1.0);
//! ```

use std::sync::LazyLock;

use crate::aspect::Aspect;
use crate::made_in::MadeIn;
use crate::month::{Month, Span};
use crate::table::rows;

/// The weight that is left to months in which a material was not in use: it may have been taken for another, or been
/// used earlier than was published. Stated assumption, common practice, no source.
pub const FLOOR: f64 = 0.02;

/// A material or technique with its years.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Material {
    /// Its id in the table.
    pub id: &'static str,
    /// Its name in plain words.
    pub name: &'static str,
    /// What of a part it dates.
    pub dates: Aspect,
    /// How it came into use, where that is known and bounds anything.
    pub not_before: Option<Ramp>,
    /// How it went out of use, where it did.
    pub not_after: Option<Ramp>,
    /// Where the years are from.
    pub source: &'static str,
    /// What limits them; may be empty.
    pub note: &'static str,
}

/// From a year in which it began to a year in which it was complete, January each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ramp {
    /// The year.
    pub from: i16,
    /// The later year.
    pub to: i16,
}

impl Ramp {
    /// How far it has gone in a month: 0 up to January of the first year, 1 from January of the second, straight between.
    pub fn at(self, month: Month) -> f64 {
        let (from, to) = (Month::january(self.from), Month::january(self.to));
        (f64::from(month - from) / f64::from((to - from).max(1))).clamp(0.0, 1.0)
    }
}

static MATERIALS: LazyLock<Vec<Material>> = LazyLock::new(|| {
    rows(include_str!("../data/materials.tsv"))
        .filter_map(|[id, name, dates, from, to, until, gone, source, note]| {
            let ramp = |from: &str, to: &str| Some(Ramp { from: from.parse().ok()?, to: to.parse().ok()? });
            Some(Material {
                id,
                name,
                dates: dates.parse().ok()?,
                not_before: ramp(from, to),
                not_after: ramp(until, gone),
                source,
                note: if note == "-" { "" } else { note },
            })
        })
        .collect()
});

/// Every material of the table.
pub fn materials() -> &'static [Material] {
    &MATERIALS
}

/// A material by its id.
pub fn material(id: &str) -> Option<&'static Material> {
    MATERIALS.iter().find(|material| material.id == id)
}

impl Material {
    /// Whether any year bounds it.
    pub fn dates_anything(&self) -> bool {
        self.not_before.is_some() || self.not_after.is_some()
    }

    /// How probable the material is in a month of making, against the months in which it was in full use: between
    /// [`FLOOR`] and 1.
    pub fn weight(&self, month: Month) -> f64 {
        let come = self.not_before.map_or(1.0, |ramp| ramp.at(month));
        let left = self.not_after.map_or(1.0, |ramp| 1.0 - ramp.at(month));
        FLOOR + (1.0 - FLOOR) * come * left
    }

    /// The same for every month of a span.
    pub fn made_in(&self, span: Span) -> MadeIn {
        MadeIn::of(span, span.months().map(|month| (month, self.weight(month))))
    }
}

/// A colour under long-wave ultraviolet light and what it may come from. It dates nothing by itself: many synthetic
/// finishes do not glow, dirt hides a glow, and words of colour are no measurement. Source: US National Park Service,
/// Conserve O Gram 1/10 (December 2000).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Glow {
    /// Its id in the table.
    pub id: &'static str,
    /// The colour.
    pub name: &'static str,
    /// What may glow so.
    pub may_be: &'static str,
}

/// What to mind where a finish is looked at under ultraviolet light. Source: the same.
pub const GLOW_CAUTION: &str = "shield eyes and skin from the lamp";

static GLOWS: LazyLock<Vec<Glow>> = LazyLock::new(|| {
    rows(include_str!("../data/glows.tsv")).map(|[id, name, may_be]| Glow { id, name, may_be }).collect()
});

/// Every colour of the table.
pub fn glows() -> &'static [Glow] {
    &GLOWS
}

/// A colour by its id.
pub fn glow(id: &str) -> Option<&'static Glow> {
    GLOWS.iter().find(|glow| glow.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn month(year: i16, number: u8) -> Month {
        Month::new(year, number).expect("a month")
    }

    #[test]
    fn every_row_of_the_tables_is_read() {
        let count = |text: &str| text.lines().filter(|line| !line.starts_with('#')).count() - 1;
        assert_eq!(materials().len(), count(include_str!("../data/materials.tsv")));
        assert_eq!(glows().len(), count(include_str!("../data/glows.tsv")));
        for material in materials() {
            assert!(!material.source.is_empty() && !material.name.is_empty(), "{}", material.id);
            for ramp in [material.not_before, material.not_after].into_iter().flatten() {
                assert!(ramp.from < ramp.to, "{} is a step", material.id);
            }
            let twice = materials().iter().filter(|other| other.id == material.id).count();
            assert_eq!(twice, 1, "{}", material.id);
        }
    }

    // Years as published: the ramp starts not after the first and is complete not before the last year that the source
    // named in the row gives.
    #[test]
    fn a_ramp_holds_the_years_that_its_source_gives() {
        let published = [
            // Patnode, Flynn and Weh announce it in 1939.
            ("wire-polyvinyl-acetal", 1939, 1939),
            // ASME table.
            ("acrylic", 1934, 1935),
            ("polystyrene", 1938, 1938),
            ("epoxy", 1943, 1943),
            ("polyurethane-plastic", 1954, 1954),
            ("polycarbonate", 1955, 1955),
            ("polyacetal", 1959, 1959),
            // Histories of the magnet: found 1950, sold 1952; 1983 to 1984.
            ("ferrite-magnet", 1950, 1952),
            ("neodymium", 1983, 1984),
            // US patent 2,046,343 was issued on 7 July 1936.
            ("cross-recess-screw", 1936, 1939),
            // Directive 2002/95/EC: adopted 2003, in force 1 July 2006.
            ("lead-free-solder", 2003, 2006),
            // In use from 1 July 1963.
            ("zip-code", 1963, 1963),
        ];
        for (id, first, last) in published {
            let ramp = material(id).and_then(|material| material.not_before).expect(id);
            assert!(ramp.from <= first && ramp.to > last, "{id}: {ramp:?}");
        }
    }

    #[test]
    fn a_ramp_is_straight_and_never_falls_to_nothing() {
        let film = material("polyester-capacitor").expect("tabled");
        assert_eq!(film.not_before, Some(Ramp { from: 1953, to: 1958 }));
        assert_eq!(film.weight(month(1930, 6)), FLOOR);
        // Half of the 60 months of the ramp have passed; exact, since a half has an exact double.
        assert_eq!(film.weight(month(1955, 7)), FLOOR + (1.0 - FLOOR) * 0.5);
        assert_eq!(film.weight(month(1990, 1)), 1.0);
        let rubber = material("rubber-insulation").expect("tabled");
        assert_eq!(rubber.weight(month(1950, 1)), 1.0);
        assert_eq!(rubber.weight(month(1980, 1)), FLOOR);
        assert!(rubber.weight(month(1962, 1)) < rubber.weight(month(1958, 1)));
    }

    #[test]
    fn what_is_still_made_dates_nothing() {
        let span = Span::years(1930, 2020).expect("in order");
        for id in ["wire-plain-enamel", "cloth-insulation", "paper-capacitor", "moulded-bobbin"] {
            let material = material(id).expect(id);
            assert!(!material.dates_anything());
            assert_eq!(material.made_in(span), MadeIn::nothing_known(span));
        }
        // Fibre has years, all before anything that is restored here.
        assert_eq!(
            material("vulcanised-fibre").expect("tabled").made_in(span),
            MadeIn::nothing_known(span),
            "1.0 is reached exactly at the end of a ramp"
        );
    }
}
