"""Sealing what hangs: a steward reads the hung label on the object, and the words are signed.

A seal's bytes lie in `seals/` by the SHA-256 of the seal; the log holds that digest. A later version supersedes.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from planish.errands.opening import clock
from planish.errands.opening.refusing import refuse
from planish.errands.opening.wiring import Fair
from planish.errands.seals import keys
from planish.ledger.journal import Draft
from planish.ledger.sealing import SealedWords, SealRefused, check_code, open_seal, seal, write_code
from planish.ledger.sealing.codes import tidy_check_code
from planish.ledger.sealing.cose import key_id
from planish.ledger.sealing.lists import SealList, write_list
from planish.ledger.story import Story
from planish.reasoning.reading import read
from planish.reasoning.wording import changes
from planish.records import MeasureValue, WordChange

SEALS, WITHDRAWN = "seals", "withdrawn.list"
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
    return seal_labels(fair, [(story, hangs)], key, who=who)[0]


def seal_labels(
    fair: Fair, read_on: Sequence[tuple[Story, str]], key: Ed25519PrivateKey, *, who: str
) -> list[Sealed]:
    """Seal several objects in one go: each story with the words read on the object. All or none.

    A seal that stands already for an older version is superseded in the same step.
    """
    made, drafts = [], []
    for story, hangs in read_on:
        must_be(story, hangs)
        sealed = _sign(_words(fair, story), key)
        one = _told(story.listed.id, sealed, key)
        if state_of(fair, sealed) == "revoked":
            raise refuse(
                story.listed.id,
                "Exactly this seal was revoked.",
                "Hang the words as a new version, then seal that.",
                kind="rule",
            )
        _keep(fair.folder, one.digest, sealed)
        made.append(one)
        drafts += _events(story, one, key, who)
    fair.record(drafts)
    return made


def to_seal(story: Story) -> str:
    """The words that may be sealed now; "" when they are not settled, or sealed already."""
    if story.state.label == "sealed" or not _may_seal(story):
        return ""
    return story.label.text if story.label else story.listed.text


def must_be(story: Story, hangs: str) -> None:
    """Refuse unless the object's words are settled and are what was read on it, white space apart."""
    words = to_seal(story)
    if story.state.label == "sealed":
        raise refuse(
            story.listed.id,
            "Its label is sealed.",
            "To seal other words, hang and settle them first.",
            kind="rule",
        )
    if not words:
        raise refuse(
            story.listed.id,
            "Its words are not settled, so they cannot be sealed.",
            "Seal after the outcome is confirmed, with the words accepted or agreed.",
            kind="rule",
        )
    if " ".join(hangs.split()) != " ".join(words.split()):
        raise refuse(
            story.listed.id,
            "What hangs is not what was agreed.",
            f"The words agreed are: {words}",
            code="seal.other_words",
            kind="rule",
        )


def _told(object_id: str, sealed: bytes, key: Ed25519PrivateKey) -> Sealed:
    return Sealed(
        object_id=object_id,
        code=write_code(sealed),
        check=check_code(sealed),
        digest=sha256(sealed).hexdigest(),
        words=open_seal(sealed, [key.public_key()]),
    )


def _events(story: Story, one: Sealed, key: Ed25519PrivateKey, who: str) -> list[Draft]:
    sub, version = story.listed.id, one.words.version
    drafts = [
        Draft(
            kind="label.superseded", sub=sub, who="office", body={"version": old.version, "by": str(version)}
        )
        for old in story.labels
        if old.stage == "sealed" and old.version < version
    ]
    if story.label is None:  # accepted as listed: from here on these words are version 1 of its label
        text = {"version": version, "text": story.listed.text}
        drafts.append(Draft(kind="label.hung", sub=sub, who=who, body=text))
    body = {"version": version, "seal": one.digest, "key": key_id(key.public_key()).hex()}
    return [
        *drafts,
        Draft(kind="label.checked", sub=sub, who=who, body={"version": version}),
        Draft(kind="label.sealed", sub=sub, who=who, body=body),
    ]


def _may_seal(story: Story) -> bool:
    settled = story.state.examination in ("confirmed", "final")
    agreed = story.label is not None and story.label.stage in ("agreed", "printed", "checked")
    return settled and (story.state.outcome == "accept" or (story.state.outcome == "relabel" and agreed))


