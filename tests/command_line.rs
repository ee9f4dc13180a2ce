//! What people expect of a command: words in any order, units, own settings, help that runs, completions and a manual.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test whose program does not even run has failed")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use tempfile::TempDir;

/// A time at which the demo's zones are asked about.
const TIME: [&str; 2] = ["--time", "2026-07-25T06:30:00Z"];

struct Outcome {
    status: i32,
    out: String,
    err: String,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let (path, name) = entry.map(|entry| (entry.path(), entry.file_name())).unwrap();
        if path.is_dir() {
            copy(&path, &to.join(name));
        } else {
            fs::copy(&path, to.join(name)).unwrap();
        }
    }
}

/// A folder with the demo in it, and no settings but those that a test writes.
struct Place {
    folder: TempDir,
}

impl Place {
    fn new() -> Self {
        let folder = TempDir::new().unwrap();
        copy(&root().join("demo-data"), &folder.path().join("demo-data"));
        Self { folder }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
        path
    }

    fn run(&self, arguments: &[&str]) -> Outcome {
        self.run_in(&[], arguments)
    }

    #[track_caller]
    fn run_in(&self, environment: &[(&str, &str)], arguments: &[&str]) -> Outcome {
        let mut command = Command::new(env!("CARGO_BIN_EXE_takeline"));
        command.args(arguments).current_dir(self.folder.path());
        for name in ["TAKELINE_ZONES", "TAKELINE_SETTINGS", "NO_COLOR", "COLUMNS", "TZ"] {
            command.env_remove(name);
        }
        command.env("XDG_CONFIG_HOME", self.path("config")).env("HOME", self.folder.path());
        command.envs(environment.iter().copied());
        let output = command.output().unwrap();
        let [out, err] = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap());
        Outcome { status: output.status.code().unwrap(), out, err }
    }

    /// `here` in JSON, in which every zone file that was read is named.
    #[track_caller]
    fn here(&self, arguments: &[&str]) -> serde_json::Value {
        let outcome = self.run(&[&["here", "--format", "json"], &TIME[..], arguments].concat());
        assert_ne!(outcome.status, 2, "{arguments:?}: {}", outcome.err);
        serde_json::from_str(&outcome.out).unwrap_or_else(|error| panic!("{error}: {}", outcome.err))
    }
}

const MARROWICK: &str = "demo-data/zones/marrowick.json";
const HARBOUR: &str = "demo-data/zones/harbour-board.json";

mod zone_paths {
    use super::*;

    #[test]
    fn every_order_of_paths_and_position_gives_the_same_answer() {
        let place = Place::new();
        let expected = place
            .here(&["45.1182", "-30.1217", "--zones", MARROWICK, "--zones", HARBOUR, "--all"])
            .to_string();
        assert!(expected.contains("harbour-board.json"), "both files are read: {expected}");
        for arguments in [
            &["45.1182", "-30.1217", "--zones", MARROWICK, HARBOUR][..],
            &["--zones", MARROWICK, HARBOUR, "45.1182", "-30.1217"],
            &["--zones", MARROWICK, HARBOUR, "--", "45.1182", "-30.1217"],
            &["--zones", MARROWICK, HARBOUR, "--", "45.1182, -30.1217"],
            &["--zones", MARROWICK, "45.1182", "-30.1217", "--zones", HARBOUR],
            &["45.1182", "--zones", MARROWICK, HARBOUR, "--", "-30.1217"],
        ] {
            let answer = place.here(&[&["--all"], arguments].concat());
            assert_eq!(answer.to_string(), expected, "{arguments:?}");
        }
    }

    #[test]
    fn what_may_be_two_things_is_refused() {
        let place = Place::new();
        fs::copy(place.path(HARBOUR), place.path("45.1182")).unwrap();
        let outcome = place.run(&["here", "--zones", MARROWICK, "45.1182", "-30.1217"]);
        assert_eq!(outcome.status, 2);
        assert!(
            outcome.err.contains("“45.1182” after --zones may be a part of the position"),
            "{}",
            outcome.err
        );
        let meant = place.run(&["here", "--zones", MARROWICK, "./45.1182", "--", "45.1182", "-30.1217"]);
        assert_ne!(meant.status, 2, "{}", meant.err);
        let lost = place.run(&["here", "45.1182", "-30.1217", "--zones", MARROWICK, "harbour.json"]);
        assert_eq!((lost.status, lost.out.as_str()), (2, ""));
        assert!(lost.err.contains("“harbour.json” after --zones is neither a file"), "{}", lost.err);
        assert!(lost.err.contains("takeline here --help"), "{}", lost.err);
        let behind = place.run(&["here", "--zones", MARROWICK, "45.1190", "-30.1217", HARBOUR]);
        assert_eq!(behind.status, 2);
        assert!(behind.err.contains("for a zone file write --zones"), "{}", behind.err);
    }

