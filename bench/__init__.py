"""Figures: rates and ratios, measured side by side in one run and printed. Nothing here is a test.

Run one with `python -m bench.<topic>`, or all with `make bench`.
"""
