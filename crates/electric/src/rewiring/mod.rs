//! Another wiring proposed: what to solder so that an inherited circuit does what is wished, with the fewest joints
//! disturbed.
//!
//! It answers: which wishes the circuit meets as it stands; which wirings near it meet more of them, each as a trace
//! with its steps, its readings, its wire and its way back; and which wishes cannot be had together.
//!
//! # The one decision
//! *A wish is met by experiment, never by construction.* Whatever the search thinks up is written as a trace, read
//! again, solved and listened to; what is reported met was heard on that circuit. So a search that guesses badly costs
//! time and never truth, and a wish can be weighed that no wiring diagram was ever drawn for.
//!
//! The search goes from the wiring found, one change after another: a coil's leads exchanged, all that is on a volume's
//! wiper and its upper lug exchanged, one lug or lead moved to another point or freed. It goes on from the most
//! promising dozen, at most [`DEEPEST`] changes far and `most_tried` wirings in all, and says how far it was complete.
//! Where the kept selector cannot do it, one with more contacts is laid out for what each position is to sound like.
//!
//! Two laws hold throughout: **no magnet is touched** (no proposal changes a part's values or signs), and metal that is
//! grounded stays grounded.
//!
//! # Equations
//! In phase is s w m alike, hum-cancelling s w unlike (connection s, winding w, magnet m; two coils on opposite poles of
//! one magnet: US patent 2,896,491, 1959). So in phase *and* hum-cancelling needs opposite magnets, whatever is
//! soldered. Joined in series and in parallel, level, hum and the words for them are those of [`crate::explain`].
//! Preferred values: IEC 60063.
//!
//! # Example
//! Three coils, each right alone; the middle fights the others.
//!
//! ```
//! use asfound_electric::polarity::Phase;
//! use asfound_electric::rewiring::{Asked, Doing, Met, Place, Wish, rewire};
//! use asfound_electric::trace::Trace;
//!
//! let trace = Trace::read(
//!     "coil bridge 6k3 clockwise north\n\
//!      coil middle 5k8 anticlockwise north\n\
//!      switch lever three-way lever\n\
//!      pot volume 250k\n\
//!      jack jack\n\
//!      join bridge.hot lever.a1 metered\n\
//!      join middle.hot lever.a2 metered\n\
//!      join lever.a0 volume.3 metered\n\
//!      join volume.2 jack.tip metered\n\
//!      join volume.1 jack.sleeve metered\n\
//!      join bridge.ground volume.1 metered\n\
//!      join middle.ground volume.1 metered\n",
//! )
//! .expect("a trace");
//! let place = Place::At { switch: 0, position: 1 };
//! let wish = Wish::Heard { place, coils: vec![0, 1], joined: None, phase: Some(Phase::In) };
//! let answer = rewire(&Asked { wishes: vec![wish], ..Asked::of(trace) }).expect("an answer");
//! let best = &answer.proposals[0];
//! assert_eq!((answer.met[0], best.met[0], best.joints), (Met::No, Met::Yes, 2));
//! assert!(matches!(best.doings[..], [Doing::SwapLeads { .. }]));
//! ```

mod answer;
mod bench;
mod bleed;
mod conflict;
mod cut_list;
mod difference;
mod judge;
mod modern;
mod propose;
mod search;
mod wires;
mod wish;
mod written;

pub use answer::{
    Answer, Asked, AtHand, Bleed, Conflict, Cut, CutList, Doing, Fitted, HandValue, KnobDown, Met, Probing,
    Proposal, Searched, Sound, Step, WhyNot, WirePiece,
};
pub use cut_list::{SHORT_RUN, USUAL_RUN};
pub use judge::TREBLE_KEPT_WITHIN;
pub use modern::MOST_POLES;
pub use search::DEEPEST;
pub use wish::{MOST_COILS, MOST_WISHES, Place, RewiringError, Wish};

use bench::{Bench, by_ohms};
use propose::Ground;
use search::{Found, Scored, search};
use wires::{Wires, as_it_stands};

use crate::circuit::{Circuit, Sign};
use crate::explain::{CoilSigns, Conditions};
use crate::polarity::{Instead, Phase};
use crate::trace::Trace;

/// Proposals that are answered at most.
pub const MOST_PROPOSALS: usize = 4;

impl Asked {
    /// A circuit with no wishes, nothing at hand, and the usual cable and input of [`Conditions`].
    pub fn of(trace: Trace) -> Self {
        let load = Conditions::default().load;
        let (signs, wishes, at_hand, wire) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { trace, signs, wishes, at_hand, wire, load, most_tried: 6000 }
    }
}

