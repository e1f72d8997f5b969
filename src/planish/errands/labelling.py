"""Labelling: the strongest words everyone can carry, asked, agreed by two parties, printed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

from planish.errands.ballots import sealed_in_order
from planish.errands.evidence import claim_key
from planish.errands.examining import Settled
from planish.errands.refusing import refuse
from planish.errands.wiring import Fair, Kit
from planish.facts.words import WordBook
from planish.ledger.journal import Draft
from planish.reasoning.reading import read
from planish.reasoning.settling import pool_dates
from planish.reasoning.wording import Trees, agree, disclosure_words
from planish.reasoning.wording.lattice import Slots, with_slots
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
    MakerValue,
    PooledDates,
    Reading,
    RuleBook,
    TermValue,
    Years,
    freeze,
)

MUST_SAY = 2
"""Condition findings of this severity or more must stand in the label (house default)."""


def reword(fair: Fair, settled: Settled) -> AgreedWords:
    """The words that every finding and all hard evidence of one object carry. Writes nothing."""
    reading = settled.evident.reading
    findings = {f.claim: f for f in settled.settlement.findings}
    by_id = {claim.id: findings[key] for claim in reading.claims if (key := claim_key(claim)) in findings}
    ballots = _counted_ballots(settled)
    pooled = _pooled(ballots, settled, fair.rules)
    by_id = _dates_move_together(by_id, reading.claims, pooled)
    carried = _carried(ballots, reading, by_id, fair.kit)
    _numbers_take_over(reading.claims, by_id, carried)
    return agree(
        reading,
        findings=by_id,
        grounds=tuple(_grounds(settled, by_id)),
        carried=carried,
        dates=pooled,
        allowed=_allowed(settled),
        disclosures=tuple(_disclosures(settled, fair.kit)),
        trees=trees(fair.kit.words),
        looks=smallest_looks(fair.kit.words),
        form=fair.rules.house_form,
        definitions=fair.rules.definitions,
        other_definitions=definitions_elsewhere(fair.kit.words),
    )


def instead_value(claim: Claim, instead: Mapping[str, str], kit: Kit) -> ClaimValue | None:
    """What somebody would sign in place of `claim`; None when the words make no claim of that side.

    `instead` holds qualifier and name (makers), term (materials, places, techniques), or words, which are read as a
    label is read.
    """
    if isinstance(claim.value, MakerValue) and ("qualifier" in instead or "name" in instead):
        word = instead.get("qualifier", "by")
        slots = qualifiers(kit.words).get(word)
        if slots is None:
            return None
        name = instead.get("name", claim.value.name)
        return with_slots(replace(claim.value, name=name, qualifier=word), slots)
    said = instead.get("words") or instead.get("term", "")
    if not said:
        return None
    found = read(said, words=kit.words, conventions=kit.rules.conventions).claims
    same = [c.value for c in found if c.side == claim.side]
    if claim.side in ("count", "object", "state", "mark", "inscription", "decoration"):
        return TermValue(term=said, kind=claim.side, more=freeze({"words": said})) if same else None
    return same[0] if same else None


def readable(ballot: Ballot, claims: Sequence[Claim], kit: Kit) -> Ballot:
    """The ballot as it is; refuses words in place of a claim that make no claim of the same side."""
    by_key = {claim_key(claim): claim for claim in claims}
    for answer in ballot.answers:
        claim = by_key.get(answer.claim)
        if not answer.instead or claim is None or instead_value(claim, dict(answer.instead), kit) is not None:
            continue
        raise refuse(
            f"ballot on {ballot.object_id}, {answer.claim}",
            f"What it gives instead makes no claim of {claim.side} that can be read.",
            "Give a qualifying word on file (attributed to, workshop of), or words as a label says them.",
            code="ballot.instead_unread",
        )
    return ballot


@cache
def smallest_looks(words: WordBook) -> Mapping[str, tuple[str, int]]:
    """The smallest look for each side and its minutes, out of the word pack: house estimates."""
    entries = words.tables.get("looks", {}).get("look", ())
    return {str(e["side"]): (str(e["words"]), int(e["minutes"])) for e in entries}


@cache
def definitions_elsewhere(words: WordBook) -> Mapping[str, str]:
    """What a qualifying word means under other definitions, each with its source named."""
    entries = words.tables.get("definitions", {}).get("definition", ())
    return {str(e["word"]): f"{e['meaning']} ({e['source']})" for e in entries}


@cache
def trees(words: WordBook) -> Trees:
    """Broader terms and qualifiers out of the word pack."""
    broader: dict[str, dict[str, str]] = {}
    for side, table in (("material", "materials"), ("place", "places"), ("technique", "techniques")):
        broader[side] = _broader(words.tables.get(table, {}).get("group", ()))
    first = {
        str(entry["words"][0]): _slots(entry)
        for entry in _qualifying(words)
        if entry.get("role", "maker") == "maker"
    }
    return Trees(broader=broader, qualifiers=first)


@cache
def qualifiers(words: WordBook) -> Mapping[str, Slots]:
    """Every qualifying word on file, synonyms too, with its four slots."""
    return {str(word): _slots(entry) for entry in _qualifying(words) for word in entry["words"]}


def _qualifying(words: WordBook) -> Iterable[Mapping[str, Any]]:
    entries: Iterable[Mapping[str, Any]] = words.tables.get("makers", {}).get("qualifier", ())
    return entries


def _slots(entry: Mapping[str, Any]) -> Slots:
    hand, workshop, period, copies = (
        str(entry.get(slot, "open")) for slot in ("hand", "workshop", "period", "copies")
    )
    return hand, workshop, period, copies


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
    for answer in checked.answers:
        for claim_id in answer.claims:
            side = next((c.side for c in checked.reading.claims if c.id == claim_id), "")
            if answer.answer == "broken" and side == "puff":
                yield Ground(claim=claim_id, kind="clause", ref=answer.clause, sentence=answer.sentence)


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


def _counted_ballots(settled: Settled) -> list[Ballot]:
    """Ballots of the last round held, by members who did not step back. For counting only."""
    ballots = sealed_in_order(settled.story)
    away = {b.person for b in ballots if b.recused}
    return [b for b in ballots if b.round == settled.settlement.round and b.person not in away]


def _carried(
    ballots: Sequence[Ballot], reading: Reading, findings: Mapping[str, Finding], kit: Kit
) -> dict[str, list[ClaimValue]]:
    """Per claim the values that the opinions carry in its place.

    Where the panel is divided those who hold the claim carry its own value, so that the agreed words serve both.
    """
    carried: dict[str, list[ClaimValue]] = {}
    for claim in reading.claims:
        key, finding = claim_key(claim), findings.get(claim.id)
        answers = [a for b in ballots for a in b.answers if a.claim == key]
        values = [instead_value(claim, dict(a.instead), kit) for a in answers if a.instead]
        if finding is not None and finding.answer in ("split", "no_quorum"):
            values += [claim.value for a in answers if a.verdict == "holds"]
        kept = sorted((v for v in values if v is not None), key=repr)
        if kept:
            carried[claim.id] = kept
    return carried


def _numbers_take_over(
    claims: Sequence[Claim], findings: dict[str, Finding], carried: dict[str, list[ClaimValue]]
) -> None:
    """Another number carried for "set of" stands in place of the number beside it: "set of twelve" is one claim in the trade."""
    for holder, number in pairwise(claims):
        beside = holder.side == number.side == "count" and number.span.start - holder.span.end <= 1
        if beside and holder.id in carried and number.id not in carried:
            carried[number.id] = carried.pop(holder.id)
            findings[number.id] = findings.pop(holder.id)


def _pooled(ballots: Sequence[Ballot], settled: Settled, rules: RuleBook) -> dict[str, PooledDates]:
    """Pooled years for the date of the whole object, where years were given."""
    dates = sorted((b.date for b in ballots if b.date is not None), key=repr)
    if not dates:
        return {}
    pool = pool_dates(dates, rules=rules.voting, excluded=_excluded(_allowed(settled)))
    claims = [c for c in settled.evident.reading.claims if _dates_the_whole(c)]
    plain = [c for c in claims if not style_words(c)] or claims
    return {claim.id: pool for claim in plain[:1]} if pool is not None else {}


def _dates_move_together(
    findings: dict[str, Finding], claims: Sequence[Claim], pooled: Mapping[str, PooledDates]
) -> dict[str, Finding]:
    """Years given for an object whose date falls replace its date, whichever of its date claims was named."""
    fallen = [
        findings[c.id]
        for c in claims
        if _dates_the_whole(c) and c.id in findings and findings[c.id].answer == "falls"
    ]
    return {**dict.fromkeys(pooled, fallen[0]), **findings} if fallen else findings


def _dates_the_whole(claim: Claim) -> bool:
    value = claim.value
    return (
        isinstance(value, DateValue)
        and claim.side == "date"
        and not claim.part
        and value.event == "body_made"
        and claim.strength != "denied"
    )


def _excluded(allowed: Years | None) -> tuple[Years, ...]:
    """The years outside `allowed`."""
    if allowed is None:
        return ()
    before = (Years(None, allowed.earliest - 1),) if allowed.earliest is not None else ()
    after = (Years(allowed.latest + 1, None),) if allowed.latest is not None else ()
    return (*before, *after)


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
        template = str(fact.more.get("disclose", "")) if fact is not None else summary.term
        words = disclosure_words(template, summary.part)
        if not words:
            continue
        told_by = fact.more.get("told_by", ()) if fact is not None else ()
        name = str(fact.more.get("term", summary.term)) if fact is not None else summary.term
        yield Disclosure(
            words=words,
            part=summary.part,
            ref=fact.id if fact is not None else "",
            sentence=f"{name} was found{' on the ' + summary.part if summary.part else ''}.",
            told_by=tuple(str(word) for word in told_by) if isinstance(told_by, (list, tuple)) else (),
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
    why = [*settled.settlement.reasons, *(reason for step in agreed.steps for reason in step.why)]
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
