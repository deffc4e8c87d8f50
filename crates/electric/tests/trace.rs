//! The grammar of a trace: what is read, what is refused and how that is told.

use asfound_electric::trace::{
    ASSUMED_RESISTANCE, Fault, HowKnown, Question, Statement, Trace, TraceFaults, read_line,
};
use asfound_electric::{JoinTo, Known, Sign, Sort};
use asfound_measure::Ohms;

const FIVE_WAY_LEVER: &str = include_str!("traces/five-way-lever.trace");
const FOUR_SLIDES: &str = include_str!("traces/four-slides.trace");
const HALF_CUT_ROTARY: &str = include_str!("traces/half-cut-rotary.trace");
const PAGE: &str = include_str!("../../../docs/trace.md");

fn faults(text: &str) -> TraceFaults {
    Trace::read(text).expect_err(text)
}

/// The one fault of a text, with its line and column.
fn only(text: &str) -> (usize, usize, Fault) {
    let faults = faults(text);
    assert_eq!((faults.told.len(), faults.more), (1, 0), "{faults}");
    (faults.told[0].line, faults.told[0].column, faults.told[0].fault.clone())
}

#[test]
fn the_traces_are_read_and_print_as_typed() {
    for text in [FIVE_WAY_LEVER, FOUR_SLIDES, HALF_CUT_ROTARY] {
        let trace = Trace::read(text).unwrap();
        assert_eq!(trace.to_string(), text);
        assert_eq!(Trace::read(&trace.to_string()).unwrap(), trace);
        trace.circuit().unwrap();
    }
}

#[test]
fn each_line_as_the_program_would_write_it_says_the_same() {
    for line in Trace::read(HALF_CUT_ROTARY).unwrap().lines() {
        if let Some(statement) = &line.statement {
            let again = read_line(&statement.to_string()).unwrap();
            assert_eq!(again.statement.as_ref(), Some(statement), "{statement}");
        }
    }
}

#[test]
fn the_example_on_the_page_about_traces_is_right() {
    let example = PAGE.split("```").nth(1).unwrap().trim_start();
    let trace = Trace::read(example).unwrap_or_else(|faults| panic!("{faults}"));
    trace.circuit().unwrap();
}

#[test]
fn the_network_holds_what_was_written() {
    let circuit = Trace::read(HALF_CUT_ROTARY).unwrap().circuit().unwrap();
    assert_eq!(circuit.coils().count(), 2);
    let (_, bridge) = circuit.coils().nth(1).unwrap();
    assert_eq!((bridge.winding, bridge.magnet), (Some(Sign::Minus), Some(Sign::Minus)));
    assert_eq!(bridge.resistance, Ohms(4900.0));
    let unknown: Vec<_> = circuit.joins().iter().filter(|join| join.known == Known::Unknown).collect();
    assert_eq!(unknown.len(), 1);
    assert_eq!(circuit.name_of(unknown[0].a), "choke.b");
    let JoinTo::Candidates { terminals, or_nothing } = &unknown[0].to else { panic!("{:?}", unknown[0].to) };
    let names: Vec<String> = terminals.iter().map(|&terminal| circuit.name_of(terminal)).collect();
    assert_eq!((names, *or_nothing), (vec!["rotary.a3".to_owned(), "volume.3".to_owned()], false));
    assert_eq!(circuit.joins()[0].known, Known::Metered { ohms: Some(Ohms(0.4)) });
}

#[test]
fn a_sign_that_nobody_saw_stays_unknown() {
    let circuit = Trace::read("coil a 7k pole unknown\njack jack\n").unwrap().circuit().unwrap();
    let Sort::Coil(coil) = &circuit.parts()[0].sort else { panic!() };
    assert_eq!((coil.winding, coil.magnet), (None, None));
}

