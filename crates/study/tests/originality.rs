//! What within a part is original is judged side by side, each by what was seen of it.

mod common;

use asfound_study::coils;
use asfound_study::dates;
use asfound_study::material::Material;
use asfound_study::originality::{AskFor, Aspect, Ground, PartOriginality, State, of_whole, study};
use asfound_study::record::{Body, Made1};
use asfound_study::said::dating;
use asfound_weigh::{Side, Strength};
use common::{Ledger, workshop};

const PARTS: &str = "
part bridge coil, coil, bridge
part volume pot, pot, plate
part neck, neck, body
part guard, guard, body
";

fn judged(ledger: &Ledger) -> Vec<PartOriginality> {
    let material = Material::of(ledger.job.clone(), workshop().job);
    let said = dating::read(&material.job);
    let coils = coils::study(&material.job, &material.workshop, &[], &coils::WeighedBefore::default());
    study(&material.job, &said, &coils, &dates::study(&material))
}

fn after(lines: &str) -> Vec<PartOriginality> {
    judged(&Ledger::with(&format!("{PARTS}{lines}")))
}

fn part(parts: Vec<PartOriginality>, name: &str) -> PartOriginality {
    parts.into_iter().find(|part| part.name == name).expect("a part of the job")
}

fn state(part: &PartOriginality, aspect: Aspect) -> State {
    part.aspect(aspect).expect("a side of such a part").state
}

#[test]
fn each_side_stands_by_itself() {
    let pot = part(
        after(
            "volume pot: bright solder over dull, fresh flux, shaft untouched, tabs never bent\nvolume pot: photo 8",
        ),
        "volume pot",
    );
    assert_eq!(state(&pot, Aspect::Joints), State::Altered);
    assert_eq!(state(&pot, Aspect::Shaft), State::Original);
    assert_eq!(state(&pot, Aspect::Place), State::NotLookedAt);
    let joints = pot.aspect(Aspect::Joints).expect("a side");
    let counted: Vec<&str> = joints
        .grounds
        .iter()
        .filter_map(|ground| match ground {
            Ground::Sign { seen, counts: true } => Some(seen.what.id),
            _ => None,
        })
        .collect();
    assert_eq!(counted, ["solder-bright-over-dull"], "flux has the same cause and does not count again");
    assert_eq!(joints.grounds.len(), 2);
    assert_eq!(joints.strength(), Some((Strength::Moderate, Side::Alternative)));
    let place = pot.aspect(Aspect::Place).expect("a side");
    assert!(place.to_look.iter().any(|look| look.family == "holes"), "{:?}", place.to_look);
    assert_eq!(place.likelihood_ratio, None);
}

#[test]
fn a_refret_is_no_other_neck() {
    let neck = part(after("neck: refretted, side dots untouched, pocket undisturbed"), "neck");
    assert_eq!(state(&neck, Aspect::Frets), State::Replaced);
    assert_eq!(state(&neck, Aspect::Board), State::Original);
    assert_eq!(state(&neck, Aspect::Pocket), State::Original);
    assert_eq!(state(&neck, Aspect::Itself), State::NotDecided, "its joint says a little of the neck itself");
}

#[test]
fn what_was_seen_of_two_places_of_one_side_is_said_to_differ() {
    let pot =
        part(after("volume pot: joints dull\nvolume pot: joint on the case bright over dull"), "volume pot");
    assert!(pot.aspect(Aspect::Joints).expect("a side").disagrees);
}

#[test]
fn a_weak_sign_decides_nothing() {
    let guard = part(after("guard: screw holes do not line up"), "guard");
    assert_eq!(state(&guard, Aspect::Place), State::NotDecided);
}

/// A reading in the usual range and a photograph leave the winding open: nobody can tell a good rewind by them.
#[test]
fn ohms_and_pictures_do_not_decide_a_winding() {
    let coil = part(after("bridge coil 6k31 21C"), "bridge coil");
    assert_eq!(state(&coil, Aspect::Winding), State::NotDecided);
    assert_eq!(coil.not_from_photographs.len(), 7);
    assert!(coil.not_from_photographs.contains(&AskFor::InductanceAndQ));
    let seen = part(
        after(
            "bridge coil 6k31 21C\nbridge coil: clear tape, outer lead spliced, new rivets in the flatwork, rods dirty",
        ),
        "bridge coil",
    );
    assert!(seen.not_from_photographs.is_empty(), "more than ohms is known");
    assert_eq!(state(&seen, Aspect::Cover), State::NotLookedAt);
    assert_ne!(state(&seen, Aspect::Flatwork), State::Original);
    let known = part(
        after("bridge coil 6k31 21C\nbridge coil: known to be rewound, cloth leads untouched"),
        "bridge coil",
    );
    assert_eq!(state(&known, Aspect::Winding), State::Altered);
    assert!(known.not_from_photographs.is_empty());
    // Nothing at all was read: the same is to be asked for.
    assert_eq!(part(after(""), "bridge coil").not_from_photographs.len(), 7);
}

