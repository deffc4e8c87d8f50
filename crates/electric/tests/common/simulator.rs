//! Circuits written out for a general circuit simulator, and what it answers.
//!
//! Every lug is a node of its own. Joins, closed contacts, wipers at an end and resistors of 0 ohm are sources of 0 V, so
//! that it is the simulator that makes one point of them; a loop of such joins has no single current, so the join that
//! would close one is left out. Islands with no way to the sleeve get one resistor to it. One tie carries no current,
//! whatever its value, so it changes nothing.
#![allow(dead_code)]
#![allow(
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "the room is pure; to be checked against another program, that program has to be started"
)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use asfound_electric::{Circuit, JoinTo, Load, Setting, Sort, Terminal};
use asfound_measure::Ohms;

/// The simulator, as Debian packages it.
const PROGRAM: &str = "ngspice";

/// Whether capacitors lead or block.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Current {
    Direct,
    Alternating,
}

/// A circuit as the simulator takes it.
pub(crate) struct Deck {
    cards: String,
    count: usize,
    current: Current,
    first_lug: Vec<usize>,
    sleeve: Terminal,
    inner: usize,
    /// For each node, a node that ideal joins lead to, itself at the end of the chain.
    one_point: Vec<usize>,
    /// The same for anything that conducts.
    island: Vec<usize>,
    used: Vec<bool>,
    main_inductor: Vec<usize>,
    /// Names of the sources of EMF, one for each coil.
    pub(crate) coils: Vec<String>,
}

fn root(of: &[usize], mut node: usize) -> usize {
    while of[node] != node {
        node = of[node];
    }
    node
}

impl Deck {
    pub(crate) fn new(circuit: &Circuit, setting: &Setting, current: Current) -> Self {
        let mut first_lug = Vec::new();
        let mut lugs = 1;
        for part in circuit.parts() {
            first_lug.push(lugs);
            lugs += part.lug_count();
        }
        let jack = circuit.jacks().next().expect("a jack");
        let mut deck = Self {
            cards: String::new(),
            count: 0,
            current,
            first_lug,
            sleeve: Terminal { part: jack, lug: 1 },
            inner: lugs,
            one_point: (0..lugs).collect(),
            island: (0..lugs).collect(),
            used: vec![false; lugs],
            main_inductor: vec![0; circuit.parts().len()],
            coils: Vec::new(),
        };
        deck.joins(circuit);
        deck.parts(circuit, setting);
        deck.couplings(circuit);
        deck
    }

    /// The sleeve is the simulator's datum, node 0.
    pub(crate) fn node(&self, lug: Terminal) -> usize {
        if lug == self.sleeve { 0 } else { self.first_lug[lug.part] + lug.lug }
    }

    fn inner_node(&mut self) -> usize {
        let node = self.inner;
        self.inner += 1;
        for of in [&mut self.one_point, &mut self.island] {
            of.push(node);
        }
        self.used.push(false);
        node
    }

    fn element(&mut self, letter: char, a: usize, b: usize, value: f64) -> usize {
        self.count += 1;
        writeln!(self.cards, "{letter}{} {a} {b} {value:e}", self.count).expect("text takes text");
        (self.used[a], self.used[b]) = (true, true);
        if self.current == Current::Alternating || letter != 'C' {
            let (a, b) = (root(&self.island, a), root(&self.island, b));
            self.island[a.max(b)] = a.min(b);
        }
        self.count
    }

    fn ideal(&mut self, a: usize, b: usize) {
        let roots = (root(&self.one_point, a), root(&self.one_point, b));
        if roots.0 != roots.1 {
            self.one_point[roots.0] = roots.1;
            self.element('V', a, b, 0.0);
        }
    }

    fn joins(&mut self, circuit: &Circuit) {
        for join in circuit.joins() {
            let JoinTo::One(end) = join.to else { panic!("every join is decided") };
            self.ideal(self.node(join.a), self.node(end));
        }
    }

    fn parts(&mut self, circuit: &Circuit, setting: &Setting) {
        let (mut switches, mut pots) = (setting.positions.iter(), setting.wipers.iter());
        for (part, sort) in circuit.parts().iter().map(|part| &part.sort).enumerate() {
            let node = |deck: &Self, lug| deck.node(Terminal { part, lug });
            match sort {
                Sort::Switch(plan) => {
                    let position = &plan.positions()[*switches.next().expect("a position for each switch")];
                    for &(a, b) in &position.contacts {
                        self.ideal(node(self, a), node(self, b));
                    }
                }
                Sort::Pot(pot) => {
                    let turn = *pots.next().expect("a turn for each pot");
                    for (a, b, share) in [(0, 1, turn), (1, 2, 1.0 - turn)] {
                        self.resistor(node(self, a), node(self, b), pot.track.0 * share);
                    }
                }
                Sort::Resistor(Ohms(ohms)) => self.resistor(node(self, 0), node(self, 1), *ohms),
                Sort::Capacitor(farads) => {
                    self.element('C', node(self, 0), node(self, 1), farads.0);
                }
                Sort::Choke { resistance, inductance } => {
                    let middle = self.inner_node();
                    self.resistor(node(self, 0), middle, resistance.0);
                    self.element('L', middle, node(self, 1), inductance.0);
                }
                Sort::Coil(coil) => {
                    let (hot, ground) = (node(self, 0), node(self, 1));
                    let inner = [self.inner_node(), self.inner_node(), self.inner_node()];
                    self.resistor(hot, inner[0], coil.resistance.0);
                    self.main_inductor[part] = self.element('L', inner[0], inner[1], coil.inductance.0);
                    match coil.eddy {
                        Some(eddy) => {
                            self.element('L', inner[1], inner[2], eddy.inductance.0);
                            self.resistor(inner[1], inner[2], eddy.loss.0);
                        }
                        None => self.ideal(inner[1], inner[2]),
                    }
                    let source = self.element('V', inner[2], ground, 0.0);
                    self.coils.push(format!("v{source}"));
                    self.element('C', hot, ground, coil.capacitance.0);
                }
                Sort::Jack | Sort::Metal | Sort::Post { .. } => {}
            }
        }
    }

