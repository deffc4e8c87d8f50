//! What is heard, said in many ways.

mod common;

use asfound_study::said::heard::{Complaint, KnobDoes, Sounds, What, read};
use asfound_study::touches::{OnTouch, SpokenBy};
use common::Ledger;

const PARTS: &str = "
part neck coil, coil, neck
part middle coil, coil, middle
part bridge coil, coil, bridge
part volume, pot, plate
part neck tone, pot, plate
part middle tone, pot, plate
part selector, switch, plate
part jack, jack, side
";

fn heard(words: &str) -> Vec<Complaint> {
    let ledger = Ledger::with(&format!("{PARTS}piece: {words}"));
    read(&ledger.job, None)
}

/// Every complaint in short: what, coils, positions.
fn short(words: &str) -> Vec<String> {
    let one = |it: Complaint| {
        let mut told = match it.what {
            What::Sounds(sounds) => format!("{sounds:?}"),
            What::Touch(by, change) => format!("{by:?} {change:?}"),
            What::Knobs(knobs, does) => format!("{} {does:?}", knobs.join("+")),
            What::Moved(what) => format!("Moved {}", what.join("+")),
            What::Lifted(what) => format!("Lifted {}", what.join("+")),
            other => format!("{other:?}"),
        };
        for coil in &it.stand.coils {
            told += &format!(" /{coil}");
        }
        for position in &it.stand.positions {
            told += &format!(" @{}", position.position);
        }
        for (knob, turn) in &it.stand.knobs {
            told += &format!(" {knob}={turn}");
        }
        if it.stand.every {
            told += " every";
        }
        if it.stand.each_alone {
            told += " each";
        }
        told
    };
    heard(words).into_iter().map(one).collect()
}

#[test]
fn how_positions_sound_is_read_however_they_are_named() {
    for (words, told) in [
        ("position 2 thin", "Thin @2"),
        ("thin in position two", "Thin @2"),
        ("the second position sounds nasal", "Thin @2"),
        ("positions 2 and 4 weak and sickly", "Thin @2 @4"),
        ("positions 2, 4 thin", "Thin @2 @4"),
        ("selector in the middle: dull", "Dark @middle"),
        ("lever 3 no sound", "Silent @3"),
        ("bridge and middle thin", "Thin /bridge coil /middle coil"),
        ("bridge with middle out of phase", "Thin /bridge coil /middle coil"),
        ("neck silent", "Silent /neck coil"),
        ("the neck pickup is dead", "Silent /neck coil"),
        ("no treble on the neck pickup", "Dark /neck coil"),
        ("always dark", "Dark every"),
        ("hum in all five positions", "Hums every"),
        ("only bridge sounds", "OnlySounds /bridge coil"),
        ("position 1: bridge", "Gives /bridge coil @1"),
        ("position 1 bridge with the neck also heard", "AlsoSounds /bridge coil /neck coil @1"),
        ("neck not heard in position 4", "Missing /neck coil @4"),
        ("each sounds right alone", "Right each"),
        ("no position gives both", "NeverBoth"),
    ] {
        assert_eq!(short(words), [told], "{words}");
    }
}

#[test]
fn knobs_touches_and_handling_are_read() {
    for (words, told) in [
        ("volume scratches", "volume Scratches"),
        ("the volume pot is scratchy", "volume Scratches"),
        ("neck tone does nothing", "neck tone Nothing"),
        ("middle tone has no effect", "middle tone Nothing"),
        ("tone does not work", "neck tone+middle tone Nothing"),
        ("neck tone knob dead", "neck tone Nothing"),
        ("neck tone at zero kills it", "neck tone Silences neck tone=0"),
        ("turning the volume to zero silences everything", "volume Silences volume=0"),
        ("both knobs work", "volume+neck tone+middle tone Works"),
        ("crackles when the lead is moved", "Moved lead"),
        ("cuts out when the jack is wiggled", "Moved jack"),
        ("lifting the neck tone restores the treble", "Lifted neck tone"),
        ("touching the strings no change", "Strings NoChange"),
        ("quieter when the plug is touched", "Sleeve Better"),
        ("hum worse on touching any metal", "Strings Worse"),
        ("cuts out when a string touches the neck cover", "CutsOutAtCover /neck coil"),
        ("cavity painted with conductive paint", "Coated(true)"),
        ("cavity is not painted", "Coated(false)"),
        ("the cavity is foil lined", "Coated(true)"),
        ("protective earth of the amplifier proved", "EarthProved"),
    ] {
        assert_eq!(short(words), [told], "{words}");
    }
    let both = "either volume kills both";
    let ledger = Ledger::with(
        "part neck coil, coil, neck\npart bridge coil, coil, bridge\npart neck volume, pot, a\npart bridge volume, pot, b\n\
         piece: either volume kills both",
    );
    let told = read(&ledger.job, None);
    let knobs = vec!["neck volume".to_owned(), "bridge volume".to_owned()];
    assert_eq!(told[0].what, What::Knobs(knobs, KnobDoes::Silences), "{both}");
}

#[test]
fn clauses_follow_each_other_and_what_is_no_complaint_is_left() {
    assert_eq!(
        short("loud hum, touching strings no change, touching the plug's sleeve quiets it"),
        ["Hums", "Strings NoChange", "Sleeve Better"]
    );
    assert_eq!(
        short("Position 1: bridge, both knobs work. Position 2: neck, very dark, neck tone dead"),
        [
            "Gives /bridge coil @1",
            "volume+neck tone+middle tone Works /bridge coil @1",
            "Gives /neck coil @2",
            "Dark /neck coil @2",
            "neck tone Nothing /neck coil @2"
        ]
    );
    assert_eq!(short("bridge with middle thin but neck with middle full").len(), 2);
    for words in [
        "smells of damp",
        "old wax in the cavity",
        "the owner never liked it",
        "neck bolted on with four screws",
        "not thin",
        "cut clean and bright",
    ] {
        assert_eq!(short(words), [""; 0], "{words}");
    }
    let said = heard("hum worse on touch");
    assert_eq!(said[0].what, What::Touch(SpokenBy::Strings, OnTouch::Worse));
}

#[test]
fn an_observation_of_a_part_is_about_that_part() {
    let ledger = Ledger::with(&format!("{PARTS}neck coil: silent\nvolume: scratches"));
    let told = read(&ledger.job, None);
    assert_eq!(
        (&told[0].what, &told[0].stand.coils),
        (&What::Sounds(Sounds::Silent), &vec!["neck coil".to_owned()])
    );
    assert_eq!(told[1].what, What::Knobs(vec!["volume".to_owned()], KnobDoes::Scratches));
}

#[test]
fn what_is_looked_at_is_not_taken_for_a_sound() {
    for words in [
        "lead a dull",
        "its solder is bright and lies over dull solder on the wire ends",
        "tape dry and brown, nothing cut",
        "same rods as its neighbour, wound clearly less full",
    ] {
        assert_eq!(short(words), [""; 0], "{words}");
    }
}
