//! The program from outside: what it answers, where it answers it, and with which exit code.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use asfound_checks::{Running, program, root};
use serde_json::Value;
use tempfile::TempDir;

/// Exit codes, as `asfound --help` tells them.
const DONE: i32 = 0;
const NOT_WHOLE: i32 = 1;
const NOT_READ: i32 = 2;
const NOT_TAKEN: i32 = 3;
const AT_FAULT: i32 = 4;

/// What a command answered.
struct Answer {
    code: i32,
    out: String,
    complaint: String,
}

impl From<Output> for Answer {
    fn from(output: Output) -> Answer {
        Answer {
            code: output.status.code().expect("the program ends by itself, and not by a signal"),
            out: String::from_utf8(output.stdout).expect("what is printed is text"),
            complaint: String::from_utf8(output.stderr).expect("what is complained of is text"),
        }
    }
}

impl Answer {
    /// Asserts that it was done, and answers what was printed.
    fn done(self) -> String {
        assert_eq!(self.code, DONE, "{}{}", self.out, self.complaint);
        self.out
    }

    /// Asserts that it was not done, and answers the complaint: a sentence for a person, never a trace of the program.
    fn refused(self, code: i32) -> String {
        assert_eq!(self.code, code, "{}{}", self.out, self.complaint);
        assert!(!self.complaint.trim().is_empty(), "a refusal without a word");
        for inner in ["panicked", "RUST_BACKTRACE", "Error {", "Err(", "Some("] {
            assert!(!self.complaint.contains(inner), "{}", self.complaint);
        }
        self.complaint
    }
}

/// A workshop in a folder of its own.
struct Bench {
    folder: TempDir,
}

impl Bench {
    fn started() -> Bench {
        let bench = Bench { folder: tempfile::tempdir().expect("a folder") };
        bench.run(&["start", "A bench of one"]).done();
        bench
    }

    /// A workshop with one job, `number`, and one coil in it.
    fn with_a_coil() -> (Bench, String) {
        let bench = Bench::started();
        let said = bench.run(&["open", "Solid", "body,", "two", "coils"]).done();
        let number = said.split_whitespace().nth(1).expect("the number comes second").to_owned();
        bench.run(&["say", &number, "part neck coil, coil, neck"]).done();
        (bench, number)
    }

    fn workshop(&self) -> PathBuf {
        self.folder.path().join("workshop")
    }

    fn run(&self, words: &[&str]) -> Answer {
        run(Command::new(program()).arg("--in").arg(self.workshop()).args(words))
    }

    fn file(&self, name: &str, bytes: &[u8]) -> String {
        let path = self.folder.path().join(name);
        std::fs::write(&path, bytes).expect("the file is written");
        path.display().to_string()
    }
}

fn run(command: &mut Command) -> Answer {
    command.env_remove("ASFOUND_WORKSHOP").stdin(Stdio::null()).output().expect("the program starts").into()
}

/// A command that needs no workshop.
fn alone(words: &[&str]) -> Answer {
    run(Command::new(program()).args(words).current_dir(std::env::temp_dir()))
}

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error} in: {text}"))
}

#[test]
fn a_job_is_kept_from_the_command_line() {
    let (bench, number) = Bench::with_a_coil();
    let said = bench.run(&["say", &number, "neck", "6k31", "21C"]).done();
    assert!(said.starts_with("Kept as entry 3: neck coil 6k31"), "{said}");

    let jobs = bench.run(&["jobs"]).done();
    assert!(jobs.contains(&number) && jobs.contains("Solid body, two coils"), "{jobs}");
    let jobs = parsed(&bench.run(&["jobs", "--json"]).done());
    assert_eq!(jobs[0]["number"], number.as_str());
    assert_eq!(jobs[0]["entries"], 4);

    let history = bench.run(&["history", &number]).done();
    assert!(history.contains("neck coil 6k31"), "{history}");
    let history = parsed(&bench.run(&["history", &number, "--json"]).done());
    let places: Vec<_> =
        history.as_array().expect("a list").iter().filter_map(|line| line["seq"].as_u64()).collect();
    assert_eq!(places, [0, 1, 2, 3], "every entry once, in order");

    let verified = bench.run(&["verify"]).done();
    assert!(verified.contains("is whole"), "{verified}");
    assert_eq!(parsed(&bench.run(&["verify", "--json"]).done())["whole"], true);
}

