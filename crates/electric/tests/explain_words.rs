//! The words of an explanation on small circuits whose answer is known beforehand. All values invented.

#[path = "common/explained.rs"]
mod explained;

use asfound_electric::explain::{
    Agreed, CoilSigns, CoilWord, DeadIn, DeadWhy, Explanation, Finding, HumWord, JackOhms, JackOutput,
    KnobEnd, KnobWord, Limit, Look, MetalFact, PhaseWord, RelationWord, Warning,
};
use explained::{explained, joined};

fn knob<'a>(explanation: &'a Explanation, state: usize, pot: &str) -> &'a KnobWord {
    let pot = explanation.pots.iter().position(|name| name == pot).unwrap();
    &explanation.states[state].knobs[pot].certain().unwrap().word
}

fn coil_words(explanation: &Explanation, state: usize) -> Vec<CoilWord> {
    explanation.states[state].coils.iter().map(|fact| fact.certain().unwrap().word).collect()
}

const COUPLED: &[(&str, &str)] = &[
    ("neck.hot", "v1.3"),
    ("bridge.hot", "v2.3"),
    ("v1.2", "selector.a1"),
    ("v2.2", "selector.a2"),
    ("selector.a0", "jack.tip"),
    ("neck.ground", "jack.sleeve"),
    ("bridge.ground", "jack.sleeve"),
    ("v1.1", "jack.sleeve"),
    ("v2.1", "jack.sleeve"),
];
const TWO_VOLUMES: &str = "coil neck 8k 4H4 100p clockwise north\ncoil bridge 8k 4H4 100p clockwise north\n\
    pot v1 500k\npot v2 500k\nswitch selector three-way lever";

#[test]
fn one_volume_at_nought_silences_both_where_the_wipers_meet() {
    let explanation = explained(&joined(TWO_VOLUMES, COUPLED));
    // In the middle either volume takes both coils down; alone each is the volume of its own coil.
    for pot in ["v1", "v2"] {
        let KnobWord::Volume { silences, all } = knob(&explanation, 1, pot) else {
            panic!("{:?}", knob(&explanation, 1, pot))
        };
        assert_eq!((silences.as_slice(), *all), (&[0, 1][..], true));
    }
    assert_eq!(*knob(&explanation, 0, "v2"), KnobWord::Nothing);
    // Worked by hand: 8k // 8k // 500k // 500k is 3937 ohms, and either alone 7874.
    let JackOhms::Reads(both) = explanation.states[1].ohms.certain().unwrap() else { panic!() };
    assert!((both.0 - 3937.0).abs() < 0.1, "{}", both.0);
}

#[test]
fn leads_swapped_at_the_pots_part_the_two_volumes() {
    let swapped: Vec<(&str, &str)> = COUPLED
        .iter()
        .map(|&(a, b)| match (a, b) {
            ("neck.hot", _) => (a, "v1.2"),
            ("bridge.hot", _) => (a, "v2.2"),
            ("v1.2", _) => ("v1.3", b),
            ("v2.2", _) => ("v2.3", b),
            other => other,
        })
        .collect();
    let explanation = explained(&joined(TWO_VOLUMES, &swapped));
    let KnobWord::Volume { silences, all } = knob(&explanation, 1, "v1") else {
        panic!("{:?}", knob(&explanation, 1, "v1"))
    };
    assert_eq!((silences.as_slice(), *all), (&[0][..], false));
    let JackOhms::Reads(both) = explanation.states[1].ohms.certain().unwrap() else { panic!() };
    assert!((both.0 - 3937.0).abs() < 0.1, "{}", both.0);
}

const ONE_COIL: &str = "coil bridge 6k3 2H5 115p clockwise north";

#[test]
fn a_tone_cuts_treble_and_a_series_capacitor_cuts_bass() {
    let explanation = explained(&joined(
        &format!(
            "{ONE_COIL}\npot volume 250k\npot tone 250k\npot bass 1M\ncapacitor ct 22n\ncapacitor cb 2n2"
        ),
        &[
            ("bridge.hot", "cb.a"),
            ("bridge.hot", "bass.3"),
            ("bass.2", "volume.3"),
            ("cb.b", "volume.3"),
            ("volume.3", "tone.3"),
            ("tone.2", "ct.a"),
            ("ct.b", "volume.1"),
            ("volume.2", "jack.tip"),
            ("volume.1", "jack.sleeve"),
            ("bridge.ground", "volume.1"),
        ],
    ));
    assert_eq!(*knob(&explanation, 0, "tone"), KnobWord::TrebleCut);
    assert_eq!(*knob(&explanation, 0, "bass"), KnobWord::BassCut);
    assert!(matches!(knob(&explanation, 0, "volume"), KnobWord::Volume { all: true, .. }));
    let tone = explanation.states[0].knobs[1].certain().unwrap();
    assert_eq!(tone.open_end, Some(KnobEnd::Lug1));
}

