//! What wire is cut from what: first fit decreasing, the instrument's own wire first.

use asfound_measure::Millimetres;

use super::answer::{Cut, CutList, WirePiece};

/// A wire between lugs of two parts is taken to need this, slack and stripped ends within it (common practice, no
/// source). The run in the cavity decides; lay it out before cutting.
pub const USUAL_RUN: Millimetres = Millimetres(120.0);

/// A wire between lugs of one part is taken to need this (common practice, no source).
pub const SHORT_RUN: Millimetres = Millimetres(40.0);

/// Cuts pieces of these lengths: the longest first, each from the first piece at hand that is long enough, originals
/// before others and short ones before long ones; what fits nowhere is new wire.
///
/// First fit decreasing needs at most 11/9 of the fewest pieces, and 6/9 of one more (G. Dósa, LNCS 4614, 1, 2007).
pub(super) fn cut(wanted: &[(String, String, Millimetres)], wire: &[WirePiece]) -> CutList {
    let mut left: Vec<(usize, f64)> = wire.iter().enumerate().map(|(at, it)| (at, it.length.0)).collect();
    left.sort_by(|a, b| {
        let original = |at: usize| !wire[at].original;
        original(a.0).cmp(&original(b.0)).then(a.1.total_cmp(&b.1))
    });
    let mut order: Vec<&(String, String, Millimetres)> = wanted.iter().collect();
    order.sort_by(|a, b| b.2.0.total_cmp(&a.2.0));
    let mut list = CutList::default();
    for (a, b, length) in order {
        let fits = left.iter_mut().find(|(_, rest)| *rest >= length.0);
        let from = fits.map(|(at, rest)| {
            *rest -= length.0;
            *at
        });
        if from.is_none() {
            list.new_wire = Millimetres(list.new_wire.0 + length.0);
        }
        list.cuts.push(Cut { a: a.clone(), b: b.clone(), length: *length, from });
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(name: &str, length: f64, original: bool) -> WirePiece {
        WirePiece { name: name.to_owned(), length: Millimetres(length), original }
    }

    fn wanted(lengths: &[f64]) -> Vec<(String, String, Millimetres)> {
        lengths.iter().map(|&mm| ("a".to_owned(), "b".to_owned(), Millimetres(mm))).collect()
    }

    #[test]
    fn the_longest_is_cut_first_and_the_instruments_own_wire_before_other() {
        let wire = [piece("new black", 500.0, false), piece("green", 130.0, true), piece("red", 90.0, true)];
        let list = cut(&wanted(&[40.0, 120.0, 80.0, 300.0]), &wire);
        let from: Vec<Option<usize>> = list.cuts.iter().map(|cut| cut.from).collect();
        assert_eq!(from, [Some(0), Some(1), Some(2), Some(0)]);
        assert_eq!(list.new_wire, Millimetres(0.0));
    }

    #[test]
    fn what_fits_nowhere_is_new_wire() {
        let list = cut(&wanted(&[120.0, 120.0]), &[piece("green", 130.0, true)]);
        assert_eq!(list.cuts[0].from, Some(0));
        assert_eq!((list.cuts[1].from, list.new_wire), (None, Millimetres(120.0)));
    }
}