#[test]
fn a_sheet_is_printed_for_a_person_and_for_a_machine() {
    let (bench, number) = Bench::with_a_coil();
    bench.run(&["say", &number, "neck", "6k31", "21C"]).done();
    let text = bench.run(&["sheet", &number, "readings"]).done();
    let places: Vec<_> = ["Readings", "Found", "neck coil 6k31", "Means", "Rests on entry 3", "Next"]
        .iter()
        .map(|sign| text.find(sign).unwrap_or_else(|| panic!("{sign} in: {text}")))
        .collect();
    assert!(places.is_sorted(), "found, means, next, in this order: {text}");

    let sheet = parsed(&bench.run(&["sheet", &number, "Readings", "--json"]).done());
    assert_eq!(sheet["readings"]["found"][0]["seq"], 3, "{sheet}");
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let means = sheet["readings"]["means"].as_array().expect("findings");
    assert!(!means.is_empty(), "{sheet}");
    for told in means {
        let sentence = told["sentence"].as_str().expect("a sentence");
        assert!(flat(&text).contains(&flat(sentence)), "the same sentence to both: {sentence}");
    }

    let all = bench.run(&["sheet", &number]).done();
    for title in ["Piece\n", "Parts\n", "Readings\n", "Wiring\n"] {
        assert!(all.contains(title), "{title} in: {all}");
    }
    let complaint = bench.run(&["sheet", &number, "finish"]).refused(NOT_TAKEN);
    assert!(complaint.contains("“finish”") && complaint.contains("piece, viewing, parts"), "{complaint}");
    bench.run(&["sheet", "99-999"]).refused(NOT_TAKEN);
}

#[test]
fn an_odd_reading_is_questioned_and_kept_as_typed() {
    let (bench, number) = Bench::with_a_coil();
    let said = bench.run(&["say", &number, "neck", "5.84"]).done();
    assert!(
        said.contains("neck coil 5.84") && said.contains("5.84 kΩ meant?") && said.contains("kept as typed"),
        "{said}"
    );
    let lines = bench.run(&["lines", &number]).done();
    let last = parsed(lines.lines().last().expect("a line for each entry"));
    assert_eq!(last["content"]["body"]["shown"]["text"], "5.84", "{last}");
}

#[test]
fn a_line_that_cannot_be_read_is_shown_its_place_and_keeps_nothing() {
    let (bench, number) = Bench::with_a_coil();
    let before = bench.run(&["lines", &number]).done();
    let complaint = bench.run(&["say", &number, "neck", "6q31", "21C"]).refused(NOT_TAKEN);
    let lines: Vec<&str> = complaint.lines().collect();
    let carets = lines.iter().position(|line| line.contains("^^^^")).unwrap_or_else(|| panic!("{complaint}"));
    let at = lines[carets].find('^').expect("a caret");
    assert!(lines[carets - 1][at..].starts_with("6q31"), "the carets stand under the word: {complaint}");
    assert!(complaint.contains("neck 6k31 21C") && complaint.contains("Nothing was kept"), "{complaint}");
    assert_eq!(bench.run(&["lines", &number]).done(), before);
    bench.run(&["say", &number, "note", "neck", "6q31", "21C"]).done();
}

