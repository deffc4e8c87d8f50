//! What may be paid for a piece, what it is worth, what is to be done with it, what that costs and when it is ready.
//!
//! All of it is said in words at the entry line and read anew each time: the terms of a sale (`lot …`), the bench's own
//! terms (`work …`), tasks (`task …`), hours spent (`hours …`), what was agreed and what is due. What cannot be read is
//! answered with its place and what would be right, and everything else still stands. What is asked first, who pays and
//! whether it is to be kept, is never supposed; nor is what a tax is charged on.
//!
//! There is no clock here: the moment of the last entry is now.

mod bill;
mod ceiling;
mod lot;
mod order;
mod said;
mod spent;
mod task;
mod work;

pub use bill::{InvoiceAnswer, Way};
pub use ceiling::{Ask, CeilingAnswer, LotAnswer, USUAL_LOSS, ValueAnswer, WorkTaken};
pub use lot::{Comparable, LotSaid};
pub use order::{ChoiceAnswer, HIGH, HeldBy, LOW, Order, TurnAnswer};
pub use said::Unread;
pub(crate) use said::minutes;
pub use spent::{Curing, Spent, SpentOn};
pub use task::{Choice, TaskSaid};
pub use work::{Agreed, BenchSaid, Due, USUAL_HOURS, USUAL_ROOM};

pub use asfound_plan::billing::{Minutes, PartOfUnit};
pub use asfound_plan::fees::{Bill, Ceiling, Item, Line, Tax};
pub use asfound_plan::invoice::Owed;
pub use asfound_plan::library::{DEFERS, Reversible, Wait};
pub use asfound_plan::money::{Money, Rate};
pub use asfound_plan::risk::CeilingUnderRisk;
pub use asfound_plan::value::{Opinion, Rise, Says, State, Worth};
pub use asfound_plan::{Hours, ThreePoint};
pub use asfound_weigh::Probability as Chance;

use asfound_plan::Bench;
use asfound_plan::money::Currency;
use asfound_record::{Body, Hours1, Item as Kept, Job, Money1, Task1, Terms1};
use jiff::Timestamp;

use crate::before::Before;
use order::Around;

/// Of the terms of a sale, budget and values.
pub const LOT: &str = "lot";
/// Of the bench's own terms.
pub const WORK: &str = "work";
/// Of what was agreed.
pub const AGREED: &str = "agreed";
/// Of what is due.
pub const DUE: &str = "due";

/// Plans that were worked out before.
pub type PlannedBefore = Before<Question, Plan>;

/// What a plan is worked out from.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    terms: Vec<Kept<Terms1>>,
    tasks: Vec<Kept<Task1>>,
    hours: Vec<Kept<Hours1>>,
    money: Vec<Kept<Money1>>,
    now: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// What was said of the lot.
    pub said: LotSaid,
    /// Ceiling and value.
    pub lot: LotAnswer,
    /// What was said of the bench.
    pub bench: BenchSaid,
    /// Every task that stands.
    pub tasks: Vec<TaskSaid>,
    /// The choices in which something is to be done, and keeping it as it is.
    pub choices: Vec<ChoiceAnswer>,
    /// Hours.
    pub spent: Spent,
    /// What cures now.
    pub curing: Vec<Curing>,
    /// What was agreed, oldest first: the last stands, those before it are the log.
    pub agreed: Vec<Agreed>,
    /// What is due, the soonest first.
    pub due: Vec<Due>,
    /// What the invoice would say today; `None` while no rate or no hours are said.
    pub invoice: Option<InvoiceAnswer>,
    /// What could not be read, by entry.
    pub unread: Vec<Unread>,
    /// Why there is no calendar, one sentence without its stop.
    pub no_calendar: Option<String>,
}

/// Works out the plan of a job; the same answer again where nothing of it changed.
pub fn study(job: &Job, before: &PlannedBefore) -> Plan {
    before.answer(Question::of(job), |question| {
        let mut plan = read(question);
        plan.lay_out(&question.now);
        plan.lot = ceiling::answer(&plan);
        plan
    })
}

/// The tasks whose hands are not done, by name: what hours are written down for.
pub fn at_hand(job: &Job) -> Vec<String> {
    let done =
        |name: &str| job.hours.iter().any(|item| item.body.done && item.body.task.eq_ignore_ascii_case(name));
    let dropped = |name: &str| {
        let last = job.tasks.iter().rev().find(|other| other.body.task == name);
        last.is_some_and(|item| item.body.words == "dropped")
    };
    let mut names: Vec<String> = Vec::new();
    for name in job.tasks.iter().map(|item| &item.body.task) {
        if !done(name) && !names.iter().any(|known| known.eq_ignore_ascii_case(name)) && !dropped(name) {
            names.push(name.clone());
        }
    }
    names
}

