//! The words about marks in line, and that there are words for everything.

use takeline::test_util::samples;
use takeline::transit::{self, UnusedFix, UnusedFixes};

use super::words_tests::all_have_words;
use super::{English, EyeSentence, Words};
use crate::transit::test_fixtures::enters;
use crate::{TransitDocument, transit_text};

#[test]
fn every_code_about_marks_has_words_of_its_own() {
    all_have_words(&samples::transit_problems(), transit::ProblemReason::code, |one| {
        English.transit_problem(one)
    });
    all_have_words(&samples::clears_reasons(), transit::ClearsReason::code, |one| English.clears_reason(one));
    all_have_words(&samples::calibration_reasons(), transit::CalibrationReason::code, |one| {
        English.calibration_reason(one)
    });
    all_have_words(&samples::pair_reasons(), transit::PairReason::code, |one| English.pair_reason(one));
    all_have_words(&transit::CompassPoint::ALL, |_| "", |one| English.compass_point(*one));
}

/// The samples of one kind, in words, the first that is of this code.
fn first_of<T>(
    samples: &[T],
    code: impl Fn(&T) -> &'static str,
    wanted: &str,
    words: impl Fn(&T) -> String,
) -> String {
    samples.iter().find(|sample| code(sample) == wanted).map(words).unwrap()
}

#[test]
fn what_is_wrong_with_marks_reads_as_people_say_it() {
    let problems = samples::transit_problems();
    for (code, said) in [
        (
            "front-hides-rear-in-part",
            "from 200 m to 910 m and from 4000 m to 5000 m away, Day Beacon hides Lone Pine",
        ),
        (
            "below-horizon-in-part",
            "from 200 m to 910 m and from 4000 m to 5000 m away, Lone Pine is below the horizon for an eye 0.9 m above \
             the water, and sooner in a trough",
        ),
        ("below-horizon", "Lone Pine is below the horizon for an eye 0.9 m above the water"),
        (
            "marks-never-open",
            "the marks are only 1495 m apart, so from 3000 m away you never see them open, however far you are from the line. \
             Find marks farther apart, or stay closer to them",
        ),
        (
            "runs-obliquely",
            "the line runs at 35° to the boundary of Sallow Cove: 300 m outside at the near end, 4 m inside at the far end",
        ),
        ("oblique-to-drift", "your drift of 268° true is only 12° from the line, so the marks open late"),
        ("mark-movable", "Lone Pine can move or be removed."),
        ("mark-long-unconfirmed", "Lone Pine was last confirmed on 2024-06-21, more than a year earlier."),
        ("mark-never-confirmed", "Nobody has confirmed that Lone Pine is still there."),
        (
            "error-assumed",
            "The file does not say how well the position of Lone Pine is known, so ±10 m is assumed.",
        ),
        ("cut-by-another-zone", "the line runs through Sallow Cove as well"),
        (
            "zone-line-not-known",
            "the boundary of Sallow Cove is not known (see plan MP2, not supplied), so no marks can keep you clear of it here",
        ),
        ("launch-inside-zone", "you launch inside Sallow Cove; keep going from one side to the other"),
        (
            "still-in-line",
            "over 4620 m² of the water you work in, you are inside a zone while the marks still look in line",
        ),
        (
            "two-positions-fit",
            "They also cross 1200 m away, toward 268° true. The one near the place you gave is used.",
        ),
    ] {
        let words = |problem: &transit::ProblemReason| English.transit_problem(problem);
        assert_eq!(first_of(&problems, transit::ProblemReason::code, code, words), said);
    }
}

#[test]
fn why_a_line_or_a_pair_is_good_reads_as_people_say_it() {
    let clears = samples::clears_reasons();
    for (code, said) in [
        ("enters", "the line enters Sallow Cove 640 m from the front mark"),
        ("line-not-known", "the boundary of Sallow Cove is not known here"),
        ("runs-inside", "the line runs 96 m inside Sallow Cove, 2990 m from the front mark"),
        ("within-doubt", "2990 m from the front mark the line clears Sallow Cove by only 12 m, ±31 m"),
    ] {
        let words = |reason: &transit::ClearsReason| English.clears_reason(reason);
        assert_eq!(first_of(&clears, transit::ClearsReason::code, code, words), said);
    }
    let pairs = samples::pair_reasons();
    for (code, said) in [
        ("keeps-clear", "at its closest still 59 m to spare from Sallow Cove, after allowing ±31 m"),
        (
            "not-surely-clear",
            "not sure to clear Sallow Cove: 12 m ±31 m outside at its closest, 2990 m from the front mark",
        ),
        ("eye-sees", "noticeable from 4.9 m off the line at the far end"),
        ("marks-put-line-off", "the marks' positions leave the line uncertain by ±31 m at the far end"),
        ("serves-side", "covers 93 % of the 2596 m of this side in range"),
        ("gives-away", "loses a strip of open water 96 m wide on average"),
        ("zone-anywhere", "nobody knows where Sallow Cove is"),
    ] {
        let words = |reason: &transit::PairReason| English.pair_reason(reason);
        assert_eq!(first_of(&pairs, transit::PairReason::code, code, words), said);
    }
}

