//! Builds the site: Trunk makes it, `seal` closes it, one rename puts it in `dist`.

use std::fs;

use crate::fault::Fault;
use crate::place;
use crate::run::run;
use crate::seal::seal;
use crate::setup::Tools;
use crate::sizes;

/// Builds the release site into `dist/`.
///
/// A failed build leaves the old `dist` as it was.
///
/// # Errors
/// That of the failing step; `TooLarge` when the site is over its budget.
pub fn build(tools: &Tools) -> Result<(), Fault> {
    const STEP: &str = "site";
    let made = place::web_target(&tools.workspace).join("site");
    let mut trunk = tools.wasm("trunk");
    trunk.args([
        "build",
        "--release",
        "--offline",
        "--locked",
        "--skip-version-check",
    ]);
    run(STEP, trunk.arg("--dist").arg(&made))?;
    let sealed = seal(&tools.workspace, &made)?;
    sizes::report(&sealed)?;

    let dist = tools.workspace.join("dist");
    if dist.exists() {
        fs::remove_dir_all(&dist).map_err(Fault::file(&dist))?;
    }
    fs::rename(&made, &dist).map_err(Fault::file(&dist))
}
