//! What can go wrong in a task, with the step it went wrong in.

use std::path::{Path, PathBuf};
use std::{error, fmt, io};

/// A task stopped; the message says where and what to do.
#[derive(Debug)]
pub enum Fault {
    /// The command line was not understood.
    Usage(lexopt::Error),
    /// A program could not be started.
    Start {
        /// The step that wanted it.
        step: &'static str,
        /// The program.
        program: String,
        /// What the system said.
        error: io::Error,
    },
    /// A program ran and failed.
    Exit {
        /// The step that ran it.
        step: &'static str,
        /// The whole command line.
        command: String,
    },
    /// A file or folder could not be read or written.
    File {
        /// Which one.
        path: PathBuf,
        /// What the system said.
        error: io::Error,
    },
    /// A tool is missing, and set-up cannot bring it.
    Install {
        /// The step that wanted it.
        step: &'static str,
        /// One sentence: what to install.
        sentence: String,
    },
    /// A file lacks something that must be in it.
    Absent {
        /// What was looked for.
        what: &'static str,
        /// Where.
        place: PathBuf,
    },
    /// The site is larger than its budget.
    TooLarge {
        /// Which part.
        what: &'static str,
        /// Its size after gzip, bytes.
        bytes: usize,
        /// The most it may be, bytes.
        limit: usize,
    },
    /// Some steps of a longer task failed; each has said why.
    Steps {
        /// Their names.
        failed: Vec<&'static str>,
    },
    /// A step that should have run tests ran none.
    NoTests {
        /// The step.
        step: &'static str,
    },
}

impl Fault {
    /// Ties an input or output error to its path, for `map_err`.
    pub fn file(path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        move |error| Self::File { path, error }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Usage(error) => write!(out, "{error}; `cargo xtask --help` lists the commands"),
            Self::Start {
                step,
                program,
                error,
            } => {
                write!(out, "step '{step}': {program} did not start: {error}")
            }
            Self::Exit { step, command } => write!(out, "step '{step}' failed in: {command}"),
            Self::File { path, error } => write!(out, "{}: {error}", path.display()),
            Self::Install { step, sentence } => write!(out, "step '{step}': {sentence}"),
            Self::Absent { what, place } => {
                write!(out, "{} has no {what}", place.display())
            }
            Self::TooLarge { what, bytes, limit } => {
                write!(
                    out,
                    "{what} is {bytes} bytes after gzip, over its budget of {limit}"
                )
            }
            Self::Steps { failed } => write!(out, "failed: {}", failed.join(", ")),
            Self::NoTests { step } => write!(out, "step '{step}' ran no test at all"),
        }
    }
}

impl error::Error for Fault {}

impl From<lexopt::Error> for Fault {
    fn from(error: lexopt::Error) -> Self {
        Self::Usage(error)
    }
}
