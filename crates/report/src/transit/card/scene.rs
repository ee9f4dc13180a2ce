//! What an eye sees of the marks from inside, on the line and outside.

use takeline::Metres;
use takeline::transit::{Look, RangeLine, Seen, Side, Sight, TransitReport};

use crate::figures;
use crate::transit::document::TransitDocument;
use crate::transit::sentence;
use crate::transit::words::{self, metres};

/// A sketch is drawn from so many times the offset at which the eye sees the marks open.
const TIMES_THRESHOLD: f64 = 3.0;

/// Where somebody is with respect to the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    Inside,
    OnTheLine,
    Outside,
}

/// What is seen from one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    pub(super) standing: Standing,
    /// How far off the line the place is, either way.
    pub(super) off: Metres,
    pub(super) seen: Seen,
    /// What that is to the eye of the question.
    pub(super) look: Look,
}

/// Both marks from three places, abreast of the middle of the stretch.
#[derive(Debug, Clone)]
pub(super) struct Scene {
    pub(super) distance_from_front: Metres,
    /// Inside, on the line, outside.
    pub(super) views: [View; 3],
    /// How the tops of the front and the rear mark stand over the level line; none without both heights.
    pub(super) sights: Option<[Sight; 2]>,
    /// How far below the level line the horizon is, in minutes of arc.
    pub(super) dip_arcmin: f64,
}

impl Scene {
    /// Looks at the marks; the error says in a sentence why there is nothing to sketch.
    pub(super) fn of(document: &TransitDocument<'_>) -> Result<Self, String> {
        let report = document.report;
        let rear_shows = sentence::side_inside(report).ok_or_else(|| document.no_side_because.clone())?;
        let (line, eye) = (&report.line, report.question.eye);
        let distance = report.question.stretch.middle();
        let off = offset_shown(report, distance)?;
        let views = views(report, (distance, off), rear_shows)?;
        let [_, on_line, _] = &views;
        let tops = line.front().height.zip(line.rear().height);
        let sights = tops.map(|(front, rear)| {
            [eye.sight(front, on_line.seen.front_distance), eye.sight(rear, on_line.seen.rear_distance)]
        });
        let dip_arcmin = -eye.sight(Metres::ZERO, eye.horizon()).elevation.arcmin();
        Ok(Self { distance_from_front: distance, views, sights, dip_arcmin })
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
            remarks.push("In line the front mark hides the rear mark.".into());
        }
        if self.sights.is_none() {
            remarks.push("Heights are not to scale: they are not known.".into());
        }
        remarks
    }

    /// How far from the front mark all this is seen.
    pub(super) fn away(&self) -> String {
        figures::distance(self.distance_from_front, Metres::ZERO)
    }

    /// Where all this is seen from.
    pub(super) fn place(&self) -> String {
        format!("abreast of the middle of the stretch, {} from the front mark", self.away())
    }
}

impl View {
    pub(super) const fn title(&self) -> &'static str {
        match self.standing {
            Standing::Inside => "INSIDE",
            Standing::OnTheLine => "ON THE LINE",
            Standing::Outside => "OUTSIDE",
        }
    }

    /// `6 m inside the line`.
    pub(super) fn place(&self) -> String {
        let off = words::short_length(self.off);
        match self.standing {
            Standing::Inside => format!("{off} inside the line"),
            Standing::OnTheLine => "on the line".into(),
            Standing::Outside => format!("{off} outside the line"),
        }
    }

    /// The side to which the rear mark shows, however little.
    pub(super) fn side(&self) -> Option<Side> {
        match self.look {
            Look::RearShows(side) => Some(side),
            Look::InLine => None,
        }
    }
}

/// The offset that the sketch is drawn for: whole metres, three times the eye's threshold.
fn offset_shown(report: &TransitReport, distance: Metres) -> Result<Metres, String> {
    let (line, threshold) = (&report.line, report.question.eye.threshold());
    let at_threshold = line.offset_for(distance, threshold).ok_or_else(|| {
        format!(
            "{} from the front mark these marks never open by the {} minutes of arc that the eye needs.",
            figures::distance(distance, Metres::ZERO),
            words::arcmin(threshold)
        )
    })?;
    let off_m = (TIMES_THRESHOLD * at_threshold.metres()).ceil().max(1.0);
    Ok(metres(off_m.min(widest_m(line, distance).max(at_threshold.metres()))))
}

/// The offset at which the marks are open widest; farther out they close again. Inscribed angle: √(D·(D+S)).
fn widest_m(line: &RangeLine, distance: Metres) -> f64 {
    let away_m = distance.metres();
    (away_m * (away_m + line.separation().metres())).sqrt()
}

/// The three views. Which side is inside is asked of the library: it is where the rear mark shows as the report says.
fn views(report: &TransitReport, at: (Metres, Metres), rear_shows: Side) -> Result<[View; 3], String> {
    let (line, threshold) = (&report.line, report.question.eye.threshold());
    let view = |standing, to_the_right_m: f64| {
        let seen = line.seen_from(line.beside(at.0, metres(to_the_right_m)));
        View { standing, off: metres(to_the_right_m.abs()), seen, look: seen.look(threshold) }
    };
    let off_m = at.1.metres();
    let shows_inside = |off_m: &f64| view(Standing::Inside, *off_m).side() == Some(rear_shows);
    let inside_m = [off_m, -off_m].into_iter().find(shows_inside).ok_or_else(|| {
        format!(
            "From neither side of the line does the rear mark show {} of the front mark.",
            words::side(rear_shows)
        )
    })?;
    Ok([view(Standing::Inside, inside_m), view(Standing::OnTheLine, 0.0), view(Standing::Outside, -inside_m)])
}
