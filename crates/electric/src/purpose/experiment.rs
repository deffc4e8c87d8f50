//! The experiments on one wiring in one state.

use asfound_measure::{Decibels, Hertz};

use super::curve::{Dip, Response};
use super::{Behaviour, Voice, VoiceWord};
use crate::circuit::Sort;
use crate::explain::experiment::colourers;
use crate::explain::knobs::{Open, knobs, open};
use crate::explain::listen::{Bench, Heard, any, change};
use crate::explain::{
    KNOB_NOTHING_BELOW, KNOB_TILT, KnobFact, KnobWord, PerBand, PhaseWord, RESONANCE_REFERENCE, RelationWord,
    StateTold,
};
use crate::network::Unsolvable;
use crate::state::{Changes, Setting, Wired};

use super::NOTCH_DEPTH;

/// Where the level stands against which lows are missing: about the middle of the sound.
const MIDDLE: Hertz = Hertz(1000.0);

/// What a part does in a state.
struct Acting {
    part: usize,
    /// Changes of level with it out, and with it bridged.
    out: PerBand<Decibels>,
    bridged: PerBand<Decibels>,
}

/// What a state does, but for what hangs on pairs of coils.
pub(super) fn behaviours(
    bench: &Bench,
    wired: &Wired,
    half_way: &Setting,
    frequencies: &[Hertz],
) -> Result<Vec<Behaviour>, Unsolvable> {
    let opened = open(bench, wired, half_way.clone())?;
    if !(0..bench.coils).any(|coil| opened.heard.audible(coil)) {
        return Ok(vec![Behaviour::Kill]);
    }
    let facts = knobs(bench, wired, &opened)?;
    let mut found = Vec::new();
    let works_on_tone = facts
        .iter()
        .any(|fact| matches!(fact.word, KnobWord::TrebleCut | KnobWord::BassCut | KnobWord::Blend { .. }));
    for voice in voices(bench, wired, &opened, frequencies)? {
        found.push(if works_on_tone { Behaviour::Fixed { voice } } else { Behaviour::Preset { voice } });
    }
    for (knob, fact) in facts.iter().enumerate() {
        if let KnobWord::Blend { brings_in, .. } = &fact.word {
            found.push(Behaviour::Blend { knob, brings_in: brings_in.clone() });
        }
    }
    for (knob, fact) in facts.iter().enumerate() {
        if let Some(tone) = tone(bench, wired, &opened, frequencies, (knob, fact))? {
            found.push(tone);
        }
    }
    if !facts.is_empty() && facts.iter().all(|fact| fact.word == KnobWord::Nothing) {
        found.push(Behaviour::Straight);
    }
    Ok(found)
}

/// What hangs on pairs of coils, as the explanation found it in these possibilities; before what parts and knobs do.
pub(super) fn add_pairs(found: &mut Vec<Behaviour>, state: &StateTold, at: &[usize]) {
    let coils = |wanted: &dyn Fn(usize, usize) -> bool| {
        let mut coils: Vec<usize> = (0..state.pairs.len())
            .filter(|&pair| at.iter().all(|&possibility| wanted(pair, possibility)))
            .flat_map(|pair| [state.pairs[pair].a, state.pairs[pair].b])
            .collect();
        coils.sort_unstable();
        coils.dedup();
        coils
    };
    let in_series = coils(&|pair, possibility| {
        let relation = state.pairs[pair].relation.in_possibility(possibility).and_then(Option::as_ref);
        relation.is_some_and(|relation| relation.word == RelationWord::Series)
    });
    let apart = coils(&|pair, possibility| {
        let phase = state.pairs[pair].phase.in_possibility(possibility).and_then(Option::as_ref);
        phase.is_some_and(|phase| {
            phase.word.low == PhaseWord::OutOfPhase && phase.word.middle == PhaseWord::OutOfPhase
        })
    });
    if !apart.is_empty() {
        found.insert(0, Behaviour::HalfTone { coils: apart });
    }
    if !in_series.is_empty() {
        found.insert(0, Behaviour::SeriesDrive { coils: in_series });
    }
}

