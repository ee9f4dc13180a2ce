//! One judgement: whoever asks which rules bind at a place and a time gets the same answer.
//!
//! Random sets of zones that touch, nest, overlap and override each other, with access, seasons and doubt of every sort,
//! are asked about random places, often near lines and in overlaps. What agreement means is the table [`ROWS`]. The model
//! of what binds is written from the text of the rules, not from the library. The ordinary suite asks some thousand
//! questions. At full size:
//!
//! ```text
//! TAKELINE_QUESTIONS=100000 cargo test --release -p takeline --test judgement_model -- --nocapture
//! ```
#![expect(clippy::unwrap_used, reason = "a test whose shapes or zones cannot be made has failed")]

#[path = "judgement_model/by_track.rs"]
mod by_track;

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};
use takeline::binding::{BindingZone, ZoneHere};
use takeline::rule::{Access, Circumstances, Possession, Take};
use takeline::zone::{Zone, ZoneSet};
use takeline::{
    AccuracyKind, Assessment, Containment, Fix, HorizontalUncertainty, Question, TakeAnswer, TakeFinding,
    Tristate, WaterStatus, ZoneFinding,
};
use takeline_test_util::{Dice, FISH, RandomZones, earth, seasons};

const QUESTIONS: u64 = 1_000;
const QUESTIONS_PER_SET: u64 = 20;

/// One random question, with every answer to it.
struct Asked<'a> {
    made: &'a RandomZones,
    zones: &'a ZoneSet,
    fix: Fix,
    access: Option<Access>,
    /// What `here` says, and `here` with all zones listed.
    here: Assessment,
    all: Assessment,
    /// What the binding function says, with the sides that `here` has; in the order of the set.
    binding: Vec<BindingZone>,
    /// What an audit of a log of this one fix says, and a catch log with a fish caught at it.
    tracked: by_track::Tracked,
}

/// What has to hold: the words, and the check, which says what does not.
type Row = (&'static str, fn(&Asked<'_>) -> Result<(), String>);

/// What agreement means.
const ROWS: [Row; 8] = [
    ("here and here with all zones: the same water", same_water),
    ("here and here with all zones: the same fish", same_fish),
    ("here and here with all zones: the same of each zone that both list", same_zones),
    ("a zone that here does not list is surely outside", unlisted_is_outside),
    ("the side of a circle is what its radius and the doubts make it", circles_by_hand),
    ("here binds what the binding function binds", here_binds),
    ("the binding function binds what the model binds", model_binds),
    ("the water is what binds makes it", water_by_binding),
];

fn expect(holds: bool, what: impl FnOnce() -> String) -> Result<(), String> {
    if holds { Ok(()) } else { Err(what()) }
}

fn same_water(asked: &Asked<'_>) -> Result<(), String> {
    expect(asked.here.water == asked.all.water, || {
        format!("{:?}, all: {:?}", asked.here.water, asked.all.water)
    })
}

fn same_fish(asked: &Asked<'_>) -> Result<(), String> {
    let said = |answer: &Assessment| answer.take.iter().map(fish_answer).collect::<Vec<_>>();
    expect(said(&asked.here) == said(&asked.all), || {
        format!("{:?}, all: {:?}", said(&asked.here), said(&asked.all))
    })
}

fn fish_answer(take: &TakeFinding) -> (TakeAnswer, Tristate) {
    (take.answer, take.possession)
}

fn told(finding: &ZoneFinding) -> (Containment, Tristate, Tristate, Tristate) {
    (finding.containment, finding.in_force, finding.displaced, finding.binds)
}

fn finding<'a>(answer: &'a Assessment, zone: &Zone) -> Option<&'a ZoneFinding> {
    answer.zones.iter().find(|finding| finding.id == zone.id)
}

fn same_zones(asked: &Asked<'_>) -> Result<(), String> {
    for zone in asked.zones.zones() {
        let (Some(here), Some(all)) = (finding(&asked.here, zone), finding(&asked.all, zone)) else {
            continue;
        };
        expect(told(here) == told(all), || format!("{}: {:?}, all: {:?}", zone.id, told(here), told(all)))?;
    }
    Ok(())
}

fn unlisted_is_outside(asked: &Asked<'_>) -> Result<(), String> {
    for zone in asked.zones.zones() {
        let all = finding(&asked.all, zone).ok_or_else(|| format!("{} is not listed with all", zone.id))?;
        let listed = finding(&asked.here, zone).is_some();
        expect(listed || all.containment == Containment::Outside, || {
            format!("{}: {:?}", zone.id, told(all))
        })?;
    }
    Ok(())
}

