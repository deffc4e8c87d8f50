//! Laws that hold in every network, on drawn circuits; and what a person can do wrong.

mod common;
#[path = "common/random.rs"]
mod random;

use asfound_electric::{
    Changes, Circuit, CircuitError, Join, JoinTo, Load, OnTheWay, Output, Plan, Prepared, Reading, Response,
    Setting, Sort, Terminal, Unsolvable, resistance,
};
use asfound_measure::{Farads, Hertz};
use common::*;
use proptest::prelude::*;
use random::drawn;

fn solved(circuit: &Circuit, setting: &Setting, load: Load, hertz: f64) -> Option<Response> {
    let mut prepared = Prepared::new(&only(circuit), setting, load, &Changes::default()).ok()?;
    prepared.at(Hertz(hertz)).ok().cloned()
}

/// Alike to rounding; 1e-9 leaves room for networks in which rounding is enlarged a million times.
fn alike(a: &Response, b: &Response) -> bool {
    let near =
        |a: asfound_electric::Complex, b: asfound_electric::Complex| (a - b).abs() <= 1e-9 * (b.abs() + 1e-3);
    near(a.impedance, b.impedance) && a.transfers.iter().zip(&b.transfers).all(|(&a, &b)| near(a, b))
}

fn rebuilt(circuit: &Circuit, parts: Vec<asfound_electric::Part>, joins: Vec<Join>) -> Circuit {
    Circuit::new(parts, joins).unwrap().with_couplings(circuit.couplings().to_vec()).unwrap()
}

