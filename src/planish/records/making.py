"""From dated events to the years of the making: which dates speak of it, which only bound it, and how they combine."""

from collections.abc import Sequence
from typing import Literal

from planish.records.evidence import Event
from planish.records.years import Years

Happened = tuple[Event, str, str, Years]
"""event, grain ("year", "decade", "century", "period"), the word that named the event (empty: none), years."""

_MAKING: frozenset[str] = frozenset({"body_made", "cast", "printed", "published", "remade"})
_NOT_BEFORE: frozenset[str] = frozenset({"designed", "registered"})
_CHANGES_THE_WORK: frozenset[str] = frozenset({"remade", "repair", "decorated"})
_COMPLETES: frozenset[str] = frozenset({"body_made", "cast", "printed", "remade"})
ORIGINAL = "original"
"""`said` of a date that belongs to the model copied ("cast after 1806 original")."""


def making_of(happened: Sequence[Happened], *, dates_of: Literal["object", "work"] = "object") -> Years:
    """Years of the making from everything dated on one object; an end that nothing bounds is None.

    `dates_of="object"`: a date with a word of making (made, cast, hallmarked for) beats a bare one, a bare one beats the
    bounds; designed and registered give the earliest year only, exhibited, inscribed and repaired the latest only.
    `dates_of="work"`: the date of the work counts, as collections of prints and casts record it.
    """
    if len(happened) == 1 and happened[0][0] == "body_made":
        return happened[0][3]
    return _of_object(happened) if dates_of == "object" else _of_work(happened)


def _of_object(happened: Sequence[Happened]) -> Years:
    making = [one for one in happened if one[0] in _MAKING]
    if making:
        said = [one for one in making if one[2]]
        return narrowed(_newest(said) or making)
    earliest = [y.earliest for event, _, _, y in happened if event in _NOT_BEFORE and y.earliest is not None]
    latest = [y.latest for event, _, _, y in happened if event not in _NOT_BEFORE and y.latest is not None]
    first, last = (max(earliest) if earliest else None), (min(latest) if latest else None)
    if first is not None and last is not None and first > last:
        return Years(first, None)
    return Years(first, last)


_ANEW: dict[str, int] = {"cast": 1, "printed": 1, "published": 1, "remade": 2}
"""How far an event makes the thing anew: a cast carries its model's date, a copy or a recast that of its forerunner."""


def _newest(said: Sequence[Happened]) -> Sequence[Happened]:
    """ "Dated 1588, cast about 1900", "cast 1690, recast 1893": the later thing is the one in hand."""
    most = max((_ANEW.get(one[0], 0) for one in said), default=0)
    anew = [one for one in said if _ANEW.get(one[0], 0) == most]
    older = [one for one in said if _ANEW.get(one[0], 0) < most]
    return anew if all(old[3].wholly_before(new[3]) for old in older for new in anew) else said


def _of_work(happened: Sequence[Happened]) -> Years:
    if not happened:
        return Years()
    sources = [one for one in happened if one[2] == ORIGINAL]
    rest = [one for one in happened if one[2] != ORIGINAL]
    if sources and (not rest or rest[0][0] in ("cast", "remade")):
        return narrowed(sources)
    bare = [one for one in rest if one[0] == "body_made" and not one[2]]
    if bare:
        return narrowed([*bare, *(one for one in rest if one[0] in _CHANGES_THE_WORK)])
    stages = [one for one in rest if one[0] in _NOT_BEFORE or one[0] in _COMPLETES]
    return narrowed(stages or rest[:1])


def narrowed(happened: Sequence[Happened]) -> Years:
    """Dates of one grain are alternatives and join; a finer grain or a bound narrows what it meets."""
    if len(happened) == 1:
        return happened[0][3]
    grains: dict[str, Years] = {}
    for _, grain, _, years in happened:
        if not years.bounded:
            grain = "from" if years.latest is None else "to"
        grains[grain] = _hull(grains[grain], years) if grain in grains else years
    hulls = list(grains.values())
    joined = hulls[0] if hulls else Years()
    for years in hulls[1:]:
        joined = _overlap(joined, years) if joined.meets(years) else _hull(joined, years)
    return joined


def _hull(one: Years, other: Years) -> Years:
    earliest = None if one.earliest is None or other.earliest is None else min(one.earliest, other.earliest)
    latest = None if one.latest is None or other.latest is None else max(one.latest, other.latest)
    return Years(earliest, latest)


def _overlap(one: Years, other: Years) -> Years:
    firsts = [year for year in (one.earliest, other.earliest) if year is not None]
    lasts = [year for year in (one.latest, other.latest) if year is not None]
    return Years(max(firsts, default=None), min(lasts, default=None))