/// Leads in vinyl came into use from 1933 to 1950: on a piece of the 1950s they say nothing. Lead-free solder came in from
/// 2003 (Directive 2002/95/EC): there it is a later joint.
#[test]
fn a_material_dates_the_side_that_it_is_on() {
    let lines = "volume pot: lead-free solder\nbridge coil: vinyl-covered leads";
    let dated =
        "volume pot: stamped 137 5540\nneck: pencilled 11-55\ndocument receipt, 12 May 1956: one guitar";
    let parts = after(&format!("{lines}\n{dated}"));
    let pot = part(parts.clone(), "volume pot");
    assert_eq!(state(&pot, Aspect::Joints), State::LaterReplacement);
    assert!(
        matches!(pot.aspect(Aspect::Joints).expect("a side").grounds[0], Ground::Material { ratio, .. } if ratio < 0.1)
    );
    let coil = part(parts, "bridge coil");
    assert_eq!(state(&coil, Aspect::Leads), State::NotDecided);
    // Where the piece is not dated, a material says nothing of its side.
    let undated = part(after(lines), "volume pot");
    assert_eq!(state(&undated, Aspect::Joints), State::NotLookedAt);
}

#[test]
fn a_fragment_counts_as_present_and_a_part_made_here_is_new() {
    let guard = part(after("guard: original, broken in pieces, kept in a bag"), "guard");
    assert!(guard.kept.as_ref().is_some_and(|kept| kept.what.broken));
    let mut ledger = Ledger::with(&format!("{PARTS}guard: outline matches, looks original"));
    let id = ledger.job.parts[3].item.body.part.clone();
    let made =
        Made1 { part: id, words: "cut from new sheet".to_owned(), aged: true, mark: None, happened: None };
    ledger.keep(&Body::Made(made));
    let guard = part(judged(&ledger), "guard");
    assert!(guard.made_here.is_some() && guard.aspects.is_empty(), "its looks say nothing");
}

#[test]
fn what_is_said_of_the_whole_is_judged_too() {
    let ledger = Ledger::with(&format!(
        "{PARTS}piece: finish checked all over, colour in the cavities the same, glows greenish under ultraviolet"
    ));
    let material = Material::of(ledger.job.clone(), workshop().job);
    let said = dating::read(&material.job);
    let whole = of_whole(&material.job, &said, &dates::study(&material)).expect("something was said");
    assert_eq!(state(&whole, Aspect::Finish), State::Original);
    assert_eq!(whole.glows[0].what.id, "greenish-yellow");
    let silent = Ledger::with(PARTS);
    let material = Material::of(silent.job.clone(), workshop().job);
    assert!(of_whole(&material.job, &dating::read(&material.job), &dates::study(&material)).is_none());
}

/// The study of coils weighs ohms and looks; that a wire is coated in polyester, in use from 1953 to 1958 on, it is not
/// told. Two solders in one joint it does not know.
#[test]
fn what_the_study_of_coils_does_not_know_is_not_lost() {
    let dated =
        "volume pot: stamped 137 4740\nneck: pencilled 11-47\ndocument receipt, 12 May 1948: one guitar";
    let with = |seen: &str| {
        let lines = format!(
            "bridge coil 6k31 21C\nbridge coil: {seen}, joints dull, two solders in one joint\n{dated}"
        );
        part(after(&lines), "bridge coil")
    };
    let old = with("tape newer");
    let polyester = with("tape newer, polyester enamel");
    let winding =
        |coil: &PartOriginality| coil.aspect(Aspect::Winding).expect("a side of a coil").original.value();
    assert!(
        winding(&polyester) < 0.1 && winding(&old) > 0.3,
        "{} and {}",
        winding(&polyester),
        winding(&old)
    );
    assert_eq!(state(&polyester, Aspect::Winding), State::Altered);
    assert_eq!(state(&old, Aspect::Joints), State::Altered);
}

#[test]
fn when_a_part_was_replaced_may_be_said_and_not_seen() {
    let dated =
        "volume pot: stamped 137 5540\nneck: pencilled 11-55\ndocument receipt, 12 May 1956: one guitar";
    let guard = |when: &str| {
        let seen = "a reproduction, holes do not line up, outline of another shape, looks too new";
        part(after(&format!("{dated}\nguard: {seen}\nguard: replaced{when}")), "guard")
    };
    assert_eq!(state(&guard(""), Aspect::Itself), State::Replaced);
    assert_eq!(state(&guard(" in 1987 by its owner"), Aspect::Itself), State::LaterReplacement);
    assert_eq!(state(&guard(" in 1957"), Aspect::Itself), State::PeriodReplacement);
}

/// A bill of a refret says that the frets are not the first, and nothing of the board.
#[test]
fn a_paper_of_a_repair_tells_of_the_side_that_it_names() {
    let neck = part(after("document refret bill, 3 June 1978: neck refretted"), "neck");
    assert_eq!(state(&neck, Aspect::Frets), State::Altered);
    assert_eq!(neck.aspect(Aspect::Frets).expect("a side").entries(), [5]);
    assert_eq!(state(&neck, Aspect::Board), State::NotLookedAt);
}
