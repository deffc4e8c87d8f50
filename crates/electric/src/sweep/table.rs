//! Tables: headings in any order, or none.

use super::SweepFile;
use super::error::{Note, Place, SweepError};
use super::headings::{Heading, Role, heading, unit};
use super::numbers::{Between, number};
use super::points::{Point, Sweep};
use crate::complex::Complex;
use asfound_measure::{Degrees, Hertz, Ohms};

/// A line with its number, counted from 1.
type Line<'a> = (usize, &'a str);

/// Reads a table.
pub(super) fn read(text: &str) -> Result<SweepFile, SweepError> {
    let lines: Vec<Line> = text
        .lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line.trim_matches(|c: char| c.is_whitespace() && c != '\t')))
        .filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('\u{1a}'))
        .collect();
    if lines.is_empty() {
        return Err(SweepError::Empty);
    }
    let first = first_row(&lines)?;
    let between = Between::of(lines[first..].iter().map(|(_, line)| *line));
    let rows: Vec<(usize, Vec<String>)> = lines[first..]
        .iter()
        .filter(|(_, line)| !is_comment(line))
        .map(|(at, line)| (*at, between.fields(line)))
        .collect();
    let (columns, mut notes) = columns(&lines[..first], between, &rows[0])?;
    let decimal = decimal_mark(between, &rows);
    let table = Table { columns, decimal, between };
    let mut points = Vec::with_capacity(rows.len());
    for (at, fields) in &rows {
        points.push((*at, table.row(*at, fields)?));
    }
    table.phase_unit(&mut points, &mut notes);
    if let Some(pair) = points.windows(2).find(|pair| pair[1].1.frequency < pair[0].1.frequency) {
        notes.push(Note::Sorted { line: pair[1].0 });
    }
    let sweep = Sweep::new(points.into_iter().map(|(_, point)| point).collect())?;
    notes.extend(sweep.notes());
    Ok(SweepFile { sweep, notes })
}

fn is_comment(line: &str) -> bool {
    line.starts_with(['#', '!', '%', '*']) || line.starts_with("//")
}

/// Whether a field is a number with either decimal mark.
fn is_number(field: &str) -> bool {
    number(field, '.').or_else(|| number(field, ',')).is_some()
}

/// The first line that begins with two numbers, whatever stands between them.
fn first_row(lines: &[Line]) -> Result<usize, SweepError> {
    let begins =
        |line: &str, between: Between| between.fields(line).iter().take(2).filter(|f| is_number(f)).count();
    let between = |line: &str| Between::of(std::iter::once(line));
    let row = lines.iter().position(|(_, line)| !is_comment(line) && begins(line, between(line)) == 2);
    row.ok_or_else(|| {
        let alone = lines.iter().find(|(_, line)| is_number(line.trim()));
        alone.map_or(SweepError::NoNumbers, |(at, line)| SweepError::OneColumn {
            line: *at,
            read: shortened(line.trim()),
        })
    })
}

/// A point as the decimal mark wherever one is seen, or where commas stand between the fields.
fn decimal_mark(between: Between, rows: &[(usize, Vec<String>)]) -> char {
    let point =
        rows.iter().flat_map(|(_, fields)| fields).any(|field| is_number(field) && field.contains('.'));
    let comma = rows.iter().flat_map(|(_, fields)| fields).any(|field| field.contains(','));
    // Between commas, a comma can only come from within quotes.
    if point || (between == Between::Comma && !comma) { '.' } else { ',' }
}

/// Which field holds what.
#[derive(Default)]
struct Columns {
    found: Vec<(usize, Heading)>,
    /// Fields that a row must have.
    needed: usize,
}

impl Columns {
    fn of(&self, role: Role) -> Option<(usize, Heading)> {
        self.found.iter().find(|(_, heading)| heading.role == role).copied()
    }
}

