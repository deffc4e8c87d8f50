//! What is heard and metered as evidence about the traced circuit.

mod common;

use asfound_electric::jack::Shown;
use asfound_study::faults::{FaultsTold, Heard, Left, Reach, Weighed, WhyUnplaced, study};
use asfound_study::material::Material;
use asfound_study::record::{Amount1, Body, Probing1, Quantity1};
use common::{Ledger, workshop};
use std::sync::Arc;

/// The tone's wiper leads to its capacitor and lug 3 to the sound: full up is the wiper at lug 1.
const CIRCUIT: &str = "
coil neck 5k7 2H4 covered
coil middle 5k8 2H4
coil bridge 6k3 2H8
pot volume 250k
pot tone 250k
capacitor ct 47n
switch lever five-way lever
jack jack
metal strings
join bridge.hot lever.a1 seen
join middle.hot lever.a2 seen
join neck.hot lever.a3 seen
join lever.a0 volume.3 seen
join volume.3 tone.3 seen
join tone.2 ct.a seen
join ct.b volume.1 seen
join volume.2 jack.tip seen
join volume.1 jack.sleeve seen
join strings volume.1 seen
join neck.ground volume.1 seen
join neck.cover volume.1 seen
join middle.ground volume.1 seen
join bridge.ground volume.1 seen
";

fn weighed(lines: &str) -> Arc<Weighed> {
    let material = Material::of(Ledger::with(&format!("{CIRCUIT}{lines}")).job, workshop().job);
    match study(&material).told {
        FaultsTold::Weighed(weighed) | FaultsTold::NothingToWeigh(weighed) => weighed,
        other => panic!("{lines}: {other:?}"),
    }
}

fn heard(lines: &str) -> Vec<Heard> {
    weighed(lines).heard.iter().map(|it| it.heard.clone()).collect()
}

fn left(lines: &str) -> Vec<Left> {
    weighed(lines).left.iter().map(|(_, why)| why.clone()).collect()
}

#[test]
fn positions_and_coils_become_settings_with_the_knobs_full_up() {
    for words in ["position 2 thin", "bridge and middle thin", "lever 2 thin"] {
        let told = heard(&format!("heard {words}"));
        let [Heard::Thin { setting, .. }] = told.as_slice() else { panic!("{words}: {told:?}") };
        assert_eq!(
            (setting.positions.as_slice(), setting.wipers.as_slice()),
            (&[1][..], &[1.0, 0.0][..]),
            "{words}"
        );
    }
    let told = heard("heard volume at zero, neck silent");
    assert!(matches!(&told[0], Heard::Silent { setting } if setting.positions == [4]), "{told:?}");
    assert_eq!(heard("heard always dark").len(), 5);
    assert_eq!(heard("heard each sounds right alone").len(), 3);
    assert_eq!(heard("heard positions 2 and 4 weak").len(), 2);
}

/// A knob at zero is at the other end than full up, whichever lug that is.
#[test]
fn a_knob_at_zero_is_at_its_shut_end() {
    let told = heard("heard tone at zero kills it");
    assert!(told.iter().all(|it| matches!(it, Heard::KnobSilences { turn: 1.0, .. })), "{told:?}");
    let told = heard("heard in position 1 volume at zero kills it");
    assert!(matches!(told.as_slice(), [Heard::KnobSilences { turn: 0.0, .. }]), "{told:?}");
}

#[test]
fn coils_that_sound_alone_nowhere_and_only_one_that_sounds() {
    let told = heard("heard only bridge sounds");
    assert_eq!(told.iter().filter(|it| matches!(it, Heard::CoilMissing { .. })).count(), 2, "{told:?}");
    let told = heard("heard position 2 gives bridge");
    assert_eq!(told.len(), 3, "one is heard and two are not: {told:?}");
    let told = heard("heard cuts out when a string touches the neck cover");
    assert!(matches!(told.as_slice(), [Heard::CutsOutOnCover { coil: 0, .. }]), "{told:?}");
    let told = heard("heard lifting the tone control's input restores the treble");
    assert_eq!(told.len(), 5, "{told:?}");
}

