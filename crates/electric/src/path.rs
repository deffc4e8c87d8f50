//! Which branches of a graph lie on some simple path between two of its points.

/// An edge between two points, by number.
pub(crate) type Edge = (usize, usize);

/// For each edge, whether a path from `from` to `to` that visits no point twice runs through it.
///
/// Add an edge from `from` to `to`: the edges asked for are those in its block, the biconnected component
/// that holds it (Hopcroft and Tarjan, Communications of the ACM 16, 372, 1973). The search keeps its own
/// stack, so its depth is not bounded by the machine's. `from` and `to` must differ; edges from a point to
/// itself are on no path.
pub(crate) fn on_simple_path(points: usize, edges: &[Edge], from: usize, to: usize) -> Vec<bool> {
    let (starts, around) = neighbours(points, edges);
    let added = edges.len(); // number of the edge from `from` to `to`
    let mut found = vec![0_usize; points]; // order in which a point was found; 0 is not yet
    let mut lowest = vec![0_usize; points];
    let mut next: Vec<usize> = starts[..points].to_vec();
    let mut on_path = vec![false; edges.len()];
    let mut open_edges: Vec<usize> = Vec::new();
    let mut trail = vec![(to, added, 0)]; // point, edge it was found by, open edges at that time
    (found[from], lowest[from]) = (1, 1);
    (found[to], lowest[to]) = (2, 1); // the added edge leads back to `from`
    let mut order = 2;
    while let Some(&(point, by, opened)) = trail.last() {
        if next[point] < starts[point + 1] {
            let (edge, other) = around[next[point]];
            next[point] += 1;
            if edge == by {
                continue;
            }
            if found[other] == 0 {
                order += 1;
                (found[other], lowest[other]) = (order, order);
                trail.push((other, edge, open_edges.len()));
                open_edges.push(edge);
            } else if found[other] < found[point] {
                open_edges.push(edge);
                lowest[point] = lowest[point].min(found[other]);
            }
            continue;
        }
        trail.pop();
        if let Some(&(parent, _, _)) = trail.last() {
            if lowest[point] >= found[parent] {
                open_edges.truncate(opened); // a block that hangs on `parent` alone
            }
            lowest[parent] = lowest[parent].min(lowest[point]);
        }
    }
    for edge in open_edges {
        on_path[edge] = true;
    }
    on_path
}

/// For each point the edges at it and the points they lead to, as slices of one list.
fn neighbours(points: usize, edges: &[Edge]) -> (Vec<usize>, Vec<(usize, usize)>) {
    let mut starts = vec![0; points + 1];
    for &(a, b) in edges.iter().filter(|(a, b)| a != b) {
        starts[a + 1] += 1;
        starts[b + 1] += 1;
    }
    for point in 0..points {
        starts[point + 1] += starts[point];
    }
    let mut free = starts.clone();
    let mut around = vec![(0, 0); starts[points]];
    for (edge, &(a, b)) in edges.iter().enumerate().filter(|(_, (a, b))| a != b) {
        for (here, there) in [(a, b), (b, a)] {
            around[free[here]] = (edge, there);
            free[here] += 1;
        }
    }
    (starts, around)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The definition itself: walk every simple path.
    fn by_walking(points: usize, edges: &[Edge], from: usize, to: usize) -> Vec<bool> {
        fn walk(
            at: usize,
            to: usize,
            edges: &[Edge],
            seen: &mut [bool],
            trail: &mut Vec<usize>,
            on: &mut [bool],
        ) {
            if at == to {
                trail.iter().for_each(|&edge| on[edge] = true);
                return;
            }
            seen[at] = true;
            for (edge, &(a, b)) in edges.iter().enumerate() {
                let other = if a == at { b } else { a };
                if (a == at || b == at) && !seen[other] {
                    trail.push(edge);
                    walk(other, to, edges, seen, trail, on);
                    trail.pop();
                }
            }
            seen[at] = false;
        }
        let mut on = vec![false; edges.len()];
        walk(from, to, edges, &mut vec![false; points], &mut Vec::new(), &mut on);
        on
    }

    proptest! {
        #[test]
        fn agrees_with_walking_every_path(
            edges in prop::collection::vec((0_usize..7, 0_usize..7), 0..13),
            ends in (0_usize..7, 1_usize..7),
        ) {
            let (from, to) = (ends.0, (ends.0 + ends.1) % 7);
            prop_assert_eq!(on_simple_path(7, &edges, from, to), by_walking(7, &edges, from, to));
        }
    }

    #[test]
    fn a_chain_of_a_hundred_thousand_needs_no_deep_stack() {
        let edges: Vec<Edge> = (0..100_000).map(|point| (point, point + 1)).collect();
        assert!(on_simple_path(100_001, &edges, 0, 100_000).iter().all(|&on| on));
    }
}
