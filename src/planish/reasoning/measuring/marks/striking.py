"""From the year of a mark to evidence: one item for its striking, one for the object if the mark is original to it."""

from planish.reasoning.measuring.measured import Settings, item_from
from planish.records import EvidenceItem, Fact, Observation, Years

ADDED = "A mark can be added, recast, transferred or struck again: look whether it is original to the piece."
LATER = "The object may be later: dies and licences lived on."


def struck(
    fact: Fact,
    observation: Observation,
    settings: Settings,
    *,
    sentence: str,
    windows: tuple[Years, ...],
    object_floor: int | None,
    doubt: float | None = None,
    more_facts: tuple[str, ...] = (),
    registered: Years | None = None,
) -> tuple[EvidenceItem, ...]:
    """Items of one dated mark. `windows` bound the striking; `object_floor` the first year of an object it belongs to.

    `registered` is the span of the registration itself; it comes before the making of the object only when the mark
    belongs to it, so it too waits for that word. A floor binds: nothing can be struck before it exists. The
    far end of a window is imitable, so the object gets the floor alone.
    """
    doubt = settings.doubt_mark if doubt is None else doubt
    group = f"mark:{observation.part or 'body'}:{observation.id}"  # one group an event: a mark read twice counts once
    hard = fact.hardness == "hard"
    items = [
        item_from(
            fact, observation, sentence=sentence, event="mark_struck", windows=windows, doubt=doubt, strength="strong",
            group=f"{group}:struck", binding=all(w.latest is None for w in windows), hard=hard,
            more_facts=more_facts, limits=(ADDED,),
        )
    ]  # fmt: skip
    if registered is not None and observation.original is True:
        items.append(
            item_from(
                fact, observation, sentence=sentence, event="registered", windows=(registered,), doubt=doubt,
                strength="strong", group=f"{group}:registered", within_group=1.0, more_facts=more_facts, limits=(LATER,),
            )
        )  # fmt: skip
    if observation.original is True and object_floor is not None:
        items.append(
            item_from(
                fact, observation, sentence=f"{sentence} The mark is said to be original, so the piece is not before {object_floor}.",
                event="body_made" if not observation.part else "part_made", windows=(Years(object_floor, None),), doubt=doubt,
                strength="strong", group=f"{group}:object", binding=True, hard=hard, more_facts=more_facts,
                limits=(LATER,),
            )
        )  # fmt: skip
    return tuple(items)


def belonging(observation: Observation, floor: int | None) -> str:
    """What the mark says of the object, given whether a specialist has called it original."""
    if observation.original is True:
        return f"Said to be original to the piece: the piece is not before {floor}." if floor else ""
    if observation.original is False:
        return "Said not to be original to the piece: it dates itself alone."
    return "It dates itself; it bounds the piece only when somebody has looked and says it is original to it."
