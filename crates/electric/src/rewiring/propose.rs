//! From a wiring that was found to a proposal: written as a trace, read again, and tried on the circuit of that trace.

use asfound_measure::Millimetres;

use super::answer::{AtHand, Doing, KnobDown, Met, Probing, Proposal, Sound, Step, WirePiece};
use super::bench::{Bench, by_ohms};
use super::cut_list::{SHORT_RUN, USUAL_RUN, cut};
use super::difference::steps;
use super::judge::Judge;
use super::wish::Wish;
use crate::circuit::{Circuit, Sort, Terminal};
use crate::explain::CoilSigns;
use crate::solve::Prepared;
use crate::state::{Changes, Load, Setting};
use crate::trace::Trace;

/// Readings that a proposal is tested by, beside those at the jack.
const MOST_PROBINGS: usize = 8;

/// What proposals are held against.
pub(super) struct Ground<'a> {
    pub(super) as_found: &'a Circuit,
    pub(super) sounds: &'a [Sound],
    pub(super) wishes: &'a [Wish],
    pub(super) signs: &'a [Vec<CoilSigns>],
    pub(super) load: Load,
    pub(super) at_hand: &'a [AtHand],
    pub(super) wire: &'a [WirePiece],
}

/// The proposal; `None` where the trace cannot be read back, which the tests rule out.
pub(super) fn proposal(
    ground: &Ground,
    doings: Vec<Doing>,
    trace: String,
    selector: Option<&str>,
) -> Option<Proposal> {
    let circuit = Trace::read(&trace).ok()?.circuit().ok()?;
    let linear = by_ohms(&circuit);
    let bench = Bench::new(&linear, ground.load, ground.signs)?;
    let none = Changes::default();
    let judge = Judge::new(&bench, &none);
    let met: Vec<Met> = ground
        .wishes
        .iter()
        .map(|wish| match wish {
            Wish::KeepSelector if selector.is_some() => Met::No,
            _ => judge.judge(wish).met(),
        })
        .collect();
    let sounds: Vec<Sound> = bench.states.iter().map(|state| bench.sound(state)).collect();
    let alike = |(now, before): (&Sound, &Sound)| {
        (&now.coils, now.joined, now.phase) == (&before.coils, before.joined, before.phase)
    };
    let changed = (0..sounds.len())
        .filter(|&at| ground.sounds.get(at).is_none_or(|before| !alike((&sounds[at], before))))
        .collect();
    let (mut steps_there, joints) = steps(ground.as_found, &circuit);
    let (mut way_back, _) = steps(&circuit, ground.as_found);
    if let Some(name) = selector {
        let keep = || Step::KeepSelector { name: name.to_owned() };
        // What is on the old selector comes off first; it goes back in whole.
        steps_there.push(keep());
        way_back.insert(0, keep());
    }
    let names = |of: &Circuit, other: &Circuit| -> Vec<String> {
        of.parts().iter().map(|part| part.name.clone()).filter(|name| other.part(name).is_none()).collect()
    };
    let at_hand = |name: &String| ground.at_hand.iter().any(|it| it.name.eq_ignore_ascii_case(name));
    let new_parts = names(&circuit, ground.as_found).into_iter().filter(|name| !at_hand(name)).collect();
    Some(Proposal {
        knobs_down: knobs_down(&bench, &judge),
        probings: probings(&bench, &steps_there),
        cuts: cut(&wires(&circuit, &steps_there), ground.wire),
        kept: names(ground.as_found, &circuit),
        new_parts,
        steps: steps_there,
        way_back,
        joints,
        changed,
        sounds,
        met,
        doings,
        trace,
        circuit,
    })
}

/// What turning each volume down does, in the first state where more than one coil is heard.
fn knobs_down(bench: &Bench, judge: &Judge) -> Vec<KnobDown> {
    let Some(state) = judge.heard.iter().position(|heard| heard.coils.len() > 1) else { return Vec::new() };
    let (setting, before) = (&bench.states[state], &judge.heard[state]);
    let mut down = Vec::new();
    for knob in 0..setting.wipers.len() {
        for end in [0.0, 1.0] {
            let mut turned = setting.clone();
            turned.wipers[knob] = end;
            let after = bench.hear(&turned, &Changes::default());
            if before.coils.iter().all(|coil| after.coils.contains(coil)) {
                continue;
            }
            let ohms = bench.jack().and_then(|(tip, sleeve)| bench.ohms(&turned, tip, sleeve));
            let shorted = shorted(bench, &turned);
            down.push(KnobDown { knob, state, heard: after.coils, shorted, ohms });
        }
    }
    down
}

fn shorted(bench: &Bench, setting: &Setting) -> Vec<usize> {
    let Ok(prepared) = Prepared::new(&bench.wired, setting, bench.load, &Changes::default()) else {
        return Vec::new();
    };
    let ends = |coil: &usize| {
        let part = bench.coils[*coil];
        prepared.nets().same(Terminal { part, lug: 0 }, Terminal { part, lug: 1 })
    };
    (0..bench.coils.len()).filter(ends).collect()
}

/// What was soldered reads next to nothing; a coil's metal reads the sleeve, and the coil's ohms to its hot lead.
fn probings(bench: &Bench, steps: &[Step]) -> Vec<Probing> {
    let Some(setting) = bench.states.first() else { return Vec::new() };
    let Some((_, sleeve)) = bench.jack() else { return Vec::new() };
    let mut asked: Vec<(String, String)> = Vec::new();
    for step in steps {
        match step {
            Step::Resolder { stays: a, to: b, .. }
            | Step::Wire { a, b }
            | Step::SolderLeg { leg: a, to: b } => {
                asked.push((a.clone(), b.clone()));
            }
            Step::FreeMetal { coil } => {
                let part = bench.coils[*coil];
                let sleeve = bench.circuit.name_of(sleeve);
                let lug = |lug| bench.circuit.name_of(Terminal { part, lug });
                asked.extend([(lug(2), sleeve), (lug(2), lug(0))]);
            }
            Step::TakeOff { .. } | Step::Free { .. } | Step::KeepSelector { .. } => {}
        }
    }
    asked.truncate(MOST_PROBINGS);
    let end = |name: &str| bench.circuit.terminal(name).ok();
    let known = asked.into_iter().filter_map(|(a, b)| {
        let ohms = bench.ohms(setting, end(&a)?, end(&b)?);
        Some(Probing { a, b, setting: setting.clone(), ohms })
    });
    known.collect()
}

/// The wires that are put in, with the length each is taken to need.
fn wires(circuit: &Circuit, steps: &[Step]) -> Vec<(String, String, Millimetres)> {
    let part = |name: &String| circuit.terminal(name).ok().map(|end| end.part);
    let new = steps.iter().filter_map(|step| match step {
        Step::Wire { a, b } => {
            let one = part(a) == part(b) && !matches!(sort(circuit, part(a)), Some(Sort::Coil(_)));
            Some((a.clone(), b.clone(), if one { SHORT_RUN } else { USUAL_RUN }))
        }
        _ => None,
    });
    new.collect()
}

fn sort(circuit: &Circuit, part: Option<usize>) -> Option<&Sort> {
    Some(&circuit.parts()[part?].sort)
}
