//! Coils made up from the stated priors, with what a bench would find on them: for asking whether stated probabilities
//! are right as often as they say.

use super::answer::{Condition, Hand};
use super::bridge::Branch;
use super::construction::Construction;
use super::drawn::{Blank, CoilDrawn, Over};
use super::feature::{self, About, Feature};
use super::found::{At, Found, OhmsReading, Shown, Temperature};
use super::ohms::{self, LEAK, warmed};
use super::opinions::Opinions;
use super::parts::{self, Changed};
use super::prior::{self, STRATA, pair};
use super::random::Random;
use super::tables::Tables;
use asfound_measure::{Celsius, Henries, Hertz, Millimetres, Ohms, Ratio, Uncertain};

/// A coil made up, with the truth about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Synthetic {
    /// What a bench found on it: always ohms, the rest by chance.
    pub found: Found,
    /// What ails it.
    pub condition: Condition,
    /// Who wound it.
    pub hand: Hand,
    /// Turns on its former.
    pub turns: f64,
    /// Whether its leads were changed.
    pub leads_changed: bool,
    /// Whether its magnets were changed.
    pub magnets_changed: bool,
}

/// How good the bench is: a meter of 0.4 % gain, a bridge of 2 %, a micrometer of 1.3 µm. Common practice, no source.
const GAIN: f64 = 0.004;
const INDUCTANCE: f64 = 0.02;
const QUALITY: f64 = 0.05;
const WIRE: f64 = 0.0013;
const DEPTH: f64 = 0.25;

/// A coil of this kind from the priors and a seed. An open coil shows over 20 kΩ, or its leak.
pub fn synthetic(construction: Construction, opinions: &Opinions, tables: &Tables, seed: u64) -> Synthetic {
    let mut random = Random::from_seed(seed);
    let over = Over {
        constructions: vec![construction],
        eras: prior::of_eras(None, opinions),
        opinions,
        rare_oftener: false,
    };
    let priors: [f64; STRATA] = std::array::from_fn(|stratum| {
        let (condition, hand) = pair(stratum);
        prior::of_condition(condition, opinions) * prior::of_hand(hand, opinions)
    });
    // A draw that is no coil, condition and hand included, is drawn again: the same shares as in the weighing.
    let coil = loop {
        let (condition, hand) = pair(random.one_of(priors));
        let blank = Blank::draw(condition, hand, &over, &mut random);
        if let Some(coil) = blank.and_then(|blank| blank.with_drawn_turns(&mut random)) {
            break coil;
        }
    };
    let changed = Changes::draw(&coil, opinions, &mut random);
    let mut found = Found { construction: Some(construction), ..Found::default() };
    let celsius = read_ohms(&mut found, &coil, opinions, &mut random);
    measure(&mut found, &coil, celsius, tables, &mut random);
    look(&mut found, &coil, &changed, opinions, &mut random);
    Synthetic {
        found,
        condition: coil.blank.condition,
        hand: coil.blank.hand,
        turns: coil.wound.turns.value(),
        leads_changed: changed.parts.leads,
        magnets_changed: changed.magnets,
    }
}

struct Changes {
    parts: Changed,
    magnets: bool,
}

impl Changes {
    fn draw(coil: &CoilDrawn, opinions: &Opinions, random: &mut Random) -> Self {
        let states = parts::weigh(coil.blank.hand, coil.blank.condition, &[], opinions).states;
        let (parts, _) = states[random.one_of(states.map(|(_, share)| share))];
        Self { parts, magnets: random.chance(parts::magnets_changed(coil.blank.hand, opinions)) }
    }
}