def _words(fair: Fair, story: Story) -> SealedWords:
    label = story.label
    text = label.text if label else story.listed.text
    picture = story.pictures[-1].att[0] if story.pictures and story.pictures[-1].att else ""
    return SealedWords(
        fair=fair.state.name[:64],
        stand=story.listed.stand[:64],
        number=story.listed.number[:64] or story.listed.id[:64],
        version=label.version if label else 1,
        day=clock.now().date().isoformat(),
        words=text,
        compare=_to_compare(fair, text),
        picture=bytes.fromhex(picture)[:16],
    )


def _to_compare(fair: Fair, text: str) -> tuple[str, ...]:
    """Measures and main marks that a person can hold against the object."""
    reading = read(text, words=fair.kit.words, conventions=fair.rules.conventions)
    measures = [
        c.words if c.value.role.casefold() in c.words.casefold() else f"{c.value.role} {c.words}"
        for c in reading.claims
        if isinstance(c.value, MeasureValue)
    ]
    marks = [c.words for c in reading.claims if c.side in ("mark", "inscription")]
    return tuple(piece[:80].rstrip(".,; ") for piece in dict.fromkeys([*measures, *marks]))[:MOST_COMPARED]


def _sign(words: SealedWords, key: Ed25519PrivateKey) -> bytes:
    try:
        return seal(words, key)
    except SealRefused:
        digest = sha256(words.words.encode("utf-8")).digest()
        return seal(replace(words, words="", digest=digest), key)


def _keep(folder: Path, digest: str, sealed: bytes) -> None:
    (folder / SEALS).mkdir(exist_ok=True)
    (folder / SEALS / f"{digest}.seal").write_bytes(sealed)


def compare(
    sealed: bytes, known: Sequence[Ed25519PublicKey], *, hangs: str = "", fair: Fair | None = None
) -> Compared:
    """Open a seal and hold it against the words that hang (if typed) and the fair's present state (if at hand)."""
    words = open_seal(sealed, known)
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
    return states(fair).get(sha256(sealed).hexdigest(), "unknown")


def states(fair: Fair) -> dict[str, str]:
    """Every seal that the log knows, by digest (hex): sealed, superseded or revoked."""
    found: dict[str, str] = {}
    for story in fair.state.objects.values():
        digests = [str(e.body.get("seal", "")) for e in story.events if e.kind == "label.sealed"]
        found.update(dict.fromkeys(digests, "superseded"))
        if digests and story.state.label == "sealed":
            found[digests[-1]] = "sealed"
        revoked = (str(e.body.get("seal", "")) for e in story.events if e.kind == "seal.revoked")
        found.update(dict.fromkeys(revoked, "revoked"))
    return found


def seal_of(fair: Fair, story: Story) -> bytes:
    """The signed bytes of an object's present seal; empty when its label is not sealed or the file is not there."""
    if story.state.label != "sealed":
        return b""
    digest = next((str(e.body["seal"]) for e in reversed(story.events) if e.kind == "label.sealed"), "")
    path = fair.folder / SEALS / f"{digest}.seal"
    return path.read_bytes() if path.is_file() else b""


def by_check_code(fair: Fair, typed: str) -> bytes:
    """The seal that a typed check code names; empty when this fair has none. Raises NotACode for a slip of the finger."""
    return all_seals(fair).get(tidy_check_code(typed), b"")


def all_seals(fair: Fair) -> dict[str, bytes]:
    """Every seal of this fair that is on file, by check code."""
    found = (path.read_bytes() for path in sorted((fair.folder / SEALS).glob("*.seal")))
    return {check_code(sealed): sealed for sealed in found}


def printed_code(fair: Fair, story: Story) -> tuple[str, str]:
    """What stands on a sealed label's card: the text of its QR code and its check code; both empty when not sealed.

    The code opens the rule book's `check_page` (an https address) when it names one.
    """
    sealed = seal_of(fair, story)
    if not sealed:
        return "", ""
    address = str(fair.rules.switches.get("check_page", ""))
    return write_code(sealed, address=address), check_code(sealed)


