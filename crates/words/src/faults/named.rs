//! Faults by name, and what to do about each.

use asfound_measure::{Ohms, engineering};
use asfound_study::faults::{Fault, Suspicion, Terminal, TrackEnd, Weighed};

use crate::lists::and;
use crate::wiring::names;

/// A suspicion as a clause: `the neck coil is open and the join a – b is open`.
pub(super) fn suspicion(weighed: &Weighed, suspicion: &Suspicion) -> String {
    if suspicion.is_design() {
        return "nothing is broken".to_owned();
    }
    let sizes = suspicion.sizes.iter().copied().chain(std::iter::repeat(None));
    let faults: Vec<String> =
        suspicion.faults.iter().zip(sizes).map(|(it, size)| fault(weighed, it, size)).collect();
    and(&faults)
}

fn part(weighed: &Weighed, part: usize) -> String {
    weighed.circuit.parts().get(part).map(|part| names::part(&part.name)).unwrap_or_default()
}

fn coil(weighed: &Weighed, part: usize) -> String {
    let name = weighed.circuit.parts().get(part).map(|part| part.name.clone()).unwrap_or_default();
    format!("the {}", names::coil_named(&name))
}

fn pot(weighed: &Weighed, at: usize) -> String {
    let name = part(weighed, at);
    if ["pot", "knob"].iter().any(|word| name.ends_with(word)) { name } else { format!("{name} pot") }
}

fn lug_of(weighed: &Weighed, part: usize, lug: usize) -> String {
    weighed.lug(Terminal { part, lug })
}

fn end(end: TrackEnd) -> &'static str {
    match end {
        TrackEnd::Low => "lug 1",
        TrackEnd::High => "lug 3",
    }
}

fn about(size: Option<Ohms>) -> String {
    size.map(|ohms| format!(", about {}", engineering(ohms.0, 2, Ohms::SYMBOL))).unwrap_or_default()
}

/// The position of a switch as it is said: `lever 2`.
fn position(weighed: &Weighed, part: usize, position: usize) -> String {
    let switches: Vec<usize> = weighed.circuit.switches().map(|(part, _)| part).collect();
    let named = switches
        .iter()
        .position(|known| *known == part)
        .and_then(|at| weighed.explained.explanation.switches.get(at));
    let named = named.and_then(|switch| Some(format!("{} {}", switch.name, switch.positions.get(position)?)));
    named.unwrap_or_default()
}

/// One fault as a clause.
pub(super) fn fault(weighed: &Weighed, fault: &Fault, size: Option<Ohms>) -> String {
    match *fault {
        Fault::CoilOpen { part } => format!("{} is open", coil(weighed, part)),
        Fault::CoilLeaky { part } => {
            format!("{} leaks from lead to lead{}", coil(weighed, part), about(size))
        }
        Fault::CoilShorted { part } => format!("the leads of {} touch each other", coil(weighed, part)),
        Fault::LeadsSwapped { part } => format!("the leads of {} are exchanged", coil(weighed, part)),
        Fault::CoverOnHot { part } => format!("the cover of {} is on its hot lead", coil(weighed, part)),
        Fault::JoinOpen { join } => match weighed.ends(join) {
            Some((a, Some(b))) => format!("the join {a} – {b} is open"),
            Some((a, None)) => format!("the join at {a} is open"),
            None => "a join is open".to_owned(),
        },
        Fault::StrayToGround { terminal } => {
            format!("a strand or a blob of solder puts {} on ground", weighed.lug(terminal))
        }
        Fault::LugTouchesCoating { terminal } => {
            format!("{} touches the coating of the cavity{}", weighed.lug(terminal), about(size))
        }
        Fault::ContactDead { part, position: at, a, b } => format!(
            "the contact {} – {} does not close on {}",
            lug_of(weighed, part, a),
            lug_of(weighed, part, b),
            position(weighed, part, at)
        ),
        Fault::ContactStuck { part, a, b } => {
            format!("{} and {} touch in every position", lug_of(weighed, part, a), lug_of(weighed, part, b))
        }
        Fault::TrackOpen { part, end: at } => {
            format!("the track of {} is broken at {}", pot(weighed, part), end(at))
        }
        Fault::TrackOff { part } => {
            format!("the track of {} is far off its value{}", pot(weighed, part), about(size))
        }
        Fault::WiperLifted { part } => format!("the wiper of {} is lifted", pot(weighed, part)),
        Fault::WiperShorted { part, end: at } => {
            format!("{} is shorted from {} to its wiper", pot(weighed, part), end(at))
        }
        Fault::CapacitorShorted { part: at } => format!("{} is shorted", part(weighed, at)),
        Fault::CapacitorLeaky { part: at } => format!("{} leaks{}", part(weighed, at), about(size)),
        Fault::CapacitorOpen { part: at } => format!("{} is open", part(weighed, at)),
        Fault::ResistorOpen { part: at } => format!("{} is open", part(weighed, at)),
        Fault::StringGroundBroken => {
            "the string ground is broken between the bridge and the jack's ground".to_owned()
        }
        Fault::TipAndSleeveExchanged => "tip and sleeve are exchanged at the jack".to_owned(),
    }
}

