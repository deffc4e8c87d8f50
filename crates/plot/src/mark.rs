//! The tree of marks that every figure is made of, and nothing else is drawn from.

/// A place in a drawing: `x` runs right and `y` runs down, in the unit of the drawing's view box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Distance from the left edge.
    pub x: f64,
    /// Distance from the top edge.
    pub y: f64,
}

impl Point {
    /// A place.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// Which curve of a figure a mark belongs to. Each has its own dash pattern, so that ink alone tells them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// Drawn solid.
    A,
    /// Long dashes.
    B,
    /// Dots.
    C,
    /// Dash and dot.
    D,
    /// Dashes set wide apart.
    E,
    /// Dash and two dots.
    F,
}

impl Series {
    const ALL: [Self; 6] = [Self::A, Self::B, Self::C, Self::D, Self::E, Self::F];

    /// The series of the curve at `index`, counted from nought. A seventh curve begins again at the first pattern:
    /// its label on the line still tells it apart.
    pub(crate) fn at(index: usize) -> Self {
        Self::ALL[index % Self::ALL.len()]
    }

    /// The letter that names this series in the style sheet.
    pub const fn letter(self) -> char {
        match self {
            Self::A => 'a',
            Self::B => 'b',
            Self::C => 'c',
            Self::D => 'd',
            Self::E => 'e',
            Self::F => 'f',
        }
    }

    /// The lengths of dash and gap in turn, as `stroke-dasharray` takes them. Empty for a solid line.
    pub(crate) const fn dashes(self) -> &'static str {
        match self {
            Self::A => "",
            Self::B => "9 3",
            Self::C => "2 3",
            Self::D => "12 3 2 3",
            Self::E => "6 6",
            Self::F => "12 3 2 3 2 3",
        }
    }

    /// The ink on paper. Each keeps a contrast of at least 4.5 to 1 on white (WCAG 2.2, 1.4.3).
    pub(crate) const fn ink(self) -> &'static str {
        match self {
            Self::A => "#1d2126",
            Self::B => "#1c6149",
            Self::C => "#8a4b08",
            Self::D => "#3f4f8f",
            Self::E => "#7a2a5e",
            Self::F => "#22626f",
        }
    }
}

/// How a join is known, as its line shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// Measured with a meter: a solid line.
    Metered,
    /// Seen: long dashes.
    Seen,
    /// Inferred from matching stubs: short dashes with a tick.
    Matched,
    /// Not known: dots and a question mark.
    Unknown,
}

impl Known {
    /// All of them, the surest first.
    pub const ALL: [Self; 4] = [Self::Metered, Self::Seen, Self::Matched, Self::Unknown];

    /// The word that the key sets beside a piece of the line.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Metered => "metered",
            Self::Seen => "seen",
            Self::Matched => "matched",
            Self::Unknown => "not known",
        }
    }

    /// The name in the style sheet.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Metered => "metered",
            Self::Seen => "seen",
            Self::Matched => "matched",
            Self::Unknown => "unknown",
        }
    }

    pub(crate) const fn dashes(self) -> &'static str {
        match self {
            Self::Metered => "",
            Self::Seen => "11 4",
            Self::Matched => "5 3",
            Self::Unknown => "1.5 3.5",
        }
    }
}

/// What a mark is for. The style sheet and the paper decide how it looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Lines to read a value off.
    Grid,
    /// Axis lines, and the figures and units on them.
    Axis,
    /// The line of one curve.
    Curve(Series),
    /// Where one curve may lie, tinted behind its line.
    Band(Series),
    /// The name of one curve, set on its line.
    Label(Series),
    /// One of several points of the same kind.
    Dot,
    /// The one value the figure is about.
    Marked,
    /// The name of the marked value.
    MarkedLabel,
    /// What a part looks like.
    Outline,
    /// A lug of a part.
    Lug,
    /// The name of a part.
    Name,
    /// The value of a part, the number of a lug.
    Value,
    /// The line of one join: which net it belongs to, and how it is known.
    Wire(Series, Known),
    /// The stroke across a line that was matched, or the open end of a loose one.
    Tick(Series),
    /// What is written beside a wire, or at a lug of its net.
    WireName(Series),
    /// Where wires of one net meet.
    Junction,
    /// A piece of a wire's line in the key.
    Sample(Known),
    /// How likely some months are, drawn as a stroke as thick as its row.
    Share {
        /// How full the ink is, 1 to 8.
        level: u8,
        /// Whether it is the row of the whole, which is thicker.
        whole: bool,
    },
    /// The bracket around the months that hold most of a row's share.
    Within,
    /// The month before which something cannot have been made.
    NotBefore,
}

/// Which point of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// One mark, or a group of marks that belong together.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// Marks drawn one after the other.
    Group(Vec<Mark>),
    /// A straight line.
    Line {
        /// What it is for.
        class: Class,
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
    },
    /// Lines through points. Each inner list is one unbroken stroke of at least two points.
    Path {
        /// What it is for.
        class: Class,
        /// The strokes.
        strokes: Vec<Vec<Point>>,
    },
    /// An area with its outline.
    Area {
        /// What it is for.
        class: Class,
        /// Its corners, in order; the last is joined to the first.
        outline: Vec<Point>,
    },
    /// One line of text.
    Text {
        /// What it is for.
        class: Class,
        /// Where its base line stands.
        at: Point,
        /// Which point of it stands there.
        anchor: Anchor,
        /// The text, not yet escaped.
        text: String,
    },
    /// A circle.
    Circle {
        /// What it is for.
        class: Class,
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: f64,
    },
}

/// A finished figure: its view box, `0 0 width height`, and what stands in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Width of the view box.
    pub width: f64,
    /// Height of the view box.
    pub height: f64,
    /// The marks, from the back to the front.
    pub marks: Vec<Mark>,
}

/// For how much room a figure is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// A phone held upright: a view box 328 wide, so that a unit is about one CSS pixel.
    Narrow,
    /// A column of a laptop's screen, or a page: a view box 640 wide.
    Wide,
}

impl Size {
    /// The name of this size in the style sheet.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Narrow => "narrow",
            Self::Wide => "wide",
        }
    }

    pub(crate) const fn width(self) -> f64 {
        match self {
            Self::Narrow => 328.0,
            Self::Wide => 640.0,
        }
    }

    /// Type size of ticks and axis titles. Narrow is shown at 328 px and wide from 520 px up, so neither falls
    /// below 11 px on the screen.
    pub(crate) const fn axis_type(self) -> f64 {
        match self {
            Self::Narrow => 12.5,
            Self::Wide => 14.0,
        }
    }

    /// Type size of labels on the lines.
    pub(crate) const fn label_type(self) -> f64 {
        match self {
            Self::Narrow => 15.0,
            Self::Wide => 17.0,
        }
    }

    /// Type size of the names of parts.
    pub(crate) const fn name_type(self) -> f64 {
        match self {
            Self::Narrow => 14.0,
            Self::Wide => 17.0,
        }
    }

    /// How thick a row of months is; that of the whole is thicker.
    pub(crate) const fn row(self, whole: bool) -> f64 {
        match (self, whole) {
            (Self::Narrow, true) => 20.0,
            (Self::Narrow, false) => 13.0,
            (Self::Wide, true) => 24.0,
            (Self::Wide, false) => 15.0,
        }
    }

    /// Type size of the numbers of lugs, and of what stands beside wires: the smallest that is read, 11 px on either
    /// screen.
    pub(crate) const fn lug_type(self) -> f64 {
        match self {
            Self::Narrow => 11.0,
            Self::Wide => 13.6,
        }
    }
}
