//! A visit that goes on.

use super::course::{Course, DeepFixes, Steps, is_over_one_side};
use super::leg::Leg;
use super::movement::Movement;
use super::pace::{Paces, Slownesses};
use super::shore::{AtShore, ShoreStays};
use super::stay::{Stay, Stays};
use super::{
    Certainty, Direction, Evidence, Gap, LoggedMoment, Motion, OffTheWay, OpenEnd, RuledTime, TrackSettings,
    Visit, VisitEnd, VisitSpan,
};
use crate::zone::{Extent, Zone};
use crate::{Metres, Tristate};

/// A distance to the line, and where and when.
#[derive(Debug, Clone, Copy)]
pub(super) struct Near {
    pub(super) distance_m: f64,
    pub(super) doubt_m: f64,
    pub(super) at: LoggedMoment,
}

/// A visit that goes on.
#[derive(Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each tells something apart, and any of them go together")]
pub(super) struct Open {
    /// Every moment at which the boat was perhaps inside.
    span: VisitSpan,
    /// The passing of the line inwards, if nothing of the line was known before it.
    in_by: Option<(LoggedMoment, VisitEnd)>,
    /// The passing outwards, if nothing of the line was known after it.
    out_by: Option<(LoggedMoment, VisitEnd)>,
    /// Whether anything is known of the line yet: a crossing, a fix inside it, or a gap.
    is_line_known: bool,
    pub(super) evidence: Evidence,
    certain_s: f64,
    possible_s: f64,
    /// Whether some of it has no times.
    is_untimed: bool,
    is_certain: bool,
    /// Whether an event has said so.
    is_announced: bool,
    /// Whether a suspect fix was perhaps inside.
    has_suspect: bool,
    pub(super) deepest: Near,
    path_m: f64,
    crossings: Vec<usize>,
    pub(super) outside_s: f64,
    movement: Movement,
    steps: Steps,
    /// The same with what was carried to the water, if anything perhaps was.
    all_steps: Option<Box<Steps>>,
    deep: DeepFixes,
    /// How deep the last fix surely lay, and how far off that may be, in metres.
    depth_m: (f64, f64),
    /// Whether the log begins, and ends, inside.
    pub(super) is_cut: (bool, bool),
    /// What the terms of a crossing ask.
    paces: Paces,
    /// The last leg that was looked at for that.
    paced: Option<u64>,
    had_gap: bool,
    /// Gaps that are listed.
    pub(super) gaps: u64,
    stays: Stays,
    /// When the boat was at the shore.
    shore: ShoreStays,
    ruled: Vec<RuledTime>,
    /// Whether a fix, the straight way or a gap came within the doubt of the line, and it is not known from strays alone.
    is_on_the_way: bool,
    /// The leg off which the boat can have come farthest in, and how far that is, in metres.
    farthest_in: Option<(f64, OffTheWay)>,
    /// The number of the last leg that it may have left for the zone.
    strayed_on: Option<u64>,
    /// What has to be said about the ends of the log.
    at_the_ends: Vec<Motion>,
}

/// A visit that has ended, its rule not yet asked.
#[derive(Debug)]
pub(super) struct Closed {
    pub(super) visit: Visit,
    pub(super) stays: Stays,
    /// How long it can have been slow, as far as the terms of a crossing ask.
    pub(super) slow: Slownesses,
    /// Whether not all of it was logged.
    pub(super) had_gap: bool,
}

impl Open {
    pub(super) fn new(first: Near, evidence: Evidence, paces: Paces) -> Self {
        Self {
            span: VisitSpan::at(first.at),
            in_by: None,
            out_by: None,
            is_line_known: false,
            evidence,
            certain_s: 0.0,
            possible_s: 0.0,
            is_untimed: false,
            is_certain: false,
            is_announced: false,
            has_suspect: false,
            deepest: first,
            path_m: 0.0,
            crossings: Vec::new(),
            outside_s: 0.0,
            movement: Movement::default(),
            steps: Steps::default(),
            all_steps: None,
            deep: DeepFixes::default(),
            depth_m: (f64::NEG_INFINITY, 0.0),
            is_cut: (false, false),
            paces,
            paced: None,
            had_gap: false,
            gaps: 0,
            stays: Stays::default(),
            shore: ShoreStays::default(),
            ruled: Vec::new(),
            is_on_the_way: false,
            farthest_in: None,
            strayed_on: None,
            at_the_ends: Vec::new(),
        }
    }

