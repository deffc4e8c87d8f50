use serde_json::{Value, json};

use super::{BODY_DEPTH, canonical, check, read, read_with_floats};
use crate::error::EntryError;
use crate::hash::Hash;

/// Inputs, and length and SHA-256 of their canonical form: the `testdata` that the authors of RFC 8785 publish
/// beside it (json-canonicalization, files of these names).
const PUBLISHED: [(&str, &str, usize, &str); 6] = [
    (
        "values",
        r#"{
          "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
          "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
          "literals": [null, true, false]
        }"#,
        118,
        "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb",
    ),
    (
        "arrays",
        r#"[ 56, { "d": true, "10": null, "1": [ ] } ]"#,
        32,
        "099601b171cafed97c333f8878d68e7f8c8f795412adb34b2fdcf0e7c7beac42",
    ),
    (
        "weird",
        r#"{
          "\u20ac": "Euro Sign", "\r": "Carriage Return", "\u000a": "Newline", "1": "One",
          "\u0080": "Control\u007f", "\ud83d\ude02": "Smiley",
          "\u00f6": "Latin Small Letter O With Diaeresis",
          "\ufb33": "Hebrew Letter Dalet With Dagesh", "</script>": "Browser Challenge"
        }"#,
        214,
        "6af595a9aa80110b964b4de3f82a05fa6ae7423005019bacfa2620dddc4e94d1",
    ),
    (
        "french",
        r#"{
          "peach": "This sorting order", "péché": "is wrong according to French",
          "pêche": "but canonicalization MUST", "sin": "ignore locale"
        }"#,
        130,
        "d99d0ebdcb0033cb858cfa830ae46bc0fb3309413b271f1da828c89901a27ed5",
    ),
    (
        "structures",
        r#"{
          "1": {"f": {"f": "hi", "F": 5}, "\n": 56.0}, "10": { }, "": "empty", "a": { },
          "111": [ {"e": "yes", "E": "no"} ], "A": { }
        }"#,
        98,
        "605f65004ec2db7692522a0852c22f1c989e036d547e88963d1a3143cf3195d5",
    ),
    (
        "unicode",
        r#"{ "Unnormalized Unicode": "A\u030a" }"#,
        30,
        "0d99aad92a125196ff887876643fd3206786a84ddce2cee52ba4ad256d2381d3",
    ),
];

#[test]
fn the_published_vectors_of_rfc_8785() {
    for (name, input, length, hash) in PUBLISHED {
        let form = canonical(&read_with_floats(input, BODY_DEPTH).unwrap());
        assert_eq!(form.len(), length, "{name}: {form}");
        assert_eq!(Hash::of(form.as_bytes()).to_string(), hash, "{name}: {form}");
    }
}

#[test]
fn numbers_as_rfc_8785_appendix_b_prints_them() {
    for (bits, text) in [
        (0x0000_0000_0000_0000_u64, "0"),
        (0x8000_0000_0000_0000, "0"),
        (0x0000_0000_0000_0001, "5e-324"),
        (0x8000_0000_0000_0001, "-5e-324"),
        (0x4340_0000_0000_0000, "9007199254740992"),
        (0x4340_0000_0000_0001, "9007199254740994"),
        (0x4430_0000_0000_0000, "295147905179352830000"),
        (0x444b_1ae4_d6e2_ef50, "1e+21"),
        (0x444b_1ae4_d6e2_ef4f, "999999999999999900000"),
        (0x3eb0_c6f7_a0b5_ed8d, "0.000001"),
        (0x3eb0_c6f7_a0b5_ed8c, "9.999999999999997e-7"),
        (0x41b3_de43_5555_5555, "333333333.3333333"),
    ] {
        assert_eq!(canonical(&json!(f64::from_bits(bits))), text, "{bits:016x}");
    }
}

