//! What one line of a trace says.

use std::fmt;

use asfound_measure::{Farads, Henries, Ohms};

use super::build::{ASSUMED_RESISTANCE, OPEN_FROM_RANGE, plan_named};
use crate::plan::Between;

/// A value with the text that was typed for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Written<T> {
    /// The text, as typed.
    pub text: String,
    /// The value it was read as.
    pub value: T,
}

impl<T> fmt::Display for Written<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// Winding sense of a coil, seen from the string side, followed from the ground end to the hot end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Winding {
    /// Clockwise; the positive winding sign.
    Clockwise,
    /// Anticlockwise; the negative winding sign.
    Anticlockwise,
}

/// The pole of a coil's magnet that faces the strings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pole {
    /// North; the positive magnet sign.
    North,
    /// South; the negative magnet sign.
    South,
}

/// The law of a pot's track, as far as the trace says it.
#[derive(Debug, Clone, PartialEq)]
pub enum Law {
    /// Even along the turn.
    Linear,
    /// Audio (logarithmic), with the share of the track at half turn where it was metered.
    Audio(Option<Written<f64>>),
    /// Reverse audio, with the share of the track at half turn where it was metered.
    Reverse(Option<Written<f64>>),
}

/// A terminal as the trace names it: `volume.3`, or `strings` for a part with one terminal.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// The part's name.
    pub part: String,
    /// The terminal, where one is named.
    pub terminal: Option<String>,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.terminal {
            Some(terminal) => write!(f, "{}.{terminal}", self.part),
            None => f.write_str(&self.part),
        }
    }
}

/// One end that a join may have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum End {
    /// A terminal.
    At(Place),
    /// Nowhere: the lead was left loose.
    Nothing,
}

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::At(place) => place.fmt(f),
            Self::Nothing => f.write_str("nothing"),
        }
    }
}

/// How a join is known.
#[derive(Debug, Clone, PartialEq)]
pub enum HowKnown {
    /// Measured with a meter; the ohms where they were kept.
    Metered(Option<Written<Ohms>>),
    /// Seen in the piece or in a photograph; the words that say where, empty where none were typed.
    Seen(String),
    /// Inferred from matching stubs; the words that say why, empty where none were typed.
    Matched(String),
    /// Not known: one of several ends.
    Unknown,
}

/// A join of two terminals.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinLine {
    /// The end that is there.
    pub from: Place,
    /// Where it goes: one end, or the candidates.
    pub to: Vec<End>,
    /// The odds of the candidates, in their order; empty where none were given, which means equal.
    pub odds: Vec<u32>,
    /// How it is known.
    pub how: HowKnown,
}

/// What the meter showed across a coil.
#[derive(Debug, Clone, PartialEq)]
pub enum CoilOhms {
    /// This many ohms.
    Read(Written<Ohms>),
    /// Over range: the winding is broken, or its lead is off.
    Open,
    /// More than this, as the meter's range went no further.
    Over(Written<Ohms>),
    /// Nothing: it was not measured.
    NotMeasured,
}

impl CoilOhms {
    /// The ohms that are reckoned with: as read, or [`ASSUMED_RESISTANCE`] where nothing was; `None` where the winding is
    /// taken as broken, from [`OPEN_FROM_RANGE`] on.
    pub fn taken(&self) -> Option<Ohms> {
        match self {
            Self::Read(ohms) => Some(ohms.value),
            Self::Open => None,
            Self::Over(range) if range.value >= OPEN_FROM_RANGE => None,
            Self::Over(range) => Some(Ohms(range.value.0.max(ASSUMED_RESISTANCE.0))),
            Self::NotMeasured => Some(ASSUMED_RESISTANCE),
        }
    }
}

impl fmt::Display for CoilOhms {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(ohms) => ohms.fmt(f),
            Self::Open => f.write_str("open"),
            Self::Over(ohms) => write!(f, "over {ohms}"),
            Self::NotMeasured => f.write_str("not measured"),
        }
    }
}

