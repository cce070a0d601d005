"""One SQLite file that holds values by fingerprint."""
