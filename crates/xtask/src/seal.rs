//! Closes a built site: its security policy, its build number, the name of its
//! background, and the list of files that its service worker keeps.
//!
//! Order matters. The background gets its name first. The build number is made
//! from every file before it is written into `index.html`; the list is made
//! after, so that it holds the final page. No other file is touched: their names
//! and integrity marks were made by Trunk.

use std::fs;
use std::path::Path;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use flate2::Compression;
use flate2::write::GzEncoder;
use sha2::{Digest, Sha256};
use std::io::Write;

use crate::fault::Fault;

/// The mark in `index.html` that sealing replaces: first in the head, so that
/// the policy holds for all that follows.
const MARK: &str = "<!--seal-->";
/// The service worker: made here, and not in its own list.
const WORKER: &str = "sw.js";

/// The folder of the page's background, named by Trunk without a hash. Its files
/// name one another, so the folder gets the hash.
pub const BACKGROUND: &str = "background";
/// The file of the background that the page starts.
const START: &str = "start.js";

/// A sealed site.
#[derive(Debug)]
pub struct Sealed {
    /// What the build is called: 16 hexadecimal digits of a hash of all it holds.
    pub build: String,
    /// Every file, in the order of their names, the service worker last.
    pub files: Vec<File>,
}

/// One file of the site.
#[derive(Debug)]
pub struct File {
    /// Its address, relative to the page.
    pub url: String,
    /// Its SHA-256 in base 64.
    pub digest: String,
    /// Its size, bytes.
    pub raw: usize,
    /// Its size after gzip at level 9, bytes.
    pub gzip: usize,
}

/// Seals the site in `site`, once.
///
/// - `workspace`: holds the service worker's text, `web/static/sw.js`.
///
/// # Errors
/// `Absent` when the page has no mark (a sealed page has none) or the service
/// worker no place for its list; `File` when something cannot be read or written.
pub fn seal(workspace: &Path, site: &Path) -> Result<Sealed, Fault> {
    let page = site.join("index.html");
    let template = workspace.join("web/static").join(WORKER);
    let html = read(&page)?;
    let worker = read(&template)?;
    let absent = |what, place: &Path| Fault::Absent {
        what,
        place: place.to_owned(),
    };
    if !html.contains(MARK) {
        return Err(absent("mark for the seal", &page));
    }

    let background = name_background(site)?;
    let build = name_of(&worker, &survey(site)?);
    let mut head = format!(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n\
         <meta name=\"evenfeed-build\" content=\"{build}\">",
        policy(&html),
    );
    if let Some(address) = background {
        head += &format!("\n<meta name=\"evenfeed-background\" content=\"{address}\">");
    }
    write(&page, &html.replacen(MARK, &head, 1))?;

    let mut files = survey(site)?;
    let list: String = files
        .iter()
        .map(|file| format!("  [\"{}\", \"{}\"],\n", file.url, file.digest))
        .collect();
    let worker = fill(&worker, "\"@BUILD@\"", &format!("\"{build}\""))
        .and_then(|text| fill(&text, "[/*@FILES@*/]", &format!("[\n{list}]")))
        .ok_or_else(|| absent("place for the build and its files", &template))?;
    write(&site.join(WORKER), &worker)?;
    files.push(File::of(WORKER.to_owned(), worker.as_bytes()));
    Ok(Sealed { build, files })
}

/// Names the background's folder by what it holds: a page of an older build then
/// never meets the background of a newer one. Gives the address of its start;
/// `None` for a site without a background.
fn name_background(site: &Path) -> Result<Option<String>, Fault> {
    let folder = site.join(BACKGROUND);
    if !folder.is_dir() {
        return Ok(None);
    }
    let name = format!("{BACKGROUND}-{}", name_of("", &survey(&folder)?));
    fs::rename(&folder, site.join(&name)).map_err(Fault::file(&folder))?;
    Ok(Some(format!("{name}/{START}")))
}

/// 16 hexadecimal digits of a hash of a text and of files with their names.
fn name_of(text: &str, files: &[File]) -> String {
    let mut hash = Sha256::new();
    hash.update(text);
    for file in files {
        hash.update(format!("{}\0{}\0", file.url, file.digest));
    }
    let hash = hash.finalize();
    hash.iter().take(8).map(|b| format!("{b:02x}")).collect()
}

/// The policy of a page: nothing from elsewhere, and of inline scripts only
/// those that stand in the page now.
///
/// Source: Content Security Policy Level 3 (W3C), `script-src` hashes and
/// `'wasm-unsafe-eval'`.
fn policy(html: &str) -> String {
    let hashes: String = inline_scripts(html)
        .iter()
        .map(|script| format!(" 'sha256-{}'", digest(script.as_bytes())))
        .collect();
    format!(
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'{hashes}; style-src 'self'; \
         img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; \
         base-uri 'self'; form-action 'none'"
    )
}

/// The text between the tags of each script that has no `src`.
fn inline_scripts(html: &str) -> Vec<&str> {
    let after_tag = html
        .split("<script")
        .skip(1)
        .filter_map(|rest| rest.split_once('>'));
    let inline = after_tag.filter(|(tag, _)| !tag.contains("src="));
    inline
        .filter_map(|(_, rest)| rest.split_once("</script>"))
        .map(|(text, _)| text)
        .collect()
}

