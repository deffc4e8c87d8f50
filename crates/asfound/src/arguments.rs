//! What may be asked on the command line.

use std::path::PathBuf;

use clap::{ArgGroup, Parser, Subcommand, ValueEnum};

/// The port that the pages are served on unless told otherwise.
pub(crate) const PORT: u16 = 8726;

const BENCH_LINES: &str = "\
Lines, as they are said at the bench:
  part neck coil, coil, neck            a part: name, sort, place; a count after it for a group
  neck 6k31 21C at the joints M1        a reading: how much, how warm, how taken, which meter
  neck over 20k                         a bound; `not measured`, `over range`, `cannot tell` too
  neck coil: black wax, nothing cut     something seen on a part
  piece: smells of damp                 something seen on the whole
  did guard: six screws out             something done; `did piece: ...` for the whole
  parked plate: pressed; no change; press longer     an act left off: tried, stopped, try next
  join choke.b rotary.3 seen photo      a line of the trace; see docs/trace.md
  money deposit 150 GBP                 a sum
  task refret, after clean board        something to be done; `hours 1h20 refret, done` what it took
  lot premium 25 %, to keep             a sale's terms; `work rate 60 GBP an hour`, `agreed ...`, `due ...`
  note the owner remembers a fire       other words
A part can also be named by its number, P1.";

const SWEEP_FILES: &str = "\
Files: columns of figures with a heading (frequency, impedance or magnitude, phase), or a one-port Touchstone file.
Any file is kept as it came, also one that cannot be read; the sheet says which line is in the way.

Two recordings: play the signal of `asfound test-signal` at line level through a known resistor into the coil, out of
its circuit, and record both ends of the resistor, the player's end in the first channel. Do it twice:
  asfound sweep 26-014 neck first.wav second.wav --resistors 10k 100k --at 21C";

const AFTER: &str = "\
Exit codes: 0 done; 1 the archive does not verify; 2 the command line could not be read;
3 what was asked for is not there, or what was given cannot be taken; 4 folder, disk or machine at fault.";

/// A bench companion for restorers: keeps what was found as found, works out what it means, says what to look at next.
#[derive(Parser, Debug)]
#[command(name = "asfound", version, after_help = AFTER, max_term_width = 100)]
pub(crate) struct Arguments {
    /// The workshop's folder.
    #[arg(long = "in", value_name = "FOLDER", env = "ASFOUND_WORKSHOP", default_value = ".", global = true)]
    pub(crate) folder: PathBuf,
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// From which side a drawing is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Seen {
    /// Into the cavity, from the back.
    Back,
    /// From the front: the mirror image.
    Front,
}

