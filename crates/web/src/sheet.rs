//! A sheet drawn as a page: Found, Means, Next.

use asfound_words::page::Page;
use asfound_words::sheet::{Figure, FoundLine, Look, Sheet, Step, Table, Told};
use maud::{Markup, PreEscaped, html};

use crate::drawing_sheet;
use crate::frame::Money;
use crate::photograph::{self, Doing};

/// For whom and where a sheet is drawn.
#[derive(Clone, Copy)]
pub(crate) struct View<'a> {
    /// The job's number in addresses.
    pub(crate) number: &'a str,
    pub(crate) page: Page,
    pub(crate) money: Money,
    /// Whether decisions can be kept.
    pub(crate) writable: bool,
}

impl View<'_> {
    fn shows(self, told: &Told) -> bool {
        !told.money || self.money == Money::Shown
    }
}

/// Entries as they were kept, the time beside each, the day above those of one day.
pub(crate) fn found(number: &str, lines: &[FoundLine], money: Money) -> Markup {
    let shown: Vec<&FoundLine> = lines.iter().filter(|line| !line.money || money == Money::Shown).collect();
    html! {
        @if lines.is_empty() {
            p.soft { "Nothing kept here yet." }
        } @else if shown.is_empty() {
            p.soft { "It tells a sum, and sums are hidden." }
        }
        @for (at, line) in shown.iter().enumerate() {
            @let day = line.time.get(..10).unwrap_or_default();
            @if at == 0 || shown[at - 1].time.get(..10).unwrap_or_default() != day { p.day { (day) } }
            (entry(number, line))
        }
    }
}

fn entry(number: &str, line: &FoundLine) -> Markup {
    html! {
        div.entry id={ "entry-" (line.seq) } {
            time.figures { (line.time.get(11..16).unwrap_or_default()) }
            div {
                @if let Some(hash) = &line.photograph {
                    a.picture href={ "/job/" (number) "/photograph/" (line.seq) } {
                        img src={ "/picture/" (hash) "/800" } alt=(line.alt) loading="lazy";
                    }
                }
                div.gone[!line.since.is_empty()] { (line.words) }
                @if !line.detail.is_empty() { small.figures { (line.detail) } }
                small {
                    a href={ "/job/" (number) "/entry/" (line.seq) } { "entry " (line.seq) }
                    @if !line.since.is_empty() { " · " (line.since) }
                    @if let Some(look) = &line.look { " · " (on_the_photograph(number, look)) }
                }
            }
        }
    }
}

/// The way to the photograph on which a line's lug or part is marked, near enough to see its joint.
fn on_the_photograph(number: &str, look: &Look) -> Markup {
    let address = photograph::address(number, look.photograph, Doing::Looking, NEAR, &look.of, "");
    html! { a href={ (address) "#here" } { "on the photograph" } }
}

/// The zoom at which a mark is looked at from elsewhere.
const NEAR: u32 = 2;

/// Findings, with their next step beneath on a narrow screen.
pub(crate) fn means(view: View<'_>, sheet: &Sheet) -> Markup {
    html! {
        @for figure in &sheet.figures {
            (plot(figure))
            (drawing_sheet::views(view.number, None))
        }
        @for caution in &sheet.cautions { p.caution { (caution) } }
        @if sheet.means.is_empty() { p.soft { "Nothing can be said yet." } }
        @for told in sheet.means.iter().filter(|told| view.shows(told)) { (finding(view, told)) }
    }
}

fn finding(view: View<'_>, told: &Told) -> Markup {
    html! {
        article.told id={ "told-" (told.id) } {
            p.finding { (told.sentence) }
            @if !told.sure.is_empty() { p.sure { (told.sure) } }
            @for shown in &told.shown { (table(shown)) }
            @for figure in &told.figures { (plot(figure)) }
            @for step in &told.next { (step_to_take(view, step, &told.caution, false)) }
            (behind(view.number, told))
        }
    }
}

