//! What was said in the trade's words is read, and nothing that was not said.

mod common;

use asfound_electric::Sign;
use asfound_electric::coil::Construction;
use asfound_electric::polarity::{HumHeard, Lead, Metal, Needle, Tone, solve};
use asfound_study::entry_line::hear;
use asfound_study::record::{Body, Reading1};
use asfound_study::said::{kindred, polarity};
use asfound_study::settings::{self, Stood};
use asfound_study::{missing, position, readings};
use common::{Ledger, workshop};
use proptest::prelude::*;

const THREE: &str = "
part neck coil, coil, neck
part middle coil, coil, middle
part bridge coil, coil, bridge
part volume pot, pot, plate
part tone pot, pot, plate
part lever, switch, plate
part jack, jack, body edge
";

fn reading(job: &Ledger, line: &str) -> Reading1 {
    match job.hear(line).unwrap_or_else(|error| panic!("{line}: {error:?}")).body {
        Body::Reading(reading) => reading,
        other => panic!("{line}: {other:?}"),
    }
}

/// Every row: the line, what is measured, how it was taken, the temperature.
#[test]
fn measures_are_said_by_name_and_settings_by_what_stood() {
    let job = Ledger::with(THREE).with_meters(workshop().meters);
    let rows = [
        ("neck coil wire 0.069 mm", "wire diameter", "", ""),
        ("neck coil bare wire 63 um", "bare wire diameter", "", ""),
        ("neck coil depth 5.1 mm", "winding depth", "", ""),
        ("neck outer length 64 mm", "outer length", "", ""),
        ("neck coil pole span 50 mm", "pole span", "", ""),
        ("neck coil Q 2.4 at 1 kHz", "Q at 1 kHz", "", ""),
        ("neck coil 2.36 H at 120Hz", "inductance at 120 Hz", "", ""),
        ("neck coil 2H36 at 1k at 21C", "inductance at 1 kHz", "", "21C"),
        ("neck coil 6k31 at 21 C at the joints", "resistance", "at the joints", "21 C"),
        ("jack 5.81k neck", "resistance", "at the jack, neck", ""),
        (
            "jack 3.04k neck and bridge volume full M1",
            "resistance",
            "at the jack, neck and bridge, volume full",
            "",
        ),
        ("jack 5.57k at the jack, lever 5, tone at 0", "resistance", "at the jack, lever 5, tone at 0", ""),
        ("middle 5.18k at the jack volume full", "resistance", "at the jack, volume full", ""),
    ];
    for (line, quantity, method, temperature) in rows {
        let body = reading(&job, line);
        assert_eq!(body.quantity, quantity, "{line}");
        assert_eq!(body.method.unwrap_or_default(), method, "{line}");
        assert_eq!(body.temperature.map(|typed| typed.text).unwrap_or_default(), temperature, "{line}");
    }
}

#[test]
fn how_it_stood_is_read_back_from_what_was_kept() {
    let job = Ledger::with(THREE);
    let stood = settings::all("at the jack, neck, and bridge, volume full, tone pot at 5, lever 2", &job.job);
    assert_eq!(
        stood,
        [
            Stood::Coil("P1".to_owned()),
            Stood::Coil("P3".to_owned()),
            Stood::Knob { part: Some("P4".to_owned()), name: "volume".to_owned(), turn: 1.0 },
            Stood::Knob { part: Some("P5".to_owned()), name: "tone pot".to_owned(), turn: 0.5 },
            Stood::Switch { part: Some("P6".to_owned()), name: "lever".to_owned(), position: "2".to_owned() },
        ]
    );
}

#[test]
fn the_kind_of_a_coil_is_what_was_said_of_it_and_else_what_its_piece_lets_one_take() {
    let job = Ledger::with(
        "part neck coil, coil, neck\npart half A, coil, bass side\nneck coil: six rods, 42 AWG, plain enamel, late 1960s\n\
         half A: split coil half\npiece: three single coils, early 1960s by its looks",
    );
    let neck = kindred::kind_of(&job.job, "P1");
    let construction = neck.construction.expect("said");
    assert_eq!((construction.what, construction.of_the_coil), (Construction::SixRod, true));
    assert_eq!(neck.gauge.expect("said").what, 42);
    let period = neck.period.expect("said").what;
    assert_eq!((period.from, period.to), (1967, 1969));
    let half = kindred::kind_of(&job.job, "P2");
    assert_eq!(half.construction.expect("said").what, Construction::SplitHalf);
    let period = half.period.expect("of the piece");
    assert_eq!((period.what.from, period.of_the_coil), (1960, false));
    assert_eq!(half.gauge, None, "nobody said it");
}

#[test]
fn a_coil_wound_anew_is_nobodys_kin() {
    let mut job = Ledger::with("part neck coil, coil, neck\nneck coil: six rods");
    assert!(kindred::kindred(&job.job, "P1").construction.is_some());
    job.say("did neck coil: rewound with 42 AWG, 8,000 turns");
    assert_eq!(kindred::kindred(&job.job, "P1").construction, None);
}

