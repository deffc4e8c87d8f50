//! From evidence to what is known of each coil and each pair.

use super::equations::{Equations, Sum};
use super::found::{
    Between, Found, HumHeard, JackEnd, Lead, Motion, Needle, PolarityError, Tap, Tone, WindingSeen,
};
use super::odd::{Strings, strings};
use crate::circuit::Sign;

/// One piece of evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Evidence {
    /// The winding sense seen on this coil.
    Winding {
        /// Which coil.
        coil: usize,
    },
    /// The compass at this coil.
    Compass {
        /// Which coil.
        coil: usize,
    },
    /// Which lead of this coil goes to hot.
    Hot {
        /// Which coil.
        coil: usize,
    },
    /// A tap test, by its place in [`Found::taps`].
    Tap(usize),
    /// The tone of a pair, by its place in [`Found::pairs`].
    Tone(usize),
    /// The hum of a pair, by its place in [`Found::pairs`].
    Hum(usize),
}

/// Evidence that cannot all be true. At least one piece is a slip, or a coil has a fault that is no matter of polarity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// The pieces, in order.
    pub evidence: Vec<Evidence>,
}

/// What is known of one coil; `None` is both ways possible.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CoilPolarity {
    /// The lead that goes positive when steel touches the poles.
    pub positive_end: Option<Lead>,
    /// The turns, followed from the first lead.
    pub winding: Option<WindingSeen>,
    /// The turns, followed from the start of the winding, where the start is known.
    pub winding_from_start: Option<Sign>,
    /// The pole at the strings; plus is north.
    pub magnet: Option<Sign>,
    /// The lead at the hot output.
    pub hot: Option<Lead>,
    /// Plus where the start of the winding is grounded, where the start is known.
    pub connection: Option<Sign>,
    /// Plus where the hot output goes positive when steel touches the poles: s w m.
    pub string: Option<Sign>,
    /// Plus where the turns run clockwise, followed from ground to hot: s w.
    pub hum: Option<Sign>,
}

/// Whether two coils add for the strings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Phase {
    /// They add: full.
    In,
    /// They take from each other: thin.
    Out,
}

/// What two coils do to hum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HumTogether {
    /// They take from each other.
    Cancels,
    /// They add.
    Adds,
}

/// What is known of two coils together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Relation {
    /// One coil.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// In phase or out of it; `None` is both ways possible.
    pub phase: Option<Phase>,
    /// What they do to hum; `None` is both ways possible.
    pub hum: Option<HumTogether>,
    /// Whether both have the same pole at the strings; `None` is both ways possible.
    pub magnets_alike: Option<bool>,
    /// Every combination that remains. Two unknowns may hang together: with opposite magnets, in phase *is*
    /// hum-cancelling.
    pub ways: Vec<(Phase, HumTogether)>,
    /// What fixes the phase.
    pub why: Vec<Evidence>,
}

/// What is known of all coils.
#[derive(Debug, Clone, PartialEq)]
pub struct Polarity {
    /// Each coil, in the order of [`Found::coils`].
    pub coils: Vec<CoilPolarity>,
    /// Each pair, the first coil's pairs first.
    pub relations: Vec<Relation>,
    /// The string signs against each other, and the odd one out.
    pub strings: Strings,
    /// Evidence that contradicts itself; all answers are given without it.
    pub contradictions: Vec<Contradiction>,
}

impl Polarity {
    /// The relation of two coils, in either order.
    pub fn relation(&self, a: usize, b: usize) -> Option<&Relation> {
        self.relations.iter().find(|it| (it.a, it.b) == (a.min(b), a.max(b)))
    }
}

/// The unknowns of a coil, as sums. Winding followed from the first lead: clockwise is even. Magnet: north is even.
/// Hot lead: the first is even.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unknowns {
    winding: Sum,
    magnet: Sum,
    hot: Sum,
}

