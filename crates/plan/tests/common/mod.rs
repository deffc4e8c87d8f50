//! Short ways to write sums and rates.

use asfound_plan::money::{Currency, Money, Rate};

pub(crate) fn pound() -> Currency {
    Currency::of("GBP").expect("known")
}

pub(crate) fn euro() -> Currency {
    Currency::of("EUR").expect("known")
}

pub(crate) fn pounds(text: &str) -> Money {
    Money::read(text, pound()).expect("a sum")
}

pub(crate) fn rate(percent: &str) -> Rate {
    Rate::percent(percent).expect("a rate")
}
