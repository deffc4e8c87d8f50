//! All experiments on one wiring in one state: what does not depend on the signs of the coils.

use asfound_measure::{Decibels, Hertz, Ohms};

use super::facts::{
    CoilFact, CoilWord, DeadWhy, JackOhms, JackOutput, KnobFact, MetalFact, PerBand, Relation, RelationWord,
};
use super::knobs::{knobs, open};
use super::listen::{Bench, Heard, all, any, change};
use super::{FAINT_BELOW, HUM_FREQUENCY, KNOB_NOTHING_BELOW, LEVEL_FLOOR, SHORTED_BELOW, SILENT_BELOW};
use crate::circuit::{Circuit, Coil, Sort, Terminal};
use crate::complex::Complex;
use crate::direct::{Reading, resistance};
use crate::network::Unsolvable;
use crate::solve::{Output, Prepared};
use crate::state::{Changes, Setting, Wired};

/// What one wiring does in one state.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) output: JackOutput,
    pub(super) coils: Vec<CoilFact>,
    pub(super) heard: Heard,
    /// Coils that sound or are faint.
    pub(super) audible: Vec<usize>,
    /// Relations of the pairs of those coils.
    pub(super) relations: Vec<(usize, usize, Relation)>,
    pub(super) knobs: Vec<KnobFact>,
    /// For each part of [`colourers`], what taking it out changes.
    pub(super) colouring: Vec<Option<PerBand<Decibels>>>,
    /// For each piece of [`metals`].
    pub(super) metal: Vec<MetalFact>,
    pub(super) floating: Vec<String>,
    pub(super) ohms: JackOhms,
    /// For each part, whether a path runs through it.
    pub(super) on_path: Vec<bool>,
    /// Each coil's transfer at [`HUM_FREQUENCY`].
    pub(super) hum: Vec<Complex>,
    /// Each coil's transfer over the curve's frequencies; empty for coils that are not heard.
    pub(super) curve: Vec<Vec<Complex>>,
}

/// Parts that may colour the sound: capacitors, resistors, chokes.
pub(crate) fn colourers(circuit: &Circuit) -> Vec<usize> {
    let colours = |sort: &Sort| matches!(sort, Sort::Capacitor(_) | Sort::Resistor(_) | Sort::Choke { .. });
    (0..circuit.parts().len()).filter(|&part| colours(&circuit.parts()[part].sort)).collect()
}

/// Metal that can be touched: bare metal and covers of coils.
pub(super) fn metals(circuit: &Circuit) -> Vec<(String, Terminal)> {
    let mut metals = Vec::new();
    for (index, part) in circuit.parts().iter().enumerate() {
        match &part.sort {
            Sort::Metal => metals.push((part.name.clone(), Terminal { part: index, lug: 0 })),
            Sort::Coil(coil) if coil.cover => {
                let cover = Terminal { part: index, lug: 2 };
                metals.push((circuit.name_of(cover), cover));
            }
            _ => {}
        }
    }
    metals
}

/// Makes all experiments on a state; `half_way` is it with every knob half way.
pub(super) fn experiment(
    bench: &Bench,
    wired: &Wired,
    half_way: &Setting,
    frequencies: &[Hertz],
) -> Result<Found, Unsolvable> {
    let circuit = bench.circuit;
    let half = &Prepared::new(wired, half_way, bench.load, &Changes::default())?;
    let opened = open(bench, wired, half_way.clone())?;
    let knobs = knobs(bench, wired, &opened)?;
    let (setting, heard) = (opened.setting, opened.heard);
    let mut prepared = Prepared::new(wired, &setting, bench.load, &Changes::default())?;

    let coils = coil_facts(circuit, half, &mended_paths(bench, wired, half_way)?, &heard);
    let audible: Vec<usize> = (0..coils.len())
        .filter(|&coil| matches!(coils[coil].word, CoilWord::Sounds | CoilWord::Faint))
        .collect();
    let ohms = jack_ohms(circuit, wired, &setting)?;
    let output = output(&prepared, ohms, &audible);
    let mut curve = vec![Vec::new(); coils.len()];
    let mut hum = vec![Complex::ZERO; coils.len()];
    if prepared.output() == Output::Live {
        for &frequency in frequencies {
            let response = prepared.at(frequency)?;
            for &coil in &audible {
                curve[coil].push(response.transfers[coil]);
            }
        }
        hum.clone_from(&prepared.at(HUM_FREQUENCY)?.transfers);
    }
    Ok(Found {
        output,
        relations: relations(bench, wired, &setting, &heard, &audible)?,
        colouring: colouring(bench, wired, &setting, &heard, half)?,
        metal: metal(bench, wired, &setting, &heard, &prepared)?,
        floating: floating(circuit, half),
        on_path: (0..circuit.parts().len()).map(|part| half.on_path(part)).collect(),
        coils,
        heard,
        audible,
        knobs,
        ohms,
        hum,
        curve,
    })
}

