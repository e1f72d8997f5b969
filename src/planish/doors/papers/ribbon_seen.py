"""The year ribbon of one object of a fair: what was seen and measured, drawn without saying more than it does."""

from dataclasses import replace

from planish.doors.papers.ribbon import RibbonPart, RibbonSpec
from planish.doors.papers.ribbon_from import spec_from
from planish.errands.panel.evidence import Evident


def ribbon_of(seen: Evident, *, face: str = "paper", size: str = "full") -> RibbonSpec | None:
    """The ribbon of an object, None when nothing that speaks of a year was seen.

    A part of which no item bounds a year gets no curve: it would only show the even chance of every year.
    """
    if seen.weighing is None or seen.case is None:
        return None
    spec = spec_from(seen.weighing, seen.case, face=face, size=size)  # type: ignore[arg-type]
    return replace(spec, parts=tuple(_only_what_is_known(part) for part in spec.parts))


def _only_what_is_known(part: RibbonPart) -> RibbonPart:
    bounded = any(
        span.earliest is not None or span.latest is not None for bar in part.bars for span in bar.spans
    )
    return part if bounded else replace(part, curve=(), period_curve=(), ranges=(), range_words="")