#[test]
fn what_does_not_fit_the_circuit_is_left_with_the_reason() {
    assert_eq!(left("heard position 7 thin"), [Left::NoSuchPosition("7".into())]);
    assert_eq!(left("heard neck and bridge thin"), [Left::NoSuchState(vec!["neck".into(), "bridge".into()])]);
    assert_eq!(
        left("heard cuts out when a string touches the bridge cover"),
        [Left::NoCover("bridge".into())]
    );
    assert_eq!(left("heard crackles when the lead is moved"), [Left::TheLead]);
    assert_eq!(left("heard both knobs work"), [Left::TellsNothing]);
}

#[test]
fn the_plug_alone_is_within_reach_until_something_was_opened() {
    let jack = "part jack, jack, side\njack 6.15k lever 1, volume full\n";
    assert_eq!(weighed(jack).reach, Reach::JackOnly);
    assert_eq!(weighed(jack).metered.len(), 1);
    assert_eq!(weighed(&format!("{jack}did piece: guard lifted")).reach, Reach::Everything);
    assert_eq!(weighed("heard always dark").reach, Reach::Everything);
}

#[test]
fn the_same_question_is_answered_once_and_a_new_word_asks_anew() {
    let mut ledger = Ledger::with(&format!("{CIRCUIT}heard always dark"));
    let mut material = Material::of(ledger.job.clone(), workshop().job);
    let first = study(&material);
    let again = study(&material);
    let (FaultsTold::Weighed(first), FaultsTold::Weighed(again)) = (first.told, again.told) else { panic!() };
    assert!(Arc::ptr_eq(&first, &again));
    ledger.say("heard volume scratches");
    material.job = Arc::new(ledger.job.clone());
    let FaultsTold::Weighed(other) = study(&material).told else { panic!() };
    assert!(!Arc::ptr_eq(&first, &other));
}

#[test]
fn without_a_circuit_what_is_heard_is_read_all_the_same() {
    let material = Material::of(Ledger::with("heard position 2 thin").job, workshop().job);
    let studied = study(&material);
    assert!(matches!(studied.told, FaultsTold::NothingTraced));
    assert_eq!(studied.complaints.len(), 1);
    let material = Material::of(Ledger::with("join a.1 b.2 seen\nheard neck silent").job, workshop().job);
    assert!(matches!(study(&material).told, FaultsTold::TraceNotYet));
}

#[test]
fn probings_are_set_in_the_circuit_or_said_to_be_unplaced() {
    let mut ledger = Ledger::with(CIRCUIT);
    for (from, to, stood, text, unit) in [
        ("strings", "jack.sleeve", None, "over 20M", "MOhm"),
        ("volume.9", "jack.sleeve", None, "0.4", "Ohm"),
        ("neck.hot", "jack.tip", None, "0.4", "Ohm"),
        ("neck.hot", "jack.tip", Some("lever 5, volume full"), "0.4", "Ohm"),
    ] {
        let amount = match text.strip_prefix("over ") {
            Some(_) => Amount1::Over { decimal: "20".to_owned() },
            None => Amount1::Exactly { decimal: text.to_owned() },
        };
        let shown = Quantity1 { text: text.to_owned(), amount, unit: unit.to_owned() };
        ledger.keep(&Body::Probing(Probing1 {
            from: from.to_owned(),
            to: to.to_owned(),
            stood: stood.map(str::to_owned),
            quantity: "resistance".to_owned(),
            shown,
            meter: None,
            range: None,
            temperature: None,
            method: None,
            happened: None,
        }));
    }
    let material = Material::of(ledger.job, workshop().job);
    let FaultsTold::Weighed(weighed) = study(&material).told else { panic!() };
    assert_eq!(weighed.metered.len(), 2, "{:?} {:?}", weighed.metered, weighed.unplaced);
    assert_eq!(weighed.metered[0].text, "strings to jack.sleeve over 20M");
    assert!(matches!(weighed.metered[0].metered.shown, Shown::Over(bound) if bound.0 == 20e6));
    assert_eq!(weighed.metered[1].metered.probed.setting.positions, [4]);
    let why: Vec<_> = weighed.unplaced.iter().map(|it| &it.why).collect();
    assert!(matches!(why[0], WhyUnplaced::NoSuchLug { read, .. } if read == "volume.9"), "{why:?}");
    assert_eq!(why[1], &WhyUnplaced::SwitchNotSaid);
}
