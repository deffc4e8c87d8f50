use asfound_evidence::Aspect;
use asfound_record::{Item, Part, Part1, Piece1, Testimony1};

use super::*;
use proptest::prelude::*;

fn item<T>(seq: u64, body: T) -> Item<T> {
    Item { root: seq, seq, at: String::new(), by: String::new(), body, versions: vec![seq], contested: false }
}

/// A job with these parts (name and sort) and these observations, each of a part by name or of the whole for nothing.
fn job(parts: &[(&str, &str)], said: &[(&str, &str)]) -> Job {
    let mut job = Job::default();
    for (at, (name, sort)) in parts.iter().enumerate() {
        let body = Part1 {
            part: format!("P{}", at + 1),
            name: (*name).to_owned(),
            sort: (*sort).to_owned(),
            place: "here".to_owned(),
            count: 1,
            traced_as: None,
        };
        job.parts.push(Part {
            item: item(at as u64 + 1, body),
            as_found: Vec::new(),
            later: Vec::new(),
            readings: Vec::new(),
            sweeps: Vec::new(),
            photographs: Vec::new(),
            acts: Vec::new(),
            first_disturbed: None,
        });
    }
    for (at, (of, words)) in said.iter().enumerate() {
        let part = job.parts.iter_mut().find(|part| part.item.body.name == *of);
        let id = part.as_ref().map(|part| part.item.body.part.clone());
        match part {
            Some(part) => part.as_found.push(at),
            None => job.whole.as_found.push(at),
        }
        let body = Observed1 { part: id, words: (*words).to_owned(), as_found: None, happened: None };
        job.observed.push(item(100 + at as u64, body));
    }
    job
}

fn stamps_of(sort: &str, words: &str) -> Vec<(String, String)> {
    let read = read(&job(&[("thing", sort)], &[("thing", words)]));
    let what = |stamp: &StampSaid| match &stamp.what {
        Marked::Code(systems) => format!("{systems:?}"),
        Marked::Date(date) => format!("{} to {}", date.readings[0].first, date.readings[0].last),
        Marked::Unread => "unread".to_owned(),
    };
    read.parts[0].said.stamps.iter().map(|stamp| (stamp.text.clone(), what(stamp))).collect()
}