    #[test]
    fn a_log_stays_a_log_and_a_zone_file_is_never_taken_for_one() {
        let place = Place::new();
        let log = "demo-data/trips/launch-and-cross.gpx";
        let expected = place.run(&["track", log, "--zones", MARROWICK, "--zones", HARBOUR]);
        for arguments in [
            &["track", log, "--zones", MARROWICK, HARBOUR][..],
            &["track", "--zones", MARROWICK, HARBOUR, log],
            &["track", "--zones", "demo-data/zones", log],
        ] {
            let outcome = place.run(arguments);
            assert_eq!((outcome.status, outcome.err.as_str()), (expected.status, ""), "{arguments:?}");
        }
        for arguments in [
            &["track", log, HARBOUR, "--zones", MARROWICK][..],
            &["track", "--zones", MARROWICK, log, HARBOUR],
            &["track", HARBOUR, "--zones", MARROWICK],
        ] {
            let outcome = place.run(arguments);
            assert_eq!(outcome.status, 3, "{arguments:?}");
            assert!(
                outcome.err.contains("harbour-board.json is not a log but looks like a zone file"),
                "{}",
                outcome.err
            );
        }
        fs::copy(place.path(log), place.path("demo-data/zones/trip.gpx")).unwrap();
        let both = place.run(&["track", "--zones", MARROWICK, "demo-data/zones", log]);
        assert_eq!(both.status, 2);
        assert!(both.err.contains("holds zone files and logs"), "{}", both.err);
    }
}

mod typed {
    use super::*;

    #[test]
    fn a_length_with_its_unit_is_the_same_length() {
        let place = Place::new();
        let here = |options: &[&str]| {
            place.here(&[&["45.11820", "-30.12170", "--zones", MARROWICK], options].concat()).to_string()
        };
        assert_eq!(here(&["--accuracy-m", "9.144"]), here(&["--accuracy", "30ft"]));
        assert_eq!(here(&["--standoff-m", "926"]), here(&["--standoff", "0.5 nm"]));
        let fish = ["--species", "pollack", "--length-cm", "30.48"];
        let in_feet = ["--species", "pollack", "--length", "1ft"];
        assert_eq!(here(&fish), here(&in_feet));
    }

    #[test]
    fn every_option_that_takes_a_number_says_in_plain_words_what_is_none() {
        let place = Place::new();
        let mut asked = 0;
        for command in commands() {
            let help = place.run(&[&command[..], &["--help"]].concat()).out;
            let takes_a_number =
                |line: &&str| line.contains("<N>") || line.contains("<DEGREES>") || line.contains("<HOURS>");
            for line in help.lines().filter(takes_a_number) {
                let option = line.split_whitespace().find(|word| word.starts_with("--")).unwrap();
                let refused = place.run(&[&command[..], &[option, "x"]].concat());
                asked += 1;
                assert_eq!(refused.status, 2, "{command:?} {option}");
                for jargon in ["float", "literal", "invalid digit", "parse"] {
                    assert!(!refused.err.contains(jargon), "{option}: {}", refused.err);
                }
                let has_mend = refused.err.contains("write") || refused.err.contains("not a number");
                assert!(has_mend, "{option}: {}", refused.err);
            }
        }
        assert!(asked >= 30, "only {asked} options were found");
    }

