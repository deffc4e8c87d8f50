//! A traced circuit as a drawing: outlines of the parts as they look, their lugs, and a line for each join.
//!
//! It answers: what hangs on what, how is each join known, and where is it in the cavity? The one decision: **every join
//! is a line of its own**, from lug to lug, even where several meet at one lug, as leads do under the solder. So joins
//! can be checked off one after the other, and how a join is known stands in its line: solid where it was metered, long
//! dashes where it was seen, short dashes with a tick where it was matched, dots and a question mark where it is not
//! known, one line to each possible end. Lugs that are joined for certain carry the same letter, so that no line has to
//! be told by its ink.
//!
//! Parts stand where a photograph shows them, as far as their names leave room; the rest stand by rule: strings and
//! coils first, then what the signal meets, the jack last. Of several plans the one with the fewest crossings is kept.
//! Wires run on a grid, each by the cheapest way, where bends and crossings cost extra and a lane that is taken costs the
//! most (the search is that of P. E. Hart, N. J. Nilsson and B. Raphael, IEEE Trans. Systems Science and Cybernetics 4
//! (1968) 100).

mod lettering;
mod nets;
mod outline;
mod paint;
mod place;
mod route;
mod search;
mod tell;

use crate::mark::{Drawing, Known, Point, Size};
use crate::table::Table;

use nets::Nets;

/// Parts that one drawing holds; a cavity with more is two drawings.
pub const MOST_PARTS: usize = 60;
/// Joins that one drawing holds.
pub const MOST_JOINS: usize = 160;

/// What kind of thing a part looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outline {
    /// A coil on its bobbin.
    Coil,
    /// A pot from behind: the can, and three lugs in a row.
    Pot,
    /// A slide switch.
    Slide,
    /// The switch under a pot whose shaft is pushed and pulled.
    PushPull,
    /// A lever switch: a bar, a row of lugs for each pole.
    Lever,
    /// A rotary switch: a ring of lugs.
    Rotary,
    /// A toggle switch.
    Toggle,
    /// A switch of another build.
    Switch,
    /// A capacitor.
    Capacitor,
    /// A resistor.
    Resistor,
    /// A choke.
    Choke,
    /// The jack.
    Jack,
    /// The strings.
    Strings,
    /// Other metal: a plate, a shield, a cover.
    Plate,
    /// Tie points.
    Post,
}

/// A lug.
#[derive(Debug, Clone, PartialEq)]
pub struct Lug {
    /// Its number or name, as seen; empty where it has none.
    pub name: String,
    /// Where a photograph shows it.
    pub place: Option<Point>,
}

/// A part.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its value, as short as it is said: `500k audio`. May be empty.
    pub value: String,
    /// What it looks like.
    pub outline: Outline,
    /// Its lugs, in the order in which they are counted.
    pub lugs: Vec<Lug>,
    /// Where a photograph shows it, seen from the back: both coordinates in widths of the photograph.
    pub place: Option<Point>,
}

/// One lug of one part, by their places in the lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tip {
    /// The part.
    pub part: usize,
    /// Its lug.
    pub lug: usize,
}

/// A join of two lugs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Join {
    /// The end that is there.
    pub from: Tip,
    /// Where it goes: one end, or every end it may have.
    pub to: Vec<Tip>,
    /// Whether it may go nowhere.
    pub or_nothing: bool,
    /// How it is known.
    pub known: Known,
    /// What stands beside the line, such as the ohms that the meter showed. May be empty.
    pub note: String,
    /// How it is known, in words, for the table.
    pub said: String,
}

/// From which side the circuit is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Side {
    /// Into the cavity from the back.
    #[default]
    Back,
    /// Through the top, from where it is played: the mirror image.
    Front,
}

/// How the circuit is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct View {
    /// From which side.
    pub side: Side,
    /// For a left-handed instrument: the parts change sides, and each part stays as it is built.
    pub left_handed: bool,
}

/// A circuit as it is to be drawn.
///
/// A join that names a part or a lug that is not there is left out of the drawing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Circuit {
    /// What the drawing is called.
    pub title: String,
    /// The parts.
    pub parts: Vec<Part>,
    /// The joins.
    pub joins: Vec<Join>,
    /// How it is looked at.
    pub view: View,
}

impl Circuit {
    /// Whether it has something to draw, and no more than one drawing holds.
    pub fn can_be_drawn(&self) -> bool {
        (1..=MOST_PARTS).contains(&self.parts.len()) && self.joins.len() <= MOST_JOINS
    }

    /// The letter at a lug; `None` where nothing is joined to it for certain.
    pub fn letter(&self, tip: Tip) -> Option<String> {
        Nets::of(self).letter(tip)
    }

    pub(crate) fn draw(&self, size: Size) -> Drawing {
        paint::draw(self, size)
    }

    pub(crate) fn description(&self) -> String {
        tell::description(self)
    }

    pub(crate) fn table(&self) -> Table {
        tell::table(self)
    }

    fn has(&self, tip: Tip) -> bool {
        self.parts.get(tip.part).is_some_and(|part| tip.lug < part.lugs.len())
    }

    /// The joins whose ends are all there, with their places in the list.
    fn sound_joins(&self) -> impl Iterator<Item = (usize, &Join)> {
        let sound = |join: &Join| {
            self.has(join.from)
                && join.to.iter().all(|tip| self.has(*tip))
                && (!join.to.is_empty() || join.or_nothing)
        };
        self.joins.iter().enumerate().filter(move |(_, join)| sound(join))
    }

    /// A lug as it is named in a trace: `volume.3`, or the part alone where it has one lug.
    fn name_of(&self, tip: Tip) -> String {
        let part = &self.parts[tip.part];
        match part.lugs.as_slice() {
            [_] => part.name.clone(),
            lugs => format!("{}.{}", part.name, lugs[tip.lug].name),
        }
    }
}
