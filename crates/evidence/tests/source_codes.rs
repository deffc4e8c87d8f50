//! Source-and-date codes against published readings, worked over the years 1945 to 2024. Dates are exact: no tolerance.

use asfound_evidence::Days;
use asfound_evidence::code::{
    DOUBTFUL_READING, DigitOrder, Ground, Problem, Stamp, Told, source_and_date, source_and_date_in,
};
use asfound_evidence::{Month, Span};
use jiff::civil::{Date, date};

fn seen() -> Span {
    Span::years(1945, 2024).expect("years in order")
}

fn stamp(text: &str) -> Stamp {
    source_and_date(text, seen()).unwrap_or_else(|fault| panic!("{text}: {fault}"))
}

/// The readings as (source, year, week), in the order they are answered in.
fn read(text: &str) -> Vec<(String, i16, u8)> {
    let of = stamp(text).readings.into_iter();
    of.filter_map(|reading| match reading.told {
        Told::Week { year, number } => {
            Some((reading.source.map(|source| source.to_string()).unwrap_or_default(), year, number))
        }
        _ => None,
    })
    .collect()
}

fn each(source: &str, years: impl IntoIterator<Item = i16>, week: u8) -> Vec<(String, i16, u8)> {
    years.into_iter().map(|year| (source.to_owned(), year, week)).collect()
}

fn iso(first: Date, last: Date) -> Option<Days> {
    Some(Days { first, last })
}

fn problem(text: &str) -> (String, Problem) {
    let fault = source_and_date(text, seen()).expect_err(text);
    assert_eq!(text[fault.place.clone()], fault.read, "the place is where it was read");
    (fault.read, fault.problem)
}

#[test]
fn one_digit_of_the_year_leaves_the_decade_open() {
    // avtonod.ru: source 137, week 34 of 1956, 1966 or 1976; over the whole time of the system there are eight.
    let both = [each("137", (1946..2024).step_by(10), 34), each("13", [1976], 34)].concat();
    assert_eq!(read("137634"), both);
    // xewece mirror: source 285, week 42 of a year ending in 6.
    let both = [each("285", (1946..2024).step_by(10), 42), each("28", [1956], 42)].concat();
    assert_eq!(read("285642"), both);
    let both = [each("137", (1946..2024).step_by(10), 24), each("13", [1976], 24)].concat();
    assert_eq!(read("137624"), both);
    assert_eq!(stamp("137624").readings[1].iso_week(), iso(date(1956, 6, 11), date(1956, 6, 17)));
}

#[test]
fn two_digits_of_the_year() {
    // 24or.ru: source 137, week 33 of 1978.
    let both = [each("137", [1978], 33), each("1377", (1948..2024).step_by(10), 33)].concat();
    assert_eq!(read("1377833"), both);
    assert_eq!(stamp("1377833").readings[0].iso_week(), iso(date(1978, 8, 14), date(1978, 8, 20)));
    // A trade page: week 2 of 1997.
    let both = [each("137", [1997], 2), each("1379", (1947..2024).step_by(10), 2)].concat();
    assert_eq!(read("1379702"), both);
}

#[test]
fn a_hyphen_on_the_part_fixes_the_source() {
    assert_eq!(read("190-7215"), each("190", [1972], 15));
    assert_eq!(stamp("190-7215").readings[0].iso_week(), iso(date(1972, 4, 10), date(1972, 4, 16)));
    assert_eq!(read("834-7305"), each("834", [1973], 5));
    assert_eq!(stamp("834-7305").readings[0].iso_week(), iso(date(1973, 1, 29), date(1973, 2, 4)));
    assert_eq!(read("834 7328"), each("834", [1973], 28));
    // ecianow.org/eia-source-codes: 7 to 13 March 1999, which the window holds.
    assert_eq!(read("113-9910"), each("113", [1999], 10));
    let window = stamp("113-9910").days();
    assert!(window.first <= date(1999, 3, 7) && date(1999, 3, 13) <= window.last);
    // A trade page reads week 21 of 1964; the decade is not on the part.
    assert_eq!(read("606-4-21"), each("606", (1954..=2024).step_by(10), 21));
    assert_eq!(read("304-0-15"), each("304", (1950..=2020).step_by(10), 15));
    assert_eq!(read("606–4–21"), read("606-4-21"));
    assert!(stamp("606-4-21").readings.iter().all(|reading| reading.ground == Ground::Parted));
}

