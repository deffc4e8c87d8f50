//! The other systems against published readings. Dates are exact: there is no tolerance.

use asfound_evidence::code::{
    CodeFault, Granted, Ground, Problem, Registrant, Stamp, System, Told, etched_valve, inspection_letters,
    patent, plain_day, plain_week, read, service_valve, year_and_month,
};
use asfound_evidence::{Month, Span};
use jiff::civil::date;

fn seen() -> Span {
    Span::years(1945, 2024).expect("years in order")
}

type Reader = fn(&str, Span) -> Result<Stamp, CodeFault>;

/// The months of all readings, as `1956-07`.
fn months(reader: Reader, text: &str) -> Vec<String> {
    let stamp = reader(text, seen()).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    let readings = stamp.readings.iter();
    readings
        .filter_map(|reading| match reading.told {
            Told::Month(month) | Told::WeekOfMonth { month, .. } => Some(month.to_string()),
            _ => None,
        })
        .collect()
}

fn problem(reader: Reader, text: &str) -> (String, Problem) {
    let fault = reader(text, seen()).expect_err(text);
    assert_eq!(text[fault.place.clone()], fault.read, "the place is where it was read");
    (fault.read, fault.problem)
}

#[test]
fn year_and_month_letters() {
    // Worked from the anchors A = 1970, M = 1980 and 2000, X = 1989 and 2009, R = 2003, W = 2008.
    assert_eq!(months(year_and_month, "A5"), ["1970-05", "1990-05", "2010-05"]);
    assert_eq!(months(year_and_month, "M9"), ["1980-09", "2000-09", "2020-09"]);
    assert_eq!(months(year_and_month, "XD"), ["1989-12", "2009-12"]);
    assert_eq!(months(year_and_month, "ko"), ["1978-10", "1998-10", "2018-10"]);
    let year = |letter: &str| year_and_month(letter, seen()).map(|stamp| stamp.years());
    // newtoncbraga.com.br, technical almanac 202, older table; qeeebo.com for R.
    let published =
        [("E1", 1994), ("F1", 1995), ("H1", 1996), ("J1", 1997), ("K1", 1998), ("L1", 1999), ("M1", 2000)];
    for (letter, of) in published.into_iter().chain([("R1", 2003), ("W1", 2008), ("S1", 2024), ("L1", 1979)])
    {
        assert!(year(letter).is_ok_and(|years| years.contains(&of)), "{letter} is {of}");
    }
    assert!(matches!(problem(year_and_month, "G1"), (read, Problem::NotAYearLetter { .. }) if read == "G"));
    for letter in ["I3", "O1", "Q1", "Y1", "Z1", "51"] {
        assert!(matches!(problem(year_and_month, letter).1, Problem::NotAYearLetter { .. }), "{letter}");
    }
    assert!(matches!(problem(year_and_month, "A0"), (read, Problem::NotAMonth { .. }) if read == "0"));
    assert!(matches!(problem(year_and_month, "AM").1, Problem::NotAMonth { .. }));
    assert!(matches!(problem(year_and_month, "A").1, Problem::TooShort { .. }));
    assert!(matches!(problem(year_and_month, "A51").1, Problem::TooLong { .. }));
    assert_eq!(months(year_and_month, "M[9O]").len(), 6);
}

#[test]
fn an_inspection_stamp_has_two_series() {
    // chaku.ru, mirror of a trade page; the second series only where the instrument can be so young.
    assert_eq!(months(inspection_letters, "FG"), ["1956-07", "1995-07"]);
    assert_eq!(months(inspection_letters, "QA"), ["1967-01", "2006-01"]);
    assert_eq!(months(inspection_letters, "CG"), ["1953-07", "1992-07"]);
    let early = inspection_letters("CG", Span::years(1945, 1989).expect("years")).expect("one");
    assert_eq!(early.years(), [1953]);
    assert_eq!(problem(inspection_letters, "FM"), ("M".to_owned(), Problem::MonthBeyondL));
    assert_eq!(problem(inspection_letters, "F7"), ("7".to_owned(), Problem::NotALetter));
    let early = inspection_letters("QA", Span::years(1945, 1960).expect("years")).expect_err("too early");
    assert!(matches!(early.problem, Problem::LaterThanInspection { .. }));
}

