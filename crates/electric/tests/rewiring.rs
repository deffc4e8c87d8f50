//! Other wirings, on circuits as they come to a bench. Arrangements are common practice; values are invented.

use asfound_electric::explain::{CoilSigns, Conditions, PhaseWord, explain};
use asfound_electric::polarity::{Instead, Joined, Phase};
use asfound_electric::rewiring::{
    Answer, Asked, AtHand, Bleed, Doing, HandValue, Met, Place, RewiringError, Step, WhyNot, Wish, rewire,
};
use asfound_electric::trace::Trace;
use asfound_measure::{Farads, Ohms};

const FIVE_WAY_LEVER: &str = include_str!("traces/five-way-lever.trace");

/// Two coils, a three-way lever, one volume and one tone.
const TWO_COILS: &str = "\
coil bridge 7k8 clockwise north
coil neck 8k1 anticlockwise north covered
switch lever three-way lever
pot volume 500k
pot tone 500k
capacitor ct 22n
jack jack
join bridge.hot lever.a1 metered
join neck.hot lever.a2 metered
join lever.a0 volume.3 metered
join volume.3 tone.3 metered
join tone.2 ct.a metered
join ct.b volume.1 metered
join volume.2 jack.tip metered
join volume.1 jack.sleeve metered
join bridge.ground volume.1 metered
join neck.ground volume.1 metered
join neck.cover neck.ground seen
";

/// Two coils, each with a volume of its own, coil to the upper lug: either volume kills both.
const TWO_VOLUMES: &str = "\
coil one 8k clockwise north
coil two 8k clockwise north
switch lever three-way lever
pot volume1 500k
pot volume2 500k
jack jack
join one.hot volume1.3 metered
join two.hot volume2.3 metered
join one.ground jack.sleeve metered
join two.ground jack.sleeve metered
join volume1.1 jack.sleeve metered
join volume2.1 jack.sleeve metered
join volume1.2 lever.a1 metered
join volume2.2 lever.a2 metered
join lever.a0 jack.tip metered
";

fn asked(text: &str, wishes: Vec<Wish>) -> Asked {
    Asked { wishes, ..Asked::of(Trace::read(text).expect("a trace")) }
}

fn answered(text: &str, wishes: Vec<Wish>) -> Answer {
    rewire(&asked(text, wishes)).expect("an answer")
}

const fn at(position: usize) -> Place {
    Place::At { switch: 0, position }
}

fn in_phase(place: Place, coils: &[usize]) -> Wish {
    Wish::Heard { place, coils: coils.to_vec(), joined: None, phase: Some(Phase::In) }
}

fn signs(clockwise: bool, north: bool) -> CoilSigns {
    CoilSigns { clockwise, north }
}

/// Every proposal is a trace that can be read, and another reading of the same circuit, by [`explain`], says the same.
fn check(asked: &Asked, answer: &Answer) {
    for proposal in &answer.proposals {
        let trace = Trace::read(&proposal.trace).expect("the grammar holds");
        let circuit = trace.circuit().expect("a circuit");
        assert_eq!(circuit, proposal.circuit);
        let magnets = |circuit: &asfound_electric::Circuit| -> Vec<_> {
            circuit.coils().map(|(_, coil)| (coil.magnet, coil.winding)).collect()
        };
        assert_eq!(magnets(&circuit), magnets(&answer.as_found), "no magnet is touched");
        let told = explain(&circuit, &Conditions::of_trace(&trace)).expect("an explanation");
        for (wish, met) in asked.wishes.iter().zip(&proposal.met) {
            if let Wish::Heard { place: Place::At { switch, position }, coils, phase: Some(wanted), .. } =
                wish
                && *met == Met::Yes
                && told.possibilities.len() == 1
            {
                let state = told.states.iter().find(|state| state.positions[*switch] == *position);
                let pair = state.expect("the state").pairs.iter().find(|it| [it.a, it.b] == coils[..2]);
                let phase = pair.and_then(|pair| pair.phase.certain().copied().flatten()).expect("heard");
                let word = if *wanted == Phase::In { PhaseWord::InPhase } else { PhaseWord::OutOfPhase };
                assert_eq!(phase.word.middle, word);
            }
        }
    }
}

