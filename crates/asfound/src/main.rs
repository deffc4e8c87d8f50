//! The program: command line, settings, start-up.
//!
//! This room alone reads arguments and environment, prints, and turns every error into a sentence and an exit code. It
//! holds no formula and no sentence about an instrument; each command is a few lines that ask the other rooms.

mod arguments;
mod commands;
mod demo;
mod failure;
mod json;
mod new_file;
mod patiently;
mod print;

use std::process::ExitCode;

use asfound_words::wiring::{Side, View};
use clap::Parser;

use crate::arguments::{Arguments, Command, Seen};
use crate::commands::sweep::Beside;
use crate::failure::Failure;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) if failure.is_closed_pipe() => ExitCode::SUCCESS,
        Err(failure) => {
            print::complain(&failure.to_string());
            failure.exit_code()
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Failure> {
    let folder = arguments.folder.as_path();
    match &arguments.command {
        Command::Demo { place, no_serve, port } => commands::demo::run(place, !no_serve, *port),
        Command::Start { name } => commands::start::run(folder, name),
        Command::Open { title } => commands::jobs::open(folder, &title.join(" ")),
        Command::Jobs { json } => commands::jobs::list(folder, *json),
        Command::Say { number, line } => commands::say::run(folder, number, &line.join(" ")),
        Command::Correct { number, entry, line } => {
            commands::say::correct(folder, number, *entry, &line.join(" "))
        }
        Command::Strike { number, entry, why } => {
            commands::say::strike(folder, number, *entry, &why.join(" "))
        }
        Command::Photograph { number, files, part } => {
            commands::say::photographs(folder, number, files, part.as_deref())
        }
        Command::Sweep { number, part, files, resistors, at, method, meter } => {
            let beside = Beside {
                resistors,
                temperature: at.as_deref(),
                method: method.as_deref(),
                meter: meter.as_deref(),
            };
            commands::sweep::run(folder, number, part, files, &beside)
        }
        Command::TestSignal { out } => commands::test_signal::run(out),
        Command::History { number, json } => commands::jobs::history(folder, number, *json),
        Command::Sheet { number, page, json } => commands::sheet::run(folder, number, page.as_deref(), *json),
        Command::Assume { name, value, source, as_it_comes, json } => match (name, value, source) {
            (Some(name), Some(value), Some(source)) => commands::assume::own(folder, name, value, source),
            (Some(name), _, _) if *as_it_comes => commands::assume::as_it_comes(folder, name),
            _ => commands::assume::list(folder, *json),
        },
        Command::Drawing { trace, out, seen, left } => {
            let side = if *seen == Seen::Front { Side::Front } else { Side::Back };
            commands::drawing::run(trace, out, View { side, left_handed: *left })
        }
        Command::Explain { trace, json } => commands::explain::run(trace, *json),
        Command::Dossier { number, out } => commands::dossier::run(folder, number, out.as_deref()),
        Command::Lines { number, without_money } => commands::jobs::lines(folder, number, *without_money),
        Command::Verify { file, json } => commands::verify::run(folder, file.as_deref(), *json),
        Command::TakeIn { file } => commands::archive::take_in(folder, file),
        Command::Copy { target } => commands::archive::copy(folder, target),
        Command::Serve { port } => commands::serve::run(folder, *port),
    }
}