/// Every file of the site by name, except the service worker.
fn survey(site: &Path) -> Result<Vec<File>, Fault> {
    let mut files = Vec::new();
    let mut folders = vec![site.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).map_err(Fault::file(&folder))? {
            let path = entry.map_err(Fault::file(&folder))?.path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let parts = path.strip_prefix(site).unwrap_or(&path).components();
            let parts: Vec<_> = parts
                .map(|part| part.as_os_str().to_string_lossy())
                .collect();
            let url = parts.join("/");
            if url != WORKER {
                files.push(File::of(url, &fs::read(&path).map_err(Fault::file(&path))?));
            }
        }
    }
    files.sort_by(|one, other| one.url.cmp(&other.url));
    Ok(files)
}

impl File {
    fn of(url: String, bytes: &[u8]) -> Self {
        let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
        // Writing to memory cannot fail; were it to, the size shown is the raw one.
        let packed = encoder.write_all(bytes).and_then(|()| encoder.finish());
        let gzip = packed.map_or(bytes.len(), |packed| packed.len());
        Self {
            url,
            digest: digest(bytes),
            raw: bytes.len(),
            gzip,
        }
    }
}

fn digest(bytes: &[u8]) -> String {
    STANDARD.encode(Sha256::digest(bytes))
}

fn fill(text: &str, place: &str, value: &str) -> Option<String> {
    text.contains(place).then(|| text.replacen(place, value, 1))
}

fn read(path: &Path) -> Result<String, Fault> {
    fs::read_to_string(path).map_err(Fault::file(path))
}

fn write(path: &Path, text: &str) -> Result<(), Fault> {
    fs::write(path, text).map_err(Fault::file(path))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::workspace;

    const PAGE: &str = "<head><!--seal--><script src=\"boot.js\"></script></head>\
                        <script type=\"module\">alert('Hello, world.');</script>";

    fn site(page: &str) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("index.html"), page).unwrap();
        fs::create_dir(folder.path().join("deep")).unwrap();
        fs::write(folder.path().join("deep/app.wasm"), b"\0asm").unwrap();
        folder
    }

    fn text(folder: &tempfile::TempDir, name: &str) -> String {
        fs::read_to_string(folder.path().join(name)).unwrap()
    }

    /// Source: Content Security Policy Level 2 and 3 (W3C), the example of a
    /// hash source for the script `alert('Hello, world.');`.
    #[test]
    fn the_policy_allows_the_inline_script_by_the_hash_the_standard_gives() {
        let policy = policy(PAGE);
        assert!(policy.contains("'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"));
        assert_eq!(
            policy.matches("sha256-").count(),
            1,
            "a script with src needs no hash"
        );
    }

    #[test]
    fn the_policy_stands_before_anything_it_must_govern() {
        let folder = site(PAGE);
        seal(&workspace(), folder.path()).unwrap();
        assert!(text(&folder, "index.html").starts_with("<head><meta http-equiv"));
    }

    #[test]
    fn the_worker_lists_every_file_with_the_hash_of_what_is_on_disk() {
        let folder = site(PAGE);
        let sealed = seal(&workspace(), folder.path()).unwrap();
        let urls: Vec<_> = sealed.files.iter().map(|file| file.url.as_str()).collect();
        assert_eq!(urls, ["deep/app.wasm", "index.html", "sw.js"]);
        let worker = text(&folder, "sw.js");
        for file in &sealed.files {
            let bytes = fs::read(folder.path().join(&file.url)).unwrap();
            assert_eq!(file.digest, digest(&bytes), "{}", file.url);
            let row = format!("[\"{}\", \"{}\"]", file.url, file.digest);
            assert_eq!(worker.contains(&row), file.url != WORKER, "{row}");
        }
        assert!(
            worker.contains(&sealed.build) && text(&folder, "index.html").contains(&sealed.build)
        );
    }

    #[test]
    fn the_same_site_has_the_same_build_and_another_byte_another() {
        let build = |page: &str| seal(&workspace(), site(page).path()).unwrap().build;
        assert_eq!(build(PAGE), build(PAGE));
        assert_ne!(build(PAGE), build(&format!("{PAGE} ")));
    }

    #[test]
    fn the_background_is_named_by_what_it_holds_and_the_page_knows_where() {
        let sealed = |bytes: &[u8]| {
            let folder = site(PAGE);
            fs::create_dir(folder.path().join(BACKGROUND)).unwrap();
            fs::write(folder.path().join(BACKGROUND).join(START), bytes).unwrap();
            let files = seal(&workspace(), folder.path()).unwrap().files;
            let start = files.into_iter().find(|file| file.url.ends_with(START));
            let url = start.unwrap().url;
            assert!(folder.path().join(&url).is_file());
            let named = format!("<meta name=\"evenfeed-background\" content=\"{url}\">");
            assert!(text(&folder, "index.html").contains(&named));
            url
        };
        assert_eq!(sealed(b"one"), sealed(b"one"));
        assert_ne!(sealed(b"one"), sealed(b"other"));
    }

    #[test]
    fn a_page_is_sealed_only_once() {
        let folder = site(PAGE);
        seal(&workspace(), folder.path()).unwrap();
        let again = seal(&workspace(), folder.path());
        assert!(matches!(again, Err(Fault::Absent { .. })));
    }
}
