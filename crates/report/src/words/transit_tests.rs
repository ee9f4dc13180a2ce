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
            "from 200 m to 910 m and from 4000 m to 5000 m off, Day Beacon hides Lone Pine",
        ),
        (
            "below-horizon-in-part",
            "from 200 m to 910 m and from 4000 m to 5000 m off, Lone Pine is below the horizon of an eye 0.9 m high; in a \
             trough sooner",
        ),
        ("below-horizon", "Lone Pine is below the horizon of an eye 0.9 m high"),
        (
            "marks-never-open",
            "the marks stand only 1495 m apart, so 3000 m off the eye never sees them open, however far off the line; find \
             marks farther apart, or keep nearer to them",
        ),
        (
            "runs-obliquely",
            "the line runs at 35° to the boundary of Sallow Cove: 300 m outside at the near end, 4 m inside at the far end",
        ),
        ("oblique-to-drift", "the drift of 268° true makes only 12° with the line, so the marks open late"),
        ("mark-movable", "Lone Pine can move or be taken away."),
        ("mark-long-unconfirmed", "Lone Pine was last confirmed on 2024-06-21, more than a year before."),
        ("mark-never-confirmed", "Nobody has confirmed that Lone Pine stands there."),
        ("error-assumed", "Nobody says how well the place of Lone Pine is known; ±10 m is assumed."),
        ("cut-by-another-zone", "Sallow Cove lies across the line too"),
        (
            "zone-line-not-known",
            "the line of Sallow Cove is not known (see plan MP2, not supplied), so nothing clears it here",
        ),
        ("launch-inside-zone", "the launch lies inside Sallow Cove; keep going from one side to the other"),
        ("still-in-line", "inside a zone the marks still look in line over 4620 m² of the working area"),
        (
            "two-positions-fit",
            "The lines also meet 1200 m away, toward 268° true. The one near the place given was taken.",
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
        ("enters", "it enters Sallow Cove 640 m from the front mark"),
        ("line-not-known", "the line of Sallow Cove is not known here"),
        ("runs-inside", "it runs 96 m inside Sallow Cove, 2990 m from the front mark"),
        ("within-doubt", "2990 m from the front mark it clears Sallow Cove by 12 m, ±31 m"),
    ] {
        let words = |reason: &transit::ClearsReason| English.clears_reason(reason);
        assert_eq!(first_of(&clears, transit::ClearsReason::code, code, words), said);
    }
    let pairs = samples::pair_reasons();
    for (code, said) in [
        ("keeps-clear", "keeps 59 m clear of Sallow Cove at worst, doubt ±31 m counted"),
        (
            "not-surely-clear",
            "does not surely clear Sallow Cove: 12 m outside at worst, 2990 m from the front mark, doubt ±31 m",
        ),
        ("eye-sees", "the eye sees 4.9 m off at the far end"),
        ("marks-put-line-off", "the marks' places put the line off by ±31 m at the far end"),
        ("serves-side", "serves 93 % of the 2596 m of the side within range"),
        ("gives-away", "gives away a strip 96 m wide on the mean"),
        ("zone-anywhere", "nobody knows where Sallow Cove lies"),
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
            "Lone Pine stands 20 m ±5 m to the left of where it is said to, if Day Beacon is where it is said to",
        ),
        ("other-mark-off", "no error of Lone Pine alone explains the fixes, so Day Beacon is off"),
        ("one-fix-cannot-tell", "one fix cannot tell which mark is off, only where the line passes at 800 m"),
        (
            "fixes-too-near",
            "the fixes lie within 42 m of one another along the line, so they cannot tell which mark is off",
        ),
        (
            "take-further-fixes",
            "to tell both marks, take fixes as good as these, each more than five minutes after the one before: 4 more at \
             2400 m or farther out, or 3 more at 150 m or nearer (distances from Day Beacon)",
        ),
        ("not-used", "fix 1 is not used: it is between the marks, where they cannot be seen in line"),
        (
            "line-passes",
            "the line shown passes 12 m ±4 m to the right of the stated line at 800 m from Day Beacon",
        ),
        (
            "fixes-count-as-fewer",
            "30 fixes count as 12 in the doubt, for fixes within five minutes of one another share their error; without a \
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
        (vec![1], UnusedFix::Between, "fix 1 is not used: it is between the marks"),
        (vec![2], UnusedFix::Behind, "fix 2 is not used: it is behind the rear mark"),
        (vec![3], UnusedFix::Opened, "fix 3 is not used: it is so far off"),
        (vec![4], UnusedFix::Outlier, "fix 4 is not used: it is an outlier"),
        (vec![35], UnusedFix::TooFarAway, "fix 35 is not used: it is more than 100 km"),
        (
            vec![1, 2],
            UnusedFix::TooCoarse,
            "fixes 1 and 2 are not used: they are known no better than to 1 km",
        ),
        (vec![5, 6, 7], UnusedFix::NeverOpens, "fixes 5 to 7 are not used: they are so far out"),
        (vec![2, 3, 4, 6, 7], UnusedFix::Outlier, "fixes 2 to 4, 6 and 7 are not used: they are outliers"),
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
            transit::ClearsReason::Enters { zone, distance_from_front_m } => {
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