def read_at(fair: Fair, sealed: bytes, story: Story, *, who: str) -> Story | None:
    """A steward read this code at `story`'s place. None when it is that object's own; else the object whose code it is,
    and both objects carry an alarm at the desk. Nothing is kept of anybody but the steward."""
    digest = sha256(sealed).hexdigest()
    owner = next(
        (
            one
            for one in fair.state.objects.values()
            if any(e.kind == "label.sealed" and e.body.get("seal") == digest for e in one.events)
        ),
        None,
    )
    if owner is None:
        raise refuse(
            f"the code read at {_place(story)}",
            "This fair's log does not hold this seal.",
            "Take the card off and bring it to the office.",
            code="seal.unknown",
        )
    if owner.listed.id == story.listed.id:
        return None
    pairs = ((owner, story, "code"), (story, owner, "place"))
    fair.record(
        [
            Draft(
                kind="seal.misplaced",
                sub=one.listed.id,
                who=who,
                body={"seal": digest, "here": here, "other": other.listed.id, "where": _place(other)},
            )
            for one, other, here in pairs
        ]
    )
    return owner


def _place(story: Story) -> str:
    return f"{story.listed.stand}/{story.listed.number or story.listed.id}"


def revoke(fair: Fair, story: Story, *, who: str, second: str, reason: str) -> str:
    """Withdraw an object's present seal, by two people. Returns the digest (hex) of the seal."""
    sealed = seal_of(fair, story)
    if not sealed:
        raise refuse(story.listed.id, "Its label is not sealed.", "There is nothing to revoke.", kind="rule")
    digest = sha256(sealed).hexdigest()
    body = {"seal": digest, "second": second, "reason": reason}
    fair.record([Draft(kind="seal.revoked", sub=story.listed.id, who=who, body=body)])
    return digest


def keep_list(fair: Fair, key: Ed25519PrivateKey | None) -> None:
    """Write the signed list of withdrawn seals anew for the check page; without the key the one before stays."""
    if key is not None:
        (fair.folder / SEALS).mkdir(exist_ok=True)
        (fair.folder / SEALS / WITHDRAWN).write_bytes(list_of_withdrawn(fair, key))


def kept_list(fair: Fair) -> bytes:
    """The list of withdrawn seals as last signed; empty when none was."""
    path = fair.folder / SEALS / WITHDRAWN
    return path.read_bytes() if path.is_file() else b""


def list_of_withdrawn(fair: Fair, key: Ed25519PrivateKey) -> bytes:
    """The signed list of superseded and revoked seals that a phone carries (`ledger.sealing.lists`)."""
    known = states(fair)
    return write_list(
        SealList(
            fair=fair.state.name[:64],
            day=clock.now().date().isoformat(),
            superseded=frozenset(
                bytes.fromhex(d)[:16] for d, state in known.items() if state == "superseded"
            ),
            revoked=frozenset(bytes.fromhex(d)[:16] for d, state in known.items() if state == "revoked"),
        ),
        key,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceWords:
    """What an invoice says of one object: the sealed words, the lines in them that disclose, and where they can be checked."""

    words: str
    disclosures: tuple[str, ...]
    passed: str


def invoice_words(fair: Fair, story: Story) -> InvoiceWords:
    """The sealed label, word for word, and its disclosures, cut from it word for word. Refuses a label that is not sealed."""
    label = story.label
    if label is None or label.stage != "sealed":
        raise refuse(story.listed.id, "Its label is not sealed.", "Seal it first: planish seal.", kind="rule")
    reading = read(label.text, words=fair.kit.words, conventions=fair.rules.conventions)
    lines = dict.fromkeys(
        _clause(label.text, c.span.start, c.span.end) for c in reading.claims if c.side == "state"
    )
    sealed = open_seal(seal_of(fair, story), keys.public_keys(fair.folder))
    return InvoiceWords(
        words=label.text,
        disclosures=tuple(lines),
        passed=f"Words as passed on {sealed.day} for {sealed.fair}, stand {sealed.stand}, no. {sealed.number}, "
        f"version {sealed.version}; check code {check_code(seal_of(fair, story))}.",
    )


_BREAK = re.compile(r"[,;](?=\s)|[.](?=\s+[A-Z]|\s*$)")


def _clause(text: str, start: int, end: int) -> str:
    """The piece of a label between two breaks that holds these characters, as it stands."""
    breaks = [found.start() for found in _BREAK.finditer(text)]
    first = max((at + 1 for at in breaks if at < start), default=0)
    last = min((at for at in breaks if at >= end), default=len(text))
    return text[first:last].strip()
