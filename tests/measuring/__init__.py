"""Tests of the measuring room."""
