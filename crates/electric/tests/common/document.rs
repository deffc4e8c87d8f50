//! An explanation as a plain document, for tests that read like one.

use std::fmt::Write;

use asfound_electric::explain::{Agreed, Explanation, PerBand, StateTold};
use asfound_measure::Decibels;

/// The whole explanation, each group of states once.
pub(crate) fn document(explanation: &Explanation) -> String {
    let mut text = String::new();
    let x = &mut text;
    for (index, possibility) in explanation.possibilities.iter().enumerate() {
        let ends = possibility
            .choices
            .iter()
            .map(|it| format!("{} to {}", it.stub, it.goes_to.as_deref().unwrap_or("nothing")));
        let signs = possibility.signs.iter().map(|it| {
            format!("{}{}", if it.clockwise { 'c' } else { 'a' }, if it.north { 'N' } else { 'S' })
        });
        let said: Vec<String> = ends.chain(signs).collect();
        writeln!(x, "possibility {index} ({:.3}): {}", possibility.weight, said.join(", ")).unwrap();
    }
    for group in &explanation.groups {
        let names: Vec<String> =
            group.states.iter().map(|&at| state_name(explanation, &explanation.states[at])).collect();
        writeln!(x, "\n== {}", names.join(", ")).unwrap();
        state(x, explanation, &explanation.states[group.states[0]]);
    }
    for it in &explanation.between {
        let [from, to] = [it.from, it.to].map(|at| state_name(explanation, &explanation.states[at]));
        let sure = if it.bridges { "bridges" } else { "may bridge" };
        fact(x, &format!("\nbetween {from} and {to}, {sure}"), &it.what, |it| format!("{it:?}"));
    }
    for look in &explanation.next {
        writeln!(x, "\nnext: {:?}, {:.2} bits, settles {:?}", look.what, look.bits, look.settles).unwrap();
        look.answers
            .iter()
            .for_each(|answer| writeln!(x, "  {:.3} {:?}", answer.weight, answer.found).unwrap());
    }
    writeln!(x).unwrap();
    explanation.dead_parts.iter().for_each(|it| writeln!(x, "{it:?}").unwrap());
    explanation.warnings.iter().for_each(|it| writeln!(x, "{it:?}").unwrap());
    explanation.limits.iter().for_each(|it| writeln!(x, "{it:?}").unwrap());
    text
}

/// The positions of a state, by name.
pub(crate) fn state_name(explanation: &Explanation, state: &StateTold) -> String {
    let positions = explanation.switches.iter().zip(&state.positions);
    let named: Vec<String> =
        positions.map(|(switch, &at)| format!("{} {}", switch.name, switch.positions[at])).collect();
    if named.is_empty() { "always".to_owned() } else { named.join(" ") }
}

fn state(x: &mut String, explanation: &Explanation, state: &StateTold) {
    fact(x, "output", &state.output, |it| format!("{it:?}"));
    for (coil, told) in explanation.coils.iter().zip(&state.coils) {
        fact(x, coil, told, |it| format!("{:?} {}", it.word, bands(&it.level)));
    }
    for pair in &state.pairs {
        let name = format!("{} and {}", explanation.coils[pair.a], explanation.coils[pair.b]);
        fact(x, &name, &pair.relation, |it| {
            it.as_ref().map_or("not together".to_owned(), |it| {
                let figures = [
                    it.second_with_first_open,
                    it.second_with_first_shorted,
                    it.first_with_second_open,
                    it.first_with_second_shorted,
                ];
                format!("{:?} {:?}", it.word, figures.map(|it| it.0.round()))
            })
        });
        fact(x, &name, &pair.phase, |it| {
            it.as_ref().map_or("not together".to_owned(), |it| {
                let angle = it.angle.map(|it| it.0.round());
                format!(
                    "{:?} {:?} {:?}, {}° {}° {}°",
                    it.word.low, it.word.middle, it.word.high, angle.low, angle.middle, angle.high
                )
            })
        });
    }
    fact(x, "hum", &state.hum, |it| format!("{:?} {:.3}", it.word, it.ratio));
    for (pot, told) in explanation.pots.iter().zip(&state.knobs) {
        fact(x, pot, told, |it| {
            format!(
                "{:?} from {:?}: half {}, end {}",
                it.word,
                it.open_end,
                bands(&it.at_middle),
                bands(&it.at_other_end)
            )
        });
    }
    for it in &state.colouring {
        fact(x, &format!("without {}", it.part), &it.without, |it| {
            it.as_ref().map_or("no change".to_owned(), bands)
        });
    }
    for it in &state.metal {
        fact(x, &it.metal, &it.fact, |it| format!("{it:?}"));
    }
    if state.floating.certain().is_none_or(|it| !it.is_empty()) {
        fact(x, "floating", &state.floating, |it| format!("{it:?}"));
    }
    fact(x, "resonance", &state.resonance, |it| {
        it.map_or("none".to_owned(), |it| format!("{:.0} Hz {:.1} dB", it.at.0, it.height.0))
    });
    fact(x, "jack", &state.ohms, |it| format!("{it:?}"));
}

fn fact<T>(x: &mut String, name: &str, fact: &Agreed<T>, say: impl Fn(&T) -> String) {
    match fact {
        Agreed::Certain(fact) => writeln!(x, "{name}: {}", say(fact)).unwrap(),
        Agreed::Depends(cases) => {
            for case in cases {
                writeln!(x, "{name}: {} in {:?} ({:.3})", say(&case.fact), case.possibilities, case.weight)
                    .unwrap();
            }
        }
    }
}

fn bands(it: &PerBand<Decibels>) -> String {
    let said = it.map(|it| if it.0 < -99.0 { "silence".to_owned() } else { format!("{:.1}", it.0) });
    format!("[{} {} {}]", said.low, said.middle, said.high)
}
