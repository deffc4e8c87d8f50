//! Networks of coils, pots and switches: what each position does
