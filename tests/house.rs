//! The house rules that a reader of the sources can check: who may name whom, what the core must not
//! touch, what lies at the top of the repository, and that nothing is left over.

#[path = "common/source.rs"]
mod source;

use std::collections::BTreeMap;
use std::fs;

use source::{Source, files_below, root, sources};

/// Every folder of `src` with the other folders it may name.
const LAYERS: [(&str, &[&str]); 15] = [
    ("domain", &[]),
    ("texts", &[]),
    ("html", &["texts"]),
    ("scenario", &["domain", "texts"]),
    ("sim", &["domain"]),
    ("words", &["sim", "domain", "texts"]),
    ("operator", &["words", "sim", "domain", "texts"]),
    (
        "judge",
        &["words", "operator", "sim", "scenario", "domain", "texts"],
    ),
    (
        "evidence",
        &[
            "judge", "words", "operator", "sim", "scenario", "domain", "texts",
        ],
    ),
    (
        "lab",
        &[
            "html", "evidence", "judge", "words", "operator", "sim", "scenario", "domain", "texts",
        ],
    ),
    (
        "records",
        &["evidence", "judge", "operator", "domain", "texts"],
    ),
    (
        "session",
        &[
            "records", "evidence", "judge", "words", "operator", "sim", "scenario", "domain",
            "texts",
        ],
    ),
    (
        "report",
        &[
            "html", "session", "evidence", "judge", "words", "operator", "sim", "scenario",
            "domain", "texts",
        ],
    ),
    (
        "view",
        &[
            "report", "session", "lab", "records", "evidence", "judge", "words", "operator", "sim",
            "scenario", "domain", "texts",
        ],
    ),
    (
        "cli",
        &[
            "view", "report", "session", "lab", "records", "evidence", "judge", "words",
            "operator", "sim", "scenario", "domain", "texts",
        ],
    ),
];

/// The crates that the inner layers may name. The engine re-exports parry and glam; `sim` alone
/// passes them on.
const CRATES: [(&str, &[&str]); 11] = [
    ("domain", &["libm", "serde"]),
    ("html", &["base64", "maud"]),
    ("report", &["jiff", "sha2"]),
    ("texts", &["fluent_bundle", "serde", "unic_langid"]),
    ("judge", &["rayon", "serde"]),
    ("scenario", &["chacha20", "rand", "ron", "serde", "strsim"]),
    (
        "sim",
        &["bevy_rapier3d", "libm", "serde", "thiserror", "xxhash_rust"],
    ),
    ("operator", &["serde"]),
    (
        "lab",
        &[
            "chacha20",
            "csv",
            "libm",
            "parquet",
            "plotters",
            "png",
            "rand",
            "rayon",
            "ron",
            "serde",
            "sobol_burley",
            "xxhash_rust",
        ],
    ),
    (
        "records",
        &[
            "base64",
            "csv",
            "jiff",
            "rusqlite",
            "serde",
            "serde_json",
            "sha1_smol",
            "tempfile",
            "ureq",
            "uuid",
        ],
    ),
    (
        "session",
        &[
            "directories",
            "jiff",
            "ron",
            "serde",
            "xxhash_rust",
            // Its tests alone.
            "tempfile",
        ],
    ),
];

/// Layers whose results must be the same bits everywhere and always.
const PURE: [&str; 3] = ["domain", "sim", "operator"];

/// What a pure layer must not name: files, clocks, the process, and tables in hash order.
const IMPURE: [&str; 16] = [
    "std::fs",
    "std::io",
    "std::env",
    "std::net",
    "std::path",
    "std::process",
    "std::thread",
    "std::time",
    "Instant",
    "SystemTime",
    "HashMap",
    "HashSet",
    "RandomState",
    "thread_local",
    "println",
    "eprintln",
];

/// Methods that go to the system's mathematics library, or to the vector library's.
const SYSTEM_MATH: [&str; 33] = [
    "sin",
    "cos",
    "tan",
    "asin",
    "acos",
    "atan",
    "atan2",
    "sin_cos",
    "sinh",
    "cosh",
    "tanh",
    "asinh",
    "acosh",
    "atanh",
    "exp",
    "exp2",
    "exp_m1",
    "ln",
    "ln_1p",
    "log",
    "log2",
    "log10",
    "powf",
    "cbrt",
    "hypot",
    "from_rotation_x",
    "from_rotation_y",
    "from_rotation_z",
    "from_axis_angle",
    "from_euler",
    "from_scaled_axis",
    "angle_between",
    "slerp",
];

/// What may lie at the top of the repository, beside files whose names start with a dot.
const TOP: [&str; 9] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "src",
    "assets",
    "scenarios",
    "tests",
    // What cargo builds; never committed.
    "target",
];

