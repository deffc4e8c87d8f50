//! Three circuits with switches in every state, against an independent nodal solution that a general circuit
//! simulator confirms to 5e-13. The arrangement of the first is common practice; the other two are invented.
//!
//! Tolerance: the tables print |H| to five decimals, degrees and ohms to one, so 1e-5, 0.1 degree and 0.06
//! ohm; the angle of a transfer below 0.001 is not compared, because its printed digits do not hold it.

mod common;
#[path = "common/switch_states.rs"]
mod switch_states;

use asfound_electric::{Changes, Circuit, Output, Plan, Prepared, Reading, Setting, Sign, Wired, resistance};
use common::*;
use switch_states::State;

fn check_states(wired: &Wired, wipers: &[f64], states: &[State]) {
    let circuit = wired.circuit();
    assert_eq!(Setting::count(circuit), states.len() as u128);
    for (setting, (name, ohms, coils)) in Setting::every_position(circuit).zip(states) {
        let setting = Setting { wipers: wipers.to_vec(), ..setting };
        assert_eq!(&positions(circuit, &setting), name);
        let changes = Changes::default();
        let meter =
            resistance(wired, &setting, &changes, lug(circuit, "jack.tip"), lug(circuit, "jack.sleeve"))
                .unwrap();
        let Reading::Ohms(reading) = meter.reading else { panic!("{name}: {:?}", meter.reading) };
        assert!((reading.0 - ohms).abs() < 0.06, "{name}: {} ohm, not {ohms}", reading.0);
        let shares: f64 = meter.shares.iter().map(|(_, share)| share.0).sum();
        assert!((shares / reading.0 - 1.0).abs() < 1e-9, "{name}: the shares add up to {shares}");

        let mut prepared = Prepared::new(wired, &setting, load(500e-12, 1e6), &changes).unwrap();
        assert_eq!(prepared.output(), Output::Live);
        for (at, hertz) in [100.0, 1000.0, 3000.0, 8000.0].into_iter().enumerate() {
            let response = answer(&mut prepared, hertz);
            assert_eq!(response.transfers.len(), coils.len());
            for (transfer, wanted) in response.transfers.iter().zip(*coils) {
                let (size, angle) = wanted[at];
                let place = format!("{name} at {hertz} Hz: {transfer:?}, not {size} at {angle} degrees");
                assert!((transfer.abs() - size).abs() < 1e-5, "{place}");
                assert!(size <= 0.001 || angle_apart(degrees(*transfer), angle) < 0.1, "{place}");
                assert!(
                    size > 0.0 || transfer.abs() == 0.0,
                    "a coil that no path runs through is exactly silent: {place}"
                );
            }
        }
    }
}

fn positions(circuit: &Circuit, setting: &Setting) -> String {
    let names = circuit.switches().zip(&setting.positions);
    let names: Vec<&str> = names.map(|((_, plan), &at)| plan.positions()[at].name.as_str()).collect();
    names.join(" ").replace("pushed", "up").replace("pulled", "down")
}

#[test]
fn five_way_lever_with_three_coils() {
    let parts = vec![
        coil("N", 5700.0, 2.3, 1.05e-10),
        coil("M", 5800.0, 2.35, 1.08e-10),
        coil("B", 6300.0, 2.55, 1.15e-10),
        pot("vol", 250e3),
        pot("tone1", 250e3),
        pot("tone2", 250e3),
        capacitor("ct", 2.2e-8),
        switch("lever", Plan::lever_five_two_pole()),
        jack(),
    ];
    let circuit = circuit(
        parts,
        "B.hot - lever.a1, M.hot - lever.a2, N.hot - lever.a3, lever.a0 - lever.b0, lever.b2 - tone2.3, lever.b3 - tone1.3,
         tone1.2 - ct.a, tone2.2 - ct.a, ct.b - vol.1, lever.a0 - vol.3, vol.2 - jack.tip, vol.1 - jack.sleeve,
         N.ground - vol.1, M.ground - vol.1, B.ground - vol.1",
    );
    check_states(&only(&circuit), &[1.0, 0.0, 0.0], switch_states::FIVE_WAY_LEVER);
}

