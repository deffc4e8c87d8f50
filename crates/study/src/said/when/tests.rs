use super::*;

fn read(text: &str) -> Vec<String> {
    let days = |days: &Days| match days.first == days.last {
        true => days.first.to_string(),
        false => format!("{} to {}", days.first, days.last),
    };
    let all = dates(text);
    all.iter().flat_map(|said| said.readings.iter().map(days)).collect()
}

#[test]
fn dates_as_people_write_them() {
    let day = "1964-05-12";
    let month = "1964-05-01 to 1964-05-31";
    for text in [
        "12 May 1964",
        "receipt, 12 May 1964, two lines",
        "12th of May 1964",
        "May 12, 1964",
        "may 12th 64",
        "1964-05-12",
        "12.5.1964",
        "12.5.64",
        "13/5/64",
    ] {
        let expected = if text == "13/5/64" { "1964-05-13" } else { day };
        assert_eq!(read(text), [expected], "{text}");
    }
    for text in ["5/1964", "5/64", "05-1964", "May 64", "May '64", "May of 1964", "1964-05", "pencilled 5-64"]
    {
        assert_eq!(read(text), [month], "{text}");
    }
    let rows = [
        ("1964", "1964-01-01 to 1964-12-31"),
        ("'64", "1964-01-01 to 1964-12-31"),
        ("spring 1964", "1964-03-01 to 1964-05-31"),
        ("late 1964", "1964-09-01 to 1964-12-31"),
        ("early 1960s", "1960-01-01 to 1963-12-31"),
        ("mid-1960s", "1964-01-01 to 1966-12-31"),
        ("the 60s", "1960-01-01 to 1969-12-31"),
        ("1962-64", "1962-01-01 to 1964-12-31"),
        ("1962 to 1964", "1962-01-01 to 1964-12-31"),
        ("between 1962 and 1964", "1962-01-01 to 1964-12-31"),
        ("about 1962", "1960-01-01 to 1964-12-31"),
        ("stamped 2 MAY 64B", "1964-05-02"),
        ("stamped 2MAY64", "1964-05-02"),
        ("MAY64B", "1964-05-01 to 1964-05-31"),
        ("c.1962", "1960-01-01 to 1964-12-31"),
        ("c. 1962", "1960-01-01 to 1964-12-31"),
        ("late fifties", "1957-01-01 to 1959-12-31"),
        ("the sixties", "1960-01-01 to 1969-12-31"),
        ("1960/61", "1960-01-01 to 1961-12-31"),
        ("Sept 1963", "1963-09-01 to 1963-09-30"),
    ];
    for (text, expected) in rows {
        assert_eq!(read(text), [expected], "{text}");
    }
}

#[test]
fn what_can_be_meant_in_two_ways_is_answered_in_both() {
    assert_eq!(read("3/4/64"), ["1964-04-03", "1964-03-04"]);
    assert_eq!(read("4/4/64"), ["1964-04-04"]);
    assert_eq!(read("winter 1964"), ["1963-12-01 to 1964-02-29", "1964-12-01 to 1965-02-28"]);
    assert_eq!(read("1962 or 1963"), ["1962-01-01 to 1962-12-31", "1963-01-01 to 1963-12-31"]);
    assert!(dates("3/4/64")[0].is_ambiguous());
}

#[test]
fn a_bound_is_told_from_a_date() {
    let one = |text: &str| dates(text).remove(0);
    let before = one("sold before 1965");
    assert_eq!((before.bound, before.readings[0].last), (Bound::NotAfter, date(1964, 12, 31)));
    assert_eq!(one("by 1965").bound, Bound::NotAfter);
    assert_eq!(one("not after 1965").bound, Bound::NotAfter);
    assert_eq!(one("no earlier than May 1965").bound, Bound::NotBefore);
    assert_eq!(one("since 1965").bound, Bound::NotBefore);
    let within = one("bought in 1965");
    assert_eq!((within.bound, within.text.as_str(), within.at), (Bound::Within, "1965", (10, 14)));
}

#[test]
fn a_number_that_is_no_date_is_none() {
    for text in ["serial 1964", "patent 1985878", "6k31", "137 6338", "31/2/64", "photo 1964", ""] {
        assert!(dates(text).is_empty(), "{text}: {:?}", dates(text));
    }
}
