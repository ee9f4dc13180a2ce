//! Shapes of a `GeoPackage`: its own head before well-known binary (OGC 12-128r19, 2.1.3; ISO 13249-3).

use super::fault::ImportFault;
use super::layer::{Area, Line, Shape, Xy};

/// How deep collections may be nested.
const DEEPEST: usize = 8;
const MEND: &str = "write the GeoPackage again from the program that made it";

/// Bytes that are being read.
struct Cursor<'b> {
    rest: &'b [u8],
    is_little: bool,
    extra: Extra,
}

/// Numbers of positions that are no place.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Extra {
    pub(super) heights: usize,
    pub(super) measures: usize,
}

/// How many numbers a position has, and whether the third is a height.
#[derive(Clone, Copy)]
struct Dimensions {
    count: usize,
    has_heights: bool,
}

/// Reads the shape of one row, which has to be in the coordinate system of its column, and counts what is no place in it.
pub(super) fn read(blob: &[u8], system: i64, place: &str) -> Result<(Shape, Extra), ImportFault> {
    let mut shape = Shape::default();
    let extra = parsed(blob, system, &mut shape).map_err(|text| ImportFault::at(place, text, MEND))?;
    Ok((shape, extra))
}

fn parsed(blob: &[u8], system: i64, shape: &mut Shape) -> Result<Extra, String> {
    let [b'G', b'P', _version, flags, ..] = blob else {
        return Err("its shape does not begin as one of a GeoPackage does".into());
    };
    if flags & 0b0010_0000 != 0 {
        return Err("its shape is of an extended type, which is not read".into());
    }
    let envelope = match (flags >> 1) & 0b111 {
        0 => 0,
        1 => 32,
        2 | 3 => 48,
        4 => 64,
        other => return Err(format!("its shape has an envelope of kind {other}, which does not exist")),
    };
    let mut head = Cursor { rest: &blob[4..], is_little: flags & 1 == 1, extra: Extra::default() };
    let own = i64::from(head.u32()?.cast_signed());
    if own != system {
        return Err(format!("its shape is in the coordinate system {own}, and its layer in {system}"));
    }
    let rest = blob.get(8 + envelope..).ok_or("its shape ends in its head")?;
    let mut cursor = Cursor { rest, is_little: true, extra: Extra::default() };
    cursor.geometry(shape, 0)?;
    if cursor.rest.is_empty() { Ok(cursor.extra) } else { Err("bytes follow its shape".into()) }
}

impl Cursor<'_> {
    fn take<const N: usize>(&mut self) -> Result<[u8; N], String> {
        let (taken, rest) = self.rest.split_first_chunk::<N>().ok_or("its shape ends too early")?;
        self.rest = rest;
        Ok(*taken)
    }

    fn u32(&mut self) -> Result<u32, String> {
        let four = self.take()?;
        Ok(if self.is_little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) })
    }

    fn f64(&mut self) -> Result<f64, String> {
        let eight = self.take()?;
        Ok(if self.is_little { f64::from_le_bytes(eight) } else { f64::from_be_bytes(eight) })
    }

    /// The order of bytes, the type, and how many numbers a position has.
    fn head(&mut self) -> Result<(u32, Dimensions), String> {
        let [order] = self.take()?;
        self.is_little = match order {
            0 => false,
            1 => true,
            other => return Err(format!("its order of bytes is {other}, not 0 or 1")),
        };
        let code = self.u32()?;
        let dimensions = match code / 1000 {
            0 => Dimensions { count: 2, has_heights: false },
            1 => Dimensions { count: 3, has_heights: true },
            2 => Dimensions { count: 3, has_heights: false },
            3 => Dimensions { count: 4, has_heights: true },
            _ => return Err(format!("its shape is of type {code}, which is not read")),
        };
        Ok((code % 1000, dimensions))
    }

    fn geometry(&mut self, shape: &mut Shape, depth: usize) -> Result<(), String> {
        if depth > DEEPEST {
            return Err("its collections are nested too deep".into());
        }
        let (code, dimensions) = self.head()?;
        match code {
            // a point of nothing but NaN is an empty one
            1 => shape
                .points
                .extend(Some(self.position(dimensions)?).filter(|[x, y]| !(x.is_nan() && y.is_nan()))),
            2 => shape.lines.push(Line { positions: self.positions(dimensions)?, is_meant_closed: false }),
            3 => shape.areas.extend(self.area(dimensions)?),
            4..=7 => {
                for _ in 0..self.u32()? {
                    self.geometry(shape, depth + 1)?;
                }
            }
            other => {
                return Err(format!(
                    "its shape is of type {other} (a curve or a surface), which is not read"
                ));
            }
        }
        Ok(())
    }

    fn area(&mut self, dimensions: Dimensions) -> Result<Option<Area>, String> {
        let mut area = None;
        for _ in 0..self.u32()? {
            let ring = self.positions(dimensions)?;
            match &mut area {
                None => area = Some(Area { exterior: ring, holes: Vec::new() }),
                Some(area) => area.holes.push(ring),
            }
        }
        Ok(area)
    }

    fn positions(&mut self, dimensions: Dimensions) -> Result<Vec<Xy>, String> {
        // as many as there are, not as many as it says
        (0..self.u32()?).map(|_| self.position(dimensions)).collect()
    }

    fn position(&mut self, dimensions: Dimensions) -> Result<Xy, String> {
        let xy = [self.f64()?, self.f64()?];
        for at in 2..dimensions.count {
            let number = self.f64()?;
            let is_height = at == 2 && dimensions.has_heights;
            self.extra.heights += usize::from(is_height && number != 0.0);
            self.extra.measures += usize::from(!is_height && !number.is_nan());
        }
        Ok(xy)
    }
}
