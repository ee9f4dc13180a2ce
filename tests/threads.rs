//! One thread or several: the same bytes, in the same order, with the same exit status.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

#[path = "program.rs"]
mod program;

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use tempfile::TempDir;

use program::Outcome;

const COUNTS: [&str; 3] = ["1", "2", "8"];
const MORNING: &str = "2026-07-05T08:00:00Z";

fn takeline(folder: &Path, arguments: &[&str], input: &str) -> Outcome {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    program::run(folder, Some(&demo.join("zones")), arguments, input)
}

/// Runs it with each number of threads and with none named, and holds all to one thread.
#[track_caller]
fn alike(folder: &Path, arguments: &[&str], input: &str) -> Outcome {
    let one = takeline(folder, &[arguments, &["--threads", "1"]].concat(), input);
    let several =
        ["2", "8"].map(|count| takeline(folder, &[arguments, &["--threads", count]].concat(), input));
    for other in several.iter().chain([&takeline(folder, arguments, input)]) {
        assert_eq!((other.status, &other.err), (one.status, &one.err), "{arguments:?}");
        assert!(other.out == one.out, "{arguments:?} answers otherwise with several threads");
    }
    one
}

/// A way past Marrowick of so many fixes, one in ten seconds; each start lies a little farther east.
fn trip(start: usize, fixes: usize) -> String {
    let mut text = String::from("lat,lon,time\n");
    for fix in 0..fixes {
        let (lat_e4, lon_e4) = (451_000 + fix % 400, 301_400 - fix % 300 - start % 50);
        let (day, rest) = (1 + fix / 8_640, fix % 8_640 * 10);
        let (hour, minute, second) = (rest / 3_600, rest / 60 % 60, rest % 60);
        writeln!(
            text,
            "{}.{:04},-{}.{:04},2026-07-{day:02}T{hour:02}:{minute:02}:{second:02}Z",
            lat_e4 / 10_000,
            lat_e4 % 10_000,
            lon_e4 / 10_000,
            lon_e4 % 10_000
        )
        .unwrap();
    }
    text
}

/// Good, bad, empty, long and unreadable logs, the long one first, so that others are ready before it.
fn logs() -> TempDir {
    let folder = TempDir::new().unwrap();
    let write = |name: String, bytes: &[u8]| fs::write(folder.path().join(name), bytes).unwrap();
    fs::create_dir(folder.path().join("logs")).unwrap();
    write("logs/00-long.csv".into(), trip(0, 5_000).as_bytes());
    for log in 1..40 {
        write(format!("logs/{log:02}.csv"), trip(log, 20 * (log % 7 + 1)).as_bytes());
    }
    write("logs/05-empty.csv".into(), b"");
    write("logs/11-header.csv".into(), b"lat,lon,time\n");
    write("logs/17-noise.gpx".into(), b"<gpx><trk><trkseg><trkpt lat=\"x\"");
    write("logs/18-packed.gz".into(), b"\x1f\x8b\x08\x00 no more of it");
    write("logs/23-bytes.nmea".into(), &[0xff; 5_000]);
    write("logs/29-rows.csv".into(), b"lat,lon,time\n45.1,-30.1,2026-07-05T08:00:00Z\nhere,there,\n");
    #[cfg(unix)]
    std::os::unix::fs::symlink("nowhere.csv", folder.path().join("logs/31-gone.csv")).unwrap();
    folder
}

#[test]
fn many_logs_are_answered_alike_by_any_number_of_threads() {
    let folder = logs();
    let asked = ["track", "logs/33.csv", "no-such.gpx", "logs", "no-such-*.csv", "logs/02.csv"];
    for format in ["human", "json"] {
        let one = alike(folder.path(), &[&asked[..], &["--format", format]].concat(), "");
        assert_eq!(one.status, 3);
        let place = |text: &str| one.err.find(text).unwrap_or_else(|| panic!("{text}: {}", one.err));
        assert!(place("no-such.gpx") < place("05-empty.csv"));
        assert!(place("05-empty.csv") < place("18-packed.gz"));
        assert!(place("18-packed.gz") < place("no-such-*.csv"));
    }
}

