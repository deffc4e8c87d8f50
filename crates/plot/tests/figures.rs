//! What a figure must hold whatever it is given: well formed, inside its box, no name on another, the same each time.

mod common;

use asfound_measure::{Celsius, Decibels, Hertz, Ohms};
use asfound_plot::{Anchor, Class, Curve, Drawing, Mark, Plot, Size, Style, css};
use common::leaves::leaves;
use common::{like_coils, rotary};
use proptest::prelude::*;

const SIZES: [Size; 2] = [Size::Narrow, Size::Wide];

/// A box around a text: left, top, right, bottom. The width goes by the mean advance of plain words with their blanks,
/// read from the faces: 0.55 of the type size in DejaVu Sans 2.37, 0.43 in Libertinus Serif Italic.
fn text_box(mark: &Mark, size: Size) -> Option<(f64, f64, f64, f64)> {
    let Mark::Text { class, at, anchor, text } = mark else { return None };
    let (height, mean) = match (class, size) {
        (Class::Label(_) | Class::MarkedLabel, Size::Narrow) => (15.0, 0.43),
        (Class::Label(_) | Class::MarkedLabel, Size::Wide) => (17.0, 0.43),
        (_, Size::Narrow) => (12.5, 0.55),
        (_, Size::Wide) => (14.0, 0.55),
    };
    let width = text.chars().count() as f64 * height * mean;
    let left = match anchor {
        Anchor::Start => at.x,
        Anchor::Middle => at.x - width / 2.0,
        Anchor::End => at.x - width,
    };
    Some((left, at.y - 0.75 * height, left + width, at.y + 0.2 * height))
}

fn check_texts(drawing: &Drawing, size: Size) {
    let boxes: Vec<_> = leaves(drawing).into_iter().filter_map(|mark| text_box(mark, size)).collect();
    for (index, one) in boxes.iter().enumerate() {
        assert!(one.0 >= -2.0 && one.2 <= drawing.width + 2.0, "cut off at a side: {one:?}");
        assert!(one.1 >= 0.0 && one.3 <= drawing.height, "cut off above or below: {one:?}");
        for other in &boxes[index + 1..] {
            let apart = one.0 >= other.2 || other.0 >= one.2 || one.1 >= other.3 || other.1 >= one.3;
            assert!(apart, "{one:?} lies on {other:?}");
        }
    }
}

fn check_places(drawing: &Drawing) {
    let inside = |x: f64, y: f64| {
        assert!(x.is_finite() && y.is_finite());
        assert!(
            (-0.1..=drawing.width + 0.1).contains(&x) && (-0.1..=drawing.height + 0.1).contains(&y),
            "{x} {y}"
        );
    };
    for mark in leaves(drawing) {
        match mark {
            Mark::Line { from, to, .. } => [from, to].into_iter().for_each(|point| inside(point.x, point.y)),
            Mark::Path { strokes, .. } => strokes.iter().flatten().for_each(|point| inside(point.x, point.y)),
            Mark::Circle { centre, .. } => inside(centre.x, centre.y),
            Mark::Area { outline, .. } => outline.iter().for_each(|point| inside(point.x, point.y)),
            Mark::Text { at, .. } => inside(at.x, at.y),
            Mark::Group(_) => {}
        }
    }
}

fn labels(drawing: &Drawing) -> usize {
    leaves(drawing).iter().filter(|mark| matches!(mark, Mark::Text { class: Class::Label(_), .. })).count()
}

#[test]
fn names_stand_in_the_box_and_off_each_other() {
    for plot in [rotary(), like_coils()] {
        for size in SIZES {
            let drawing = plot.drawing(size);
            check_texts(&drawing, size);
            check_places(&drawing);
        }
    }
    assert_eq!(labels(&rotary().drawing(Size::Wide)), 4);
    assert_eq!(labels(&rotary().drawing(Size::Narrow)), 4);
}

#[test]
fn curves_that_lie_on_each_other_are_named_in_a_key() {
    let curves = (0..7).map(|index| common::coil(&format!("tone {index}"), 4000.0, 2.0, 0.0, 0.0)).collect();
    let plot = Plot::response("Seven alike", "100 Hz", curves);
    for size in SIZES {
        let drawing = plot.drawing(size);
        check_texts(&drawing, size);
        assert_eq!(labels(&drawing), 7);
    }
}

