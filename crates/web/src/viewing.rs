//! The next check of a viewing, above everything else, to be answered with one thumb.

use asfound_words::page::Page;
use asfound_words::sheet::{Answer, Step, Told};
use maud::{Markup, html};

use crate::sheet::View;

/// The check with its outcomes as large buttons: a press is all it takes, with the script or without it. The form has no
/// draft id, so that who goes back and presses another outcome is heard: of two answers to one check the later counts.
pub(crate) fn now(view: View<'_>, told: &Told) -> Markup {
    html! {
        section.now id="now" aria-label=(told.sentence) {
            p.finding { (told.sentence) }
            @for step in &told.next { (step_to_answer(view, step)) }
            p.sure { (told.sure) }
            @for paragraph in &told.working { p.sure { (paragraph) } }
        }
    }
}

fn step_to_answer(view: View<'_>, step: &Step) -> Markup {
    html! {
        @if !step.caution.is_empty() { p.caution { (step.caution) } }
        p { (step.words) " " span.sure { (step.why) } }
        form method="post" action={ "/job/" (view.number) "/say" } {
            input type="hidden" name="page" value=(Page::Viewing.slug());
            @for (at, answer) in step.answers.iter().enumerate() {
                (press(answer, at + 1 == step.answers.len()))
            }
        }
    }
}

/// The last is that nothing can be told: quiet, since it is an answer and no finding.
fn press(answer: &Answer, last: bool) -> Markup {
    html! {
        button.quiet[last] name="line" value=(answer.line) {
            (answer.words)
            span { (answer.means) }
        }
    }
}
