//! Sweep files as people export them, and as they spoil them.

use asfound_electric::Complex;
use asfound_electric::sweep::{Note, Place, Point, Sweep, SweepError, SweepFile, read};
use asfound_measure::{Degrees, Hertz, Ohms};
use proptest::prelude::*;

fn good(text: &str) -> SweepFile {
    read(text.as_bytes()).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

fn bad(text: &str) -> SweepError {
    read(text.as_bytes()).expect_err(text)
}

/// Frequency, magnitude and phase of every point, rounded to eight digits.
fn figures(file: &SweepFile) -> Vec<(f64, f64, Option<f64>)> {
    let round = |x: f64| (x * 1e6).round() / 1e6;
    let point = |p: &Point| (round(p.frequency.0), round(p.magnitude.0), p.phase.map(|phase| round(phase.0)));
    file.sweep.points().iter().map(point).collect()
}

const TWO: [(f64, f64, Option<f64>); 2] = [(100.0, 6200.0, Some(13.9)), (1000.0, 16400.5, Some(68.25))];

#[test]
fn the_same_two_points_in_many_dresses() {
    let dresses = [
        "frequency (Hz),impedance (ohm),phase (deg)\n100,6200,13.9\n1000,16400.5,68.25\n",
        "Frequency[kHz];Impedance[kOhm];Phase[deg]\r\n0,1;6,2;13,9\r\n1;16,4005;68,25\r\n",
        "phase/°\tf/Hz\t|Z|/Ω\n13.9\t100\t6200\n68.25\t1e3\t1.64005E+4\n",
        "Phase (rad), Z (kΩ), Freq (Hz)\n0.242600766,6.2,100\n1.191187215,16.4005,1000\n",
        "# Frequency (Hz)  |Z| (ohm)  Phase (deg)\n100 6200 13.9\n1000 16400.5 68.25\n",
        "an analyser\nmade on a Tuesday\n\nfreq;mag;phase\nHz;ohm;deg\n100;6200;13.9\n1000;16400.5;68.25\n",
        "\"Frequency (Hz)\",\"|Z| (ohm)\",\"Phase (deg)\"\n\"100\",\"6200,0\",\"13,9\"\n\"1000\",\"16400,5\",\"68,25\"\n",
        "Index,Frequency (MHz),Z (MΩ),Theta (degrees),\n1,0.0001,0.0062,13.9,\n2,0.001,0.0164005,68.25,\n",
        "Hz kohm deg\n100 6,2 13,9\n1000 16,4005 68,25",
    ];
    for dress in &dresses {
        assert_eq!(figures(&good(dress)), TWO, "{dress}");
    }
    let utf16: Vec<u8> =
        [0xFF, 0xFE].into_iter().chain(dresses[2].encode_utf16().flat_map(u16::to_le_bytes)).collect();
    assert_eq!(figures(&read(&utf16).unwrap()), TWO);
    let latin: Vec<u8> =
        "f (Hz);Z (ohm);ph (°)\n100;6200;13.9\n1000;16400.5;68.25".chars().map(|c| c as u8).collect();
    assert_eq!(figures(&read(&latin).unwrap()), TWO);
}

#[test]
fn two_parts_make_a_magnitude_and_a_phase() {
    let file = good("f (Hz),Re(Z) (kohm),Im(Z) (kohm)\n100,3,4\n200,0.003,-4\n");
    assert_eq!(figures(&file)[0], (100.0, 5000.0, Some(53.130102)));
    assert!((file.sweep.points()[1].phase.unwrap().0 + 89.957).abs() < 0.001);
    let both = good("f (Hz),R (ohm),X (ohm),Z (ohm),phase (deg)\n100,3,4,50,53\n200,3,4,50,53\n");
    assert_eq!(both.sweep.points()[0].magnitude, Ohms(50.0));
    assert_eq!(both.notes.iter().filter(|note| matches!(note, Note::LeftAside { .. })).count(), 2);
}

#[test]
fn magnitude_alone_is_enough() {
    let file = good("Hz,ohm\n100,6200\n1000,16400\n");
    assert!(!file.sweep.has_phase());
    assert_eq!(file.notes, []);
}

#[test]
fn what_was_taken_for_granted_is_said() {
    let bare = good("100,6200,13.9\n1000,16400,68.25\n");
    assert_eq!(bare.notes[0], Note::NoHeadings);
    assert!(bare.notes.contains(&Note::PhaseTakenAs { unit: "degrees" }));
    let unit = good("frequency,impedance,phase\n100,6200,0.24\n1000,16400,1.19\n");
    assert!(unit.notes.contains(&Note::UnitAssumed { column: "impedance", unit: "Ω" }));
    assert!(unit.notes.contains(&Note::PhaseTakenAs { unit: "radians" }));
    assert!((unit.sweep.points()[0].phase.unwrap().0 - 13.751).abs() < 0.001);
    let back = good("Hz,ohm\n1000,16400\n100,6200\n");
    assert_eq!(back.notes, [Note::Sorted { line: 3 }]);
    assert_eq!(
        back.notes[0].to_string(),
        "The frequencies step back at line 3; the points have been put in order."
    );
    assert_eq!(back.sweep.points()[0].frequency, Hertz(100.0));
}

#[test]
fn ohms_under_a_heading_of_kilohms_are_noticed() {
    let slip = good("Hz,kohm\n100,6200\n1000,16400\n");
    let note = Note::OddMagnitude { frequency: Hertz(100.0), magnitude: Ohms(6.2e6) };
    assert_eq!(slip.notes, [note]);
    let other = good("Hz,ohm\n100,6.2\n1000,16.4\n");
    assert!(matches!(other.notes[..], [Note::OddMagnitude { .. }]));
}

#[test]
fn each_mistake_is_named_with_its_place() {
    let place = |line, column| Place { line, column };
    assert_eq!(bad(""), SweepError::Empty);
    assert_eq!(bad(" \n\n\t\n"), SweepError::Empty);
    assert_eq!(bad("hello\nworld\n"), SweepError::NoNumbers);
    assert_eq!(bad("Hz\n100\n200\n"), SweepError::OneColumn { line: 2, read: "100".into() });
    assert_eq!(read(&[b'a', 0, b'b']), Err(SweepError::NotText { line: 1 }));
    assert_eq!(
        bad("Hz,ohm\n100,6200\n-200,6300\n"),
        SweepError::NotAboveNought { place: place(3, 1), read: "-200".into() }
    );
    assert_eq!(
        bad("Hz,ohm\n0,6200\n200,6300\n"),
        SweepError::NotAboveNought { place: place(2, 1), read: "0".into() }
    );
    assert_eq!(bad("Hz,ohm\n100,-3\n"), SweepError::Magnitude { place: place(2, 2), read: "-3".into() });
    assert_eq!(
        bad("Hz,ohm\n100,6200\n200,OL\n"),
        SweepError::NotNumber { place: place(3, 2), what: "impedance", read: "OL".into() }
    );
    assert_eq!(bad("Hz,ohm\n100,6200\n200\n"), SweepError::ShortLine { line: 3, found: 1, needed: 2 });
    assert_eq!(bad("Hz,ohm\n100,6200\n100,6300\n"), SweepError::Duplicate { frequency: Hertz(100.0) });
    assert_eq!(bad("Hz,ohm\n100,6200\n"), SweepError::TooFew { points: 1 });
    assert_eq!(
        bad("Hz,ohm,deg\n0,1,6,2,13,9\n0,2,6,3,14,9\n"),
        SweepError::Comma { line: 2, read: "0,1,6,2,13,9".into() }
    );
    assert!(matches!(bad("time,level\n100,6200\n"), SweepError::NoColumn { missing: "frequency", .. }));
    assert!(matches!(bad("Hz,phase (deg)\n100,62\n"), SweepError::NoColumn { missing: "impedance", .. }));
    assert!(matches!(
        bad("Hz,Z (dB),deg\n100,62,1\n"),
        SweepError::Decibels { place: Place { line: 1, column: 2 }, .. }
    ));
    assert!(matches!(
        bad("Hz,ohm,Z\n100,62,1\n"),
        SweepError::TwiceNamed { place: Place { line: 1, column: 3 }, .. }
    ));
    assert_eq!(
        bad("Hz,ohm\n100,6200\n200,OL\n").to_string(),
        "line 3, column 2: “OL” is no impedance; a number such as 1000, 1e3 or 16.2 belongs there"
    );
}

/// A coil of 6 kΩ, 2.4 H and 110 pF at 1 kHz against 50 Ω, by hand: S = (Z - 50)/(Z + 50).
#[test]
fn touchstone_in_each_of_its_forms() {
    let z = Complex::new(6126.94, 2.0 * std::f64::consts::PI * 1000.0 * 2.421191);
    let s = (z - Complex::real(50.0)) / (z + Complex::real(50.0));
    let y = (z * (1.0 / 50.0)).reciprocal();
    let db = 20.0 * libm::log10(s.abs());
    let angle = |c: Complex| c.angle().to_degrees();
    let row = |a: f64, b: f64| format!("{a:.15} {b:.15}");
    let files = [
        format!("! a coil\n# Hz S RI R 50\n1000 {} ! first\n2000 0.5 0.5\n", row(s.re, s.im)),
        format!("# kHz S MA\n1 {}\n2 0.5 45\n", row(s.abs(), angle(s))),
        format!("#\n1e-6 {}\n2e-6 0.5 45\n", row(s.abs(), angle(s))),
        format!("# MHz S DB R 50\n0.001 {}\n0.002 -3 45\n", row(db, angle(s))),
        format!("# khz z ri r 50\n1 {}\n2 3 4\n", row(z.re / 50.0, z.im / 50.0)),
        format!("# GHZ Y MA R 50.0\n1e-6 {}\n2e-6 3 4\n", row(y.abs(), angle(y))),
        format!("# Hz Z RI R 1\n1000 {}\n2000 300 400\n", row(z.re, z.im)),
    ];
    for text in &files {
        let file = good(text);
        let first = file.sweep.points()[0];
        assert!((first.frequency.0 - 1000.0).abs() < 1e-9, "{text}");
        // Near S = 1 a reflection of 15 digits keeps twelve of the impedance.
        let off = (first.impedance().unwrap() - z).abs() / z.abs();
        assert!(off < 1e-9, "{text}: {:?}", first.impedance());
        let multiples = file.notes.iter().any(|note| matches!(note, Note::Normalised { .. }));
        assert_eq!(multiples, text.contains("z ri r 50") || text.contains("GHZ Y"), "{text}");
    }
}

#[test]
fn mistakes_in_touchstone_files() {
    assert_eq!(
        bad("# Hz S XY R 50\n1 2 3\n"),
        SweepError::Option { place: Place { line: 1, column: 4 }, read: "XY".into() }
    );
    assert!(matches!(bad("# Hz S RI R\n1 2 3\n"), SweepError::Option { .. }));
    assert!(matches!(bad("# Hz G RI R 50\n1 2 3\n"), SweepError::Parameter { .. }));
    assert_eq!(bad("# Hz S RI R 50\n1 2 3 4 5 6 7 8 9\n"), SweepError::MorePorts { line: 2, found: 9 });
    assert_eq!(bad("# Hz S RI R 50\n10 1 0\n"), SweepError::OpenEnd { line: 2 });
    assert!(matches!(bad("# Hz S RI R 50\n10 -1 0\n"), SweepError::Magnitude { .. }));
    assert!(matches!(bad("[Version] 2.0\n# Hz S RI R 50\n10 -1 0\n"), SweepError::Version { line: 1, .. }));
    assert_eq!(bad("# Hz S RI R 50\n! nothing more\n"), SweepError::NoNumbers);
    assert!(matches!(bad("# Hz S RI R 50\n1 2\n"), SweepError::ShortLine { line: 2, found: 2, needed: 3 }));
}

#[test]
fn points_handed_over_are_checked() {
    let point = |f: f64, z: f64| Point {
        frequency: Hertz(f),
        magnitude: Ohms(z),
        phase: None,
        relative_uncertainty: None,
    };
    assert_eq!(Sweep::new(vec![point(1.0, 2.0)]), Err(SweepError::TooFew { points: 1 }));
    assert_eq!(
        Sweep::new(vec![point(1.0, 2.0), point(f64::NAN, 1.0)]),
        Err(SweepError::Impossible { point: 2 })
    );
    let mixed = Point { phase: Some(Degrees(3.0)), ..point(2.0, 3.0) };
    assert_eq!(Sweep::new(vec![point(1.0, 2.0), mixed]), Err(SweepError::SomePhases));
}

/// A good file to be spoilt.
const GOOD: [&str; 3] = [
    "Frequency (Hz),Impedance (ohm),Phase (deg)\n20,6000,2\n100,6200,13.9\n1000,16400.5,68.25\n9000,800000,-12\n",
    "Frequenz (kHz);Impedanz (kOhm);Phase (°)\n0,02;6;2\n0,1;6,2;13,9\n1;16,4005;68,25\n9;800;-12\n",
    "! coil\n# kHz S RI R 50\n0.1 0.98 0.01 ! first\n1 0.99 0.02\n9 0.9999 -0.0001\n",
];

proptest! {
    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = read(&bytes);
    }

    #[test]
    fn no_text_of_its_own_letters_makes_it_panic(text in "[0-9.,;:eE+\\-\t\n #!\"()|ZfHzkohmdegRISMA\\[\\]Ω°]{0,300}") {
        let _ = read(text.as_bytes());
    }

    #[test]
    fn a_good_file_cut_or_changed_is_read_or_refused_with_a_sentence(
        which in 0usize..3, cut in 0usize..200, at in 0usize..200, byte in any::<u8>(),
    ) {
        let mut bytes = GOOD[which].as_bytes().to_vec();
        let length = bytes.len();
        bytes[at % length] = byte;
        bytes.truncate(length - cut % length);
        match read(&bytes) {
            Ok(file) => prop_assert!(file.sweep.points().iter().all(|p| p.frequency.0 > 0.0 && p.magnitude.0 > 0.0)),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }

    #[test]
    fn what_is_written_is_read_again(points in prop::collection::btree_map(1u32..100_000, (0.001f64..1e9, -180.0f64..180.0), 2..20)) {
        let mut text = "f (Hz);|Z| (ohm);phase (deg)\n".to_owned();
        for (f, (z, phase)) in &points {
            text += &format!("{f};{z};{phase}\n").replace('.', ",");
        }
        let file = good(&text);
        for ((f, (z, phase)), point) in points.iter().zip(file.sweep.points()) {
            prop_assert_eq!((f64::from(*f), *z, *phase), (point.frequency.0, point.magnitude.0, point.phase.unwrap().0));
        }
    }
}
