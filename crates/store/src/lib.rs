//! The ledger on SQLite and the photo vault: one workshop is one folder