#[test]
fn the_svg_is_well_formed_and_names_itself() {
    for size in SIZES {
        let page = rotary().svg(Style::Page { id: "re\"sponse 1" }, size);
        let tree = roxmltree::Document::parse(&page).expect("well formed");
        let root = tree.root_element();
        assert_eq!(root.attribute("role"), Some("img"));
        for id in root.attribute("aria-labelledby").expect("named").split(' ') {
            assert!(tree.descendants().any(|node| node.attribute("id") == Some(id) && node.text().is_some()));
        }
        let looks = ["fill", "stroke", "style", "font-size"];
        assert!(tree.descendants().all(|node| looks.iter().all(|name| node.attribute(*name).is_none())));

        let paper = rotary().svg(Style::Paper, size);
        let tree = roxmltree::Document::parse(&paper).expect("well formed");
        assert!(tree.descendants().all(|node| node.attribute("class").is_none()));
        let drawn = |name: &str| ["line", "path", "circle", "text"].contains(&name);
        let coloured = tree.descendants().filter(|node| drawn(node.tag_name().name()));
        assert!(
            coloured.clone().count() > 20 && coloured.clone().all(|node| node.attribute("fill").is_some())
        );
    }
}

#[test]
fn both_sizes_on_one_page_share_no_id() {
    let figure = format!("<div>{}{}</div>", rotary().figure("one"), like_coils().figure("two"));
    let tree = roxmltree::Document::parse(&figure).expect("well formed");
    let mut ids: Vec<&str> = tree.descendants().filter_map(|node| node.attribute("id")).collect();
    ids.sort_unstable();
    assert_eq!(ids.len(), 8);
    ids.dedup();
    assert_eq!(ids.len(), 8);
}

#[test]
fn the_style_sheet_knows_every_class_and_no_colour() {
    let sheet = css();
    for size in SIZES {
        for plot in [rotary(), like_coils()] {
            let page = plot.svg(Style::Page { id: "x" }, size);
            let tree = roxmltree::Document::parse(&page).expect("well formed");
            for class in tree.descendants().filter_map(|node| node.attribute("class")) {
                assert!(
                    sheet.contains(&format!(".{class}"))
                        || sheet.contains(&format!("[class^={}", &class[..5]))
                );
            }
        }
    }
    assert!(!sheet.contains('#') && !sheet.contains("rgb"));
}

#[test]
fn higher_frequencies_stand_further_right_and_higher_levels_further_up() {
    let rising = Curve::new(
        "rising",
        (1..100).map(|step| (Hertz(100.0 * f64::from(step)), Decibels(f64::from(step).sqrt()))),
    );
    for size in SIZES {
        let drawing = Plot::response("Rising", "", vec![rising.clone()]).drawing(size);
        for mark in leaves(&drawing) {
            if let Mark::Path { class: Class::Curve(_), strokes } = mark {
                assert!(strokes[0].windows(2).all(|pair| pair[0].x < pair[1].x && pair[0].y > pair[1].y));
            }
        }
    }
}

#[test]
fn what_is_not_there_is_said() {
    let empty = Plot::response(
        "Nothing",
        "",
        vec![Curve::new("silent", [(Hertz(100.0), Decibels(f64::NEG_INFINITY))])],
    );
    assert_eq!(empty.description(), "Level in decibels, from 50 Hz to 10 kHz: silent has no levels here.");
    assert_eq!(empty.table().rows[0], ["50 Hz", "not given"]);
    check_texts(&empty.drawing(Size::Narrow), Size::Narrow);
    assert_eq!(labels(&empty.drawing(Size::Wide)), 1);

    let none = Plot::strip::<Ohms>("None", "earlier readings", &[], Ohms(f64::NAN), "this coil");
    assert_eq!(none.description(), "No earlier readings; this coil has no value to mark.");
    check_places(&none.drawing(Size::Wide));
    check_texts(&none.drawing(Size::Wide), Size::Wide);
}

#[test]
fn a_figure_is_told_in_one_sentence_and_tabulated() {
    insta::assert_snapshot!("rotary_description", rotary().description());
    insta::assert_snapshot!("strip_description", like_coils().description());
    insta::assert_debug_snapshot!("rotary_table", rotary().table());
    assert_eq!(rotary().table_at(&[Hertz(3800.0)]).rows.len(), 1);
    let table = like_coils().table();
    assert_eq!((table.rows.len(), table.rows[0][1].as_str()), (24, "5.14"));
}

#[test]
fn the_same_data_draws_the_same_figure() {
    insta::assert_snapshot!("rotary_page_narrow", rotary().svg(Style::Page { id: "rotary" }, Size::Narrow));
    insta::assert_snapshot!("rotary_paper_wide", rotary().svg(Style::Paper, Size::Wide));
    insta::assert_snapshot!("strip_page_wide", like_coils().svg(Style::Page { id: "strip" }, Size::Wide));
    insta::assert_snapshot!("style_sheet", css());
}