fn jack(circuit: &Circuit) -> Result<(Terminal, Terminal), Unsolvable> {
    let part = circuit.jacks().next().ok_or(Unsolvable::NoJack)?;
    Ok((Terminal { part, lug: 0 }, Terminal { part, lug: 1 }))
}

fn jack_ohms(circuit: &Circuit, wired: &Wired, setting: &Setting) -> Result<JackOhms, Unsolvable> {
    let (tip, sleeve) = jack(circuit)?;
    Ok(match resistance(wired, setting, &Changes::default(), tip, sleeve)?.reading {
        Reading::Ohms(ohms) => JackOhms::Reads(ohms),
        Reading::Shorted => JackOhms::Reads(Ohms(0.0)),
        Reading::Open => JackOhms::Open,
    })
}

fn output(prepared: &Prepared, ohms: JackOhms, audible: &[usize]) -> JackOutput {
    let shorted = matches!(ohms, JackOhms::Reads(ohms) if ohms < SHORTED_BELOW);
    match prepared.output() {
        Output::Shorted => JackOutput::Shorted,
        Output::Open => JackOutput::Open,
        Output::Live if !audible.is_empty() => JackOutput::Live,
        Output::Live if shorted => JackOutput::Shorted,
        Output::Live => JackOutput::Silent,
    }
}

/// For each part, whether a path would run through it if all broken coils were whole; empty where none is broken.
fn mended_paths(bench: &Bench, wired: &Wired, half_way: &Setting) -> Result<Vec<bool>, Unsolvable> {
    let circuit = bench.circuit;
    let mut mended = Changes::default();
    for (part, coil) in circuit.coils().filter(|(_, coil)| coil.open) {
        mended.replaced.push((part, Sort::Coil(Coil { open: false, ..*coil })));
    }
    if mended.replaced.is_empty() {
        return Ok(Vec::new());
    }
    let prepared = Prepared::new(wired, half_way, bench.load, &mended)?;
    Ok((0..circuit.parts().len()).map(|part| prepared.on_path(part)).collect())
}

/// `mended` is as [`mended_paths`] finds it.
fn coil_facts(circuit: &Circuit, half: &Prepared, mended: &[bool], heard: &Heard) -> Vec<CoilFact> {
    let levels: Vec<PerBand<Decibels>> =
        circuit.coils().enumerate().map(|(coil, _)| heard.level(coil)).collect();
    let most = |of: fn(&PerBand<Decibels>) -> f64| levels.iter().map(of).fold(LEVEL_FLOOR.0, f64::max);
    let loudest =
        PerBand { low: most(|it| it.low.0), middle: most(|it| it.middle.0), high: most(|it| it.high.0) };
    circuit
        .coils()
        .zip(&levels)
        .map(|((part, coil), &level)| {
            let under = PerBand {
                low: level.low.0 - loudest.low,
                middle: level.middle.0 - loudest.middle,
                high: level.high.0 - loudest.high,
            };
            // A coil that is coupled to another may be heard although no wire leads to it.
            let below = all(&level, |level| level < SILENT_BELOW);
            let word = if !half.on_path(part) && below {
                CoilWord::Dead(match mended.get(part) {
                    Some(true) if coil.open => DeadWhy::Open,
                    Some(true) => DeadWhy::BehindOpen,
                    _ => dead_why(circuit, half, part),
                })
            } else if below {
                CoilWord::Silent
            } else if all(&under, |under| under <= FAINT_BELOW.0) {
                CoilWord::Faint
            } else {
                CoilWord::Sounds
            };
            CoilFact { word, level }
        })
        .collect()
}

fn dead_why(circuit: &Circuit, half: &Prepared, part: usize) -> DeadWhy {
    let (hot, ground) = (Terminal { part, lug: 0 }, Terminal { part, lug: 1 });
    let nets = half.nets();
    if nets.same(hot, ground) {
        return DeadWhy::Shorted;
    }
    let leads_on = |end| {
        nets.members(nets.net(end)).iter().any(|lug| {
            let conducts = match &circuit.parts()[lug.part].sort {
                Sort::Pot(_) => lug.lug < 3,
                Sort::Coil(_) => lug.lug < 2,
                Sort::Capacitor(_) | Sort::Resistor(_) | Sort::Choke { .. } | Sort::Jack => true,
                Sort::Switch(_) | Sort::Metal | Sort::Post { .. } => false,
            };
            lug.part != part && conducts
        })
    };
    if leads_on(hot) && leads_on(ground) { DeadWhy::Aside } else { DeadWhy::EndLoose }
}