fn circles_by_hand(asked: &Asked<'_>) -> Result<(), String> {
    for (zone, circle) in asked.zones.zones().iter().zip(&asked.made.circles) {
        let (Some((centre, radius_m)), Some(all)) = (circle, finding(&asked.all, zone)) else { continue };
        let outside_m = earth::inverse(*centre, asked.fix.position).0 - radius_m;
        let line_m = zone.line_uncertainty.metres().hypot(zone.datum.uncertainty_95().metres());
        let doubt_m = asked.fix.uncertainty.radius_95().metres().hypot(line_m);
        let expected = if outside_m < -doubt_m {
            Containment::Inside
        } else if outside_m > doubt_m {
            Containment::Outside
        } else {
            Containment::Undecided
        };
        let on_edge = (outside_m.abs() - doubt_m).abs() < 1e-3;
        expect(on_edge || all.containment == expected, || {
            format!("{}: {:?}, {expected:?} by hand, {outside_m} m ±{doubt_m} m", zone.id, all.containment)
        })?;
    }
    Ok(())
}

fn here_binds(asked: &Asked<'_>) -> Result<(), String> {
    for one in &asked.binding {
        let zone = &asked.zones.zones()[one.number];
        let Some(all) = finding(&asked.all, zone) else { continue };
        let same = (all.in_force, all.displaced, all.binds) == (one.in_force, one.displaced, one.binds);
        expect(same, || format!("{}: {:?}, binding: {one:?}", zone.id, told(all)))?;
    }
    Ok(())
}

/// Whether a zone's rule binds, by the text of the rules: it binds who is inside while it is in force, if it binds their
/// access and no rule that itself binds displaces it. An override means a zone of its own file first, else of another.
fn modelled(asked: &Asked<'_>, number: usize) -> Tristate {
    let zones = asked.zones.zones();
    let zone = &zones[number];
    let access = match (zone.rule.binds.as_slice(), asked.access) {
        ([], _) => Tristate::Yes,
        (_, None) => Tristate::Undecided,
        (binds, Some(access)) => binds.contains(&access).into(),
    };
    let inside = asked.binding[number].inside;
    let reaches = inside.and(zone.in_force_at(asked.fix.time).answer).and(access);
    let displaces = |(other, over): (usize, &Zone)| {
        let cites = over.overrides.iter().any(|cited| cited.zone == zone.id);
        // in these sets every id is there once, and whoever overrides comes later
        if cites && other > number { modelled(asked, other) } else { Tristate::No }
    };
    let displaced = Tristate::any(zones.iter().enumerate().map(displaces));
    reaches.and(displaced.negated())
}

fn model_binds(asked: &Asked<'_>) -> Result<(), String> {
    for one in &asked.binding {
        let modelled = modelled(asked, one.number);
        expect(modelled == one.binds, || format!("{one:?}, the model says {modelled:?}"))?;
    }
    Ok(())
}

fn closes(zone: &Zone) -> bool {
    zone.rule.take == Take::Nothing
}

/// Anything may be taken, nothing is said against fish aboard or a way through, and there is no limit or condition.
fn restricts_nothing(zone: &Zone) -> bool {
    let rule = &zone.rule;
    let says_no_more = rule.limits.is_empty() && rule.conditions.is_empty() && rule.passage.is_none();
    let says_nothing_of_aboard =
        !matches!(rule.possession, Possession::Forbidden | Possession::WhileCrossing);
    rule.take == Take::Anything && says_no_more && says_nothing_of_aboard
}

fn water_by_binding(asked: &Asked<'_>) -> Result<(), String> {
    let any = |is: fn(&Zone) -> bool, binds: Tristate| {
        asked.binding.iter().filter(|one| one.binds == binds).any(|one| is(&asked.zones.zones()[one.number]))
    };
    let limits = |zone: &Zone| !closes(zone) && !restricts_nothing(zone);
    let perhaps_closed = asked
        .binding
        .iter()
        .filter(|one| one.binds == Tristate::Undecided && closes(&asked.zones.zones()[one.number]));
    let perhaps_closed = perhaps_closed.count();
    let water = asked.here.water;
    let expected: &[WaterStatus] = if any(closes, Tristate::Yes) {
        &[WaterStatus::Closed]
    } else if perhaps_closed > 1 {
        // in one of several closed zones, whichever it is
        &[WaterStatus::Undecided, WaterStatus::Closed]
    } else if perhaps_closed == 1 {
        &[WaterStatus::Undecided]
    } else if any(limits, Tristate::Yes) {
        &[WaterStatus::Restricted]
    } else if any(limits, Tristate::Undecided) {
        &[WaterStatus::Undecided]
    } else if any(restricts_nothing, Tristate::Undecided) {
        &[WaterStatus::Unzoned, WaterStatus::Undecided]
    } else {
        &[WaterStatus::Unzoned]
    };
    expect(expected.contains(&water), || format!("{water:?}, expected {expected:?}"))
}

