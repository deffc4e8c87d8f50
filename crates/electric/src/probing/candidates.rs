//! Which probings are worth thinking of, and how much trouble each is.

use crate::circuit::{Circuit, Sort, Terminal};
use crate::state::Setting;

use super::slips::{Joins, every_lug, lug_numbers, points};

/// Up to this many lugs every pair of them is thought of.
const EVERY_PAIR: usize = 16;

/// Settings that are thought of at most.
const MOST_SETTINGS: usize = 64;

/// Settings to probe in, the plainest first, and whether they are every position of the switches.
///
/// In each position: all knobs full up, all half way, and each at nought with the rest full. Where that is more than
/// [`MOST_SETTINGS`], the knobs are moved in the first position only; where the positions alone are more, each switch goes
/// through its positions while the others rest in their first.
pub(super) fn settings(circuit: &Circuit) -> (Vec<Setting>, bool) {
    let every = Setting::count(circuit) <= MOST_SETTINGS as u128;
    let positions: Vec<Setting> =
        if every { Setting::every_position(circuit).collect() } else { one_at_a_time(circuit) };
    let pots = circuit.pots().count();
    let knobs = knobs(pots);
    let all_knobs = positions.len() * knobs.len() <= MOST_SETTINGS;
    let mut settings = Vec::new();
    for (at, wipers) in knobs.iter().enumerate() {
        for (which, position) in positions.iter().enumerate() {
            if at == 0 || which == 0 || all_knobs {
                settings.push(Setting { wipers: wipers.clone(), ..position.clone() });
            }
        }
    }
    (settings, every)
}

fn one_at_a_time(circuit: &Circuit) -> Vec<Setting> {
    let mut settings = vec![Setting::first(circuit)];
    for (which, (_, plan)) in circuit.switches().enumerate() {
        for position in 1..plan.positions().len() {
            let mut setting = Setting::first(circuit);
            setting.positions[which] = position;
            settings.push(setting);
        }
    }
    settings
}

fn knobs(pots: usize) -> Vec<Vec<f64>> {
    let mut knobs = vec![vec![1.0; pots]];
    if pots > 0 {
        knobs.push(vec![0.5; pots]);
    }
    for pot in 0..pots {
        let mut wipers = vec![1.0; pots];
        wipers[pot] = 0.0;
        knobs.push(wipers);
    }
    knobs
}

/// Pairs of lugs to probe between, and whether they are all pairs.
///
/// Of a large circuit: both ends of every join, every lug against tip and sleeve, neighbours on one part, and every two
/// points that wires go to.
pub(super) fn pairs(circuit: &Circuit, drawn: &Joins) -> (Joins, bool) {
    let lugs = every_lug(circuit);
    let every = lugs.len() <= EVERY_PAIR;
    let mut pairs: Joins = Vec::new();
    let mut add = |a: Terminal, b: Terminal| {
        if a != b {
            pairs.push((a.min(b), a.max(b)));
        }
    };
    if every {
        for (at, &a) in lugs.iter().enumerate() {
            lugs[at + 1..].iter().for_each(|&b| add(a, b));
        }
    } else {
        drawn.iter().for_each(|&(a, b)| add(a, b));
        lugs.windows(2).filter(|pair| pair[0].part == pair[1].part).for_each(|pair| add(pair[0], pair[1]));
        for jack in circuit.jacks().take(1) {
            for lug in 0..2 {
                lugs.iter().for_each(|&other| add(Terminal { part: jack, lug }, other));
            }
        }
        let heads = heads(circuit, drawn);
        for (at, &a) in heads.iter().enumerate() {
            heads[at + 1..].iter().for_each(|&b| add(a, b));
        }
    }
    pairs.sort_unstable();
    pairs.dedup();
    (pairs, every)
}

/// For each point that wires go to, the lug that is easiest to reach.
fn heads(circuit: &Circuit, drawn: &Joins) -> Vec<Terminal> {
    let first = lug_numbers(circuit);
    let points = points(&first, drawn);
    let mut heads: Vec<(u32, Terminal)> = Vec::new();
    for lug in drawn.iter().flat_map(|&(a, b)| [a, b]) {
        let point = points[first[lug.part] + lug.lug];
        match heads.iter_mut().find(|(known, _)| *known == point) {
            Some((_, head)) if reach(circuit, lug) < reach(circuit, *head) => *head = lug,
            Some(_) => {}
            None => heads.push((point, lug)),
        }
    }
    heads.into_iter().map(|(_, head)| head).collect()
}

/// How hard a lug is to put a probe on: the jack from outside, lugs in the cavity, a pot's shell, the ends of a winding.
/// Common practice, no source.
fn reach(circuit: &Circuit, lug: Terminal) -> usize {
    match circuit.parts()[lug.part].sort {
        Sort::Jack => 0,
        Sort::Pot(_) if lug.lug == 3 => 2,
        Sort::Coil(_) => 3,
        _ => 1,
    }
}

/// How much trouble a probing is.
pub(super) fn trouble(circuit: &Circuit, (from, to): (Terminal, Terminal), setting: &Setting) -> usize {
    let turned: usize = setting.wipers.iter().map(|&turn| usize::from(turn != 1.0)).sum();
    reach(circuit, from) + reach(circuit, to) + turned
}

/// How many switches and knobs a hand moves from one setting to another.
pub(super) fn moves(from: &Setting, to: &Setting) -> usize {
    let switches = from.positions.iter().zip(&to.positions).filter(|(a, b)| a != b).count();
    let knobs = from.wipers.iter().zip(&to.wipers).filter(|(a, b)| a != b).count();
    switches + knobs
}
