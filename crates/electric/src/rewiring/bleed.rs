//! A treble bleed across a volume: which one keeps the highs best, by trying them.

use asfound_measure::marks::Series;
use asfound_measure::{Farads, Ohms};

use super::answer::{AtHand, Bleed, Doing, Fitted, HandValue};
use super::bench::{Bench, by_ohms};
use super::judge::{Judge, TREBLE_KEPT_WITHIN};
use super::wires::Wires;
use super::written::circuit;
use crate::circuit::Circuit;
use crate::explain::CoilSigns;
use crate::polarity::Joined;
use crate::state::{Changes, Load};

/// Capacitors at hand between these are tried as a bleed; outside, the highs are not what they pass.
const BLEED_FROM: Farads = Farads(80e-12);
const BLEED_TO: Farads = Farads(5e-9);

/// What bleeds are tried on.
pub(super) struct Ground<'a> {
    pub(super) base: &'a Circuit,
    pub(super) at_hand: &'a [AtHand],
    pub(super) signs: &'a [Vec<CoilSigns>],
    pub(super) load: Load,
}

/// How good a bleed is: whether it fails to keep the highs, new parts, parts that are no originals, the tilt left.
type Worse = (bool, usize, usize, f64);

/// The wiring with the bleed that keeps the highs of this knob best: one that keeps them at all, then with the fewest
/// new parts, then with the most originals, then the flattest. `None` where the knob is no volume or no bleed does better than none.
pub(super) fn best(ground: &Ground, wires: &Wires, knob: usize) -> Option<Wires> {
    let without = tilt(ground, wires, knob)?;
    let mut best: Option<(Worse, Wires)> = None;
    let original = |at: Option<usize>| at.is_some_and(|at| ground.at_hand[at].original);
    for bleed in bleeds(ground, wires, knob) {
        let hands = [Some(bleed.capacitor.at_hand), bleed.resistor.as_ref().map(|(it, _)| it.at_hand)];
        let new = hands.iter().flatten().filter(|at| at.is_none()).count();
        let kept = hands.iter().flatten().filter(|at| original(**at)).count();
        let mut with = wires.clone();
        with.doings.push(Doing::Bleed { knob, bleed });
        let Some(tilt) = tilt(ground, &with, knob) else { continue };
        let key = (tilt > TREBLE_KEPT_WITHIN.0, new, 2 - kept, tilt);
        let better =
            |(known, _): &(Worse, Wires)| key.partial_cmp(known).is_some_and(std::cmp::Ordering::is_lt);
        if tilt < without && best.as_ref().is_none_or(better) {
            best = Some((key, with));
        }
    }
    best.map(|(_, wires)| wires)
}

fn tilt(ground: &Ground, wires: &Wires, knob: usize) -> Option<f64> {
    let circuit = by_ohms(&circuit(ground.base, wires)?);
    let bench = Bench::new(&circuit, ground.load, ground.signs)?;
    Judge::new(&bench, &Changes::default()).treble_tilt(knob).map(|tilt| tilt.0.abs())
}

/// New capacitors that are tried: E6 from 150 pF to 2.2 nF (the range is common practice, no source).
fn new_capacitors() -> impl Iterator<Item = Farads> {
    let decades = [1e-12, 1e-11].into_iter().flat_map(|decade| e6().map(move |value| value * decade));
    decades.filter(|value| (149e-12..2.3e-9).contains(value)).map(Farads)
}

/// New resistors that are tried: E6 from 68 to 330 kilohms (the range is common practice, no source).
fn new_resistors() -> impl Iterator<Item = Ohms> {
    let decades = [1e2, 1e3].into_iter().flat_map(|decade| e6().map(move |value| value * decade));
    decades.filter(|value| (67e3..340e3).contains(value)).map(Ohms)
}

fn e6() -> impl Iterator<Item = f64> {
    Series::E6.values().into_iter().map(f64::from)
}

fn bleeds(ground: &Ground, wires: &Wires, knob: usize) -> Vec<Bleed> {
    let used = |name: &str| {
        wires.doings.iter().any(|doing| {
            let Doing::Bleed { bleed, .. } = doing else { return false };
            bleed.capacitor.name == name || bleed.resistor.as_ref().is_some_and(|(it, _)| it.name == name)
        })
    };
    let free = || ground.at_hand.iter().enumerate().filter(|(_, it)| !used(&it.name));
    let mut capacitors: Vec<Fitted<Farads>> = free()
        .filter_map(|(at, it)| match it.value {
            HandValue::Capacitor(value) if value >= BLEED_FROM && value <= BLEED_TO => {
                Some(Fitted { at_hand: Some(at), name: it.name.clone(), value })
            }
            _ => None,
        })
        .collect();
    let mut resistors: Vec<Fitted<Ohms>> = free()
        .filter_map(|(at, it)| match it.value {
            HandValue::Resistor(value) if value.0 >= 20e3 && value.0 <= 1e6 => {
                Some(Fitted { at_hand: Some(at), name: it.name.clone(), value })
            }
            _ => None,
        })
        .collect();
    let name = |what: &str| unused(ground.base, &format!("bleed-{what}-{}", knob + 1));
    let new = |value| Fitted { at_hand: None, name: name("capacitor"), value };
    capacitors.extend(new_capacitors().map(new));
    let new = |value| Fitted { at_hand: None, name: name("resistor"), value };
    resistors.extend(new_resistors().map(new));
    let mut all = Vec::new();
    for capacitor in &capacitors {
        all.push(Bleed { capacitor: capacitor.clone(), resistor: None });
        for resistor in &resistors {
            for joined in [Joined::Series, Joined::Parallel] {
                let resistor = Some((resistor.clone(), joined));
                all.push(Bleed { capacitor: capacitor.clone(), resistor });
            }
        }
    }
    all
}

/// A name that no part of the circuit has.
fn unused(circuit: &Circuit, name: &str) -> String {
    let mut unused = name.to_owned();
    while circuit.part(&unused).is_some() {
        unused.push('x');
    }
    unused
}

#[cfg(test)]
mod tests {
    use super::{new_capacitors, new_resistors};

    /// The E6 series of IEC 60063.
    #[test]
    fn new_parts_have_preferred_values() {
        let picofarads: Vec<i64> = new_capacitors().map(|it| (it.0 * 1e12).round() as i64).collect();
        assert_eq!(picofarads, [150, 220, 330, 470, 680, 1000, 1500, 2200]);
        let kilohms: Vec<i64> = new_resistors().map(|it| (it.0 / 1e3).round() as i64).collect();
        assert_eq!(kilohms, [68, 100, 150, 220, 330]);
    }
}
