//! What was metered, what is heard, and how far the hand reaches.

use crate::circuit::Terminal;
use crate::jack::Shown;
use crate::state::{Load, Setting};
use crate::touch::OnTouch;

/// Two lugs under a meter's leads, with switches and knobs as they stood. Unplugged from any amplifier.
#[derive(Debug, Clone, PartialEq)]
pub struct Probed {
    /// One lead.
    pub from: Terminal,
    /// The other.
    pub to: Terminal,
    /// Switches and knobs; a knob is set by its turn.
    pub setting: Setting,
}

/// A reading between two lugs.
#[derive(Debug, Clone, PartialEq)]
pub struct Metered {
    /// Where.
    pub probed: Probed,
    /// What the meter showed.
    pub shown: Shown,
}

/// What is touched while the hum is listened to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Touched {
    /// The strings or the bridge.
    Strings,
    /// The metal sleeve of the plug in the jack.
    Sleeve,
    /// The cover of this coil, by index of the part.
    Cover(usize),
}

/// What is heard through a sound amplifier and cable. Parts are indexes into the circuit.
#[derive(Debug, Clone, PartialEq)]
pub enum Heard {
    /// The lows are missing.
    Thin {
        /// In which setting.
        setting: Setting,
        /// In comparison with this setting; `None` is with what a player expects of the instrument.
        against: Option<Setting>,
    },
    /// The highs are missing.
    Dark {
        /// In which setting.
        setting: Setting,
        /// In comparison with this setting; `None` is with what a player expects of the instrument.
        against: Option<Setting>,
    },
    /// Clearly less loud.
    Weak {
        /// In which setting.
        setting: Setting,
        /// In comparison with this setting; `None` is with what a player expects of the instrument.
        against: Option<Setting>,
    },
    /// Nothing is heard of the strings.
    Silent {
        /// In which setting.
        setting: Setting,
    },
    /// As it should be.
    Normal {
        /// In which setting.
        setting: Setting,
    },
    /// Much more hum than such an instrument has.
    HumsLoud,
    /// What the hum does on touch.
    HumOnTouch {
        /// What was touched.
        touched: Touched,
        /// What the hum did.
        hum: OnTouch,
    },
    /// Turning this pot to this place silences the setting.
    KnobSilences {
        /// The pot.
        pot: usize,
        /// Its turn.
        turn: f64,
        /// The rest of the setting.
        setting: Setting,
    },
    /// Turning this pot from end to end changes nothing that is heard.
    KnobDoesNothing {
        /// The pot.
        pot: usize,
        /// The rest of the setting.
        setting: Setting,
    },
    /// The pot scratches while it is turned.
    KnobScratches {
        /// The pot.
        pot: usize,
    },
    /// The sound cuts out when a string touches this coil's cover.
    CutsOutOnCover {
        /// The coil.
        coil: usize,
        /// The setting.
        setting: Setting,
    },
    /// It comes and goes when this part or a lead of it is moved.
    Intermittent {
        /// The part.
        part: usize,
    },
    /// Tapped, this coil is not heard in this setting.
    CoilMissing {
        /// The coil.
        coil: usize,
        /// The setting.
        setting: Setting,
    },
    /// Tapped, this coil is heard in this setting.
    CoilHeard {
        /// The coil.
        coil: usize,
        /// The setting.
        setting: Setting,
    },
    /// With the joins of this lug lifted, the treble comes back.
    LiftingRestoresTreble {
        /// The lug.
        terminal: Terminal,
        /// The setting.
        setting: Setting,
    },
}

/// How far the hand reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reach {
    /// The guard is closed: only what the plug shows.
    JackOnly,
    /// Every lug can be probed in circuit, with nothing unsoldered.
    Everything,
}

/// All there is to go on.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Readings, in the order in which they were taken.
    pub metered: Vec<Metered>,
    /// What is heard.
    pub heard: Vec<Heard>,
    /// How far the hand reaches.
    pub reach: Reach,
    /// Whether the cavity is coated with conductive paint or foil; `None` is not known.
    pub coated_cavity: Option<bool>,
    /// Whether the protective earth of the amplifier and of its socket was proved. No touch test is proposed before.
    pub earth_proved: bool,
    /// Cable and amplifier that it is heard through.
    pub load: Load,
}

/// A piece of evidence, by its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// [`Evidence::metered`], counted from 0.
    Metered(usize),
    /// [`Evidence::heard`], counted from 0.
    Heard(usize),
}