fn tilt(change: &PerBand<Decibels>) -> f64 {
    change.high.0 - change.low.0
}

/// The parts that act in a state, wherever the knobs stand.
fn acting(bench: &Bench, wired: &Wired, opened: &Open) -> Result<Vec<Acting>, Unsolvable> {
    let before = opened.heard.total();
    let listen = |changes: &Changes| -> Result<PerBand<Decibels>, Unsolvable> {
        let after: Heard = bench.listen(wired, &opened.setting, changes)?;
        Ok(change(&before, &after.total()))
    };
    let mut acting = Vec::new();
    for part in colourers(bench.circuit) {
        let out = listen(&Changes::open(part))?;
        let heard = |change: &PerBand<Decibels>| any(change, |it| it.0.abs() >= KNOB_NOTHING_BELOW.0);
        if !heard(&out) {
            continue;
        }
        let bridged = listen(&Changes::short(part))?;
        if heard(&bridged) {
            acting.push(Acting { part, out, bridged });
        }
    }
    Ok(acting)
}

/// What fixed parts make of a state.
fn voices(
    bench: &Bench,
    wired: &Wired,
    opened: &Open,
    frequencies: &[Hertz],
) -> Result<Vec<Voice>, Unsolvable> {
    let acting = acting(bench, wired, opened)?;
    if acting.is_empty() {
        return Ok(Vec::new());
    }
    let response =
        |changes: &Changes| Response::new(wired, &opened.setting, bench.load, changes, frequencies);
    let here = response(&Changes::default())?;
    let name = |part: usize| bench.circuit.parts()[part].name.clone();
    let mut voices = Vec::new();
    let mut in_notch = Vec::new();
    if let Some(Dip { at, place, depth }) = here.notch() {
        for one in &acting {
            let lifted = response(&Changes::open(one.part))?.levels[place] - here.levels[place];
            if lifted >= NOTCH_DEPTH.0 {
                in_notch.push(one.part);
            }
        }
        if !in_notch.is_empty() {
            let parts = in_notch.iter().map(|&part| name(part)).collect();
            voices.push(Voice { what: VoiceWord::Notch, parts, at: Some(at), depth });
        }
    }
    let mut cut = |what: VoiceWord, at: Option<Hertz>, missing: &dyn Fn(&Acting) -> f64| {
        let cuts = |one: &&Acting| !in_notch.contains(&one.part) && missing(one) >= KNOB_TILT.0;
        let parts: Vec<&Acting> = acting.iter().filter(cuts).collect();
        let depth = parts.iter().map(|one| missing(one)).fold(0.0, f64::max);
        if !parts.is_empty() {
            let parts = parts.iter().map(|one| name(one.part)).collect();
            voices.push(Voice { what, parts, at, depth: Decibels(depth) });
        }
    };
    cut(VoiceWord::TrebleCut, here.upper_corner(RESONANCE_REFERENCE), &|one| tilt(&one.out));
    // Only a capacitor in the way of the signal cuts lows: one that is bridged, not one that shunts.
    cut(VoiceWord::BassCut, here.lower_corner(MIDDLE), &|one| {
        let is_capacitor = matches!(bench.circuit.parts()[one.part].sort, Sort::Capacitor(_));
        if is_capacitor { -tilt(&one.bridged) } else { 0.0 }
    });
    Ok(voices)
}

/// A knob that takes highs or lows down, with the corner at its far end.
fn tone(
    bench: &Bench,
    wired: &Wired,
    opened: &Open,
    frequencies: &[Hertz],
    (knob, fact): (usize, &KnobFact),
) -> Result<Option<Behaviour>, Unsolvable> {
    let treble = match fact.word {
        KnobWord::TrebleCut => true,
        KnobWord::BassCut => false,
        _ => return Ok(None),
    };
    let mut far = opened.setting.clone();
    far.wipers[knob] = 1.0 - far.wipers[knob];
    let there = Response::new(wired, &far, bench.load, &Changes::default(), frequencies)?;
    let corner = if treble { there.upper_corner(RESONANCE_REFERENCE) } else { there.lower_corner(MIDDLE) };
    Ok(Some(Behaviour::Tone { knob, treble, corner }))
}
