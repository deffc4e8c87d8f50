//! What a circuit was for and how it sounds, asked of the command as a person would: practitioners' cases, no source,
//! retold; where a figure is worked out, its formula is named.

use std::process::Command;

use asfound_checks::program;

/// What `explain` says of a trace, in one line of text.
fn explained(trace: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("as-found.trace");
    std::fs::write(&path, trace).expect("it can be written");
    let output = Command::new(program()).arg("explain").arg(&path).output().expect("it runs");
    let told = String::from_utf8(output.stdout).expect("text");
    assert!(output.status.success(), "{told}{}", String::from_utf8_lossy(&output.stderr));
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn says(told: &str, pieces: &[&str]) {
    for piece in pieces {
        assert!(told.contains(piece), "“{piece}” is not in:\n{told}");
    }
}

/// Two coils, a lever with three positions, a volume and a second knob; `joins` says what the second knob is joined to.
fn plank(positions: [&str; 3], joins: &str) -> String {
    let [one, two, three] = positions;
    format!(
        "coil bridge 7k 2H8\ncoil neck 6k4 2H4\npot volume 250k\npot second 250k\ncapacitor dark-cap 100n\njack jack\n\
         switch lever\n  lugs b n c p e d\n  at 1: {one}\n  at 2: {two}\n  at 3: {three}\n  between: unknown\n\
         join bridge.ground jack.sleeve metered\njoin neck.ground jack.sleeve metered\njoin volume.1 jack.sleeve metered\n\
         join volume.2 jack.tip metered\njoin lever.b bridge.hot metered\njoin lever.n neck.hot metered\n\
         join lever.c volume.3 metered\njoin dark-cap.a lever.d metered\njoin dark-cap.b jack.sleeve metered\n{joins}"
    )
}

/// No position gives both coils: bridge, neck, and the neck very dark with the second knob dead. With 100 nF across 2.4 H
/// the resonance is at `1/(2π √(LC))` = 325 Hz, and 3 dB are missing a little above it.
#[test]
fn no_position_gives_both_and_the_third_is_dark() {
    let told = explained(&plank(
        ["b-c p-e", "n-c p-e", "n-c d-c"],
        "capacitor tone-cap 50n\njoin lever.p second.3 metered\njoin lever.e volume.3 metered\n\
         join second.2 tone-cap.a metered\njoin tone-cap.b jack.sleeve metered\n",
    ));
    says(
        &told,
        &[
            "On lever 3 it is a preset: the dark cap takes the highs down from",
            "known arrangement, not a fault",
            "mid-1952 to 1967 (common practice, no source)",
            "often altered later by clipping the capacitor",
            "do not “repair” it",
            "The second knob takes the highs down on lever 1 or 2; it does nothing on lever 3.",
        ],
    );
}

/// The earlier one: the second knob brings the neck coil in at the first position, and is dead at the other two.
#[test]
fn a_second_knob_that_blends_the_neck_in() {
    let told = explained(&plank(
        ["b-c p-e", "n-c", "n-c d-c"],
        "join neck.hot second.3 metered\njoin second.2 lever.p metered\njoin lever.e volume.3 metered\n",
    ));
    says(
        &told,
        &[
            "On lever 1 it is a blend: the second knob brings in the neck coil.",
            "On lever 3 it is a preset",
            "1950 to mid-1952 (common practice, no source)",
            "do not “repair” it",
        ],
    );
}

/// One pair of coils (3 H, 4 kΩ, 200 pF each) in series, alone and in parallel behind 500 kΩ pots, 22 nF, 500 pF of cable
/// and 1 MΩ: published peaks at 2475, 3374 and 4283 Hz, 8.3 and 12.0 dB for the latter two.
#[test]
fn series_alone_and_parallel_of_one_pair() {
    let wired = |joins: &str| {
        explained(&format!(
            "coil a 4k 3H 200p clockwise north\ncoil b 4k 3H 200p clockwise north\npot volume 500k\npot tone 500k\ncapacitor ct 22n\n\
             jack jack\njoin volume.1 jack.sleeve metered\njoin volume.2 jack.tip metered\njoin volume.3 tone.3 metered\n\
             join tone.2 ct.a metered\njoin ct.b jack.sleeve metered\njoin a.hot volume.3 metered\n{joins}"
        ))
    };
    let series = wired("join a.ground b.hot metered\njoin b.ground jack.sleeve metered\n");
    says(&series, &["peak 2.47 kHz", "series drive of the a and b coils", "500 pF"]);
    let alone = wired("join a.ground jack.sleeve metered\n");
    says(&alone, &["peak 3.37 kHz", "level of the peak +8.3 dB", "500 pF"]);
    let parallel = wired(
        "join b.hot volume.3 metered\njoin a.ground jack.sleeve metered\njoin b.ground jack.sleeve metered\n",
    );
    says(&parallel, &["peak 4.28 kHz", "level of the peak +12.0 dB", "500 pF"]);
}
