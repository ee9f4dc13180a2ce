//! Other ways to the same answers, each written with general libraries as most would write it.

mod degrees_tree;
mod interval_trees;
mod truth;

pub(crate) use degrees_tree::DegreesTree;
pub(crate) use interval_trees::IntervalTrees;
pub(crate) use truth::{Course, Truth, away_m};
