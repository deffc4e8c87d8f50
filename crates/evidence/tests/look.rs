//! What a look can be expected to tell, against going through every way things may have happened.

use asfound_evidence::look::{LookFault, NextLook, Outcomes, Standing, next_looks};
use asfound_evidence::{Harness, Instrument, Lag, MadeIn, Month, MonthlyEvidence, PartEvidence, Span};
use asfound_weigh::{Probability, Ranked};
use proptest::prelude::*;
use std::collections::BTreeMap;

/// Both ways add the same few hundred thousand shares, in another order and some of them by logarithms: so near they
/// must come.
const ROUNDING: f64 = 1e-9;

fn month(year: i16, number: u8) -> Month {
    Month::new(year, number).expect("a month")
}

/// Two years of assembly, and an inspection half a year after: small enough to go through.
fn assembly() -> Span {
    Span::new(month(1963, 6), month(1965, 5)).expect("in order")
}

fn span() -> Span {
    Span::new(month(1962, 1), inspected()).expect("in order")
}

fn inspected() -> Month {
    month(1965, 11)
}

fn unmarked(replaced: f64) -> PartEvidence {
    PartEvidence {
        made_in: MadeIn::nothing_known(span()),
        lag: Lag::of(vec![0.5, 0.3, 0.2]).expect("a lag"),
        replaced,
        if_original: 1.0,
        if_replaced: 1.0,
        known_new: false,
    }
}

fn marked(replaced: f64, months: &[(i16, u8, f64)]) -> PartEvidence {
    let weights = months.iter().map(|(year, number, weight)| (month(*year, *number), *weight));
    PartEvidence { made_in: MadeIn::of(span(), weights), ..unmarked(replaced) }
}

fn instrument(parts: Vec<PartEvidence>, harnesses: Vec<Harness>) -> Instrument {
    Instrument {
        assembly: assembly(),
        inspected: inspected(),
        stock: Lag::of(vec![0.1, 0.4, 0.2, 0.2, 0.1]).expect("a lag"),
        parts,
        harnesses,
        whole: vec![MonthlyEvidence::document(month(1965, 1), 0.1)],
    }
}

/// One way things may have happened to the first part and a second: assembly, whether the first is original, when it was
/// made, and the share of it all.
struct Way {
    assembled: Month,
    original: bool,
    made: Month,
    share: f64,
}

/// How one part came in, given the month of assembly: original or not, made when, with what chance; fitted in a month
/// drawn for the whole harness where there is one.
fn comings(
    part: &PartEvidence,
    stock: &Lag,
    assembled: Month,
    fitted: Option<Month>,
) -> Vec<(bool, Month, f64)> {
    let weight = |made| {
        if part.made_in.weights().iter().all(|weight| *weight == 1.0) { 1.0 } else { part.made_in.at(made) }
    };
    let mut comings = Vec::new();
    let mut add = |original: bool, into: Month, lag: &Lag, chance: f64| {
        let signs = if original { part.if_original } else { part.if_replaced };
        for (months, mass) in lag.masses().iter().enumerate() {
            let made = into - months as i32;
            comings.push((original, made, chance * mass * signs * weight(made)));
        }
    };
    if let Some(fitted) = fitted {
        add(false, fitted, stock, 1.0);
        return comings;
    }
    add(true, assembled, &part.lag, 1.0 - part.replaced);
    let later = inspected() - assembled;
    for after in 1..=later {
        add(false, assembled + after, stock, part.replaced / f64::from(later));
    }
    comings
}

/// Every way, for two parts that hang together with a share `together`, or not at all where it is 0.
fn every_way(instrument: &Instrument) -> Vec<Way> {
    let together = instrument.harnesses.first().map_or(0.0, |harness| harness.replaced_together);
    let mut ways = Vec::new();
    for assembled in instrument.assembly.months() {
        let told = instrument.whole.iter().map(|told| told.at(assembled)).product::<f64>();
        let later = inspected() - assembled;
        let fates = [(None, 1.0 - together)]
            .into_iter()
            .chain((1..=later).map(|after| (Some(assembled + after), together / f64::from(later))));
        for (fitted, chance) in fates.filter(|(_, chance)| *chance > 0.0) {
            let of = |part| comings(part, &instrument.stock, assembled, fitted);
            let others: f64 = instrument.parts[1..]
                .iter()
                .map(|part| of(part).iter().map(|(_, _, chance)| chance).sum::<f64>())
                .product();
            for (original, made, its) in of(&instrument.parts[0]) {
                ways.push(Way { assembled, original, made, share: told * chance * others * its });
            }
        }
    }
    let sum: f64 = ways.iter().map(|way| way.share).sum();
    ways.iter_mut().for_each(|way| way.share /= sum);
    ways
}

