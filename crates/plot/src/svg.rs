//! Marks written as SVG 1.1: with class names for a page, with literal ink for paper.

use crate::mark::{Anchor, Class, Drawing, Known, Mark, Point, Size};
use crate::months::LEVELS;
use crate::text::escape;

/// How a drawing is to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style<'a> {
    /// For a page that carries [`css`](crate::css): class names only, and a title and description for a screen reader.
    Page {
        /// An id that no other figure of the page has. Characters that an id cannot hold are written as `-`.
        id: &'a str,
    },
    /// For paper: literal colours, dash patterns and faces, and nothing that needs a style sheet.
    Paper,
}

const INK: &str = "#1d2126";
const SOFT: &str = "#5c5f60";
const RULE: &str = "#d9d0bf";
const GROUND: &str = "#ffffff";
const SANS: &str = "DejaVu Sans";
const SERIF: &str = "Libertinus Serif";

/// The style sheet for figures on a page.
///
/// It takes the page's own variables `--ink`, `--soft`, `--rule` and `--a` to `--f`, so a dark page needs nothing
/// more than other values for these. A frame of class `plot` holds both sizes and shows the one that fits.
pub fn css() -> String {
    let mut out = String::from(
        ".plot{container-type:inline-size}\n\
         .plot svg{display:block;width:100%;height:auto}\n\
         .plot .plot-narrow{display:none}\n",
    );
    // The second rule is for a narrow column on a wide screen; a browser without container queries keeps the first.
    for condition in ["@media (max-width:540px)", "@container (max-width:519.98px)"] {
        out.push_str(&format!(
            "{condition}{{.plot .plot-wide{{display:none}}.plot .plot-narrow{{display:block}}}}\n"
        ));
    }
    for size in [Size::Wide, Size::Narrow] {
        let (name, axis, label) = (size.name(), size.axis_type(), size.label_type());
        out.push_str(&format!(".plot-{name} text.axis{{font-size:{axis}px}}\n"));
        out.push_str(&format!(".plot-{name} text[class^=label]{{font-size:{label}px}}\n"));
        let (part, lug) = (size.name_type(), size.lug_type());
        out.push_str(&format!(
            ".plot-{name} text.name{{font-size:{part}px}}\n\
             .plot-{name} text.value,.plot-{name} text[class^=wire]{{font-size:{lug}px}}\n"
        ));
        let (whole, part) = (size.row(true), size.row(false));
        out.push_str(&format!(
            ".plot-{name} path.whole{{stroke-width:{whole}}}\n.plot-{name} path.part{{stroke-width:{part}}}\n"
        ));
    }
    out.push_str(&format!(
        ".plot line,.plot path,.plot circle{{fill:none;stroke-width:1}}\n\
         .plot .grid{{stroke:var(--rule)}}\n\
         .plot line.axis{{stroke:var(--soft)}}\n\
         .plot text.axis{{fill:var(--soft);font-family:\"{SANS}\",system-ui,sans-serif}}\n\
         .plot text[class^=label]{{font-family:\"{SERIF}\",Georgia,serif;font-style:italic}}\n\
         .plot path[class^=curve]{{stroke-width:2;stroke-linejoin:round}}\n\
         .plot .dot{{stroke:var(--soft)}}\n\
         .plot .marked{{stroke:var(--b);stroke-width:3}}\n\
         .plot .label-marked{{fill:var(--b)}}\n\
         .plot .outline{{stroke:var(--ink)}}\n\
         .plot .lug{{stroke:var(--ink);fill:var(--ground)}}\n\
         .plot .junction{{stroke:var(--ink);fill:var(--ink)}}\n\
         .plot text.name{{fill:var(--ink);font-family:\"{SERIF}\",Georgia,serif;font-style:italic}}\n\
         .plot text.value{{fill:var(--soft);font-family:\"{SANS}\",system-ui,sans-serif}}\n\
         .plot text[class^=wire]{{font-family:\"{SANS}\",system-ui,sans-serif}}\n\
         .plot path[class^=wire],.plot .sample,.plot [class^=tick]{{stroke-width:1.6}}\n\
         .plot .sample{{stroke:var(--soft)}}\n\
         .plot [class^=share]{{stroke:var(--ink)}}\n\
         .plot .within{{stroke:var(--ink)}}\n\
         .plot .not-before{{stroke:var(--ink);stroke-width:1.6}}\n",
    ));
    for level in 1..LEVELS {
        let opacity = opacity(level);
        out.push_str(&format!(".plot .share-{level}{{stroke-opacity:{opacity}}}\n"));
    }
    for known in Known::ALL.into_iter().filter(|known| !known.dashes().is_empty()) {
        out.push_str(&format!(".plot .{}{{stroke-dasharray:{}}}\n", known.name(), known.dashes()));
    }
    for index in 0..6 {
        let series = crate::mark::Series::at(index);
        let letter = series.letter();
        let dash = match series.dashes() {
            "" => String::new(),
            dashes => format!(";stroke-dasharray:{dashes}"),
        };
        out.push_str(&format!(".plot .curve-{letter}{{stroke:var(--{letter}){dash}}}\n"));
        out.push_str(&format!(".plot .label-{letter},.plot text.wire-{letter}{{fill:var(--{letter})}}\n"));
        out.push_str(&format!(".plot path.wire-{letter},.plot .tick-{letter}{{stroke:var(--{letter})}}\n"));
        out.push_str(&format!(
            ".plot .band-{letter}{{fill:var(--{letter});fill-opacity:{TINT};stroke:var(--{letter});stroke-width:.5;stroke-opacity:.6}}\n"
        ));
    }
    out
}

