//! A trace held against the meter: readings expected, sheets that show every slip, readings judged.

use asfound_electric::probing::{
    Judged, Options, Probed, ProbingError, Proof, Slip, Span, Survey, Taken, Tolerances, WhyUnseen, expected,
};
use asfound_electric::trace::Trace;
use asfound_electric::{Changes, Circuit, Join, JoinTo, Known, Reading, Setting, Sort, Terminal, resistance};
use asfound_measure::Ohms;
use proptest::prelude::*;

fn circuit(text: &str) -> Circuit {
    Trace::read(text).unwrap().circuit().unwrap()
}

fn at(circuit: &Circuit, from: &str, to: &str, positions: &[usize], wipers: &[f64]) -> Probed {
    Probed {
        from: circuit.terminal(from).unwrap(),
        to: circuit.terminal(to).unwrap(),
        setting: Setting { positions: positions.to_vec(), on_the_way: None, wipers: wipers.to_vec() },
    }
}

fn nominal(circuit: &Circuit, probed: &Probed) -> Reading {
    let wired = circuit.possibilities().next().unwrap();
    expected(&wired, probed, &Tolerances::default(), &Changes::default()).unwrap().reading
}

fn shown(least: f64, most: f64) -> Span {
    Span { least: Ohms(least), most: Ohms(most) }
}

/// What a meter without error shows, as it would be put down: within half a per cent.
fn as_metered(circuit: &Circuit, probed: &Probed) -> Taken {
    let span = match nominal(circuit, probed) {
        Reading::Shorted => shown(0.0, 0.4),
        Reading::Open => shown(20e6, f64::INFINITY),
        Reading::Ohms(Ohms(ohms)) => shown(ohms * 0.995, ohms * 1.005),
    };
    Taken::at(probed.clone(), span)
}

const ONE_COIL: &str = "coil bridge 8k\npot volume 500k\njack jack\n\
    join bridge.hot volume.3 seen\njoin bridge.ground jack.sleeve seen\n\
    join volume.2 jack.tip seen\njoin volume.1 jack.sleeve seen\n";

const WITH_A_LEVER: &str = "coil neck 5k7\ncoil middle 5k8\ncoil bridge 6k3\npot volume 250k\n\
    switch lever five-way lever\ncapacitor cap 22n\npot tone 250k\njack jack\nmetal strings\n\
    join neck.hot lever.a3 seen\njoin middle.hot lever.a2 seen\njoin bridge.hot lever.a1 seen\n\
    join lever.a0 volume.3 seen\njoin volume.2 jack.tip seen\njoin volume.1 volume.case seen\n\
    join volume.case jack.sleeve seen\njoin neck.ground volume.case seen\njoin middle.ground volume.case seen\n\
    join bridge.ground volume.case seen\njoin tone.3 volume.3 seen\njoin tone.2 cap.a seen\n\
    join cap.b volume.case seen\njoin strings volume.case seen\n";

/// The circuit with a slip in it: what would be in the instrument.
fn with(drawn: &Circuit, slip: Slip) -> Circuit {
    let mut joins = drawn.joins().to_vec();
    match slip {
        Slip::Missing { join } => drop(joins.remove(join)),
        Slip::Elsewhere { join, drawn: from, at, .. } => {
            let it = &mut joins[join];
            match &mut it.to {
                JoinTo::One(end) if *end == from => *end = at,
                _ => it.a = at,
            }
        }
        Slip::Extra { a, b } => joins.push(Join { a, to: JoinTo::One(b), known: Known::Matched }),
    }
    Circuit::new(drawn.parts().to_vec(), joins).unwrap()
}

/// Every slip of a circuit, as its own sheet knows them.
fn every_slip(survey: &Survey) -> Vec<Slip> {
    survey.sheet().rows.iter().flat_map(|row| row.shows.clone()).collect()
}

