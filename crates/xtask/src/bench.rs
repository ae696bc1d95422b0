//! Times the work that a person waits for, here and in a browser, and prints one table.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use crate::fault::Fault;
use crate::pins;
use crate::place;
use crate::setup::{Scope, Tools, prepare, say};

/// The package whose work is timed.
const PACKAGE: &str = "evenfeed-bench";
/// How much slower than this machine a phone is taken to be.
const SLOWER: u32 = 6;
/// One frame of a screen that shows 60 a second, ms.
const FRAME_MS: f64 = 16.0;
/// The piece that must fit in a frame.
const IN_A_FRAME: &str = "reading-with-findings";

/// One piece of work as it was timed.
#[derive(Debug, Clone, PartialEq)]
struct Timed {
    name: String,
    /// ms.
    each: f64,
    /// ms, as its runner says it.
    spread: f64,
}

/// Sets up what is missing, times everything, prints the table.
///
/// # Errors
/// The fault of set-up or of the step that failed; `NoTests` when a step timed nothing.
pub fn bench(debian: bool) -> Result<(), Fault> {
    let tools = prepare(Scope::Tests, debian)?;
    say("native", "running");
    let mut cargo = tools.native("cargo");
    cargo.args(["bench", "--locked", "--package", PACKAGE]);
    cargo.args(["--", "--output-format", "bencher"]);
    let native = timed("native", &mut cargo)?;
    say("browser", "running");
    let browser = in_browser("browser", &tools, 1)?;
    say("slowed browser", "running");
    let slowed = in_browser("slowed browser", &tools, SLOWER)?;
    print!("\n{}", table(&machine(), &native, &browser, &slowed));
    Ok(())
}

/// The same work as a phone would run it: built small, in a browser.
fn in_browser(step: &'static str, tools: &Tools, slower: u32) -> Result<Vec<Timed>, Fault> {
    let driver = Driver::start(step, &tools.driver)?;
    let settings = place::web_target(&tools.workspace).join("bench.json");
    let arguments = ["--headless", "--no-sandbox", "--disable-gpu"];
    let options = format!(
        "{{\"binary\": {:?}, \"args\": {arguments:?}}}",
        tools.browser
    );
    fs::create_dir_all(place::web_target(&tools.workspace)).map_err(Fault::file(&settings))?;
    fs::write(
        &settings,
        format!("{{\"goog:chromeOptions\": {options}}}\n"),
    )
    .map_err(Fault::file(&settings))?;
    let mut cargo = tools.wasm("cargo");
    cargo.args(["test", "--locked", "--profile", "web", "--target"]);
    cargo.args([
        pins::WASM_TARGET,
        "--package",
        PACKAGE,
        "--test",
        "in_browser",
    ]);
    cargo.args(["--", "--nocapture"]);
    cargo.env(
        "CHROMEDRIVER_REMOTE",
        format!("http://127.0.0.1:{}", driver.port),
    );
    cargo.env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", &settings);
    cargo.env("WASM_BINDGEN_TEST_TIMEOUT", "600");
    let over = AtomicBool::new(false);
    thread::scope(|scope| {
        if slower > 1 {
            scope.spawn(|| driver.slow_down(slower, &over));
        }
        let timed = timed(step, &mut cargo);
        over.store(true, Ordering::Relaxed);
        timed
    })
}

/// The browser's driver, stopped when dropped.
struct Driver {
    process: Child,
    port: u16,
}

impl Driver {
    /// On any free port.
    fn start(step: &'static str, program: &Path) -> Result<Self, Fault> {
        let not_started = |error| Fault::Start {
            step,
            program: program.display().to_string(),
            error,
        };
        let mut process = Command::new(program)
            .arg("--port=0")
            .stdout(Stdio::piped())
            .spawn()
            .map_err(not_started)?;
        let said = process.stdout.take();
        let mut lines = said.into_iter().flat_map(|out| BufReader::new(out).lines());
        let port = lines.find_map(|line| port(&line.ok()?));
        let mut driver = Self { process, port: 0 };
        driver.port =
            port.ok_or_else(|| not_started(std::io::Error::other("it named no port of its own")))?;
        // What else it says must not fill the pipe.
        thread::spawn(move || lines.for_each(drop));
        Ok(driver)
    }

