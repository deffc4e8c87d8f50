//! What it costs to weigh an instrument of many parts over eighty years, all results of the parts included.

use asfound_evidence::{
    Assumptions, Harness, Instrument, MadeIn, Month, PartEvidence, PartSort, Span, decide, replacement_stock,
};

fn main() {
    divan::main();
}

/// Parts whose codes give the last digit of the year and the month, each read wrongly with a share of doubt, so that no
/// month is without weight; eight of them in a harness.
fn instrument(parts: usize, assumptions: &Assumptions) -> Instrument {
    let span = Span::years(1910, 2025).expect("a span");
    let part = |place: usize| {
        let alike =
            move |month: &Month| month.year() % 10 == 4 && usize::from(month.number()) == 1 + place % 5;
        let sort = if place.is_multiple_of(4) { PartSort::Valve } else { PartSort::Pot };
        PartEvidence {
            made_in: MadeIn::of(span, span.months().filter(alike).map(|month| (month, 1.0))).doubted(0.02),
            lag: sort.lag(assumptions),
            replaced: sort.replaced(assumptions),
            if_original: 0.8,
            if_replaced: 0.3,
            known_new: false,
        }
    };
    Instrument {
        assembly: Span::years(1945, 2024).expect("a span"),
        inspected: Month::december(2025),
        stock: replacement_stock(assumptions),
        parts: (0..parts).map(part).collect(),
        harnesses: vec![Harness { members: (0..8).collect(), replaced_together: 0.1 }],
        whole: vec![],
    }
}

#[divan::bench(args = [10, 40, 500])]
fn everything_said(bencher: divan::Bencher, parts: usize) {
    let instrument = instrument(parts, &Assumptions::default());
    bencher.bench(|| {
        let dated = instrument.weigh().expect("it can be weighed");
        let each = (0..parts)
            .map(|part| dated.part(part).original.value() + dated.replaced_within(part, 36).value());
        (dated.assembled().highest(0.95), each.sum::<f64>())
    });
}

#[divan::bench(args = [10, 40])]
fn within_all_ranges(bencher: divan::Bencher, parts: usize) {
    bencher.bench(|| {
        let build = |assumptions: &Assumptions| instrument(parts, assumptions);
        decide(&Assumptions::default(), build).expect("it can be weighed").parts.len()
    });
}
