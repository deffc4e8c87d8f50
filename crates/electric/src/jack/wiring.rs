//! From what is known of the wiring to circuits, one for each way it may be.

use asfound_measure::{Farads, Henries};

use super::model::{TO_BE_FOUND, with_ohms};
use super::reading::{
    Controls, FullUp, JackError, Knobs, OhmsKnown, Plain, PlainReading, Probe, Shown, Traced, check_known,
    check_shown,
};
use crate::circuit::{Circuit, Coil, Join, JoinTo, Known, Part, Pot, Sort, Terminal};
use crate::plan::{Between, Plan, Position};
use crate::polarity::Joined;
use crate::state::Setting;
use crate::taper::Taper;

/// Ways to wire an instrument that are held against the readings.
pub const MOST_WIRINGS: u128 = 64;

/// Coils in a plain arrangement.
pub const MOST_PLAIN_COILS: usize = 6;

/// One way the instrument may be wired.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wiring {
    /// As traced; the number of the possibility, in the order of [`Circuit::possibilities`].
    Traced {
        /// Which possibility.
        possibility: usize,
    },
    /// A plain arrangement.
    Plain {
        /// Where the volumes are.
        controls: Controls,
        /// How coils that are on together are joined where the reading does not say; `None` where no reading hangs on
        /// it.
        joined: Option<Joined>,
    },
}

/// A way to wire it, with how each reading was taken in it.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub(super) wiring: Wiring,
    pub(super) circuit: Circuit,
    pub(super) probes: Vec<Probe>,
    /// What is known of each coil and pot, by part.
    pub(super) known: Vec<(usize, OhmsKnown)>,
}

/// What is common to all candidates.
#[derive(Debug, Clone)]
pub(super) struct Readings {
    pub(super) shown: Vec<Shown>,
    pub(super) full_up: Vec<FullUp>,
}

/// Every way that a trace leaves open.
pub(super) fn traced(asked: &Traced) -> Result<(Vec<Candidate>, Readings), JackError> {
    let read = asked.circuit.possibility_count();
    if read > MOST_WIRINGS {
        return Err(JackError::TooMany { what: "ways to wire it", read, most: MOST_WIRINGS });
    }
    for (reading, it) in asked.readings.iter().enumerate() {
        check_shown(reading, &it.shown)?;
        let pots = it.probe.setting.wipers.len();
        if let Some(knob) = it.probe.largest.filter(|knob| *knob >= pots) {
            return Err(JackError::NoSuchPart { read: knob });
        }
    }
    let found = |part: usize| {
        matches!(asked.circuit.parts().get(part).map(|it| &it.sort), Some(Sort::Coil(_) | Sort::Pot(_)))
    };
    for (part, known) in &asked.known {
        check_known(known)?;
        if !found(*part) {
            return Err(JackError::NoSuchPart { read: *part });
        }
    }
    let known: Vec<(usize, OhmsKnown)> = (0..asked.circuit.parts().len())
        .filter(|part| found(*part))
        .map(|part| {
            let said = asked.known.iter().find(|(other, _)| *other == part);
            (part, said.map_or(OhmsKnown::Unknown, |(_, known)| known.clone()))
        })
        .collect();
    let probes: Vec<Probe> = asked.readings.iter().map(|it| it.probe.clone()).collect();
    let mut candidates = Vec::new();
    for (possibility, wired) in asked.circuit.possibilities().enumerate() {
        let joins = wired.joins().map(|(index, a, end)| Join {
            a,
            to: JoinTo::One(end),
            known: asked.circuit.joins()[index].known.clone(),
        });
        let circuit = Circuit::new(by_ohms(&asked.circuit), joins.collect())
            .map_err(|errors| JackError::Names { why: join_words(&errors) })?;
        let wiring = Wiring::Traced { possibility };
        candidates.push(Candidate { wiring, circuit, probes: probes.clone(), known: known.clone() });
    }
    let shown = asked.readings.iter().map(|it| it.shown).collect();
    let full_up = asked.readings.iter().map(|it| it.full_up).collect();
    Ok((candidates, Readings { shown, full_up }))
}