/// A coil.
#[derive(Debug, Clone, PartialEq)]
pub struct CoilLine {
    /// Its name.
    pub name: String,
    /// Resistance, as far as a meter showed it.
    pub resistance: CoilOhms,
    /// Inductance, where measured.
    pub inductance: Option<Written<Henries>>,
    /// Winding capacitance, where measured.
    pub capacitance: Option<Written<Farads>>,
    /// Winding sense, where known.
    pub winding: Option<Winding>,
    /// Pole at the strings, where known.
    pub pole: Option<Pole>,
    /// Whether it has a cover or base plate that can be joined: terminal `cover`.
    pub cover: bool,
}

/// What one line says.
#[derive(Debug, Clone, PartialEq)]
pub enum Statement {
    /// A coil, with terminals `hot`, `ground` and, where it is covered, `cover`.
    Coil(CoilLine),
    /// A pot, with lugs `1`, `2` (wiper), `3` and its `case`.
    Pot {
        /// Its name.
        name: String,
        /// The whole track.
        track: Written<Ohms>,
        /// The law, where known.
        law: Option<Law>,
    },
    /// A switch; its contacts are a known plan, or are written out in the lines that follow.
    Switch {
        /// Its name.
        name: String,
        /// The plan's name.
        plan: Option<String>,
    },
    /// The lugs of the switch above.
    Lugs(Vec<String>),
    /// One position of the switch above and the lugs joined there.
    At {
        /// The position's name.
        position: String,
        /// The pairs of lugs joined.
        pairs: Vec<(String, String)>,
    },
    /// What the switch above touches between two positions.
    Between(Between),
    /// A capacitor, with terminals `a` and `b`.
    Capacitor {
        /// Its name.
        name: String,
        /// Its value.
        value: Written<Farads>,
    },
    /// A resistor, with terminals `a` and `b`.
    Resistor {
        /// Its name.
        name: String,
        /// Its value.
        value: Written<Ohms>,
    },
    /// A choke, with terminals `a` and `b`.
    Choke {
        /// Its name.
        name: String,
        /// Resistance of its wire.
        resistance: Written<Ohms>,
        /// Inductance.
        inductance: Written<Henries>,
    },
    /// The jack, with `tip` and `sleeve`.
    Jack {
        /// Its name.
        name: String,
    },
    /// A piece of metal that can be touched: strings, shield, plate. One terminal, `case`, or the name alone.
    Metal {
        /// Its name.
        name: String,
    },
    /// Tie points with lugs numbered from 1, which are not joined to each other.
    Post {
        /// Its name.
        name: String,
        /// How many lugs.
        lugs: u8,
    },
    /// A join.
    Join(JoinLine),
}

impl fmt::Display for Statement {
    /// The line as this program would write it; reading it back gives the same statement.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Coil(coil) => coil.fmt(f),
            Self::Pot { name, track, law } => {
                write!(f, "pot {name} {track}")?;
                law.as_ref().map_or(Ok(()), |law| write!(f, " {law}"))
            }
            Self::Switch { name, plan: Some(plan) } => write!(f, "switch {name} {plan}"),
            Self::Switch { name, plan: None } => write!(f, "switch {name}"),
            Self::Lugs(lugs) => write!(f, "  lugs {}", lugs.join(" ")),
            Self::At { position, pairs } => {
                write!(f, "  at {position}:")?;
                if pairs.is_empty() {
                    return f.write_str(" nothing");
                }
                pairs.iter().try_for_each(|(a, b)| write!(f, " {a}-{b}"))
            }
            Self::Between(between) => write!(f, "  between: {}", between_words(*between)),
            Self::Capacitor { name, value } => write!(f, "capacitor {name} {value}"),
            Self::Resistor { name, value } => write!(f, "resistor {name} {value}"),
            Self::Choke { name, resistance, inductance } => {
                write!(f, "choke {name} {resistance} {inductance}")
            }
            Self::Jack { name } => write!(f, "jack {name}"),
            Self::Metal { name } => write!(f, "metal {name}"),
            Self::Post { name, lugs } => write!(f, "post {name} {lugs}"),
            Self::Join(join) => join.fmt(f),
        }
    }
}

