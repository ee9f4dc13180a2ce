//! Where words fit on the map without lying on each other.

use super::frame::WIDTH;

/// Height and mean width of a letter as a phone shows them, in units of the drawing; wider screens show smaller ones.
pub(crate) const LETTER_HEIGHT: f64 = 24.0;
const LETTER_WIDTH: f64 = 12.6;

/// What has been written so far.
#[derive(Debug, Clone)]
pub(crate) struct Labels {
    width: f64,
    height: f64,
    taken: Vec<Area>,
}

#[derive(Debug, Clone, Copy)]
struct Area {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Area {
    fn about(centre: (f64, f64), width: f64, height: f64) -> Self {
        let (half_width, half_height) = (width / 2.0, height / 2.0);
        Self {
            left: centre.0 - half_width,
            top: centre.1 - half_height,
            right: centre.0 + half_width,
            bottom: centre.1 + half_height,
        }
    }

    fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// The width of a text, roughly.
pub(crate) fn text_width(text: &str) -> f64 {
    text.chars().map(|_| LETTER_WIDTH).sum()
}

impl Labels {
    pub(crate) const fn new(height: f64) -> Self {
        Self { width: WIDTH, height, taken: Vec::new() }
    }

    /// Room on a map that is drawn so many times as large.
    pub(crate) fn enlarged(height: f64, times: f64) -> Self {
        Self { width: WIDTH * times, height: height * times, taken: Vec::new() }
    }

    /// The same room, less small squares about these points.
    pub(crate) fn without(&self, points: impl Iterator<Item = (f64, f64)>) -> Self {
        const SIDE: f64 = 14.0;
        let mut less = self.clone();
        less.taken.extend(points.map(|point| Area::about(point, SIDE, SIDE)));
        less
    }

    /// Whether the area lies in the frame and nobody has it.
    pub(crate) fn is_free(&self, centre: (f64, f64), width: f64, height: f64) -> bool {
        let area = Area::about(centre, width, height);
        let inside =
            area.left >= 0.0 && area.top >= 0.0 && area.right <= self.width && area.bottom <= self.height;
        inside && !self.taken.iter().any(|other| other.meets(&area))
    }

    /// Takes the area if it lies in the frame and nobody has it.
    pub(crate) fn take(&mut self, centre: (f64, f64), width: f64, height: f64) -> bool {
        let is_free = self.is_free(centre, width, height);
        if is_free {
            self.taken.push(Area::about(centre, width, height));
        }
        is_free
    }
}