#[test]
fn the_files_beside_many_answers_are_alike_too() {
    let folder = logs();
    let outs = |count: &str| {
        let names = ["csv", "geojson", "pages"].map(|kind| format!("{count}.{kind}"));
        let [csv, geojson, pages] = names.each_ref().map(String::as_str);
        let asked =
            ["track", "logs", "--csv", csv, "--geojson", geojson, "--html", pages, "--threads", count];
        takeline(folder.path(), &asked, "");
        let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
        let mut written: Vec<_> =
            fs::read_dir(folder.path().join(pages)).unwrap().map(|page| page.unwrap().file_name()).collect();
        written.sort();
        let page = fs::read(folder.path().join(pages).join(&written[3])).unwrap();
        (read(csv), read(geojson), written, page)
    };
    let one = outs("1");
    assert!(one.0.len() > 1_000 && one.2.len() > 30);
    for count in &COUNTS[1..] {
        assert!(outs(count) == one, "{count} threads write other files");
    }
}

/// Good rows, rows of every fault, blank lines, a line too long to be held, rows that warn, and no end of line at the end.
fn rows(count: usize) -> String {
    let mut text = String::from("\u{feff}lat,lon,time,accuracy_m,note\n");
    for row in 0..count {
        let lat_deg = 45.10 + f64::from(u32::try_from(row % 977).unwrap()) * 1e-4;
        let _written = match row % 97 {
            3 => writeln!(text, "here,there,,,"),
            11 => writeln!(text, "\n  \n"),
            31 => writeln!(text, "{lat_deg:.4},-30.1200,yesterday,,"),
            43 => writeln!(text, "{lat_deg:.4},-30.1200,,bad,"),
            59 => writeln!(text, "{lat_deg:.4},-30.1200,,,\"never closed"),
            61 => writeln!(text, "{lat_deg:.4}N,030.1200W,{MORNING},0,"),
            73 => writeln!(text, "{lat_deg:.4},-30.1200,1980-01-06T00:00:00Z,,"),
            89 if row < 200 => writeln!(text, "{},", "x".repeat(70_000)),
            _ => writeln!(text, "{lat_deg:.4},-30.1200,{MORNING},4,"),
        };
    }
    text + "45.1180,-30.1200,,,"
}

#[test]
fn a_batch_is_answered_alike_by_any_number_of_threads() {
    let folder = TempDir::new().unwrap();
    let text = rows(1_500);
    fs::write(folder.path().join("fixes.csv"), &text).unwrap();
    for format in ["json", "human"] {
        let asked = ["here", "--format", format, "--species", "cod", "--fixes"];
        let one = alike(folder.path(), &[&asked[..], &["fixes.csv"]].concat(), "");
        let piped = alike(folder.path(), &[&asked[..], &["-"]].concat(), &text);
        assert!(piped.out == one.out && piped.err == one.err && piped.status == one.status);
        assert_eq!(one.status, 3);
        assert!(one.out.lines().count() > 1_300);
        // the first twenty in the order of their lines, then a count
        assert!(one.err.contains("more rows that could not be read"), "{}", one.err);
        let told = one.err.lines().filter_map(|line| line.strip_prefix("line ")?.split(':').next());
        let told: Vec<u64> = told.map(|line| line.parse().unwrap()).collect();
        assert!(told.len() >= 20 && told.is_sorted(), "{told:?}");
    }
    let numbers = |out: &str| -> Vec<u64> {
        let number = |line: &str| serde_json::from_str::<serde_json::Value>(line).unwrap()["row"].as_u64();
        out.lines().filter_map(number).collect()
    };
    let one = takeline(folder.path(), &["here", "--fixes", "fixes.csv", "--threads", "2"], "");
    let numbers = numbers(&one.out);
    assert!(numbers.is_sorted_by(|one, next| one < next));
    assert_eq!(numbers.last(), Some(&(text.lines().count() as u64)));
}

#[test]
fn batches_without_a_row_or_a_header_stop_alike() {
    let folder = TempDir::new().unwrap();
    for (input, words) in [
        ("", "is empty"),
        ("lat,lon\n", "has no fixes"),
        ("lat,lon\n\n \n\n", "has no fixes"),
        ("place\n45,-30\n", "the header needs the columns"),
    ] {
        let one = alike(folder.path(), &["here", "--fixes", "-"], input);
        assert!(one.status == 3 && one.out.is_empty() && one.err.contains(words), "{}", one.err);
    }
}