proptest! {
    /// A network of passive parts gives out no more power than goes in, with or without a load.
    #[test]
    fn a_network_is_passive(seed in any::<u64>(), hertz in 1.0_f64..20e3) {
        let (circuit, setting) = drawn(seed);
        if let Some(response) = solved(&circuit, &setting, Load::none(), hertz) {
            prop_assert!(response.impedance.re >= -1e-9 * response.impedance.abs());
        }
    }

    #[test]
    fn the_order_and_the_number_of_joins_do_not_matter(seed in any::<u64>(), turn in 0_usize..40) {
        let (circuit, setting) = drawn(seed);
        let mut joins = circuit.joins().to_vec();
        let count = joins.len();
        joins.rotate_left(turn % count);
        joins.push(joins[turn % count].clone());
        joins.reverse();
        let again = rebuilt(&circuit, circuit.parts().to_vec(), joins);
        let load = load(5e-10, 1e6);
        let prepare = |circuit| Prepared::new(&only(circuit), &setting, load, &Changes::default()).unwrap();
        let (one, other) = (prepare(&circuit), prepare(&again));
        prop_assert_eq!(other.nets().idle_joins().len(), one.nets().idle_joins().len() + 1);
        for (part, lugs) in circuit.parts().iter().map(|part| part.lug_count()).enumerate() {
            for lug in 0..lugs {
                let terminal = Terminal { part, lug };
                prop_assert_eq!(one.nets().net(terminal), other.nets().net(terminal));
            }
        }
        prop_assert_eq!(solved(&circuit, &setting, load, 900.0), solved(&again, &setting, load, 900.0));
    }

    /// Reversing both leads of a coil turns its own transfer and leaves the rest.
    #[test]
    fn reversed_leads_turn_one_transfer(seed in any::<u64>()) {
        let (circuit, setting) = drawn(seed);
        let Some(before) = solved(&circuit, &setting, load(5e-10, 1e6), 1200.0) else { return Ok(()) };
        if !circuit.couplings().is_empty() {
            return Ok(()); // reversing one of a coupled pair turns the coupling too
        }
        let reversed = circuit.coils().next().map(|(part, _)| part).unwrap();
        let mut joins = circuit.joins().to_vec();
        for join in joins.iter_mut().filter(|join| join.a.part == reversed && join.a.lug < 2) {
            join.a.lug = 1 - join.a.lug;
        }
        let after = solved(&rebuilt(&circuit, circuit.parts().to_vec(), joins), &setting, load(5e-10, 1e6), 1200.0).unwrap();
        let mut wanted = before.clone();
        wanted.transfers[0] = -wanted.transfers[0];
        prop_assert!(alike(&after, &wanted), "{after:?} is not {wanted:?}");
    }

    /// Every resistance and inductance times s and every capacitance over s: impedances times s, transfers
    /// unchanged.
    #[test]
    fn impedance_scales(seed in any::<u64>(), factor in 0.01_f64..100.0) {
        let (circuit, setting) = drawn(seed);
        let before = solved(&circuit, &setting, load(5e-10, 1e6), 1200.0);
        let mut parts = circuit.parts().to_vec();
        for part in &mut parts {
            match &mut part.sort {
                Sort::Coil(coil) => {
                    coil.resistance = coil.resistance * factor;
                    coil.inductance = coil.inductance * factor;
                    coil.capacitance = coil.capacitance * (1.0 / factor);
                    if let Some(eddy) = &mut coil.eddy {
                        (eddy.inductance, eddy.loss) = (eddy.inductance * factor, eddy.loss * factor);
                    }
                }
                Sort::Pot(pot) => pot.track = pot.track * factor,
                Sort::Capacitor(farads) => *farads = *farads * (1.0 / factor),
                Sort::Resistor(ohms) => *ohms = *ohms * factor,
                Sort::Choke { resistance, inductance } => {
                    (*resistance, *inductance) = (*resistance * factor, *inductance * factor);
                }
                _ => {}
            }
        }
        let again = rebuilt(&circuit, parts, circuit.joins().to_vec());
        let after = solved(&again, &setting, load(5e-10 / factor, 1e6 * factor), 1200.0);
        prop_assert_eq!(before.is_some(), after.is_some());
        if let (Some(before), Some(mut after)) = (before, after) {
            after.impedance = after.impedance * (1.0 / factor);
            prop_assert!(alike(&after, &before), "{after:?} is not {before:?}");
        }
    }

    /// What hangs on the jack acts as a divider with what the instrument is without it.
    #[test]
    fn a_load_divides(seed in any::<u64>(), farads in 1e-11_f64..2e-9) {
        let (circuit, setting) = drawn(seed);
        let Some(alone) = solved(&circuit, &setting, Load::none(), 1500.0) else { return Ok(()) };
        let loaded = solved(&circuit, &setting, load(farads, 1e6), 1500.0).unwrap();
        let near = |a: asfound_electric::Complex, b: asfound_electric::Complex| (a - b).abs() <= 1e-8 * (b.abs() + 1e-6);
        // Subtracting a load that outweighs the instrument costs the digits by which it does.
        if alone.impedance.abs() < 1e4 * loaded.impedance.abs() {
            prop_assert!(near(loaded.source_impedance(), alone.impedance));
        }
        let share = loaded.impedance / alone.impedance;
        for (&loaded, &alone) in loaded.transfers.iter().zip(&alone.transfers) {
            prop_assert!(near(loaded, alone * share));
        }
    }

    /// A coil that no path from tip to sleeve runs through is silent; removing it changes nothing.
    #[test]
    fn what_is_on_no_path_does_not_matter(seed in any::<u64>()) {
        let (circuit, setting) = drawn(seed);
        let wired = only(&circuit);
        let given = load(5e-10, 1e6);
        let prepared = Prepared::new(&wired, &setting, given, &Changes::default()).unwrap();
        if prepared.output() != Output::Live || !circuit.couplings().is_empty() {
            return Ok(());
        }
        let before = solved(&circuit, &setting, given, 800.0).unwrap();
        for (number, (part, _)) in circuit.coils().enumerate().filter(|(_, (part, _))| !prepared.on_path(*part)) {
            prop_assert_eq!(before.transfers[number].abs(), 0.0);
            let mut without = Prepared::new(&wired, &setting, given, &Changes::open(part)).unwrap();
            prop_assert_eq!(without.at(Hertz(800.0)).unwrap(), &before);
        }
    }
}

