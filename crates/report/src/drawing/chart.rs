//! The pieces that both drawings share: numbers and paths of SVG.

/// A number of a drawing, to a tenth of its unit.
pub(crate) fn unit(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").map_or(text.clone(), str::to_owned);
    if text == "-0" { "0".into() } else { text }
}

/// The `d` of a path, built move by move.
#[derive(Debug, Default)]
pub(crate) struct PathData(String);

impl PathData {
    /// A way along points; closed ones end where they began.
    pub(crate) fn add(&mut self, points: &[(f64, f64)], closed: bool) {
        for (number, (x, y)) in points.iter().enumerate() {
            let step = if number == 0 { 'M' } else { 'L' };
            self.0.push(step);
            self.0.push_str(&unit(*x));
            self.0.push(' ');
            self.0.push_str(&unit(*y));
        }
        if closed && !points.is_empty() {
            self.0.push('Z');
        }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(crate) fn into_text(self) -> String {
        self.0
    }
}

/// Leaves out points that a screen could not tell from the one before; the last stays.
pub(crate) fn thinned(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    const VISIBLE: f64 = 0.3;
    let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len());
    for (number, point) in points.iter().enumerate() {
        let is_last = number + 1 == points.len();
        let moved = kept.last().is_none_or(|last| (last.0 - point.0).hypot(last.1 - point.1) >= VISIBLE);
        if moved || is_last {
            kept.push(*point);
        }
    }
    kept
}

/// Leaves out points that lie no farther off the way without them than a screen shows, after Douglas and Peucker (1973).
pub(crate) fn simplified(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    const VISIBLE: f64 = 0.2;
    let mut is_kept = vec![false; points.len()];
    let mut stretches = vec![(0, points.len().saturating_sub(1))];
    while let Some((first, last)) = stretches.pop() {
        let (Some(from), Some(to)) = (points.get(first), points.get(last)) else { continue };
        for end in [first, last] {
            if let Some(kept) = is_kept.get_mut(end) {
                *kept = true;
            }
        }
        let between = points.iter().enumerate().take(last).skip(first + 1);
        let farthest = between.map(|(number, point)| (number, off_leg(*point, *from, *to)));
        let farthest = farthest.max_by(|one, other| one.1.total_cmp(&other.1));
        if let Some((number, _)) = farthest.filter(|(_, off)| *off > VISIBLE) {
            stretches.extend([(first, number), (number, last)]);
        }
    }
    points.iter().zip(is_kept).filter(|(_, is_kept)| *is_kept).map(|(point, _)| *point).collect()
}

/// How far a point lies off a leg.
fn off_leg(point: (f64, f64), from: (f64, f64), to: (f64, f64)) -> f64 {
    let (along, across) = (to.0 - from.0, to.1 - from.1);
    let length_squared = along * along + across * across;
    let share = if length_squared > 0.0 {
        (((point.0 - from.0) * along + (point.1 - from.1) * across) / length_squared).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (point.0 - from.0 - share * along).hypot(point.1 - from.1 - share * across)
}
