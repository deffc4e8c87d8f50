//! The marks of a drawing one by one.

use asfound_plot::{Drawing, Mark};

/// Every mark of a drawing that is not a group.
pub(crate) fn leaves(drawing: &Drawing) -> Vec<&Mark> {
    fn collect<'a>(marks: &'a [Mark], into: &mut Vec<&'a Mark>) {
        for mark in marks {
            match mark {
                Mark::Group(inner) => collect(inner, into),
                other => into.push(other),
            }
        }
    }
    let mut all = Vec::new();
    collect(&drawing.marks, &mut all);
    all
}
