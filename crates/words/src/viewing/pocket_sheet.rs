//! A sheet for the pocket: the checks in their order, with boxes to tick.

use asfound_study::Job;
use asfound_study::viewing::study;

use crate::bench_sheet::BenchSheet;
use crate::cautions;
use crate::sheet::Table;

use super::by;

/// The sheet of a job's viewing: what is still open, in its order. It tells no sum, since it lies open at the seller's.
pub fn pocket_sheet(job: &Job) -> BenchSheet {
    let studied = study(job);
    let checks: Vec<_> = studied.open.iter().filter_map(|open| studied.check(open.check)).collect();
    let mut table =
        Table::with("Checks, the next first", &["check", "how", "what to do", "tick one", "cannot tell"]);
    table.rows = checks
        .iter()
        .map(|check| {
            let boxes: Vec<String> =
                check.outcomes.iter().map(|outcome| format!("☐\u{a0}{}", outcome.seen)).collect();
            let to_do = match check.caution {
                "" => check.to_do.to_owned(),
                caution => format!("{} Mind: {caution}", check.to_do),
            };
            vec![check.name.to_owned(), by(check.means).to_owned(), to_do, boxes.join("   "), "☐".to_owned()]
        })
        .collect();
    let about = if checks.is_empty() {
        "Nothing is left to check, or what sort of piece it is was not said."
    } else {
        "Tick what is seen; cannot tell is an answer too. Type it afterwards as “piece: viewing, name of the check: what is seen”, or press it on the page Viewing."
    };
    let caution = cautions::of_piece(job).unwrap_or(
        "Hazards first. Shield eyes and skin from an ultraviolet lamp, keep flame away from old plastic, and unplug before metering.",
    );
    let tables = if table.rows.is_empty() { Vec::new() } else { vec![table] };
    BenchSheet { caution: caution.to_owned(), about: about.to_owned(), tables }
}
