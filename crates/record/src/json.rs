//! JSON read strictly and written in one form only.
//!
//! Two programs must never read two things from the same bytes. So a key that stands twice is refused (RFC 8259 §4
//! leaves its meaning open), and so is every number that programs may round differently.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};

use crate::error::EntryError;

/// How deep a body may nest. Nothing that is said at a bench comes near it.
pub(crate) const BODY_DEPTH: usize = 32;

/// How deep an exported line may nest: the body lies two objects further in.
pub(crate) const LINE_DEPTH: usize = BODY_DEPTH + 2;

/// The first size at which a double no longer tells a whole number from its neighbour: 2^53 (RFC 7493 §2.2).
const FIRST_INEXACT: u64 = 1 << 53;

/// Reads one JSON value that nests at most `limit` deep.
pub(crate) fn read(text: &str, limit: usize) -> Result<Value, EntryError> {
    let value = read_with_floats(text, limit)?;
    check(&value, "$", limit)?;
    Ok(value)
}

/// Reads one JSON value and leaves its numbers unchecked.
fn read_with_floats(text: &str, limit: usize) -> Result<Value, EntryError> {
    let mut place = Place { steps: vec!["$".to_owned()], limit, fault: None };
    let mut source = serde_json::Deserializer::from_str(text);
    let outcome = Strict(&mut place).deserialize(&mut source).and_then(|value| source.end().map(|()| value));
    outcome.map_err(|error| place.fault.unwrap_or_else(|| not_json(&error)))
}

/// Holds a value that is already in memory to the rules on numbers and depth. `root` is the JSON path it stands at.
pub(crate) fn check(value: &Value, root: &str, limit: usize) -> Result<(), EntryError> {
    let mut place = Place { steps: vec![root.to_owned()], limit, fault: None };
    check_at(value, &mut place)
}

/// The canonical form (RFC 8785).
pub(crate) fn canonical(value: &Value) -> String {
    // A value in memory has text keys and finite numbers only, and the form asks for nothing else.
    serde_jcs::to_string(value).expect("a JSON value in memory has a canonical form")
}

fn not_json(error: &serde_json::Error) -> EntryError {
    let said = error.to_string();
    // Our own sentence says the place, so the one at the end of theirs goes.
    let what = said.rsplit_once(" at line ").map_or(said.as_str(), |(what, _)| what).to_owned();
    EntryError::NotJson { line: error.line(), column: error.column(), what }
}

fn check_at(value: &Value, place: &mut Place) -> Result<(), EntryError> {
    match value {
        Value::Null | Value::Bool(_) | Value::String(_) => Ok(()),
        Value::Number(number) => check_number(number, place),
        Value::Array(list) => {
            place.check_depth()?;
            list.iter()
                .enumerate()
                .try_for_each(|(index, value)| check_inside(list_step(index), value, place))
        }
        Value::Object(object) => {
            place.check_depth()?;
            object.iter().try_for_each(|(key, value)| check_inside(key_step(key), value, place))
        }
    }
}

fn check_inside(step: String, value: &Value, place: &mut Place) -> Result<(), EntryError> {
    place.steps.push(step);
    check_at(value, place)?;
    place.steps.pop();
    Ok(())
}

fn check_number(number: &serde_json::Number, place: &Place) -> Result<(), EntryError> {
    let too_big = match (number.as_u64(), number.as_i64(), number.as_f64()) {
        (Some(whole), ..) => whole >= FIRST_INEXACT,
        (None, Some(whole), _) => whole.unsigned_abs() >= FIRST_INEXACT,
        // Minus zero is read as a float too, which is right: it would be written back as 0.
        (None, None, Some(float)) if float.abs() < FIRST_INEXACT as f64 => {
            return Err(EntryError::Float { path: place.path(), read: number.to_string() });
        }
        _ => true,
    };
    if too_big { Err(EntryError::TooBig { path: place.path(), read: number.to_string() }) } else { Ok(()) }
}

/// Where the reader stands in the value, as steps of a JSON path (RFC 9535), and the first thing it refused.
struct Place {
    steps: Vec<String>,
    limit: usize,
    fault: Option<EntryError>,
}

impl Place {
    fn path(&self) -> String {
        self.steps.concat()
    }

    /// Asked where an object or a list begins. Each step but the first, the root, is one that lies around it.
    fn check_depth(&self) -> Result<(), EntryError> {
        if self.steps.len() > self.limit {
            return Err(EntryError::TooDeep { path: self.path(), limit: self.limit });
        }
        Ok(())
    }

    /// Keeps the fault aside, because the reader underneath can carry its own errors only.
    fn refuse<E: Error>(&mut self, fault: EntryError) -> E {
        let said = E::custom(&fault);
        self.fault = Some(fault);
        said
    }
}

fn list_step(index: usize) -> String {
    format!("[{index}]")
}

fn key_step(key: &str) -> String {
    let is_name = |sign: char| sign.is_alphanumeric() || sign == '_';
    if !key.is_empty() && key.chars().all(is_name) {
        format!(".{key}")
    } else {
        format!("['{}']", key.escape_default())
    }
}

/// Reads any value and refuses a key that stands twice.
struct Strict<'p>(&'p mut Place);

impl<'de> DeserializeSeed<'de> for Strict<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, source: D) -> Result<Value, D::Error> {
        source.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Strict<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, read: bool) -> Result<Value, E> {
        Ok(Value::Bool(read))
    }

    fn visit_u64<E>(self, read: u64) -> Result<Value, E> {
        Ok(read.into())
    }

    fn visit_i64<E>(self, read: i64) -> Result<Value, E> {
        Ok(read.into())
    }

    fn visit_f64<E>(self, read: f64) -> Result<Value, E> {
        Ok(read.into())
    }

    fn visit_str<E>(self, read: &str) -> Result<Value, E> {
        Ok(read.into())
    }

    fn visit_string<E>(self, read: String) -> Result<Value, E> {
        Ok(Value::String(read))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut source: A) -> Result<Value, A::Error> {
        self.0.check_depth().map_err(|fault| self.0.refuse(fault))?;
        let mut list = Vec::new();
        self.0.steps.push(list_step(0));
        while let Some(value) = source.next_element_seed(Strict(self.0))? {
            list.push(value);
            self.0.steps.pop();
            self.0.steps.push(list_step(list.len()));
        }
        self.0.steps.pop();
        Ok(Value::Array(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut source: A) -> Result<Value, A::Error> {
        self.0.check_depth().map_err(|fault| self.0.refuse(fault))?;
        let mut object = Map::new();
        while let Some(key) = source.next_key::<String>()? {
            self.0.steps.push(key_step(&key));
            if object.contains_key(&key) {
                let path = self.0.path();
                return Err(self.0.refuse(EntryError::Duplicate { path }));
            }
            let value = source.next_value_seed(Strict(self.0))?;
            self.0.steps.pop();
            object.insert(key, value);
        }
        Ok(Value::Object(object))
    }
}

#[cfg(test)]
mod tests;
