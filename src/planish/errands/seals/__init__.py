"""Seals: the keys of a fair and the words signed with them."""