#[test]
fn the_lower_etched_line() {
    // cs.helsinki.fi/u/oheinone/valves: factory B, August of a year ending in 2, most likely 1962, third week.
    let stamp = etched_valve("B2H3", seen()).expect("a code");
    assert_eq!(stamp.readings[0].told, Told::WeekOfMonth { month: Month::new(1962, 8).unwrap(), number: 3 });
    assert_eq!(stamp.years(), [1952, 1962, 1972, 1982, 1992, 2002, 2012, 2022]);
    // Four signs are of 1960 or later, three before it; what breaks the rule is kept.
    let against = |text: &str| -> Vec<i32> {
        let stamp = etched_valve(text, seen()).expect("a code");
        let against = stamp.readings.iter().filter(|reading| reading.ground == Ground::AgainstRule);
        against.filter_map(|reading| reading.year()).collect()
    };
    assert_eq!(against("B2H3"), [1952]);
    assert_eq!(against("B7H"), [1967, 1977, 1987, 1997, 2007, 2017]);
    // Both lines.
    let both = etched_valve("IS1 / B2H3", seen()).expect("a code");
    assert_eq!((both.years(), both.days(), both.beside.as_str()), (stamp.years(), stamp.days(), "IS1 /"));
    // A smudged month, H or J, with every year ending in 0 alike, as no year fits three signs.
    let smudged = etched_valve("B0[HJ]", seen()).expect("a code").made_in_at(seen(), 0.0);
    let month = |year, number| Month::new(year, number).unwrap();
    assert_eq!(
        (smudged.at(month(1950, 8)), smudged.at(month(1960, 10)), smudged.at(month(1960, 9))),
        (1.0, 1.0, 0.0)
    );
    assert_eq!(months(etched_valve, "B0?1").len(), 8 * 12);
    assert_eq!(problem(etched_valve, "B2M3"), ("M".to_owned(), Problem::MonthBeyondL));
    assert_eq!(problem(etched_valve, "B2H6"), ("6".to_owned(), Problem::WeekOfMonth));
    assert_eq!(problem(etched_valve, "BXH3"), ("X".to_owned(), Problem::NotADigit));
    assert!(matches!(problem(etched_valve, "B2").1, Problem::TooShort { .. }));
    assert!(matches!(problem(etched_valve, "B2H34").1, Problem::TooLong { .. }));
}

#[test]
fn dates_in_digits_alone() {
    // A maker's leaflet at online.documentine.com.
    let week =
        |text: &str| plain_week(text, Span::years(2000, 2009).expect("years")).expect("a week").readings;
    assert_eq!(
        week("431").iter().map(|reading| reading.told).collect::<Vec<_>>(),
        [Told::Week { year: 2004, number: 31 }]
    );
    assert_eq!(week("0451")[0].told, Told::Week { year: 2004, number: 51 });
    let day = |text: &str| plain_day(text, Span::years(2000, 2009).expect("years")).expect("a day").readings;
    assert_eq!(
        day("41201").iter().map(|reading| reading.told).collect::<Vec<_>>(),
        [Told::Day(date(2004, 12, 1))]
    );
    assert_eq!(day("70313")[0].told, Told::Day(date(2007, 3, 13)));
    assert_eq!(day("041201")[0].told, Told::Day(date(2004, 12, 1)));
    assert_eq!(problem(plain_day, "41331"), ("1331".to_owned(), Problem::NoSuchDay));
    assert_eq!(problem(plain_day, "50229").1, Problem::NoSuchDay, "no year ending in 5 is a leap year");
    assert_eq!(problem(plain_week, "0400"), ("00".to_owned(), Problem::WeekZero));
    assert!(matches!(problem(plain_week, "137634").1, Problem::TooLong { .. }));
}

#[test]
fn a_service_mark_bounds_only_by_a_closed_factory() {
    // A dealer's page, address withheld because it bears a trade name.
    let last = |text: &str| {
        let stamp = service_valve(text, seen()).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        assert_eq!(stamp.readings.len(), 1);
        stamp.readings[0].told
    };
    let closed = |last| Told::NotAfter { since: date(1941, 1, 1), last };
    assert_eq!(last("KB/B"), closed(date(1945, 8, 31)));
    assert_eq!(last("KB/C"), closed(date(1951, 8, 31)));
    assert_eq!(last("kb/ce"), closed(date(1957, 2, 28)));
    assert_eq!(
        last("KB/A"),
        closed(date(1964, 3, 31)),
        "two works had this letter: only the later closing bounds"
    );
    assert_eq!(last("KB/Z"), Told::NotBefore(date(1941, 1, 1)));
    assert_eq!(service_valve("KB/?", seen()).expect("readings").readings.len(), 4);
    assert_eq!(problem(service_valve, "XB/C"), ("XB".to_owned(), Problem::NotAServiceMark));
    assert!(matches!(problem(service_valve, "KBC").1, Problem::TooShort { .. }));
    assert_eq!(service_valve("KB/C 12", seen()).expect("a mark").beside, "12");
}

