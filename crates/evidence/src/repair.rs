//! Where marks and documents contradict one another: every smallest set of things whose giving up reconciles the rest.
//!
//! A statement bounds the day of assembly and rests on things: that this part is the first one fitted, that the harness
//! was never changed as a whole, that the receipt belongs to this instrument. Give up one of them and the statement
//! bounds nothing. What is given up is always named; nothing is dropped in silence, and which of the ways is true is for
//! a person to find out.
//!
//! **Why it is enough to look at a few days.** Let `S_i` be the days that statement `i` allows, a union of windows. Giving
//! up a set `X` reconciles the rest exactly when some day `d` lies in every `S_i` that is left; that is, when `X` hits
//! (holds a thing of) each statement that does not allow `d`. So the ways are the sets that hit all statements against
//! some day, and the smallest way is the smallest over all days. Moving `d` back to the latest first day of any window at
//! or before it leaves no window that held `d`: a window with `d` in it began no later than that first day. So no
//! statement is added to those against, and only the first days of windows (and the first day asked about) need be
//! tried: at most one more than there are windows, however long the years between. This is the one-dimensional case of
//! E. Helly's theorem (Jahresbericht der Deutschen Mathematiker-Vereinigung 32, 175, 1923) put to use.
//!
//! Where each statement rests on one thing alone, the set for a day is simply the things against it, and the answer is
//! exact at once for any number of parts. In particular, with a document that is not doubted and no longest lag, the
//! smallest set is the parts whose earliest day lies after the document. Where statements rest on several things, a day's
//! smallest set is a smallest hitting set (R. M. Karp, *Reducibility among combinatorial problems*, 1972), found by
//! branch and bound. Its bound: statements against a day that share no thing need one thing each, so no way is smaller
//! than a packing of such statements; over all days, than the smallest of these packings. Where the work allowed runs
//! out, this bound is told beside the smallest set found.

use crate::Days;
use crate::intervals::{Claim, at_odds, what_allow};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// What is claimed, and what the claim rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// The days of assembly it allows.
    pub claim: Claim,
    /// The things it rests on, by number; if one of them is given up it says nothing. With none it cannot be given up.
    pub rests_on: Vec<usize>,
}

/// How much work may be done, and how much is to be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Choices tried at most, all together.
    pub steps: u32,
    /// Ways told at most.
    pub listed: usize,
    /// Ways are told that give up as many as so many things more than the smallest: one wrong receipt is the smallest
    /// set, but two changed parts may be the likelier story.
    pub beyond: usize,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits { steps: 50_000, listed: 50, beyond: 2 }
    }
}

/// One way to reconcile what is left: nothing in it can be spared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repair {
    /// The things given up, by number, in order.
    pub given_up: Vec<usize>,
    /// The days of assembly that are possible then.
    pub days: Vec<Days>,
}

/// The ways to reconcile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repairs {
    /// Those found, the fewest things first. Where nothing contradicts it is one, that gives up nothing.
    pub ways: Vec<Repair>,
    /// Proved: no way gives up fewer things.
    pub at_least: usize,
    /// Proved: every way that gives up so many things or fewer is among those told. `None`: not even all of the smallest.
    pub complete_to: Option<usize>,
}

impl Repairs {
    /// How many things the smallest way found gives up.
    pub fn fewest(&self) -> usize {
        self.ways[0].given_up.len()
    }

    /// The ways found that give up the fewest things.
    pub fn smallest(&self) -> impl Iterator<Item = &Repair> {
        self.ways.iter().take_while(|way| way.given_up.len() == self.fewest())
    }

    /// How many things fewer a way not found might give up; 0 where the smallest is proved.
    pub fn gap(&self) -> usize {
        self.fewest() - self.at_least
    }
}

/// Statements that rest on nothing, and so cannot be given up, contradict one another.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "statements that rest on nothing contradict one another; say of one of them at least what would be wrong if it did not hold"
)]
pub struct Firm(
    /// Those statements, by their place in the list.
    pub Vec<usize>,
);

