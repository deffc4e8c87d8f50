//! The tables of operations, cures, hazards and cleaners: that they hold together, and what is said of wrong rows.

use asfound_measure::Celsius;
use asfound_plan::library::{Advice, Finding, Library, Room, Tables, Wait};
use asfound_plan::{Hours, Tasks};
use proptest::prelude::*;

const NO_SOURCE: &str = "common practice, no source";

fn room(at: f64) -> Room {
    Room { coldest: Celsius(at), warmest: Celsius(at) }
}

#[test]
fn every_table_holds_together() {
    let library = Library::read(&[Tables::BUILT_IN]).unwrap();
    assert!(library.operations().len() >= 60);
    for operation in library.operations() {
        assert!(!operation.source.is_empty() && !operation.name.is_empty());
        assert!(operation.attended.pessimistic() > Hours(0.0), "{} takes no time", operation.id);
        assert!(
            operation.then.is_none() || operation.waits != Wait::Nothing,
            "{} waits for nothing",
            operation.id
        );
    }
    for cure in library.cures() {
        assert!(!cure.source.is_empty() && cure.hours.optimistic() > Hours(0.0));
    }
    // Each id once: a slip would silently take the place of another row.
    for text in [Tables::BUILT_IN.operations, Tables::BUILT_IN.cures, Tables::BUILT_IN.hazards] {
        let mut ids: Vec<&str> = text
            .lines()
            .filter(|line| !line.starts_with('#'))
            .filter_map(|line| line.split('\t').next())
            .collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all);
    }
    let pairs = Tables::BUILT_IN.cleaners.lines().filter(|line| !line.starts_with('#')).count() - 1;
    assert_eq!(library.cleanings().len(), pairs);
}

/// What takes evidence for good says what to photograph; what meets mains names stored charge too.
#[test]
fn what_cannot_be_undone_names_the_photograph_and_mains_names_stored_charge() {
    let library = Library::built_in();
    for operation in library.operations() {
        if operation.reversible == asfound_plan::library::Reversible::No {
            assert!(!operation.photograph_first.is_empty(), "{}", operation.id);
        }
        let has = |id: &str| operation.hazards.iter().any(|hazard| hazard == id);
        assert!(!has("mains") || has("stored-charge"), "{}", operation.id);
        assert!(
            operation.area != "plastics" || has("nitrate") || operation.id == "copy-guard",
            "{}",
            operation.id
        );
    }
    let cord = library.operation("mains-cord").unwrap();
    assert!(cord.name.contains("licensed"));
    assert!(library.hazards(cord).any(|hazard| hazard.caution.contains("licensed")));
}

/// A repair shop's published note on straightening a neck: ten minutes of setting up, ten to twenty of heat, six hours
/// clamped, three quarters to one hour of setting up again: 75 to 90 attended minutes, heat watched, and the bench is
/// taken up for six hours more.
#[test]
fn a_press_takes_the_bench_and_not_the_hands() {
    let library = Library::built_in();
    let press = library.operation("press-neck").unwrap();
    let tasks = press.tasks("press the neck", library, room(20.0), vec![], None).unwrap();
    let hands: f64 = tasks.iter().map(|task| task.attended.likely().0).sum();
    assert!((1.25..=1.5).contains(&hands));
    assert_eq!(tasks[0].unattended.optimistic(), Hours(6.0));
    assert_eq!(tasks[1].after, ["press the neck"]);
    assert!(Tasks::new(tasks).is_ok());
}

/// Twice as long for each 15 °F (8.33 °C) colder, as woodworking publications say of PVA: 24 h at 68 °F make 48 h at
/// 53 °F. The table's factor is rounded to two digits, so 1 %.
#[test]
fn white_glue_takes_twice_as_long_fifteen_fahrenheit_colder() {
    let glue = Library::built_in().cure("white-glue-load").unwrap();
    let cold = glue.time(room(20.0 - 15.0 / 1.8)).unwrap();
    assert!((cold.hours.likely().0 / 48.0 - 1.0).abs() < 0.01);
    assert!(cold.temperature_reckoned);
    let fault = glue.time(room(8.0)).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "“PVA glue, until strings pull on it” does not cure under 10 °C, and the room was given as down to 8 °C; warm the \
         work, or take another material"
    );
}

/// A rate that grows two to three times with 10 °C: at 10 °C two to three times the hours of 20 °C, at 30 °C a third to a
/// half. A room that is not known widens the range.
#[test]
fn a_room_that_is_not_known_widens_the_range() {
    let epoxy = Library::built_in().cure("epoxy-slow").unwrap();
    let (at_20, at_10, at_30) =
        (epoxy.hours, epoxy.time(room(10.0)).unwrap().hours, epoxy.time(room(30.0)).unwrap().hours);
    assert!((at_10.optimistic().0 - 2.0 * at_20.optimistic().0).abs() < 1e-9);
    assert!((at_10.pessimistic().0 - 3.0 * at_20.pessimistic().0).abs() < 1e-9);
    assert!((at_30.optimistic().0 - at_20.optimistic().0 / 3.0).abs() < 1e-9);
    assert!((at_30.pessimistic().0 - at_20.pessimistic().0 / 2.0).abs() < 1e-9);
    let wide = epoxy.time(Room { coldest: Celsius(15.0), warmest: Celsius(25.0) }).unwrap().hours;
    assert!(wide.optimistic() < at_20.optimistic() && wide.pessimistic() > at_20.pessimistic());
    let lacquer = Library::built_in().cure("lacquer-hard").unwrap().time(room(12.0)).unwrap();
    assert!(!lacquer.temperature_reckoned);
}

