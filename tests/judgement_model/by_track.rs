//! A log of one fix, and a fish caught at it, against what `here` and the binding function say.

use takeline::binding::BindingZone;
use takeline::rule::Access;
use takeline::track::{
    Audit, Auditor, CatchEntry, CatchFinding, CatchJoin, CatchSettings, Certainty, LogPlace, LoggedFix,
    TrackSettings, Visit,
};
use takeline::zone::{Extent, ZoneSet};
use takeline::{Fix, TakeAnswer, Tristate, WaterStatus};

use super::{Asked, Row, closes, expect};

/// What a track of one fix and a catch log of one row say.
pub(super) struct Tracked {
    audit: Audit,
    caught: CatchFinding,
}

impl Tracked {
    pub(super) fn of(zones: &ZoneSet, fix: &Fix, access: Option<Access>, fish: &str) -> Self {
        let settings = TrackSettings { access, ..TrackSettings::default() };
        let logged = LoggedFix {
            position: fix.position,
            time: fix.time,
            time_between: None,
            jump_kn: None,
            uncertainty: Some(fix.uncertainty),
            hdop: None,
            speed_m_per_s: None,
            place: LogPlace::default(),
        };
        let mut auditor = Auditor::new(zones, settings);
        let _events = auditor.push(logged);
        Self { audit: auditor.finish(), caught: caught(zones, settings, &logged, fish) }
    }
}

/// What agreement means.
pub(super) const ROWS: [Row; 4] = [
    (
        "the audit has a visit for each zone that the fix is surely or perhaps in, and no other",
        visits_by_side,
    ),
    ("the visit is in force, and binds, as here says", visits_bind),
    (
        "closed water is a certain visit of a closing zone that binds, or perhaps one of several",
        closed_by_visits,
    ),
    ("the catch is answered as here answers, or worse where it may not be aboard", catch_as_here),
];

fn visit(audit: &Audit, number: usize) -> Vec<&Visit> {
    audit.visits.iter().filter(|visit| visit.zone_number == number).collect()
}

/// A zone that may be anywhere makes no visit: whoever tells the answer says that of it once, for the whole log.
fn may_be_anywhere(asked: &Asked<'_>, number: usize) -> bool {
    matches!(asked.zones.zones()[number].extent, Extent::Unknown { somewhere_in: None, .. })
}

fn visits_by_side(asked: &Asked<'_>) -> Result<(), String> {
    for one in asked.binding.iter().filter(|one| !may_be_anywhere(asked, one.number)) {
        let visits = visit(&asked.tracked.audit, one.number);
        let sure: Vec<Certainty> = visits.iter().map(|visit| visit.certainty).collect();
        let expected: &[Certainty] = match one.inside {
            Tristate::Yes => &[Certainty::Certain],
            Tristate::Undecided => &[Certainty::Possible],
            Tristate::No => &[],
        };
        expect(sure == expected, || format!("{}: {:?}, visits: {sure:?}", one.number, one.inside))?;
    }
    Ok(())
}

fn visits_bind(asked: &Asked<'_>) -> Result<(), String> {
    for one in &asked.binding {
        for visit in visit(&asked.tracked.audit, one.number) {
            let same = (visit.in_force, visit.binds) == (one.in_force, one.binds);
            expect(same, || {
                format!("{one:?}, visit: in force {:?}, binds {:?}", visit.in_force, visit.binds)
            })?;
        }
    }
    Ok(())
}

fn closed_by_visits(asked: &Asked<'_>) -> Result<(), String> {
    let closing: Vec<&Visit> = asked
        .tracked
        .audit
        .visits
        .iter()
        .filter(|visit| closes(&asked.zones.zones()[visit.zone_number]))
        .collect();
    let certain =
        closing.iter().any(|visit| visit.binds == Tristate::Yes && visit.certainty == Certainty::Certain);
    let perhaps = closing.iter().filter(|visit| visit.binds != Tristate::No).count();
    let agrees = match asked.here.water {
        WaterStatus::Closed => certain || perhaps > 1,
        WaterStatus::Undecided => {
            let may_bind =
                |one: &BindingZone| one.binds != Tristate::No && may_be_anywhere(asked, one.number);
            let visited = asked.tracked.audit.visits.iter().any(|visit| visit.binds != Tristate::No);
            !certain && (visited || asked.binding.iter().any(may_bind))
        }
        WaterStatus::Restricted | WaterStatus::Unzoned => perhaps == 0,
    };
    expect(agrees, || format!("{:?}, certain: {certain}, perhaps: {perhaps}", asked.here.water))
}

fn catch_as_here(asked: &Asked<'_>) -> Result<(), String> {
    let Some(here) = asked.here.take.first() else { return Err("here says nothing of the fish".to_owned()) };
    let caught = asked.tracked.caught.answer;
    let may_be_kept = matches!(here.answer, TakeAnswer::Keep | TakeAnswer::Unzoned);
    let carried = may_be_kept
        && here.possession != Tristate::Yes
        && matches!(caught, TakeAnswer::Release | TakeAnswer::Undecided);
    expect(caught == here.answer || carried, || {
        format!(
            "here {:?}, aboard {:?}; the catch {caught:?}: {:?}",
            here.answer, here.possession, asked.tracked.caught.because
        )
    })
}

fn caught(zones: &ZoneSet, track: TrackSettings, fix: &LoggedFix, fish: &str) -> CatchFinding {
    // a row without a time brings its place; its accuracy is then that of the settings
    let position = if fix.time.is_none() { Some(fix.position) } else { None };
    let entry = CatchEntry { time: fix.time, position, ..CatchEntry::named(2, fish) };
    let track = TrackSettings { uncertainty: fix.uncertainty.unwrap(), ..track };
    let settings =
        CatchSettings { track, access: track.access, measuring_error_cm: 0.0, ..CatchSettings::default() };
    let mut join = CatchJoin::new(zones, vec![entry], settings);
    join.push(fix);
    join.finish().remove(0)
}
