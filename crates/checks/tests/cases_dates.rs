//! Date codes and claims that people brought to a bench, said as they would say them, and what the pages Dates and
//! Originality must answer.
//!
//! Practitioners' cases, no source, retold; weeks after ISO 8601 and the register's published example (ecianow.org),
//! counted by hand beside each.

mod bench;

use bench::{page_after, says};

fn dates(lines: &str) -> String {
    page_after(lines, "dates")
}

fn says_not(page: &str, piece: &str) {
    assert!(!page.contains(piece), "“{piece}” is in:\n{page}");
}

/// Space, dash or nothing between source and date is one code; a week is never read as a month.
#[test]
fn plain_codes() {
    for (stamp, read) in [
        ("1377415", "week 15 of 1974"),
        ("137 7624", "week 24 of 1976"),
        ("1407", "week 7 of 2014"),
        ("235-7051", "week 51 of 1970"),
        ("834-7328", "week 28 of 1973"),
        ("190-7215", "week 15 of 1972"),
    ] {
        let page = dates(&format!("part pot, pot, plate\npot: stamped {stamp}"));
        says(&page, &[&format!("“{stamp}”"), read]);
        says_not(&page, "month 27");
    }
}

/// Two transformers with one digit for the year: every decade is kept, and looks narrow them.
#[test]
fn two_transformers_with_single_digit_years() {
    let transformers = "part mains transformer, transformer, chassis\npart output transformer, transformer, chassis\n\
                        mains transformer: stamped 606452\noutput transformer: stamped 606602";
    let page = dates(transformers);
    says(&page, &["week 52 of 1954, 1964, 1974", "week 2 of 1946, 1956, 1966, 1976", "is not decided"]);
    let page = dates(&format!("{transformers}\ndocument repair bill, March 1978: hum, new mains cord"));
    says(&page, &["1954", "1976", "not decided"]);
    let speaker = dates("part speaker, speaker, baffle\nspeaker: stamped 285642");
    says(&speaker, &["week 42 of 1946, 1956, 1966, 1976"]);
}

/// A pot of the twelfth week of 1989 in a guitar that everything else dates to 1972: only the pot is later.
#[test]
fn a_pot_seventeen_years_too_young() {
    let lines = "part volume pot, pot, guard\npart tone pot, pot, guard\npart selector, switch, guard\n\
                 volume pot: stamped 1378912, bright solder over dull\ntone pot: stamped 137-7205\n\
                 selector: stamped 137-7149\npiece: serial 123456, by a published list 1972";
    let page = dates(lines);
    says(&page, &["1972", "week 12 of 1989", "The rest agrees if the volume pot was put in later"]);
    let page = page_after(lines, "originality");
    says(
        &page,
        &[
            "volume pot | later replacement".replace(" | ", " ").as_str(),
            "The tone pot is very likely original",
        ],
    );
}

/// Two letters of an inspection: year and month, the alphabet begun again later; no month beyond L.
#[test]
fn inspection_letters() {
    let chassis = "part chart, label, chassis\n";
    says(&dates(&format!("{chassis}chart: inspection stamp FG")), &["July 1956"]);
    says(&dates(&format!("{chassis}chart: inspection stamp QA")), &["January 1967"]);
    let page = dates(&format!("{chassis}chart: inspection stamp CG"));
    says(&page, &["July 1953", "July 1992"]);
    says(&dates(&format!("{chassis}chart: inspection stamp CM")), &["“CM”", "L"]);
}

/// Offered by photograph as perhaps rewound, with ohms in the normal range: no reading settles it.
#[test]
fn perhaps_rewound_and_looks_untouched() {
    let page = page_after(
        "part bridge coil, coil, bridge\nbridge coil: single coil over rods, 1950s\nbridge coil 6k1 20C",
        "originality",
    );
    says(&page, &["cannot be decided from photographs", "wire", "leads", "solder"]);
}

/// Crumbled originals in a bag count as present, and the paper that names the piece stands with it.
#[test]
fn broken_originals_kept_in_a_bag() {
    let page = page_after(
        "part covers, cover, coils, 3\ncovers: original, crumbled, kept in a bag with the guitar\n\
         document bill of sale, 12 May 1962: one guitar",
        "originality",
    );
    says(&page, &["kept"]);
}

/// A construction that came later than the claim: polyester film of the mid-1950s in an amplifier said to be of 1948.
#[test]
fn a_construction_later_than_the_claim() {
    let page = dates(
        "part tone capacitor, capacitor, board\ntone capacitor: polyester film capacitor\n\
         claim seller: all original, 1948",
    );
    says(&page, &["1948", "polyester film capacitor", "1953"]);
    says(&page, &["the tone capacitor would be"]);
}

#[test]
fn what_cannot_be_read_is_answered_with_its_place_and_what_would_be_right() {
    let pot = "part pot, pot, plate\n";
    says(&dates(&format!("{pot}pot: stamped 1377400")), &["“1377400”", "week"]);
    says(&dates(&format!("{pot}pot: stamped 137-7460")), &["“137-7460”", "week"]);
    says(&dates(&format!("{pot}pot: stamped 13X7415")), &["“13X7415”"]);
    let page = dates(&format!("{pot}made pot: new track in an old case\npot: stamped 137-6214"));
    says(&page, &["Nothing"]);
}

/// A prior of nothing or of everything leaves nothing to weigh, and is refused with what would be usual.
#[test]
fn a_prior_of_nought_or_one_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = |words: &[&str]| {
        let mut command = std::process::Command::new(asfound_checks::program());
        command.arg("--in").arg(folder.path().join("workshop")).args(words).output().expect("it runs")
    };
    assert!(run(&["start", "A bench"]).status.success());
    for value in ["0", "1", "1.5"] {
        let refused = run(&["assume", "pot replaced", value, "--source", "counted here"]);
        let told = String::from_utf8_lossy(&refused.stderr).into_owned();
        assert!(
            !refused.status.success() && told.contains("pot replaced") && told.contains("0.03"),
            "{told}"
        );
    }
    assert!(run(&["assume", "pot replaced", "0.05", "--source", "counted here"]).status.success());
}