/// What stands behind a finding, folded away.
fn behind(number: &str, told: &Told) -> Markup {
    let nothing = told.working.is_empty()
        && told.rests_on.is_empty()
        && told.assumptions.is_empty()
        && told.would_change.is_empty()
        && told.tables.is_empty();
    if nothing {
        return html! {};
    }
    html! {
        details {
            summary { "What stands behind it" span.unseen { ": " (told.sentence) } }
            @for shown in &told.tables { (table(shown)) }
            @for paragraph in &told.working { p.working { (paragraph) } }
            (list("Taken for granted", &told.assumptions))
            (list("What would change it", &told.would_change))
            @if !told.rests_on.is_empty() {
                p { "Rests on "
                    @for (at, rest) in told.rests_on.iter().enumerate() {
                        @if at > 0 { ", " }
                        a href={ "/job/" (number) "/entry/" (rest.seq) } { (rest.label) }
                    }
                    "."
                }
            }
        }
    }
}

fn list(heading: &str, lines: &[String]) -> Markup {
    html! {
        @if !lines.is_empty() {
            p.soft { (heading) }
            ul { @for line in lines { li { (line) } } }
        }
    }
}

pub(crate) fn plot(figure: &Figure) -> Markup {
    html! {
        figure {
            (PreEscaped(figure.plot.figure(&figure.id)))
            figcaption { (figure.caption) }
        }
    }
}

/// A table, scrolled on its own where it is wider than the screen.
fn table(shown: &Table) -> Markup {
    html! {
        div.table tabindex="0" role="region" aria-label=(shown.caption) {
            table {
                caption { (shown.caption) }
                thead { tr { @for column in &shown.columns { th.n[column.numeric] scope="col" { (column.name) } } } }
                tbody {
                    @for row in &shown.rows {
                        tr { @for (cell, column) in row.iter().zip(&shown.columns) { td.n[column.numeric] { (figures(cell)) } } }
                    }
                }
            }
        }
    }
}

/// A cell's words, which may break where they offer a choice: a figure never parts from its unit.
fn figures(cell: &str) -> Markup {
    html! {
        @for (at, choice) in cell.split(" or ").enumerate() {
            @if at > 0 { " or " }
            span { (choice) }
        }
    }
}

/// Every step: those of findings, which a narrow screen shows with the finding, and those of none.
pub(crate) fn next(view: View<'_>, sheet: &Sheet) -> Markup {
    let shown: Vec<&Told> = sheet.means.iter().filter(|told| view.shows(told)).collect();
    let any = shown.iter().any(|told| !told.next.is_empty()) || !sheet.next.is_empty();
    html! {
        @if !any { p.soft { "Nothing waits on this page." } }
        @for told in shown {
            @for step in &told.next { (step_to_take(view, step, &told.caution, true)) }
        }
        @for step in &sheet.next { (step_to_take(view, step, "", false)) }
    }
}

fn step_to_take(view: View<'_>, step: &Step, finding_caution: &str, elsewhere: bool) -> Markup {
    let caution = if step.caution.is_empty() { finding_caution } else { &step.caution };
    html! {
        div.next.elsewhere[elsewhere] {
            @if !caution.is_empty() { p.caution { (caution) } }
            p { (step.words) }
            @if !step.why.is_empty() { p.why { (step.why) } }
            @match step.decision.as_str() {
                "done" => p.decided { "Done." },
                "taken" => p.decided { "Taken up." },
                "later" => p.decided { "Put off." },
                _ => {}
            }
            @if view.writable && step.decision != "done" { (decide(view, step)) }
        }
    }
}

fn decide(view: View<'_>, step: &Step) -> Markup {
    let button = |decision: &str, words: &str, quiet: bool| {
        html! { button.quiet[quiet] name="decision" value=(decision) { (words) } }
    };
    html! {
        form method="post" action={ "/job/" (view.number) "/decide" } {
            input type="hidden" name="step" value=(step.id);
            input type="hidden" name="words" value=(step.words);
            input type="hidden" name="page" value=(view.page.slug());
            @if step.decision == "taken" {
                (button("done", "Done", false))
            } @else {
                (button("taken", "Take it up", false))
                (button("done", "Done already", true))
                @if step.decision != "later" { (button("later", "Later", true)) }
            }
        }
    }
}
