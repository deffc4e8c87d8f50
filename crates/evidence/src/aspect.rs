//! What of a part can be original by itself: a pot on its own place with its joints opened is one thing, a coil with
//! its own magnets and another winding is another.

use std::fmt;
use std::str::FromStr;

/// One side of a part that may be as made or altered whatever the rest of it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Aspect {
    /// The part as a whole: is it the one the piece was made with?
    Itself,
    /// Where it sits and how it is fixed: holes, outline, dust and lacquer over its edge.
    Place,
    /// Its solder joints.
    Joints,
    /// Its leads.
    Leads,
    /// Its screws.
    Screws,
    /// A coil's wire.
    Winding,
    /// A coil's magnets.
    Magnets,
    /// The plates or the bobbin a coil is wound on.
    Flatwork,
    /// A coil's cover.
    Cover,
    /// A pot's case and track.
    Case,
    /// A pot's or switch's shaft.
    Shaft,
    /// Its finish.
    Finish,
    /// A neck's board.
    Board,
    /// A neck's frets.
    Frets,
    /// The nut.
    Nut,
    /// The pocket or joint of a neck.
    Pocket,
    /// Its stamps, labels and numbers.
    Marks,
}

impl Aspect {
    /// All of them.
    pub const ALL: [Aspect; 17] = [
        Aspect::Itself,
        Aspect::Place,
        Aspect::Joints,
        Aspect::Leads,
        Aspect::Screws,
        Aspect::Winding,
        Aspect::Magnets,
        Aspect::Flatwork,
        Aspect::Cover,
        Aspect::Case,
        Aspect::Shaft,
        Aspect::Finish,
        Aspect::Board,
        Aspect::Frets,
        Aspect::Nut,
        Aspect::Pocket,
        Aspect::Marks,
    ];

    /// The aspects that are looked at on a part of this sort, in the order in which they are told. What is joined by
    /// solder has joints; what is not is held by screws.
    pub fn of_sort(sort: &str) -> &'static [Aspect] {
        use Aspect::*;
        match sort {
            "coil" => &[Magnets, Flatwork, Winding, Leads, Joints, Cover, Place],
            "pot" => &[Case, Shaft, Joints, Place],
            "switch" => &[Itself, Shaft, Joints, Place],
            "neck" => &[Itself, Board, Frets, Nut, Finish, Pocket],
            "body" => &[Itself, Finish, Pocket],
            "transformer" | "choke" => &[Itself, Winding, Leads, Joints, Place],
            "speaker" => &[Itself, Leads, Joints, Place],
            "capacitor" | "resistor" => &[Itself, Leads, Joints],
            "jack" => &[Itself, Joints, Place],
            "wire" => &[Itself, Joints],
            "valve" => &[Itself, Marks],
            "label" => &[Itself, Marks, Place],
            "screw" => &[Itself],
            _ => &[Itself, Screws, Place],
        }
    }

    /// The words for it, with the article where a sentence needs one: `the winding`.
    pub const fn words(self) -> &'static str {
        match self {
            Aspect::Itself => "the part itself",
            Aspect::Place => "its place",
            Aspect::Joints => "its joints",
            Aspect::Leads => "its leads",
            Aspect::Screws => "its screws",
            Aspect::Winding => "the winding",
            Aspect::Magnets => "the magnets",
            Aspect::Flatwork => "the flatwork",
            Aspect::Cover => "the cover",
            Aspect::Case => "its case and track",
            Aspect::Shaft => "its shaft",
            Aspect::Finish => "the finish",
            Aspect::Board => "the board",
            Aspect::Frets => "the frets",
            Aspect::Nut => "the nut",
            Aspect::Pocket => "the neck joint",
            Aspect::Marks => "its stamps and labels",
        }
    }

    /// The word for it in a data table.
    const fn key(self) -> &'static str {
        match self {
            Aspect::Itself => "itself",
            Aspect::Place => "place",
            Aspect::Joints => "joints",
            Aspect::Leads => "leads",
            Aspect::Screws => "screws",
            Aspect::Winding => "winding",
            Aspect::Magnets => "magnets",
            Aspect::Flatwork => "flatwork",
            Aspect::Cover => "cover",
            Aspect::Case => "case",
            Aspect::Shaft => "shaft",
            Aspect::Finish => "finish",
            Aspect::Board => "board",
            Aspect::Frets => "frets",
            Aspect::Nut => "nut",
            Aspect::Pocket => "pocket",
            Aspect::Marks => "marks",
        }
    }

    /// How often this is altered on a part that stayed, and on a part that was put in later. Between the two lies what a
    /// sign of the aspect can say of the part: a remade joint says something of a pot, a refret nothing of a neck.
    /// Stated assumptions, common practice, no source.
    pub const fn altered(self) -> Altered {
        let (if_stayed, if_replaced) = match self {
            Aspect::Itself => (0.0, 1.0),
            Aspect::Place => (0.05, 0.95),
            Aspect::Joints => (0.30, 0.95),
            Aspect::Leads => (0.20, 0.60),
            Aspect::Screws => (0.15, 0.60),
            Aspect::Winding => (0.12, 0.20),
            Aspect::Magnets => (0.03, 0.08),
            Aspect::Flatwork => (0.03, 0.15),
            Aspect::Cover => (0.10, 0.35),
            Aspect::Case => (0.05, 0.90),
            Aspect::Shaft => (0.05, 0.25),
            Aspect::Finish => (0.10, 0.25),
            Aspect::Board => (0.10, 0.15),
            Aspect::Frets => (0.40, 0.40),
            Aspect::Nut => (0.30, 0.35),
            Aspect::Pocket => (0.10, 0.60),
            Aspect::Marks => (0.03, 0.20),
        };
        Altered { if_stayed, if_replaced }
    }
}

/// How often an aspect is altered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Altered {
    /// On a part that was never changed.
    pub if_stayed: f64,
    /// On a part that was put in later. What counts here is whether the aspect fits the piece as made.
    pub if_replaced: f64,
}

/// A word that is no aspect.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” is no aspect of a part; winding, joints, place or finish would be one")]
pub struct NoAspect(pub String);

/// The word in a data table.
impl FromStr for Aspect {
    type Err = NoAspect;

    fn from_str(text: &str) -> Result<Aspect, NoAspect> {
        let known = Aspect::ALL.into_iter().find(|aspect| aspect.key() == text);
        known.ok_or_else(|| NoAspect(text.to_owned()))
    }
}

/// See [`Aspect::words`].
impl fmt::Display for Aspect {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(self.words())
    }
}
