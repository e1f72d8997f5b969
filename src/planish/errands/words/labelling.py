"""Labelling: the strongest words everyone can carry, asked, agreed by two parties, printed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair, Kit
from planish.errands.panel.ballots import unsaid_keys
from planish.errands.panel.evidence import as_hung, claim_key
from planish.errands.panel.examining import Settled, ballots_of
from planish.errands.words.climbing import with_smallest_looks
from planish.errands.words.grounding import dates_the_whole, grounds, style_words
from planish.errands.words.owning import disclosures, in_place
from planish.errands.words.reading_words import instead_value, qualifying, slots_of
from planish.errands.words.sound_words import soundly
from planish.facts.words import WordBook
from planish.ledger.journal import Draft
from planish.reasoning.reading import read
from planish.reasoning.settling import pool_dates
from planish.reasoning.wording import Trees, agree, changes, entails, in_house_form
from planish.reasoning.wording.adding import unsaid_id
from planish.reasoning.wording.why import sentence
from planish.records import (
    AgreedWords,
    Ballot,
    Claim,
    ClaimValue,
    DateValue,
    Finding,
    Ground,
    MakerValue,
    PooledDates,
    Reading,
    RuleBook,
    Side,
    Span,
    TermValue,
    Unsaid,
    Years,
)

NOTHING: Mapping[Side, ClaimValue] = {"date": DateValue(years=Years()), "maker": MakerValue(name="")}
"""What a silent label claims, by side."""


def reword(fair: Fair, settled: Settled) -> AgreedWords:
    """The words that every finding and all hard evidence of one object carry. Writes nothing."""
    reading = settled.evident.reading
    findings = {f.claim: f for f in settled.settlement.findings}
    by_id = {claim.id: findings[key] for claim in reading.claims if (key := claim_key(claim)) in findings}
    ballots = _counted_ballots(fair, settled)
    pooled = _pooled(ballots, settled, fair.rules)
    by_id = _dates_move_together(by_id, reading.claims, pooled)
    carried = _carried(ballots, reading, by_id, fair.kit)
    _numbers_take_over(reading.claims, by_id, carried)
    must_say = disclosures(settled, fair.kit)
    silent = _unsaid(ballots, reading.claims, findings, fair.kit)
    if any(one.side == "date" for one in silent):
        pooled = _pool(ballots, settled, fair.rules, unsaid_id("date"))
    held = (*grounds(settled, by_id, fair.kit), *in_place(must_say, reading.claims))

    def once(more: tuple[Ground, ...]) -> AgreedWords:
        return agree(
            reading,
            findings=by_id,
            grounds=(*held, *more),
            carried=carried,
            dates=pooled,
            allowed=_allowed(settled),
            disclosures=must_say,
            unsaid=silent,
            trees=trees(fair.kit.words),
            looks=smallest_looks(fair.kit.words),
            form=fair.rules.house_form,
            definitions=fair.rules.definitions,
            other_definitions=definitions_elsewhere(fair.kit.words),
        )

    agreed = soundly(as_hung(settled.story), settled.evident.checked, fair.kit, once)
    agreed = with_smallest_looks(agreed, settled, fair.kit, fair.rules.house_form)
    return replace(agreed, house=in_house(agreed.text, fair.kit))


def in_house(text: str, kit: Kit) -> str:
    """A label's words in the house form of the rule book; "" when no form reads back as the very same claims."""

    def again(words: str) -> Reading:
        return read(words, words=kit.words, conventions=kit.rules.conventions)

    return in_house_form(again(text), kit.rules.house_form, again)


def housed(agreed: AgreedWords, settled: Settled) -> AgreedWords:
    """The agreed words in the house form, with the changes counted from the label as hung."""
    hung = settled.evident.reading.text
    return replace(agreed, text=agreed.house, changes=changes(hung, agreed.house))


def readable(ballot: Ballot, claims: Sequence[Claim], kit: Kit) -> Ballot:
    """The ballot as it is; refuses words in place of a claim that make no claim of the same side."""
    by_key = {claim_key(claim): claim for claim in claims} | {
        key: _silence(side) for key, side in unsaid_keys(claims).items()
    }
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
        broader[side] = _broader(words.tables.get(table, {}).get("group", ()), kinds=side == "material")
    first = {
        str(entry["words"][0]): slots_of(entry)
        for entry in qualifying(words)
        if entry.get("role", "maker") == "maker"
    }
    return Trees(broader=broader, qualifiers=first)


