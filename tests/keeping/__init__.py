"""Keeping the record: seals at the desk, backups, archive, deletion."""
