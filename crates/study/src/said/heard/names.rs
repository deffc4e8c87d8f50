//! What the words of a complaint can name: coils, knobs, switches and their positions.

use asfound_electric::Circuit;
use asfound_record::Job;

use super::{At, Stand};

/// Something of the piece that words can name.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Named {
    /// As the trace calls it; where it is not traced, as the part is called.
    name: String,
    sort: String,
    /// Every run of words that means it.
    spellings: Vec<Vec<String>>,
}

/// Everything that can be named.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Names {
    all: Vec<Named>,
    positions: Vec<String>,
}

/// What the words of one clause name.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Said {
    /// How it stood.
    pub stand: Stand,
    /// Knobs named, without a turn of their own, one by one.
    pub knobs: Vec<String>,
    /// Other parts and lugs named.
    pub others: Vec<String>,
    /// Words that name nothing.
    pub left: Vec<String>,
}

/// Words of a name that only say its sort.
const SORT_WORDS: [&str; 9] =
    ["coil", "pickup", "pot", "knob", "control", "switch", "capacitor", "cap", "selector"];
/// Words for any switch that chooses between coils.
const ANY_SWITCH: [&str; 9] =
    ["position", "positions", "selector", "lever", "switch", "toggle", "rotary", "pos", "blade"];
/// Words between a switch and its position.
const BETWEEN: [&str; 8] = ["at", "in", "on", "to", "the", "position", "positions", "set"];

fn words_of(text: &str) -> Vec<String> {
    let pieces = text.to_lowercase();
    let pieces = pieces.split(|sign: char| sign.is_whitespace() || "-_".contains(sign));
    pieces.filter(|piece| !piece.is_empty()).map(str::to_owned).collect()
}

/// The spellings of a name: whole, and without the words that only say its sort.
fn spellings(text: &str) -> Vec<Vec<String>> {
    let whole = words_of(text);
    let short: Vec<String> =
        whole.iter().filter(|word| !SORT_WORDS.contains(&word.as_str())).cloned().collect();
    let mut all = vec![whole];
    if !short.is_empty() && !all.contains(&short) {
        all.push(short);
    }
    all
}

impl Names {
    /// Names of a job's parts and of its traced circuit.
    pub(super) fn of(job: &Job, circuit: Option<&Circuit>) -> Names {
        let mut names = Names::default();
        for part in circuit.into_iter().flat_map(Circuit::parts) {
            names.all.push(Named {
                name: part.name.clone(),
                sort: part.sort.word().to_owned(),
                spellings: spellings(&part.name),
            });
        }
        let plans = circuit.into_iter().flat_map(Circuit::switches);
        names.positions = plans
            .flat_map(|(_, plan)| plan.positions().iter().map(|position| position.name.to_lowercase()))
            .collect();
        for part in &job.parts {
            let body = &part.item.body;
            names.add_part(&body.name, body.traced_as.as_deref(), &body.sort);
        }
        names.add_places(job);
        names
    }

    fn add_part(&mut self, name: &str, traced_as: Option<&str>, sort: &str) {
        let own = spellings(name);
        let known = self.all.iter_mut().find(|known| {
            traced_as.is_some_and(|traced| known.name.eq_ignore_ascii_case(traced))
                || (known.sort == sort && known.spellings.iter().any(|spelling| own.contains(spelling)))
        });
        match known {
            Some(known) => known.spellings.extend(own),
            None => {
                let named = Named { name: name.to_owned(), sort: sort.to_owned(), spellings: own };
                self.all.push(named);
            }
        }
    }

    /// A coil is also called by the place where it sits, where no other coil sits there.
    fn add_places(&mut self, job: &Job) {
        let coils: Vec<_> =
            job.parts.iter().map(|part| &part.item.body).filter(|body| body.sort == "coil").collect();
        for body in &coils {
            let alone =
                coils.iter().filter(|other| other.place.eq_ignore_ascii_case(&body.place)).count() == 1;
            let named = self.all.iter_mut().find(|known| {
                known.sort == "coil"
                    && (body.traced_as.as_deref().is_some_and(|it| it.eq_ignore_ascii_case(&known.name))
                        || known.spellings.contains(&words_of(&body.name)))
            });
            if let Some(named) = named.filter(|_| alone && !body.place.is_empty()) {
                named.spellings.push(words_of(&body.place));
            }
        }
    }

    /// The names of all of a sort, in order.
    pub(super) fn all_of(&self, sort: &str) -> Vec<String> {
        self.all.iter().filter(|named| named.sort == sort).map(|named| named.name.clone()).collect()
    }

    /// The knobs with this word in their name; the word itself where no such knob is known.
    fn knobs_with(&self, word: &str) -> Vec<String> {
        let has = |named: &&Named| {
            named.sort == "pot" && named.spellings.iter().flatten().any(|known| known == word)
        };
        let found: Vec<String> = self.all.iter().filter(has).map(|named| named.name.clone()).collect();
        if found.is_empty() { vec![word.to_owned()] } else { found }
    }

    /// The thing that the longest run of words at the front names, and how long that run is.
    fn at(&self, words: &[String]) -> Option<(&Named, usize)> {
        let fits = |spelling: &&Vec<String>| words.starts_with(spelling);
        let longest = |named: &Named| named.spellings.iter().filter(fits).map(Vec::len).max();
        let runs = self.all.iter().filter_map(|named| longest(named).map(|long| (named, long)));
        // Of two with one name, the coil or knob is meant, not the metal that is called so too.
        runs.max_by_key(|(named, long)| (*long, ["coil", "pot"].contains(&named.sort.as_str())))
    }

