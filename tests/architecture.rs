//! Holds the code map of DEVELOPERS.md to the sources: which room may import from which, and what the library never does.
//!
//! The sources are read as text. Tests, comments and `mod.rs` re-exports inside a room are free to do as they like.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::{fs, io};

/// Rooms of the library, and the rooms that each of them never imports from.
const WALLS: [(&[&str], &[&str]); 11] = [
    (
        &["angle", "length", "tristate", "position", "fix", "geodesic", "boundary"],
        &[
            "zone",
            "rule",
            "binding",
            "assess",
            "zone_file",
            "landmark",
            "landmark_file",
            "magnetic",
            "transit",
            "coast",
        ],
    ),
    (
        &["coast"],
        &[
            "zone",
            "rule",
            "binding",
            "assess",
            "zone_file",
            "landmark",
            "landmark_file",
            "magnetic",
            "transit",
            "track",
            "prepared",
        ],
    ),
    (&["rule"], &["geodesic", "boundary", "fix", "zone", "binding", "assess", "zone_file", "transit"]),
    (&["zone"], &["binding", "assess", "zone_file", "transit"]),
    (&["binding"], &["geodesic", "boundary", "fix", "assess", "zone_file", "transit", "track"]),
    (&["assess"], &["zone_file", "transit"]),
    (
        &["landmark", "magnetic"],
        &["zone", "rule", "binding", "assess", "zone_file", "landmark_file", "transit"],
    ),
    (&["transit"], &["zone_file", "landmark_file", "geojson_text", "track"]),
    (&["geojson_text"], &["rule", "assess", "zone_file", "landmark_file", "transit", "track"]),
    (&["zone_file", "landmark_file"], &["binding", "assess", "transit", "track"]),
    (
        &[
            "geodesic",
            "boundary",
            "rule",
            "zone",
            "binding",
            "assess",
            "geojson_text",
            "zone_file",
            "track",
            "transit",
        ],
        &["prepared"],
    ),
];
/// What reaches out of the library: files, network, settings of the machine, printing and clocks.
const STD_OUTSIDE: [&str; 4] = ["fs", "net", "env", "process"];
const CALLS_OUTSIDE: [&str; 7] =
    ["print!(", "println!(", "eprint!(", "eprintln!(", "dbg!(", "::now(", "TimeZone::system("];
/// Crates that compute on coordinates, the sky or the wire; the command and the report leave them to the library, but that
/// the report writes GeoJSON, for which it takes the types of `geojson` without those of `geo-types`.
const GEOMETRIC: [&str; 8] =
    ["geo", "geo-types", "geographiclib-rs", "geojson", "libm", "proj", "rstar", "solar-positioning"];

/// One source file: its text without comments and inline tests, line for line as in the file.
struct Source {
    /// Path from the root of the workspace.
    name: String,
    /// Path of the module below the crate: `["boundary", "piece"]`.
    module: Vec<String>,
    code: String,
}

impl Source {
    /// The place of a byte of the code, for a message.
    fn place(&self, at: usize) -> String {
        format!("{}:{}", self.name, 1 + self.code[..at].matches('\n').count())
    }

    /// Everything that paths from the crate's root lead to, by the first name of each, with its place in the code.
    fn imports(&self) -> Vec<(usize, String)> {
        let from_root = "super::".repeat(self.module.len());
        let mut found = heads(&self.code, "crate::");
        if !from_root.is_empty() {
            found.extend(heads(&self.code, &from_root));
        }
        found
    }
}

fn workspace() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// All sources of a crate but its tests.
fn sources(of: &str) -> io::Result<Vec<Source>> {
    let root = workspace().join(of);
    let mut found = Vec::new();
    walk(&root, &mut Vec::new(), of, &mut found)?;
    Ok(found)
}

fn walk(folder: &Path, module: &mut Vec<String>, name: &str, found: &mut Vec<Source>) -> io::Result<()> {
    let tests = test_modules(folder)?;
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let name = format!("{name}/{}", path.file_name().unwrap_or_default().to_string_lossy());
        if path.is_dir() {
            module.push(stem);
            walk(&path, module, &name, found)?;
            module.pop();
        } else if path.extension().is_some_and(|end| end == "rs") && !tests.contains(&stem) {
            let mut module = module.clone();
            if !["mod", "lib", "main"].contains(&stem.as_str()) {
                module.push(stem);
            }
            found.push(Source { name, module, code: code(&fs::read_to_string(&path)?) });
        }
    }
    Ok(())
}

