//! Hum by touch in words: what may be behind it, where to meter, and the cautions first.

use asfound_measure::{Ohms, engineering};
use asfound_study::touches::{Cause, Should, SpokenBy, Spot, TestPoint, TouchesStudied};

use crate::lists::{and, capital, or};
use crate::sheet::{Rest, Step, Table, Told};

/// What comes before every touch and every reading.
const FIRST: &str = "No touch test before the protective earth of the amplifier and of its socket is proved. At any tingle let go, pull the mains plug, and call a licensed technician. Unplug before metering; local codes come first.";

/// The finding about touches.
pub(crate) fn touches(studied: &TouchesStudied) -> Told {
    let told = &studied.told;
    let causes: Vec<String> = told.causes.iter().map(|it| cause(it.cause, studied)).collect();
    let (sentence, sure) = match causes.as_slice() {
        [] => ("What was touched fits no cause that is known here.".to_owned(), String::new()),
        [one] => (format!("{}.", capital(one)), "A touch is a weak test; the meter decides.".to_owned()),
        several => (
            format!("{}.", capital(&or(several))),
            "The touches leave these open; the meter decides.".to_owned(),
        ),
    };
    let next = told.test_points.first().map(|point| step(point, studied));
    let mut points =
        Table::with("Where to meter, unplugged, in this order", &["from", "to", "should read", "it decides"]);
    points.rows = told
        .test_points
        .iter()
        .map(|it| {
            vec![spot(it.from).to_owned(), spot(it.to).to_owned(), should(it), cause(it.decides, studied)]
        })
        .collect();
    let more: Vec<&str> = told.try_next.iter().map(|it| touched(*it)).collect();
    let would_change = match more.as_slice() {
        [] => Vec::new(),
        more => vec![format!("What the hum does on touching {}: better, worse or the same.", or(more))],
    };
    let mut table = Table::with("What speaks for each", &["cause", "spoken for by"]);
    table.rows = told
        .causes
        .iter()
        .map(|it| {
            let by: Vec<&str> = it.spoken_for_by.iter().map(|by| touched(*by)).collect();
            vec![cause(it.cause, studied), and(&by)]
        })
        .collect();
    Told {
        id: "touch".into(),
        sentence,
        sure,
        caution: FIRST.into(),
        next: next.into_iter().collect(),
        would_change,
        rests_on: Rest::on_all(studied.entries.iter().copied()),
        tables: vec![points, table],
        working: vec!["A body carries hum from the mains wires around it. Metal on ground drains it, so that it gets better; metal on the hot output feeds it in, so that it gets worse; metal on neither does nothing (common practice, no source).".into()],
        ..Told::default()
    }
}

fn cause(cause: Cause, studied: &TouchesStudied) -> String {
    let cover = studied.coil.as_ref().map_or("a coil".to_owned(), |name| format!("the {name}"));
    match cause {
        Cause::StringGroundBroken => {
            "the string ground is broken between the bridge and the jack's ground".to_owned()
        }
        Cause::StringGroundPoor => "the strings are on ground, but by a poor joint".to_owned(),
        Cause::TipAndSleeveExchanged => {
            "tip and sleeve are exchanged at the jack or on the way to it".to_owned()
        }
        Cause::CoverOnHot => format!(
            "the cover of {cover} is on its hot lead: its leads were swapped without freeing the cover"
        ),
        Cause::CoverFloating => format!("the cover of {cover} is on nothing"),
        Cause::ScreenedByHand => {
            "nothing is wrong with the ground, and the hand adds a screen that the instrument lacks"
                .to_owned()
        }
        Cause::CoilsInField => "the hum comes in by the coils from the fields around them".to_owned(),
        Cause::CableOrAmplifier => "the cable or the amplifier hums".to_owned(),
    }
}

fn touched(by: SpokenBy) -> &'static str {
    match by {
        SpokenBy::Strings => "the strings",
        SpokenBy::Sleeve => "the plug's sleeve",
        SpokenBy::Cover => "the cover",
        SpokenBy::CutOut => "a string on the cover",
    }
}

fn spot(spot: Spot) -> &'static str {
    match spot {
        Spot::Strings => "the strings",
        Spot::Bridge => "the bridge",
        Spot::Sleeve => "the jack's sleeve",
        Spot::Tip => "the jack's tip",
        Spot::PotCase => "the pot case where the grounds meet",
        Spot::Cover => "the cover",
        Spot::HotLead => "the coil's hot lead",
        Spot::FarSleeve => "the sleeve of the cable's far plug",
    }
}

/// What a test point should read, in words.
fn should(point: &TestPoint) -> String {
    let ohms = |ohms: Ohms| engineering(ohms.0, 3, Ohms::SYMBOL);
    match point.should {
        Should::BeUnder(most) => format!("under {} where all is well", ohms(most)),
        Should::BeNoughtIfSo => "0 Ω confirms it".to_owned(),
        Should::BeAboutIfSo(Some(about)) => format!("about {} instead of 0 Ω confirms it", ohms(about)),
        Should::BeAboutIfSo(None) => "about the coil's own ohms instead of 0 Ω confirms it".to_owned(),
    }
}

fn step(point: &TestPoint, studied: &TouchesStudied) -> Step {
    Step {
        id: format!("touch-{:?}-{:?}", point.from, point.to).to_lowercase(),
        words: format!("Meter from {} to {}: {}.", spot(point.from), spot(point.to), should(point)),
        why: format!("It proves or rules out that {}.", cause(point.decides, studied)),
        caution: "Unplug from the amplifier before metering.".into(),
        ..Step::default()
    }
}
