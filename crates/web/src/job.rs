//! The pages of one job, and its history.

use std::sync::Arc;

use asfound_acts::{ActError, Job, Workshop};
use asfound_words::page::{self, Page};
use axum::extract::State;
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Path, Query};
use crate::frame::{Frame, Money};
use crate::sheet::View;
use crate::trace_form::Fields;
use crate::trouble::Failed;
use crate::{elsewhere, line, photograph, pictures, plan, sheet, sweeps, viewing};

/// Runs work on the workshop off the pages' threads, since it reads files.
pub(crate) async fn at_work<T, F>(workshop: Arc<Workshop>, work: F) -> Result<T, Failed>
where
    T: Send + 'static,
    F: FnOnce(&Workshop) -> Result<T, ActError> + Send + 'static,
{
    let done = tokio::task::spawn_blocking(move || work(&workshop)).await;
    match done {
        Ok(result) => result.map_err(Failed::from),
        Err(_) => Err(Failed::broke_off()),
    }
}

/// A job with the workshop's own entries beside it.
pub(crate) struct Opened {
    pub(crate) number: String,
    pub(crate) workshop: String,
    pub(crate) job: Arc<Job>,
    /// It came from another workshop, and is only read.
    pub(crate) from_elsewhere: bool,
    /// A new draft id: a form sent twice with it keeps once.
    pub(crate) draft: String,
    /// Entries just kept whose files cannot be shown, and why.
    pub(crate) not_shown: Vec<(u64, String)>,
}

/// Opens a job for reading.
pub(crate) async fn open(workshop: Arc<Workshop>, number: String, asked: &Asked) -> Result<Opened, Failed> {
    let just_kept = asked.just_kept();
    at_work(workshop, move |workshop| {
        let mut not_shown = Vec::new();
        for seq in just_kept {
            not_shown.extend(workshop.why_not_shown(&number, seq)?.map(|why| (seq, why)));
        }
        Ok(Opened {
            workshop: workshop.name(),
            job: workshop.job(&number)?,
            from_elsewhere: workshop.is_from_elsewhere(&number)?,
            draft: workshop.draft_id()?,
            not_shown,
            number,
        })
    })
    .await
}

/// How many of the files just kept are looked at again for the reason why they cannot be shown.
const MOST_LOOKED_AT: u64 = 20;

/// What a page's address can carry.
#[derive(Deserialize, Default)]
pub(crate) struct Asked {
    /// A line that was typed and is to be read, without the script.
    #[serde(default)]
    pub(crate) line: String,
    /// The place of the entry that was just kept.
    pub(crate) kept: Option<u64>,
    /// The place of the last of several that were.
    pub(crate) until: Option<u64>,
}

impl Asked {
    fn just_kept(&self) -> std::ops::RangeInclusive<u64> {
        let Some(first) = self.kept else { return std::ops::RangeInclusive::new(1, 0) };
        let last = self.until.unwrap_or(first).clamp(first, first.saturating_add(MOST_LOOKED_AT));
        first..=last
    }
}

/// Goes to the page on which the hand left off.
pub(crate) async fn return_to(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
) -> Result<Redirect, Failed> {
    let asked = number.clone();
    let left = at_work(workshop, move |workshop| {
        workshop.job(&asked)?;
        Ok(workshop.return_to(&asked))
    })
    .await?;
    let page = left.filter(|slug| Page::from_slug(slug).is_some()).unwrap_or_else(|| "piece".to_owned());
    Ok(Redirect::to(&format!("/job/{number}/{page}")))
}