/// Two alike in parallel are one of half the resistance and inductance and twice the capacitance, with the
/// same EMF.
#[test]
fn two_equal_coils_in_parallel_are_one() {
    let two = vec![coil("A", 6e3, 2.4, 1e-10), coil("B", 6e3, 2.4, 1e-10), jack()];
    let one = vec![coil("A", 3e3, 1.2, 2e-10), jack()];
    let first = "A.hot - jack.tip, A.ground - jack.sleeve";
    let two = circuit(two, &format!("{first}, B.hot - jack.tip, B.ground - jack.sleeve"));
    let one = circuit(one, first);
    for hertz in [10.0, 1000.0, 9000.0] {
        let two = answer(&mut prepared(&two, load(5e-10, 1e6)), hertz);
        let one = answer(&mut prepared(&one, load(5e-10, 1e6)), hertz);
        assert!((two.transfers[0] + two.transfers[1] - one.transfers[0]).abs() < 1e-13);
        assert!((two.impedance - one.impedance).abs() < 1e-12 * one.impedance.abs());
    }
}

/// Series and parallel inductance of coupled coils, by the textbook forms L1 + L2 + 2M and (L1 L2 - M²)/(L1 +
/// L2 - 2M), worked by hand to six decimals; taken at a frequency where resistance does not show.
#[test]
fn coupled_coils_add_their_mutual_inductance() {
    let values = [
        (0.0, 5.0, 1.248),
        (0.05, 5.249_800, 1.310_345),
        (-0.05, 4.750_200, 1.185_645),
        (0.2, 5.999_200, 1.497_300),
    ];
    for (factor, series, parallel) in values {
        let inductance = |joins: &str| {
            let parts = vec![coil("A", 1e-3, 2.4, 0.0), coil("B", 1e-3, 2.6, 0.0), jack()];
            let pair = asfound_electric::Coupling { a: 0, b: 1, factor };
            let circuit = circuit(parts, joins).with_couplings(vec![pair]).unwrap();
            let response = answer(&mut prepared(&circuit, Load::none()), 1000.0);
            response.impedance.im / (std::f64::consts::TAU * 1000.0)
        };
        let found = inductance("A.hot - jack.tip, A.ground - B.hot, B.ground - jack.sleeve");
        assert!((found - series).abs() < 1e-6, "{found}, not {series}");
        let found =
            inductance("A.hot - jack.tip, B.hot - jack.tip, A.ground - jack.sleeve, B.ground - jack.sleeve");
        assert!((found - parallel).abs() < 1e-6, "{found}, not {parallel}");
    }
}

/// A coupled coil whose loop is closed elsewhere reaches the jack through the air.
#[test]
fn a_coupled_coil_reaches_the_jack_without_a_wire() {
    let parts = vec![coil("A", 6e3, 2.4, 1e-10), coil("B", 6e3, 2.4, 0.0), resistor("far", 10e3), jack()];
    let joins = "A.hot - jack.tip, A.ground - jack.sleeve, B.hot - far.a, B.ground - far.b";
    let pair = asfound_electric::Coupling { a: 0, b: 1, factor: 0.3 };
    let circuit = circuit(parts, joins).with_couplings(vec![pair]).unwrap();
    let mut state = prepared(&circuit, load(5e-10, 1e6));
    assert!(
        !state.on_path(1) && state.island(lug(&circuit, "B.hot")) != state.island(lug(&circuit, "A.hot"))
    );
    assert!(answer(&mut state, 1000.0).transfers[1].abs() > 0.05);
    let mut opened =
        Prepared::new(&only(&circuit), &Setting::first(&circuit), Load::none(), &Changes::open(2)).unwrap();
    assert!(opened.at(Hertz(1000.0)).unwrap().transfers[1].abs() < 1e-12);
}

fn simple() -> Circuit {
    circuit(
        vec![
            coil("A", 6e3, 2.4, 1e-10),
            coil("B", 6e3, 2.4, 1e-10),
            pot("vol", 250e3),
            switch("s", Plan::two_pole_slide()),
            jack(),
        ],
        "A.hot - vol.3, A.ground - vol.1, B.hot - s.1, s.2 - vol.3, B.ground - vol.1, vol.2 - jack.tip, vol.1 - jack.sleeve",
    )
}

