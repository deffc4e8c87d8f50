//! Instruments drawn from stated assumptions, of which everything is known, and what the weighing says of them.

use asfound_evidence::{
    Assumptions, Harness, Instrument, Lag, MadeIn, Matter, Month, PartEvidence, PartSort, Span,
    replacement_stock,
};
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// What there was, which the weighing is not told.
struct Truth {
    assembled: Month,
    original: Vec<bool>,
}

/// What was said of many instruments, beside what was true.
#[derive(Default)]
pub(crate) struct Record {
    /// For each instrument, the share of the months named as the most probable 95 %, and whether the true month is
    /// among them.
    pub(crate) months: Vec<(f64, bool)>,
    /// For each part, how probable it was said to be original, and whether it is.
    pub(crate) parts: Vec<(f64, bool)>,
}

/// Statements of like probability: how many, the mean probability stated, the share that was true.
pub(crate) struct Class {
    pub(crate) number: usize,
    pub(crate) stated: f64,
    pub(crate) came_true: f64,
    variance: f64,
}

impl Record {
    /// Share of instruments whose true month is among those named.
    pub(crate) fn coverage(&self) -> f64 {
        self.months.iter().filter(|(_, held)| *held).count() as f64 / self.months.len() as f64
    }

    /// The mean share of the months named: somewhat more than 95 %, for months are whole.
    pub(crate) fn named(&self) -> f64 {
        self.months.iter().map(|(share, _)| share).sum::<f64>() / self.months.len() as f64
    }

    /// Parts by tenths of the probability stated.
    pub(crate) fn tenths(&self) -> Vec<Class> {
        let class = |tenth: usize| {
            let of: Vec<_> =
                self.parts.iter().filter(|(stated, _)| (stated * 10.0) as usize == tenth).copied().collect();
            let number = of.len().max(1) as f64;
            Class {
                number: of.len(),
                stated: of.iter().map(|(stated, _)| stated).sum::<f64>() / number,
                came_true: of.iter().filter(|(_, original)| *original).count() as f64 / number,
                variance: of.iter().map(|(stated, _)| stated * (1.0 - stated)).sum::<f64>()
                    / (number * number),
            }
        };
        (0..10).map(class).collect()
    }

    /// Sum over the tenths of the squared difference between stated and true, over its variance: a chi-square of so
    /// many degrees of freedom if what is stated comes true as often as stated (D. W. Hosmer and S. Lemeshow,
    /// Communications in Statistics A9, 1043 (1980), with probabilities not fitted to these parts).
    pub(crate) fn chi_square(&self) -> (f64, usize) {
        let classes = self.tenths();
        let met = classes.iter().filter(|class| class.number >= 5);
        let part = |class: &Class| {
            (class.came_true - class.stated) * (class.came_true - class.stated) / class.variance
        };
        (met.clone().map(part).sum(), met.count())
    }
}

/// So many instruments, drawn with some assumptions and weighed with others.
pub(crate) fn drawn(instruments: u64, truly: &Assumptions, assumed: &Assumptions) -> Record {
    let mut record = Record::default();
    for seed in 0..instruments {
        let mut chance = Chance(ChaCha12Rng::seed_from_u64(seed));
        let (instrument, truth) = instrument(&mut chance, truly, assumed);
        let dated = instrument.weigh().expect("what was drawn can be");
        let named = dated.assembled().highest(0.95);
        let share = named.iter().flat_map(|run| run.months()).map(|month| dated.assembled().at(month)).sum();
        record.months.push((share, named.iter().any(|run| run.has(truth.assembled))));
        let stated = (0..instrument.parts.len()).map(|part| dated.original(part).value());
        record.parts.extend(stated.zip(truth.original));
    }
    record
}

struct Chance(ChaCha12Rng);

