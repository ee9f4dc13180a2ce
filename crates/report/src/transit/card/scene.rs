//! What an eye sees of the marks abreast of the middle of the stretch, and on which side of the boundaries it is there.
//!
//! A view is called inside or outside only where that is sure of the place that it is drawn for, the uncertainty of the marks and
//! all that the eye does not see counted. What the marks are taken to say, and where the boat is, are two things.

use takeline::transit::{Look, RangeLine, Seen, Side, Sight, TransitReport};
use takeline::zone::ZoneId;
use takeline::{
    AccuracyKind, Containment, Fix, HorizontalUncertainty, Metres, Question, Tristate, ZoneFinding, ZoneSet,
};

use super::half_sheet;
use crate::figures;
use crate::transit::document::TransitDocument;
use crate::transit::headline;
use crate::transit::phrases::{self, metres};
use crate::words::Spoken;

/// A sketch is drawn from so many times the offset at which the eye sees the marks open.
const TIMES_THRESHOLD: f64 = 3.0;
/// How many places abreast are tried for one that is surely inside.
const TRIES: u8 = 40;
/// Each place that is tried lies so many times as far off the line as the one before.
const STEP: f64 = 1.1;

/// Where a view is from with respect to the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    /// On the zone's side and surely inside it, where the marks have only just opened does not show that.
    WellOver,
    /// On the zone's side, where the marks have just opened.
    TowardZone,
    OnTheLine,
    /// On the other side, as far off.
    Away,
}

/// What is seen from one place.
#[derive(Debug, Clone)]
pub(super) struct View {
    pub(super) standing: Standing,
    /// How far to the right of the line the place is, as somebody looks at the marks; to the left negative.
    pub(super) to_the_right: Metres,
    pub(super) seen: Seen,
    /// What that is to the eye of the question.
    pub(super) look: Look,
    pub(super) place: Place,
}

/// On which side of the boundaries a place is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Place {
    /// Inside where that is sure of any zone, outside where it is sure of all.
    pub(super) side: Containment,
    /// The zone that the figures are of; none where no zone is near enough to be named.
    pub(super) zone: Option<ZoneId>,
    name: String,
    /// How far the boundary is; none if it is not known.
    pub(super) off: Option<Metres>,
    pub(super) uncertainty_95: Metres,
}

/// Both marks from several places, abreast of the middle of the stretch.
#[derive(Debug, Clone)]
pub(super) struct Scene<'a> {
    pub(super) distance_from_front: Metres,
    /// From well inside, if there is such a place, through the line to the other side.
    pub(super) views: Vec<View>,
    /// How the tops of the front and the rear mark stand over the level line; none without both heights.
    pub(super) sights: Option<[Sight; 2]>,
    /// How far below the level line the horizon is, in minutes of arc.
    pub(super) dip_arcmin: f64,
    /// The zone that the marks are for.
    meant: ZoneId,
    /// The words that it is described in.
    pub(super) words: Spoken<'a>,
}

impl<'a> Scene<'a> {
    /// Looks at the marks; the error says in a sentence why there is nothing to sketch.
    pub(super) fn of(document: &TransitDocument<'a>, zones: &ZoneSet) -> Result<Self, String> {
        let report = document.report;
        half_sheet::check(report, zones).map_err(|error| phrases::sentence(&error.to_string()))?;
        let no_side = || document.no_side_because.clone();
        let rear_shows = headline::side_inside(report).ok_or_else(no_side)?;
        let (meant, _) = headline::opening(report).ok_or_else(no_side)?;
        let abreast = Abreast::of(document, zones, &meant.id)?;
        let views = abreast.views(rear_shows).ok_or_else(|| {
            format!(
                "From neither side of the line does the rear mark show {} of the front mark.",
                document.words.left_or_right(rear_shows)
            )
        })?;
        let (line, eye, distance) = (&report.line, report.question.eye, abreast.distance);
        let tops = line.front().height.zip(line.rear().height);
        let on_line = abreast.view(Standing::OnTheLine, 0.0).seen;
        let sights = tops.map(|(front, rear)| {
            [eye.sight(front, on_line.front_distance), eye.sight(rear, on_line.rear_distance)]
        });
        let dip_arcmin = -eye.sight(Metres::ZERO, eye.horizon()).elevation.arcmin();
        let meant = meant.id.clone();
        Ok(Self { distance_from_front: distance, views, sights, dip_arcmin, meant, words: document.words })
    }

    /// Whether the front mark stands before the rear mark's top.
    pub(super) fn front_hides_rear(&self) -> bool {
        self.sights.is_some_and(|[front, rear]| rear.elevation.arcmin() <= front.elevation.arcmin())
    }

    /// Whether each mark stands over the horizon, as far as is known.
    pub(super) fn in_sight(&self) -> [bool; 2] {
        self.sights.map_or([true, true], |sights| sights.map(|sight| sight.in_sight))
    }

