use serde_json::json;

use super::test_files::*;
use crate::rule::{AnnualWindow, SunEvent};
use crate::rule::{When, WindowEnds};

#[test]
fn each_condition_of_the_grammar_is_read() {
    for when in [
        json!({ "dates": { "from": "2026-05-01", "to": "2026-08-31", "ends": "excluded" } }),
        json!({ "days": ["2026-05-01", "2026-05-09"] }),
        json!({ "weekdays": ["saturday", "sunday"] }),
        json!({ "nth_weekday": { "nth": 2, "day": "saturday", "month": 5 } }),
        json!({ "hours": { "from": "08:00", "to": "16:00" } }),
        json!({ "unknowable": "when the quota is taken" }),
        json!({ "not": { "weekdays": ["sunday"] } }),
        json!({ "any": [{ "weekdays": ["sunday"] }, { "days": ["2026-05-01"] }] }),
    ] {
        assert!(!matches!(when_of(when), When::Always | When::All(_)));
    }
    let both = when_of(json!({ "weekdays": ["sunday"], "hours": { "from": "22:00", "to": "06:00" } }));
    assert!(matches!(both, When::All(conditions) if conditions.len() == 2));
}

/// Tricky cases 25 and 26: ends that the text does not state, and a window over New Year with 29 February.
#[test]
fn yearly_windows_keep_their_ends_and_may_wrap() {
    let when = when_of(json!({ "yearly": { "from": "04-30", "to": "11-01", "ends": "unstated" } }));
    let window = AnnualWindow { from: (4, 30), to: (11, 1), ends: WindowEnds::Unstated };
    assert_eq!(when, When::Yearly(window));
    let winter = when_of(json!({ "yearly": { "from": "12-01", "to": "02-29" } }));
    assert!(matches!(winter, When::Yearly(window) if window.to == (2, 29)));
}

/// Tricky case 26: "last Wednesday and the following Thursday".
#[test]
fn the_last_weekday_of_a_month_and_days_after_it() {
    let when = when_of(json!({ "nth_weekday": { "nth": "last", "day": "wednesday", "then_days": 1 } }));
    assert!(
        matches!(when, When::NthWeekday(nth) if nth.nth == -1 && nth.then_days == 1 && nth.month.is_none())
    );
}

/// Tricky case 27: the sun of the place that the law names, not of the zone.
#[test]
fn sun_hours_name_their_place() {
    let at = json!({ "name": "Marrowick chapel", "latitude_deg": 45.12, "longitude_deg": -30.1 });
    let when = when_of(json!({ "sun": { "from": "sunset+30", "to": "sunrise-30", "at": at } }));
    let When::Sun(sun) = when else { panic!("sun") };
    assert_eq!((sun.from.event, sun.from.offset_minutes), (SunEvent::Sunset, 30));
    assert_eq!((sun.to.event, sun.to.offset_minutes), (SunEvent::Sunrise, -30));
    assert_eq!(sun.at.name, "Marrowick chapel");
    let text = refused(&with("when", json!({ "sun": { "from": "sunset+30", "to": "dawn" } })));
    assert!(text.contains("when > sun > to: \"dawn\" cannot be read here; write sunrise, sunset"), "{text}");
    assert!(text.contains("\"at\" is missing; name the place whose sun counts"), "{text}");
}

#[test]
fn faults_of_seasons_name_member_value_and_mend() {
    for (when, told) in [
        (
            json!({ "yearly": { "from": "13-01", "to": "02-01" } }),
            "yearly > from: \"13-01\" cannot be read here; write month (01 to 12)",
        ),
        (json!({ "yearly": { "from": "01-01", "to": "02-30" } }), "yearly > to: \"02-30\" cannot"),
        (json!({ "yearly": { "from": "01-01" } }), "yearly: \"to\" is missing"),
        (
            json!({ "yearly": { "from": "01-01", "to": "02-01", "ends": "inclusive" } }),
            "ends: \"inclusive\" is not one of \"included\"",
        ),
        (
            json!({ "dates": { "from": "2026-05-02", "to": "2026-05-01" } }),
            "ends on 2026-05-01, before it starts on 2026-05-02; swap",
        ),
        (json!({ "days": [] }), "days: is an empty list; name at least one day"),
        (json!({ "days": ["2026-05-01", 5] }), "days > entry 2: 5 cannot be read here"),
        (json!({ "weekdays": ["Saturday"] }), "weekdays > entry 1: \"Saturday\" is not one of"),
        (json!({ "weekdays": ["Saturday"] }), "did you mean \"saturday\"?"),
        (
            json!({ "nth_weekday": { "nth": 6, "day": "monday" } }),
            "nth: 6 cannot be read; write a number from 1 to 5",
        ),
        (
            json!({ "nth_weekday": { "nth": 1, "day": "monday", "month": 13 } }),
            "month: 13 is outside 1 to 12",
        ),
        (json!({ "nth_weekday": { "nth": 1 } }), "\"day\" is missing"),
        (
            json!({ "hours": { "from": "8:00", "to": "25:00" } }),
            "hours > to: \"25:00\" cannot be read here; write hours and minutes",
        ),
        (json!({ "hours": { "from": "08:00", "to": "08:00" } }), "start and end at the same time"),
        (json!({ "hours": { "from": "24:00", "to": "08:00" } }), "from: hours cannot start at \"24:00\""),
        (json!({ "any": [] }), "any: is an empty list"),
        (json!({}), "when: says nothing; leave \"when\" out"),
        (json!("summer"), "when: \"summer\" cannot be read here; write an object like"),
        (json!({ "yearl": {} }), "the member \"yearl\" has no meaning here; did you mean \"yearly\"?"),
        (
            json!({ "not": { "any": [{ "day": ["2026-05-01"] }] } }),
            "when > not > any > entry 1: the member \"day\"",
        ),
    ] {
        let text = refused(&with("when", when));
        assert!(text.contains(told), "{told}\nis not in\n{text}");
        assert!(text.contains("feature 1 \"sallow-cove\", when"), "{text}");
    }
}

#[test]
fn hours_may_end_with_the_day() {
    assert!(matches!(when_of(json!({ "hours": { "from": "16:00", "to": "24:00" } })), When::Hours(_)));
}
