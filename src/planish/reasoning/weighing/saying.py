"""What was weighed, in plain sentences for people: bands, never bare percentages; years rounded outwards."""

import numpy as np

from planish.reasoning.contradicting.masks import Place
from planish.reasoning.contradicting.order import MADE
from planish.reasoning.contradicting.saying import event_words
from planish.reasoning.weighing.case import Case, DatedClaim
from planish.reasoning.weighing.model import Model
from planish.reasoning.weighing.ranges import band, words_for
from planish.reasoning.weighing.settings import Settings
from planish.records import EvidenceItem, Years


def event_sentence(place: Place, ranges: tuple[Years, ...], share: float) -> str:
    """When one event of one part happened, as far as the evidence says."""
    part, event = place
    subject = f"{event_words(event)} of the {part}" if part else event_words(event)
    humps = " There is more than one hump, so no single range may be printed." if len(ranges) > 1 else ""
    chance = _in_ten(share)
    return f"{subject[0].upper()}{subject[1:]}: {words_for(ranges)} ({chance}).{humps}"


def _in_ten(share: float) -> str:
    tenths = share * 10.0
    return (
        f"{tenths:.0f} chances in ten" if abs(tenths - round(tenths)) < 1e-9 else f"{share:.0%} of the chance"
    )


def claim_sentence(claim: DatedClaim, chance: float, width: str, ranges: tuple[Years, ...]) -> str:
    """How far the words stand, and whether they should be wider or narrower."""
    more = ""
    if width == "too exact":
        more = f" The words are more exact than the evidence; {words_for(ranges)} would carry."
    elif width == "too vague":
        more = f" The words are vaguer than they need be; the evidence points to {words_for(ranges)}."
    return f"“{claim.words}” is {band(chance)}.{more}"


def item_sentence(item: EvidenceItem, influence: float, doubt: float, note: str) -> str:
    """What one item says and what it did to the claim."""
    if abs(influence) < 0.05:
        did = "leaves the claim where it was"
    else:
        size = "slightly" if abs(influence) < 0.5 else "clearly" if abs(influence) < 1.5 else "strongly"
        did = f"speaks {size} {'for' if influence > 0 else 'against'} the claim"
    tail = f"; {note}" if note else ""
    if doubt >= 0.5:
        tail += "; as a period piece it would have to be the one not telling the truth"
    return f"{item.sentence.strip().rstrip('.')}: {did}{tail}."


def part_sentence(part: str, factor: float, marriage: float) -> str:
    """Was the part born with the body?"""
    if factor < 1e-6:
        return f"The {part} and the body were not made together."
    side = "speaks for one making" if factor > 1.0 else "speaks for two makings"
    times = factor if factor > 1.0 else 1.0 / factor
    strength = "hardly" if times < 3 else "moderately" if times < 30 else "strongly"
    return (
        f"The {part}: the evidence {strength} {side}; that it was not born with the body is {band(marriage)}."
    )


def copy_sentence(chance: float, settings: Settings, *, possible: bool) -> str:
    """The copy hypothesis in one sentence, with its base rate."""
    if not possible:
        return "A later copy was not considered: the claim leaves no later years, or the base rate is 0."
    return f"A later copy is {band(chance)}, from a base rate of {settings.copy_chance:.0%} for this kind of thing."


def defaults(case: Case, settings: Settings, model: Model) -> tuple[str, ...]:
    """The house defaults behind the result, for printing with it."""
    late = np.flatnonzero(model.late > 0.0)
    copies = (
        f"copies made {model.first + int(late[0])}–{model.last}" if len(late) else "no years left for copies"
    )
    events = {event for _, event in _places(model)} - {MADE}
    stays = ", ".join(f"{event_words(k.later)} {k.stay:g}" for k in case.chain if k.later in events)
    lines = [
        f"Years {settings.first}–{settings.last}, prior {settings.prior_name}.",
        f"Base rate of later copies {settings.copy_chance:.0%}, {copies}; "
        f"a copyist gets a feature right {settings.imitation:.0%} of the time.",
    ]
    if stays:
        lines.append(f"Chance of the same year as the event before: {stays}.")
    if case.parts:
        lines.append(
            f"A part was not born with its object in {settings.marriage_chance:.0%} of cases unless stated; "
            f"stock parts within {settings.smear} years."
        )
    for claim in case.claims:
        lines.extend(f"“{claim.words}”: {c}." for c in claim.conventions)
    return tuple(lines)


def _places(model: Model) -> list[Place]:
    todo, places = [model.root], []
    while todo:
        node = todo.pop()
        places.append(node.place)
        todo.extend(node.children)
    return places
