//! Running other programs: loudly, quietly, or counting their tests.

use std::io::{BufRead, BufReader, Write, stdout};
use std::process::{Command, Stdio};

use crate::fault::Fault;

/// Tests that a program said it ran.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    /// How many passed.
    pub passed: u32,
    /// How many failed.
    pub failed: u32,
}

impl std::ops::Add for Count {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            passed: self.passed + other.passed,
            failed: self.failed + other.failed,
        }
    }
}

/// Runs a command; its output goes straight to the person.
///
/// # Errors
/// `Start` or `Exit`, naming the step.
pub fn run(step: &'static str, command: &mut Command) -> Result<(), Fault> {
    println!("   $ {}", shown(command));
    let status = command.status().map_err(not_started(step, command))?;
    if status.success() {
        Ok(())
    } else {
        Err(failed(step, command))
    }
}

/// Runs a command as `run` does, and adds up the tests it reports.
///
/// # Errors
/// As `run`; `NoTests` when it succeeds without having run one test.
pub fn run_counted(step: &'static str, command: &mut Command) -> Result<Count, Fault> {
    println!("   $ {}", shown(command));
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .map_err(not_started(step, command))?;
    let mut count = Count::default();
    if let Some(output) = child.stdout.take() {
        for line in BufReader::new(output).split(b'\n').map_while(Result::ok) {
            let line = String::from_utf8_lossy(&line);
            // A closed standard output must not stop the tests.
            let _ = writeln!(stdout(), "{line}");
            count.passed += reported(&line, "passed", "pass");
            count.failed += reported(&line, "failed", "fail");
        }
    }
    let status = child.wait().map_err(not_started(step, command))?;
    match (status.success(), count) {
        (false, _) => Err(failed(step, command)),
        (true, Count { passed: 0, .. }) => Err(Fault::NoTests { step }),
        (true, count) => Ok(count),
    }
}

/// What a command prints on standard output, trimmed; `None` when it fails.
pub fn output(command: &mut Command) -> Option<String> {
    let output = command
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .output()
        .ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim().to_owned())
}

/// The number beside a word in the closing line of a test runner: Rust's
/// `test result: ok. 3 passed; 0 failed; ...`, or Node's `pass 3` after one mark.
fn reported(line: &str, rust: &str, node: &str) -> u32 {
    let words: Vec<&str> = line.split_whitespace().collect();
    let number = if line.starts_with("test result:") {
        let is_named = |pair: &&[&str]| pair[1].trim_end_matches(';') == rust;
        words.windows(2).find(is_named).map(|pair| pair[0])
    } else {
        match words[..] {
            ["ℹ" | "#", word, number] if word == node => Some(number),
            _ => None,
        }
    };
    number.and_then(|number| number.parse().ok()).unwrap_or(0)
}

fn shown(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}

fn not_started(step: &'static str, command: &Command) -> impl FnOnce(std::io::Error) -> Fault {
    let program = command.get_program().to_string_lossy().into_owned();
    move |error| Fault::Start {
        step,
        program,
        error,
    }
}

fn failed(step: &'static str, command: &Command) -> Fault {
    Fault::Exit {
        step,
        command: shown(command),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(line: &str, expected: (u32, u32)) {
        let found = (
            reported(line, "passed", "pass"),
            reported(line, "failed", "fail"),
        );
        assert_eq!(found, expected, "{line}");
    }

    #[test]
    fn closing_lines_of_both_runners_are_counted_and_others_are_not() {
        check(
            "test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured",
            (12, 0),
        );
        check("test result: FAILED. 3 passed; 2 failed; 0 ignored", (3, 2));
        check("ℹ pass 4", (4, 0));
        check("# fail 1", (0, 1));
        check("ℹ duration_ms 451.2", (0, 0));
        check("the pressure 3 passed; fine", (0, 0));
    }

    #[test]
    fn a_step_that_runs_no_test_is_a_fault() {
        let fault = run_counted("empty", &mut Command::new("true"));
        assert!(matches!(fault, Err(Fault::NoTests { step: "empty" })));
    }

    #[test]
    fn a_failing_command_is_named_with_its_step() {
        let fault = run("broken", &mut Command::new("false")).unwrap_err();
        assert_eq!(fault.to_string(), "step 'broken' failed in: false");
    }
}