    #[test]
    fn a_time_of_day_is_today_by_this_device_and_says_so() {
        let place = Place::new();
        let question = ["here", "45.11820", "-30.12170", "--zones", MARROWICK, "--time", "07:25"];
        // an invented zone without summer time, three and a half hours behind UTC
        let zone = [("TZ", "MAR3:30")];
        let text = place.run_in(&zone, &question);
        assert!(text.err.contains("note: 07:25 taken as today, "), "{}", text.err);
        assert!(text.err.contains("by this device's clock (10:55 UTC)"), "{}", text.err);
        assert!(text.out.replace("\n    ", " ").contains("by this device's clock"), "{}", text.out);
        let json = place.run_in(&zone, &[&question[..], &["--format", "json"]].concat());
        assert!(json.out.contains("T10:55:00Z"), "{}", json.out);
        let without = place.run(&["here", "45", "-30", "--time", "2026-07-01T07:25"]);
        assert_eq!(without.status, 2);
        assert!(
            without.err.contains("offset from UTC") && without.err.contains("07:25 for today"),
            "{}",
            without.err
        );
    }

    #[test]
    fn two_fish_in_one_word_are_refused_and_unknown_ones_pointed_to_the_list() {
        let place = Place::new();
        let here = |fish: &str| {
            place.run(
                &[&["here", "45.11820", "-30.12170", "--zones", MARROWICK, "--species", fish], &TIME[..]]
                    .concat(),
            )
        };
        let two = here("sprat, squid");
        assert_eq!((two.status, two.out.as_str()), (2, ""));
        assert!(two.err.contains("--species sprat --species squid"), "{}", two.err);
        let unknown = here("gribble");
        assert_ne!(unknown.status, 0);
        assert!(unknown.err.contains("takeline zones names"), "{}", unknown.err);
        assert_eq!(here("sprat").err, "");
    }

    #[test]
    fn the_names_that_files_know_are_listed() {
        let place = Place::new();
        for arguments in
            [&["zones", "names", MARROWICK, HARBOUR][..], &["zones", "names", "--zones", MARROWICK, HARBOUR]]
        {
            let text = place.run(arguments);
            assert_eq!(text.status, 0, "{}", text.err);
            assert!(text.out.lines().all(|line| line.chars().count() <= 40), "{}", text.out);
            assert!(
                text.out.contains("pollack, lythe") && text.out.contains("hook and line"),
                "{}",
                text.out
            );
        }
        let json = place.run(&["zones", "names", "demo-data/zones", "--format", "json"]);
        let document: serde_json::Value = serde_json::from_str(&json.out).unwrap();
        assert_eq!(document["schema"], "takeline.zones-names/1");
        let marrowick = &document["files"][1];
        assert!(
            marrowick["groups"].as_array().unwrap().iter().any(|group| group["id"] == "bait-fish"),
            "{marrowick}"
        );
        // every listed name is one that can be asked about
        for fish in marrowick["fish"].as_array().unwrap() {
            for name in fish["names"].as_array().unwrap() {
                let name = name["name"].as_str().unwrap();
                let asked = place.run(
                    &[&["here", "45.1182", "-30.1217", "--zones", MARROWICK, "--species", name], &TIME[..]]
                        .concat(),
                );
                assert!(!asked.err.contains("no loaded zone file has the name"), "{name}");
            }
        }
    }

    #[test]
    fn a_kayak_is_a_boat() {
        let place = Place::new();
        let here = |access: &str| {
            place.here(&["45.11820", "-30.12170", "--zones", MARROWICK, "--access", access]).to_string()
        };
        assert_eq!(here("kayak"), here("boat"));
        assert_ne!(place.run(&["here", "45", "-30", "--access", "raft"]).status, 0);
    }
}

mod settings {
    use super::*;

    const OWN: &str = "accuracy = \"30ft\"\naccuracy-kind = \"p95\"\naccess = \"kayak\"\ntop-speed = \"8 kn\"\n\
        eye-height = \"1.2 m\"\nwidth = 60\nzones = [\"../../demo-data/zones\"]\n";