/// Information between two things counted over all ways, from entropies: `H(x) + H(y) − H(x, y)`.
fn information<X: Ord + Clone, Y: Ord + Clone>(pairs: &[(X, Y, f64)]) -> f64 {
    let (mut x, mut y, mut both) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
    for (one, other, share) in pairs {
        *x.entry(one.clone()).or_insert(0.0) += share;
        *y.entry(other.clone()).or_insert(0.0) += share;
        *both.entry((one.clone(), other.clone())).or_insert(0.0) += share;
    }
    entropy(x.values()) + entropy(y.values()) - entropy(both.values())
}

fn entropy<'s>(shares: impl Iterator<Item = &'s f64>) -> f64 {
    shares.filter(|share| **share > 0.0).map(|share| -share * libm::log2(*share)).sum()
}

/// What a look at the first part tells, by going through every way; outcomes as chances of each number.
fn by_every_way(instrument: &Instrument, outcomes: impl Fn(&Way) -> Vec<(usize, f64)>) -> [f64; 2] {
    let ways = every_way(instrument);
    let mut years = Vec::new();
    let mut sides = Vec::new();
    for way in &ways {
        for (outcome, chance) in outcomes(way) {
            years.push((way.assembled.year(), outcome, way.share * chance));
            sides.push((way.original, outcome, way.share * chance));
        }
    }
    [information(&years), information(&sides)]
}

fn standing(instrument: &Instrument) -> Standing {
    instrument.weigh().expect("can be weighed").standing(0).expect("not known to be new")
}

fn assert_near(worked_out: [f64; 2], gone_through: [f64; 2]) {
    for (one, other) in worked_out.into_iter().zip(gone_through) {
        assert!((one - other).abs() < ROUNDING, "{worked_out:?} and {gone_through:?}");
    }
}

fn told(instrument: &Instrument, outcomes: &Outcomes) -> [f64; 2] {
    let worth = standing(instrument).tells(outcomes, 1.0).expect("a look");
    [worth.year.value(), worth.original.value()]
}

/// Every kind of look at the first part of an instrument.
fn check_every_look(instrument: &Instrument) {
    let ordinal = |made: Month| (made - month(1900, 1)) as usize;
    assert_near(
        told(instrument, &Outcomes::Month),
        by_every_way(instrument, |way| vec![(ordinal(way.made), 1.0)]),
    );
    assert_near(
        told(instrument, &Outcomes::MonthInADecade),
        by_every_way(instrument, |way| vec![(ordinal(way.made) % 120, 1.0)]),
    );
    // A smudged last digit: 1963 or 1965, and months of each that might be either.
    let readings = [
        MadeIn::of(span(), (1..=12).map(|number| (month(1963, number), 1.0))),
        MadeIn::of(span(), (1..=12).map(|number| (month(1965, number), 0.5)).chain([(month(1963, 11), 3.0)])),
    ];
    let chances = |way: &Way| match (readings[0].at(way.made), readings[1].at(way.made)) {
        (0.0, 0.0) => vec![(2, 1.0)],
        (one, other) => vec![(0, one / (one + other)), (1, other / (one + other))],
    };
    assert_near(told(instrument, &Outcomes::Readings(readings.to_vec())), by_every_way(instrument, chances));
    let sign = |way: &Way| match way.original {
        true => vec![(0, 0.8), (1, 0.05), (2, 0.15)],
        false => vec![(0, 0.1), (1, 0.6), (2, 0.3)],
    };
    let signs = Outcomes::Signs(vec![(0.8, 0.1), (0.05, 0.6)]);
    assert_near(told(instrument, &signs), by_every_way(instrument, sign));
}

#[test]
fn a_part_on_its_own() {
    let others = marked(0.2, &[(1963, 9, 1.0), (1964, 2, 2.0)]);
    check_every_look(&instrument(vec![unmarked(0.3), others.clone()], vec![]));
    let half_read = marked(0.1, &[(1963, 11, 1.0), (1964, 11, 0.5), (1965, 3, 1.0), (1965, 8, 1.0)]);
    check_every_look(&instrument(vec![half_read, others], vec![]));
}

#[test]
fn a_part_of_a_harness() {
    let harness = || vec![Harness { members: vec![0, 1], replaced_together: 0.25 }];
    let later = marked(0.1, &[(1965, 7, 1.0), (1964, 1, 0.2)]);
    check_every_look(&instrument(vec![unmarked(0.05), later.clone()], harness()));
    let signed =
        PartEvidence { if_original: 0.3, if_replaced: 0.9, ..marked(0.0, &[(1965, 6, 1.0), (1964, 3, 1.0)]) };
    check_every_look(&instrument(vec![signed, later], harness()));
}

