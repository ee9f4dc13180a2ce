//! How long the index takes to build, and how much memory it holds.

use std::path::Path;

use takeline::zone::{Extent, Zone};
use takeline::{Boundary, PartSpec, ZoneSet};

use crate::failure::Failure;
use crate::goal::Goal;
use crate::memory::{Memory, measured};
use crate::peers::DegreesTree;
use crate::rounds::{Rounds, seconds_of};
use crate::sheet::{self, megabytes, time};
use crate::workload::{Workload, parts};

/// What a vertex takes by itself: two coordinates.
const VERTEX_BYTES: f64 = 16.0;

pub(super) fn measure((workload, folder): (&Workload, &Path), passes: usize) -> Result<(), Failure> {
    build(workload, passes)?;
    let file = folder.join("zones.geojson");
    let edges: usize = workload.rings.iter().map(|ring| ring.len().saturating_sub(1)).sum();
    if edges < 10_000 {
        sheet::left_out((&workload.name, "bytes an edge"), "too few edges to see them in pages of memory");
        return Ok(());
    }
    let (own, peer) = (measured("index", &file)?, measured("degrees-tree", &file)?);
    let an_edge = |bytes: f64| bytes / edges as f64 - VERTEX_BYTES;
    let cell =
        |memory: &Memory| format!("{} in all; a copy {}", megabytes(memory.made), megabytes(memory.copied));
    let goal = Goal::at_most(100.0).stretch(64.0);
    let what = "bytes an edge beyond 16 for its vertex, resident while it is built";
    sheet::row((&workload.name, what), &cell(&own), &cell(&peer), (an_edge(own.made), Some(goal)));
    let what = "the same, of a copy: without what building left behind";
    sheet::row((&workload.name, what), &cell(&own), &cell(&peer), (an_edge(own.copied), None));
    Ok(())
}

fn build(workload: &Workload, passes: usize) -> Result<(), Failure> {
    let parts: Result<Vec<Vec<PartSpec>>, Failure> = workload.rings.iter().map(|ring| parts(ring)).collect();
    let parts = parts?;
    let rounds = Rounds::try_run(
        passes,
        &mut [&mut || own_build(workload, &parts), &mut || {
            Ok(seconds_of(|| DegreesTree::new(&workload.rings)))
        }],
    )?;
    let goal = Some(Goal::at_most(1.5));
    let what = "index built from positions, checks and all";
    let (own, peer) = (time(rounds.seconds(0)), time(rounds.seconds(1)));
    sheet::row((&workload.name, what), &own, &peer, (rounds.ratio(0, 1), goal));
    Ok(())
}

/// Seconds for the boundaries and for the set of them; putting the zones together between the two does not count.
fn own_build(workload: &Workload, parts: &[Vec<PartSpec>]) -> Result<f64, Failure> {
    let mut boundaries = Ok(Vec::new());
    let boundaries_s = seconds_of(|| boundaries = parts.iter().map(|parts| Boundary::build(parts)).collect());
    let with = |(zone, boundary): (&Zone, Boundary)| Zone { extent: Extent::Known(boundary), ..zone.clone() };
    let zones: Vec<Zone> = workload.zones.zones().iter().zip(boundaries?).map(with).collect();
    Ok(boundaries_s + seconds_of(|| ZoneSet::new(zones)))
}
