//! The plot of the distance to the nearest line over the trip.

use jiff::Timestamp;
use maud::{Markup, html};
use takeline::track::TrackPoint;

use super::sheet::Sheet;
use super::way::{Runs, even_times, seconds_between, times_drawn};
use crate::drawing::chart::{PathData, unit};
use crate::drawing::frame::WIDTH;
use crate::figures::{self, Units};
use crate::track::times::{clock_minutes, zone_name};

const HEIGHT: f64 = 300.0;
const LEFT: f64 = 84.0;
const RIGHT: f64 = 752.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 262.0;
/// Distances outside are shown up to this many times the depth inside, and at least up to the metres below.
const OUTSIDE_PER_INSIDE: f64 = 6.0;
const LEAST_SHOWN_M: f64 = 250.0;
const MOST_TIMES: i64 = 6;

/// The scales of the plot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plot {
    /// First and last time; none: along the number of the fix.
    times: Option<(Timestamp, Timestamp)>,
    last_number: f64,
    low_m: f64,
    high_m: f64,
    /// Whether distances above the upper edge are drawn on it.
    cut_off: bool,
    /// The unit of the distances, in metres, and its name.
    unit_m: f64,
    unit_name: &'static str,
}

impl Plot {
    /// Scales that hold the track; none if no fix had a line near enough.
    pub(super) fn of(sketch: &[TrackPoint], units: Units) -> Option<Self> {
        let near = || sketch.iter().filter_map(|point| point.nearest);
        let bound = |pick: fn(f64, f64) -> f64, sign: f64| {
            near()
                .map(|line| line.signed_distance.metres() + sign * line.uncertainty_95.metres())
                .reduce(pick)
        };
        let (lowest_m, highest_m) = (bound(f64::min, -1.0)?.min(-20.0), bound(f64::max, 1.0)?.max(20.0));
        let most_m = (-lowest_m * OUTSIDE_PER_INSIDE).max(LEAST_SHOWN_M);
        let high_m = highest_m.min(most_m);
        let air_m = (high_m - lowest_m) * 0.05;
        // a log that lacks times is drawn along its fixes, or the untimed ones would have no place
        let all_timed = sketch.iter().all(|point| point.fix.time.is_some());
        let times = times_drawn(sketch).filter(|(first, last)| all_timed && first < last);
        let last_number = sketch.iter().skip(1).map(|_| 1.0).sum::<f64>().max(1.0);
        let (unit_m, unit_name) = figures::axis_unit(units, high_m - lowest_m);
        Some(Self {
            times,
            last_number,
            low_m: lowest_m - air_m,
            high_m: high_m + air_m,
            cut_off: highest_m > most_m,
            unit_m,
            unit_name,
        })
    }

    fn x_of_time(&self, time: Timestamp) -> Option<f64> {
        let (first, last) = self.times?;
        Some(LEFT + (RIGHT - LEFT) * seconds_between(first, time) / seconds_between(first, last))
    }

    fn x(&self, number: f64, point: &TrackPoint) -> f64 {
        let by_time = point.fix.time.and_then(|time| self.x_of_time(time));
        by_time.unwrap_or_else(|| LEFT + (RIGHT - LEFT) * number / self.last_number)
    }

    fn y(&self, distance_m: f64) -> f64 {
        let shown_m = distance_m.clamp(self.low_m, self.high_m);
        BOTTOM - (BOTTOM - TOP) * (shown_m - self.low_m) / (self.high_m - self.low_m)
    }

    /// Where each fix comes to lie; none where no line was near.
    pub(super) fn points(&self, sketch: &[TrackPoint]) -> Vec<Option<(f64, f64)>> {
        let numbers = std::iter::successors(Some(0.0), |number| Some(number + 1.0));
        numbers
            .zip(sketch)
            .map(|(number, point)| {
                let line = point.nearest?;
                Some((self.x(number, point), self.y(line.signed_distance.metres())))
            })
            .collect()
    }

    /// The way of the distance, less and more its doubt, one closed shape for each stretch without a break.
    fn band(&self, sketch: &[TrackPoint], points: &[Option<(f64, f64)>]) -> String {
        let mut path = PathData::default();
        let (mut upper, mut lower) = (Vec::new(), Vec::new());
        let mut close = |upper: &mut Vec<(f64, f64)>, lower: &mut Vec<(f64, f64)>| {
            upper.extend(lower.drain(..).rev());
            path.add(upper, true);
            upper.clear();
        };
        for (point, at) in sketch.iter().zip(points) {
            if point.after_break || at.is_none() {
                close(&mut upper, &mut lower);
            }
            if let (Some((x, _)), Some(line)) = (at, point.nearest) {
                let (distance_m, doubt_m) = (line.signed_distance.metres(), line.uncertainty_95.metres());
                upper.push((*x, self.y(distance_m + doubt_m)));
                lower.push((*x, self.y(distance_m - doubt_m)));
            }
        }
        close(&mut upper, &mut lower);
        path.into_text()
    }