#[test]
fn values_stand_in_any_order_and_a_unit_may_stand_alone() {
    let said = |text: &str| read_line(text).unwrap().statement.unwrap();
    let Statement::Coil(coil) = said("coil neck 130pF north 3,4 H 7.2 kΩ covered") else { panic!() };
    assert_eq!(coil.resistance.taken(), Some(Ohms(7200.0)));
    assert_eq!(coil.resistance.to_string(), "7.2 kΩ");
    assert!(coil.inductance.is_some() && coil.capacitance.is_some() && coil.cover);
}

#[test]
fn a_join_without_how_it_is_known_names_the_four_words() {
    let fault = read_line("join volume.2 jack.tip").unwrap_err();
    assert_eq!(fault.fault, Fault::HowMissing);
    assert_eq!(
        fault.to_string(),
        "line 1, column 23: how is this join known? End the line with `metered`, `seen`, `matched` or `unknown`"
    );
}

#[test]
fn the_entry_line_reads_a_join_alone() {
    let line = read_line("join rotary.a7 choke.a seen photo 31  # under the tape").unwrap();
    let Some(Statement::Join(join)) = &line.statement else { panic!() };
    assert_eq!(join.how, HowKnown::Seen("photo 31".to_owned()));
    assert_eq!(line.comment(), Some("under the tape"));
}

#[test]
fn faults_have_their_place_and_the_nearest_name() {
    let (line, column, fault) = only("coil neck 7k2\njack jack\njoin neck.hto jack.tip metered\n");
    assert_eq!((line, column), (3, 6));
    let Fault::NoSuchTerminal { nearest, terminals, .. } = fault else { panic!("{fault}") };
    assert_eq!(nearest, Some("neck.hot".to_owned()));
    assert_eq!(terminals, ["neck.hot", "neck.ground"]);

    let (_, column, fault) = only("coil neck 7k2\njack jack\njoin neck.hot jakc.tip metered\n");
    assert_eq!(column, 15);
    assert_eq!(fault, Fault::NoSuchPart { read: "jakc".to_owned(), nearest: Some("jack".to_owned()) });

    let (_, _, fault) = only("coli neck 7k2\n");
    assert_eq!(fault, Fault::UnknownOpening { read: "coli".to_owned(), nearest: Some("coil".to_owned()) });

    let (_, _, fault) = only("switch s five way levr\n");
    assert!(matches!(fault, Fault::UnknownPlan { nearest: Some(near), .. } if near == "five-way lever"));
}

#[test]
fn one_slip_is_told_once() {
    // The pot's line is wrong, so joins to it are not told as wrong as well.
    only("coil neck 7k2\npot volume\njack jack\njoin neck.hot volume.3 metered\n");
    // A switch with a wrong position is not told as unfinished.
    only("switch odd\n  lugs 1 2\n  at up 1-2\njack jack\njoin odd.1 jack.tip metered\n");
}

