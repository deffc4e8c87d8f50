//! One coil drawn: everything about it that nobody knows.

use super::answer::{Condition, Hand};
use super::construction::{Construction, Era, Insulation, Row, Spread};
use super::opinions::{Matter, Opinions};
use super::random::Random;
use super::tables::Tables;
use crate::bobbin::{Packing, Turns, Winding, Wound};
use crate::wire::{Build, Gauge, Spool, Wire};
use asfound_measure::{Millimetres, Ohms};

/// What is drawn over: what is stated, and the opinions.
pub(super) struct Over<'a> {
    pub(super) constructions: Vec<Construction>,
    pub(super) eras: [f64; 3],
    pub(super) opinions: &'a Opinions,
    /// Whether rare gauges are drawn more often than they occur, with weights that make up for it: a rare wire may be
    /// what explains a coil, and then a few draws would carry it all.
    pub(super) rare_oftener: bool,
}

/// A coil up to its turns.
#[derive(Debug, Clone, Copy)]
pub(super) struct Blank {
    pub(super) condition: Condition,
    pub(super) hand: Hand,
    pub(super) construction: Construction,
    pub(super) era: Era,
    pub(super) insulation: Insulation,
    pub(super) gauge: Gauge,
    pub(super) build: Build,
    pub(super) winding: Winding,
    /// Outline of the former as a multiple of the table's.
    pub(super) outline: f64,
    /// Depth from former to the flatwork's edge, in mm.
    pub(super) room: f64,
    /// Inductance with the core over that in air.
    pub(super) core: f64,
    pub(super) eddy_share: f64,
    pub(super) eddy_time: f64,
    /// In farads.
    pub(super) capacitance: f64,
    /// Share of the turns that is shorted or bridged out.
    pub(super) lost: f64,
    /// Coupling of a shorted part to the rest.
    pub(super) coupling: f64,
    /// Ohms of a joint in series.
    pub(super) joint: f64,
    /// Log of how much rarer such a coil is than it was drawn.
    pub(super) log_rarity: f64,
    turns: TurnsPrior,
}

/// Turns as a sum of normal distributions with shares.
#[derive(Debug, Clone, Copy)]
struct TurnsPrior([(f64, Spread); 3]);

impl TurnsPrior {
    fn density(&self, turns: f64) -> f64 {
        self.0.iter().map(|(share, spread)| share * normal_density(turns, *spread)).sum()
    }

    fn draw(&self, random: &mut Random) -> f64 {
        let place = random.one_of(self.0.map(|(share, _)| share));
        random.spread(self.0[place].1)
    }
}

/// Density of a normal distribution.
pub(super) fn normal_density(x: f64, Spread { mean, deviation }: Spread) -> f64 {
    let z = (x - mean) / deviation;
    libm::exp(-0.5 * z * z) / (deviation * (2.0 * std::f64::consts::PI).sqrt())
}

/// A coil with its turns.
#[derive(Debug, Clone, Copy)]
pub(super) struct CoilDrawn {
    pub(super) blank: Blank,
    pub(super) wound: Wound,
}

