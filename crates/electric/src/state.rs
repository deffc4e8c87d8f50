//! What a circuit's state is: its unknown joins decided, its switches and knobs set, a load at the jack, and
//! whatever an experiment changes.

use asfound_measure::{Farads, Ohms};

use crate::circuit::{Circuit, JoinTo, Sort, Terminal};

/// A switch that stands between a position and the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OnTheWay {
    /// Which switch, counted as in [`Setting::positions`].
    pub switch: usize,
    /// Whether the contacts of both neighbours touch, one of [`crate::Between::ways`]; otherwise nothing
    /// does.
    pub both_touch: bool,
}

/// How the switches and knobs stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Position of each switch, in part order.
    pub positions: Vec<usize>,
    /// A switch on its way from its position to the next, if one is. A hand moves one switch at a time.
    pub on_the_way: Option<OnTheWay>,
    /// Turn of each pot, in part order: 0 is the wiper at lug 1, 1 at lug 3.
    pub wipers: Vec<f64>,
}

impl Setting {
    /// Every switch in its first position and every knob full up.
    pub fn first(circuit: &Circuit) -> Self {
        let wipers = vec![1.0; circuit.pots().count()];
        Self { positions: vec![0; circuit.switches().count()], on_the_way: None, wipers }
    }

    /// Every combination of switch positions with every knob full up; the last switch turns fastest.
    ///
    /// [`Setting::count`] says beforehand how many there are.
    pub fn every_position(circuit: &Circuit) -> impl Iterator<Item = Setting> {
        let ways = circuit.switches().map(|(_, plan)| plan.positions().len()).collect();
        let wipers = vec![1.0; circuit.pots().count()];
        Turns::new(ways).map(move |positions| Setting { positions, on_the_way: None, wipers: wipers.clone() })
    }

    /// How many combinations of switch positions there are.
    pub fn count(circuit: &Circuit) -> u128 {
        product(circuit.switches().map(|(_, plan)| plan.positions().len()))
    }
}

/// What hangs on the jack: cable and amplifier.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Capacitance of the cable and the input.
    pub capacitance: Farads,
    /// Resistance of the input; `None` is nothing there.
    pub resistance: Option<Ohms>,
}

impl Load {
    /// Nothing in the jack.
    pub const fn none() -> Self {
        Self { capacitance: Farads(0.0), resistance: None }
    }
}

/// What an experiment changes. [`Changes::default`] changes nothing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Changes {
    /// Parts that conduct nowhere: the branches of a pot, coil, choke, capacitor or resistor are gone, a
    /// switch touches nothing.
    pub opened: Vec<usize>,
    /// Parts whose leads are bridged: both leads of a coil, choke, capacitor or resistor, the three lugs of a
    /// pot.
    pub shorted: Vec<usize>,
    /// Joins, by index, that do not hold.
    pub parted: Vec<usize>,
    /// Lugs that touch although no join says so.
    pub bridged: Vec<(Terminal, Terminal)>,
    /// Parts with other values, as [`Changes::replace`] checked them.
    pub(crate) replaced: Vec<(usize, Sort)>,
}

impl Changes {
    /// This part opened.
    pub fn open(part: usize) -> Self {
        Self { opened: vec![part], ..Self::default() }
    }

    /// This part shorted.
    pub fn short(part: usize) -> Self {
        Self { shorted: vec![part], ..Self::default() }
    }

    /// This join, by index, not holding.
    pub fn without_join(join: usize) -> Self {
        Self { parted: vec![join], ..Self::default() }
    }

    /// These two lugs touching.
    pub fn bridge(a: Terminal, b: Terminal) -> Self {
        Self { bridged: vec![(a, b)], ..Self::default() }
    }

    /// The same changes with other values for one part.
    ///
    /// `None` when the circuit has no such part, or the new one is of another sort, has other lugs, or has a
    /// value that no part can have.
    pub fn replace(mut self, circuit: &Circuit, part: usize, sort: Sort) -> Option<Self> {
        let old = circuit.parts().get(part)?;
        let mut new = old.clone();
        new.sort = sort;
        let alike = new.sort.word() == old.sort.word() && new.lugs() == old.lugs();
        if !alike || Circuit::new(vec![new.clone()], Vec::new()).is_err() {
            return None;
        }
        self.replaced.retain(|(other, _)| *other != part);
        self.replaced.push((part, new.sort));
        Some(self)
    }

