"""Objects: taken in by list, asked about, found again, moved."""