#[test]
fn a_shorted_tone_pot_does_nothing_and_its_capacitor_colours() {
    // Lug 3 runs to the wiper through a short, so the capacitor is always there.
    let explanation = explained(&joined(
        &format!("{ONE_COIL}\npot tone 250k\ncapacitor ct 22n"),
        &[
            ("bridge.hot", "jack.tip"),
            ("bridge.ground", "jack.sleeve"),
            ("jack.tip", "tone.3"),
            ("tone.3", "tone.2"),
            ("tone.2", "tone.1"),
            ("tone.2", "ct.a"),
            ("ct.b", "jack.sleeve"),
        ],
    ));
    assert_eq!(*knob(&explanation, 0, "tone"), KnobWord::Nothing);
    let colouring = &explanation.states[0].colouring;
    assert_eq!(colouring[0].part, "ct");
    let without = colouring[0].without.certain().unwrap().unwrap();
    assert!(without.high.0 > 15.0, "{without:?}");
    // 22 nF across 2.5 H and 6.3 kΩ: f = 1/(2π√LC) = 678.7 Hz, Q = √(L/C)/R = 1.692, the peak at f√(1 - 1/2Q²) = 616.6 Hz.
    // 22.6 nF with cable and winding, and a load of 1 MΩ, move it by about 2 %.
    let peak = explanation.states[0].resonance.certain().unwrap().unwrap();
    assert!((peak.at.0 - 616.6).abs() < 15.0, "{peak:?}");
    assert_eq!(explanation.dead_parts.iter().map(|dead| dead.part.as_str()).collect::<Vec<_>>(), ["tone"]);
}

/// The two-pickup circuit of the 1950s and 1960s that never gives both: bridge, neck, and neck with a capacitor in place
/// of the tone.
#[test]
fn a_selector_that_never_gives_both_is_told_as_it_is() {
    let explanation = explained(&joined(
        "coil neck 7k2 2H4 110p clockwise north\ncoil bridge 6k8 2H6 120p clockwise north\n\
         switch selector\n  lugs out bridge neck tone preset\n  at 1: out-bridge out-tone\n\
         at 2: out-neck out-tone\n  at 3: out-neck out-preset\n  between: unknown\n\
         pot volume 250k audio\npot tone 250k audio\ncapacitor ct 47n\ncapacitor cp 100n",
        &[
            ("neck.hot", "selector.neck"),
            ("bridge.hot", "selector.bridge"),
            ("selector.out", "volume.3"),
            ("selector.tone", "tone.3"),
            ("selector.preset", "cp.a"),
            ("tone.2", "ct.a"),
            ("ct.b", "volume.1"),
            ("cp.b", "volume.1"),
            ("neck.ground", "volume.1"),
            ("bridge.ground", "volume.1"),
            ("volume.2", "jack.tip"),
            ("volume.1", "jack.sleeve"),
        ],
    ));
    assert!(explanation.states.iter().all(|state| state.pairs.is_empty()));
    let dead = CoilWord::Dead(DeadWhy::EndLoose);
    assert_eq!(coil_words(&explanation, 0), [dead, CoilWord::Sounds]);
    assert_eq!(coil_words(&explanation, 1), [CoilWord::Sounds, dead]);
    assert_eq!(coil_words(&explanation, 2), [CoilWord::Sounds, dead]);
    let tone = |state| knob(&explanation, state, "tone").clone();
    assert_eq!([tone(0), tone(1), tone(2)], [KnobWord::TrebleCut, KnobWord::TrebleCut, KnobWord::Nothing]);
    let preset = explanation.states[2].colouring.iter().find(|it| it.part == "cp").unwrap();
    let without = preset.without.certain().unwrap().unwrap();
    assert!(without.high.0 > 20.0, "{without:?}");
    assert!(explanation.states[..2].iter().all(|state| state.colouring.iter().all(|it| it.part != "cp")));
    assert!(explanation.dead_parts.is_empty());
}

#[test]
fn a_pot_as_a_bare_shunt_kills_only_at_its_end() {
    let explanation = explained(&joined(
        &format!("{ONE_COIL}\npot volume 1M"),
        &[
            ("bridge.hot", "jack.tip"),
            ("bridge.ground", "jack.sleeve"),
            ("jack.tip", "volume.2"),
            ("volume.1", "jack.sleeve"),
        ],
    ));
    assert_eq!(*knob(&explanation, 0, "volume"), KnobWord::Kills { silences: vec![0], all: true });
}