    /// A moment at which the boat was surely or perhaps inside.
    pub(super) fn be_inside(&mut self, near: Near, certainty: Certainty) {
        self.is_certain |= certainty == Certainty::Certain;
        self.is_on_the_way = true;
        self.span.include(near.at);
        if self.evidence == Evidence::Gap {
            // from now on more is known than what a gap let it reach, and how deep that was
            self.evidence = Evidence::BetweenFixes;
            self.deepest = near;
        }
        if near.distance_m < self.deepest.distance_m {
            self.deepest = near;
        }
    }

    /// A fix, and where it stands.
    pub(super) fn at_fix(&mut self, near: Near, certainty: Certainty, stay: Stay) {
        self.be_inside(near, certainty);
        self.evidence = Evidence::Fixes;
        if self.paces.is_asked() {
            self.paces.at((near.at.position, near.at.time), near.doubt_m);
        }
        self.step(near.at, near.doubt_m);
        self.note_depth(near.at, (near.distance_m, near.doubt_m));
        self.stays.push(stay, certainty);
        if certainty == Certainty::Certain {
            self.stays.be_firm(stay);
        }
        if near.distance_m <= 0.0 {
            self.know_the_line();
        }
    }

    /// Counts a fix that lies deep.
    pub(super) fn note_depth(&mut self, at: LoggedMoment, (distance_m, doubt_m): (f64, f64)) {
        self.depth_m = (-distance_m, doubt_m);
        // at the shore a boat may lie on it, however deep inside that is drawn
        if !self.shore.goes_on() {
            self.deep.push(at, (distance_m, doubt_m));
        }
    }

    /// A fix, and where it lies of the shore.
    pub(super) fn at_shore(&mut self, at: LoggedMoment, told: AtShore) {
        self.shore.push(at, told);
        // what is done on the beach and what is done afloat are two movements
        self.movement.tell_apart(told != AtShore::Off);
    }

    /// One more place on the way; what is carried to the water does not count if it was.
    fn step(&mut self, at: LoggedMoment, doubt_m: f64) {
        if self.shore.is_all_so_far() {
            self.all_steps.get_or_insert_with(|| Box::new(self.steps.clone())).push(at, doubt_m);
            return;
        }
        self.steps.push(at, doubt_m);
        if let Some(all_steps) = &mut self.all_steps {
            all_steps.push(at, doubt_m);
        }
    }

    /// A fix that was not measured, because nothing can have changed: it lies no less deep than the last but for the way to it.
    pub(super) fn skip_fix(&mut self, leg: &Leg) {
        let (depth_m, doubt_m) = self.depth_m;
        self.depth_m.0 = depth_m - leg.length_m;
        if !self.shore.goes_on() {
            self.deep.push(leg.instant(1.0), (leg.length_m - depth_m, doubt_m + leg.radii_m[1]));
        }
    }

    /// Counts the part of a leg between two shares of its way.
    pub(super) fn pass(&mut self, leg: &Leg, (from, to): (f64, f64), certainty: Certainty) {
        self.outside_s = 0.0;
        self.is_untimed |= leg.seconds().is_none();
        let seconds = leg.seconds().unwrap_or(0.0) * (to - from);
        self.possible_s += seconds;
        if certainty == Certainty::Certain {
            self.certain_s += seconds;
        }
        self.path_m += leg.length_m * (to - from);
        self.movement.push(leg, (from, to));
        self.step(leg.instant(from), leg.radii_m[0]);
        self.step(leg.instant(to), leg.radii_m[1]);
        self.pace(leg);
        self.stays.push(leg.stay(from, to), certainty);
        self.span.include(leg.instant(to));
    }

    /// Looks at both fixes of a leg, wherever they lie, for what the terms of a crossing ask.
    fn pace(&mut self, leg: &Leg) {
        // a leg comes once for each of its parts
        if self.paces.is_asked() && self.paced.replace(leg.number) != Some(leg.number) {
            self.paces.push(&leg.from, leg.radii_m[0]);
            self.paces.push(&leg.to, leg.radii_m[1]);
        }
    }

    /// A part of the way on which the boat was surely inside even if it left the straight way.
    pub(super) fn be_firm(&mut self, stay: Stay) {
        self.stays.be_firm(stay);
    }

    /// A part of a leg on which the boat may have left the straight way for the zone, with how far in it can have come.
    ///
    /// Neither way nor movement is counted: on the straight way it was outside.
    pub(super) fn stray(
        &mut self,
        leg: &Leg,
        (from, to): (f64, f64),
        (near, in_m, off): (Near, f64, OffTheWay),
    ) {
        self.outside_s = 0.0;
        self.pace(leg);
        self.possible_s += leg.seconds().unwrap_or(0.0) * (to - from);
        // one leg after another beside the line is one stay, so that visits do not grow with the log
        let goes_on = self.strayed_on.is_some_and(|last| last + 1 >= leg.number);
        self.strayed_on = Some(leg.number);
        if goes_on {
            self.stays.go_on(leg.stay(from, to));
        } else {
            self.stays.push(leg.stay(from, to), Certainty::Possible);
        }
        self.span.include(leg.instant(from));
        self.span.include(leg.instant(to));
        if near.distance_m < self.deepest.distance_m {
            self.deepest = near;
        }
        if self.farthest_in.is_none_or(|(so_far_m, _)| in_m > so_far_m) {
            self.farthest_in = Some((in_m, off));
        }
    }

