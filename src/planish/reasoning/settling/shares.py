"""Shares of counted votes, compared without rounding surprises, and the clause that sets each threshold."""

from planish.records import VotingRules


def reaches(count: int, of: int, share: float) -> bool:
    """True when `count` of `of` is at least `share` (0..1). Nothing reaches a share of nobody."""
    return of > 0 and count >= share * of - 1e-9


def clause_of(rules: VotingRules, name: str) -> str:
    """Number of the clause that sets the field `name`, "" when the rule book names none (a house default)."""
    return rules.clauses.get(name, "")
