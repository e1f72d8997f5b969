"""Words: what a label may say, what it must say, one rung up, and why a claim cannot stand."""
