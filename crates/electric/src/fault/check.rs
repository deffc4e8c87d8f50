//! Whether what was asked fits the circuit.

use super::answer::FaultError;
use super::evidence::{About, Evidence, Heard, Touched};
use crate::circuit::{Circuit, Sort, Terminal};
use crate::jack::Shown;
use crate::network;
use crate::state::{Changes, Setting};

/// Ways that unknown joins can go that are weighed.
const MOST_WAYS: u128 = 16;

pub(super) fn check(circuit: &Circuit, evidence: &Evidence) -> Result<(), FaultError> {
    if circuit.jacks().next().is_none() {
        return Err(FaultError::NoJack);
    }
    let read = circuit.possibility_count();
    if read > MOST_WAYS {
        return Err(FaultError::TooManyWays { read, most: MOST_WAYS });
    }
    for (at, metered) in evidence.metered.iter().enumerate() {
        for lug in [metered.probed.from, metered.probed.to] {
            check_lug(circuit, lug).map_err(|(part, lug)| FaultError::NoSuchLug {
                reading: at + 1,
                part,
                lug,
            })?;
        }
        check_setting(circuit, About::Metered(at), &metered.probed.setting)?;
        let (read, uncertainty) = match metered.shown {
            Shown::Ohms(ohms) => (ohms.value.0, ohms.standard_uncertainty.0),
            Shown::Over(limit) => (limit.0, 1.0),
        };
        if !(read.is_finite() && read >= 0.0 && uncertainty.is_finite() && uncertainty > 0.0) {
            return Err(FaultError::Shown { reading: at + 1, read, uncertainty });
        }
    }
    evidence
        .heard
        .iter()
        .enumerate()
        .try_for_each(|(at, heard)| check_heard(circuit, About::Heard(at), heard))
}

fn check_lug(circuit: &Circuit, lug: Terminal) -> Result<(), (usize, usize)> {
    let there = circuit.parts().get(lug.part).is_some_and(|part| lug.lug < part.lug_count());
    if there { Ok(()) } else { Err((lug.part, lug.lug)) }
}

fn check_setting(circuit: &Circuit, about: About, setting: &Setting) -> Result<(), FaultError> {
    network::check(circuit, setting, &Changes::default()).map_err(|why| FaultError::Setting { about, why })
}

fn check_heard(circuit: &Circuit, about: About, heard: &Heard) -> Result<(), FaultError> {
    let setting = |setting: &Setting| check_setting(circuit, about, setting);
    let sort = |part: usize| circuit.parts().get(part).map(|part| &part.sort);
    let not = |read, wanted| Err(FaultError::NotThatSort { about, read, wanted });
    let pot = |part| if matches!(sort(part), Some(Sort::Pot(_))) { Ok(()) } else { not(part, "pot") };
    let coil = |part| if matches!(sort(part), Some(Sort::Coil(_))) { Ok(()) } else { not(part, "coil") };
    let cover = |part: usize| {
        coil(part)?;
        match sort(part) {
            Some(Sort::Coil(it)) if it.cover => Ok(()),
            _ => Err(FaultError::NoCover { about, coil: circuit.parts()[part].name.clone() }),
        }
    };
    match heard {
        Heard::Thin { setting: it, against }
        | Heard::Dark { setting: it, against }
        | Heard::Weak { setting: it, against } => {
            setting(it)?;
            against.as_ref().map_or(Ok(()), setting)
        }
        Heard::Silent { setting: it } | Heard::Normal { setting: it } => setting(it),
        Heard::HumsLoud => Ok(()),
        Heard::HumOnTouch { touched: Touched::Cover(part), .. } => cover(*part),
        Heard::HumOnTouch { .. } => Ok(()),
        Heard::KnobSilences { pot: part, turn, setting: it } => {
            pot(*part)?;
            setting(it)?;
            let knob = circuit.pots().position(|(other, _)| other == *part);
            let mut turned = it.clone();
            if let Some(knob) = knob {
                turned.wipers[knob] = *turn;
            }
            setting(&turned)
        }
        Heard::KnobDoesNothing { pot: part, setting: it } => pot(*part).and_then(|()| setting(it)),
        Heard::KnobScratches { pot: part } => pot(*part),
        Heard::CutsOutOnCover { coil: part, setting: it } => cover(*part).and_then(|()| setting(it)),
        Heard::Intermittent { part } => sort(*part).map_or_else(|| not(*part, "part"), |_| Ok(())),
        Heard::CoilMissing { coil: part, setting: it } | Heard::CoilHeard { coil: part, setting: it } => {
            coil(*part).and_then(|()| setting(it))
        }
        Heard::LiftingRestoresTreble { terminal, setting: it } => {
            check_lug(circuit, *terminal).or_else(|(part, _)| not(part, "part with that lug"))?;
            setting(it)
        }
    }
}