/// Writes a drawing. `title` and `description` are for those who do not see it.
pub(crate) fn write(
    drawing: &Drawing,
    style: Style<'_>,
    size: Size,
    title: &str,
    description: &str,
) -> String {
    let (width, height) = (coordinate(drawing.width), coordinate(drawing.height));
    let mut out = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\"");
    let (title, description) = (escape(title), escape(description));
    match style {
        Style::Page { id } => {
            let (id, name) = (safe_id(id), size.name());
            out.push_str(&format!(
                " class=\"plot-{name}\" role=\"img\" aria-labelledby=\"{id}-{name}-title {id}-{name}-desc\">\
                 <title id=\"{id}-{name}-title\">{title}</title><desc id=\"{id}-{name}-desc\">{description}</desc>"
            ));
        }
        Style::Paper => out.push_str(&format!(
            " width=\"{width}\" height=\"{height}\"><title>{title}</title><desc>{description}</desc>"
        )),
    }
    for mark in &drawing.marks {
        write_mark(&mut out, mark, style, size);
    }
    out.push_str("</svg>\n");
    out
}

fn safe_id(id: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() || c == '-' || c == '_' { c } else { '-' };
    let id: String = id.chars().map(plain).collect();
    if id.starts_with(|c: char| c.is_ascii_alphabetic()) { id } else { format!("plot-{id}") }
}