impl Blank {
    /// Draws everything but the turns. `None` in the rare case that a measure comes out below nothing.
    pub(super) fn draw(condition: Condition, hand: Hand, over: &Over, random: &mut Random) -> Option<Self> {
        let place = random.one_of(over.constructions.iter().map(|_| 1.0));
        let construction = over.constructions[place];
        let row = construction.row();
        let era = Era::ALL[random.one_of(over.eras)];
        let (made, rarity) = wire_as_made(row, era, over.rare_oftener, random)?;
        let (insulation, gauge, build) = match hand {
            Hand::AsMade => made,
            Hand::RewoundAlike => wound_alike(made, random),
            Hand::RewoundOtherwise => wound_otherwise(made, random)?,
        };
        let outline = 1.0 + row.outline_deviation * random.normal();
        let bobbin = row.bobbin_of(outline, random.spread(row.height)).ok()?;
        let ends = |least, most| (over.opinions.value(least), over.opinions.value(most));
        let packing = Packing::new(random.between(ends(Matter::PackingLeast, Matter::PackingMost))).ok()?;
        let winding = Winding { bobbin, spool: spool_of(gauge, build, random)?, packing };
        let (lost, coupling) = match condition {
            Condition::PartShorted => (
                random.log_between(ends(Matter::ShortedLeast, Matter::ShortedMost)),
                random.between((0.90, 0.99)),
            ),
            Condition::PartBridged => (random.between((0.02, 0.90)), 0.0),
            _ => (0.0, 0.0),
        };
        let joint = match condition {
            Condition::JointInSeries => random.log_between(ends(Matter::JointLeast, Matter::JointMost)),
            _ => 0.0,
        };
        let core = random.spread(row.core);
        // No rods lower an inductance at the frequencies meant here.
        if core < 1.0 {
            return None;
        }
        Some(Self {
            condition,
            hand,
            construction,
            era,
            insulation,
            gauge,
            build,
            winding,
            outline,
            room: random.spread(row.room),
            core,
            eddy_share: random.between(row.eddy_share),
            eddy_time: random.between(row.eddy_time),
            capacitance: random.between(ends(Matter::CapacitanceLeast, Matter::CapacitanceMost)),
            lost,
            coupling,
            joint,
            log_rarity: libm::log(rarity),
            turns: turns_prior(hand, row, era, &winding, over)?,
        })
    }

    /// The coil with turns drawn from their prior.
    pub(super) fn with_drawn_turns(self, random: &mut Random) -> Option<CoilDrawn> {
        let wound = self.winding.turns(Turns(self.turns.draw(random))).ok()?;
        self.fits(wound)
    }

    /// The coil that reads so many ohms at 20 °C, with the density of its turns in turns for each ohm of wire and
    /// joint: `p(N) dN/dR₂₀`, where `R₂₀ = (1 − x) r N (P + g c N) + R_joint`, so
    /// `dR₂₀/dN = (1 − x) r (P + 2 g T)`: what a turn at the outside adds.
    pub(super) fn that_reads(self, ohms_at_20: f64) -> Option<(CoilDrawn, f64)> {
        let whole = (ohms_at_20 - self.joint) / (1.0 - self.lost);
        let wound = self.winding.reading(Ohms(whole)).ok()?;
        let outer = self.winding.bobbin.turn_length(wound.depth).value() * 1e-3;
        let for_each_turn = (1.0 - self.lost) * self.winding.spool.ohms_per_metre().value() * outer;
        let density = self.turns.density(wound.turns.value()) / for_each_turn;
        Some((self.fits(wound)?, density))
    }

    /// No winding hangs over its flatwork; a draw that does is no coil.
    fn fits(self, wound: Wound) -> Option<CoilDrawn> {
        (wound.depth.value() <= self.room).then_some(CoilDrawn { blank: self, wound })
    }
}

impl CoilDrawn {
    /// Ohms at 20 °C, with what is lost and what a joint adds. An open coil's wire is not asked for them.
    pub(super) fn ohms_at_20(&self) -> f64 {
        self.wound.ohms.value() * (1.0 - self.blank.lost) + self.blank.joint
    }

    /// Low-frequency inductance of all the turns, the lost ones included, in henries.
    pub(super) fn whole_inductance(&self, tables: &Tables) -> f64 {
        let blank = &self.blank;
        let height = blank.winding.bobbin.height().value();
        let in_air =
            tables.in_air(blank.construction, blank.outline, height, self.wound.depth, self.wound.turns);
        in_air * blank.core
    }

    /// Depth as a share of the room.
    pub(super) fn share_of_room(&self) -> f64 {
        self.wound.depth.value() / self.blank.room
    }
}

