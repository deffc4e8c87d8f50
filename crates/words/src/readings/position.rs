//! Which coil goes where, in words.

use asfound_measure::{Ohms, engineering};
use asfound_study::position::{Because, Loose, Placed};

use crate::lists::and;
use crate::sheet::{Rest, Step, Told};

/// The finding about coils whose place is not known.
pub(crate) fn position(placed: &Placed) -> Told {
    match placed {
        Placed::Offered { bridge, neck, because, expected } => offered(bridge, neck, *because, *expected),
        Placed::CannotTell(loose) => {
            let names: Vec<&str> = loose.iter().map(|it| it.name.as_str()).collect();
            Told {
                id: "position".into(),
                sentence: format!("Which of {} goes where cannot be told yet.", and(&names)),
                sure: "Never by resistance alone: sets were wound alike as often as not.".into(),
                next: steps(loose),
                rests_on: rests(loose),
                would_change: vec!["What fits under the strings, lead length, cover, wear and solder stubs tell more than any reading.".into()],
                ..Told::default()
            }
        }
    }
}

fn offered(bridge: &Loose, neck: &Loose, because: Because, expected: Option<Ohms>) -> Told {
    let (why, strength) = match because {
        Because::Span { wider, narrower } => (
            format!(
                "its poles span {} mm, the other's {} mm, and strings spread towards the bridge",
                plain(wider.0),
                plain(narrower.0)
            ),
            "That is physical fit; witness marks may still say otherwise.",
        ),
        Because::Turns(factor) => (
            format!(
                "it has {:.0} % more turns, and so about {:.0} % more inductance, and strings swing least at the bridge",
                (factor - 1.0) * 100.0,
                (factor * factor - 1.0) * 100.0
            ),
            "A weak suggestion: the owner may like it otherwise, and the other way round makes a thin bridge and a dark neck.",
        ),
        Because::Ohms(factor) => (
            format!(
                "with like wire it has about {:.0} % more turns, and so about {:.0} % more inductance, and strings swing least at the bridge",
                (factor - 1.0) * 100.0,
                (factor * factor - 1.0) * 100.0
            ),
            "A weak suggestion from ohms alone, which rank last: turns and inductance, pole span and witness marks come first.",
        ),
    };
    let loose = [bridge.clone(), neck.clone()];
    let mut working = Vec::new();
    if let (Some(expected), Some((_, read))) = (expected, bridge.ohms) {
        let off = (read.0 / expected.0 - 1.0) * 100.0;
        let words = if off.abs() <= 4.0 {
            "consistent with like wire"
        } else {
            "more than like wire would give: look at the gauge"
        };
        working.push(format!(
            "In proportion to the turns {} would read {}; it reads {}, {:.1} % off: {words}.",
            bridge.name,
            engineering(expected.0, 3, Ohms::SYMBOL),
            engineering(read.0, 3, Ohms::SYMBOL),
            off.abs()
        ));
    }
    Told {
        id: "position".into(),
        sentence: format!("{} is offered for the bridge and {} for the neck: {why}.", bridge.name, neck.name),
        sure: strength.into(),
        next: steps(&loose),
        rests_on: rests(&loose),
        working,
        assumptions: vec!["Spans of about 49 or 50 mm at the neck and 52 mm at the bridge are usual (common practice, no source).".into()],
        would_change: vec!["Lead length, cover, wear pattern, solder stubs and the side of the magnet, all of which rank before ohms.".into()],
        ..Told::default()
    }
}

fn steps(loose: &[Loose]) -> Vec<Step> {
    let unspanned: Vec<&str> =
        loose.iter().filter(|it| it.span.is_none()).map(|it| it.name.as_str()).collect();
    if unspanned.is_empty() {
        return Vec::new();
    }
    vec![Step {
        id: "pole-span".into(),
        words: format!("Measure the span of the outer poles of {}.", and(&unspanned)),
        why: "Physical fit ranks first: it is said as “coil A pole span 50 mm”. Look at lead length, cover and wear on the way.".into(),
        ..Step::default()
    }]
}

fn rests(loose: &[Loose]) -> Vec<Rest> {
    let of = |it: &Loose| {
        [it.span.map(|it| it.0), it.turns.map(|it| it.0), it.ohms.map(|it| it.0)]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
    };
    let mut seqs: Vec<u64> = loose.iter().flat_map(of).collect();
    seqs.sort_unstable();
    Rest::on_all(seqs)
}

fn plain(value: f64) -> String {
    let text = format!("{value:.1}");
    text.trim_end_matches(".0").to_owned()
}