/// Looks for other wirings.
///
/// # Errors
/// [`RewiringError`] where a wish names what the circuit does not have, there is more than is searched, or the trace
/// makes no circuit. That nothing can be done is no error but an answer.
pub fn rewire(asked: &Asked) -> Result<Answer, RewiringError> {
    let traced =
        asked.trace.circuit().map_err(|faults| RewiringError::Circuit { why: faults.to_string() })?;
    wish::check(&traced, &asked.wishes)?;
    let (joins, loose) = as_it_stands(&traced);
    let not_solved = || RewiringError::Circuit { why: "the circuit has no jack to listen at".to_owned() };
    let as_found = Circuit::new(traced.parts().to_vec(), joins).map_err(|_| not_solved())?;
    let signs = if asked.signs.is_empty() { signs_left_open(&traced) } else { asked.signs.clone() };
    let linear = by_ohms(&as_found);
    let bench = Bench::new(&linear, asked.load, &signs).ok_or_else(not_solved)?;
    let found = search(&bench, &Wires::of(as_found.joins()), &asked.wishes, asked.most_tried)
        .ok_or_else(not_solved)?;

    let none = crate::state::Changes::default();
    let judge = judge::Judge::new(&bench, &none);
    let met: Vec<Met> = asked.wishes.iter().map(|wish| judge.judge(wish).met()).collect();
    let sounds: Vec<Sound> = bench.states.iter().map(|state| bench.sound(state)).collect();
    let ground = Ground {
        as_found: &as_found,
        sounds: &sounds,
        wishes: &asked.wishes,
        signs: &signs,
        load: asked.load,
        at_hand: &asked.at_hand,
        wire: &asked.wire,
    };
    let mut proposals = proposals(asked, &ground, &found, &met);
    if !met_all(&met) && !proposals.first().is_some_and(|best| met_all(&best.met)) {
        proposals.extend(with_new_selector(asked, &ground, &bench, proposals.first(), &met));
    }
    let conflicts = conflicts(asked, &signs, &found, &met, &proposals);
    let instead = instead(&asked.wishes, &conflicts, &sounds, &proposals);
    let searched = Searched { cut: found.searched.cut && !met_all(&met), ..found.searched };
    Ok(Answer { proposals, conflicts, instead, searched, met, sounds, loose, as_found })
}

fn met_all(met: &[Met]) -> bool {
    met.iter().all(|it| *it == Met::Yes)
}

/// Every way in which the coils' signs may be that the trace leaves open, in the order of the coils. Turning all of one sort over changes nothing that is
/// heard, so what is open of the first coil is held.
pub fn signs_left_open(circuit: &Circuit) -> Vec<Vec<CoilSigns>> {
    let ways = |sign: Option<Sign>, first: bool| match sign {
        None if first => vec![true],
        None => vec![true, false],
        Some(sign) => vec![sign == Sign::Plus],
    };
    let mut all: Vec<Vec<CoilSigns>> = vec![Vec::new()];
    for (at, (_, coil)) in circuit.coils().enumerate() {
        let mut here = Vec::new();
        for clockwise in ways(coil.winding, at == 0) {
            here.extend(ways(coil.magnet, at == 0).into_iter().map(|north| CoilSigns { clockwise, north }));
        }
        let with = |before: &Vec<CoilSigns>| -> Vec<Vec<CoilSigns>> {
            here.iter().map(|&signs| before.iter().copied().chain([signs]).collect()).collect()
        };
        all = all.iter().flat_map(with).collect();
    }
    all
}

/// How much of the wishes is met: those met for certain, then the shares of the others.
fn worth(met: &[Met]) -> (usize, f64) {
    let certain = met.iter().filter(|it| **it == Met::Yes).count();
    let shares = met.iter().map(|it| if let Met::Depends(share) = it { *share } else { 0.0 });
    (certain, shares.sum())
}

fn proposals(asked: &Asked, ground: &Ground, found: &Found, met: &[Met]) -> Vec<Proposal> {
    if met_all(met) {
        return Vec::new();
    }
    let bleeds = bleed::Ground {
        base: ground.as_found,
        at_hand: ground.at_hand,
        signs: ground.signs,
        load: ground.load,
    };
    let as_found = [&found.as_found];
    let mut all: Vec<Proposal> = Vec::new();
    for scored in found.best.iter().chain(as_found) {
        let Some(made) = made(asked, ground, &bleeds, scored) else { continue };
        let better = worth(&made.met) > worth(met);
        // The same with more done is no proposal of its own.
        let more = |known: &Proposal| {
            worth(&known.met) >= worth(&made.met)
                && known.changed.len() <= made.changed.len()
                && known.doings.iter().all(|doing| made.doings.contains(doing))
        };
        if better && !all.iter().any(more) {
            all.retain(|known| {
                !(worth(&made.met) >= worth(&known.met)
                    && made.changed.len() <= known.changed.len()
                    && made.doings.iter().all(|doing| known.doings.contains(doing)))
            });
            all.push(made);
        }
    }
    all.sort_by(|a, b| order(a).partial_cmp(&order(b)).unwrap_or(std::cmp::Ordering::Equal));
    all.truncate(MOST_PROPOSALS);
    all
}

