//! Random sets of zones that touch, nest, overlap and override each other, with every sort of doubt about their lines.

use std::sync::Arc as Shared;

use jiff::ToSpan;
use jiff::tz::TimeZone;
use takeline::rule::{
    Access, Bag, BagPer, Catalogue, Limits, Measure, Passage, Permit, Possession, Size, Take, TakeRule,
    Taxon, TaxonId, TaxonSet, When,
};
use takeline::zone::{
    Datum, Effective, Extent, LineBelongs, Override, Source, Status, Zone, ZoneFile, ZoneId,
};
use takeline::{Arc, ArcSense, Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, Tristate};

use crate::earth::{direct, position};
use crate::{Dice, seasons};

/// A set of zones about a centre.
#[derive(Debug, Clone)]
pub struct RandomZones {
    /// The zones. An override only ever names a zone further up, so that there are no circles.
    pub zones: Vec<Zone>,
    /// About the middle of all.
    pub centre: Position,
    /// Centre and radius of zones that are circles.
    pub circles: Vec<Option<(Position, f64)>>,
    /// Places on or near lines, and in overlaps.
    pub interesting: Vec<Position>,
}

/// The fish that these zones know by name.
pub const FISH: [&str; 3] = ["bass", "cod", "sprat"];

impl RandomZones {
    /// Makes a set of up to seven zones within some kilometres.
    pub fn make(dice: &mut Dice) -> Self {
        // east and north of these run along axes through the Earth, where the boxes of an index are tightest
        let on_axis = dice.one_of(&[-90.0, 0.0, 90.0, 180.0]);
        let lon_deg = if dice.chance(0.3) { on_axis } else { dice.between(-179.0, 179.0) };
        let mut made = Self {
            zones: Vec::new(),
            centre: position(dice.between(-70.0, 70.0), lon_deg),
            circles: Vec::new(),
            interesting: Vec::new(),
        };
        let files: Vec<Shared<ZoneFile>> = ["one", "two"].map(file).into_iter().map(Shared::new).collect();
        for number in 0..=dice.below(7) {
            let (extent, circle) = made.extent(dice);
            let zone = made.zone(dice, (number, extent), &files);
            made.zones.push(zone);
            made.circles.push(circle);
        }
        made
    }

    /// A random place: on a line to some metres, in the middle of something, anywhere near, or far off.
    ///
    /// # Panics
    ///
    /// Never: there is at least one zone.
    pub fn place(&self, dice: &mut Dice) -> Position {
        let from = if self.interesting.is_empty() || dice.chance(0.3) {
            self.centre
        } else {
            dice.one_of(&self.interesting)
        };
        let off_m = match dice.below(10) {
            0 => dice.log_between(5_000.0, 60_000.0),
            1..=3 => dice.log_between(100.0, 4_000.0),
            4..=8 => dice.log_between(0.1, 100.0),
            _ => 0.0,
        };
        direct(from, dice.between(0.0, 360.0), off_m)
    }

    /// A place within four kilometres, or one that another zone has something at.
    fn spot(&self, dice: &mut Dice) -> Position {
        if !self.interesting.is_empty() && dice.chance(0.5) {
            return dice.one_of(&self.interesting);
        }
        direct(self.centre, dice.between(0.0, 360.0), dice.log_between(50.0, 4_000.0))
    }

    fn extent(&mut self, dice: &mut Dice) -> (Extent, Option<(Position, f64)>) {
        let spot = self.spot(dice);
        let size_m = dice.log_between(200.0, 4_000.0);
        let (parts, circle) = match dice.below(8) {
            0 | 1 => {
                let circle = (spot, size_m);
                let rim = [0.0, 90.0, 200.0].map(|bearing_deg| direct(spot, bearing_deg, size_m));
                self.interesting.extend(rim);
                (vec![disc(circle)], Some(circle))
            }
            2 => (self.ring_of_arcs(dice, (spot, size_m)), None),
            3 => (self.wide_triangle(dice, spot), None),
            4 => {
                let somewhere_in = dice.chance(0.9).then(|| built(&[disc((spot, size_m))]));
                let reason = "plan missing".to_owned();
                return (Extent::Unknown { somewhere_in, reason }, None);
            }
            _ => (self.boxes(dice, (spot, size_m)), None),
        };
        (Extent::Known(built(&parts)), circle)
    }

