//! The arrows between the rooms are those that ARCHITECTURE.md draws, and pure rooms stay pure.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use asfound_checks::root;

fn metadata() -> serde_json::Value {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .current_dir(root())
        .output()
        .expect("cargo metadata runs");
    assert!(output.status.success(), "cargo metadata: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("cargo metadata prints JSON")
}

/// The rows of the table under `## Arrows`: a room, then the rooms it may know.
fn allowed() -> BTreeMap<String, BTreeSet<String>> {
    let page = std::fs::read_to_string(root().join("ARCHITECTURE.md")).expect("ARCHITECTURE.md is there");
    let section = page.split("## Arrows").nth(1).expect("ARCHITECTURE.md has a section `Arrows`");
    section
        .lines()
        .take_while(|line| !line.starts_with("## "))
        .filter(|line| line.starts_with("| `"))
        .map(|line| {
            let mut cells = line.trim_matches('|').split('|').map(str::trim);
            let room = cells.next().unwrap_or_default().trim_matches('`').to_owned();
            let known = cells.next().unwrap_or_default();
            (room, known.split('`').skip(1).step_by(2).map(str::to_owned).collect())
        })
        .collect()
}

/// Rooms as they are: name without the common prefix, and what each depends on when it is built (not in its tests).
fn drawn(metadata: &serde_json::Value) -> BTreeMap<String, BTreeSet<String>> {
    let packages = metadata["packages"].as_array().expect("packages");
    let members: BTreeSet<&str> = metadata["workspace_members"]
        .as_array()
        .expect("members")
        .iter()
        .filter_map(|id| id.as_str())
        .collect();
    packages
        .iter()
        .filter(|package| members.contains(package["id"].as_str().unwrap_or_default()))
        .map(|package| {
            let dependencies = package["dependencies"].as_array().expect("dependencies");
            let names = dependencies
                .iter()
                .filter(|dependency| dependency["kind"].is_null())
                .filter_map(|dependency| dependency["name"].as_str().map(str::to_owned))
                .collect();
            (short(package["name"].as_str().unwrap_or_default()), names)
        })
        .collect()
}

fn short(name: &str) -> String {
    name.strip_prefix("asfound-").unwrap_or(name).to_owned()
}

#[test]
fn every_arrow_is_one_that_the_page_draws() {
    let allowed = allowed();
    let drawn = drawn(&metadata());
    let rooms: BTreeSet<_> = drawn.keys().filter(|room| *room != "checks").cloned().collect();
    assert_eq!(
        rooms,
        allowed.keys().cloned().collect(),
        "rooms of the workspace against rows of ARCHITECTURE.md"
    );
    for (room, known) in &drawn {
        let Some(may) = allowed.get(room) else { continue };
        for name in known.iter().filter(|name| name.starts_with("asfound-")).map(|name| short(name)) {
            assert!(
                may.contains(&name),
                "{room} knows {name}, which ARCHITECTURE.md does not allow: move the wall, add no door"
            );
        }
    }
}

#[test]
fn pure_rooms_have_no_outside_crate_that_reaches_out() {
    let reaching =
        ["tokio", "axum", "rusqlite", "typst", "image", "tower", "tower-http", "getrandom", "clap"];
    let pure = ["measure", "electric", "evidence", "plan", "weigh", "plot", "study", "words", "record"];
    let drawn = drawn(&metadata());
    for room in pure {
        let known = drawn.get(room).unwrap_or_else(|| panic!("the room {room} is gone"));
        for name in reaching {
            assert!(!known.contains(name), "{room} is pure and may not have {name}");
        }
        let fence = root().join("crates").join(room).join("clippy.toml");
        let text = std::fs::read_to_string(&fence)
            .unwrap_or_else(|_| panic!("{room} is pure and has no clippy.toml"));
        for forbidden in [
            "std::fs",
            "std::net",
            "std::process",
            "std::env",
            "SystemTime::now",
            "Instant::now",
            "Zoned::now",
        ] {
            assert!(text.contains(forbidden), "{}: does not forbid {forbidden}", fence.display());
        }
    }
}

#[test]
fn the_pages_room_writes_no_sql() {
    let drawn = drawn(&metadata());
    assert!(!drawn["web"].contains("rusqlite"));
}

#[test]
fn files_stay_one_subject_long() {
    let mut long = Vec::new();
    let mut folders = vec![root().join("crates")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder of the workspace") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let lines = std::fs::read_to_string(&path).expect("source is text").lines().count();
                if lines > 600 {
                    long.push(format!("{} ({lines} lines)", path.display()));
                }
            }
        }
    }
    assert!(long.is_empty(), "over 600 lines is two subjects in one file: {long:?}");
}