    /// Slows the page down, again and again, since a page that is gone to starts at full speed.
    /// That it took is seen by the times.
    fn slow_down(&self, rate: u32, over: &AtomicBool) {
        let command =
            format!(r#"{{"cmd":"Emulation.setCPUThrottlingRate","params":{{"rate":{rate}}}}}"#);
        while !over.load(Ordering::Relaxed) {
            let session = self.ask("GET", "/sessions", "");
            if let Some(id) = session.as_deref().and_then(session_id) {
                let path = format!("/session/{id}/goog/cdp/execute");
                // Refused only once the session has ended.
                let _ = self.ask("POST", &path, &command);
            }
            thread::sleep(Duration::from_millis(20));
        }
    }

    /// The body of an answer that says 200; the driver listens on loopback only.
    fn ask(&self, method: &str, path: &str, body: &str) -> Option<String> {
        let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, self.port)).ok()?;
        stream
            .set_read_timeout(Some(Duration::from_secs(10)))
            .ok()?;
        let length = body.len();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
             Content-Length: {length}\r\nConnection: close\r\n\r\n{body}",
            self.port
        )
        .ok()?;
        // By its length: the driver leaves the connection open whatever it is asked.
        let mut answer = BufReader::new(stream);
        let (mut line, mut good, mut length) = (String::new(), false, 0);
        while answer.read_line(&mut line).ok()? > 0 && !line.trim().is_empty() {
            good |= line.starts_with("HTTP/1.1 200");
            if let Some((name, value)) = line.split_once(':')
                && name.eq_ignore_ascii_case("content-length")
            {
                length = value.trim().parse().ok()?;
            }
            line.clear();
        }
        let mut body = vec![0; length];
        answer.read_exact(&mut body).ok()?;
        String::from_utf8(body).ok().filter(|_| good)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// The port in the driver's last word before it listens.
fn port(line: &str) -> Option<u16> {
    let (_, rest) = line.split_once("started successfully on port ")?;
    rest.trim_end_matches('.').parse().ok()
}

/// The id of the one session in the driver's list.
fn session_id(list: &str) -> Option<&str> {
    let (_, rest) = list.rsplit_once("\"id\":\"")?;
    rest.split('"').next().filter(|id| !id.is_empty())
}

/// Runs a command whose lines go on to the person, and collects the times among them.
fn timed(step: &'static str, command: &mut Command) -> Result<Vec<Timed>, Fault> {
    let shown = format!("{command:?}");
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| Fault::Start {
            step,
            program: command.get_program().to_string_lossy().into_owned(),
            error,
        })?;
    let mut found = Vec::new();
    let said = child.stdout.take();
    for line in said.into_iter().flat_map(|out| BufReader::new(out).lines()) {
        let Ok(line) = line else { break };
        println!("{line}");
        found.extend(reported(&line));
    }
    let ended = child.wait().is_ok_and(|status| status.success());
    if !ended {
        return Err(Fault::Exit {
            step,
            command: shown,
        });
    }
    if found.is_empty() {
        return Err(Fault::NoTests { step });
    }
    Ok(found)
}

/// `test NAME ... bench: 1,234 ns/iter (+/- 56)`: Cargo's own form of a result.
fn reported(line: &str) -> Option<Timed> {
    let (name, rest) = line
        .trim()
        .strip_prefix("test ")?
        .split_once(" ... bench:")?;
    let (each, spread) = rest.split_once(" ns/iter (+/- ")?;
    let ms = |digits: &str| {
        let digits: String = digits.chars().filter(|c| !matches!(c, ',' | ' ')).collect();
        digits.parse::<f64>().ok().map(|ns| ns * 1e-6)
    };
    Some(Timed {
        name: name.trim().to_owned(),
        each: ms(each)?,
        spread: ms(spread.trim_end_matches(')'))?,
    })
}

/// The processor, as the system names it, and how many of its cores are ours.
fn machine() -> String {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let listed = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let named = listed.lines().find_map(|line| {
        let (key, name) = line.split_once(':')?;
        (key.trim() == "model name").then(|| name.trim().to_owned())
    });
    let name = named.unwrap_or_else(|| std::env::consts::ARCH.to_owned());
    format!("{name}, {cores} cores, {}", std::env::consts::OS)
}

