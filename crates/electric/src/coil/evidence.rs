//! How probable each piece of what was found is, of a coil drawn.

use super::answer::{Condition, Hand};
use super::bridge::Branch;
use super::construction::Spread;
use super::drawn::{CoilDrawn, normal_density};
use super::feature::{self, About, Feature};
use super::found::{At, Found, Piece, Shown};
use super::ohms::{log_normal, warmed};
use super::opinions::Opinions;
use super::parts;
use super::random::Random;
use super::tables::Tables;
use asfound_measure::{Henries, Quantity, Uncertain};

/// What was found, in the order of its pieces.
pub(super) struct Evidence<'a> {
    pub(super) found: &'a Found,
    pub(super) pieces: Vec<Piece>,
    pub(super) opinions: &'a Opinions,
    pub(super) tables: &'a Tables,
    measures_bridge: bool,
    /// The inductance that the core is solved for: the one read best, of those well below resonance.
    pub(super) solved_inductance: Option<usize>,
}

/// Inductances up to here may be solved for, in Hz; above, the coil's own resonance is too near.
const SOLVED_TO: f64 = 3e3;
/// Newton's steps for the core; two or three serve.
const MOST_STEPS: usize = 8;

/// A coil drawn, with the log likelihood of all that hangs on more than condition and hand.
pub(super) struct Judged {
    /// The coil, its core solved for where an inductance was read.
    pub(super) coil: CoilDrawn,
    /// Of everything but the ohms.
    pub(super) log_likelihood: f64,
    /// Of everything that was measured but the ohms.
    pub(super) log_measured: f64,
    /// Probability that the magnets are original, of this draw.
    pub(super) magnets_original: f64,
}

impl<'a> Evidence<'a> {
    pub(super) fn new(found: &'a Found, opinions: &'a Opinions, tables: &'a Tables) -> Self {
        let pieces = found.pieces();
        let measures_bridge = !found.inductance.is_empty() || !found.quality.is_empty();
        let solved_inductance = found
            .inductance
            .iter()
            .enumerate()
            .filter(|(_, at)| at.frequency.value() <= SOLVED_TO)
            .min_by(|a, b| a.1.read.relative().total_cmp(&b.1.read.relative()))
            .map(|(place, _)| place);
        Self { found, pieces, opinions, tables, measures_bridge, solved_inductance }
    }

    /// Judges a coil; `each` receives the log likelihood of each piece given the rest, in order. Ohms and the sights of
    /// parts receive 0: they are dealt with elsewhere. `None` for a coil of no weight.
    pub(super) fn judge(
        &self,
        mut coil: CoilDrawn,
        celsius: f64,
        random: &mut Random,
        each: &mut Vec<f64>,
    ) -> Option<Judged> {
        let mut solved = None;
        if let Some(place) = self.solved_inductance
            && coil.blank.condition != Condition::Open
        {
            let log = self.solve_core(&mut coil, celsius, &self.found.inductance[place], random)?;
            solved = Some((Piece::Inductance(place), log));
        }
        let branch = self
            .measures_bridge
            .then(|| Branch::of(&coil, coil.whole_inductance(self.tables), warmed(celsius)));
        let (magnets_original, rods) = self.rods(&coil, None);
        let (mut log_likelihood, mut log_measured) = (rods, 0.0);
        for piece in &self.pieces {
            let log = match piece {
                Piece::Ohms => 0.0,
                Piece::Seen(seen) if matches!(seen.about(), About::RodShape | About::RodSurface) => {
                    each.push(rods - self.rods(&coil, Some(*seen)).1);
                    continue;
                }
                Piece::Seen(seen) => self.seen(*seen, &coil),
                measured => {
                    let log = match solved {
                        Some((piece, log)) if piece == *measured => log,
                        _ => self.measured(*measured, &coil, branch.as_ref()),
                    };
                    log_measured += log;
                    log
                }
            };
            log_likelihood += log;
            each.push(log);
        }
        Some(Judged { coil, log_likelihood, log_measured, magnets_original })
    }

