"""Papers out of the log: each made from where everything stands, so that paper and screen say the same.

No paper for an exhibitor holds a name of a specialist or a count of opinions.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from planish.errands.intake.listing import stand_order
from planish.errands.opening.wiring import Fair
from planish.errands.panel.checking import check
from planish.errands.panel.evidence import as_hung
from planish.errands.seals.sealing import printed_code
from planish.ledger.story import Story
from planish.reasoning.wording import changes
from planish.records.papers import LabelCard, OpenCase, Receipt, SheetLine, Slip, StandSheet, WordingLine

SETTLED = ("proposed", "confirmed", "final")
QUESTIONS_ON_SHEET = 2


Only = Callable[[Story], bool]
"""Which objects a paper may speak of, for a reader who may not see all."""


def anything(_: Story) -> bool:
    """Every object."""
    return True


def stories(fair: Fair, stand: str = "", only: Only = anything) -> list[Story]:
    """Objects in stand and number order, withdrawn ones left out; only those of `stand` if given."""
    found = [
        s
        for s in fair.state.objects.values()
        if s.state.examination != "withdrawn" and stand in ("", s.listed.stand) and only(s)
    ]
    return sorted(found, key=lambda s: (stand_order(s.listed.stand), s.listed.id))


def exhibitor(fair: Fair, stand: str) -> str:
    """The exhibitor's name at a stand."""
    known = fair.state.stands.get(stand)
    return known.exhibitor if known else ""


def stand_sheets(fair: Fair, stand: str = "", *, only: Only = anything) -> tuple[StandSheet, ...]:
    """One sheet a stand, with what the paper check asks of each label."""
    by_stand: dict[str, list[SheetLine]] = {}
    for story in stories(fair, stand, only):
        faults = check(as_hung(story), fair.kit).faults
        line = SheetLine(
            number=story.listed.number or story.listed.id,
            words=as_hung(story).text,
            panels=story.state.disciplines,
            questions=tuple(f.sentence for f in faults if f.severity <= 3)[:QUESTIONS_ON_SHEET],
            outcome=story.state.outcome if story.state.examination in SETTLED else "",
        )
        by_stand.setdefault(story.listed.stand, []).append(line)
    return tuple(
        StandSheet(fair=fair.state.name, stand=name, exhibitor=exhibitor(fair, name), lines=tuple(lines))
        for name, lines in by_stand.items()
    )


def slips(fair: Fair, stand: str = "", *, only: Only = anything) -> tuple[Slip, ...]:
    """A slip for every object that is not simply accepted."""
    return tuple(
        _slip(fair, story)
        for story in stories(fair, stand, only)
        if story.outcomes and story.state.outcome in ("relabel", "remove", "refer")
    )


def _slip(fair: Fair, story: Story) -> Slip:
    event = story.outcomes[-1]
    outcome = str(event.body["outcome"])
    asked = asked_words(story)
    hung = hung_words(story)
    return Slip(
        fair=fair.state.name,
        stand=story.listed.stand,
        number=story.listed.number,
        words=hung,
        outcome=outcome,
        reasons=tuple(event.body.get("reasons", ())) or _reasons_on_file(story),
        clauses=_clauses(story),
        to_do=_to_do(outcome, asked),
        appeal=_appeal(fair),
        slip_number=f"{event.n:04d}",
        new_words=asked,
        changes=changes(hung, asked) if asked else (),
    )


def _reasons_on_file(story: Story) -> tuple[str, ...]:
    found = [tuple(event.body.get("reasons", ())) for event in reversed(story.outcomes)]
    return next((reasons for reasons in found if reasons), ())


def _clauses(story: Story) -> tuple[str, ...]:
    for event in reversed(story.outcomes):
        if event.body.get("clauses"):
            return tuple(event.body["clauses"])
    return ()


def _to_do(outcome: str, asked: str) -> str:
    if outcome == "remove":
        return "Take the object off the stand now; it is kept against a receipt until the fair closes."
    if outcome == "refer":
        return "Leave the object where it is and covered; a second look follows, and you will be told."
    if asked:
        return "Sign the words, and hang the new label that the office prints."
    return "Please come to the office about the words of this label."


def _appeal(fair: Fair) -> str:
    switches = fair.rules.switches
    minutes = switches.get("appeal_minutes")
    clause = switches.get("appeal_clause")
    if not minutes:
        return "no appeal under this rule book"
    return f"appeal in writing within {minutes} minutes of this slip, with new evidence (clause {clause})"


def asked_words(story: Story) -> str:
    """The words asked or agreed, when the newest label is not simply the one that hung."""
    label = story.label
    return (
        label.text
        if label is not None
        and label.stage in ("asked", "agreed", "printed", "checked", "sealed")
        and label.version > 1
        else ""
    )


def hung_words(story: Story) -> str:
    """The words that hung last, before other words were asked."""
    hung = [label for label in story.labels if label.stage == "as_hung"]
    return hung[-1].text if hung else story.listed.text


def wording_lines(fair: Fair, stand: str = "", *, only: Only = anything) -> tuple[WordingLine, ...]:
    """Every label for which other words are asked or agreed."""
    return tuple(_wording(story) for story in stories(fair, stand, only) if asked_words(story))


