//! Known arrangements, recognised by what every position does.

use super::{Behaviour, VoiceWord};
use crate::explain::{Agreed, CoilWord, Explanation, KnobWord, RelationWord, StateTold};

/// What a window of dates rests on where nothing published is at hand.
pub const NO_SOURCE: &str = "common practice, no source";

/// From when until when an arrangement was made, in words, and what that rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// `1950 to mid-1952`.
    pub dates: &'static str,
    /// Where that is from.
    pub source: &'static str,
}

/// A known arrangement of a whole instrument.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Arrangement {
    /// Three positions: one coil, the other, and the other dark with the tone knob dead; never both.
    PresetBass {
        /// The coil heard with both knobs only.
        first: usize,
        /// The coil that has the dark position.
        dark: usize,
        /// The position that is dark, as an index into [`Explanation::states`].
        state: usize,
    },
    /// Three positions: one coil with the second knob blending in the other, the other alone, the other dark; the second
    /// knob does nothing in the last two.
    Blend {
        /// The coil into which the other is blended.
        first: usize,
        /// The coil that is blended in.
        blended: usize,
        /// The position that is dark.
        state: usize,
    },
    /// Two coils, each alone and both together side by side, with a volume each of which either silences both when both
    /// are on.
    CoupledVolumes {
        /// The two volume knobs.
        knobs: [usize; 2],
    },
    /// One selector with the same coils in all its positions, three or more of them with a notch of their own.
    SteppedNotch {
        /// The positions with a notch.
        states: Vec<usize>,
    },
}

impl Arrangement {
    /// When it was made, as evidence of a date; `None` where it was made at all times.
    pub const fn window(&self) -> Option<Window> {
        match self {
            Self::PresetBass { .. } => Some(Window { dates: "mid-1952 to 1967", source: NO_SOURCE }),
            Self::Blend { .. } => Some(Window { dates: "1950 to mid-1952", source: NO_SOURCE }),
            Self::CoupledVolumes { .. } | Self::SteppedNotch { .. } => None,
        }
    }
}

/// What one position comes to.
struct Position<'e> {
    state: usize,
    /// The coils that sound.
    coils: Vec<usize>,
    /// What each knob does.
    knobs: Vec<&'e KnobWord>,
    /// Whether fixed parts cut its treble with its fundamental tones left only.
    dark: bool,
    notch: bool,
}

/// Where a dark voice has lost its highs: below the second octave of the open strings' own range.
const DARK_BELOW: f64 = 1000.0;

/// The arrangement, where every position is certain and behaves so.
pub(super) fn known(explanation: &Explanation, groups: &[Agreed<Vec<Behaviour>>]) -> Option<Arrangement> {
    let mut positions: Vec<Position<'_>> = Vec::new();
    for (group, behaviours) in explanation.groups.iter().zip(groups) {
        let behaviours = behaviours.certain()?;
        for &state in &group.states {
            positions.push(position(&explanation.states[state], state, behaviours)?);
        }
    }
    positions.sort_by_key(|position| position.state);
    if explanation.switches.len() != 1 {
        return None;
    }
    dark_position(&positions).or_else(|| coupled(explanation, &positions)).or_else(|| stepped(&positions))
}

fn position<'e>(told: &'e StateTold, state: usize, behaviours: &[Behaviour]) -> Option<Position<'e>> {
    let mut coils = Vec::new();
    for (coil, fact) in told.coils.iter().enumerate() {
        if fact.certain()?.word == CoilWord::Sounds {
            coils.push(coil);
        }
    }
    let knobs = told.knobs.iter().map(|knob| knob.certain().map(|fact| &fact.word)).collect::<Option<_>>()?;
    let voiced = |wanted: VoiceWord| {
        behaviours.iter().find_map(|one| match one {
            Behaviour::Preset { voice } | Behaviour::Fixed { voice } if voice.what == wanted => Some(voice),
            _ => None,
        })
    };
    let corner = voiced(VoiceWord::TrebleCut).and_then(|voice| voice.at);
    let dark = corner.is_some_and(|at| at.0 < DARK_BELOW);
    Some(Position { state, coils, knobs, dark, notch: voiced(VoiceWord::Notch).is_some() })
}

/// The two arrangements with a dark third position.
fn dark_position(positions: &[Position<'_>]) -> Option<Arrangement> {
    let [_, _, _] = positions else { return None };
    let dark = positions.iter().find(|position| position.dark)?;
    let [dark_coil] = dark.coils.as_slice() else { return None };
    let works = |position: &Position<'_>, knob: usize| *position.knobs[knob] != KnobWord::Nothing;
    let knobs = dark.knobs.len();
    let dead: Vec<usize> = (0..knobs).filter(|&knob| !works(dark, knob)).collect();
    let [dead] = dead.as_slice() else { return None };
    if knobs != 2 {
        return None;
    }
    let plain =
        positions.iter().find(|one| one.coils == [*dark_coil] && one.state != dark.state && !one.dark)?;
    let first = positions.iter().find(|one| one.state != dark.state && one.state != plain.state)?;
    let volume = |position: &Position<'_>| {
        (0..knobs).all(|knob| knob == *dead || matches!(position.knobs[knob], KnobWord::Volume { .. }))
    };
    if !positions.iter().all(volume) {
        return None;
    }
    match first.knobs[*dead] {
        KnobWord::Blend { brings_in, .. } if brings_in == &[*dark_coil] && !works(plain, *dead) => {
            let first = *first.coils.iter().find(|&coil| coil != dark_coil)?;
            Some(Arrangement::Blend { first, blended: *dark_coil, state: dark.state })
        }
        KnobWord::TrebleCut if *plain.knobs[*dead] == KnobWord::TrebleCut => match first.coils.as_slice() {
            [first] if first != dark_coil => {
                Some(Arrangement::PresetBass { first: *first, dark: *dark_coil, state: dark.state })
            }
            _ => None,
        },
        _ => None,
    }
}

/// Two coils, one, both and the other, each with its volume; with both on, either volume silences both.
fn coupled(explanation: &Explanation, positions: &[Position<'_>]) -> Option<Arrangement> {
    let [_, _, _] = positions else { return None };
    let both = positions.iter().find(|one| one.coils == [0, 1])?;
    let relation = explanation.states[both.state].pairs.first()?.relation.certain()?.as_ref()?;
    if explanation.coils.len() != 2 || relation.word != RelationWord::Parallel {
        return None;
    }
    let silences_all = |word: &KnobWord| matches!(word, KnobWord::Volume { all: true, .. });
    let own = |coil: usize| {
        let alone = positions.iter().find(|one| one.coils == [coil])?;
        let mut volumes = (0..alone.knobs.len()).filter(|&knob| silences_all(alone.knobs[knob]));
        let knob = volumes.next()?;
        volumes.next().is_none().then_some(knob)
    };
    let knobs = [own(0)?, own(1)?];
    let either = knobs[0] != knobs[1] && knobs.iter().all(|&knob| silences_all(both.knobs[knob]));
    either.then_some(Arrangement::CoupledVolumes { knobs })
}

fn stepped(positions: &[Position<'_>]) -> Option<Arrangement> {
    let same = positions.iter().all(|one| one.coils == positions[0].coils && !one.coils.is_empty());
    let states: Vec<usize> = positions.iter().filter(|one| one.notch).map(|one| one.state).collect();
    (same && states.len() >= 3).then_some(Arrangement::SteppedNotch { states })
}
