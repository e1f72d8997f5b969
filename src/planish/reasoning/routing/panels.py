"""Object names lead before materials; a material of a part calls in a second panel; nothing is dropped."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from planish.records import Claim, Discipline, ListedObject, Reading, Route, TermValue

_LEAD_SIDES = ("object", "material", "surface")
_MOUNTED = re.compile(r"[\s-]*(?:and \w+[\s-]*)?(?:mount|fitting|hinge|cover|lid|handle|rim|collar|base|liner|bound)", re.IGNORECASE)  # fmt: skip
_WORD = re.compile(r"[a-zé]+", re.IGNORECASE)


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """Disciplines by the words that lead or second, made once for one tuple of disciplines."""

    leads: dict[str, list[Discipline]]
    seconds: dict[str, list[Discipline]]
    never: dict[str, frozenset[str]]
    names: dict[str, Discipline]
    home: Discipline


def route(listed: ListedObject, reading: Reading, disciplines: tuple[Discipline, ...]) -> Route:
    """The panels that must see `listed`. `ask` is True when a person should say which; `why` gives the words used.

    Order of grounds: a discipline named in the list's own column; the object name (unless its discipline lets a
    material decide: a candlestick goes by its metal); the material of the whole; words of the label that nobody could
    settle; the home discipline. Raises ValueError when there is no discipline at all.
    """
    if not disciplines:
        raise ValueError("there is no discipline to route to")
    table = _table(disciplines)
    parts, whole = _split(reading)
    named = _named_in_list(listed, table)
    by_object = _best(_hits(whole, "object", table), whole, table)
    by_material = _hits(whole, "material", table) + _hits(whole, "surface", table)
    why: tuple[str, ...]
    if by_object is not None and by_material and by_object[1].more.get("objects_yield"):
        by_object = None
    if named is not None:
        lead, why, ask = named, (f"the list says {named.name}",), False
    elif by_object is not None:
        lead, why, ask = by_object[1], (f"{by_object[0]} leads to {by_object[1].name}",), False
    elif by_material:
        lead, why, ask = _by_material(by_material)
    else:
        lead, why, ask = _by_loose_words(listed, reading, table)
    seconds, reasons = _seconds(lead, parts, by_material, table)
    return Route(lead=lead.id, seconds=seconds, ask=ask, why=(*why, *reasons))


_TABLES: dict[int, tuple[tuple[Discipline, ...], _Table]] = {}


def _table(disciplines: tuple[Discipline, ...]) -> _Table:
    """The look-up for this very tuple; kept for the last few tuples, as a fair has one."""
    kept = _TABLES.get(id(disciplines))
    if kept is not None and kept[0] is disciplines:
        return kept[1]
    if len(_TABLES) > 8:
        _TABLES.clear()
    table = _built(disciplines)
    _TABLES[id(disciplines)] = (disciplines, table)
    return table


def _built(disciplines: tuple[Discipline, ...]) -> _Table:
    leads: dict[str, list[Discipline]] = {}
    seconds: dict[str, list[Discipline]] = {}
    names: dict[str, Discipline] = {}
    for one in disciplines:
        names[one.id.lower()] = names[one.name.lower()] = one
        for word in one.leads:
            leads.setdefault(word.lower(), []).append(one)
        for word in one.seconds:
            seconds.setdefault(word.lower(), []).append(one)
    home = next((d for d in disciplines if d.more.get("default")), disciplines[0])
    return _Table(leads, seconds, {d.id: frozenset(d.never) for d in disciplines}, names, home)


def _split(reading: Reading) -> tuple[list[Claim], list[Claim]]:
    """Claims about a part, and claims about the whole, that can name a panel; denied ones name none."""
    parts: list[Claim] = []
    whole: list[Claim] = []
    for claim in reading.claims:
        if claim.side in _LEAD_SIDES and claim.strength != "denied" and isinstance(claim.value, TermValue):
            (parts if _of_a_part(claim, reading.text) else whole).append(claim)
    return parts, whole


def _of_a_part(claim: Claim, text: str) -> bool:
    if claim.part:
        return True
    return claim.side != "object" and _MOUNTED.match(text, claim.span.end) is not None


def _term(claim: Claim) -> str:
    return claim.value.term.lower() if isinstance(claim.value, TermValue) else ""


def _hits(claims: Iterable[Claim], side: str, table: _Table) -> list[tuple[str, Discipline]]:
    return [(_term(c), d) for c in claims if c.side == side for d in _leads(_term(c), table)]


def _leads(term: str, table: _Table) -> list[Discipline]:
    """Disciplines that `term` leads to; "brass candlestick" is tried whole, then by its last words."""
    words = term.split()
    for start in range(len(words)):
        tail = " ".join(words[start:])
        for form in (tail, tail.removesuffix("s")):
            if form in table.leads:
                return table.leads[form]
    return []


def _best(
    hits: list[tuple[str, Discipline]], whole: list[Claim], table: _Table
) -> tuple[str, Discipline] | None:
    """The object name's discipline of highest priority that does not refuse one of the object's names."""
    objects = {_term(c) for c in whole if c.side == "object"}
    open_ = [hit for hit in hits if not objects & table.never[hit[1].id]]
    if not open_:
        return None
    first = open_[0][0]
    return max((hit for hit in open_ if hit[0] == first), key=lambda hit: hit[1].priority)


def _by_material(
    hits: list[tuple[str, Discipline]],
) -> tuple[Discipline, tuple[str, ...], bool]:
    """The first material's discipline; two materials of different disciplines are a question, not a guess."""
    first = hits[0][0]
    lead = max((d for term, d in hits if term == first), key=lambda d: d.priority)
    others = {d.id for term, d in hits if term != first} - {lead.id}
    why = [f"{first} leads to {lead.name}"]
    clash = bool(others) and not any(term != first and d.id == lead.id for term, d in hits)
    if clash:
        why.append("another material of the whole leads elsewhere")
    return lead, tuple(why), clash


