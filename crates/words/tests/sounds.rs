//! What a circuit was for and how it sounds, in words: bands beside named values, cable and input at every curve, knobs by
//! their own law.

use asfound_study::sound::{compare, comparison, load};
use asfound_study::wiring::{Explained, Trace, WiringTold, of_text};
use asfound_study::{Job, Size, Style};
use asfound_words::sheet::{Sheet, Told};
use asfound_words::wiring::explained_sheet;

fn explained(trace: &str) -> Explained {
    match of_text(trace) {
        WiringTold::Explained(explained) => *explained,
        other => panic!("{other:?}\n{trace}"),
    }
}

fn told<'s>(sheet: &'s Sheet, id: &str) -> &'s Told {
    let ids: Vec<&str> = sheet.means.iter().map(|told| told.id.as_str()).collect();
    sheet.means.iter().find(|told| told.id == id).unwrap_or_else(|| panic!("{id} is not among {ids:?}"))
}

/// One coil with its volume by this law.
fn one_coil(law: &str) -> String {
    format!(
        "coil bridge 6k31 2H6 120p clockwise north\npot volume 250k {law}\njack jack\n\
         join bridge.hot volume.3 metered\njoin volume.2 jack.tip metered\n\
         join volume.1 jack.sleeve metered\njoin bridge.ground volume.1 metered\n"
    )
}

#[test]
fn a_curve_has_its_band_and_says_its_cable() {
    let sheet = explained_sheet(&explained(&one_coil("audio 0.15")));
    let state = told(&sheet, "state-0");
    let figure = &state.figures[0];
    let caption = figure.caption.replace('\u{202f}', " ");
    assert!(caption.contains("into 500 pF of cable and an input of 1.00 MΩ"), "{caption}");
    assert!(figure.plot.description().contains("may lie between"), "{}", figure.plot.description());
    assert!(figure.plot.svg(Style::Paper, Size::Wide).contains("fill-opacity"));
    let table = state.tables.iter().find(|table| table.caption.starts_with("With the tolerances")).unwrap();
    let names: Vec<&str> = table.rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(
        names,
        ["level at 100 Hz", "peak", "level of the peak", "3 dB down at", "slope above the peak"]
    );
    assert!(state.working.iter().any(|line| line.contains("1000 draws from seed 1")));
}

#[test]
fn a_knob_travels_by_its_own_law_and_a_bent_one_has_two() {
    let way = |law: &str| {
        let sheet = explained_sheet(&explained(&one_coil(law)));
        let told = told(&sheet, "way-volume").clone();
        (told.sure.clone(), told.tables.len(), told.tables[0].rows[5].clone())
    };
    let (sure, tables, half) = way("audio 0.15");
    assert!(sure.contains("a bent track with 15 % of its ohms below the wiper at half turn"), "{sure}");
    assert_eq!((tables, half[1].as_str()), (2, "15 %"));
    let (sure, tables, half) = way("taper unknown");
    assert!(sure.contains("its taper is not known"), "{sure}");
    assert_eq!((tables, half[1].as_str()), (1, "50 %"));
}

/// As found beside a plan with the tone cut loose, through the workshop's cable: the plan peaks higher.
#[test]
fn as_found_and_as_planned_stand_on_one_plot() {
    let tone = "pot tone 250k\ncapacitor ct 22n\njoin tone.3 volume.3 metered\njoin tone.2 ct.a metered\n";
    let circuit = |text: &str| Trace::read(text).unwrap().circuit().unwrap();
    let found = circuit(&format!("{}{tone}join ct.b volume.1 metered\n", one_coil("")));
    let planned = circuit(&format!("{}{tone}", one_coil("")));
    let full = asfound_study::sound::full_up(&found);
    let through = load(&Job::default());
    let compared: Vec<_> = compare(&[("as found", &found, &full), ("as planned", &planned, &full)], through)
        .into_iter()
        .map(|one| one.expect("it can be solved"))
        .collect();
    let [first, second] = [&compared[0], &compared[1]].map(|one| one.figures.peak.expect("a peak"));
    assert!(second.level > first.level && compared[0].taken_in_phase.is_empty());
    let plot = comparison("As found and as planned", &compared);
    assert!(
        plot.description().contains("as found is highest")
            && plot.description().contains("as planned is highest")
    );
}
