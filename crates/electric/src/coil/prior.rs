//! Prior shares of condition, hand and era.

use super::answer::{Condition, Hand};
use super::construction::Era;
use super::found::Period;
use super::opinions::{FAULTS, Matter, Opinions};

/// Prior share of a condition; the healthy have what the faults leave.
pub(super) fn of_condition(condition: Condition, opinions: &Opinions) -> f64 {
    match condition {
        Condition::Healthy => 1.0 - FAULTS.into_iter().map(|fault| opinions.value(fault)).sum::<f64>(),
        Condition::PartShorted => opinions.value(Matter::PartShorted),
        Condition::PartBridged => opinions.value(Matter::PartBridged),
        Condition::Open => opinions.value(Matter::Open),
        Condition::JointInSeries => opinions.value(Matter::JointInSeries),
        Condition::OtherTemperature => opinions.value(Matter::OtherTemperature),
    }
}

/// Prior share of a hand.
pub(super) fn of_hand(hand: Hand, opinions: &Opinions) -> f64 {
    let (rewound, alike) = (opinions.value(Matter::Rewound), opinions.value(Matter::RewoundAlike));
    match hand {
        Hand::AsMade => 1.0 - rewound,
        Hand::RewoundAlike => rewound * alike,
        Hand::RewoundOtherwise => rewound * (1.0 - alike),
    }
}

/// Shares of the eras: of a stated period by how many of its years fall in each, else by opinion. A period outside
/// them all belongs to the nearest.
pub(super) fn of_eras(period: Option<Period>, opinions: &Opinions) -> [f64; 3] {
    let Some(Period { from, to }) = period else {
        let (early, middle) = (opinions.value(Matter::EraEarly), opinions.value(Matter::EraMiddle));
        return [early, middle, 1.0 - early - middle];
    };
    let mut years = Era::ALL.map(|era| {
        let (first, last) = era.years();
        f64::from((to.min(last) - from.max(first) + 1).max(0))
    });
    let all: f64 = years.iter().sum();
    if all == 0.0 {
        return if to < Era::Early.years().0 { [1.0, 0.0, 0.0] } else { [0.0, 0.0, 1.0] };
    }
    years.iter_mut().for_each(|share| *share /= all);
    years
}

/// A pair of condition and hand: what the draws are shared out over.
pub(super) const STRATA: usize = Condition::ALL.len() * Hand::ALL.len();

/// The number of a pair.
pub(super) fn stratum(condition: Condition, hand: Hand) -> usize {
    condition as usize * Hand::ALL.len() + hand as usize
}

/// The pair of a number.
pub(super) fn pair(stratum: usize) -> (Condition, Hand) {
    (Condition::ALL[stratum / Hand::ALL.len()], Hand::ALL[stratum % Hand::ALL.len()])
}
