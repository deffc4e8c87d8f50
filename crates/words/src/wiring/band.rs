//! How a state sounds with the tolerances of its parts, and what a knob does on its way.

use asfound_measure::{Decibels, Farads, Hertz, Ohms, engineering};
use asfound_study::sound::{
    Band, Figures, How, Interval, KnobWay, Load, PerOctave, Sounded, TRAVEL_AT, Taper, Turned, way_plot,
};
use asfound_study::wiring::explain::Explanation;

use super::behind::decibels;
use super::names;
use crate::lists::capital;
use crate::sheet::{Figure, Table, Told};

/// What hangs on the jack: `into 500 pF and 1 MΩ`.
pub(super) fn into(load: Load) -> String {
    let farads = engineering(load.capacitance.0, 3, Farads::SYMBOL);
    match load.resistance {
        Some(ohms) => {
            format!("into {farads} of cable and an input of {}", engineering(ohms.0, 3, Ohms::SYMBOL))
        }
        None => format!("into {farads} of cable alone"),
    }
}

/// The figures of a state, as named and between which they lie.
pub(super) fn table(sounded: &Sounded, load: Load) -> Table {
    let band = &sounded.band;
    let caption = format!("With the tolerances of the parts, {}", into(load));
    let mut table = Table::with(&caption, &["figure", "#parts as named", "#low", "#high"]);
    let mut add = |name: &str, named: Option<String>, between: Option<(String, String)>| {
        let (low, high) = between.unwrap_or_else(|| ("–".to_owned(), "–".to_owned()));
        if let Some(named) = named {
            table.rows.push(vec![name.to_owned(), named, low, high]);
        }
    };
    let Figures { reference, peak, corner, slope } = band.nominal;
    add(
        "level at 100 Hz",
        Some(decibels(reference)),
        at_reference(band).map(|it| ends(&it, |it| decibels(*it))),
    );
    add("peak", peak.map(|peak| hertz(peak.at)), band.peak.map(|peak| ends(&peak.at, |at| hertz(*at))));
    add(
        "level of the peak",
        peak.map(|peak| decibels(peak.level)),
        band.peak.map(|peak| ends(&peak.level, |level| decibels(*level))),
    );
    add("3 dB down at", corner.map(hertz), band.corner.map(|corner| ends(&corner, |at| hertz(*at))));
    let above = if peak.is_some() { "slope above the peak" } else { "slope above the corner" };
    add(above, slope.map(per_octave), band.slope.map(|slope| ends(&slope, |slope| per_octave(*slope))));
    table
}

/// The level at 100 Hz among the levels of a band.
fn at_reference(band: &Band) -> Option<Interval<Decibels>> {
    let at = band.frequencies.iter().position(|&frequency| frequency >= Hertz(100.0))?;
    band.levels.get(at).copied()
}

fn ends<T>(interval: &Interval<T>, words: impl Fn(&T) -> String) -> (String, String) {
    (words(&interval.low), words(&interval.high))
}

fn hertz(at: Hertz) -> String {
    engineering(at.0, 3, Hertz::SYMBOL)
}

fn per_octave(slope: PerOctave) -> String {
    format!("{} per octave", decibels(Decibels(slope.0)))
}

/// How the band was found.
pub(super) fn working(sounded: &Sounded) -> String {
    let how = match sounded.band.how {
        How::Drawn { draws, seed } => format!(
            "The band holds 95 % of {draws} draws from seed {seed} (JCGM 101:2008, 7.7), every value anywhere alike within its tolerance"
        ),
        How::Worst => {
            "The band is the worst case: the least and the greatest that values within their tolerances reach"
                .to_owned()
        }
    };
    let peak = sounded.band.peak.filter(|peak| peak.share < 0.995);
    let share = peak.map_or_else(String::new, |peak| {
        format!(" In {:.0} % of the draws there is a peak.", 100.0 * peak.share)
    });
    format!(
        "{how}: pots and capacitors ±20 %, a coil closer where it was measured than where a typical value stands for it. Solved for {} points of the circuit.{share}",
        sounded.band.nets
    )
}

/// Each knob that does something, on its way.
pub(super) fn ways(explanation: &Explanation, ways: &[KnobWay], load: Load) -> Vec<Told> {
    ways.iter().map(|way| told(explanation, way, load)).collect()
}

fn told(explanation: &Explanation, way: &KnobWay, load: Load) -> Told {
    let knob = names::knob(explanation, way.knob);
    let place = names::positions(explanation, &[way.state]);
    let half = way.way.get(way.way.len() / 2);
    let share = half.map_or(0.5, |half| half.share);
    let law = match way.taper {
        _ if way.two_pieces.is_some() => {
            format!("a bent track with {:.0} % of its ohms below the wiper at half turn", 100.0 * share)
        }
        Taper::Unknown => "a track taken as even, for its taper is not known".to_owned(),
        _ => "an even track".to_owned(),
    };
    let open = if way.open_at_full { way.way.last() } else { way.way.first() };
    let sentence = match half.zip(open) {
        Some((half, open)) => format!(
            "{}: half way it changes the level at 1 kHz by {} against its open end.",
            names::with_place(&format!("The {knob} on its way"), &place),
            decibels(Decibels(half.level.0 - open.level.0))
        ),
        None => format!("The {knob} was not turned."),
    };
    let mut table =
        Table::with("Turn by turn", &["turn", "#of the ohms", "#at 1 kHz", "#peak", "#level of the peak"]);
    table.rows = way.way.iter().map(row).collect();
    let mut tables = vec![table];
    if let Some(two) = &way.two_pieces {
        let mut table = Table::with(
            "The same with a track of two straight pieces",
            &["turn", "#of the ohms", "#at 1 kHz"],
        );
        table.rows = two.iter().map(|turned| row(turned).into_iter().take(3).collect()).collect();
        tables.push(table);
    }
    Told {
        id: format!("way-{}", explanation.pots[way.knob]),
        sentence,
        sure: format!("Reckoned with {law}; the letter on a pot decides nothing, a meter at half turn does."),
        tables,
        figures: vec![Figure {
            id: format!("way-{}", way.knob),
            caption: format!(
                "{}, level at 1 kHz over its turn, {}.",
                names::with_place(&capital(&format!("the {knob}")), &place),
                into(load)
            ),
            plot: way_plot(way, &format!("The {knob} on its way")),
        }],
        working: vec![format!(
            "Level at {} and peak at eleven places of the knob, the other knobs at their open ends, {}. Bent tracks lie between the exponential (bˣ − 1)/(b − 1), b = (1/m − 1)², and two straight pieces that meet at m.",
            hertz(TRAVEL_AT),
            into(load)
        )],
        ..Told::default()
    }
}

fn row(turned: &Turned) -> Vec<String> {
    let peak = turned.figures.peak;
    vec![
        format!("{:.0} of 10", 10.0 * turned.turn),
        format!("{:.0} %", 100.0 * turned.share),
        decibels(turned.level),
        peak.map_or_else(|| "none".to_owned(), |peak| hertz(peak.at)),
        peak.map_or_else(|| "–".to_owned(), |peak| decibels(peak.level)),
    ]
}
