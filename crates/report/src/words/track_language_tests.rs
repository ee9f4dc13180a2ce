//! That a track speaks the language that its document was drawn up in, whatever view of it is asked.

use takeline::rule::{Condition, RuleSummary};
use takeline::test_util::samples;
use takeline::track::{
    Certainty, ConditionReason, Evidence, Motion, NotShown, OpenEnd, OutcomeAnswer, OutcomeReason, Reason,
    Remedy, Visit,
};
use takeline::{TakeAnswer, Tristate};

use super::{English, Words};
use crate::track::test_fixtures::{caught, report, visit, with, zones};
use crate::track::{GapDocument, Third, TrackDocument, Verdict, VisitDocument};
use crate::{AuditReport, Headline, track_csv, track_page, track_row_text, track_text};

/// A dozen words of another language.
struct Deutsch;

#[expect(clippy::wildcard_enum_match_arm, reason = "only a dozen entries")]
impl Words for Deutsch {
    fn track_headline(&self, _: &TrackDocument<'_>, _: &Verdict<'_>) -> Headline {
        let lines = |text: &str| vec![text.to_owned()];
        let third = Third::Settle("Zu klären: ein besseres Log".into());
        Headline {
            first: lines("OFFEN: vielleicht darin"),
            catches: None,
            catches_in_short: Vec::new(),
            second: lines("am Morgen"),
            third,
        }
    }

    fn certainty(&self, certainty: Certainty) -> String {
        if certainty == Certainty::Certain { "sicher" } else { "möglich" }.into()
    }

    fn known_from(&self, _: &TrackDocument<'_>, _: &VisitDocument<'_>) -> String {
        "Punkte des Logs".into()
    }

    fn depth(&self, visit: &VisitDocument<'_>) -> String {
        format!("{} m tief", visit.deepest.map_or(0.0, takeline::Metres::metres))
    }

    fn answer(&self, tristate: Tristate) -> String {
        match tristate {
            Tristate::Yes => "ja",
            Tristate::No => "nein",
            Tristate::Undecided => "offen",
        }
        .into()
    }

    fn track_reason(&self, reason: &Reason) -> String {
        match reason {
            Reason::InForce { .. } => "ein Tag der Liste".into(),
            Reason::RuleChanged => "die Regel wechselte".into(),
            Reason::NoPosition { .. } => "kein Ort zu dieser Zeit".into(),
            _ => "ANDERER GRUND".into(),
        }
    }

    fn track_remedy(&self, remedy: &Remedy) -> String {
        match remedy {
            Remedy::SayWhere => "den Ort angeben".into(),
            _ => "ANDERER RAT".into(),
        }
    }

    fn motion(&self, motion: &Motion) -> String {
        match motion {
            Motion::Steady { speed_kn, .. } => format!("ruhige Fahrt, {speed_kn} kn"),
            _ => "ANDERE FAHRT".into(),
        }
    }

    fn crossing_condition(&self, condition: &Condition) -> String {
        match condition {
            Condition::KeepGoing => "ohne Halt".into(),
            _ => "ANDERE BEDINGUNG".into(),
        }
    }

    fn condition_met(&self, met: Tristate) -> String {
        format!("erfüllt: {}", self.answer(met))
    }

    fn condition_reason(&self, _: ConditionReason) -> String {
        "kein Log zeigt das".into()
    }

    fn outcome_answer(&self, _: OutcomeAnswer) -> String {
        "nicht geklärt".into()
    }

    fn outcome_reason(&self, reason: &OutcomeReason) -> String {
        match reason {
            OutcomeReason::CrossingForbidden { .. } => "kein Boot darf dort sein".into(),
            _ => "vielleicht nie darin".into(),
        }
    }

    fn not_shown(&self, _: &NotShown) -> String {
        "was getan wurde".into()
    }

    fn rule_summary(&self, _: &RuleSummary) -> String {
        "jeder Fang verboten".into()
    }

    fn take_answer(&self, _: TakeAnswer) -> String {
        "OFFEN".into()
    }
}

/// What stands behind the labels of a visit and its catches.
fn said(text: &str) -> Vec<&str> {
    let labels = [
        "outcome: ",
        "why: ",
        "not shown: ",
        "inside: ",
        "known from: ",
        "deepest: ",
        "moved: ",
        "in force then: ",
        "because: ",
        "bound the boat: ",
        "condition: ",
        "rule: ",
        "line 2: ",
    ];
    let said =
        text.lines().filter_map(|line| labels.iter().find_map(|label| line.trim_start().strip_prefix(label)));
    said.collect()
}