#[test]
fn photographs_are_kept_whatever_they_are() {
    let (bench, number) = Bench::with_a_coil();
    let picture = root().join("crates/asfound/demo/pictures/05-neck-coil.jpg");
    let said = bench.run(&["photograph", &number, &picture.display().to_string(), "--part", "neck"]).done();
    assert!(said.contains("Kept 05-neck-coil.jpg as entry 3"), "{said}");
    assert!(!said.contains("No preview"), "{said}");
    let text = bench.file("list.txt", b"no picture at all\n");
    let said = bench.run(&["photograph", &number, &text]).done();
    assert!(said.contains("Kept list.txt as entry 4") && said.contains("No preview can be shown"), "{said}");
    let complaint = bench.run(&["photograph", &number, "/nowhere/picture.jpg"]).refused(NOT_TAKEN);
    assert!(complaint.contains("/nowhere/picture.jpg") && complaint.contains("no such file"), "{complaint}");
    let complaint = bench.run(&["photograph", &number, &text, "--part", "bridge"]).refused(NOT_TAKEN);
    assert!(complaint.contains("bridge"), "{complaint}");

    // One bit of the picture flips on the disk: the workshop does not verify any more, and says which file.
    bench.run(&["verify"]).done();
    let kept = std::fs::read(&picture).expect("the picture");
    let (path, mut bytes) = files(&bench.workshop())
        .into_iter()
        .map(|path| (path.clone(), std::fs::read(path).unwrap_or_default()))
        .find(|(_, bytes)| *bytes == kept)
        .expect("the vault holds the picture as it came");
    bytes[kept.len() / 2] ^= 1;
    let mut may_write = std::fs::metadata(&path).expect("the file is there").permissions();
    #[allow(clippy::permissions_set_readonly_false, reason = "a file of this test alone")]
    may_write.set_readonly(false);
    std::fs::set_permissions(&path, may_write).expect("the file is ours");
    std::fs::write(&path, bytes).expect("the file is written");
    let complaint = bench.run(&["verify"]).refused(NOT_WHOLE);
    let name = path.file_name().expect("a name").to_string_lossy().into_owned();
    assert!(complaint.contains(&name[..8]), "{complaint}");
}

#[test]
fn sweeps_and_recordings_are_kept_with_their_part() {
    let (bench, number) = Bench::with_a_coil();
    let sweep = bench.file("neck.csv", b"frequency Hz;impedance ohm;phase deg\n120;6310;14\n1000;18500;70\n");
    let said = bench.run(&["sweep", &number, "neck", &sweep, "--at", "21C"]).done();
    assert!(said.starts_with("Kept as entry 3: neck coil impedance sweep, neck.csv, at 21C"), "{said}");
    let recordings = [1, 2]
        .map(|sign| bench.file(&format!("{sign}.wav"), &[b"RIFF\0\0\0\0WAVE", &[sign; 9][..]].concat()));
    let said = bench
        .run(&["sweep", &number, "P1", &recordings[0], &recordings[1], "--resistors", "10k", "100k"])
        .done();
    assert!(said.contains("resistor test") && said.contains("through 10k and 100k"), "{said}");
    // A file that nobody can read is kept as well.
    let odd = bench.file("odd.bin", &[0, 255, 7]);
    bench.run(&["sweep", &number, "neck", &odd]).done();
    bench.run(&["sheet", &number, "readings"]).done();
    let history = bench.run(&["history", &number]).done();
    assert!(history.contains("neck.csv") && history.contains("odd.bin"), "{history}");
    bench.run(&["verify"]).done();
    let lines = bench.file("job.jsonl", bench.run(&["lines", &number]).done().as_bytes());
    assert!(alone(&["verify", &lines]).done().contains("6 entries"));
    let copy = bench.folder.path().join("copy");
    bench.run(&["copy", &copy.display().to_string()]).done();
    run(Command::new(program()).arg("--in").arg(&copy).arg("verify")).done();

    let before = bench.run(&["lines", &number]).done();
    for (words, sign) in [
        (["sweep", &number, "neck", "/nowhere/a.csv"].as_slice(), "no such file"),
        (&["sweep", &number, "bridge", &sweep], "bridge"),
        (&["sweep", "99-999", "neck", &sweep], "99-999"),
        (&["sweep", &number, "neck", &sweep, "--at", "warm"], "warm"),
        (&["sweep", &number, "neck", &sweep, "--resistors", "10k", "100k"], "one resistor for each"),
        (&["sweep", &number, "neck", &bench.file("empty.csv", b"")], "empty"),
    ] {
        let complaint = bench.run(words).refused(NOT_TAKEN);
        assert!(complaint.contains(sign), "{complaint}");
    }
    bench.run(&["sweep", &number, "neck", &sweep, "--resistors", "10k"]).refused(NOT_READ);
    assert_eq!(bench.run(&["lines", &number]).done(), before, "what was refused kept nothing");
}

