"""The next look that would change the outcome most per minute, from a table of possible looks."""

from dataclasses import dataclass, replace

import numpy as np

from planish.reasoning.contradicting.masks import Place
from planish.reasoning.contradicting.order import place_of
from planish.reasoning.weighing.case import Case
from planish.reasoning.weighing.checking import BLOCKING, check
from planish.reasoning.weighing.likelihood import Rows, logarithms, shape, tempers
from planish.reasoning.weighing.model import Model, Track
from planish.reasoning.weighing.ranges import step_of
from planish.reasoning.weighing.scoring import HOUSE, compile_case, score
from planish.reasoning.weighing.settings import Settings
from planish.reasoning.weighing.weigh import claim_mask
from planish.records import Event, EvidenceItem, Years


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One thing a look may find, and how often it would be found on things of each year: windows or a curve."""

    words: str
    windows: tuple[Years, ...] = ()
    curve: tuple[tuple[int, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A look a specialist could take. `minutes` is working time; `doubt` the chance that what is found misleads.

    In every year the chances of what may be found are shared out among `finds` in the ratio of their heights.
    """

    id: str
    sentence: str
    minutes: float
    finds: tuple[Found, ...]
    part: str = ""
    event: Event = "body_made"
    binding: bool = False
    doubt: float = 0.05
    caution: str = ""
    basis: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LookValue:
    """What a look is worth: mean change of the claim's chance, chance that the claim changes sides of even, both before
    looking; `per_minute` is the mean change over the minutes. `finds` gives each find with its chance and the claim after."""

    look: Look
    change: float
    turns: float
    per_minute: float
    finds: tuple[tuple[str, float, float], ...]
    sentence: str


def next_looks(
    case: Case, looks: tuple[Look, ...], settings: Settings = HOUSE, *, most: int = 5
) -> tuple[LookValue, ...]:
    """Looks not yet taken, best first: by mean change of the main claim per minute, then by name.

    Empty when the case has no main claim or cannot be weighed. Looks at parts the object does not have are left out, as
    are looks that could find only one thing.
    """
    mask = claim_mask(case.main_claim, settings)
    if mask is None or any(p.severity <= BLOCKING for p in check(case, settings)):
        return ()
    parts = {"", "body", *(p.name for p in case.parts)}
    open_looks = [k for k in looks if k.id not in case.looked and k.part in parts and len(k.finds) > 1]
    if not open_looks:
        return ()
    values = _values(case, open_looks, settings, mask)
    return tuple(sorted(values, key=lambda v: (-round(v.per_minute, 9), v.look.id))[:most])


def _values(case: Case, looks: list[Look], settings: Settings, mask: Rows) -> list[LookValue]:
    base = compile_case(case, settings)
    model, owners = _with_looks(case, looks, settings)
    count = len(base.items)
    weights = np.zeros((len(owners) + 1, len(model.items)))
    weights[:, :count] = tempers(base.items)
    for row in range(len(owners)):
        weights[row + 1, count + row] = 1.0
    scored = score(model, weights, settings.copy_chance)
    evidence = _evidence(scored.log10_period, scored.log10_copy, settings.copy_chance)
    claim = scored.claim(mask)
    out = []
    for n, look in enumerate(looks):
        rows = [r + 1 for r, owner in enumerate(owners) if owner == n]
        chances = evidence[rows] / evidence[rows].sum()
        out.append(_value(look, chances, claim[rows], float(claim[0])))
    return out


def _evidence(period: Rows, copied: Rows, chance: float) -> Rows:
    """Chance of what was found, relative to the case as it stands (row 0), over both hypotheses."""
    top = max(float(period[0]), float(copied[0]) if np.isfinite(copied[0]) else -np.inf)
    out: Rows = (1.0 - chance) * 10.0 ** (period - top)
    if np.isfinite(copied[0]):
        out = out + chance * 10.0 ** (copied - top)
    return out


def _value(look: Look, chances: Rows, after: Rows, before: float) -> LookValue:
    change = float((chances * np.abs(after - before)).sum())
    turns = float(chances[(after >= 0.5) != (before >= 0.5)].sum())
    per_minute = change / max(look.minutes, 0.1)
    finds = tuple((f.words, float(c), float(a)) for f, c, a in zip(look.finds, chances, after, strict=True))
    moved = [f"“{w}” would" for w, c, a in finds if abs(step_of(a) - step_of(before)) >= 1 and c > 0.01]
    why = f"{' and '.join(moved)} move the claim" if moved else "it would hardly move the claim"
    return LookValue(
        look=look,
        change=change,
        turns=turns,
        per_minute=per_minute,
        finds=finds,
        sentence=f"{look.sentence} (about {look.minutes:g} min): {why}.",
    )


def _with_looks(case: Case, looks: list[Look], settings: Settings) -> tuple[Model, list[int]]:
    """The model with one more row for every possible find; the list says which look each row belongs to."""
    owners = [n for n, look in enumerate(looks) for _ in look.finds]
    extra = tuple(_as_item(look, found) for look in looks for found in look.finds)
    base = compile_case(case, settings, also=tuple(place_of(item) for item in extra))
    rows = np.vstack([_find_chances(look, settings) for look in looks])
    evens = np.array([[1.0 / len(looks[n].finds)] for n in owners])
    imitated = settings.imitation * rows + (1.0 - settings.imitation) * evens
    start = len(base.items)
    everyone = [(place_of(item), start + i) for i, item in enumerate(extra)]
    binding = [pair for pair, item in zip(everyone, extra, strict=True) if item.binding]
    imitable = [pair for pair, item in zip(everyone, extra, strict=True) if not item.binding]
    model = replace(
        base,
        items=base.items + extra,
        period=_longer(base.period, logarithms(rows), everyone),
        true_copy=_longer(base.true_copy, logarithms(rows), binding),
        target=_longer(base.target, logarithms(imitated), imitable),
    )
    return model, owners


def _as_item(look: Look, found: Found) -> EvidenceItem:
    return EvidenceItem(
        id=f"{look.id}: {found.words}",
        sentence=found.words,
        part=look.part,
        event=look.event,
        windows=found.windows,
        curve=found.curve,
        binding=look.binding,
    )


def _find_chances(look: Look, settings: Settings) -> Rows:
    """P(find | year), one row a find: heights shared out in each year, then mixed with an even chance for the doubt.

    A year in which nothing listed could be found says nothing: every find is then equally likely.
    """
    heights = np.vstack([shape(_as_item(look, f), settings.first, settings.last) for f in look.finds])
    total = heights.sum(axis=0)
    even = 1.0 / len(look.finds)
    shares = np.where(total > 0.0, heights / np.where(total > 0.0, total, 1.0), even)
    mixed: Rows = (1.0 - look.doubt) * shares + look.doubt * even
    return mixed


def _longer(track: Track, rows: Rows, placed: list[tuple[Place, int]]) -> Track:
    at = dict(track.at)
    for place, index in placed:
        at[place] = (*at.get(place, ()), index)
    return Track(np.vstack((track.rows, rows)), at)
