//! A bench for cases: a workshop is started, a job opened, lines are said, and a page is read by the command.

use std::path::Path;
use std::process::Command;

use asfound_checks::program;

/// Runs the program, which must do what it is asked.
fn asfound(folder: &Path, words: &[&str]) -> String {
    let output = Command::new(program()).arg("--in").arg(folder).args(words).output().expect("it runs");
    let told = String::from_utf8(output.stdout).expect("text");
    assert!(output.status.success(), "{words:?}: {told}{}", String::from_utf8_lossy(&output.stderr));
    told
}

/// A page after these lines, in one line of text.
pub(crate) fn page_after(lines: &str, page: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let folder = folder.path().join("workshop");
    asfound(&folder, &["start", "A bench"]);
    asfound(&folder, &["open", "a case"]);
    for line in lines.lines().map(str::trim).filter(|line| !line.is_empty()) {
        asfound(&folder, &["say", "26-001", line]);
    }
    let page = asfound(&folder, &["sheet", "26-001", page]);
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Asserts that the page says all of it.
pub(crate) fn says(page: &str, pieces: &[&str]) {
    for piece in pieces {
        assert!(page.contains(piece), "“{piece}” is not in:\n{page}");
    }
}
