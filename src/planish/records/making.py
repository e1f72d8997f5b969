"""From dated events to the years of the making: which dates speak of it, which only bound it, and how they combine."""

from collections.abc import Sequence
from typing import Literal

from planish.records.evidence import Event
from planish.records.years import Years

Happened = tuple[Event, str, str, Years]
"""event, grain ("year", "decade", "century", "period"), the word that named the event (empty: none), years."""

_MAKING: frozenset[str] = frozenset({"body_made", "cast", "printed", "published", "remade", "copied"})
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
        made = narrowed(_newest(said) or making)
        coarse = made.earliest is None or all(one[1] in _COARSE for one in making)
        return _not_before(made, happened) if coarse else made
    earliest = [y.earliest for event, _, _, y in happened if event in _NOT_BEFORE and y.earliest is not None]
    latest = [y.latest for event, _, _, y in happened if event not in _NOT_BEFORE and y.latest is not None]
    first, last = (max(earliest) if earliest else None), (min(latest) if latest else None)
    if first is not None and last is not None and first > last:
        return Years(first, None)
    return Years(first, last)


_COARSE = frozenset({"period", "century"})


def _not_before(made: Years, happened: Sequence[Happened]) -> Years:
    """ "Victorian, design registered 1867", "designed 1862, made until 1900": a making told in centuries or reigns, or with
    no beginning, begins no earlier than its design."""
    firsts = [y.earliest for event, _, _, y in happened if event in _NOT_BEFORE and y.earliest is not None]
    inside = [year for year in firsts if made.holds(year)]
    return Years(max(inside), made.latest) if inside else made


_ANEW: dict[str, int] = {"cast": 1, "printed": 1, "published": 1, "remade": 2, "copied": 2}
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
    if sources and (not rest or rest[0][0] in ("cast", "copied")):
        return narrowed(sources)
    bare = [one for one in rest if one[0] == "body_made" and not one[2]]
    if bare:
        more = [one for one in rest if one[0] in _CHANGES_THE_WORK or _is_finer(one, bare)]
        return narrowed([*bare, *more])
    stages = [one for one in rest if one[0] in _NOT_BEFORE or one[0] in _COMPLETES]
    if not stages:
        return narrowed(rest[:1])
    return _from_first_to_last(
        [*stages, *(one for one in rest if one[0] in _CHANGES_THE_WORK and one not in stages)]
    )


def _is_finer(one: Happened, bare: Sequence[Happened]) -> bool:
    """True for the year of "Victorian (dated 1867)": a making of a finer grain inside the years of the bare date."""
    return one[0] == "body_made" and any(one[1] != b[1] != "year" and b[3].takes_in(one[3]) for b in bare)


def _from_first_to_last(stages: Sequence[Happened]) -> Years:
    """Stages of one work run from the first to the last: "modelled 1890, cast by 1904" is 1890 to 1904.

    A bound closes the stages on its own side, and leaves the far end open only where no other stage closes it.
    """
    closed = [one for one in stages if one[3].bounded]
    bounds = [one[3] for one in stages if not one[3].bounded]
    if not closed or not bounds:
        return narrowed(stages)
    years = narrowed(closed)
    for bound in bounds:
        first, last = years.earliest, years.latest
        if bound.latest is not None:
            years = Years(first, max(bound.latest, last or bound.latest))
        elif bound.earliest is not None and last is not None and bound.earliest > last:
            years = Years(first, None)
        else:
            years = _hull(years, Years(bound.earliest, last))
    return years


def narrowed(happened: Sequence[Happened]) -> Years:
    """Dates of one grain are alternatives and join; a finer grain or a bound narrows what it meets.

    A period inside another narrows it, as a reign does its dynasty: "Qing dynasty, Kangxi period". Figures that a period
    does not take in beat it, for its name may be a style, a title or whom the thing shows: "Henry IV as a child, 1822-1845".
    """
    happened = _without_styles(happened)
    if len(happened) == 1:
        return happened[0][3]
    grains: dict[str, Years] = {}
    for _, grain, _, years in happened:
        if not years.bounded:
            grain = "from" if years.latest is None else "to"
        if grain not in grains:
            grains[grain] = years
        elif grain == "period" and (grains[grain].takes_in(years) or years.takes_in(grains[grain])):
            grains[grain] = _overlap(grains[grain], years)
        else:
            grains[grain] = _hull(grains[grain], years)
    hulls = list(grains.values())
    joined = hulls[0] if hulls else Years()
    for years in hulls[1:]:
        joined = _overlap(joined, years) if joined.meets(years) else _hull(joined, years)
    return joined


def _without_styles(happened: Sequence[Happened]) -> Sequence[Happened]:
    """Leave out periods that the figures contradict, by standing outside them or by all but standing outside."""
    told = [one[3] for one in happened if one[1] != "period" and one[3].bounded]
    if not told:
        return happened
    return [one for one in happened if one[1] != "period" or any(_fits(one[3], years) for years in told)]


_SLIVER = 0.1
"""Share of the figures' years below which a period that meets them narrows nothing (house default, no source)."""


def _fits(period: Years, figures: Years) -> bool:
    """True where a period takes the figures in, stands within them, or meets them for more than a sliver."""
    if not period.bounded or period.takes_in(figures) or figures.takes_in(period):
        return period.meets(figures)
    if not period.meets(figures):
        return False
    both = _overlap(period, figures)
    return _length(both) > _SLIVER * _length(figures)


def _length(years: Years) -> int:
    assert years.earliest is not None
    assert years.latest is not None
    return years.latest - years.earliest + 1


def _hull(one: Years, other: Years) -> Years:
    earliest = None if one.earliest is None or other.earliest is None else min(one.earliest, other.earliest)
    latest = None if one.latest is None or other.latest is None else max(one.latest, other.latest)
    return Years(earliest, latest)


def _overlap(one: Years, other: Years) -> Years:
    firsts = [year for year in (one.earliest, other.earliest) if year is not None]
    lasts = [year for year in (one.latest, other.latest) if year is not None]
    return Years(max(firsts, default=None), min(lasts, default=None))