/// Five-way sweep of coils of 5.7, 5.8 and 6.3 kΩ behind a 250 kΩ track: R p 250k for each set of coils in parallel,
/// worked by hand to four digits, so that half of the last is allowed.
#[test]
fn a_five_way_sweep_reads_as_worked_by_hand() {
    let circuit = circuit(WITH_A_LEVER);
    for (position, by_hand) in [6145.0, 2984.0, 5668.0, 2842.0, 5573.0].into_iter().enumerate() {
        let probed = at(&circuit, "jack.tip", "jack.sleeve", &[position], &[1.0, 1.0]);
        let Reading::Ohms(Ohms(ohms)) = nominal(&circuit, &probed) else { panic!("live") };
        assert!((ohms - by_hand).abs() <= 0.6, "position {}: {ohms}", position + 1);
    }
}

fn two_volumes(coupled: bool) -> Circuit {
    let (coil, out) = if coupled { ("3", "2") } else { ("2", "3") };
    let side = |coil_name: &str, volume: &str| {
        format!(
            "join {coil_name}.hot {volume}.{coil} seen\njoin {volume}.{out} jack.tip seen\n\
             join {volume}.1 jack.sleeve seen\njoin {coil_name}.ground jack.sleeve seen\n"
        )
    };
    let parts = "coil neck 8k\ncoil bridge 8k\npot volume1 500k\npot volume2 500k\njack jack\n";
    circuit(&format!("{parts}{}{}", side("neck", "volume1"), side("bridge", "volume2")))
}

/// Full up, coupled and independent volumes read alike, 8k p 500k p 8k p 500k = 3.937k; with one at nought they read 0
/// and 500k p 7.874k = 7.752k, all by hand.
#[test]
fn only_a_volume_at_nought_tells_coupled_from_independent() {
    for (coupled, at_nought) in [(true, 0.0), (false, 7752.0)] {
        let circuit = two_volumes(coupled);
        let read = |wipers: [f64; 2]| match nominal(
            &circuit,
            &at(&circuit, "jack.tip", "jack.sleeve", &[], &wipers),
        ) {
            Reading::Ohms(ohms) => ohms.0,
            Reading::Shorted => 0.0,
            Reading::Open => f64::INFINITY,
        };
        assert!((read([1.0, 1.0]) - 3937.0).abs() < 0.6);
        assert!((read([0.0, 1.0]) - at_nought).abs() < 0.6);
    }
}

#[test]
fn a_sheet_finds_the_probing_that_settles_which_way_a_volume_is_wired() {
    let text = "coil neck 8k\ncoil bridge 8k\npot volume1 500k\npot volume2 500k\njack jack\n\
        join neck.hot volume1.3 or volume1.2 unknown\njoin jack.tip volume1.2 or volume1.3 unknown\n\
        join volume1.1 jack.sleeve seen\njoin neck.ground jack.sleeve seen\n\
        join bridge.hot volume2.3 seen\njoin volume2.2 jack.tip seen\n\
        join volume2.1 jack.sleeve seen\njoin bridge.ground jack.sleeve seen\n";
    let drawn = circuit(text);
    let survey = Survey::new(&drawn, Options::default()).unwrap();
    let sheet = survey.sheet();
    assert_eq!(sheet.alike, [], "every way the two joins can go is told from the others");
    let independent = two_volumes(false);
    let taken: Vec<Taken> = sheet
        .rows
        .iter()
        .map(|row| {
            // The bridge's volume is wired the coupled way here, so only the neck's side is exchanged.
            let mut joins = independent.joins().to_vec();
            joins.truncate(4);
            joins.extend_from_slice(&two_volumes(true).joins()[4..]);
            as_metered(&Circuit::new(independent.parts().to_vec(), joins).unwrap(), &row.probed)
        })
        .collect();
    let judged = survey.judge(&taken).unwrap();
    assert!(judged.stands);
    let to: Vec<String> = judged.settled.iter().filter_map(|it| Some(drawn.name_of(it.to?))).collect();
    assert_eq!(to, ["volume1.2", "volume1.3"]);
    assert_eq!(judged.excluded, judged.of, "and no slip is left");
}

