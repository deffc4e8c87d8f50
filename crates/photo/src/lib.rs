//! Decode pictures with limits, turn them upright, strip them, make previews
