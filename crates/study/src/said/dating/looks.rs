//! Materials, signs and colours named in a clause.
//!
//! Each row is a pattern for one clause: all its words in any order, `a|b` for either. A clause that something turns
//! round (`not`, `no`) says nothing but by a row that turns round itself. Of two rows of one family that a clause fits,
//! the first is the closer.

use asfound_evidence::material::{self, Glow, Material};
use asfound_evidence::sign::{self, Sign};

use crate::said::clauses::Clause;

#[rustfmt::skip]
const SIGNS: &[(&str, &str)] = &[
    ("cover|covers solder undisturbed|untouched|unbroken|intact|dull", "cover-never-lifted"),
    ("cover|covers solder opened|broken|cut|reflowed|resoldered|disturbed|bright", "cover-lifted"),
    ("solder|joint|joints bright|new|fresh|shiny over dull|old|grey|gray", "solder-bright-over-dull"),
    ("bright over dull|grey|gray", "solder-bright-over-dull"),
    ("two|different solders|alloys|solder", "solder-two-alloys"),
    ("fresh|new|sticky flux", "solder-fresh-flux"),
    ("joint|joints|solder|soldering blob|blobs|blobby|messy|clumsy|lumpy", "solder-clumsy"),
    ("insulation burnt|burned|scorched|melted", "solder-clumsy"),
    ("stub|stubs|clipped wire|lead|lug|lugs", "solder-stub"),
    ("no joint|joints|solder opened|disturbed|remade|touched|resoldered|re-soldered", "nothing-unsoldered"),
    ("joint|joints|solder not|never opened|disturbed|remade|touched|resoldered|re-soldered|reworked", "solder-undisturbed"),
    ("never|not resoldered|re-soldered|unsoldered", "nothing-unsoldered"),
    ("nothing cut|unsoldered|disturbed|touched|resoldered", "nothing-unsoldered"),
    ("solder|joints not original", "something-unsoldered"),
    ("joint|joints|solder|soldering resoldered|re-soldered|remade|redone|reflowed|disturbed|reworked|opened", "something-unsoldered"),
    ("resoldered|re-soldered|unsoldered|reflowed", "something-unsoldered"),
    ("was|were|been cut|unsoldered", "something-unsoldered"),
    ("cut rejoined|spliced", "something-unsoldered"),
    ("joint|joints|solder|soldering undisturbed|untouched|unbroken|intact|original", "solder-undisturbed"),
    ("joint|joints|solder dull|grey|gray|old", "solder-dull"),
    ("joint|joints|solder bright|shiny|new|fresh", "solder-bright"),

    ("no|without extra|other|more|stray|additional|second hole|holes", "holes-agree"),
    ("hole|holes not|don't|doesn't line|agree|match|meet|align|fit", "holes-apart"),
    ("only hole|holes|screw|screws line|align|meet|fit|agree", "holes-apart"),
    ("hole|holes off|misaligned|mismatched|apart|miss", "holes-apart"),
    ("hole|holes plugged|filled|doweled|dowelled", "holes-plugged"),
    ("hole|holes|rout|routing|routed enlarged|widened|opened|filed|bored|reamed|drilled-out", "holes-enlarged"),
    ("extra|stray|additional|second|spare|more hole|holes", "holes-extra"),
    ("hole|holes agree|match|matches|line|lines|meet|fit|align|coincide|original", "holes-agree"),

    ("outline|shadow|footprint not match|agree|fit", "outline-other"),
    ("no outline|shadow|footprint", "outline-none"),
    ("outline|shadow|footprint other|another|different|bigger|smaller", "outline-other"),
    ("outline|shadow|footprint match|matches|agrees|agree|fits|same|exactly|sharp", "outline-matches"),
    ("fits|matches shadow|outline", "outline-matches"),
    ("unfaded|unworn under|beneath|below", "outline-matches"),
    ("witness mark|marks not match|agree|fit", "witness-marks-other"),
    ("witness mark|marks other|another|different|two|double|second", "witness-marks-other"),
    ("witness mark|marks match|matches|agree|agrees|same|right|one", "witness-marks-match"),

    ("dust|grime|dirt|rust unbroken|undisturbed|continuous|bridges|bridging|across", "dust-unbroken"),
    ("nut lacquer|finish unbroken|undisturbed|bridges|bridging|over", "nut-lacquer-unbroken"),
    ("lacquer|finish|clearcoat|overcoat|paint unbroken|bridges|bridging|continuous", "lacquer-unbroken"),
    ("lacquer|finish|paint broken|cracked|chipped|cut edge|round|around|along", "lacquer-broken"),

    ("wear not match|agree|continue|fit", "wear-unlike"),
    ("wear unlike|different|inconsistent|wrong", "wear-unlike"),
    ("wear runs|continues|carries on|over|across", "wear-runs-on"),
    ("wear|worn matches|match|agrees|agree|alike|like|consistent|same", "wear-alike"),
    ("aged|worn|distressed artificially|hand", "aged-by-hand"),
    ("distressed", "aged-by-hand"),
    ("plating|patina|ageing|aging|tarnish|chrome|nickel|gold not match|agree|fit", "ageing-unlike"),
    ("plating|patina|ageing|aging|tarnish|chrome|nickel unlike|different|other|another|newer|brighter|inconsistent", "ageing-unlike"),
    ("plating|patina|ageing|aging|aged|tarnish|chrome|nickel alike|same|match|matches|like|agree|agrees|consistent", "ageing-alike"),
    ("as old rest|neighbours|others|fellows|everything", "ageing-alike"),
    ("looks|look|too|looking new|newer|modern|recent|clean|fresh", "looks-new"),

    ("no splice|splices", "lead-one-length"),
    ("lead|leads|wire|wires|insulation|wiring one length|piece", "lead-one-length"),
    ("lead|leads spliced|splice|joined|extended|rejoined", "lead-spliced"),
    ("lead|leads not original", "lead-new"),
    ("lead|leads new|newer|replaced|plastic|modern", "lead-new"),
    ("lead|leads original|untouched|old|cloth|as-made", "lead-old"),

    ("tape not new|newer", "tape-old"),
    ("tape new|newer|clear|plastic|modern|sharp", "tape-newer"),
    ("tape dry|brown|brittle|old|original", "tape-old"),

    ("new rivets|eyelets flatwork|plate|plates", "flatwork-new-rivets"),
    ("new rivets|eyelets", "flatwork-new-rivets"),
    ("flatwork not original", "flatwork-replaced"),
    ("flatwork replaced|new|newer", "flatwork-replaced"),
    ("flatwork untouched|original|undisturbed", "flatwork-untouched"),

    ("rods|poles|magnets not|never moved|pressed", "rods-dirty"),
    ("rods|poles|magnets|magnet moved|pressed|pushed|knocked|raised|replaced|swapped", "rods-moved"),
    ("rods|poles|magnets dirty|rusty|rusted|dull|grimy|old", "rods-dirty"),
    ("rods|poles|magnets shiny|bright|clean|new", "rods-shiny"),

    ("cover|covers never|not lifted|opened|removed|off", "cover-never-lifted"),
    ("cover|covers lifted|opened|removed|off", "cover-lifted"),

    ("tabs never|not bent|opened|lifted", "case-never-opened"),
    ("tabs untouched|undisturbed|tight", "case-never-opened"),
    ("tabs bent|opened|lifted|broken", "case-opened"),
    ("case opened|prised", "case-opened"),
    ("case never|not opened", "case-never-opened"),
    ("track|wafer|disc replaced|swapped|new|newer", "track-replaced"),
    ("shaft not cut|filed|shortened", "shaft-as-made"),
    ("shaft cut|filed|shortened|sawn|sawed", "shaft-cut"),
    ("shaft untouched|uncut|original", "shaft-as-made"),

    ("dots|dot|markers|marker planed|thin|sanded|through|oval|cut", "dots-planed"),
    ("board|fretboard|fingerboard lifted|reglued|re-glued|replaced", "board-lifted"),
    ("glue line|squeeze-out board|fretboard|fingerboard", "board-lifted"),
    ("board|fretboard|fingerboard thin|thinner|planed|sanded|levelled|leveled|trued", "board-thin"),
    ("dots|dot|markers|board|fretboard|fingerboard untouched|round|full|original|unplaned", "dots-untouched"),

    ("no|without nibs", "frets-over-binding"),
    ("nibs gone|cut|filed|missing|removed", "frets-over-binding"),
    ("frets|fret|ends over binding", "frets-over-binding"),
    ("nibs", "fret-nibs"),
    ("slots|slot chipped|filled|widened|splintered|torn|chipping", "fret-slots-chipped"),
    ("frets not original", "frets-new"),
    ("never|not refretted|re-fretted|refret", "frets-worn-old"),
    ("refretted|re-fretted|refret|re-fret", "frets-new"),
    ("frets new|newer|replaced|modern|jumbo", "frets-new"),
    ("frets worn|old|original|grooved", "frets-worn-old"),

    ("nut glue", "nut-glue"),
    ("nut not original", "nut-new"),
    ("nut new|newer|replaced|modern", "nut-new"),
    ("nut old|original|worn|yellowed", "nut-old"),

    ("pocket|heel|tenon routed|reshaped|filled|widened|recut|sanded", "pocket-reshaped"),
    ("neck reset|reglued|re-glued", "pocket-reshaped"),
    ("pocket|heel gap|gaps|loose|play", "pocket-gap"),
    ("pocket|heel|tenon untouched|undisturbed|original", "pocket-undisturbed"),
    ("neck never|not off|removed|reset", "pocket-undisturbed"),

    ("finish|lacquer|paint|colour over dents|dings|wear|scratches|damage", "finish-over-wear"),
    ("overspray|over-spray|oversprayed", "overspray"),
    ("edges|edge|contours soft|softened|sanded|blurred", "edges-soft"),
    ("cavity|cavities|pocket|under|rout other|another|different|second colour|paint|finish|coat", "cavity-colour-other"),
    ("cavity|cavities|pocket|rout colour|paint|finish agrees|agree|same|match|matches|original|undisturbed", "cavity-colour-agrees"),
    ("never|not refinished|resprayed|repainted", "finish-judged-original"),
    ("finish not original", "refinished"),
    ("refinished|resprayed|re-sprayed|repainted|refinish|stripped", "refinished"),
    ("touched|touch in|up finish|lacquer|paint|colour", "touched-in"),
    ("touch-in|touched-in|touched-up|retouched|touch-up", "touched-in"),
    ("dark|darker patch|patches|spots|areas|islands ultraviolet|uv|glow|lamp", "glow-patches"),
    ("glow|glows|fluoresces even|evenly|uniformly", "glow-even"),
    ("finish|lacquer checked|checking|checks|crazed|crazing", "finish-checked"),
    ("finish original|untouched", "finish-judged-original"),

    ("screw|screws heads|slots|recesses untouched|clean|crisp|unmarked|undisturbed|sharp", "screws-untouched"),
    ("screws untouched|undisturbed|never-turned", "screws-untouched"),
    ("screws never turned|out", "screws-untouched"),
    ("screw|screws chewed|damaged|burred|mangled|slipped", "screws-chewed"),
    ("screws not match|alike|original", "screws-unlike"),
    ("screws unlike|mixed|odd|different|mismatched|replaced|new|newer", "screws-unlike"),
    ("screws aged|rusted|tarnished place|places|position", "screws-aged-by-place"),

    ("serial|stamp|label|number|sticker removed|ground|scraped|lifted|gone|erased", "marks-removed"),
    ("overstamped|restamped|re-stamped|overwritten|over-stamped", "marks-restamped"),
    ("label|stamp|stamps|sticker|serial undisturbed|untouched|original", "marks-undisturbed"),

    ("reproduction|repro|copy|replica|reissue", "reproduction"),
];

