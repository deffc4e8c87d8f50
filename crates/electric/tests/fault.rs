//! Fault finding against faults that practitioners found, and against worked figures.

use asfound_electric::fault::{
    About, Contradiction, Evidence, Fault, FaultError, Heard, Look, Metered, Options, Probed, Reach, Shows,
    Side, Suspicion, Touched, TrackEnd, suspects,
};
use asfound_electric::jack::Shown;
use asfound_electric::touch::{Caution, OnTouch};
use asfound_electric::trace::Trace;
use asfound_electric::{Circuit, Load, Setting, Terminal};
use asfound_measure::{Farads, Ohms, Uncertain};

/// A cable and an amplifier: 500 pF and 1 MΩ.
const LOAD: Load = Load { capacitance: Farads(500e-12), resistance: Some(Ohms(1e6)) };

const LEVER: &str = include_str!("traces/five-way-lever.trace");

fn circuit(trace: &str) -> Circuit {
    Trace::read(trace).unwrap().circuit().unwrap()
}

fn evidence() -> Evidence {
    Evidence {
        metered: vec![],
        heard: vec![],
        reach: Reach::Everything,
        coated_cavity: Some(false),
        earth_proved: false,
        load: LOAD,
    }
}

/// A setting by its switch positions and knobs.
fn at(positions: &[usize], wipers: &[f64]) -> Setting {
    Setting { positions: positions.to_vec(), on_the_way: None, wipers: wipers.to_vec() }
}

/// A reading as a meter of four digits shows it.
fn shown(ohms: f64) -> Shown {
    let digit = libm::pow(10.0, libm::log10(ohms.max(1.0)).floor() - 3.0).max(0.1);
    Shown::Ohms(Uncertain::rectangular(Ohms(ohms), Ohms(digit / 2.0)))
}

fn metered(circuit: &Circuit, from: &str, to: &str, setting: &Setting, shown: Shown) -> Metered {
    let (from, to) = (circuit.terminal(from).unwrap(), circuit.terminal(to).unwrap());
    Metered { probed: Probed { from, to, setting: setting.clone() }, shown }
}

fn leader(circuit: &Circuit, evidence: &Evidence) -> Suspicion {
    suspects(circuit, evidence, &Options::default()).unwrap().ranked[0].clone()
}

const TWO_VOLUMES: &str = "coil neck 8k 4H 100p\n coil bridge 8k 4H 100p\n switch selector three-way lever\n\
    pot v1 500k linear\n pot v2 500k linear\n jack jack\n\
    join neck.hot v1.3 seen\n join bridge.hot v2.3 seen\n join v1.2 selector.a1 seen\n\
    join v2.2 selector.a2 seen\n join selector.a0 jack.tip seen\n join v1.1 jack.sleeve seen\n\
    join v2.1 jack.sleeve seen\n join neck.ground jack.sleeve seen\n join bridge.ground jack.sleeve seen\n";

/// A practitioners' case, no source, with figures worked out by a general circuit simulator: two coils of 8 kΩ, two
/// volumes of 500 kΩ, the selector in the middle, and either volume at nought silences all. 3.937 kΩ at the jack with
/// both up and 0 with one down: that is the design.
#[test]
fn one_volume_that_silences_both_is_the_design() {
    let circuit = circuit(TWO_VOLUMES);
    let (both, down) = (at(&[1], &[1.0, 1.0]), at(&[1], &[0.0, 1.0]));
    let volumes = ["v1", "v2"].map(|name| circuit.part(name).unwrap());
    let silences = |pot| Heard::KnobSilences { pot, turn: 0.0, setting: both.clone() };
    let it = Evidence {
        metered: vec![
            metered(&circuit, "jack.tip", "jack.sleeve", &both, shown(3937.0)),
            metered(&circuit, "jack.tip", "jack.sleeve", &down, shown(0.3)),
        ],
        heard: volumes.into_iter().map(silences).collect(),
        reach: Reach::JackOnly,
        ..evidence()
    };
    let first = leader(&circuit, &it);
    assert!(first.is_design(), "{first:?}");
    assert!(first.probability.value() > 0.5, "{first:?}");
}

const ONE_COIL: &str = "coil neck 5950 2H4 110p\n pot volume 243k linear\n pot tone 250k linear\n\
    capacitor ct 22n\n jack jack\n join neck.hot volume.3 seen\n join volume.2 jack.tip seen\n\
    join volume.1 jack.sleeve seen\n join neck.ground jack.sleeve seen\n join volume.3 tone.3 seen\n\
    join tone.2 ct.a seen\n join ct.b jack.sleeve seen\n";

