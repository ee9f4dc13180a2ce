//! The words of rules, seasons and answers, and that there are words for everything.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Weekday, date, time};
use takeline::assess::Assumption;
use takeline::rule::{
    Access, AnnualWindow, Bag, BagPer, Bait, Clash, Condition, Gear, GearAllowance, Hours, LimitsOf, Measure,
    MissingTime, NthWeekday, RuleSummary, SetNames, Size, SunEvent, SunHours, SunPlace, SunSpan, SunTime,
    TakeSummary, TimeReason, When, WindowEnds,
};
use takeline::test_util::samples;
use takeline::track::{BagNote, BagUnknown, Certainty, ConditionReason, Motion, NoPosition, Suspicion};
use takeline::zone::ZoneId;
use takeline::{Assessment, Position, TakeAnswer, Tristate, WaterStatus, assess, rule, track};

use super::{English, FieldPhrase, FishPhrase, Heading, Label, PlacePhrase, WaterPhrase, Words};
use crate::here::test_fixtures::{
    assessment, closed, fish, lantern_reach, line_unknown, near_the_line, outside, sallow_cove,
    season_unknown, sprat, texts,
};
use crate::{HereDocument, here_row_text, here_text};

/// That each has words of its own, none of which is only its code.
pub(super) fn all_have_words<T: std::fmt::Debug>(
    samples: &[T],
    code: impl Fn(&T) -> &'static str,
    words: impl Fn(&T) -> String,
) {
    let mut said: BTreeMap<String, &T> = BTreeMap::new();
    for sample in samples {
        let text = words(sample);
        assert!(!text.trim().is_empty() && text != code(sample), "{sample:?} has no words");
        if let Some(other) = said.insert(text, sample) {
            assert_eq!(code(sample), code(other), "{sample:?} and {other:?} have the same words");
        }
    }
}

#[test]
fn every_code_has_words_of_its_own() {
    all_have_words(&samples::rule_reasons(), rule::Reason::code, |one| English.rule_reason(one));
    all_have_words(&samples::conditions(), Condition::code, |one| English.condition(one));
    all_have_words(&samples::rule_remedies(), rule::Remedy::code, |one| English.rule_remedy(one));
    all_have_words(&samples::time_reasons(), TimeReason::code, |one| English.time_reason(one));
    all_have_words(&samples::in_force_reasons(), takeline::binding::Reason::code, |one| {
        English.in_force_reason(one)
    });
    all_have_words(&samples::reasons(), assess::Reason::code, |one| English.reason(one));
    all_have_words(&samples::remedies(), assess::Remedy::code, |one| English.remedy(one));
    all_have_words(&samples::warnings(), assess::Warning::code, |one| English.warning(one));
    all_have_words(&samples::assumptions(), Assumption::code, |one| English.assumption(*one));
    all_have_words(&samples::rule_summaries(), |one| (&one.take).into(), |one| English.rule_summary(one));
}

#[test]
fn every_code_of_a_track_has_words_of_its_own() {
    all_have_words(&samples::track_reasons(), track::Reason::code, |one| English.track_reason(one));
    all_have_words(&samples::track_remedies(), track::Remedy::code, |one| English.track_remedy(one));
    all_have_words(&samples::missing_positions(), NoPosition::code, |one| English.missing_position(*one));
    all_have_words(&samples::bag_unknowns(), BagUnknown::code, |one| English.bag_unknown(*one));
    all_have_words(&samples::motions(), Motion::code, |one| English.motion(one));
    all_have_words(&samples::condition_reasons(), ConditionReason::code, |one| {
        English.condition_reason(*one)
    });
    all_have_words(&Suspicion::ALL, Suspicion::code, |one| English.suspicion(*one));
    let standings = samples::certainties();
    all_have_words(&standings, Certainty::code, |one| English.standing(Some(*one)));
    assert_eq!(
        standings.iter().map(|one| English.certainty(*one)).collect::<Vec<_>>(),
        ["possible: not settled either way", "certain"]
    );
    assert_eq!(
        samples::directions().into_iter().map(|one| English.direction(one)).collect::<Vec<_>>(),
        ["in", "out"]
    );
}