/// The ways to reconcile statements on the days asked about.
///
/// # Errors
/// [`Firm`] where giving up everything would not do.
///
/// A control of 1964 and a choke of 1972, and a receipt of 1965: the choke is later, or the receipt belongs elsewhere.
/// ```
/// use asfound_evidence::Days;
/// use asfound_evidence::intervals::Claim;
/// use asfound_evidence::repair::{Limits, Statement, repairs};
/// use jiff::civil::date;
/// let asked = Days::new(date(1945, 1, 1), date(2026, 11, 25)).expect("in order");
/// let (control, choke, receipt) = (0, 1, 2);
/// let statements = [
///     Statement { claim: Claim::not_before(date(1964, 3, 9)), rests_on: vec![control] },
///     Statement { claim: Claim::not_before(date(1972, 1, 31)), rests_on: vec![choke] },
///     Statement { claim: Claim::not_after(date(1965, 6, 30)), rests_on: vec![receipt] },
/// ];
/// let found = repairs(asked, &statements, Limits::default())?;
/// let given_up: Vec<_> = found.smallest().map(|way| way.given_up.clone()).collect();
/// assert_eq!(given_up, [vec![choke], vec![receipt]]);
/// assert_eq!(found.ways[0].days[0].to_string(), "1964-03-09/1965-06-30");
/// # Ok::<(), asfound_evidence::repair::Firm>(())
/// ```
pub fn repairs(asked: Days, statements: &[Statement], limits: Limits) -> Result<Repairs, Firm> {
    let against = against_each_day(asked, statements);
    if against.is_empty() {
        return Err(firm(asked, statements));
    }
    let mut search = Search::new(asked, statements, &against, limits);
    let at_least = search.find_smallest();
    let complete_to = if search.out_of_steps { None } else { search.list_ways() };
    Ok(Repairs { ways: search.ways(), at_least, complete_to })
}

/// The statements that rest on nothing and contradict one another.
fn firm(asked: Days, statements: &[Statement]) -> Firm {
    let firm: Vec<usize> = (0..statements.len()).filter(|at| statements[*at].rests_on.is_empty()).collect();
    let days: Vec<Vec<Days>> = firm.iter().map(|at| statements[*at].claim.days()).collect();
    Firm(at_odds(asked, &days).into_iter().map(|at| firm[at]).collect())
}

/// What stands against one day: of each set one thing at least must be given up.
struct Against {
    /// Those with the fewest things first, so that the packing takes the narrow ones.
    sets: Vec<Vec<usize>>,
    /// No fewer things need be given up for this day.
    bound: usize,
}

/// What stands against each day to be tried, the most promising first. A day is left out where a statement that cannot
/// be given up stands against it, or where the same stands against it as against another.
fn against_each_day(asked: Days, statements: &[Statement]) -> Vec<Against> {
    let firsts = statements.iter().flat_map(|statement| statement.claim.windows()).map(|window| window.first);
    let days: BTreeSet<Date> = firsts.chain([asked.first]).filter(|day| asked.has(*day)).collect();
    let refuse =
        |day| (0..statements.len()).filter(|at| !statements[*at].claim.allows(day)).collect::<Vec<_>>();
    let different: BTreeSet<Vec<usize>> = days.into_iter().map(refuse).collect();
    let open = vec![Choice::Open; things(statements)];
    let mut against: Vec<Against> = different
        .iter()
        .map(|refusing| sets(refusing.iter().map(|at| statements[*at].rests_on.as_slice())))
        .filter(|sets| sets.iter().all(|set| !set.is_empty()))
        .map(|sets| Against { bound: packing(&sets, &open), sets })
        .collect();
    against.sort_by_key(|day| day.bound);
    against
}

/// Lists of things as sets, each once, the narrow ones first.
fn sets<'s>(lists: impl Iterator<Item = &'s [usize]>) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = lists.map(<[usize]>::to_vec).collect();
    for set in &mut sets {
        set.sort_unstable();
        set.dedup();
    }
    sets.sort_by(|one, other| (one.len(), one).cmp(&(other.len(), other)));
    sets.dedup();
    sets
}