    #[test]
    fn they_are_used_where_nothing_is_typed_and_said() {
        let place = Place::new();
        place.write("config/takeline/settings.toml", OWN);
        let question = [&["here", "45.11820", "-30.12170"], &TIME[..]].concat();
        let own = place.run(&[&question[..], &["--format", "json"]].concat());
        assert!(own.err.contains("note: from your settings"), "{}", own.err);
        for used in ["--accuracy-m 9.144", "--accuracy-kind p95", "--access boat", "--settings none"] {
            assert!(own.err.contains(used), "{used}: {}", own.err);
        }
        let answer: serde_json::Value = serde_json::from_str(&own.out).unwrap();
        assert_eq!(answer["position"]["uncertainty_source"], "given");
        assert_eq!(
            answer["position"]["uncertainty_95_m"].as_f64().map(|metres| (metres * 1e3).round()),
            Some(9144.0),
            "{answer}"
        );
        // what is typed goes before them
        let typed = place.run(
            &[&question[..], &["--accuracy", "3m", "--accuracy-kind", "p95", "--format", "json"]].concat(),
        );
        let answer: serde_json::Value = serde_json::from_str(&typed.out).unwrap();
        assert_eq!(answer["position"]["uncertainty_95_m"].as_f64(), Some(3.0));
        assert!(!typed.err.contains("--accuracy-m"), "{}", typed.err);
        // and the environment, for zones
        let zones = place.path(HARBOUR).display().to_string();
        let named = place.run_in(&[("TAKELINE_ZONES", &zones)], &question);
        assert!(!named.err.contains("--zones"), "{}", named.err);
        let none = place.run(&[&question[..], &["--settings", "none"]].concat());
        assert_eq!(none.status, 3, "no zones are named then: {}", none.err);
        let other = place.write("other.toml", "access = \"shore\"\n").display().to_string();
        let other = place
            .run_in(&[("TAKELINE_SETTINGS", &other)], &[&question[..], &["--zones", MARROWICK]].concat());
        assert!(other.err.contains("other.toml): --access shore;"), "{}", other.err);
    }

    #[test]
    fn a_track_tells_the_command_that_makes_it_again_without_them() {
        let place = Place::new();
        place.write("config/takeline/settings.toml", OWN);
        let log = "demo-data/trips/launch-and-cross.gpx";
        let own = place.run(&["track", log, "--format", "json"]);
        assert!(own.err.contains("--top-speed-kn 8"), "{}", own.err);
        let typed = "--accuracy-m 9.144 --accuracy-kind p95 --top-speed-kn 8 --access boat";
        assert!(own.out.contains(typed), "it names what was used: {}", own.out);
        assert!(own.out.contains("marrowick.json"), "and the zone files");
    }

    #[test]
    fn a_card_tells_the_command_that_makes_it_again_without_them() {
        let place = Place::new();
        place.write("config/takeline/settings.toml", OWN);
        let check =
            ["transit", "check", "--landmarks", "demo-data/landmarks.geojson", "--front", "day beacon"];
        let rest = [
            "--rear",
            "lone-pine",
            "--near",
            "100",
            "--far",
            "1400",
            "--time",
            "07:25",
            "--card",
            "card.html",
        ];
        let outcome = place.run_in(&[("TZ", "UTC0")], &[&check[..], &rest].concat());
        assert!(outcome.err.contains("--eye-height-m 1.2"), "{}", outcome.err);
        let card = fs::read_to_string(place.path("card.html")).unwrap();
        assert!(card.contains("--eye-height-m 1.2"), "the card names what was used");
        assert!(!card.contains("--time 07:25"), "today is another day tomorrow");
        assert!(card.contains("T07:25:00Z"), "the time that was taken stands there");
    }

    #[test]
    fn a_slip_in_the_file_stops_everything_and_names_its_line() {
        let place = Place::new();
        let path = place.write("config/takeline/settings.toml", "width = 60\nacces = \"shore\"\n");
        let outcome =
            place.run(&[&["here", "45.11820", "-30.12170", "--zones", MARROWICK], &TIME[..]].concat());
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
        let told = format!("{}, line 2: there is no setting acces; did you mean access?", path.display());
        assert!(outcome.err.contains(&told), "{}", outcome.err);
        let lost = place.run(&["here", "45", "-30", "--settings", "no-such.toml"]);
        assert_eq!(lost.status, 3);
        assert!(lost.err.contains("no-such.toml cannot be read: there is no such file"), "{}", lost.err);
    }

    #[test]
    fn a_launch_from_the_settings_is_used_where_one_is_needed() {
        let place = Place::new();
        let find = [
            "transit",
            "find",
            "--landmarks",
            "demo-data/landmarks.geojson",
            "--zones",
            MARROWICK,
            "--zone",
            "sallow-cove",
        ];
        let missing = place.run(&find);
        assert_eq!(missing.status, 2);
        assert!(missing.err.contains("say where you launch"), "{}", missing.err);
        let typed = place.run(&[&find[..], &["--launch", "45.1170 -30.1190"]].concat());
        place.write("config/takeline/settings.toml", "launch = \"45.1170 -30.1190\"\n");
        let set = place.run(&find);
        assert_eq!((set.status, &set.out), (typed.status, &typed.out), "{}", set.err);
        assert!(set.err.contains("--launch '45.1170 -30.1190'"), "{}", set.err);
    }