#[test]
fn semicolons_and_decimal_commas_hold_for_every_chunk() {
    let folder = TempDir::new().unwrap();
    let text = format!("lat;lon\n{}", "45,1180;-30,1200\n".repeat(800));
    let one = alike(folder.path(), &["here", "--fixes", "-"], &text);
    assert_eq!((one.out.lines().count(), one.err.as_str()), (800, ""));
}

#[test]
fn a_number_of_threads_is_at_least_one() {
    let folder = TempDir::new().unwrap();
    for (count, words) in [
        ("0", "has to be from 1 to 1024; leave it out for one on each core"),
        ("-2", "write a whole number from 1 to 1024"),
        ("all", "write a whole number from 1 to 1024"),
        ("99999", "has to be from 1 to 1024"),
    ] {
        for asked in [&["track", "a.csv"][..], &["here", "--fixes", "a.csv"]] {
            let outcome = takeline(folder.path(), &[asked, &["--threads", count]].concat(), "");
            assert_eq!((outcome.status, outcome.out.as_str()), (2, ""));
            assert!(outcome.err.contains(words), "{}", outcome.err);
        }
    }
}

/// A live feed: each answer comes before the next row is there.
#[test]
fn a_row_of_a_live_feed_is_answered_before_the_next_one_comes() {
    use std::io::{BufRead, BufReader, Write};
    use std::process::{Command, Stdio};

    let zones = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/zones");
    for count in COUNTS {
        let mut running = Command::new(env!("CARGO_BIN_EXE_takeline"))
            .args(["here", "--fixes", "-", "--format", "human", "--threads", count, "--zones"])
            .arg(&zones)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut feed = running.stdin.take().unwrap();
        let mut answers = BufReader::new(running.stdout.take().unwrap());
        feed.write_all(b"lat,lon,time\n").unwrap();
        for row in 2..6 {
            writeln!(feed, "45.1180,-30.1200,{MORNING}").unwrap();
            let mut answer = String::new();
            answers.read_line(&mut answer).unwrap();
            assert!(answer.starts_with(&format!("line {row}: ")), "{answer}");
        }
        drop(feed);
        assert!(running.wait().unwrap().code().is_some());
    }
}

/// Nothing of it gets into a pipe, however long the work takes.
#[test]
fn progress_shows_on_a_terminal_only() {
    use std::io::Write;
    use std::process::{Command, Stdio};

    let zones = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/zones");
    let mut running = Command::new(env!("CARGO_BIN_EXE_takeline"))
        .args(["here", "--fixes", "-", "--threads", "2", "--zones"])
        .arg(&zones)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut feed = running.stdin.take().unwrap();
    feed.write_all(b"lat,lon\n45.1180,-30.1200\n").unwrap();
    // longer than the second after which a line would show
    std::thread::sleep(std::time::Duration::from_millis(1_600));
    feed.write_all(b"45.1180,-30.1200\nhere,there\n").unwrap();
    drop(feed);
    let outcome = running.wait_with_output().unwrap();
    let err = String::from_utf8(outcome.stderr).unwrap();
    assert!(err.starts_with("line 4: ") && err.lines().count() == 1, "{err:?}");
    assert!(!err.contains(['\u{1b}', '\r']), "{err:?}");
}

#[test]
fn a_last_row_that_was_cut_off_is_no_fix() {
    let folder = TempDir::new().unwrap();
    let rows = "45.117000,-30.119000\n".repeat(300);
    for (cut, status) in [("45.117000,-30.1", 3), ("45.117000,-30.", 3), ("45.117000,-30.11902", 1)] {
        let outcome = alike(folder.path(), &["here", "--fixes", "-"], &format!("lat,lon\n{rows}{cut}"));
        assert_eq!(outcome.status, status, "{cut} {}", outcome.err);
        assert_eq!(
            outcome.err.contains("line 302: the last row has no line end"),
            status == 3,
            "{}",
            outcome.err
        );
    }
    // with its line end it was written like that, and a number that is no coordinate may be any
    for input in [
        format!("lat,lon\n{rows}45.117000,-30.1\n"),
        "lat,lon,accuracy_m\n45.117,-30.119,5.25\n45.117,-30.119,5".to_owned(),
    ] {
        let outcome = alike(folder.path(), &["here", "--fixes", "-"], &input);
        assert!(!outcome.err.contains("no line end"), "{}", outcome.err);
    }
}
