//! Checks of the whole house: its arrows, its README, its pages in a real browser.
//!
//! The tests drive the program from outside, the way a person does, so they live apart from the rooms and need what a
//! person needs: a browser, and the commands that the README names. Here stands only what several of them share: where
//! the house is, the program itself, and how a program is started and seen to end.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::LazyLock;

/// The folder of the whole house.
///
/// # Panics
/// Where this crate was moved out of it.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .expect("the workspace lies two folders up")
        .to_owned()
}

/// The program, as the variable `ASFOUND_PROGRAM` names it, else as `cargo build` makes it in the folder that the test
/// itself was built in. It is built anew each time, so that no test drives an old one.
///
/// # Panics
/// Where it cannot be built.
pub fn program() -> &'static Path {
    static PROGRAM: LazyLock<PathBuf> = LazyLock::new(|| match std::env::var_os("ASFOUND_PROGRAM") {
        Some(named) => PathBuf::from(named),
        None => built(),
    });
    &PROGRAM
}

fn built() -> PathBuf {
    let test = std::env::current_exe().expect("a test knows where it lies");
    let profile = test.ancestors().nth(2).expect("a test lies in the folder deps of a profile").to_owned();
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let done = Command::new(cargo)
        .args(["build", "--locked", "--package", "asfound", "--target-dir"])
        .arg(profile.parent().expect("a profile lies in a target folder"))
        .current_dir(root())
        .status()
        .expect("cargo can be started");
    assert!(done.success(), "The program could not be built: run `cargo build` and look at what it says.");
    profile.join("asfound")
}

/// A program that runs beside the test and is ended with it.
pub struct Running {
    child: Child,
    /// What it said when it was ready.
    pub ready: String,
}

impl Running {
    /// Starts a program and waits until a line on its standard output holds `sign`.
    ///
    /// # Panics
    /// Where it cannot be started, or ends without having said so.
    pub fn start(command: &mut Command, sign: &str) -> Running {
        let name = command.get_program().to_string_lossy().into_owned();
        let mut child = command
            .stdout(Stdio::piped())
            .spawn()
            .unwrap_or_else(|error| panic!("{name} could not be started: {error}. Is it installed?"));
        let output = child.stdout.take().expect("standard output was asked for");
        let mut lines = BufReader::new(output).lines();
        let ready = lines.by_ref().map_while(Result::ok).find(|line| line.contains(sign));
        // What it says later is read and dropped, so that it never waits for a reader.
        std::thread::spawn(move || lines.map_while(Result::ok).for_each(drop));
        let running = Running { child, ready: ready.clone().unwrap_or_default() };
        assert!(ready.is_some(), "{name} ended without saying “{sign}”.");
        running
    }

    /// Serves a workshop's folder on any free port, and answers with that port.
    ///
    /// # Panics
    /// Where it cannot be served.
    pub fn serve(folder: &Path) -> (Running, u16) {
        let mut command = Command::new(program());
        command.arg("serve").arg("--in").arg(folder).args(["--port", "0"]);
        let running = Running::start(&mut command, "http://127.0.0.1:");
        let port = number_after(&running.ready, "127.0.0.1:");
        (running, port)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself; then there is nothing to end.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The number that follows `sign` in a line.
///
/// # Panics
/// Where none does.
pub fn number_after(line: &str, sign: &str) -> u16 {
    let rest = line.split(sign).nth(1).unwrap_or_default();
    let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().unwrap_or_else(|_| panic!("no number after “{sign}” in: {line}"))
}
