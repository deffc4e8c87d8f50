//! Traces that a slip of the hand, a broken file or another program made: answered, never a panic.

use asfound_electric::explain::{Conditions, explain};
use asfound_electric::trace::{FAULTS_TOLD, Fault, MOST_LINES, Statement, Trace, read_line};
use asfound_measure::Hertz;
use proptest::prelude::*;

const TRACES: [&str; 5] = [
    include_str!("traces/five-way-lever.trace"),
    include_str!("traces/four-slides.trace"),
    include_str!("traces/half-cut-rotary.trace"),
    include_str!("traces/every-word.trace"),
    include_str!("../../asfound/demo/bass.trace"),
];

/// What may be put into a line: words of the grammar in wrong places, numbers at the edges, signs of other scripts.
const PIECES: &[&str] = &[
    " ",
    ".",
    "-",
    ":",
    "#",
    "or",
    "nothing",
    "unknown",
    "odds 0:0",
    "odds 4294967296:1",
    "metered",
    "open",
    "over",
    "over 20k",
    "not measured",
    "0",
    "-1",
    "1e999",
    "1e-999",
    "NaN",
    "inf",
    "7k2",
    "3H4",
    "130p",
    "999999T",
    "µ",
    "Ω",
    "\u{0}",
    "\u{feff}",
    "\u{202e}",
    "\t",
    "é",
    "𝛺",
    "coil",
    "switch",
    "lugs",
    "at",
    "between:",
    "jack",
    "post 255",
    "shorting",
    "non-shorting",
    "12-way two-pole rotary",
];

/// One change to a line, at a place taken from `at`.
fn mutated(line: &str, how: u8, at: usize, piece: &str) -> String {
    let signs: Vec<char> = line.chars().collect();
    let at = at % (signs.len() + 1);
    let (before, after) = signs.split_at(at);
    let text = |signs: &[char]| signs.iter().collect::<String>();
    match how % 6 {
        0 => text(before) + piece + &text(after),
        1 => text(before) + &text(after.get(1..).unwrap_or(&[])),
        2 => text(before),
        3 => text(after),
        4 => line.repeat(2),
        _ => {
            let mut words: Vec<&str> = line.split(' ').collect();
            let at = at % words.len();
            words.swap(0, at);
            words.join(" ")
        }
    }
}

/// Reads, builds and explains as far as it goes; few frequencies, because the curves are not what is asked here.
fn answered(text: &str) -> Result<(), TestCaseError> {
    match Trace::read(text) {
        Err(faults) => {
            prop_assert!(!faults.told.is_empty() && faults.told.len() <= FAULTS_TOLD);
            let lines = text.lines().count();
            for fault in &faults.told {
                prop_assert!(fault.line >= 1 && fault.line <= lines.max(1) && fault.column >= 1, "{fault}");
                prop_assert!(!fault.fault.to_string().is_empty());
            }
        }
        Ok(trace) => {
            let _ = trace.questions();
            if let Ok(circuit) = trace.circuit() {
                let conditions = Conditions {
                    frequencies: vec![Hertz(100.0), Hertz(3000.0)],
                    ..Conditions::of_trace(&trace)
                };
                if let Ok(explanation) = explain(&circuit, &conditions) {
                    prop_assert!(!explanation.states.is_empty());
                }
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Any one or two lines of a trace changed.
    #[test]
    fn a_trace_with_changed_lines_is_answered(
        trace in 0..TRACES.len(),
        changes in proptest::collection::vec(
            (any::<u16>(), any::<u8>(), any::<u16>(), proptest::sample::select(PIECES)),
            1..3,
        ),
    ) {
        let mut lines: Vec<String> = TRACES[trace].lines().map(str::to_owned).collect();
        for (which, how, at, piece) in changes {
            let which = usize::from(which) % lines.len();
            lines[which] = mutated(&lines[which], how, usize::from(at), piece);
        }
        answered(&lines.join("\n"))?;
    }

    /// Bytes that were never a text, whole and line by line.
    #[test]
    fn bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..2000)) {
        let text = String::from_utf8_lossy(&bytes);
        answered(&text)?;
        for line in text.lines() {
            let _ = read_line(line);
        }
    }
}

/// What a line was understood as reads back as the same.
fn assert_written_as_read(statement: Option<Statement>) {
    let Some(statement) = statement else { return };
    let again = read_line(&statement.to_string()).expect("a line that this program writes can be read");
    assert_eq!(again.statement, Some(statement));
}

/// Every line of every trace, with every piece at a few places in it.
#[test]
fn every_line_is_read_with_every_piece_in_it() {
    for line in TRACES.iter().flat_map(|text| text.lines()) {
        for piece in PIECES {
            for how in 0..6 {
                for at in [0, 7, line.chars().count()] {
                    match read_line(&mutated(line, how, at, piece)) {
                        Err(fault) => assert!(!fault.to_string().is_empty()),
                        Ok(read) => assert_written_as_read(read.statement),
                    }
                }
            }
        }
    }
}

/// A hundred thousand lines, right or wrong, are refused at the first one too many, and the wrong ones before it counted.
#[test]
fn a_hundred_thousand_lines_are_refused_at_once() {
    for line in
        ["join a.hot b.hot metered", "coli neck 7k2", "metal m", "switch s", "  at up: 1-2", "# nothing", ""]
    {
        let faults = Trace::read(&format!("{line}\n").repeat(100_000)).unwrap_err();
        let last = MOST_LINES + 1;
        assert!(faults.told.len() + faults.more <= last + MOST_LINES, "{line}: {}", faults.more);
        assert!(faults.told.iter().all(|fault| fault.line <= last), "{line}");
        let too_many = faults.told.iter().any(|fault| fault.fault == Fault::TooManyLines);
        assert!(too_many || faults.more > 0, "{line}");
    }
    // The most that is read: parts that are all right, each joined to the next.
    let half = MOST_LINES / 2;
    let parts: String = (0..half).map(|at| format!("metal m{at}\n")).collect();
    let joins: String = (1..half).map(|at| format!("join m{} m{at} metered\n", at - 1)).collect();
    let trace = Trace::read(&format!("{parts}{joins}jack jack\n")).unwrap();
    assert_eq!(trace.circuit().unwrap().joins().len(), half - 1);
}
