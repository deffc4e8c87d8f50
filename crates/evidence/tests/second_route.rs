//! The model again by another way: draw what may have happened, keep what ends in the marks found, and count.
//!
//! Nothing is summed over months here; lags are drawn from their distributions and not from the model's masses. Of `N`
//! draws kept, a share `p` is within four standard errors `√(p (1 − p) / N)`.

mod common;

use asfound_evidence::{Harness, Instrument, Lag, MadeIn, Month, MonthlyEvidence, PartEvidence, Span};
use common::{month, part, years};
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// Months are counted from January 1960 here; the inspection is in January 2000.
const INSPECTED: i64 = 480;
const DRAWS: usize = 3_000_000;

/// What the marks of each part allow, by the month of making: a last digit of the year; a half of a year with one of
/// two digits; two linked parts; a part without marks.
fn marks(part: usize, made: i64) -> bool {
    let (digit, half) = (made.div_euclid(12).rem_euclid(10), made.rem_euclid(12) / 6);
    match part {
        0 | 2 => digit == 4,
        1 => half == 1 && (digit == 3 || digit == 4),
        3 => digit == 3 || digit == 4,
        _ => true,
    }
}

struct Draw(ChaCha12Rng);

impl Draw {
    fn share(&mut self) -> f64 {
        ((self.0.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    fn coin(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    /// A geometric wait, drawn again where it is longer than the longest.
    fn geometric(&mut self, mean: f64, longest: i64) -> i64 {
        loop {
            let months = (libm::log(self.share()) / libm::log(mean / (1.0 + mean))) as i64;
            if months <= longest {
                return months;
            }
        }
    }

    /// A gamma wait of shape 2: the sum of two exponential ones, in whole months.
    fn gamma(&mut self, scale: f64, longest: i64) -> i64 {
        loop {
            let months = (-scale * libm::log(self.share() * self.share())) as i64;
            if months <= longest {
                return months;
            }
        }
    }

    fn later(&mut self, assembled: i64) -> i64 {
        assembled + 1 + (self.share() * (INSPECTED - assembled) as f64) as i64
    }
}

/// One history that ends in what was found.
struct Kept {
    assembled: i64,
    together: bool,
    /// Month of fitting where a part was put in later.
    later: [Option<i64>; 5],
    made: [i64; 5],
}

fn history(draw: &mut Draw) -> Option<Kept> {
    let assembled = (draw.share() * 120.0) as i64;
    // A paper of December 1966, wrong with 0.1, and then it says nothing.
    if assembled > 83 && !draw.coin(0.1) {
        return None;
    }
    let together = draw.coin(0.25);
    let with_the_harness = draw.later(assembled);
    let replaced = [0.2, 0.1, 0.1, 0.15, 0.3];
    let (mut later, mut made) = ([None; 5], [0; 5]);
    for part in 0..5 {
        if together && (part == 2 || part == 3) {
            later[part] = Some(with_the_harness);
        } else if draw.coin(replaced[part]) {
            later[part] = Some(draw.later(assembled));
        }
        made[part] = match later[part] {
            Some(fitted) => fitted - draw.geometric(24.0, 359),
            None if part == 1 => assembled - draw.geometric(6.0, 119),
            None => assembled - draw.gamma(3.0, 59),
        };
        if !marks(part, made[part]) {
            return None;
        }
    }
    // The joints of the last two parts are found undisturbed.
    let undisturbed = [3, 4].into_iter().all(|part| draw.coin(if later[part].is_none() { 0.7 } else { 0.2 }));
    undisturbed.then_some(Kept { assembled, together, later, made })
}

fn weighed() -> Instrument {
    let span = Span::new(Month::january(1900), month(2000, 1)).expect("a span");
    let made = |part: usize| {
        let months = span.months().filter(|at| marks(part, i64::from(*at - Month::january(1960))));
        MadeIn::of(span, months.map(|month| (month, 1.0)))
    };
    let gamma = Lag::gamma(2.0, 3.0, 59).expect("a lag");
    let geometric = Lag::geometric(6.0, 119).expect("a lag");
    let parts = vec![
        part(made(0), &gamma, 0.2),
        part(made(1), &geometric, 0.1),
        part(made(2), &gamma, 0.1),
        PartEvidence { if_original: 0.7, if_replaced: 0.2, ..part(made(3), &gamma, 0.15) },
        PartEvidence { if_original: 0.7, if_replaced: 0.2, ..part(made(4), &gamma, 0.3) },
    ];
    Instrument {
        assembly: years(1960, 1969),
        inspected: month(2000, 1),
        stock: Lag::geometric(24.0, 359).expect("a lag"),
        parts,
        harnesses: vec![Harness { members: vec![2, 3], replaced_together: 0.25 }],
        whole: vec![MonthlyEvidence::document(month(1966, 12), 0.1)],
    }
}

#[test]
fn histories_drawn_and_kept_agree_with_the_sums() {
    let mut draw = Draw(ChaCha12Rng::seed_from_u64(1960));
    let kept: Vec<Kept> = (0..DRAWS).filter_map(|_| history(&mut draw)).collect();
    assert!(kept.len() > 10_000, "{}", kept.len());
    let dated = weighed().weigh().expect("it can be weighed");
    let agree = |what: &str, expected: f64, among: &dyn Fn(&Kept) -> bool, which: &dyn Fn(&Kept) -> bool| {
        let number = kept.iter().filter(|kept| among(kept)).count() as f64;
        let found = kept.iter().filter(|kept| among(kept) && which(kept)).count() as f64 / number;
        // What is shown is never under a thousandth nor over 999.
        let error =
            4.0 * (expected * (1.0 - expected) / number).sqrt() + if expected < 0.0011 { 0.001 } else { 0.0 };
        assert!((found - expected).abs() <= error, "{what}: {found} drawn, {expected} summed, {number} kept");
    };
    for year in 0..10 {
        let expected = dated.assembled().year(1960 + year).value();
        agree("year", expected, &|_| true, &|kept| kept.assembled / 12 == i64::from(year));
    }
    let together = dated.harness(0).not_together.value();
    agree("harness", together, &|_| true, &|kept| !kept.together);
    for part in 0..5 {
        let said = dated.part(part);
        agree("original", said.original.value(), &|_| true, &|kept| kept.later[part].is_none());
        for years in [0, 10, 20, 30] {
            let (first, last) = (Month::january(1960) + 12 * years, Month::january(1970) + 12 * years - 1);
            let expected: f64 = (Span { first, last }).months().map(|month| said.made.at(month)).sum();
            let made = |kept: &Kept| kept.made[part].div_euclid(12).div_euclid(10) == i64::from(years / 10);
            agree("made", expected, &|_| true, &made);
        }
        let soon = |kept: &Kept| kept.later[part].is_some_and(|fitted| fitted - kept.assembled <= 36);
        let within = dated.replaced_within(part, 36).value();
        agree("within three years", within, &|kept| kept.later[part].is_some(), &soon);
    }
}
