//! What several tests share. Each uses some of it.
#![allow(dead_code)]

use asfound_electric::explain::{Conditions, Explanation, explain};
use asfound_electric::trace::Trace;

/// The explanation of a trace under the usual conditions.
pub(crate) fn explained(text: &str) -> Explanation {
    let trace = Trace::read(text).unwrap_or_else(|faults| panic!("{faults}"));
    let circuit = trace.circuit().unwrap_or_else(|faults| panic!("{faults}"));
    explain(&circuit, &Conditions::of_trace(&trace)).unwrap()
}

/// Joins that are all metered, one a line, from `a b` lines.
pub(crate) fn joined(parts: &str, joins: &[(&str, &str)]) -> String {
    let joins = joins.iter().map(|(a, b)| format!("join {a} {b} metered\n"));
    format!("{parts}\njack jack\n{}", joins.collect::<String>())
}
