"""The archive held against published forms and against those who would change it."""