#[derive(Subcommand, Debug)]
pub(crate) enum Command {
    /// Make the demo workshop, print its findings, write its dossier, and serve it.
    Demo {
        /// Where to make it; everything is written inside.
        #[arg(value_name = "FOLDER", default_value = "asfound-demo")]
        place: PathBuf,
        /// Stop before serving.
        #[arg(long)]
        no_serve: bool,
        /// The port to serve on.
        #[arg(long, default_value_t = PORT)]
        port: u16,
    },
    /// Start a workshop in an empty or new folder.
    Start {
        /// The workshop's name, such as your own.
        name: String,
    },
    /// Open a job.
    Open {
        /// One line that says what it is about.
        #[arg(required = true)]
        title: Vec<String>,
    },
    /// List the jobs and what each waits for.
    Jobs {
        /// Print it for a machine.
        #[arg(long)]
        json: bool,
    },
    /// Keep an entry, said as at the bench: `neck 6k31 21C`.
    #[command(after_help = BENCH_LINES)]
    Say {
        /// The job's number.
        number: String,
        /// What was found.
        #[arg(required = true, trailing_var_arg = true, allow_hyphen_values = true)]
        line: Vec<String>,
    },
    /// Correct an entry: both stay, and the correction is what counts.
    Correct {
        /// The job's number.
        number: String,
        /// The entry's place, as `history` prints it.
        entry: u64,
        /// What is right, in the words of `say`.
        #[arg(required = true, trailing_var_arg = true, allow_hyphen_values = true)]
        line: Vec<String>,
    },
    /// Strike an entry out; it stays readable in the history.
    Strike {
        /// The job's number.
        number: String,
        /// The entry's place, as `history` prints it.
        entry: u64,
        /// Why.
        #[arg(required = true, trailing_var_arg = true)]
        why: Vec<String>,
    },
    /// Keep photographs or clips; whatever they are, they are kept.
    Photograph {
        /// The job's number.
        number: String,
        /// The files.
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// The part they show, by name or number.
        #[arg(long)]
        part: Option<String>,
    },
    /// Keep a sweep of a coil, or two recordings of the test signal through two known resistors.
    #[command(after_help = SWEEP_FILES)]
    Sweep {
        /// The job's number.
        number: String,
        /// The part, by name or number.
        part: String,
        /// The file that the bridge wrote, or the two recordings.
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// The two resistors, in the order of the recordings.
        #[arg(long, num_args = 2, value_names = ["FIRST", "SECOND"])]
        resistors: Vec<String>,
        /// How warm the part was, such as 21C.
        #[arg(long, value_name = "TEMPERATURE")]
        at: Option<String>,
        /// How it was taken, such as "out of circuit".
        #[arg(long, value_name = "WORDS")]
        method: Option<String>,
        /// The short name of the meter or bridge, such as M1.
        #[arg(long, value_name = "METER")]
        meter: Option<String>,
    },
    /// Write the sound to be played for a measurement of a coil with a sound card and two known resistors.
    TestSignal {
        /// The file to write, such as signal.wav.
        out: PathBuf,
    },
    /// Print everything that was kept for a job, in order.
    History {
        /// The job's number.
        number: String,
        /// Print it for a machine.
        #[arg(long)]
        json: bool,
    },
    /// Print a job's pages, or one of them: what was found, what it means, what to do next.
    Sheet {
        /// The job's number.
        number: String,
        /// One page, such as piece, parts, readings or wiring; all of them where none is named.
        page: Option<String>,
        /// Print it for a machine.
        #[arg(long)]
        json: bool,
    },
    /// List what the studies take for granted, or state the workshop's own value with its source.
    #[command(group = ArgGroup::new("stated").args(["value", "as_it_comes"]))]
    Assume {
        /// The name as it is listed, such as "rewound".
        #[arg(requires = "stated")]
        name: Option<String>,
        /// The workshop's own value, as typed at the bench: 0.2, 12 %, 90p.
        #[arg(requires = "source", allow_negative_numbers = true)]
        value: Option<String>,
        /// Where the value comes from, in words.
        #[arg(long, value_name = "WORDS", requires = "value")]
        source: Option<String>,
        /// Go back to the value as the program comes with it.
        #[arg(long, requires = "name")]
        as_it_comes: bool,
        /// Print the list for a machine.
        #[arg(long, conflicts_with = "name")]
        json: bool,
    },
    /// Draw a traced circuit: outlines of the parts, and a line for each join that shows how it is known.
    Drawing {
        /// A file with the trace, or - for standard input.
        trace: PathBuf,
        /// The file to write, such as cavity.svg.
        out: PathBuf,
        /// From which side it is seen.
        #[arg(long, value_enum, default_value_t = Seen::Back)]
        seen: Seen,
        /// For the left hand: the parts change sides.
        #[arg(long)]
        left: bool,
    },
    /// Explain a traced circuit: what each switch position and knob does.
    Explain {
        /// A file with the trace, or - for standard input.
        trace: PathBuf,
        /// Print it for a machine.
        #[arg(long)]
        json: bool,
    },
    /// Write a job's dossier as archival PDF, issue and seal it.
    Dossier {
        /// The job's number.
        number: String,
        /// Where to write it; beside the workshop's papers unless told otherwise.
        #[arg(long)]
        out: Option<PathBuf>,
    },
    /// Print a job's entries as JSON Lines, for keeping elsewhere.
    Lines {
        /// The job's number.
        number: String,
        /// Leave the content of every sum out, for a buyer; the lines still verify and say that it is gone.
        #[arg(long)]
        without_money: bool,
    },
    /// Verify the workshop, a file of lines, or a sealed paper.
    Verify {
        /// A file of lines, as `lines` prints or as attached to a dossier; or a PDF with its seal file beside it.
        file: Option<PathBuf>,
        /// Print it for a machine.
        #[arg(long)]
        json: bool,
    },
    /// Take in lines from another workshop: they are read here, and never merge with ours.
    TakeIn {
        /// A file of lines, as `lines` prints or as attached to a dossier.
        file: PathBuf,
    },
    /// Copy the whole workshop into another folder; a copy made there before is brought up to date.
    Copy {
        /// The folder to copy into, best on another disk.
        target: PathBuf,
    },
    /// Serve the pages on this machine's own address.
    Serve {
        /// The port; another one is taken where it is in use.
        #[arg(long, default_value_t = PORT)]
        port: u16,
    },
}
