//! A circuit as it was traced: parts with named lugs, and joins between lugs.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use asfound_measure::{Farads, Henries, Ohms};

use crate::check::{CircuitError, NoSuchLug, check_join, check_values};
use crate::near::edit_distance;
use crate::plan::Plan;
use crate::taper::Taper;

/// A direction: of a winding seen from the string side, or of the pole that faces the strings.
///
/// Which way is called plus is a choice made once per circuit; only products and comparisons mean anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sign {
    /// The direction called plus.
    Plus,
    /// The other one.
    Minus,
}

impl Sign {
    /// +1 or -1.
    pub const fn factor(self) -> f64 {
        match self {
            Sign::Plus => 1.0,
            Sign::Minus => -1.0,
        }
    }
}

/// The share of a coil's inductance that eddy currents in metal nearby can swallow.
///
/// An inductance in series with the rest of the winding, with a resistance across it: a core or cover seen as
/// one lossy turn. It makes the inductance seem to fall with frequency, as measured coils do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eddy {
    /// The shunted inductance. At low frequency it adds to [`Coil::inductance`].
    pub inductance: Henries,
    /// The loss resistance across it.
    pub loss: Ohms,
}

/// One coil: resistance, inductance and an EMF in series from `ground` to `hot`, with its own capacitance
/// across both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coil {
    /// Direct-current resistance of the winding.
    pub resistance: Ohms,
    /// Inductance that no eddy loss shunts; the whole of it when `eddy` is `None`.
    pub inductance: Henries,
    /// Capacitance across the winding.
    pub capacitance: Farads,
    /// Winding sense seen from the string side; `None` is not known, never a default.
    pub winding: Option<Sign>,
    /// Polarity of the pole that faces the strings; `None` is not known, never a default.
    pub magnet: Option<Sign>,
    /// Eddy branch, where the coil is described that finely.
    pub eddy: Option<Eddy>,
    /// Whether it has a metal cover or base plate; that is then a lug of its own, `cover`.
    pub cover: bool,
    /// Whether its winding is broken: it then carries no current and gives no EMF, and resistance, inductance and eddy
    /// branch say nothing. Its capacitance stays across its leads.
    pub open: bool,
}

/// A potentiometer. Lug 1 is the low end, 2 the wiper, 3 the high end; `case` is its metal shell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pot {
    /// Resistance of the whole track.
    pub track: Ohms,
    /// How the wiper's share of the track follows the knob.
    pub taper: Taper,
}

/// What sort of part it is, with its values.
#[derive(Debug, Clone, PartialEq)]
pub enum Sort {
    /// A coil; lugs `hot`, `ground` and, where it has one, `cover`.
    Coil(Coil),
    /// A potentiometer; lugs `1`, `2`, `3`, `case`.
    Pot(Pot),
    /// A switch; lugs as in its plan.
    Switch(Plan),
    /// A capacitor; lugs `a`, `b`.
    Capacitor(Farads),
    /// A resistor; lugs `a`, `b`. 0 ohm is a join.
    Resistor(Ohms),
    /// A choke; lugs `a`, `b`.
    Choke {
        /// Resistance of the winding.
        resistance: Ohms,
        /// Inductance.
        inductance: Henries,
    },
    /// An output jack; lugs `tip`, `sleeve`.
    Jack,
    /// Bare metal that may or may not be earthed: strings, bridge, shield, chassis. One lug, `case`.
    Metal,
    /// Tie points; lugs `1` to `lugs`, which are not joined to each other.
    Post {
        /// How many tie points.
        lugs: u8,
    },
}

impl Sort {
    /// The trade's word for this sort of part.
    pub const fn word(&self) -> &'static str {
        match self {
            Sort::Coil(_) => "coil",
            Sort::Pot(_) => "pot",
            Sort::Switch(_) => "switch",
            Sort::Capacitor(_) => "capacitor",
            Sort::Resistor(_) => "resistor",
            Sort::Choke { .. } => "choke",
            Sort::Jack => "jack",
            Sort::Metal => "metal",
            Sort::Post { .. } => "post",
        }
    }
}

/// A named part.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name, one of its kind in the circuit; case does not count.
    pub name: String,
    /// What it is.
    pub sort: Sort,
}

impl Part {
    /// A part of this name and sort.
    pub fn new(name: impl Into<String>, sort: Sort) -> Self {
        Self { name: name.into(), sort }
    }

