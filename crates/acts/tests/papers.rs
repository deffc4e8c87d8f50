//! A sealed paper is the one that was sealed, and its seal says on what it rested.

mod common;

use asfound_acts::{PaperTold, PaperTrouble, Trouble};
use asfound_record::{Manifest, Seal1, SealFault, check_sealed_paper, check_sealed_photographs};
use common::{kept, photograph, with_a_job};

#[test]
fn the_seals_file_holds_for_this_paper_and_for_no_other() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    kept(workshop, &number, "neck 6k31 21C", "a");
    let picture = workshop.keep_photograph(&number, "a.jpg", &photograph(40, 20), None, "", None).unwrap();
    let printed = workshop.pictures_for_paper(&number).unwrap();
    let (_, head) = workshop.lines(&number).unwrap();
    let told = PaperTold {
        title: "For the owner".into(),
        version: "0.1.0".into(),
        statements: vec!["The neck coil reads 6.31 kΩ.".into()],
        assumptions: Vec::new(),
        pictures: printed,
    };
    let issued = workshop.issue(&number, b"%PDF a paper", &head, &told).unwrap();

    let file: serde_json::Value = serde_json::from_str(&issued.seal_text).unwrap();
    let seal: Seal1 = serde_json::from_value(file["seal"].clone()).unwrap();
    let manifest: Manifest =
        serde_json::from_value(serde_json::json!({ "photographs": file["photographs"] })).unwrap();
    assert_eq!(seal, issued.seal);
    assert_eq!(check_sealed_paper(&seal, b"%PDF a paper"), Ok(()));
    assert_eq!(check_sealed_photographs(&seal, &manifest), Ok(()));
    assert_eq!(manifest.photographs[0].original.to_string(), picture.original);

    assert!(matches!(check_sealed_paper(&seal, b"%PDF b paper"), Err(SealFault::Paper { .. })));
    let fewer = Manifest::default();
    assert!(matches!(check_sealed_photographs(&seal, &fewer), Err(SealFault::Photographs { .. })));
    let mut other = seal.clone();
    other.head.seq += 1;
    assert_eq!(check_sealed_paper(&other, b"%PDF a paper"), Err(SealFault::Signature));

    // The seal's key is the workshop's, the seal stands in its chain, and the job's chain tells what was told.
    let about = workshop.about().unwrap();
    assert_eq!(about.keys[0].body.public, seal.public);
    assert_eq!(about.seals[0].body, seal);
    let job = workshop.job(&number).unwrap();
    assert_eq!(job.told[0].body.head, head);
    assert_eq!(job.told[0].body.paper, seal.paper);
    assert!(workshop.verify().unwrap().is_whole());
}

#[test]
fn a_picture_that_is_none_keeps_nothing() {
    let (bench, number) = with_a_job();
    let (_, head) = bench.workshop.lines(&number).unwrap();
    let told = PaperTold { pictures: vec![("no hash".into(), Vec::new())], ..PaperTold::default() };
    let error = bench.workshop.issue(&number, b"paper", &head, &told).unwrap_err();
    assert_eq!(error.trouble(), Trouble::NotThere);
    assert!(bench.workshop.about().unwrap().seals.is_empty());
    assert_eq!(bench.workshop.lines(&number).unwrap().1, head);
}

#[test]
fn a_buyers_lines_hold_no_sum_and_still_verify() {
    let (bench, number) = with_a_job();
    kept(&bench.workshop, &number, "money deposit 150.00 GBP", "draft-money");
    let lines = bench.workshop.lines_without_money(&number).unwrap();
    assert!(!lines.contains("deposit") && !lines.contains("15000"), "a sum is told: {lines}");
    let reports = asfound_acts::verify_lines(&lines);
    assert!(reports.iter().all(asfound_acts::Report::is_whole));
    assert_eq!(reports[0].withheld.len(), 1);
}

#[test]
fn a_paper_in_the_folder_is_missed_and_its_change_is_seen() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let (_, head) = workshop.lines(&number).unwrap();
    let first = workshop.issue(&number, b"%PDF one", &head, &PaperTold::default()).unwrap();
    let (_, head) = workshop.lines(&number).unwrap();
    let second = workshop.issue(&number, b"%PDF two", &head, &PaperTold::default()).unwrap();
    assert_ne!(first.paper_at, second.paper_at, "an issued paper was written over");
    assert_eq!(workshop.verify_papers().unwrap(), []);

    std::fs::write(&first.paper_at, b"%PDF ONE").unwrap();
    let troubles = workshop.verify_papers().unwrap();
    assert!(
        matches!(&troubles[..], [PaperTrouble::Unknown(_), PaperTrouble::Missing(hash)] if *hash == first.paper)
    );

    std::fs::write(&first.paper_at, b"%PDF one").unwrap();
    std::fs::write(&second.seal_at, b"{}").unwrap();
    assert!(matches!(&workshop.verify_papers().unwrap()[..], [PaperTrouble::Seal { .. }]));
}