/// One more than the highest number of a thing.
fn things(statements: &[Statement]) -> usize {
    statements.iter().flat_map(|statement| &statement.rests_on).max().map_or(0, |most| most + 1)
}

/// What is decided of a thing on a branch.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Choice {
    Open,
    GivenUp,
    Kept,
}

/// Whether a set has a thing given up.
fn is_hit(set: &[usize], choices: &[Choice]) -> bool {
    set.iter().any(|thing| choices[*thing] == Choice::GivenUp)
}

/// How many sets not hit yet share no open thing with one another, taken greedily: each needs one more thing.
fn packing(sets: &[Vec<usize>], choices: &[Choice]) -> usize {
    let mut used = vec![false; choices.len()];
    let mut packed = 0;
    for set in sets.iter().filter(|set| !is_hit(set, choices)) {
        let open = || set.iter().filter(|thing| choices[**thing] == Choice::Open);
        if open().all(|thing| !used[*thing]) {
            packed += 1;
            open().for_each(|thing| used[*thing] = true);
        }
    }
    packed
}

/// A way for one day, not always the smallest: again and again the thing that the most sets not hit yet have.
fn greedy(sets: &[Vec<usize>], things: usize) -> Vec<usize> {
    let mut choices = vec![Choice::Open; things];
    let mut given_up = Vec::new();
    loop {
        let mut counts = vec![0_usize; things];
        for thing in sets.iter().filter(|set| !is_hit(set, &choices)).flatten() {
            counts[*thing] += 1;
        }
        match (0..things).rev().max_by_key(|thing| counts[*thing]) {
            Some(most) if counts[most] > 0 => {
                choices[most] = Choice::GivenUp;
                given_up.push(most);
            }
            _ => return given_up,
        }
    }
}

/// What the search looks for on its branches.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wanted {
    /// Any way smaller than the smallest so far.
    Smaller,
    /// All ways of this size.
    Size(usize),
}

/// The search over the days, one after the other.
struct Search<'s> {
    asked: Days,
    statements: &'s [Statement],
    against: &'s [Against],
    /// What each statement allows.
    days: Vec<Vec<Days>>,
    limits: Limits,
    steps_left: u32,
    out_of_steps: bool,
    choices: Vec<Choice>,
    given_up: Vec<usize>,
    smallest: Vec<usize>,
    found: BTreeSet<(usize, Vec<usize>)>,
    more_than_listed: bool,
}