/// Bridge with middle thin, neck with middle thin: the middle is the odd one. Nothing was seen of windings and magnets;
/// ears alone leave these ways.
#[test]
fn the_odd_one_of_three_is_reversed() {
    let text = FIVE_WAY_LEVER.replace(" clockwise north", "");
    let ears = [(true, true), (false, false)].into_iter().flat_map(|neck| {
        [(true, true), (false, false)].into_iter().flat_map(move |bridge| {
            [(false, true), (true, false)].map(|middle| {
                [neck, middle, bridge].map(|(clockwise, north)| signs(clockwise, north)).to_vec()
            })
        })
    });
    let wishes = vec![in_phase(at(1), &[1, 2]), in_phase(at(3), &[0, 1])];
    let asked = Asked { signs: ears.collect(), ..asked(&text, wishes) };
    let answer = rewire(&asked).expect("an answer");
    assert_eq!(answer.met, [Met::No, Met::No]);
    let best = &answer.proposals[0];
    assert_eq!(best.doings, [Doing::SwapLeads { coil: 1 }]);
    assert_eq!(best.met, [Met::Yes, Met::Yes]);
    // Its hot came from throw 2, its ground from lug 1 of the volume.
    assert_eq!((best.joints, best.steps.len(), best.changed.as_slice()), (2, 2, [1, 3].as_slice()));
    check(&asked, &answer);
}

/// A cover tied to the ground lead of one coil: the other coil is reversed, since it has no metal.
#[test]
fn the_coil_without_metal_is_reversed_first() {
    let asked = asked(TWO_COILS, vec![in_phase(at(1), &[0, 1])]);
    let answer = rewire(&asked).expect("an answer");
    assert_eq!(answer.proposals[0].doings, [Doing::SwapLeads { coil: 0 }]);
    assert_eq!(answer.proposals[1].doings, [Doing::SwapLeads { coil: 1 }]);
    assert!(answer.proposals[0].joints < answer.proposals[1].joints);
    // The metal is freed and grounded by its own wire before anything else.
    let steps = &answer.proposals[1].steps;
    assert_eq!(steps[0], Step::FreeMetal { coil: 1 });
    assert_eq!(steps[1], Step::Wire { a: "neck.cover".into(), b: "volume.1".into() });
    let probed: Vec<_> =
        answer.proposals[1].probings.iter().map(|it| (it.a.as_str(), it.b.as_str(), it.ohms)).collect();
    assert!(probed.contains(&("neck.cover", "jack.sleeve", Some(Ohms(0.0)))), "{probed:?}");
    check(&asked, &answer);
}

/// Plate and cover, each tied to its coil's ground lead: whichever is swapped, its metal comes first.
#[test]
fn metal_on_both_is_freed_before_the_swap() {
    let text = TWO_COILS
        .replace("coil bridge 7k8 clockwise north", "coil bridge 7k8 clockwise north covered")
        + "join bridge.cover bridge.ground seen\n";
    let answer = answered(&text, vec![in_phase(at(1), &[0, 1])]);
    for proposal in &answer.proposals {
        assert!(matches!(proposal.steps[0], Step::FreeMetal { .. }), "{:?}", proposal.steps);
        assert!(matches!(proposal.steps[1], Step::Wire { .. }));
        assert!(matches!(proposal.steps[2], Step::Resolder { .. }));
    }
}

/// Coil and output leads exchanged on each volume: one down reads 7.752 kΩ and leaves the other coil, both up 3.937 kΩ
/// either way (by hand: 8k ∥ 500k ∥ 8k ∥ 500k = 3.937k, and with one coil shorted 8k ∥ 500k ∥ 500k = 7.752k).
#[test]
fn volumes_that_kill_both_are_made_independent() {
    let asked = asked(TWO_VOLUMES, vec![Wish::VolumesIndependent]);
    let answer = rewire(&asked).expect("an answer");
    assert_eq!(answer.met, [Met::No]);
    let best = &answer.proposals[0];
    assert!(
        best.doings.iter().all(|doing| matches!(doing, Doing::Exchange { .. })) && best.doings.len() == 2
    );
    assert_eq!((best.met[0], best.joints), (Met::Yes, 4));
    let both = |sounds: &[asfound_electric::rewiring::Sound]| sounds[1].ohms.expect("it conducts").0;
    assert!((both(&answer.sounds) - 3937.0).abs() < 0.5 && (both(&best.sounds) - 3937.0).abs() < 0.5);
    for down in &best.knobs_down {
        assert_eq!(
            (down.heard.len(), down.shorted.len()),
            (1, 1),
            "its own coil is shorted, the other heard"
        );
        assert!((down.ohms.expect("it conducts").0 - 7751.9).abs() < 0.5);
    }
    assert_eq!(best.knobs_down.len(), 2);
}

