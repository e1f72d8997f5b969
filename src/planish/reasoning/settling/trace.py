"""The rule trace in words: every step of the count, with its clause, so that anyone can recount it by hand."""

from collections.abc import Callable

from planish.records import CountStep, Settlement

_PLACES = {
    "stands": "the claim stands",
    "falls": "the claim falls",
    "split": "split: talk and vote again, or refer after the last round",
    "no_quorum": "no quorum: a second look",
    "open": "nobody answered",
}
_WHY = {
    "refer_ballots": "enough ballots ask for it",
    "no_quorum": "there is no quorum",
    "split": "the outcomes proposed stay split",
    "claims": "accept needs every claim to stand",
    "binding": "a binding conflict takes accept off the table",
    "law": "the law does not allow relabel here",
}


def recount(settlement: Settlement, *, counts: bool = True) -> tuple[str, ...]:
    """The whole count in sentences, in order, each with its clause.

    With `counts` False every step that would tell how many voted how is left out: that is the form for anyone who
    may read the outcome but not the unnamed split.
    """
    return tuple(in_words(step) for step in settlement.steps if counts or not step.counts)


def in_words(step: CountStep) -> str:
    """One step as a sentence that names its clause, or says that the number is a house default."""
    sentence = _SENTENCES[step.rule](*step.values)
    return f"{sentence} ({f'clause {step.clause}' if step.clause else 'house default'})"


def percent(share: float) -> str:
    """A share as a trade reader writes it: 75 %."""
    return f"{100 * share:g} %"


def _counted(n: int, one: str, many: str) -> str:
    return f"{n} {one if n == 1 else many}"


def _round(held: int, counted: int, recused: int) -> str:
    aside = f", {_counted(recused, 'member', 'members')} recused and not counted" if recused else ""
    return f"{'First' if held == 1 else 'Second'} round: {_counted(counted, 'ballot', 'ballots')} counted{aside}."


def _claim(
    claim: str, holds: int, against: int, unsure: int, competent: int, quorum: int, share: float, place: str
) -> str:
    decided = holds + against
    parts = f"{holds} hold, {against} do not, {unsure} cannot say"
    if place == "no_quorum":
        ground = f"{decided} decided of {quorum} needed, {competent} of them competent for it"
    elif decided:
        ground = (
            f"{holds} of {decided} decided is {percent(round(holds / decided, 3))}; {percent(share)} decides"
        )
    else:
        ground = "no votes"
    return f"Claim {claim}: {parts}; {ground}: {_PLACES[place]}."


def _refer_ballots(n: int, needed: int) -> str:
    return f"{_counted(n, 'ballot', 'ballots')} for refer, {needed} are enough."


def _quorum(on_ladder: int, needed: int, competent: int, competent_needed: int) -> str:
    met = on_ladder >= needed and competent >= competent_needed
    return (
        f"Quorum: {on_ladder} proposed an outcome of {needed} needed, {competent} competent of "
        f"{competent_needed} needed: {'met' if met else 'not met'}."
    )


def _ladder(accept: int, relabel: int, remove: int, share: float, remove_share: float, level: str) -> str:
    n = accept + relabel + remove
    above = f"at or above accept {n}, relabel {relabel + remove}, remove {remove}"
    below = f"at or below accept {accept}, relabel {accept + relabel}, remove {n}"
    more = "" if remove_share == share else f" ({percent(remove_share)} at remove)"
    return (
        f"Outcomes: {accept} accept, {relabel} relabel, {remove} remove. Of {n}: {above}; {below}. "
        f"{percent(share)} on both sides{more} gives: {level}."
    )


def _binding(conflict: str, stated: int, of: int, share: float, enough: bool) -> str:
    end = "set aside" if enough else "accept is off the table"
    return f"Conflict {conflict}: {stated} of {of} say why it does not apply, {percent(share)} needed: {end}."


_SENTENCES: dict[str, Callable[..., str]] = {
    "round": _round,
    "nobody_left": lambda: "Nobody is left to vote on this object.",
    "claim": _claim,
    "refer_ballots": _refer_ballots,
    "quorum": _quorum,
    "quorum_out_of_reach": lambda n, needed: f"Only {n} may still vote, {needed} are needed.",
    "ladder": _ladder,
    "minimum": lambda rung, share: (
        f"Still split: the strictest outcome that {percent(share)} accept as a minimum is {rung}."
    ),
    "accept_needs_claims": lambda claims: f"Accept needs every claim to stand; not so: {', '.join(claims)}.",
    "law": lambda said: f"Relabel is not open: {said}",
    "binding": _binding,
    "talk": lambda numbers: f"Talk, then vote again: {_trigger_words(numbers)}.",
    "casting": lambda cast: f"Casting vote: {cast}.",
    "casting_refused": lambda cast: f"A casting vote for {cast} is not open here and was not counted.",
    "refer": lambda why: f"Refer: {_WHY[why]}.",
    "doubt_removes": lambda: "The doors open and doubt removes: remove.",
    "outcome": lambda outcome: f"Outcome: {outcome}.",
}


def _trigger_words(numbers: tuple[int, ...]) -> str:
    unique = sorted(set(numbers))
    return "trigger " + ", ".join(map(str, unique)) if unique else "the count does not settle it"
