"""How many settlements a second on one core: five ballots, three claims each, with the whole rule trace.

By processor time, so that a busy machine does not change the figure. Run: python -m bench.settling
"""

import time
from itertools import product

from planish.reasoning.settling import agree_on_dates, recount, settle
from planish.records import Answer, Ballot, DateOpinion, VotingRules, Years

RULES = VotingRules()
OUTCOMES = ("accept", "accept", "accept", "relabel", "remove")
VERDICTS = ("holds", "holds", "does_not_hold", "cannot_say")


def ballots(seed: int) -> list[Ballot]:
    """Five ballots that differ from object to object, without chance."""
    made = []
    for i in range(5):
        pick = (seed * 7 + i * 3) % 20
        answers = tuple(
            Answer(claim=c, verdict=VERDICTS[(pick + j) % 4], reason="The thread is cut.")
            for j, c in enumerate(("date", "maker", "material"))
        )
        made.append(
            Ballot(
                object_id=str(seed),
                person="abcde"[i],
                round=1,
                outcome=OUTCOMES[pick % 5],
                answers=answers,
                date=DateOpinion(years=Years(1700 + pick, 1730 + pick)),
                reasons=("The thread is cut.",),
            )
        )
    return made


def rate(work, items) -> float:
    """Items a second of one core's own time, best of five: other work on the machine does not count."""
    best = float("inf")
    for _ in range(5):
        start = time.process_time()
        for item in items:
            work(item)
        best = min(best, time.process_time() - start)
    return len(items) / best


def main() -> None:
    """Print the rates."""
    objects = [ballots(i) for i in range(10_000)]
    passes = [
        [Ballot(object_id=str(i), person=p, round=1, outcome="accept") for p in "abcde"]
        for i in range(10_000)
    ]
    print(
        f"settle, 5 ballots, a pass each:         {rate(lambda b: settle(b, rules=RULES), passes):10,.0f} a second"
    )
    print(
        f"settle, 5 ballots x 3 claims, trace:    {rate(lambda b: settle(b, rules=RULES), objects):10,.0f} a second"
    )
    dated = [[b.date for b in five] for five in objects[:2000]]
    print(
        f"agreement of 5 date opinions:           {rate(lambda d: agree_on_dates(d, RULES), dated):10,.0f} a second"
    )
    settled = [settle(b, rules=RULES) for b in objects[:2000]]
    print(f"the trace in words:                     {rate(recount, settled):10,.0f} a second")
    # The same object is never settled from a cache: every list of ballots above is its own.
    assert len({id(b) for b, _ in product(objects, (0,))}) == len(objects)


if __name__ == "__main__":
    main()