impl<'s> Search<'s> {
    fn new(asked: Days, statements: &'s [Statement], against: &'s [Against], limits: Limits) -> Search<'s> {
        let things = things(statements);
        Search {
            asked,
            statements,
            against,
            days: statements.iter().map(|statement| statement.claim.days()).collect(),
            limits,
            steps_left: limits.steps,
            out_of_steps: false,
            choices: vec![Choice::Open; things],
            given_up: Vec::new(),
            smallest: (0..things).collect(),
            found: BTreeSet::new(),
            more_than_listed: false,
        }
    }

    /// Finds a smallest way, and answers how many things are proved to be needed.
    fn find_smallest(&mut self) -> usize {
        for day in self.against {
            if day.bound >= self.smallest.len() {
                break;
            }
            let greedy = greedy(&day.sets, self.choices.len());
            if greedy.len() < self.smallest.len() {
                self.smallest = greedy;
            }
        }
        for day in self.against {
            // The days come by their bound: none after this one can do better either.
            if day.bound >= self.smallest.len() {
                break;
            }
            self.branch(&day.sets, Wanted::Smaller);
            if self.out_of_steps {
                return day.bound.min(self.smallest.len());
            }
        }
        self.smallest.len()
    }

    /// Lists the ways, smaller ones first, and answers up to which size none is missing.
    fn list_ways(&mut self) -> Option<usize> {
        let mut complete = None;
        for size in self.smallest.len()..=self.smallest.len() + self.limits.beyond {
            for day in self.against.iter().take_while(|day| day.bound <= size) {
                self.branch(&day.sets, Wanted::Size(size));
            }
            if self.out_of_steps || self.more_than_listed {
                break;
            }
            complete = Some(size);
        }
        complete
    }

    /// Goes through the choices that are left for a day.
    fn branch(&mut self, sets: &[Vec<usize>], wanted: Wanted) {
        if self.out_of_steps || self.more_than_listed {
            return;
        }
        self.out_of_steps = self.steps_left == 0;
        self.steps_left = self.steps_left.saturating_sub(1);
        let most = match wanted {
            Wanted::Smaller => self.smallest.len() - 1,
            Wanted::Size(size) => size,
        };
        if self.given_up.len() + packing(sets, &self.choices) > most {
            return;
        }
        let open =
            |set: &&Vec<usize>| set.iter().filter(|thing| self.choices[**thing] == Choice::Open).count();
        match sets.iter().filter(|set| !is_hit(set, &self.choices)).min_by_key(open) {
            None => self.take(wanted),
            Some(narrowest) => self.branch_on(sets, narrowest, wanted),
        }
    }

    /// One of the open things of a set must go: the first, or the second and not the first, and so on.
    fn branch_on(&mut self, sets: &[Vec<usize>], narrowest: &[usize], wanted: Wanted) {
        let open: Vec<usize> =
            narrowest.iter().copied().filter(|thing| self.choices[*thing] == Choice::Open).collect();
        for thing in &open {
            self.choices[*thing] = Choice::GivenUp;
            self.given_up.push(*thing);
            self.branch(sets, wanted);
            self.given_up.pop();
            self.choices[*thing] = Choice::Kept;
        }
        for thing in open {
            self.choices[thing] = Choice::Open;
        }
    }

    /// Keeps the way at hand, where it is one that is wanted.
    fn take(&mut self, wanted: Wanted) {
        let mut way = self.given_up.clone();
        way.sort_unstable();
        match wanted {
            Wanted::Smaller => self.smallest = way,
            Wanted::Size(size) if way.len() == size && self.spares_nothing() => {
                let way = (size, way);
                if self.found.len() < self.limits.listed || self.found.contains(&way) {
                    self.found.insert(way);
                } else {
                    self.more_than_listed = true;
                }
            }
            Wanted::Size(_) => {}
        }
    }

    /// Whether nothing of the way at hand can be spared: on every day that it serves, each of its things is the only one
    /// given up of some set.
    fn spares_nothing(&self) -> bool {
        let mut only_one = vec![usize::MAX; self.choices.len()];
        self.against.iter().enumerate().all(|(number, day)| {
            let serves = day.sets.iter().all(|set| is_hit(set, &self.choices));
            if serves {
                for set in &day.sets {
                    let mut hits = set.iter().filter(|thing| self.choices[**thing] == Choice::GivenUp);
                    if let (Some(thing), None) = (hits.next(), hits.next()) {
                        only_one[*thing] = number;
                    }
                }
            }
            !serves || self.given_up.iter().all(|thing| only_one[*thing] == number)
        })
    }

    /// The days that are possible where some things are given up.
    fn days_without(&self, given_up: &[usize]) -> Vec<Days> {
        let falls = |statement: &Statement| statement.rests_on.iter().any(|thing| given_up.contains(thing));
        let left: Vec<usize> =
            (0..self.statements.len()).filter(|at| !falls(&self.statements[*at])).collect();
        what_allow(self.asked, &self.days, &left)
    }

    /// A way less everything in it that can be spared.
    fn without_spare(&self, mut way: Vec<usize>) -> Vec<usize> {
        way.sort_unstable();
        for thing in way.clone() {
            let rest: Vec<usize> = way.iter().copied().filter(|other| *other != thing).collect();
            if !self.days_without(&rest).is_empty() {
                way = rest;
            }
        }
        way
    }

    /// What was found, the smallest first.
    fn ways(self) -> Vec<Repair> {
        let mut found: Vec<Vec<usize>> = self.found.iter().map(|(_, way)| way.clone()).collect();
        if found.is_empty() {
            found.push(self.without_spare(self.smallest.clone()));
        }
        found.into_iter().map(|given_up| Repair { days: self.days_without(&given_up), given_up }).collect()
    }
}
