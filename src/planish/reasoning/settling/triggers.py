"""The seven reasons to talk, each named in words about the object. Any one is enough."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planish.reasoning.settling.shares import clause_of
from planish.records import Circumstances, ConditionSummary, Finding, Trigger, VotingRules


def triggers(
    findings: Sequence[Finding],
    outcome_split: str,
    conditions: Sequence[ConditionSummary],
    case: Circumstances,
    rules: VotingRules,
    *,
    new_fact: bool,
) -> tuple[Trigger, ...]:
    """Every trigger that fires, in the order of the rule. `outcome_split` is a sentence, "" when the rung is clear."""
    return (
        *_votes(findings, outcome_split, rules),
        *_dates(case, rules),
        *_two_tracks(findings, case, rules),
        *_conflicts(case, rules),
        *_severities(conditions, rules),
        *_new_fact(rules, new_fact),
        *_fragile(case, rules),
    )


def without_votes(trigger: Trigger) -> Trigger:
    """The same trigger for a reader who may not see the split: that views differ, never between what and what."""
    if trigger.number == 1:
        said = (
            "Views on this claim do not decide it."
            if trigger.about
            else "The outcomes proposed do not decide it."
        )
        return replace(trigger, sentence=said)
    if trigger.number == 5:
        return replace(trigger, sentence="Severity of this finding is read differently.")
    if trigger.number == 7:
        return replace(trigger, sentence="The rule book asks for a second view of this object.")
    return trigger


def _votes(findings: Sequence[Finding], outcome_split: str, rules: VotingRules) -> Iterator[Trigger]:
    for finding in findings:
        if finding.answer == "split":
            said = "Views on this claim lie between the two shares that decide it."
            yield Trigger(number=1, sentence=said, clause=clause_of(rules, "share"), about=finding.claim)
        elif finding.answer == "no_quorum":
            said = "Too few decided views on this claim."
            yield Trigger(number=1, sentence=said, clause=clause_of(rules, "quorum"), about=finding.claim)
    if outcome_split:
        yield Trigger(number=1, sentence=outcome_split, clause=clause_of(rules, "share"))


def _dates(case: Circumstances, rules: VotingRules) -> Iterator[Trigger]:
    dates = case.dates
    if dates is None or dates.opinions < 2:
        return
    if dates.between > rules.talk_between and dates.overlap < rules.talk_overlap:
        said = "The years proposed lie further apart than anyone's own doubt, and the furthest two hardly overlap."
        yield Trigger(number=2, sentence=said, clause=clause_of(rules, "talk_between"))


def _two_tracks(findings: Sequence[Finding], case: Circumstances, rules: VotingRules) -> Iterator[Trigger]:
    for finding in findings:
        chance = case.evidence.get(finding.claim)
        if chance is None:
            continue
        if chance < rules.talk_evidence_low and finding.answer == "stands":
            said = "What the object shows speaks against this claim, and the views pass it."
            clause = clause_of(rules, "talk_evidence_low")
            yield Trigger(number=3, sentence=said, clause=clause, about=finding.claim)
        elif chance > rules.talk_evidence_high and finding.answer == "falls":
            said = "What the object shows speaks for this claim, and the views reject it."
            clause = clause_of(rules, "talk_evidence_high")
            yield Trigger(number=3, sentence=said, clause=clause, about=finding.claim)


def _conflicts(case: Circumstances, rules: VotingRules) -> Iterator[Trigger]:
    for binding in case.binding:
        said = "A physical feature cannot be true together with the label."
        yield Trigger(number=4, sentence=said, clause=clause_of(rules, "binding_share"), about=binding)
    if case.copy is not None and case.copy > rules.talk_copy:
        said = "What the object shows leaves more than a small chance of a later copy."
        yield Trigger(number=4, sentence=said, clause=clause_of(rules, "talk_copy"))


def _severities(conditions: Sequence[ConditionSummary], rules: VotingRules) -> Iterator[Trigger]:
    for found in conditions:
        if found.kind not in rules.talk_severity_kinds or found.lowest is None or found.highest is None:
            continue
        if found.highest - found.lowest >= rules.talk_severity_range:
            where = f" on the {found.part}" if found.part else ""
            said = f"Severity of {found.term}{where} is read from {found.lowest} to {found.highest}."
            clause = clause_of(rules, "talk_severity_range")
            yield Trigger(number=5, sentence=said, clause=clause, about=found.term)


def _new_fact(rules: VotingRules, new_fact: bool) -> Iterator[Trigger]:
    if new_fact:
        said = "A fact was noted that the others may not have seen."
        yield Trigger(number=6, sentence=said, clause=clause_of(rules, "new_fact"))


def _fragile(case: Circumstances, rules: VotingRules) -> Iterator[Trigger]:
    if case.fragile and case.costly:
        said = "The suggestion turns on assumptions, and a mistake here would be among the costliest."
        yield Trigger(number=7, sentence=said, clause=clause_of(rules, "talk_costliest"))
