//! Signs that speak for or against a part being original and date nothing.
//!
//! **Signs of one cause are never multiplied.** Bright solder, fresh flux and a stub in the lug all come of one opening
//! of one joint; counted as three they would prove too much. Each sign belongs to a family, and families may have one
//! cause: whoever takes a part off and puts it back opens its joints, turns its screws and breaks the lacquer at its edge.
//! Of all signs of one cause only the strongest counts. The cost is that truly separate sights of one cause say no more
//! than the best of them.
//!
//! A sign speaks of one [`Aspect`]: bright solder of joints, not of the pot they are on. What it says of the part is
//! carried over by how often that aspect is altered on parts that stayed and on parts that were put in later:
//!
//! ```text
//! P(sign | part stayed) = (1 − α)·P(sign | aspect as made) + α·P(sign | aspect altered)      α = Aspect::altered().if_stayed
//! ```
//!
//! and likewise for a part put in later. Where the two are alike, as for frets and neck, the sign says nothing of the
//! part.
//!
//! ```
//! use asfound_evidence::{Aspect, sign};
//!
//! let seen = ["solder-bright-over-dull", "solder-fresh-flux", "holes-agree"].map(|id| *sign::sign(id).unwrap());
//! let joints = sign::weigh_signs(Aspect::Joints, &seen);
//! assert_eq!(joints.counted, [seen[0]]);
//! assert_eq!(joints.left_out, [seen[1]]);
//! assert!(joints.ratio() < 0.1);
//! ```

use std::sync::LazyLock;

use crate::aspect::Aspect;
use crate::table::rows;

/// A probability with the range within which another restorer might put it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    /// The least.
    pub least: f64,
    /// The stated value.
    pub value: f64,
    /// The most.
    pub most: f64,
}

impl Stated {
    const SURE: Stated = Stated { least: 1.0, value: 1.0, most: 1.0 };

    fn read(text: &str) -> Option<Stated> {
        let numbers: Vec<f64> = text.split(' ').filter_map(|number| number.parse().ok()).collect();
        let [least, value, most] = numbers[..] else { return None };
        Some(Stated { least, value, most })
    }

    fn and(self, other: Stated) -> Stated {
        Stated {
            least: self.least * other.least,
            value: self.value * other.value,
            most: self.most * other.most,
        }
    }
}

/// A sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sign {
    /// Its id in the table.
    pub id: &'static str,
    /// Its name in plain words.
    pub name: &'static str,
    /// What it is seen by, together with its like.
    pub family: &'static str,
    /// What it speaks of.
    pub aspect: Aspect,
    /// How probable it is on an aspect as made.
    pub if_as_made: Stated,
    /// How probable it is on an aspect altered or replaced.
    pub if_altered: Stated,
    /// What to mind: where looking hurts, or where it misleads; may be empty.
    pub caution: &'static str,
    /// Where the figures are from.
    pub source: &'static str,
}

static SIGNS: LazyLock<Vec<Sign>> = LazyLock::new(|| {
    rows(include_str!("../data/signs.tsv"))
        .filter_map(|[id, name, family, aspect, if_as_made, if_altered, caution, source]| {
            Some(Sign {
                id,
                name,
                family,
                aspect: aspect.parse().ok()?,
                if_as_made: Stated::read(if_as_made)?,
                if_altered: Stated::read(if_altered)?,
                caution: if caution == "-" { "" } else { caution },
                source,
            })
        })
        .collect()
});

/// Every sign of the table.
pub fn signs() -> &'static [Sign] {
    &SIGNS
}

/// A sign by its id.
pub fn sign(id: &str) -> Option<&'static Sign> {
    SIGNS.iter().find(|sign| sign.id == id)
}

/// What is looked at for the signs of one family.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LookFor {
    /// The family.
    pub family: &'static str,
    /// What of a part its signs speak of.
    pub aspect: Aspect,
    /// What to look at, in plain words.
    pub words: &'static str,
    /// Minutes of trouble with the thing at hand. Common practice, no source.
    pub minutes: u32,
    /// What to mind; may be empty.
    pub caution: &'static str,
}

static LOOKS: LazyLock<Vec<LookFor>> = LazyLock::new(|| {
    rows(include_str!("../data/looks.tsv"))
        .filter_map(|[family, words, minutes, caution]| {
            let aspect = SIGNS.iter().find(|sign| sign.family == family)?.aspect;
            let caution = if caution == "-" { "" } else { caution };
            Some(LookFor { family, aspect, words, minutes: minutes.parse().ok()?, caution })
        })
        .collect()
});

/// The look of every family.
pub fn looks() -> &'static [LookFor] {
    &LOOKS
}

