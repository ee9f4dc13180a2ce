//! What the change of a line does to somebody who fishes.

use strum::{IntoStaticStr, VariantNames};
use takeline::zone::Zone;
use takeline::{EdgeModel, Metres, Side};

use super::change::{Effect, FromTo};
use super::compare::{ExtentChange, ZoneChange, ZoneWater};
use super::line::{CircleChange, EdgeChange, LineChange, VertexAt, WholeRing};
use super::times;

/// Less water than this, in m², is not told.
const LEAST_TOLD_M2: f64 = 1.0;

/// One thing that changed of where a zone lies.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[non_exhaustive]
pub enum LineFact {
    /// The line was not known, and is.
    BecameKnown,
    /// It was known, and is not any more.
    BecameUnknown,
    /// It is not known in either edition, but something else is said of where the zone lies.
    StillUnknown,
    /// The two lines are nowhere farther apart than the coordinates are printed.
    SameAsPrinted {
        /// How far they are apart.
        to: Metres,
    },
    /// The water gained and lost could not be measured.
    NotMeasured,
    /// Water is in the zone that was not.
    WaterGained {
        /// How much, in m².
        area_m2: f64,
        /// Whether that is one reading of sides that nobody states.
        is_one_reading: bool,
    },
    /// Water is not in the zone any more.
    WaterLost {
        /// How much, in m².
        area_m2: f64,
        /// Whether that is one reading of sides that nobody states.
        is_one_reading: bool,
    },
    /// Vertices moved.
    VerticesMoved {
        /// How many.
        count: usize,
        /// How far the one went that went the farthest.
        most: Metres,
    },
    /// Vertices are new.
    VerticesAdded {
        /// How many.
        count: usize,
    },
    /// Vertices are gone.
    VerticesRemoved {
        /// How many.
        count: usize,
    },
    /// A circle has another centre or radius.
    CircleChanged(CircleChange),
    /// A ring or a circle is new.
    RingAdded(WholeRing),
    /// A ring or a circle is gone.
    RingRemoved(WholeRing),
    /// Edges between the same vertices run another way, all of these alike.
    EdgesRestated {
        /// The vertices that they leave, in the new edition.
        at: Vec<VertexAt>,
        /// How they ran and run.
        runs: FromTo<EdgeModel>,
    },
    /// Sides between the same vertices are of another kind, all of these alike.
    SidesRestated {
        /// The vertices that they leave, in the new edition.
        at: Vec<VertexAt>,
        /// What they were and are.
        side: FromTo<Side>,
    },
}

impl LineFact {
    /// Returns its stable code, in kebab case.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.into()
    }
}

/// What changed of where a zone lies, and what that does.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct LineTold {
    /// What changed.
    pub fact: LineFact,
    /// What that does to somebody who fishes.
    pub effect: Effect,
}

impl Effect {
    /// What it does that water is now in a zone.
    #[must_use]
    pub fn of_entering(zone: &Zone) -> Self {
        match ZoneWater::of(zone) {
            // where it sets another rule aside, it may loosen
            ZoneWater::Closed | ZoneWater::Limited if zone.overrides.is_empty() => Self::Stricter,
            ZoneWater::Closed | ZoneWater::Limited => Self::Undecided,
            ZoneWater::Unrestricted | ZoneWater::NoLaw => Self::Reference,
        }
    }

    /// What it does that water is no longer in a zone.
    #[must_use]
    pub fn of_leaving(zone: &Zone) -> Self {
        match Self::of_entering(zone) {
            // of what may never have been in force, nothing is proved
            Self::Stricter if times::is_unknowable(&zone.when) => Self::Undecided,
            Self::Stricter => Self::Looser,
            other @ (Self::Undecided | Self::Looser | Self::Reference) => other,
        }
    }
}

impl ZoneChange<'_> {
    /// What changed of where the zone lies, and what each does: water first.
    #[must_use]
    pub fn line_told(&self) -> Vec<LineTold> {
        let alone = |fact| vec![LineTold { fact, effect: Effect::Undecided }];
        match &self.extent {
            ExtentChange::Same => Vec::new(),
            ExtentChange::BecameKnown => alone(LineFact::BecameKnown),
            ExtentChange::BecameUnknown => alone(LineFact::BecameUnknown),
            ExtentChange::StillUnknown => alone(LineFact::StillUnknown),
            ExtentChange::Line(line) => of_line(line, (self.old, self.new)),
        }
    }
}