    /// Nothing joins what comes next to what was before.
    pub(super) fn break_off(&mut self) {
        self.had_gap = true;
        self.strayed_on = None;
        self.shore.break_off();
    }

    /// A crossing, by its number in the audit.
    pub(super) fn cross(&mut self, number: usize, (direction, at): (Direction, LoggedMoment)) {
        self.crossings.push(number);
        self.pass_over((direction, at), VisitEnd::Crossing);
    }

    /// The straight way goes over the line, be it where a boat does not.
    pub(super) fn pass_over(&mut self, (direction, at): (Direction, LoggedMoment), over: VisitEnd) {
        let is_first = !self.is_line_known;
        self.know_the_line();
        match direction {
            Direction::In if is_first => self.in_by = Some((at, over)),
            Direction::In => {}
            Direction::Out => self.out_by = Some((at, over)),
        }
    }

    /// A time in which nothing was logged, and the boat may have been inside for so long.
    pub(super) fn gap(&mut self, possible_s: Option<f64>, stay: Stay, ends: [LoggedMoment; 2]) {
        self.know_the_line();
        self.had_gap = true;
        self.shore.break_off();
        self.is_on_the_way = true;
        self.outside_s = 0.0;
        self.is_untimed |= possible_s.is_none();
        self.possible_s += possible_s.unwrap_or(0.0);
        self.paces.silence(stay.from.time, stay.to.time);
        self.stays.push(stay, Certainty::Possible);
        for end in ends {
            self.span.include(end);
        }
    }

    /// The time between two trips comes next, which is not judged.
    pub(super) fn pause(&mut self) {
        self.paces.pause();
    }

    /// Says of a time at an end of the log what it was.
    pub(super) fn remark(&mut self, gap: &Gap, settings: &TrackSettings) {
        let Some((open, seconds)) = gap.open.zip(gap.seconds) else { return };
        let (duration_s, top_speed_kn) = (seconds, settings.top_speed_kn);
        self.at_the_ends.push(match open {
            OpenEnd::BeforeTheFirst => Motion::NoPlaceBeforeFirstFix { duration_s, top_speed_kn },
            OpenEnd::AfterTheLast => Motion::NoPlaceAfterLastFix { duration_s, top_speed_kn },
            OpenEnd::Repeats => Motion::RepeatsOnePlace { duration_s },
        });
    }

    /// A time in which nothing was logged, and the zone was out of reach.
    pub(super) fn gap_outside(&mut self, seconds: f64) {
        self.had_gap = true;
        self.outside_s += seconds;
    }

    /// A suspect fix, perhaps inside; counted with the time since another one just before it.
    pub(super) fn suspect(&mut self, near: Near, seconds: f64) {
        self.has_suspect = true;
        self.possible_s += seconds;
        // what has no time is bounded by what has one
        let is_timed = near.at.time.is_some();
        self.is_untimed |= !is_timed && self.last().time.is_none();
        if is_timed || self.is_untimed {
            self.span.include(near.at);
        }
        if self.evidence == Evidence::BetweenFixes && !self.is_on_the_way {
            // a fix tells more than the way that the boat may have made off the straight one
            self.evidence = Evidence::Fixes;
        }
        if near.distance_m < self.deepest.distance_m {
            self.deepest = near;
        }
    }

    /// Whether it is certain and no event has said so yet; from now on one has.
    pub(super) fn is_to_announce(&mut self) -> bool {
        let is_news = self.is_certain && !self.is_announced;
        self.is_announced = self.is_certain;
        is_news
    }

    pub(super) fn is_certain(&self) -> bool {
        self.is_certain
    }

    /// What the rule says at a suspect fix: one more moment to ask it of, or the going on of the one before.
    pub(super) fn note_ruled(&mut self, ruled: RuledTime, merge_within_s: f64) {
        match self.ruled.last_mut() {
            Some(last) if last.takes_in(&ruled, merge_within_s) => last.to = ruled.to,
            _ => self.ruled.push(ruled),
        }
    }

    /// The last moment so far.
    pub(super) fn last(&self) -> LoggedMoment {
        self.span.left()
    }