    /// Round distances to rule lines at, in the unit of the plot.
    fn rules(&self) -> Vec<f64> {
        let rough = (self.high_m - self.low_m) / self.unit_m / 7.0;
        let power = 10_f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|step| step * power).find(|step| *step >= rough);
        let step = step.unwrap_or(rough);
        let mut at = (self.low_m / self.unit_m / step).ceil() * step;
        let mut rules = Vec::new();
        while at <= self.high_m / self.unit_m {
            rules.push(at);
            at += step;
        }
        rules
    }

    /// What the reader has to know about the scales.
    pub(super) fn caption(&self, sheet: &Sheet<'_>) -> String {
        let along = match self.times {
            Some((first, _)) => {
                format!("Times are by the clock of {}.", zone_name(&sheet.clock, first))
            }
            None => "The log has no times, so the fixes are spaced evenly.".to_owned(),
        };
        let cut = if self.cut_off { " Greater distances are drawn along the top." } else { "" };
        format!(
            "{} to the nearest boundary: above 0 outside, below 0 inside. The pale band is the uncertainty, 95\u{a0}%. {along}{cut}",
            self.unit_name
        )
    }

    /// The drawing.
    pub(super) fn drawing(&self, sheet: &Sheet<'_>, data: &str) -> Markup {
        let sketch = &sheet.way;
        let points = self.points(sketch);
        let zero = self.y(0.0);
        html! {
            svg #plot .drawing role="img" aria-label="Distance to the nearest boundary over the trip"
                viewBox={ "0 0 " (unit(WIDTH)) " " (unit(HEIGHT)) } data-points=(data) {
                rect .sea x=(unit(LEFT)) y=(unit(TOP)) width=(unit(RIGHT - LEFT)) height=(unit(BOTTOM - TOP)) {}
                rect .inside x=(unit(LEFT)) y=(unit(zero)) width=(unit(RIGHT - LEFT)) height=(unit(BOTTOM - zero)) {}
                (self.rulings(sheet))
                path .spread d=(self.band(sketch, &points)) {}
                line .zero x1=(unit(LEFT)) x2=(unit(RIGHT)) y1=(unit(zero)) y2=(unit(zero)) {}
                (Runs::cut(sketch, &points).strokes())
                (self.crossings(sheet))
                line #plot-hair .hair x1="0" x2="0" y1=(unit(TOP)) y2=(unit(BOTTOM)) {}
                circle #plot-cursor .cursor r="8" cx="0" cy="0" {}
            }
        }
    }

    fn rulings(&self, sheet: &Sheet<'_>) -> Markup {
        let zone = &sheet.clock;
        let times =
            self.times.map_or_else(Vec::new, |(first, last)| even_times(first, last, zone, MOST_TIMES));
        html! {
            g .graticule {
                @for distance in self.rules() {
                    @let y = self.y(distance * self.unit_m);
                    line x1=(unit(LEFT)) x2=(unit(RIGHT)) y1=(unit(y)) y2=(unit(y)) {}
                    text x=(unit(LEFT - 8.0)) y=(unit(y)) text-anchor="end" dominant-baseline="central" { (unit(distance).replace('-', "−")) }
                }
                @for time in times {
                    @if let Some(x) = self.x_of_time(time) {
                        line x1=(unit(x)) x2=(unit(x)) y1=(unit(TOP)) y2=(unit(BOTTOM + 6.0)) {}
                        @if x < RIGHT - 30.0 {
                            text x=(unit(x)) y=(unit(BOTTOM + 27.0)) text-anchor="middle" { (clock_minutes(time, zone)) }
                        }
                    }
                }
            }
        }
    }

    fn crossings(&self, sheet: &Sheet<'_>) -> Markup {
        html! {
            g .crossings {
                @for crossing in &sheet.document.crossings {
                    @if let Some(x) = crossing.at.time.and_then(|time| self.x_of_time(time)) {
                        circle .spot cx=(unit(x)) cy=(unit(self.y(0.0))) r="4" {}
                    }
                }
            }
        }
    }
}
