//! What is taken beforehand: how common each fault is, and how far parts lie from their traced values.

use super::answer::FaultError;

/// How probable each fault is at one place, in an instrument that comes in with a complaint, before anything is
/// metered or heard.
///
/// All figures are common practice, no source; change them to the workshop's own count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priors {
    /// That there is no fault at all, in proportion to an instrument that nobody complains of.
    pub no_fault: f64,
    /// A joint or its wire open, for each join.
    pub join_open: f64,
    /// A strand to ground, for each point of the circuit.
    pub stray_to_ground: f64,
    /// A contact dead in one position.
    pub contact_dead: f64,
    /// Two neighbouring lugs of a switch touching all the time.
    pub contact_stuck: f64,
    /// A coil open.
    pub coil_open: f64,
    /// A coil leaking.
    pub coil_leaky: f64,
    /// A coil's leads touching.
    pub coil_shorted: f64,
    /// A coil's leads exchanged.
    pub leads_swapped: f64,
    /// A covered coil's cover on its hot lead.
    pub cover_on_hot: f64,
    /// One end of a track open.
    pub track_open: f64,
    /// A track far from its value.
    pub track_off: f64,
    /// A wiper lifted.
    pub wiper_lifted: f64,
    /// A wiper shorted to one end.
    pub wiper_shorted: f64,
    /// A capacitor shorted.
    pub capacitor_shorted: f64,
    /// A capacitor leaking.
    pub capacitor_leaky: f64,
    /// A capacitor open.
    pub capacitor_open: f64,
    /// A resistor or a choke open.
    pub resistor_open: f64,
    /// The string ground broken.
    pub string_ground_broken: f64,
    /// Tip and sleeve exchanged.
    pub tip_and_sleeve_exchanged: f64,
    /// A lug touching the coating, for each point, where the cavity is coated.
    pub lug_touches_coating: f64,
    /// That the cavity is coated, where nobody said.
    pub coated: f64,
    /// That what is wrong is not in the list.
    pub not_listed: f64,
    /// That a reading was misread or put down wrong.
    pub misread: f64,
}

impl Default for Priors {
    fn default() -> Self {
        Self {
            no_fault: 0.25,
            join_open: 0.015,
            stray_to_ground: 0.005,
            contact_dead: 0.015,
            contact_stuck: 0.002,
            coil_open: 0.03,
            coil_leaky: 0.005,
            coil_shorted: 0.01,
            leads_swapped: 0.03,
            cover_on_hot: 0.01,
            track_open: 0.008,
            track_off: 0.01,
            wiper_lifted: 0.01,
            wiper_shorted: 0.004,
            capacitor_shorted: 0.005,
            capacitor_leaky: 0.02,
            capacitor_open: 0.008,
            resistor_open: 0.005,
            string_ground_broken: 0.03,
            tip_and_sleeve_exchanged: 0.01,
            lug_touches_coating: 0.01,
            coated: 0.1,
            not_listed: 0.02,
            misread: 0.003,
        }
    }
}

impl Priors {
    /// Every figure with its name.
    pub fn named(&self) -> [(&'static str, f64); 24] {
        [
            ("no fault", self.no_fault),
            ("joint or wire open", self.join_open),
            ("strand to ground", self.stray_to_ground),
            ("dead contact", self.contact_dead),
            ("stuck contact", self.contact_stuck),
            ("open coil", self.coil_open),
            ("leaky coil", self.coil_leaky),
            ("shorted coil", self.coil_shorted),
            ("leads exchanged", self.leads_swapped),
            ("cover on the hot lead", self.cover_on_hot),
            ("track open at one end", self.track_open),
            ("track off its value", self.track_off),
            ("wiper lifted", self.wiper_lifted),
            ("wiper shorted to one end", self.wiper_shorted),
            ("capacitor shorted", self.capacitor_shorted),
            ("capacitor leaky", self.capacitor_leaky),
            ("capacitor open", self.capacitor_open),
            ("resistor open", self.resistor_open),
            ("string ground broken", self.string_ground_broken),
            ("tip and sleeve exchanged", self.tip_and_sleeve_exchanged),
            ("lug touching the coating", self.lug_touches_coating),
            ("coated cavity", self.coated),
            ("not in the list", self.not_listed),
            ("misread", self.misread),
        ]
    }

    /// Whether every figure can be.
    ///
    /// # Errors
    /// [`FaultError::Assumption`] for the first that cannot.
    pub fn check(&self) -> Result<(), FaultError> {
        let wrong = self.named().into_iter().find(|(_, share)| !(*share > 0.0 && *share < 0.5));
        wrong.map_or(Ok(()), |(name, read)| {
            let wanted = "a probability above 0 and below one half is right, such as 0.01";
            Err(FaultError::Assumption { name, read, wanted })
        })
    }
}

/// How far sound parts may lie from what the trace gives, as standard uncertainties, shares of the value.
///
/// All figures are common practice, no source, but the track's: ± 20 % as sold, taken as rectangular (JCGM 100:2008,
/// 4.3.7).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerances {
    /// Coils: as traced, at another temperature.
    pub coil: f64,
    /// Tracks.
    pub track: f64,
    /// Resistors and chokes.
    pub resistor: f64,
    /// The meter's gain, which all readings share.
    pub gain: f64,
    /// Turn of a knob that is at neither end, as a share of the track.
    pub turn: f64,
}

impl Default for Tolerances {
    fn default() -> Self {
        Self { coil: 0.03, track: 0.2 / 1.732_050_807_568_877_2, resistor: 0.1, gain: 0.005, turn: 0.08 }
    }
}

impl Tolerances {
    /// Whether every figure can be.
    ///
    /// # Errors
    /// [`FaultError::Assumption`] for the first that cannot.
    pub fn check(&self) -> Result<(), FaultError> {
        let all = [
            ("tolerance of coils", self.coil),
            ("tolerance of tracks", self.track),
            ("tolerance of resistors", self.resistor),
            ("gain of the meter", self.gain),
            ("turn of a knob", self.turn),
        ];
        let wrong = all.into_iter().find(|(_, share)| !(*share > 0.0 && *share < 1.0));
        wrong.map_or(Ok(()), |(name, read)| {
            Err(FaultError::Assumption {
                name,
                read,
                wanted: "a share above 0 and below 1 is right, such as 0.03",
            })
        })
    }
}

/// What may be chosen beside the evidence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// How common faults are.
    pub priors: Priors,
    /// How far sound parts may lie from their traced values.
    pub tolerances: Tolerances,
    /// Whether pairs of faults are weighed too.
    pub pairs: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self { priors: Priors::default(), tolerances: Tolerances::default(), pairs: true }
    }
}
