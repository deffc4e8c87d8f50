//! Two recordings of a coil that is known, and of much that is no coil.

mod recordings;

use asfound_electric::impedance::{Fitted, Model, fit};
use asfound_electric::resistor_test::{
    Channel, Channels, Measured, Note, Rate, Recording, ResistorTestError, TestSignal, Which, measure,
};
use asfound_measure::{Ohms, Seconds};
use proptest::prelude::*;
use recordings::{Bench, single, steel, wav};
use std::sync::OnceLock;

const R_A: f64 = 10e3;
const R_B: f64 = 100e3;

/// The channels of the usual two recordings, made once.
fn usual_channels() -> &'static [(Vec<f64>, Vec<f64>); 2] {
    static MADE: OnceLock<[(Vec<f64>, Vec<f64>); 2]> = OnceLock::new();
    MADE.get_or_init(|| [(R_A, 1), (R_B, 2)].map(|(resistor, seed)| Bench::usual(resistor, seed).channels()))
}

/// The usual two recordings as files of 24 bits.
fn usual() -> &'static [Vec<u8>; 2] {
    static MADE: OnceLock<[Vec<u8>; 2]> = OnceLock::new();
    MADE.get_or_init(|| usual_channels().each_ref().map(|(one, two)| wav(one, two, 24)))
}

fn of<'a>(wav: &'a [u8], resistor: f64) -> Recording<'a> {
    Recording { wav, resistor: Ohms(resistor) }
}

fn refused(first: Recording, second: Recording) -> ResistorTestError {
    measure(first, second, None).expect_err("nothing to measure")
}

/// R within 0.5 %, L within 1 %, C within 3 %: what a bench without a bridge is asked for.
fn close(fitted: &Fitted, coil: &Model) {
    let (r, l, c) = (
        fitted.resistance.as_ref().unwrap().value.0 / coil.resistance.0 - 1.0,
        fitted.inductance.as_ref().unwrap().value.0 / coil.whole_inductance().0 - 1.0,
        fitted.capacitance.as_ref().unwrap().value.0 / coil.capacitance.0 - 1.0,
    );
    assert!(
        r.abs() < 0.005 && l.abs() < 0.01 && c.abs() < 0.03,
        "R {r:+.5} L {l:+.5} C {c:+.5} {:?}",
        fitted.kind
    );
}

fn measured(bench: Bench) -> Measured {
    let (a, b) = (bench.wav(), Bench { resistor: R_B, seed: bench.seed + 100, ..bench }.wav());
    measure(of(&a, R_A), of(&b, R_B), Some(bench.input)).unwrap()
}

#[test]
fn a_single_coil_through_noise_drift_and_unlike_channels() {
    let [a, b] = usual();
    let result = measure(of(a, R_A), of(b, R_B), Some(Bench::usual(R_A, 1).input)).unwrap();
    assert_eq!(result.notes, []);
    assert!((result.channel_ratio - 0.92).abs() < 0.01, "{}", result.channel_ratio);
    let fitted = fit(&result.sweep).unwrap();
    close(&fitted, &single());
    assert!(fitted.reduced_chi_square.unwrap() < 2.0, "{:?}", fitted.reduced_chi_square);
}

#[test]
fn a_dual_coil_on_steel() {
    let result = measured(Bench { coil: steel, ..Bench::usual(R_A, 5) });
    close(&fit(&result.sweep).unwrap(), &steel());
}

#[test]
fn the_clock_does_not_matter_nor_when_the_recording_began() {
    // The usual recordings drift by 50 millionths.
    for (drift, early) in [(0.0, 0.0), (-200e-6, 0.5)] {
        let bench = Bench { drift, early, ..Bench::usual(R_A, 11) };
        let late = Bench { early: early + 0.3, resistor: R_B, seed: 12, ..bench };
        let (a, b) = (bench.wav(), late.wav());
        close(&fit(&measure(of(&a, R_A), of(&b, R_B), Some(bench.input)).unwrap().sweep).unwrap(), &single());
    }
}

