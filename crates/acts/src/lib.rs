//! What a person does: open a job, keep an entry, correct, withhold, seal
