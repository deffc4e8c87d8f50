//! Lines of a trace put together from the fields of a form.
//!
//! What comes out is text and is read by the trace's own grammar, as if it had been typed: a field that holds nonsense
//! is answered there, with its place. A field left blank becomes [`BLANK`], so that the answer points at it.

use asfound_electric::Plan;

/// What stands in a line where a field was left blank.
pub const BLANK: &str = "?";

/// The sorts of part that a trace knows, as its lines open.
pub const SORTS: [&str; 9] =
    ["coil", "pot", "switch", "capacitor", "resistor", "choke", "jack", "metal", "post"];

/// The names of the contact plans that a switch may have.
pub fn plan_names() -> Vec<String> {
    Plan::names().collect()
}

/// How a join can be known, as its line says it.
pub const WAYS: [&str; 4] = ["metered", "seen", "matched", "unknown"];

/// The line of a join: `join neck.hot lever.a1 metered 0.4`. `to` may hold several ends with `or` between them. What is
/// said with it are the meter's ohms, where it was seen, why it was matched, or the odds of the ends.
pub fn join(from: &str, to: &str, how: &str, said: &str) -> String {
    let ends: Vec<String> = split_or(to).iter().map(|end| place(end)).collect();
    let (how, said) = (word(how), plain(said));
    let from = place(from);
    let to = ends.join(" or ");
    let line = match how.as_str() {
        "unknown" if !said.is_empty() => {
            let odds = said.strip_prefix("odds").unwrap_or(&said).trim().to_owned();
            format!("join {from} {to} odds {odds} unknown")
        }
        _ => format!("join {from} {to} {how} {said}"),
    };
    line.trim_end().to_owned()
}

/// The line of a part: `pot volume 250k audio`, or `switch lever five-way lever` where a plan was chosen.
pub fn part(sort: &str, name: &str, value: &str, plan: &str) -> String {
    let name = plain(name).replace(' ', "-");
    let name = if name.is_empty() { BLANK.to_owned() } else { name };
    let plan = if sort == "switch" { plain(plan) } else { String::new() };
    plain(&format!("{} {name} {plan} {value}", word(sort)))
}

/// Words with one blank between them.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn word(text: &str) -> String {
    let text = plain(text);
    if text.is_empty() { BLANK.to_owned() } else { text }
}

/// A lug's name; `neck hot`, as it is said, is `neck.hot`.
fn place(text: &str) -> String {
    let text = word(text);
    match text.split_once(' ') {
        Some((part, lug)) if !text.contains('.') && !lug.contains(' ') => format!("{part}.{lug}"),
        _ => text,
    }
}

/// The ends between which a lead's end is not known.
fn split_or(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.split(|word| word.eq_ignore_ascii_case("or")).map(|end| end.join(" ")).collect()
}