/// The table is of shares of the same whole that the weighing speaks of.
#[test]
fn the_standing_agrees_with_the_weighing() {
    let parts =
        vec![marked(0.1, &[(1963, 9, 1.0), (1964, 8, 0.3)]), unmarked(0.2), marked(0.3, &[(1965, 7, 1.0)])];
    let harness = Harness { members: vec![0, 2], replaced_together: 0.2 };
    let dated = instrument(parts, vec![harness]).weigh().expect("can be weighed");
    for part in 0..dated.parts() {
        let standing = dated.standing(part).expect("not known to be new");
        let sum = |rows: &[Vec<f64>]| rows.iter().flatten().sum::<f64>();
        let original = sum(standing.original());
        assert!((original + sum(standing.replaced()) - 1.0).abs() < ROUNDING);
        let shown = Probability::of_share(original).value();
        assert!((shown - dated.original(part).value()).abs() < ROUNDING);
        // The years of assembly, from the months' shares: as probabilities they would stop at the floor.
        for (row, year) in (1963..=1965).enumerate() {
            let months = dated.assembled().months().filter(|(month, _)| month.year() == year);
            let by_month: f64 = months.map(|(_, share)| share).sum();
            let by_row: f64 = standing.original()[row].iter().chain(&standing.replaced()[row]).sum();
            assert!((by_row - by_month).abs() < ROUNDING, "{year}");
        }
        let made = dated.part(part).made;
        for (at, month) in standing.made().months().enumerate().filter(|(_, month)| span().has(*month)) {
            let column: f64 = standing.original().iter().chain(standing.replaced()).map(|row| row[at]).sum();
            // Months before the span are cut from the one and not from the other, where nothing dates the part.
            assert!((column - made.at(month)).abs() < ROUNDING || part == 1, "{month}");
        }
    }
}

/// A date settles a year, less what the lag leaves open; a sign that is seen on both kinds of part alike says nothing; a
/// look that fails half the time tells half.
#[test]
fn looks_that_tell_all_nothing_and_half() {
    let rows = || vec![vec![0.25, 0.0], vec![0.0, 0.25]];
    let months = Span::new(month(1964, 1), month(1964, 2)).expect("in order");
    let standing = Standing::of(months, rows(), rows()).expect("a table");
    let tells = |outcomes, succeeds| {
        let worth = standing.tells(&outcomes, succeeds).expect("a look");
        [worth.year.value(), worth.original.value()]
    };
    assert_eq!(tells(Outcomes::Month, 1.0), [1.0, 0.0]);
    assert_eq!(tells(Outcomes::Month, 0.5), [0.5, 0.0]);
    assert_eq!(tells(Outcomes::Month, 0.0), [0.0, 0.0]);
    assert_eq!(tells(Outcomes::Signs(vec![(1.0, 0.0)]), 1.0), [0.0, 1.0]);
    assert_eq!(tells(Outcomes::Signs(vec![(0.25, 0.25), (0.5, 0.5)]), 1.0), [0.0, 0.0]);
    assert_eq!(tells(Outcomes::Readings(vec![MadeIn::nothing_known(months)]), 1.0), [0.0, 0.0]);
    let not_known = standing.not_known();
    assert_eq!((not_known.year.value(), not_known.original.value()), (1.0, 1.0));
}

