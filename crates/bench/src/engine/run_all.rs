use super::{accuracy, index, long_edges, speed};
use crate::arguments::EngineArguments;
use crate::failure::Failure;
use crate::sheet;
use crate::workload::Workload;

/// What a figure must be and may be, for the workloads W1 to W4.
pub(super) type ByWorkload = [(f64, f64); 4];

/// Measures all workloads, one table for each.
pub(crate) fn run(asked: &EngineArguments) -> Result<(), Failure> {
    let passes = asked.passes.passes();
    for folder in &asked.folders {
        let workload = Workload::read(folder)?;
        let edges: usize = workload.rings.iter().map(|ring| ring.len().saturating_sub(1)).sum();
        let title = format!("Engine, {}", workload.name);
        let done = format!(
            "{} zones, {edges} edges, {} fixes. One thread, its own processor time, a fix at a time in the order of the \
             track; every row taken in turn with its peer, {passes} rounds, medians; the figure of a row of times is the \
             median of the ratios of each round.",
            workload.rings.len(),
            workload.fixes.len(),
        );
        sheet::begin(&title, &done);
        speed::measure(&workload, passes);
        index::measure((&workload, folder), passes)?;
        accuracy::measure(&workload, asked.sample);
    }
    long_edges::measure()
}

/// The goal of a workload; none where it is not one of the four.
pub(super) fn goal_of(workload: &Workload, goals: &ByWorkload) -> Option<crate::goal::Goal> {
    let number = ["W1", "W2", "W3", "W4"].iter().position(|name| *name == workload.name)?;
    let (must, stretch) = goals.get(number)?;
    Some(crate::goal::Goal::at_most(*must).stretch(*stretch))
}