/// Finds the headings above the first row, or takes the usual order.
fn columns(
    above: &[Line],
    between: Between,
    first: &(usize, Vec<String>),
) -> Result<(Columns, Vec<Note>), SweepError> {
    let split =
        |line: &str| heading_fields(line.trim_start_matches(['#', '!', '%', '*', '/']).trim(), between);
    let names_frequency = |fields: &[String]| {
        fields.iter().filter_map(|field| heading(field)).any(|heading| heading.role == Role::Frequency)
    };
    let mut units: Option<Vec<String>> = None;
    let mut headings: Option<(usize, Vec<String>)> = None;
    for (at, line) in above.iter().rev() {
        let fields = split(line);
        if fields.len() >= 2
            && fields.iter().all(|field| unit(field.trim_matches(['(', ')', '[', ']'])).is_some())
        {
            units = Some(fields);
        } else if fields.len() >= 2 && names_frequency(&fields) {
            headings = Some((*at, fields));
            break;
        }
    }
    let (at, fields) = match (headings, units) {
        (Some((at, fields)), Some(units)) if fields.len() == units.len() => {
            (at, fields.iter().zip(&units).map(|(name, unit)| format!("{name} {unit}")).collect())
        }
        (Some(found), _) => found,
        // A row of units alone says what the columns are.
        (None, Some(units)) => (first.0, units),
        (None, None) => return without_headings(above, &split, first),
    };
    understood(at, &fields)
}

/// The fields of a line of headings, which may hold commas where the rows below are parted by blanks.
fn heading_fields(line: &str, between: Between) -> Vec<String> {
    if between != Between::Blanks {
        return between.fields(line);
    }
    // “Frequency (Hz) |Z| (ohm)”: a unit in brackets belongs to the word before it.
    let mut fields: Vec<String> = Vec::new();
    for word in line.split_whitespace() {
        match fields.last_mut() {
            Some(last) if word.starts_with(['(', '[']) => *last = format!("{last} {word}"),
            _ => fields.push(word.to_owned()),
        }
    }
    fields
}

fn without_headings(
    above: &[Line],
    split: &dyn Fn(&str) -> Vec<String>,
    first: &(usize, Vec<String>),
) -> Result<(Columns, Vec<Note>), SweepError> {
    if let Some((at, line)) = above.iter().rfind(|(_, line)| !is_comment(line) && split(line).len() >= 2) {
        let place = Place { line: *at, column: 1 };
        return Err(SweepError::NoColumn { place, missing: "frequency", read: shortened(line) });
    }
    let usual = [Role::Frequency, Role::Magnitude, Role::Phase];
    let found: Vec<(usize, Heading)> = (0..first.1.len().min(3))
        .map(|column| (column, Heading { role: usual[column], factor: None, decibels: false }))
        .collect();
    let needed = found.len();
    let assumed =
        [("frequency", "Hz"), ("impedance", "Ω")].map(|(column, unit)| Note::UnitAssumed { column, unit });
    let notes = std::iter::once(Note::NoHeadings).chain(assumed).collect();
    Ok((Columns { found, needed }, notes))
}

/// Gives each heading its role, and sees that frequency and impedance are there.
fn understood(at: usize, fields: &[String]) -> Result<(Columns, Vec<Note>), SweepError> {
    let place = |column: usize| Place { line: at, column: column + 1 };
    let mut columns = Columns::default();
    let mut notes = Vec::new();
    for (column, text) in fields.iter().enumerate() {
        let Some(heading) = heading(text) else {
            notes.push(Note::LeftAside { heading: shortened(text) });
            continue;
        };
        if heading.decibels {
            return Err(SweepError::Decibels { place: place(column), read: shortened(text) });
        }
        if columns.of(heading.role).is_some() {
            let (what, read) = (heading.role.name(), shortened(text));
            return Err(SweepError::TwiceNamed { place: place(column), what, read });
        }
        columns.found.push((column, heading));
    }
    let has = |role: Role| columns.of(role).is_some();
    let missing =
        |missing| Err(SweepError::NoColumn { place: place(0), missing, read: shortened(&fields.join(", ")) });
    if !has(Role::Frequency) {
        return missing("frequency");
    }
    let parts = has(Role::Real) && has(Role::Imaginary);
    if !has(Role::Magnitude) && !parts {
        return missing("impedance");
    }
    // Magnitude and phase are kept before the two parts, and what is not used is said.
    let polar = has(Role::Magnitude) && (has(Role::Phase) || !parts);
    let used = |role: Role| match role {
        Role::Frequency => true,
        Role::Magnitude | Role::Phase => polar,
        Role::Real | Role::Imaginary => !polar,
    };
    for (column, heading) in &columns.found {
        let (column_name, unit) = match heading.role {
            Role::Frequency => ("frequency", "Hz"),
            role => (role.name(), "Ω"),
        };
        if !used(heading.role) {
            notes.push(Note::LeftAside { heading: shortened(&fields[*column]) });
        } else if heading.factor.is_none() && heading.role != Role::Phase {
            notes.push(Note::UnitAssumed { column: column_name, unit });
        }
    }
    columns.found.retain(|(_, heading)| used(heading.role));
    columns.needed = columns.found.iter().map(|(column, _)| column + 1).max().unwrap_or(0);
    Ok((columns, notes))
}