/// Whether an entry tells sums of money, which one touch hides and a copy for a buyer leaves out. Of terms all count, since
/// a budget or a rate is typed in one line with the rest; of tasks and hours those that name a currency.
pub fn tells_money(body: &Body) -> bool {
    let names_currency = |words: &str| {
        words.split(|sign: char| !sign.is_ascii_alphanumeric()).any(|word| Currency::of(word).is_ok())
    };
    match body {
        Body::Money(_) | Body::Terms(_) => true,
        Body::Task(task) => names_currency(&task.words),
        Body::Hours(hours) => names_currency(&hours.words),
        _ => false,
    }
}

/// What cures now, without laying anything out.
pub fn curing(job: &Job) -> Vec<Curing> {
    if job.hours.is_empty() {
        return Vec::new();
    }
    let question = Question::of(job);
    let plan = read(&question);
    let bench = plan.bench.bench(&question.now);
    bench.map_or_else(|_| Vec::new(), |bench| plan.cures(&bench, now(&question.now)))
}

/// What an hour's work costs by the bench's own terms, with the last entry of them.
pub(crate) fn rate_said(job: &Job) -> Option<(Money, u64)> {
    let terms = job.terms.iter().filter(|item| item.body.of == WORK);
    let words = terms.clone().map(|item| (item.seq, item.body.words.as_str()));
    let rate = work::read(words, currency_of(&job.money)).rate?;
    Some((rate, terms.map(|item| item.seq).max()?))
}

impl Question {
    fn of(job: &Job) -> Question {
        Question {
            terms: job.terms.clone(),
            tasks: job.tasks.clone(),
            hours: job.hours.clone(),
            money: job.money.clone(),
            now: job.history.last().map(|line| line.at.clone()).unwrap_or_default(),
        }
    }
}

fn now(at: &str) -> Timestamp {
    work::moment_of(at).unwrap_or(Timestamp::UNIX_EPOCH)
}

/// All that was said, read; nothing laid out yet.
fn read(question: &Question) -> Plan {
    let of = |what: &'static str| question.terms.iter().filter(move |item| item.body.of == what);
    let words = |item: &'static str| of(item).map(|item| (item.seq, item.body.words.as_str()));
    let said = lot::read(words(LOT));
    let currency =
        said.currency.or_else(|| currency_of(&question.money)).or_else(|| first_currency(question));
    let said = LotSaid { currency, ..said };
    let bench = work::read(words(WORK), currency);
    let mut unread: Vec<Unread> = said.unread.iter().chain(&bench.unread).cloned().collect();
    let mut keep =
        |read: Result<Option<TaskSaid>, Unread>| read.map_err(|fault| unread.push(fault)).ok().flatten();
    let tasks: Vec<TaskSaid> = latest(&question.tasks)
        .filter_map(|item| keep(task::read(item.seq, &item.body.task, &item.body.words, currency)))
        .collect();
    let agreed = of(AGREED).map(|item| work::read_agreed(item.seq, &item.at, &item.body.words, currency));
    let agreed = readable(agreed, &mut unread);
    let mut due =
        readable(of(DUE).map(|item| work::read_due(item.seq, &item.at, &item.body.words)), &mut unread);
    due.sort_by_key(|due| (due.day, due.seq));
    let spent = spent::add_up(&question.hours, &tasks);
    Plan {
        lot: LotAnswer::default(),
        invoice: bill::answer(&question.hours, &question.money, &bench),
        said,
        bench,
        tasks,
        choices: Vec::new(),
        spent,
        curing: Vec::new(),
        agreed,
        due,
        unread,
        no_calendar: None,
    }
}

impl Plan {
    /// The choices, laid out from now on.
    fn lay_out(&mut self, now: &str) {
        let bench = match self.bench.bench(now) {
            Ok(bench) => bench,
            Err(fault) => {
                self.no_calendar = Some(fault.to_string());
                return;
            }
        };
        let now = self::now(now);
        let ceiling = self.ceiling_agreed();
        let around = Around { said: &self.bench, bench: &bench, now, spent: &self.spent, ceiling };
        let choices = Choice::ALL.into_iter().filter(|choice| self.is_open(*choice));
        let choices: Vec<ChoiceAnswer> =
            choices.map(|choice| order::lay_out(choice, &self.tasks, &around)).collect();
        self.curing = self.cures(&bench, now);
        self.choices = choices;
    }