/// Names of the modules that a folder declares under `#[cfg(test)]`.
fn test_modules(folder: &Path) -> io::Result<Vec<String>> {
    let mut names = Vec::new();
    for head in ["mod.rs", "lib.rs", "main.rs"].map(|file| folder.join(file)) {
        if head.exists() {
            let text = fs::read_to_string(head)?;
            let lines: Vec<&str> = text.lines().map(str::trim).collect();
            let is_of_tests = |line: &str| line == "#[cfg(test)]" || line.starts_with("#[cfg(all(test, ");
            let declared = lines.windows(2).filter(|pair| is_of_tests(pair[0]));
            names.extend(declared.filter_map(|pair| {
                let module = pair[1].trim_start_matches("pub(crate) ").trim_start_matches("pub(super) ");
                Some(module.strip_prefix("mod ")?.strip_suffix(';')?.to_owned())
            }));
        }
    }
    Ok(names)
}

/// Text without comments and without the inline tests at its end; lines stay where they were.
fn code(text: &str) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    let is_tests =
        |pair: &[&str]| pair[0] == "#[cfg(test)]" && pair[1].starts_with("mod ") && pair[1].ends_with('{');
    if let Some(end) = lines.windows(2).position(is_tests) {
        lines.truncate(end);
    }
    let bare = lines.iter().map(|line| line.split_once("//").map_or(*line, |(before, _)| before));
    bare.collect::<Vec<_>>().join("\n")
}

/// The first name of each path that follows a prefix: `crate::{zone::Datum, Fix}` has the heads `zone` and `Fix`.
fn heads(code: &str, prefix: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (at, _) in code.match_indices(prefix) {
        let continues = code[..at].chars().next_back().is_some_and(|before| is_name(before) || before == ':');
        if continues {
            continue;
        }
        let rest = &code[at + prefix.len()..];
        match rest.strip_prefix('{') {
            Some(group) => found.extend(members(group).into_iter().map(|head| (at, head))),
            None => found.push((at, rest.chars().take_while(|c| is_name(*c)).collect())),
        }
    }
    found
}