    /// Gives a coil the core that makes the bridge show an inductance drawn within its uncertainty. The log weight is
    /// that of the core's prior density times `d(core)/dL`, as for the turns and the ohms.
    fn solve_core(
        &self,
        coil: &mut CoilDrawn,
        celsius: f64,
        read: &At<Henries>,
        random: &mut Random,
    ) -> Option<f64> {
        let prior = coil.blank.construction.row().core;
        let in_air = coil.whole_inductance(self.tables) / coil.blank.core;
        let (hertz, warm) = (read.frequency.value(), warmed(celsius));
        let target = read.read.value.value() + read.read.standard_uncertainty.value() * random.normal();
        let shown = |core: f64| Branch::of(coil, in_air * core, warm).shown_at(hertz).inductance;
        let step = 1e-4;
        let mut core = prior.mean;
        let mut slope = 1.0;
        for _ in 0..MOST_STEPS {
            let here = shown(core);
            // Past its own resonance a coil shows a capacitance: no core makes this reading.
            if !(here > 0.0 && target > 0.0) {
                return None;
            }
            slope = (shown(core * (1.0 + step)) / here - 1.0) / step;
            let off = target / here - 1.0;
            if off.abs() < 1e-6 {
                break;
            }
            if slope < 0.1 {
                return None;
            }
            core *= (1.0 + off / slope).clamp(0.5, 2.0);
        }
        coil.blank.core = core;
        let density = normal_density(core, prior) * core / (slope * target);
        (core >= 1.0 && density > 0.0).then(|| libm::log(density))
    }

    fn measured(&self, piece: Piece, coil: &CoilDrawn, branch: Option<&Branch>) -> f64 {
        let bobbin = coil.blank.winding.bobbin;
        let outline = || bobbin.outline(coil.wound.depth);
        let spool = coil.blank.winding.spool;
        let found = self.found;
        match piece {
            Piece::Depth => near(found.depth, coil.wound.depth.value()),
            Piece::OuterWidth => near(found.outer_width, outline().width.value()),
            Piece::OuterLength => near(found.outer_length, outline().length.value()),
            Piece::WindingHeight => near(found.winding_height, bobbin.height().value()),
            Piece::WireOverInsulation => near(found.wire_over_insulation, spool.overall().value()),
            Piece::WireBare => near(found.wire_bare, spool.bare().value()),
            // A bridge on a broken wire shows whatever its stray capacitance makes of it.
            Piece::Inductance(place) if coil.blank.condition == Condition::Open => {
                anything(found.inductance[place].read.value.value(), BRIDGE_RANGE)
            }
            Piece::Quality(place) if coil.blank.condition == Condition::Open => {
                anything(found.quality[place].read.value.size(), BRIDGE_RANGE)
            }
            Piece::Inductance(place) => branch.map_or(0.0, |branch| {
                let at = &found.inductance[place];
                near(Some(at.read), branch.shown_at(at.frequency.value()).inductance)
            }),
            Piece::Quality(place) => branch.map_or(0.0, |branch| {
                let at = &found.quality[place];
                near(Some(at.read), branch.shown_at(at.frequency.value()).quality)
            }),
            Piece::Ohms | Piece::Seen(_) => 0.0,
        }
    }

    fn seen(&self, seen: Feature, coil: &CoilDrawn) -> f64 {
        let blank = &coil.blank;
        match seen.about() {
            About::WireColour => libm::log(feature::wire_colour(seen, blank.insulation)),
            About::Wax => libm::log(feature::wax(seen, blank.hand.rewound(), blank.construction, blank.era)),
            About::Fill => libm::log(feature::fill(seen, coil.share_of_room())),
            About::Sides => libm::log(feature::sides(seen, coil.share_of_room())),
            _ => 0.0,
        }
    }

