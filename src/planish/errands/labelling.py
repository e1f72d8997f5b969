"""Labelling: the strongest words everyone can carry, asked, agreed by two parties, printed."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache

from planish.errands.ballots import sealed_in_order
from planish.errands.evidence import claim_key
from planish.errands.examining import Settled
from planish.errands.refusing import refuse
from planish.errands.wiring import Fair, Kit
from planish.facts.words import WordBook
from planish.ledger.journal import Draft
from planish.reasoning.wording import Trees, agree
from planish.records import (
    AgreedWords,
    Ballot,
    Claim,
    ClaimValue,
    DateValue,
    Disclosure,
    Fact,
    Finding,
    Ground,
    Reading,
    Years,
)

MUST_SAY = 2
"""Condition findings of this severity or more must stand in the label (house default)."""
LOOKS = {
    "date": ("Look for one binding feature: thread, alloy inside the foot, seam or tool marks.", 6),
    "maker": ("Compare the mark with a recorded strike under a loupe.", 6),
    "material": ("Take a reading on a clean, unplated spot inside the foot.", 5),
    "place": ("Look for a capacity, a mark or a thread of one country.", 6),
    "technique": ("Look inside and across raking light for seams, spin lines or chill marks.", 3),
    "count": ("Weigh and measure every member; compare the marks.", 5),
}
"""The smallest look per side and its minutes: house estimates, common practice, no source."""


def reword(fair: Fair, settled: Settled) -> AgreedWords:
    """The words that every finding and all hard evidence of one object carry. Writes nothing."""
    reading = settled.evident.reading
    findings = {f.claim: f for f in settled.settlement.findings}
    by_id = {claim.id: findings[key] for claim in reading.claims if (key := claim_key(claim)) in findings}
    return agree(
        reading,
        findings=by_id,
        grounds=tuple(_grounds(settled, by_id)),
        carried=_carried(sealed_in_order(settled.story), reading, settled),
        allowed=_allowed(settled),
        disclosures=tuple(_disclosures(settled, fair.kit)),
        trees=trees(fair.kit.words),
        looks=LOOKS,
        form=fair.rules.house_form,
        definitions=fair.rules.definitions,
    )


@cache
def trees(words: WordBook) -> Trees:
    """Broader terms and qualifiers out of the word pack."""
    broader: dict[str, dict[str, str]] = {}
    for side, table in (("material", "materials"), ("place", "places"), ("technique", "techniques")):
        broader[side] = _broader(words.tables.get(table, {}).get("group", ()))
    qualifiers = {}
    for entry in words.tables.get("makers", {}).get("qualifier", ()):
        slots = tuple(entry.get(slot, "open") for slot in ("hand", "workshop", "period", "copies"))
        qualifiers[str(entry["words"][0])] = slots
    return Trees(broader=broader, qualifiers=qualifiers)


def _broader(groups: Iterable[dict[str, object]]) -> dict[str, str]:
    steps: dict[str, str] = {}
    for group in groups:
        kind = str(group.get("kind", ""))
        is_a = group.get("is_a", ())
        up = str(is_a[0]) if isinstance(is_a, (list, tuple)) and is_a else kind
        words = group.get("words", ())
        for entry in words if isinstance(words, (list, tuple)) else ():
            term = str(entry).partition("|")[0]
            if up and up != term:
                steps.setdefault(term, up)
    return steps


def _grounds(settled: Settled, findings: dict[str, Finding]) -> Iterable[Ground]:
    """Hard contradictions bear on a claim unless the panel found that the claim stands all the same."""
    checked = settled.evident.checked
    for clash in (*settled.evident.clashes, *checked.clashes):
        for claim_id in _doubted(clash.claims, checked.reading):
            finding = findings.get(claim_id)
            if clash.hard and not (finding and finding.answer == "stands"):
                yield Ground(claim=claim_id, kind="contradiction", ref=clash.id, sentence=clash.sentence)
    for answer in checked.answers:
        for claim_id in answer.claims:
            side = next((c.side for c in checked.reading.claims if c.id == claim_id), "")
            if answer.answer == "broken" and side == "puff":
                yield Ground(claim=claim_id, kind="clause", ref=answer.clause, sentence=answer.sentence)


def _doubted(claims: Sequence[str], reading: Reading) -> list[str]:
    """Of the claims in a clash the date is the one that moves; the material is what the table has in its hands."""
    sides = {c.id: c.side for c in reading.claims}
    dates = [claim for claim in claims if sides.get(claim) in ("date", "period")]
    return dates or list(claims)


def _carried(ballots: Sequence[Ballot], reading: Reading, settled: Settled) -> dict[str, list[ClaimValue]]:
    """Per claim the values that the opinions carry: the dates given, in the last round held, by members who did not step back."""
    away = {b.person for b in ballots if b.recused}
    held = settled.settlement.round
    dates = [b.date for b in ballots if b.date and b.round == held and b.person not in away]
    carried: dict[str, list[ClaimValue]] = {}
    for claim in reading.claims:
        if isinstance(claim.value, DateValue) and claim.side == "date" and not claim.part and dates:
            carried[claim.id] = [_as_date(claim.value, date.years) for date in dates]
    return carried


def _as_date(value: DateValue, years: Years) -> DateValue:
    return replace(value, years=years, core=None, written=None, edtf="", period="", fact="")


def _allowed(settled: Settled) -> Years | None:
    """The years that binding, hard evidence on the body leaves."""
    items = [
        item
        for item in settled.evident.items
        if item.binding
        and item.hard
        and item.part == ""
        and item.event == "body_made"
        and len(item.windows) == 1
    ]
    starts = [w.earliest for item in items for w in item.windows if w.earliest is not None]
    ends = [w.latest for item in items for w in item.windows if w.latest is not None]
    first, last = max(starts, default=None), min(ends, default=None)
    if (first is None and last is None) or (first is not None and last is not None and first > last):
        return None
    return Years(first, last)


def _disclosures(settled: Settled, kit: Kit) -> Iterable[Disclosure]:
    """What the label must say of condition: found by somebody who examined it, at a severity that must be said."""
    for summary in settled.settlement.conditions:
        if summary.highest is None or summary.highest < MUST_SAY:
            continue
        fact = _term(kit, summary.term)
        said = str(fact.more.get("disclose", "")) if fact is not None else summary.term
        part = f"{summary.part}: " if summary.part else ""
        yield Disclosure(
            words=f"{part}{said or summary.term}",
            part=summary.part,
            ref=fact.id if fact is not None else "",
            sentence=f"{summary.term} was found{' on the ' + summary.part if summary.part else ''}.",
        )


def _term(kit: Kit, word: str) -> Fact | None:
    answer = kit.book.look(word)
    if answer.fact is not None:
        return answer.fact
    for fact in kit.book.family("condition_term"):
        if str(fact.more.get("term", "")).casefold() == word.casefold():
            return fact
    return None


def ask(fair: Fair, settled: Settled, agreed: AgreedWords, *, who: str) -> int:
    """Record the words asked; the version counts on. Refuses when nothing changes."""
    story = settled.story
    if not agreed.changed:
        raise refuse(
            story.listed.id,
            "The words stand as they hang; nothing is asked.",
            "Print the label as it is.",
            kind="rule",
        )
    version = (story.label.version if story.label else 0) + 1
    why = [reason for step in agreed.steps for reason in step.why]
    body = {"version": version, "text": agreed.text, "reason": " ".join(dict.fromkeys(why))}
    fair.record([Draft(kind="label.asked", sub=story.listed.id, who=who, body=body)])
    return version


def sign(fair: Fair, object_id: str, *, for_panel: str, for_exhibitor: str) -> int:
    """Record that both sides sign the words asked."""
    story = fair.state.objects[object_id]
    label = story.label
    if label is None or label.stage != "asked":
        raise refuse(
            object_id, "No words are asked for this object.", "Find them first: planish reword.", kind="rule"
        )
    body = {
        "version": label.version,
        "for_panel": for_panel,
        "for_exhibitor": for_exhibitor,
        "text": label.text,
    }
    fair.record([Draft(kind="label.agreed", sub=object_id, who=for_panel, body=body)])
    return label.version


def printed(fair: Fair, object_ids: Sequence[str]) -> int:
    """Record that label cards were printed, for labels whose words are agreed."""
    drafts = []
    for object_id in object_ids:
        label = fair.state.objects[object_id].label
        if label is not None and label.stage == "agreed":
            drafts.append(
                Draft(
                    kind="label.printed",
                    sub=object_id,
                    who="office",
                    body={"version": label.version, "copies": 1},
                )
            )
    return len(fair.record(drafts)) if drafts else 0


def claims_in_words(claims: Sequence[Claim]) -> tuple[str, ...]:
    """Claims as a ballot names them, for help texts."""
    return tuple(claim_key(claim) for claim in claims)