#[test]
fn the_test_signal_is_written_once_and_never_over_another_file() {
    let bench = Bench { folder: tempfile::tempdir().expect("a folder") };
    let out = bench.folder.path().join("signal.wav").display().to_string();
    let said = alone(&["test-signal", &out]).done();
    assert!(said.contains("line level only") && said.contains("--resistors"), "{said}");
    let bytes = std::fs::read(&out).expect("it was written");
    assert!(bytes.starts_with(b"RIFF") && bytes.len() > 500_000, "{} bytes", bytes.len());
    let complaint = alone(&["test-signal", &out]).refused(NOT_TAKEN);
    assert!(complaint.contains("is there already"), "{complaint}");
    assert_eq!(std::fs::read(&out).expect("it is there"), bytes);
    alone(&["test-signal", "/nowhere/at/all.wav"]).refused(NOT_TAKEN);
}

#[test]
fn what_is_taken_for_granted_is_listed_and_can_be_the_workshop_s_own() {
    let bench = Bench::started();
    let listed = bench.run(&["assume"]).done();
    assert!(listed.contains("rewound: 0.12") && !listed.contains("this workshop’s own"), "{listed}");
    let said = bench.run(&["assume", "rewound", "20 %", "--source", "ten of fifty coils here"]).done();
    assert!(said.contains("rewound is 0.2 (ten of fifty coils here; comes as 0.12"), "{said}");
    bench.run(&["assume", "largest capacitance of a coil", "190p", "--source", "measured here"]).done();
    let listed = parsed(&bench.run(&["assume", "--json"]).done());
    let own: Vec<_> = listed.as_array().expect("a list").iter().filter(|one| one["own"] == true).collect();
    assert_eq!(own.len(), 2, "{listed}");
    assert_eq!((&own[1]["value"], &own[1]["source"]), (&"190\u{202f}pF".into(), &"measured here".into()));
    bench.run(&["verify"]).done();
    let said = bench.run(&["assume", "rewound", "--as-it-comes"]).done();
    assert!(said.contains("rewound is 0.12"), "{said}");

    for (words, code, sign) in [
        (["assume", "re-wound", "0.2", "--source", "so"].as_slice(), NOT_TAKEN, "nearest is \"rewound\""),
        (&["assume", "rewound", "much", "--source", "so"], NOT_TAKEN, "“much”"),
        (&["assume", "rewound", "3", "--source", "so"], NOT_TAKEN, "between 0.04 and 0.3"),
        (&["assume", "rewound", "--as-it-comes"], NOT_TAKEN, "no value of its own"),
        (&["assume", "rewound", "0.2"], NOT_READ, "--source"),
        (&["assume", "rewound"], NOT_READ, "VALUE"),
    ] {
        let complaint = bench.run(words).refused(code);
        assert!(complaint.contains(sign), "{complaint}");
    }
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found
}

#[test]
fn lines_taken_out_verify_by_themselves_until_a_sign_is_changed() {
    let (bench, number) = Bench::with_a_coil();
    bench.run(&["say", &number, "neck", "6k31", "21C"]).done();
    let lines = bench.run(&["lines", &number]).done();
    let good = bench.file("job.jsonl", lines.as_bytes());
    assert!(alone(&["verify", &good]).done().contains("is whole"));

    let bad = bench.file("changed.jsonl", lines.replace("6k31", "6k13").as_bytes());
    let complaint = alone(&["verify", &bad]).refused(NOT_WHOLE);
    assert!(complaint.contains("does not verify") && complaint.contains("entry 3"), "{complaint}");
    let report = alone(&["verify", "--json", &bad]);
    assert_eq!(report.code, NOT_WHOLE);
    assert_eq!(parsed(&report.out)["whole"], false);

    let without: Vec<&str> =
        lines.lines().enumerate().filter(|(at, _)| *at != 2).map(|(_, line)| line).collect();
    let gap = bench.file("gap.jsonl", without.join("\n").as_bytes());
    alone(&["verify", &gap]).refused(NOT_WHOLE);
    alone(&["verify", &bench.file("bytes.jsonl", &[0xff, 0, 0x80, b'\n'])]).refused(NOT_WHOLE);
    // A file with no line in it is no archive that fails: it is the wrong file.
    let empty = alone(&["verify", &bench.file("empty.jsonl", b"")]).refused(NOT_TAKEN);
    assert!(empty.contains("holds no line"), "{empty}");
    alone(&["verify", "/nowhere/job.jsonl"]).refused(NOT_TAKEN);
}

