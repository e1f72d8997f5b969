"""Words of the trade in their context. Each folder settles one thing about what the lexicon found.

naming: who and where, and names that claim nothing. phrasing: what the object is and what each word speaks of. meaning: a word
beside its neighbours. dating: what each date is of. letters.py reads what stands on the object, prices.py what it costs.
`label.py` calls them in order.
"""