#[test]
fn points_scatter_as_their_uncertainties_say() {
    let bench = Bench { noise_below: 50.0, ..Bench::usual(R_A, 21) };
    let result = measured(bench);
    let away = result.sweep.points().iter().map(|point| {
        let off = point.impedance().unwrap() / single().impedance(point.frequency);
        let relative = (off - asfound_electric::Complex::ONE).abs() / point.relative_uncertainty.unwrap();
        relative * relative / 2.0
    });
    let mean = away.sum::<f64>() / result.sweep.points().len() as f64;
    // Both parts together have two degrees of freedom in each of some 150 bands: 1 ± 0.08, and the floor widens it.
    assert!((0.6..1.3).contains(&mean), "{mean}");
}

#[test]
fn the_input_of_channel_2_is_measured_with_the_coil_and_said() {
    let [a, b] = usual();
    let result = measure(of(a, R_A), of(b, R_B), None).unwrap();
    assert_eq!(result.notes, [Note::InputNotTakenAway]);
    let fitted = fit(&result.sweep).unwrap();
    let capacitance = fitted.capacitance.unwrap().value.0;
    assert!((capacitance / 150e-12 - 1.0).abs() < 0.03, "110 pF and 40 pF, {capacitance}");
}

#[test]
fn files_of_16_24_and_32_bits_and_of_floats_say_the_same() {
    let [(one, two), (three, four)] = usual_channels();
    // The other way round as well: which recording comes first does not matter.
    for (first, second) in [(16, 32), (0, 24)] {
        let (a, b) = (wav(one, two, first), wav(three, four, second));
        let result = measure(of(&b, R_B), of(&a, R_A), Some(Bench::usual(R_A, 1).input)).unwrap();
        close(&fit(&result.sweep).unwrap(), &single());
    }
}

#[test]
fn what_was_mistaken_is_said() {
    let [a, b] = usual();
    assert_eq!(refused(of(&[], R_A), of(b, R_B)), ResistorTestError::Empty(Which::First));
    assert!(matches!(
        refused(of(b"hello, this is no WAV file", R_A), of(b, R_B)),
        ResistorTestError::NotWav { .. }
    ));
    let cut = refused(of(a, R_A), of(&b[..b.len() / 2], R_B));
    assert!(
        matches!(cut, ResistorTestError::CutOff { which: Which::Second, after } if (after.0 - 6.25).abs() < 0.01),
        "{cut}"
    );
    assert_eq!(refused(of(a, R_A), of(a, R_B)), ResistorTestError::SameRecording);
    assert_eq!(refused(of(b, R_A), of(a, R_B)), ResistorTestError::Swapped);
    let same = ResistorTestError::SameResistors { first: Ohms(R_A), second: Ohms(R_A) };
    assert_eq!(refused(of(a, R_A), of(b, R_A)), same);
    assert_eq!(refused(of(a, R_A), of(b, 0.0)), ResistorTestError::Resistor { which: Which::Second });
    // Another take with the same resistor: other noise, and begun later.
    let (one, two) = &usual_channels()[0];
    let again = wav(&one[3000..], &two[3000..], 16);
    assert_eq!(refused(of(a, R_A), of(&again, R_B)), ResistorTestError::SameRecording);
}

