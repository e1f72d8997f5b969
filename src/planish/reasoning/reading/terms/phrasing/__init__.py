"""Noun phrases: what heads each, how it hangs on the one before, and what each of its words speaks of."""