/// What is judged by eye where nothing closer was said: of the part itself, unless the clause names a side of it.
#[rustfmt::skip]
const JUDGED: &[(&str, &str)] = &[
    ("not|hardly original", "judged-replaced"),
    ("never|not replaced|swapped|exchanged|changed", "judged-original"),
    ("replaced|replacement|aftermarket|swapped|exchanged", "judged-replaced"),
    ("original|all-original", "judged-original"),
];

/// Sides of a part that a judgement may name: it is then not of the part itself.
const SIDES: [&str; 34] = [
    "finish",
    "lacquer",
    "paint",
    "frets",
    "fret",
    "nut",
    "screw",
    "screws",
    "lead",
    "leads",
    "flatwork",
    "joint",
    "joints",
    "solder",
    "soldering",
    "cover",
    "rods",
    "poles",
    "magnets",
    "magnet",
    "tape",
    "shaft",
    "track",
    "wafer",
    "board",
    "fretboard",
    "fingerboard",
    "hole",
    "holes",
    "pocket",
    "heel",
    "label",
    "stamp",
    "winding",
];

/// The signs that a clause names; `before` are the clauses of the same observation that stand before it. A bare judgement
/// after a side was named, as in `nut bone, not original`, may be of either, and says nothing.
pub(super) fn signs(clause: &Clause, before: &[Clause]) -> Vec<Sign> {
    let mut found: Vec<Sign> = Vec::new();
    let mut used: Vec<&str> = Vec::new();
    for (pattern, id) in SIGNS.iter().filter(|(pattern, _)| clause.says(pattern)) {
        let words: Vec<&str> = said_by(clause, pattern).collect();
        // Words that said one thing already say no second: lacquer over a nut is no lacquer over an edge.
        if words.iter().all(|word| used.contains(word)) {
            continue;
        }
        let Some(sign) = sign::sign(id) else { continue };
        if found.iter().all(|known| known.family != sign.family) {
            used.extend(words);
            found.push(*sign);
        }
    }
    if found.is_empty() && before.iter().chain([clause]).all(|clause| !clause.has_any(&SIDES)) {
        let judged = JUDGED.iter().find(|(pattern, _)| clause.says(pattern));
        found.extend(judged.and_then(|(_, id)| sign::sign(id)).copied());
    }
    found
}

