"""Correcting a label before the day: the words that a check of the paper alone would suggest."""

from planish.errands.checking import Checked
from planish.errands.labelling import doubted, smallest_looks, style_words, trees
from planish.errands.wiring import Fair
from planish.reasoning.wording import agree
from planish.records import Ground


def suggested(checked: Checked, fair: Fair) -> str:
    """The label with what the paper alone forbids taken out or weakened; the same words when nothing can be said.

    Rests on hard contradictions with dated facts and on praise without support: what a stock list can be held against.
    """
    grounds = []
    sides = {claim.id: claim.side for claim in checked.reading.claims}
    for clash in checked.clashes:
        for claim in doubted(clash.claims, checked.reading) if clash.hard else ():
            grounds.append(
                Ground(
                    claim=claim.id,
                    kind="contradiction",
                    ref=clash.id,
                    sentence=clash.sentence,
                    instead=style_words(claim),
                )
            )
    for answer in checked.answers:
        if answer.answer == "broken":
            grounds += [
                Ground(claim=one, kind="clause", ref=answer.clause, sentence=answer.sentence)
                for one in answer.claims
                if sides.get(one) == "puff"
            ]
    if not grounds:
        return checked.listed.text
    words = agree(
        checked.reading,
        findings={},
        grounds=tuple(grounds),
        trees=trees(fair.kit.words),
        looks=smallest_looks(fair.kit.words),
        form=fair.rules.house_form,
        definitions=fair.rules.definitions,
    )
    return words.text
