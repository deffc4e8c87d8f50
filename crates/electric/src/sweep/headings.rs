//! What the headings of a table name, and in which unit.

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Frequency,
    Magnitude,
    Phase,
    Real,
    Imaginary,
}

impl Role {
    /// As a person would say it.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Frequency => "frequency",
            Self::Magnitude => "impedance",
            Self::Phase => "phase",
            Self::Real => "real part",
            Self::Imaginary => "imaginary part",
        }
    }
}

/// A unit and what it counts in hertz, ohms or degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct UnitOf {
    role: Role,
    pub(super) factor: f64,
}

/// A heading that was understood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Heading {
    pub(super) role: Role,
    pub(super) factor: Option<f64>,
    pub(super) decibels: bool,
}

/// Reads one heading; none where no word of it says what the column holds.
pub(super) fn heading(text: &str) -> Option<Heading> {
    let inside = |c: char| c.is_alphanumeric() || matches!(c, '|' | '\'' | '°');
    let words: Vec<&str> = text.split(|c| !inside(c)).filter(|word| !word.is_empty()).collect();
    let unit = words.iter().rev().find_map(|word| unit(word));
    let role = role(&words).or(unit.map(|unit| unit.role))?;
    let ohms = matches!(role, Role::Magnitude | Role::Real | Role::Imaginary);
    let fits = |unit: &UnitOf| unit.role == role || (unit.role == Role::Magnitude && ohms);
    let decibels = words.iter().any(|word| word.eq_ignore_ascii_case("db")) && ohms;
    Some(Heading { role, factor: unit.filter(fits).map(|unit| unit.factor), decibels })
}

fn role(words: &[&str]) -> Option<Role> {
    let words: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let any = |names: &[&str]| words.iter().any(|word| names.contains(&word.as_str()));
    let begins = |start: &str| words.iter().any(|word| word.starts_with(start));
    if begins("freq") || any(&["f"]) {
        Some(Role::Frequency)
    } else if begins("phas") || any(&["ph", "angle", "theta", "arg", "phi", "θ", "φ"]) {
        Some(Role::Phase)
    } else if begins("imag") || begins("react") || any(&["im", "x", "xs", "z''"]) {
        Some(Role::Imaginary)
    } else if begins("real") || begins("resist") || any(&["re", "r", "rs", "z'"]) {
        Some(Role::Real)
    } else if begins("imped") || begins("magn") || begins("mod") || any(&["z", "|z|", "mag", "abs", "zabs"]) {
        Some(Role::Magnitude)
    } else {
        None
    }
}

/// A unit word. Capitals tell mega from milli; in hertz nobody means milli.
pub(super) fn unit(word: &str) -> Option<UnitOf> {
    let (role, factor) = match word.to_lowercase().as_str() {
        "hz" => (Role::Frequency, 1.0),
        "khz" => (Role::Frequency, 1e3),
        "mhz" => (Role::Frequency, 1e6),
        "ghz" => (Role::Frequency, 1e9),
        "°" | "deg" | "degs" | "degree" | "degrees" => (Role::Phase, 1.0),
        "rad" | "rads" | "radian" | "radians" => (Role::Phase, 180.0 / std::f64::consts::PI),
        // Capital Ω, as letter or as sign, has the small letter ω.
        "ohm" | "ohms" | "ω" => (Role::Magnitude, 1.0),
        "kohm" | "kohms" | "kω" => (Role::Magnitude, 1e3),
        "mohm" | "mohms" | "mω" => (Role::Magnitude, if word.starts_with('M') { 1e6 } else { 1e-3 }),
        _ => return None,
    };
    Some(UnitOf { role, factor })
}
