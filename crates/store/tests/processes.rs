//! Two processes at one folder, and one that is killed. The other process is this test program itself.

mod common;

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use asfound_store::{Store, StoreError};
use common::{CHAIN, is_sentence, photograph};

const FOLDER: &str = "ASFOUND_TEST_WORKSHOP";

/// Not a test of its own: what the other process does. Without a folder named to it, there is nothing to do.
#[test]
fn the_other_process() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let store = Store::start(Path::new(&folder)).unwrap();
    let mut out = std::io::stdout();
    for number in 0_u32.. {
        let hash = store.keep_photograph(&number.to_le_bytes().repeat(1000)).unwrap();
        let entry = store.append(photograph(hash, "guard"), CHAIN, None).unwrap().entry;
        // The acknowledgement: it must hold from here on, whatever happens to this process.
        writeln!(out, "kept {}", entry.hash()).unwrap();
    }
}

fn other_process(folder: &Path) -> Child {
    Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "the_other_process", "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

#[test]
fn a_killed_process_leaves_all_that_it_acknowledged() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("workshop");
    let mut acknowledged: Vec<String> = Vec::new();
    for round in 1..=3 {
        let mut other = other_process(&folder);
        let mut lines = BufReader::new(other.stdout.take().unwrap());
        let mut said = String::new();
        while said.matches("kept ").count() < 5 * round {
            assert!(lines.read_line(&mut said).unwrap() > 0, "the other process ended by itself");
        }
        // While it works: a second writer is told so, and a reader reads.
        let error = Store::open(&folder).err().unwrap();
        assert!(matches!(error, StoreError::InUse { .. }) && is_sentence(&error), "{error}");
        assert!(Store::open_to_read(&folder).unwrap().entries(CHAIN).unwrap().len() >= 5);

        other.kill().unwrap();
        other.wait().unwrap();
        lines.read_to_string(&mut said).unwrap();
        acknowledged.extend(said.lines().filter_map(|line| Some(line.split_once("kept ")?.1.to_owned())));

        let store = Store::open(&folder).unwrap();
        let there: Vec<String> =
            store.entries(CHAIN).unwrap().iter().map(|entry| entry.hash().to_string()).collect();
        // The last one may have been kept, and the process killed before it could say so (whole).
        acknowledged.retain(|hash| hash.len() == 64);
        assert!(there.starts_with(&acknowledged), "round {round}");
        assert!(there.len() <= acknowledged.len() + 1);
        assert!(store.verify().unwrap().is_whole());
        acknowledged = there;
    }
}