fn join_words(errors: &[crate::check::CircuitError]) -> String {
    errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

/// The parts with linear tapers, because knobs are set by their share of the ohms here, and with ohms that are to be
/// found.
fn by_ohms(circuit: &Circuit) -> Vec<Part> {
    let mut parts = circuit.parts().to_vec();
    for part in &mut parts {
        if matches!(part.sort, Sort::Coil(_) | Sort::Pot(_)) {
            part.sort = with_ohms(&part.sort, TO_BE_FOUND);
        }
        if let Sort::Pot(pot) = &mut part.sort {
            pot.taper = Taper::Linear;
        }
    }
    parts
}

/// Every plain arrangement that the readings leave open.
pub(super) fn plain(asked: &Plain) -> Result<(Vec<Candidate>, Readings), JackError> {
    check_plain(asked)?;
    let all = [Controls::NoPot, Controls::Master, Controls::Coupled, Controls::Independent];
    let controls = asked.controls.map_or(all.to_vec(), |one| vec![one]);
    let hangs = asked.readings.iter().any(|it| it.on.len() > 1 && it.joined.is_none());
    let ways = match (hangs, asked.joined) {
        (false, _) => vec![None],
        (true, Some(one)) => vec![Some(one)],
        (true, None) => vec![Some(Joined::Parallel), Some(Joined::Series)],
    };
    let mut candidates = Vec::new();
    for controls in controls {
        for &joined in &ways {
            candidates.extend(arrangement(asked, controls, joined)?);
        }
    }
    if candidates.is_empty() {
        return Err(JackError::NoSuchKnob);
    }
    let shown = asked.readings.iter().map(|it| it.shown).collect();
    let full_up = asked.readings.iter().map(|it| match it.knobs {
        Knobs::FullUp => FullUp::Said,
        Knobs::NotSaid => FullUp::NotSaid,
        Knobs::At { .. } | Knobs::Largest { .. } => FullUp::SetOtherwise,
    });
    Ok((candidates, Readings { shown, full_up: full_up.collect() }))
}

fn check_plain(asked: &Plain) -> Result<(), JackError> {
    let count = asked.coils.len();
    if count > MOST_PLAIN_COILS {
        let (read, most) = (count as u128, MOST_PLAIN_COILS as u128);
        return Err(JackError::TooMany { what: "coils", read, most });
    }
    check_known(&asked.tracks)?;
    for (coil, ohms) in &asked.metered {
        check_known(&OhmsKnown::Metered(*ohms))?;
        if *coil >= count {
            return Err(JackError::NoSuchPart { read: *coil });
        }
    }
    for (index, it) in asked.readings.iter().enumerate() {
        check_shown(index, &it.shown)?;
        let reading = index + 1;
        let wrong = |what| Err(JackError::Coils { reading, what, last: count.saturating_sub(1) });
        if it.on.is_empty() {
            return wrong("no coil on");
        }
        if it.on.iter().any(|coil| *coil >= count) {
            return wrong("a coil that is not there");
        }
        if it.on.iter().enumerate().any(|(at, coil)| it.on[..at].contains(coil)) {
            return wrong("a coil named twice");
        }
        if let Knobs::At { share, .. } = it.knobs
            && !(0.0..=1.0).contains(&share)
        {
            return Err(JackError::Share { reading, read: share });
        }
    }
    Ok(())
}

/// The circuit of a plain arrangement; `None` where a reading does not fit it.
///
/// One switch has a position for each reading, so that any joins between coils are alike to build.
fn arrangement(
    asked: &Plain,
    controls: Controls,
    joined: Option<Joined>,
) -> Result<Option<Candidate>, JackError> {
    let own_volumes = matches!(controls, Controls::Coupled | Controls::Independent);
    let pots = match controls {
        Controls::NoPot => 0,
        Controls::Master => 1,
        Controls::Coupled | Controls::Independent => asked.coils.len(),
    };
    let knobs_fit = asked.readings.iter().all(|it| match it.knobs {
        Knobs::FullUp | Knobs::NotSaid => true,
        Knobs::At { volume, .. } | Knobs::Largest { volume } => volume < pots,
    });
    let series = |it: &PlainReading| it.on.len() > 1 && it.joined.or(joined) == Some(Joined::Series);
    // A volume of its own grounds its coil, so such coils are not joined one after the other.
    if !knobs_fit || own_volumes && asked.readings.iter().any(series) {
        return Ok(None);
    }
    let mut parts: Vec<Part> = asked.coils.iter().map(|name| coil(name)).collect();
    parts.extend((0..pots).map(|pot| volume(asked, own_volumes, pot)));
    parts.push(Part::new("selector", Sort::Switch(selector(asked, joined)?)));
    parts.push(Part::new("jack", Sort::Jack));
    let circuit = Circuit::new(parts, joins(asked.coils.len(), pots, controls))
        .map_err(|errors| JackError::Names { why: join_words(&errors) })?;
    let coil_known = |coil: usize| {
        let metered = asked.metered.iter().find(|(other, _)| *other == coil);
        metered.map_or(OhmsKnown::Unknown, |(_, ohms)| OhmsKnown::Metered(*ohms))
    };
    let known = (0..asked.coils.len())
        .map(|part| (part, coil_known(part)))
        .chain((0..pots).map(|pot| (asked.coils.len() + pot, asked.tracks.clone())))
        .collect();
    let probes = asked.readings.iter().enumerate().map(|(position, it)| probe(position, it.knobs, pots));
    let probes = probes.collect();
    Ok(Some(Candidate { wiring: Wiring::Plain { controls, joined }, circuit, probes, known }))
}

fn coil(name: &str) -> Part {
    let coil = Coil {
        resistance: TO_BE_FOUND,
        inductance: Henries(0.0),
        capacitance: Farads(0.0),
        winding: None,
        magnet: None,
        eddy: None,
        cover: false,
        open: false,
    };
    Part::new(name, Sort::Coil(coil))
}

fn volume(asked: &Plain, own: bool, pot: usize) -> Part {
    let name = if own { format!("volume of {}", asked.coils[pot]) } else { "volume".to_owned() };
    Part::new(name, Sort::Pot(Pot { track: TO_BE_FOUND, taper: Taper::Linear }))
}

fn probe(position: usize, knobs: Knobs, pots: usize) -> Probe {
    let mut wipers = vec![1.0; pots];
    let mut largest = None;
    match knobs {
        Knobs::FullUp | Knobs::NotSaid => {}
        Knobs::At { volume, share } => wipers[volume] = share,
        Knobs::Largest { volume } => largest = Some(volume),
    }
    Probe { setting: Setting { positions: vec![position], on_the_way: None, wipers }, largest }
}

/// Lugs: the hot and the ground end of each coil, then `hot` and `ground`.
fn selector(asked: &Plain, joined: Option<Joined>) -> Result<Plan, JackError> {
    let coils = asked.coils.len();
    let mut lugs: Vec<String> =
        (0..coils).flat_map(|coil| [format!("h{coil}"), format!("g{coil}")]).collect();
    lugs.extend(["hot", "ground"].map(str::to_owned));
    let (hot, ground) = (2 * coils, 2 * coils + 1);
    let positions = asked.readings.iter().enumerate().map(|(index, it)| {
        let mut contacts = Vec::new();
        if it.on.len() > 1 && it.joined.or(joined) == Some(Joined::Series) {
            let mut from = hot;
            for &coil in &it.on {
                contacts.push((from, 2 * coil));
                from = 2 * coil + 1;
            }
            contacts.push((from, ground));
        } else {
            contacts.extend(it.on.iter().flat_map(|&coil| [(hot, 2 * coil), (2 * coil + 1, ground)]));
        }
        Position { name: (index + 1).to_string(), contacts }
    });
    Plan::new(lugs, positions.collect(), Between::Nothing)
        .map_err(|error| JackError::Names { why: error.to_string() })
}

/// The joins around coils, volumes, selector and jack, which are the parts in this order.
fn joins(coils: usize, pots: usize, controls: Controls) -> Vec<Join> {
    let (selector, jack) = (coils + pots, coils + pots + 1);
    let lug = |part, lug| Terminal { part, lug };
    let (hot, ground) = (lug(selector, 2 * coils), lug(selector, 2 * coils + 1));
    let (tip, sleeve) = (lug(jack, 0), lug(jack, 1));
    let mut ends = vec![(ground, sleeve)];
    for coil in 0..coils {
        let [low, wiper, high] = [0, 1, 2].map(|at| lug(coils + coil, at));
        let (to_hot, to_ground) = (lug(selector, 2 * coil), lug(selector, 2 * coil + 1));
        ends.push((lug(coil, 1), to_ground));
        match controls {
            Controls::NoPot | Controls::Master => ends.push((lug(coil, 0), to_hot)),
            Controls::Coupled => ends.extend([(lug(coil, 0), high), (wiper, to_hot), (low, to_ground)]),
            Controls::Independent => ends.extend([(lug(coil, 0), wiper), (high, to_hot), (low, to_ground)]),
        }
    }
    if controls == Controls::Master {
        let [low, wiper, high] = [0, 1, 2].map(|at| lug(coils, at));
        ends.extend([(hot, high), (wiper, tip), (low, sleeve)]);
    } else {
        ends.push((hot, tip));
    }
    ends.into_iter().map(|(a, to)| Join { a, to: JoinTo::One(to), known: Known::Unknown }).collect()
}