#[test]
fn keys_are_sorted_by_utf_16_and_not_by_code_point() {
    // U+FB33 comes before U+1F602 as a code point and after its first surrogate (RFC 8785 §3.2.3).
    assert_eq!(canonical(&json!({ "\u{fb33}": 1, "\u{1f602}": 2 })), "{\"\u{1f602}\":2,\"\u{fb33}\":1}");
}

fn refused(text: &str) -> EntryError {
    read(text, BODY_DEPTH).unwrap_err()
}

#[test]
fn a_key_that_stands_twice_is_refused_with_its_path() {
    let path = |text| match refused(text) {
        EntryError::Duplicate { path } => path,
        other => panic!("{other}"),
    };
    assert_eq!(path(r#"{"a":1,"a":1}"#), "$.a");
    assert_eq!(path(r#"{"a":[{"b":1},{"b":1,"c":{"d d":1,"d d":2}}]}"#), "$.a[1].c['d d']");
    // The same key written two ways is the same key.
    assert_eq!(path(r#"{"a":1,"\u0061":2}"#), "$.a");
}

#[test]
fn floats_are_refused_with_their_path() {
    for (text, place, number) in [
        ("6.31", "$", "6.31"),
        (r#"{"shown":[1,{"ohm":6310.0}]}"#, "$.shown[1].ohm", "6310.0"),
        (r#"{"e":1e3}"#, "$.e", "1000.0"),
        (r#"[-0]"#, "$[0]", "-0.0"),
    ] {
        assert_eq!(
            refused(text),
            EntryError::Float { path: place.to_owned(), read: number.to_owned() },
            "{text}"
        );
    }
    let said = refused(r#"{"ohm":6.31}"#).to_string();
    assert_eq!(
        said,
        "$.ohm: the number 6.31 has a point or an exponent. Write it as decimal text, such as \"6.31\"."
    );
}

#[test]
fn whole_numbers_stay_below_two_to_the_53() {
    for text in ["9007199254740991", "-9007199254740991", "0"] {
        assert_eq!(canonical(&read(text, BODY_DEPTH).unwrap()), text);
    }
    for text in ["9007199254740992", "-9007199254740992", "18446744073709551616", "1e300"] {
        assert!(
            matches!(refused(&format!("{{\"n\":{text}}}")), EntryError::TooBig { path, .. } if path == "$.n")
        );
    }
}

#[test]
fn nesting_has_a_limit_and_the_reader_and_the_check_agree_on_it() {
    let nested = |depth: usize| format!("{}{}", "[".repeat(depth), "]".repeat(depth));
    assert!(read(&nested(BODY_DEPTH), BODY_DEPTH).is_ok());
    assert!(matches!(refused(&nested(BODY_DEPTH + 1)), EntryError::TooDeep { limit: BODY_DEPTH, .. }));
    // Far beyond it, too, there is an answer and no exhausted stack.
    assert!(matches!(refused(&nested(100_000)), EntryError::TooDeep { .. }));
    let value = (0..BODY_DEPTH).fold(json!([]), |inner, _| json!([inner]));
    assert!(matches!(check(&value, "$.body", BODY_DEPTH), Err(EntryError::TooDeep { .. })));
    assert_eq!(check(&value[0], "$.body", BODY_DEPTH), Ok(()));
}

#[test]
fn what_is_not_json_is_answered_with_its_place() {
    let EntryError::NotJson { line, column, what } = refused("{\"a\":\n  tru}") else { panic!() };
    assert_eq!((line, column), (2, 6));
    assert!(!what.contains("line"), "{what}");
    for text in
        ["", " ", "{", "[1,]", "{}{}", "nul", "\"\\ud800\"", "NaN", "1e400", "'a'", "{a:1}", "\u{feff}{}"]
    {
        assert!(matches!(refused(text), EntryError::NotJson { .. }), "{text}");
    }
}

#[test]
fn text_is_not_normalised() {
    // The same word written with one sign or with two stays as it was typed.
    let (one, two) = (Value::from("\u{e9}"), Value::from("e\u{301}"));
    assert_ne!(canonical(&one), canonical(&two));
}
