//! What was worked out before, kept by whoever asks, so that a page is drawn again without working it out again.
//!
//! A study has no state of its own. This is the caller's: an answer is the same with it or without it, only sooner.

use std::sync::{Mutex, PoisonError};

/// How many answers of one sort are kept; the oldest goes first.
const MOST_KEPT: usize = 100;

/// Answers with the questions that they were given to.
#[derive(Debug)]
pub struct Before<Q, A>(Mutex<Vec<(Q, A)>>);

impl<Q, A> Default for Before<Q, A> {
    fn default() -> Before<Q, A> {
        Before(Mutex::default())
    }
}

impl<Q: PartialEq, A: Clone> Before<Q, A> {
    /// The answer to a question: the one kept, else the one worked out now, which is kept. Nobody waits for another's
    /// work; two who ask at once both work.
    pub fn answer(&self, question: Q, work: impl FnOnce(&Q) -> A) -> A {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, answer)) = kept.iter().find(|(known, _)| *known == question) {
            return answer.clone();
        }
        drop(kept);
        let answer = work(&question);
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.len() >= MOST_KEPT {
            drop(kept.remove(0));
        }
        kept.push((question, answer.clone()));
        answer
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn an_answer_is_worked_out_once_and_the_oldest_goes_first() {
        let (before, worked) = (Before::default(), Cell::new(0));
        let ask = |question: usize| {
            before.answer(question, |it| {
                worked.set(worked.get() + 1);
                it * 2
            })
        };
        assert_eq!((ask(3), ask(3), worked.get()), (6, 6, 1));
        (100..100 + MOST_KEPT).for_each(|question| assert_eq!(ask(question), question * 2));
        let so_far = worked.get();
        assert_eq!((ask(150), worked.get()), (300, so_far), "still kept");
        assert_eq!((ask(3), worked.get()), (6, so_far + 1), "it had gone");
    }
}
