use takeline::{Assessment, Containment, Tristate, WaterStatus, ZoneFinding};

/// Returns the zone that the answer hangs on: the one somebody has to know about first.
pub(crate) fn deciding_zone(assessment: &Assessment) -> Option<&ZoneFinding> {
    let zones = &assessment.zones;
    let first = |wanted: fn(&ZoneFinding) -> bool| zones.iter().find(|zone| wanted(zone));
    let preferred = match assessment.water {
        WaterStatus::Closed => first(|zone| binds(zone) && zone.nothing_may_be_taken)
            .or_else(|| first(|zone| zone.binds != Tristate::No && zone.nothing_may_be_taken))
            .or_else(|| first(binds)),
        WaterStatus::Restricted => {
            first(|zone| binds(zone) && !zone.nothing_may_be_taken).or_else(|| first(binds))
        }
        WaterStatus::Undecided => {
            first(|zone| zone.containment == Containment::Undecided && may_be_in_force(zone))
                .or_else(|| first(|zone| zone.containment == Containment::Inside && may_be_in_force(zone)))
        }
        WaterStatus::Unzoned => first(|zone| zone.containment == Containment::Inside),
    };
    preferred.or_else(|| zones.first())
}

/// Whether the zone's rule surely binds here, and restricts anything.
pub(crate) fn binds(zone: &ZoneFinding) -> bool {
    zone.binds == Tristate::Yes && !zone.restricts_nothing
}

fn may_be_in_force(zone: &ZoneFinding) -> bool {
    zone.in_force != Tristate::No
}
