"""What was done in like cases? Faults as structured vectors, a stated distance, nearest earlier cases, an alarm.

May import: `planish.records`, numpy. Start with `like_cases.py`.
"""

from planish.reasoning.matching.like_cases import Case, CaseIndex, LikeCase, distance, unlike_outcomes

__all__ = ["Case", "CaseIndex", "LikeCase", "distance", "unlike_outcomes"]