#[test]
fn traces_are_explained_to_a_person_and_to_a_machine() {
    let folder = root().join("crates/electric/tests/traces");
    let mut explained = 0;
    for path in files(&folder).into_iter().filter(|path| path.extension().is_some_and(|kind| kind == "trace"))
    {
        let name = path.display().to_string();
        let text = alone(&["explain", &name]).done();
        assert!(text.contains("How the positions differ"), "{name}: {text}");
        let sheet = parsed(&alone(&["explain", &name, "--json"]).done());
        let means = sheet["means"].as_array().unwrap_or_else(|| panic!("{name}: {sheet}"));
        let first = means.first().and_then(|told| told["sentence"].as_str()).unwrap_or_default();
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat(&text).contains(&flat(first)), "{name}: the same sentence to both: {first}");
        explained += 1;
    }
    assert!(explained >= 3, "the traces are gone from {}", folder.display());
}

#[test]
fn a_trace_is_drawn_into_a_new_file() {
    let bench = Bench { folder: tempfile::tempdir().expect("a folder") };
    let trace = bench.file("cavity.trace", b"coil neck 7k2\njack jack\njoin neck.hot jack.tip metered 0.4\n");
    let out = bench.folder.path().join("cavity.svg").display().to_string();
    let said = alone(&["drawing", &trace, &out]).done();
    assert!(said.contains("Seen from the back. One join: 1 metered."), "{said}");
    let drawn = std::fs::read_to_string(&out).expect("the drawing is there");
    assert!(drawn.starts_with("<svg") && drawn.contains("neck.hot to jack.tip, metered, 0.4"), "{drawn}");
    let again = alone(&["drawing", &trace, &out, "--seen", "front", "--left"]).refused(NOT_TAKEN);
    assert!(again.contains("is there already"), "{again}");
    let nothing =
        alone(&["drawing", &bench.file("empty.trace", b"# nothing\n"), "/nowhere.svg"]).refused(NOT_TAKEN);
    assert!(nothing.contains("a part comes first"), "{nothing}");
}

#[test]
fn what_is_no_trace_is_refused_with_a_place_and_a_remedy() {
    let bench = Bench { folder: tempfile::tempdir().expect("a folder") };
    let long: String = (0..100_000).map(|at| format!("coil c{at} 7k2\n")).collect();
    let rubbish = "what is this\n".repeat(100_000);
    let wild: Vec<u8> = (0..=255_u8).cycle().take(10_000).collect();
    for (name, bytes, place) in [
        ("rubbish.trace", b"coil neck 7k2\nwhat is this\n".as_slice(), "line 2"),
        ("wild.trace", &wild, "line"),
        ("long.trace", long.as_bytes(), "line 10001"),
        ("long-rubbish.trace", rubbish.as_bytes(), "line"),
        ("empty.trace", b"", "holds no trace"),
        ("blank.trace", b"\n\n# nothing yet\n", "holds no trace"),
        ("no-jack.trace", b"coil neck 7k2\n", "jack"),
        ("loop.trace", b"jack jack\njoin jack.tip jack.tip\n", "line 2"),
    ] {
        let file = bench.file(name, bytes);
        let complaint = alone(&["explain", &file]).refused(NOT_TAKEN);
        assert!(complaint.contains(name) && complaint.contains(place), "{name}: {complaint}");
        assert!(
            complaint.len() < 20_000,
            "{name}: {} signs of complaint are not read by anybody",
            complaint.len()
        );
        assert_eq!(
            alone(&["explain", "--json", &file]).refused(NOT_TAKEN),
            complaint,
            "{name}: the same to a machine"
        );
    }
    let complaint = alone(&["explain", "/nowhere/at-all.trace"]).refused(NOT_TAKEN);
    assert!(
        complaint.contains("/nowhere/at-all.trace") && complaint.contains("Look at the path"),
        "{complaint}"
    );
}

