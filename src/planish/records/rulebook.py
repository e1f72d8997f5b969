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
    """How opinions become an outcome. Every number carries its clause in the rule book.

    `clauses` maps a field's name to the clause that sets it; a field without one is printed as a house default.
    Shares are 0..1 of counted votes. `share`: a claim stands at this share for, falls at this share against.
    `remove_share`: the same for the outcome remove. `quorum`: decided votes needed, of which `competent_needed` from
    members competent for the object. `refer_ballots`: so many ballots for refer are enough. `binding_share`: share of
    the second round that must say why a binding conflict does not apply. `pass_means_holds`: a ballot that accepts
    and is silent on a claim counts as "holds" (a pass is one tap). `split_floor`: fewest counted ballots for which
    an unnamed split is ever shown.
    `talk_costliest`: share 0..1 of objects, by price, on which a fragile suggestion is talked over.
    `talk_*` and `core_share`, `label_share`, `date_floor`: statistics of dates and second looks. `person_floor`,
    `agreement_floor`, `bootstrap_draws`: when figures may be shown at all. `appeal_hours`, `appeal_members`: appeals.
    """

    share: float = 0.75
    remove_share: float = 0.75
    quorum: int = 3
    competent_needed: int = 1
    refer_ballots: int = 2
    rounds: Literal[1, 2] = 2
    casting_vote: Literal["none", "relabel_or_refer"] = "relabel_or_refer"
    doubt_removes: bool = False
    split_floor: int = 3
    binding_share: float = 0.75
    pass_means_holds: bool = True
    talk_between: float = 0.5
    talk_overlap: float = 0.2
    talk_evidence_low: float = 0.10
    talk_evidence_high: float = 0.90
    talk_copy: float = 0.20
    talk_severity_range: int = 2
    talk_severity_kinds: tuple[str, ...] = ("structural", "replaced_part", "added_decoration", "mark")
    talk_costliest: float = 0.1
    date_floor: float = 0.01
    core_share: float = 0.75
    label_share: float = 0.80
    person_floor: int = 10
    agreement_floor: int = 20
    bootstrap_draws: int = 2000
    appeal_hours: float = 24.0
    appeal_members: int = 3
    like_cases_from_earlier_fairs: bool = False
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
    `instead` gives exact words for a claim where the remedy has them, as (claim id, words); they never say more than
    the claim did.
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
    instead: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Which disciplines must see one object: `lead`, `seconds` for parts, and whether a person should be asked first."""

    lead: str
    seconds: tuple[str, ...] = ()
    ask: bool = False
    why: tuple[str, ...] = ()
