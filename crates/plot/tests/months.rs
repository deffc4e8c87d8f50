//! What a strip of months must hold: in its box, its ink true to the shares, light, told and tabulated.

#[path = "common/leaves.rs"]
mod leaves;

use asfound_plot::{Class, Drawing, Mark, MonthRow, Plot, Size, Style, css};
use leaves::leaves;
use proptest::prelude::*;

const SIZES: [Size; 2] = [Size::Narrow, Size::Wide];
const YEARS: usize = 30;

/// Shares that rise at once in a month and then fall by a sixth each month.
fn falling(peaks: &[usize]) -> Vec<f64> {
    let mut shares = vec![0.0; 12 * YEARS];
    for peak in peaks {
        let mut share = 1.0;
        for held in shares.iter_mut().skip(*peak) {
            *held += share;
            share *= 5.0 / 6.0;
        }
    }
    shares
}

/// A whole and its parts from 1950 to 1979: two readings ten years apart, a plain part, one that came later, one that
/// says nothing, one dated by its material alone.
fn instrument() -> Plot {
    let whole = MonthRow::new("the whole", falling(&[79, 199])).within([78..=88, 198..=208]);
    let mut stamp = vec![0.0; 12 * YEARS];
    (stamp[77], stamp[78], stamp[197]) = (0.6, 0.4, 1.0);
    let parts = vec![
        MonthRow::new("volume control", stamp).within([77..=78, 197..=197]),
        MonthRow::new("output transformer with its long name", falling(&[78, 198])),
        MonthRow::new("choke", falling(&[265])).within([265..=276]),
        MonthRow::new("neck", vec![1.0; 12 * YEARS]),
        MonthRow::new("film capacitor", falling(&[150])).not_before(150),
        MonthRow::new("speaker", vec![0.0; 12 * YEARS]),
    ];
    Plot::months("When its parts were made", 1950, whole, parts)
}

fn check_places(drawing: &Drawing) {
    let inside = |x: f64, y: f64| {
        let fits = (-0.1..=drawing.width + 0.1).contains(&x) && (-0.1..=drawing.height + 0.1).contains(&y);
        assert!(fits, "{x} {y} in {} by {}", drawing.width, drawing.height);
    };
    for mark in leaves(drawing) {
        match mark {
            Mark::Line { from, to, .. } => [from, to].into_iter().for_each(|point| inside(point.x, point.y)),
            Mark::Path { strokes, .. } => strokes.iter().flatten().for_each(|point| inside(point.x, point.y)),
            Mark::Text { at, .. } => inside(at.x, at.y),
            Mark::Circle { .. } | Mark::Area { .. } | Mark::Group(_) => {}
        }
    }
}

/// A row: the height it stands at, and its cells.
type Row = (f64, Vec<(u8, f64, f64)>);

/// The cells of each row by the height they stand at, as (level, from, to), without those of the key.
fn cells(drawing: &Drawing) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for mark in leaves(drawing) {
        let Mark::Path { class: Class::Share { level, .. }, strokes } = mark else { continue };
        for stroke in strokes {
            let cell = (*level, stroke[0].x, stroke[1].x);
            match rows.iter_mut().find(|(y, _)| *y == stroke[0].y) {
                Some((_, row)) => row.push(cell),
                None => rows.push((stroke[0].y, vec![cell])),
            }
        }
    }
    rows.pop();
    rows
}

#[test]
fn the_fullest_ink_stands_at_the_likeliest_month() {
    for size in SIZES {
        let drawing = instrument().drawing(size);
        check_places(&drawing);
        let rows = cells(&drawing);
        assert_eq!(rows.len(), 5, "two rows hold no cells");
        // The axis runs from January 1956, 72 months after the first, to December 1973.
        let years: Vec<(String, f64)> = leaves(&drawing)
            .into_iter()
            .filter_map(|mark| match mark {
                Mark::Text { class: Class::Axis, at, text, .. } => {
                    text.parse::<i32>().ok().map(|_| (text.clone(), at.x))
                }
                _ => None,
            })
            .collect();
        let (first, last) = (years.first().expect("a year"), years.last().expect("another"));
        let years_between = last.0.parse::<f64>().unwrap() - first.0.parse::<f64>().unwrap();
        let month = (last.1 - first.1) / (12.0 * years_between);
        let january_1956 = first.1 - month * 12.0 * (first.0.parse::<f64>().unwrap() - 1956.0);
        // The choke is made in month 265 at the earliest, January 1972 being month 264; an axis that draws several months
        // in a cell begins it with the first of them.
        let fullest = rows[3].1.iter().find(|cell| cell.0 == 8).expect("a full cell");
        let at = 72.0 + (fullest.1 - january_1956) / month;
        assert!((263.5..=265.5).contains(&at), "{at}");
    }
}

#[test]
fn ink_follows_the_share_in_even_steps() {
    let shares = [0.0, 0.02, 0.10, 0.24, 0.26, 0.5, 0.75, 1.0];
    let plot = Plot::months("Steps", 1960, MonthRow::new("whole", shares), Vec::new());
    let mut row = cells(&plot.drawing(Size::Wide)).remove(0).1;
    row.sort_by(|a, b| a.1.total_cmp(&b.1));
    assert_eq!(row.iter().map(|cell| cell.0).collect::<Vec<_>>(), [1, 2, 3, 4, 6, 8]);
}

#[test]
fn a_lone_month_in_a_hundred_years_is_seen() {
    let mut shares = vec![0.0; 1200];
    shares[611] = 1.0;
    let ends = MonthRow::new("ends", (0..1200).map(|at| if at == 0 || at == 1199 { 1.0 } else { 0.0 }));
    let plot = Plot::months("Lone", 1900, MonthRow::new("whole", shares), vec![ends]);
    for size in SIZES {
        let whole = cells(&plot.drawing(size)).remove(0).1;
        assert!(whole.len() == 1 && whole[0].0 == 8 && whole[0].2 - whole[0].1 >= 1.2, "{whole:?}");
    }
}

