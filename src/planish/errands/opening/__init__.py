"""Opening a fair: its folder, its rule book, its clock, the running desk, and how an errand refuses."""
