//! Inherited circuits that people brought to a bench, and what page Faults must make of them.
//!
//! Each is a practitioners' case, no source, retold: the circuit is traced, what was heard or metered is said, and the
//! page is read by the command.

mod bench;

use bench::{page_after, says};

/// The page Faults after these lines.
fn faults(lines: &str) -> String {
    page_after(lines, "faults")
}

/// The finding alone, without what stands behind it.
fn finding(page: &str) -> &str {
    page.split("What may be behind it").next().unwrap_or(page)
}

/// Three small slides in a row: hot from 3 over 2 and 1 to the volume, ground from the volume to 3 and on to 2 and 1.
const THREE_SLIDES: &str = "
    coil neck 5k84\ncoil middle 5k84\ncoil bridge 5k84\npot volume 250k\n
    switch one two-pole slide\nswitch two two-pole slide\nswitch three two-pole slide\njack jack\n
    join neck.hot one.1 seen\njoin middle.hot two.1 seen\njoin bridge.hot three.1 seen\n
    join three.2 two.2 metered\njoin two.2 one.2 metered\njoin one.2 volume.3 metered\n
    join volume.2 jack.tip seen\njoin volume.1 jack.sleeve seen\njoin volume.1 three.5 seen\n
    join three.5 two.5 seen\njoin two.5 one.5 seen\n
    join neck.ground one.5 seen\njoin middle.ground two.5 seen\njoin bridge.ground three.5 seen\n";

/// The hot chain beeps through, for the one coil that sounds goes over all of it.
#[test]
fn a_broken_link_between_two_switches() {
    let page = faults(&format!("{THREE_SLIDES}heard only bridge sounds"));
    says(&page, &["reflow"]);
    assert!(finding(&page).contains("the join three.5 – two.5 is open"), "{page}");
}

/// Two dual coils of 8 kΩ, each at the outer lug of its own volume of 500 kΩ, both wipers at the selector.
const TWO_VOLUMES: &str = "
    coil neck 8k 4H\ncoil bridge 8k 4H\npot neck-volume 500k\npot bridge-volume 500k\nswitch lever three-way lever\njack jack\n
    join neck.hot neck-volume.3 seen\njoin bridge.hot bridge-volume.3 seen\n
    join neck-volume.2 lever.a2 seen\njoin bridge-volume.2 lever.a1 seen\njoin lever.a0 jack.tip seen\n
    join neck-volume.1 jack.sleeve seen\njoin bridge-volume.1 jack.sleeve seen\n
    join neck.ground jack.sleeve seen\njoin bridge.ground jack.sleeve seen\n";

/// 8 k beside 500 k, twice side by side: 3.937 k.
#[test]
fn either_volume_kills_both_by_design() {
    let page = faults(&format!(
        "{TWO_VOLUMES}part jack, jack, side\njack 3.94k lever 2\nheard in position 2 either volume at zero silences everything"
    ));
    says(
        &page,
        &["Most likely nothing is broken", "With the coil's lead and the output's exchanged on each pot"],
    );
}

const FIVE: &str = "
    coil neck 5k7 2H4\ncoil middle 5k8 2H4\ncoil bridge 6k3 2H8\npot volume 250k\npot tone 250k\ncapacitor ct 47n\n
    switch lever five-way lever\njack jack\nmetal strings\n
    join bridge.hot lever.a1 seen\njoin middle.hot lever.a2 seen\njoin neck.hot lever.a3 seen\n
    join lever.a0 volume.3 seen\njoin volume.3 tone.3 seen\njoin tone.2 ct.a seen\njoin ct.b volume.1 seen\n
    join volume.2 jack.tip seen\njoin volume.1 jack.sleeve seen\njoin strings volume.1 seen\n
    join neck.ground volume.1 seen\njoin middle.ground volume.1 seen\njoin bridge.ground volume.1 seen\n";

#[test]
fn the_odd_one_out_of_three_is_the_one_whose_leads_are_exchanged() {
    let page = faults(&format!("{FIVE}heard position 2 thin, position 4 thin, each sounds right alone"));
    says(&page, &["Most likely the leads of the middle coil are exchanged"]);
    let page = faults(&format!("{FIVE}heard position 2 thin, position 4 full, each sounds right alone"));
    says(&page, &["Most likely the leads of the bridge coil are exchanged"]);
}

/// Neck and middle read like neck alone: 5.573 kΩ both, so the middle coil is not there.
#[test]
fn a_row_like_its_neighbour_names_the_other_coil() {
    let page = faults(&format!(
        "{FIVE}part jack, jack, side\njack 6.15k lever 1\njack 6.15k lever 2\njack 250k lever 3\njack 5.57k lever 4\njack 5.57k lever 5"
    ));
    says(&page, &["middle coil is open", "lift the guard", "The guard is taken to be closed"]);
}

#[test]
fn two_coils_thin_together_and_a_cover_that_goes_with_the_lead() {
    let page = faults(
        "coil neck 7k2 3H covered\ncoil bridge 7k8 3H covered\npot volume 250k\nswitch lever three-way lever\njack jack\nmetal strings
         join neck.hot lever.a2 seen\njoin bridge.hot lever.a1 seen\njoin lever.a0 volume.3 seen\njoin volume.2 jack.tip seen
         join volume.1 jack.sleeve seen\njoin strings volume.1 seen\njoin neck.ground volume.1 seen\njoin bridge.ground volume.1 seen
         join neck.cover neck.ground seen\njoin bridge.cover bridge.ground seen
         heard both together weak and nasal, each fine alone",
    );
    says(&page, &["leads of the neck coil are exchanged", "leads of the bridge coil are exchanged"]);
    let freed = page.find("free the cover from its lead first").expect("it is freed");
    assert!(page[freed..].contains("then swap the leads back"), "{page}");
}