/// A case from a bench: three pickups with a small switch each, chained. The hot chain beeps throughout; between the ground
/// of the third and that of the second there is nothing.
#[test]
fn a_continuity_list_names_the_open_join() {
    let mut text = String::from("pot volume 250k\njack jack\n");
    for n in 1..=3 {
        text += &format!("coil pickup{n} 5.84k\nswitch s{n} two-pole slide\n");
        text += &format!("join pickup{n}.hot s{n}.2 seen\njoin pickup{n}.ground s{n}.5 seen\n");
    }
    text += "join s3.1 s2.1 seen\njoin s2.1 s1.1 seen\njoin s1.1 volume.3 seen\n\
             join s3.4 s2.4 seen\njoin s2.4 s1.4 seen\njoin s1.4 jack.sleeve seen\n\
             join volume.2 jack.tip seen\njoin volume.1 jack.sleeve seen\n";
    let circuit = circuit(&text);
    let survey = Survey::new(&circuit, Options::default()).unwrap();
    let probed = |from, to| at(&circuit, from, to, &[0, 0, 0], &[1.0]);
    let (beeps, silent) = (shown(0.0, 50.0), shown(50.0, f64::INFINITY));
    let taken: Vec<Taken> = [
        ("s3.1", "s2.1", beeps),
        ("s2.1", "s1.1", beeps),
        ("s1.1", "volume.3", beeps),
        ("s3.4", "s2.4", silent),
        ("s2.4", "s1.4", beeps),
        ("s1.4", "jack.sleeve", beeps),
    ]
    .into_iter()
    .map(|(from, to, shown)| Taken::at(probed(from, to), shown))
    .collect();
    let judged = survey.judge(&taken).unwrap();
    let open = circuit.joins().iter().position(|join| circuit.name_of(join.a) == "s3.4").unwrap();
    assert!(!judged.stands && judged.accounted == 6);
    assert_eq!(
        judged.readings.iter().map(|it| it.agrees).collect::<Vec<_>>(),
        [true, true, true, false, true, true]
    );
    assert!(judged.slips.contains(&vec![Slip::Missing { join: open }]), "{:?}", judged.slips);
    let of_this_join =
        |slip: &Slip| matches!(slip, Slip::Missing { join } | Slip::Elsewhere { join, .. } if *join == open);
    assert!(
        judged.slips.iter().flatten().all(of_this_join),
        "nothing else accounts for it: {:?}",
        judged.slips
    );
}

#[test]
fn the_sheet_shows_every_slip_it_says_it_shows() {
    for text in [ONE_COIL, WITH_A_LEVER] {
        let drawn = circuit(text);
        let survey = Survey::new(&drawn, Options::default()).unwrap();
        let sheet = survey.sheet();
        let slips = every_slip(&survey);
        assert_eq!(slips.len(), sheet.shown);
        assert_eq!(sheet.proof, Proof::Least);
        for slip in slips {
            let real = with(&drawn, slip);
            let taken: Vec<Taken> = sheet.rows.iter().map(|row| as_metered(&real, &row.probed)).collect();
            let judged = survey.judge(&taken).unwrap();
            assert!(!judged.stands, "{slip:?} passes");
            assert!(
                judged.slips.iter().any(|alike| alike.contains(&slip)),
                "{slip:?} does not account for itself"
            );
        }
        let taken: Vec<Taken> = sheet.rows.iter().map(|row| as_metered(&drawn, &row.probed)).collect();
        let judged = survey.judge(&taken).unwrap();
        assert!(judged.stands && judged.excluded == sheet.shown, "{} of {}", judged.excluded, judged.of);
        assert_eq!(survey.next(&taken).unwrap(), None, "nothing is left to tell");
    }
}

/// Told which probing to make next, and nothing else, a hand comes to the slip that is there.
#[test]
fn each_next_probing_leads_to_the_slip() {
    let drawn = circuit(ONE_COIL);
    let survey = Survey::new(&drawn, Options::default()).unwrap();
    for slip in every_slip(&survey) {
        let real = with(&drawn, slip);
        let mut taken: Vec<Taken> = Vec::new();
        while let Some(probed) = survey.next(&taken).unwrap() {
            taken.push(as_metered(&real, &probed));
            assert!(taken.len() < 20, "{slip:?} is not come to");
        }
        let Judged { stands, slips, .. } = survey.judge(&taken).unwrap();
        assert!(!stands && slips.len() == 1 && slips[0].contains(&slip), "{slip:?}: {slips:?}");
    }
}

