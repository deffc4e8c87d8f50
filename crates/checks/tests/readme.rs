//! The README is followed to the letter: its commands, what they print, the paper they write.

use std::path::{Path, PathBuf};
use std::process::Command;

use asfound_checks::root;

/// The commands in the README's fenced blocks, one list a block.
fn command_blocks() -> Vec<Vec<String>> {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("README.md is there");
    let blocks = readme.split("\n```").skip(1).step_by(2);
    blocks
        .map(|block| {
            block.lines().skip(1).map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect()
        })
        .collect()
}

/// Runs a program that has to succeed, and answers what it printed.
fn run(command: &mut Command) -> String {
    let name = command.get_program().to_string_lossy().into_owned();
    let output = command.output().unwrap_or_else(|error| {
        panic!("{name} could not be started: {error}. `apt-get install poppler-utils qpdf` brings the programs that read paper.")
    });
    let printed = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(output.status.success(), "{command:?}\n{printed}{}", String::from_utf8_lossy(&output.stderr));
    printed
}

/// Text with every run of blanks as one, so that a line's end says nothing.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_readme_shows_the_demo_first_and_then_the_check() {
    let blocks = command_blocks();
    let shown: Vec<&[String]> = blocks.iter().take(2).map(Vec::as_slice).collect();
    assert_eq!(shown, [["cargo run --release -- demo"], ["./check"]]);
    let check = std::fs::metadata(root().join("check")).expect("./check is there");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert!(check.permissions().mode() & 0o111 != 0, "./check can be started");
    }
    assert!(check.is_file());
}

#[test]
fn the_readme_s_demo_prints_its_findings_and_writes_a_paper_that_holds() {
    let folder = tempfile::tempdir().expect("a folder for the demo");
    let demo = folder.path().join("demo");
    let command = command_blocks().swap_remove(0).swap_remove(0);
    let mut words = command.split_whitespace();
    let program = words.next().expect("a command names a program");
    // As the README says, and then where to make it and not to serve it for ever.
    let printed = run(Command::new(program).args(words).arg(&demo).arg("--no-serve").current_dir(root()));
    let printed = flowing(&printed);
    for finding in [
        "Job 26-014: Short-scale bass, two coils",
        "Neck coil reads (7.",
        "kΩ at 20 °C",
        "combinations of the switches do",
        "Not decided",
        "Next",
        "The dossier is in",
    ] {
        let plain = |text: &str| text.replace(['\u{a0}', '\u{202f}', '\u{2009}', ' '], "");
        assert!(
            plain(&printed).contains(&plain(finding)),
            "“{finding}” is not in what the demo prints:\n{printed}"
        );
    }

    let paper = the_one_pdf(&demo.join("papers"));
    assert!(paper.is_file(), "no paper at {}", paper.display());
    paper_holds(&paper, folder.path());
    let seal =
        std::fs::read_to_string(paper.with_extension("seal.json")).expect("the seal lies beside the paper");
    serde_json::from_str::<serde_json::Value>(&seal).expect("the seal is JSON");

    // Made again, the demo changes nothing and says so.
    let again = run(Command::new(built()).args(["demo", "--no-serve"]).arg(&demo));
    assert!(again.contains("nothing in it is changed"), "{again}");
    run(Command::new(built()).arg("verify").arg("--in").arg(&demo));
    work_goes_as_the_readme_says(folder.path(), &demo.join("short-scale-bass.trace"));
}

/// The README's other commands, one after the other, as a person types them into a shell. Serving goes on for ever and
/// is left to the tests of the pages.
fn work_goes_as_the_readme_says(folder: &Path, trace: &Path) {
    std::fs::copy(trace, folder.join("cavity.trace")).expect("the demo leaves its trace beside its workshop");
    let lines: Vec<String> = command_blocks().into_iter().skip(2).flatten().collect();
    let lines: Vec<String> = lines.into_iter().filter(|line| !line.starts_with("asfound serve")).collect();
    assert!(lines.len() >= 5, "the README shows how to work: {lines:?}");
    let search = std::env::var_os("PATH").unwrap_or_default();
    let own = built().parent().expect("the program lies in a folder").to_owned();
    let path =
        std::env::join_paths([own].into_iter().chain(std::env::split_paths(&search))).expect("a search path");
    let mut number = None;
    for line in lines {
        // A job's number begins with the year, and the README was written in 2026.
        let line =
            number.as_ref().map_or_else(|| line.clone(), |number: &String| line.replace("26-001", number));
        let mut shell = Command::new("sh");
        shell
            .args(["-c", &line])
            .current_dir(folder)
            .env("PATH", &path)
            .env("ASFOUND_WORKSHOP", "my-workshop");
        let printed = run(&mut shell);
        if line.starts_with("asfound open") {
            number = printed.split_whitespace().nth(1).map(str::to_owned);
        }
    }
}

/// Common programs read the paper, and its data verify by themselves.
fn paper_holds(paper: &Path, folder: &Path) {
    let text = flowing(&run(Command::new("pdftotext").arg(paper).arg("-")));
    assert!(text.contains("Short-scale bass, two coils"), "the title is not in the paper: {text}");
    run(Command::new("qpdf").arg("--check").arg(paper));
    let lines = folder.join("record.jsonl");
    run(Command::new("pdfdetach").args(["-savefile", "record.jsonl", "-o"]).arg(&lines).arg(paper));
    let verified = run(Command::new(built()).arg("verify").arg(&lines));
    assert!(verified.contains("is whole"), "{verified}");
}

/// The program that the README's command has built.
fn built() -> std::path::PathBuf {
    let metadata = run(Command::new("cargo")
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline", "--locked"])
        .current_dir(root()));
    let metadata: serde_json::Value = serde_json::from_str(&metadata).expect("cargo metadata prints JSON");
    Path::new(metadata["target_directory"].as_str().expect("a target folder")).join("release").join("asfound")
}

/// The dossier: the demo issues one paper, named by its day and hash.
fn the_one_pdf(papers: &Path) -> PathBuf {
    let entries = std::fs::read_dir(papers).expect("the demo has a folder of papers");
    let paths = entries.map(|entry| entry.expect("an entry of the folder of papers").path());
    let pdfs: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|extension| extension == "pdf")).collect();
    let [pdf] = pdfs.as_slice() else { panic!("the demo issues one paper, and there are {pdfs:?}") };
    pdf.clone()
}