/// The words of a clause that a pattern fits, each the first of its alternatives that is there.
fn said_by<'p>(clause: &Clause, pattern: &'p str) -> impl Iterator<Item = &'p str> {
    pattern.split(' ').filter_map(|alternatives| alternatives.split('|').find(|word| clause.has(word)))
}

/// A pattern, the sorts of part it holds for (any, where empty), and the material.
#[rustfmt::skip]
const MATERIALS: &[(&str, &[&str], &str)] = &[
    ("acetal wire|enamel|coat|insulation", &["coil", "transformer", "choke"], "wire-polyvinyl-acetal"),
    ("plain enamel|enamelled|enameled", &["coil", "transformer", "choke"], "wire-plain-enamel"),
    ("polyurethane wire|enamel|coat", &["coil", "transformer", "choke"], "wire-polyurethane"),
    ("polyester wire|enamel|coat", &["coil", "transformer", "choke"], "wire-polyester"),
    ("fibre|fiber flatwork|plate|plates|sheet|vulcanised|vulcanized|bobbin", &[], "vulcanised-fibre"),
    ("moulded|molded|plastic bobbin", &[], "moulded-bobbin"),
    ("vinyl|pvc|plastic lead|leads|wire|wires|insulation|insulated", &[], "pvc-insulation"),
    ("vinyl-covered|pvc-covered|plastic-covered|pvc-insulated|plastic-insulated|vinyl-insulated", &[], "pvc-insulation"),
    ("rubber wire|wires|insulation|lead|leads|insulated|braid", &[], "rubber-insulation"),
    ("cloth wire|wires|lead|leads|insulation|covered", &[], "cloth-insulation"),
    ("cloth-covered|cloth-insulated", &[], "cloth-insulation"),
    ("polyester|film", &["capacitor"], "polyester-capacitor"),
    ("paper", &["capacitor"], "paper-capacitor"),
    ("carbon-composition|composition", &["resistor"], "carbon-composition-resistor"),
    ("metal-oxide|oxide", &["resistor"], "metal-oxide-resistor"),
    ("printed wiring|circuit", &[], "printed-wiring"),
    ("circuit board", &[], "printed-wiring"),
    ("octal", &["valve", "socket"], "octal-base"),
    ("b9g", &[], "b9g-base"),
    ("loctal|b8b", &[], "loctal-base"),
    ("noval|b7g|b9a|miniature", &["valve", "socket"], "miniature-base"),
    ("lead-free solder|joint|joints", &[], "lead-free-solder"),
    ("alnico", &[], "alnico"),
    ("ferrite|ceramic magnet|magnets", &[], "ferrite-magnet"),
    ("samarium|samarium-cobalt", &[], "samarium-cobalt"),
    ("neodymium", &[], "neodymium"),
    ("nitrate plastic|guard|plate|layer|layers|binding|cellulose", &[], "cellulose-nitrate"),
    ("nitrate|celluloid|camphor", &["guard", "plate", "binding", "knob", "cover"], "cellulose-nitrate"),
    ("phenolic", &[], "phenolic"),
    ("vinyl|pvc", &["guard", "plate", "knob", "binding"], "vinyl-plastic"),
    ("acrylic guard|plate|plastic|knob|knobs|cover", &[], "acrylic"),
    ("polystyrene", &[], "polystyrene"),
    ("epoxy", &[], "epoxy"),
    ("polyurethane foam|plastic", &[], "polyurethane-plastic"),
    ("polycarbonate", &[], "polycarbonate"),
    ("polyacetal", &[], "polyacetal"),
    ("abs", &[], "abs"),
    ("nitro|nitrocellulose|nitrate lacquer|finish|sprayed", &[], "nitrocellulose-lacquer"),
    ("polyurethane|polyester|acid-cured|synthetic|two-pack lacquer|finish|varnish", &[], "synthetic-lacquer"),
    ("rutile", &[], "rutile-white"),
    ("titanium white", &[], "titanium-white"),
    ("niobium-free", &[], "chloride-white"),
    ("cross-recess|cross-head|crosshead|cross-headed|cross-slotted", &[], "cross-recess-screw"),
    ("hot-melt", &[], "hot-melt"),
    ("hot glue|melt", &[], "hot-melt"),
    ("cyanoacrylate|superglue|super-glue", &[], "cyanoacrylate"),
    ("super|instant glue", &[], "cyanoacrylate"),
    ("brightener|brighteners|brightened", &[], "brightened-paper"),
    ("zip|zip-code code|label|five-digit", &[], "zip-code"),
    ("west germany", &[], "west-germany"),
    ("ce mark|marked", &[], "ce-mark"),
    ("bin crossed-out|mark|symbol", &[], "bin-mark"),
];

