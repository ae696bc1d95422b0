//! Texts that a person reads when they change.

use std::fs;
use std::path::Path;

/// The text is, to the letter, the one that a person read and kept.
#[track_caller]
pub fn is_as_kept(now: &str, kept: &Path) {
    let was = fs::read_to_string(kept).unwrap_or_default();
    if now == was {
        return;
    }
    let beside = Path::new(env!("CARGO_TARGET_TMPDIR")).join(kept.file_name().unwrap());
    fs::write(&beside, now).unwrap();
    let (now, was) = now
        .lines()
        .zip(was.lines())
        .find(|(now, was)| now != was)
        .unwrap_or(("(a line more or less)", ""));
    panic!(
        "changed at\n  {now}\nwhich was\n  {was}\nRead {} and, if it is right, copy it over {}",
        beside.display(),
        kept.display()
    );
}
