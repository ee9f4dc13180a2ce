//! The answer over a span is that at each of its instants.

use jiff::civil::{Weekday, time};
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;

use super::test_fixtures::{over, set, zone};
use super::{BindingSpan, BindingZone, Moment, ZoneHere, bind};
use crate::Position;
use crate::Tristate::{self, No, Undecided, Yes};
use crate::rule::{AnnualWindow, Hours, SunEvent, SunHours, SunPlace, SunTime, When, WindowEnds};
use crate::zone::{Effective, Zone, ZoneSet};

fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

fn here(zones: &ZoneSet) -> Vec<ZoneHere> {
    (0..zones.zones().len()).map(|number| ZoneHere { number, inside: Yes }).collect()
}

fn spans(zones: &ZoneSet, from: &str, to: &str) -> Vec<BindingSpan> {
    zones.binding_spans(&here(zones), at(from), at(to), None)
}

fn hours(from: i8, to: i8) -> When {
    When::Hours(Hours { from: time(from, 0, 0, 0), to: time(to, 0, 0, 0) })
}

#[test]
fn a_closure_in_the_middle_of_a_stay_is_found() {
    let zones = set([Zone { when: hours(10, 12), ..zone("nursery") }]);
    let found = spans(&zones, "2026-07-01T09:00Z", "2026-07-01T13:00Z");
    let told: Vec<_> = found.iter().map(|span| (span.from, span.to, span.zones[0].binds)).collect();
    let (nine, ten) = (at("2026-07-01T09:00Z"), at("2026-07-01T10:00Z"));
    let (noon, one) = (at("2026-07-01T12:00Z"), at("2026-07-01T13:00Z"));
    assert_eq!(told, [(nine, ten, No), (ten, noon, Yes), (noon, one, No)]);
}

#[test]
fn a_lane_that_opens_for_an_hour_displaces_the_reserve_for_that_hour() {
    let zones = set([zone("reserve"), Zone { when: hours(10, 11), ..over(zone("lane"), &["reserve"]) }]);
    let found = spans(&zones, "2026-07-01T09:00Z", "2026-07-01T12:00Z");
    let reserve: Vec<_> = found.iter().map(|span| span.zones[0].binds).collect();
    assert_eq!(reserve, [Yes, No, Yes]);
}

#[test]
fn an_edition_begins_and_ends_within_a_span() {
    let (from, until) = (Some(at("2026-07-01T10:00Z")), Some(at("2026-07-02T00:00Z")));
    let zones = set([Zone { effective: Effective { from, until }, ..zone("reserve") }]);
    let found = spans(&zones, "2026-07-01T09:00Z", "2026-07-03T00:00Z");
    assert_eq!(found.iter().map(|span| span.zones[0].binds).collect::<Vec<_>>(), [No, Yes, No]);
    assert_eq!(Some(found[2].from), until);
}

#[test]
fn a_change_at_the_very_last_instant_is_a_span_of_its_own() {
    let zones = set([Zone { when: hours(10, 12), ..zone("nursery") }]);
    let found = spans(&zones, "2026-07-01T09:00Z", "2026-07-01T10:00Z");
    assert_eq!(found.len(), 2);
    assert_eq!(
        (found[1].from, found[1].to, found[1].zones[0].binds),
        (found[1].to, at("2026-07-01T10:00Z"), Yes)
    );
    let turned = spans(&zones, "2026-07-01T10:00Z", "2026-07-01T09:00Z");
    assert_eq!(turned, found);
}

#[test]
fn a_single_instant_is_one_span() {
    let zones = set([Zone { when: hours(10, 12), ..zone("nursery") }]);
    let found = spans(&zones, "2026-07-01T11:00Z", "2026-07-01T11:00Z");
    assert_eq!(found.iter().map(|span| span.zones[0].binds).collect::<Vec<_>>(), [Yes]);
}

#[test]
fn beyond_400_days_a_season_is_undecided_and_a_rule_without_one_is_not() {
    let zones = set([Zone { when: hours(10, 12), ..zone("nursery") }, zone("reserve")]);
    let found = spans(&zones, "2006-11-01T00:00Z", "2026-07-01T10:00Z");
    let last = found.last().unwrap();
    assert_eq!((last.zones[0].binds, last.zones[1].binds), (Undecided, Yes));
    assert_eq!(last.from, at("2006-11-01T00:00Z").checked_add(SignedDuration::from_hours(9_600)).unwrap());
    let ever = zones.binding_spans(&here(&zones), Timestamp::MIN, Timestamp::MAX, None);
    assert_eq!(ever.last().unwrap().zones[0].binds, Undecided);
}