#[test]
fn findings_are_no_errors() {
    let circuit = simple();
    let wired = only(&circuit);
    let prepare = |wiper: f64, changes: &Changes| {
        let setting = Setting { wipers: vec![wiper], ..Setting::first(&circuit) };
        Prepared::new(&wired, &setting, Load::none(), changes).unwrap()
    };
    let mut shorted = prepare(0.0, &Changes::default());
    assert_eq!(
        (shorted.output(), shorted.at(Hertz(1.0)).unwrap_err()),
        (Output::Shorted, Unsolvable::Shorted)
    );
    assert_eq!(shorted.nets().members(shorted.nets().net(lug(&circuit, "jack.tip"))).len(), 6);

    let tip_lead = 5;
    let mut open = prepare(1.0, &Changes::without_join(tip_lead));
    assert_eq!((open.output(), open.at(Hertz(1.0)).unwrap_err()), (Output::Open, Unsolvable::Open));

    let mut coil_shorted = prepare(0.5, &Changes::short(0));
    assert!(coil_shorted.nets().same(lug(&circuit, "A.hot"), lug(&circuit, "A.ground")));
    assert_eq!(coil_shorted.at(Hertz(500.0)).unwrap().transfers.iter().filter(|h| h.abs() > 0.0).count(), 0);

    let bridged = prepare(1.0, &Changes::bridge(lug(&circuit, "B.hot"), lug(&circuit, "B.ground")));
    assert_eq!(bridged.output(), Output::Shorted);

    let mut opened = prepare(1.0, &Changes::open(0));
    let response = opened.at(Hertz(500.0)).unwrap();
    assert!(response.transfers[0].abs() == 0.0 && response.transfers[1].abs() > 0.9);
}

#[test]
fn between_two_stops_both_neighbours_or_neither_touch() {
    let circuit = simple();
    let on_the_way = |both_touch| Setting {
        on_the_way: Some(OnTheWay { switch: 0, both_touch }),
        ..Setting::first(&circuit)
    };
    let state = |setting: &Setting| {
        let prepared = Prepared::new(&only(&circuit), setting, Load::none(), &Changes::default()).unwrap();
        [("s.2", "s.1"), ("s.2", "s.3")]
            .map(|(a, b)| prepared.nets().same(lug(&circuit, a), lug(&circuit, b)))
    };
    assert_eq!(state(&Setting::first(&circuit)), [true, false]);
    assert_eq!(state(&on_the_way(true)), [true, true]);
    assert_eq!(state(&on_the_way(false)), [false, false]);
}

#[test]
fn a_setting_that_does_not_fit_is_told_with_its_remedy() {
    let circuit = simple();
    let wired = only(&circuit);
    let first = Setting::first(&circuit);
    let tell = |setting: Setting, changes: Changes| {
        Prepared::new(&wired, &setting, Load::none(), &changes).unwrap_err().to_string()
    };
    let none = Changes::default;
    let told = [
        tell(Setting { positions: vec![], ..first.clone() }, none()),
        tell(Setting { positions: vec![2], ..first.clone() }, none()),
        tell(Setting { wipers: vec![1.5], ..first.clone() }, none()),
        tell(Setting { wipers: vec![f64::NAN], ..first.clone() }, none()),
        tell(Setting { wipers: vec![], ..first.clone() }, none()),
        tell(
            Setting {
                positions: vec![1],
                on_the_way: Some(OnTheWay { switch: 0, both_touch: true }),
                ..first.clone()
            },
            none(),
        ),
        tell(first.clone(), Changes::open(99)),
        tell(first.clone(), Changes::without_join(7)),
        tell(first.clone(), Changes::bridge(Terminal { part: 0, lug: 2 }, Terminal { part: 0, lug: 0 })),
    ];
    assert_eq!(
        told,
        [
            "the number of switch positions given is 0; the circuit has 1 switches",
            "a switch is set to position 2; that switch has 2 positions, counted from 0",
            "a knob is turned to 1.5; a turn lies between 0 and 1",
            "a knob is turned to NaN; a turn lies between 0 and 1",
            "the number of knobs given is 0; the circuit has 1 pots",
            "a switch is on its way: number 0; there is no such switch, or no position after the one it leaves",
            "the experiment names part number 99; the circuit has 5, counted from 0",
            "the experiment names join number 7; the circuit has 7, counted from 0",
            "the experiment names lug number 2; the circuit has 2, counted from 0",
        ]
    );
    for hertz in [0.0, -50.0, f64::NAN, f64::INFINITY] {
        let refused = prepared(&circuit, Load::none()).at(Hertz(hertz)).unwrap_err();
        assert!(matches!(refused, Unsolvable::Frequency { .. }), "{refused}");
    }
}

