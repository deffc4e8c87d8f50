//! What a knob does on its way.

use asfound_measure::{Decibels, Hertz};

use super::State;
use super::figures::{Figures, Sweep, level};
use crate::explain::LEVEL_FLOOR;
use crate::network::Unsolvable;
use crate::taper::Taper;

/// Where levels on a knob's way are told, beside the figures: about the middle of the range of the strings' partials.
pub const TRAVEL_AT: Hertz = Hertz(1000.0);

/// One place on a knob's way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turned {
    /// The turn, 0 to 1.
    pub turn: f64,
    /// Share of the track between lug 1 and the wiper there, by the taper.
    pub share: f64,
    /// Level at [`TRAVEL_AT`].
    pub level: Decibels,
    /// Peak, corner and slope there.
    pub figures: Figures,
}

/// Turns one knob (an index among the pots) through its whole way in so many equal steps, by a taper of the caller's
/// choice; the other knobs stand as in the state.
///
/// Only the taper decides how the wiper goes: a letter on the case says nothing sure.
///
/// # Errors
/// As [`super::figures`]; a place on the way where the output is shorted or open is told at the floor of all levels.
pub fn travel(
    state: &State<'_>,
    knob: usize,
    taper: Taper,
    frequencies: &[Hertz],
    steps: usize,
) -> Result<Vec<Turned>, Unsolvable> {
    let circuit = state.wired.circuit();
    let Some((_, pot)) = circuit.pots().nth(knob) else {
        let count = circuit.pots().count();
        return Err(Unsolvable::NoSuchThing { what: "knob", read: knob, count });
    };
    let mut all = frequencies.to_vec();
    all.push(TRAVEL_AT);
    let mut way = Vec::with_capacity(steps + 1);
    for step in 0..=steps {
        let turn = step as f64 / steps.max(1) as f64;
        let share = taper.fraction(turn);
        let mut setting = state.setting.clone();
        // The setting is a turn by the pot's own taper, so the share is turned back into one.
        if let Some(wiper) = setting.wipers.get_mut(knob) {
            *wiper = pot.taper.turn_at(share);
        }
        let there = State { setting: &setting, ..*state };
        way.push(match Sweep::new(&there, &all) {
            Ok(sweep) => at(&sweep, turn, share)?,
            Err(Unsolvable::Shorted | Unsolvable::Open) => silent(turn, share),
            Err(other) => return Err(other),
        });
    }
    Ok(way)
}

/// Level and figures at one place.
fn at(sweep: &Sweep, turn: f64, share: f64) -> Result<Turned, Unsolvable> {
    let mut rooms = sweep.rooms();
    sweep.solve(&sweep.contracted.as_named(), &mut rooms)?;
    let place = sweep.frequencies.iter().position(|&frequency| frequency == TRAVEL_AT).unwrap_or(0);
    Ok(Turned { turn, share, level: level(rooms.squares[place]), figures: sweep.figures(&mut rooms) })
}

fn silent(turn: f64, share: f64) -> Turned {
    let figures = Figures { reference: LEVEL_FLOOR, peak: None, corner: None, slope: None };
    Turned { turn, share, level: LEVEL_FLOOR, figures }
}