fn names(listed: &[&str], except: &[&str]) -> SetNames {
    SetNames { listed: texts(listed), except: texts(except) }
}

fn gear(kind: &str, max_lines: Option<u32>, max_hooks: Option<u32>) -> GearAllowance {
    GearAllowance { kind: Gear(kind.into()), max_lines, max_hooks, note: None }
}

fn bag(count: u32, per: BagPer) -> Condition {
    Condition::Bag { bag: Bag { count, per } }
}

#[test]
fn conditions_read_as_people_say_them() {
    let lines = || vec![gear("hook and line", Some(1), Some(2))];
    let pot = || Condition::OnlyWith { gear: vec![gear("pot", None, None)] };
    let size = |min_cm, max_cm, measure| Condition::Size { size: Size { min_cm, max_cm, measure } };
    let of_zone =
        |zone: &str, condition| Condition::OfZone { zone: zone.into(), condition: Box::new(condition) };
    let four = rule::Allowance {
        bags: vec![Bag { count: 4, per: BagPer::PersonDay }],
        ..rule::Allowance::default()
    };
    let state = "un-rigged when anchored";
    let day = BagPer::PersonDay;
    for (condition, said) in [
        (Condition::OnlyWith { gear: lines() }, "only with hook and line: at most 1 line, 2 hooks"),
        (Condition::With { gear: lines() }, "with hook and line: at most 1 line, 2 hooks"),
        (
            Condition::OnlyWith { gear: vec![gear("hand nets", Some(2), None)] },
            "only with hand nets: at most 2 nets",
        ),
        (pot(), "only with pot"),
        (bag(10, day), "at most 10 per person per day"),
        (bag(0, day), "none may be kept"),
        (bag(4, BagPer::PersonAtOnce), "at most 4 per person at any time, fish from earlier days included"),
        (
            Condition::Either { ways: vec![vec![pot(), bag(2, day)], vec![bag(1, day)]] },
            "either only with pot, at most 2 per person per day; or at most 1 per person per day",
        ),
        (
            Condition::AllZonesTogether { ways: vec![four] },
            "all zones together: at most 4 per person per day",
        ),
        (of_zone("Sallow Cove", bag(10, day)), "at most 10 per person per day (Sallow Cove)"),
        (size(Some(40.0), None, Measure::ForkLength), "at least 40 cm, fork length"),
        (size(Some(20.0), Some(30.0), Measure::ForkLength), "20 to 30 cm, fork length"),
        (Condition::MeasuredAs { measure: Measure::TotalLength }, "the length given is the total length"),
        (Condition::MeasuredAs { measure: Measure::Unstated }, "the rule does not say how it is measured"),
        (Condition::OnTheLimit { length_cm: 40.0 }, "40 cm is exactly on the limit; measure again"),
        (Condition::Bait { rule: Bait::Only(texts(&["sand eel"])) }, "only sand eel as bait"),
        (Condition::GearState { words: state.into() }, "your gear while crossing: “un-rigged when anchored”"),
        (Condition::CrossingUnsaid, "the zone file does not say how you may cross; ask first"),
        (Condition::MinSpeed { speed_kn: 3.0 }, "at 3 kn or more"),
        (Condition::MaxStop { stop_min: 2.5 }, "no stop longer than 2.5 min"),
    ] {
        assert_eq!(English.condition(&condition), said);
    }
}