#[test]
#[expect(clippy::too_many_lines, reason = "one view after another")]
fn another_language_meets_no_english_in_any_view_of_a_track() {
    let mut possible = Visit {
        binds_because: vec![Reason::RuleChanged],
        crossings: vec![0],
        ..visit(Certainty::Possible, Evidence::Fixes)
    };
    possible.conditions[0].condition = Condition::KeepGoing;
    let (audit, zones) = (with(vec![possible]), zones());
    let mut lost = caught(TakeAnswer::Undecided);
    lost.because = vec![Reason::NoPosition { why: samples::missing_positions()[0] }];
    lost.settle = vec![Remedy::SayWhere];
    let catches = [lost];
    let report = AuditReport { catches: Some(&catches), ..report(&audit, &zones) };
    let document = TrackDocument::of(&report, &Deutsch);
    let text = track_text(&document, 400);
    assert!(text.starts_with("OFFEN: vielleicht darin\nam Morgen\nZu klären: ein besseres Log\n"), "{text}");
    let place = "45°06.900'N 030°07.044'W";
    let expected = [
        "nicht geklärt",
        "kein Boot darf dort sein",
        "vielleicht nie darin",
        "was getan wurde",
        "möglich",
        "Punkte des Logs",
        "38 m tief",
        "ruhige Fahrt, 2.6 kn",
        "ja",
        "ein Tag der Liste",
        "offen",
        "die Regel wechselte",
        "jeder Fang verboten",
        &format!("OFFEN cod: kein Ort zu dieser Zeit; 2026-07-25T06:35:00Z; {place}"),
    ];
    assert_eq!(said(&text).into_iter().take(expected.len()).collect::<Vec<_>>(), expected);
    let row = track_row_text(&document);
    assert!(row.contains("OFFEN: vielleicht darin (morning.gpx); am Morgen"), "{row}");
    let table = track_csv([&document]).unwrap();
    assert!(table.contains("OFFEN: vielleicht darin. am Morgen. Zu klären"), "{table}");
    let page = track_page(&document).unwrap();
    for words in
        ["Punkte des Logs", "38 m tief", "ruhige Fahrt", "die Regel wechselte", "kein Log zeigt das", "OFFEN"]
    {
        assert!(page.contains(words), "{words} is missing");
    }
    let json = serde_json::to_value(&document).unwrap();
    let visit = &json["visits"][0];
    assert_eq!(visit["in_force_because"], serde_json::json!(["ein Tag der Liste"]));
    assert_eq!(visit["in_force_because_codes"][0]["code"], "in-force");
    assert_eq!(visit["binds_because_codes"], serde_json::json!([{ "code": "rule-changed" }]));
    assert_eq!(visit["take_rule_code"]["code"], "nothing");
    let catch = &json["catches"][0];
    assert_eq!(catch["because"], serde_json::json!(["kein Ort zu dieser Zeit", "den Ort angeben"]));
    assert_eq!(
        catch["because_codes"],
        serde_json::json!([
            { "code": "no-position", "why": { "code": "only-suspect-fixes" } },
            { "code": "say-where" }
        ])
    );
    assert_eq!(
        json["undecided_because_code"],
        serde_json::json!({ "code": "may-have-been-bound", "visits": [0] })
    );
}

#[test]
fn every_end_of_a_gap_and_every_evidence_has_words() {
    let (audit, zones) = (
        with(samples::evidences().into_iter().map(|one| visit(Certainty::Possible, one)).collect()),
        zones(),
    );
    let report = report(&audit, &zones);
    let document = TrackDocument::of(&report, &English);
    let known: Vec<String> =
        document.visits.iter().map(|visit| English.known_from(&document, visit)).collect();
    assert!(known.iter().all(|text| text.contains(' ')), "{known:?}");
    assert!(known[0] != known[1] && known[1] != known[2] && known[0] != known[2], "{known:?}");
    let gap = &document.quality.gaps[0];
    assert_eq!(English.gap_remark(gap), None);
    let open = |open_end: OpenEnd| GapDocument { open_end: Some(open_end), ..gap.clone() };
    let remarks: Vec<_> =
        samples::open_ends().into_iter().filter_map(|one| English.gap_remark(&open(one))).collect();
    assert_eq!(remarks, ["no place to believe", "no place to believe", "one place repeated"]);
}