    fn resistor(&mut self, a: usize, b: usize, ohms: f64) {
        if ohms == 0.0 {
            self.ideal(a, b);
        } else {
            self.element('R', a, b, ohms);
        }
    }

    fn couplings(&mut self, circuit: &Circuit) {
        for coupling in circuit.couplings() {
            let (a, b) = (self.main_inductor[coupling.a], self.main_inductor[coupling.b]);
            self.count += 1;
            writeln!(self.cards, "K{} L{a} L{b} {:e}", self.count, coupling.factor).expect("text takes text");
        }
    }

    pub(crate) fn load(&mut self, tip: usize, load: Load) {
        self.element('C', tip, 0, load.capacitance.0);
        if let Some(Ohms(ohms)) = load.resistance {
            self.resistor(tip, 0, ohms);
        }
    }

    /// A source of current into `a`, out of `b`, that gives none until told to; its name.
    pub(crate) fn current_source(&mut self, a: usize, b: usize) -> String {
        self.count += 1;
        writeln!(self.cards, "I{} {b} {a} dc 0 ac 0", self.count).expect("text takes text");
        (self.used[a], self.used[b]) = (true, true);
        format!("i{}", self.count)
    }

    pub(crate) fn one_island(&self, a: usize, b: usize) -> bool {
        root(&self.island, a) == root(&self.island, b)
    }

    /// The whole text, with every island tied to the datum. The equations are linear, so no working point is looked for
    /// first, and each pivot is the largest of its column: with the usual threshold of a thousandth, outputs of 1e-7 lose
    /// another decimal to rounding.
    pub(crate) fn text(mut self) -> String {
        for node in 1..self.island.len() {
            if self.used[node] && !self.one_island(node, 0) {
                self.element('R', node, 0, 1e6);
            }
        }
        format!("circuit\n{}.options noopac pivrel=1\n.end\n", self.cards)
    }
}

/// Circuits and commands for one process of the simulator.
pub(crate) struct Session {
    folder: PathBuf,
    commands: String,
    circuits: usize,
}

impl Session {
    /// A session that keeps its files in a folder of its own below the tests' scratch folder.
    pub(crate) fn new(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        if folder.exists() {
            std::fs::remove_dir_all(&folder).expect("the scratch folder can be emptied");
        }
        std::fs::create_dir_all(&folder).expect("the scratch folder can be made");
        let commands = "set numdgt=17\nset wr_singlescale\nset appendwrite\n".to_owned();
        Self { folder, commands, circuits: 0 }
    }

    /// Takes up a circuit; what is commanded next is about this one.
    pub(crate) fn circuit(&mut self, deck: Deck) {
        if self.circuits > 0 {
            self.command("remcirc");
        }
        let name = format!("{}.cir", self.circuits);
        std::fs::write(self.folder.join(&name), deck.text()).expect("a netlist can be written");
        self.command(&format!("source {name}"));
        self.circuits += 1;
    }

    pub(crate) fn command(&mut self, command: &str) {
        self.commands += command;
        self.commands.push('\n');
    }

    /// Writes down what the last analysis found, each line a frequency (or a spare number) and then the numbers.
    pub(crate) fn keep(&mut self, what: &str) {
        self.command(&format!("wrdata answers.data {what}"));
        self.command("destroy all");
    }

    /// Starts the simulator on everything so far and waits for it. Answers the lines kept, as numbers.
    pub(crate) fn run(&self) -> Vec<Vec<f64>> {
        let answers = self.folder.join("answers.data");
        if answers.exists() {
            std::fs::remove_file(&answers).expect("old answers can be taken away");
        }
        self.solve();
        let text = std::fs::read_to_string(&answers).expect("the simulator wrote its answers");
        let number = |word: &str| word.parse().expect("the simulator writes numbers");
        text.lines().map(|line| line.split_whitespace().map(number).collect()).collect()
    }

    /// Starts the simulator on everything so far and waits for it.
    pub(crate) fn solve(&self) {
        let script = format!("session\n.control\n{}quit\n.endc\n.end\n", self.commands);
        std::fs::write(self.folder.join("session.cir"), script).expect("a script can be written");
        let ran = Command::new(PROGRAM).args(["-b", "session.cir"]).current_dir(&self.folder).output();
        let output = ran.unwrap_or_else(|fault| {
            panic!(
                "the circuit simulator `{PROGRAM}` could not be started ({fault}); the package of that name brings it"
            )
        });
        let said =
            format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
        let failed =
            said.lines().find(|line| line.to_lowercase().contains("error") || line.contains("singular"));
        assert!(failed.is_none(), "the simulator says: {}", failed.unwrap_or_default());
    }
}
