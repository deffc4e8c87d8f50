//! A workshop's own value for what a study takes for granted: as typed, read into the decimal text that the record keeps.

use asfound_electric::coil;
use asfound_evidence::Assumptions;
use asfound_measure::{Amount, Dimension, read};
use asfound_record::Job;
use asfound_weigh::{Matter, Opinion, OpinionError, Opinions};

/// An opinion with the value in force.
#[derive(Debug, Clone, PartialEq)]
pub struct InForce {
    /// Its name.
    pub name: &'static str,
    /// The value as the program comes with it.
    pub comes: f64,
    /// The range within which another restorer might put it.
    pub range: (f64, f64),
    /// The unit, empty for a share.
    pub unit: &'static str,
    /// Where the value that it comes with is from.
    pub source: &'static str,
    /// The value in force.
    pub value: f64,
    /// Where the workshop's own value comes from, in its words; `None` where the value is as it comes.
    pub own_source: Option<String>,
}

/// The workshop's opinions of a subject: as they come, and where it stated its own, those. A name that no opinion has is
/// passed over, since another release may call it otherwise; so is a value that cannot stand beside the others.
pub fn opinions<M: Matter>(workshop: &Job) -> Opinions<M> {
    let mut set = Opinions::default();
    let own = |opinion: &Opinion<M>| workshop.assumption(opinion.name)?.body.value.parse::<f64>().ok();
    // Twice: the two ends of a range can only be moved past one another's old places in the right order.
    for opinion in M::rows().iter().chain(M::rows()) {
        if let Some(value) = own(opinion) {
            // What cannot be set stays as it comes, and the list of values in force shows that.
            let _ = set.set(opinion.name, value);
        }
    }
    set
}

/// Every opinion with the value in force in this workshop, subject by subject.
pub fn in_force(workshop: &Job) -> Vec<InForce> {
    let mut all = of_subject::<coil::Matter>(workshop);
    all.extend(of_subject::<asfound_evidence::Matter>(workshop));
    all
}

/// Every opinion of a subject with the value in force.
pub fn of_subject<M: Matter>(workshop: &Job) -> Vec<InForce> {
    let set = opinions::<M>(workshop);
    let one = |opinion: &Opinion<M>| {
        let value = set.value(opinion.matter);
        let own = workshop.assumption(opinion.name);
        // A value that could not be set stands in the record and is not in force.
        let is_in_force = own.is_some_and(|item| item.body.value.parse() == Ok(value));
        let own_source = own.filter(|_| is_in_force).map(|item| item.body.source.clone());
        let Opinion { name, value: comes, range, unit, source, .. } = *opinion;
        InForce { name, comes, range, unit, source, value, own_source }
    };
    M::rows().iter().map(one).collect()
}

/// Reads a value as typed for the opinion of this name, and tries whether it can be one beside those in force. Answers the
/// opinion's name as the record is to keep it, and the value as decimal text in the opinion's unit.
///
/// # Errors
/// A sentence with what was read and what would be right.
pub fn own_value(name: &str, typed: &str, workshop: &Job) -> Result<(&'static str, String), String> {
    let wanted = name.trim().to_lowercase();
    if let Some(row) = coil::Opinions::all().iter().find(|row| row.name == wanted) {
        return of_row(row, typed, workshop);
    }
    if let Some(row) = Assumptions::all().iter().find(|row| row.name == wanted) {
        return of_row(row, typed, workshop);
    }
    // Nothing can be set under this name, and the answer names the nearest there is.
    let all = in_force(&Job::default());
    let nearest = all.iter().map(|row| row.name).min_by_key(|row| strsim::damerau_levenshtein(row, &wanted));
    let unknown = OpinionError::Unknown { name: wanted, nearest: nearest.unwrap_or_default() };
    Err(sentence(&unknown.to_string()))
}

fn of_row<M: Matter>(
    opinion: &Opinion<M>,
    typed: &str,
    workshop: &Job,
) -> Result<(&'static str, String), String> {
    let mut set = opinions::<M>(workshop);
    let (value, text) = number(typed, opinion.unit)?;
    set.set(opinion.name, value).map_err(|why| sentence(&why.to_string()))?;
    Ok((opinion.name, text))
}

fn sentence(why: &str) -> String {
    let mut signs = why.chars();
    signs.next().map_or_else(String::new, |first| format!("{}{}.", first.to_uppercase(), signs.as_str()))
}

/// A number in an opinion's unit, and the same as decimal text.
fn number(typed: &str, unit: &str) -> Result<(f64, String), String> {
    let dimension = match unit {
        "Ω" => Dimension::Resistance,
        // Nobody means 80 F by 80: the unit has to be typed.
        "F" => return measured(typed, Dimension::Capacitance),
        "°C" => Dimension::Temperature,
        _ => return plain(typed).ok_or_else(|| no_number(typed, "0.12, 12 % or 5")),
    };
    plain(typed).map_or_else(|| measured(typed, dimension), Ok)
}