/// Draws one page of a job.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path((number, slug)): Path<(String, String)>,
    Query(mut asked): Query<Asked>,
    Query(fields): Query<Fields>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let Some(shown) = Page::from_slug(&slug) else {
        return Err(Failed::not_there(
            "A job has the pages Piece, Viewing, Parts, Readings, Wiring, Meter check, Faults, Rewiring, Dates, Originality, Plan and its history.",
        ));
    };
    let opened = open(Arc::clone(&workshop), number.clone(), &asked).await?;
    let here = format!("/job/{number}/{slug}");
    let made = fields.line();
    if asked.kept.is_none() && !made.is_empty() {
        asked.line = made;
    }
    let heard = line::understood_here(&workshop, &opened, shown, &asked.line, &fields).await?;
    let asked_for = number.clone();
    let drawn = at_work(workshop, move |workshop| {
        let material = match shown {
            Page::Piece | Page::Viewing | Page::Parts | Page::Wiring | Page::Plan => {
                workshop.material_at_hand(&asked_for)?
            }
            _ => workshop.material(&asked_for)?,
        };
        Ok(page::sheet(shown, &material))
    })
    .await?;
    let money = Money::of(&headers);
    let title = format!("{} · {number}", shown.title());
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(money) };
    let view = View { number: &number, page: shown, money, writable: !opened.from_elsewhere };
    let body = html! {
        @if opened.from_elsewhere {
            (elsewhere::only_read(&opened))
        } @else {
            @if let Some(now) = &drawn.now { (viewing::now(view, now)) }
            (line::entry_line(&opened, shown, &asked, &fields, heard))
        }
        nav.jump aria-label="On this page" {
            a href="#found" { "Found" }
            a href="#means" { "Means" }
            a href="#next" { "Next" }
        }
        main.three id="main" {
            section aria-labelledby="found" {
                h2 id="found" { "Found" }
                (sheet::found(&number, &drawn.found, money))
                @if shown == Page::Wiring { (photograph::those_of(&number, &opened.job)) }
                @if view.writable && matches!(shown, Page::Piece | Page::Viewing | Page::Parts | Page::Wiring | Page::Dates) {
                    (pictures::form(&opened, shown))
                }
                @if view.writable && shown == Page::Readings { (sweeps::form(&opened)) }
                @if view.writable && shown == Page::Plan { (plan::hours(&opened)) }
            }
            section aria-labelledby="means" {
                h2 id="means" { "Means" }
                (sheet::means(view, &drawn))
            }
            section aria-labelledby="next" {
                h2 id="next" { "Next" }
                (sheet::next(view, &drawn))
                @if shown == Page::Readings {
                    p { a.button.quiet href={ "/job/" (number) "/bench-sheet" } { "Bench sheet to print" } }
                }
                @if shown == Page::Viewing {
                    p { a.button.quiet href={ "/job/" (number) "/pocket-sheet" } { "Sheet for the pocket, to print" } }
                }
                @if shown == Page::Plan {
                    p { a.button.quiet href={ "/job/" (number) "/proposal" } { "Proposal to print" } }
                }
                @if shown == Page::MeterCheck {
                    p { a.button.quiet href={ "/job/" (number) "/check-sheet" } { "Check sheet to print" } }
                }
                @if shown == Page::Rewiring {
                    @for step in drawn.means.iter().flat_map(|told| &told.next).filter(|step| step.id.starts_with("rewire-")) {
                        p { a.button.quiet href={ "/job/" (number) "/rewiring-sheet/" (step.id) } { "Sheet to print: " (step.words) } }
                    }
                }
            }
        }
    };
    Ok(frame.draw(job_head(&opened, Some(shown)), body))
}

/// Title and tabs of a job.
pub(crate) fn job_head(opened: &Opened, shown: Option<Page>) -> Markup {
    // The opening may have been withheld.
    let title = opened.job.opened.as_ref().map_or("A job without a title", |item| item.body.title.as_str());
    html! {
        div.who {
            h1 { (title) }
            span { (page::under_title(&opened.job)) }
        }
        nav.tabs aria-label="Pages of the job" {
            @for page in Page::ALL.into_iter().filter(|page| page.under() == *page) {
                (tab(opened, page, page.title(), shown, shown.map(Page::under)))
            }
            a href={ "/job/" (opened.number) "/history" } aria-current=[shown.is_none().then_some("page")] { "History" }
        }
        @if let Some(subject) = shown.map(Page::under) {
            (tabs_of_subject(opened, subject, shown))
        }
    }
}

/// The pages of one subject, where it has more than one; the first is what its own tab leads to.
fn tabs_of_subject(opened: &Opened, subject: Page, shown: Option<Page>) -> Markup {
    let pages: Vec<Page> = Page::ALL.into_iter().filter(|page| page.under() == subject).collect();
    html! {
        @if pages.len() > 1 {
            nav.tabs.inner aria-label={ "Pages about the " (subject.title().to_lowercase()) } {
                @for page in pages {
                    (tab(opened, page, page.among_its_own(), shown, None))
                }
            }
        }
    }
}

/// One tab; it is current for the page shown, and for a page of the subject that it leads to.
fn tab(opened: &Opened, page: Page, title: &str, shown: Option<Page>, subject: Option<Page>) -> Markup {
    let current = match (shown == Some(page), subject == Some(page)) {
        (true, _) => Some("page"),
        (false, true) => Some("true"),
        (false, false) => None,
    };
    html! { a href={ "/job/" (opened.number) "/" (page.slug()) } aria-current=[current] { (title) } }
}

/// Draws everything that was ever kept, in order.
pub(crate) async fn history(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(workshop, number.clone(), &Asked::default()).await?;
    let lines = page::history(&opened.job);
    let here = format!("/job/{number}/history");
    let money = Money::of(&headers);
    let title = format!("History · {number}");
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(money) };
    let body = html! {
        @if opened.from_elsewhere { (elsewhere::only_read(&opened)) }
        main.one id="main" {
            p.soft { (page::about_history(&opened.job)) }
            p { a.button.quiet href={ "/job/" (number) "/lines" } download={ (number) ".jsonl" } { "Take out as a file" } }
            (sheet::found(&number, &lines, money))
        }
    };
    Ok(frame.draw(job_head(&opened, None), body))
}

/// Answers the job's lines in export form, as a file to be put away.
pub(crate) async fn lines(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
) -> Result<Response, Failed> {
    let name = format!("attachment; filename=\"{number}.jsonl\"");
    let (text, _) = at_work(workshop, move |workshop| workshop.lines(&number)).await?;
    Ok(([(header::CONTENT_TYPE, "application/jsonl".to_owned()), (header::CONTENT_DISPOSITION, name)], text)
        .into_response())
}
