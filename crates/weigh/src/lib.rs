//! Hypotheses weighed against what was found, and the worth of the next look.
