//! Every failure as a sentence and an exit code: the one place where errors end.

use std::fmt;
use std::io;
use std::path::Path;
use std::process::ExitCode;

use asfound_acts::{ActError, Trouble};

/// Why a command could not be done.
#[derive(Debug)]
pub(crate) enum Failure {
    /// What a person did could not be done.
    Act(ActError),
    /// A file could not be read or written.
    File { what: String, error: io::Error },
    /// What was given cannot be taken; the sentence says why and what would be right.
    NotTaken(String),
    /// The archive does not verify.
    NotWhole(String),
    /// The machine is at fault.
    Broken(String),
}

impl Failure {
    /// A file that could not be read or written, with what was tried.
    pub(crate) fn file(what: &str, path: &Path, error: io::Error) -> Failure {
        Failure::File { what: format!("{what} {}", path.display()), error }
    }

    /// The exit code, as the help tells it.
    pub(crate) fn exit_code(&self) -> ExitCode {
        ExitCode::from(match self {
            Failure::NotWhole(_) => 1,
            Failure::NotTaken(_) => 3,
            Failure::Act(error) => match error.trouble() {
                Trouble::NotThere | Trouble::NotTaken => 3,
                Trouble::Broken => 4,
            },
            Failure::File { error, .. } if error.kind() == io::ErrorKind::NotFound => 3,
            Failure::File { .. } | Failure::Broken(_) => 4,
        })
    }

    /// Whether the reader of our output went away, as `| head` does: no failure.
    pub(crate) fn is_closed_pipe(&self) -> bool {
        matches!(self, Failure::File { error, .. } if error.kind() == io::ErrorKind::BrokenPipe)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Act(error) => error.fmt(f),
            Failure::File { what, error } => match error.kind() {
                io::ErrorKind::NotFound => write!(f, "{what}: there is no such file. Look at the path."),
                io::ErrorKind::PermissionDenied => {
                    write!(f, "{what}: no permission. Give yourself the right, or choose another place.")
                }
                io::ErrorKind::StorageFull => write!(f, "{what}: the disk is full. Make room and try again."),
                io::ErrorKind::IsADirectory => write!(f, "{what}: this is a folder. Give a file."),
                io::ErrorKind::InvalidData => write!(f, "{what}: this is not text. Give a text file."),
                _ => write!(f, "{what}: {error}."),
            },
            Failure::NotTaken(sentence) | Failure::NotWhole(sentence) | Failure::Broken(sentence) => {
                f.write_str(sentence)
            }
        }
    }
}

impl From<ActError> for Failure {
    fn from(error: ActError) -> Failure {
        Failure::Act(error)
    }
}
