"""The archive's own reader: `verify.py` is copied into every archive and needs nothing but Python."""