#[test]
fn what_is_not_there_is_said() {
    let texts = |plot: &Plot| -> Vec<String> {
        let drawing = plot.drawing(Size::Narrow);
        let text = |mark: &&Mark| match mark {
            Mark::Text { text, .. } => Some(text.clone()),
            _ => None,
        };
        leaves(&drawing).iter().filter_map(text).collect()
    };
    let said = texts(&instrument());
    assert!(said.contains(&"every month alike".to_owned()) && said.contains(&"no month".to_owned()));
    let nothing = Plot::months("Nothing", 1960, MonthRow::new(" ", []), Vec::new());
    assert!(texts(&nothing).contains(&"unnamed".to_owned()));
    assert_eq!(nothing.description(), "Shares of the months, row by row: unnamed has no month.");
    assert_eq!(nothing.table().rows[0], ["unnamed", "none", "0", "not given", "not given"]);
}

#[test]
fn a_bracket_that_runs_out_of_the_figure_has_no_foot_there() {
    let film = MonthRow::new("film", falling(&[30])).within([10..=350]);
    let plot =
        Plot::months("Wide", 1950, MonthRow::new("whole", falling(&[20])).within([20..=30]), vec![film]);
    let drawing = plot.drawing(Size::Wide);
    check_places(&drawing);
    let feet: Vec<usize> = leaves(&drawing)
        .into_iter()
        .filter_map(|mark| match mark {
            Mark::Path { class: Class::Within, strokes } => Some(strokes[0].len()),
            _ => None,
        })
        .collect();
    // The whole and the sample in the key have both feet; of the film's bracket both ends are out of sight.
    assert_eq!(feet, [4, 2, 4]);
}

#[test]
fn a_bound_after_everything_else_is_shown() {
    let part = MonthRow::new("label", vec![1.0; 120]).not_before(300);
    let plot = Plot::months("Later", 1950, MonthRow::new("whole", falling(&[20])), vec![part]);
    let drawing = plot.drawing(Size::Wide);
    check_places(&drawing);
    let bounds = leaves(&drawing)
        .into_iter()
        .filter(|mark| matches!(mark, Mark::Path { class: Class::NotBefore, .. }));
    assert_eq!(bounds.count(), 2, "in the row and in the key");
    assert!(plot.description().contains("for label every month is alike, and not before January 1975"));
}

/// Forty parts, each with four readings, over eighty years: both sizes of the page's figure together.
#[test]
fn forty_parts_over_eighty_years_stay_light() {
    let shares = |shift: usize| {
        let mut shares = vec![0.0; 12 * 80];
        for peak in [100, 220, 340, 460] {
            for (at, held) in shares.iter_mut().enumerate().skip(peak + shift) {
                *held += 100.0 / (100.0 + (at - peak - shift) as f64 * (at - peak - shift) as f64);
            }
        }
        shares
    };
    let parts = (0..40).map(|at| MonthRow::new(format!("part {at}"), shares(at)).within([0..=700])).collect();
    let figure = Plot::months("Forty", 1945, MonthRow::new("the whole", shares(0)), parts).figure("forty");
    assert!(figure.len() < 150_000, "{} bytes", figure.len());
}

#[test]
fn the_style_sheet_knows_every_class() {
    let sheet = css();
    let page = instrument().svg(Style::Page { id: "x" }, Size::Wide);
    let tree = roxmltree::Document::parse(&page).expect("well formed");
    let classes = tree.descendants().filter_map(|node| node.attribute("class"));
    for class in classes.flat_map(|class| class.split(' ')).filter(|class| *class != "share-8") {
        assert!(sheet.contains(&format!(".{class}")), "{class}");
    }
    let paper = instrument().svg(Style::Paper, Size::Wide);
    assert!(paper.contains("stroke-opacity") && !paper.contains("class="));
}

#[test]
fn it_is_told_in_one_sentence_tabulated_and_always_drawn_alike() {
    insta::assert_snapshot!("months_description", instrument().description());
    insta::assert_debug_snapshot!("months_table", instrument().table());
    insta::assert_snapshot!(
        "months_page_narrow",
        instrument().svg(Style::Page { id: "months" }, Size::Narrow)
    );
    insta::assert_snapshot!("months_paper_wide", instrument().svg(Style::Paper, Size::Wide));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is computed: the strip is drawn, well formed, finite, inside its box, and its table is whole.
    #[test]
    fn any_months_are_drawn(
        rows in proptest::collection::vec(
            (
                ".{0,40}",
                proptest::collection::vec(prop_oneof![4 => 0.0..1.0_f64, 1 => any::<f64>()], 0..200),
                proptest::option::of(prop_oneof![4 => -200..400_i32, 1 => any::<i32>()]),
                (0..250_usize, 0..250_usize),
            ),
            1..6,
        ),
        year in 1850..2030_i32,
    ) {
        let mut rows = rows.into_iter().map(|(name, shares, bound, (from, to))| {
            let row = MonthRow::new(name, shares).within([from..=to]);
            match bound {
                Some(bound) => row.not_before(bound),
                None => row,
            }
        });
        let whole = rows.next().expect("a row");
        let plot = Plot::months("Any <months>", year, whole, rows.collect());
        for size in SIZES {
            check_places(&plot.drawing(size));
            for style in [Style::Page { id: "any" }, Style::Paper] {
                let svg = plot.svg(style, size);
                prop_assert!(roxmltree::Document::parse(&svg).is_ok());
                prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
        prop_assert!(plot.table().rows.iter().all(|row| row.len() == 5));
    }
}