    /// What the pictures do not show right, one sentence each.
    pub(super) fn remarks(&self) -> Vec<String> {
        let [front, rear] = self.in_sight();
        let mut remarks = Vec::new();
        for (is_seen, which) in [(front, "front"), (rear, "rear")] {
            if !is_seen {
                remarks.push(format!("The {which} mark is below the horizon from there."));
            }
        }
        if front && rear && self.front_hides_rear() {
            remarks.push("In line, the front mark hides the rear one there.".into());
        }
        if self.sights.is_none() {
            remarks.push("The heights of the marks are not known, so they are not drawn to scale.".into());
        }
        remarks
    }

    /// How far from the front mark all this is seen.
    pub(super) fn away(&self) -> String {
        phrases::along(self.words, self.distance_from_front)
    }

    /// The name of the zone that the figures of a view are of, where that is not the one the marks are for.
    pub(super) fn other_zone(&self, view: &View) -> Option<String> {
        let is_other = view.place.zone.as_ref().is_some_and(|zone| *zone != self.meant);
        is_other.then(|| phrases::name(&view.place.name))
    }
}

/// The places abreast of the middle of the stretch.
struct Abreast<'r> {
    report: &'r TransitReport,
    zones: &'r ZoneSet,
    meant: &'r ZoneId,
    distance: Metres,
    /// How far off the line the marks are drawn just open, in metres.
    open_m: f64,
    /// How far off the line the eye sees them open, in metres.
    threshold_m: f64,
}

impl<'r> Abreast<'r> {
    fn of(document: &TransitDocument<'r>, zones: &'r ZoneSet, meant: &'r ZoneId) -> Result<Self, String> {
        let report = document.report;
        let (line, threshold) = (&report.line, report.question.eye.threshold());
        let distance = report.question.stretch.middle();
        let at_threshold = line.offset_for(distance, threshold).ok_or_else(|| {
            format!(
                "At {} from the front mark these marks never open by the {} minutes of arc that the eye needs.",
                phrases::along(document.words, distance),
                phrases::arcmin(threshold)
            )
        })?;
        let threshold_m = at_threshold.metres();
        let open_m = (TIMES_THRESHOLD * threshold_m).ceil().max(1.0);
        let open_m = open_m.min(widest_m(line, distance).max(threshold_m));
        Ok(Self { report, zones, meant, distance, open_m, threshold_m })
    }

    /// The views, from the zone's side to the other; none if the rear mark shows to that side from neither.
    fn views(&self, rear_shows: Side) -> Option<Vec<View>> {
        let shows_inside =
            |right_m: &f64| self.view(Standing::TowardZone, *right_m).side() == Some(rear_shows);
        let toward_m = [self.open_m, -self.open_m].into_iter().find(shows_inside)?;
        let toward = self.view(Standing::TowardZone, toward_m);
        let well_over = if toward.place.side == Containment::Inside {
            None
        } else {
            // nobody gets inside by less than the way to the nearest boundary
            let off_m = toward.place.off.map_or(0.0, |off| off.metres().max(0.0));
            self.well_over((toward_m.signum(), self.open_m + off_m), rear_shows)
        };
        let rest = [toward, self.view(Standing::OnTheLine, 0.0), self.view(Standing::Away, -toward_m)];
        Some(well_over.into_iter().chain(rest).collect())
    }

    /// The nearest of the places tried that is surely inside the zone that the marks are for, and from which the marks are open.
    fn well_over(&self, (way, from_m): (f64, f64), rear_shows: Side) -> Option<View> {
        let farthest_m = widest_m(&self.report.line, self.distance).min(self.distance.metres());
        let places = std::iter::successors(Some(from_m), |off_m| Some(off_m * STEP));
        places
            .take(usize::from(TRIES))
            .map(two_digits_up_m)
            .take_while(|off_m| *off_m <= farthest_m)
            .map(|off_m| self.view(Standing::WellOver, way * off_m))
            .find(|view| {
                view.side() == Some(rear_shows)
                    && view.place.side == Containment::Inside
                    && view.place.zone.as_ref() == Some(self.meant)
            })
    }

    fn view(&self, standing: Standing, right_m: f64) -> View {
        let (line, eye) = (&self.report.line, self.report.question.eye);
        let to_the_right = metres(right_m);
        let position = line.beside(self.distance, to_the_right);
        let seen = line.seen_from(position);
        // the farther aside, the longer the way to the marks
        let marks_m =
            line.uncertainty_95(self.distance).metres() * (1.0 + right_m.abs() / self.distance.metres());
        let uncertainty_m = marks_m + self.threshold_m;
        let place = HorizontalUncertainty::given(uncertainty_m, AccuracyKind::P95).map_or_else(
            |_| Place::unknown(metres(uncertainty_m)),
            |uncertainty| {
                let fix = Fix::new(position, uncertainty).at_time(self.report.question.time);
                Place::of(
                    &self.zones.assess(&fix, &Question::default()).zones,
                    self.meant,
                    metres(uncertainty_m),
                )
            },
        );
        let place = if standing == Standing::OnTheLine { self.as_reported(place) } else { place };
        View { standing, to_the_right, seen, look: seen.look(eye.threshold()), place }
    }

