//! What the drawing of a circuit must hold whatever it is given: every lug and every text in the frame, no text on a
//! part, each join one line from lug to lug, the same each time, and from the front the mirror image.

#[path = "common/bass.rs"]
mod bass;
#[path = "common/leaves.rs"]
mod leaves;

use asfound_plot::circuit::{Circuit, Join, MOST_PARTS, Outline, Side, Tip, View};
use asfound_plot::{Class, Drawing, Known, Mark, Plot, Point, Size, Style, css};
use bass::{bass, joins, part};
use leaves::leaves;
use proptest::prelude::*;

const SIZES: [Size; 2] = [Size::Narrow, Size::Wide];

fn drawn(circuit: &Circuit, size: Size) -> Drawing {
    Plot::circuit(circuit.clone()).drawing(size)
}

fn lugs(drawing: &Drawing) -> Vec<Point> {
    let lug = |mark: &&Mark| match mark {
        Mark::Circle { class: Class::Lug, centre, .. } => Some(*centre),
        _ => None,
    };
    leaves(drawing).iter().filter_map(lug).collect()
}

/// The lines of each join, in the order of the joins.
fn wires(drawing: &Drawing) -> Vec<(Known, Vec<Vec<Point>>)> {
    let wire = |mark: &&Mark| match mark {
        Mark::Path { class: Class::Wire(_, known), strokes } => Some((*known, strokes.clone())),
        _ => None,
    };
    leaves(drawing).iter().filter_map(wire).collect()
}

fn is_near(a: Point, b: Point, by: f64) -> bool {
    (a.x - b.x).abs() <= by && (a.y - b.y).abs() <= by
}

/// Where the lugs of each part begin in the list of all lugs.
fn lug_at(circuit: &Circuit, tip: Tip) -> usize {
    circuit.parts[..tip.part].iter().map(|part| part.lugs.len()).sum::<usize>() + tip.lug
}

/// All that holds for every drawing.
fn check(circuit: &Circuit, size: Size) {
    let drawing = drawn(circuit, size);
    let lugs = lugs(&drawing);
    assert_eq!(lugs.len(), circuit.parts.iter().map(|part| part.lugs.len()).sum::<usize>());
    for lug in &lugs {
        assert!(lug.x > 0.0 && lug.x < drawing.width && lug.y > 0.0 && lug.y < drawing.height);
    }
    let wires = wires(&drawing);
    assert_eq!(wires.len(), circuit.joins.len(), "each join is one line");
    for (join, (known, strokes)) in circuit.joins.iter().zip(&wires) {
        assert_eq!(join.known, *known);
        assert_eq!(strokes.len(), join.to.len() + usize::from(join.or_nothing));
        let from = lugs[lug_at(circuit, join.from)];
        for (stroke, to) in strokes.iter().zip(&join.to) {
            assert!(is_near(stroke[0], from, 1e-9), "a line begins at its lug");
            let end = stroke.last().copied().expect("a line has points");
            assert!(is_near(end, lugs[lug_at(circuit, *to)], 1e-9), "and ends at its lug");
        }
        let touched: Vec<usize> =
            [join.from].iter().chain(&join.to).map(|tip| lug_at(circuit, *tip)).collect();
        for (at, lug) in lugs.iter().enumerate().filter(|(at, _)| !touched.contains(at)) {
            let through = strokes.iter().flatten().any(|point| is_near(*point, *lug, 2.0));
            assert!(!through, "a line bends on lug {at}, which it does not touch");
        }
    }
    check_texts(circuit, &drawing, size);
}

/// Texts stand in the frame; what is beside a wire stands on no part.
fn check_texts(circuit: &Circuit, drawing: &Drawing, size: Size) {
    let high = if size == Size::Narrow { 11.0 } else { 13.6 };
    for mark in leaves(drawing) {
        if let Mark::Text { at, .. } = mark {
            assert!(at.x >= 0.0 && at.x <= drawing.width && at.y > 0.5 * high && at.y < drawing.height);
        }
    }
    let beside = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Text { class: Class::WireName(_), at, .. } => Some(Point::new(at.x, at.y - 0.3 * high)),
        _ => None,
    });
    let discs: Vec<(Point, f64)> = leaves(drawing)
        .iter()
        .filter_map(|mark| match mark {
            Mark::Circle { class: Class::Outline, centre, radius } => Some((*centre, *radius)),
            _ => None,
        })
        .collect();
    // A question mark is set even where the wires leave no good room; that may be on a line, and never on a part.
    for text in beside {
        let on = discs.iter().any(|(at, radius)| {
            let (x, y) = (text.x - at.x, text.y - at.y);
            (x * x + y * y).sqrt() < radius - 1.0
        });
        assert!(!on || circuit.parts.len() > 12, "a text of a wire stands on a part: {text:?}");
    }
}