fn of_line(line: &LineChange, zones: (&Zone, &Zone)) -> Vec<LineTold> {
    let facts = shapes(line);
    // where only what the sides are changed, the line is where it was
    let mut told = if facts.is_empty() && line.edges.is_empty() { Vec::new() } else { water(line, zones) };
    // what the water does not show, nobody has judged
    let shape = if told.is_empty() { Effect::Undecided } else { Effect::Reference };
    told.extend(facts.into_iter().map(|fact| LineTold { fact, effect: shape }));
    let mut edges: Vec<(LineTold, &EdgeChange)> = Vec::new();
    for edge in &line.edges {
        let effect = if is_settled(edge, line) { shape } else { Effect::Undecided };
        let alike = edges.iter_mut().find(|(told, other)| told.effect == effect && other.runs == edge.runs);
        if let Some((LineTold { fact: LineFact::EdgesRestated { at, .. }, .. }, _)) = alike {
            at.push(edge.at.clone());
            continue;
        }
        let fact = LineFact::EdgesRestated { at: vec![edge.at.clone()], runs: edge.runs.clone() };
        edges.push((LineTold { fact, effect }, edge));
    }
    told.extend(edges.into_iter().map(|(told, _)| told));
    let mut sides: Vec<(Vec<VertexAt>, &FromTo<Side>)> = Vec::new();
    for side in &line.sides {
        match sides.iter_mut().find(|(_, other)| **other == side.side) {
            Some((at, _)) => at.push(side.at.clone()),
            None => sides.push((vec![side.at.clone()], &side.side)),
        }
    }
    // from a shore one steps out, and a mouth one enters: read both
    told.extend(sides.into_iter().map(|(at, side)| LineTold {
        fact: LineFact::SidesRestated { at, side: side.clone() },
        effect: Effect::Undecided,
    }));
    told
}

/// Whether all that an edge does which is stated in another way is in the figures: no reading is farther off than the print.
fn is_settled(edge: &EdgeChange, line: &LineChange) -> bool {
    edge.readings_apart.metres() <= line.printed_to.metres()
}

fn water(line: &LineChange, (old, new): (&Zone, &Zone)) -> Vec<LineTold> {
    let is_one_reading = line.is_one_reading;
    match (line.same_to, &line.water) {
        (Some(to), _) => {
            vec![LineTold { fact: LineFact::SameAsPrinted { to }, effect: Effect::Reference }]
        }
        (None, None) => vec![LineTold { fact: LineFact::NotMeasured, effect: Effect::Undecided }],
        (None, Some(water)) => {
            let gained = (water.gained_m2 >= LEAST_TOLD_M2).then(|| LineTold {
                fact: LineFact::WaterGained { area_m2: water.gained_m2, is_one_reading },
                effect: Effect::of_entering(new),
            });
            let lost = (water.lost_m2 >= LEAST_TOLD_M2).then(|| LineTold {
                fact: LineFact::WaterLost { area_m2: water.lost_m2, is_one_reading },
                effect: Effect::of_leaving(old),
            });
            gained.into_iter().chain(lost).collect()
        }
    }
}

fn shapes(line: &LineChange) -> Vec<LineFact> {
    let mut facts = Vec::new();
    if let Some(most) =
        line.moved.iter().map(|moved| moved.by).max_by(|one, two| one.metres().total_cmp(&two.metres()))
    {
        facts.push(LineFact::VerticesMoved { count: line.moved.len(), most });
    }
    if !line.added.is_empty() {
        facts.push(LineFact::VerticesAdded { count: line.added.len() });
    }
    if !line.removed.is_empty() {
        facts.push(LineFact::VerticesRemoved { count: line.removed.len() });
    }
    facts.extend(line.circles.iter().cloned().map(LineFact::CircleChanged));
    facts.extend(line.rings_added.iter().cloned().map(LineFact::RingAdded));
    facts.extend(line.rings_removed.iter().cloned().map(LineFact::RingRemoved));
    facts
}