/// Asks one question of everybody.
fn ask<'a>(made: &'a RandomZones, zones: &'a ZoneSet, dice: &mut Dice) -> Asked<'a> {
    let accuracy_m = dice.log_between(0.5, 100.0);
    let uncertainty = HorizontalUncertainty::given(accuracy_m, AccuracyKind::P95).unwrap();
    let fix = Fix::new(made.place(dice), uncertainty);
    // not in whole minutes: of a catch these are good to a minute only, and are asked of where the boat was in it
    let time = dice.chance(0.85).then(|| seasons::instant(dice) + SignedDuration::from_millis(1));
    let fix = fix.at_time(time);
    let access = dice.one_of(&[None, Some(Access::Boat), Some(Access::Shore), Some(Access::Diving)]);
    let fish = dice.one_of(&FISH);
    let question = Question::default().fish(fish).under(Circumstances { access, ..Circumstances::default() });
    let here = zones.assess(&fix, &question);
    let all = zones.assess(&fix, &question.listing_all_zones());
    let side = |(number, zone): (usize, &Zone)| ZoneHere {
        number,
        inside: finding(&all, zone).map_or(Tristate::No, |finding| finding.containment.into()),
    };
    let sides: Vec<ZoneHere> = zones.zones().iter().enumerate().map(side).collect();
    let binding = zones.binding_zones(&sides, fix.time, access);
    let tracked = by_track::Tracked::of(zones, &fix, access, fish);
    Asked { made, zones, fix, access, here, all, binding, tracked }
}

fn number_from_env(name: &str, default: u64) -> u64 {
    std::env::var(name).ok().map_or(default, |text| text.parse().expect("a whole number"))
}

#[test]
fn everybody_who_asks_what_binds_gets_the_same_answer() {
    let questions = number_from_env("TAKELINE_QUESTIONS", QUESTIONS);
    let first = number_from_env("TAKELINE_SEED", 1);
    let mut faults: BTreeMap<&str, (u64, String)> = BTreeMap::new();
    let mut waters: BTreeMap<String, u64> = BTreeMap::new();
    for seed in first..first + questions.div_ceil(QUESTIONS_PER_SET) {
        let mut dice = Dice::new(seed);
        let made = RandomZones::make(&mut dice);
        let zones = ZoneSet::new(made.zones.clone());
        for number in 0..QUESTIONS_PER_SET {
            let asked = ask(&made, &zones, &mut dice);
            *waters.entry(format!("{:?}", asked.here.water)).or_default() += 1;
            for (row, check) in ROWS.into_iter().chain(by_track::ROWS) {
                if let Err(what) = check(&asked) {
                    let (count, _) = faults.entry(row).or_insert_with(|| {
                        (
                            0,
                            format!(
                                "seed {seed}, question {number}, {}: {what}\n{}",
                                described(&asked),
                                set(&zones)
                            ),
                        )
                    });
                    *count += 1;
                }
            }
        }
    }
    println!(
        "{questions} questions from seed {first} on: {waters:?}; {} rows of {} broken",
        faults.len(),
        ROWS.len() + by_track::ROWS.len()
    );
    let report: Vec<String> =
        faults.iter().map(|(row, (count, first))| format!("{row}: {count} times, first {first}")).collect();
    assert!(faults.is_empty(), "{}", report.join("\n\n"));
}

fn described(asked: &Asked<'_>) -> String {
    let time: Option<Timestamp> = asked.fix.time;
    format!(
        "at {} {} ±{} at {time:?} from {:?}",
        asked.fix.position.latitude().degrees(),
        asked.fix.position.longitude().degrees(),
        asked.fix.uncertainty.radius_95(),
        asked.access
    )
}

fn set(zones: &ZoneSet) -> String {
    let one = |zone: &Zone| {
        format!(
            "  {} of {}: {:?}, line {}, {:?}, {:?}, {:?}, {:?}, over {:?}, {}",
            zone.id,
            zone.file.path,
            zone.rule,
            zone.line_uncertainty,
            zone.datum,
            zone.status,
            zone.effective,
            zone.when,
            zone.overrides.iter().map(|cited| cited.zone.0.as_str()).collect::<Vec<_>>(),
            match &zone.extent {
                takeline::zone::Extent::Known(boundary) => format!("{:.0} m²", boundary.area_m2()),
                takeline::zone::Extent::Unknown { somewhere_in, .. } =>
                    format!("unknown, somewhere: {}", somewhere_in.is_some()),
            }
        )
    };
    zones.zones().iter().map(one).collect::<Vec<_>>().join("\n")
}