#[test]
fn reasons_and_remedies_of_rules_read_as_people_say_them() {
    use rule::{Reason, Remedy};
    let zones = || LimitsOf::Zones(texts(&["Sallow Cove", "Gannet Bank"]));
    let ten = Bag { count: 10, per: BagPer::PersonDay };
    let nothing = || vec![Reason::NothingMayBeTaken];
    for (reason, said) in [
        (
            Reason::Clash { clash: Clash::Sizes, between: zones() },
            "the sizes allowed by Sallow Cove and Gannet Bank do not overlap",
        ),
        (
            Reason::Clash { clash: Clash::Gear, between: zones() },
            "no gear is allowed by both Sallow Cove and Gannet Bank",
        ),
        (Reason::CountWithin { count: 3, bag: ten }, "this makes 3, of at most 10 per person per day"),
        (
            Reason::TheseMayBeKept { fish: texts(&["potato cod (Epinephelus tukula)"]) },
            "may be kept: potato cod (Epinephelus tukula)",
        ),
        (
            Reason::TheseMayNotBeKept { fish: texts(&["cod (Gadus morhua)"]) },
            "may not be kept: cod (Gadus morhua)",
        ),
        (Reason::NothingWhateverItIs, "nothing may be taken here, whatever fish it is"),
        (Reason::BindsOnly { access: vec![Access::Shore] }, "the rule is only for fishing from the shore"),
        (
            Reason::ZoneMayApply { zone: "Sallow Cove".into(), because: nothing() },
            "it is undecided whether Sallow Cove applies here; if it does: nothing may be taken here",
        ),
    ] {
        assert_eq!(English.rule_reason(&reason), said);
    }
    for (remedy, said) in [
        (
            Remedy::SettleWhetherZoneApplies { zone: "Sallow Cove".into() },
            "find out whether Sallow Cove applies here",
        ),
        (
            Remedy::SayWhichFish { fish: texts(&["cod (Gadus morhua)", "potato cod (Epinephelus tukula)"]) },
            "say which fish: cod (Gadus morhua), potato cod (Epinephelus tukula)",
        ),
        (Remedy::DidYouMean { names: texts(&["sprat"]) }, "did you mean sprat? ask again with that name"),
        (
            Remedy::UseAListedName,
            "check the spelling, or use another name, the scientific name or the FAO code, as the zone file has it",
        ),
    ] {
        assert_eq!(English.rule_remedy(&remedy), said);
    }
}

#[test]
fn rules_read_in_a_few_words() {
    let short = |take| RuleSummary { take, gear: vec![], binds: vec![] };
    let only = |listed: &[&str], at_set_times| {
        let fish = Some(names(listed, &[]));
        short(TakeSummary::Only { permits: vec![rule::PermitSummary { fish, at_set_times }] })
    };
    let but = |listed: &[&str]| short(TakeSummary::AnythingBut { except: names(listed, &[]) });
    let by_line = RuleSummary { gear: vec![vec![Gear("hook and line".into())]], ..but(&["lobster"]) };
    let from_boats = RuleSummary { binds: vec![Access::Boat], ..but(&["bass"]) };
    for (rule, said) in [
        (short(TakeSummary::Nothing), "nothing may be taken"),
        (only(&["sprat", "sand smelt"], false), "only sprat, sand smelt"),
        (only(&["bass"], true), "only bass at set times"),
        (by_line, "anything except lobster; hook and line only"),
        (from_boats, "anything except bass; only for fishing from a boat"),
    ] {
        assert_eq!(English.rule_summary(&rule), said);
    }
    assert_eq!(English.set(&names(&["round fish", "sprat"], &["eel"])), "round fish, sprat (but not eel)");
    assert_eq!(English.set(&names(&[], &[])), "nothing");
    assert_eq!(
        English.set(&names(&["a", "b", "c", "d", "e", "f", "g", "h"], &[])),
        "a, b, c, d, e, f and 2 more"
    );
}

fn yearly(from: (i8, i8), to: (i8, i8), ends: WindowEnds) -> When {
    When::Yearly(AnnualWindow { from, to, ends })
}

fn hours(from: (i8, i8), to: (i8, i8)) -> Hours {
    Hours { from: time(from.0, from.1, 0, 0), to: time(to.0, to.1, 0, 0) }
}

fn nth(nth: i8, weekday: Weekday, month: Option<i8>, then_days: u8) -> When {
    When::NthWeekday(NthWeekday { nth, weekday, month, then_days })
}

