//! What was seen, metered and heard of the coils.

use asfound_measure::Ohms;

use crate::circuit::Sign;

/// Coils that are solved together.
pub const MOST_COILS: usize = 12;

/// Observations that are solved together.
pub const MOST_EVIDENCE: usize = 120;

/// One of a coil's two leads, by its place in [`CoilSeen::leads`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lead {
    /// The first one written.
    First,
    /// The second one written.
    Second,
}

impl Lead {
    /// The coil's other lead.
    pub const fn other(self) -> Self {
        match self {
            Lead::First => Lead::Second,
            Lead::Second => Lead::First,
        }
    }

    /// Its place in [`CoilSeen::leads`].
    pub const fn index(self) -> usize {
        self as usize
    }

    pub(super) const fn of_bit(bit: bool) -> Self {
        if bit { Lead::Second } else { Lead::First }
    }
}

/// Which way the turns run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct WindingSeen {
    /// The lead that the winding is followed from.
    pub from: Lead,
    /// [`Sign::Plus`] is clockwise, seen from the string side.
    pub sense: Sign,
}

/// A coil's metal cover, base plate or frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Metal {
    /// It has none.
    None,
    /// Tied to this lead.
    TiedTo(Lead),
    /// On a wire of its own.
    OwnWire,
    /// Not looked at.
    Unknown,
}

/// One coil as far as it was looked at. What nobody looked at stays `None`.
#[derive(Debug, Clone, PartialEq)]
pub struct CoilSeen {
    /// What it is called.
    pub name: String,
    /// What its leads are called, mostly by colour.
    pub leads: [String; 2],
    /// The lead that the winding starts with: the inner end.
    pub start: Option<Lead>,
    /// Which way the turns run.
    pub winding: Option<WindingSeen>,
    /// The pole at the strings by a compass; [`Sign::Plus`] is north.
    pub magnet: Option<Sign>,
    /// The lead that goes to the hot output.
    pub hot: Option<Lead>,
    /// Its cover, plate or frame.
    pub metal: Metal,
    /// Its resistance.
    pub resistance: Option<Ohms>,
}

impl CoilSeen {
    /// A coil of which only the name and the two leads are known.
    pub fn new(name: impl Into<String>, first: impl Into<String>, second: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            leads: [first.into(), second.into()],
            start: None,
            winding: None,
            magnet: None,
            hot: None,
            metal: Metal::Unknown,
            resistance: None,
        }
    }

    /// The lead of this name; case and blanks around it do not count.
    pub fn lead(&self, name: &str) -> Option<Lead> {
        let same = |lead: &String| lead.trim().eq_ignore_ascii_case(name.trim());
        self.leads.iter().position(same).map(|at| Lead::of_bit(at == 1))
    }

    /// What this lead is called.
    pub fn name_of(&self, lead: Lead) -> &str {
        &self.leads[lead.index()]
    }
}

/// What the steel did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Motion {
    /// It was laid on the poles.
    Touching,
    /// It was pulled off.
    Leaving,
}

/// How the needle, or the sign of a display, went at that moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Needle {
    /// Up: the meter's + lead went positive.
    Up,
    /// Down.
    Down,
    /// It did not move. That tells nothing of polarity; the coil may be open or the range too coarse.
    Still,
}

/// An end of the jack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum JackEnd {
    /// The tip.
    Tip,
    /// The sleeve.
    Sleeve,
}

/// Where the meter was in a tap test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Between {
    /// On the coil's own leads, the meter's + on this one.
    Leads {
        /// The lead with the meter's +.
        plus: Lead,
    },
    /// At the plug or jack with this coil alone switched on, the meter's + on this end. Nothing has to be opened.
    Jack {
        /// The end with the meter's +.
        plus: JackEnd,
    },
}

/// One tap test: steel laid on a coil or pulled off, and which way the meter went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Tap {
    /// Which coil, by its place in [`Found::coils`].
    pub coil: usize,
    /// What the steel did.
    pub motion: Motion,
    /// Where the meter was.
    pub between: Between,
    /// Which way it went.
    pub needle: Needle,
}

impl Tap {
    /// A tap test on a coil's own leads, by their names.
    ///
    /// # Errors
    /// [`PolarityError`] when there is no such coil, a lead is not one of its two, or one lead is named twice.
    pub fn on_leads(
        coils: &[CoilSeen],
        coil: usize,
        motion: Motion,
        plus: &str,
        minus: &str,
        needle: Needle,
    ) -> Result<Self, PolarityError> {
        let seen = coils.get(coil).ok_or(PolarityError::NoSuchCoil { read: coil, count: coils.len() })?;
        let lead = |name: &str| {
            seen.lead(name).ok_or_else(|| PolarityError::NoSuchLead {
                read: name.to_owned(),
                coil: seen.name.clone(),
                leads: seen.leads.clone(),
            })
        };
        let (plus, minus) = (lead(plus)?, lead(minus)?);
        if plus == minus {
            return Err(PolarityError::OneLeadTwice { coil: seen.name.clone(), leads: seen.leads.clone() });
        }
        Ok(Self { coil, motion, between: Between::Leads { plus }, needle })
    }

