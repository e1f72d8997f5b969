"""Small builders for invented objects."""

from planish.reasoning.weighing import Case, DatedClaim
from planish.reasoning.weighing.densities import flat_top
from planish.records import EvidenceItem, Years


def window(
    id: str, earliest: int | None, latest: int | None, doubt: float = 0.05, **more: object
) -> EvidenceItem:
    return EvidenceItem(
        id=id, sentence=f"{id} bounds the years", windows=(Years(earliest, latest),), doubt=doubt, **more
    )  # type: ignore[arg-type]


def claim(earliest: int | None, latest: int | None, **more: object) -> DatedClaim:
    return DatedClaim(id="claim", words=f"{earliest}-{latest}", years=Years(earliest, latest), **more)  # type: ignore[arg-type]


def case_of(*items: EvidenceItem, years: tuple[int, int] = (1720, 1740), **more: object) -> Case:
    return Case(id="object", claims=(claim(*years),), items=items, **more)  # type: ignore[arg-type]


def hinge_object() -> tuple[EvidenceItem, ...]:
    """Invented pot: mark, form, capacity and rivets agree; a hinge cannot be before 1840."""
    form = flat_top(Years(1690, 1740), 0.8, 1400, 2030)
    curve = tuple((1400 + i, float(height)) for i, height in enumerate(form))
    return (
        window("mark", 1725, 1760, 0.05),
        EvidenceItem(id="form", sentence="form in use mostly 1690–1740", curve=curve, doubt=0.10),
        window("capacity", 1707, 1825, 0.05),
        window("rivets", 1700, None, 0.02, binding=True),
        window("hinge", 1840, None, 0.02, binding=True),
    )
