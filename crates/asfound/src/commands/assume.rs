//! `assume`: what the studies take for granted, and the workshop's own values for it.

use std::path::Path;

use asfound_acts::Workshop;
use asfound_words::assumptions;
use serde_json::{Value, json};

use crate::failure::Failure;
use crate::{json, patiently, print};

/// Prints every value in force.
pub(crate) fn list(folder: &Path, for_machine: bool) -> Result<(), Failure> {
    let workshop = Workshop::open_to_read(folder)?;
    let listed = assumptions::list(&*workshop.about()?);
    if for_machine {
        let lines = listed.iter().map(|one| {
            json!({ "name": one.name, "value": one.value, "own": one.own, "source": one.source, "comes": one.comes })
        });
        return print::out(&json::text(&Value::Array(lines.collect())));
    }
    let mut text = String::from("What is taken for granted before anything is measured:\n");
    for one in &listed {
        let own = if one.own { ", this workshop’s own" } else { "" };
        text.push_str(&format!("\n{}: {}{own}\n", one.name, one.value));
        text.push_str(&print::wrapped(&one.source, "  ", "  "));
        if one.own {
            text.push_str(&print::wrapped(&one.comes, "  ", "  "));
        }
    }
    text.push_str(
        "\nState your own: asfound assume \"rewound\" 0.2 --source \"ten of the last fifty coils here\"\n",
    );
    print::out(&text)
}

/// Keeps the workshop's own value.
pub(crate) fn own(folder: &Path, name: &str, value: &str, source: &str) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    workshop.assume(name, value, source)?;
    one(&workshop, name)
}

/// Goes back to the value as it comes.
pub(crate) fn as_it_comes(folder: &Path, name: &str) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    if !workshop.assume_as_it_comes(name)? {
        return Err(Failure::NotTaken(format!(
            "This workshop has no value of its own for “{name}”. List what there is: asfound assume"
        )));
    }
    one(&workshop, name)
}

/// Says what is in force now under a name.
fn one(workshop: &Workshop, name: &str) -> Result<(), Failure> {
    let listed = assumptions::list(&*workshop.about()?);
    let wanted = name.trim().to_lowercase();
    let Some(one) = listed.iter().find(|one| one.name == wanted) else { return Ok(()) };
    print::out(&print::wrapped(
        &format!("From now on, {} is {} ({}; {}).", one.name, one.value, one.source, one.comes),
        "",
        "",
    ))
}