#[test]
fn every_fault_a_hand_can_make_is_told() {
    for (text, wanted) in [
        ("coil\n", "has no name"),
        ("coil 7k2\n", "cannot be a name"),
        ("coil neck\n", "has no resistance"),
        ("coil neck\n", "`coil neck 7k2`, `coil neck open` or `coil neck not measured`"),
        ("coil neck 7k2 7k3\n", "already given"),
        ("coil neck 7k2 open\n", "the resistance is already given in this line; `open` is a second one"),
        ("coil neck open 7k2\n", "`7k2` is a second one"),
        ("coil neck open not measured\n", "`not` is a second one"),
        ("coil neck over\n", "as in `over 20k`"),
        ("coil neck over 20n\n", "is a capacitance"),
        ("coil neck over range\n", "as in `over 20k`"),
        ("coil neck not\n", "ends too soon; right would be measured"),
        ("coil neck not mesured\n", "nearest: `measured`"),
        ("coil neck opne\n", "nearest: `open`"),
        ("pot volume open\n", "cannot stand here"),
        ("coil neck 7k2 north south\n", "already given"),
        ("coil neck 7k2 clokwise\n", "nearest: `clockwise`"),
        ("coil neck 0\n", "more than zero"),
        ("coil neck 7k2\ncoil Neck 7k2\n", "already the name of the part in line 1"),
        ("pot volume audio\n", "has no track"),
        ("pot volume 47n\n", "is a capacitance; a pot takes the ohms"),
        ("capacitor c1 47k\n", "is a resistance"),
        ("choke ch 420\n", "has no inductance"),
        ("resistor r9k\n", "has no resistance"),
        ("post bus 0\n", "from 1 to 64"),
        ("switch odd\njack jack\n", "has no lugs"),
        ("switch odd\n  lugs 1 2\n", "has no positions"),
        ("switch odd\n  lugs 1 2\n  at up: 1-3\n", "`odd` has no `3`"),
        ("switch odd\n  lugs 1 2\n  at up: 1-1\n", "stands twice"),
        ("switch odd\n  lugs 1 2\n  at up:\n", "ends too soon"),
        ("switch odd\n  lugs 1 2\n  at up: 1-2\n  between: all\n", "both neighbours"),
        ("lugs 1 2\n", "belongs under a switch"),
        ("metal strings\nmetal plate\njoin strings plate or nothing metered\n", "not yet known"),
        ("metal strings\nmetal plate\njoin strings plate unknown\n", "at least two places"),
        ("metal strings\nmetal plate\njoin strings plate or nothing odds 1 unknown\n", "1 odds for 2 ends"),
        ("metal strings\njoin strings strings metered\n", "stands twice"),
        ("metal strings\nmetal plate\njoin strings plate metered 47n\n", "a join takes ohms"),
        ("metal strings\nmetal plate\njoin strings plate heard\n", "metered, seen, matched, unknown"),
        (
            "coil neck 7k2\njack jack\njoin neck jack.tip metered\n",
            "which terminal of `neck`? It has neck.hot, neck.ground",
        ),
        ("jack jack\u{0}\n", "this is not text"),
    ] {
        let faults = faults(text).to_string();
        assert!(faults.contains(wanted), "{text}\n{faults}");
    }
}

#[test]
fn a_network_needs_one_jack() {
    let no_jack = Trace::read("coil neck 7k2\n").unwrap().circuit().unwrap_err();
    assert_eq!(no_jack.told[0].fault, Fault::NoJack);
    let two = Trace::read("jack one\njack two\n").unwrap().circuit().unwrap_err();
    assert_eq!(two.told[0].fault, Fault::SecondJack { name: "two".to_owned(), first_line: 1 });
}

#[test]
fn twenty_faults_are_told_and_the_rest_counted() {
    let faults = faults(&"coli neck 7k2\n".repeat(25));
    assert_eq!((faults.told.len(), faults.more), (20, 5));
    assert!(faults.to_string().ends_with("and 5 more"));
}

#[test]
fn faults_stand_in_the_order_of_the_lines() {
    let faults =
        faults("jack jack\njoin jack.tip jakc.tip metered\ncoli neck 7k2\njoin jack.tip nek.hot metered\n");
    let lines: Vec<usize> = faults.told.iter().map(|fault| fault.line).collect();
    assert_eq!(lines, [2, 3, 4]);
}

#[test]
fn thousands_of_wrong_joins_are_told_at_once() {
    let parts: String = (0..5000).map(|at| format!("metal m{at}\n")).collect();
    let joins: String = (0..4999).map(|at| format!("join n{at} m{at} metered\n")).collect();
    let faults = faults(&(parts + &joins));
    assert_eq!((faults.told.len(), faults.more), (20, 4979));
}

