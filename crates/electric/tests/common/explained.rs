//! What several tests share.

use asfound_electric::explain::{Conditions, Explanation, explain};
use asfound_electric::trace::Trace;

/// The explanation of a trace under the usual conditions.
pub(crate) fn explained(text: &str) -> Explanation {
    let trace = Trace::read(text).unwrap_or_else(|faults| panic!("{faults}"));
    let circuit = trace.circuit().unwrap_or_else(|faults| panic!("{faults}"));
    explain(&circuit, &Conditions::of_trace(&trace)).unwrap()
}