fn season() -> impl Strategy<Value = When> {
    let clock = |(hour, minute): (i8, i8)| time(hour, minute, 0, 0);
    let day_hours = ((0_i8..24, 0_i8..60), (0_i8..24, 0_i8..60))
        .prop_map(move |(from, to)| When::Hours(Hours { from: clock(from), to: clock(to) }));
    let yearly = (1_i8..13, 1_i8..29, 1_i8..13, 1_i8..29).prop_map(|(month, day, to_month, to_day)| {
        let (from, to) = ((month, day), (to_month, to_day));
        When::Yearly(AnnualWindow { from, to, ends: WindowEnds::Unstated })
    });
    let sun = (0_usize..4, 0_usize..4, -90_i16..90, -65.0..65.0_f64).prop_map(|(from, to, minutes, lat)| {
        let events = [SunEvent::Sunrise, SunEvent::Sunset, SunEvent::CivilDawn, SunEvent::CivilDusk];
        let moment = |event: usize, offset_minutes: i16| SunTime { event: events[event], offset_minutes };
        let position = Position::from_degrees(lat, -30.0).unwrap();
        When::Sun(SunHours {
            from: moment(from, minutes),
            to: moment(to, 0),
            at: SunPlace { name: "Marrowick".to_owned(), position },
        })
    });
    let leaf = prop_oneof![
        Just(When::Always),
        Just(When::Unknowable("when the quota is taken".to_owned())),
        Just(When::Weekdays(vec![Weekday::Saturday, Weekday::Tuesday])),
        day_hours,
        yearly,
        sun,
    ];
    leaf.prop_recursive(2, 6, 3, |inner| {
        let members = || prop::collection::vec(inner.clone(), 1..3);
        prop_oneof![
            members().prop_map(When::All),
            members().prop_map(When::Any),
            inner.clone().prop_map(|when| When::Not(Box::new(when))),
        ]
    })
}

fn answers(zones: &[BindingZone]) -> Vec<(Tristate, Tristate, Tristate)> {
    zones.iter().map(|one| (one.in_force, one.displaced, one.binds)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Sampled, and at every edge, a second and a nanosecond to either side.
    #[test]
    fn a_span_says_what_each_of_its_instants_says(
        whens in prop::collection::vec(season(), 3),
        start_s in 1_700_000_000_i64..1_800_000_000,
        length_s in 0_u32..700_000,
        shares in prop::collection::vec(0.0..1.0_f64, 8),
        zone_name in prop_oneof![Just("UTC"), Just("Europe/London"), Just("Australia/Lord_Howe")],
    ) {
        let own_time = jiff::tz::TimeZone::get(zone_name).unwrap();
        let names = ["a", "b", "c"];
        let zones = set(whens.into_iter().zip(names).enumerate().map(|(number, (when, name))| {
            let one = over(zone(name), &names[..number]);
            Zone { when, time_zone: own_time.clone(), ..one }
        }));
        let from = Timestamp::from_second(start_s).unwrap();
        let to = Timestamp::from_second(start_s + i64::from(length_s)).unwrap();
        let here = here(&zones);
        let spans = zones.binding_spans(&here, from, to, None);
        prop_assert_eq!((spans[0].from, spans[spans.len() - 1].to), (from, to));
        for pair in spans.windows(2) {
            prop_assert_eq!(pair[0].to, pair[1].from);
            prop_assert_ne!(answers(&pair[0].zones), answers(&pair[1].zones));
        }
        let mut instants: Vec<Timestamp> = shares
            .iter()
            .map(|share| from.checked_add(SignedDuration::from_secs_f64(share * f64::from(length_s))).unwrap())
            .collect();
        for edge in spans.iter().flat_map(|span| [span.from, span.to]) {
            for nanoseconds in [0, 1, -1, 1_000_000_000, -1_000_000_000] {
                instants.push(edge.checked_add(SignedDuration::from_nanos(nanoseconds)).unwrap());
            }
        }
        for instant in instants.into_iter().filter(|instant| from <= *instant && *instant <= to) {
            let span = spans.iter().rfind(|span| span.from <= instant).unwrap();
            // as `binding_zones`, without looking for the next change, which takes a second where the sun counts
            let moment = Moment::new(Some(instant));
            let alone = bind(&zones, &here, None, |_, zone| moment.in_force(zone));
            prop_assert_eq!(answers(&alone), answers(&span.zones), "at {}", instant);
        }
    }
}
