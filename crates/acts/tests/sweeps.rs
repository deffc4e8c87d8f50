//! Measurements that come as files are kept to the byte, and given back.

mod common;

use asfound_acts::{ActError, Body, NewSweep, SweepFile, Trouble, Workshop};
use common::{sentence, with_a_job};

fn recordings() -> Vec<(String, Vec<u8>)> {
    let wav = |sign: u8| [b"RIFF\0\0\0\0WAVE".as_slice(), &[sign; 40]].concat();
    vec![("a.wav".to_owned(), wav(1)), ("b.wav".to_owned(), wav(2))]
}

fn one_file(bytes: &[u8]) -> NewSweep {
    NewSweep {
        part: "P1".to_owned(),
        files: vec![("neck.csv".to_owned(), bytes.to_vec())],
        ..NewSweep::default()
    }
}

fn roles(sweep: &SweepFile) -> Vec<&str> {
    sweep.files.iter().map(|(role, _)| role.as_str()).collect()
}

#[test]
fn a_sweep_and_two_recordings_are_kept_and_given_back_to_the_byte() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let sweep = NewSweep { temperature: "21C".into(), meter: "M1".into(), ..one_file(b"Hz,ohm\n120,6310\n") };
    let first = workshop.keep_sweep(&number, &sweep, Some("s")).unwrap();
    assert_eq!(
        workshop.keep_sweep(&number, &sweep, Some("s")).unwrap(),
        first,
        "the same form twice keeps once"
    );
    let test = NewSweep {
        part: "P1".into(),
        files: recordings(),
        resistors: vec!["10k".into(), " 100k ".into()],
        method: "out of circuit".into(),
        ..NewSweep::default()
    };
    let second = workshop.keep_sweep(&number, &test, None).unwrap();

    let given = workshop.sweep_files(&number).unwrap();
    assert_eq!(given.iter().map(|sweep| sweep.seq).collect::<Vec<_>>(), [first, second]);
    assert_eq!((given[0].how.as_str(), roles(&given[0])), ("impedance sweep", vec!["sweep"]));
    assert_eq!(&*given[0].files[0].1, b"Hz,ohm\n120,6310\n");
    assert_eq!(given[1].how, "resistor test");
    assert_eq!(roles(&given[1]), ["recording with resistor A", "recording with resistor B"]);
    assert_eq!(given[1].resistors.iter().map(|it| it.text.as_str()).collect::<Vec<_>>(), ["10k", "100k"]);
    for ((_, given), (_, came)) in given[1].files.iter().zip(&test.files) {
        assert_eq!(&**given, came);
    }
    let job = workshop.job(&number).unwrap();
    assert_eq!(job.part("P1").unwrap().sweeps, [0, 1]);
    let body = &job.sweeps[0].body;
    assert_eq!((body.place.as_str(), body.meter.as_deref()), ("neck", Some("M1")));
    assert_eq!(body.temperature.as_ref().unwrap().unit, "Cel");
    let media = [&job.sweeps[0], &job.sweeps[1]].map(|item| item.body.files[0].media.clone());
    assert_eq!(media, ["text/plain", "audio/vnd.wave"]);
    assert!(workshop.verify().unwrap().is_whole());
}

#[test]
fn what_cannot_be_read_is_kept_all_the_same() {
    let (bench, number) = with_a_job();
    for bytes in [vec![0], vec![0xff; 300], b"no figures".to_vec(), "\u{feff};;;\n".as_bytes().to_vec()] {
        bench.workshop.keep_sweep(&number, &one_file(&bytes), None).unwrap();
        let given = bench.workshop.sweep_files(&number).unwrap();
        assert_eq!(&*given.last().unwrap().files[0].1, bytes);
    }
}

#[test]
fn what_does_not_fit_is_refused_before_anything_is_kept() {
    let (bench, number) = with_a_job();
    let before = bench.workshop.lines(&number).unwrap();
    let said = |new: &NewSweep, sign: &str, trouble: Trouble| {
        let error = bench.workshop.keep_sweep(&number, new, None).unwrap_err();
        assert_eq!(error.trouble(), trouble);
        let said = sentence(&error);
        assert!(said.contains(sign), "{said}");
    };
    said(&NewSweep::default(), "The file is empty", Trouble::NotTaken);
    said(&one_file(b""), "The file is empty", Trouble::NotTaken);
    said(&NewSweep { part: "P7".into(), ..one_file(b"1") }, "P1", Trouble::NotThere);
    let resistors = vec!["10k".to_owned(), "100k".to_owned()];
    said(
        &NewSweep { resistors, ..one_file(b"1") },
        "2 resistors were said and 1 file was given",
        Trouble::NotTaken,
    );
    said(&NewSweep { resistors: vec!["ten".into()], ..one_file(b"1") }, "“ten”", Trouble::NotTaken);
    said(&NewSweep { resistors: vec!["over 20k".into()], ..one_file(b"1") }, "one figure", Trouble::NotTaken);
    said(&NewSweep { temperature: "warm".into(), ..one_file(b"1") }, "The temperature", Trouble::NotTaken);
    assert!(matches!(
        bench.workshop.keep_sweep("99-999", &one_file(b"1"), None),
        Err(ActError::NoSuchJob(_))
    ));
    assert_eq!(bench.workshop.lines(&number).unwrap(), before);
}

#[test]
fn withholding_reaches_the_files_and_a_copy_has_them() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let kept = workshop.keep_sweep(&number, &one_file(b"120,6310"), None).unwrap();
    let stays = workshop.keep_sweep(&number, &one_file(b"120,6320"), None).unwrap();
    let copy = bench.folder.with_file_name("copy");
    workshop.copy_to(&copy).unwrap();
    assert_eq!(Workshop::open_to_read(&copy).unwrap().sweep_files(&number).unwrap().len(), 2);

    workshop.withhold(&number, kept, "Ambrose Quellworthy", "asked by the owner", "w").unwrap();
    let given = workshop.sweep_files(&number).unwrap();
    assert_eq!(given.iter().map(|sweep| sweep.seq).collect::<Vec<_>>(), [stays]);
    assert!(workshop.verify().unwrap().is_whole());
    workshop.copy_to(&copy).unwrap();
    assert!(Workshop::open_to_read(&copy).unwrap().verify().unwrap().is_whole());
}

#[test]
fn a_file_that_is_gone_is_said_with_its_measurement() {
    let (bench, number) = with_a_job();
    bench.workshop.keep_sweep(&number, &one_file(b"120,6310"), None).unwrap();
    let original = bench.workshop.job(&number).unwrap().sweeps[0].body.files[0].original.clone();
    std::fs::remove_file(bench.folder.join("photographs").join(&original[..2]).join(&original)).unwrap();
    let given = bench.workshop.sweep_files(&number).unwrap();
    assert!(given[0].files.is_empty());
    assert!(sentence(&given[0].missing[0]).contains(&original[..8]));
    assert!(!bench.workshop.verify().unwrap().is_whole());
}

#[test]
fn a_file_too_large_for_a_page_is_not_read_and_said_to_be_so() {
    let (bench, number) = with_a_job();
    bench.workshop.keep_sweep(&number, &one_file(b"120,6310"), None).unwrap();
    let mut body = bench.workshop.job(&number).unwrap().sweeps[0].body.clone();
    body.files[0].bytes = 64_000_001;
    bench.workshop.keep(&number, Body::Sweep(body), None, None).unwrap();
    let given = bench.workshop.sweep_files(&number).unwrap();
    assert!(given[1].files.is_empty());
    assert!(sentence(&given[1].missing[0]).contains("too large to be read"));
}
