//! The program: command line, settings, start-up.
fn main() {}
