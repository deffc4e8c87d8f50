//! What holds for every text: nothing panics, a fault names its place, a reading says what stands there, and a sign that
//! cannot be read takes nothing away.

use asfound_evidence::code::{Reading, Stamp, System, Told, read, source_and_date};
use asfound_evidence::{Month, Span};
use proptest::prelude::*;

fn seen() -> Span {
    Span::years(1945, 2026).expect("years in order")
}

/// Texts much like codes, and any text at all.
fn texts() -> impl Strategy<Value = String> {
    prop_oneof!["[0-9?]{1,9}", "[A-Z0-9?\\[\\]]{0,6}", "[0-9A-Za-z?\\[\\] /.,\\-–]{0,16}", ".{0,12}"]
}

/// Spans of months, wide and narrow.
fn spans() -> impl Strategy<Value = Span> {
    (1900..2030_i16, 0..1200_i32).prop_map(|(year, months)| {
        let first = Month::january(year);
        Span::new(first, first + months).expect("months in order")
    })
}

/// The digits of a week code as a reading has them.
fn written(stamp: &Stamp, reading: &Reading) -> Option<String> {
    let Told::Week { year, number } = reading.told else { return None };
    let year_at = reading.year_at.clone()?;
    let year_digits = stamp.written[year_at].chars().filter(char::is_ascii_digit).count();
    let year = format!("{:02}", year % 100);
    let source = reading.source.and_then(|source| source.number()).map(|number| number.to_string());
    Some(format!("{}{}{number:02}", source.unwrap_or_default(), &year[2 - year_digits..]))
}

proptest! {
    #[test]
    fn any_text_is_answered(text in texts(), seen in spans()) {
        for system in System::ALL {
            match read(system, &text, seen) {
                Ok(stamp) => {
                    prop_assert!(!stamp.readings.is_empty());
                    prop_assert_eq!(&stamp.written, &text);
                    for reading in &stamp.readings {
                        prop_assert!(reading.days.first <= reading.days.last);
                        prop_assert!(Month::of(reading.days.first) <= seen.last);
                        prop_assert!(Month::of(reading.days.last) >= seen.first);
                    }
                    prop_assert!(stamp.made_in(seen).weights().iter().all(|weight| weight.is_finite() && *weight >= 0.0));
                }
                Err(fault) => {
                    prop_assert_eq!(&text[fault.place.clone()], fault.read.as_str());
                    let sentence = fault.to_string().replace(&format!("“{}”", fault.read), "");
                    prop_assert!(sentence.contains("; ") && !sentence.contains(". "), "{}", sentence);
                }
            }
        }
    }

    #[test]
    fn a_reading_is_written_as_it_stands(text in "[1-9][0-9]{2,7}") {
        if let Ok(stamp) = source_and_date(&text, seen()) {
            for reading in &stamp.readings {
                prop_assert_eq!(written(&stamp, reading), Some(text.clone()));
            }
        }
    }

    #[test]
    fn every_week_of_every_year_is_found_again(source in 1..=9999_u16, year in 1945..=2026_i16, number in 1..=47_u8) {
        let told = Told::Week { year, number };
        for text in [
            format!("{source}{}{number:02}", year % 10),
            format!("{source}-{}{number:02}", year % 10),
            format!("{source} {:02} {number:02}", year % 100),
            format!("{source}{:02}{number:02}", year % 100),
        ] {
            let stamp = source_and_date(&text, seen());
            let found = stamp.is_ok_and(|stamp| stamp.readings.iter().any(|reading| {
                reading.told == told && reading.source.and_then(|source| source.number()) == Some(source)
            }));
            prop_assert!(found, "{}", text);
        }
    }

    #[test]
    fn an_unread_digit_takes_nothing_away(
        text in "[1-9][0-9]{0,3}[- ]?[0-9][- ]?[0-9]{2,3}",
        at in any::<prop::sample::Index>(),
    ) {
        let at = at.index(text.len());
        prop_assume!(text.as_bytes()[at].is_ascii_digit());
        if let Ok(whole) = source_and_date(&text, seen()) {
            let smudged = format!("{}?{}", &text[..at], &text[at + 1..]);
            let smudged = source_and_date(&smudged, seen()).expect("what was read before is still a reading");
            for reading in &whole.readings {
                let number = reading.source.and_then(|source| source.number());
                let kept = smudged.readings.iter().any(|other| other.told == reading.told && match (other.source, number) {
                    (Some(source), Some(number)) => source.can_be(number),
                    (source, number) => source.is_none() && number.is_none(),
                });
                prop_assert!(kept, "{:?} of {}", reading, text);
            }
        }
    }

    #[test]
    fn an_unread_sign_takes_nothing_away_from_the_others(
        text in prop_oneof!["[A-X][1-9OND]", "[A-Z][A-L]", "[A-Z][0-9][A-L][1-5]", "[0-9]{5}", "[KJ][BUDX]/[A-E]{1,2}"],
        at in any::<prop::sample::Index>(),
    ) {
        let at = at.index(text.len());
        prop_assume!(text.as_bytes()[at] != b'/');
        let smudged = format!("{}?{}", &text[..at], &text[at + 1..]);
        let others = [System::YearAndMonth, System::InspectionLetters, System::EtchedValve, System::PlainDay, System::ServiceValve];
        for system in others {
            if let Ok(whole) = read(system, &text, seen()) {
                let smudged = read(system, &smudged, seen()).expect("what was read before is still a reading");
                for reading in &whole.readings {
                    prop_assert!(smudged.readings.iter().any(|other| other.told == reading.told), "{:?} of {}", system, text);
                }
            }
        }
    }
}