impl Sign {
    /// The cause that it shares with other signs: what was taken off, what did not fit there, how it looks beside its
    /// fellows; else its family's own.
    pub fn cause(&self) -> &'static str {
        match self.family {
            "solder" | "screws" | "bridged edge" => "taken off and put back",
            "holes" | "traces where it sat" => "fit of its place",
            "aged together" | "judged by eye" => "looks beside its fellows",
            own => own,
        }
    }

    /// How much more probable it is as made than altered, as stated: above 1 it speaks for.
    pub fn ratio(&self) -> f64 {
        self.if_as_made.value / self.if_altered.value
    }

    /// Whether it speaks for the aspect as made.
    pub fn speaks_for(&self) -> bool {
        self.ratio() > 1.0
    }

    /// The same sign as it bears on the whole part: how probable it is on a part that stayed and on one put in later.
    pub fn of_part(&self) -> (Stated, Stated) {
        let altered = self.aspect.altered();
        let mixed = |share: f64| {
            let mix = |as_made: f64, altered: f64| (1.0 - share) * as_made + share * altered;
            Stated {
                least: mix(self.if_as_made.least, self.if_altered.least),
                value: mix(self.if_as_made.value, self.if_altered.value),
                most: mix(self.if_as_made.most, self.if_altered.most),
            }
        };
        (mixed(altered.if_stayed), mixed(altered.if_replaced))
    }

    fn weight_of_aspect(&self) -> f64 {
        libm::log(self.ratio()).abs()
    }

    fn weight_of_part(&self) -> f64 {
        let (stayed, replaced) = self.of_part();
        libm::log(stayed.value / replaced.value).abs()
    }
}

/// What signs come to, taken together.
#[derive(Debug, Clone, PartialEq)]
pub struct SignsWeighed {
    /// How probable they are as made, or on a part that stayed.
    pub if_original: Stated,
    /// How probable they are altered, or on a part put in later.
    pub if_replaced: Stated,
    /// The signs that counted: the strongest of each cause.
    pub counted: Vec<Sign>,
    /// Signs left out since a stronger one of the same cause counted.
    pub left_out: Vec<Sign>,
    ratio_range: (f64, f64),
}

impl SignsWeighed {
    /// The likelihood ratio for original, as stated.
    pub fn ratio(&self) -> f64 {
        self.if_original.value / self.if_replaced.value
    }

    /// The least and the most likelihood ratio with one figure of one sign at an end of its range and all others as
    /// stated.
    pub fn ratio_range(&self) -> (f64, f64) {
        self.ratio_range
    }

    /// Whether a sign left out points the other way than the one of its cause that counted: then two places, or two kinds
    /// of trace, were seen to differ, and that wants a second look.
    pub fn disagree(&self) -> bool {
        self.left_out.iter().any(|left| {
            let same = self.counted.iter().find(|counted| counted.cause() == left.cause());
            same.is_some_and(|counted| counted.speaks_for() != left.speaks_for())
        })
    }
}

/// What signs say of one aspect; those of other aspects are passed over. Without any sign both sides are sure: the ratio
/// is 1.
pub fn weigh_signs(aspect: Aspect, signs: &[Sign]) -> SignsWeighed {
    let of_aspect = signs.iter().filter(|sign| sign.aspect == aspect);
    weigh(of_aspect, |sign| (sign.if_as_made, sign.if_altered), Sign::weight_of_aspect)
}

/// What signs of all its aspects say of a whole part.
pub fn weigh_part(signs: &[Sign]) -> SignsWeighed {
    weigh(signs.iter(), Sign::of_part, Sign::weight_of_part)
}

