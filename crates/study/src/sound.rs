//! How every state of the inherited circuit sounds with the tolerances of its parts, what its knobs do on their way, what
//! it was for, and how it sounds beside others.

use asfound_electric::band::{self, DRAWS, State, Tolerance};
use asfound_electric::coil::Matter;
use asfound_electric::explain::{Agreed, Conditions, Explanation, Group, KnobEnd, KnobWord, as_explained};
use asfound_electric::{Circuit, Setting, Sign, Wired};
use asfound_measure::{Farads, Hertz, Ohms};
use asfound_plot::{Curve, Plot};
use asfound_record::Job;

use crate::before::Before;
use crate::own_values::opinions;
use crate::wiring::{Explained, explain};

pub use asfound_electric::band::{
    Band, Figures, How, Interval, Peak, PeakBand, PerOctave, TRAVEL_AT, Turned,
};
pub use asfound_electric::purpose::{
    Arrangement, Behaviour, Purposes, Voice, VoiceWord, Window, purposes as purposes_of,
};
pub use asfound_electric::{Load, Taper, Unsolvable};

/// Draws of a page's bands. The ends of an interval are then sure to half of a hundredth of the draws.
pub const PAGE_DRAWS: usize = 1000;
/// The seed of a page's bands: the same page is the same again.
pub const SEED: u64 = 1;
/// Of the frequencies of a curve, every so many is enough for a band.
const THINNED: usize = 4;
/// Behaviours that are told with a band; with more positions nobody reads on.
const MOST_BANDS: usize = 12;
/// Steps of a knob's way.
const STEPS: usize = 10;

const _: () = assert!(PAGE_DRAWS <= DRAWS);

/// What hangs on the jack, by the workshop's own values.
pub fn load(workshop: &Job) -> Load {
    let set = opinions(workshop);
    Load {
        capacitance: Farads(set.value(Matter::CableCapacitance)),
        resistance: Some(Ohms(set.value(Matter::InputResistance))),
    }
}

/// The sound of one group of states.
#[derive(Debug, Clone, PartialEq)]
pub struct Sounded {
    /// The response with tolerances.
    pub band: Band,
}

/// What a knob does on its way, in the first state in which it does something.
#[derive(Debug, Clone, PartialEq)]
pub struct KnobWay {
    /// The pot, among the pots.
    pub knob: usize,
    /// The state, as an index into the explanation's states.
    pub state: usize,
    /// The law of its track as traced; one that is not known is taken as even.
    pub taper: Taper,
    /// From turn 0 to turn 1, in equal steps.
    pub way: Vec<Turned>,
    /// Whether the most is heard at turn 1; else at turn 0.
    pub open_at_full: bool,
    /// The same by two straight pieces, where the law is a bent one: tracks lie between the two.
    pub two_pieces: Option<Vec<Turned>>,
}

/// How a circuit sounds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sounds {
    /// For each group of states; `None` where nothing is heard, where what is heard depends, and past the first few.
    pub groups: Vec<Option<Sounded>>,
    /// Knobs on their way.
    pub ways: Vec<KnobWay>,
    /// What every state was for; `None` where it cannot be found.
    pub purposes: Option<Purposes>,
}

/// Sounds worked out before, by the text of the trace and what hangs on the jack.
pub type SoundedBefore = Before<(String, Load), Sounds>;

/// Works out how an explained circuit sounds.
pub fn study(explained: &Explained) -> Sounds {
    let Ok(circuit) = explained.trace.circuit() else { return Sounds::default() };
    let conditions = &explained.conditions;
    let purposes = purposes_of(&circuit, conditions, &explained.explanation).ok();
    let tapers: Vec<Taper> = circuit.pots().map(|(_, pot)| pot.taper).collect();
    // Knobs stand at their ends and are turned by their own laws, so the circuit's are even.
    let circuit = as_explained(&circuit);
    let Some(wired) = circuit.possibilities().next() else { return Sounds { purposes, ..Sounds::default() } };
    let of = Asked { explanation: &explained.explanation, conditions, circuit: &circuit, wired: &wired };
    let groups = of.explanation.groups.iter().enumerate();
    Sounds {
        groups: groups.map(|(at, group)| of.band(group).filter(|_| at < MOST_BANDS)).collect(),
        ways: tapers.iter().enumerate().filter_map(|(knob, &taper)| of.way(knob, taper)).collect(),
        purposes,
    }
}

struct Asked<'a> {
    explanation: &'a Explanation,
    conditions: &'a Conditions,
    circuit: &'a Circuit,
    wired: &'a Wired<'a>,
}