/// The wire as made, with its probability over that of drawing it. Rare gauges come up by the square root of their
/// share where they are to come up oftener.
fn wire_as_made(
    row: &Row,
    era: Era,
    rare_oftener: bool,
    random: &mut Random,
) -> Option<((Insulation, Gauge, Build), f64)> {
    let insulation = Insulation::ALL[random.one_of(row.insulations[era as usize])];
    let often = |share: f64| if rare_oftener { share.sqrt() } else { share };
    let all: f64 = row.gauges.iter().map(|(_, share)| often(*share)).sum();
    let (gauge, share) = row.gauges[random.one_of(row.gauges.iter().map(|(_, share)| often(*share)))];
    let rarity = share * all / often(share);
    Some(((insulation, Gauge::new(gauge).ok()?, build_of(insulation, random)), rarity))
}

fn build_of(insulation: Insulation, random: &mut Random) -> Build {
    let builds = insulation.builds();
    builds[random.one_of(builds.map(|(_, share)| share))].0
}

/// What a winder of later years has on the shelf. Common practice, no source.
const SHELF: [f64; 3] = [0.30, 0.20, 0.50];

/// Like wire: gauge and build as made, mostly the same coat too.
fn wound_alike(made: (Insulation, Gauge, Build), random: &mut Random) -> (Insulation, Gauge, Build) {
    let (insulation, gauge, build) = made;
    if random.chance(0.6) {
        return made;
    }
    // Another coat of the same build, by what is on the shelf in that build.
    let in_build = |kind: Insulation| {
        kind.builds().iter().find(|(other, _)| *other == build).map_or(0.0, |(_, share)| *share)
    };
    let shares = Insulation::ALL
        .map(|kind| if kind == insulation { 0.0 } else { SHELF[kind as usize] * in_build(kind) });
    (Insulation::ALL[random.one_of(shares)], gauge, build)
}

/// Another gauge, or another build of the same. Shares are common practice, no source.
fn wound_otherwise(
    (_, made, build): (Insulation, Gauge, Build),
    random: &mut Random,
) -> Option<(Insulation, Gauge, Build)> {
    let step = [0_i8, 1, -1, 2][random.one_of([0.45, 0.35, 0.12, 0.08])];
    let gauge = Gauge::new(made.number().checked_add_signed(step)?).ok()?;
    for _ in 0..40 {
        let insulation = Insulation::ALL[random.one_of(SHELF)];
        let other = build_of(insulation, random);
        if step != 0 || other != build {
            return Some((insulation, gauge, other));
        }
    }
    None
}

/// A spool within the standard's limits, most often near the middle: published turns and ohms of one kind of coil vary
/// by less than the limits would allow (standard deviation 1.8 % of ohms for each turn in a hobby compilation).
fn spool_of(gauge: Gauge, build: Build, random: &mut Random) -> Option<Spool> {
    let wire = Wire { gauge, build };
    let (bare, overall) = (wire.bare(), wire.overall());
    let copper = random.triangle(bare.least.value(), bare.nominal.value(), bare.most.value());
    let coat = random.triangle(
        (overall.least - bare.least).value(),
        (overall.nominal - bare.nominal).value(),
        (overall.most - bare.most).value(),
    );
    Spool::new(Millimetres(copper), Millimetres(copper + coat)).ok()
}

/// As made: the era's turns, and the odd ones out. Rewound: half aim at the turns, half at the ohms.
fn turns_prior(hand: Hand, row: &Row, era: Era, winding: &Winding, over: &Over) -> Option<TurnsPrior> {
    let usual = row.turns[era as usize];
    if hand == Hand::AsMade {
        let odd = over.opinions.value(Matter::OddOneOut);
        return Some(TurnsPrior([(1.0 - odd, usual), (odd, row.odd_turns), (0.0, usual)]));
    }
    let spread = over.opinions.value(Matter::RewinderSpread);
    let (gauge, _) = row.gauges[0];
    let nominal = Winding {
        bobbin: row.bobbin().ok()?,
        spool: Wire { gauge: Gauge::new(gauge).ok()?, build: Build::Single }.nominal(),
        packing: Packing::new(MIDDLE_PACKING).ok()?,
    };
    let aim = nominal.turns(Turns(usual.mean)).ok()?.ohms;
    let for_ohms = winding.reading(aim).ok()?.turns.value();
    let about = |mean: f64| Spread { mean, deviation: spread * mean };
    let own = over.opinions.value(Matter::RewinderOwnAim);
    let to_kind = 0.5 * (1.0 - own);
    let own_aim = Spread { mean: usual.mean, deviation: OWN_AIM_SPREAD * usual.mean };
    Some(TurnsPrior([(to_kind, about(usual.mean)), (to_kind, about(for_ohms)), (own, own_aim)]))
}