/// A leaking tone capacitor shows in what the tone knob does to the reading. Figures of a leak of 1 MΩ and 100 kΩ behind
/// 250 kΩ beside a coil of 5950 Ω and a track of 243 kΩ, by the parallel formula and by a general circuit simulator.
#[test]
fn a_leaking_capacitor_by_what_the_tone_knob_does() {
    let circuit = circuit(ONE_COIL);
    let ct = circuit.part("ct").unwrap();
    // The tone at 1 is full treble: the whole track stands before the capacitor, from lug 3 to the wiper at lug 1's end.
    let (full, dark) = (at(&[], &[1.0, 0.0]), at(&[], &[1.0, 1.0]));
    for (leak, treble, bass) in [(1e6, 5780.93, 5774.26), (100e3, 5712.99, 5489.00)] {
        let read = |setting, ohms| {
            let shown = Shown::Ohms(Uncertain::rectangular(Ohms(ohms), Ohms(0.05)));
            metered(&circuit, "jack.tip", "jack.sleeve", setting, shown)
        };
        let it = Evidence {
            metered: vec![read(&full, treble), read(&dark, bass)],
            reach: Reach::JackOnly,
            ..evidence()
        };
        let first = leader(&circuit, &it);
        assert_eq!(first.faults, [Fault::CapacitorLeaky { part: ct }], "{leak}: {first:?}");
        let Some(Ohms(size)) = first.sizes[0] else { panic!("a leak has a size") };
        assert!(libm::log(size / leak).abs() < 0.25, "{leak}: {size}");
    }
    let sound = Evidence {
        metered: vec![
            metered(&circuit, "jack.tip", "jack.sleeve", &full, shown(5808.0)),
            metered(&circuit, "jack.tip", "jack.sleeve", &dark, shown(5808.0)),
        ],
        reach: Reach::JackOnly,
        ..evidence()
    };
    assert!(leader(&circuit, &sound).is_design());
}

const COVERED: &str = "coil neck 7500 3H 100p covered\n coil bridge 8k 4H 100p\n switch selector three-way lever\n\
    pot volume 250k linear\n jack jack\n metal strings\n join neck.hot selector.a1 seen\n\
    join bridge.hot selector.a2 seen\n join selector.a0 volume.3 seen\n join volume.2 jack.tip seen\n\
    join volume.1 jack.sleeve seen\n join neck.ground volume.1 seen\n join bridge.ground volume.1 seen\n\
    join neck.cover volume.1 seen\n join strings volume.1 seen\n";

/// A practitioners' case, no source: the sound dies when a string touches the neck coil's cover, because its leads were
/// exchanged with the cover still on one of them. The meter then shows 0 ohm from cover to hot lead, and about the
/// coil's ohms from cover to sleeve.
#[test]
fn a_cover_on_the_hot_lead() {
    let circuit = circuit(COVERED);
    let neck = circuit.part("neck").unwrap();
    let setting = at(&[0], &[1.0]);
    let mut it = Evidence {
        heard: vec![Heard::CutsOutOnCover { coil: neck, setting: setting.clone() }],
        ..evidence()
    };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    assert_eq!(answer.ranked[0].faults, [Fault::CoverOnHot { part: neck }], "{:?}", answer.ranked[0]);
    assert_eq!(answer.cautions[0], Caution::ProveProtectiveEarth);
    it.metered = vec![
        metered(&circuit, "neck.cover", "neck.hot", &setting, shown(0.2)),
        metered(&circuit, "neck.cover", "jack.sleeve", &setting, shown(7281.0)),
    ];
    let first = leader(&circuit, &it);
    assert_eq!(first.faults, [Fault::CoverOnHot { part: neck }]);
    assert!(first.probability.value() > 0.8, "{first:?}");
}

/// A practitioners' case, no source: loud hum, no change on the strings, quiet with a hand on the plug's sleeve; the wire
/// to the tailpiece came out by a gentle pull.
#[test]
fn a_broken_string_ground() {
    let circuit = circuit(COVERED);
    let hum = |touched, hum| Heard::HumOnTouch { touched, hum };
    let it = Evidence {
        heard: vec![
            Heard::HumsLoud,
            hum(Touched::Strings, OnTouch::NoChange),
            hum(Touched::Sleeve, OnTouch::Better),
        ],
        ..evidence()
    };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    assert_eq!(answer.ranked[0].faults, [Fault::StringGroundBroken], "{:?}", answer.ranked[0]);
    assert_eq!(answer.cautions[..2], [Caution::ProveProtectiveEarth, Caution::StopAtAnyTingle]);
    assert!(
        !answer.next.iter().any(|next| matches!(next.look, Look::Touch(_))),
        "no touch before the earth is proved"
    );
}

