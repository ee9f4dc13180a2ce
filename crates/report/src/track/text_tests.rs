use insta::assert_snapshot;
use takeline::track::{Audit, Certainty, Evidence, OffTheWay, Visit};
use takeline::{Metres, TakeAnswer, Tristate};

use super::test_fixtures::*;
use super::{AuditReport, Season, TrackDocument, track_row_text, track_text};
use crate::ExitStatus;
use crate::words::English;

fn text(audit: &Audit) -> String {
    track_text(&TrackDocument::of(&report(audit, &zones()), &English), 40)
}

fn first_three(audit: &Audit) -> String {
    text(audit).lines().take(3).collect::<Vec<_>>().join("\n")
}

fn certain() -> Visit {
    visit(Certainty::Certain, Evidence::Fixes)
}

fn possible(evidence: Evidence) -> Visit {
    visit(Certainty::Possible, evidence)
}

#[test]
fn the_first_lines_answer() {
    assert_snapshot!(first_three(&with(vec![certain()])), @"
    AGAINST A LOADED RULE: inside for 12 min
    Sallow Cove Reserve, 2026-07-25
    Its rule lets no boat be there
    ");
    assert_snapshot!(first_three(&never()), @"
    Never inside; closest 112 m ±10 m
    Nearest: Ring Shoal
    2026-07-25 06:31 UTC
    ");
    assert_snapshot!(first_three(&far_away()), @"
    Never inside a loaded zone
    No loaded zone within 20 km
    Check that these are the zones
    ");
    assert_snapshot!(first_three(&with(vec![possible(Evidence::Gap)])), @"
    NOT SETTLED: perhaps in Sallow Cove Res…
    At most 12 min, in a gap of the log
    To settle: give --top-speed (12 kn
    ");
    let not_in_force = Visit { in_force: Tristate::No, binds: Tristate::No, ..certain() };
    assert_snapshot!(first_three(&with(vec![not_in_force])), @"
    NOTHING AGAINST A LOADED RULE
    Sallow Cove Reserve, not in force then
    2026-07-25 06:31 to 06:43 UTC
    ");
    let unsure = Visit { in_force: Tristate::Undecided, binds: Tristate::Undecided, ..certain() };
    assert_snapshot!(first_three(&with(vec![unsure])), @"
    NOT SETTLED: in force or not: Sallow Co…
    At most 12 min; 38 m ±10 m inside
    To settle: find out whether it was in
    ");
}

#[test]
fn wide_screens_get_the_whole_sentence() {
    let zones = zones();
    let first = |audit: &Audit| {
        track_text(&TrackDocument::of(&report(audit, &zones), &English), 80)
            .lines()
            .next()
            .unwrap()
            .to_owned()
    };
    assert_eq!(first(&with(vec![certain()])), "AGAINST A LOADED RULE: inside for 12 min");
    assert_eq!(first(&never()), "Never inside a loaded zone; closest 112 m ±10 m: Ring Shoal");
    assert_eq!(
        first(&with(vec![possible(Evidence::Fixes)])),
        "NOT SETTLED: may have been inside Sallow Cove Reserve"
    );
}

#[test]
fn a_row_is_one_line() {
    let audit = with(vec![certain()]);
    let zones = zones();
    let catches = [caught(TakeAnswer::Release)];
    let with_catch = AuditReport { catches: Some(&catches), ..report(&audit, &zones) };
    assert_eq!(
        track_row_text(&TrackDocument::of(&with_catch, &English)),
        "morning.gpx: AGAINST A LOADED RULE: inside for 12 min, kept cod; Sallow Cove Reserve, \
         2026-07-25 06:31 to 06:43 UTC, and 1 more below; Catches: 1 RELEASE"
    );
}

#[test]
fn exit_status_is_that_of_the_contract() {
    let zones = zones();
    let status = |visits: Vec<Visit>, catches: &[TakeAnswer]| {
        let audit = with(visits);
        let catches: Vec<_> = catches.iter().map(|answer| caught(*answer)).collect();
        TrackDocument::of(&AuditReport { catches: Some(&catches), ..report(&audit, &zones) }, &English)
            .exit_status
    };
    let idle = |visit: Visit| Visit { in_force: Tristate::No, binds: Tristate::No, ..visit };
    for (visits, catches, expected) in [
        (vec![], &[][..], ExitStatus::Unrestricted),
        (vec![certain()], &[], ExitStatus::Restricted),
        (vec![certain(), possible(Evidence::Gap)], &[], ExitStatus::Restricted),
        (vec![possible(Evidence::Gap)], &[], ExitStatus::Undecided),
        (vec![idle(certain()), idle(possible(Evidence::Fixes))], &[], ExitStatus::Unrestricted),
        (vec![Visit { binds: Tristate::Undecided, ..certain() }], &[], ExitStatus::Undecided),
        (vec![], &[TakeAnswer::Keep, TakeAnswer::Release], ExitStatus::Restricted),
        (vec![], &[TakeAnswer::Release, TakeAnswer::Undecided], ExitStatus::Restricted),
        (vec![], &[TakeAnswer::Keep, TakeAnswer::Undecided], ExitStatus::Undecided),
        (vec![], &[TakeAnswer::Keep, TakeAnswer::Unzoned], ExitStatus::Unrestricted),
    ] {
        assert_eq!(status(visits.clone(), catches), expected, "{visits:?} {catches:?}");
    }
}

#[test]
fn where_another_rule_displaces_this_one_its_access_settles_it() {
    let plain = zones();
    let mut of_the_shore = plain.zones().to_vec();
    of_the_shore[1].rule.binds = vec![takeline::rule::Access::Shore];
    let displacing = of_the_shore[1].id.clone();
    let of_the_shore = takeline::zone::ZoneSet::new(of_the_shore);
    let open = Visit { binds: Tristate::Undecided, displaced_by: vec![displacing], ..certain() };
    let audit = with(vec![open]);
    let settles = |zones| track_text(&TrackDocument::of(&report(&audit, zones), &English), 80);
    let told = settles(&of_the_shore);
    assert!(told.contains("To settle: give --access boat, shore or diving"), "{told}");
    // no access changes what binds every way of fishing
    assert!(settles(&plain).contains("Nothing in this log can settle it"));
}

#[test]
fn the_first_line_tells_for_how_long_a_rule_bound_that_was_displaced_for_the_rest() {
    let zones = zones();
    let first = |bound_s: f64| {
        let visit = Visit { binds_certain_s: Some(bound_s), ..certain() };
        track_text(&TrackDocument::of(&report(&with(vec![visit]), &zones), &English), 80)
            .lines()
            .next()
            .unwrap()
            .to_owned()
    };
    assert_eq!(first(37.0), "AGAINST A LOADED RULE: inside for 37 s");
    assert_eq!(first(0.0), "AGAINST A LOADED RULE: inside at a fix");
    assert_eq!(first(720.0), "AGAINST A LOADED RULE: inside for 12 min");
}

#[test]
fn nothing_read_or_positions_lost_without_times_never_reads_as_outside() {
    let zones = zones();
    let mut empty = far_away();
    empty.quality.fixes = 0;
    assert_eq!(TrackDocument::of(&report(&empty, &zones), &English).exit_status, ExitStatus::Undecided);
    let mut untimed = far_away();
    untimed.quality.without_time = 2;
    let with_loss = AuditReport { notes: vec![lost()], ..report(&untimed, &zones) };
    assert_eq!(TrackDocument::of(&with_loss, &English).exit_status, ExitStatus::Undecided);
    assert_eq!(TrackDocument::of(&report(&untimed, &zones), &English).exit_status, ExitStatus::Unrestricted);
    // a single fix without a time makes no log without times
    let second = |fixes| {
        let mut untimed = untimed.clone();
        untimed.quality.fixes = fixes;
        let with_loss = AuditReport { notes: vec![lost()], ..report(&untimed, &zones) };
        TrackDocument::of(&with_loss, &English).headline.second.remove(0)
    };
    assert!(second(2).contains("a log without times"), "{}", second(2));
    assert_eq!(second(40), "2 of the fixes have no time: they may be anywhere");
}

#[test]
fn a_visit_known_from_the_time_between_two_fixes_says_which_and_what_narrows_it() {
    let off = OffTheWay { seconds: 20.0, reach: Metres::new(59.0).unwrap() };
    let visit = Visit { off_the_way: Some(off), ..possible(Evidence::BetweenFixes) };
    let told = text(&with(vec![visit])).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("between fixes 20 s apart To settle: give --top-speed (12 kn is assumed)"),
        "{told}"
    );
    let known_from = "in the 20 s the boat can have been up to 59 m off the straight line at 12.0 kn";
    assert!(told.contains(known_from), "{told}");
    // a straight way that leads through is no more certain: only fixes settle it
    let through = text(&with(vec![possible(Evidence::BetweenFixes)]));
    assert!(through.contains("To settle: a log with more fixes"), "{through}");
    assert!(through.contains("gone round"), "{through}");
}

#[test]
fn possible_is_never_a_reproach_and_nothing_is_called_fishing() {
    for evidence in [Evidence::Fixes, Evidence::BetweenFixes, Evidence::Gap] {
        let text = text(&with(vec![possible(evidence)])).to_lowercase();
        for word in ["violat", "offence", "breach", "illegal", "poach", "trolling", "fishing"] {
            assert!(!text.contains(word), "{word} in {text}");
        }
    }
}

#[test]
fn every_line_fits_the_screen() {
    for audit in [with(vec![certain(), possible(Evidence::Gap)]), never(), far_away()] {
        let zones = zones();
        let catches = [caught(TakeAnswer::Release)];
        let whole = AuditReport { notes: vec![lost()], catches: Some(&catches), ..report(&audit, &zones) };
        for width in [20, 40, 80] {
            let text = track_text(&TrackDocument::of(&whole, &English), width);
            let widest = text.lines().map(textwrap::core::display_width).max();
            assert!(widest <= Some(width), "{width}: {text}");
        }
    }
}

#[test]
fn the_evidence_names_log_zones_program_and_command() {
    let (audit, zones) = (with(vec![certain()]), zones());
    let text = track_text(&TrackDocument::of(&report(&audit, &zones), &English), 200);
    let hash = &zones.zones()[0].file.sha256;
    for part in [
        &"0a".repeat(32),
        hash,
        "marrowick.geojson",
        "edition: 2026-1",
        concat!("takeline ", env!("CARGO_PKG_VERSION")),
        "takeline track morning.gpx --zones marrowick.geojson",
        "line 5, 2026-07-25T06:32:00Z, would have needed 812.4 kn",
        "gear stowed: a track cannot tell",
        "top speed: 12.0 kn, assumed",
        "law: Marrowick Reserves Order 2019, 4(1)",
    ] {
        assert!(text.contains(part), "{part} is missing in {text}");
    }
}

#[test]
fn a_season_has_the_nicest_first_in_any_order() {
    let zones = zones();
    let (near, inside) = (never(), with(vec![certain()]));
    let season = |audits: [&Audit; 2]| {
        let mut season = Season::default();
        for audit in audits {
            season.add(&TrackDocument::of(&report(audit, &zones), &English));
        }
        season.text(80, &English)
    };
    assert_snapshot!(season([&near, &inside]), @"

    ALL 2 TRACKS
      morning.gpx: AGAINST A LOADED RULE: inside for 12 min
      1 other track: nothing against a loaded rule
      Ring Shoal: closest 112 m ±10 m; 0 certain visits in 2 tracks
      Sallow Cove Reserve: 1 certain visit in 2 tracks
    ");
    assert_eq!(season([&near, &inside]), season([&inside, &near]));
}
