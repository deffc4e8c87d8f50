//! How long the next look takes to find, and the smallest sets that reconcile.

use asfound_evidence::intervals::Claim;
use asfound_evidence::look::{NextLook, Outcomes, next_looks};
use asfound_evidence::repair::{Limits, Statement, repairs};
use asfound_evidence::{Dated, Days, Harness, Instrument, Lag, MadeIn, Month, PartEvidence, Span};
use divan::{Bencher, black_box};
use jiff::ToSpan;
use jiff::civil::date;

fn main() {
    divan::main();
}

/// Forty parts over eighty years of assembly: every other one without a mark read, ten of them in a harness.
fn forty_parts() -> Dated {
    let span = Span::years(1910, 2026).expect("in order");
    let part = |at: i32| {
        let year_digit = (1951..=2021).step_by(10).map(|year| (Month::january(year) + at % 30, 1.0));
        PartEvidence {
            made_in: if at % 2 == 0 { MadeIn::nothing_known(span) } else { MadeIn::of(span, year_digit) },
            lag: Lag::gamma(2.0, 3.0, 119).expect("a lag"),
            replaced: 0.15,
            if_original: 1.0,
            if_replaced: 1.0,
            known_new: false,
        }
    };
    let instrument = Instrument {
        assembly: Span::years(1947, 2026).expect("in order"),
        inspected: Month::december(2026),
        stock: Lag::geometric(24.0, 359).expect("a lag"),
        parts: (0..40).map(part).collect(),
        harnesses: vec![Harness { members: (0..10).collect(), replaced_together: 0.1 }],
        whole: vec![],
    };
    instrument.weigh().expect("can be weighed")
}

/// Wanted: below 1 s, for a mark and a sign at each of forty parts over 960 months.
#[divan::bench(sample_count = 10)]
fn eighty_looks_at_forty_parts(bencher: Bencher) {
    let dated = forty_parts();
    let look = |part: usize| {
        let mark = if part.is_multiple_of(2) { Outcomes::Month } else { Outcomes::MonthInADecade };
        [mark, Outcomes::Signs(vec![(0.8, 0.1)])].map(|outcomes| NextLook {
            what: part,
            part,
            outcomes,
            succeeds: 0.8,
            minutes: 5.0,
        })
    };
    let looks: Vec<NextLook<usize>> = (0..dated.parts()).flat_map(look).collect();
    bencher.bench(|| next_looks(black_box(&dated), looks.clone()));
}

/// A part with a code of one year digit.
fn one_year_digit(at: usize) -> Claim {
    let day = date(1945 + (at * 7 % 10) as i16, 1, 1) + ((at * 89 % 364) as i64).days();
    let made: Vec<Days> = (0..8).map(|decade: i64| Days::on(day + (10 * decade).years())).collect();
    Claim::part(&made, Some(36))
}

const ASKED: Days = Days { first: date(1945, 1, 1), last: date(2026, 11, 25) };

/// So many parts, every fifth in a harness with its neighbour.
#[divan::bench(args = [40, 500], sample_count = 10)]
fn smallest_sets(bencher: Bencher, parts: usize) {
    let rests_on = |at: usize| if at % 10 < 2 { vec![at, parts + at / 10] } else { vec![at] };
    let statements: Vec<Statement> =
        (0..parts).map(|at| Statement { claim: one_year_digit(at), rests_on: rests_on(at) }).collect();
    bencher.bench(|| repairs(ASKED, black_box(&statements), Limits::default()));
}

/// The worst there is: each rests on three things criss-cross, so that the work runs out. Wanted: below 5 s.
#[divan::bench(args = [500], sample_count = 3)]
fn until_the_work_runs_out(bencher: Bencher, parts: usize) {
    let rests_on = |at: usize| vec![at, (at * 31 + 7) % parts, (at * 53 + 11) % parts];
    let statements: Vec<Statement> =
        (0..parts).map(|at| Statement { claim: one_year_digit(at), rests_on: rests_on(at) }).collect();
    bencher.bench(|| repairs(ASKED, black_box(&statements), Limits::default()));
}