    /// Probability that the magnets are original, and the log likelihood of what the rods show, one sight left out if
    /// so asked. The two sights hang together through the magnets.
    fn rods(&self, coil: &CoilDrawn, left_out: Option<Feature>) -> (f64, f64) {
        let blank = &coil.blank;
        let changed = parts::magnets_changed(blank.hand, self.opinions);
        if !blank.construction.has_rods() {
            return (1.0 - changed, self.rods_unseen(left_out));
        }
        let [original, changed] = [(false, 1.0 - changed), (true, changed)].map(|(changed, share)| {
            let sights: f64 = self
                .found
                .features
                .iter()
                .filter(|seen| Some(**seen) != left_out)
                .map(|seen| match seen.about() {
                    About::RodShape => feature::rod_shape(*seen, changed, blank.era),
                    About::RodSurface => feature::rod_surface(*seen, changed),
                    _ => 1.0,
                })
                .product();
            share * sights
        });
        (original / (original + changed), libm::log(original + changed))
    }

    /// Rods that were seen where this kind of coil has none: a slip of the eye, one in fifty for each sight.
    fn rods_unseen(&self, left_out: Option<Feature>) -> f64 {
        let sights = self.found.features.iter().filter(|seen| Some(**seen) != left_out);
        let of_rods = sights.filter(|seen| matches!(seen.about(), About::RodShape | About::RodSurface));
        of_rods.count() as f64 * libm::log(0.02)
    }

    /// Log likelihood of everything measured, ohms included, for a thing that is none of these explanations: any size
    /// within wide ends, even on a logarithmic scale. The ends are a choice, no source.
    pub(super) fn log_if_none_of_these(&self) -> f64 {
        let found = self.found;
        let of_ohms = |shown: &Shown| match shown {
            Shown::Ohms(ohms) => any_ohms(ohms.value.value()),
            Shown::Over(_) => libm::log(0.05),
        };
        let ohms: f64 = found.ohms.iter().map(|reading| of_ohms(&reading.shown)).sum();
        let lengths: f64 = [found.depth, found.outer_width, found.outer_length, found.winding_height]
            .iter()
            .flatten()
            .map(|length| anything(length.value.value(), (0.5, 200.0)))
            .sum();
        let wires: f64 = [found.wire_over_insulation, found.wire_bare]
            .iter()
            .flatten()
            .map(|wire| anything(wire.value.value(), (0.01, 1.0)))
            .sum();
        let henries: f64 =
            found.inductance.iter().map(|at| anything(at.read.value.value(), BRIDGE_RANGE)).sum();
        let qualities: f64 =
            found.quality.iter().map(|at| anything(at.read.value.size(), BRIDGE_RANGE)).sum();
        ohms + lengths + wires + henries + qualities
    }

    /// Log likelihood of one sight of parts given the others, for a hand and condition.
    pub(super) fn sight_of_parts(&self, seen: Feature, hand: Hand, condition: Condition) -> f64 {
        let features = &self.found.features;
        let others: Vec<Feature> = features.iter().copied().filter(|other| *other != seen).collect();
        parts::weigh(hand, condition, features, self.opinions).log_likelihood
            - parts::weigh(hand, condition, &others, self.opinions).log_likelihood
    }
}

/// Henries or quality factors that a bridge shows of anything at all.
const BRIDGE_RANGE: (f64, f64) = (1e-3, 1e3);

fn near<Q: Quantity>(read: Option<Uncertain<Q>>, expected: f64) -> f64 {
    read.map_or(0.0, |read| {
        log_normal(read.value.size(), Spread { mean: expected, deviation: read.standard_uncertainty.size() })
    })
}

/// Log density of the ohms of any coil whatever: between 100 Ω and 100 kΩ, and ever less likely beyond, where a break or
/// a short explains the reading of whatever thing it is.
fn any_ohms(ohms: f64) -> f64 {
    let (least, most) = (100.0, 100e3);
    let beyond = (ohms / least).min(most / ohms).min(1.0);
    anything(ohms, (least, most)) + libm::log(beyond)
}

/// Log density of a value spread evenly on a logarithmic scale. Beyond the ends it goes on as it was: no value is ruled
/// out.
fn anything(value: f64, (least, most): (f64, f64)) -> f64 {
    -libm::log(value * libm::log(most / least))
}