/// Wishes met, sounds kept, joints, new parts; the least first.
fn order(it: &Proposal) -> (std::cmp::Reverse<usize>, f64, bool, usize, usize, usize) {
    let (certain, shares) = worth(&it.met);
    let selector = !it.kept.is_empty();
    let unwished = it.changed.len();
    (std::cmp::Reverse(certain), -shares, selector, unwished, it.joints, it.new_parts.len())
}

/// The best wiring of a selector with more contacts, where it meets more than the kept one does.
fn with_new_selector(
    asked: &Asked,
    ground: &Ground,
    bench: &Bench,
    kept: Option<&Proposal>,
    met: &[Met],
) -> Option<Proposal> {
    if asked.wishes.contains(&Wish::KeepSelector) {
        return None;
    }
    let layouts = modern::layouts(&asked.trace, bench, ground.as_found, ground.sounds, &asked.wishes);
    let made = layouts
        .into_iter()
        .filter_map(|(doing, trace, old)| propose::proposal(ground, vec![doing], trace, Some(&old)));
    let least = kept.map_or(worth(met), |kept| worth(&kept.met));
    let better = made.filter(|it| worth(&it.met) > least);
    better.min_by(|a, b| order(a).partial_cmp(&order(b)).unwrap_or(std::cmp::Ordering::Equal))
}

/// A wiring of the kept selector, with its bleeds, as a proposal.
fn made(asked: &Asked, ground: &Ground, bleeds: &bleed::Ground, scored: &Scored) -> Option<Proposal> {
    let mut wires = scored.wires.clone();
    for wish in &asked.wishes {
        if let Wish::TrebleKept { knob } = wish {
            wires = bleed::best(bleeds, &wires, *knob).unwrap_or(wires);
        }
    }
    if wires.doings.is_empty() {
        return None;
    }
    let circuit = written::circuit(ground.as_found, &wires)?;
    let trace = written::trace(&asked.trace, ground.as_found, &circuit);
    propose::proposal(ground, wires.doings, trace, None)
}

fn conflicts(
    asked: &Asked,
    signs: &[Vec<CoilSigns>],
    found: &Found,
    met: &[Met],
    proposals: &[Proposal],
) -> Vec<Conflict> {
    let mut conflicts = conflict::proven(&asked.wishes, signs);
    let bits = |met: &[Met], holds: fn(&Met) -> bool| {
        met.iter().enumerate().filter(|(_, it)| holds(it)).fold(0u16, |set, (at, _)| set | 1 << at)
    };
    // A bleed is no matter of the search, so whether it is had is seen on what was made.
    let bled = asked.wishes.iter().enumerate().filter(|(_, wish)| matches!(wish, Wish::TrebleKept { .. }));
    let bled = bled.fold(0u16, |set, (at, _)| set | 1 << at);
    let had = proposals.iter().map(|it| it.met.as_slice()).chain([met]);
    let had = had.fold(0u16, |set, met| set | bits(met, |it| *it == Met::Yes)) & bled;
    // What hangs on signs is not refused: a tap decides it.
    let may = |met: &[Met]| bits(met, |it| *it != Met::No);
    let mut seen: Vec<u16> = found.seen.iter().map(|set| set & !bled | had).collect();
    seen.extend(proposals.iter().map(|it| may(&it.met)).chain([may(met)]));
    conflicts.extend(conflict::not_found(asked.wishes.len(), &seen, &conflicts));
    conflicts
}

/// What else can be done about hum, where cancelling it costs tone or cannot be had.
fn instead(
    wishes: &[Wish],
    conflicts: &[Conflict],
    sounds: &[Sound],
    proposals: &[Proposal],
) -> Vec<Instead> {
    let is_hum = |at: &usize| matches!(wishes[*at], Wish::HumCancels { .. });
    let refused = conflicts.iter().any(|it| it.wishes.iter().any(is_hum));
    let hum = wishes.iter().any(|it| matches!(it, Wish::HumCancels { .. }));
    let thin = |it: &Proposal| {
        it.changed.iter().any(|&at| {
            let before = sounds.get(at).and_then(|sound| sound.phase);
            before == Some(Phase::In) && it.sounds[at].phase == Some(Phase::Out)
        })
    };
    if refused || hum && !proposals.is_empty() && proposals.iter().all(thin) {
        vec![Instead::Leave, Instead::Screen, Instead::DummyCoil]
    } else {
        Vec::new()
    }
}