/// What proves a fault, unplugged and with nothing unsoldered where that can be (common practice, no source).
pub(super) fn confirmed(weighed: &Weighed, fault: &Fault) -> String {
    let ends = |part: usize| (lug_of(weighed, part, 0), lug_of(weighed, part, 1));
    match *fault {
        Fault::CoilOpen { part } => {
            let (hot, ground) = ends(part);
            format!("{hot} to {ground}, at the coil's own ends, is over range")
        }
        Fault::CoilLeaky { part } | Fault::CoilShorted { part } => {
            let (hot, ground) = ends(part);
            format!("{hot} to {ground} reads below the coil's own ohms with one lead lifted")
        }
        Fault::LeadsSwapped { part } => {
            format!("steel laid on {} moves the needle the other way than on the others", coil(weighed, part))
        }
        Fault::CoverOnHot { part } => {
            let (hot, cover) = (lug_of(weighed, part, 0), lug_of(weighed, part, 2));
            format!(
                "{cover} to {hot} reads 0 Ω, and {cover} to the sleeve about the coil's ohms instead of 0 Ω"
            )
        }
        Fault::JoinOpen { join } => match weighed.ends(join) {
            Some((a, Some(b))) => format!("{a} to {b} is not 0 Ω"),
            _ => "its two ends are not 0 Ω apart".to_owned(),
        },
        Fault::StrayToGround { terminal } => {
            format!("{} to the sleeve reads 0 Ω", weighed.lug(terminal))
        }
        Fault::LugTouchesCoating { terminal } => {
            format!("{} lies within 2 mm of the coating and reads to it", weighed.lug(terminal))
        }
        Fault::ContactDead { part, position: at, a, b } => format!(
            "{} to {} is over range on {}",
            lug_of(weighed, part, a),
            lug_of(weighed, part, b),
            position(weighed, part, at)
        ),
        Fault::ContactStuck { part, a, b } => {
            format!(
                "{} to {} reads 0 Ω in every position",
                lug_of(weighed, part, a),
                lug_of(weighed, part, b)
            )
        }
        Fault::TrackOpen { part, end } => {
            let (end, wiper) = (lug_of(weighed, part, end.lug()), lug_of(weighed, part, 1));
            format!("{end} to {wiper} is over range however it is turned")
        }
        Fault::TrackOff { part } => {
            let (low, high) = (lug_of(weighed, part, 0), lug_of(weighed, part, 2));
            format!("{low} to {high} is far from its value with one lead lifted")
        }
        Fault::WiperLifted { part } => {
            let wiper = lug_of(weighed, part, 1);
            format!("{wiper} is over range to both ends however it is turned")
        }
        Fault::WiperShorted { part, end } => {
            let (end, wiper) = (lug_of(weighed, part, end.lug()), lug_of(weighed, part, 1));
            format!("{end} to {wiper} stays at 0 Ω while the knob is turned")
        }
        Fault::CapacitorShorted { part } | Fault::CapacitorLeaky { part } => {
            let (a, b) = ends(part);
            format!("{a} to {b} reads below 20 MΩ with one lead lifted")
        }
        Fault::CapacitorOpen { part } | Fault::ResistorOpen { part } => {
            let (a, b) = ends(part);
            format!("{a} to {b} shows nothing with one lead lifted: no capacitance, no ohms")
        }
        Fault::StringGroundBroken => "the strings to the jack's sleeve read over 1 Ω".to_owned(),
        Fault::TipAndSleeveExchanged => "the jack's tip to the bridge reads 0 Ω".to_owned(),
    }
}

/// What to do where the meter confirms it, the least disturbing first (common practice, no source).
pub(super) fn cure(weighed: &Weighed, fault: &Fault) -> String {
    match *fault {
        Fault::CoilOpen { .. } => "look at both lead ends first: a break at the outer end is re-attached, one inside is a rewind to be decided".to_owned(),
        Fault::CoilLeaky { .. } => "dry it, clean the flatwork, read again before anything else".to_owned(),
        Fault::CoilShorted { .. } => "part the leads and sleeve them".to_owned(),
        Fault::LeadsSwapped { part } => {
            let covered = matches!(weighed.circuit.parts().get(part), Some(it) if it.lug_count() > 2);
            if covered {
                "free the cover from its lead first and ground it by its own wire, then swap the leads back".to_owned()
            } else {
                "swap the two leads back; the other coil if this one has metal on its lead".to_owned()
            }
        }
        Fault::CoverOnHot { .. } => "free the cover from the lead and ground it by a wire of its own".to_owned(),
        Fault::JoinOpen { .. } => "look at both joints under a lens and reflow them with their own solder; replace no wire that is whole".to_owned(),
        Fault::StrayToGround { .. } => "lift the strand or the blob away; photograph it first".to_owned(),
        Fault::LugTouchesCoating { .. } => "bend the lug or turn the part clear of the coating by 2 mm, or put paper between".to_owned(),
        Fault::ContactDead { .. } => "clean the contact, then bend it back to pressure; keep the switch".to_owned(),
        Fault::ContactStuck { .. } => "look for a bent blade or solder between the lugs; keep the switch".to_owned(),
        Fault::TrackOpen { .. } | Fault::WiperLifted { .. } => {
            "open, clean and repair the pot; keep it, and log it as repaired, original retained".to_owned()
        }
        Fault::WiperShorted { .. } => "clean or repair the pot and keep it, and log it as repaired, original retained; the capacitor is not at fault".to_owned(),
        Fault::TrackOff { .. } => "read the pot with one lead lifted before it is judged; keep it".to_owned(),
        Fault::CapacitorShorted { .. } | Fault::CapacitorLeaky { .. } => {
            "lift one lead and test it by itself; put a sound one beside it and keep the original in place, one lead lifted".to_owned()
        }
        Fault::CapacitorOpen { .. } | Fault::ResistorOpen { .. } => {
            "reflow its joints first, then test it with one lead lifted; keep the original".to_owned()
        }
        Fault::StringGroundBroken => "clamp a new wire where the old one sat, under the stud's bushing or the bridge, and meter strings to sleeve: under 1 Ω".to_owned(),
        Fault::TipAndSleeveExchanged => "exchange the two wires at the jack".to_owned(),
    }
}
