//! Marks over a photograph: drawn, pressed, made.
//!
//! The picture is a form's own button, so that a browser without the script says where it was pressed. It comes in two
//! sizes, of which the style shows one; the name of the button tells which, and so how large it was.

use std::collections::BTreeSet;
use std::sync::Arc;

use asfound_acts::{ActError, Said, Workshop};
use asfound_study::marks::{self, Marked, Picture};
use asfound_study::{entry_line, lugs};
use asfound_words as words;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Form, Path, Query, draft};
use crate::job::at_work;
use crate::labels;
use crate::photograph::{Doing, address, picture_of};
use crate::trouble::Failed;

/// How far a picture can be brought near.
pub(crate) const ZOOMS: [u32; 3] = [1, 2, 4];

/// The two sizes at which the style shows a picture, with the box that it fits into at the first zoom, in pixels.
const SHOWN: [(&str, (u32, u32)); 2] = [("narrow", (320, 480)), ("wide", (720, 620))];

/// How large a picture is shown in a box, with its own proportions.
fn fitted(picture: &Picture, (across, down): (u32, u32), zoom: u32) -> (u32, u32) {
    let (width, height) = (u64::from(picture.size.0), u64::from(picture.size.1));
    let (across, down) = (u64::from(across * zoom), u64::from(down * zoom));
    let by_height = (width * down / height, down);
    let (width, height) =
        if width * down >= height * across { (across, height * across / width) } else { by_height };
    let whole = |pixels: u64| u32::try_from(pixels).unwrap_or(u32::MAX).max(1);
    (whole(width), whole(height))
}

/// The size of the preview whose pixels are enough at a zoom.
pub(crate) fn pixels(zoom: u32) -> u32 {
    match zoom {
        1 => 800,
        2 => 1600,
        _ => 3200,
    }
}

/// The picture with its marks. Where it can be pressed it is the button of the form that it stands in.
pub(crate) fn picture(picture: &Picture, zoom: u32, chosen: &[&str], pressed: Option<&str>) -> Markup {
    let source = format!("/picture/{}/{}", picture.original, pixels(zoom));
    html! {
        div.pane tabindex="0" role="region" aria-label=(words::photograph::title(picture)) {
            div.marked {
                @for (name, room) in SHOWN {
                    @let (width, height) = fitted(picture, room, zoom);
                    @if let Some(what_for) = pressed {
                        input class=(name) type="image" name=(name) src=(source) width=(width) height=(height)
                            alt={ (words::photograph::alt(picture)) ". " (what_for) };
                    } @else {
                        img class=(name) src=(source) width=(width) height=(height) alt=(words::photograph::alt(picture));
                    }
                }
                (overlay(picture, zoom, chosen))
            }
        }
    }
}

/// Rings with their names where there is room for them; the list beside the picture names them all.
fn overlay(picture: &Picture, zoom: u32, chosen: &[&str]) -> Markup {
    let is_chosen = |mark: &Marked| chosen.iter().any(|of| mark.of.eq_ignore_ascii_case(of));
    let labels = labels::placed(picture, fitted(picture, SHOWN[0].1, zoom), &is_chosen);
    html! {
        svg aria-hidden="true" {
            @for (at, mark) in picture.marks.iter().enumerate() {
                @let (x, y) = (percent(mark.x), percent(mark.y));
                // The page goes to the mark that was chosen last, with some of the picture around it.
                @if chosen.last().is_some_and(|of| mark.of.eq_ignore_ascii_case(of)) {
                    circle id="here" cx=(x) cy=(y) r="150" {}
                }
                circle.halo cx=(x) cy=(y) r="10" {}
                circle.ring.chosen[is_chosen(mark)] cx=(x) cy=(y) r=(if is_chosen(mark) { "12" } else { "8" }) {}
                @if let Some(label) = &labels[at] {
                    text x=(x) y=(y) dx=(label.right) dy=(label.down) text-anchor=(label.anchor) { (label.words) }
                }
            }
        }
    }
}

fn percent(of_ten_thousand: u32) -> String {
    format!("{}%", marks::percent(of_ten_thousand))
}

/// Where the picture was pressed, as the browser says it of the button that it shows.
#[derive(Deserialize, Default)]
pub(crate) struct Press {
    #[serde(rename = "narrow.x", default)]
    narrow_x: String,
    #[serde(rename = "narrow.y", default)]
    narrow_y: String,
    #[serde(rename = "wide.x", default)]
    wide_x: String,
    #[serde(rename = "wide.y", default)]
    wide_y: String,
}

impl Press {
    /// The press and the size of the picture, in pixels. A key that presses the button sends the corner (HTML, image
    /// button state), which is no place.
    fn place(&self, picture: &Picture, zoom: u32) -> Option<((u32, u32), (u32, u32))> {
        let pairs = [(&self.narrow_x, &self.narrow_y), (&self.wide_x, &self.wide_y)];
        let read = |(x, y): (&String, &String)| Some((x.parse().ok()?, y.parse().ok()?));
        let placed = pairs.into_iter().zip(SHOWN).find_map(|(pair, (_, room))| Some((read(pair)?, room)));
        placed.filter(|(press, _)| *press != (0, 0)).map(|(press, room)| (press, fitted(picture, room, zoom)))
    }
}