/// A sort of part, the words said of it, and each stamp with what it may be.
type StampRow = (&'static str, &'static str, &'static [(&'static str, &'static str)]);

#[test]
fn stamps_are_found_in_the_words_that_name_them() {
    const REGISTER: &str = "[SourceAndDate]";
    let rows: &[StampRow] = &[
        ("pot", "stamped 137 6338, on photo 8", &[("137 6338", REGISTER)]),
        ("pot", "stamped 137-6?38", &[("137-6?38", REGISTER)]),
        ("pot", "date code on the back: 1376338", &[("1376338", REGISTER)]),
        ("pot", "137 6338 on the case", &[("137 6338", REGISTER)]),
        ("pot", "250k, stamped 137634", &[("137634", REGISTER)]),
        ("pot", "stamped 250k audio", &[]),
        ("pot", "reads 237k cold", &[]),
        ("pot", "code not legible under solder", &[("code not legible under solder", "unread")]),
        ("speaker", "stamped 67-01 12A 0217 G1", &[("67-01 12A 0217 G1", REGISTER)]),
        ("speaker", "ink stamp 220 6409 and 465 6412", &[("220 6409", REGISTER), ("465 6412", REGISTER)]),
        ("transformer", "coded 606-4-21", &[("606-4-21", REGISTER)]),
        ("capacitor", "printed M9", &[("M9", "[YearAndMonth]")]),
        ("capacitor", "marked .022 400V", &[]),
        ("capacitor", "marked 6332", &[("6332", "[PlainWeek]")]),
        ("valve", "etched B2H3", &[("B2H3", "[EtchedValve]")]),
        ("valve", "etched B0?", &[("B0?", "[EtchedValve]")]),
        ("valve", "etched IS1 / B2H3", &[("IS1 / B2H3", "[EtchedValve]")]),
        ("valve", "marked KB/C", &[("KB/C", "[ServiceValve]")]),
        ("pot", "smudged stamp, perhaps 137 6?3?", &[("137 6?3?", REGISTER)]),
        ("speaker", "220 6409 stamped in ink on the rim", &[("220 6409", REGISTER)]),
        ("valve", "etched line IS1 over B2H3", &[("B2H3", "[EtchedValve]")]),
        ("valve", "KB/C printed in white", &[("KB/C", "[ServiceValve]")]),
        ("capacitor", "letters M9", &[("M9", "[YearAndMonth]")]),
        ("tuner", "stamped patent 2,356,766", &[("2,356,766", "[Patent]")]),
        ("tuner", "stamped PAT. APPL.", &[]),
        ("neck", "heel date 11/6/57 in pencil", &[("11/6/57", "1957-06-11 to 1957-06-11")]),
        ("neck", "heel bare, no date", &[]),
        ("can", "stamped 235 7051", &[("235 7051", REGISTER)]),
        ("body", "stamped 1234 in the pocket", &[]),
        ("valve", "date code FG on the tube chart", &[("FG", "[InspectionLetters]")]),
        ("label", "stamped FG", &[("FG", "[InspectionLetters]")]),
        ("plate", "US patent 2,524,035", &[("2,524,035", "[Patent]")]),
        ("plate", "pat. no. 2524035 cast in", &[("2524035", "[Patent]")]),
        ("plate", "pat. applied for", &[]),
        ("neck", "pencilled 5-62 on the heel", &[("5-62", "1962-05-01 to 1962-05-31")]),
        ("neck", "heel stamped 2 MAY 64 B", &[("2 MAY 64", "1964-05-01 to 1964-05-31")]),
        ("neck", "heel stamped 2MAY64B", &[("2MAY64B", "1964-05-01 to 1964-05-31")]),
        ("neck", "stamped 2 MAY 64", &[("2 MAY 64", "1964-05-02 to 1964-05-02")]),
        ("neck", "heel bare of paint, 5-62 in pencil", &[("5-62", "1962-05-01 to 1962-05-31")]),
        ("body", "dated May 12, 1964 in the pocket", &[("May 12, 1964", "1964-05-12 to 1964-05-12")]),
        ("coil", "pencilled 3/4/64", &[("3/4/64", "1964-04-03 to 1964-04-03")]),
        ("pot", "shaft scratchy, case dull", &[]),
    ];
    for (sort, words, expected) in rows {
        let expected: Vec<(String, String)> =
            expected.iter().map(|(text, what)| ((*text).to_owned(), (*what).to_owned())).collect();
        assert_eq!(stamps_of(sort, words), expected, "{sort}: {words}");
    }
}

#[test]
fn a_stamp_knows_its_place_and_its_photograph() {
    let words = "case dull, stamped 137 6338, on photo 8";
    let said = read(&job(&[("volume pot", "pot")], &[("volume pot", words)]));
    let stamp = &said.parts[0].said.stamps[0];
    assert_eq!(&words[stamp.at.0..stamp.at.1], "137 6338");
    assert_eq!(stamp.photo, Some(PhotoNamed { number: 8, seq: None }));
    assert_eq!(stamp.seq, 100);
}

#[test]
fn signs_are_of_the_state_as_found() {
    let mut job =
        job(&[("volume pot", "pot")], &[("volume pot", "joints dull"), ("volume pot", "joints bright")]);
    job.parts[0].as_found = vec![0];
    job.parts[0].later = vec![1];
    let said = read(&job);
    let ids: Vec<&str> = said.parts[0].said.signs.iter().map(|seen| seen.what.id).collect();
    assert_eq!(ids, ["solder-dull"], "what this workshop soldered says nothing of how it was found");
}

#[test]
fn a_fragment_kept_counts_as_present() {
    let said = read(&job(&[("guard", "guard")], &[("guard", "original, broken, kept in a bag")]));
    assert_eq!(said.parts[0].said.kept.as_ref().map(|seen| seen.what.broken), Some(true));
    let said = read(&job(&[("guard", "guard")], &[("guard", "whole, not broken, kept in the case")]));
    assert_eq!(said.parts[0].said.kept.as_ref().map(|seen| seen.what), Some(Kept { broken: false }));
}

#[test]
fn parts_that_hang_together() {
    let parts = [("volume pot", "pot"), ("tone pot", "pot"), ("lever", "switch"), ("jack", "jack")];
    for (words, expected) in [
        ("volume pot, tone pot and switch are one harness", vec!["P1", "P2", "P3"]),
        ("volume pot, tone pot and switch are one harness, fitted together", vec!["P1", "P2", "P3"]),
        ("volume pot, tone pot and lever were fitted together, photo 3", vec!["P1", "P2", "P3"]),
        ("both pots fitted together", vec!["P1", "P2"]),
    ] {
        let said = read(&job(&parts, &[("", words)]));
        assert_eq!(said.harnesses[0].parts, expected, "{words}");
        assert!(said.harnesses[0].unknown.is_empty(), "{words}: {:?}", said.harnesses[0].unknown);
    }
    let of_a_part = read(&job(&parts, &[("jack", "one harness with the volume pot and the choke")]));
    assert_eq!(of_a_part.harnesses[0].parts, ["P4", "P1"]);
    assert_eq!(of_a_part.harnesses[0].unknown, ["choke"]);
    assert!(read(&job(&parts, &[("", "volume pot and tone pot are not one harness")])).harnesses.is_empty());
}

fn testify(job: &mut Job, manner: &str, source: &str, dated: Option<&str>, words: &str) {
    let body = Testimony1 {
        manner: manner.to_owned(),
        source: source.to_owned(),
        dated: dated.map(str::to_owned),
        words: words.to_owned(),
        part: None,
    };
    job.testimonies.push(item(200, body));
}

#[test]
fn claims_of_originality_and_of_years() {
    let parts = [("neck coil", "coil"), ("bridge coil", "coil"), ("tuners", "tuner")];
    let claim = |words: &str| {
        let mut job = job(&parts, &[]);
        testify(&mut job, "claim", "seller", None, words);
        read(&job).claims.remove(0)
    };
    let all = claim("all original, 1962");
    assert_eq!(all.claimed, [Claimed::AllOriginal { but: Vec::new() }]);
    assert_eq!(all.years[0].text, "1962");
    let but = claim("all original except the tuners and the nut, 1962");
    assert_eq!(but.claimed, [Claimed::AllOriginal { but: vec!["tuners".to_owned(), "nut".to_owned()] }]);
    let finish = claim("never refinished, tuners replaced in 1985");
    let [Claimed::Original(of), Claimed::Altered(tuners)] = &finish.claimed[..] else { panic!("{finish:?}") };
    assert_eq!((of.aspect, of.parts.len()), (Aspect::Finish, 0));
    assert_eq!(tuners.parts, ["P3"]);
    assert!(finish.years.is_empty(), "the year of a replacement is no claim of the making");
    let pickups = claim("pickups original");
    let [Claimed::Original(of)] = &pickups.claimed[..] else { panic!("{pickups:?}") };
    assert_eq!(of.parts, ["P1", "P2"]);
    assert_eq!(claim("never touched").claimed, [Claimed::AllOriginal { but: Vec::new() }]);
    assert!(
        matches!(&claim("neck coil never opened").claimed[..], [Claimed::Original(of)] if of.parts == ["P1"])
    );
    assert!(
        matches!(&claim("finish not original").claimed[..], [Claimed::Altered(of)] if of.aspect == Aspect::Finish)
    );
    assert!(claim("plays beautifully").claimed.is_empty());
}

#[test]
fn a_paper_bounds_what_its_kind_can_bound() {
    let paper = |source: &str, dated: Option<&str>, words: &str| {
        let mut job = job(&[], &[]);
        let piece = Piece1 {
            piece: "X".to_owned(),
            family: "guitar".to_owned(),
            words: String::new(),
            maker: None,
            serial: Some("12 345".to_owned()),
            origin: None,
            owner: None,
        };
        job.piece = Some(item(2, piece));
        testify(&mut job, "document", source, dated, words);
        read(&job).documents.remove(0)
    };
    let receipt = paper("receipt", Some("12 May 1964"), "one guitar, cash");
    let Bounds::NotAfter(date) = &receipt.bounds else { panic!("{receipt:?}") };
    assert_eq!(date.envelope().map(|days| days.last.to_string()).as_deref(), Some("1964-05-12"));
    assert_eq!(paper("catalogue", Some("1962"), "page 3").bounds, Bounds::NothingOfThisPiece);
    assert_eq!(paper("receipt", None, "one guitar").bounds, Bounds::Undated);
    assert_eq!(
        paper("receipt", Some("last spring"), "").bounds,
        Bounds::DateUnread { text: "last spring".to_owned() }
    );
    assert_eq!(paper("receipt", Some("1964"), "serial 54321").bounds, Bounds::AnotherPiece);
    assert_eq!(paper("hang tag", Some("1964"), "").bounds, Bounds::CannotTell);
    assert!(matches!(paper("hang tag", Some("1964"), "no. 12345").bounds, Bounds::NotAfter(_)));
    assert_eq!(paper("repair bill", Some("1978"), "").kind, DocumentKind::Repair);
}

/// Words of the trade, dates, codes and signs of any script, in any order.
fn anything() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "stamped",
        "etched",
        "pencilled",
        "patent",
        "137 6338",
        "137-6?38",
        "2,524,035",
        "B2H3",
        "May",
        "12",
        "1964",
        "'64",
        "3/4/64",
        "1962-64",
        "before",
        "winter",
        "mid-",
        "1960s",
        "photo",
        "8",
        "one harness",
        "with",
        "and",
        "except for",
        "original",
        "not",
        "solder",
        "bright",
        "over",
        "dull",
        "kept",
        "bag",
        "replaced",
        "serial",
        ",",
        ".",
        ";",
        "-",
        "/",
        "?",
        "ß",
        "İ",
        "…",
        "Ω",
        "\n",
    ]);
    let piece = prop_oneof![4 => words.prop_map(str::to_owned), 1 => "\\PC{0,6}"];
    prop::collection::vec(piece, 0..14).prop_map(|pieces| pieces.join(" "))
}

proptest! {
    #[test]
    fn no_words_are_too_odd_to_read(words in anything(), of_part in any::<bool>(), sort in "(pot|valve|neck|capacitor)") {
        let of = if of_part { "thing" } else { "" };
        let mut job = job(&[("thing", &sort), ("other pot", "pot")], &[(of, &words)]);
        testify(&mut job, "claim", &words, Some(&words), &words);
        testify(&mut job, "document", "receipt", Some(&words), &words);
        let said = read(&job);
        let stamps = said.parts.iter().flat_map(|part| &part.said.stamps).chain(&said.whole.stamps);
        for stamp in stamps {
            prop_assert_eq!(words.get(stamp.at.0..stamp.at.1), Some(stamp.text.as_str()));
        }
        for date in super::dates(&words) {
            prop_assert_eq!(words.get(date.at.0..date.at.1), Some(date.text.as_str()));
            prop_assert!(date.readings.iter().all(|days| days.first <= days.last));
        }
    }
}
