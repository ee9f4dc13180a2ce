//! From what is asked for to the files.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

use fastrand::Rng;

use super::files::{self, Fix};
use super::layout::{Layout, Spot};
use super::{ring, voyage};
use crate::arguments::{GenerateArguments, Name};
use crate::failure::Failure;

/// When the first track begins: 15 June 2025, 15:06:40 UTC. Each of the others begins a day after the one before.
const FIRST_S: i64 = 1_750_000_000;
const DAY_S: i64 = 86_400;

pub(crate) fn run(asked: &GenerateArguments) -> Result<(), Failure> {
    for name in &asked.only {
        let layout = Layout::of(*name, asked.scale);
        make(&layout, &asked.folder.join(layout.folder()), asked.seed)?;
    }
    Ok(())
}

fn make(layout: &Layout, folder: &Path, seed: u64) -> Result<(), Failure> {
    std::fs::create_dir_all(folder).map_err(|error| Failure::at(folder, error))?;
    let mut random = layout.random(seed);
    let spots = layout.spots(&mut random);
    let mut first_radii = Vec::new();
    write(&folder.join("zones.geojson"), |out| {
        files::begin_zones(out, layout.folder())?;
        for (number, spot) in spots.iter().enumerate() {
            let radii = ring::radii(&mut random, spot, layout.vertices);
            files::zone(out, number, &ring::places(spot, &radii))?;
            if number == 0 {
                first_radii = radii;
            }
        }
        files::end_zones(out)
    })?;
    let fixes = all_fixes(layout, (&spots, &first_radii), &mut random);
    write(&folder.join("fixes.csv"), |out| files::csv(out, &fixes))?;
    write(&folder.join("track.gpx"), |out| files::gpx(out, &fixes))?;
    println!(
        "{}: {} zones of {} vertices, {} fixes",
        folder.display(),
        spots.len(),
        layout.vertices,
        fixes.len()
    );
    Ok(())
}

fn all_fixes(layout: &Layout, (spots, radii): (&[Spot], &[f64]), random: &mut Rng) -> Vec<Fix> {
    let each = layout.fixes / layout.tracks;
    let mut fixes = Vec::with_capacity(layout.fixes);
    let mut began_s = FIRST_S;
    for number in 0..layout.tracks {
        let spot = spots[random.usize(..spots.len())];
        let is_last = number + 1 == layout.tracks;
        let count = if is_last { layout.fixes - fixes.len() } else { each };
        let (about, spread_m) = match layout.name {
            Name::W3 => (by_the_line(&spot, radii, random), 12_000.0),
            Name::W1 | Name::W2 | Name::W4 => (spot, (1.8 * spot.radius_m).clamp(1_500.0, 25_000.0)),
        };
        let places = voyage::fixes(random, (&about, spread_m), count);
        fixes.extend(
            places.into_iter().zip(began_s..).map(|((lat_deg, lon_deg), at_s)| (lat_deg, lon_deg, at_s)),
        );
        began_s += DAY_S;
    }
    fixes
}

/// A place near the line of a large zone, in a random direction from its centre.
fn by_the_line(spot: &Spot, radii: &[f64], random: &mut Rng) -> Spot {
    let count = u32::try_from(radii.len()).unwrap_or(u32::MAX);
    let vertex = random.u32(..count);
    let away_m = radii[vertex as usize] * (0.8 + 0.35 * random.f64());
    let (sin, cos) = ring::turn(vertex, count).sin_cos();
    let (lat_deg, lon_deg) = spot.offset(away_m * sin, away_m * cos);
    Spot { lat_deg, lon_deg, ..*spot }
}

fn write(path: &Path, fill: impl FnOnce(&mut BufWriter<File>) -> std::io::Result<()>) -> Result<(), Failure> {
    let write = || {
        let mut out = BufWriter::with_capacity(1 << 20, File::create(path)?);
        fill(&mut out)?;
        out.flush()
    };
    write().map_err(|error| Failure::at(path, error))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(name: Name, seed: u64) -> (tempfile::TempDir, std::path::PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let layout = Layout::of(name, 0.001);
        let made = folder.path().join(layout.folder());
        make(&layout, &made, seed).unwrap();
        (folder, made)
    }

    #[test]
    fn the_same_seed_gives_the_same_files_and_another_gives_others() {
        let (first, again, other) = (made(Name::W4, 1), made(Name::W4, 1), made(Name::W4, 2));
        for file in ["zones.geojson", "fixes.csv", "track.gpx"] {
            let bytes =
                |of: &(tempfile::TempDir, std::path::PathBuf)| std::fs::read(of.1.join(file)).unwrap();
            assert_eq!(bytes(&first), bytes(&again), "{file}");
            assert_ne!(bytes(&first), bytes(&other), "{file}");
        }
    }

    #[test]
    fn a_workload_is_read_whole() {
        let (_folder, path) = made(Name::W4, 1);
        let workload = crate::workload::Workload::read(&path).unwrap();
        assert_eq!((workload.rings.len(), workload.fixes.len()), (20, 1_000));
        assert!(workload.rings.iter().all(|ring| ring.len() == 51 && ring.first() == ring.last()));
        assert_eq!(workload.boundaries().iter().flatten().count(), 20);
    }
}
