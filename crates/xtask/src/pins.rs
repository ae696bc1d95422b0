//! The one place where the versions of outside tools are fixed.
//!
//! npm packages are pinned beside this in `tests/package.json` and its lock,
//! the compiler in `rust-toolchain.toml`.

use std::fs;
use std::path::Path;

use crate::fault::Fault;

/// Trunk, which puts the page, the style and the Wasm together.
///
/// 0.22 needs a newer compiler than `rust-toolchain.toml` names.
pub const TRUNK: &str = "0.21.14";

/// The target that a browser runs.
pub const WASM_TARGET: &str = "wasm32-unknown-unknown";

/// Oldest Node.js that runs the packages of `tests/package.json`.
pub const NODE_MAJOR: u32 = 20;

/// Debian's linker for Wasm, used only with Debian's compiler.
pub const DEBIAN_LINKER: &str = "wasm-ld-22";

/// Debian packages for a compiler whose standard library can be built here.
pub const DEBIAN_RUST: &[&str] = &[
    "rustc-web",
    "cargo-web",
    "rust-web-src",
    "rust-web-clippy",
    "rustfmt-web",
    "lld-22",
];

/// Debian packages for the browser and its driver; from one archive, so that
/// their versions agree.
pub const DEBIAN_BROWSER: &[&str] = &["chromium", "chromium-driver"];

/// Debian packages for Node.js.
pub const DEBIAN_NODE: &[&str] = &["nodejs", "npm"];

/// Debian packages for Python and the folders it installs into.
pub const DEBIAN_PYTHON: &[&str] = &["python3", "python3-venv"];

/// The version of the `wasm-bindgen` command: that of the library in
/// `Cargo.lock`, because the two must be equal.
///
/// # Errors
/// `File` when the lock cannot be read; `Absent` when it does not name the library.
pub fn wasm_bindgen(workspace: &Path) -> Result<String, Fault> {
    let path = workspace.join("Cargo.lock");
    let lock = fs::read_to_string(&path).map_err(Fault::file(&path))?;
    locked(&lock, "wasm-bindgen").ok_or(Fault::Absent {
        what: "wasm-bindgen",
        place: path,
    })
}

/// The version beside a package's name in the text of a lock file.
fn locked(lock: &str, package: &str) -> Option<String> {
    let name = format!("name = \"{package}\"");
    let mut lines = lock.lines().skip_while(|line| *line != name);
    let version = lines.nth(1)?.strip_prefix("version = \"")?;
    Some(version.trim_end_matches('"').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lock_gives_the_version_of_the_named_package_only() {
        let lock = "[[package]]\nname = \"wasm-bindgen-macro\"\nversion = \"9.9.9\"\n\n\
                    [[package]]\nname = \"wasm-bindgen\"\nversion = \"0.2.130\"\n";
        assert_eq!(locked(lock, "wasm-bindgen").as_deref(), Some("0.2.130"));
        assert_eq!(locked(lock, "trunk"), None);
    }

    #[test]
    fn the_workspace_pins_the_version_that_is_locked() {
        let workspace = crate::place::workspace();
        let locked = wasm_bindgen(&workspace).unwrap();
        let manifest = fs::read_to_string(workspace.join("Cargo.toml")).unwrap();
        assert!(
            manifest.contains(&format!("wasm-bindgen = \"={locked}\"")),
            "Cargo.toml must pin wasm-bindgen to exactly {locked}"
        );
    }
}