#[test]
fn no_fewer_probings_show_every_slip_of_a_small_circuit() {
    // Every set of one probing fewer, over all pairs of lugs in the settings of the sheet, misses some slip.
    let drawn =
        circuit("coil neck 6k\njack jack\njoin neck.hot jack.tip seen\njoin neck.ground jack.sleeve seen\n");
    let survey = Survey::new(&drawn, Options::default()).unwrap();
    let sheet = survey.sheet();
    assert!(sheet.every_pair && sheet.every_position);
    let lugs: Vec<Terminal> = (0..2).flat_map(|part| (0..2).map(move |lug| Terminal { part, lug })).collect();
    let setting = Setting::first(&drawn);
    let mut probings = Vec::new();
    for (at, &from) in lugs.iter().enumerate() {
        probings.extend(lugs[at + 1..].iter().map(|&to| Probed { from, to, setting: setting.clone() }));
    }
    let slips = every_slip(&survey);
    let shows_all = |chosen: &[&Probed]| {
        slips.iter().all(|&slip| {
            let real = with(&drawn, slip);
            let taken: Vec<Taken> = chosen.iter().map(|probed| as_metered(&real, probed)).collect();
            !survey.judge(&taken).unwrap().stands
        })
    };
    let least = (1_u32..1 << probings.len())
        .filter(|set| {
            let chosen: Vec<&Probed> =
                probings.iter().enumerate().filter(|(at, _)| set >> at & 1 == 1).map(|(_, it)| it).collect();
            shows_all(&chosen)
        })
        .map(u32::count_ones)
        .min();
    assert_eq!(least, Some(sheet.rows.len() as u32));
    assert_eq!(sheet.proof, Proof::Least);
}

#[test]
fn a_wire_of_a_loop_is_said_to_be_past_seeing() {
    let text = format!("{ONE_COIL}join bridge.ground volume.1 seen\n");
    let drawn = circuit(&text);
    let sheet = Survey::new(&drawn, Options::default()).unwrap().sheet();
    let loops: Vec<Slip> =
        sheet.unseen.iter().filter(|it| it.why == WhyUnseen::Loop).map(|it| it.slip).collect();
    for join in [1, 3, 4] {
        assert!(
            loops.contains(&Slip::Missing { join }),
            "join {join} is one of three that close a loop: {loops:?}"
        );
    }
}

#[test]
fn what_cannot_be_held_against_the_meter_is_said() {
    let wrong = |text: &str| Survey::new(&circuit(text), Options::default()).err().unwrap();
    assert_eq!(wrong("coil neck 6k\njack jack\n"), ProbingError::NoJoins);
    let one = circuit("coil neck 6k\njack a\njoin neck.hot a.tip seen\n");
    let mut parts = one.parts().to_vec();
    parts.extend(circuit("coil bridge 7k\njack b\n").parts().iter().cloned());
    let mut joins = one.joins().to_vec();
    let lug = |part| Terminal { part, lug: 0 };
    joins.push(Join { a: lug(2), to: JoinTo::One(lug(3)), known: Known::Matched });
    let two = Circuit::new(parts, joins).unwrap();
    let Err(ProbingError::SeveralInstruments { islands }) = Survey::new(&two, Options::default()).map(drop)
    else {
        panic!("two instruments")
    };
    assert_eq!(islands, [["neck", "a"], ["bridge", "b"]]);
    let mut many = String::from("jack jack\n");
    (0..200).for_each(|n| many += &format!("switch s{n} two-pole slide\njoin s{n}.1 jack.tip seen\n"));
    assert!(matches!(wrong(&many), ProbingError::TooManySwitches { read: 200, .. }));
    let mut unknown = String::from("jack jack\npost p 2\n");
    (0..8).for_each(|n| unknown += &format!("coil c{n} 6k\njoin c{n}.hot p.1 or p.2 unknown\n"));
    assert!(matches!(wrong(&unknown), ProbingError::TooManyPossibilities { read: 256, .. }));
    let one = circuit(ONE_COIL);
    let tolerances = Tolerances { meter: 2.0, ..Tolerances::default() };
    let options = Options { tolerances, ..Options::default() };
    assert!(matches!(Survey::new(&one, options), Err(ProbingError::Tolerance { of: "the meter", .. })));
    let survey = Survey::new(&one, Options::default()).unwrap();
    let nowhere =
        Probed { from: Terminal { part: 9, lug: 0 }, ..at(&one, "jack.tip", "jack.sleeve", &[], &[1.0]) };
    assert!(survey.judge(&[Taken::at(nowhere, shown(0.0, 1.0))]).is_err());
}