#[test]
fn what_stands_behind_the_date_is_kept() {
    assert_eq!(read("235-7051Y"), each("235", [1970], 51));
    let with_letter = stamp("235-7051Y");
    assert_eq!(with_letter.readings[0].iso_week(), iso(date(1970, 12, 14), date(1970, 12, 20)));
    assert_eq!((with_letter.beside.as_str(), with_letter.written.as_str()), ("Y", "235-7051Y"));
    // eminence.com/faqs/faq7.asp: week 12 of 2001.
    assert_eq!(read("67-01 12A 0217 G1"), each("67", [2001], 12));
    let long = stamp("67-01 12A 0217 G1");
    assert_eq!(long.readings[0].iso_week(), iso(date(2001, 3, 19), date(2001, 3, 25)));
    assert_eq!(long.beside, "A 0217 G1");
    // A batch mark of week 34 of 2008.
    assert_eq!(read("0834R"), each("", [2008], 34));
    assert_eq!(stamp("137-634 0217").beside, "0217");
}

#[test]
fn a_date_without_a_source() {
    // newsdiytoday.com: week 42 of 1955 or 1965.
    assert_eq!(read("542"), each("", (1945..2024).step_by(10), 42));
    // Beside a modern maker's long part number; a source “1” is in no list.
    assert_eq!(read("1407")[0], (String::new(), 2014, 7));
    assert_eq!(read("14-07"), each("", [2014], 7));
    assert_eq!(read("5-42"), read("542"));
}

#[test]
fn week_53_is_kept_in_every_year_and_weighs_its_days() {
    let read = stamp("220753");
    let listed: Vec<_> = read.readings.iter().filter(|reading| reading.ground == Ground::Listed).collect();
    assert_eq!(listed.len(), 8);
    let by_iso: Vec<_> = listed.iter().filter(|reading| reading.iso_week().is_some()).collect();
    assert_eq!(by_iso.len(), 1);
    assert_eq!(by_iso[0].year(), Some(1987));
    let made = read.made_in_at(seen(), 0.0);
    assert_eq!(made.at(Month::december(1957)), 1.0 / 7.0);
    assert_eq!(made.at(Month::december(1987)), 4.0 / 7.0);
}

#[test]
fn six_codes_from_repairers() {
    // Read and reported by repairers; the days are those of the ISO weeks.
    let first = |text: &str| {
        let stamp = stamp(text);
        let reading = &stamp.readings[0];
        (reading.source.and_then(|source| source.number()), reading.iso_week())
    };
    assert_eq!(first("1377415"), (Some(137), iso(date(1974, 4, 8), date(1974, 4, 14))));
    assert_eq!(first("1377624"), (Some(137), iso(date(1976, 6, 7), date(1976, 6, 13))));
    assert_eq!(first("235-7051"), (Some(235), iso(date(1970, 12, 14), date(1970, 12, 20))));
    assert_eq!(first("834-7328"), (Some(834), iso(date(1973, 7, 9), date(1973, 7, 15))));
    assert_eq!(first("190-7215"), (Some(190), iso(date(1972, 4, 10), date(1972, 4, 16))));
    // Controls seventeen years younger than the instrument.
    assert_eq!(first("1378912"), (Some(137), iso(date(1989, 3, 20), date(1989, 3, 26))));
}

#[test]
fn two_transformers_of_one_amplifier() {
    // Reported by a repairer: with a cabinet of about 1968 to 1978 the codes are of December 1974 and January 1976.
    let within = |text: &str| -> Vec<Days> {
        let stamp = stamp(text);
        let listed = stamp.readings.iter().filter(|reading| reading.ground == Ground::Listed);
        listed
            .filter(|reading| (1968..=1978).contains(&reading.year().unwrap_or(0)))
            .filter_map(|reading| reading.iso_week())
            .collect()
    };
    let (early, late) = (within("606452"), within("606602"));
    assert_eq!((early.len(), late.len()), (1, 1));
    assert_eq!(Some(late[0]), iso(date(1976, 1, 5), date(1976, 1, 11)));
    assert_eq!((late[0].first - early[0].first).get_days(), 54 * 7);
}