#[test]
fn days_and_hours_read_as_plain_english() {
    let of_day = |from, to| When::Hours(hours(from, to));
    let may_to_august = yearly((5, 1), (8, 31), WindowEnds::Included);
    let except = When::Not(Box::new(When::Weekdays(vec![Weekday::Saturday, Weekday::Sunday])));
    let listed = When::Days(vec![date(2026, 11, 14), date(2026, 11, 15)]);
    for (set, phrase) in [
        (may_to_august.clone(), "1 May to 31 August each year"),
        (yearly((5, 1), (8, 31), WindowEnds::Excluded), "after 1 May and before 31 August each year"),
        (
            When::All(vec![may_to_august.clone(), except.clone()]),
            "1 May to 31 August each year, except on Saturdays and Sundays",
        ),
        (
            When::All(vec![except.clone(), of_day((6, 30), (0, 0))]),
            "at all times except on Saturdays and Sundays, and 06:30 to 24:00",
        ),
        (except, "at all times except on Saturdays and Sundays"),
        (
            When::All(vec![When::Any(vec![may_to_august, of_day((1, 0), (2, 0))]), of_day((3, 0), (4, 0))]),
            "(1 May to 31 August each year, or 01:00 to 02:00), and 03:00 to 04:00",
        ),
        (When::Not(Box::new(When::Always)), "at no time"),
        (nth(1, Weekday::Sunday, Some(7), 3), "on the first Sunday of July and the 3 days that follow"),
        (
            nth(-1, Weekday::Wednesday, None, 1),
            "on the last Wednesday of each month and the following Thursday",
        ),
        (
            When::All(vec![listed, of_day((8, 0), (16, 0))]),
            "on 14 November 2026 and 15 November 2026, and 08:00 to 16:00",
        ),
    ] {
        assert_eq!(English.when(&set), phrase);
    }
}

fn by_sun(from: (SunEvent, i16), to: (SunEvent, i16), place: &str) -> SunHours {
    let at = |(event, offset_minutes)| SunTime { event, offset_minutes };
    let position = Position::from_degrees(45.125, -30.11).unwrap();
    SunHours { from: at(from), to: at(to), at: SunPlace { name: place.into(), position } }
}

#[test]
fn reasons_of_time_read_as_plain_english() {
    let set = yearly((5, 1), (8, 31), WindowEnds::Included);
    let night = || by_sun((SunEvent::Sunset, 30), (SunEvent::Sunrise, -30), "Marrowick Chapel");
    let said = "half an hour after sunset to half an hour before sunrise at Marrowick Chapel";
    let between = "between half an hour after sunset and half an hour before sunrise at Marrowick Chapel";
    assert_eq!(English.when(&When::Sun(night())), said);
    let day = date(2026, 6, 3);
    let span = SunSpan { from: day.at(22, 5, 0, 0), until: date(2026, 6, 4).at(5, 40, 30, 0) };
    let sun = |misses| TimeReason::Sun {
        at: day.at(23, 0, 0, 0),
        within: Tristate::Yes,
        hours: night(),
        span: Some(span),
        misses,
    };
    let lies = format!("23:00 local time is {between} (22:05 to 05:40:30 on 4 June)");
    let missed = format!("{lies}; the sun does not rise at Marrowick Chapel on 3 June 2026");
    for (reason, said) in [
        (
            TimeReason::DayWithin { date: day, set },
            "3 June 2026 is in the season: 1 May to 31 August each year",
        ),
        (
            TimeReason::EndDay {
                date: date(2026, 11, 1),
                set: yearly((4, 30), (11, 1), WindowEnds::Unstated),
            },
            "1 November 2026 is the first or last day of a season: between 30 April and 1 November each year \
             (the law does not say whether those two days are included)",
        ),
        (TimeReason::NoTime { missing: MissingTime::NotGiven }, "no time was given"),
        (
            TimeReason::Unknowable { words: "when the quota is taken".into() },
            "cannot be known offline: “when the quota is taken”",
        ),
        (sun(vec![]), &lies),
        (sun(vec![rule::SunMiss::DoesNotRise]), &missed),
        (TimeReason::SunOutOfReach { year: 8000 }, "the sun's times cannot be worked out for the year 8000"),
    ] {
        assert_eq!(English.time_reason(&reason), said);
    }
}

