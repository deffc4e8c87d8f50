//! Paper: the dossier as archival PDF