#[test]
fn weights_by_month_are_those_of_the_listed_source() {
    // Each year ending in 6 weighs alike; the week of 31 July 1956 has 2 days in July and 5 in August.
    let made = stamp("606631").made_in_at(seen(), 0.0);
    assert_eq!(made.at(Month::new(1956, 7).unwrap()), 2.0 / 7.0);
    assert_eq!(made.at(Month::new(1956, 8).unwrap()), 5.0 / 7.0);
    assert!(
        (made.weights().iter().sum::<f64>() - 8.0).abs() < 1e-12,
        "eight years, rounded sums of sevenths"
    );
    // With a doubtful source 60 week 31 of 1966 weighs a little more.
    let doubted = stamp("606631").made_in(seen());
    assert!((doubted.weights().iter().sum::<f64>() - (8.0 + DOUBTFUL_READING)).abs() < 1e-12);
    // Where no source is listed the readings weigh against each other all the same.
    let unlisted = stamp("999634").made_in_at(seen(), 0.0);
    assert!((unlisted.weights().iter().sum::<f64>() - 9.0).abs() < 1e-12);
}

#[test]
fn unread_digits() {
    let years: Vec<i32> = stamp("137-?24").years();
    assert_eq!(years, (1945..=2024).collect::<Vec<_>>());
    let two: Vec<_> = stamp("137-6[38]24").readings.iter().filter_map(|reading| reading.year()).collect();
    assert_eq!(two, [1963, 1968]);
    let source = stamp("1?7-6338").readings[0].source.expect("a source");
    assert_eq!((source.to_string().as_str(), source.number()), ("1?7", None));
    assert_eq!(source.registrants().map(|line| line.number).collect::<Vec<_>>(), [117, 137]);
    // Nothing of the date can be read: every week there is, and no more.
    assert_eq!(
        stamp("137????").readings.iter().filter(|reading| reading.ground == Ground::Listed).count(),
        80 * 53
    );
}

#[test]
fn the_last_digits_are_never_a_month() {
    for text in ["1377405", "542", "1407", "606-4-11"] {
        assert!(
            stamp(text).readings.iter().all(|reading| matches!(reading.told, Told::Week { .. })),
            "{text}"
        );
    }
}

#[test]
fn the_week_first_only_where_asked_for() {
    let told = |order| -> Vec<Told> {
        let stamp = source_and_date_in("137-2214", seen(), order).expect("readings");
        stamp.readings.iter().map(|reading| reading.told).collect()
    };
    let year_first = Told::Week { year: 2022, number: 14 };
    let week_first = Told::Week { year: 2014, number: 22 };
    assert_eq!(told(DigitOrder::YearFirst), [year_first]);
    assert_eq!(told(DigitOrder::Either), [week_first, year_first]);
    assert_eq!(problem("137-2478").1, Problem::WeekBeyond53);
}

#[test]
fn faults_name_their_place() {
    assert_eq!(problem("1370000"), ("00".to_owned(), Problem::WeekZero));
    assert_eq!(problem("137-6360"), ("60".to_owned(), Problem::WeekBeyond53));
    assert_eq!(problem(""), (String::new(), Problem::Empty));
    assert_eq!(problem(" - "), (" - ".to_owned(), Problem::Empty));
    assert_eq!(problem("EIA"), ("EIA".to_owned(), Problem::LettersInFront));
    assert_eq!(problem("EIA 137634"), ("EIA".to_owned(), Problem::LettersInFront));
    assert_eq!(problem("250K 137 6338"), ("250K".to_owned(), Problem::LettersInFront));
    assert_eq!(problem("250K 1376338"), ("250K".to_owned(), Problem::LettersInFront));
    assert_eq!(problem("A137634"), ("A137634".to_owned(), Problem::LettersInFront));
    assert_eq!(problem("137A634"), ("A6".to_owned(), Problem::LettersInside));
    assert!(matches!(problem("12").1, Problem::TooShort { .. }));
    assert!(matches!(problem("123456789").1, Problem::TooLong { .. }));
    assert_eq!(problem("137#634"), ("#".to_owned(), Problem::NotASign));
    assert_eq!(problem("137-6[38").1, Problem::OpenBracket);
    assert_eq!(problem("037-634").1, Problem::SourceBeginsWithZero);
    assert_eq!(problem("137-3012").1, Problem::NoSuchYear { from: 1945, to: 2024 });
}

#[test]
fn a_code_later_than_the_inspection() {
    let early = Span::new(Month::january(1945), Month::new(1972, 3).unwrap()).unwrap();
    let fault = source_and_date("190-7251", early).expect_err("later than the inspection");
    assert_eq!(fault.problem, Problem::LaterThanInspection { seen: early.last });
    assert_eq!(
        fault.to_string(),
        "“7251” would be later than 1972-03, when the part was looked at; look again at the digits, and at the date of the inspection"
    );
    // A decade that is later is left out where others are not.
    let years = source_and_date("606-4-21", early).expect("two decades").years();
    assert_eq!(years, [1954, 1964]);
}
