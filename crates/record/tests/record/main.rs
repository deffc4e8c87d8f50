//! The record as others use it: the frozen wire form, chains, the fold, seals.

mod chain;
mod fold;
mod laws;
mod page;
mod sample;
mod signing;
mod wire;
