"""The order of claims: one value entails another when whoever signs the first must sign the second.

Dates: the narrower span entails the wider. Makers: four slots, each yes, no or open; more slots decided says more.
Places, materials, techniques, objects: a tree of broader terms (data). `join` gives the strongest value that several
values all entail: the hull of dates, the slots on which all agree, the lowest common broader term.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from planish.records import ClaimValue, DateValue, MakerValue, MeasureValue, TermValue, Years, freeze

Slots = tuple[str, str, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trees:
    """Broader terms by tree name ("material", "place", ...): each term points at the next broader one.

    `qualifiers` gives the four slots (hand, workshop, period, copies) of each qualifying word; its order is the order
    of preference between words with the same slots.
    """

    broader: Mapping[str, Mapping[str, str]] = field(default_factory=freeze)
    qualifiers: Mapping[str, Slots] = field(default_factory=freeze)

    def line(self, tree: str, term: str) -> tuple[str, ...]:
        """The term and all broader ones, nearest first. A cycle in the data ends the line."""
        steps = self.broader.get(tree, {})
        line = [term]
        while (wider := steps.get(line[-1])) and wider not in line:
            line.append(wider)
        return tuple(line)


def entails(strong: ClaimValue, weak: ClaimValue, *, tree: str = "", trees: Trees | None = None) -> bool:
    """True when signing `strong` obliges one to sign `weak`. Values of different kinds never entail each other."""
    match strong, weak:
        case DateValue(), DateValue():
            return strong.event == weak.event and _inside(strong.years, weak.years)
        case MakerValue(), MakerValue():
            same = strong.name == weak.name and strong.role == weak.role
            return same and all(w in ("open", s) for s, w in zip(slots(strong), slots(weak), strict=True))
        case MeasureValue(), MeasureValue():
            return strong.role == weak.role and strong.amount == weak.amount
        case TermValue(), TermValue():
            return weak.term in (trees or Trees()).line(tree, strong.term)
    return False


def _inside(narrow: Years, wide: Years) -> bool:
    low = wide.earliest is None or (narrow.earliest is not None and wide.earliest <= narrow.earliest)
    high = wide.latest is None or (narrow.latest is not None and narrow.latest <= wide.latest)
    return low and high


def slots(value: MakerValue) -> Slots:
    """The four slots in their fixed order: hand, workshop, period, copies."""
    return (value.hand, value.workshop, value.period, value.copies)


def join(values: Sequence[ClaimValue], *, tree: str = "", trees: Trees | None = None) -> ClaimValue | None:
    """The strongest value that every one of `values` entails; None when only silence is carried by all.

    The order of `values` does not matter.
    """
    if not values:
        return None
    first, *rest = sorted(values, key=repr)
    agreed: ClaimValue | None = first
    for value in rest:
        agreed = _join_two(agreed, value, tree, trees or Trees()) if agreed is not None else None
    return agreed


def _join_two(a: ClaimValue | None, b: ClaimValue, tree: str, trees: Trees) -> ClaimValue | None:
    match a, b:
        case DateValue(), DateValue():
            return _join_dates(a, b)
        case MakerValue(), MakerValue():
            return _join_makers(a, b)
        case MeasureValue(), MeasureValue():
            return a if a == b else None
        case TermValue(), TermValue():
            other = trees.line(tree, b.term)
            shared = next((term for term in trees.line(tree, a.term) if term in other), None)
            same = shared == a.term
            return replace(a, term=shared, more=a.more if same else freeze()) if shared else None
    return None


def _join_dates(a: DateValue, b: DateValue) -> DateValue | None:
    if a.event != b.event:
        return None
    hull = Years(
        _least(a.years.earliest, b.years.earliest),
        _greatest(a.years.latest, b.years.latest),
    )
    keep = a.period if a.years == b.years == hull and a.period == b.period else ""
    return replace(a, years=hull, period=keep, core=None, written=None, edtf="", fact="")


def _least(a: int | None, b: int | None) -> int | None:
    return None if a is None or b is None else min(a, b)


def _greatest(a: int | None, b: int | None) -> int | None:
    return None if a is None or b is None else max(a, b)


def _join_makers(a: MakerValue, b: MakerValue) -> MakerValue | None:
    if a.name != b.name or a.role != b.role:
        return None
    agreed = [x if x == y else "open" for x, y in zip(slots(a), slots(b), strict=True)]
    if all(slot == "open" for slot in agreed):
        return None
    hand, workshop, period, copies = agreed
    same = a.qualifier if a.qualifier == b.qualifier else ""
    return with_slots(replace(a, qualifier=same), (hand, workshop, period, copies))


def with_slots(value: MakerValue, meaning: Slots) -> MakerValue:
    """`value` with its four slots as given: hand, workshop, period, copies, each "yes", "no" or "open"."""
    hand, workshop, period, copies = meaning
    return replace(
        value,
        hand=hand,  # type: ignore[arg-type]
        workshop=workshop,  # type: ignore[arg-type]
        period=period,  # type: ignore[arg-type]
        copies=copies,  # type: ignore[arg-type]
    )


def qualifier_for(value: MakerValue, trees: Trees) -> str:
    """The qualifying word that says as much of `value` as possible and nothing beyond it; "" when none fits.

    A word that decides no slot ("bears marks of") claims something else than the hand: it is never a weaker form.
    """
    own = slots(value)
    fitting = [
        (sum(s != "open" for s in meaning), -rank, word)
        for rank, (word, meaning) in enumerate(trees.qualifiers.items())
        if any(m != "open" for m in meaning)
        and all(m in ("open", o) for m, o in zip(meaning, own, strict=True))
    ]
    return max(fitting)[2] if fitting else ""


def weaker(value: ClaimValue, *, tree: str, trees: Trees, circa: int) -> Iterator[ClaimValue]:
    """The rungs below `value`, strongest first; ends where only silence is left.

    `circa` is the fair's circa width in years. A date widens by it, then to the quarter centuries and centuries that hold it.
    """
    match value:
        case DateValue():
            yield from _weaker_dates(value, circa)
        case MakerValue():
            own = slots(value)
            for word, meaning in trees.qualifiers.items():
                if meaning != own and all(m in ("open", o) for m, o in zip(meaning, own, strict=True)):
                    yield with_slots(replace(value, qualifier=word), meaning)
        case TermValue():
            for term in trees.line(tree, value.term)[1:]:
                yield replace(value, term=term)


def _weaker_dates(value: DateValue, circa: int) -> Iterator[DateValue]:
    first, last = value.years.earliest, value.years.latest
    if first is None or last is None:
        return
    bare = replace(value, period="", core=None, written=None, edtf="", fact="")
    seen = (first, last)
    for low, high in (
        (first - circa, last + circa),
        (first // 25 * 25, last // 25 * 25 + 24),
        (_before_century(first) + 1, _before_century(last) + 100),
    ):
        wider = (min(low, seen[0]), max(high, seen[1]))
        if wider != seen:
            seen = wider
            yield replace(bare, years=Years(*wider))


def _before_century(year: int) -> int:
    """The last year before the century of `year` (centuries counted from 1)."""
    return (year - 1) // 100 * 100