#[test]
fn what_ends_at_midnight_ends_at_24_00_of_the_day_before() {
    let until = |text: &str| English.until(&text.parse().unwrap());
    assert_eq!(until("2026-10-01T00:00:00+00:00[UTC]"), "30 September 2026 24:00");
    assert_eq!(until("2026-10-01T08:30:00+00:00[UTC]"), "1 October 2026 08:30");
    assert_eq!(until("2026-10-01T00:00:00-04:00[America/New_York]"), "30 September 2026 24:00");
}

#[test]
fn a_row_that_counts_against_a_bag_says_which_fish_it_is() {
    let note = BagNote {
        zone: ZoneId("bank".into()),
        zone_number: 0,
        zone_name: "Gannet Bank".into(),
        clause: Some("clause 10(1)".into()),
        bag: Bag { count: 10, per: BagPer::PersonDay },
        person: None,
        day: None,
        first: 11,
        last: 11,
        at_most: 11,
        not_known: vec![],
    };
    let said = "takes the count to 11; at most 10 per person per day in Gannet Bank (clause 10(1))";
    assert_eq!(English.bag_note(&note), said);
    let several = BagNote { first: 9, last: 12, at_most: 12, ..note.clone() };
    assert!(English.bag_note(&several).starts_with("takes the count to 12; at most 10 per person"));
    let perhaps = BagNote { first: 1, last: 3, at_most: 12, ..note };
    assert!(English.bag_note(&perhaps).starts_with("takes the count to 3, perhaps to 12; at most 10"));
}

/// Ten words of another language for reasons and ten for what stands around them: enough to see whether a sentence is written
/// anywhere but here.
struct Deutsch;

#[expect(clippy::wildcard_enum_match_arm, reason = "only ten entries of each kind")]
impl Words for Deutsch {
    fn rule_reason(&self, reason: &rule::Reason) -> String {
        match reason {
            rule::Reason::NothingMayBeTaken => "hier ist jeder Fang verboten".into(),
            rule::Reason::MayBeTaken { fish } => {
                format!("{} ist erlaubt", self.fish(fish.as_deref()))
            }
            _ => "ANDERER GRUND".into(),
        }
    }

    fn bag(&self, bag: &Bag) -> String {
        format!("höchstens {} Stück", bag.count)
    }

    fn size(&self, size: &Size) -> String {
        format!("ab {} cm", size.min_cm.unwrap_or_default())
    }

    fn bait(&self, _: &Bait) -> String {
        "ohne Sandaal".into()
    }

    fn condition(&self, condition: &Condition) -> String {
        match condition {
            Condition::Bag { bag } => self.bag(bag),
            Condition::Size { size } => self.size(size),
            Condition::Bait { rule } => self.bait(rule),
            Condition::OnlyWith { gear } => format!("nur mit {}", gear[0].kind),
            Condition::NotWith { gear } => format!("nicht mit {gear}"),
            Condition::Law { text } => text.clone(),
            _ => "ANDERE BEDINGUNG".into(),
        }
    }

    fn rule_summary(&self, rule: &RuleSummary) -> String {
        match &rule.take {
            TakeSummary::Nothing => "jeder Fang verboten".into(),
            _ => "ANDERE REGEL".into(),
        }
    }

    fn until(&self, end: &jiff::ZonedDateTime) -> String {
        end.date().to_string()
    }

    fn in_force_reason(&self, reason: &takeline::binding::Reason) -> String {
        match reason {
            takeline::binding::Reason::InForceUntil { until } => format!("gilt bis {}", self.until(until)),
            takeline::binding::Reason::NoTime { .. } => "die Zeit fehlt".into(),
            _ => "ANDERE ZEIT".into(),
        }
    }

    fn reason(&self, reason: &assess::Reason) -> String {
        match reason {
            assess::Reason::LineWithinDoubt { zone, .. } => format!("{zone}: die Linie ist zu nah"),
            assess::Reason::InForceUnsettled { zone, why } => {
                format!("{zone}: ob es gilt, ist offen: {}", self.in_force_reason(&why[0]))
            }
            assess::Reason::Rule { reason } => self.rule_reason(reason),
            _ => "ANDERER GRUND".into(),
        }
    }