/// Line numbers, from 1, at which a word or path stands alone in the code.
fn lines_with(code: &str, word: &str) -> Vec<usize> {
    let part = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    let mut found = Vec::new();
    for (number, line) in code.lines().enumerate() {
        let hit = line.match_indices(word).any(|(at, _)| {
            !part(line[..at].chars().next_back()) && !part(line[at + word.len()..].chars().next())
        });
        if hit {
            found.push(number + 1);
        }
    }
    found
}

/// Names used as `root::name` or within `root::{..}`, for example of `crate`.
fn named_under(code: &str, root: &str) -> Vec<String> {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    let mut names = Vec::new();
    let wanted = format!("{root}::");
    for (at, _) in code.match_indices(&wanted) {
        if code[..at]
            .chars()
            .next_back()
            .is_some_and(|c| part(c) || c == ':')
        {
            continue;
        }
        let rest = &code[at + wanted.len()..];
        let Some(group) = rest.strip_prefix('{') else {
            names.push(rest.chars().take_while(|&c| part(c)).collect());
            continue;
        };
        let (mut depth, mut name) = (1, String::new());
        let mut fresh = true;
        for c in group.chars() {
            match c {
                '{' => depth += 1,
                '}' => depth -= 1,
                ',' if depth == 1 => fresh = true,
                c if depth == 1 && fresh && part(c) => name.push(c),
                _ if !name.is_empty() => fresh = false,
                _ => {}
            }
            if !name.is_empty() && (!part(c) || depth == 0) {
                names.push(std::mem::take(&mut name));
            }
            if depth == 0 {
                break;
            }
        }
    }
    names
}

/// Folders of `src` that a source names, by `crate::`, by the library's name or by climbing up.
fn layers_named(source: &Source) -> Vec<String> {
    let mut names = named_under(&source.code, "crate");
    names.extend(named_under(&source.code, "chockline"));
    // Climbing out of the layer; inner modules may need one more step.
    for extra in 0..2 {
        let up = vec!["super"; source.depth() + extra].join("::");
        names.extend(named_under(&source.code, &up));
    }
    names.retain(|name| LAYERS.iter().any(|(layer, _)| layer == name));
    names
}

/// Breaches of the direction of dependencies in one source, as messages.
fn wrong_direction(source: &Source) -> Vec<String> {
    let Some(layer) = source.layer() else {
        return Vec::new();
    };
    let Some((_, allowed)) = LAYERS.iter().find(|(name, _)| *name == layer) else {
        return vec![format!(
            "{}: src/{layer} is not in LAYERS of tests/house.rs; say there what it may name",
            source.name
        )];
    };
    layers_named(source)
        .into_iter()
        .filter(|name| name != layer && !allowed.contains(&name.as_str()))
        .map(|name| {
            format!(
                "{}: `{layer}` names `{name}`, which it must not know; move what it needs inwards, \
                 or hand it in from outside",
                source.name
            )
        })
        .collect()
}