impl Unknowns {
    pub(super) const fn of(coil: usize) -> Self {
        Self {
            winding: Sum::unknown(3 * coil),
            magnet: Sum::unknown(3 * coil + 1),
            hot: Sum::unknown(3 * coil + 2),
        }
    }

    /// Even where the first lead goes positive. Clockwise over north ends at its positive lead (Lenz).
    pub(super) const fn positive_end(self) -> Sum {
        self.winding.plus(self.magnet).flipped()
    }

    /// Even where hot goes positive.
    pub(super) const fn string(self) -> Sum {
        self.positive_end().plus(self.hot)
    }

    /// Even where the turns run clockwise from ground to hot.
    const fn hum(self) -> Sum {
        self.winding.plus(self.hot).flipped()
    }
}

const fn is_minus(sign: Sign) -> bool {
    matches!(sign, Sign::Minus)
}

const fn sign(odd: bool) -> Sign {
    if odd { Sign::Minus } else { Sign::Plus }
}

/// The equation `sum = odd` as `sum + odd = 0`.
const fn equal(sum: Sum, odd: bool) -> Sum {
    if odd { sum.flipped() } else { sum }
}

fn of_tap(tap: &Tap) -> Option<Sum> {
    let coil = Unknowns::of(tap.coil);
    let up = match tap.needle {
        Needle::Up => true,
        Needle::Down => false,
        Needle::Still => return None,
    };
    // Whether the end with the meter's + goes positive when steel touches.
    let plus_is_positive = up == (tap.motion == Motion::Touching);
    Some(match tap.between {
        Between::Leads { plus } => equal(coil.positive_end(), (plus == Lead::Second) == plus_is_positive),
        Between::Jack { plus } => equal(coil.string(), (plus == JackEnd::Tip) != plus_is_positive),
    })
}

/// Every observation as an equation.
fn equations_of(found: &Found) -> Vec<(Evidence, Sum)> {
    let mut all = Vec::new();
    for (coil, seen) in found.coils.iter().enumerate() {
        let unknowns = Unknowns::of(coil);
        if let Some(WindingSeen { from, sense }) = seen.winding {
            let odd = is_minus(sense) != (from == Lead::Second);
            all.push((Evidence::Winding { coil }, equal(unknowns.winding, odd)));
        }
        if let Some(magnet) = seen.magnet {
            all.push((Evidence::Compass { coil }, equal(unknowns.magnet, is_minus(magnet))));
        }
        if let Some(hot) = seen.hot {
            all.push((Evidence::Hot { coil }, equal(unknowns.hot, hot == Lead::Second)));
        }
    }
    let taps = found.taps.iter().enumerate();
    all.extend(taps.filter_map(|(at, tap)| Some((Evidence::Tap(at), of_tap(tap)?))));
    for (at, pair) in found.pairs.iter().enumerate() {
        let (a, b) = (Unknowns::of(pair.a), Unknowns::of(pair.b));
        if let Some(tone) = pair.tone {
            all.push((Evidence::Tone(at), equal(a.string().plus(b.string()), tone == Tone::Thin)));
        }
        if let Some(hum) = pair.hum {
            all.push((Evidence::Hum(at), equal(a.hum().plus(b.hum()), hum == HumHeard::Less)));
        }
    }
    all
}

/// Solves what was found.
///
/// # Errors
/// [`PolarityError`] when a test names a coil that is not there, or there is more than is solved together.
/// Contradicting evidence is no error but an answer.
pub fn solve(found: &Found) -> Result<Polarity, PolarityError> {
    found.check()?;
    let mut evidence = equations_of(found);
    let mut contradictions = Vec::new();
    let equations = loop {
        let (equations, doubted) = taken(&evidence);
        if doubted.is_empty() {
            break equations;
        }
        let all = doubted.iter().fold(0, |all, one| all | one);
        contradictions
            .extend(doubted.into_iter().map(|from| Contradiction { evidence: named(&evidence, from) }));
        let mut at = 0..;
        evidence.retain(|_| at.next().is_some_and(|at: usize| all >> at & 1 == 0));
    };
    let known = Known { equations: &equations, evidence: &evidence };
    let count = found.coils.len();
    let coils = (0..count).map(|coil| known.coil(coil, found.coils[coil].start)).collect();
    let pairs = (0..count).flat_map(|a| (a + 1..count).map(move |b| (a, b)));
    let relations: Vec<Relation> = pairs.map(|(a, b)| known.relation(a, b)).collect();
    let strings = strings(count, &relations);
    Ok(Polarity { coils, relations, strings, contradictions })
}

