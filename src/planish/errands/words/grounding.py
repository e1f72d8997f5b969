"""Why a claim cannot stand as written: hard contradictions, broken clauses, and the words that their remedies give."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from planish.errands.opening.wiring import Kit
from planish.errands.panel.checking import Checked
from planish.errands.panel.examining import Settled
from planish.errands.words.reading_words import instead_value
from planish.records import Claim, DateValue, Finding, Ground, Reading


def grounds(settled: Settled, findings: Mapping[str, Finding], kit: Kit) -> Iterable[Ground]:
    """Hard contradictions bear on a claim unless the panel found that the claim stands all the same."""
    checked = settled.evident.checked
    by_id = {claim.id: claim for claim in checked.reading.claims}
    known = {frozenset(clash.claims) for clash in checked.clashes}
    shown = (c for c in settled.evident.clashes if c.observations or frozenset(c.claims) not in known)
    for clash in (*shown, *checked.clashes):
        for claim in doubted(clash.claims, checked.reading):
            finding = findings.get(claim.id)
            if clash.hard and not (finding and finding.answer == "stands"):
                yield Ground(
                    claim=claim.id,
                    kind="contradiction",
                    ref=clash.id,
                    sentence=clash.sentence,
                    instead=style_words(claim),
                )
    yield from praise(checked)
    for ground in remedies(checked, kit):
        if (
            by_id[ground.claim].side != "maker"
        ):  # that a name falls does not say that another word for it is carried
            yield replace(ground, keeps_out=False)


def praise(checked: Checked) -> Iterable[Ground]:
    """Praise without support goes, whoever passed it."""
    sides = {claim.id: claim.side for claim in checked.reading.claims}
    for answer in checked.answers:
        for claim_id in answer.claims if answer.answer == "broken" else ():
            if sides.get(claim_id) == "puff":
                yield Ground(claim=claim_id, kind="clause", ref=answer.clause, sentence=answer.sentence)


def remedies(checked: Checked, kit: Kit) -> Iterable[Ground]:
    """Exact words that the remedies of broken clauses give, read as a label is read."""
    by_id = {claim.id: claim for claim in checked.reading.claims}
    for answer in checked.answers:
        for claim_id, words in answer.instead if answer.answer == "broken" else ():
            value = instead_value(by_id[claim_id], {"words": words}, kit)
            if value is not None:
                yield Ground(
                    claim=claim_id,
                    kind="clause",
                    ref=answer.clause,
                    sentence=answer.sentence,
                    instead=words,
                    value=value,
                )


def doubted(claims: Sequence[str], reading: Reading) -> list[Claim]:
    """Of the claims in a clash the one that moves: a period name before a year, a date before what is in the hand."""
    known = [c for c in reading.claims if c.id in claims]
    dates = [c for c in known if isinstance(c.value, DateValue) and c.side == "date"]
    periods = [c for c in dates if style_words(c)]
    if len(dates) > 1 and periods and len(periods) < len(dates):
        return periods
    return dates or known


def style_words(claim: Claim) -> str:
    """The remedy for a period name that cannot be a date: the same name as a style ("Georgian style")."""
    value = claim.value
    named = isinstance(value, DateValue) and value.period and not any(c.isdigit() for c in claim.words)
    return f"{claim.words} style" if named and "style" not in claim.words else ""


def dates_the_whole(claim: Claim) -> bool:
    """True for a date of the making of the whole object."""
    value = claim.value
    return (
        isinstance(value, DateValue)
        and claim.side == "date"
        and not claim.part
        and value.event == "body_made"
        and claim.strength != "denied"
    )