/// How far turns wound to a rewinder's own aim lie about those of the kind, as a share: less for brightness, more for
/// output. Common practice, no source.
const OWN_AIM_SPREAD: f64 = 0.20;

/// The middle of wild-wound packing, on which the nominal coil of a kind is worked out.
pub(super) const MIDDLE_PACKING: f64 = 0.565;

#[cfg(test)]
mod tests {
    use super::*;

    fn blanks(condition: Condition) -> Vec<Blank> {
        let opinions = Opinions::default();
        let over = Over {
            constructions: Construction::ALL.to_vec(),
            eras: [0.4, 0.3, 0.3],
            opinions: &opinions,
            rare_oftener: false,
        };
        let mut random = Random::from_seed(7);
        let mut drawn = || Hand::ALL.map(|hand| Blank::draw(condition, hand, &over, &mut random));
        (0..60).flat_map(|_| drawn()).flatten().collect()
    }

    /// The coil solved for reads what was asked, and the density is `p(N) dN/dR` by difference.
    #[test]
    fn a_coil_solved_for_reads_what_was_asked() {
        let mut solved = 0;
        for condition in [Condition::Healthy, Condition::PartShorted, Condition::JointInSeries] {
            for blank in blanks(condition) {
                let ohms = 6000.0;
                let step = 1.0;
                let turns = |ohms: f64| blank.that_reads(ohms).map(|(coil, _)| coil.wound.turns.value());
                let (Some((coil, density)), Some(below), Some(above)) =
                    (blank.that_reads(ohms), turns(ohms - step), turns(ohms + step))
                else {
                    continue; // deeper than its room, or a joint of more than all the ohms
                };
                assert!((coil.ohms_at_20() / ohms - 1.0).abs() < 1e-12);
                let by_difference = (above - below) / (2.0 * step);
                let expected = blank.turns.density(coil.wound.turns.value()) * by_difference;
                // A central difference over 2 Ω of 6000 errs by about (1/6000)²/6 of itself, far below this.
                assert!((density - expected).abs() <= 1e-6 * expected, "{density} {expected}");
                solved += 1;
            }
        }
        assert!(solved > 200);
    }

    #[test]
    fn a_rewind_is_what_it_says() {
        let mut random = Random::from_seed(3);
        let row = Construction::SixRod.row();
        for _ in 0..500 {
            let (made, _) = wire_as_made(row, Era::Early, false, &mut random).expect("a wire");
            let alike = wound_alike(made, &mut random);
            assert_eq!((alike.1, alike.2), (made.1, made.2));
            let other = wound_otherwise(made, &mut random).expect("another wire");
            assert_ne!((other.1, other.2), (made.1, made.2));
        }
    }

    /// Drawing rare gauges oftener, weighted, gives the shares of the table.
    #[test]
    fn rare_gauges_are_weighted_back() {
        let row = Construction::SixRod.row();
        let mut random = Random::from_seed(11);
        let (mut rare, mut all) = (0.0, 0.0);
        let draws = 20_000;
        for _ in 0..draws {
            let ((_, gauge, _), rarity) = wire_as_made(row, Era::Early, true, &mut random).expect("a wire");
            all += rarity;
            rare += if gauge.number() == 43 { rarity } else { 0.0 };
        }
        // 43 gauge has a share of 0.03 and is drawn at 0.14 with weight 0.22: standard error 0.0005.
        assert!((rare / f64::from(draws) - 0.03).abs() < 0.003, "{rare}");
        assert!((all / f64::from(draws) - 1.0).abs() < 0.02, "{all}");
    }
}
