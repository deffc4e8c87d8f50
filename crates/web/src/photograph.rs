//! One photograph, large: its marks, and beside it what names the lug that was pressed.

use std::sync::Arc;

use asfound_acts::{Job, Workshop};
use asfound_study::entry_line;
use asfound_study::lugs::{self, Lug};
use asfound_study::marks::{self, Picture};
use asfound_words as words;
use asfound_words::page::Page;
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Path, Query, escaped};
use crate::frame::{Frame, Money};
use crate::job::{Asked, Opened, job_head, open};
use crate::line::{self, Beside};
use crate::marks::{ZOOMS, next_lug, picture, pixels, zoom};
use crate::trace_form::{self, Fields, Sent};
use crate::trouble::Failed;
use crate::{elsewhere, sheet};

/// What a press on the picture does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Doing {
    /// It chooses a lug: to read what is known of it, and to join it to another.
    Looking,
    /// It marks a lug.
    Marking,
}

/// What the page's address carries.
#[derive(Deserialize, Default)]
pub(crate) struct AskedHere {
    #[serde(default)]
    doing: String,
    #[serde(default)]
    zoom: String,
    #[serde(default)]
    from: String,
    #[serde(default)]
    to: String,
    #[serde(default)]
    missed: String,
    #[serde(default)]
    kept: String,
}

/// The page's address with a press's outcome.
pub(crate) fn address(number: &str, seq: u64, doing: Doing, zoom: u32, from: &str, to: &str) -> String {
    let doing = match doing {
        Doing::Looking => "looking",
        Doing::Marking => "marking",
    };
    let chosen = [("from", from), ("to", to)].into_iter().filter(|(_, of)| !of.is_empty());
    let chosen: String = chosen.map(|(name, of)| format!("&{name}={}", escaped(of))).collect();
    format!("/job/{number}/photograph/{seq}?doing={doing}&zoom={zoom}{chosen}")
}

/// The photograph of an entry, where it can be shown.
pub(crate) fn picture_of(job: &Job, number: &str, seq: u64) -> Result<Picture, Failed> {
    let found = marks::pictures(job).into_iter().find(|picture| picture.seq == seq);
    found.ok_or_else(|| {
        Failed::not_there(format!(
            "Entry {seq} of job {number} is no photograph that can be shown. The job's history lists what was kept."
        ))
    })
}

/// Draws one photograph with its marks.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    Query(asked): Query<AskedHere>,
    Query(mut fields): Query<Fields>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let kept = Asked { kept: asked.kept.parse().ok(), ..Asked::default() };
    let opened = open(Arc::clone(&workshop), number.clone(), &kept).await?;
    let shown = picture_of(&opened.job, &number, seq)?;
    let beside = Beside { photograph: seq, zoom: zoom(&asked.zoom) };
    let heard = line::understood_beside(&workshop, &opened, beside, &fields.line()).await?;
    let marking = asked.doing == "marking" && !opened.from_elsewhere;
    fields.tracing = "join".to_owned();
    let around = Around {
        lugs: lugs::known(&opened.job),
        zoom: beside.zoom,
        number: &number,
        opened: &opened,
        shown: &shown,
        asked: &asked,
        money: Money::of(&headers),
    };
    let title = format!("{} · {number}", words::photograph::title(&shown));
    let here = address(&number, seq, doing(marking), around.zoom, &asked.from, &asked.to);
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(around.money) };
    let body = html! {
        @if opened.from_elsewhere { (elsewhere::only_read(&opened)) }
        main.look id="main" {
            section.picture aria-labelledby="picture" {
                h2 id="picture" { (words::photograph::alt(&shown)) }
                (around.ways(marking))
                @if marking { (around.to_mark()) } @else { (around.to_look()) }
            }
            section.beside aria-labelledby="beside" {
                h2 id="beside" { (if marking { "Marked here" } else { "At this lug" }) }
                @if !marking {
                    @if !opened.from_elsewhere {
                        div.heard id="heard" aria-live="polite" { (heard) }
                    }
                    (line::just_kept(&opened, &kept))
                    @if !opened.from_elsewhere { (around.to_join(&fields)) }
                    (around.about())
                } @else {
                    (line::just_kept(&opened, &kept))
                }
                (around.list())
                (trace_form::names(&around.lugs, &opened.job))
            }
        }
    };
    Ok(frame.draw(job_head(&opened, Some(Page::Wiring)), body))
}

fn doing(marking: bool) -> Doing {
    if marking { Doing::Marking } else { Doing::Looking }
}

/// What the parts of the page are drawn from.
struct Around<'a> {
    opened: &'a Opened,
    number: &'a str,
    shown: &'a Picture,
    asked: &'a AskedHere,
    lugs: Vec<Lug>,
    zoom: u32,
    money: Money,
}

