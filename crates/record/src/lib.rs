//! Entries, hashes, seals, and the fold of a chain into a job