#[test]
fn four_slides_with_two_coils() {
    let slide = |name| switch(name, Plan::two_pole_slide());
    let parts = vec![
        coil("N", 6310.0, 2.6, 1.2e-10),
        coil("B", 6900.0, 2.9, 1.25e-10),
        capacitor("cb", 4.7e-9),
        resistor("rb", 220e3),
        pot("vol", 250e3),
        slide("s1"),
        slide("s2"),
        slide("s3"),
        slide("s4"),
        asfound_electric::Part::new("bus", asfound_electric::Sort::Post { lugs: 1 }),
        jack(),
    ];
    let circuit = circuit(
        parts,
        "N.hot - s1.2, s1.1 - bus.1, B.hot - s2.1, B.ground - s2.4, s2.1 - s2.6, s2.4 - s2.3, s2.2 - s3.2, s3.1 - bus.1,
         s3.3 - N.ground, s3.5 - N.ground, s3.4 - vol.1, s2.5 - vol.1, bus.1 - cb.a, bus.1 - rb.a, cb.b - vol.3,
         rb.b - vol.3, bus.1 - s4.2, s4.1 - vol.3, vol.2 - jack.tip, vol.1 - jack.sleeve",
    );
    check_states(&only(&circuit), &[1.0], switch_states::FOUR_SLIDES);
}

#[test]
fn bass_with_a_cut_lead_in_both_ways_it_may_have_gone() {
    let parts = vec![
        coil("N", 7200.0, 3.4, 1.3e-10),
        signed_coil("B", 4900.0, 1.9, 9.5e-11, Sign::Minus),
        choke("ch", 420.0, 1.5),
        capacitor("c1", 4.7e-8),
        capacitor("c2", 2.2e-9),
        pot("vol", 500e3),
        pot("tone", 250e3),
        capacitor("ct", 4.7e-8),
        switch("rot", Plan::named("four-way rotary").expect("it is in the library")),
        switch("pp", Plan::push_pull()),
        jack(),
    ];
    let circuit = circuit(
        parts,
        "N.hot - rot.a1, N.hot - pp.2, pp.1 - rot.a2, B.hot - rot.a2, N.hot - ch.a, ch.b - rot.a3 | vol.3, ch.b - c1.a,
         c1.b - vol.1, B.hot - c2.a, c2.b - rot.a4, rot.a0 - vol.3, vol.3 - tone.3, tone.2 - ct.a, ct.b - vol.1,
         vol.2 - jack.tip, vol.1 - jack.sleeve, N.ground - vol.1, B.ground - vol.1",
    );
    assert_eq!(circuit.possibility_count(), 2);
    let tables = [switch_states::BASS_STUB_AT_ROTARY, switch_states::BASS_STUB_AT_VOLUME];
    for (wired, table) in circuit.possibilities().zip(tables) {
        check_states(&wired, &[1.0, 0.0], table);
    }
}

/// The same bits on every machine: `libm` and our own complex numbers only. A changed figure here is a
/// changed answer somewhere, even where no tolerance shows it.
#[test]
fn the_bits_of_one_answer_are_kept() {
    let parts = vec![coil("A", 6e3, 2.4, 110e-12), coil("B", 6.4e3, 2.6, 120e-12), pot("vol", 250e3), jack()];
    let circuit = circuit(
        parts,
        "A.hot - vol.3, A.ground - B.hot, B.ground - vol.1, vol.2 - jack.tip, vol.1 - jack.sleeve",
    );
    let setting = Setting { wipers: vec![0.7], ..Setting::first(&circuit) };
    let mut prepared =
        Prepared::new(&only(&circuit), &setting, load(500e-12, 1e6), &Changes::default()).unwrap();
    let response = answer(&mut prepared, 2000.0);
    let bits = [response.transfers[0], response.transfers[1], response.impedance]
        .map(|number| [number.re.to_bits(), number.im.to_bits()]);
    let kept = [
        [0x3fe0_5f16_78ed_9643, 0xbfdc_2185_73bf_f22e],
        [0x3fe0_7b01_bdae_1964, 0xbfdc_6778_0dd7_2bd4],
        [0x40f1_5ff0_ca00_b3e7, 0xc0b1_8e7c_f0ae_eda5],
    ];
    assert_eq!(bits, kept, "{bits:#x?}");
}