/// Solvents of cellulose nitrate and polystyrene: J. Brandrup and others, Polymer Handbook, solvents and non-solvents.
#[test]
fn what_is_not_known_gets_a_dry_brush() {
    let library = Library::built_in();
    let finding = |material, cleaner| match library.cleaning(Some(material), cleaner) {
        Advice::Known(cleaning) => Some(cleaning.finding),
        Advice::DryBrushOnly => None,
    };
    assert_eq!(finding("cellulose-nitrate", "acetone"), Some(Finding::Unsafe));
    assert_eq!(finding("polystyrene", "lacquer-thinner"), Some(Finding::Unsafe));
    assert_eq!(finding("shellac", "alcohol"), Some(Finding::Unsafe));
    assert_eq!(finding("nitrocellulose-lacquer", "naphtha"), Some(Finding::TestFirst));
    assert_eq!(finding("cellulose-nitrate", "a new cleaner"), None);
    assert_eq!(finding("some plastic", "damp-cloth"), None);
    assert_eq!(library.cleaning(None, "damp-cloth"), Advice::DryBrushOnly);
}

const HEADING: &str = "id\toperation\tarea\tattended\twaits\tthen\tin_one_go\tmaterials\thazards\tphotograph_first\treversible\tsource";

fn own(row: &str) -> Result<Library, String> {
    let operations = format!("# our own\n{HEADING}\n{row}\n");
    let own = Tables { operations: &operations, cures: "", hazards: "", cleaners: "" };
    Library::read(&[Tables::BUILT_IN, own]).map_err(|fault| fault.to_string())
}

#[test]
fn a_workshops_own_row_takes_the_place_of_ours() {
    let row = "refret\treplace all frets\tfrets\t6 9 12\tcure:hide-glue-clamps\t2 3 4\t-\tfret wire\twood-dust\ttangs\tno\tour own jobs";
    let library = own(row).unwrap();
    assert_eq!(library.operation("refret").unwrap().attended.likely(), Hours(9.0));
    assert_eq!(library.operations().len(), Library::built_in().operations().len());
    assert_eq!(Library::built_in().operation("refret").unwrap().source, NO_SOURCE);
}

#[test]
fn a_row_that_cannot_be_read_is_answered_with_its_place() {
    let row = |hours: &str, waits: &str, hazards: &str, reversible: &str| {
        own(&format!("x\tdo it\tbody\t{hours}\t{waits}\t-\t-\t-\t{hazards}\t-\t{reversible}\tus"))
            .unwrap_err()
    };
    assert_eq!(
        row("1 2", "-", "-", "no"),
        "operations, line 3: “1 2” cannot be read here; write three hours, as 0.5 1 2, or - for none"
    );
    assert_eq!(
        row("3 2 1", "-", "-", "no"),
        "operations, line 3: the times of “do it” were read as 3 h, 2 h, 1 h, which do not rise; give the time if all goes \
         well, the most likely and the time if much goes wrong, in that order"
    );
    assert!(row("1 2 3", "cure:spit", "-", "no").contains("“cure:spit” cannot be read here"));
    assert!(row("1 2 3", "-", "dragons", "no").contains("ids of the table of hazards"));
    assert!(row("1 2 3", "-", "-", "maybe").contains("fully, trace or no"));
    assert_eq!(
        own("x\tdo it").unwrap_err(),
        "operations, line 3: 2 fields were read and 12 are wanted; part them by tabs, with - where there is none"
    );
    let own = Tables { operations: "", cures: "id\tname\n", hazards: "", cleaners: "" };
    let fault = Library::read(&[own]).unwrap_err().to_string();
    assert!(
        fault
            .starts_with("cures, line 1: the first line that is no remark must be the heading: id, material")
    );
}

proptest! {
    /// Whatever is typed into a table, it is read or answered with its place.
    #[test]
    fn any_text_is_read_or_answered(fields in proptest::collection::vec("[a-z0-9 .:-]{0,12}", 10..14), which in 0_usize..4) {
        let row = fields.join("\t");
        let with = |heading: &str| format!("{heading}\n{row}\n");
        let text = match which {
            0 => with(HEADING),
            1 => with("id\tmaterial\thours\tper_ten_colder\tnot_under\tsource"),
            2 => with("material\tcleaner\tfinding\twhy\tsource"),
            _ => row.clone(),
        };
        for tables in [
            Tables { operations: &text, ..Tables::BUILT_IN },
            Tables { cures: &text, ..Tables::BUILT_IN },
            Tables { hazards: &text, ..Tables::BUILT_IN },
            Tables { cleaners: &text, ..Tables::BUILT_IN },
        ] {
            if let Err(fault) = Library::read(&[tables]) {
                prop_assert!(fault.to_string().contains(", line "));
            }
        }
    }
}
