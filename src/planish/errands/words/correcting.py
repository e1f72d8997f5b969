"""Correcting a label before the day: the words that a check of the paper alone would suggest."""

from planish.errands.opening.wiring import Fair
from planish.errands.panel.checking import Checked
from planish.errands.words.grounding import doubted, praise, remedies, style_words
from planish.errands.words.labelling import definitions_elsewhere, smallest_looks, trees
from planish.reasoning.wording import agree
from planish.records import Ground


def suggested(checked: Checked, fair: Fair) -> str:
    """The label with what the paper alone forbids taken out or weakened; the same words when nothing can be said.

    Rests on hard contradictions with dated facts, on clauses whose remedy gives exact words, and on praise without
    support: what a stock list can be held against.
    """
    grounds = [
        Ground(
            claim=claim.id,
            kind="contradiction",
            ref=clash.id,
            sentence=clash.sentence,
            instead=style_words(claim),
        )
        for clash in checked.clashes
        if clash.hard
        for claim in doubted(clash.claims, checked.reading)
    ]
    grounds += [*remedies(checked, fair.kit), *praise(checked)]
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
        other_definitions=definitions_elsewhere(fair.kit.words),
    )
    return words.text