    fn cures(&self, bench: &Bench, now: Timestamp) -> Vec<Curing> {
        let room = self.bench.room.unwrap_or(USUAL_ROOM);
        self.spent.curing(&self.tasks, room, bench, now)
    }

    /// Keeping it is always a choice beside something to be done; the others are where a task says so, and restoring it
    /// also where tasks say nothing of it.
    fn is_open(&self, choice: Choice) -> bool {
        let named = |choice| self.tasks.iter().any(|task| task.choices.contains(&choice));
        match choice {
            Choice::Keep => !self.tasks.is_empty(),
            Choice::Playable => named(choice),
            Choice::Restore => named(choice) || (!self.tasks.is_empty() && !named(Choice::Playable)),
        }
    }

    /// The choice that was agreed last.
    pub fn choice_agreed(&self) -> Option<Choice> {
        self.agreed.iter().rev().find_map(|agreed| agreed.choice)
    }

    /// The sum that must not be passed without asking.
    pub fn ceiling_agreed(&self) -> Option<Money> {
        self.agreed.iter().rev().find_map(|agreed| agreed.ceiling)
    }

    /// The choice whose order of work is shown: the one agreed, else the fullest.
    pub fn shown(&self) -> Option<&ChoiceAnswer> {
        let agreed = self.choice_agreed();
        let of = |choice| self.choices.iter().find(|it| Some(it.choice) == choice);
        of(agreed).or_else(|| self.choices.iter().rev().find(|it| !it.tasks.is_empty()))
    }
}

fn readable<T>(read: impl Iterator<Item = Result<T, Unread>>, unread: &mut Vec<Unread>) -> Vec<T> {
    read.filter_map(|one| one.map_err(|fault| unread.push(fault)).ok()).collect()
}

/// Of one name the latest, in the order in which the names were first said.
fn latest(tasks: &[Kept<Task1>]) -> impl Iterator<Item = &Kept<Task1>> {
    let named = |one: &Kept<Task1>, other: &Kept<Task1>| one.body.task.eq_ignore_ascii_case(&other.body.task);
    let firsts =
        tasks.iter().enumerate().filter(move |(at, item)| !tasks[..*at].iter().any(|it| named(it, item)));
    firsts.filter_map(move |(_, first)| tasks.iter().rev().find(|item| named(item, first)))
}

fn currency_of(money: &[Kept<Money1>]) -> Option<Currency> {
    money.iter().find_map(|item| Currency::of(&item.body.currency).ok())
}

/// The first currency that any other words name.
fn first_currency(question: &Question) -> Option<Currency> {
    let terms = question.terms.iter().map(|item| item.body.words.as_str());
    let tasks = question.tasks.iter().map(|item| item.body.words.as_str());
    let words = |text: &'_ str| {
        text.split(|sign: char| !sign.is_ascii_alphanumeric()).find_map(|word| Currency::of(word).ok())
    };
    terms.chain(tasks).find_map(words)
}

/// Whether words of a kind can be read at the entry line; what is there already stands beside them.
pub(crate) fn check(job: &Job, of: &str, words: &str) -> Result<(), Unread> {
    let lots = job.terms.iter().filter(|item| item.body.of == LOT);
    let lots = lots.map(|item| (item.seq, item.body.words.as_str()));
    let typed = u64::MAX;
    let known = lot::read(lots.clone().chain((of == LOT).then_some((typed, words)))).currency;
    let currency = known.or_else(|| currency_of(&job.money));
    let unread = match of {
        LOT => lot::read(lots.chain([(typed, words)])).unread,
        WORK => work::read([(typed, words)].into_iter(), currency).unread,
        AGREED => work::read_agreed(typed, "", words, currency).err().into_iter().collect(),
        _ => {
            let at = job.history.last().map_or("1970-01-01T00:00:00+00:00", |line| &line.at);
            work::read_due(typed, at, words).err().into_iter().collect()
        }
    };
    unread.into_iter().find(|unread| unread.seq == typed).map_or(Ok(()), Err)
}

/// Whether a task can be read at the entry line.
pub(crate) fn check_task(job: &Job, name: &str, words: &str) -> Result<(), Unread> {
    let lots = job.terms.iter().map(|item| item.body.words.as_str());
    let known = lot::read(lots.map(|words| (0, words))).currency.or_else(|| currency_of(&job.money));
    task::read(u64::MAX, name, words, known).map(|_| ())
}