#[test]
fn the_bass_is_drawn_and_no_two_wires_share_a_lane() {
    for size in SIZES {
        check(&bass(), size);
    }
    let both = wires(&drawn(&bass(), Size::Wide));
    let unknown: Vec<usize> =
        both.iter().filter(|(known, _)| *known == Known::Unknown).map(|(_, strokes)| strokes.len()).collect();
    assert_eq!(unknown, [2, 2], "a lead that is not known has a line to each end it may have");
}

#[test]
fn seen_from_the_front_it_is_the_mirror_image() {
    let back = bass();
    let front = Circuit { view: View { side: Side::Front, ..View::default() }, ..bass() };
    for size in SIZES {
        let (back, front) = (drawn(&back, size), drawn(&front, size));
        assert_eq!((back.width, back.height), (front.width, front.height));
        for (one, other) in lugs(&back).iter().zip(lugs(&front)) {
            assert!(is_near(Point::new(back.width - one.x, one.y), other, 1e-9));
        }
        for ((_, one), (_, other)) in wires(&back).iter().zip(wires(&front)) {
            for (one, other) in one.iter().flatten().zip(other.iter().flatten()) {
                assert!(is_near(Point::new(back.width - one.x, one.y), *other, 1e-9));
            }
        }
    }
}

#[test]
fn for_the_left_hand_the_parts_change_sides_and_stay_as_they_are_built() {
    let left = Circuit { view: View { left_handed: true, ..View::default() }, ..bass() };
    let (left, right) = (drawn(&left, Size::Wide), drawn(&bass(), Size::Wide));
    let volume = |drawing: &Drawing| {
        let first = lug_at(&bass(), Tip { part: 6, lug: 0 });
        let lugs = lugs(drawing);
        (lugs[first + 1], lugs[first + 2].x - lugs[first].x)
    };
    let ((left_wiper, left_row), (right_wiper, right_row)) = (volume(&left), volume(&right));
    assert!((left_wiper.x - (right.width - right_wiper.x)).abs() < 1e-9);
    assert!((left_row - right_row).abs() < 1e-9);
}

#[test]
fn marked_parts_stand_as_the_photograph_shows_them() {
    let mut circuit = bass();
    for (name, x, y) in [("volume", 0.2, 0.5), ("tone", 0.8, 0.55), ("rotary", 0.5, 0.1), ("jack", 0.5, 0.9)]
    {
        let part = circuit.parts.iter_mut().find(|part| part.name == name).expect("the part is there");
        part.place = Some(Point::new(x, y));
    }
    for size in SIZES {
        check(&circuit, size);
        let lugs = lugs(&drawn(&circuit, size));
        let wiper = |part: usize| lugs[lug_at(&circuit, Tip { part, lug: 1 })];
        let (volume, tone, rotary, jack) = (wiper(6), wiper(7), wiper(8), wiper(11));
        assert!(volume.x < tone.x && rotary.y < volume.y && jack.y > volume.y);
    }
}

#[test]
fn letters_stand_for_what_is_joined_for_certain() {
    let circuit = bass();
    let letter = |part: usize, lug: usize| circuit.letter(Tip { part, lug });
    assert_eq!(letter(0, 0), letter(8, 1), "neck hot and the first throw");
    assert_eq!(letter(10, 0), letter(6, 0), "strings and the ground lug of the volume pot");
    assert_eq!(letter(8, 4), None, "a throw that a cut lead may go to");
    let table = Plot::circuit(circuit).table();
    assert_eq!(table.rows[0], ["A", "neck.hot", "rotary.a1", "metered 0.4"]);
    assert_eq!(table.rows[9][2], "rotary.a4 or nothing");
}

#[test]
fn it_is_told_for_somebody_who_does_not_see_it() {
    insta::assert_snapshot!("bass_description", Plot::circuit(bass()).description());
}

#[test]
fn the_same_circuit_makes_the_same_drawing() {
    insta::assert_snapshot!("bass_paper_wide", Plot::circuit(bass()).svg(Style::Paper, Size::Wide));
    insta::assert_snapshot!(
        "bass_page_narrow",
        Plot::circuit(bass()).svg(Style::Page { id: "bass" }, Size::Narrow)
    );
    let sheet = css();
    let page = Plot::circuit(bass()).figure("bass");
    let tree = roxmltree::Document::parse(&page).expect("well formed");
    for class in tree.descendants().filter_map(|node| node.attribute("class")) {
        // How a join is known is a second name; a solid line needs no rule for it.
        let class = class.split(' ').next().unwrap_or(class);
        let begins = class.split('-').next().unwrap_or(class);
        assert!(
            sheet.contains(&format!(".{class}")) || sheet.contains(&format!("[class^={begins}")),
            "{class}"
        );
    }
}