    /// One or two boxes on the grid of a chart, so that those of several zones share borders and corners.
    fn boxes(&mut self, dice: &mut Dice, (spot, size_m): (Position, f64)) -> Vec<PartSpec> {
        let step_deg = 0.01;
        let on_grid = |degrees: f64| (degrees / step_deg).round() * step_deg;
        let (lat_deg, lon_deg) = (on_grid(spot.latitude().degrees()), on_grid(spot.longitude().degrees()));
        let cells = (size_m / 1_500.0).ceil();
        let model = dice.one_of(&[
            EdgeModel::RhumbLine,
            EdgeModel::PlateCarree,
            EdgeModel::Geodesic,
            EdgeModel::Unstated,
        ]);
        let mut parts = Vec::new();
        for right in 0..=dice.below(2) {
            let west_deg = lon_deg + cells * step_deg * f64::from(u8::try_from(right).expect("0 or 1"));
            let (north_deg, east_deg) = (lat_deg + cells * step_deg, west_deg + cells * step_deg);
            let corners =
                [(lat_deg, west_deg), (lat_deg, east_deg), (north_deg, east_deg), (north_deg, west_deg)];
            let vertices: Vec<Position> = corners.iter().map(|corner| position(corner.0, corner.1)).collect();
            self.interesting.extend(&vertices);
            self.interesting.push(position(lat_deg.midpoint(north_deg), east_deg));
            parts.push(ring(vertices, vec![model; 4]));
        }
        parts
    }

    /// Four arcs whose printed radius is up to 2 % off.
    fn ring_of_arcs(&mut self, dice: &mut Dice, (centre, size_m): (Position, f64)) -> Vec<PartSpec> {
        let size_m = if dice.chance(0.5) { size_m * 6.0 } else { size_m };
        let printed_m = size_m * dice.between(0.985, 1.015);
        let radius = Metres::new(printed_m).expect("a radius");
        let arc = EdgeModel::Arc(Arc { centre, radius, sense: ArcSense::Clockwise });
        let vertices =
            [0.0, 90.0, 180.0, 270.0].map(|bearing_deg| direct(centre, bearing_deg, size_m)).to_vec();
        // on the printed circle, on the arc as it runs, and as far beyond the one as the other is on this side
        for off_m in [0.0, printed_m - size_m, size_m - printed_m] {
            let bearing_deg = dice.between(0.0, 360.0);
            self.interesting.push(direct(centre, bearing_deg, size_m + off_m));
        }
        let beyond_m = (printed_m - size_m).abs() * dice.between(0.3, 0.95);
        self.interesting.push(direct(centre, dice.one_of(&[0.0, 90.0, 180.0, 270.0]), size_m + beyond_m));
        vec![ring(vertices, vec![arc; 4])]
    }

    /// A triangle of long edges that the text does not explain, one corner of it near a place.
    fn wide_triangle(&mut self, dice: &mut Dice, spot: Position) -> Vec<PartSpec> {
        let turn_deg = dice.between(0.0, 360.0);
        let far_m = dice.log_between(2_000.0, 60_000.0);
        let others = [20.0, 80.0].map(|off_deg| direct(spot, turn_deg + off_deg, far_m));
        self.interesting.push(spot);
        self.interesting.push(direct(spot, turn_deg + 20.0, far_m / 2.0));
        vec![ring(vec![spot, others[0], others[1]], vec![EdgeModel::Unstated; 3])]
    }