    fn know_the_line(&mut self) {
        self.is_line_known = true;
        self.out_by = None;
    }

    /// How it began and how it ended.
    fn ends(&self) -> (VisitEnd, VisitEnd) {
        let at_shore = self.shore.ends_at_shore();
        let end = |over: Option<(LoggedMoment, VisitEnd)>, is_at_shore: bool, is_cut: bool| match over {
            Some((_, over)) => over,
            None if is_at_shore => VisitEnd::Shore,
            None if is_cut => VisitEnd::Log,
            None => VisitEnd::InDoubt,
        };
        (end(self.in_by, at_shore.0, self.is_cut.0), end(self.out_by, at_shore.1, self.is_cut.1))
    }

    pub(super) fn close(self, zone: &Zone, number: usize) -> Closed {
        let (began_at, ended_at) = self.ends();
        let is_shore = [began_at, ended_at].map(|end| end == VisitEnd::Shore);
        let shore = self.shore.finish((is_shore[0], is_shore[1]));
        let moved = self.movement.finish(&shore);
        let is_placed = matches!(zone.extent, Extent::Known(_));
        let span = VisitSpan::of(
            self.in_by.map_or_else(|| self.span.entered(), |(at, _)| at),
            self.out_by.map_or_else(|| self.span.left(), |(at, _)| at),
        );
        // a zone that nothing but the time between two fixes lets it have been in
        let off_the_way =
            self.farthest_in.filter(|_| !self.is_on_the_way && !self.has_suspect).map(|(_, off)| off);
        let off_m = off_the_way.map_or(0.0, |off| off.reach.metres());
        let came_in = !self.is_cut.0 && began_at != VisitEnd::Shore;
        let went_out = !self.is_cut.1 && ended_at != VisitEnd::Shore;
        let is_in_doubt = [began_at, ended_at].iter().any(|end| *end != VisitEnd::Crossing);
        let over_one_side =
            came_in && went_out && came_and_went_over_one_side(zone, &span, (&self.deepest, is_in_doubt));
        let all_steps = self.all_steps.filter(|_| !shore.is_launched);
        let steps = all_steps.map_or(self.steps, |all_steps| *all_steps);
        let course = steps.finish([span.entered(), span.left()], (came_in, went_out));
        let course = Course { began_at, ended_at, over_one_side, at_shore_s: shore.seconds(), ..course };
        let timed = |seconds: f64| (!self.is_untimed && span.entered().time.is_some()).then_some(seconds);
        let visit = Visit {
            zone: zone.id.clone(),
            zone_number: number,
            certainty: if self.is_certain { Certainty::Certain } else { Certainty::Possible },
            evidence: self.evidence,
            is_suspect: self.has_suspect && !self.is_on_the_way,
            off_the_way,
            span,
            certain_s: timed(self.certain_s),
            possible_s: timed(self.possible_s),
            deepest: is_placed.then(|| Metres::computed(0.0 - self.deepest.distance_m)),
            deepest_uncertainty_95: Metres::computed(self.deepest.doubt_m + off_m),
            path: Metres::computed(self.path_m),
            course,
            deep: self.deep,
            gaps: self.gaps,
            speeds: moved.speeds(),
            stops: moved.stops(TrackSettings::STOP_BELOW_KN),
            crossings: self.crossings,
            in_force: Tristate::Undecided,
            in_force_because: Vec::new(),
            in_force_certain_s: None,
            in_force_possible_s: None,
            binds_certain_s: None,
            binds_possible_s: None,
            binds: Tristate::Undecided,
            binds_because: Vec::new(),
            displaced_by: Vec::new(),
            ruled: self.ruled,
            conditions: Vec::new(),
            movement: moved.motions().into_iter().chain(self.at_the_ends).collect(),
        };
        Closed {
            visit,
            stays: self.stays,
            slow: self.paces.finish((self.in_by.is_none(), self.out_by.is_none()), &shore),
            had_gap: self.had_gap,
        }
    }
}

/// Whether a visit that was so deep at most came in and went out over one side of its zone; the doubt of how deep counts where
/// its ends are in doubt.
fn came_and_went_over_one_side(zone: &Zone, span: &VisitSpan, (deepest, is_in_doubt): (&Near, bool)) -> bool {
    let ends_doubt_m = if is_in_doubt { deepest.doubt_m } else { 0.0 };
    let ends = [span.entered().position, span.left().position];
    match &zone.extent {
        Extent::Known(boundary) => is_over_one_side(boundary, ends, (-deepest.distance_m, ends_doubt_m)),
        Extent::Unknown { .. } => false,
    }
}