/// The materials that a clause names on a part of this sort. A clause that is turned round names none.
pub(super) fn materials(clause: &Clause, sort: &str) -> Vec<&'static Material> {
    let holds = |sorts: &[&str]| sorts.is_empty() || sorts.contains(&sort);
    let named = MATERIALS.iter().filter(|(pattern, sorts, _)| holds(sorts) && clause.says(pattern));
    let mut found: Vec<&Material> = named.filter_map(|(_, _, id)| material::material(id)).collect();
    found.dedup();
    found
}

const GLOWS: &[(&str, &str)] = &[
    ("patch|patches|spots|areas|islands dark|darker", "dark-patches"),
    ("no glow", "none"),
    ("not glow|fluoresce", "none"),
    ("milky|milky-blue", "milky-blue"),
    ("orange", "orange"),
    ("white|whitish|yellow-white", "yellow-white"),
    ("green|greenish|yellow-green|greenish-yellow|yellowish-green", "greenish-yellow"),
    ("blue|bluish", "bluish"),
];

/// The colour under ultraviolet light that a clause names.
pub(super) fn glows(clause: &Clause) -> Vec<&'static Glow> {
    let under =
        ["ultraviolet", "uv", "blacklight", "black-light", "fluoresces", "fluoresce", "glows", "glow"];
    if !clause.has_any(&under) {
        return Vec::new();
    }
    GLOWS
        .iter()
        .find(|(pattern, _)| clause.says(pattern))
        .and_then(|(_, id)| material::glow(id))
        .into_iter()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::said::clauses::clauses;

    fn ids(text: &str) -> Vec<&'static str> {
        let all = clauses(1, text);
        all.iter()
            .enumerate()
            .flat_map(|(at, clause)| signs(clause, &all[..at]))
            .map(|sign| sign.id)
            .collect()
    }

    #[test]
    fn every_row_names_a_row_of_the_tables() {
        for (pattern, id) in SIGNS.iter().chain(JUDGED) {
            assert!(sign::sign(id).is_some(), "{pattern}: {id}");
        }
        for (pattern, _, id) in MATERIALS {
            assert!(material::material(id).is_some(), "{pattern}: {id}");
        }
        for (pattern, id) in GLOWS {
            assert!(material::glow(id).is_some(), "{pattern}: {id}");
        }
        for sign in sign::signs() {
            assert!(SIGNS.iter().chain(JUDGED).any(|(_, id)| *id == sign.id), "nothing says {}", sign.id);
        }
        for material in material::materials() {
            assert!(MATERIALS.iter().any(|(_, _, id)| *id == material.id), "nothing says {}", material.id);
        }
    }

    #[test]
    fn signs_as_they_are_written_at_a_bench() {
        let rows: &[(&str, &[&str])] = &[
            ("joints undisturbed, dull", &["solder-undisturbed"]),
            ("bright solder over dull", &["solder-bright-over-dull"]),
            ("joint on the case shiny, fresh flux", &["solder-bright", "solder-fresh-flux"]),
            ("no joint ever opened", &["nothing-unsoldered"]),
            ("solder has never been disturbed", &["solder-undisturbed"]),
            ("two solders in the ground joint", &["solder-two-alloys"]),
            ("screw holes do not line up", &["holes-apart"]),
            ("screw holes agree, no extra holes", &["holes-agree", "holes-agree"]),
            ("two extra holes under the bridge", &["holes-extra"]),
            ("old holes plugged", &["holes-plugged"]),
            ("unfaded outline matches", &["outline-matches"]),
            ("outline of another shape under it", &["outline-other"]),
            ("witness marks match", &["witness-marks-match"]),
            ("dust unbroken over plate and body", &["dust-unbroken"]),
            ("lacquer bridges neck and nut unbroken", &["nut-lacquer-unbroken"]),
            ("wear runs on over the edge", &["wear-runs-on"]),
            ("wear unlike the other tuners", &["wear-unlike"]),
            ("plating newer than the rest", &["ageing-unlike"]),
            ("looks too new", &["looks-new"]),
            ("coppery wire, flatwork untouched, start lead spliced", &["flatwork-untouched", "lead-spliced"]),
            ("leads cloth, in one length with the harness", &["lead-old"]),
            ("side dots planed thin", &["dots-planed"]),
            ("refretted, nibs gone", &["frets-new", "frets-over-binding"]),
            ("never refretted", &["frets-worn-old"]),
            ("finish runs over dents", &["finish-over-wear"]),
            ("refinished", &["refinished"]),
            ("finish not original", &["refinished"]),
            ("original", &["judged-original"]),
            ("not original", &["judged-replaced"]),
            ("a reproduction", &["reproduction"]),
            ("shaft cut, tabs never bent", &["shaft-cut", "case-never-opened"]),
            ("the wire was cut and rejoined", &["something-unsoldered"]),
            ("covers never off, solder on the cover dull", &["cover-never-lifted", "cover-never-lifted"]),
            ("only four screws line up", &["holes-apart"]),
            ("never replaced", &["judged-original"]),
            ("nut bone, not original", &[]),
            ("the owner likes it", &[]),
            ("6.31 k, cold", &[]),
        ];
        for (text, expected) in rows {
            assert_eq!(ids(text), *expected, "{text}");
        }
    }

    #[test]
    fn materials_hold_for_the_sort_of_part_they_are_on() {
        let read = |text: &str, sort: &str| -> Vec<&str> {
            clauses(1, text).iter().flat_map(|clause| materials(clause, sort)).map(|known| known.id).collect()
        };
        assert_eq!(read("polyester film", "capacitor"), ["polyester-capacitor"]);
        assert_eq!(read("polyester finish", "body"), ["synthetic-lacquer"]);
        assert_eq!(read("pvc-insulated leads", "coil"), ["pvc-insulation"]);
        assert_eq!(read("hot glue in the cavity", "body"), ["hot-melt"]);
        assert_eq!(read("no hot glue anywhere", "body"), Vec::<&str>::new());
        assert_eq!(read("lead-free solder on the case", "pot"), ["lead-free-solder"]);
    }

    #[test]
    fn a_glow_is_a_hint() {
        let read =
            |text: &str| clauses(1, text).iter().flat_map(glows).map(|known| known.id).collect::<Vec<_>>();
        assert_eq!(read("finish glows greenish under ultraviolet"), ["greenish-yellow"]);
        assert_eq!(read("does not glow"), ["none"]);
        assert_eq!(read("orange finish"), Vec::<&str>::new());
    }
}