/// The zoom that an address asks for; the first, where it asks for another.
pub(crate) fn zoom(asked: &str) -> u32 {
    asked.parse().ok().filter(|zoom| ZOOMS.contains(zoom)).unwrap_or(ZOOMS[0])
}

/// A press on the picture, to choose a mark.
#[derive(Deserialize)]
pub(crate) struct Choosing {
    #[serde(default)]
    from: String,
    #[serde(default)]
    to: String,
    #[serde(default)]
    zoom: String,
    #[serde(flatten)]
    press: Press,
}

/// Goes to the page on which the mark that was pressed is chosen: the first end of a join, or the second.
pub(crate) async fn press(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    Query(choosing): Query<Choosing>,
) -> Result<Redirect, Failed> {
    let asked = number.clone();
    let job = at_work(workshop, move |workshop| workshop.job(&asked)).await?;
    let picture = picture_of(&job, &number, seq)?;
    let zoom = zoom(&choosing.zoom);
    let pressed =
        choosing.press.place(&picture, zoom).and_then(|(press, shown)| picture.pressed(press, shown));
    let ends = match pressed {
        None => {
            let to = address(&number, seq, Doing::Looking, zoom, &choosing.from, &choosing.to);
            return Ok(Redirect::to(&format!("{to}&missed=yes")));
        }
        Some(mark) => chosen(&choosing.from, &choosing.to, &mark.of),
    };
    let to = address(&number, seq, Doing::Looking, zoom, &ends.0, &ends.1);
    Ok(Redirect::to(&format!("{to}#here")))
}

/// The ends after a press: a first, a second, and with a third the next join begins. The same lug once more is let go.
fn chosen(from: &str, to: &str, pressed: &str) -> (String, String) {
    let ends = match (from, to) {
        (from, "") if from.eq_ignore_ascii_case(pressed) => ("", ""),
        ("", _) => (pressed, ""),
        (from, "") => (from, pressed),
        _ => (pressed, ""),
    };
    (ends.0.to_owned(), ends.1.to_owned())
}

/// A place to be marked.
#[derive(Deserialize)]
pub(crate) struct Marking {
    of: String,
    #[serde(default)]
    across: String,
    #[serde(default)]
    down: String,
    #[serde(default)]
    seen_from: String,
    #[serde(default)]
    zoom: String,
    #[serde(default)]
    draft: String,
    #[serde(flatten)]
    press: Press,
}

/// Marks a lug where the picture was pressed, or at the per cents that were typed, and goes on to the next lug. It says
/// the line that the entry line takes. A press that is sent twice marks once; a press elsewhere on a page that was gone
/// back to is another mark.
pub(crate) async fn make(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    Form(marking): Form<Marking>,
) -> Result<Response, Failed> {
    let asked = number.clone();
    let job = at_work(Arc::clone(&workshop), move |workshop| workshop.job(&asked)).await?;
    let picture = picture_of(&job, &number, seq)?;
    let zoom = zoom(&marking.zoom);
    let of = marking.of.split_whitespace().collect::<Vec<_>>().join("-");
    if of.is_empty() {
        return Err(Failed::not_taken(
            "Say first which lug or part it is, such as lever.a1, then press on it.",
        ));
    }
    let side = entry_line::SIDES.into_iter().find(|side| *side == marking.seen_from);
    let line = match marking.press.place(&picture, zoom) {
        Some((press, shown)) => marks::line(&of, picture.number, marks::spot(press, shown), side),
        None if marking.across.trim().is_empty() || marking.down.trim().is_empty() => {
            return Err(Failed::not_taken(
                "Press on the picture where the lug lies, or type how far across and down it lies in per cent.",
            ));
        }
        None => {
            let (across, down) = (marking.across.trim(), marking.down.trim());
            let seen = side.map(|side| format!(" from the {side}")).unwrap_or_default();
            format!("mark {of} on photo {} at {across} % {down} %{seen}", picture.number)
        }
    };
    let (asked, said) = (number.clone(), line.clone());
    let kept = at_work(workshop, move |workshop| {
        match workshop.say(&asked, &said, &draft(workshop, &marking.draft)?) {
            Err(ActError::SaidBefore { .. }) => workshop.say(&asked, &said, &workshop.draft_id()?),
            kept => kept,
        }
    })
    .await?;
    Ok(match kept {
        Said::Kept { seq: entry, .. } => {
            let to = address(&number, seq, Doing::Marking, zoom, &of, "");
            Redirect::to(&format!("{to}&kept={entry}#here")).into_response()
        }
        Said::NotHeard(error) => {
            Failed::not_taken(words::line::not_heard(&error, &line).sentence).into_response()
        }
    })
}

/// The lug to mark next: the first of the trace that is marked nowhere, after the one marked last.
pub(crate) fn next_lug(lugs: &[lugs::Lug], pictures: &[Picture], last: &str) -> String {
    let after = lugs::find(lugs, last).map_or(0, |at| at + 1);
    let free: BTreeSet<String> = marks::unmarked(lugs, pictures).into_iter().collect();
    let (before, later) = lugs.split_at(after);
    let next = later.iter().chain(before).find(|lug| free.contains(&lug.name));
    next.map(|lug| lug.name.clone()).unwrap_or_default()
}
