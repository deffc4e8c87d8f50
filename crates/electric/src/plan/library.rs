//! Contact plans under generic names.
//!
//! Which lugs a switch joins is told by its shape and its number of poles and stops alone: common practice, no source, so
//! that a plan is a first guess for the meter to confirm. What touches between stops differs between makes of one shape and
//! is left unknown, unless the name says `shorting` (both neighbours, make before break) or `non-shorting` (nothing).

use super::{Between, Plan, Position};

/// Number words a plan may begin with; the place is the number.
const NUMBER_WORDS: [&str; 13] = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
];

/// The most ways of a rotary switch that has a name.
const MOST_WAYS: usize = 12;

/// A name, and what makes its plan.
type Shape = (&'static str, fn() -> Plan);

/// Every shape that is no rotary switch.
const SHAPES: [Shape; 15] = [
    ("two-pole slide", Plan::two_pole_slide),
    ("one-pole slide", || Plan::changeover(1, &["up", "down"])),
    ("push-pull", Plan::push_pull),
    ("on-on toggle", || Plan::changeover(2, &["up", "down"])),
    ("one-pole on-on toggle", || Plan::changeover(1, &["up", "down"])),
    ("on-off-on toggle", || Plan::changeover(2, &["up", "middle", "down"])),
    ("one-pole on-off-on toggle", || Plan::changeover(1, &["up", "middle", "down"])),
    ("on-on-on toggle 2-1 5-6", || Plan::on_on_on(&[(1, 0), (4, 5)])),
    ("on-on-on toggle 2-3 5-4", || Plan::on_on_on(&[(1, 2), (4, 3)])),
    ("three-way toggle", Plan::toggle_three_way),
    ("three-way lever", Plan::lever_three_one_pole),
    ("three-way two-pole lever", || Plan::selector(2, 3)),
    ("five-way lever", Plan::lever_five_two_pole),
    ("five-way four-pole lever", || Plan::selector(4, 5)),
    ("two-pole on-off slide", || Plan::on_off(2)),
];

impl Plan {
    /// The plan of this name. Blanks and dashes are alike, capitals do not count, the words may stand in any order, and
    /// ways may be digits: `three-way lever`, `lever, 3 way`, `shorting four-way rotary`, `6-way two-pole rotary`.
    pub fn named(name: &str) -> Option<Self> {
        let mut words = words(name);
        let between = if take(&mut words, "shorting") {
            Some(if take(&mut words, "non") { Between::Nothing } else { Between::Neighbours })
        } else {
            None
        };
        words.sort_unstable();
        let plan = |(known, plan): (String, Self)| (sorted(&known) == words).then_some(plan);
        let plan = Self::library().find_map(plan)?;
        Some(match between {
            Some(between) => plan.with_between(between),
            None => plan,
        })
    }

    /// The names of all plans as they are written, in the order of their shapes. Before each may stand `shorting` or
    /// `non-shorting`.
    pub fn names() -> impl Iterator<Item = String> {
        Self::library().map(|(name, _)| name)
    }

    /// The names without the rotary switches one by one: those differ in their number of ways only.
    pub fn names_in_short() -> impl Iterator<Item = String> {
        let rotary =
            ["two-way rotary to twelve-way rotary", "two-way two-pole rotary to twelve-way two-pole rotary"];
        SHAPES.iter().map(|(name, _)| *name).chain(rotary).map(str::to_owned)
    }

    fn library() -> impl Iterator<Item = (String, Self)> {
        let shapes = SHAPES.iter().map(|(name, plan)| ((*name).to_owned(), plan()));
        let rotary = [("", 1), ("two-pole ", 2)].into_iter().flat_map(|(pole_words, poles)| {
            (2..=MOST_WAYS).map(move |ways| {
                (format!("{}-way {pole_words}rotary", NUMBER_WORDS[ways]), Self::selector(poles, ways))
            })
        });
        shapes.chain(rotary)
    }

    /// A two-pole slide with lugs 1 to 6: `up` joins 2-1 and 5-4, `down` joins 2-3 and 5-6.
    pub fn two_pole_slide() -> Self {
        Self::changeover(2, &["up", "down"])
    }

    /// The two-pole switch under a push-pull pot, lugs 1 to 6: `pushed` joins 2-1 and 5-4, `pulled` 2-3 and
    /// 5-6.
    ///
    /// Which throw belongs to which knob height differs between pots, so it has to be metered.
    pub fn push_pull() -> Self {
        Self::changeover(2, &["pushed", "pulled"])
    }

    /// A one-pole lever of three positions, lugs a0 (common), a1, a2: one throw, both, the other.
    pub fn lever_three_one_pole() -> Self {
        Self::stock(&["a0", "a1", "a2"], &[("1", &[(0, 1)]), ("2", &[(0, 1), (0, 2)]), ("3", &[(0, 2)])])
    }

    /// A two-pole lever of five positions, lugs a0 to a3 and b0 to b3.
    ///
    /// Either common touches throw 1, 1 and 2, 2, 2 and 3, 3 in positions 1 to 5: a lever of three throws that stops
    /// halfway too.
    pub fn lever_five_two_pole() -> Self {
        Self::stock(
            &["a0", "a1", "a2", "a3", "b0", "b1", "b2", "b3"],
            &[
                ("1", &[(0, 1), (4, 5)]),
                ("2", &[(0, 1), (0, 2), (4, 5), (4, 6)]),
                ("3", &[(0, 2), (4, 6)]),
                ("4", &[(0, 2), (0, 3), (4, 6), (4, 7)]),
                ("5", &[(0, 3), (4, 7)]),
            ],
        )
    }

    /// A toggle of two leaf contacts that both rest closed, lugs a0 (common), a1, a2 and its frame: `up` lifts one,
    /// `down` the other, `middle` none. A leaf is lifted only near its end of the way, so both touch between stops.
    pub fn toggle_three_way() -> Self {
        let positions: [(&str, &[_]); 3] =
            [("up", &[(0, 1)]), ("middle", &[(0, 1), (0, 2)]), ("down", &[(0, 2)])];
        Self::stock(&["a0", "a1", "a2", "frame"], &positions).with_between(Between::Neighbours)
    }

    /// Poles a, b and so on, each with a common 0 and throws from 1: position n joins every common with its throw n.
    fn selector(poles: usize, ways: usize) -> Self {
        let letters = ["a", "b", "c", "d"].into_iter().take(poles);
        let lugs = letters.flat_map(|pole| (0..=ways).map(move |lug| format!("{pole}{lug}"))).collect();
        let position = |way: usize| {
            let contacts = (0..poles).map(|pole| (pole * (ways + 1), pole * (ways + 1) + way)).collect();
            Position { name: way.to_string(), contacts }
        };
        Self { lugs, positions: (1..=ways).map(position).collect(), between: Between::Unknown }
    }

    /// Three lugs to a pole, the middle one common: the first position joins it with the lug before, the last with the
    /// lug after, and one between them with neither.
    fn changeover(poles: usize, names: &[&str]) -> Self {
        let contacts = |throw: usize| (0..poles).map(|pole| (3 * pole + 1, 3 * pole + throw)).collect();
        let position = |(place, name): (usize, &&str)| Position {
            name: (*name).to_owned(),
            contacts: match place {
                0 => contacts(0),
                place if place + 1 == names.len() => contacts(2),
                _ => Vec::new(),
            },
        };
        Self {
            lugs: (1..=3 * poles).map(|lug| lug.to_string()).collect(),
            positions: names.iter().enumerate().map(position).collect(),
            between: Between::Unknown,
        }
    }

    /// A two-pole changeover with a middle stop in which one pole has gone over and the other not yet; which of the two is
    /// a matter of how it was built, and of which end is up.
    fn on_on_on(middle: &[(usize, usize)]) -> Self {
        let mut plan = Self::changeover(2, &["up", "middle", "down"]);
        plan.positions[1].contacts = middle.to_vec();
        plan
    }

    /// Two lugs to a pole: `on` joins them, `off` does not.
    fn on_off(poles: usize) -> Self {
        let contacts = (0..poles).map(|pole| (2 * pole, 2 * pole + 1)).collect();
        let position = |name: &str, contacts| Position { name: name.to_owned(), contacts };
        Self {
            lugs: (1..=2 * poles).map(|lug| lug.to_string()).collect(),
            positions: vec![position("on", contacts), position("off", Vec::new())],
            between: Between::Unknown,
        }
    }

    fn stock(lugs: &[&str], positions: &[(&str, &[(usize, usize)])]) -> Self {
        Self {
            lugs: lugs.iter().map(|&lug| lug.to_owned()).collect(),
            positions: positions
                .iter()
                .map(|&(name, contacts)| Position { name: name.to_owned(), contacts: contacts.to_vec() })
                .collect(),
            between: Between::Unknown,
        }
    }
}

/// The words of a name in small letters. A number stays with what it counts, so that four ways of two poles are not two
/// ways of four: `4-way` and `four way` are `four way`.
fn words(name: &str) -> Vec<String> {
    let lower = name.to_lowercase();
    let mut words: Vec<String> = Vec::new();
    for word in lower.split(|c: char| matches!(c, '-' | ',') || c.is_whitespace()) {
        match (word, words.last_mut()) {
            ("", _) => {}
            ("way" | "pole", Some(count)) => {
                let number = count.parse().ok().and_then(|number: usize| NUMBER_WORDS.get(number));
                *count = format!("{} {word}", number.map_or(count.as_str(), |word| word));
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn sorted(name: &str) -> Vec<String> {
    let mut words = words(name);
    words.sort_unstable();
    words
}

fn take(words: &mut Vec<String>, wanted: &str) -> bool {
    let place = words.iter().position(|word| word == wanted);
    place.map(|place| words.remove(place)).is_some()
}