def _wording(story: Story) -> WordingLine:
    hung, asked = hung_words(story), asked_words(story)
    why: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    for event in story.events:
        if event.kind == "label.asked":
            reason = str(event.body.get("reason", ""))
            why, more = ((reason,) if reason else ()), ()
    return WordingLine(
        stand=story.listed.stand,
        number=story.listed.number,
        hung=hung,
        agreed=asked,
        changes=changes(hung, asked),
        why=why,
        more=more,
    )


def label_cards(fair: Fair, stand: str = "", ids: Iterable[str] = ()) -> tuple[LabelCard, ...]:
    """Cards for labels whose words may hang: accepted as hung, or agreed."""
    wanted = set(ids)
    return tuple(
        card(story, printed_code(fair, story))
        for story in stories(fair, stand)
        if (not wanted or story.listed.id in wanted) and may_hang(story)
    )


def may_hang(story: Story) -> bool:
    """True when the newest words may hang: accepted as hung, or agreed."""
    label = story.label
    if label is not None and label.stage in ("agreed", "printed", "checked", "sealed"):
        return True
    return story.state.outcome == "accept" and story.state.examination in SETTLED


def card(story: Story, code: tuple[str, str] = ("", "")) -> LabelCard:
    """A label's words as a card: the first clause as heading, the rest as body; with its seal's code and check code."""
    label = story.label
    text = label.text if label else story.listed.text
    heading, body = heading_of(text)
    version = f" · version {label.version}" if label and label.version > 1 else ""
    price = (label.price if label else "") or story.listed.price
    return LabelCard(
        heading=heading,
        body=body,
        foot=f"Stand {story.listed.stand} · No. {story.listed.number}{version}",
        price=price,
        code=code[0],
        check=code[1],
    )


def heading_of(text: str) -> tuple[str, str]:
    """Split a label for a card: up to the first comma, full stop or line end that leaves 12 to 90 characters."""
    flat = " ".join(text.split())
    for at, character in enumerate(flat):
        ends = character in ",;:" or (character == "." and flat[at + 1 : at + 2] in ("", " "))
        if ends and 12 <= at <= 90 and not flat[:at].endswith((" c", " ca")):
            rest = flat[at + 1 :].strip()
            return flat[:at], rest[:1].upper() + rest[1:]
    return (
        (flat, "")
        if len(flat) <= 90
        else (flat[: flat.rfind(" ", 0, 90)], flat[flat.rfind(" ", 0, 90) + 1 :])
    )


def receipts(fair: Fair, stand: str = "", *, only: Only = anything) -> tuple[Receipt, ...]:
    """A receipt for every object in safe-keeping."""
    found = []
    for story in stories(fair, stand, only):
        moves = [m for m in story.moves if m.body["to"] == "safe_keeping"]
        if moves and story.state.whereabouts == "safe_keeping":
            found.append(_receipt(fair, story, moves[-1].body, moves[-1].n))
    return tuple(found)


def _receipt(fair: Fair, story: Story, move: Any, n: int) -> Receipt:
    return Receipt(
        fair=fair.state.name,
        number=f"R-{n}",
        stand=story.listed.stand,
        words=f"No. {story.listed.number}: {as_hung(story).text}",
        condition=str(move.get("condition", "")) or "not stated",
        kept_at=str(move.get("place", "")) or "safe-keeping",
        returned="after the fair, against this receipt",
    )


def open_cases(fair: Fair, stand: str = "", *, only: Only = anything) -> tuple[OpenCase, ...]:
    """What is not settled: referred, still talking, questions open, not seen."""
    found = []
    for story in stories(fair, stand, only):
        what = open_because(story)
        if what:
            found.append(
                OpenCase(
                    stand=story.listed.stand,
                    number=story.listed.number,
                    words=as_hung(story).text[:140],
                    open=what[0],
                    next=what[1],
                )
            )
    return tuple(found)


def open_because(story: Story) -> tuple[str, str] | None:
    """What is open about an object and what comes next; None when nothing is."""
    state = story.state
    reasons = {
        "opinions_in": ("opinions differ; the panel talks", "second round, each in private"),
        "examining": ("being examined", "ballots to be locked"),
        "not_found": ("not found on the stand", "ask the stand"),
        "not_seen": ("not seen", "go and look"),
        "under_appeal": ("under appeal", "appeals panel"),
        "reopened": ("reopened", "examine again"),
        "paper_due": ("a paper is due", "ask the stand"),
        "referred": ("referred", "second look or laboratory"),
    }
    if state.outcome == "refer" and state.examination in ("proposed", "referred"):
        said = _reasons_on_file(story)
        return (" ".join(said)[:200] or "referred", "second look or laboratory")
    return reasons.get(state.examination)


def coverage(found: Sequence[Story], quorum: int) -> tuple[tuple[str, int], ...]:
    """How many objects were seen by a quorum, by fewer, or not, and why not."""
    counts: Counter[str] = Counter()
    for story in found:
        voters = {cast.who for cast in story.ballots} - {cast.who for cast in story.recused}
        if len(voters) >= quorum:
            counts["seen by a quorum"] += 1
        elif voters:
            counts["seen by fewer than a quorum"] += 1
        elif story.state.examination in ("not_found", "not_seen"):
            counts["looked for and not seen"] += 1
        else:
            counts["not looked at"] += 1
    order = ("seen by a quorum", "seen by fewer than a quorum", "looked for and not seen", "not looked at")
    return tuple((name, counts[name]) for name in order)