    /// Reads what words name.
    pub(super) fn read(&self, words: &[String]) -> Said {
        let words: Vec<String> = words.iter().map(|word| plain(word)).collect();
        let mut said = Said::default();
        let mut at = 0;
        while at < words.len() {
            at += self.one(&words, at, &mut said);
        }
        said
    }

    /// Reads one thing and answers how many words it took.
    fn one(&self, words: &[String], at: usize, said: &mut Said) -> usize {
        let rest = &words[at..];
        let before = if at > 0 { words[at - 1].as_str() } else { "" };
        if let Some(took) = self.positions(rest, before, &mut said.stand) {
            return took;
        }
        if let Some((lug, _)) =
            rest[0].split_once('.').filter(|(part, lug)| !part.is_empty() && !lug.is_empty())
            && self.at(&words_of(lug)).is_some()
        {
            said.others.push(rest[0].clone());
            return 1;
        }
        match self.at(rest) {
            Some((named, long)) if named.sort == "coil" => {
                if !said.stand.coils.contains(&named.name) {
                    said.stand.coils.push(named.name.clone());
                }
                return long
                    + usize::from(
                        rest.get(long).is_some_and(|word| ["coil", "pickup"].contains(&word.as_str())),
                    );
            }
            Some((named, long)) if named.sort == "pot" => {
                return self.knob(vec![named.name.clone()], rest, long, said);
            }
            Some((named, long)) => {
                said.others.push(named.name.clone());
                return long;
            }
            None => {}
        }
        match rest[0].as_str() {
            "volume" | "volumes" => self.knob(self.knobs_with("volume"), rest, 1, said),
            "tone" | "tones" => self.knob(self.knobs_with("tone"), rest, 1, said),
            "knob" | "knobs" | "pot" | "pots" | "controls" if !["neck", "bridge"].contains(&before) => {
                let all = self.all_of("pot");
                let named = match (before, all.as_slice()) {
                    ("2", [_, second, ..]) => vec![second.clone()],
                    ("1", [first, ..]) => vec![first.clone()],
                    (_, []) => vec!["knob".to_owned()],
                    _ => all,
                };
                self.knob(named, rest, 1, said)
            }
            _ => {
                said.left.push(rest[0].clone());
                1
            }
        }
    }

    /// A knob, with its turn where one is said behind it.
    fn knob(&self, named: Vec<String>, rest: &[String], long: usize, said: &mut Said) -> usize {
        let mut at = long;
        while rest.get(at).is_some_and(|word| {
            ["at", "to", "on", "knob", "pot", "control", "turned", "is"].contains(&word.as_str())
        }) {
            at += 1;
        }
        let turn = rest.get(at).and_then(|word| turn(word));
        let mut taken = at;
        match turn {
            Some(turn) => {
                said.stand.knobs.extend(named.iter().map(|name| (name.clone(), turn)));
                taken = at + 1;
            }
            None => said
                .knobs
                .extend(named.iter().filter(|name| !said.knobs.contains(name)).cloned().collect::<Vec<_>>()),
        }
        taken.max(1)
    }

    /// Positions of a switch: `position 2`, `positions 2 and 4`, `selector in the middle`, `middle position`.
    fn positions(&self, rest: &[String], before: &str, stand: &mut Stand) -> Option<usize> {
        let is_position =
            |word: &String| self.positions.contains(word) || word.chars().all(|sign| sign.is_ascii_digit());
        if let [first, second, ..] = rest
            && ["position", "setting"].contains(&second.as_str())
            && (is_position(first) || first == "middle" || first == "centre")
        {
            stand.positions.push(At { switch: None, position: first.clone() });
            return Some(2);
        }
        let switch = self
            .at(rest)
            .filter(|(named, _)| named.sort == "switch")
            .map(|(named, long)| (Some(named.name.clone()), long));
        let any = ANY_SWITCH.contains(&rest[0].as_str()).then_some((None, 1));
        let (switch, named) = switch.or(any)?;
        if ["all", "every", "each", "5", "five", "no", "any"].contains(&before) {
            stand.every = true;
            return Some(named);
        }
        let mut at = named;
        while rest.get(at).is_some_and(|word| BETWEEN.contains(&word.as_str())) {
            at += 1;
        }
        let first = rest.get(at).filter(|word| {
            is_position(word) || ["middle", "centre", "up", "down"].contains(&word.as_str())
        })?;
        stand.positions.push(At { switch: switch.clone(), position: first.clone() });
        at += 1;
        while let [and, next, ..] = &rest[at..]
            && ["and", "or", "+", "also"].contains(&and.as_str())
            && is_position(next)
            && next.chars().all(|sign| sign.is_ascii_digit())
        {
            stand.positions.push(At { switch: switch.clone(), position: next.clone() });
            at += 2;
        }
        Some(at)
    }
}

/// A word without its ending of possession, and a number in figures.
fn plain(word: &str) -> String {
    let word = word.trim_end_matches("'s").trim_end_matches("’s").trim_end_matches(':');
    match word {
        "one" | "first" | "1st" => "1",
        "two" | "second" | "2nd" => "2",
        "three" | "third" | "3rd" => "3",
        "four" | "fourth" | "4th" => "4",
        "five" | "fifth" | "5th" => "5",
        "six" | "sixth" | "6th" => "6",
        other => other,
    }
    .to_owned()
}

/// How far a knob is turned, 0 to 1: `zero`, `full`, or a number as on its scale, 0 to 10.
fn turn(word: &str) -> Option<f64> {
    match word {
        "full" | "up" | "open" | "max" => Some(1.0),
        "half" | "halfway" => Some(0.5),
        "off" | "shut" | "down" | "zero" | "nought" | "closed" => Some(0.0),
        _ => {
            let on_scale: f64 = word.replace(',', ".").parse().ok()?;
            (0.0..=10.0).contains(&on_scale).then_some(on_scale / 10.0)
        }
    }
}
