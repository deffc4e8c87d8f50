//! The bench: a card for every job, the one that was last worked in first.

use std::collections::HashMap;

use asfound_store::StoreError;
use asfound_study::bench::{self, Card};

use crate::elsewhere::{self, Elsewhere};
use crate::error::ActError;
use crate::workshop::Workshop;

/// The sort under which cards are remembered.
const CARD: &str = "card/2";

/// Cards as they were remembered, and those that were made anew.
struct Cards {
    remembered: HashMap<String, String>,
    /// The highest turn that was given so far.
    last_turn: u64,
    fresh: Vec<(String, u64, String)>,
}

impl Workshop {
    /// A card for every job of this workshop, the one that was last worked in first.
    ///
    /// What a card shows is remembered beside the chain's head, so that a start page of a thousand jobs folds only
    /// those that were worked in. That is also how their order is known without trusting a clock: a card that had to be
    /// made anew takes the next turn. A job that cannot be read has a card that says so, and is in nobody's way.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn cards(&self) -> Result<Vec<Card>, ActError> {
        let about = self.about()?;
        let mut cards = self.remembered_cards()?;
        let mut turned = Vec::with_capacity(about.jobs.len());
        for item in &about.jobs {
            let number = &item.body.number;
            let card = match self.card(&item.body.chain, &mut cards) {
                Ok((turn, card)) => (turn, Card { number: number.clone(), ..card }),
                Err(ActError::Store(
                    error @ (StoreError::DamagedEntry { .. } | StoreError::UnknownChain { .. }),
                )) => (u64::MAX, unreadable(number, &error)),
                Err(error) => return Err(error),
            };
            turned.push(card);
        }
        self.remember(CARD, &cards.fresh)?;
        turned.sort_by_key(|(turn, _)| std::cmp::Reverse(*turn));
        Ok(turned.into_iter().map(|(_, card)| card).collect())
    }

    /// A card for every job that came from another workshop, and for every differing copy of one.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn from_elsewhere(&self) -> Result<Vec<Elsewhere>, ActError> {
        let mut cards = self.remembered_cards()?;
        let mut found = Vec::new();
        for info in self.store.chains()?.iter().filter(|info| !info.own && info.first_kind != "workshop/1") {
            let number = elsewhere::handle(info);
            let card = match info.variant {
                0 => self.card(&info.chain, &mut cards)?.1,
                _ => bench::card(&*self.job(&number)?),
            };
            found.push(Elsewhere { number, copy: info.variant, card });
        }
        self.remember(CARD, &cards.fresh)?;
        Ok(found)
    }

    fn remembered_cards(&self) -> Result<Cards, ActError> {
        let remembered = self.store.remembered(CARD)?;
        let last_turn = remembered.values().filter_map(|text| turn_of(text)).map(|(turn, _)| turn).max();
        Ok(Cards { remembered, last_turn: last_turn.unwrap_or(0), fresh: Vec::new() })
    }

    /// A job's card and its turn: remembered, else made anew with the next turn.
    fn card(&self, chain: &str, cards: &mut Cards) -> Result<(u64, Card), ActError> {
        let known = cards.remembered.get(chain).and_then(|text| turn_of(text));
        if let Some((turn, card)) = known.and_then(|(turn, text)| Some((turn, Card::from_text(text)?))) {
            return Ok((turn, card));
        }
        let job = self.store.job(chain)?;
        let card = bench::card(&job);
        cards.last_turn += 1;
        cards.fresh.push((
            chain.to_owned(),
            job.head.next,
            format!("{}\n{}", cards.last_turn, card.to_text()),
        ));
        Ok((cards.last_turn, card))
    }
}

/// The turn that stands before a remembered card, and the card's text.
fn turn_of(text: &str) -> Option<(u64, &str)> {
    let (turn, card) = text.split_once('\n')?;
    Some((turn.parse().ok()?, card))
}

/// The card of a job whose entries cannot be read, with the reason where its title would stand.
fn unreadable(number: &str, why: &StoreError) -> Card {
    Card {
        number: number.to_owned(),
        title: why.to_string(),
        piece: String::new(),
        last_at: String::new(),
        entries: 0,
        photograph: None,
        waits: Vec::new(),
    }
}
