//! Quantities, how people write them at a bench, and how sure they are
