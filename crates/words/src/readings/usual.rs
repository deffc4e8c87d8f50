//! Is its resistance usual, in words: held against its own kind, and against what this workshop read before.

use asfound_measure::{Ohms, engineering, show};
use asfound_study::coils::CoilStudied;
use asfound_study::past::strip;
use asfound_study::usual::{Held, NoWindow, PUBLISHED_SOURCE, Position, Rests};

use super::coil::NEXT_TO_NOTHING;
use crate::lists::or;
use crate::sheet::{Figure, Table, Told};

/// Adds to a coil's finding what is usual for its kind, and answers it in words that go on `its ohms are`.
pub(super) fn add(told: &mut Told, studied: &CoilStudied) -> Option<String> {
    let (Some(held), Some(among), Some(at_20)) = (&studied.held, &studied.among, &studied.at_20) else {
        return None;
    };
    let words = match held {
        Ok(windows) => {
            let likely: Vec<&Held> = windows.iter().filter(|held| is_likely(held, studied)).collect();
            told.tables.push(table(windows));
            verdict(&likely)
        }
        Err(why) => {
            told.working.push(no_window(why));
            None
        }
    };
    if let Some(sample) = &among.sample {
        let spread = match (sample.standard_deviation, among.interval) {
            (Some(deviation), Some((low, high))) => format!(
                "mean {}, one more of the kind is expected from {} to {} (95 in 100)",
                show(sample.mean.0, deviation.0, Ohms::SYMBOL),
                kilohms(low),
                kilohms(high)
            ),
            _ => "too few for a spread".to_owned(),
        };
        let coils = if sample.count == 1 {
            "one like coil".to_owned()
        } else {
            format!("{} like coils", sample.count)
        };
        told.working.push(format!(
            "This workshop read {coils} before: {spread}; this one lies {}.",
            position(among.position)
        ));
    }
    if !among.like.is_empty() {
        let windows = held.as_ref().map(Vec::as_slice).unwrap_or_default();
        let title = format!("{} beside its like", studied.name);
        told.figures.push(Figure {
            id: format!("strip-{}", studied.part),
            caption: "Like coils are of one construction, and of one gauge and time where these were said. Ohms are not loudness, and unlike is not “not original”.".to_owned(),
            plot: strip(among, windows, at_20, &title, &studied.name),
        });
    }
    words
}

/// Whether a window has an interval, in a wire that the coil may well be of.
fn is_likely(held: &Held, studied: &CoilStudied) -> bool {
    let of_gauge = |weighed: &asfound_study::coils::Weighed| {
        let share = weighed.gauges.iter().find(|(gauge, _)| gauge.number() == held.window.gauge);
        share.is_some_and(|(_, probability)| probability.value() >= NEXT_TO_NOTHING)
    };
    held.interval.is_some() && (held.gauge_said || studied.weighed.as_ref().map_or(true, |it| of_gauge(it)))
}

/// One sentence over the likely windows of its kind, gauge by gauge.
fn verdict(windows: &[&Held]) -> Option<String> {
    let mut gauges: Vec<u8> = windows.iter().map(|held| held.window.gauge).collect();
    gauges.dedup();
    let of_gauge = |gauge: &u8| {
        let has =
            |wanted: Position| windows.iter().any(|it| it.window.gauge == *gauge && it.position == wanted);
        if has(Position::Within) {
            "just what is expected of its kind"
        } else if has(Position::OnTheEdge) || (has(Position::Above) && has(Position::Below)) {
            "at the edge of what its kind reads, not decided"
        } else if has(Position::Above) {
            "above what its kind reads: more turns or thinner wire"
        } else {
            "below what its kind reads, which alone is no fault"
        }
    };
    match gauges.as_slice() {
        [] => None,
        [one] => Some(of_gauge(one).to_owned()),
        several => {
            let each: Vec<String> =
                several.iter().map(|gauge| format!("for {gauge} AWG {}", of_gauge(gauge))).collect();
            Some(each.join(", "))
        }
    }
}

fn table(windows: &[Held]) -> Table {
    let mut table =
        Table::with("What its kind reads", &["kind", "#from", "#to", "this one lies", "rests on"]);
    table.rows = windows
        .iter()
        .filter(|held| held.interval.is_some())
        .map(|held| {
            let window = &held.window;
            let years = window.period.map(|(from, to)| format!(", {from} to {to}")).unwrap_or_default();
            let mut unsaid = Vec::new();
            if !held.gauge_said {
                unsaid.push("gauge");
            }
            if !held.period_said {
                unsaid.push("time");
            }
            let unsaid = if unsaid.is_empty() {
                String::new()
            } else {
                format!(" ({} not said of this one)", or(&unsaid))
            };
            let (low, high) = held.interval.map_or_else(
                || ("not known".to_owned(), String::new()),
                |(low, high)| (kilohms(low), kilohms(high)),
            );
            let rests = match window.rests {
                Rests::Published(sample) => {
                    let count = if sample.count == 1 {
                        "one figure".to_owned()
                    } else {
                        format!("{} figures", sample.count)
                    };
                    format!("{count}: {PUBLISHED_SOURCE}")
                }
                Rests::Trade { .. } => "common practice, no source".to_owned(),
            };
            vec![
                format!("{}, {} AWG{years}{unsaid}", window.construction, window.gauge),
                low,
                high,
                position(held.position).to_owned(),
                rests,
            ]
        })
        .collect();
    table
}

fn position(position: Position) -> &'static str {
    match position {
        Position::Within => "within it",
        Position::Above => "above it",
        Position::Below => "below it",
        Position::OnTheEdge => "at its edge, not decided",
        Position::CannotTell => "where it cannot be told",
    }
}

fn no_window(why: &NoWindow) -> String {
    match why {
        NoWindow::ConstructionNotSaid => {
            "Held against no window: say what kind of coil it is, such as “six rods” or “foil-faced”. Ohms are not compared across kinds.".to_owned()
        }
        NoWindow::OfConstruction(kind) => format!("No window is known for a {kind}; this workshop's own readings will make one."),
        NoWindow::OfGauge(gauges) => {
            let known: Vec<String> = gauges.iter().map(|gauge| format!("{gauge} AWG")).collect();
            format!("No window is known for this kind in this wire; there is one for {}.", or(&known))
        }
        NoWindow::OfPeriod(periods) => {
            let known: Vec<String> = periods.iter().map(|(from, to)| format!("{from} to {to}")).collect();
            format!("No window is known for this kind from this time; there is one for {}.", or(&known))
        }
    }
}

fn kilohms(ohms: Ohms) -> String {
    engineering(ohms.0, 3, Ohms::SYMBOL)
}