impl Asked<'_> {
    /// A state with its knobs at their open ends.
    fn setting(&self, state: usize) -> Option<Setting> {
        let told = self.explanation.states.get(state)?;
        let end = |knob: &Agreed<explain::KnobFact>| match knob.facts().next().and_then(|fact| fact.open_end)
        {
            Some(KnobEnd::Lug1) => 0.0,
            Some(KnobEnd::Lug3) | None => 1.0,
        };
        let wipers = told.knobs.iter().map(end).collect();
        Some(Setting { positions: told.positions.clone(), on_the_way: None, wipers })
    }

    /// What the string gives in each coil, where the response is the same in all that may be the case.
    fn strings(&self, state: usize) -> Option<Vec<f64>> {
        let levels = self.explanation.states.get(state)?.curve.certain()?;
        let is_heard = levels.levels.iter().any(|level| *level > crate::wiring::SILENT);
        let signs = &self.explanation.possibilities.first()?.signs;
        is_heard.then(|| signs.iter().map(|sign| if sign.string_positive() { 1.0 } else { -1.0 }).collect())
    }

    fn band(&self, group: &Group) -> Option<Sounded> {
        let state = *group.states.first()?;
        let (setting, strings) = (self.setting(state)?, self.strings(state)?);
        let heard =
            State { wired: self.wired, setting: &setting, load: self.conditions.load, strings: &strings };
        let tolerances = Tolerance::usual(self.circuit, &self.conditions.assumed);
        let frequencies: Vec<Hertz> = self.thinned();
        let band = band::drawn(&heard, &tolerances, &frequencies, PAGE_DRAWS, SEED).ok()?;
        Some(Sounded { band })
    }

    /// Fewer frequencies, both ends among them.
    fn thinned(&self) -> Vec<Hertz> {
        let all = &self.conditions.frequencies;
        let last = all.last().copied();
        let mut some: Vec<Hertz> = all.iter().copied().step_by(THINNED).collect();
        if some.last().copied() != last {
            some.extend(last);
        }
        some
    }

    fn way(&self, knob: usize, taper: Taper) -> Option<KnobWay> {
        let does_something = |state: &usize| {
            let fact = self.explanation.states[*state].knobs.get(knob).and_then(Agreed::certain);
            fact.is_some_and(|fact| fact.word != KnobWord::Nothing) && self.strings(*state).is_some()
        };
        let firsts = self.explanation.groups.iter().take(MOST_BANDS).filter_map(|group| group.states.first());
        let state = firsts.copied().find(does_something)?;
        let (setting, strings) = (self.setting(state)?, self.strings(state)?);
        let heard =
            State { wired: self.wired, setting: &setting, load: self.conditions.load, strings: &strings };
        let turned = |taper| band::travel(&heard, knob, taper, &self.thinned(), STEPS).ok();
        let two_pieces = match taper {
            Taper::Audio { middle } | Taper::Reverse { middle } => turned(Taper::TwoSlope { middle }),
            Taper::Linear | Taper::Unknown | Taper::TwoSlope { .. } => None,
        };
        let open_at_full = setting.wipers.get(knob).is_none_or(|&end| end > 0.5);
        Some(KnobWay { knob, state, taper, way: turned(taper)?, open_at_full, two_pieces })
    }
}

/// A curve with its band.
pub fn banded(curve: Curve, band: &Band) -> Curve {
    let points = band.frequencies.iter().zip(&band.levels);
    curve.between(points.map(|(&at, level)| (at, level.low, level.high)))
}

/// A knob's way as a plot: the level at [`TRAVEL_AT`] and, where there is one all the way, that of the peak, over the turn.
/// A bent track stands between its two laws.
pub fn way_plot(way: &KnobWay, title: &str) -> Plot {
    let over = |name: &str, way: &[Turned]| {
        Curve::over_turn(name, way.iter().map(|turned| (10.0 * turned.turn, turned.level)))
    };
    let mut curves = Vec::new();
    match &way.two_pieces {
        Some(two) => curves.extend([over("exponential", &way.way), over("two pieces", two)]),
        None => curves.push(over("even track", &way.way)),
    }
    let peaks = way.way.iter().map(|turned| turned.figures.peak.map(|peak| (10.0 * turned.turn, peak.level)));
    if let Some(peaks) = peaks.collect::<Option<Vec<_>>>() {
        curves.push(Curve::over_turn("at the peak", peaks));
    }
    Plot::over_turn(title, "the coils' own voltage", curves)
}

/// One of several circuits that are heard side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What it is called: `as found`, `as planned`.
    pub name: String,
    /// Its figures with every part as named.
    pub figures: Figures,
    /// Its levels.
    pub curve: Curve,
    /// Coils that are taken to answer the string alike, because their winding or pole is not known.
    pub taken_in_phase: Vec<String>,
}

/// A circuit with every switch in its first position and every knob full up, as a place to begin comparing.
pub fn full_up(circuit: &Circuit) -> Setting {
    Setting::first(circuit)
}

/// Several circuits side by side, each in a setting of its own, through the same cable and input: as found, as planned,
/// and alternatives. Of joins that are not known the first candidate is taken.
///
/// # Errors
/// For each circuit that has no output to solve in its setting, why.
pub fn compare(named: &[(&str, &Circuit, &Setting)], load: Load) -> Vec<Result<Compared, Unsolvable>> {
    let frequencies = Conditions::default().frequencies;
    let one = |&(name, circuit, setting): &(&str, &Circuit, &Setting)| {
        let wired = circuit.possibilities().next().ok_or(Unsolvable::NoJack)?;
        let mut taken_in_phase = Vec::new();
        let mut strings = Vec::new();
        for (part, coil) in circuit.coils() {
            let signs = coil.winding.zip(coil.magnet);
            if signs.is_none() {
                taken_in_phase.push(circuit.parts()[part].name.clone());
            }
            strings.push(
                signs.map_or(1.0, |(winding, magnet): (Sign, Sign)| winding.factor() * magnet.factor()),
            );
        }
        let state = State { wired: &wired, setting, load, strings: &strings };
        let levels = band::levels(&state, &frequencies)?;
        Ok(Compared {
            name: name.to_owned(),
            figures: band::figures(&state, &frequencies)?,
            curve: Curve::new(name, frequencies.iter().copied().zip(levels)),
            taken_in_phase,
        })
    };
    named.iter().map(one).collect()
}

/// The circuits that were compared, on one plot.
pub fn comparison(title: &str, compared: &[Compared]) -> Plot {
    Plot::response(title, "the coils' own voltage", compared.iter().map(|one| one.curve.clone()).collect())
}