/// A practitioners' case, no source: rewired with wire of one colour, unbearable when any metal is touched. 0 ohm from
/// tip to strings confirms it.
#[test]
fn tip_and_sleeve_exchanged() {
    let circuit = circuit(COVERED);
    let mut it = Evidence {
        heard: vec![Heard::HumsLoud, Heard::HumOnTouch { touched: Touched::Strings, hum: OnTouch::Worse }],
        ..evidence()
    };
    assert_eq!(leader(&circuit, &it).faults, [Fault::TipAndSleeveExchanged]);
    it.metered = vec![metered(&circuit, "jack.tip", "strings.case", &at(&[0], &[1.0]), shown(0.3))];
    let first = leader(&circuit, &it);
    assert_eq!(first.faults, [Fault::TipAndSleeveExchanged]);
    assert!(first.probability.value() > 0.9, "{first:?}");
}

/// A practitioners' case, no source: always dark, the tone knob dead, and lifting the tone's input brings the treble
/// back. It is the pot, shorted from one end to the wiper, and not the capacitor.
#[test]
fn always_dark_is_the_tone_pot_and_not_its_capacitor() {
    let circuit = circuit(ONE_COIL);
    let tone = circuit.part("tone").unwrap();
    let setting = at(&[], &[1.0, 0.0]);
    let it = Evidence {
        heard: vec![
            Heard::Dark { setting: setting.clone(), against: None },
            Heard::KnobDoesNothing { pot: tone, setting: setting.clone() },
            Heard::LiftingRestoresTreble { terminal: circuit.terminal("tone.3").unwrap(), setting },
        ],
        ..evidence()
    };
    let first = leader(&circuit, &it);
    assert_eq!(first.faults, [Fault::WiperShorted { part: tone, end: TrackEnd::High }], "{first:?}");
}

/// A practitioners' case, no source: some of the neck coil's sound is lost to ground, every part is sound by itself, and
/// the cavity is coated. The third lug of a tone pot touched the paint.
#[test]
fn a_lug_that_touches_conductive_paint() {
    let circuit = circuit(LEVER);
    let neck = at(&[4], &[1.0, 0.0, 0.0]);
    let lug = circuit.terminal("tone1.3").unwrap();
    let bridge = at(&[0], &[1.0, 0.0, 0.0]);
    // 5700 Ω beside 250 kΩ is 5573 Ω; a touch of 4 kΩ beside it leaves 2328 Ω.
    let it = Evidence {
        metered: vec![
            metered(&circuit, "jack.tip", "jack.sleeve", &neck, shown(2328.0)),
            metered(&circuit, "tone1.3", "jack.sleeve", &bridge, shown(4000.0)),
            metered(&circuit, "jack.tip", "jack.sleeve", &bridge, shown(6145.0)),
        ],
        coated_cavity: Some(true),
        ..evidence()
    };
    let first = leader(&circuit, &it);
    let Fault::LugTouchesCoating { terminal } = first.faults[0] else { panic!("{first:?}") };
    assert_eq!(circuit.name_of(terminal), "tone1.3");
    assert_eq!(lug, terminal);
    assert!(libm::log(first.sizes[0].unwrap().0 / 4000.0).abs() < 0.1, "{first:?}");
}