#[test]
fn what_fixes_tell_reads_as_people_say_it() {
    let reasons = samples::calibration_reasons();
    for (code, said) in [
        (
            "one-mark-off",
            "Lone Pine is 20 m ±5 m to the left of its stated position, if Day Beacon is where it should be",
        ),
        ("other-mark-off", "no error in Lone Pine alone explains the fixes, so Day Beacon is out of place"),
        (
            "one-fix-cannot-tell",
            "one fix cannot show which mark is out of place, only where the line passes at 800 m",
        ),
        (
            "fixes-too-near",
            "the fixes lie within 42 m of one another along the line, so they cannot show which mark is out of place",
        ),
        (
            "take-further-fixes",
            "to place both marks, take fixes as good as these, more than five minutes apart: 4 more at 2400 m or farther out, or 3 more at 150 m or nearer (distances from Day Beacon)",
        ),
        ("not-used", "fix 1 was not used: it is between the marks, where you cannot see them in line"),
        (
            "line-passes",
            "the real line passes 12 m ±4 m to the right of the stated line at 800 m from Day Beacon",
        ),
        (
            "fixes-count-as-fewer",
            "the 30 fixes count as only 12, because fixes within five minutes of one another share their error; without a \
             time, so do fixes within 100 m or three times their radius along the line",
        ),
    ] {
        let words = |reason: &transit::CalibrationReason| English.calibration_reason(reason);
        assert_eq!(first_of(&reasons, transit::CalibrationReason::code, code, words), said);
    }
}

#[test]
fn fixes_that_are_not_used_are_listed_by_number() {
    for (numbers, why, said) in [
        (vec![1], UnusedFix::Between, "fix 1 was not used: it is between the marks"),
        (vec![2], UnusedFix::Behind, "fix 2 was not used: it is behind the rear mark"),
        (vec![3], UnusedFix::Opened, "fix 3 was not used: it is so far from the line"),
        (vec![4], UnusedFix::Outlier, "fix 4 was not used: it is an outlier"),
        (vec![35], UnusedFix::TooFarAway, "fix 35 was not used: it is more than 100 km"),
        (
            vec![1, 2],
            UnusedFix::TooCoarse,
            "fixes 1 and 2 were not used: they are accurate to no better than 1 km",
        ),
        (vec![5, 6, 7], UnusedFix::NeverOpens, "fixes 5 to 7 were not used: they are so far out"),
        (vec![2, 3, 4, 6, 7], UnusedFix::Outlier, "fixes 2 to 4, 6 and 7 were not used: they are outliers"),
    ] {
        let unused = UnusedFixes { numbers, why };
        let words = English.unused_fixes(&unused);
        assert!(words.starts_with(said), "{words}");
    }
}

/// A few words of another language: enough to see whether a sentence is made anywhere but here.
struct Marken;

#[expect(clippy::wildcard_enum_match_arm, reason = "only a few entries")]
impl Words for Marken {
    fn transit_problem(&self, problem: &transit::ProblemReason) -> String {
        match problem {
            transit::ProblemReason::MarkMovable { mark, .. } => format!("{mark} ist beweglich"),
            transit::ProblemReason::TerrainNotChecked => "was dazwischen steht, ist unbekannt".into(),
            _ => "ANDERES PROBLEM".into(),
        }
    }

    fn clears_reason(&self, reason: &transit::ClearsReason) -> String {
        match reason {
            transit::ClearsReason::Enters { zone, distance_from_front_m, .. } => {
                format!("führt nach {distance_from_front_m} m in {zone}")
            }
            _ => "ANDERER GRUND".into(),
        }
    }

    fn eye_sentence(&self, eye: &EyeSentence<'_>) -> String {
        let (side, way) = (self.left_or_right(eye.rear_shows), self.compass_point(eye.zone_lies));
        format!("Steht {} {side} von {}: drinnen, {} liegt im {way}", eye.rear, eye.front, eye.zone)
    }

    fn left_or_right(&self, side: transit::Side) -> String {
        match side {
            transit::Side::Left => "links".into(),
            transit::Side::Right => "rechts".into(),
        }
    }

    fn compass_point(&self, _: transit::CompassPoint) -> String {
        "Süden".into()
    }

    fn severity(&self, severity: transit::Severity) -> String {
        match severity {
            transit::Severity::Error => "Fehler".into(),
            transit::Severity::Warning => "Warnung".into(),
            transit::Severity::Note => "Hinweis".into(),
        }
    }
}

#[test]
fn another_language_meets_no_english_of_the_library_in_a_text_about_marks() {
    let report = enters();
    let text = transit_text(&TransitDocument::new(&report, &Marken), 400);
    let between = |from: &str, to: &str| {
        let (_, rest) = text.split_once(from).unwrap_or_else(|| panic!("no {from} in {text}"));
        rest.split_once(to).unwrap_or_else(|| panic!("no {to} in {text}")).0.trim().to_owned()
    };
    assert_eq!(between("because: ", "\n"), "führt nach 640 m in Sallow Cove Reserve");
    assert_eq!(
        between("in Sallow Cove Reserve\n", "\n"),
        "Steht Lone Pine rechts von Sallow Point Day Beacon: drinnen, Sallow Cove Reserve liegt im Süden"
    );
    let problems = between("PROBLEMS\n", "\n\n");
    let problems: Vec<&str> = problems.lines().map(str::trim).collect();
    assert_eq!(problems, ["Warnung: Lone Pine ist beweglich.", "Hinweis: ANDERES PROBLEM."]);
    assert!(between("WHAT WAS NOT CHECKED\n", "\n").starts_with("Was dazwischen steht"), "{text}");
}