    #[test]
    fn they_are_shown_with_their_place() {
        let place = Place::new();
        let none = place.run(&["settings"]);
        assert_eq!(none.status, 0);
        assert!(none.out.contains("No settings are in use"), "{}", none.out);
        assert!(none.out.contains("takeline/settings.toml"), "{}", none.out);
        place.write("config/takeline/settings.toml", OWN);
        let own = place.run(&["settings"]);
        assert!(own.out.contains("--accuracy-m 9.144") && own.out.contains("--width 60"), "{}", own.out);
    }
}

/// Every command that can be called.
fn commands() -> Vec<Vec<&'static str>> {
    let lines = [
        "here",
        "track",
        "transit check",
        "transit find",
        "transit calibrate",
        "transit cross",
        "zones prepare",
        "zones check",
        "zones names",
        "zones import",
        "zones export",
        "zones show",
        "zones list",
        "zones draft",
        "zones compare",
        "settings",
        "completions",
        "manual",
    ];
    lines.iter().map(|line| line.split(' ').collect()).collect()
}

mod help {
    use super::*;

    /// The commands that a help text gives as examples.
    fn examples(help: &str) -> Vec<String> {
        let joined = help.replace("\\\n    ", "");
        let lines = joined.lines().filter(|line| line.starts_with("  takeline "));
        lines.map(|line| line.trim().to_owned()).collect()
    }

    #[test]
    fn every_example_runs_as_it_is_written() {
        let place = Place::new();
        let program = Path::new(env!("CARGO_BIN_EXE_takeline")).parent().unwrap();
        let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
        let mut run = 0;
        for command in [vec![vec![]], commands()].concat() {
            let help = place.run(&[&command[..], &["--help"]].concat()).out;
            let found = examples(&help);
            assert!(!found.is_empty() || command == ["settings"], "no example for {command:?}");
            for example in found {
                let output = Command::new("bash")
                    .args(["-c", &example])
                    .current_dir(place.folder.path())
                    .env("PATH", &path)
                    .env("XDG_CONFIG_HOME", place.path("config"))
                    .env("TZ", "UTC0")
                    .env_remove("TAKELINE_ZONES")
                    .env_remove("TAKELINE_SETTINGS")
                    .output()
                    .unwrap();
                let err = String::from_utf8_lossy(&output.stderr);
                let is_answer = matches!(output.status.code(), Some(0 | 1 | 3));
                assert!(is_answer && !err.contains("error:"), "{example}\n{err}");
                run += 1;
            }
        }
        assert!(run >= 15, "only {run} examples were found");
    }

    #[test]
    fn the_first_screen_says_what_to_type_first() {
        let place = Place::new();
        let first = place.run(&[]);
        assert!(first.err.contains("Try this first, in the folder that holds demo-data"), "{}", first.err);
        assert!(first.err.lines().count() <= 40, "it is one screen:\n{}", first.err);
    }

    #[test]
    fn bash_completes_commands_and_options() {
        let place = Place::new();
        let script = place.run(&["completions", "bash"]);
        assert_eq!(script.status, 0);
        place.write("takeline.bash", &script.out);
        for (words, at, completed) in [
            ("takeline tr", 1, "track transit"),
            ("takeline transit cal", 2, "calibrate"),
            ("takeline here --stand", 2, "--standoff-m --standoff"),
        ] {
            let asked = format!(
                "source takeline.bash; COMP_WORDS=({words}); COMP_CWORD={at}; last=${{COMP_WORDS[$COMP_CWORD]}}; \
                 _takeline takeline \"$last\" \"${{COMP_WORDS[$((COMP_CWORD-1))]}}\"; echo \"${{COMPREPLY[*]}}\""
            );
            let output =
                Command::new("bash").args(["-c", &asked]).current_dir(place.folder.path()).output().unwrap();
            let found = String::from_utf8_lossy(&output.stdout);
            for word in completed.split(' ') {
                assert!(found.split_whitespace().any(|found| found == word), "{words}: {found}");
            }
        }
    }

