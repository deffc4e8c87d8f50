//! What can be wrong with the text of a sweep, and what a person should know of how it was read.

use asfound_measure::{Hertz, Ohms};

/// Where in a file: both counted from 1; `column` counts the fields of the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Line.
    pub line: usize,
    /// Field in the line.
    pub column: usize,
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "line {}, column {}", self.line, self.column)
    }
}

/// Why a file is no sweep.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SweepError {
    /// Nothing in the file but blanks and comments.
    #[error("the file is empty; export the sweep again as a table with frequency and impedance")]
    Empty,
    /// Bytes that are no text.
    #[error("line {line} holds bytes that are no text; export the sweep as plain text (CSV or .s1p)")]
    NotText {
        /// The line.
        line: usize,
    },
    /// More than a sweep can be.
    #[error("the file has more than {most} lines; export fewer points, some hundred are plenty")]
    TooLong {
        /// The most lines that are read.
        most: usize,
    },
    /// Only one column.
    #[error(
        "line {line} has one column only, “{read}”; a sweep needs frequency and impedance side by side, separated by commas, semicolons or tabs"
    )]
    OneColumn {
        /// The line.
        line: usize,
        /// What stands there.
        read: String,
    },
    /// No line begins with a number.
    #[error(
        "no line of the file holds numbers; the rows below the headings should read like “1000, 16200, 68.3”"
    )]
    NoNumbers,
    /// A heading that was not understood, where it is needed.
    #[error(
        "{place}: the headings name no {missing}; they read “{read}”. Name the columns, such as “frequency (Hz), magnitude (ohm), phase (deg)”"
    )]
    NoColumn {
        /// The line of the headings.
        place: Place,
        /// What is missing: `frequency` or `impedance`.
        missing: &'static str,
        /// The headings.
        read: String,
    },
    /// Two columns for one thing.
    #[error("{place}: a second column for the {what}, “{read}”; keep one of the two")]
    TwiceNamed {
        /// The second.
        place: Place,
        /// What it is for.
        what: &'static str,
        /// Its heading.
        read: String,
    },
    /// A field that should be a number.
    #[error("{place}: “{read}” is no {what}; a number such as 1000, 1e3 or 16.2 belongs there")]
    NotNumber {
        /// Where.
        place: Place,
        /// What belongs there.
        what: &'static str,
        /// What stands there.
        read: String,
    },
    /// A number where commas may be decimal or separate columns.
    #[error(
        "line {line}: in “{read}” a comma may stand for the decimal point or between columns; export with semicolons between the columns, or with decimal points"
    )]
    Comma {
        /// The line.
        line: usize,
        /// What stands there.
        read: String,
    },
    /// A line with fewer fields than it needs.
    #[error("line {line} has {found} columns where {needed} are needed; is the line cut short?")]
    ShortLine {
        /// The line.
        line: usize,
        /// How many it has.
        found: usize,
        /// How many are needed.
        needed: usize,
    },
    /// A frequency that is not above nought.
    #[error(
        "{place}: a frequency of “{read}” does not exist; it must be above nought, so leave that row out"
    )]
    NotAboveNought {
        /// Where.
        place: Place,
        /// What stands there.
        read: String,
    },
    /// A magnitude that is not above nought.
    #[error(
        "{place}: an impedance of “{read}” cannot be; a magnitude is above nought. Is the column in decibels, or the phase?"
    )]
    Magnitude {
        /// Where.
        place: Place,
        /// What stands there.
        read: String,
    },
    /// The magnitudes are in decibels of something unsaid.
    #[error(
        "{place}: “{read}” is in decibels, and decibels of what is not said; export the impedance in ohms"
    )]
    Decibels {
        /// The heading.
        place: Place,
        /// What stands there.
        read: String,
    },
    /// Two readings at one frequency.
    #[error("two readings at {} Hz; keep the one that is right", .frequency.0)]
    Duplicate {
        /// The frequency.
        frequency: Hertz,
    },
    /// Fewer points than any fit needs.
    #[error(
        "{points} point is no sweep; at least two frequencies are needed, and some twenty are worth having"
    )]
    TooFew {
        /// How many there are.
        points: usize,
    },
    /// A point handed over that is not finite and above nought.
    #[error("point {point} is not finite and above nought")]
    Impossible {
        /// Counted from 1.
        point: usize,
    },
    /// Some rows with a phase and some without.
    #[error("some rows have a phase and some have none; fill the column or leave it out")]
    SomePhases,
    /// An option line of a Touchstone file that says something unknown.
    #[error("{place}: “{read}” has no meaning on an option line; it reads like “# Hz S RI R 50”")]
    Option {
        /// Where.
        place: Place,
        /// What stands there.
        read: String,
    },
    /// A Touchstone parameter that one port does not have or that is no impedance.
    #[error("{place}: {read} parameters cannot be read as an impedance; export S, Z or Y")]
    Parameter {
        /// Where.
        place: Place,
        /// What stands there.
        read: String,
    },
    /// A file of more ports than one.
    #[error("line {line} has {found} numbers, which is a file of two or more ports; export one port (.s1p)")]
    MorePorts {
        /// The line.
        line: usize,
        /// How many numbers.
        found: usize,
    },
    /// A keyword of a later version.
    #[error(
        "line {line}: “{read}” belongs to version 2 of the Touchstone format; export version 1, or a table"
    )]
    Version {
        /// The line.
        line: usize,
        /// What stands there.
        read: String,
    },
    /// A reflection of one: no finite impedance.
    #[error(
        "line {line}: this reflection is that of an open end, so there is no impedance; is the coil connected?"
    )]
    OpenEnd {
        /// The line.
        line: usize,
    },
}