#[test]
fn a_trace_is_read_from_standard_input_too() {
    let path = root().join("crates/electric/tests/traces/half-cut-rotary.trace");
    let text = std::fs::read(&path).expect("the trace");
    let mut child = Command::new(program())
        .args(["explain", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    child.stdin.take().expect("its input").write_all(&text).expect("it reads");
    let piped = Answer::from(child.wait_with_output().expect("it ends")).done();
    assert_eq!(piped, alone(&["explain", &path.display().to_string()]).done());
}

#[test]
fn a_reader_who_goes_away_is_no_failure() {
    let (bench, number) = Bench::with_a_coil();
    // More than a pipe holds, so that the program meets the closed end while it still writes.
    let long = format!("note {}", "dust of decades ".repeat(8_000));
    bench.run(&["say", &number, &long]).done();
    let mut child = Command::new(program())
        .arg("--in")
        .arg(bench.workshop())
        .args(["lines", &number])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let answer = Answer::from(child.wait_with_output().expect("it ends"));
    assert_eq!((answer.code, answer.complaint.as_str()), (DONE, ""));
}

#[test]
fn a_served_workshop_is_read_beside_the_server_and_written_by_it_alone() {
    let (bench, number) = Bench::with_a_coil();
    let (server, _) = Running::serve(&bench.workshop());
    let complaint = bench.run(&["say", &number, "neck", "6k31"]).refused(AT_FAULT);
    assert!(complaint.contains("already open in another window or program"), "{complaint}");
    assert!(bench.run(&["jobs"]).done().contains(&number));
    assert!(bench.run(&["history", &number]).done().contains("neck coil"));
    bench.run(&["verify"]).done();
    drop(server);
    // A server that was killed leaves nothing locked and nothing broken.
    bench.run(&["say", &number, "neck", "6k31"]).done();
    bench.run(&["verify"]).done();
}

#[test]
fn what_is_not_there_is_said_to_be_so() {
    let (bench, number) = Bench::with_a_coil();
    for words in [
        ["say", "99-999", "note x"].as_slice(),
        &["history", "99-999"],
        &["lines", "99-999"],
        &["photograph", "99-999", "Cargo.toml"],
    ] {
        let complaint = bench.run(words).refused(NOT_TAKEN);
        assert!(complaint.contains("99-999") || complaint.contains("Cargo.toml"), "{complaint}");
    }
    let complaint = bench.run(&["say", &number, "middle", "6k31"]).refused(NOT_TAKEN);
    assert!(complaint.contains("“middle”") && complaint.contains("part middle"), "{complaint}");

    let full = bench.folder.path().join("full");
    std::fs::create_dir(&full).expect("a folder");
    std::fs::write(full.join("letter.txt"), "not yours").expect("a file");
    let start =
        |folder: &Path| run(Command::new(program()).arg("--in").arg(folder).args(["start", "Another"]));
    let complaint = start(&full).refused(AT_FAULT);
    assert!(complaint.contains("not empty"), "{complaint}");
    assert_eq!(std::fs::read_to_string(full.join("letter.txt")).expect("the letter"), "not yours");
    let complaint = start(&bench.workshop()).refused(NOT_TAKEN);
    assert!(complaint.contains("A bench of one"), "{complaint}");
    let nowhere = run(Command::new(program()).args(["--in", "/nowhere/at/all", "jobs"])).refused(AT_FAULT);
    assert!(nowhere.contains("/nowhere/at/all"), "{nowhere}");
}

#[test]
fn a_command_line_that_cannot_be_read_is_helped() {
    for words in
        [["frobnicate"].as_slice(), &[], &["say"], &["serve", "--port", "many"], &["verify", "--loud"]]
    {
        alone(words).refused(NOT_READ);
    }
    let help = alone(&["--help"]).done();
    for code in ["0 done", "1 the archive", "2 the command line", "3 what was asked", "4 folder"] {
        assert!(help.split_whitespace().collect::<Vec<_>>().join(" ").contains(code), "{code} in {help}");
    }
    for command in [
        "demo",
        "start",
        "open",
        "jobs",
        "say",
        "photograph",
        "history",
        "sheet",
        "sweep",
        "test-signal",
        "assume",
        "explain",
        "dossier",
        "lines",
        "verify",
        "serve",
    ] {
        assert!(help.contains(command), "{command} in {help}");
        alone(&[command, "--help"]).done();
    }
}