#[test]
fn a_pot_between_two_coils_blends_one_in() {
    let explanation = explained(&joined(
        "coil neck 7k 3H 100p clockwise north\ncoil bridge 6k3 2H5 115p clockwise north\npot blend 500k",
        &[
            ("neck.hot", "blend.1"),
            ("blend.2", "jack.tip"),
            ("bridge.hot", "blend.3"),
            ("neck.ground", "jack.sleeve"),
            ("bridge.ground", "jack.sleeve"),
        ],
    ));
    let KnobWord::Blend { brings_in, .. } = knob(&explanation, 0, "blend") else {
        panic!("{:?}", knob(&explanation, 0, "blend"))
    };
    assert_eq!(brings_in.len(), 1);
}

#[test]
fn signs_that_nobody_saw_are_told_as_both_cases() {
    let parts = "coil neck 6k 2H4 100p clockwise north\ncoil bridge 6k 2H4 100p";
    let joins: &[(&str, &str)] = &[
        ("neck.hot", "jack.tip"),
        ("bridge.hot", "jack.tip"),
        ("neck.ground", "jack.sleeve"),
        ("bridge.ground", "jack.sleeve"),
    ];
    let explanation = explained(&joined(parts, joins));
    assert_eq!(explanation.possibilities.len(), 4);
    let state = &explanation.states[0];
    let Agreed::Depends(phases) = &state.pairs[0].phase else { panic!("{:?}", state.pairs) };
    let words: Vec<PhaseWord> = phases.iter().map(|case| case.fact.unwrap().word.middle).collect();
    assert_eq!(words, [PhaseWord::InPhase, PhaseWord::OutOfPhase]);
    assert!(phases.iter().all(|case| case.weight == 0.5));
    let Agreed::Depends(hums) = &state.hum else { panic!("{:?}", state.hum) };
    let words: Vec<HumWord> = hums.iter().map(|case| case.fact.word).collect();
    assert_eq!(words, [HumWord::Adds, HumWord::Cancels]);
    // What hangs on no sign stays certain.
    assert_eq!(state.pairs[0].relation.certain().unwrap().as_ref().unwrap().word, RelationWord::Parallel);
    // The tap decides the phase, the winding the hum, and the pole which goes with which: each tells one bit of two.
    let looks: Vec<&Look> = explanation.next.iter().map(|look| &look.what).collect();
    assert_eq!(looks, [&Look::Tap { coil: 1 }, &Look::Pole { coil: 1 }, &Look::Winding { coil: 1 }]);
    assert!(explanation.next.iter().all(|look| (look.bits - 1.0).abs() < 1e-9));
    assert!(explanation.next.iter().all(|look| look.settles.is_empty()));
    assert!(explanation.limits.contains(&Limit::EqualWeights));
}

/// The product rule (US patent 2,896,491): winding × magnet is the sign of the string, so a tap and a compass give the
/// winding. With all but one sign known each look that is left tells the whole.
#[test]
fn a_tap_gives_winding_times_magnet() {
    for (clockwise, north, up) in
        [(true, true, true), (true, false, false), (false, true, false), (false, false, true)]
    {
        let signs = CoilSigns { clockwise, north };
        assert_eq!(signs.string_positive(), up, "{signs:?}");
        // Any two give the third, by the same product.
        assert_eq!(CoilSigns { clockwise: up, north }.string_positive(), clockwise, "{signs:?}");
        let pole = if north { "north" } else { "south" };
        let explanation = explained(&joined(
            &format!("coil neck 6k 2H4 100p clockwise north\ncoil bridge 6k 2H4 100p {pole}"),
            &[
                ("neck.hot", "jack.tip"),
                ("bridge.hot", "jack.tip"),
                ("neck.ground", "jack.sleeve"),
                ("bridge.ground", "jack.sleeve"),
            ],
        ));
        let [tap, winding] = explanation.next.as_slice() else { panic!("{:?}", explanation.next) };
        assert_eq!((&tap.what, &winding.what), (&Look::Tap { coil: 1 }, &Look::Winding { coil: 1 }));
        assert!((tap.bits - 1.0).abs() < 1e-9 && (winding.bits - 1.0).abs() < 1e-9);
        assert_eq!((tap.settles.as_slice(), winding.settles.as_slice()), (&[0][..], &[0][..]));
        let findings: Vec<&Finding> = tap.answers.iter().map(|answer| &answer.found).collect();
        assert!(findings.contains(&&Finding::KicksUp(true)) && findings.contains(&&Finding::KicksUp(false)));
    }
}