    #[test]
    fn the_manual_holds_every_option_and_is_well_formed() {
        let place = Place::new();
        let written = place.run(&["manual", "--dir", "man/man1"]);
        assert_eq!(written.status, 0, "{}", written.err);
        for command in commands() {
            let name = format!("man/man1/takeline-{}.1", command.join("-"));
            let page = fs::read_to_string(place.path(&name)).unwrap();
            assert_eq!(page, place.run(&[&["manual"], &command[..]].concat()).out, "{name}");
            let help = place.run(&[&command[..], &["--help"]].concat()).out;
            let options = help.lines().filter_map(|line| {
                let word = line.split_whitespace().find(|word| word.starts_with("--"))?;
                line.trim_start().starts_with('-').then_some(word)
            });
            for option in options {
                let option = option.trim_matches(|sign: char| !sign.is_alphanumeric()).replace('-', "\\-");
                assert!(page.contains(&option), "{name} lacks {option}");
            }
            formatted(&place.path(&name));
        }
        let unknown = place.run(&["manual", "transit", "chek"]);
        assert_eq!(unknown.status, 2);
        assert!(unknown.err.contains("there are check, find"), "{}", unknown.err);
    }

    /// Puts a page through the formatter, where there is one.
    fn formatted(page: &Path) {
        let output = std::process::Command::new("man")
            .env("LC_ALL", "C.UTF-8")
            .args(["--warnings", "-l"])
            .arg(page)
            .output();
        match output {
            Ok(output) if output.status.success() => {
                let text = String::from_utf8_lossy(&output.stdout);
                assert!(text.contains("OPTIONS"), "{}: {text}", page.display());
                assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{}", page.display());
            }
            // a system without the formatter, or whose man reads no single page
            Ok(_) | Err(_) => {}
        }
    }
}

mod screen {
    use super::*;

    #[test]
    fn what_is_piped_has_forty_columns_and_no_colour_whatever_the_environment() {
        let place = Place::new();
        let question = [&["here", "45.11820", "-30.12170", "--zones", MARROWICK], &TIME[..]].concat();
        let plain = place.run(&question).out;
        assert!(plain.lines().all(|line| line.chars().count() <= 40), "{plain}");
        for environment in [("COLUMNS", "90"), ("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")] {
            assert_eq!(place.run_in(&[environment], &question).out, plain, "{environment:?}");
        }
        let always =
            place.run_in(&[("NO_COLOR", "1")], &[&question[..], &["--color", "always"]].concat()).out;
        assert!(always.starts_with("\u{1b}[1m"), "{always}");
        assert_eq!(always.replace("\u{1b}[1m", "").replace("\u{1b}[0m", ""), plain, "the words are the same");
        let json = place.run(&[&question[..], &["--color", "always", "--format", "json"]].concat()).out;
        assert!(!json.contains('\u{1b}'), "{json}");
    }

    #[test]
    fn brief_is_the_first_lines_of_the_whole_answer_and_ends_alike() {
        let place = Place::new();
        let marks = ["--landmarks", "demo-data/landmarks.geojson", "--zones", "demo-data/zones"];
        let pair = ["--front", "day-beacon", "--rear", "lone-pine"];
        let bearing = ["--in-line", "day-beacon; lone-pine", "--bearing", "mast; 143 magnetic"];
        let trip = "demo-data/trips/launch-and-cross.gpx";
        for asked in [
            vec!["track", trip, "--zones", "demo-data/zones"],
            [&["transit", "check", "--near", "100m", "--far", "1400m"][..], &pair, &marks, &TIME].concat(),
            [
                &["transit", "find", "--zone", "sallow-cove", "--launch", "45.1170 -30.1190"][..],
                &marks,
                &TIME,
            ]
            .concat(),
            [&["transit", "cross"][..], &bearing, &marks, &TIME].concat(),
        ] {
            let whole = place.run(&asked);
            let brief = place.run(&[&asked[..], &["--brief"]].concat());
            assert_eq!(brief.status, whole.status, "{asked:?}: {}", brief.err);
            let (first, _) = whole.out.split_once("\n\n").unwrap();
            assert_eq!(brief.out, format!("{first}\n"), "{asked:?}");
            assert!(brief.out.lines().count() <= 6, "{asked:?}: {}", brief.out);
            let json = place.run(&[&asked[..], &["--brief", "--format", "json"]].concat());
            assert_eq!((json.status, json.out.as_str()), (2, ""), "{asked:?}");
        }
    }
}
