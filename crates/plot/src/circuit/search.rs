//! Which plan is drawn: of several orders and widths of the lanes, the one whose wires are told apart best.

use super::Circuit;
use super::nets::Nets;
use super::place::{Layout, Room, Turned, is_marked, marked, rank, rows};
use super::route::{Laid, Wanted, lay};
use crate::mark::{Known, Point, Size};

/// Free lanes between rows that are tried, in turn, until no wire has to share another's lane.
const LANES: [f64; 4] = [6.0, 9.0, 12.0, 16.0];
/// Rounds of changing places before a plan is taken as it is.
const MOST_ROUNDS: usize = 40;
/// From so many parts on, the plan by rule stands without changes: trying them all would take seconds.
const FEW: usize = 30;

/// The layout and its wires, seen from the back; and the wires as they were wanted.
pub(super) fn best(circuit: &Circuit, nets: &Nets, size: Size) -> (Layout, Laid, Vec<Wanted>) {
    let room = Room::new(circuit, nets, size);
    let wanted = wanted(circuit, nets);
    let ruled = by_rule(circuit);
    let orders = match circuit.parts.len() {
        ..=FEW => vec![improved(&room, &ruled, &wanted), ruled],
        _ => vec![ruled],
    };
    let by_photograph = is_marked(circuit);
    let mut best: Option<((usize, usize, usize), Layout, Laid)> = None;
    for order in &orders {
        for lanes in LANES {
            let layout = if by_photograph { marked(&room, order, lanes) } else { rows(&room, order, lanes) };
            let laid = lay(&layout, room.scale.pitch, &wanted);
            let judged = (laid.shared, laid.crossings, laid.length);
            let told_apart = laid.shared == 0;
            if best.as_ref().is_none_or(|(least, ..)| judged < *least) {
                best = Some((judged, layout, laid));
            }
            if told_apart {
                break;
            }
        }
    }
    let (_, layout, laid) = best.unwrap_or_else(|| {
        let layout = rows(&room, &[], LANES[0]);
        ((0, 0, 0), layout, Laid::default())
    });
    if circuit.view.left_handed {
        let layout = hands_changed(layout);
        let laid = lay(&layout, room.scale.pitch, &wanted);
        return (layout, laid, wanted);
    }
    (layout, laid, wanted)
}

/// The parts change sides, and each stays as it is built.
fn hands_changed(mut layout: Layout) -> Layout {
    for stand in &mut layout.stands {
        stand.at.x = layout.width - stand.at.x;
    }
    layout
}

fn wanted(circuit: &Circuit, nets: &Nets) -> Vec<Wanted> {
    let mut wanted = Vec::new();
    for (at, join) in circuit.sound_joins() {
        let net = nets.net(join.from).unwrap_or(usize::MAX);
        // A line that is not known is on no lane but its own.
        let net = if join.known == Known::Unknown { usize::MAX - 1 - at } else { net };
        let wire = |to| Wanted { join: at, net, from: join.from, to };
        wanted.extend(join.to.iter().map(|to| wire(Some(*to))));
        wanted.extend(join.or_nothing.then(|| wire(None)));
    }
    wanted
}

/// Strings and plates, coils, what comes between, pots, the jack; in each the order of the trace.
fn by_rule(circuit: &Circuit) -> Vec<Turned> {
    let mut order: Vec<Turned> = (0..circuit.parts.len()).map(|part| (part, 0)).collect();
    order.sort_by_key(|(part, _)| rank(&circuit.parts[*part]));
    order
}

/// Changes places and turns parts round as long as that shortens the wires.
fn improved(room: &Room<'_>, order: &[Turned], wanted: &[Wanted]) -> Vec<Turned> {
    let mut order = order.to_vec();
    let mut least = span(room, &order, wanted);
    let level = |turned: Turned| match rank(&room.circuit.parts[turned.0]) {
        0 | 1 => 0,
        4 => 2,
        _ => 1,
    };
    for _ in 0..MOST_ROUNDS {
        let mut better = false;
        for one in 0..order.len() {
            if room.may_turn(order[one].0) {
                order[one].1 = 4 - order[one].1;
                let span = span(room, &order, wanted);
                if span < least - 1e-9 {
                    (least, better) = (span, true);
                } else {
                    order[one].1 = 4 - order[one].1;
                }
            }
            for other in one + 1..order.len() {
                if level(order[one]) != level(order[other]) {
                    continue;
                }
                order.swap(one, other);
                let span = span(room, &order, wanted);
                if span < least - 1e-9 {
                    (least, better) = (span, true);
                } else {
                    order.swap(one, other);
                }
            }
        }
        if !better {
            break;
        }
    }
    order
}

/// How long the wires will be, about: across and down, and round the part where a lug looks the other way.
fn span(room: &Room<'_>, order: &[Turned], wanted: &[Wanted]) -> f64 {
    let layout = rows(room, order, LANES[0]);
    let lug = |tip: super::Tip| (layout.lug(tip), layout.stands[tip.part].shape.spots[tip.lug].out);
    let detour = |out: Point, dx: f64, dy: f64| {
        if out.x * dx + out.y * dy < 0.0 { 8.0 * room.scale.pitch } else { 0.0 }
    };
    wanted
        .iter()
        .filter_map(|wire| Some((wire.from, wire.to?)))
        .map(|(from, to)| {
            let ((a, a_out), (b, b_out)) = (lug(from), lug(to));
            let (dx, dy) = (b.x - a.x, b.y - a.y);
            dx.abs() + dy.abs() + detour(a_out, dx, dy) + detour(b_out, -dx, -dy)
        })
        .sum()
}
