"""Words of the trade in their context: names, makers, parts, letters on the object, dates of parts, prices.

Each module looks at the hits of the lexicon and settles one thing about them. Start with `names.py`.
"""