#[test]
fn where_no_sign_is_known_a_look_counts_as_half_of_a_comparison() {
    let explanation = explained(&joined(
        "coil neck 6k 2H4 100p\ncoil bridge 6k 2H4 100p",
        &[
            ("neck.hot", "jack.tip"),
            ("bridge.hot", "jack.tip"),
            ("neck.ground", "jack.sleeve"),
            ("bridge.ground", "jack.sleeve"),
        ],
    ));
    assert_eq!(explanation.possibilities.len(), 16);
    // Hum hangs on the two windings, phase on the two taps: two bits in all, one from each comparison.
    assert_eq!(explanation.next.len(), 6);
    assert!(explanation.next.iter().all(|look| (look.bits - 1.0).abs() < 1e-9), "{:?}", explanation.next);
}

/// Each row of the sign table for two equal coils: in phase where w·m·s agree, cancelling where w·s differ. The rule of
/// US patent 2,896,491 (filed 1955): in phase and cancelling at once needs opposite magnets.
#[test]
fn two_equal_coils_in_every_sign_and_connection() {
    for clockwise in [true, false] {
        for north in [true, false] {
            for turned in [true, false] {
                for series in [true, false] {
                    let winding = if clockwise { "clockwise" } else { "anticlockwise" };
                    let pole = if north { "north" } else { "south" };
                    let parts =
                        format!("coil a 6k 2H4 100p clockwise north\ncoil b 6k 2H4 100p {winding} {pole}");
                    let (hot, ground) = if turned { ("b.ground", "b.hot") } else { ("b.hot", "b.ground") };
                    let joins = if series {
                        vec![("a.hot", "jack.tip"), ("a.ground", hot), (ground, "jack.sleeve")]
                    } else {
                        vec![
                            ("a.hot", "jack.tip"),
                            ("a.ground", "jack.sleeve"),
                            (hot, "jack.tip"),
                            (ground, "jack.sleeve"),
                        ]
                    };
                    let explanation = explained(&joined(&parts, &joins));
                    let state = &explanation.states[0];
                    let connection = !turned;
                    let phase = state.pairs[0].phase.certain().unwrap().unwrap().word.middle;
                    let in_phase = (clockwise == north) == connection;
                    assert_eq!(phase, if in_phase { PhaseWord::InPhase } else { PhaseWord::OutOfPhase });
                    let cancels = clockwise != connection;
                    let hum = state.hum.certain().unwrap();
                    assert_eq!(
                        hum.word,
                        if cancels { HumWord::Cancels } else { HumWord::Adds },
                        "{parts} {joins:?}"
                    );
                    let relation = state.pairs[0].relation.certain().unwrap().as_ref().unwrap().word;
                    assert_eq!(relation, if series { RelationWord::Series } else { RelationWord::Parallel });
                }
            }
        }
    }
}

#[test]
fn a_cover_on_the_hot_side_is_live_and_a_touch_shorts_the_output() {
    let explanation = explained(&joined(
        "coil neck 7k 3H 100p clockwise north covered\nmetal strings\nmetal plate",
        &[
            ("neck.hot", "jack.tip"),
            ("neck.ground", "jack.sleeve"),
            ("neck.cover", "neck.hot"),
            ("strings", "jack.sleeve"),
        ],
    ));
    let metal = &explanation.states[0].metal;
    assert_eq!(metal[0].metal, "neck.cover");
    let Agreed::Certain(MetalFact::Live { ohms_to_sleeve, when_touched }) = &metal[0].fact else {
        panic!("{metal:?}")
    };
    // A solution of one equation; a few roundings.
    assert!((ohms_to_sleeve.unwrap().0 - 7000.0).abs() < 1e-9);
    assert!(when_touched.middle.0 < -60.0);
    assert_eq!(metal[1].fact, Agreed::Certain(MetalFact::Grounded));
    assert_eq!(metal[2].fact, Agreed::Certain(MetalFact::Floating));
    assert_eq!(
        explanation.warnings,
        [Warning::MetalLive { metal: "neck.cover".to_owned(), states: vec![0] }]
    );
}