#[test]
fn wrong_parts_and_joins_are_all_told() {
    let lug = |part, lug| Terminal { part, lug };
    let join = |a, to| Join { a, to, known: asfound_electric::Known::Unknown };
    let parts = vec![coil("A", -1.0, 2.0, 1e-10), resistor("a", f64::NAN), pot("vol", 0.0), jack()];
    let joins = vec![
        join(lug(0, 2), JoinTo::One(lug(9, 0))),
        join(lug(0, 0), JoinTo::Candidates { terminals: vec![], or_nothing: true }),
    ];
    let told: Vec<String> =
        Circuit::new(parts, joins).unwrap_err().iter().map(CircuitError::to_string).collect();
    assert_eq!(
        told,
        [
            "`A` has resistance -1; it must be a number of 0 or more",
            "two parts are called `a`; give each part a name of its own",
            "`a` has resistance NaN; it must be a number of 0 or more",
            "`vol` has track 0; it must be a number above 0",
            "join number 0 points at part 0, lug 2, which does not exist; both count from 0",
            "join number 0 points at part 9, lug 0, which does not exist; both count from 0",
            "join number 1 lists no lug it may go to; name at least one",
        ]
    );
    let told = simple().terminal("vol.4").unwrap_err().to_string();
    assert_eq!(told, "no lug is called `vol.4`; near it are `vol.1`, `vol.2`, `vol.3`");
    let told = simple().terminal("nothing like it at all").unwrap_err().to_string();
    assert_eq!(told, "no lug is called `nothing like it at all`; a lug is written PART.LUG");
    assert_eq!(simple().terminal(" VOL.Case ").unwrap(), lug(2, 3));
}

#[test]
fn parts_without_resistance_are_joins_where_they_are() {
    let parts = vec![choke("ch", 0.0, 1.0), capacitor("c", 1e-9), resistor("link", 0.0), jack()];
    let circuit =
        circuit(parts, "jack.tip - link.a, link.b - ch.a, ch.b - jack.sleeve, c.a - ch.a, c.b - ch.b");
    let wired = only(&circuit);
    let (tip, sleeve) = (lug(&circuit, "jack.tip"), lug(&circuit, "jack.sleeve"));
    let direct = resistance(&wired, &Setting::first(&circuit), &Changes::default(), tip, sleeve).unwrap();
    assert_eq!(direct.reading, Reading::Shorted);
    // Without the choke the capacitor blocks.
    let direct = resistance(&wired, &Setting::first(&circuit), &Changes::open(0), tip, sleeve).unwrap();
    assert_eq!(direct.reading, Reading::Open);
    let mut state = prepared(&circuit, Load::none());
    let omega = std::f64::consts::TAU * 100.0;
    let wanted = omega / (1.0 - omega * omega * 1e-9);
    assert!((answer(&mut state, 100.0).impedance.im - wanted).abs() < 1e-9 * wanted);
}

#[test]
fn ten_thousand_parts_are_taken_and_too_many_nets_are_refused_in_words() {
    let chain = |count: usize| {
        let mut parts = vec![jack()];
        parts.extend((0..count).map(|number| resistor(&format!("r{number}"), 1e3)));
        let lug = |part, lug| Terminal { part, lug };
        let join = |a, b| Join { a, to: JoinTo::One(b), known: asfound_electric::Known::Unknown };
        let mut joins = vec![join(lug(0, 0), lug(1, 0)), join(lug(count, 1), lug(0, 1))];
        joins.extend((1..count).map(|part| join(lug(part, 1), lug(part + 1, 0))));
        Circuit::new(parts, joins).unwrap()
    };
    let refused = Prepared::new(
        &only(&chain(10_000)),
        &Setting::first(&chain(10_000)),
        Load::none(),
        &Changes::default(),
    );
    assert_eq!(refused.unwrap_err(), Unsolvable::TooLarge { nets: 10_000, most: 1000 });
    let circuit = chain(100);
    let response = answer(&mut prepared(&circuit, Load { capacitance: Farads(0.0), resistance: None }), 50.0);
    assert!((response.impedance.abs() - 100e3).abs() < 1e-6);
}

