//! Are coils weighed as probable as they are? Draws coils from the stated priors, weighs what a bench would find on each,
//! and sets stated probabilities against how often they came true.
//!
//! Prints a picture (SVG) to standard output and the figures to standard error:
//! `cargo run --release -p asfound-electric --example reliability > docs/pictures/coil-reliability.svg`
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a picture and figures are what it is for")]

use asfound_electric::coil::{
    CoilPart, Condition, Construction, Hand, Opinions, Synthetic, Tables, Weighed, synthetic, weigh,
};
use std::fmt::Write;

/// Coils drawn.
const COILS: u64 = 1_500;
/// Lower ends of the classes of stated probability.
const CLASSES: [f64; 12] = [0.0, 0.01, 0.03, 0.06, 0.12, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.96];
const KINDS: [Construction; 4] =
    [Construction::SixRod, Construction::DualHalf, Construction::WideFlat, Construction::FoilFaced];

/// Stated probabilities beside what was true.
#[derive(Default)]
struct Statements(Vec<(f64, bool)>);

/// A class of statements: mean stated, share that came true, and how many.
struct Class {
    stated: f64,
    came_true: f64,
    number: f64,
}

impl Statements {
    /// Mean square of what was stated less what was true (G. W. Brier, Monthly Weather Review 78, 1, 1950).
    fn brier(&self) -> f64 {
        let squares = self.0.iter().map(|(stated, truth)| stated - f64::from(u8::from(*truth)));
        squares.map(|off| off * off).sum::<f64>() / self.0.len() as f64
    }

    fn list(&self) {
        for class in self.classes() {
            eprintln!("  stated {:.3}, came true {:.3}, of {}", class.stated, class.came_true, class.number);
        }
    }

    fn classes(&self) -> Vec<Class> {
        let mut classes = Vec::new();
        for (place, least) in CLASSES.iter().enumerate() {
            let most = CLASSES.get(place + 1).copied().unwrap_or(1.0);
            let within: Vec<&(f64, bool)> =
                self.0.iter().filter(|(stated, _)| (*least..most).contains(stated)).collect();
            if within.len() >= 20 {
                let number = within.len() as f64;
                let stated = within.iter().map(|(stated, _)| stated).sum::<f64>() / number;
                let came_true = within.iter().filter(|(_, truth)| *truth).count() as f64 / number;
                classes.push(Class { stated, came_true, number });
            }
        }
        classes
    }
}

fn main() {
    let (opinions, tables) = (Opinions::default(), Tables::default());
    let mut conditions = Statements::default();
    let mut hands = Statements::default();
    let mut parts = Statements::default();
    let (mut before_conditions, mut before_hands) = (Statements::default(), Statements::default());
    let (mut within, mut rough) = (0_u32, 0_u32);
    for seed in 0..COILS {
        let coil = synthetic(KINDS[(seed % 4) as usize], &opinions, &tables, seed);
        // Another seed, so that the draws know nothing of how the coil was made.
        let weighed = weigh(&coil.found, &opinions, &tables, !seed).expect("a bench finds what can be");
        note(&coil, &weighed, &mut conditions, &mut hands, &mut parts);
        for considered in &weighed.conditions {
            before_conditions.0.push((considered.before.value(), considered.what == coil.condition));
        }
        for considered in &weighed.hands {
            before_hands.0.push((considered.before.value(), considered.what == coil.hand));
        }
        let turns = &weighed.figures.turns;
        within += u32::from((turns.low.value()..=turns.high.value()).contains(&coil.turns));
        rough += u32::from(!weighed.effort.enough);
    }
    for (name, statements, before) in
        [("condition", &conditions, &before_conditions), ("winding", &hands, &before_hands)]
    {
        eprintln!(
            "{name}: Brier {:.4}, of what was stated before anything was found {:.4}",
            statements.brier(),
            before.brier()
        );
        statements.list();
    }
    eprintln!("leads and magnets: Brier {:.4}", parts.brier());
    parts.list();
    eprintln!("turns within their 95 % interval: {within} of {COILS}; too few effective draws: {rough}");
    println!("{}", picture(&[("condition", "circle", &conditions), ("winding", "square", &hands)]));
}

fn note(
    coil: &Synthetic,
    weighed: &Weighed,
    conditions: &mut Statements,
    hands: &mut Statements,
    parts: &mut Statements,
) {
    for condition in Condition::ALL {
        conditions.0.push((weighed.condition(condition).value(), condition == coil.condition));
    }
    for hand in Hand::ALL {
        hands.0.push((weighed.hand(hand).value(), hand == coil.hand));
    }
    parts.0.push((weighed.part(CoilPart::Leads).original.value(), !coil.leads_changed));
    parts.0.push((weighed.part(CoilPart::Magnets).original.value(), !coil.magnets_changed));
}

/// A square with the diagonal, and for each class a mark with the binomial 95 % interval about what was stated.
fn picture(series: &[(&str, &str, &Statements)]) -> String {
    let (left, top, side) = (60.0, 20.0, 400.0);
    let x = |share: f64| left + side * share;
    let y = |share: f64| top + side * (1.0 - share);
    let mut svg = String::new();
    let mut line = |text: std::fmt::Arguments| {
        // Writing to a string cannot fail.
        let _ = writeln!(svg, "{text}");
    };
    line(format_args!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 480 480\" font-family=\"serif\" font-size=\"13\">"
    ));
    line(format_args!("<title>Stated probability against how often it came true, {COILS} coils</title>"));
    line(format_args!("<rect width=\"480\" height=\"480\" fill=\"#faf7f0\"/>"));
    line(format_args!(
        "<path d=\"M{0} {1}V{2}H{3}M{0} {2}L{3} {1}\" fill=\"none\" stroke=\"#222\"/>",
        left,
        top,
        top + side,
        left + side
    ));
    for tick in 0..=5 {
        let share = f64::from(tick) / 5.0;
        line(format_args!(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{share:.1}</text>",
            x(share),
            top + side + 18.0
        ));
        line(format_args!(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{share:.1}</text>",
            left - 8.0,
            y(share) + 4.0
        ));
    }
    line(format_args!("<text x=\"260\" y=\"462\" text-anchor=\"middle\">stated probability</text>"));
    line(format_args!(
        "<text transform=\"translate(18 220) rotate(-90)\" text-anchor=\"middle\">came true</text>"
    ));
    for (row, (name, mark, statements)) in series.iter().enumerate() {
        let legend = 44.0 + 20.0 * row as f64;
        line(format_args!(
            "{}<text x=\"92\" y=\"{}\">{name}</text>",
            mark_at(mark, 80.0, legend - 4.0),
            legend
        ));
        for class in statements.classes() {
            let half = 1.96 * (class.stated * (1.0 - class.stated) / class.number).sqrt();
            let (low, high) = ((class.stated - half).max(0.0), (class.stated + half).min(1.0));
            line(format_args!(
                "<path d=\"M{0:.1} {1:.1}V{2:.1}\" stroke=\"#888\"/>{3}",
                x(class.stated),
                y(low),
                y(high),
                mark_at(mark, x(class.stated), y(class.came_true))
            ));
        }
    }
    svg.push_str("</svg>");
    svg
}

fn mark_at(mark: &str, x: f64, y: f64) -> String {
    if mark == "circle" {
        format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"4\" fill=\"#1f5f3f\"/>")
    } else {
        format!(
            "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"8\" height=\"8\" fill=\"none\" stroke=\"#222\" stroke-width=\"1.5\"/>",
            x - 4.0,
            y - 4.0
        )
    }
}
