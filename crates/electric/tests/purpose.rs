//! What states were for: each word against a circuit that behaves so, and known arrangements by their behaviour.

use asfound_electric::explain::{Agreed, Conditions, Explanation, explain};
use asfound_electric::purpose::{Arrangement, Behaviour, Purposes, Voice, VoiceWord, purposes};
use asfound_electric::trace::Trace;

fn found(text: &str) -> (Explanation, Purposes) {
    let trace = Trace::read(text).expect("a trace that can be read");
    let circuit = trace.circuit().expect("a circuit");
    let conditions = Conditions::of_trace(&trace);
    let explanation = explain(&circuit, &conditions).expect("an explanation");
    let purposes = purposes(&circuit, &conditions, &explanation).expect("purposes");
    (explanation, purposes)
}

/// The behaviours of one state.
fn of(found: &(Explanation, Purposes), state: usize) -> Vec<Behaviour> {
    let at = found.0.groups.iter().position(|group| group.states.contains(&state)).unwrap();
    found.1.groups[at].certain().expect("nothing is unknown").clone()
}

/// One coil straight to the jack with what the lines add.
fn with(lines: &str) -> String {
    format!("coil neck 6k4 2H4\njack jack\njoin neck.ground jack.sleeve metered\n{lines}")
}

fn voice(behaviours: &[Behaviour]) -> &Voice {
    behaviours
        .iter()
        .find_map(|one| match one {
            Behaviour::Preset { voice } | Behaviour::Fixed { voice } => Some(voice),
            _ => None,
        })
        .expect("a voice")
}

/// Two coils, a lever with three positions, a volume and a second knob; `joins` says what the lever does.
fn plank(positions: [&str; 3], joins: &str) -> String {
    let [one, two, three] = positions;
    format!(
        "coil bridge 7k 2H8\ncoil neck 6k4 2H4\npot volume 250k\npot second 250k\ncapacitor dark-cap 100n\njack jack\n\
         switch lever\n  lugs b n c p e d\n  at 1: {one}\n  at 2: {two}\n  at 3: {three}\n  between: unknown\n\
         join bridge.ground jack.sleeve metered\njoin neck.ground jack.sleeve metered\njoin volume.1 jack.sleeve metered\n\
         join volume.2 jack.tip metered\njoin lever.b bridge.hot metered\njoin lever.n neck.hot metered\n\
         join lever.c volume.3 metered\njoin dark-cap.a lever.d metered\njoin dark-cap.b jack.sleeve metered\n{joins}"
    )
}

/// A tone knob that works in the first two positions, and the capacitor in the third.
fn preset_bass() -> String {
    plank(
        ["b-c p-e", "n-c p-e", "n-c d-c"],
        "capacitor tone-cap 50n\njoin lever.p second.3 metered\njoin lever.e volume.3 metered\n\
         join second.2 tone-cap.a metered\njoin tone-cap.b jack.sleeve metered\n",
    )
}

/// A second knob in series with the neck coil in the first position only.
fn blend() -> String {
    plank(
        ["b-c p-e", "n-c", "n-c d-c"],
        "join neck.hot second.3 metered\njoin second.2 lever.p metered\njoin lever.e volume.3 metered\n",
    )
}

/// Each coil with its volume, both into a lever, both wipers on in the middle.
fn two_volumes() -> String {
    "coil bridge 7k 2H8\ncoil neck 6k4 2H4\npot volume-b 500k\npot volume-n 500k\njack jack\n\
     switch lever\n  lugs b n c\n  at 1: b-c\n  at 2: b-c n-c\n  at 3: n-c\n  between: unknown\n\
     join bridge.ground jack.sleeve metered\njoin neck.ground jack.sleeve metered\n\
     join volume-b.1 jack.sleeve metered\njoin volume-n.1 jack.sleeve metered\n\
     join bridge.hot volume-b.3 metered\njoin neck.hot volume-n.3 metered\n\
     join volume-b.2 lever.b metered\njoin volume-n.2 lever.n metered\njoin lever.c jack.tip metered\n"
        .to_owned()
}

/// The capacitor across a coil of 2.0 to 2.8 H brings its resonance down to about 300 to 360 Hz, `f = 1/(2π √(LC))`; the
/// corner lies above it.
#[test]
fn a_dark_third_position_is_a_preset_and_dates_the_set() {
    let found = found(&preset_bass());
    assert_eq!(found.1.arrangement, Some(Arrangement::PresetBass { first: 0, dark: 1, state: 2 }));
    let window = found.1.arrangement.as_ref().unwrap().window().unwrap();
    assert_eq!((window.dates, window.source), ("mid-1952 to 1967", "common practice, no source"));
    let dark = of(&found, 2);
    let [Behaviour::Preset { voice }] = dark.as_slice() else { panic!("{dark:?}") };
    assert_eq!(
        (voice.what, voice.parts.as_slice()),
        (VoiceWord::TrebleCut, ["dark-cap".to_owned()].as_slice())
    );
    assert!((300.0..600.0).contains(&voice.at.unwrap().0), "{voice:?}");
    for state in [0, 1] {
        let plain = of(&found, state);
        assert!(matches!(plain.as_slice(), [Behaviour::Tone { knob: 1, treble: true, .. }]), "{plain:?}");
    }
}

