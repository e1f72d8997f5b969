"""Sealing what hangs: a steward reads the hung label on the object, and the words are signed.

A seal's bytes lie in `seals/` by the SHA-256 of the seal; the log holds that digest. A later version supersedes.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from planish.errands import clock
from planish.errands.refusing import refuse
from planish.errands.wiring import Fair
from planish.ledger.journal import Draft
from planish.ledger.sealing import SealedWords, SealRefused, check_code, open_seal, seal, write_code
from planish.ledger.sealing.cose import key_id
from planish.ledger.story import Story
from planish.reasoning.reading import read
from planish.reasoning.wording import changes
from planish.records import MeasureValue, WordChange

SEALS = "seals"
MOST_COMPARED = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Sealed:
    """One label sealed: the text of its code, the check code to type, the digest (hex) in the log."""

    object_id: str
    code: str
    check: str
    digest: str
    words: SealedWords


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What a seal says beside the words that hang. `state` is "sealed", "superseded", "revoked", or "" when no fair was at hand."""

    words: SealedWords
    same: bool | None
    changes: tuple[WordChange, ...]
    state: str


def seal_label(fair: Fair, story: Story, key: Ed25519PrivateKey, *, who: str, hangs: str) -> Sealed:
    """Seal the newest label of one object. `hangs` is what the steward reads on the object: it must be those words."""
    label = story.label
    if label is None or not _may_seal(story):
        raise refuse(
            story.listed.id,
            "Its words are not settled, so they cannot be sealed.",
            "Seal after the outcome is confirmed, with the words accepted or agreed.",
            kind="rule",
        )
    if " ".join(hangs.split()) != " ".join(label.text.split()):
        raise refuse(
            story.listed.id,
            "What hangs is not what was agreed.",
            f"The words agreed are: {label.text}",
            code="seal.other_words",
            kind="rule",
        )
    words = _words(fair, story)
    sealed = _sign(words, key)
    digest = sha256(sealed).hexdigest()
    _keep(fair.folder, digest, sealed)
    checked = Draft(kind="label.checked", sub=story.listed.id, who=who, body={"version": label.version})
    body = {"version": label.version, "seal": digest, "key": key_id(key.public_key()).hex()}
    fair.record([checked, Draft(kind="label.sealed", sub=story.listed.id, who=who, body=body)])
    return Sealed(
        object_id=story.listed.id,
        code=write_code(sealed),
        check=check_code(sealed),
        digest=digest,
        words=words,
    )


def _may_seal(story: Story) -> bool:
    settled = story.state.examination in ("confirmed", "final")
    agreed = story.label is not None and story.label.stage in ("agreed", "printed", "checked")
    return settled and (story.state.outcome == "accept" or agreed)


def _words(fair: Fair, story: Story) -> SealedWords:
    label = story.label
    assert label is not None  # asked by the caller
    return SealedWords(
        fair=fair.state.name[:64],
        stand=story.listed.stand,
        number=story.listed.number[:64] or story.listed.id,
        version=label.version,
        day=clock.now().date().isoformat(),
        words=label.text,
        compare=_to_compare(fair, label.text),
    )


def _to_compare(fair: Fair, text: str) -> tuple[str, ...]:
    """Measures that a person can hold against the object."""
    reading = read(text, words=fair.kit.words, conventions=fair.rules.conventions)
    found = [f"{c.value.role}: {c.words}" for c in reading.claims if isinstance(c.value, MeasureValue)]
    return tuple(found[:MOST_COMPARED])


def _sign(words: SealedWords, key: Ed25519PrivateKey) -> bytes:
    try:
        return seal(words, key)
    except SealRefused:
        digest = sha256(words.words.encode("utf-8")).digest()
        return seal(replace(words, words="", digest=digest), key)


def _keep(folder: Path, digest: str, sealed: bytes) -> None:
    (folder / SEALS).mkdir(exist_ok=True)
    (folder / SEALS / f"{digest}.seal").write_bytes(sealed)


def compare(sealed: bytes, keys: Sequence[object], *, hangs: str = "", fair: Fair | None = None) -> Compared:
    """Open a seal and hold it against the words that hang (if typed) and the fair's present state (if at hand)."""
    words = open_seal(sealed, keys)  # type: ignore[arg-type]
    same: bool | None = None
    diff: tuple[WordChange, ...] = ()
    if hangs:
        if words.words:
            same = " ".join(hangs.split()) == " ".join(words.words.split())
            diff = changes(words.words, hangs)
        else:
            same = sha256(hangs.encode("utf-8")).digest() == words.digest
    return Compared(
        words=words, same=same, changes=diff, state=state_of(fair, sealed) if fair is not None else ""
    )


def state_of(fair: Fair, sealed: bytes) -> str:
    """Where a seal stands in the fair's log: sealed, superseded, revoked, or unknown."""
    digest = sha256(sealed).hexdigest()
    for story in fair.state.objects.values():
        seals = [event for event in story.events if event.kind == "label.sealed"]
        if not any(event.body.get("seal") == digest for event in seals):
            continue
        if any(e.kind == "seal.revoked" and e.body.get("seal") == digest for e in story.events):
            return "revoked"
        newest = seals[-1].body.get("seal") == digest and story.state.label == "sealed"
        return "sealed" if newest else "superseded"
    return "unknown"


def invoice_words(story: Story) -> str:
    """The words for an invoice: the sealed label, word for word. Refuses a label that is not sealed."""
    label = story.label
    if label is None or label.stage != "sealed":
        raise refuse(story.listed.id, "Its label is not sealed.", "Seal it first: planish seal.", kind="rule")
    return label.text
