use takeline::{Assessment, Containment, Kleene, Water, ZoneFinding};

/// Returns the zone that the answer hangs on: the one somebody has to know about first.
pub(crate) fn deciding_zone(assessment: &Assessment) -> Option<&ZoneFinding> {
    let zones = &assessment.zones;
    let first = |wanted: fn(&ZoneFinding) -> bool| zones.iter().find(|zone| wanted(zone));
    let preferred = match assessment.water {
        Water::Closed => first(|zone| binds(zone) && zone.nothing_may_be_taken)
            .or_else(|| first(|zone| zone.binds != Kleene::No && zone.nothing_may_be_taken))
            .or_else(|| first(binds)),
        Water::Limited => first(|zone| binds(zone) && !zone.nothing_may_be_taken).or_else(|| first(binds)),
        Water::Undecided => first(|zone| zone.containment == Containment::Undecided && may_be_in_force(zone))
            .or_else(|| first(|zone| zone.containment == Containment::Inside && may_be_in_force(zone))),
        Water::NoLoadedZone => first(|zone| zone.containment == Containment::Inside),
    };
    preferred.or_else(|| zones.first())
}

/// Whether the zone's rule surely binds here, and restricts anything.
pub(crate) fn binds(zone: &ZoneFinding) -> bool {
    zone.binds == Kleene::Yes && !zone.restricts_nothing
}

fn may_be_in_force(zone: &ZoneFinding) -> bool {
    zone.in_force != Kleene::No
}