    /// A tap test at the plug or jack, with this coil alone switched on.
    pub const fn at_jack(coil: usize, motion: Motion, plus: JackEnd, needle: Needle) -> Self {
        Self { coil, motion, between: Between::Jack { plus }, needle }
    }
}

/// How two coils sound together, against either alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tone {
    /// Full: the lows are there.
    Full,
    /// Thin, hollow, nasal, weak.
    Thin,
}

/// How two coils hum together, against either alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HumHeard {
    /// Clearly less.
    Less,
    /// As much or more.
    NotLess,
}

/// Two coils heard together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct PairHeard {
    /// One coil.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// How they sound.
    pub tone: Option<Tone>,
    /// How they hum. Screening can make unlike hum out of like coils, so this is the weaker evidence.
    pub hum: Option<HumHeard>,
}

/// All that was found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// The coils.
    pub coils: Vec<CoilSeen>,
    /// The tap tests.
    pub taps: Vec<Tap>,
    /// The pairs that were heard.
    pub pairs: Vec<PairHeard>,
}

/// What is wrong with what was given.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PolarityError {
    /// A test or a question names a coil that is not there.
    #[error("coil number {read} is named, but there are {count}, counted from 0")]
    NoSuchCoil {
        /// The number read.
        read: usize,
        /// How many there are.
        count: usize,
    },
    /// A lead that the coil does not have.
    #[error("`{coil}` has no lead called `{read}`; its leads are `{}` and `{}`", .leads[0], .leads[1])]
    NoSuchLead {
        /// What was read.
        read: String,
        /// The coil.
        coil: String,
        /// Its leads.
        leads: [String; 2],
    },
    /// Plus and minus on one lead.
    #[error("both meter leads are on one lead of `{coil}`; put one on `{}` and one on `{}`", .leads[0], .leads[1])]
    OneLeadTwice {
        /// The coil.
        coil: String,
        /// Its leads.
        leads: [String; 2],
    },
    /// Two leads with one name.
    #[error("both leads of `{coil}` are called `{name}`; call them apart, such as `{name}, inner end`")]
    LeadsAlike {
        /// The coil.
        coil: String,
        /// The name they share.
        name: String,
    },
    /// A coil paired with itself.
    #[error("`{coil}` is paired with itself; name two coils")]
    PairedWithItself {
        /// The coil.
        coil: String,
    },
    /// More than is solved together.
    #[error("there are {read} {what}; up to {most} are solved together. Leave out what does not matter here")]
    TooMany {
        /// `coils` or `observations`.
        what: &'static str,
        /// How many there are.
        read: usize,
        /// How many are solved.
        most: usize,
    },
    /// Hook-ups need to know how the positive ends of the two coils lie.
    #[error(
        "it is not known which lead of {} goes positive; lay steel on that coil with the meter across its two leads",
        .coils.join(" and of ")
    )]
    PositiveEndUnknown {
        /// The coils to tap.
        coils: Vec<String>,
    },
}

impl Found {
    pub(super) fn check(&self) -> Result<(), PolarityError> {
        let count = self.coils.len();
        if count > MOST_COILS {
            return Err(PolarityError::TooMany { what: "coils", read: count, most: MOST_COILS });
        }
        for coil in &self.coils {
            if coil.leads[0].trim().eq_ignore_ascii_case(coil.leads[1].trim()) {
                let name = coil.leads[0].clone();
                return Err(PolarityError::LeadsAlike { coil: coil.name.clone(), name });
            }
        }
        let named =
            self.taps.iter().map(|tap| tap.coil).chain(self.pairs.iter().flat_map(|pair| [pair.a, pair.b]));
        for read in named {
            self.coil(read)?;
        }
        if let Some(pair) = self.pairs.iter().find(|pair| pair.a == pair.b) {
            return Err(PolarityError::PairedWithItself { coil: self.coils[pair.a].name.clone() });
        }
        // Each coil gives up to three observations of its own, each pair up to two.
        let read = 3 * count + self.taps.len() + 2 * self.pairs.len();
        if read > MOST_EVIDENCE {
            return Err(PolarityError::TooMany { what: "observations", read, most: MOST_EVIDENCE });
        }
        Ok(())
    }

    pub(super) fn coil(&self, read: usize) -> Result<&CoilSeen, PolarityError> {
        self.coils.get(read).ok_or(PolarityError::NoSuchCoil { read, count: self.coils.len() })
    }
}