    fn zone(&self, dice: &mut Dice, (number, extent): (usize, Extent), files: &[Shared<ZoneFile>]) -> Zone {
        let cites = |dice: &mut Dice| (0..number).filter(|_| dice.chance(0.3)).collect::<Vec<_>>();
        let cited = if dice.chance(0.6) { cites(dice) } else { Vec::new() };
        let over = |under: usize| Override { zone: id(under), clause: format!("clause {under}") };
        let seasonal = dice.chance(0.4);
        Zone {
            id: id(number),
            name: format!("Zone {number}"),
            extent,
            line_uncertainty: Metres::new(dice.one_of(&[0.0, 0.0, 5.0, 50.0])).expect("a length"),
            datum: dice.one_of(&[
                Datum::Wgs84,
                Datum::Wgs84,
                Datum::Wgs84,
                Datum::NearWgs84("ETRS89".to_owned()),
                Datum::Unstated,
            ]),
            datum_is_of_the_file: true,
            line_belongs: dice.one_of(&[LineBelongs::ToZone, LineBelongs::Outside]),
            time_zone: TimeZone::UTC,
            status: if dice.chance(0.9) { Status::InForce } else { Status::Repealed },
            effective: effective(dice),
            when: if seasonal { seasons::when(dice, 1, self.centre) } else { When::Always },
            rule: rule(dice),
            overrides: cited.into_iter().map(over).collect(),
            source: Source { instrument: "Marrowick Order 3".to_owned(), ..Source::default() },
            proofread: None,
            may_change_by_notice: dice.chance(0.1),
            as_published: Vec::new(),
            file: files[dice.below(files.len())].clone(),
        }
    }
}

fn id(number: usize) -> ZoneId {
    ZoneId(format!("zone-{number}"))
}

fn built(parts: &[PartSpec]) -> Boundary {
    Boundary::build(parts).unwrap_or_else(|refused| unreachable!("{refused}: {parts:?}"))
}

fn disc((centre, radius_m): (Position, f64)) -> PartSpec {
    PartSpec::Circle { centre, radius: Metres::new(radius_m).expect("a radius") }
}

fn ring(vertices: Vec<Position>, edges: Vec<EdgeModel>) -> PartSpec {
    PartSpec::Polygon { exterior: RingSpec { vertices, edges, sides: Vec::new() }, holes: Vec::new() }
}

fn file(name: &str) -> ZoneFile {
    let taxon = |name: &&str| Taxon::named(name, &format!("Species {name}"), &[name]);
    ZoneFile {
        path: format!("{name}.json"),
        sha256: name.to_owned(),
        catalogue: Catalogue { taxa: FISH.iter().map(taxon).collect(), groups: Vec::new() },
        ..ZoneFile::default()
    }
}

fn effective(dice: &mut Dice) -> Effective {
    let mut at = |chance: f64| dice.chance(chance).then(|| seasons::instant(dice));
    let (from, until) = (at(0.15), at(0.15));
    let until = until.filter(|until| from.is_none_or(|from| from < *until));
    Effective { from, until: until.map(|until| until.checked_add(1.second()).expect("within the year")) }
}

fn rule(dice: &mut Dice) -> TakeRule {
    let fish = |dice: &mut Dice| TaxonSet {
        taxa: vec![TaxonId(dice.one_of(&FISH).to_owned())],
        ..TaxonSet::default()
    };
    let sized = |dice: &mut Dice| Limits {
        size: dice.chance(0.5).then_some(Size {
            min_cm: Some(30.0),
            max_cm: None,
            measure: Measure::Unstated,
        }),
        bag: dice.chance(0.5).then_some(Bag { count: 3, per: BagPer::PersonDay }),
        ..Limits::default()
    };
    let permit = |dice: &mut Dice| Permit {
        taxa: Some(fish(dice)),
        when: When::Always,
        limits: sized(dice),
        clause: None,
    };
    let take = match dice.below(6) {
        0..=2 => Take::Nothing,
        3 => Take::Only(vec![permit(dice)]),
        4 => Take::AllExcept(fish(dice)),
        _ => Take::Anything,
    };
    let passage = dice.chance(0.3).then(|| Passage {
        allowed: Tristate::Yes,
        gear_state: None,
        continuous: true,
        min_speed_kn: None,
        max_stop_min: None,
        anchoring: Tristate::Undecided,
        conditions: Vec::new(),
        clause: None,
    });
    let binds = match dice.below(4) {
        0 => vec![Access::Shore],
        1 => vec![Access::Boat, Access::Diving],
        _ => Vec::new(),
    };
    TakeRule {
        limits: if take == Take::Anything && dice.chance(0.5) { vec![permit(dice)] } else { Vec::new() },
        take,
        possession: dice.one_of(&[
            Possession::Unstated,
            Possession::Allowed,
            Possession::AsTake,
            Possession::Forbidden,
            Possession::WhileCrossing,
        ]),
        passage,
        binds,
        conditions: Vec::new(),
    }
}
