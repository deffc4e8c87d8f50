//! The lugs of the traced circuit by name, and what is joined to each as the trace says it.
//!
//! For whoever names a lug by hand: names are completed from here, and a lug that is joined already says so.

use asfound_record::Job;

use crate::wiring::{HowKnown, Statement, statements};

/// A lug of the traced circuit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lug {
    /// Its name as a trace writes it: `lever.a1`, or `strings` for a part with one terminal.
    pub name: String,
    /// What the trace joins to it, in the order of the trace.
    pub joined: Vec<Joined>,
}

/// One end that a lug is joined to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Joined {
    /// The lug at the other end, or `nothing`.
    pub to: String,
    /// Whether it is one of several ends, of which one is true.
    pub perhaps: bool,
}

/// Every lug of the job's trace, in the order of the trace. Lines that cannot be read are passed over.
pub fn known(job: &Job) -> Vec<Lug> {
    let mut lugs: Vec<Lug> = Vec::new();
    let mut written_out = None;
    for statement in statements(job) {
        if let Statement::Lugs(names) = &statement {
            let switch: &str = written_out.as_deref().unwrap_or_default();
            add(&mut lugs, names.iter().map(|lug| format!("{switch}.{lug}")));
        }
        let Some((_, part)) = statement.part() else { continue };
        match &statement {
            Statement::Metal { .. } => add(&mut lugs, [part.to_owned()]),
            _ => add(&mut lugs, statement.terminals().iter().map(|lug| format!("{part}.{lug}"))),
        }
        written_out = Some(part.to_owned());
    }
    for statement in statements(job) {
        let Statement::Join(join) = statement else { continue };
        let (from, perhaps) = (join.from.to_string(), join.how == HowKnown::Unknown);
        for to in join.to.iter().map(ToString::to_string) {
            for (one, other) in [(&from, &to), (&to, &from)] {
                if let Some(lug) = find(&lugs, one) {
                    lugs[lug].joined.push(Joined { to: other.clone(), perhaps });
                }
            }
        }
    }
    lugs
}

fn add(lugs: &mut Vec<Lug>, names: impl IntoIterator<Item = String>) {
    lugs.extend(names.into_iter().map(|name| Lug { name, joined: Vec::new() }));
}

/// The place in the list of the lug with this name. Capitals and small letters are alike, and a piece of metal may be
/// named with its `case`.
pub fn find(lugs: &[Lug], name: &str) -> Option<usize> {
    let called = |wanted: &str| lugs.iter().position(|lug| lug.name.eq_ignore_ascii_case(wanted));
    called(name).or_else(|| called(name.strip_suffix(".case")?))
}

/// The part that a lug belongs to: what stands before the point.
pub fn part_of(lug: &str) -> &str {
    lug.split_once('.').map_or(lug, |(part, _)| part)
}

/// The lug alone: what stands behind the point, or the whole name of a part with one terminal.
pub fn lug_of(lug: &str) -> &str {
    lug.split_once('.').map_or(lug, |(_, lug)| lug)
}

/// How much a slip of the hand may change in a name.
const MOST_SLIPS: usize = 2;

/// What a name that the trace does not know was most likely meant to be; `None` where nothing is spelt like it.
pub fn nearest(lugs: &[Lug], name: &str) -> Option<String> {
    let name = name.to_lowercase();
    let apart = |lug: &Lug| strsim::osa_distance(&name, &lug.name.to_lowercase());
    lugs.iter()
        .filter(|lug| apart(lug) <= MOST_SLIPS)
        .min_by_key(|lug| apart(lug))
        .map(|lug| lug.name.clone())
}