/// What a person should know about how a file was read.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// The frequencies were not rising; the points have been put in order.
    Sorted {
        /// The first line that stepped back.
        line: usize,
    },
    /// There were no headings; the columns were taken in the usual order.
    NoHeadings,
    /// A column without a unit, read in this one.
    UnitAssumed {
        /// Which column.
        column: &'static str,
        /// The unit taken.
        unit: &'static str,
    },
    /// A column that was left aside.
    LeftAside {
        /// Its heading.
        heading: String,
    },
    /// No line says so, but the phases can only be radians or degrees: taken as this.
    PhaseTakenAs {
        /// `degrees` or `radians`.
        unit: &'static str,
    },
    /// A magnitude at the lowest frequency that no coil of a guitar has.
    OddMagnitude {
        /// The lowest frequency.
        frequency: Hertz,
        /// The magnitude there.
        magnitude: Ohms,
    },
    /// Z or Y parameters of a Touchstone file, which are multiples of the reference.
    Normalised {
        /// The reference resistance.
        reference: Ohms,
    },
}

impl std::fmt::Display for Note {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Self::Sorted { line } => {
                write!(f, "The frequencies step back at line {line}; the points have been put in order.")
            }
            Self::NoHeadings => {
                f.write_str("There are no headings; the columns are taken as frequency, magnitude, phase.")
            }
            Self::UnitAssumed { column, unit } => {
                write!(f, "The {column} has no unit and is taken in {unit}.")
            }
            Self::LeftAside { heading } => write!(f, "The column “{heading}” is not used."),
            Self::PhaseTakenAs { unit } => write!(f, "The phase has no unit and is taken in {unit}."),
            Self::OddMagnitude { frequency, magnitude } => write!(
                f,
                "{} Ω at {} Hz is no coil of a guitar; check whether the column is in ohms or kilohms, and the leads.",
                magnitude.0, frequency.0
            ),
            Self::Normalised { reference } => write!(
                f,
                "Z and Y in a Touchstone file of version 1 are multiples of the reference, here {} Ω. If the impedance \
                 comes out wrong by that factor, the program that wrote the file left it out.",
                reference.0
            ),
        }
    }
}
