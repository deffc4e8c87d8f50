//! Complaints as evidence: each held against the states of the traced circuit.

use asfound_electric::explain::{Agreed, CoilWord, Explanation, KnobEnd, StateTold};
use asfound_electric::fault::{Heard, Touched};
use asfound_electric::{Circuit, Setting, Sort, Terminal};

use crate::said::heard::{At, Complaint, KnobDoes, Sounds, Stand, What};
use crate::touches::SpokenBy;

/// A piece of what is heard, with where it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct HeardFrom {
    /// The entry.
    pub seq: u64,
    /// The clause.
    pub text: String,
    /// What it is to the circuit.
    pub heard: Heard,
}

/// Why a complaint is not weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Left {
    /// The trace knows no such position.
    NoSuchPosition(String),
    /// No position gives just these coils.
    NoSuchState(Vec<String>),
    /// The trace gives this coil no cover.
    NoCover(String),
    /// The trace knows no such knob, part or lug.
    NoSuchPart(String),
    /// What was moved is not in the circuit: the lead to the amplifier.
    TheLead,
    /// It is about the whole instrument, or what is right with it; no fault is told from another by it.
    TellsNothing,
}

/// More settings than this are not made of one complaint.
const MOST_SETTINGS: usize = 12;

/// The circuit as the words are held against it.
struct Ground<'c> {
    circuit: &'c Circuit,
    explanation: &'c Explanation,
    /// The coils that sound in each state, as indexes into the explanation's coils.
    sounding: Vec<Vec<usize>>,
}

/// Evidence from complaints, and those that are left.
pub(super) fn of(
    circuit: &Circuit,
    explanation: &Explanation,
    complaints: &[Complaint],
) -> (Vec<HeardFrom>, Vec<(usize, Left)>) {
    let sounding = explanation.states.iter().map(sounding).collect();
    let ground = Ground { circuit, explanation, sounding };
    let (mut found, mut left) = (Vec::new(), Vec::new());
    for (at, complaint) in complaints.iter().enumerate() {
        match ground.evidence(complaint) {
            Ok(pieces) => found.extend(pieces.into_iter().map(|heard| HeardFrom {
                seq: complaint.seq,
                text: complaint.text.clone(),
                heard,
            })),
            Err(why) => left.push((at, why)),
        }
    }
    (found, left)
}

/// The complaint that no position gives both coils, where by the trace none does: it is the design.
pub(super) fn never_both(explanation: &Explanation, complaints: &[Complaint]) -> Option<usize> {
    let none = explanation.states.iter().all(|state| sounding(state).len() < 2);
    let said = complaints.iter().position(|it| it.what == What::NeverBoth);
    said.filter(|_| none && explanation.coils.len() > 1)
}

/// The coils that sound in a state; where that hangs on what is not known, in the likeliest case.
fn sounding(state: &StateTold) -> Vec<usize> {
    let sounds = |fact: &Agreed<asfound_electric::explain::CoilFact>| {
        let word = match fact {
            Agreed::Certain(fact) => Some(fact.word),
            Agreed::Depends(cases) => cases.first().map(|case| case.fact.word),
        };
        word == Some(CoilWord::Sounds)
    };
    (0..state.coils.len()).filter(|&coil| sounds(&state.coils[coil])).collect()
}

/// Where each knob's wiper stands when it is full up in a state: at the end at which most is heard. A trace may number
/// the lugs either way, so the end is not taken for granted. `None` asks every state, the first that tells it.
pub(super) fn open_ends(explanation: &Explanation, state: Option<usize>) -> Vec<f64> {
    let end = |state: &StateTold, knob: usize| {
        let fact = match state.knobs.get(knob)? {
            Agreed::Certain(fact) => fact,
            Agreed::Depends(cases) => &cases.first()?.fact,
        };
        fact.open_end.map(|end| if end == KnobEnd::Lug1 { 0.0 } else { 1.0 })
    };
    let here = state.and_then(|state| explanation.states.get(state));
    let any = |knob| explanation.states.iter().find_map(|state| end(state, knob));
    let of = |knob| here.and_then(|state| end(state, knob)).or_else(|| any(knob)).unwrap_or(1.0);
    (0..explanation.pots.len()).map(of).collect()
}

/// The wiper of a knob that is turned so far, by where it stands when it is full up.
fn wiper(open_end: f64, turn: f64) -> f64 {
    if open_end > 0.5 { turn } else { 1.0 - turn }
}

type Pieces = Result<Vec<Heard>, Left>;

