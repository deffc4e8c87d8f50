//! `verify`: is everything as it was written?

use std::path::Path;

use asfound_acts::{Report, Workshop, verify_lines, verify_paper};
use serde_json::{Value, json};

use crate::failure::Failure;
use crate::{json, print};

/// So many faults are told one by one; the rest are counted.
const MOST_TOLD: usize = 10;
/// From this many entries on, verifying lasts long enough to say so.
const LONG: u64 = 10_000;

pub(crate) fn run(folder: &Path, file: Option<&Path>, for_machine: bool) -> Result<(), Failure> {
    match file {
        Some(path) if path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("pdf")) => {
            paper(path, for_machine)
        }
        Some(path) => lines(path, for_machine),
        None => workshop(folder, for_machine),
    }
}

/// A paper against the seal file that lies beside it.
fn paper(path: &Path, for_machine: bool) -> Result<(), Failure> {
    let beside = path.with_extension("seal.json");
    let bytes = std::fs::read(path).map_err(|error| Failure::file("Reading", path, error))?;
    let seal_text = std::fs::read_to_string(&beside)
        .map_err(|error| Failure::file("Reading the seal beside the paper,", &beside, error))?;
    let checked = verify_paper(&bytes, &seal_text);
    if for_machine {
        let fault = checked.as_ref().err().map(ToString::to_string);
        let public = checked.as_ref().ok().map(|seal| seal.public.clone());
        print::out(&json::text(&json!({ "whole": fault.is_none(), "public": public, "fault": fault })))?;
    }
    match checked {
        Ok(_) if for_machine => Ok(()),
        Ok(seal) => print::out(&format!(
            "{} is as it was sealed, by the key {}, on entry {} of its chain.\nWhose key that is, the workshop that handed it out can say.\n",
            path.display(),
            seal.public,
            seal.head.seq
        )),
        Err(fault) => Err(Failure::NotWhole(format!("{} does not verify: {fault}", path.display()))),
    }
}

fn lines(path: &Path, for_machine: bool) -> Result<(), Failure> {
    let bytes = std::fs::read(path).map_err(|error| Failure::file("Reading", path, error))?;
    let text = String::from_utf8_lossy(&bytes);
    if text.trim().is_empty() {
        return Err(Failure::NotTaken(format!(
            "{} holds no line. Give a file as `asfound lines` prints it.",
            path.display()
        )));
    }
    let reports = verify_lines(&text);
    let whole = !reports.is_empty() && reports.iter().all(Report::is_whole);
    tell(&reports, &[], whole, for_machine, &path.display().to_string())?;
    if for_machine {
        return Ok(());
    }
    let ends: Vec<String> = reports
        .iter()
        .filter_map(|report| report.head.as_ref())
        .map(|head| format!("It ends with entry {}, hash {}.", head.next.saturating_sub(1), head.hash))
        .collect();
    // A file that was cut off at the end is whole as far as it goes: only a head known from elsewhere shows it.
    print::out(&format!(
        "{}\nCompare that with the hash on a paper or seal: lines cut off at the end leave no other trace.\n",
        ends.join("\n")
    ))
}

fn workshop(folder: &Path, for_machine: bool) -> Result<(), Failure> {
    let workshop = Workshop::open_to_read(folder)?;
    let entries = workshop.count_of_entries()?;
    if entries > LONG && !for_machine {
        // About 15,000 entries a second; photographs take as long as the disk takes.
        print::complain(&format!("Verifying {entries} entries and every photograph; this takes a while …"));
    }
    let report = workshop.verify()?;
    let faults = report.photographs.iter().filter(|fault| !fault.came_without);
    let troubles: Vec<String> =
        report.ledger.iter().cloned().chain(faults.map(|fault| fault.sentence.clone())).collect();
    let papers = workshop.verify_papers()?;
    let whole = report.is_whole() && papers.is_empty();
    let troubles: Vec<String> = troubles.into_iter().chain(papers.iter().map(ToString::to_string)).collect();
    tell(&report.chains, &troubles, whole, for_machine, &workshop.name())
}

fn tell(
    reports: &[Report],
    troubles: &[String],
    whole: bool,
    for_machine: bool,
    what: &str,
) -> Result<(), Failure> {
    let faults: Vec<String> =
        reports.iter().flat_map(|report| report.faults.iter().map(ToString::to_string)).collect();
    let entries: u64 = reports.iter().map(|report| report.entries).sum();
    let withheld: usize = reports.iter().map(|report| report.withheld.len()).sum();
    if for_machine {
        let chains: Vec<Value> = reports
            .iter()
            .map(|report| {
                json!({
                    "chain": report.chain, "entries": report.entries, "withheld": report.withheld,
                    "clock_steps_back": report.clock_steps_back,
                    "head": report.head.as_ref().map(|head| head.hash.to_string()),
                    "faults": report.faults.iter().map(ToString::to_string).collect::<Vec<_>>(),
                })
            })
            .collect();
        print::out(&json::text(&json!({ "whole": whole, "chains": chains, "troubles": troubles })))?;
    } else if whole {
        let gone = if withheld > 0 { format!(", {withheld} of them withheld") } else { String::new() };
        let chains =
            if reports.len() == 1 { "one chain".to_owned() } else { format!("{} chains", reports.len()) };
        print::out(&format!("{what} is whole: {chains}, {entries} entries{gone}; every hash agrees.\n"))?;
    }
    if whole {
        return Ok(());
    }
    let all: Vec<String> = faults.into_iter().chain(troubles.iter().cloned()).collect();
    let more = all.len().saturating_sub(MOST_TOLD);
    let told = match (all.as_slice(), more) {
        ([], _) => "there is no entry in it".to_owned(),
        (few, 0) => few.join("\n  "),
        (many, more) => format!("{}\n  and {more} more", many[..MOST_TOLD].join("\n  ")),
    };
    Err(Failure::NotWhole(format!("{what} does not verify:\n  {told}")))
}
