//! The page of all codes, which is written from one example of each kind and the English words for it.
//!
//! `UPDATE_CODES=1 cargo test -p takeline-report codes_page` writes the page anew.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::Path;

use serde::Serialize;
use serde_json::Value;
use takeline::assess::{Assumption, NoWayOut};
use takeline::rule::{Condition, TimeReason};
use takeline::test_util::samples;
use takeline::track::{
    BagUnknown, Certainty, ConditionReason, Motion, NoPosition, NotShown, OutcomeAnswer, OutcomeReason,
    Suspicion,
};
use takeline::{assess, binding, rule, track, transit};

use super::{English, WayPhrase, Words};
use crate::zones::compare_codes_tests::{self, CodeTable};

const HEAD: &str = "\
# Codes

Codes, and the names of the fields beside them, are a contract: new ones may be added, none is renamed or removed. The words are not.

Each table has the codes of one kind in the order of the alphabet, the fields that stand beside `code` in the JSON, and how the
program says one example in English. What the fields mean stands in [JSON output](json-output.md#codes) and
[track output](track-output.md#codes), and so does what a track leaves open (`undecided_because_code`). A kind that has no fields
at all is written as its code alone.

A test holds this page to the library. `UPDATE_CODES=1 cargo test -p takeline-report codes_page` writes it anew.
";

/// One code of a table.
#[derive(Default)]
struct Row {
    /// The keys of all examples.
    fields: BTreeSet<String>,
    /// The first example.
    words: String,
}

/// What a table is about.
#[derive(Clone, Copy)]
struct Kind {
    name: &'static str,
    stands_under: &'static str,
}

/// The page as far as it is written.
struct Page(String);

impl Page {
    /// Adds the table of one kind, of which the library has these examples.
    fn add<T: Serialize>(
        &mut self,
        Kind { name, stands_under }: Kind,
        samples: &[T],
        code: impl Fn(&T) -> &'static str,
        words: impl Fn(&T) -> String,
    ) {
        let mut rows: BTreeMap<&str, Row> = BTreeMap::new();
        for sample in samples {
            let row = rows.entry(code(sample)).or_default();
            let value = serde_json::to_value(sample).unwrap();
            if let Value::Object(members) = value {
                assert_eq!(members["code"], code(sample), "{name}");
                row.fields.extend(members.into_iter().map(|(key, _)| key).filter(|key| key != "code"));
            } else {
                assert_eq!(value, code(sample), "{name}");
            }
            if row.words.is_empty() {
                row.words = words(sample).replace('\u{a0}', " ").replace('|', "\\|");
            }
        }
        assert!(!rows.is_empty(), "{name} has no examples");
        write!(self.0, "\n## {name}\n\n{stands_under}\n\n| code | fields | for example |\n|---|---|---|\n")
            .unwrap();
        for (code, Row { fields, words }) in rows {
            let fields: Vec<String> = fields.iter().map(|key| format!("`{key}`")).collect();
            assert!(!words.contains('\n'), "{words}");
            writeln!(self.0, "| `{code}` | {} | {words} |", fields.join(", ")).unwrap();
        }
    }

    fn add_rules(&mut self) {
        self.add(
            Kind { name: "Reasons of rules", stands_under: "What a rule says of a fish. They stand as `reason` of the code `rule`, and in one another as `reason` and `because`." },
            &samples::rule_reasons(),
            rule::Reason::code,
            |one| English.rule_reason(one),
        );
        self.add(
            Kind { name: "Conditions", stands_under: "What has to be met. They stand in `condition_codes`, `possession_condition_codes` and `passage_codes`, in `because_codes` of a \
             catch, and as `condition_code` of a visit." },
            &samples::conditions(),
            Condition::code,
            |one| English.condition(one),
        );
        self.add(
            Kind { name: "Remedies of rules", stands_under: "What would settle what a rule leaves open. They stand as `remedy` of the code `rule`." },
            &samples::rule_remedies(),
            rule::Remedy::code,
            |one| English.rule_remedy(one),
        );
        self.add(
            Kind {
                name: "Rules in short",
                stands_under: "They stand in `take_rule_code`, and as `rule` of other codes.",
            },
            &samples::rule_summaries(),
            |one| (&one.take).into(),
            |one| English.rule_summary(one),
        );
        self.add(
            Kind { name: "Reasons of days and hours", stands_under: "Why an instant belongs to a set of days and hours, or does not. They stand as `reason` of the code `time`, and in `why` of \
             other reasons of rules." },
            &samples::time_reasons(),
            TimeReason::code,
            |one| English.time_reason(one),
        );
        self.add(
            Kind { name: "Reasons why a rule is in force", stands_under: "They stand in `in_force_because_codes` of a zone, as `reason` of the code `in-force`, and in `why` of `in-force-unsettled`." },
            &samples::in_force_reasons(),
            binding::Reason::code,
            |one| English.in_force_reason(one),
        );
    }

    fn add_fixes(&mut self) {
        self.add(
            Kind { name: "Reasons of an answer about a fix", stands_under: "They stand in `water_because_codes`, `because_codes` and `possession_because_codes`, and as `reason` of the code `fix`." },
            &samples::reasons(),
            assess::Reason::code,
            |one| English.reason(one),
        );
        self.add(
            Kind {
                name: "Remedies of an answer about a fix",
                stands_under: "They stand in `settle_codes`, and as `remedy` of the code `fix`.",
            },
            &samples::remedies(),
            assess::Remedy::code,
            |one| English.remedy(one),
        );
        self.add(
            Kind { name: "Warnings", stands_under: "They stand in `warnings_codes`." },
            &samples::warnings(),
            assess::Warning::code,
            |one| English.warning(one),
        );
        self.add(
            Kind { name: "Assumptions", stands_under: "They stand in `assumed_codes`." },
            &samples::assumptions(),
            Assumption::code,
            |one| English.assumption(*one),
        );
        self.add(
            Kind {
                name: "Reasons why there is no way out",
                stands_under: "They stand in `no_way_out_code`.",
            },
            &samples::missing_ways_out(),
            NoWayOut::code,
            |one| English.way(&WayPhrase::NoneOut(one)),
        );
    }

    #[expect(clippy::too_many_lines, reason = "one entry for each table")]
    fn add_tracks(&mut self) {
        self.add(
            Kind { name: "Reasons of visits and catches", stands_under: "They stand in `in_force_because_codes`, `binds_because_codes` and `because_codes` of a track." },
            &samples::track_reasons(),
            track::Reason::code,
            |one| English.track_reason(one),
        );
        self.add(
            Kind { name: "Remedies of catches", stands_under: "They stand in `because_codes` of a catch." },
            &samples::track_remedies(),
            track::Remedy::code,
            |one| English.track_remedy(one),
        );
        self.add(
            Kind {
                name: "Reasons why a track tells no position",
                stands_under: "They stand in `why` of the code `no-position`.",
            },
            &samples::missing_positions(),
            NoPosition::code,
            |one| English.missing_position(*one),
        );
        self.add(
            Kind {
                name: "What a log leaves open about a bag",
                stands_under: "They stand in `not_known` of a `note`.",
            },
            &samples::bag_unknowns(),
            BagUnknown::code,
            |one| English.bag_unknown(*one),
        );
        self.add(
            Kind { name: "Motions", stands_under: "They stand in `movement_codes`." },
            &samples::motions(),
            Motion::code,
            |one| English.motion(one),
        );
        self.add(
            Kind {
                name: "Reasons of conditions of crossing",
                stands_under: "They stand in `because_codes` of a condition.",
            },
            &samples::condition_reasons(),
            ConditionReason::code,
            |one| English.condition_reason(*one),
        );
        self.add(
            Kind {
                name: "Answers about visits and trips",
                stands_under: "They stand in `answer` of an `outcome`, and as `verdict` of a track.",
            },
            &samples::outcome_answers(),
            OutcomeAnswer::code,
            |one| English.outcome_answer(*one),
        );
        self.add(
            Kind {
                name: "Reasons of outcomes",
                stands_under: "They stand in `because_codes` of an `outcome`, and as `reason` in `verdict_because_codes`.",
            },
            &samples::outcome_reasons(),
            OutcomeReason::code,
            |one| English.outcome_reason(one),
        );
        self.add(
            Kind { name: "What a log does not show", stands_under: "They stand in `not_shown_codes`." },
            &samples::not_shown(),
            NotShown::code,
            |one| English.not_shown(one),
        );
        self.add(
            Kind { name: "Suspicions", stands_under: "Why a fix is not believed." },
            &Suspicion::ALL,
            Suspicion::code,
            |one| English.suspicion(*one),
        );
        self.add(
            Kind { name: "Certainties", stands_under: "How sure it is that the boat was inside." },
            &samples::certainties(),
            Certainty::code,
            |one| English.certainty(*one),
        );
    }

    /// Adds a table of codes without fields.
    fn add_coded(&mut self, CodeTable { name, stands_under, rows }: CodeTable) {
        write!(self.0, "\n## {name}\n\n{stands_under}\n\n| code | for example |\n|---|---|\n").unwrap();
        for (code, words) in rows {
            let words = words.replace('\u{a0}', " ").replace('|', "\\|");
            assert!(!words.contains('\n'), "{words}");
            writeln!(self.0, "| `{code}` | {words} |").unwrap();
        }
    }

    fn add_marks(&mut self) {
        self.add(
            Kind { name: "Problems of marks", stands_under: "They stand in `text_code` of a problem." },
            &samples::transit_problems(),
            transit::ProblemReason::code,
            |one| English.transit_problem(one),
        );
        self.add(
            Kind {
                name: "Reasons why a line does not keep clear",
                stands_under: "They stand in `clears_because_codes`.",
            },
            &samples::clears_reasons(),
            transit::ClearsReason::code,
            |one| English.clears_reason(one),
        );
        self.add(
            Kind {
                name: "What follows from fixes on a line",
                stands_under: "They stand in `because_codes` of `transit calibrate`.",
            },
            &samples::calibration_reasons(),
            transit::CalibrationReason::code,
            |one| English.calibration_reason(one),
        );
        self.add(
            Kind {
                name: "Reasons of the rank of a pair",
                stands_under: "They stand in `because_codes` of `transit find`.",
            },
            &samples::pair_reasons(),
            transit::PairReason::code,
            |one| English.pair_reason(one),
        );
    }
}

#[test]
fn codes_page_is_what_the_library_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/codes.md");
    let mut page = Page(HEAD.to_owned());
    page.add_rules();
    page.add_fixes();
    page.add_tracks();
    page.add_marks();
    for table in compare_codes_tests::tables() {
        page.add_coded(table);
    }
    if std::env::var_os("UPDATE_CODES").is_some() {
        std::fs::write(&path, &page.0).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap().replace("\r\n", "\n");
    assert!(
        written == page.0,
        "docs/codes.md is out of date; run UPDATE_CODES=1 cargo test -p takeline-report codes_page"
    );
}