/// A quantity with its unit, in the base unit.
fn measured(typed: &str, dimension: Dimension) -> Result<(f64, String), String> {
    let typed = typed.trim();
    let written = read(typed, dimension).map_err(|why| format!("“{typed}” cannot be read: {why}."))?;
    match (&written.amount, written.value_in_base()) {
        (Amount::Exactly(_), Some(value)) => Ok((value, value.to_string())),
        _ => Err(no_number(typed, "50 or 80 with its unit")),
    }
}

fn no_number(typed: &str, right: &str) -> String {
    format!("“{}” is no single figure. Right would be {right}.", typed.trim())
}

/// A number in decimal text, perhaps in hundredths: `0.12`, `0,12`, `12 %`.
fn plain(typed: &str) -> Option<(f64, String)> {
    let typed = typed.trim().replace(',', ".");
    let (text, hundredths) = match typed.strip_suffix('%') {
        Some(text) => (text.trim_end(), true),
        None => (typed.as_str(), false),
    };
    let unsigned = text.strip_prefix(['-', '+']).unwrap_or(text);
    let digits = unsigned.replacen('.', "", 1);
    if !(1..=18).contains(&digits.len()) || !digits.bytes().all(|sign| sign.is_ascii_digit()) {
        return None;
    }
    let value: f64 = text.parse().ok()?;
    if hundredths {
        // One division of a short decimal prints short again: 12 / 100 is 0.12.
        let value = value / 100.0;
        return Some((value, value.to_string()));
    }
    // `.5`, `+1` and `1.` are what people type; the record keeps the plain form.
    let (whole, part) = unsigned.split_once('.').unwrap_or((unsigned, ""));
    let sign = if text.starts_with('-') { "-" } else { "" };
    let whole = if whole.is_empty() { "0" } else { whole };
    let point = if part.is_empty() { "" } else { "." };
    Some((value, format!("{sign}{whole}{point}{part}")))
}

#[cfg(test)]
mod tests {
    use asfound_electric::coil::Matter;
    use asfound_record::{Assumption1, Body, Draft, Entry, Head, fold};

    use super::*;

    /// A workshop that stated these values, one after the other.
    fn workshop(stated: &[(&str, &str)]) -> Job {
        let (mut head, mut entries) = (Head::empty("w"), Vec::new());
        for (name, value) in stated {
            let source = "counted here".to_owned();
            let body = Body::Assumption(Assumption1 { name: (*name).into(), value: (*value).into(), source });
            let draft = Draft {
                at: "2026-11-25T09:00:00+00:00".into(),
                by: "p-1".into(),
                kind: body.kind().unwrap().into(),
                corrects: None,
                body: body.value().unwrap(),
            };
            let entry = Entry::make(draft, &head, [1; 32]).unwrap();
            head = entry.after();
            entries.push(entry);
        }
        fold(&entries)
    }

    fn of<'a>(listed: &'a [InForce], name: &str) -> &'a InForce {
        listed.iter().find(|one| one.name == name).unwrap()
    }

    #[test]
    fn what_was_stated_last_is_in_force_and_the_rest_is_as_it_comes() {
        let listed = in_force(&workshop(&[
            ("rewound", "0.2"),
            ("a name of another release", "1"),
            ("rewound", "0.15"),
        ]));
        assert_eq!(listed.iter().filter(|one| one.own_source.is_some()).count(), 1);
        assert_eq!(of(&listed, "rewound").value, 0.15);
        assert_eq!(of(&listed, "rewound").own_source.as_deref(), Some("counted here"));
        let open = of(&listed, "open");
        assert_eq!((open.value, &open.own_source), (open.comes, &None));
    }

    #[test]
    fn both_ends_of_a_range_move_whichever_was_stated_first() {
        for stated in [
            [("coldest room", "26"), ("warmest room", "30")],
            [("warmest room", "30"), ("coldest room", "26")],
        ] {
            let set = opinions(&workshop(&stated));
            assert_eq!((set.value(Matter::RoomLeast), set.value(Matter::RoomMost)), (26.0, 30.0));
        }
    }

    #[test]
    fn a_value_that_cannot_stand_is_not_in_force_and_not_called_so() {
        let listed = in_force(&workshop(&[("rewound", "7"), ("open", "much")]));
        for name in ["rewound", "open"] {
            let one = of(&listed, name);
            assert_eq!((one.value, &one.own_source), (one.comes, &None), "{name}");
        }
    }

    #[test]
    fn typed_values_become_decimal_text_in_the_unit() {
        let none = Job::default();
        let value = |name: &str, typed: &str| own_value(name, typed, &none).map(|(_, text)| text);
        assert_eq!(value(" Rewound ", "12 %").as_deref(), Ok("0.12"));
        assert_eq!(value("rewound", ",2").as_deref(), Ok("0.2"));
        assert_eq!(value("least capacitance of a coil", "70 pF").as_deref(), Ok("0.00000000007"));
        assert_eq!(value("largest resistance of a bad joint", "6k").as_deref(), Ok("6000"));
        assert!(value("warmest room", "14").unwrap_err().contains("between 22 and 28"));
        assert!(value("least capacitance of a coil", "70").is_err());
    }
}