/// Three coils behind a five-way lever: bridge 6.145, both 2.984, middle 5.668, middle and neck 2.842, neck 5.573 kΩ,
/// worked out by the parallel formula. A row equal to its neighbour means that the other coil of the pair is open.
#[test]
fn a_row_equal_to_its_neighbour_means_an_open_coil() {
    let circuit = circuit(LEVER);
    let rows = |ohms: [Option<f64>; 5]| -> Vec<Metered> {
        let row = |(position, ohms): (usize, Option<f64>)| {
            let shown = ohms.map_or(Shown::Over(Ohms(20e6)), shown);
            metered(&circuit, "jack.tip", "jack.sleeve", &at(&[position], &[1.0; 3]), shown)
        };
        ohms.into_iter().enumerate().map(row).collect()
    };
    let sound = [6145.0, 2984.0, 5668.0, 2842.0, 5573.0].map(Some);
    let it = Evidence { metered: rows(sound), reach: Reach::JackOnly, ..evidence() };
    assert!(leader(&circuit, &it).is_design());
    // The middle coil open: only the volume is left in the middle position.
    let open = [Some(6145.0), Some(6145.0), Some(248e3), Some(5573.0), Some(5573.0)];
    let it = Evidence { metered: rows(open), reach: Reach::JackOnly, ..evidence() };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    let middle = circuit.part("middle").unwrap();
    let first = &answer.ranked[0];
    assert_eq!(first.faults, [Fault::CoilOpen { part: middle }], "{first:?}");
    // Through the plug nobody can tell an open winding from a joint of it that does not hold.
    let not_told: Vec<&[Fault]> =
        first.not_told_from.iter().map(|place| answer.ranked[*place].faults.as_slice()).collect();
    for join in [1, 13] {
        assert!(not_told.contains(&[Fault::JoinOpen { join }].as_slice()), "{join}: {not_told:?}");
    }
    assert!(!answer.next.iter().any(|next| matches!(next.look, Look::Meter(_))), "{:?}", answer.next);
    // With the guard off one probing parts them.
    let it = Evidence { reach: Reach::Everything, ..it };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    assert!(matches!(answer.next[0].look, Look::Meter(_)), "{:?}", answer.next);
}

/// A practitioners' case, no source: three coils with small switches chained in series; the hot chain beeps throughout,
/// the ground chain has no continuity from 3 to 2. The joint at switch 2 was found open. What the meter shows there instead
/// is one coil behind two others beside the volume: 5840 + 1/(2/5840 + 1/250000) = 8726 Ω.
#[test]
fn a_chain_that_does_not_beep_names_its_link() {
    let circuit = circuit(
        "coil a 5840\n coil b 5840\n coil c 5840\n post hots 3\n post grounds 3\n pot volume 250k\n jack jack\n\
         join a.hot hots.1 seen\n join b.hot hots.2 seen\n join c.hot hots.3 seen\n join hots.1 hots.2 seen\n\
         join hots.2 hots.3 seen\n join hots.1 volume.3 seen\n join volume.2 jack.tip seen\n\
         join volume.1 jack.sleeve seen\n join a.ground grounds.1 seen\n join b.ground grounds.2 seen\n\
         join c.ground grounds.3 seen\n join grounds.1 grounds.2 seen\n join grounds.2 grounds.3 seen\n\
         join grounds.1 volume.1 seen\n",
    );
    let up = at(&[], &[1.0]);
    let it = Evidence {
        metered: vec![
            metered(&circuit, "hots.3", "hots.2", &up, shown(0.2)),
            metered(&circuit, "hots.2", "hots.1", &up, shown(0.2)),
            metered(&circuit, "hots.1", "volume.3", &up, shown(0.2)),
            metered(&circuit, "grounds.3", "grounds.2", &up, shown(8726.0)),
        ],
        ..evidence()
    };
    let first = leader(&circuit, &it);
    assert_eq!(first.faults, [Fault::JoinOpen { join: 12 }], "{first:?}");
}

/// Two coils against each other in the position that has both: it is thin there, and nowhere else.
#[test]
fn thin_together_and_full_alone_is_a_pair_of_leads_exchanged() {
    let circuit = circuit(TWO_VOLUMES);
    let [one, both, other] = [0, 1, 2].map(|position| at(&[position], &[1.0, 1.0]));
    let it = Evidence {
        heard: vec![
            Heard::Thin { setting: both, against: None },
            Heard::Normal { setting: one },
            Heard::Normal { setting: other },
        ],
        ..evidence()
    };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    for suspicion in &answer.ranked[..2] {
        assert!(matches!(suspicion.faults[..], [Fault::LeadsSwapped { .. }]), "{suspicion:?}");
    }
    assert!(answer.ranked[0].not_told_from.contains(&1), "which of the two, nothing tells");
    assert!(!answer.taken_in_phase.is_empty(), "no sign is known here, and that is said");
}

