//! Laws of the search for other wirings, on circuits and wishes drawn at random.

use asfound_electric::polarity::{Joined, Phase};
use asfound_electric::rewiring::{Answer, Asked, Met, Place, Step, Wish, rewire};
use asfound_electric::trace::Trace;
use proptest::prelude::*;

/// Two coils on a three-way lever, one volume; signs, covers and the tone's place drawn.
fn circuit(
    windings: [bool; 2],
    poles: [bool; 2],
    covers: [bool; 2],
    reversed: bool,
    tone_at_wiper: bool,
) -> String {
    let mut text = String::new();
    for at in 0..2 {
        let winding = if windings[at] { "clockwise" } else { "anticlockwise" };
        let pole = if poles[at] { "north" } else { "south" };
        let cover = if covers[at] { " covered" } else { "" };
        text += &format!("coil c{at} {}k 2H4 110p {winding} {pole}{cover}\n", 6 + at);
        if covers[at] {
            text += &format!("join c{at}.cover c{at}.ground seen\n");
        }
    }
    let (hot, ground) = if reversed { ("ground", "hot") } else { ("hot", "ground") };
    let tone = if tone_at_wiper { 2 } else { 3 };
    text + &format!(
        "switch lever three-way lever\npot volume 250k\npot tone 250k\ncapacitor ct 22n\njack jack\n\
         join c0.hot lever.a1 metered\njoin c1.{hot} lever.a2 metered\njoin lever.a0 volume.3 metered\n\
         join c0.ground volume.1 metered\njoin c1.{ground} volume.1 metered\njoin volume.{tone} tone.3 metered\n\
         join tone.2 ct.a metered\njoin ct.b volume.1 metered\njoin volume.2 jack.tip metered\n\
         join volume.1 jack.sleeve metered\n"
    )
}

fn wish() -> impl Strategy<Value = Wish> {
    let place = (0usize..3).prop_map(|position| Place::At { switch: 0, position });
    let phase = prop_oneof![Just(None), Just(Some(Phase::In)), Just(Some(Phase::Out))];
    let joined =
        prop_oneof![3 => Just(None), 1 => Just(Some(Joined::Parallel)), 1 => Just(Some(Joined::Series))];
    prop_oneof![
        6 => (place, joined, phase)
            .prop_map(|(place, joined, phase)| Wish::Heard { place, coils: vec![0, 1], joined, phase }),
        2 => (0usize..3).prop_map(|position| Wish::HumCancels {
            place: Place::At { switch: 0, position },
            coils: vec![0, 1]
        }),
        1 => Just(Wish::VolumesIndependent),
        1 => Just(Wish::MasterVolume),
        1 => Just(Wish::TrebleKept { knob: 0 }),
        1 => (0usize..2).prop_map(|coil| Wish::ToneOnly { coil }),
    ]
}

fn certain(met: &[Met]) -> usize {
    met.iter().filter(|it| **it == Met::Yes).count()
}

fn holds(asked: &Asked, answer: &Answer) -> Result<(), TestCaseError> {
    let magnets = |circuit: &asfound_electric::Circuit| -> Vec<_> {
        circuit.coils().map(|(_, coil)| (coil.magnet, coil.winding, coil.resistance)).collect()
    };
    for proposal in &answer.proposals {
        let trace = Trace::read(&proposal.trace);
        prop_assert!(trace.is_ok(), "{}", proposal.trace);
        let trace = trace.expect("it was just seen");
        prop_assert_eq!(magnets(&proposal.circuit), magnets(&answer.as_found));
        prop_assert!(certain(&proposal.met) >= certain(&answer.met));
        // Asked of the new circuit, the same experiments find the same wishes met; all met is nothing to do.
        let again = rewire(&Asked { trace, most_tried: 0, ..asked.clone() }).expect("an answer");
        for (wish, (now, then)) in asked.wishes.iter().zip(proposal.met.iter().zip(&again.met)) {
            if !matches!(wish, Wish::KeepSelector) {
                prop_assert_eq!(now, then);
            }
        }
        if certain(&again.met) == asked.wishes.len() {
            prop_assert!(again.proposals.is_empty() && again.conflicts.is_empty());
        }
        // Covers that were grounded stay grounded: never without a way of their own before their lead comes to hot.
        let freed = proposal.steps.iter().position(|step| matches!(step, Step::FreeMetal { .. }));
        prop_assert!(freed.is_none_or(|at| at == 0 || at == 2));
    }
    for pair in answer.proposals.windows(2) {
        let [a, b] = pair else { continue };
        // The kept selector comes first, even where a new one would do more.
        prop_assert!(certain(&a.met) >= certain(&b.met) || a.kept.is_empty() && !b.kept.is_empty());
        if a.met == b.met && a.changed.len() == b.changed.len() && a.kept == b.kept {
            prop_assert!(a.joints <= b.joints, "with equal wishes and sounds the fewer joints come first");
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn what_is_proposed_holds(
        windings in any::<[bool; 2]>(),
        poles in any::<[bool; 2]>(),
        covers in any::<[bool; 2]>(),
        reversed in any::<bool>(),
        tone_at_wiper in any::<bool>(),
        wishes in prop::collection::vec(wish(), 1..3),
    ) {
        let text = circuit(windings, poles, covers, reversed && !covers[1], tone_at_wiper);
        let trace = Trace::read(&text).expect("a trace");
        let asked = Asked { wishes, most_tried: 300, ..Asked::of(trace) };
        let answer = rewire(&asked).expect("an answer");
        holds(&asked, &answer)?;
        prop_assert!(answer.searched.tried <= 300);
        // The answer is the same when it is asked again.
        prop_assert_eq!(rewire(&asked).expect("an answer"), answer);
    }
}