#[test]
fn a_patent_number_bounds_from_below() {
    let first = |text: &str| {
        let stamp = patent(text, seen()).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        stamp.readings[0].told
    };
    // USPTO release on milestones (rethinkip.com).
    assert_eq!(first("2,000,000"), Told::NotBefore(date(1935, 4, 30)));
    assert_eq!(first("3,000,000"), Told::NotBefore(date(1961, 9, 12)));
    assert_eq!(first("4000000"), Told::NotBefore(date(1976, 12, 28)));
    assert_eq!(first("5,000,000"), Told::NotBefore(date(1991, 3, 19)));
    assert_eq!(first("6,000,000"), Told::NotBefore(date(1999, 12, 7)));
    assert_eq!(first("7,000,000"), Told::NotBefore(date(2006, 2, 14)));
    // rfcafe.com: granted in 1950.
    assert_eq!(first("U.S. Pat. No. 2,524,035"), Told::NotBefore(date(1950, 1, 1)));
    // A digit that cannot be read counts as the lowest.
    assert_eq!(first("2,7?4,035"), Told::NotBefore(date(1955, 1, 1)));
    assert_eq!(
        patent("PAT. 2,524,035 other patents pending", seen()).expect("one").beside,
        "other patents pending"
    );
    assert_eq!(problem(patent, "Pat. applied for").1, Problem::PatentNotGranted);
    assert_eq!(problem(patent, "PAT. PEND.").1, Problem::PatentNotGranted);
    assert_eq!(problem(patent, "Des. 169,062"), ("Des".to_owned(), Problem::OtherPatents));
    assert!(matches!(problem(patent, "Pat. No.").1, Problem::TooShort { .. }));
    assert!(matches!(problem(patent, "123,456,789").1, Problem::TooLong { .. }));
    let early = patent("3,000,000", Span::years(1945, 1960).expect("years")).expect_err("granted later");
    assert!(matches!(early.problem, Problem::LaterThanInspection { .. }));
    let made = patent("2,524,035", seen()).expect("one").made_in(seen());
    assert_eq!(
        (made.at(Month::december(1949)), made.at(Month::january(1950)), made.at(seen().last)),
        (0.0, 1.0, 1.0)
    );
}

#[test]
fn patent_numbers_per_year_agree_with_the_grants_published() {
    // USPTO, table of utility patents granted: 45679, 47375, 62857, 68405 and 65652 in 1963 to 1967. A few numbers of
    // each year were never used, so the numbers may run ahead by up to ten.
    let first = |year: i16| {
        let line =
            Granted::all().find(|line| line.not_before == date(year, 1, 1)).expect("the year is listed");
        i64::from(line.number)
    };
    for (year, granted) in (1963..=1967).zip([45679, 47375, 62857, 68405, 65652]) {
        let unused = first(year + 1) - first(year) - granted;
        assert!((0..10).contains(&unused), "{year}: {unused}");
    }
}

#[test]
fn the_tables_hold_every_line() {
    let lines = |text: &str| text.lines().filter(|line| !line.starts_with('#')).count() - 1;
    assert_eq!(Registrant::all().count(), lines(include_str!("../data/source-codes.tsv")));
    assert_eq!(Granted::all().count(), lines(include_str!("../data/patents.tsv")));
    let granted: Vec<Granted> = Granted::all().collect();
    assert!(
        granted
            .windows(2)
            .all(|pair| pair[0].number < pair[1].number && pair[0].not_before <= pair[1].not_before)
    );
    assert!(
        Registrant::all()
            .all(|line| !line.name.is_empty() && !line.kind.is_empty() && !line.published.is_empty())
    );
}

#[test]
fn every_system_is_read_by_its_own_reader() {
    let examples = ["137634", "M9", "B2H3", "FG", "0451", "41201", "KB/C", "2,524,035"];
    for (system, text) in System::ALL.into_iter().zip(examples) {
        assert_eq!(read(system, text, seen()).map(|stamp| stamp.system), Ok(system), "{text}");
    }
}