#[test]
fn house_dependencies_point_inwards() {
    let wrong: Vec<String> = sources("src").iter().flat_map(wrong_direction).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Lines `name = ...` of a table of Cargo.toml.
fn dependencies(table: &str) -> BTreeMap<String, String> {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let mut inside = false;
    let mut found = BTreeMap::new();
    for line in manifest.lines() {
        let line = line.trim();
        if line.starts_with('[') {
            inside = line == format!("[{table}]");
        } else if inside && let Some((name, value)) = line.split_once('=') {
            found.insert(name.trim().to_owned(), value.trim().to_owned());
        }
    }
    assert!(!found.is_empty(), "Cargo.toml has no [{table}]");
    found
}

fn foreign_crates(source: &Source, crates: &[String]) -> Vec<String> {
    let Some(layer) = source.layer() else {
        return Vec::new();
    };
    let Some((_, allowed)) = CRATES.iter().find(|(name, _)| *name == layer) else {
        return Vec::new();
    };
    crates
        .iter()
        .filter(|name| !allowed.contains(&name.as_str()))
        .filter(|name| {
            !named_under(&source.code, name).is_empty()
                || !lines_with(&source.code, &format!("use {name}")).is_empty()
        })
        .map(|name| {
            format!(
                "{}: `{layer}` names the crate `{name}`; keep it to {allowed:?} (CRATES in \
                 tests/house.rs)",
                source.name
            )
        })
        .collect()
}

/// The crates of Cargo.toml and those the engine brings along, as they are written in sources.
fn known_crates() -> Vec<String> {
    let names = dependencies("dependencies").into_keys();
    let mut names: Vec<String> = names.map(|name| name.replace('-', "_")).collect();
    names.extend(["rapier3d", "parry3d", "nalgebra", "fastrand", "getrandom"].map(str::to_owned));
    names
}

#[test]
fn house_inner_layers_name_only_their_own_crates() {
    let crates = known_crates();
    let wrong: Vec<String> = sources("src")
        .iter()
        .flat_map(|source| foreign_crates(source, &crates))
        .collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

fn impurities(source: &Source) -> Vec<String> {
    if !source.layer().is_some_and(|layer| PURE.contains(&layer)) {
        return Vec::new();
    }
    let named = IMPURE.iter().flat_map(|word| {
        let lines = lines_with(&source.code, word).into_iter();
        lines.map(move |line| {
            format!(
                "{}:{line}: `{word}`: the core reads no file, clock or environment, prints nothing \
                 and has no hash order; hand the value in",
                source.name
            )
        })
    });
    // `use std::{fs, time}` names them too.
    let grouped = named_under(&source.code, "std")
        .into_iter()
        .filter(|name| IMPURE.contains(&format!("std::{name}").as_str()))
        .filter(|name| !source.code.contains(&format!("std::{name}")))
        .map(|name| {
            format!(
                "{}: `std::{name}` in a core layer; hand the value in",
                source.name
            )
        });
    named.chain(grouped).collect()
}

fn system_math(source: &Source) -> Vec<String> {
    if !source.layer().is_some_and(|layer| PURE.contains(&layer)) {
        return Vec::new();
    }
    let mut wrong = Vec::new();
    for (number, line) in source.code.lines().enumerate() {
        for method in SYSTEM_MATH {
            let called = [
                "",
                "f32::",
                "f64::",
                "Quat::",
                "Rotation::",
                "Mat3::",
                "Vec2::",
            ]
            .iter()
            .any(|owner| {
                let call = if owner.is_empty() {
                    format!(".{method}(")
                } else {
                    format!("{owner}{method}")
                };
                line.contains(&call) && (owner.is_empty() || !lines_with(line, &call).is_empty())
            });
            if called {
                wrong.push(format!(
                    "{}:{}: `{method}` goes to the system's mathematics, which differs between \
                     machines; take it from domain::math",
                    source.name,
                    number + 1
                ));
            }
        }
    }
    wrong
}

#[test]
fn house_the_core_reads_nothing_but_its_inputs() {
    let wrong: Vec<String> = sources("src").iter().flat_map(impurities).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn house_the_core_computes_the_same_everywhere() {
    let wrong: Vec<String> = sources("src").iter().flat_map(system_math).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Left-over marks, put together so that this file does not hold them itself.
fn left_over(source: &Source) -> Vec<String> {
    let notes = [
        concat!("TO", "DO"),
        concat!("FIX", "ME"),
        concat!("XX", "X"),
    ];
    let calls = [
        concat!("to", "do!"),
        concat!("unimple", "mented!"),
        concat!("db", "g!"),
        concat!("#[ig", "nore"),
    ];
    let noted = notes.iter().flat_map(|word| {
        let lines = lines_with(&source.raw, word).into_iter();
        lines.map(move |line| (line, *word))
    });
    let called = calls.iter().flat_map(|word| {
        let hits = source.code.lines().enumerate();
        hits.filter(move |(_, line)| line.contains(word))
            .map(move |(number, _)| (number + 1, *word))
    });
    noted
        .chain(called)
        .map(|(line, word)| {
            format!(
                "{}:{line}: `{word}` is left over; do it now, or leave it out",
                source.name
            )
        })
        .collect()
}

#[test]
fn house_nothing_is_left_over() {
    let all = sources("src").into_iter().chain(sources("tests"));
    let wrong: Vec<String> = all.flat_map(|source| left_over(&source)).collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn house_the_top_level_is_tidy() {
    let mut strangers = Vec::new();
    for entry in fs::read_dir(root()).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let known =
            name.starts_with('.') || name.starts_with("LICENSE-") || TOP.contains(&name.as_str());
        // Empty folders are no part of the repository.
        if !known && (path.is_file() || !files_below(&path).is_empty()) {
            strangers.push(name);
        }
    }
    assert!(
        strangers.is_empty(),
        "{strangers:?} at the top of the repository; put it below src, assets, scenarios or tests, \
         or name it in TOP of tests/house.rs"
    );
}

#[test]
fn house_dependencies_are_pinned() {
    let needed = dependencies("dependencies");
    for name in ["bevy", "bevy_rapier3d"] {
        let value = needed.get(name).map_or("", String::as_str);
        assert!(
            value.contains("version = \"=") && value.contains("default-features = false"),
            "{name} = {value}: pin it as `version = \"=x.y.z\", default-features = false`; another \
             engine version changes every result"
        );
    }
    for (name, feature) in [("bevy", "\"libm\""), ("simba", "\"libm_force\"")] {
        let value = needed.get(name).map_or("", String::as_str);
        assert!(
            value.contains(feature),
            "{name} needs the feature {feature}: without it results differ between machines"
        );
    }
    for (name, value) in needed.iter().chain(&dependencies("dev-dependencies")) {
        assert!(
            !value.contains("\"*\"") && !value.contains("git =") && !value.contains("path ="),
            "{name} = {value}: take a released version from the registry"
        );
    }
    let lock = fs::read_to_string(root().join("Cargo.lock"))
        .expect("Cargo.lock is missing; commit it, builds use --locked");
    for engine in ["rapier3d", "parry3d"] {
        let copies = lock.matches(&format!("name = \"{engine}\"\n")).count();
        assert_eq!(
            copies, 1,
            "{copies} copies of {engine} in Cargo.lock; there must be one engine in the program"
        );
    }
}

/// The rules themselves, on sources that break them.
mod bites {
    use super::*;

    fn source(name: &str, raw: &str) -> Source {
        Source::new(name.to_owned(), raw.to_owned())
    }

    #[test]
    fn house_comments_and_strings_are_no_code() {
        let code = source(
            "",
            "let a = \"x.sin() // y\"; // b.cos()\n/* c /* d */ e.tan() */ let f = r#\"g\"h\"#;\nlet i: &'a str = '\"'; j",
        ).code;
        assert_eq!(code, "let a = \"\"; \n let f = \"\";\nlet i: &'a str = ; j");
    }

    #[test]
    fn house_a_wrong_direction_is_seen() {
        for raw in [
            "use crate::sim::World;",
            "use crate::{domain::rig::Rig, sim};",
            "fn f() { super::super::cli::main() }",
            "use super::super::super::operator::Operator;",
        ] {
            let wrong = wrong_direction(&source("src/domain/rig.rs", raw));
            assert_eq!(wrong.len(), 1, "{raw}: {wrong:?}");
        }
        for raw in [
            "use crate::domain::rig::Rig;",
            "// use crate::sim::World;",
            "use super::pipe::Pipe;",
            "use crate::{domain::rig::Rig};",
        ] {
            let wrong = wrong_direction(&source("src/sim/world.rs", raw));
            assert!(wrong.is_empty(), "{raw}: {wrong:?}");
        }
        let unknown = wrong_direction(&source("src/cellar/mod.rs", ""));
        assert_eq!(unknown.len(), 1, "a new folder must be placed in LAYERS");
    }

    #[test]
    fn house_a_foreign_crate_is_seen() {
        let crates = known_crates();
        let names = |name: &str, raw: &str| foreign_crates(&source(name, raw), &crates).len();
        assert_eq!(names("src/domain/pipe.rs", "use bevy::prelude::*;"), 1);
        assert_eq!(names("src/domain/pipe.rs", "use rand::Rng;"), 1);
        assert_eq!(names("src/sim/world.rs", "let x: ron::Value = 0;"), 1);
        assert_eq!(names("src/sim/world.rs", "use bevy_rapier3d::rapier;"), 0);
        assert_eq!(names("src/cli/run.rs", "use clap::Args;"), 0);
    }

    #[test]
    fn house_impurities_are_seen() {
        let count = |raw: &str| impurities(&source("src/sim/world.rs", raw)).len();
        assert_eq!(count("use std::time::Instant;\n"), 1 + 1);
        assert_eq!(count("use std::{fmt, fs};"), 1);
        assert_eq!(count("let m: HashMap<u8, u8>;"), 1);
        assert_eq!(count("use std::fmt;"), 0);
        let outside = source("src/cli/run.rs", "use std::fs;");
        assert!(impurities(&outside).is_empty());
    }

    #[test]
    fn house_system_mathematics_is_seen() {
        let count = |raw: &str| system_math(&source("src/sim/world.rs", raw)).len();
        assert_eq!(count("let y = x.sin();"), 1);
        assert_eq!(count("let y = f64::atan2(a, b);"), 1);
        assert_eq!(count("values.map(f64::cos)"), 1);
        assert_eq!(count("let q = Rotation::from_rotation_z(t);"), 1);
        assert_eq!(count("let y = sin(x); let z = x.sqrt(); d.single();"), 0);
        assert_eq!(count("Rotation::from_rotation_arc(a, b)"), 0);
    }

    #[test]
    fn house_left_over_marks_are_seen() {
        let count = |raw: String| left_over(&source("src/sim/world.rs", &raw)).len();
        assert_eq!(count(format!("// {}: later", concat!("TO", "DO"))), 1);
        assert_eq!(count(format!("{}(x);", concat!("db", "g!"))), 1);
        assert_eq!(
            count(format!("{}]\nfn f() {{}}", concat!("#[ig", "nore"))),
            1
        );
        assert_eq!(count("// all done\nlet method = 1;".to_owned()), 0);
    }
}