#[test]
fn rubbish_and_endless_texts_are_refused() {
    let many = "# nothing\n".repeat(100_000);
    let (line, _, fault) = only(&many);
    assert_eq!((line, fault), (10_001, Fault::TooManyLines));
    let bytes: Vec<u8> = (0..4096u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let rubbish = String::from_utf8_lossy(&bytes);
    assert!(Trace::read(&rubbish).is_err());
    let (_, _, fault) = only(&format!("# {}\n", "x".repeat(600)));
    assert_eq!(fault, Fault::LineTooLong { read: 602 });
}

#[test]
fn a_coil_of_a_few_ohms_is_kept_and_asked_about() {
    let trace = Trace::read("coil bridge 5.84 2H 100p\njoin bridge.hot bridge.ground metered 4k7\n").unwrap();
    let questions = trace.questions();
    assert_eq!(questions.len(), 2);
    let Question::CoilOhmsLow { stands, perhaps, .. } = &questions[0].question else { panic!() };
    assert_eq!((*stands, *perhaps), (Ohms(5.84), Ohms(5840.0)));
    assert_eq!((questions[0].line, questions[0].column), (1, 13));
    assert!(matches!(questions[1].question, Question::JoinOhmsHigh { .. }));
    // From both sides of the bound.
    assert!(Trace::read("coil bridge 100 2H 100p\n").unwrap().questions().is_empty());
    assert_eq!(Trace::read("coil bridge 99.9 2H 100p\n").unwrap().questions().len(), 1);
}

#[test]
fn a_coil_that_is_open_over_range_or_not_measured_is_written_so() {
    let coil = |line: &str| {
        let circuit = Trace::read(&format!("{line}\njack jack\n")).unwrap().circuit().unwrap();
        let (_, coil) = circuit.coils().next().unwrap();
        *coil
    };
    let asked = |line: &str| -> Vec<Question> {
        Trace::read(line).unwrap().questions().into_iter().map(|it| it.question).collect()
    };
    assert!(coil("coil neck open").open && asked("coil neck open").is_empty());
    assert!(!coil("coil neck 7k2").open);
    // A range that every whole coil fits into tells that it is open; a shorter one tells nothing.
    for (line, open, taken) in
        [("coil neck over 20k", true, None), ("coil neck over 19.9k", false, Some(Ohms(19_900.0)))]
    {
        assert_eq!(coil(line).open, open, "{line}");
        let Question::CoilOverRange { taken: told, .. } = &asked(line)[0] else { panic!("{line}") };
        assert_eq!(*told, taken, "{line}");
    }
    let not_measured = asked("coil neck not measured 2H 100p");
    assert_eq!(
        not_measured,
        [Question::ResistanceAssumed { coil: "neck".to_owned(), assumed: ASSUMED_RESISTANCE }]
    );
    assert_eq!(coil("coil neck not measured").resistance, ASSUMED_RESISTANCE);
    for line in ["coil neck open", "coil neck over 20 kΩ 2H north", "coil neck not measured 100p covered"] {
        let statement = read_line(line).unwrap().statement.unwrap();
        assert_eq!(statement.to_string(), line);
        assert_eq!(
            read_line(&line.to_uppercase().replace("KΩ", "kΩ"))
                .unwrap()
                .statement
                .unwrap()
                .to_string()
                .to_lowercase(),
            line.to_lowercase()
        );
    }
}

#[test]
fn what_is_assumed_is_said() {
    let questions = Trace::read("coil bridge 6k3\n").unwrap().questions();
    assert!(matches!(questions[0].question, Question::InductanceAssumed { .. }));
    assert!(matches!(questions[1].question, Question::CapacitanceAssumed { .. }));
}

mod laws {
    use proptest::prelude::*;

    use super::*;

    fn value(unit: &'static [&'static str]) -> impl Strategy<Value = String> {
        (1u32..999, 0u32..99, proptest::sample::select(unit)).prop_map(|(whole, part, unit)| match part {
            0 => format!("{whole}{unit}"),
            part if unit.chars().count() == 1 && part % 2 == 0 => format!("{whole}{unit}{part}"),
            part => format!("{whole}.{part:02}{unit}"),
        })
    }

    fn part(index: usize) -> impl Strategy<Value = (String, Vec<String>)> {
        let ohms = || value(&["k", "M", "R", "kΩ"]);
        let farads = || value(&["n", "p", "nF", "uF"]);
        let henries = || value(&["H", "mH"]);
        let places =
            move |name: &str, lugs: &[&str]| lugs.iter().map(|lug| format!("{name}.{lug}")).collect();
        const SIGNS: &[&str] =
            &["", " clockwise", " anticlockwise south", " winding unknown", " north covered"];
        prop_oneof![
            (ohms(), henries(), farads(), proptest::sample::select(SIGNS)).prop_map(
                move |(r, l, c, signs)| {
                    (
                        match index % 4 {
                            0 => format!("coil c{index}x open {c}{signs}"),
                            1 => format!("coil c{index}x over {r} {l}{signs}"),
                            2 => format!("coil c{index}x not measured{signs}"),
                            _ => format!("coil c{index}x {c} {r} {l}{signs}"),
                        },
                        places(&format!("c{index}x"), &["hot", "ground"]),
                    )
                }
            ),
            (ohms(), proptest::sample::select(&["", " linear", " audio 0.12", " reverse"][..])).prop_map(
                move |(r, law)| (
                    format!("pot p{index}x {r}{law}"),
                    places(&format!("p{index}x"), &["1", "2", "3"])
                )
            ),
            farads().prop_map(move |c| (
                format!("capacitor k{index}x {c}"),
                places(&format!("k{index}x"), &["a", "b"])
            )),
            (2u8..9).prop_map(move |n| (
                format!("post t{index}x {n}"),
                places(&format!("t{index}x"), &["1", "2"])
            )),
        ]
    }

    fn text() -> impl Strategy<Value = String> {
        let parts = (2usize..8).prop_flat_map(|count| (0..count).map(part).collect::<Vec<_>>());
        let joins = proptest::collection::vec((any::<u16>(), any::<u16>(), any::<u16>(), 0usize..6), 0..12);
        (parts, joins).prop_map(|(parts, joins)| {
            let places: Vec<&String> = parts.iter().flat_map(|(_, places)| places).collect();
            let mut text: String = parts.iter().map(|(line, _)| format!("{line}  # as found\n")).collect();
            for (a, b, c, how) in joins {
                let [a, b, c] = [a, b, c].map(|at| places[usize::from(at) % places.len()]);
                if a == b || a == c || b == c {
                    continue;
                }
                text += &match how {
                    0 => format!("join {a}   {b} metered 0.4\n"),
                    1 => format!("\tjoin {a} {b} seen photo 31\n"),
                    2 => format!("join {a} {b} matched\n\n"),
                    3 => format!("join {a} {b} or {c} unknown\n"),
                    4 => format!("join {a} {b} or nothing odds 3:1 unknown # cut\n"),
                    _ => format!("JOIN {a} {b} Metered\n"),
                };
            }
            text
        })
    }

    proptest! {
        #[test]
        fn what_is_read_prints_as_typed_and_reads_the_same(text in text()) {
            let trace = Trace::read(&text).unwrap_or_else(|faults| panic!("{text}\n{faults}"));
            prop_assert_eq!(trace.to_string(), text);
            for line in trace.lines() {
                if let Some(statement) = &line.statement {
                    let again = read_line(&statement.to_string()).unwrap();
                    prop_assert_eq!(again.statement.as_ref(), Some(statement));
                }
            }
        }

        #[test]
        fn no_text_makes_it_panic(text in "(coil|pot|switch|lugs|at|between|join|jack|#|[a-z.0-9:\\- \n]|\\PC){0,60}") {
            match Trace::read(&text) {
                Ok(trace) => { let _ = (trace.circuit(), trace.questions()); }
                Err(faults) => prop_assert!(!faults.told.is_empty()),
            }
        }
    }
}