impl fmt::Display for CoilLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "coil {} {}", self.name, self.resistance)?;
        if let Some(inductance) = &self.inductance {
            write!(f, " {inductance}")?;
        }
        if let Some(capacitance) = &self.capacitance {
            write!(f, " {capacitance}")?;
        }
        match self.winding {
            Some(Winding::Clockwise) => f.write_str(" clockwise")?,
            Some(Winding::Anticlockwise) => f.write_str(" anticlockwise")?,
            None => {}
        }
        match self.pole {
            Some(Pole::North) => f.write_str(" north")?,
            Some(Pole::South) => f.write_str(" south")?,
            None => {}
        }
        if self.cover { f.write_str(" covered") } else { Ok(()) }
    }
}

impl fmt::Display for JoinLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "join {}", self.from)?;
        for (index, end) in self.to.iter().enumerate() {
            write!(f, "{} {end}", if index == 0 { "" } else { " or" })?;
        }
        if !self.odds.is_empty() {
            let odds: Vec<String> = self.odds.iter().map(u32::to_string).collect();
            write!(f, " odds {}", odds.join(":"))?;
        }
        match &self.how {
            HowKnown::Metered(None) => f.write_str(" metered"),
            HowKnown::Metered(Some(ohms)) => write!(f, " metered {ohms}"),
            HowKnown::Seen(said) => write!(f, "{}", format!(" seen {said}").trim_end()),
            HowKnown::Matched(said) => write!(f, "{}", format!(" matched {said}").trim_end()),
            HowKnown::Unknown => f.write_str(" unknown"),
        }
    }
}

impl fmt::Display for Law {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Linear => f.write_str("linear"),
            Self::Audio(None) => f.write_str("audio"),
            Self::Audio(Some(share)) => write!(f, "audio {share}"),
            Self::Reverse(None) => f.write_str("reverse"),
            Self::Reverse(Some(share)) => write!(f, "reverse {share}"),
        }
    }
}

/// The words of the grammar for what touches between positions.
fn between_words(between: Between) -> &'static str {
    match between {
        Between::Nothing => "nothing",
        Between::Neighbours => "both neighbours",
        Between::Unknown => "unknown",
    }
}

impl Statement {
    /// The sort of part and its name, where the line is a part.
    pub fn part(&self) -> Option<(&'static str, &str)> {
        Some(match self {
            Self::Coil(coil) => ("coil", &coil.name),
            Self::Pot { name, .. } => ("pot", name),
            Self::Switch { name, .. } => ("switch", name),
            Self::Capacitor { name, .. } => ("capacitor", name),
            Self::Resistor { name, .. } => ("resistor", name),
            Self::Choke { name, .. } => ("choke", name),
            Self::Jack { name } => ("jack", name),
            Self::Metal { name } => ("metal", name),
            Self::Post { name, .. } => ("post", name),
            Self::Lugs(_) | Self::At { .. } | Self::Between(_) | Self::Join(_) => return None,
        })
    }

    /// The names of the terminals that a part has by this line alone, in the order in which they are counted. A switch
    /// that is written out has none here: they follow in [`Statement::Lugs`].
    pub fn terminals(&self) -> Vec<String> {
        let words: &[&str] = match self {
            Self::Coil(coil) if coil.cover => &["hot", "ground", "cover"],
            Self::Coil(_) => &["hot", "ground"],
            Self::Pot { .. } => &["1", "2", "3", "case"],
            Self::Metal { .. } => &["case"],
            Self::Capacitor { .. } | Self::Resistor { .. } | Self::Choke { .. } => &["a", "b"],
            Self::Jack { .. } => &["tip", "sleeve"],
            Self::Post { lugs, .. } => return (1..=*lugs).map(|lug| lug.to_string()).collect(),
            Self::Switch { plan: Some(plan), .. } => {
                return plan_named(plan).map(|plan| plan.lugs().to_vec()).unwrap_or_default();
            }
            Self::Switch { plan: None, .. }
            | Self::Lugs(_)
            | Self::At { .. }
            | Self::Between(_)
            | Self::Join(_) => &[],
        };
        words.iter().map(|&word| word.to_owned()).collect()
    }
}
