//! A plain static server on loopback: what any host of the site would do, no more.

use std::fs;
use std::io::Write;
use std::net::Ipv4Addr;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::thread;

use tiny_http::{Method, Request, Server};

use crate::fault::Fault;

/// How many requests are answered at the same time.
const WORKERS: usize = 4;

/// Content types by ending; browsers start Wasm while it loads only when it is named so.
const TYPES: &[(&str, &str)] = &[
    ("html", "text/html; charset=utf-8"),
    ("css", "text/css; charset=utf-8"),
    ("js", "text/javascript; charset=utf-8"),
    ("json", "application/json"),
    ("webmanifest", "application/manifest+json"),
    ("wasm", "application/wasm"),
    ("svg", "image/svg+xml"),
    ("png", "image/png"),
];

/// Serves a folder until the program is stopped, and prints its address.
///
/// - `port`: 0 takes any free one.
///
/// # Errors
/// `File` when there is no such folder; `Start` when the port cannot be had.
pub fn host(folder: &Path, port: u16) -> Result<(), Fault> {
    let folder = folder.canonicalize().map_err(Fault::file(folder))?;
    let server = Server::http((Ipv4Addr::LOCALHOST, port)).map_err(|error| Fault::Start {
        step: "host",
        program: format!("a server on port {port}"),
        error: std::io::Error::other(error),
    })?;
    let port = server
        .server_addr()
        .to_ip()
        .map_or(port, |address| address.port());
    // The address is read by other programs through a pipe, so it must not wait in a buffer.
    let mut out = std::io::stdout();
    let _ = writeln!(out, "http://127.0.0.1:{port}/").and_then(|()| out.flush());

    let server = Arc::new(server);
    let work = move |server: &Server| server.incoming_requests().for_each(|r| answer(&folder, r));
    let others: Vec<_> = (1..WORKERS)
        .map(|_| {
            let (server, work) = (Arc::clone(&server), work.clone());
            thread::spawn(move || work(&server))
        })
        .collect();
    work(&server);
    others.into_iter().for_each(|other| drop(other.join()));
    Ok(())
}

fn answer(folder: &Path, request: Request) {
    let wanted = match request.method() {
        Method::Get | Method::Head => find(folder, request.url()),
        _ => None,
    };
    let page = wanted.and_then(|path| Some((fs::read(&path).ok()?, content_type(&path))));
    let (body, kind, status) = match page {
        Some((body, kind)) => (body, kind, "200 OK"),
        None => (b"Not here.\n".to_vec(), "text/plain", "404 Not Found"),
    };
    // Each connection closes after its answer. Kept open, it would hold a thread of the library's
    // pool, which can leave newer connections in line without one. The library does not let that
    // header through, so the answer is written by hand.
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n\
         Cache-Control: no-cache\r\nConnection: close\r\n\r\n",
        body.len()
    );
    let sent: &[u8] = if *request.method() == Method::Head {
        &[]
    } else {
        &body
    };
    let mut out = request.into_writer();
    // A browser that went away is no fault of ours.
    let _ = out
        .write_all(head.as_bytes())
        .and_then(|()| out.write_all(sent))
        .and_then(|()| out.flush());
}

/// The file for a request's target; a folder stands for its `index.html`.
///
/// `None` for what is not there or would leave the folder.
fn find(folder: &Path, target: &str) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next()?.strip_prefix('/')?;
    let inside = |part: Component<'_>| matches!(part, Component::Normal(_));
    if !Path::new(path).components().all(inside) {
        return None;
    }
    let mut file = folder.join(path);
    if path.is_empty() || path.ends_with('/') {
        file.push("index.html");
    }
    let file = file.canonicalize().ok()?;
    (file.starts_with(folder) && file.is_file()).then_some(file)
}

fn content_type(path: &Path) -> &'static str {
    let ending = path
        .extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or_default();
    let row = TYPES.iter().find(|(name, _)| *name == ending);
    row.map_or("application/octet-stream", |(_, kind)| kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `site/index.html` and `site/deep/app.wasm`, with `secret` beside the site.
    fn site() -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir_all(folder.path().join("site/deep")).unwrap();
        for name in ["site/index.html", "site/deep/app.wasm", "secret"] {
            fs::write(folder.path().join(name), name).unwrap();
        }
        folder
    }

    fn check(target: &str, expected: Option<&str>) {
        let folder = site();
        let root = folder.path().join("site").canonicalize().unwrap();
        let expected = expected.map(|name| root.join(name));
        assert_eq!(find(&root, target), expected, "{target}");
    }

    #[test]
    fn files_and_folders_of_the_site_are_found() {
        check("/", Some("index.html"));
        check("/index.html?again=1", Some("index.html"));
        check("/deep/app.wasm", Some("deep/app.wasm"));
    }

    #[test]
    fn nothing_outside_the_site_is_found() {
        for target in [
            "/../secret",
            "/deep/../../secret",
            "//etc/passwd",
            "secret",
            "*",
        ] {
            check(target, None);
        }
    }

    #[test]
    fn what_is_not_there_is_not_found() {
        check("/deep/", None);
        check("/favicon.ico", None);
    }

    #[test]
    fn wasm_is_named_as_browsers_want_it() {
        assert_eq!(content_type(Path::new("app_bg.wasm")), "application/wasm");
    }
}
