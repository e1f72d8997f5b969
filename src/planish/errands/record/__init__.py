"""The record: proved, backed up, restored, archived, and deleted from where that is due."""