#[test]
fn two_faults_at_once() {
    let circuit = circuit(TWO_VOLUMES);
    let [neck, bridge] = ["neck", "bridge"].map(|name| circuit.part(name).unwrap());
    let read = |position, ohms| {
        metered(&circuit, "jack.tip", "jack.sleeve", &at(&[position], &[1.0, 1.0]), shown(ohms))
    };
    // The neck coil open leaves its track; the bridge coil's leads touch.
    let it = Evidence {
        metered: vec![
            read(0, 498e3),
            read(2, 0.2),
            metered(&circuit, "neck.hot", "neck.ground", &at(&[0], &[1.0, 1.0]), shown(498e3)),
            metered(&circuit, "bridge.hot", "bridge.ground", &at(&[0], &[1.0, 1.0]), shown(0.2)),
            metered(&circuit, "bridge.hot", "v2.3", &at(&[0], &[1.0, 1.0]), shown(0.2)),
            metered(&circuit, "neck.hot", "v1.3", &at(&[0], &[1.0, 1.0]), shown(0.2)),
        ],
        ..evidence()
    };
    let first = leader(&circuit, &it);
    assert_eq!(first.faults[0], Fault::CoilOpen { part: neck }, "{first:?}");
    let second = first.faults[1];
    assert!(
        second == Fault::CoilShorted { part: bridge } || matches!(second, Fault::StrayToGround { .. }),
        "{first:?}"
    );
}

#[test]
fn readings_that_contradict_each_other_are_said() {
    let circuit = circuit(ONE_COIL);
    let up = at(&[], &[1.0, 1.0]);
    let it = Evidence {
        metered: vec![
            metered(&circuit, "jack.tip", "jack.sleeve", &up, shown(5808.0)),
            metered(&circuit, "jack.sleeve", "jack.tip", &up, shown(9100.0)),
        ],
        ..evidence()
    };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    assert!(answer.contradictions.contains(&Contradiction::ReadTwice { first: 0, second: 1 }));
    assert!(answer.contradictions.contains(&Contradiction::NotExplained { about: About::Metered(1) }));
}

#[test]
fn what_cannot_be_is_said_with_its_place() {
    let circuit = circuit(ONE_COIL);
    let up = at(&[], &[1.0, 1.0]);
    let ask = |it: &Evidence| suspects(&circuit, it, &Options::default()).unwrap_err();
    let mut nowhere = metered(&circuit, "jack.tip", "jack.sleeve", &up, shown(1.0));
    nowhere.probed.to = Terminal { part: 4, lug: 7 };
    let error = ask(&Evidence { metered: vec![nowhere], ..evidence() });
    assert_eq!(error, FaultError::NoSuchLug { reading: 1, part: 4, lug: 7 });
    assert!(error.to_string().contains("reading number 1"));

    let off = metered(&circuit, "jack.tip", "jack.sleeve", &at(&[0], &[1.0, 1.0]), shown(1.0));
    let error = ask(&Evidence { metered: vec![off], ..evidence() });
    assert!(matches!(error, FaultError::Setting { about: About::Metered(0), .. }), "{error}");

    let cover = Heard::CutsOutOnCover { coil: 0, setting: up.clone() };
    let error = ask(&Evidence { heard: vec![cover], ..evidence() });
    assert!(error.to_string().contains("`neck`"), "{error}");

    let no_pot = Heard::KnobScratches { pot: 0 };
    let error = ask(&Evidence { heard: vec![no_pot], ..evidence() });
    assert_eq!(error, FaultError::NotThatSort { about: About::Heard(0), read: 0, wanted: "pot" });

    let mut negative = metered(&circuit, "jack.tip", "jack.sleeve", &up, shown(1.0));
    negative.shown = Shown::Ohms(Uncertain::new(Ohms(-1.0), Ohms(1.0)));
    let error = ask(&Evidence { metered: vec![negative], ..evidence() });
    assert!(matches!(error, FaultError::Shown { reading: 1, .. }));

    let mut options = Options::default();
    options.priors.join_open = 0.0;
    let error = suspects(&circuit, &evidence(), &options).unwrap_err();
    assert!(matches!(error, FaultError::Assumption { name: "joint or wire open", .. }));
}

/// The next look parts the leaders: what it shows differs between some two of them.
#[test]
fn the_next_look_parts_the_leaders() {
    let circuit = circuit(ONE_COIL);
    let it = Evidence { heard: vec![Heard::Silent { setting: at(&[], &[1.0, 1.0]) }], ..evidence() };
    let answer = suspects(&circuit, &it, &Options::default()).unwrap();
    let next = &answer.next[0];
    assert!(next.tells.value() > 0.5, "{next:?}");
    let first: Shows = next.shows[0].1;
    assert!(next.shows.iter().any(|(_, shows)| *shows != first));
    assert!(answer.ranked[0].speaks.iter().all(|speaks| speaks.side != Side::Alternative));
}