def _by_loose_words(
    listed: ListedObject, reading: Reading, table: _Table
) -> tuple[Discipline, tuple[str, ...], bool]:
    words = [word.lower() for word in _WORD.findall(reading.text or listed.text)[:200]]
    for size in (3, 2, 1):
        for start in range(len(words) - size + 1):
            phrase = " ".join(words[start : start + size])
            if found := table.leads.get(phrase) or table.leads.get(phrase.removesuffix("s")):
                lead = max(found, key=lambda d: d.priority)
                return lead, (f"the word {phrase} may lead to {lead.name}",), True
    return table.home, ("nothing in the words says which panel",), True


def _named_in_list(listed: ListedObject, table: _Table) -> Discipline | None:
    for column in ("discipline", "category", "department"):
        value = listed.fields.get(column, "").strip().lower()
        if value and value in table.names:
            return table.names[value]
    return None


def _seconds(
    lead: Discipline, parts: list[Claim], whole: list[tuple[str, Discipline]], table: _Table
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Panels that a part, or a material of the whole that the lead does not cover, calls in."""
    ids: dict[str, str] = {}
    covered = set(lead.leads) | set(lead.seconds)
    for claim in parts:
        term = _term(claim)
        if term not in covered:
            for one in table.seconds.get(term, ()):
                ids.setdefault(one.id, f"{term} part calls in {one.name}")
    known = lead.more.get(
        "reads", ()
    )  # a panel that reads another's facts judges that material of the whole itself
    for term, _ in whole:
        for one in () if term in covered else table.seconds.get(term, ()):
            if one.id not in (known if isinstance(known, tuple) else ()):
                ids.setdefault(one.id, f"{term} calls in {one.name}")
    ids.pop(lead.id, None)
    return tuple(ids), tuple(ids.values())