fn relations(
    bench: &Bench,
    wired: &Wired,
    setting: &Setting,
    heard: &Heard,
    audible: &[usize],
) -> Result<Vec<(usize, usize, Relation)>, Unsolvable> {
    if audible.len() < 2 {
        return Ok(Vec::new());
    }
    let parts: Vec<usize> = bench.circuit.coils().map(|(part, _)| part).collect();
    let mut tried = Vec::new();
    for &coil in audible {
        let open = bench.listen(wired, setting, &Changes::open(parts[coil]))?;
        let short = bench.listen(wired, setting, &Changes::short(parts[coil]))?;
        tried.push((coil, open, short));
    }
    let mut relations = Vec::new();
    for (index, (a, a_open, a_short)) in tried.iter().enumerate() {
        for (b, b_open, b_short) in &tried[index + 1..] {
            let series = a_open.silenced(heard, *b) && b_open.silenced(heard, *a);
            let parallel = a_short.silenced(heard, *b) && b_short.silenced(heard, *a);
            let word = match (series, parallel) {
                (true, false) => RelationWord::Series,
                (false, true) => RelationWord::Parallel,
                _ => RelationWord::Mixture,
            };
            // The middle band stands for the figures: there the coils themselves rule, not their capacitances.
            let figure = |after: &Heard, coil: usize| change(&heard.level(coil), &after.level(coil)).middle;
            let relation = Relation {
                word,
                second_with_first_open: figure(a_open, *b),
                second_with_first_shorted: figure(a_short, *b),
                first_with_second_open: figure(b_open, *a),
                first_with_second_shorted: figure(b_short, *a),
            };
            relations.push((*a, *b, relation));
        }
    }
    Ok(relations)
}

fn colouring(
    bench: &Bench,
    wired: &Wired,
    setting: &Setting,
    heard: &Heard,
    half: &Prepared,
) -> Result<Vec<Option<PerBand<Decibels>>>, Unsolvable> {
    let before = heard.total();
    colourers(bench.circuit)
        .into_iter()
        .map(|part| {
            if !half.on_path(part) {
                return Ok(None);
            }
            let without = change(&before, &bench.listen(wired, setting, &Changes::open(part))?.total());
            Ok(any(&without, |change| change.0.abs() >= KNOB_NOTHING_BELOW.0).then_some(without))
        })
        .collect()
}

fn metal(
    bench: &Bench,
    wired: &Wired,
    setting: &Setting,
    heard: &Heard,
    prepared: &Prepared,
) -> Result<Vec<MetalFact>, Unsolvable> {
    let (_, sleeve) = jack(bench.circuit)?;
    metals(bench.circuit)
        .into_iter()
        .map(|(_, terminal)| {
            if prepared.nets().same(terminal, sleeve) {
                return Ok(MetalFact::Grounded);
            }
            if prepared.island(terminal) != prepared.island(sleeve) {
                return Ok(MetalFact::Floating);
            }
            let ohms_to_sleeve =
                match resistance(wired, setting, &Changes::default(), terminal, sleeve)?.reading {
                    Reading::Ohms(ohms) => Some(ohms),
                    Reading::Shorted => Some(Ohms(0.0)),
                    Reading::Open => None,
                };
            let mut touched = Changes::default();
            touched.bridged.push((terminal, sleeve));
            let when_touched = change(&heard.total(), &bench.listen(wired, setting, &touched)?.total());
            Ok(MetalFact::Live { ohms_to_sleeve, when_touched })
        })
        .collect()
}

/// Parts of which no lug has anything to do with the jack.
fn floating(circuit: &Circuit, half: &Prepared) -> Vec<String> {
    let Ok((tip, sleeve)) = jack(circuit) else { return Vec::new() };
    let jack = [half.island(tip), half.island(sleeve)];
    let conducts =
        |sort: &Sort| !matches!(sort, Sort::Switch(_) | Sort::Metal | Sort::Post { .. } | Sort::Jack);
    circuit
        .parts()
        .iter()
        .enumerate()
        .filter(|(index, part)| {
            let ends = if matches!(part.sort, Sort::Pot(_)) { 3 } else { 2 };
            conducts(&part.sort)
                && (0..ends).all(|lug| !jack.contains(&half.island(Terminal { part: *index, lug })))
        })
        .map(|(_, part)| part.name.clone())
        .collect()
}
