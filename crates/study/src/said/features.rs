//! What the eye saw on a coil, read from the words it was said in.
//!
//! Each row is a pattern for one clause: all its words in any order, `a|b` for either. A clause that something turns
//! round (`not`, `no`) says nothing but by a row that turns round itself. The words stay as they were said; what was read
//! from them is shown beside the finding that rests on it, so that a misreading is seen and said again in other words.

use asfound_electric::coil::Feature;

use super::clauses::Clause;

/// What was read, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FeatureSaid {
    /// What was seen.
    pub feature: Feature,
    /// The entry.
    pub seq: u64,
    /// The clause it was read from.
    pub clause: String,
}

const PATTERNS: [(&str, Feature); 62] = [
    ("coppery", Feature::WireCoppery),
    ("copper-coloured", Feature::WireCoppery),
    ("wire amber", Feature::WireCoppery),
    ("purplish", Feature::WirePurplish),
    ("purple wire|enamel", Feature::WirePurplish),
    ("wire dark brown", Feature::WirePurplish),
    ("wire red|green|gold", Feature::WireOtherColour),
    ("black wax", Feature::WaxBlack),
    ("clear|yellowish wax", Feature::WaxClear),
    ("no|without wax", Feature::WaxNone),
    ("unwaxed", Feature::WaxNone),
    ("not waxed", Feature::WaxNone),
    ("newer|new tape", Feature::TapeNewer),
    ("tape clear|plastic|modern|sharp", Feature::TapeNewer),
    ("tape dry|brown|brittle|old", Feature::TapeDryOld),
    ("tape not new|newer", Feature::TapeDryOld),
    ("lead|leads original", Feature::LeadOriginal),
    ("lead|leads untouched", Feature::LeadOriginal),
    ("lead|leads cloth old|dry|white|black|yellow", Feature::LeadOriginal),
    ("lead|leads replaced|new|newer|plastic", Feature::LeadReplaced),
    ("lead|leads spliced|splice", Feature::LeadSpliced),
    ("lead|leads resoldered|re-attached|reattached|repaired", Feature::LeadSpliced),
    ("start lead other side", Feature::StartLeadOtherSide),
    ("start opposite side", Feature::StartLeadOtherSide),
    ("start lead usual|same side", Feature::StartLeadAsUsual),
    ("flatwork untouched|original", Feature::FlatworkUntouched),
    ("flatwork replaced|new|newer", Feature::FlatworkReplaced),
    ("new rivets|eyelets", Feature::FlatworkNewRivets),
    ("rods|poles bevelled", Feature::RodsBevelled),
    ("rods|poles flat", Feature::RodsFlat),
    ("rods|poles dirty|rusty|dull|grimy", Feature::RodsDirty),
    ("rods|poles shiny|bright|clean", Feature::RodsShiny),
    ("wound full edge", Feature::FullToTheEdge),
    ("wound edge flatwork", Feature::FullToTheEdge),
    ("full edge", Feature::FullToTheEdge),
    ("fills flatwork", Feature::FullToTheEdge),
    ("as full as usual", Feature::FullAsUsual),
    ("as full as its neighbour", Feature::FullAsUsual),
    ("less full", Feature::LessFullThanItsNeighbour),
    ("not as full", Feature::LessFullThanItsNeighbour),
    ("thinner winding", Feature::LessFullThanItsNeighbour),
    ("flat sides|sided", Feature::SidesFlat),
    ("sides flat", Feature::SidesFlat),
    ("flat-sided", Feature::SidesFlat),
    ("rounded|round sides", Feature::SidesRounded),
    ("bulging sides", Feature::SidesRounded),
    ("joints|joint|solder dull|grey|old", Feature::JointsDull),
    ("joints|joint|solder bright|shiny|new|fresh", Feature::JointsBright),
    ("nothing cut", Feature::NothingCut),
    ("nothing unsoldered", Feature::NothingCut),
    ("not cut", Feature::NothingCut),
    ("never unsoldered|opened", Feature::NothingCut),
    ("was cut", Feature::SomethingCut),
    ("been cut", Feature::SomethingCut),
    ("been unsoldered", Feature::SomethingCut),
    ("cut and rejoined", Feature::SomethingCut),
    ("flatwork rods untouched", Feature::FlatworkUntouched),
    ("wire copper-red", Feature::WireCoppery),
    ("wax black", Feature::WaxBlack),
    ("wax clear", Feature::WaxClear),
    ("tape newer", Feature::TapeNewer),
    ("lead newer", Feature::LeadReplaced),
];

/// Everything that clauses say of a coil, each once: where two clauses say unlike things of one matter, the later stands
/// and both are answered, so that nothing is chosen silently.
pub fn features(clauses: &[Clause]) -> (Vec<FeatureSaid>, Vec<FeatureSaid>) {
    let mut standing: Vec<FeatureSaid> = Vec::new();
    let mut overruled = Vec::new();
    for clause in clauses {
        // A clause may compare two things, and then says less of either than it seems.
        let compares = clause.has("than") && !clause.has_any(&["neighbour", "full"]);
        for (_, feature) in PATTERNS.iter().filter(|(pattern, _)| !compares && clause.says(pattern)) {
            let said = FeatureSaid { feature: *feature, seq: clause.seq, clause: clause.text.clone() };
            match standing.iter().position(|other| other.feature.about() == feature.about()) {
                Some(at) if standing[at].feature == *feature => {}
                // Of two patterns that one clause fits, the first in the table is the closer.
                Some(at) if standing[at].seq == said.seq && standing[at].clause == said.clause => {}
                Some(at) => overruled.push(std::mem::replace(&mut standing[at], said)),
                None => standing.push(said),
            }
        }
    }
    (standing, overruled)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::said::clauses::clauses;

    fn read(text: &str) -> Vec<Feature> {
        let mut read: Vec<Feature> =
            features(&clauses(1, text)).0.into_iter().map(|said| said.feature).collect();
        read.sort();
        read
    }

    #[test]
    fn what_a_restorer_writes_is_read() {
        use Feature::*;
        let rows: [(&str, &[Feature]); 9] = [
            (
                "coppery wire under black wax, start lead white cloth, tape dry and brown, nothing cut",
                &[WireCoppery, WaxBlack, TapeDryOld, LeadOriginal, NothingCut],
            ),
            ("clear tape, its edge sharp", &[TapeNewer]),
            ("outer lead spliced under the tape with a short piece of thinner wire", &[LeadSpliced]),
            ("purplish plain enamel, flat shiny rods, little use", &[WirePurplish, RodsFlat, RodsShiny]),
            (
                "coppery wire, bevelled dirty rods, black wax",
                &[WireCoppery, WaxBlack, RodsBevelled, RodsDirty],
            ),
            ("wound almost to the edge of its flatwork, flat sides", &[FullToTheEdge, SidesFlat]),
            ("same rods and flatwork as the neck coil, wound clearly less full", &[LessFullThanItsNeighbour]),
            ("no wax, tape not new", &[WaxNone, TapeDryOld]),
            ("the owner likes it", &[]),
        ];
        for (text, expected) in rows {
            let mut expected = expected.to_vec();
            expected.sort();
            assert_eq!(read(text), expected, "{text}");
        }
    }

    #[test]
    fn the_later_word_stands_and_the_earlier_is_not_lost() {
        let mut said = clauses(3, "tape dry");
        said.extend(clauses(9, "tape newer after all"));
        let (standing, overruled) = features(&said);
        assert_eq!(standing[0].feature, Feature::TapeNewer);
        assert_eq!((overruled[0].feature, overruled[0].seq), (Feature::TapeDryOld, 3));
    }
}
