//! Which lugs are joined for certain, and the letter that stands at each of them.

use std::collections::BTreeMap;

use super::{Circuit, Tip};
use crate::mark::Known;

/// Nets in the order in which their first join was traced.
pub(super) struct Nets {
    of: BTreeMap<Tip, usize>,
}

impl Nets {
    /// Joins that are not known join nothing; their standing end still has a net, so that its line has a letter.
    pub(super) fn of(circuit: &Circuit) -> Self {
        let mut of: BTreeMap<Tip, usize> = BTreeMap::new();
        let mut next = 0;
        for (_, join) in circuit.sound_joins() {
            let certain = if join.known == Known::Unknown { &[] } else { join.to.as_slice() };
            let tips: Vec<Tip> = [join.from].into_iter().chain(certain.iter().copied()).collect();
            let known: Vec<usize> = tips.iter().filter_map(|tip| of.get(tip).copied()).collect();
            let net = known.iter().copied().min().unwrap_or_else(|| {
                next += 1;
                next - 1
            });
            of.values_mut().filter(|other| known.contains(other)).for_each(|other| *other = net);
            of.extend(tips.into_iter().map(|tip| (tip, net)));
        }
        // Nets that were merged leave gaps in the count.
        let mut order: Vec<usize> = of.values().copied().collect();
        order.sort_unstable();
        order.dedup();
        of.values_mut().for_each(|net| *net = order.partition_point(|other| other < net));
        Self { of }
    }

    pub(super) fn net(&self, tip: Tip) -> Option<usize> {
        self.of.get(&tip).copied()
    }

    pub(super) fn letter(&self, tip: Tip) -> Option<String> {
        self.net(tip).map(letter)
    }
}

/// `A` to `Z`, then `AA`, `AB` and so on.
pub(super) fn letter(net: usize) -> String {
    let last = char::from(b'A' + (net % 26) as u8);
    match net / 26 {
        0 => last.to_string(),
        before => format!("{}{last}", letter(before - 1)),
    }
}
