"""Telling: papers out of the log, the sum of a fair, facts shown with their witness."""