const COVERED: &str = "
    coil neck 7k2 3H covered\ncoil bridge 6k5 2H8\npot volume 250k\nswitch lever three-way lever\njack jack\nmetal strings\n
    join neck.hot lever.a2 seen\njoin bridge.hot lever.a1 seen\njoin lever.a0 volume.3 seen\njoin volume.2 jack.tip seen\n
    join volume.1 jack.sleeve seen\njoin strings volume.1 seen\njoin neck.ground volume.1 seen\n
    join bridge.ground volume.1 seen\njoin neck.cover neck.ground seen\n";

#[test]
fn a_string_on_the_cover_kills_the_sound() {
    let page = faults(&format!("{COVERED}heard sound cuts out when a string touches the neck cover"));
    says(
        &page,
        &[
            "first by far comes that the cover of the neck coil is on its hot lead",
            "ground it by a wire of its own",
        ],
    );
    says(&page, &["neck.cover to neck.hot reads 0 Ω", "about the coil's ohms instead of 0 Ω"]);
}

#[test]
fn hum_that_ignores_the_strings() {
    let page = faults(&format!(
        "{COVERED}heard loud hum, touching the strings no change, touching the plug's sleeve quiets it"
    ));
    says(&page, &["string ground is broken", "strings to sleeve: under 1 Ω", "licensed technician"]);
    assert!(!page.contains("Touch the"), "no touch test before the protective earth is proved: {page}");
}

#[test]
fn hum_that_gets_worse_on_metal() {
    let page = faults(&format!("{COVERED}heard noisy, hum worse on touching any metal"));
    says(&page, &["tip and sleeve are exchanged at the jack", "protective earth", "licensed technician"]);
    assert!(finding(&page).contains("tip and sleeve"), "{page}");
}

#[test]
fn a_lug_on_conductive_paint() {
    let page = faults(&format!(
        "{FIVE}heard neck weak\npiece: cavity painted with conductive paint\nheard bridge sounds right"
    ));
    says(&page, &["touches the coating of the cavity"]);
    let page = faults(&format!("{FIVE}heard neck weak\npiece: cavity not painted"));
    assert!(!page.contains("touches the coating"), "{page}");
}

/// The circuit of two coils with a preset capacitor: bridge; neck; neck with 0.1 µF across it and the second knob off.
const PRESET: &str = "
    coil neck 7k 2H4\ncoil bridge 7k 2H6\npot volume 250k\npot tone 250k\ncapacitor ct 47n\ncapacitor preset 100n\n
    switch lever\nlugs a b c d e\nat 1: a-b b-e\nat 2: a-c c-e\nat 3: a-c c-d\nbetween: nothing\njack jack\n
    join bridge.hot lever.b seen\njoin neck.hot lever.c seen\njoin lever.a volume.3 seen\njoin lever.e tone.3 seen\n
    join tone.2 ct.a seen\njoin ct.b volume.1 seen\njoin lever.d preset.a seen\njoin preset.b volume.1 seen\n
    join volume.2 jack.tip seen\njoin volume.1 jack.sleeve seen\njoin neck.ground volume.1 seen\n
    join bridge.ground volume.1 seen\n";

#[test]
fn no_position_gives_both_and_none_was_meant_to() {
    let page = faults(&format!(
        "{PRESET}heard no position gives both\nheard position 3 very dark\nheard position 3 tone dead"
    ));
    says(&page, &["no position gives both coils: it is the design, not a fault", "Do not repair it"]);
    says(&page, &["Most likely nothing is broken"]);
}

#[test]
fn a_dead_tone_knob_names_the_pot_and_not_the_capacitor() {
    let page = faults(&format!(
        "{FIVE}heard always dark, tone does nothing\nheard lifting the tone control's input restores the treble"
    ));
    says(&page, &["the tone pot is shorted from lug 3 to its wiper"]);
    says(&page, &["tone.3 to tone.2 stays at 0 Ω while the knob is turned"]);
    says(&page, &["the capacitor is not at fault", "original retained"]);
    assert!(finding(&page).contains("tone pot"), "{page}");
}

/// What cannot be used is said with its place and what would be right; nothing of it is an error.
#[test]
fn what_cannot_be_weighed_is_said() {
    let page = faults(&format!("{FIVE}heard position 7 thin"));
    says(&page, &["the trace knows no position 7", "It knows lever 1, 2, 3, 4 or 5"]);
    let page = faults(&format!("{FIVE}heard crackles when the lead is moved"));
    says(&page, &["Try another lead"]);
    let page = faults("heard position 2 thin");
    says(&page, &["No circuit is traced yet", "position 2 thin"]);
    let page = faults(FIVE);
    says(&page, &["Nothing was heard or metered yet"]);
    let page = faults("coil neck 7k\njoin neck.hot volume.3 seen\nheard neck silent");
    says(&page, &["The trace does not fit together yet"]);
}