impl Around<'_> {
    /// The lug marked last begins no join: turning to joins begins anew.
    fn turned_to(&self, does: Doing) -> String {
        address(self.number, self.shown.seq, does, self.zoom, "", "")
    }

    fn address(&self, doing: Doing, zoom: u32) -> String {
        address(self.number, self.shown.seq, doing, zoom, &self.asked.from, &self.asked.to)
    }

    /// What a press does, and how near the picture is.
    fn ways(&self, marking: bool) -> Markup {
        let now = doing(marking);
        html! {
            nav.ways aria-label="What a press does, and how near" {
                @if !self.opened.from_elsewhere {
                    @for (does, says) in [(Doing::Looking, "Look and join"), (Doing::Marking, "Mark lugs")] {
                        a href=(self.turned_to(does)) aria-current=[(does == now).then_some("true")] { (says) }
                    }
                }
                @for zoom in ZOOMS {
                    a.zoom href={ (self.address(now, zoom)) "#here" } data-zoom=(zoom) data-pixels=(pixels(zoom))
                        aria-current=[(zoom == self.zoom).then_some("true")] { (zoom) "×" }
                }
            }
        }
    }

    fn to_look(&self) -> Markup {
        let chosen: Vec<&str> = [&self.asked.from, &self.asked.to]
            .into_iter()
            .filter(|of| !of.is_empty())
            .map(String::as_str)
            .collect();
        let action = format!("/job/{}/photograph/{}/press", self.number, self.shown.seq);
        html! {
            @if !self.asked.missed.is_empty() {
                p role="status" { "Nothing is marked there. Press nearer to a mark, or mark the lug first." }
            }
            form method="get" action=(action) {
                @for (name, value) in [("from", &self.asked.from), ("to", &self.asked.to), ("zoom", &self.zoom.to_string())] {
                    input type="hidden" name=(name) value=(value);
                }
                (picture(self.shown, self.zoom, &chosen, Some("Press a mark to choose its lug")))
            }
        }
    }

    fn to_mark(&self) -> Markup {
        let action = format!("/job/{}/photograph/{}/mark", self.number, self.shown.seq);
        let next = next_lug(&self.lugs, &marks::pictures(&self.opened.job), &self.asked.from);
        let seen = self.shown.marks.last().and_then(|mark| mark.seen_from.as_deref()).unwrap_or_default();
        let chosen: Vec<&str> =
            Some(self.asked.from.as_str()).filter(|of| !of.is_empty()).into_iter().collect();
        html! {
            form method="post" action=(action) {
                div.fields {
                    div.field {
                        label for="of" { "Which lug or part" }
                        input id="of" name="of" value=(next) list="lugs" placeholder="lever.a1" autocomplete="off"
                            autocapitalize="off" spellcheck="false" required;
                    }
                    div.field {
                        label for="seen_from" { "Seen from" }
                        select id="seen_from" name="seen_from" {
                            option value="" { "Not said" }
                            @for side in entry_line::SIDES { option value=(side) selected[side == seen] { "The " (side) } }
                        }
                    }
                }
                p.soft { "Then press on it in the picture." }
                details {
                    summary { "Or say where in per cent" }
                    div.fields {
                        @for (name, label) in [("across", "From the left edge"), ("down", "From the upper edge")] {
                            div.field {
                                label for=(name) { (label) }
                                input id=(name) name=(name) inputmode="decimal" placeholder="41" autocomplete="off";
                            }
                        }
                    }
                    button.quiet { "Mark it there" }
                }
                input type="hidden" name="zoom" value=(self.zoom);
                input type="hidden" name="draft" value=(self.opened.draft);
                (picture(self.shown, self.zoom, &chosen, Some("Press where the lug lies")))
            }
            @let free = words::photograph::unmarked(&marks::unmarked(&self.lugs, &marks::pictures(&self.opened.job)));
            @if !free.is_empty() { p.soft { (free) } }
        }
    }

    fn to_join(&self, fields: &Fields) -> Markup {
        let action = format!("/job/{}/photograph/{}", self.number, self.shown.seq);
        let beside = Beside { photograph: self.shown.seq, zoom: self.zoom };
        let sent = Sent { action: &action, beside: Some(beside) };
        html! {
            @if self.asked.from.is_empty() {
                p { "Press one mark, then another: they become the two ends of a join." }
            } @else if self.asked.to.is_empty() {
                p { strong { (self.asked.from) } " is chosen. Press the lug at the other end, or read below what is known of it." }
            }
            (trace_form::join(self.opened, &self.lugs, fields, &sent))
        }
    }

    /// What was kept of the lugs chosen.
    fn about(&self) -> Markup {
        html! {
            @for of in [&self.asked.from, &self.asked.to] {
                @if !of.is_empty() {
                    h3 { (of) }
                    (sheet::found(self.number, &words::photograph::about(&self.opened.job, of), self.money))
                }
            }
        }
    }

    /// Every mark, for a hand without a pointer and for whoever does not see the picture.
    fn list(&self) -> Markup {
        html! {
            h3 { "Marks" }
            @if self.shown.marks.is_empty() { p.soft { "Nothing is marked on this photograph yet." } }
            ul.marks {
                @for mark in &self.shown.marks {
                    @let to = address(self.number, self.shown.seq, Doing::Looking, self.zoom, &mark.of, "");
                    li {
                        a.button.quiet href={ (to) "#here" } { (mark.of) }
                        small {
                            a href={ "/job/" (self.number) "/entry/" (mark.seq) } { "entry " (mark.seq) }
                            @if let Some(lug) = lugs::find(&self.lugs, &mark.of).map(|at| &self.lugs[at]) {
                                " " (words::photograph::joined(lug))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The job's photographs that can be shown, each with how much is marked on it: the way from the page Wiring.
pub(crate) fn those_of(number: &str, job: &Job) -> Markup {
    let pictures = marks::pictures(job);
    html! {
        @if !pictures.is_empty() {
            h3 { "Photographs" }
            ul.marks {
                @for picture in &pictures {
                    li {
                        a.button.quiet href={ "/job/" (number) "/photograph/" (picture.seq) } { (words::photograph::title(picture)) }
                        small { (picture.caption) @if !picture.caption.is_empty() { ", " } (words::photograph::how_many(picture)) }
                    }
                }
            }
        }
    }
}