#[test]
fn a_second_knob_that_brings_the_neck_in_is_the_earlier_one() {
    let found = found(&blend());
    assert_eq!(found.1.arrangement, Some(Arrangement::Blend { first: 0, blended: 1, state: 2 }));
    assert_eq!(found.1.arrangement.as_ref().unwrap().window().unwrap().dates, "1950 to mid-1952");
    assert!(matches!(of(&found, 0).as_slice(), [Behaviour::Blend { knob: 1, .. }]), "{:?}", of(&found, 0));
}

/// Somebody clipped the capacitor: the positions no longer behave so, and no name is given.
#[test]
fn a_set_that_was_altered_has_no_name() {
    let clipped = preset_bass().replace("join dark-cap.b jack.sleeve metered\n", "");
    assert_eq!(found(&clipped).1.arrangement, None);
}

#[test]
fn two_volumes_that_silence_both_are_coupled() {
    let found = found(&two_volumes());
    assert_eq!(found.1.arrangement, Some(Arrangement::CoupledVolumes { knobs: [0, 1] }));
    assert_eq!(found.1.arrangement.as_ref().unwrap().window(), None);
}

#[test]
fn fixed_parts_make_voices() {
    // A choke and a capacitor in series across a coil behind a resistor take out what they resonate at:
    // 1/(2π √(1.5 H × 10 nF)) = 1299 Hz; the coil's own inductance leaves the bottom where it is.
    let notch = found(&with(
        "resistor r 47k\nchoke l 300 1H5\ncapacitor c 10n\njoin neck.hot r.a metered\njoin r.b jack.tip metered\n\
         join l.a jack.tip metered\njoin l.b c.a metered\njoin c.b jack.sleeve metered\n",
    ));
    let behaviours = of(&notch, 0);
    let found_voice = voice(&behaviours);
    assert_eq!(found_voice.what, VoiceWord::Notch);
    assert!((found_voice.at.unwrap().0 / 1299.0 - 1.0).abs() < 0.02, "{found_voice:?}");
    assert!(found_voice.parts.contains(&"l".to_owned()) && found_voice.parts.contains(&"c".to_owned()));
    // A capacitor in the lead cuts the lows: 1/(2π × 1 MΩ × 0.5 nF) = 318 Hz into the input alone.
    let bass = found(&with("capacitor c 500p\njoin neck.hot c.a metered\njoin c.b jack.tip metered\n"));
    let behaviours = of(&bass, 0);
    assert_eq!(voice(&behaviours).what, VoiceWord::BassCut, "{behaviours:?}");
    // A tone knob's own capacitor is no fixed voice.
    let tone = found(&with(
        "pot tone 250k\ncapacitor c 22n\njoin neck.hot jack.tip metered\njoin tone.3 jack.tip metered\njoin tone.2 c.a metered\n\
         join c.b jack.sleeve metered\n",
    ));
    let behaviours = of(&tone, 0);
    assert!(matches!(behaviours.as_slice(), [Behaviour::Tone { treble: true, .. }]), "{behaviours:?}");
}

#[test]
fn pairs_kills_and_straight_wires() {
    let two = |joins: &str| {
        format!(
            "coil a 6k 2H4 clockwise north\ncoil b 6k 2H4 clockwise north\npot volume 250k\njack jack\n\
             join volume.2 jack.tip metered\njoin volume.1 jack.sleeve metered\n{joins}"
        )
    };
    let series = found(&two(
        "join a.hot volume.3 metered\njoin a.ground b.hot metered\njoin b.ground volume.1 metered\n",
    ));
    assert_eq!(of(&series, 0), [Behaviour::SeriesDrive { coils: vec![0, 1] }]);
    let apart = found(&two(
        "join a.hot volume.3 metered\njoin a.ground volume.1 metered\njoin b.ground volume.3 metered\njoin b.hot volume.1 metered\n",
    ));
    assert_eq!(of(&apart, 0), [Behaviour::HalfTone { coils: vec![0, 1] }]);
    let dead = found(&two("join a.hot a.ground metered\njoin a.hot volume.3 metered\n"));
    assert_eq!(of(&dead, 0), [Behaviour::Kill]);
    let idle =
        found(&with("pot volume 250k\njoin neck.hot jack.tip metered\njoin volume.3 volume.2 metered\n"));
    assert_eq!(of(&idle, 0), [Behaviour::Straight]);
}

/// A cut lead that may go to the jack or nowhere: both cases are told.
#[test]
fn what_hangs_on_a_cut_lead_is_told_as_depending() {
    let found = found(&with(
        "capacitor dark 100n\njoin neck.hot jack.tip metered\njoin dark.a jack.tip or nothing unknown\njoin dark.b jack.sleeve metered\n",
    ));
    let Agreed::Depends(cases) = &found.1.groups[0] else { panic!("it depends") };
    assert_eq!(cases.len(), 2);
    assert_eq!(found.1.arrangement, None);
}