#[test]
fn shorted_open_and_silent_outputs_are_told_apart() {
    let output = |joins: &[(&str, &str)]| {
        let explanation = explained(&joined(&format!("{ONE_COIL}\nresistor r 100k"), joins));
        *explanation.states[0].output.certain().unwrap()
    };
    assert_eq!(output(&[("bridge.hot", "jack.tip"), ("bridge.ground", "jack.sleeve")]), JackOutput::Live);
    assert_eq!(output(&[("jack.tip", "jack.sleeve"), ("bridge.hot", "jack.tip")]), JackOutput::Shorted);
    assert_eq!(output(&[("bridge.hot", "jack.tip")]), JackOutput::Open);
    assert_eq!(output(&[("r.a", "jack.tip"), ("r.b", "jack.sleeve")]), JackOutput::Silent);
}

#[test]
fn a_dead_coil_is_told_with_why() {
    let words = |joins: &[(&str, &str)]| {
        let parts = "coil a 6k 2H 100p\ncoil b 6k 2H 100p clockwise north";
        let mut all = vec![("b.hot", "jack.tip"), ("b.ground", "jack.sleeve")];
        all.extend(joins);
        let explanation = explained(&joined(parts, &all));
        assert!(explanation.warnings.contains(&Warning::CoilNeverHeard { coil: 0 }));
        assert!(
            explanation.dead_parts.iter().any(|dead| dead.part == "a" && dead.possibilities == DeadIn::All)
        );
        coil_words(&explanation, 0)[0]
    };
    assert_eq!(words(&[("a.hot", "jack.tip")]), CoilWord::Dead(DeadWhy::EndLoose));
    assert_eq!(words(&[("a.hot", "a.ground"), ("a.hot", "jack.tip")]), CoilWord::Dead(DeadWhy::Shorted));
}

#[test]
fn a_stub_that_changes_nothing_is_not_worth_a_look() {
    let text = joined(
        &format!("{ONE_COIL}\npost tag 3"),
        &[("bridge.hot", "jack.tip"), ("bridge.ground", "jack.sleeve")],
    ) + "join tag.1 tag.2 or tag.3 or nothing unknown\n";
    let explanation = explained(&text);
    assert_eq!(explanation.possibilities.len(), 3);
    assert!(explanation.next.is_empty());
    assert!(explanation.states[0].curve.certain().is_some());
}

/// Two coils that are next to pure resistances, so that levels follow from ohms: the second one's share is
/// 6k / (6k + R) of the first one's, 0.1 of it at R = 54k.
#[test]
fn a_coil_is_faint_from_its_bound_on() {
    let word = |ohms: &str| {
        let explanation = explained(&joined(
            &format!("coil a 6k 1mH 1p clockwise north\ncoil b 6k 1mH 1p clockwise north\nresistor r {ohms}"),
            &[
                ("a.hot", "jack.tip"),
                ("b.hot", "r.a"),
                ("r.b", "jack.tip"),
                ("a.ground", "jack.sleeve"),
                ("b.ground", "jack.sleeve"),
            ],
        ));
        coil_words(&explanation, 0)[1]
    };
    assert_eq!((word("53k"), word("55k")), (CoilWord::Sounds, CoilWord::Faint));
}

/// 10 ohms across the jack: 10 / (10 + R + 6k) is a thousandth at R = 3980.
#[test]
fn a_coil_is_silent_below_its_bound() {
    let word = |ohms: &str| {
        let explanation = explained(&joined(
            &format!("coil a 6k 1mH 1p clockwise north\nresistor r {ohms}\nresistor shunt 10"),
            &[
                ("a.hot", "r.a"),
                ("r.b", "jack.tip"),
                ("shunt.a", "jack.tip"),
                ("shunt.b", "jack.sleeve"),
                ("a.ground", "jack.sleeve"),
            ],
        ));
        coil_words(&explanation, 0)[0]
    };
    assert_eq!((word("3900"), word("4060")), (CoilWord::Sounds, CoilWord::Silent));
}

/// A source of 10k with 1M at the jack is 9.9k; taking Rs from across it lifts it by 20 log(1 + 9.9k/Rs): 0.44 dB at
/// 190k, 0.56 dB at 150k.
#[test]
fn a_knob_does_nothing_below_half_a_decibel() {
    let word = |ohms: &str| {
        let explanation = explained(&joined(
            &format!("coil a 10k 1mH 1p clockwise north\nresistor r {ohms}\npot knob 100M"),
            &[
                ("a.hot", "jack.tip"),
                ("a.ground", "jack.sleeve"),
                ("jack.tip", "r.a"),
                ("r.b", "knob.3"),
                ("knob.2", "jack.sleeve"),
            ],
        ));
        knob(&explanation, 0, "knob").clone()
    };
    assert_eq!((word("190k"), word("150k")), (KnobWord::Nothing, KnobWord::Level));
}
