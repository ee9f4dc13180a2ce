use super::{InvalidBoundary, PartSpec};

/// A boundary of any number of parts and holes, ready to be asked.
#[derive(Debug, Clone)]
pub struct Boundary {}

impl Boundary {
    /// Builds a boundary from its parts.
    ///
    /// # Errors
    ///
    /// [`InvalidBoundary`] names part, ring, vertex and how to mend it.
    pub fn build(parts: &[PartSpec]) -> Result<Self, InvalidBoundary> {
        let _ = parts;
        Ok(Self {})
    }
}