#[test]
fn looks_are_ranked_for_each_question() {
    let known_new = PartEvidence { known_new: true, ..unmarked(0.5) };
    let parts = vec![unmarked(0.3), marked(0.3, &[(1964, 2, 1.0)]), known_new];
    let dated = instrument(parts, vec![]).weigh().expect("can be weighed");
    let look = |what, part, outcomes, minutes| NextLook { what, part, outcomes, succeeds: 0.9, minutes };
    let looks = vec![
        look("mark on the new part", 2, Outcomes::Month, 1.0),
        look("mark on the first", 0, Outcomes::Month, 1.0),
        look("solder of the second", 1, Outcomes::Signs(vec![(0.9, 0.1)]), 5.0),
        look("solder of the second, in a mirror", 1, Outcomes::Signs(vec![(0.9, 0.1)]), 2.0),
    ];
    let ranked = next_looks(&dated, looks).expect("ranked");
    let names = |of: &[Ranked<&'static str>]| of.iter().map(|look| look.look.what).collect::<Vec<_>>();
    assert_eq!(names(&ranked.about_the_year)[0], "mark on the first");
    // The same look with less trouble comes first.
    let place = |what: &str| names(&ranked.about_the_part).iter().position(|name| *name == what);
    assert!(place("solder of the second, in a mirror") < place("solder of the second"));
    assert_eq!(ranked.about_the_year[3].look.tells.value(), 0.0);
    assert_eq!(ranked.about_the_part.last().map(|look| look.look.what), Some("mark on the new part"));
}

#[test]
fn what_is_no_look_is_said() {
    let dated = instrument(vec![unmarked(0.3)], vec![]).weigh().expect("can be weighed");
    let fault = |part, outcomes, succeeds, minutes| {
        let look = NextLook { what: (), part, outcomes, succeeds, minutes };
        next_looks(&dated, vec![look]).expect_err("a fault").to_string()
    };
    assert!(fault(1, Outcomes::Month, 0.5, 1.0).contains("no part 2"));
    assert!(fault(0, Outcomes::Month, 1.5, 1.0).contains("1.5 is not a chance"));
    assert!(fault(0, Outcomes::Month, 0.5, 0.0).contains("0 minutes"));
    assert!(fault(0, Outcomes::Signs(vec![(-0.1, 0.5)]), 0.5, 1.0).contains("-0.1 is not a chance"));
    assert!(fault(0, Outcomes::Signs(vec![(0.7, 0.5), (0.6, 0.1)]), 0.5, 1.0).contains("only one of them"));
    assert!(fault(0, Outcomes::Signs(vec![]), 0.5, 1.0).contains("nothing can come"));
    assert!(fault(0, Outcomes::Readings(vec![]), 0.5, 1.0).contains("nothing can come"));
    let months = Span::new(month(1964, 1), month(1964, 2)).expect("in order");
    let table = |rows: Vec<Vec<f64>>| Standing::of(months, rows.clone(), rows);
    assert!(matches!(table(vec![vec![1.0]]), Err(LookFault::Look(_))));
    assert!(matches!(table(vec![vec![1.0, -1.0]]), Err(LookFault::Look(_))));
    assert!(matches!(table(vec![vec![0.0, 0.0]]), Err(LookFault::Look(_))));
}

/// A part with some months of making weighed, or none, and signs.
fn some_part() -> impl Strategy<Value = PartEvidence> {
    let months = prop::collection::vec((14_i32..47, 0.01_f64..1.0), 0..5);
    (months, 0.02_f64..0.9, 0.05_f64..1.0, 0.05_f64..1.0).prop_map(
        |(months, replaced, if_original, if_replaced)| {
            let made_in = match months.is_empty() {
                true => MadeIn::nothing_known(span()),
                false => {
                    MadeIn::of(span(), months.into_iter().map(|(at, weight)| (span().first + at, weight)))
                }
            };
            PartEvidence { made_in, if_original, if_replaced, ..unmarked(replaced) }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is on the parts, hung together or not, and whether or not it may have been put together in the very
    /// month of inspection.
    #[test]
    fn as_found_by_every_way(
        first in some_part(),
        second in some_part(),
        together in prop::option::of(0.02_f64..0.9),
        inspected_at_once in any::<bool>(),
    ) {
        let harness = |replaced_together| Harness { members: vec![0, 1], replaced_together };
        let mut instrument = instrument(vec![first, second], together.map(harness).into_iter().collect());
        if inspected_at_once {
            instrument.assembly = Span { first: assembly().first, last: inspected() };
        }
        // What no way explains is a fault of the weighing, with its own tests.
        prop_assume!(instrument.weigh().is_ok());
        check_every_look(&instrument);
    }

    /// Never below nothing, never more than is not known, and the full date never less than a part of it.
    #[test]
    fn between_nothing_and_all(
        shares in prop::collection::vec(prop::collection::vec(0.0_f64..1.0, 180), 6),
        seen in (0.0_f64..1.0, 0.0_f64..1.0),
        succeeds in 0.0_f64..1.0,
    ) {
        let months = Span::new(month(1950, 1), month(1964, 12)).expect("in order");
        let (original, replaced) = shares.split_at(3);
        let standing = Standing::of(months, original.to_vec(), replaced.to_vec()).expect("a table");
        let not_known = standing.not_known();
        let years = |first, last| MadeIn::of(months, Span::years(first, last).expect("in order").months().map(|month| (month, 1.0)));
        let looks = [
            Outcomes::Month,
            Outcomes::MonthInADecade,
            Outcomes::Readings(vec![years(1950, 1955), years(1954, 1960)]),
            Outcomes::Signs(vec![seen]),
        ];
        for outcomes in &looks {
            let worth = standing.tells(outcomes, succeeds).expect("a look");
            prop_assert!(worth.year.value() >= 0.0 && worth.original.value() >= 0.0);
            prop_assert!(worth.year <= not_known.year && worth.original <= not_known.original);
        }
        let [full, part] = [&looks[0], &looks[1]].map(|outcomes| standing.tells(outcomes, 1.0).expect("a look"));
        // A coarser outcome tells no more (data processing inequality, T. M. Cover and J. A. Thomas, Elements of
        // Information Theory, 2nd ed. 2006, 2.8); the sums differ by rounding.
        prop_assert!(part.year.value() <= full.year.value() + ROUNDING);
        prop_assert!(part.original.value() <= full.original.value() + ROUNDING);
    }
}
