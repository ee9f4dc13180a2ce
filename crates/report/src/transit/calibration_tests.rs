use takeline::transit::{Told, TransitReport};

use super::test_fixtures::*;
use super::{CalibrationDocument, transit_calibrate_text};
use crate::words::English;

fn first(text: &str) -> String {
    text.lines().take(3).collect::<Vec<_>>().join("\n")
}

fn told(told: Told, report: Option<&TransitReport>) -> String {
    transit_calibrate_text(&CalibrationDocument::new(&calibration(told), report, &English), 40)
}

#[test]
#[expect(clippy::too_many_lines, reason = "a whole answer stands in it")]
fn what_fixes_tell_is_told_whole_at_40_columns() {
    insta::assert_snapshot!(told(Told::BothMarks, None), @r"
    The fixes place both marks
    Really runs 19 m right at 1400 m, ±2.5 m
    089° true, magnetic: needs a time

    FIXES
      used: 30
      independent: 12; fixes within 5 min
        count as one
      not used: number 4, 18: see why below
      scatter: 4.4 m from the line, root
        mean square

    WHERE THE LINE REALLY RUNS
      Left or right of the stated line, as
        you face the marks.
      at the front mark: 0.4 m to the right
        ±3.1 m (95 %)
      at the rear mark: 20 m to the left
        ±4.7 m (95 %)
      at a fix, 600 m away: 8.4 m to the
        right ±2.8 m (95 %)
      at a fix, 1400 m away: 19 m to the
        right ±2.5 m (95 %)
      at a fix, 2600 m away: 35 m to the
        right ±5.2 m (95 %)
      bears: 88.7° true
      because: Lone Pine is 20 m ±5 m to
        the left of its stated position, if
        Sallow Point Day Beacon is where it
        should be

    WHICH MARK MAY BE OFF
      if only Sallow Point Day Beacon is
        wrong: 11 m to the right ±3 m, does
        NOT fit the fixes
      if only Lone Pine is wrong: 20 m to
        the left ±4.8 m, fits the fixes
      stated uncertainty: ±2 m and ±10 m

    MARKS AS STATED
      front: Sallow Point Day Beacon
        (beacon)
        at 45°07.512'N 030°07.860'W
        ±2 m (95 %), given; 9 m high
        stays put; last confirmed 2026-03-14
      rear: Lone Pine (tree)
        at 45°07.530'N 030°06.720'W
        ±10 m (95 %), assumed; 41 m high
        can move or be removed; nobody has
          confirmed it
        A tree can fall.

    WHAT WAS NOT CHECKED
      What stands between: headlands, trees,
        buildings, other boats.
      Haze, rain and glare, and whether a
        mark is lit at night.
      Your compass: iron, magnets and
        speakers near it turn it.
      Swell: in a trough the eye is lower,
        and low marks go first.

    BEAR IN MIND
      Takeline is not an instrument of
        navigation.
      Rules change; a closure by notice
        cannot be known offline.
      The text of the law and the local
        officers decide, not this answer.
      Weather and cold water kill; no fish
        is worth the risk.
    ");
}

#[test]
fn a_corrected_line_has_its_verdict_first_unless_the_fixes_cannot_tell() {
    insta::assert_snapshot!(first(&told(Told::BothMarks, Some(&undecided()))), @r"
    UNDECIDED: 12 m outside Sallow C…, ±31 m
    Really runs 19 m right at 1400 m, ±2.5 m
    089° true, magnetic: needs a time
    ");
    insta::assert_snapshot!(first(&told(Told::OnlyWhereTheFixesLie, Some(&clear()))), @r"
    UNDECIDED: known only near the fixes
    Really runs 19 m right at 1400 m, ±2.5 m
    089° true, magnetic: needs a time
    ");
    insta::assert_snapshot!(first(&told(Told::Nothing, Some(&clear()))), @r"
    UNDECIDED: the fixes are too rough
    Really runs 19 m right at 1400 m, ±2.5 m
    089° true, magnetic: needs a time
    ");
    assert!(told(Told::BothMarks, Some(&clear())).contains("ALONG THE REAL LINE"));
    assert!(told(Told::Nothing, Some(&clear())).contains("IF THE LINE RUNS THERE, WHICH IS"));
}