    fn remedy(&self, remedy: &assess::Remedy) -> String {
        match remedy {
            assess::Remedy::Move { distance_m, .. } => format!("{distance_m} m nach Südwesten"),
            assess::Remedy::SayTheTime { .. } => "die Zeit angeben".into(),
            _ => "ANDERER RAT".into(),
        }
    }

    fn label(&self, label: Label) -> String {
        match label {
            Label::Because => "weil",
            Label::ToSettle => "klärt",
            Label::Condition | Label::Also => "Bedingung",
            Label::Rule => "Regel",
            Label::ToCross => "Durchfahrt",
            _ => "Angabe",
        }
        .into()
    }

    fn heading(&self, heading: Heading<'_>) -> String {
        match heading {
            Heading::Fish(name) | Heading::Zone(name) => format!("TEIL {name}"),
            _ => "TEIL".into(),
        }
    }

    fn water(&self, phrase: &WaterPhrase<'_>) -> String {
        match phrase {
            WaterPhrase::Closed(and) | WaterPhrase::Limited(and) | WaterPhrase::Undecided { and, .. } => {
                format!("GEWÄSSER: {and}")
            }
            _ => "GEWÄSSER".into(),
        }
    }

    fn place(&self, phrase: &PlacePhrase<'_>) -> String {
        match phrase {
            PlacePhrase::ToSettle(what) => format!("Klärt: {what}"),
            PlacePhrase::Nearest(zone) => format!("Nächstes: {zone}"),
            PlacePhrase::LineToward(bearing, zone) => format!("Linie {}: {zone}", self.bearing(*bearing)),
            _ => "ORT".into(),
        }
    }

    fn fish_line(&self, _: &FishPhrase<'_>) -> String {
        "FISCH".into()
    }

    fn field(&self, _: &FieldPhrase<'_>) -> String {
        "Wert".into()
    }

    fn answer(&self, _: Tristate) -> String {
        "vielleicht".into()
    }

    fn take_answer(&self, _: TakeAnswer) -> String {
        "ANTWORT".into()
    }

    fn bearing(&self, bearing: takeline::TrueBearing) -> String {
        format!("{:.0} Grad", bearing.degrees())
    }

    fn cautions(&self) -> [&'static str; 4] {
        [
            "Kein Navigationsgerät.",
            "Vorschriften ändern sich.",
            "Das Gesetz entscheidet.",
            "Kaltes Wasser tötet.",
        ]
    }
}

/// The texts of what the library found, without the labels before them.
fn said(assessment: &Assessment) -> Vec<String> {
    let text = here_text(&HereDocument::of(assessment, &Deutsch), 400);
    let labels = ["weil: ", "klärt: ", "Bedingung: ", "Regel: ", "Durchfahrt: "];
    let told = text.lines().filter_map(|line| {
        labels.iter().find_map(|label| line.trim_start().strip_prefix(label)).map(str::to_owned)
    });
    told.collect()
}

#[test]
fn another_language_meets_no_english_of_the_library_in_the_text() {
    let kept = takeline::TakeFinding {
        possession_because: vec![assess::Reason::Rule { reason: rule::Reason::NothingMayBeTaken }],
        ..sprat()
    };
    let refused = takeline::TakeFinding {
        because: vec![assess::Reason::Rule { reason: rule::Reason::NothingMayBeTaken }],
        ..fish("cod", TakeAnswer::Release)
    };
    let open = Assessment { take: vec![kept, refused], ..near_the_line() };
    let undated = Assessment {
        water_because: vec![assess::Reason::InForceUnsettled {
            zone: "Sallow Cove Reserve".into(),
            why: vec![takeline::binding::Reason::NoTime { missing: MissingTime::NotGiven }],
        }],
        ..season_unknown()
    };
    let empty = assessment(WaterStatus::Unzoned, vec![]);
    let told = [said(&open), said(&undated), said(&empty)].concat();
    let expected = [
        "Sallow Cove Reserve: die Linie ist zu nah",
        "14 m nach Südwesten",
        "sprat ist erlaubt",
        "nur mit hook and line",
        "nicht mit gill net",
        "ohne Sandaal",
        "ab 8 cm",
        "höchstens 20 Stück",
        "hier ist jeder Fang verboten",
        "hier ist jeder Fang verboten",
        "gilt bis 2026-10-01",
        "jeder Fang verboten",
        // the words of the law are nobody's to translate
        "no anchoring on the eelgrass",
        "\"lines inboard and hooks bare\" (clause 9)",
        "Sallow Cove Reserve: ob es gilt, ist offen: die Zeit fehlt",
        "die Zeit angeben",
        "die Zeit fehlt",
        "jeder Fang verboten",
        "no anchoring on the eelgrass",
        "\"lines inboard and hooks bare\" (clause 9)",
    ];
    assert_eq!(told, expected);
    // nor in the first lines
    let head = here_text(&HereDocument::of(&undated, &Deutsch), 400);
    assert!(head.lines().take(3).any(|line| line == "Klärt: die Zeit angeben"), "{head}");
}