impl Ground<'_> {
    fn evidence(&self, complaint: &Complaint) -> Pieces {
        let stand = &complaint.stand;
        match &complaint.what {
            What::Sounds(Sounds::Silent) => self.silent(stand),
            What::Sounds(how) => {
                let as_heard = |setting| match how {
                    Sounds::Thin => Heard::Thin { setting, against: None },
                    Sounds::Weak => Heard::Weak { setting, against: None },
                    Sounds::Dark => Heard::Dark { setting, against: None },
                    Sounds::Silent | Sounds::Right => Heard::Normal { setting },
                };
                Ok(self.settings(stand)?.into_iter().map(as_heard).collect())
            }
            What::OnlySounds => self.only(stand),
            What::Gives => self.gives(stand),
            What::AlsoSounds => self.each_coil(stand, |coil, setting| Heard::CoilHeard { coil, setting }),
            What::Missing => self.each_coil(stand, |coil, setting| Heard::CoilMissing { coil, setting }),
            What::Hums => Ok(vec![Heard::HumsLoud]),
            What::Touch(by, hum) => {
                let touched = match by {
                    SpokenBy::Strings => Touched::Strings,
                    SpokenBy::Sleeve => Touched::Sleeve,
                    SpokenBy::Cover | SpokenBy::CutOut => Touched::Cover(self.covered(stand)?),
                };
                Ok(vec![Heard::HumOnTouch { touched, hum: *hum }])
            }
            What::CutsOutAtCover => {
                let coil = self.covered(stand)?;
                let setting = self.with_coil(coil).ok_or_else(|| self.no_state(&[coil]))?;
                Ok(vec![Heard::CutsOutOnCover { coil, setting }])
            }
            What::Knobs(knobs, does) => self.knobs(knobs, *does, complaint),
            What::Moved(names) => self.moved(names),
            What::Lifted(names) => self.lifted(names, stand),
            What::Quiet | What::Coated(_) | What::NeverBoth | What::EarthProved => Err(Left::TellsNothing),
        }
    }

    /// Silence of positions; a coil that sounds alone nowhere is missing where it sounds with the fewest others.
    fn silent(&self, stand: &Stand) -> Pieces {
        match self.settings(stand) {
            Ok(settings) => Ok(settings.into_iter().map(|setting| Heard::Silent { setting }).collect()),
            Err(Left::NoSuchState(coils)) if coils.len() == 1 => {
                let coil = self.coil(&coils[0])?;
                let setting = self.with_coil(coil).ok_or(Left::NoSuchState(coils))?;
                Ok(vec![Heard::CoilMissing { coil, setting }])
            }
            Err(why) => Err(why),
        }
    }

    /// Only these coils sound: each other one is missing where it should be heard best.
    fn only(&self, stand: &Stand) -> Pieces {
        let named = self.coils(stand)?;
        let mut pieces = Vec::new();
        for (coil, _) in self.circuit.coils() {
            let Some(setting) = self.with_coil(coil) else { continue };
            pieces.push(if named.contains(&coil) {
                Heard::CoilHeard { coil, setting }
            } else {
                Heard::CoilMissing { coil, setting }
            });
        }
        Ok(pieces)
    }

    /// A position that gives these coils does not give the others.
    fn gives(&self, stand: &Stand) -> Pieces {
        let named = self.coils(stand)?;
        let mut pieces = Vec::new();
        for setting in self.at_positions(stand)? {
            for (coil, _) in self.circuit.coils() {
                let setting = setting.clone();
                pieces.push(if named.contains(&coil) {
                    Heard::CoilHeard { coil, setting }
                } else {
                    Heard::CoilMissing { coil, setting }
                });
            }
        }
        Ok(pieces)
    }

    fn each_coil(&self, stand: &Stand, heard: impl Fn(usize, Setting) -> Heard) -> Pieces {
        let named = self.coils(stand)?;
        // `position 1 bridge with the neck also heard`: the coil that is meant is named last.
        let Some(&coil) = named.last() else { return Err(Left::TellsNothing) };
        Ok(self.at_positions(stand)?.into_iter().map(|setting| heard(coil, setting)).collect())
    }

    fn knobs(&self, names: &[String], does: KnobDoes, complaint: &Complaint) -> Pieces {
        let stand = &complaint.stand;
        let mut pieces = Vec::new();
        for name in names {
            let pot = self.named(name, "pot").ok_or_else(|| Left::NoSuchPart(name.clone()))?;
            match does {
                KnobDoes::Works => return Err(Left::TellsNothing),
                KnobDoes::Scratches => pieces.push(Heard::KnobScratches { pot }),
                KnobDoes::Nothing => {
                    let settings = self.settings(stand)?;
                    pieces
                        .extend(settings.into_iter().map(|setting| Heard::KnobDoesNothing { pot, setting }));
                }
                KnobDoes::Silences => {
                    let turn =
                        stand.knobs.iter().find(|(known, _)| known == name).map_or(0.0, |(_, turn)| *turn);
                    for setting in self.silenced_in(name, complaint)? {
                        let turn = self.knob_at(pot).map_or(turn, |at| wiper(setting.wipers[at], turn));
                        pieces.push(Heard::KnobSilences { pot, turn, setting });
                    }
                }
            }
        }
        Ok(pieces)
    }

    /// Where a knob silences: as it stood, else where most coils sound, for that is what surprises.
    fn silenced_in(&self, knob: &str, complaint: &Complaint) -> Result<Vec<Setting>, Left> {
        if !complaint.stand.is_open() {
            let stand = Stand { knobs: Vec::new(), ..complaint.stand.clone() };
            return self.settings(&stand);
        }
        let said = complaint.text.to_lowercase();
        let all = ["both", "all", "everything"].iter().any(|word| said.contains(word));
        let own = self.explanation.coils.iter().position(|coil| knob.contains(coil.as_str()));
        let fits = |state: &&usize| own.is_some_and(|coil| self.sounding[**state] == [coil]) && !all;
        let states: Vec<usize> = (0..self.sounding.len()).collect();
        let most = states.iter().rev().max_by_key(|&&state| self.sounding[state].len());
        let state = states.iter().find(fits).or(most);
        Ok(state.map(|&state| self.setting(state)).into_iter().collect())
    }

    fn moved(&self, names: &[String]) -> Pieces {
        let mut pieces = Vec::new();
        for name in names {
            let part = match name.as_str() {
                "lead" | "cable" => return Err(Left::TheLead),
                "plug" | "jack" => self.circuit.jacks().next(),
                name => {
                    self.circuit.terminal(name).ok().map(|it| it.part).or_else(|| self.circuit.part(name))
                }
            };
            let part = part.ok_or_else(|| Left::NoSuchPart(name.clone()))?;
            pieces.push(Heard::Intermittent { part });
        }
        if pieces.is_empty() { Err(Left::TellsNothing) } else { Ok(pieces) }
    }

    fn lifted(&self, names: &[String], stand: &Stand) -> Pieces {
        let Some(name) = names.first() else { return Err(Left::TellsNothing) };
        let terminal = match self.circuit.terminal(name) {
            Ok(terminal) => Some(terminal),
            Err(_) => self.circuit.part(name).and_then(|part| self.fed(part)),
        };
        let terminal = terminal.ok_or_else(|| Left::NoSuchPart(name.clone()))?;
        let stand = if stand.is_open() { Stand { every: true, ..Stand::default() } } else { stand.clone() };
        let with = |setting| Heard::LiftingRestoresTreble { terminal, setting };
        Ok(self.settings(&stand)?.into_iter().map(with).collect())
    }

    /// The lug of a tone control that the sound comes in by: the one joined to something else than a capacitor, metal or
    /// the jack's sleeve.
    fn fed(&self, part: usize) -> Option<Terminal> {
        let lands = |terminal: Terminal| match &self.circuit.parts()[terminal.part].sort {
            Sort::Capacitor(_) | Sort::Metal => false,
            Sort::Jack => terminal.lug == 0,
            // The case of a pot is where the grounds meet.
            Sort::Pot(_) => terminal.lug != 3,
            Sort::Coil(_) => terminal.lug == 0,
            _ => true,
        };
        self.circuit.joins().iter().find_map(|join| {
            let asfound_electric::JoinTo::One(to) = &join.to else { return None };
            let ends = [(join.a, *to), (*to, join.a)];
            ends.into_iter()
                .find(|(own, other)| own.part == part && own.lug != 3 && lands(*other))
                .map(|(own, _)| own)
        })
    }

    /// The coil whose cover is meant.
    fn covered(&self, stand: &Stand) -> Result<usize, Left> {
        let covered: Vec<usize> =
            self.circuit.coils().filter(|(_, coil)| coil.cover).map(|(part, _)| part).collect();
        match (stand.coils.first(), covered.as_slice()) {
            (Some(name), covered) => {
                let coil = self.coil(name)?;
                if covered.contains(&coil) { Ok(coil) } else { Err(Left::NoCover(name.clone())) }
            }
            (None, [one]) => Ok(*one),
            (None, _) => Err(Left::NoCover("a coil".to_owned())),
        }
    }

    fn named(&self, name: &str, sort: &str) -> Option<usize> {
        self.circuit.part(name).filter(|&part| self.circuit.parts()[part].sort.word() == sort)
    }

    /// The knob of this pot, as settings count knobs.
    fn knob_at(&self, pot: usize) -> Option<usize> {
        self.circuit.pots().position(|(part, _)| part == pot)
    }

    fn coil(&self, name: &str) -> Result<usize, Left> {
        self.named(name, "coil").ok_or_else(|| Left::NoSuchPart(name.to_owned()))
    }

    fn coils(&self, stand: &Stand) -> Result<Vec<usize>, Left> {
        stand.coils.iter().map(|name| self.coil(name)).collect()
    }

    fn no_state(&self, coils: &[usize]) -> Left {
        Left::NoSuchState(coils.iter().map(|&coil| self.circuit.parts()[coil].name.clone()).collect())
    }

    /// The coil of this part, as the explanation counts coils.
    fn place(&self, part: usize) -> Option<usize> {
        let name = &self.circuit.parts()[part].name;
        self.explanation.coils.iter().position(|known| known == name)
    }

    fn setting(&self, state: usize) -> Setting {
        Setting {
            positions: self.explanation.states[state].positions.clone(),
            wipers: open_ends(self.explanation, Some(state)),
            ..Setting::first(self.circuit)
        }
    }

    /// The setting in which a coil sounds with the fewest others.
    fn with_coil(&self, part: usize) -> Option<Setting> {
        let coil = self.place(part)?;
        let states = (0..self.sounding.len()).filter(|&state| self.sounding[state].contains(&coil));
        states.min_by_key(|&state| self.sounding[state].len()).map(|state| self.setting(state))
    }

    /// The settings that were meant.
    fn settings(&self, stand: &Stand) -> Result<Vec<Setting>, Left> {
        let mut settings = if !stand.positions.is_empty() {
            self.at_positions(stand)?
        } else if !stand.coils.is_empty() {
            let mut wanted: Vec<usize> =
                self.coils(stand)?.into_iter().filter_map(|part| self.place(part)).collect();
            wanted.sort_unstable();
            wanted.dedup();
            // Of several ways to get the same coils, the first speaks.
            let state = (0..self.sounding.len()).find(|&state| self.sounding[state] == wanted);
            let state = state.ok_or_else(|| Left::NoSuchState(stand.coils.clone()))?;
            vec![self.setting(state)]
        } else if stand.each_alone {
            let alone = (0..self.explanation.coils.len())
                .filter_map(|coil| (0..self.sounding.len()).find(|&state| self.sounding[state] == [coil]));
            alone.map(|state| self.setting(state)).collect()
        } else {
            (0..self.explanation.states.len()).map(|state| self.setting(state)).collect()
        };
        settings.truncate(MOST_SETTINGS);
        for (name, turn) in &stand.knobs {
            let pot = self.named(name, "pot").and_then(|part| self.knob_at(part));
            let pot = pot.ok_or_else(|| Left::NoSuchPart(name.clone()))?;
            settings.iter_mut().for_each(|setting| setting.wipers[pot] = wiper(setting.wipers[pot], *turn));
        }
        Ok(settings)
    }

    /// Settings at the positions named: those of one switch each by itself, those of several switches together.
    fn at_positions(&self, stand: &Stand) -> Result<Vec<Setting>, Left> {
        let mut chosen: Vec<(usize, Vec<usize>)> = Vec::new();
        for at in &stand.positions {
            let (switch, position) = self.position(at)?;
            match chosen.iter_mut().find(|(known, _)| *known == switch) {
                Some((_, positions)) => positions.push(position),
                None => chosen.push((switch, vec![position])),
            }
        }
        let open = open_ends(self.explanation, None);
        let mut settings = vec![Setting { wipers: open, ..Setting::first(self.circuit) }];
        for (switch, positions) in chosen {
            let turned = |setting: &Setting, position: usize| {
                let mut setting = setting.clone();
                setting.positions[switch] = position;
                setting
            };
            let each =
                |setting: &Setting| positions.iter().map(|&at| turned(setting, at)).collect::<Vec<_>>();
            settings = settings.iter().flat_map(each).take(MOST_SETTINGS).collect();
        }
        Ok(settings)
    }

    /// The switch and its position, as settings count them.
    fn position(&self, at: &At) -> Result<(usize, usize), Left> {
        let missing = || Left::NoSuchPosition(at.position.clone());
        let switches: Vec<_> = self.circuit.switches().collect();
        let named = |part: usize| {
            at.switch.as_ref().is_none_or(|name| self.circuit.parts()[part].name.eq_ignore_ascii_case(name))
        };
        let by_name = switches.iter().enumerate().find_map(|(at_switch, (part, plan))| {
            named(*part).then(|| plan.position(&at.position)).flatten().map(|position| (at_switch, position))
        });
        by_name.or_else(|| self.middle(at)).ok_or_else(missing)
    }

    /// `Middle` of a selector of three, whatever its positions are called.
    fn middle(&self, at: &At) -> Option<(usize, usize)> {
        let mut switches = self.circuit.switches().enumerate();
        let (switch, (_, plan)) = switches.find(|(_, (_, plan))| plan.positions().len() % 2 == 1)?;
        ["middle", "centre"].contains(&at.position.as_str()).then(|| (switch, plan.positions().len() / 2))
    }
}