    /// How many lugs it has.
    pub fn lug_count(&self) -> usize {
        match &self.sort {
            Sort::Coil(coil) => 2 + usize::from(coil.cover),
            Sort::Pot(_) => 4,
            Sort::Switch(plan) => plan.lugs().len(),
            Sort::Capacitor(_) | Sort::Resistor(_) | Sort::Choke { .. } | Sort::Jack => 2,
            Sort::Metal => 1,
            Sort::Post { lugs } => usize::from(*lugs),
        }
    }

    /// The name of a lug, or `None` when the part has no lug of this index.
    pub fn lug(&self, index: usize) -> Option<Cow<'_, str>> {
        if index >= self.lug_count() {
            return None;
        }
        Some(match &self.sort {
            Sort::Coil(_) => ["hot", "ground", "cover"][index].into(),
            Sort::Pot(_) => ["1", "2", "3", "case"][index].into(),
            Sort::Switch(plan) => plan.lugs()[index].as_str().into(),
            Sort::Capacitor(_) | Sort::Resistor(_) | Sort::Choke { .. } => ["a", "b"][index].into(),
            Sort::Jack => ["tip", "sleeve"][index].into(),
            Sort::Metal => "case".into(),
            Sort::Post { .. } => (index + 1).to_string().into(),
        })
    }

    /// The names of its lugs, in order.
    pub fn lugs(&self) -> Vec<Cow<'_, str>> {
        (0..self.lug_count()).filter_map(|index| self.lug(index)).collect()
    }
}

/// One lug of one part, by index into the circuit's parts and into the part's lugs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Terminal {
    /// Index of the part.
    pub part: usize,
    /// Index of the lug.
    pub lug: usize,
}

/// A join between lugs, with how it is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    /// One end.
    pub a: Terminal,
    /// The other end, or what it may be.
    pub to: JoinTo,
    /// How it is known.
    pub known: Known,
}

/// The other end of a join.
#[derive(Debug, Clone, PartialEq)]
pub enum JoinTo {
    /// This lug.
    One(Terminal),
    /// One of these lugs, not known which.
    Candidates {
        /// The lugs it may go to.
        terminals: Vec<Terminal>,
        /// Whether it may also go nowhere.
        or_nothing: bool,
    },
}

/// How a join is known.
#[derive(Debug, Clone, PartialEq)]
pub enum Known {
    /// A meter showed it, with the reading where it was kept.
    Metered {
        /// The reading.
        ohms: Option<Ohms>,
    },
    /// It was seen, on a picture or by eye.
    Seen {
        /// Where: a photograph and a place on it, in the words of the trace.
        where_: Option<String>,
    },
    /// Two cut ends were matched by their colour, length or cut face.
    Matched,
    /// Not said.
    Unknown,
}

/// Two coils whose fields link.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coupling {
    /// Index of one coil.
    pub a: usize,
    /// Index of the other.
    pub b: usize,
    /// Coupling factor k, strictly between -1 and 1; M = k sqrt(La Lb), positive when currents into both
    /// `hot` lugs aid each other.
    pub factor: f64,
}

/// A checked circuit: part names differ, every join ends at lugs that exist, every value can be.
#[derive(Debug, Clone, PartialEq)]
pub struct Circuit {
    parts: Vec<Part>,
    joins: Vec<Join>,
    couplings: Vec<Coupling>,
    by_name: BTreeMap<String, usize>,
}

impl Circuit {
    /// Checks parts and joins.
    ///
    /// # Errors
    /// Everything that is wrong, in the order of the parts and then of the joins.
    pub fn new(parts: Vec<Part>, joins: Vec<Join>) -> Result<Self, Vec<CircuitError>> {
        let mut errors = Vec::new();
        let mut by_name = BTreeMap::new();
        for (index, part) in parts.iter().enumerate() {
            if by_name.insert(part.name.to_lowercase(), index).is_some() {
                errors.push(CircuitError::NameTaken { name: part.name.clone() });
            }
            check_values(part, &mut errors);
        }
        for (index, join) in joins.iter().enumerate() {
            check_join(&parts, index, join, &mut errors);
        }
        if errors.is_empty() {
            Ok(Self { parts, joins, couplings: Vec::new(), by_name })
        } else {
            Err(errors)
        }
    }

