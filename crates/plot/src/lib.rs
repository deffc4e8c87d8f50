//! Data and axes made into a small tree of marks, drawn as SVG
