//! Pages and forms on this machine's own address
