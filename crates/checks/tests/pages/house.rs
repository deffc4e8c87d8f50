//! What every page test stands on: the demo workshop, served by the program, and a chromedriver.

use std::path::PathBuf;
use std::process::Command;

use asfound_checks::{Running, number_after, program};
use tempfile::TempDir;

/// The served demo workshop and the browser's driver. Both end with it.
pub(crate) struct House {
    pub(crate) port: u16,
    pub(crate) driver_port: u16,
    /// The number of a job that holds nothing but its title.
    pub(crate) empty_job: String,
    folder: TempDir,
    _server: Running,
    _driver: Running,
}

impl House {
    /// Makes the demo workshop with one empty job more, serves it, and starts the driver.
    pub(crate) fn open() -> House {
        let driver = installed("chromedriver");
        let folder = tempfile::tempdir().expect("a folder for the workshop");
        let workshop = folder.path().join("workshop");
        run(Command::new(program()).arg("demo").arg(&workshop).arg("--no-serve"));
        let said = run(Command::new(program()).args(["open", "Nothing known yet", "--in"]).arg(&workshop));
        let empty_job = said.split_whitespace().nth(1).expect("`open` says the job's number").to_owned();
        let (server, port) = Running::serve(&workshop);
        let mut command = Command::new(driver);
        let driver = Running::start(
            command.arg("--port=0").env("TMPDIR", folder.path()),
            "started successfully on port",
        );
        let driver_port = number_after(&driver.ready, "on port ");
        House { port, driver_port, empty_job, folder, _server: server, _driver: driver }
    }

    /// A file for a test to hand over to a form.
    pub(crate) fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, bytes).expect("the file is written");
        path
    }
}

/// Where a program lies. A check that cannot be made is a failure, not a check less.
pub(crate) fn installed(name: &str) -> PathBuf {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let found = std::env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file());
    found.unwrap_or_else(|| {
        panic!("{name} is not installed. `apt-get install chromium chromium-driver` brings it, and ./check does so by itself.")
    })
}

/// Runs the program, which has to succeed, and answers what it printed.
pub(crate) fn run(command: &mut Command) -> String {
    let output = command.output().expect("the program starts");
    assert!(output.status.success(), "{command:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}