fn is_name(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The first name of each member of a braced group, up to the brace that closes it.
fn members(group: &str) -> Vec<String> {
    let mut names = Vec::new();
    let (mut depth, mut current, mut done) = (1, String::new(), false);
    for c in group.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 1 => {
                names.push(std::mem::take(&mut current));
                done = false;
            }
            _ if depth == 1 && !done && is_name(c) => current.push(c),
            _ if !current.is_empty() => done = true,
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    names.push(current);
    names.retain(|name| !name.is_empty());
    names
}

/// Which room each name that the crate's root gives out comes from.
fn rooms_of_names(lib: &Source) -> HashMap<String, String> {
    let mut rooms = HashMap::new();
    for (at, _) in lib.code.match_indices("pub use ") {
        let rest = &lib.code[at + "pub use ".len()..];
        if let Some((room, names)) = rest.split_once("::") {
            let names = names
                .strip_prefix('{')
                .map_or_else(|| vec![names.chars().take_while(|c| is_name(*c)).collect()], members);
            rooms.extend(names.into_iter().map(|name| (name, room.to_owned())));
        }
    }
    rooms
}

fn breaches(core: &[Source]) -> Vec<String> {
    let lib = core.iter().find(|source| source.module.is_empty());
    let rooms = lib.map(rooms_of_names).unwrap_or_default();
    let mut found = Vec::new();
    for source in core.iter().filter(|source| !source.module.is_empty()) {
        let own = source.module[0].as_str();
        let walls = WALLS.iter().filter(|(inside, _)| inside.contains(&own));
        let forbidden: Vec<&str> = walls.flat_map(|(_, outside)| outside.iter().copied()).collect();
        for (at, head) in source.imports() {
            let room = rooms.get(&head).unwrap_or(&head);
            if forbidden.contains(&room.as_str()) {
                found.push(format!("{}: {own} imports {head} from {room}", source.place(at)));
            }
        }
    }
    found
}

fn reaches_outside(source: &Source) -> Vec<String> {
    let parts = heads(&source.code, "std::").into_iter();
    let parts = parts.filter(|(_, part)| STD_OUTSIDE.contains(&part.as_str()));
    let parts = parts.map(|(at, part)| format!("{}: std::{part}", source.place(at)));
    let calls = CALLS_OUTSIDE.iter().flat_map(|call| {
        source.code.match_indices(call).map(move |(at, _)| format!("{}: {call}", source.place(at)))
    });
    parts.chain(calls).collect()
}

/// Names of the crates in the dependency tables of a manifest, those for tests left out.
fn dependencies(manifest: &str) -> Vec<String> {
    let mut names = Vec::new();
    let mut in_table = false;
    for line in manifest.lines().map(str::trim) {
        if line.starts_with('[') {
            in_table = line.ends_with("dependencies]") && !line.contains("dev-dependencies");
        } else if in_table && !line.is_empty() && !line.starts_with('#') {
            names.push(line.chars().take_while(|c| is_name(*c) || *c == '-').collect());
        }
    }
    names
}

#[test]
fn geometry_knows_no_rule_and_rules_know_no_geometry() -> io::Result<()> {
    let core = sources("crates/core/src")?;
    assert!(core.len() > 60, "only {} sources were read", core.len());
    let found = breaches(&core);
    assert!(found.is_empty(), "imports through a wall:\n{}", found.join("\n"));
    Ok(())
}

#[test]
fn the_library_prints_nothing_and_reads_no_file_no_network_and_no_clock() -> io::Result<()> {
    let core = sources("crates/core/src")?;
    let found: Vec<String> = core.iter().flat_map(reaches_outside).collect();
    assert!(found.is_empty(), "values in, values out, but:\n{}", found.join("\n"));
    Ok(())
}

#[test]
fn the_command_and_the_report_depend_on_nothing_geometric() -> io::Result<()> {
    for manifest in ["crates/cli/Cargo.toml", "crates/report/Cargo.toml"] {
        let names = dependencies(&fs::read_to_string(workspace().join(manifest))?);
        assert!(names.iter().any(|name| name == "takeline"), "{manifest} was read as {names:?}");
        let is_written = |name: &str| manifest.contains("report") && name == "geojson";
        let found = names.iter().filter(|name| GEOMETRIC.contains(&name.as_str()) && !is_written(name));
        let found: Vec<&String> = found.collect();
        assert!(found.is_empty(), "{manifest} depends on {found:?}");
    }
    let versions = fs::read_to_string(workspace().join("Cargo.toml"))?;
    let geojson = versions.lines().find(|line| line.starts_with("geojson = "));
    assert!(geojson.is_some_and(|line| line.contains("default-features = false")), "{geojson:?}");
    Ok(())
}

#[test]
fn only_the_crate_for_datums_links_proj() -> io::Result<()> {
    for manifest in ["core", "drafting", "formats", "gis", "report", "cli"] {
        let names =
            dependencies(&fs::read_to_string(workspace().join("crates").join(manifest).join("Cargo.toml"))?);
        assert!(!names.iter().any(|name| name == "proj"), "{manifest}");
    }
    let found: Vec<String> = sources("crates/gis/src")?.iter().flat_map(reaches_outside).collect();
    assert!(found.is_empty(), "values in, values out, but:\n{}", found.join("\n"));
    Ok(())
}

#[test]
fn a_mod_file_holds_docs_and_re_exports_only() -> io::Result<()> {
    let mut found = Vec::new();
    let mut read = 0;
    for of in ["crates/core/src", "crates/report/src", "crates/cli/src"] {
        for source in sources(of)?.iter().filter(|source| source.name.ends_with("/mod.rs")) {
            read += 1;
            let functions = source.code.match_indices("fn ");
            let starts_a_word = |at: usize| !source.code[..at].ends_with(is_name);
            found.extend(functions.filter(|(at, _)| starts_a_word(*at)).map(|(at, _)| source.place(at)));
        }
    }
    assert!(read >= 8, "only {read} mod.rs files were read");
    assert!(found.is_empty(), "functions in mod.rs files:\n{}", found.join("\n"));
    Ok(())
}

#[test]
fn a_breach_of_the_wall_is_seen_however_it_is_written() {
    let source = |module: &[&str], text: &str| Source {
        name: module.join("/"),
        module: module.iter().map(ToString::to_string).collect(),
        code: code(text),
    };
    let lib = source(
        &[],
        "pub use assess::{Assessment, Containment};\npub use zone::ZoneSet;\npub use length::Metres;",
    );
    let text = "use crate::{Metres, zone::Datum,\n    Containment};\nfn f() { super::super::rule::combine() }\n\
        // use crate::zone::Zone;\nuse super::ring;\nlet a = crate::ZoneSet::new();\n\
        #[cfg(test)]\nmod tests {\n    use crate::zone::ZoneSet;\n}";
    let core = [lib, source(&["boundary", "piece"], text), source(&["length"], "use super::zone::Zone;")];
    let found = breaches(&core);
    assert_eq!(
        found,
        [
            "boundary/piece:1: boundary imports zone from zone",
            "boundary/piece:1: boundary imports Containment from assess",
            "boundary/piece:6: boundary imports ZoneSet from zone",
            "boundary/piece:3: boundary imports rule from rule",
            "length:1: length imports zone from zone",
        ]
    );
    let outside =
        source(&["fix"], "use std::{fmt, fs};\nlet now = jiff::Timestamp::now();\nprintln!(\"now\");");
    assert_eq!(reaches_outside(&outside), ["fix:1: std::fs", "fix:3: println!(", "fix:2: ::now("]);
}