    /// The sort and values that hold for this part of the circuit.
    pub(crate) fn sort<'a>(&'a self, circuit: &'a Circuit, part: usize) -> &'a Sort {
        let replaced = self.replaced.iter().find(|(other, _)| *other == part);
        replaced.map_or(&circuit.parts()[part].sort, |(_, sort)| sort)
    }
}

/// A circuit with every join decided.
#[derive(Debug, Clone, PartialEq)]
pub struct Wired<'c> {
    circuit: &'c Circuit,
    choices: Vec<Option<Terminal>>,
}

impl<'c> Wired<'c> {
    /// The circuit.
    pub fn circuit(&self) -> &'c Circuit {
        self.circuit
    }

    /// Where each join with candidates goes, in the order of the joins; `None` is nowhere.
    pub fn choices(&self) -> &[Option<Terminal>] {
        &self.choices
    }

    /// The joins as (index, one end, other end), without those that go nowhere.
    pub fn joins(&self) -> impl Iterator<Item = (usize, Terminal, Terminal)> {
        let mut choices = self.choices.iter();
        self.circuit.joins().iter().enumerate().filter_map(move |(index, join)| {
            let end = match &join.to {
                JoinTo::One(terminal) => Some(*terminal),
                JoinTo::Candidates { .. } => choices.next().copied().flatten(),
            };
            end.map(|end| (index, join.a, end))
        })
    }
}

impl Circuit {
    /// How many ways the joins with candidates can go; 1 when all are known. Saturates.
    pub fn possibility_count(&self) -> u128 {
        product(self.open_joins().map(|(terminals, or_nothing)| terminals.len() + usize::from(or_nothing)))
    }

    /// Every way the joins with candidates can go, made one at a time: look at [`Circuit::possibility_count`]
    /// first.
    ///
    /// The order is stable: candidates as listed, nowhere last, and the last join turns fastest.
    pub fn possibilities(&self) -> impl Iterator<Item = Wired<'_>> {
        let ways = self
            .open_joins()
            .map(|(terminals, or_nothing)| terminals.len() + usize::from(or_nothing))
            .collect();
        Turns::new(ways).map(|turns| {
            let choices = self
                .open_joins()
                .zip(turns)
                .map(|((terminals, _), turn)| terminals.get(turn).copied())
                .collect();
            Wired { circuit: self, choices }
        })
    }

    fn open_joins(&self) -> impl Iterator<Item = (&[Terminal], bool)> {
        self.joins().iter().filter_map(|join| match &join.to {
            JoinTo::One(_) => None,
            JoinTo::Candidates { terminals, or_nothing } => Some((terminals.as_slice(), *or_nothing)),
        })
    }
}

fn product(ways: impl Iterator<Item = usize>) -> u128 {
    ways.fold(1, |count, ways| count.saturating_mul(ways as u128))
}

/// Counts through a number whose digits have these bases, the last digit fastest.
struct Turns {
    ways: Vec<usize>,
    next: Option<Vec<usize>>,
}

impl Turns {
    fn new(ways: Vec<usize>) -> Self {
        let next = (!ways.contains(&0)).then(|| vec![0; ways.len()]);
        Self { ways, next }
    }
}

impl Iterator for Turns {
    type Item = Vec<usize>;

    fn next(&mut self) -> Option<Vec<usize>> {
        let now = self.next.take()?;
        let mut then = now.clone();
        for digit in (0..then.len()).rev() {
            then[digit] += 1;
            if then[digit] < self.ways[digit] {
                self.next = Some(then);
                break;
            }
            then[digit] = 0;
        }
        Some(now)
    }
}

#[cfg(test)]
mod tests {
    use super::Turns;

    #[test]
    fn turns_pass_through_every_combination_once() {
        let all: Vec<_> = Turns::new(vec![2, 1, 3]).collect();
        assert_eq!(all, [[0, 0, 0], [0, 0, 1], [0, 0, 2], [1, 0, 0], [1, 0, 1], [1, 0, 2]]);
        assert_eq!(Turns::new(vec![]).collect::<Vec<_>>(), [Vec::<usize>::new()]);
        assert_eq!(Turns::new(vec![2, 0]).count(), 0);
    }
}