def _broader(groups: Iterable[dict[str, object]], *, kinds: bool) -> dict[str, str]:
    """The next broader term of each term. A kind of material may be a word of the trade (tin alloy); a kind of place is
    not. Only words that a label could use are kept.
    """
    groups = tuple(groups)
    on_file = {term for group in groups for term in _terms(group)}
    steps: dict[str, str] = {}
    for group in groups:
        kind = str(group.get("kind", ""))
        is_a = group.get("is_a", ())
        up = str(is_a[0]) if isinstance(is_a, (list, tuple)) and is_a else kind if kinds else ""
        for term in _terms(group):
            if up in on_file and up != term:
                steps.setdefault(term, up)
    return steps


def _terms(group: Mapping[str, object]) -> list[str]:
    words = group.get("words", ())
    return [str(entry).partition("|")[0] for entry in words] if isinstance(words, (list, tuple)) else []


def _counted_ballots(fair: Fair, settled: Settled) -> list[Ballot]:
    """Ballots of the last round held, by members who did not step back. For counting only."""
    ballots = ballots_of(fair, settled.story)
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


def _unsaid(
    ballots: Sequence[Ballot], claims: Sequence[Claim], findings: Mapping[str, Finding], kit: Kit
) -> tuple[Unsaid, ...]:
    """Sides of which the label is silent and the panel finds that it may not be, with the values that opinions carry."""
    found = []
    for key, side in unsaid_keys(claims).items():
        finding = findings.get(key)
        if finding is None or finding.answer != "falls":
            continue
        nothing = _silence(side)
        answers = [a for b in ballots for a in b.answers if a.claim == key and a.instead]
        values = [v for a in answers if (v := instead_value(nothing, dict(a.instead), kit)) is not None]
        why = tuple(dict.fromkeys(sentence(reason) for reason in finding.reasons))
        found.append(Unsaid(side=side, values=tuple(sorted(values, key=repr)), why=why))
    return tuple(found)


def _silence(side: Side) -> Claim:
    value = NOTHING.get(side, TermValue(term=""))
    return Claim(id=unsaid_id(side), side=side, value=value, words="", span=Span(0, 0))


def _pooled(ballots: Sequence[Ballot], settled: Settled, rules: RuleBook) -> dict[str, PooledDates]:
    """Pooled years for the date of the whole object, where years were given."""
    claims = [c for c in settled.evident.reading.claims if dates_the_whole(c)]
    plain = [c for c in claims if not style_words(c)] or claims
    return _pool(ballots, settled, rules, plain[0].id) if plain else {}


def _pool(ballots: Sequence[Ballot], settled: Settled, rules: RuleBook, claim: str) -> dict[str, PooledDates]:
    dates = sorted((b.date for b in ballots if b.date is not None), key=repr)
    pool = pool_dates(dates, rules=rules.voting, excluded=_excluded(_allowed(settled))) if dates else None
    return {claim: pool} if pool is not None else {}


def _dates_move_together(
    findings: dict[str, Finding], claims: Sequence[Claim], pooled: Mapping[str, PooledDates]
) -> dict[str, Finding]:
    """Years given for an object whose date falls replace its date, whichever of its date claims was named.

    A year that nobody spoke against stays when it and the years given do not gainsay each other: "Georgian, 1890" with
    1880 to 1895 given becomes "Georgian style, 1890".
    """
    fallen = [
        findings[c.id]
        for c in claims
        if dates_the_whole(c) and c.id in findings and findings[c.id].answer == "falls"
    ]
    by_id = {claim.id: claim for claim in claims}
    moved = [name for name, pool in pooled.items() if not _agrees(by_id[name], pool)]
    return {**dict.fromkeys(moved, fallen[0]), **findings} if fallen else findings


def _agrees(claim: Claim, pool: PooledDates) -> bool:
    """True when the claim's years lie inside the pooled ones, or hold them all."""
    value = claim.value
    if pool.label is None or not isinstance(value, DateValue):
        return False
    given = replace(value, years=pool.label)
    return entails(value, given) or entails(given, value)


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
    given = (sentence(reason) for reason in settled.settlement.reasons)
    why = [*given, *(reason for step in agreed.steps for reason in step.why)]
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