#[test]
fn two_readings_of_the_same_lugs_that_differ_contradict_each_other() {
    let drawn = circuit(ONE_COIL);
    let survey = Survey::new(&drawn, Options::default()).unwrap();
    let taken = [
        Taken::at(at(&drawn, "jack.tip", "jack.sleeve", &[], &[1.0]), shown(7.8e3, 7.9e3)),
        Taken::at(at(&drawn, "jack.sleeve", "jack.tip", &[], &[1.0]), shown(20e6, f64::INFINITY)),
    ];
    let judged = survey.judge(&taken).unwrap();
    assert_eq!(judged.contradict, [(0, 1)]);
    assert!(judged.readings[0].agrees && !judged.readings[1].agrees && !judged.stands);
}

proptest! {
    /// Rayleigh's law of monotony: whatever values the parts take within their tolerances, the reading keeps within the
    /// limits; and with all at their least or most it is at the limit. 1e-9 for rounding.
    #[test]
    fn no_draw_of_the_parts_leaves_the_limits(
        position in 0_usize..5,
        knobs in prop::collection::vec(prop::sample::select(vec![0.0, 1.0]), 2),
        draws in prop::collection::vec(0.0_f64..=1.0, 9),
        ends in (0_usize..9, 0_usize..9),
    ) {
        let drawn = circuit(WITH_A_LEVER);
        let lugs = ["jack.tip", "jack.sleeve", "neck.hot", "middle.hot", "bridge.hot", "volume.3", "tone.1", "cap.a", "lever.a0"];
        let probed = at(&drawn, lugs[ends.0], lugs[ends.1], &[position], &knobs);
        let wired = drawn.possibilities().next().unwrap();
        let tolerances = Tolerances::default();
        let span = expected(&wired, &probed, &tolerances, &Changes::default()).unwrap().span;
        let read = |draw: &dyn Fn(usize) -> f64| {
            let mut changes = Changes::default();
            for (part, it) in drawn.parts().iter().enumerate() {
                let margin = tolerances.margin(&drawn, part);
                let factor = 1.0 - margin.under + (margin.under + margin.over) * draw(part);
                let sort = match &it.sort {
                    Sort::Coil(coil) => {
                        let mut coil = *coil;
                        coil.resistance = coil.resistance * factor;
                        Sort::Coil(coil)
                    }
                    Sort::Pot(pot) => {
                        let mut pot = *pot;
                        pot.track = pot.track * factor;
                        Sort::Pot(pot)
                    }
                    _ => continue,
                };
                changes = changes.replace(&drawn, part, sort).unwrap();
            }
            resistance(&wired, &probed.setting, &changes, probed.from, probed.to).unwrap().reading
        };
        match read(&|part| draws[part]) {
            Reading::Open => prop_assert!(span.is_open()),
            Reading::Shorted => prop_assert_eq!(span.least.0, 0.0),
            Reading::Ohms(Ohms(ohms)) => {
                let most = span.most.0 - tolerances.touching.0;
                prop_assert!(span.least.0 * (1.0 - 1e-9) <= ohms && ohms <= most * (1.0 + 1e-9), "{ohms} {span:?}");
                let (Reading::Ohms(low), Reading::Ohms(high)) = (read(&|_| 0.0), read(&|_| 1.0)) else { panic!("live") };
                prop_assert!((low.0 / span.least.0 - 1.0).abs() < 1e-9 && (high.0 / most - 1.0).abs() < 1e-9);
            }
        }
    }
}
