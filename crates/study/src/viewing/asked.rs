//! The sums that a viewing is reckoned with.

use asfound_plan::money::{Currency, Money};
use asfound_plan::viewing::Price;
use asfound_record::{Item, Job, Money1};

use crate::plan::rate_said;

/// Something told, with the entries it stands in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Told<T> {
    /// What.
    pub what: T,
    /// The entry; of two the later.
    pub seq: u64,
}

/// Sums that were said; of two for the same the later counts.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sums {
    /// What it would bring with nothing wrong.
    pub sound: Option<Told<Money>>,
    /// What it costs to have.
    pub price: Option<Told<Price>>,
    /// What an hour's work costs.
    pub hour: Option<Told<Money>>,
    /// Entries in another currency than the worth, which are left out.
    pub other_currency: Vec<u64>,
    /// The entries of the sums that count.
    pub entries: Vec<u64>,
    /// Only one estimate, or the low one above the high.
    pub half_a_range: Option<u64>,
}

/// What a sum is for, in the words it is typed with.
const SOUND: [&str; 4] = ["sound", "worth sound", "sound worth", "worth with nothing wrong"];
const ASKING: [&str; 4] = ["asking", "asked", "asking price", "price asked"];
const LOW: [&str; 3] = ["estimate low", "low estimate", "estimate from"];
const HIGH: [&str; 3] = ["estimate high", "high estimate", "estimate to"];
const HOUR: [&str; 4] = ["hour", "an hour", "per hour", "hour of work"];

pub(super) fn sums(job: &Job) -> Sums {
    let mut sums = Sums { sound: last(job, &SOUND), ..Sums::default() };
    let worth = sums.sound.map(|told| told.what.currency());
    let mut of_worth = |told: Option<Told<Money>>| {
        let told = told?;
        if worth.is_some_and(|worth| worth != told.what.currency()) {
            sums.other_currency.push(told.seq);
            return None;
        }
        Some(told)
    };
    let (asking, low, high) =
        (of_worth(last(job, &ASKING)), of_worth(last(job, &LOW)), of_worth(last(job, &HIGH)));
    // An hour's price said for the viewing counts before the bench's own rate.
    let rate = rate_said(job).map(|(what, seq)| Told { what, seq });
    let hour = of_worth(last(job, &HOUR).or(rate));
    let counted = [sums.sound, asking, low, high, hour];
    sums.entries = counted.into_iter().flatten().map(|told| told.seq).collect();
    sums.hour = hour;
    let range = match (low, high) {
        (Some(low), Some(high)) => {
            let seq = low.seq.max(high.seq);
            match Price::between(low.what, high.what) {
                Ok(what) => Some(Told { what, seq }),
                Err(_) => {
                    sums.half_a_range = Some(seq);
                    None
                }
            }
        }
        (Some(one), None) | (None, Some(one)) => {
            sums.half_a_range = Some(one.seq);
            None
        }
        (None, None) => None,
    };
    let asking = asking.map(|told| Told { what: Price::known(told.what), seq: told.seq });
    sums.price = [asking, range].into_iter().flatten().max_by_key(|told| told.seq);
    sums
}

fn last(job: &Job, names: &[&str]) -> Option<Told<Money>> {
    let is_it = |item: &&Item<Money1>| names.contains(&item.body.words.trim().to_lowercase().as_str());
    job.money.iter().filter(is_it).max_by_key(|item| item.seq).and_then(money)
}

fn money(item: &Item<Money1>) -> Option<Told<Money>> {
    let currency = Currency::of(&item.body.currency).ok()?;
    let what = Money::of_minor(item.body.minor, currency).ok().filter(|sum| sum.minor() > 0)?;
    Some(Told { what, seq: item.seq })
}