    /// On the line nothing is called outside that the report does not surely find so.
    fn as_reported(&self, place: Place) -> Place {
        let middles = self.report.zones.iter().map(|zone| zone.middle);
        let is_open = middles.flatten().any(|middle| middle.margin() <= Metres::ZERO);
        let side = match place.side {
            Containment::Outside if is_open => Containment::Undecided,
            Containment::Inside | Containment::Outside | Containment::Undecided => place.side,
        };
        Place { side, ..place }
    }
}

impl Place {
    /// A place of which nothing is known.
    fn unknown(uncertainty_95: Metres) -> Self {
        Self { side: Containment::Undecided, zone: None, name: String::new(), off: None, uncertainty_95 }
    }

    /// Inside of one zone is inside; outside is outside of all that may be in force then. The figures are those of the zone that
    /// decides, the one meant before others and the nearest before the rest.
    fn of(findings: &[ZoneFinding], meant: &ZoneId, uncertainty_95: Metres) -> Self {
        let counted: Vec<&ZoneFinding> =
            findings.iter().filter(|finding| finding.in_force != Tristate::No).collect();
        let deciding = |side: Containment| {
            let of_side = || counted.iter().filter(|finding| finding.containment == side);
            of_side().find(|finding| finding.zone.id == *meant).or_else(|| of_side().next())
        };
        let found = [Containment::Inside, Containment::Undecided, Containment::Outside];
        let Some((side, finding)) = found.into_iter().find_map(|side| Some((side, deciding(side)?))) else {
            return Self { side: Containment::Outside, ..Self::unknown(uncertainty_95) };
        };
        Self {
            side,
            zone: Some(finding.zone.id.clone()),
            name: finding.zone.name.clone(),
            off: finding.signed_distance,
            uncertainty_95: finding.uncertainty_95,
        }
    }

    /// `OUTSIDE`, or what else is sure.
    pub(super) const fn title(&self) -> &'static str {
        match self.side {
            Containment::Inside => "INSIDE",
            Containment::Undecided => "UNDECIDED",
            Containment::Outside => "OUTSIDE",
        }
    }

    /// `by 111 m ±7 m`, or how far away the boundary is where nobody knows the side; none if it is not known either.
    pub(super) fn by(&self, words: Spoken<'_>) -> Option<String> {
        let off = self.off?;
        let figures = figures::distance_with_doubt(words.units(), off, self.uncertainty_95);
        Some(if self.side == Containment::Undecided {
            format!("{figures} away")
        } else {
            format!("by {figures}")
        })
    }
}

impl View {
    /// What to make of it, in two or three words.
    pub(super) fn heading(&self, words: Spoken<'_>) -> String {
        if let Some(side) = self.back(words) {
            return format!("turn back: go {side}");
        }
        match self.standing {
            Standing::WellOver => "wide open",
            Standing::TowardZone => "open",
            Standing::OnTheLine => "in line",
            Standing::Away => "open, other side",
        }
        .to_owned()
    }

    /// To which side somebody turns back to the line who has just left it towards the zone, as they face the marks.
    pub(super) fn back(&self, words: Spoken<'_>) -> Option<String> {
        let is_just_over = self.standing == Standing::TowardZone && self.place.side != Containment::Inside;
        let back = if self.to_the_right.metres() > 0.0 { Side::Left } else { Side::Right };
        is_just_over.then(|| words.left_or_right(back))
    }

    /// `6 m to the right`, of the line.
    pub(super) fn place_words(&self, words: Spoken<'_>) -> String {
        let right_m = self.to_the_right.metres();
        if self.standing == Standing::OnTheLine {
            return "on the line".into();
        }
        let side = words.left_or_right(if right_m > 0.0 { Side::Right } else { Side::Left });
        format!("{} to the {side}", phrases::short_length(words, self.to_the_right))
    }

    /// The side to which the rear mark shows, however little.
    pub(super) fn side(&self) -> Option<Side> {
        match self.look {
            Look::RearShows(side) => Some(side),
            Look::InLine => None,
        }
    }
}

/// The offset at which the marks are open widest; farther out they close again. Inscribed angle: √(D·(D+S)).
fn widest_m(line: &RangeLine, distance: Metres) -> f64 {
    let away_m = distance.metres();
    (away_m * (away_m + line.separation().metres())).sqrt()
}

/// Rounds up to two digits, and to whole metres.
fn two_digits_up_m(value_m: f64) -> f64 {
    let step_m = 10_f64.powf(value_m.max(1.0).log10().floor() - 1.0).max(1.0);
    (value_m / step_m).ceil() * step_m
}
