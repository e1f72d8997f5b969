"""How quickly an object is weighed and clashes are found. Run: python -m bench.weighing

Prints milliseconds of processor time (best and median of repeats, one core) for one object with five events and thirty items:
years with the influence of every item, the whole weighing, and the same influence by weighing anew without each
item; then objects a second for the smallest clashes of 10,000 invented objects.
"""

import random
import statistics
import time
from collections.abc import Callable
from dataclasses import replace

from planish.reasoning.contradicting import claim_as_item, smallest_clashes
from planish.reasoning.weighing import Case, DatedClaim, weigh
from planish.reasoning.weighing.scoring import HOUSE, compile_case, score, variants_of
from planish.reasoning.weighing.weigh import claim_mask
from planish.records import EvidenceItem, Years

EVENTS = ("body_made", "decorated", "inscribed", "repair", "mark_struck")
CLAIM = DatedClaim(id="claim", words="c. 1740", years=Years(1730, 1750))


def thirty_items(seed: int = 1) -> tuple[EvidenceItem, ...]:
    """Thirty windows over five events of a pot of about 1740; two of them pull against the rest."""
    rng = random.Random(seed)
    items = []
    for n in range(30):
        low = rng.randrange(1640, 1735)
        window = Years(1838, None) if n in (7, 21) else Years(low, low + rng.randrange(110, 260))
        group = "touch table" if n % 9 == 4 else ""
        items.append(
            EvidenceItem(
                id=f"item{n:02}",
                sentence=f"Feature {n}",
                event=EVENTS[n % 5],  # type: ignore[arg-type]
                windows=(window,),
                doubt=0.02 + 0.01 * (n % 8),
                binding=n % 3 == 0,
                group=group,
            )
        )
    return tuple(items)


def timed(work: Callable[[], object], repeats: int = 60) -> tuple[float, float]:
    """Best and median milliseconds."""
    work()
    spent = []
    for _ in range(repeats):
        start = time.process_time()
        work()
        spent.append((time.process_time() - start) * 1e3)
    return min(spent), statistics.median(spent)


def with_influence(case: Case) -> object:
    """Posterior, evidence and copy chance of the whole and without each item, in one pass."""
    model = compile_case(case)
    return score(model, variants_of(model), HOUSE.copy_chance).claim(claim_mask(case.main_claim, HOUSE))


def one_by_one(case: Case) -> object:
    """The same by compiling and weighing anew for each item left out."""
    out = []
    for n in range(-1, len(case.items)):
        fewer = replace(case, items=tuple(i for k, i in enumerate(case.items) if k != n))
        model = compile_case(fewer)
        scored = score(model, variants_of(model)[:1], HOUSE.copy_chance)
        out.append(scored.claim(claim_mask(case.main_claim, HOUSE))[0])
    return out


def invented_objects(count: int = 10_000, seed: int = 2) -> list[list[EvidenceItem]]:
    """Objects with a claim and three to six dated statements; about one in twelve cannot be right."""
    rng = random.Random(seed)
    objects = []
    for n in range(count):
        made = rng.randrange(1650, 1900)
        items = [claim_as_item("claim", "c.", Years(made - 10, made + 10))]
        for k in range(rng.randrange(3, 7)):
            low = made - rng.randrange(5, 120)
            if k == 0 and n % 12 == 0:
                low = made + rng.randrange(20, 90)
            windows = (Years(low, None),) if k % 2 == 0 else (Years(low, made + rng.randrange(5, 150)),)
            if k == 3:
                windows = (*windows, Years(min(made + 200, 2029), 2030))
            event = EVENTS[k % 5]
            items.append(
                EvidenceItem(id=f"i{k}", sentence="x", event=event, windows=windows, hard=k % 2 == 0)
            )  # type: ignore[arg-type]
        objects.append(items)
    return objects


def main() -> None:
    """Print the figures."""
    case = Case(claims=(CLAIM,), items=thirty_items())
    lines = {
        "years with influence of each item": timed(lambda: with_influence(case)),
        "whole weighing (stress, clashes, ways out, sentences)": timed(lambda: weigh(case)),
        "influence by weighing anew without each": timed(lambda: one_by_one(case), 8),
    }
    print("One object, five events, thirty items, 631 years            best    median ms")
    for name, (best, median) in lines.items():
        print(f"  {name:<56}{best:6.2f}  {median:6.2f}")
    names = list(lines)
    print(f"  one pass against weighing anew: {lines[names[2]][0] / lines[names[0]][0]:.1f} times quicker")
    objects = invented_objects()
    start = time.process_time()
    clashing = sum(1 for items in objects if smallest_clashes(items))
    spent = time.process_time() - start
    print(
        f"Smallest clashes: {len(objects) / spent:,.0f} objects a second ({clashing} of {len(objects)} clash)"
    )


if __name__ == "__main__":
    main()
