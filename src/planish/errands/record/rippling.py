"""Ripple: a fact was put right; which outcomes leaned on it, in every fair that is given?

An outcome keeps the ids of the facts it leaned on and a digest of each as it then stood. An outcome from before that was
kept is read again with today's book, and said to be so. A folder may be a fair or its archive.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any, Literal

from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import LEDGER, Fair, Kit, open_fair
from planish.errands.panel.checking import facts_of
from planish.errands.panel.evidence import Evident, evident
from planish.facts.book import FactBook
from planish.ledger.events import read
from planish.ledger.journal import Draft
from planish.ledger.story import Story
from planish.records import Fact

How = Literal["as it stands", "changed since", "no longer on file", "by today's reading"]
"""The fact the outcome leaned on, held against today's book; the last for outcomes from before facts were kept."""
ARCHIVED = Path("data") / "log.jsonl"


@dataclass(frozen=True, slots=True, kw_only=True)
class Touched:
    """One outcome that leaned on a fact. `standing` is False when a later outcome of the object does not lean on it."""

    fair: str
    folder: str
    object_id: str
    stand: str
    number: str
    outcome: str
    entry: int
    fact: str
    how: How
    standing: bool


def leaned_on(seen: Evident, kit: Kit) -> dict[str, str]:
    """Ids of the facts under one object's faults, evidence and contradictions, each with its digest."""
    ids = {fact.id for fact in facts_of(seen.checked, kit)}
    ids |= {fact for item in (*seen.items, *seen.too_late) for fact in item.facts}
    ids |= {fact for clash in seen.clashes for fact in clash.facts}
    known = ((fact_id, kit.book.look(fact_id).fact) for fact_id in sorted(ids))
    return {fact_id: digest_of(fact) for fact_id, fact in known if fact is not None}


def digest_of(fact: Fact) -> str:
    """SHA-256 (hex) of everything a fact says: its fields by name, as compact JSON in the order of the alphabet."""
    text = json.dumps(_plain(fact), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return sha256(text.encode()).hexdigest()


def _plain(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {item.name: _plain(getattr(value, item.name)) for item in fields(value)}
    if isinstance(value, Mapping):
        return {str(name): _plain(item) for name, item in value.items()}
    if isinstance(value, (list, tuple, set, frozenset)):
        return [_plain(item) for item in value]
    return value


def ripple(fact_id: str, folders: Sequence[Path], book: FactBook) -> tuple[Touched, ...]:
    """Every outcome that leaned on one fact. Refuses a folder that is neither a fair nor an archive."""
    return tuple(one for folder in folders for one in _in(folder, book) if one.fact == fact_id)


def changed(folders: Sequence[Path], book: FactBook) -> tuple[Touched, ...]:
    """Every outcome that leaned on a fact which today's book no longer holds as it then stood."""
    moved: tuple[How, ...] = ("changed since", "no longer on file")
    return tuple(one for folder in folders for one in _in(folder, book) if one.how in moved)


def _in(folder: Path, book: FactBook) -> Iterator[Touched]:
    if (folder / ARCHIVED).is_file():
        yield from _in_archive(folder, book)
    elif (folder / LEDGER).is_file():
        with open_fair(folder) as fair:
            for story in fair.state.objects.values():
                yield from _of_story(fair, story, book)
    else:
        raise refuse(str(folder), "It is neither a fair's folder nor an archive.", "Name such a folder.")


def _of_story(fair: Fair, story: Story, book: FactBook) -> Iterator[Touched]:
    proposed = [event for event in story.outcomes if event.kind == "outcome.proposed"]
    rows = [(event.n, event.body["outcome"], event.body.get("facts")) for event in proposed]
    if not rows:
        return
    if rows[-1][2] is None:  # from before facts were kept: read again
        n, outcome, _ = rows[-1]
        rows[-1] = (n, outcome, dict.fromkeys(leaned_on(evident(story, fair.kit), fair.kit), ""))
    listed = story.listed
    who = (fair.state.id, str(fair.folder), listed.id, listed.stand, listed.number)
    yield from _touched(who, rows, book)


def _in_archive(folder: Path, book: FactBook) -> Iterator[Touched]:
    """The log of an archive: outcomes name their facts in the open."""
    listed: dict[str, tuple[str, str]] = {}
    rows: dict[str, list[tuple[int, str, Any]]] = {}
    fair = ""
    with (folder / ARCHIVED).open(encoding="utf-8") as lines:
        for line in lines:
            said = json.loads(line)
            event = read(said["raw"].encode())
            fair = event.fair
            if said["status"] != "ok":
                continue
            if event.name in ("object.listed", "object.unlisted"):
                listed[event.sub] = (event.body.get("stand", ""), event.body.get("number", ""))
            if event.name == "outcome.proposed":
                rows.setdefault(event.sub, []).append(
                    (said["n"], event.body["outcome"], event.body.get("facts", {}))
                )
    for object_id, found in rows.items():
        yield from _touched((fair, str(folder), object_id, *listed.get(object_id, ("", ""))), found, book)


def _touched(
    who: tuple[str, str, str, str, str], rows: list[tuple[int, str, Any]], book: FactBook
) -> Iterator[Touched]:
    """One row for the newest outcome that leaned on each fact."""
    fair, folder, object_id, stand, number = who
    newest: dict[str, tuple[int, str, str]] = {}
    for n, outcome, facts in rows:
        newest |= {fact: (n, outcome, digest) for fact, digest in (facts or {}).items()}
    for fact, (n, outcome, digest) in sorted(newest.items()):
        yield Touched(
            fair=fair,
            folder=folder,
            object_id=object_id,
            stand=stand,
            number=number,
            outcome=outcome,
            entry=n,
            fact=fact,
            how=_how(fact, digest, book),
            standing=n == rows[-1][0],
        )


def _how(fact_id: str, digest: str, book: FactBook) -> How:
    if not digest:
        return "by today's reading"
    answer = book.look(fact_id)
    if answer.fact is None or answer.state == "ended":
        return "no longer on file"
    return "as it stands" if digest_of(answer.fact) == digest else "changed since"


def note_correction(fair: Fair, touched: Iterable[Touched], *, who: str, why: str) -> int:
    """Record in a fair that facts its outcomes leaned on were put right; gives how many. Objects are reopened by people."""
    state = {entry.n: entry for entry in fair.journal.entries() if entry.event.name == "outcome.proposed"}
    seen: dict[str, Draft] = {}
    for one in touched:
        was = (state[one.entry].event.body.get("facts") or {}).get(one.fact, "")
        fact = fair.kit.book.look(one.fact).fact
        body = {"was": was, "now": "" if fact is None else digest_of(fact), "why": why}
        seen[one.fact] = Draft(kind="fact.corrected", sub=one.fact, who=who, body=body)
    return len(fair.record([*seen.values()])) if seen else 0