#[test]
fn degrees_take_no_prefix_and_farads_do() {
    let rooms = Plot::strip("Rooms", "rooms", &[Celsius(18.0), Celsius(19.5)], Celsius(21.0), "the bench");
    assert!(rooms.table().header[1].ends_with("°C"));
    let caps = [22e-9, 47e-9].map(asfound_measure::Farads);
    let caps = Plot::strip("Tone", "earlier readings", &caps, asfound_measure::Farads(31e-9), "this one");
    assert!(caps.table().header[1].ends_with("nF"));
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![8 => -80.0..40.0_f64, 1 => any::<f64>(), 1 => Just(0.0)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is computed, typed or broken: the figure is drawn, well formed, finite, and inside its box.
    #[test]
    fn any_curves_are_drawn(
        curves in proptest::collection::vec(
            (".{0,40}", proptest::collection::vec((prop_oneof![9 => 20.0..20e3_f64, 1 => any::<f64>()], any_number()), 0..40)),
            0..8,
        ),
        reference in ".{0,60}",
    ) {
        let curves = curves.into_iter().map(|(label, points)| {
            Curve::new(label, points.into_iter().map(|(f, level)| (Hertz(f), Decibels(level))))
        });
        let plot = Plot::response("Any <title> & such", reference, curves.collect());
        for size in SIZES {
            check_places(&plot.drawing(size));
            for style in [Style::Page { id: "any" }, Style::Paper] {
                let svg = plot.svg(style, size);
                prop_assert!(roxmltree::Document::parse(&svg).is_ok());
                prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
    }

    /// The same for a strip.
    #[test]
    fn any_strip_is_drawn(values in proptest::collection::vec(any_number(), 0..60), marked in any::<f64>(), name in ".{0,60}") {
        let values: Vec<Ohms> = values.into_iter().map(Ohms).collect();
        let plot = Plot::strip("Any", "readings", &values, Ohms(marked), name);
        for size in SIZES {
            check_places(&plot.drawing(size));
            let svg = plot.svg(Style::Page { id: "any" }, size);
            prop_assert!(roxmltree::Document::parse(&svg).is_ok());
        }
    }
}

/// A band lies behind every line, inside the frame, and whoever does not see it reads it.
#[test]
fn a_band_is_drawn_told_and_tabulated() {
    let line = common::coil("neck", 3800.0, 1.9, 0.0, 0.0);
    let points: Vec<_> =
        common::frequencies().map(Hertz).filter_map(|at| Some((at, line.level_at(at)?))).collect();
    let band = points.iter().map(|&(at, level)| (at, Decibels(level.0 - 70.0), Decibels(level.0 + 2.0)));
    let plot = Plot::response("With tolerances", "", vec![line.clone().between(band), line]);
    for size in SIZES {
        let drawing = plot.drawing(size);
        check_places(&drawing);
        let marks = leaves(&drawing);
        let place = |wanted: fn(&Mark) -> bool| marks.iter().position(|mark| wanted(mark)).unwrap();
        let band = place(|mark| matches!(mark, Mark::Area { class: Class::Band(_), .. }));
        assert!(band < place(|mark| matches!(mark, Mark::Path { class: Class::Curve(_), .. })));
    }
    let paper = plot.svg(Style::Paper, Size::Wide);
    assert!(paper.contains("fill-opacity") && !paper.contains("class="));
    assert!(plot.svg(Style::Page { id: "b" }, Size::Wide).contains("class=\"band-a\""));
    assert!(css().contains(".plot .band-a{fill:var(--a)"));
    assert!(plot.description().contains("and may lie between −"), "{}", plot.description());
    let header = ["frequency", "neck, dB", "neck, low, dB", "neck, high, dB", "neck, dB"];
    assert_eq!(plot.table().header, header);
    assert!(plot.table().rows.iter().all(|row| row.len() == header.len()));
}

/// A knob's way has its own axis; silence at its end is cut off, not drawn.
#[test]
fn levels_over_a_turn_have_an_axis_of_their_own() {
    let way = |label: &str, middle: f64| {
        let levels = [(0.0, -200.0), (5.0, middle), (10.0, 0.0)];
        Curve::over_turn(label, levels.map(|(turn, level)| (turn, Decibels(level))))
    };
    let plot =
        Plot::over_turn("The volume on its way", "full up", vec![way("bent", -16.0), way("even", -6.0)]);
    for size in SIZES {
        check_places(&plot.drawing(size));
        check_texts(&plot.drawing(size), size);
        assert_eq!(labels(&plot.drawing(size)), 2);
    }
    assert!(plot.description().contains("bent is highest with 0.0 dB at turn 10"), "{}", plot.description());
    let table = plot.table();
    assert_eq!((table.header[0].as_str(), table.rows.len()), ("turn", 11));
    assert_eq!(table.rows[5], ["turn 5", "−16.0", "−6.0"]);
}
