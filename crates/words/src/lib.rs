//! Findings, errors and labels made into sentences