/// Steel on the screw coil with the meter's + on green: up. On the slug coil with + on black: down. So green and red go
/// positive (a practitioner's case, no source).
#[test]
fn taps_are_read_with_their_signs() {
    let job = Ledger::with(
        "part screw coil, coil, bridge\npart slug coil, coil, bridge\n\
         screw coil: tap, steel touching, + on green, - on white, needle up\n\
         slug coil: tap test with steel laid on the poles, + on black, - on red, down",
    );
    let said = polarity::read(&job.job, |_| None);
    assert_eq!(said.unusable, []);
    assert_eq!(said.found.taps.iter().map(|tap| tap.needle).collect::<Vec<_>>(), [Needle::Up, Needle::Down]);
    let solved = solve(&said.found).expect("sound evidence");
    let positive: Vec<&str> = (0..2)
        .map(|coil| said.found.coils[coil].name_of(solved.coils[coil].positive_end.expect("tapped")))
        .collect();
    assert_eq!(positive, ["green", "red"]);
}

#[test]
fn a_tap_that_lacks_something_says_what() {
    let job = Ledger::with("part neck coil, coil, neck\nneck coil: tap, + on white, - on black, needle up");
    let said = polarity::read(&job.job, |_| None);
    assert_eq!(said.found.taps, []);
    assert_eq!(said.unusable[0].1, "whether the steel was touching or leaving");
}

#[test]
fn compass_winding_metal_and_pairs_are_read() {
    let job = Ledger::with(&format!(
        "{THREE}
neck coil: compass, north at the strings
bridge coil: the compass needle's north end is drawn to the rods
neck coil: metal cover bonded to its ground lead
bridge coil: steel plate on its own wire
middle coil: no metal cover
piece: neck with middle thin, bridge with middle full
piece: neck and bridge together quieter"
    ));
    let said = polarity::read(&job.job, |_| None);
    let coils = &said.found.coils;
    assert_eq!(coils[0].magnet, Some(Sign::Plus));
    assert_eq!(coils[2].magnet, Some(Sign::Minus), "a south pole draws the north end");
    assert_eq!(coils[0].metal, Metal::TiedTo(Lead::Second));
    assert_eq!(coils[1].metal, Metal::None);
    assert_eq!(coils[2].metal, Metal::OwnWire);
    let pairs: Vec<_> = said.found.pairs.iter().map(|pair| (pair.a, pair.b, pair.tone, pair.hum)).collect();
    assert_eq!(
        pairs,
        [(0, 1, Some(Tone::Thin), None), (2, 1, Some(Tone::Full), None), (0, 2, None, Some(HumHeard::Less))]
    );
}

#[test]
fn what_is_missing_is_listed_until_it_is_there() {
    let mut job = Ledger::with("part neck coil, coil, neck\npart guard, guard, body");
    let asked = |job: &Ledger| missing::study(&job.job).into_iter().map(|it| it.quantity).collect::<Vec<_>>();
    let before = asked(&job);
    assert!(before.contains(&"resistance") && before.contains(&"inductance at 120 Hz"));
    for wanted in missing::study(&job.job) {
        // The line that the sheet prints is one the bench understands.
        let line = format!("{} {}", wanted.part, wanted.said_as.replace("— C", "21C").replace('—', "5"));
        let heard = hear(&line, &job.job, &[]).unwrap_or_else(|error| panic!("{line}: {error:?}"));
        let Body::Reading(reading) = &heard.body else { panic!("{line}") };
        assert_eq!(reading.quantity, wanted.quantity, "{line}");
        job.keep(&heard.body);
    }
    assert_eq!(asked(&job), Vec::<&str>::new());
}

#[test]
fn spans_place_a_coil_before_turns_and_turns_before_ohms() {
    let place = |more: &str| {
        let job = Ledger::with(&format!(
            "part coil A, coil, place not known\npart coil B, coil, place not known\n\
             coil A: dual coil half\ncoil B: dual coil half\n{more}"
        ));
        let studied = readings::study(&job.job, &asfound_study::Job::default());
        position::study(&job.job, &studied, |part| kindred::kindred(&job.job, part).construction)
    };
    let bridge = |more: &str| match place(more) {
        Some(position::Placed::Offered { bridge, because, .. }) => (bridge.name, because),
        other => panic!("{more}: {other:?}"),
    };
    let (name, because) = bridge("coil A 8.0k 20C\ncoil B 7.3k 20C");
    assert_eq!(name, "coil A");
    assert!(matches!(because, position::Because::Ohms(_)));
    let (name, because) = bridge("coil A 8.0k 20C\ncoil B 7.3k 20C\ncoil A turns 4500\ncoil B turns 5000");
    assert_eq!(name, "coil B", "turns tell more than ohms");
    assert!(matches!(because, position::Because::Turns(_)));
    let (name, _) =
        bridge("coil A turns 5000\ncoil B turns 4500\ncoil A pole span 49 mm\ncoil B pole span 52 mm");
    assert_eq!(name, "coil B", "what fits tells more than turns");
    assert!(matches!(place("coil A 8.0k\ncoil B 7.9k"), Some(position::Placed::CannotTell(_))));
}

proptest! {
    /// Whatever is written, reading it never fails, and what is read can be solved or says why not.
    #[test]
    fn any_words_are_read_without_harm(words in "\\PC{0,120}", second in "(tap|steel|compass|wound|\\+|-|on|green|white|up|down|touching|north|cover|tied|ground|neck|middle|with|thin|full|, |42 AWG|1960s| ){0,24}") {
        let mut job = Ledger::with(THREE);
        for text in [words, second] {
            if let Ok(heard) = job.hear(&format!("neck coil: {text}")) {
                job.keep(&heard.body);
            }
        }
        let said = polarity::read(&job.job, |_| None);
        let _ = solve(&said.found);
        let _ = kindred::kind_of(&job.job, "P1");
        let _ = settings::all("neck, bridge volume", &job.job);
    }
}
