//! Where things are: the workspace, the build folders, the programs.

use std::env;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The root of the workspace.
///
/// Asked at run time when Cargo started us, so that a moved checkout works.
pub fn workspace() -> PathBuf {
    let here = env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    here.ancestors().nth(2).map_or(here.clone(), Path::to_owned)
}

/// The folder of everything built for the host.
pub fn target(workspace: &Path) -> PathBuf {
    env::var_os("CARGO_TARGET_DIR").map_or_else(|| workspace.join("target"), PathBuf::from)
}

/// The folder of everything built for the browser: apart from the host's, so
/// that two compilers never fight over one folder.
pub fn web_target(workspace: &Path) -> PathBuf {
    target(workspace).join("web")
}

/// Cargo's own folder on this machine.
pub fn cargo_home() -> PathBuf {
    let home = || env::home_dir().unwrap_or_default().join(".cargo");
    env::var_os("CARGO_HOME").map_or_else(home, PathBuf::from)
}

/// Where `cargo install` puts programs.
pub fn cargo_bin() -> PathBuf {
    env::var_os("CARGO_INSTALL_ROOT")
        .map_or_else(cargo_home, PathBuf::from)
        .join("bin")
}

/// The `PATH` of every child: the npm tools, Cargo's programs, then the person's own.
pub fn search_path(workspace: &Path) -> OsString {
    let before = [workspace.join("tests/node_modules/.bin"), cargo_bin()];
    let own = env::var_os("PATH").unwrap_or_default();
    // Only a folder name with a colon in it can fail here; then the person's own path serves.
    env::join_paths(before.into_iter().chain(env::split_paths(&own))).unwrap_or(own)
}

/// The first of `names` that the search path holds.
pub fn program(workspace: &Path, names: &[&str]) -> Option<PathBuf> {
    let path = search_path(workspace);
    let folders: Vec<PathBuf> = env::split_paths(&path).collect();
    let mut candidates = names
        .iter()
        .flat_map(|name| folders.iter().map(move |f| f.join(name)));
    candidates.find(|candidate| candidate.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_workspace_is_the_folder_with_the_lock() {
        assert!(workspace().join("Cargo.lock").is_file());
    }

    #[test]
    fn a_program_that_nobody_has_is_not_found() {
        assert_eq!(program(&workspace(), &["no-such-program-anywhere"]), None);
    }
}