/// The equations, and each set of evidence that contradicts itself.
fn taken(evidence: &[(Evidence, Sum)]) -> (Equations, Vec<u128>) {
    let mut equations = Equations::default();
    let sums = evidence.iter().enumerate();
    let doubted = sums.filter_map(|(at, (_, sum))| equations.take(*sum, at).err()).collect();
    (equations, doubted)
}

fn named(evidence: &[(Evidence, Sum)], from: u128) -> Vec<Evidence> {
    let mut named: Vec<Evidence> = evidence
        .iter()
        .enumerate()
        .filter(|(at, _)| from >> at & 1 == 1)
        .map(|(_, (evidence, _))| *evidence)
        .collect();
    named.sort_unstable();
    named
}

struct Known<'a> {
    equations: &'a Equations,
    evidence: &'a [(Evidence, Sum)],
}

impl Known<'_> {
    fn odd(&self, sum: Sum) -> Option<bool> {
        self.equations.value(sum).map(|(odd, _)| odd)
    }

    fn coil(&self, coil: usize, start: Option<Lead>) -> CoilPolarity {
        let unknowns = Unknowns::of(coil);
        let winding = self.odd(unknowns.winding);
        let hot = self.odd(unknowns.hot);
        CoilPolarity {
            positive_end: self.odd(unknowns.positive_end()).map(Lead::of_bit),
            winding: winding.map(|odd| WindingSeen { from: Lead::First, sense: sign(odd) }),
            winding_from_start: winding.zip(start).map(|(odd, start)| sign(odd != (start == Lead::Second))),
            magnet: self.odd(unknowns.magnet).map(sign),
            hot: hot.map(Lead::of_bit),
            connection: hot.zip(start).map(|(hot, start)| sign(Lead::of_bit(hot) == start)),
            string: self.odd(unknowns.string()).map(sign),
            hum: self.odd(unknowns.hum()).map(sign),
        }
    }

    fn relation(&self, a: usize, b: usize) -> Relation {
        let (one, other) = (Unknowns::of(a), Unknowns::of(b));
        let phase = self.equations.value(one.string().plus(other.string()));
        let hum = self.odd(one.hum().plus(other.hum()));
        let magnets = self.odd(one.magnet.plus(other.magnet));
        let why = phase.map(|(_, from)| named(self.evidence, from)).unwrap_or_default();
        let phase = phase.map(|(odd, _)| if odd { Phase::Out } else { Phase::In });
        let hum = hum.map(|odd| if odd { HumTogether::Cancels } else { HumTogether::Adds });
        let remains = |&(way, together): &(Phase, HumTogether)| {
            // In phase with like hum signs means like magnets; so does out of phase with unlike ones.
            let alike = (way == Phase::In) == (together == HumTogether::Adds);
            phase.is_none_or(|known| known == way)
                && hum.is_none_or(|known| known == together)
                && magnets.is_none_or(|unlike| alike != unlike)
        };
        let ways = [Phase::In, Phase::Out]
            .into_iter()
            .flat_map(|phase| [HumTogether::Cancels, HumTogether::Adds].map(|hum| (phase, hum)))
            .filter(remains)
            .collect();
        Relation { a, b, phase, hum, magnets_alike: magnets.map(|unlike| !unlike), ways, why }
    }
}