fn weigh<'s>(
    signs: impl Iterator<Item = &'s Sign>,
    sides: impl Fn(&Sign) -> (Stated, Stated),
    weight: impl Fn(&Sign) -> f64,
) -> SignsWeighed {
    let mut counted: Vec<Sign> = Vec::new();
    let mut left_out: Vec<Sign> = Vec::new();
    for sign in signs {
        match counted.iter_mut().find(|other| other.cause() == sign.cause()) {
            Some(other) if other.id == sign.id => {}
            Some(other) if weight(sign) > weight(other) => left_out.push(std::mem::replace(other, *sign)),
            Some(_) => left_out.push(*sign),
            None => counted.push(*sign),
        }
    }
    left_out.sort_by_key(|sign| sign.id);
    left_out.dedup_by_key(|sign| sign.id);
    let start = (Stated::SURE, Stated::SURE);
    let (if_original, if_replaced) = counted.iter().fold(start, |(original, replaced), sign| {
        let (if_original, if_replaced) = sides(sign);
        (original.and(if_original), replaced.and(if_replaced))
    });
    let stated = if_original.value / if_replaced.value;
    let ends = counted.iter().map(sides).flat_map(|(original, replaced)| {
        let ends_of_original = [original.least, original.most].map(|end| stated * end / original.value);
        let ends_of_replaced = [replaced.least, replaced.most].map(|end| stated * replaced.value / end);
        ends_of_original.into_iter().chain(ends_of_replaced)
    });
    let ratio_range = ends.fold((stated, stated), |(least, most), end| (least.min(end), most.max(end)));
    SignsWeighed { if_original, if_replaced, counted, left_out, ratio_range }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn seen(ids: &[&str]) -> Vec<Sign> {
        ids.iter().map(|id| *sign(id).expect("a sign of the table")).collect()
    }

    #[test]
    fn every_row_of_the_table_is_read_and_holds_probabilities() {
        let text = include_str!("../data/signs.tsv");
        assert_eq!(signs().len(), text.lines().filter(|line| !line.starts_with('#')).count() - 1);
        for sign in signs() {
            for stated in [sign.if_as_made, sign.if_altered] {
                let rising = 0.0 < stated.least && stated.least <= stated.value;
                assert!(rising && stated.value <= stated.most && stated.most < 1.0, "{}", sign.id);
            }
            assert!(!sign.source.is_empty());
            assert_eq!(signs().iter().filter(|other| other.id == sign.id).count(), 1, "{}", sign.id);
            let apart = signs().iter().filter(|other| other.family == sign.family);
            assert!(apart.clone().all(|other| other.aspect == sign.aspect), "family {} is torn", sign.family);
            // A sign that may point either way within its range is no sign.
            let (least, most) = weigh_signs(sign.aspect, &[*sign]).ratio_range();
            assert!(
                least > 1.0 || most < 1.0 || (least - 1.0).abs() < 0.35,
                "{}: {least} to {most}",
                sign.id
            );
        }
    }

    #[test]
    fn every_family_has_one_look() {
        for sign in signs() {
            assert_eq!(
                looks().iter().filter(|look| look.family == sign.family).count(),
                1,
                "{}",
                sign.family
            );
        }
        let text = include_str!("../data/looks.tsv");
        assert_eq!(looks().len(), text.lines().filter(|line| !line.starts_with('#')).count() - 1);
    }

    #[test]
    fn of_one_cause_only_the_strongest_counts() {
        let solder =
            seen(&["solder-bright", "solder-bright-over-dull", "solder-two-alloys", "solder-fresh-flux"]);
        let joints = weigh_signs(Aspect::Joints, &solder);
        let strongest = weigh_signs(Aspect::Joints, &solder[1..2]);
        assert_eq!(joints.ratio(), strongest.ratio());
        assert_eq!((joints.counted.len(), joints.left_out.len()), (1, 3));
        assert!(!joints.disagree());
        let mut torn = solder;
        torn.extend(seen(&["solder-undisturbed"]));
        assert!(weigh_signs(Aspect::Joints, &torn).disagree());
        assert_eq!(weigh_signs(Aspect::Place, &torn).ratio(), 1.0);
    }

    #[test]
    fn signs_of_several_causes_are_multiplied() {
        let place = seen(&["holes-agree", "dust-unbroken"]);
        let each: f64 = place.iter().map(Sign::ratio).product();
        let together = weigh_signs(Aspect::Place, &place).ratio();
        // The same two quotients in another order: the last bit may differ.
        assert!((together / each - 1.0).abs() < 1e-12);
    }

    #[test]
    fn families_of_one_cause_are_not_multiplied() {
        // Taken off and put back: the joint, the screws and the edge all tell of the same hour.
        let taken_off = seen(&["solder-undisturbed", "screws-untouched", "lacquer-unbroken"]);
        let weighed = weigh_part(&taken_off);
        assert_eq!((weighed.counted.len(), weighed.left_out.len()), (1, 2));
        let fit = weigh_signs(Aspect::Place, &seen(&["holes-agree", "outline-other"]));
        assert_eq!(fit.counted[0].id, "outline-other");
        assert!(fit.disagree(), "holes that agree under another outline");
    }

    #[test]
    fn a_sign_says_less_of_the_part_than_of_its_own_aspect() {
        for sign in signs() {
            let (stayed, replaced) = sign.of_part();
            let of_part = libm::log(stayed.value / replaced.value);
            assert!(of_part.abs() <= libm::log(sign.ratio()).abs() + 1e-12, "{}", sign.id);
            if sign.aspect == Aspect::Frets {
                assert!(of_part.abs() < 1e-12, "a refret says nothing of the neck");
            }
        }
    }

    proptest! {
        #[test]
        fn neither_order_nor_saying_it_twice_changes_anything(
            drawn in prop::collection::vec(prop::sample::select(signs().to_vec()), 0..12),
            turn in 0_usize..12,
        ) {
            let mut other = drawn.clone();
            other.extend(drawn.iter().take(3).copied());
            if !other.is_empty() {
                let by = turn % other.len();
                other.rotate_left(by);
            }
            let (one, two) = (weigh_part(&drawn), weigh_part(&other));
            // Products in another order: the last bits may differ.
            prop_assert!((one.ratio() / two.ratio() - 1.0).abs() < 1e-9);
            prop_assert_eq!(one.counted.len(), two.counted.len());
            let (least, most) = one.ratio_range();
            prop_assert!(least <= one.ratio() && one.ratio() <= most);
        }
    }
}
