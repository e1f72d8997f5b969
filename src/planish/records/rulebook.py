"""One fair's clauses and switches: data, so that an exhibitor can run the same file at home."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planish.records.claims import Conventions
from planish.records.frozen import EMPTY

Check = Literal["dateline", "required", "banned", "gated", "disclosure", "wording", "law", "quality", "note"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clause:
    """One numbered clause. `check` names how it is tested; `settings` what that check needs."""

    number: str
    text: str
    check: Check = "note"
    settings: Mapping[str, object] = field(default_factory=lambda: EMPTY)
    severity: Literal[1, 2, 3, 4] = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class VotingRules:
    """How opinions become an outcome. Every number carries its clause in the rule book."""

    share: float = 0.75
    remove_share: float = 0.75
    quorum: int = 3
    competent_needed: int = 1
    refer_ballots: int = 2
    rounds: Literal[1, 2] = 2
    casting_vote: Literal["none", "relabel_or_refer"] = "relabel_or_refer"
    doubt_removes: bool = False
    split_floor: int = 3
    clauses: Mapping[str, str] = field(default_factory=lambda: EMPTY)


@dataclass(frozen=True, slots=True, kw_only=True)
class Discipline:
    """One field of expertise: words that lead an object to it, its dateline clause, and fields it also needs.

    `leads` object types and materials that make it the lead panel; `seconds` those that call it in for a part.
    """

    id: str
    name: str
    leads: tuple[str, ...] = ()
    seconds: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    priority: int = 0
    more: Mapping[str, object] = field(default_factory=lambda: EMPTY)


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """One fair's rule book."""

    id: str
    fair: str
    version: str
    clauses: tuple[Clause, ...] = ()
    conventions: Conventions = field(default_factory=Conventions)
    voting: VotingRules = field(default_factory=VotingRules)
    datelines: Mapping[str, int] = field(default_factory=lambda: EMPTY)
    definitions: Mapping[str, str] = field(default_factory=lambda: EMPTY)
    switches: Mapping[str, object] = field(default_factory=lambda: EMPTY)
    law: tuple[str, ...] = ()
    house_form: Mapping[str, object] = field(default_factory=lambda: EMPTY)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClauseAnswer:
    """What one clause says of one label: met, broken or cannot tell, in one sentence that points at its grounds.

    `wrong_side` is the share (0..1) of the claimed years beyond a dateline, None when the clause has none.
    `fault` is the stable plain word of the fault ("date.too_vague"); `remedy` suggested words or the way out.
    """

    clause: str
    answer: Literal["met", "broken", "cannot_tell"]
    sentence: str
    remedy: str = ""
    fault: str = ""
    severity: Literal[1, 2, 3, 4] = 3
    claims: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    wrong_side: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Which disciplines must see one object: `lead`, `seconds` for parts, and whether a person should be asked first."""

    lead: str
    seconds: tuple[str, ...] = ()
    ask: bool = False
    why: tuple[str, ...] = ()