/// Early set, all magnets alike: swapping the middle's leads takes the hum down and the tone with it.
#[test]
fn hum_down_is_tone_thin_where_magnets_are_alike() {
    let hum = |coils: [usize; 2], position| Wish::HumCancels { place: at(position), coils: coils.to_vec() };
    let answer = answered(FIVE_WAY_LEVER, vec![hum([1, 2], 1), hum([0, 1], 3)]);
    let best = &answer.proposals[0];
    assert_eq!(best.doings, [Doing::SwapLeads { coil: 1 }]);
    assert_eq!(best.met, [Met::Yes, Met::Yes]);
    assert_eq!((answer.sounds[1].phase, best.sounds[1].phase), (Some(Phase::In), Some(Phase::Out)));
    assert_eq!(answer.instead, [Instead::Leave, Instead::Screen, Instead::DummyCoil]);
}

/// In phase and hum-cancelling needs opposite magnets (US patent 2,896,491, 1959).
#[test]
fn in_phase_and_quiet_with_like_magnets_cannot_be_had() {
    let wishes = vec![in_phase(at(1), &[1, 2]), Wish::HumCancels { place: at(1), coils: vec![1, 2] }];
    let answer = answered(FIVE_WAY_LEVER, wishes);
    assert_eq!(answer.conflicts.len(), 1);
    assert_eq!(answer.conflicts[0].wishes, [0, 1]);
    assert_eq!(answer.conflicts[0].why, WhyNot::LikeMagnets { a: 1, b: 2 });
    assert!(!answer.instead.is_empty());
}

#[test]
fn wishes_that_contradict_each_other_are_named() {
    let series = |joined| Wish::Heard { place: at(1), coils: vec![0, 1], joined: Some(joined), phase: None };
    let answer = answered(
        TWO_COILS,
        vec![series(Joined::Series), series(Joined::Parallel), Wish::MasterVolume, Wish::VolumesIndependent],
    );
    let named: Vec<_> = answer.conflicts.iter().map(|it| (it.wishes.as_slice(), &it.why)).collect();
    assert!(named.contains(&([0, 1].as_slice(), &WhyNot::SamePlace)), "{named:?}");
    assert!(named.contains(&([2, 3].as_slice(), &WhyNot::MasterAgainstIndependent)), "{named:?}");
}

#[test]
fn a_circuit_that_does_it_already_is_left_alone() {
    let answer =
        answered(FIVE_WAY_LEVER, vec![in_phase(at(1), &[1, 2]), Wish::MasterVolume, Wish::KeepSelector]);
    assert_eq!(answer.met, [Met::Yes; 3]);
    assert!(answer.proposals.is_empty() && answer.conflicts.is_empty() && !answer.searched.cut);
}

/// What is proposed does it already when asked again.
#[test]
fn asking_again_leaves_nothing_to_do() {
    for (text, wish) in [
        (TWO_COILS, in_phase(at(1), &[0, 1])),
        (TWO_VOLUMES, Wish::VolumesIndependent),
        (TWO_COILS, Wish::TrebleKept { knob: 0 }),
        (TWO_COILS, Wish::ToneOnly { coil: 1 }),
    ] {
        let answer = answered(text, vec![wish.clone()]);
        for proposal in answer.proposals.iter().filter(|it| it.met == [Met::Yes]) {
            let again = answered(&proposal.trace, vec![wish.clone()]);
            assert_eq!(again.met, [Met::Yes], "{wish:?}\n{}", proposal.trace);
            assert!(again.proposals.is_empty());
        }
        assert!(answer.proposals.iter().any(|it| it.met == [Met::Yes]), "{wish:?}");
    }
}