#[test]
fn what_is_wrong_with_a_channel_is_said_with_its_place() {
    let [(one, two), (three, four)] = usual_channels();
    let b = &usual()[1];
    let quiet = wav(one, &vec![1e-5; one.len()], 24);
    let silent = ResistorTestError::Silent { which: Which::First, channel: Channel::AtCoil };
    assert_eq!(refused(of(&quiet, R_A), of(b, R_B)), silent);
    let loud: Vec<f64> = one.iter().map(|x| x * 3.0).collect();
    let first = loud.iter().position(|x| x.abs() >= 0.999).unwrap();
    let clipped = refused(of(&wav(&loud, two, 24), R_A), of(b, R_B));
    let place = Seconds(first as f64 / 48_000.0);
    assert!(
        matches!(clipped, ResistorTestError::Clipped { which: Which::First, channel: Channel::BeforeResistor, samples, first }
            if first == place && samples > 1000),
        "{clipped}"
    );
    assert!(clipped.to_string().contains("the first at 1."), "{clipped}");
    let swapped = refused(of(&wav(two, one, 24), R_A), of(&wav(four, three, 24), R_B));
    assert_eq!(swapped, ResistorTestError::ChannelsSwapped);
    let mono = TestSignal::default().wav();
    assert_eq!(
        refused(of(&mono, R_A), of(b, R_B)),
        ResistorTestError::Channels { which: Which::First, channels: 1 }
    );
    let stereo = TestSignal { rate: Rate::PerSecond44100, channels: Channels::Stereo }.wav();
    let rates = ResistorTestError::TwoRates { first: 44_100, second: 48_000 };
    assert_eq!(refused(of(&stereo, R_A), of(b, R_B)), rates);
    let short = wav(&one[..48_000], &two[..48_000], 16);
    let length = ResistorTestError::Length { which: Which::First, lasts: Seconds(1.0) };
    assert_eq!(refused(of(&short, R_A), of(b, R_B)), length);
}

#[test]
fn noise_alone_is_no_measurement() {
    let noise = |seed: u64| Bench { noise_below: -30.0, gain: 0.02, ..Bench::usual(R_A, seed) }.wav();
    let (a, b) = (noise(31), noise(32));
    let refusal = refused(of(&a, R_A), of(&b, R_B));
    assert!(matches!(refusal, ResistorTestError::Noise { .. }), "{refusal}");
}

#[test]
fn the_signal_is_the_same_bytes_every_time() {
    let signal = TestSignal { rate: Rate::PerSecond44100, channels: Channels::Stereo };
    let bytes = signal.wav();
    assert_eq!(bytes, signal.wav());
    let mut reader = hound::WavReader::new(std::io::Cursor::new(&bytes[..])).unwrap();
    assert_eq!((reader.spec().channels, reader.spec().sample_rate), (2, 44_100));
    let samples: Vec<i16> = reader.samples().map(Result::unwrap).collect();
    assert_eq!(samples.len(), 2 * 507_150);
    let second = 2 * 44_100;
    assert!(samples[..second].iter().all(|sample| *sample == 0), "a quiet second");
    assert!(samples[samples.len() - second / 2..].iter().all(|sample| *sample == 0), "a quiet end");
    let highest = samples.iter().map(|sample| sample.unsigned_abs()).max().unwrap();
    assert!((8190..=8192).contains(&highest), "12 dB below full scale: {highest}");
    assert!(samples.chunks_exact(2).all(|frame| frame[0] == frame[1]));
    // Passages through nought in the first and last tenth of a second of the sine: 20 Hz and some, 20 kHz and some less.
    let crossings = |from: f64, to: f64| {
        let frame = |t: f64| (t * 44_100.0) as usize;
        (frame(from)..frame(to)).filter(|n| (samples[2 * n] >= 0) != (samples[2 * n + 2] >= 0)).count()
    };
    assert!((4..=5).contains(&crossings(1.0005, 1.1)), "{}", crossings(1.0005, 1.1));
    assert!((3700..4000).contains(&crossings(10.9, 11.0)), "{}", crossings(10.9, 11.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..300), at in 0usize..200, byte in any::<u8>(), cut in 0usize..400) {
        let good = TestSignal { rate: Rate::PerSecond44100, channels: Channels::Stereo };
        static HEAD: OnceLock<Vec<u8>> = OnceLock::new();
        let mut spoilt = HEAD.get_or_init(|| good.wav()[..400].to_vec()).clone();
        spoilt[at] = byte;
        spoilt.truncate(cut);
        prop_assert!(measure(of(&bytes, R_A), of(&spoilt, R_B), None).is_err());
        prop_assert!(measure(of(&spoilt, R_A), of(&bytes, R_B), None).is_err());
    }
}