/// The words of a text: runs of letters, but for units and hemispheres.
fn words_of(text: &str) -> BTreeSet<String> {
    let words = text.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty());
    words.filter(|word| !["m", "km", "N", "W", "T", "Z"].contains(word)).map(str::to_lowercase).collect()
}

/// What nobody translates: names, the words of the law, files.
fn data_of(document: &HereDocument<'_>) -> BTreeSet<String> {
    let mut data = BTreeSet::new();
    let mut add = |text: &str| data.extend(words_of(text));
    for zone in &document.zones {
        [zone.name, zone.source.instrument, zone.zone_file.path, zone.zone_file.sha256]
            .into_iter()
            .for_each(&mut add);
        [zone.source.clause, zone.source.edition].into_iter().flatten().for_each(&mut add);
        zone.conditions.iter().map(String::as_str).for_each(&mut add);
        zone.passage.iter().map(String::as_str).for_each(&mut add);
    }
    for fish in &document.take {
        add(fish.asked);
        fish.conditions.iter().map(String::as_str).for_each(&mut add);
    }
    data
}

#[test]
fn another_language_says_labels_and_first_lines_too() {
    let on_the_line =
        takeline::ZoneFinding { on_the_line: true, ..sallow_cove(takeline::Containment::Inside, 0.0) };
    let standoff = Assessment { standoff_kept: Some(Tristate::No), ..near_the_line() };
    let released = Assessment { take: vec![fish("cod", TakeAnswer::Release), sprat()], ..closed() };
    let undecided = Assessment { take: vec![fish("cod", TakeAnswer::Undecided)], ..near_the_line() };
    for example in [
        closed(),
        outside(),
        near_the_line(),
        season_unknown(),
        line_unknown(),
        standoff,
        released,
        undecided,
        assessment(WaterStatus::Unzoned, vec![]),
        assessment(WaterStatus::Restricted, vec![lantern_reach()]),
        Assessment { take: vec![sprat()], ..assessment(WaterStatus::Restricted, vec![lantern_reach()]) },
        assessment(WaterStatus::Closed, vec![on_the_line]),
    ] {
        let (english, german) =
            (HereDocument::of(&example, &English), HereDocument::of(&example, &Deutsch).with_row(7));
        let data = data_of(&german);
        let in_english = words_of(&here_text(&english, 400));
        for text in [here_text(&german, 400), here_row_text(&german)] {
            let both: Vec<String> = words_of(&text)
                .intersection(&in_english)
                .filter(|word| !data.contains(*word))
                .cloned()
                .collect();
            assert!(both.is_empty(), "{both:?} in {text}");
        }
    }
}

#[test]
fn an_and_in_the_name_of_a_zone_is_not_counted() {
    let between = |zones: &[&str]| rule::Reason::Clash {
        clash: Clash::Gear,
        between: LimitsOf::Zones(zones.iter().map(|zone| (*zone).to_owned()).collect()),
    };
    let words = |zones: &[&str]| English.rule_reason(&between(zones));
    assert_eq!(words(&["Reefs and Shoals"]), "no gear is allowed by Reefs and Shoals");
    assert_eq!(
        words(&["Reefs and Shoals", "Curlew"]),
        "no gear is allowed by both Reefs and Shoals and Curlew"
    );
    assert_eq!(words(&["A", "B", "C"]), "no gear is allowed by A and B and C together");
}