fn write_mark(out: &mut String, mark: &Mark, style: Style<'_>, size: Size) {
    match mark {
        Mark::Group(marks) => {
            out.push_str("\n<g>");
            for mark in marks {
                write_mark(out, mark, style, size);
            }
            out.push_str("</g>");
        }
        Mark::Line { class, from, to } => {
            let looks = stroke(*class, style, size);
            let [x1, y1, x2, y2] = [from.x, from.y, to.x, to.y].map(coordinate);
            out.push_str(&format!("\n<line{looks} x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"/>"));
        }
        Mark::Path { class, strokes } => {
            out.push_str(&format!("\n<path{} d=\"{}\"/>", stroke(*class, style, size), path_data(strokes)));
        }
        Mark::Area { class, outline } => {
            let looks = area(*class, style);
            out.push_str(&format!("\n<path{looks} d=\"{}Z\"/>", path_data(std::slice::from_ref(outline))));
        }
        Mark::Text { class, at, anchor, text } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let (looks, x, y) = (type_set(*class, style, size), coordinate(at.x), coordinate(at.y));
            let text = escape(text);
            out.push_str(&format!(
                "\n<text{looks} x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\">{text}</text>"
            ));
        }
        Mark::Circle { class, centre, radius } => {
            let [cx, cy, r] = [centre.x, centre.y, *radius].map(coordinate);
            out.push_str(&format!(
                "\n<circle{} cx=\"{cx}\" cy=\"{cy}\" r=\"{r}\"/>",
                stroke(*class, style, size)
            ));
        }
    }
}

fn path_data(strokes: &[Vec<Point>]) -> String {
    let mut data = String::new();
    for points in strokes {
        for (index, point) in points.iter().enumerate() {
            data.push(if index == 0 { 'M' } else { 'L' });
            data.push_str(&format!("{},{}", coordinate(point.x), coordinate(point.y)));
        }
    }
    data
}

/// One decimal is a tenth of a pixel: finer than any screen or printer shows, and short.
fn coordinate(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn class_name(class: Class) -> String {
    match class {
        Class::Grid => "grid".to_owned(),
        Class::Axis => "axis".to_owned(),
        Class::Curve(series) => format!("curve-{}", series.letter()),
        Class::Band(series) => format!("band-{}", series.letter()),
        Class::Label(series) => format!("label-{}", series.letter()),
        Class::Dot => "dot".to_owned(),
        Class::Marked => "marked".to_owned(),
        Class::MarkedLabel => "label-marked".to_owned(),
        Class::Outline => "outline".to_owned(),
        Class::Lug => "lug".to_owned(),
        Class::Name => "name".to_owned(),
        Class::Value => "value".to_owned(),
        Class::Wire(series, known) => format!("wire-{} {}", series.letter(), known.name()),
        Class::Tick(series) => format!("tick-{}", series.letter()),
        Class::WireName(series) => format!("wire-{}", series.letter()),
        Class::Junction => "junction".to_owned(),
        Class::Sample(known) => format!("sample {}", known.name()),
        Class::Share { level, whole } => format!("share-{level} {}", if whole { "whole" } else { "part" }),
        Class::Within => "within".to_owned(),
        Class::NotBefore => "not-before".to_owned(),
    }
}

fn ink(class: Class) -> &'static str {
    match class {
        Class::Grid => RULE,
        Class::Axis | Class::Dot => SOFT,
        Class::Curve(series) | Class::Band(series) | Class::Label(series) => series.ink(),
        Class::Wire(series, _) | Class::Tick(series) | Class::WireName(series) => series.ink(),
        Class::Value | Class::Sample(_) => SOFT,
        Class::Marked | Class::MarkedLabel | Class::Outline | Class::Lug | Class::Name | Class::Junction => {
            INK
        }
        Class::Share { .. } | Class::Within | Class::NotBefore => INK,
    }
}

fn stroke(class: Class, style: Style<'_>, size: Size) -> String {
    if let Style::Page { .. } = style {
        return format!(" class=\"{}\"", class_name(class));
    }
    if let Class::Share { level, whole } = class {
        let (thick, opacity) = (size.row(whole), opacity(level));
        return format!(
            " fill=\"none\" stroke=\"{INK}\" stroke-width=\"{thick}\" stroke-opacity=\"{opacity}\""
        );
    }
    let (width, dashes) = match class {
        Class::Curve(series) => ("2", series.dashes()),
        Class::Marked => ("3", ""),
        Class::Wire(_, known) | Class::Sample(known) => ("1.6", known.dashes()),
        Class::Tick(_) | Class::NotBefore => ("1.6", ""),
        _ => ("1", ""),
    };
    let dashes = if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{dashes}\"") };
    let fill = match class {
        Class::Lug => GROUND,
        Class::Junction => INK,
        _ => "none",
    };
    format!(" fill=\"{fill}\" stroke=\"{}\" stroke-width=\"{width}\"{dashes}", ink(class))
}

/// How much of the ink a month's share takes, in even steps.
fn opacity(level: u8) -> f64 {
    f64::from(level) / f64::from(LEVELS)
}

/// A band is tinted lightly and has a fine edge, so that it shows in grey too and hides no line.
const TINT: &str = "0.14";

fn area(class: Class, style: Style<'_>) -> String {
    match style {
        Style::Page { .. } => format!(" class=\"{}\"", class_name(class)),
        Style::Paper => {
            let ink = ink(class);
            format!(
                " fill=\"{ink}\" fill-opacity=\"{TINT}\" stroke=\"{ink}\" stroke-width=\"0.5\" stroke-opacity=\"0.6\""
            )
        }
    }
}

fn type_set(class: Class, style: Style<'_>, size: Size) -> String {
    if let Style::Page { .. } = style {
        return format!(" class=\"{}\"", class_name(class));
    }
    let ink = ink(class);
    match class {
        Class::Label(_) | Class::MarkedLabel => {
            let size = size.label_type();
            format!(" fill=\"{ink}\" font-family=\"{SERIF}\" font-style=\"italic\" font-size=\"{size}\"")
        }
        Class::Name => {
            let size = size.name_type();
            format!(" fill=\"{ink}\" font-family=\"{SERIF}\" font-style=\"italic\" font-size=\"{size}\"")
        }
        Class::Value | Class::WireName(_) => {
            format!(" fill=\"{ink}\" font-family=\"{SANS}\" font-size=\"{}\"", size.lug_type())
        }
        _ => format!(" fill=\"{ink}\" font-family=\"{SANS}\" font-size=\"{}\"", size.axis_type()),
    }
}