struct Table {
    columns: Columns,
    decimal: char,
    between: Between,
}

impl Table {
    fn row(&self, line: usize, fields: &[String]) -> Result<Point, SweepError> {
        if fields.len() < self.columns.needed {
            return Err(SweepError::ShortLine { line, found: fields.len(), needed: self.columns.needed });
        }
        // Twice as many fields as columns: the commas inside the numbers were counted as well.
        let twice = fields.len() >= 2 * self.columns.found.len() && fields.len() >= 2 * self.columns.needed;
        if self.between == Between::Comma && twice && fields.len() > 3 {
            return Err(SweepError::Comma { line, read: shortened(&fields.join(",")) });
        }
        let value = |role: Role| self.value(line, fields, role).transpose();
        let frequency = value(Role::Frequency)?.unwrap_or(0.0);
        let read = |role: Role| {
            let column = self.columns.of(role).map_or(0, |(column, _)| column);
            (Place { line, column: column + 1 }, fields.get(column).map_or(String::new(), |f| shortened(f)))
        };
        if frequency <= 0.0 {
            let (place, read) = read(Role::Frequency);
            return Err(SweepError::NotAboveNought { place, read });
        }
        let frequency = Hertz(frequency);
        if let (Some(re), Some(im)) = (value(Role::Real)?, value(Role::Imaginary)?) {
            let point = Point::complex(frequency, Complex::new(re, im), None);
            let (place, read) = read(Role::Real);
            return if point.magnitude.0.is_normal() {
                Ok(point)
            } else {
                Err(SweepError::Magnitude { place, read })
            };
        }
        let magnitude = value(Role::Magnitude)?.unwrap_or(0.0);
        if !magnitude.is_normal() || magnitude <= 0.0 {
            let (place, read) = read(Role::Magnitude);
            return Err(SweepError::Magnitude { place, read });
        }
        let phase = value(Role::Phase)?.map(Degrees);
        Ok(Point { frequency, magnitude: Ohms(magnitude), phase, relative_uncertainty: None })
    }

    /// A field in hertz, ohms or degrees; nothing where there is no such column.
    fn value(&self, line: usize, fields: &[String], role: Role) -> Option<Result<f64, SweepError>> {
        let (column, heading) = self.columns.of(role)?;
        let field = fields.get(column)?;
        let value = number(field, self.decimal).map(|value| value * heading.factor.unwrap_or(1.0));
        Some(value.filter(|value| value.is_finite()).ok_or_else(|| SweepError::NotNumber {
            place: Place { line, column: column + 1 },
            what: role.name(),
            read: shortened(field),
        }))
    }

    /// Where the phase has no unit: a coil turns from nought to a quarter turn and back through it, so figures that
    /// never pass 1.6 are radians, and others degrees.
    fn phase_unit(&self, points: &mut [(usize, Point)], notes: &mut Vec<Note>) {
        if self.columns.of(Role::Phase).is_none_or(|(_, heading)| heading.factor.is_some()) {
            return;
        }
        let small = points.iter().filter_map(|(_, point)| point.phase).all(|phase| phase.0.abs() <= 1.6);
        notes.push(Note::PhaseTakenAs { unit: if small { "radians" } else { "degrees" } });
        if small {
            for (_, point) in points {
                point.phase = point.phase.map(|phase| Degrees(phase.0.to_degrees()));
            }
        }
    }
}

/// At most what a sentence can hold of what was read.
pub(super) fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    text.chars().take(MOST).chain(std::iter::once('…')).collect()
}