#[test]
fn too_much_for_one_drawing_is_not_drawn_and_still_told() {
    let parts =
        (0..=MOST_PARTS).map(|at| part(&format!("s{at}"), "", Outline::Switch, &["1", "2", "3"])).collect();
    let circuit = Circuit { parts, ..Circuit::default() };
    assert!(!circuit.can_be_drawn());
    assert!(drawn(&circuit, Size::Wide).marks.is_empty());
    assert!(Plot::circuit(circuit).description().contains("s60"));
}

#[test]
fn a_join_to_what_is_not_there_is_left_out() {
    let parts = vec![
        part("c", "47n", Outline::Capacitor, &["a", "b"]),
        part("jack", "", Outline::Jack, &["tip", "sleeve"]),
    ];
    let mut all = joins(&parts, &["c.a jack.tip metered"]);
    all.push(Join { from: Tip { part: 7, lug: 0 }, ..all[0].clone() });
    let drawing = drawn(&Circuit { parts, joins: all, ..Circuit::default() }, Size::Narrow);
    assert_eq!(wires(&drawing).len(), 1);
}

/// Any part: an outline and as many lugs as a part of its kind may have.
fn any_part() -> impl Strategy<Value = (Outline, usize, String)> {
    use Outline::{
        Capacitor, Choke, Coil, Jack, Lever, Plate, Post, Pot, PushPull, Resistor, Rotary, Slide, Strings,
        Switch, Toggle,
    };
    let some = |outline, lugs| (Just(outline), lugs, "[a-z]{1,9}");
    prop_oneof![
        some(Coil, 2..4_usize),
        some(Pot, 4..5),
        some(Slide, 6..7),
        some(PushPull, 6..7),
        some(Lever, 3..13),
        some(Rotary, 3..14),
        some(Toggle, 6..7),
        some(Switch, 1..20),
        some(Capacitor, 2..3),
        some(Resistor, 2..3),
        some(Choke, 2..3),
        some(Jack, 2..3),
        some(Strings, 1..2),
        some(Plate, 1..2),
        some(Post, 1..20),
    ]
}

fn any_circuit() -> impl Strategy<Value = Circuit> {
    let known = (0..4_usize).prop_map(|at| Known::ALL[at]);
    let join = (any::<u32>(), any::<u32>(), any::<u32>(), known, any::<bool>(), "[0-9.]{0,4}");
    let spot = proptest::option::weighted(0.3, (0.0..1.0_f64, 0.0..1.0_f64));
    let parts = proptest::collection::vec((any_part(), spot), 2..10);
    (parts, proptest::collection::vec(join, 0..20)).prop_map(|(parts, joins)| {
        let parts: Vec<_> = parts
            .into_iter()
            .map(|((outline, count, name), place)| {
                let lugs: Vec<String> = (1..=count).map(|lug| lug.to_string()).collect();
                let lugs: Vec<&str> = lugs.iter().map(String::as_str).collect();
                let place = place.map(|(x, y)| Point::new(x, y));
                asfound_plot::circuit::Part { place, ..part(&name, "500k", outline, &lugs) }
            })
            .collect();
        let tips: Vec<Tip> = parts
            .iter()
            .enumerate()
            .flat_map(|(at, part)| (0..part.lugs.len()).map(move |lug| Tip { part: at, lug }))
            .collect();
        let tip = |at: u32| tips[at as usize % tips.len()];
        let joins = joins
            .into_iter()
            .filter(|(from, to, ..)| tip(*from) != tip(*to))
            .map(|(from, to, other, known, loose, note)| {
                let unknown = known == Known::Unknown;
                let or_nothing = unknown && loose;
                let mut to = vec![tip(to)];
                if unknown && !loose && tip(other) != to[0] && tip(other) != tip(from) {
                    to.push(tip(other));
                }
                Join { from: tip(from), to, or_nothing, known, note, said: known.words().to_owned() }
            })
            .collect();
        Circuit { title: "Any".to_owned(), parts, joins, view: View::default() }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_circuit_is_drawn(circuit in any_circuit()) {
        for size in SIZES {
            check(&circuit, size);
            let svg = Plot::circuit(circuit.clone()).svg(Style::Paper, size);
            prop_assert!(roxmltree::Document::parse(&svg).is_ok());
            prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
            prop_assert_eq!(svg, Plot::circuit(circuit.clone()).svg(Style::Paper, size));
        }
    }
}