#[test]
fn a_circuit_without_a_jack_has_no_output() {
    let circuit = circuit(vec![coil("A", 6e3, 2.4, 1e-10)], "");
    let refused =
        Prepared::new(&only(&circuit), &Setting::first(&circuit), Load::none(), &Changes::default());
    assert_eq!(refused.unwrap_err(), Unsolvable::NoJack);
}

#[test]
fn what_is_not_known_is_gone_through_in_a_stable_order() {
    let parts = vec![coil("A", 6e3, 2.4, 1e-10), pot("vol", 250e3), jack()];
    let circuit =
        circuit(parts, "A.hot - vol.2 | vol.3 | nothing, A.ground - vol.1, vol.case - vol.1 | jack.sleeve");
    assert_eq!(circuit.possibility_count(), 6);
    let name = |end: &Option<Terminal>| end.map_or("nothing".to_owned(), |end| circuit.name_of(end));
    let ways: Vec<String> = circuit
        .possibilities()
        .map(|wired| wired.choices().iter().map(name).collect::<Vec<_>>().join(" "))
        .collect();
    let wanted = [
        "vol.2 vol.1",
        "vol.2 jack.sleeve",
        "vol.3 vol.1",
        "vol.3 jack.sleeve",
        "nothing vol.1",
        "nothing jack.sleeve",
    ];
    assert_eq!(ways, wanted);
}

/// The nodal form forms a small conductance beside a large one, so a thousandth of an ohm in a circuit of
/// megohms costs digits: eight of sixteen, which leaves far more than any meter shows.
#[test]
fn a_thousandth_of_an_ohm_is_as_good_as_a_join() {
    let build = |ohms: f64| {
        let parts = vec![coil("A", 6e3, 2.4, 1e-10), pot("vol", 250e3), resistor("lead", ohms), jack()];
        circuit(
            parts,
            "A.hot - vol.3, A.ground - vol.1, vol.2 - lead.a, lead.b - jack.tip, vol.1 - jack.sleeve",
        )
    };
    let (join, lead) = (build(0.0), build(1e-3));
    for hertz in [1.0, 1000.0, 10_000.0] {
        let join = answer(&mut prepared(&join, load(5e-10, 1e6)), hertz);
        let lead = answer(&mut prepared(&lead, load(5e-10, 1e6)), hertz);
        assert!((join.transfers[0] - lead.transfers[0]).abs() < 1e-6 * join.transfers[0].abs());
        assert!((join.impedance - lead.impedance).abs() < 1e-6 * join.impedance.abs());
    }
}

/// A broken coil is its capacitance and nothing else: it carries no direct current and gives no EMF.
#[test]
fn an_open_coil_is_a_capacitor() {
    let joins = "A.hot - jack.tip, A.GROUND - B.hot, B.ground - jack.sleeve";
    let mut broken = coil("A", 7e3, 3.0, 1.3e-10);
    if let Sort::Coil(coil) = &mut broken.sort {
        coil.open = true;
    }
    let whole = || coil("B", 6e3, 2.4, 1e-10);
    let with_coil = circuit(vec![broken, whole(), jack()], &joins.replace("GROUND", "ground"));
    let with_capacitor = circuit(
        vec![capacitor("A", 1.3e-10), whole(), jack()],
        &joins.replace("A.hot", "A.a").replace("A.GROUND", "A.b"),
    );
    for hertz in [100.0, 1000.0, 10_000.0] {
        let coil = answer(&mut prepared(&with_coil, load(5e-10, 1e6)), hertz);
        let capacitor = answer(&mut prepared(&with_capacitor, load(5e-10, 1e6)), hertz);
        assert_eq!(coil.transfers[0], asfound_electric::Complex::ZERO);
        assert_eq!((coil.transfers[1], coil.impedance), (capacitor.transfers[0], capacitor.impedance));
    }
    let wired = only(&with_coil);
    let (hot, ground) = (lug(&with_coil, "A.hot"), lug(&with_coil, "A.ground"));
    let meter = resistance(&wired, &Setting::first(&with_coil), &Changes::default(), hot, ground).unwrap();
    assert_eq!(meter.reading, Reading::Open);
}
