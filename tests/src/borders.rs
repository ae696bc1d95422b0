//! Which crate may reach which: read from `cargo tree`, as the web page is built.

use std::collections::BTreeSet;
use std::process::Command;

/// The core: native tests of these prove the phone's number.
const CORE: [&str; 10] = [
    "quantity",
    "air",
    "refrigerant",
    "diagnosis",
    "belief",
    "coach",
    PLANT,
    "likeness",
    "job",
    "practice",
];
/// The model of the plant.
const PLANT: &str = "cycle";

/// What a browser is reached by. Each stands for its whole family.
const BROWSER: [&str; 6] = [
    "web-sys",
    "js-sys",
    "wasm-bindgen",
    "leptos",
    "gloo",
    "console_",
];

/// Names of packages, of all that `cargo tree` lists for these arguments.
///
/// The output is read: with `-i` the exit code misleads when a dependency hides behind a target.
fn tree(arguments: &[&str]) -> BTreeSet<String> {
    let output = Command::new(env!("CARGO"))
        .args(["tree", "--frozen", "--prefix", "none", "--format", "{p}"])
        .args(arguments)
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .expect("cargo starts");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "cargo tree {arguments:?}: {said}");
    let listed = String::from_utf8(output.stdout).expect("UTF-8");
    let names: BTreeSet<String> = listed
        .lines()
        .filter_map(|line| line.split_whitespace().next())
        .map(str::to_owned)
        .collect();
    assert!(!names.is_empty(), "cargo tree {arguments:?} lists nothing");
    names
}

fn members() -> BTreeSet<String> {
    tree(&["--workspace", "--depth", "0"])
}

/// What a crate is made of on the page: its ordinary dependencies, all the way down.
fn reached(name: &str) -> BTreeSet<String> {
    let page = ["-e", "normal", "--target", "wasm32-unknown-unknown"];
    let mut reached = tree(&[&["-p", name][..], &page].concat());
    assert!(reached.remove(name), "{name} is not in its own tree");
    reached
}

/// Every package of ours that a crate needs by these edges, here.
fn ours_needed(name: &str, edges: &str, members: &BTreeSet<String>) -> BTreeSet<String> {
    let mut needed = tree(&["-p", name, "-e", edges]);
    needed.remove(name);
    needed.intersection(members).cloned().collect()
}

#[test]
fn no_core_crate_reaches_the_browser() {
    for name in CORE {
        for package in reached(name) {
            let browser = BROWSER.iter().any(|family| package.starts_with(family));
            assert!(!browser, "{name} reaches {package}");
        }
    }
}

/// The guard above can see a browser: the page itself reaches one.
#[test]
fn the_page_reaches_the_browser() {
    let page = members().into_iter().find(|name| name.contains("web"));
    let reached = reached(&page.expect("there is a page"));
    assert!(reached.contains("web-sys") && reached.contains("leptos"));
}

/// One way only. What a crate may know of ours, all the way down; those not named here may know
/// anything of the core. Tests may know more: the plant tries the coach and the judge.
#[test]
fn dependencies_point_one_way() {
    let may: [(&str, &[&str]); 9] = [
        ("quantity", &[]),
        ("air", &["quantity"]),
        ("refrigerant", &["quantity"]),
        ("diagnosis", &["air", "quantity", "refrigerant"]),
        ("belief", &["air", "diagnosis", "quantity", "refrigerant"]),
        ("coach", &["quantity"]),
        (PLANT, &["air", "quantity", "refrigerant"]),
        (
            "likeness",
            &["air", PLANT, "diagnosis", "quantity", "refrigerant"],
        ),
        (
            "job",
            &[
                "air",
                "belief",
                "coach",
                PLANT,
                "diagnosis",
                "likeness",
                "quantity",
                "refrigerant",
            ],
        ),
    ];
    let members = members();
    for (name, allowed) in may {
        for ours in ours_needed(name, "normal,build", &members) {
            assert!(allowed.contains(&ours.as_str()), "{name} knows {ours}");
        }
    }
}

/// The trade's table and the plant never see each other, so that the one can test the other. What
/// the model adds to a finding comes as a table that the plant has made, not as the plant.
#[test]
fn the_judge_and_the_plant_never_meet() {
    for name in ["diagnosis", "belief"] {
        let judge = reached(name);
        for other in [PLANT, "coach", "job"] {
            assert!(!judge.contains(other), "{name} reaches {other}");
        }
    }
    let plant = reached(PLANT);
    for other in ["diagnosis", "coach", "job"] {
        assert!(!plant.contains(other), "{PLANT} reaches {other}");
    }
}

#[test]
fn nothing_depends_on_the_makers_and_the_tests() {
    let ends = ["xtask", "evenfeed-tests", "evenfeed-cli", "evenfeed-bench"];
    let members = members();
    for end in ends {
        assert!(members.contains(end), "{end} is no member");
    }
    for name in &members {
        let needed = ours_needed(name, "normal,build,dev", &members);
        for end in ends {
            assert!(!needed.contains(end), "{name} needs {end}");
        }
    }
}
