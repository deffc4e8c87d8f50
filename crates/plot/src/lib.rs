//! Data and axes made into a small tree of marks, drawn as SVG.
//!
//! What it answers: how do these curves, or these readings, look beside each other, on a phone, on a laptop and on
//! paper, for somebody who sees colours, somebody who does not, and somebody who does not see?
//!
//! **The one decision:** a figure is first a short list of [`Mark`]s, each with a [`Class`] that says what it is
//! *for*, and only then text. So the same marks make a page, which colours them by its own style sheet and turns dark
//! with it, and paper, which has no style sheet; and a test can ask the marks whether two labels touch.
//!
//! Every curve is named on its line and has its own dash pattern; where a line is so hemmed in that no name can stand
//! beside it without lying on another, its name goes into a key below, with a piece of the line. Nothing is cut off.
//! Numbers that are not finite are left out, and a line breaks where one stood.
//!
//! A strip of months shows a share by its ink alone, in eight even steps of opacity against the highest of its row: the
//! same on a light ground, on a dark one and in print.
//!
//! The frequency axis is logarithmic, `x = (log f − log f₁) / (log f₂ − log f₁)`, ruled at 1, 2 and 5 times the powers
//! of ten; the level axis is straight in decibels. All logarithms come from `libm`, so the same data makes the same
//! bytes on every machine.
//!
//! ```
//! use asfound_measure::{Decibels, Hertz};
//! use asfound_plot::{Curve, Plot, Size, Style};
//!
//! // One coil and its cable, coarsely: flat, a resonance near 4 kHz, then down.
//! let points = [(50.0, 0.0), (1000.0, 0.4), (4000.0, 6.0), (10_000.0, -14.0)];
//! let neck = Curve::new("neck alone", points.map(|(f, level)| (Hertz(f), Decibels(level))));
//! let plot = Plot::response("Response at the jack", "the coil at 100 Hz", vec![neck]);
//!
//! let page = plot.svg(Style::Page { id: "jack" }, Size::Narrow);
//! assert!(page.contains("aria-labelledby=\"jack-narrow-title jack-narrow-desc\""));
//! assert!(plot.description().contains("neck alone is highest with +6.0 dB at 4 kHz"));
//! assert_eq!(plot.table().rows.last().unwrap(), &["10 kHz", "−14.0"]);
//! ```

mod axis;
pub mod circuit;
mod curve;
mod labels;
mod mark;
mod months;
mod response;
mod strip;
mod svg;
mod table;
mod text;
mod thin;

use asfound_measure::{Hertz, Quantity};

pub use curve::Curve;
pub use mark::{Anchor, Class, Drawing, Known, Mark, Point, Series, Size};
pub use months::MonthRow;
pub use response::{HIGHEST, LOWEST};
pub use svg::{Style, css};
pub use table::Table;

/// A figure: what it shows, in a form that can be drawn, told and tabulated.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot(Kind);

#[derive(Debug, Clone, PartialEq)]
enum Kind {
    Response(response::Response),
    Strip(strip::Strip),
    Circuit(circuit::Circuit),
    Months(months::Months),
}

impl Plot {
    /// Level in decibels over frequency from [`LOWEST`] to [`HIGHEST`].
    ///
    /// `reference` says what 0 dB stands for, as in `the neck coil at 100 Hz`; it is set on the axis. Six curves have
    /// dash patterns of their own; from the seventh on, patterns repeat and the names tell the lines apart.
    pub fn response(title: impl Into<String>, reference: impl Into<String>, curves: Vec<Curve>) -> Self {
        let (title, reference) = (title.into(), reference.into());
        let across = response::Across::Frequency;
        Self(Kind::Response(response::Response { title, reference, curves, across }))
    }

    /// Level in decibels over the turn of a knob from 0 to 10, with curves made by [`Curve::over_turn`]; else as
    /// [`response`](Self::response).
    pub fn over_turn(title: impl Into<String>, reference: impl Into<String>, curves: Vec<Curve>) -> Self {
        let (title, reference) = (title.into(), reference.into());
        let across = response::Across::Turn;
        Self(Kind::Response(response::Response { title, reference, curves, across }))
    }

    /// Values of one kind along an axis, with one of them marked.
    ///
    /// `what` names the values in the plural, as in `earlier readings of like coils`; their number is set before it.
    /// `name` is set at the marked value. `marked` is not one of `values`. The unit takes a prefix of the SI where it can.
    pub fn strip<Q: Quantity>(
        title: impl Into<String>,
        what: impl Into<String>,
        values: &[Q],
        marked: Q,
        name: impl Into<String>,
    ) -> Self {
        Self(Kind::Strip(strip::Strip::new(title.into(), what.into(), values, marked, name.into())))
    }

    /// A traced circuit: its parts in outline, and its joins.
    pub fn circuit(circuit: circuit::Circuit) -> Self {
        Self(Kind::Circuit(circuit))
    }

    /// How likely each month is, for a whole and for each of its parts, on one axis of years.
    ///
    /// Every row's shares are counted from January of `first_year`. The fuller the ink, the likelier the month among
    /// those of its own row; only years that hold something to be seen are shown.
    pub fn months(title: impl Into<String>, first_year: i32, whole: MonthRow, parts: Vec<MonthRow>) -> Self {
        Self(Kind::Months(months::Months { title: title.into(), first_year, whole, parts }))
    }

    /// What the figure is called.
    pub fn title(&self) -> &str {
        match &self.0 {
            Kind::Response(response) => &response.title,
            Kind::Strip(strip) => &strip.title,
            Kind::Circuit(circuit) => &circuit.title,
            Kind::Months(months) => &months.title,
        }
    }

    /// The figure in one sentence, for somebody who does not see it.
    pub fn description(&self) -> String {
        match &self.0 {
            Kind::Response(response) => response.description(),
            Kind::Strip(strip) => strip.description(),
            Kind::Circuit(circuit) => circuit.description(),
            Kind::Months(months) => months.description(),
        }
    }

    /// The figures behind the drawing: levels at 1, 2 and 5 times the powers of ten, the values in order,
    /// or the months row by row.
    pub fn table(&self) -> Table {
        self.table_at(&response::grid_frequencies())
    }

    /// As [`table`](Self::table), with the levels at frequencies of the caller's choice. The other figures
    /// have none, and their table is the same whatever is asked.
    pub fn table_at(&self, frequencies: &[Hertz]) -> Table {
        match &self.0 {
            Kind::Response(response) => response.table(frequencies),
            Kind::Strip(strip) => strip.table(),
            Kind::Circuit(circuit) => circuit.table(),
            Kind::Months(months) => months.table(),
        }
    }

    /// The marks of the figure, for whoever draws them otherwise.
    pub fn drawing(&self, size: Size) -> Drawing {
        match &self.0 {
            Kind::Response(response) => response.draw(size),
            Kind::Strip(strip) => strip.draw(size),
            Kind::Circuit(circuit) => circuit.draw(size),
            Kind::Months(months) => months.draw(size),
        }
    }

    /// The figure as an SVG element.
    pub fn svg(&self, style: Style<'_>, size: Size) -> String {
        svg::write(&self.drawing(size), style, size, self.title(), &self.description())
    }

    /// Both sizes in the frame that [`css`] expects: it shows the one that fits the room it is given.
    pub fn figure(&self, id: &str) -> String {
        let style = Style::Page { id };
        format!(
            "<div class=\"plot\">{}{}</div>\n",
            self.svg(style, Size::Wide),
            self.svg(style, Size::Narrow)
        )
    }
}