/// A bleed of preferred values; of the kept originals where one of them will do.
#[test]
fn a_treble_bleed_is_found_and_a_kept_original_comes_first() {
    let asked = |at_hand| Asked { at_hand, ..asked(TWO_COILS, vec![Wish::TrebleKept { knob: 0 }]) };
    let bleed = |asked: &Asked| -> (Bleed, Vec<String>) {
        let answer = rewire(asked).expect("an answer");
        let best = &answer.proposals[0];
        assert_eq!((answer.met[0], best.met[0]), (Met::No, Met::Yes));
        let Doing::Bleed { knob: 0, bleed } = &best.doings[0] else { panic!("{:?}", best.doings) };
        (bleed.clone(), best.new_parts.clone())
    };
    let (bleed_new, new) = bleed(&asked(Vec::new()));
    assert!(bleed_new.capacitor.at_hand.is_none() && !new.is_empty());
    let kept =
        AtHand { name: "old-red".into(), value: HandValue::Capacitor(Farads(330e-12)), original: true };
    let (bleed_kept, _) = bleed(&asked(vec![kept]));
    assert_eq!(bleed_kept.capacitor.at_hand, Some(0));
}

#[test]
fn what_the_circuit_does_not_have_is_refused() {
    let refused = |wish| rewire(&asked(TWO_COILS, vec![wish])).expect_err("refused");
    assert_eq!(
        refused(in_phase(at(7), &[0, 1])),
        RewiringError::NoSuchThing { wish: 0, what: "position", read: 7, count: 3 }
    );
    assert_eq!(refused(in_phase(at(0), &[0])), RewiringError::TooFewCoils { wish: 0, read: 1, least: 2 });
    assert!(refused(Wish::ToneOnly { coil: 2 }).to_string().contains("coil number 2"));
}

/// One pole of three positions cannot put two coils in series in its middle: a selector with more contacts can, and the
/// old one is kept.
#[test]
fn a_selector_with_more_contacts_is_offered_last() {
    let series =
        Wish::Heard { place: at(1), coils: vec![0, 1], joined: Some(Joined::Series), phase: Some(Phase::In) };
    let asked = asked(&TWO_COILS.replace("anticlockwise", "clockwise"), vec![series]);
    let answer = rewire(&asked).expect("an answer");
    let modern = answer.proposals.iter().find(|it| it.kept == ["lever"]).expect("a new selector");
    assert_eq!(modern.met, [Met::Yes], "{}", modern.trace);
    assert_eq!(modern.changed, [1], "positions 1 and 3 sound as before\n{}", modern.trace);
    assert_eq!(answer.proposals.last(), Some(modern), "the kept selector comes first");
    assert!(modern.steps.contains(&Step::KeepSelector { name: "lever".into() }));
    assert_eq!(modern.way_back.first(), Some(&Step::KeepSelector { name: "lever".into() }));
    check(&asked, &answer);
}

/// The selector that has to stay stays.
#[test]
fn a_selector_that_is_to_be_kept_is_kept() {
    let series = Wish::Heard { place: at(1), coils: vec![0, 1], joined: Some(Joined::Series), phase: None };
    let answer = answered(TWO_COILS, vec![series, Wish::KeepSelector]);
    assert!(answer.proposals.iter().all(|it| it.kept.is_empty()));
    assert!(answer.searched.cut || answer.proposals.iter().any(|it| it.met[0] == Met::Yes));
}

/// Three coils on a lever of three stops: two of them sound between stops where its contacts bridge, and the kept
/// selector is enough. Where nobody tried whether they bridge, that is only possible.
#[test]
fn what_sounds_between_stops_counts_as_far_as_it_was_tried() {
    let lever = |between: &str| {
        format!(
            "coil bridge 6k3 clockwise north\ncoil neck 5k7 clockwise north\nswitch lever\n  lugs a0 a1 a2\n  \
             at back: a0-a1\n  at front: a0-a2\n  between: {between}\njack jack\n\
             join bridge.hot lever.a1 metered\njoin neck.hot lever.a2 metered\njoin lever.a0 jack.tip metered\n\
             join bridge.ground jack.sleeve metered\njoin neck.ground jack.sleeve metered\n"
        )
    };
    let wish = in_phase(Place::Between { switch: 0, from: 0 }, &[0, 1]);
    assert_eq!(answered(&lever("both neighbours"), vec![wish.clone()]).met, [Met::Yes]);
    assert_eq!(answered(&lever("unknown"), vec![wish.clone()]).met, [Met::Depends(0.5)]);
    assert_eq!(answered(&lever("nothing"), vec![wish]).met, [Met::No]);
}