/// The table, ms for one call. Where the browser could not be slowed its time is multiplied.
fn table(machine: &str, native: &[Timed], browser: &[Timed], slowed: &[Timed]) -> String {
    let of = |times: &[Timed], name: &str| times.iter().find(|row| row.name == name).cloned();
    let pairs = || {
        browser
            .iter()
            .filter_map(|row| Some((row.each, of(slowed, &row.name)?.each)))
    };
    let mean = pairs().map(|(fast, slow)| slow / fast).sum::<f64>() / pairs().count().max(1) as f64;
    let took = mean > f64::from(SLOWER) / 2.0;
    let shown = |time: Option<Timed>| {
        time.map_or_else(String::new, |time| {
            format!("{:.3} ±{:.3}", time.each, time.spread)
        })
    };
    let last = format!("slowed {SLOWER} times");
    let mut out = format!(
        "{machine}\nms for one call\n{:<24}{:>18}{:>18}{last:>18}\n",
        "", "native", "browser"
    );
    for row in native {
        let in_browser = of(browser, &row.name);
        let phone = match in_browser.clone() {
            Some(time) if !took => Some(Timed {
                each: time.each * f64::from(SLOWER),
                spread: time.spread * f64::from(SLOWER),
                ..time
            }),
            _ => of(slowed, &row.name),
        };
        let verdict = match &phone {
            Some(time) if row.name == IN_A_FRAME && time.each <= FRAME_MS => "  within a frame",
            Some(_) if row.name == IN_A_FRAME => "  OVER A FRAME",
            _ => "",
        };
        out += &format!(
            "{:<24}{:>18}{:>18}{:>18}{verdict}\n",
            row.name,
            shown(Some(row.clone())),
            shown(in_browser),
            shown(phone)
        );
    }
    out += &if took {
        format!("The slowed browser took {mean:.1} times as long.\n")
    } else {
        format!(
            "The browser could not be slowed ({mean:.1} times as long): the last column is its \
             own time, times {SLOWER}.\n"
        )
    };
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str, each: f64) -> Timed {
        Timed {
            name: name.to_owned(),
            each,
            spread: 0.5,
        }
    }

    #[test]
    fn both_runners_results_are_read_and_nothing_else_is() {
        let read = |line: &str| reported(line).map(|row| (row.name, row.each, row.spread));
        assert_eq!(
            read("test steady-solve ... bench:   2,500,000 ns/iter (+/- 500,000)"),
            Some(("steady-solve".to_owned(), 2.5, 0.5))
        );
        assert_eq!(
            read("    test a ... bench: 1000000 ns/iter (+/- 0)"),
            Some(("a".to_owned(), 1.0, 0.0))
        );
        assert_eq!(read("test times ... ok"), None);
        assert_eq!(read("Warning: Unable to complete 100 samples"), None);
    }

    #[test]
    fn the_drivers_port_and_session_are_found() {
        let said = "ChromeDriver was started successfully on port 44621.";
        assert_eq!(port(said), Some(44621));
        assert_eq!(port("Starting ChromeDriver 156.0 on port 0"), None);
        let list = r#"{"value":[{"capabilities":{"id":"no"},"id":"27fe"}]}"#;
        assert_eq!(session_id(list), Some("27fe"));
        assert_eq!(session_id(r#"{"sessionId":"","value":[]}"#), None);
    }

    #[test]
    fn a_browser_that_was_not_slowed_is_said_and_multiplied() {
        let native = [row(IN_A_FRAME, 1.0), row("other", 1.0)];
        let browser = [row(IN_A_FRAME, 2.0), row("other", 2.0)];
        let slowed = [row(IN_A_FRAME, 13.0), row("other", 11.0)];
        let told = table("a machine", &native, &browser, &slowed);
        assert!(
            told.contains("13.000") && told.contains("took 6.0 times"),
            "{told}"
        );
        assert!(told.contains("within a frame"), "{told}");
        let told = table("a machine", &native, &browser, &browser);
        assert!(
            told.contains("12.000") && told.contains("could not be slowed"),
            "{told}"
        );
        let slow = [row(IN_A_FRAME, 16.5), row("other", 11.0)];
        assert!(table("a machine", &native, &browser, &slow).contains("OVER A FRAME"));
    }
}
