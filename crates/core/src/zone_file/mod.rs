//! Zone files: one GeoJSON feature collection that any GIS opens, with our properties.
