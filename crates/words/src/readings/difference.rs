//! Two readings compared, in words. Different is never by itself “not original”.

use asfound_measure::{Celsius, Ohms, Uncertain, show_expanded};
use asfound_study::difference::{
    Because, Difference, Gain, Of, Place, TemperatureAlone, Temperatures, Verdict,
};

use crate::lists::{and, capital};
use crate::sheet::{Rest, Step, Told};

/// The finding about two readings.
pub(crate) fn difference(of: &Difference) -> Told {
    let (sentence, sure) = match of.verdict {
        Verdict::NotDifferent => (
            format!("{} do not differ by more than their uncertainty.", both(of)),
            if matches!(of.temperatures, Temperatures::Taken) {
                String::new()
            } else {
                "That is, if both were equally warm.".to_owned()
            },
        ),
        Verdict::Different => (
            format!("{} differ: by {} at 20 °C.", both(of), apart(of)),
            "More than meter and temperature explain. What made the difference is not said by it, nor whether anything is original.".to_owned(),
        ),
        Verdict::OnlyIfTemperature { alone, or_meter } => temperature(of, &alone, or_meter),
        Verdict::CannotTell(because) => (
            format!("Whether {} differ cannot be told.", uncapital(&both(of))),
            match because {
                Because::MeterNotKnown => "A good meter would make them different, a poor one would not; its accuracy is not known.",
                Because::RangeNotKnown => "On one range of the meter they would differ, on two they need not; the range was not said.",
                Because::InCircuit => "One was read with other things across the coil.",
            }
            .to_owned(),
        ),
    };
    Told {
        id: format!("difference-{}-{}", of.first.root, of.second.root),
        sentence,
        sure,
        next: next(of),
        rests_on: Rest::on_all([of.first.seq, of.second.seq]),
        working: working(of),
        would_change: vec!["A reading of both in one room, with one meter, on one range.".to_owned()],
        ..Told::default()
    }
}

fn both(of: &Difference) -> String {
    match of.of {
        Of::OnePart => format!("The {}'s readings {} and {}", of.first.name, of.first.text, of.second.text),
        Of::TwoParts => {
            let each = |side: &asfound_study::difference::Side| format!("{} ({})", side.name, side.text);
            capital(&and(&[each(&of.first), each(&of.second)]))
        }
    }
}

fn uncapital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| first.to_lowercase().collect::<String>() + signs.as_str())
}

/// How far apart they are, with the most that may be so of meters that are not known.
fn apart(of: &Difference) -> String {
    show_expanded(Uncertain::new(Ohms(of.at_20.value.abs()), of.uncertainty.1))
}

fn temperature(of: &Difference, alone: &TemperatureAlone, or_meter: bool) -> (String, String) {
    let by = degrees(alone.warmer.value.0.abs());
    let way = if alone.warmer.value.0 < 0.0 { "colder" } else { "warmer" };
    let sentence = format!("{}: the second {by} {way} would alone explain the difference.", both(of));
    let at = alone.second_at.map_or(String::new(), |Celsius(at)| {
        let first = of.first.temperature.map_or("if the first was at 20 °C".to_owned(), |Celsius(it)| {
            format!("the first having been at {it:.0} °C")
        });
        format!("That is at about {} °C, {first}: ", whole(at))
    });
    let place = match alone.place {
        Place::Workshop => "possible within a workshop.",
        Place::Outside => "possible out of doors in winter, in a van or an attic, not in a workshop.",
        Place::Nowhere => "nowhere that a coil is read.",
    };
    let meter = if or_meter { " The meter might explain it as well." } else { "" };
    (sentence, format!("{}{place}{meter}", capital(&at)))
}

fn degrees(kelvins: f64) -> String {
    format!("{kelvins:.1} degrees")
}

fn whole(celsius: f64) -> String {
    format!("{celsius:.0}").replace('-', "\u{2212}")
}

fn next(of: &Difference) -> Vec<Step> {
    let missing = !matches!(of.temperatures, Temperatures::Taken);
    if !missing || matches!(of.verdict, Verdict::NotDifferent) {
        return Vec::new();
    }
    vec![Step {
        id: format!("temperatures-{}-{}", of.first.root, of.second.root),
        words: match of.of {
            Of::OnePart => format!(
                "Read the {} again with its temperature; ask how warm it was for the other reading.",
                of.first.name
            ),
            Of::TwoParts => {
                format!("Read {} and {} one after the other in one room.", of.first.name, of.second.name)
            }
        },
        why: "Copper gains 0.39 % a degree: a few degrees come before any other explanation.".to_owned(),
        ..Step::default()
    }]
}

fn working(of: &Difference) -> Vec<String> {
    let gain = match of.gain {
        Gain::Shared => {
            "One meter on one range: its gain error is shared, so the difference is surer than either reading (JCGM 100, 5.2)."
        }
        Gain::Apart => "Two meters or two ranges: their errors are apart.",
        Gain::NotKnown => "Whether both share a meter's gain error was not said; both ways were gone over.",
    };
    let mut lines = vec![format!("Second less first at 20 °C: {}. {gain}", apart(of))];
    if let Some((Ohms(least), Ohms(most))) = of.over_the_room {
        lines.push(format!("With each missing temperature from 15 to 25 °C the difference goes from {least:.0} Ω to {most:.0} Ω.").replace('-', "\u{2212}"));
    }
    if !of.acts_between.is_empty() {
        let acts: Vec<String> = of.acts_between.iter().map(|seq| format!("entry {seq}")).collect();
        lines.push(format!("Between the two something was done to it: {}.", and(&acts)));
    }
    lines
}