impl Chance {
    fn share(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn happens(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    /// One of the numbers from 0 to below.
    fn below(&mut self, end: i32) -> i32 {
        (self.share() * f64::from(end)) as i32
    }

    fn wait(&mut self, lag: &Lag) -> i32 {
        let mut left = self.share();
        for (months, mass) in lag.masses().iter().enumerate() {
            left -= mass;
            if left < 0.0 {
                return months as i32;
            }
        }
        lag.masses().len() as i32 - 1
    }
}

const SORTS: [PartSort; 8] = [
    PartSort::Pot,
    PartSort::Switch,
    PartSort::Capacitor,
    PartSort::Speaker,
    PartSort::Transformer,
    PartSort::Valve,
    PartSort::Coil,
    PartSort::Guard,
];

/// Old joints of an original part look undisturbed, those of a part put in later seldom do.
const UNDISTURBED: (f64, f64) = (0.8, 0.25);

fn instrument(chance: &mut Chance, truly: &Assumptions, assumed: &Assumptions) -> (Instrument, Truth) {
    let assembly = Span::years(1950, 1979).expect("a span");
    let inspected = Month::january(2024);
    let assembled = assembly.first + chance.below(assembly.len() as i32);
    let number = 2 + chance.below(9) as usize;
    let members: Vec<usize> = (0..if chance.happens(0.5) { 2 } else { 0 }).collect();
    let together = chance.happens(truly.value(Matter::HarnessReplaced));
    let fitted_later = |chance: &mut Chance| assembled + 1 + chance.below(inspected - assembled);
    let with_the_harness = fitted_later(chance);
    let (mut parts, mut original) = (Vec::new(), Vec::new());
    for place in 0..number {
        let sort = SORTS[chance.below(SORTS.len() as i32) as usize];
        let fitted = if members.contains(&place) && together {
            Some(with_the_harness)
        } else {
            chance.happens(sort.replaced(truly)).then(|| fitted_later(chance))
        };
        let made = match fitted {
            None => assembled - chance.wait(&sort.lag(truly)),
            Some(fitted) => fitted - chance.wait(&replacement_stock(truly)),
        };
        parts.push(found(chance, sort, made, fitted.is_none(), truly, assumed));
        original.push(fitted.is_none());
    }
    let replaced_together = assumed.value(Matter::HarnessReplaced);
    let harnesses = if members.is_empty() { vec![] } else { vec![Harness { members, replaced_together }] };
    let stock = replacement_stock(assumed);
    let instrument = Instrument { assembly, inspected, stock, parts, harnesses, whole: vec![] };
    (instrument, Truth { assembled, original })
}

/// What is found on a part: a code of one of three kinds, or none; and how its joints look.
fn found(
    chance: &mut Chance,
    sort: PartSort,
    made: Month,
    original: bool,
    truly: &Assumptions,
    assumed: &Assumptions,
) -> PartEvidence {
    let span = Span::new(Month::january(1890), Month::january(2024)).expect("a span");
    let misread = chance.happens(truly.value(Matter::CodeMisread));
    let read = if misread { span.first + chance.below(span.len() as i32) } else { made };
    let alike: fn(Month, Month) -> bool = match chance.below(4) {
        0 => |month, read| month == read,
        1 => |month, read| month.number() == read.number() && month.year() % 10 == read.year() % 10,
        2 => |month, read| month.year() == read.year(),
        _ => |_, _| true,
    };
    let months = span.months().filter(|month| alike(*month, read)).map(|month| (month, 1.0));
    let undisturbed = chance.happens(if original { UNDISTURBED.0 } else { UNDISTURBED.1 });
    let joints =
        |undisturbed_share: f64| if undisturbed { undisturbed_share } else { 1.0 - undisturbed_share };
    PartEvidence {
        made_in: MadeIn::of(span, months).doubted(assumed.value(Matter::CodeMisread)),
        lag: sort.lag(assumed),
        replaced: sort.replaced(assumed),
        if_original: joints(UNDISTURBED.0),
        if_replaced: joints(UNDISTURBED.1),
        known_new: false,
    }
}