    /// The same circuit with these couplings between coils; each coil may be in one pair.
    ///
    /// # Errors
    /// [`CircuitError::Coupling`] for each pair that is not of two coils, names a coil a second time, or has
    /// a factor outside -1 to 1.
    pub fn with_couplings(mut self, couplings: Vec<Coupling>) -> Result<Self, Vec<CircuitError>> {
        let is_coil = |part: usize| matches!(self.parts.get(part), Some(Part { sort: Sort::Coil(_), .. }));
        let mut taken = BTreeSet::new();
        let mut errors = Vec::new();
        for (index, pair) in couplings.iter().enumerate() {
            let why = if !is_coil(pair.a) || !is_coil(pair.b) {
                "only coils couple; name two coils"
            } else if pair.a == pair.b || !taken.insert(pair.a) || !taken.insert(pair.b) {
                "a coil is named twice; each coil may be in one pair"
            } else if !(pair.factor > -1.0 && pair.factor < 1.0) {
                "the factor must lie strictly between -1 and 1"
            } else {
                continue;
            };
            errors.push(CircuitError::Coupling { coupling: index, why });
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        self.couplings = couplings;
        Ok(self)
    }

    /// The parts, in the order given.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// The joins, in the order given.
    pub fn joins(&self) -> &[Join] {
        &self.joins
    }

    /// The coupled pairs of coils.
    pub fn couplings(&self) -> &[Coupling] {
        &self.couplings
    }

    /// Index of the part with this name; case does not count.
    pub fn part(&self, name: &str) -> Option<usize> {
        self.by_name.get(&name.to_lowercase()).copied()
    }

    /// The coils, as (index of the part, coil), in part order.
    pub fn coils(&self) -> impl Iterator<Item = (usize, &Coil)> {
        self.parts.iter().enumerate().filter_map(|(index, part)| match &part.sort {
            Sort::Coil(coil) => Some((index, coil)),
            _ => None,
        })
    }

    /// The pots, as (index of the part, pot), in part order.
    pub fn pots(&self) -> impl Iterator<Item = (usize, &Pot)> {
        self.parts.iter().enumerate().filter_map(|(index, part)| match &part.sort {
            Sort::Pot(pot) => Some((index, pot)),
            _ => None,
        })
    }

    /// The switches, as (index of the part, plan), in part order.
    pub fn switches(&self) -> impl Iterator<Item = (usize, &Plan)> {
        self.parts.iter().enumerate().filter_map(|(index, part)| match &part.sort {
            Sort::Switch(plan) => Some((index, plan)),
            _ => None,
        })
    }

    /// Indexes of the jacks, in part order. The first is the output.
    pub fn jacks(&self) -> impl Iterator<Item = usize> {
        self.parts.iter().enumerate().filter(|(_, part)| part.sort == Sort::Jack).map(|(index, _)| index)
    }

    /// The lug written `PART.LUG`, or a metal by its name alone; case does not count.
    ///
    /// # Errors
    /// [`NoSuchLug`] with the lugs that have a name near it.
    pub fn terminal(&self, written: &str) -> Result<Terminal, NoSuchLug> {
        let found = written.trim().rsplit_once('.').and_then(|(name, lug)| {
            let part = self.part(name)?;
            let lug = (0..self.parts[part].lug_count()).find(|&index| {
                self.parts[part].lug(index).is_some_and(|known| known.eq_ignore_ascii_case(lug))
            })?;
            Some(Terminal { part, lug })
        });
        let metal = || {
            let part = self.part(written.trim())?;
            (self.parts[part].sort == Sort::Metal).then_some(Terminal { part, lug: 0 })
        };
        found
            .or_else(metal)
            .ok_or_else(|| NoSuchLug { read: written.to_owned(), nearest: self.nearest_lugs(written) })
    }

    /// The lug as `PART.LUG`, a metal by its name alone, as a trace writes them; empty when it does not exist.
    pub fn name_of(&self, terminal: Terminal) -> String {
        let part = self.parts.get(terminal.part);
        if let Some(metal) = part.filter(|part| part.sort == Sort::Metal && terminal.lug == 0) {
            return metal.name.clone();
        }
        part.and_then(|part| Some(format!("{}.{}", part.name, part.lug(terminal.lug)?))).unwrap_or_default()
    }

    fn nearest_lugs(&self, written: &str) -> Vec<String> {
        let wanted = written.to_lowercase();
        let mut near: Vec<(usize, String)> = self
            .parts
            .iter()
            .flat_map(|part| part.lugs().into_iter().map(move |lug| format!("{}.{lug}", part.name)))
            .map(|name| (edit_distance(&wanted, &name.to_lowercase()), name))
            .filter(|(distance, _)| *distance <= 1 + wanted.len() / 2)
            .collect();
        near.sort();
        near.truncate(3);
        near.into_iter().map(|(_, name)| name).collect()
    }
}
