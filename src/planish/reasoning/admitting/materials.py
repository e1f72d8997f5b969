"""Banned and gated materials, and prompts of law. A prompt is for a person: it never decides, and defers to the authority."""

from collections.abc import Iterator

from planish.facts.on_label import Trigger, label_index
from planish.reasoning.admitting.paper import (
    NAMING,
    Paper,
    broken,
    cannot_tell,
    met,
    says,
    setting_words,
    term,
)
from planish.records import Claim, Clause, ClauseAnswer, Fact

NO_PROMPT = "No word of the label sets off a prompt of the law packs in force."
_DEFER = (
    "This is general information, not advice: ask the competent authority before refusing, relabelling or "
    "clearing anything on this ground."
)


def check_banned(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """Broken for each word on the label that the clause does not admit."""
    words = setting_words(clause, "terms")
    hits = [] if words.isdisjoint(paper.words) else [c for c in paper.side(*NAMING) if says(c, words)]
    for claim in hits:
        yield broken(clause, f"“{claim.words}”: {clause.text}", "object.not_admitted", claims=(claim,),
                     remedy="Take it off the list, or show that the word is wrong.")  # fmt: skip
    if not hits:
        yield met(clause, "Nothing on the label is of the kinds that this clause does not admit.")


def check_gated(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """A material that is shown only with a paper: met when the label names the paper, else a question."""
    words = setting_words(clause, "terms")
    papers = setting_words(clause, "papers")
    hits = [] if words.isdisjoint(paper.words) else [c for c in paper.side(*NAMING) if says(c, words)]
    text = paper.reading.text.lower() if hits else ""
    shown = next((name for name in sorted(papers) if name in text), "")
    for claim in hits:
        if shown:
            yield met(
                clause, f"“{claim.words}”: the label names a paper ({shown}); the office compares its number."
            )
        else:
            yield cannot_tell(
                clause, f"“{claim.words}” asks for a paper and the label names none. {_DEFER}",
                "material.paper_due", claims=(claim,),
                remedy="Give the paper's number on the label or to the office.",
            )  # fmt: skip
    if not hits:
        yield met(clause, "The label names no material that asks for a paper.")


def check_law(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """One question for each prompt of the law packs in force that the label's words set off."""
    index = label_index(paper.book).law
    asked: dict[str, tuple[Fact, Claim]] = {}
    if index.keys().isdisjoint(paper.words):
        yield met(clause, NO_PROMPT)
        return
    for claim in paper.side(*NAMING):
        for word in {term(claim), claim.words.lower()}:
            for trigger in index.get(word, ()):
                if _in_force(trigger, paper) and (not trigger.needs or trigger.needs & paper.terms):
                    asked.setdefault(trigger.fact.id, (trigger.fact, claim))
    for fact, claim in asked.values():
        yield cannot_tell(
            clause,
            f"“{claim.words}”: {fact.statement} [{fact.id}; {fact.source}; {fact.verified}] {_DEFER}",
            f"law.{fact.id.removeprefix('lf-').replace('-', '_')}",
            claims=(claim,),
            facts=(fact.id,),
            remedy="A person of the fair office decides with the authority.",
        )
    if not asked:
        yield met(clause, NO_PROMPT)


def _in_force(trigger: Trigger, paper: Paper) -> bool:
    packs = trigger.fact.more.get("law", ())
    return isinstance(packs, tuple) and any(pack in paper.rules.law or pack == "anywhere" for pack in packs)