/// Reads the ohms, and says how warm it was; answers the true temperature.
fn read_ohms(found: &mut Found, coil: &CoilDrawn, opinions: &Opinions, random: &mut Random) -> f64 {
    let other = coil.blank.condition == Condition::OtherTemperature;
    let (temperature, celsius) = if random.chance(0.5) {
        // What was said is the middle of what is drawn about it.
        let said = random.between((15.0, 25.0));
        let temperature = Temperature::Measured(Uncertain::new(Celsius(said), Celsius(0.5)));
        (temperature, ohms::temperature(temperature, other, opinions, random))
    } else {
        (Temperature::NotSaid, ohms::temperature(Temperature::NotSaid, other, opinions, random))
    };
    let exact = if coil.blank.condition == Condition::Open {
        if random.chance(0.5) { random.log_between(LEAK) } else { f64::INFINITY }
    } else {
        coil.ohms_at_20() * warmed(celsius)
    };
    let shown = if exact.is_finite() {
        let digit = exact * 5e-4;
        let read = exact * (1.0 + GAIN * random.normal()) + digit * random.normal();
        Shown::Ohms(Uncertain::new(Ohms(read), Ohms(digit)))
    } else {
        Shown::Over(Ohms(20e3))
    };
    found.ohms.push(OhmsReading { shown, temperature, meter: 1, gain_uncertainty: GAIN });
    celsius
}

/// Measures, each by the toss of a coin. An open coil goes on no bridge.
fn measure(found: &mut Found, coil: &CoilDrawn, celsius: f64, tables: &Tables, random: &mut Random) {
    let near = |exact: f64, spread: f64, random: &mut Random| (exact + spread * random.normal(), spread);
    if random.chance(0.3) {
        let (depth, spread) = near(coil.wound.depth.value(), DEPTH, random);
        found.depth = Some(Uncertain::new(Millimetres(depth), Millimetres(spread)));
    }
    if random.chance(0.3) {
        let (wire, spread) = near(coil.blank.winding.spool.overall().value(), WIRE, random);
        found.wire_over_insulation = Some(Uncertain::new(Millimetres(wire), Millimetres(spread)));
    }
    if coil.blank.condition == Condition::Open || random.chance(0.5) {
        return;
    }
    let shows = Branch::of(coil, coil.whole_inductance(tables), warmed(celsius)).shown_at(1e3);
    let frequency = Hertz(1e3);
    let (inductance, spread) = near(shows.inductance, INDUCTANCE * shows.inductance, random);
    found.inductance.push(At { frequency, read: Uncertain::new(Henries(inductance), Henries(spread)) });
    let (quality, spread) = near(shows.quality, QUALITY * shows.quality, random);
    let read = Uncertain::new(Ratio(quality), Ratio(spread));
    found.quality.push(At { frequency, read });
}

/// Looks at everything, each by the toss of a coin.
fn look(found: &mut Found, coil: &CoilDrawn, changed: &Changes, opinions: &Opinions, random: &mut Random) {
    let blank = &coil.blank;
    let likelihood = |seen: Feature| match seen.about() {
        About::WireColour => feature::wire_colour(seen, blank.insulation),
        About::Wax => feature::wax(seen, blank.hand.rewound(), blank.construction, blank.era),
        About::RodShape => feature::rod_shape(seen, changed.magnets, blank.era),
        About::RodSurface => feature::rod_surface(seen, changed.magnets),
        About::Fill => feature::fill(seen, coil.share_of_room()),
        About::Sides => feature::sides(seen, coil.share_of_room()),
        _ => parts::likelihood(seen, changed.parts, blank.hand, blank.condition, opinions),
    };
    let mut left = Feature::ALL.as_slice();
    while let Some(first) = left.first() {
        let about = first.about();
        let number = left.iter().take_while(|seen| seen.about() == about).count();
        let (sights, rest) = left.split_at(number);
        left = rest;
        let of_rods = matches!(about, About::RodShape | About::RodSurface);
        if random.chance(0.5) && (blank.construction.has_rods() || !of_rods) {
            found.features.push(sights[random.one_of(sights.iter().map(|seen| likelihood(*seen)))]);
        }
    }
}
