"""What can happen, in one table: every kind of event is a word with a version, and says what its body holds.

`KINDS["object.listed"]` is the newest version of a kind. A field marked *private* (free text, names, ballot values)
never lies readable in the log: the log holds a salted commitment and the value goes to the openings, which may be
deleted (`commitments`). An event is serialised once (`compose`) and those bytes (`raw`) are what is hashed, sent and
kept; nobody writes the JSON again to compare.

What a kind says about conflicts (`compares`, `sets`), places (`desk_only`), rights (`roles`) and second persons
(`second`) is read by `judging`. Keys are templates over the event: `{sub}`, `{who}` and body fields.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any, Literal

import msgspec

from planish.ledger.kinds import KINDS, Kind
from planish.records.frozen import quick

RAW_VERSION = 1
RAW_LIMIT = 262_144
"""Bytes; an event longer than this is refused. Pictures travel apart, by digest."""
SECRET_LIMIT = 1_048_576
"""Bytes; all openings of one event together."""
PUSH_EVENTS = 200
PUSH_BYTES = 1_048_576

_ORDER = (
    "v",
    "fair",
    "dev",
    "seq",
    "dprev",
    "id",
    "who",
    "kind",
    "sub",
    "base",
    "seen",
    "t",
    "off",
    "body",
    "att",
)
_WITH_BASE = frozenset(_ORDER)
_WITHOUT_BASE = _WITH_BASE - {"base"}
_WORD = re.compile(r"[^\x00-\x1f\x7f\ud800-\udfff]{1,200}")
_KIND = re.compile(r"[a-z]+(?:_[a-z]+)*\.[a-z]+(?:_[a-z]+)*/[1-9][0-9]{0,3}")
_ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_DIGEST = re.compile(r"[0-9a-f]{64}")
INT_LIMIT = 2**53
"""Numbers in `raw` stay below this, so that a browser reads the same number."""


class MalformedEventError(ValueError):
    """The bytes are not an event. The sentence says what is wrong; nothing is recorded."""


@quick
@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One event as its maker wrote it. `raw` is the only thing that counts; the rest is read from it.

    `seq` counts 1, 2, 3 … per device `dev`; `dprev` is the SHA-256 (hex) of that device's previous raw, "" for the
    first. `base` is the id of the event that the writer saw as the latest on what it changes ("" for none).
    `seen` is (epoch, n) of the newest entry the writer knew; `t` (ms) and `off` (ms) are the device's clock and its
    offset to the desk: claims, shown, never decided on. `att` are SHA-256 names of pictures and papers.
    """

    fair: str
    dev: str
    seq: int
    dprev: str
    id: str
    who: str
    kind: str
    sub: str
    base: str | None
    seen: tuple[str, int]
    t: int
    off: int
    body: Mapping[str, Any]
    att: tuple[str, ...]
    raw: bytes = field(repr=False)

    @property
    def name(self) -> str:
        """The kind without its version: "object.listed"."""
        return _name_of(self.kind)

    @property
    def version(self) -> int:
        """The kind's version: 1, 2, …"""
        return int(self.kind.partition("/")[2])


def compose(
    *,
    fair: str,
    dev: str,
    seq: int,
    dprev: str,
    id: str,
    who: str,
    kind: str,
    sub: str,
    seen: tuple[str, int],
    t: int,
    body: Mapping[str, Any],
    base: str | None = None,
    off: int = 0,
    att: Iterable[str] = (),
) -> bytes:
    """Serialise one event, once. Private fields in `body` must already be commitments (`commitments.commit_body`)."""
    record: dict[str, Any] = {
        "v": RAW_VERSION,
        "fair": fair,
        "dev": dev,
        "seq": seq,
        "dprev": dprev,
        "id": id,
    }
    record |= {"who": who, "kind": kind, "sub": sub}
    if base is not None:
        record["base"] = base
    record |= {
        "seen": {"epoch": seen[0], "n": seen[1]},
        "t": t,
        "off": off,
        "body": dict(body),
        "att": [*att],
    }
    return to_bytes(record)


def to_bytes(value: Any) -> bytes:
    """JSON, compact, UTF-8; text that UTF-8 cannot hold (half a surrogate pair) is escaped instead."""
    try:
        return json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
    except UnicodeEncodeError:
        return json.dumps(value, separators=(",", ":"), allow_nan=False).encode()


def parse(raw: bytes) -> Event:
    """Read an event from its bytes, strictly. Raises MalformedEventError with one sentence."""
    if len(raw) > RAW_LIMIT:
        raise MalformedEventError(f"the event is {len(raw)} bytes long; {RAW_LIMIT} is the most")
    if plain := _plain(raw):
        return _from_plain(plain, raw)
    try:
        record = json.loads(raw, object_pairs_hook=_no_doubles, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise MalformedEventError(f"the event is not readable JSON ({error})") from None
    return _event(record, raw)


def read(raw: bytes) -> Event:
    """Read an event that was accepted before; as `parse`, without asking everything again."""
    record = _same(raw)
    return _made(json.loads(raw), raw) if record is None else _from_plain(record, raw)


def _plain(raw: bytes) -> "_Record | None":
    """The record of bytes that are written in the plainest way; None for all others, which are read slowly.

    Its fields were asked as `_SHAPES` asks.
    """
    record = _same(raw)
    return record if record is not None and _well_worded(record) else None


def _same(raw: bytes) -> "_Record | None":
    """The record which, written again, gives the same bytes: then no field stands twice. None for all others."""
    try:
        record: _Record = _DECODER.decode(raw)
        return record if _ENCODER.encode(record) == raw else None
    except (msgspec.MsgspecError, UnicodeError, RecursionError):
        return None


def _from_plain(record: "_Record", raw: bytes) -> Event:
    base = record.base
    return Event(
        fair=record.fair,
        dev=record.dev,
        seq=record.seq,
        dprev=record.dprev,
        id=record.id,
        who=record.who,
        kind=record.kind,
        sub=record.sub,
        base=None if isinstance(base, msgspec.UnsetType) else base,
        seen=(record.seen.epoch, record.seen.n),
        t=record.t,
        off=record.off,
        body=record.body,
        att=record.att,
        raw=raw,
    )


def _event(record: Any, raw: bytes) -> Event:
    if not isinstance(record, dict):
        raise MalformedEventError("the event is not a set of named fields")
    if not (_WITHOUT_BASE <= record.keys() <= _WITH_BASE):
        missing = [name for name in _ORDER if name != "base" and name not in record]
        strange = [name for name in record if name not in _ORDER]
        raise MalformedEventError(
            f"fields missing: {', '.join(missing) or 'none'}; not known: {', '.join(strange) or 'none'}"
        )
    for name, value in record.items():
        if not _SHAPES[name](value):
            raise MalformedEventError(f"the field {name} is not what it should be")
    return _made(record, raw)


def _made(record: Mapping[str, Any], raw: bytes) -> Event:
    seen = record["seen"]
    return Event(
        fair=record["fair"],
        dev=record["dev"],
        seq=record["seq"],
        dprev=record["dprev"],
        id=record["id"],
        who=record["who"],
        kind=record["kind"],
        sub=record["sub"],
        base=record.get("base"),
        seen=(seen["epoch"], seen["n"]),
        t=record["t"],
        off=record["off"],
        body=record["body"],
        att=tuple(record["att"]),
        raw=raw,
    )


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    result = dict(pairs)
    if len(result) != len(pairs):
        raise ValueError("a field stands twice")
    return result


def _no_constant(text: str) -> Any:
    raise ValueError(f"{text} is no number")


def _word(value: Any) -> bool:
    return isinstance(value, str) and _WORD.fullmatch(value) is not None


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and -INT_LIMIT < value < INT_LIMIT


def _match(pattern: re.Pattern[str], value: Any) -> bool:
    return isinstance(value, str) and pattern.fullmatch(value) is not None


_SHAPES: dict[str, Callable[[Any], bool]] = {
    "v": lambda value: value == RAW_VERSION and _whole(value),
    "fair": _word,
    "dev": _word,
    "seq": lambda value: _whole(value) and value > 0,
    "dprev": lambda value: value == "" or _match(_DIGEST, value),
    "id": lambda value: _match(_ID, value),
    "who": _word,
    "kind": lambda value: _match(_KIND, value),
    "sub": _word,
    "base": lambda value: value == "" or _match(_ID, value),
    "seen": lambda value: (
        isinstance(value, dict)
        and value.keys() == {"epoch", "n"}
        and (value["epoch"] == "" or _word(value["epoch"]))
        and _whole(value["n"])
        and value["n"] >= 0
    ),
    "t": _whole,
    "off": _whole,
    "body": lambda value: isinstance(value, dict),
    "att": lambda value: isinstance(value, list) and all(_match(_DIGEST, item) for item in value),
}


def kind_of(event: Event) -> Kind | None:
    """The newest known version of the event's kind; None when the kind, or this version of it, is newer than we are."""
    kind = KINDS.get(event.name)
    return kind if kind is not None and event.version <= kind.version else None


@lru_cache(maxsize=1_000)
def _name_of(word: str) -> str:
    return word.partition("/")[0]


class _Seen(msgspec.Struct, forbid_unknown_fields=True):
    epoch: str
    n: Annotated[int, msgspec.Meta(ge=0, lt=INT_LIMIT)]


_Whole = Annotated[int, msgspec.Meta(gt=-INT_LIMIT, lt=INT_LIMIT)]


class _Record(msgspec.Struct, forbid_unknown_fields=True, kw_only=True):
    """Fields and numbers of `_SHAPES` once more, for the quick reader; `_well_worded` has the words."""

    v: Literal[1]
    fair: str
    dev: str
    seq: Annotated[int, msgspec.Meta(gt=0, lt=INT_LIMIT)]
    dprev: str
    id: str
    who: str
    kind: str
    sub: str
    base: str | msgspec.UnsetType = msgspec.UNSET
    seen: _Seen
    t: _Whole
    off: _Whole
    body: dict[str, Any]
    att: tuple[str, ...]


_DECODER, _ENCODER = msgspec.json.Decoder(_Record), msgspec.json.Encoder()


def _well_worded(record: _Record) -> bool:
    """Whether every word is as `_SHAPES` asks. Words that come again and again are asked once."""
    base, epoch = record.base, record.seen.epoch
    return bool(
        _known_word(record.fair)
        and _known_word(record.dev)
        and _known_word(record.who)
        and _known_kind(record.kind)
        and _WORD.fullmatch(record.sub)
        and _ID.fullmatch(record.id)
        and (record.dprev == "" or _DIGEST.fullmatch(record.dprev))
        and (epoch == "" or _known_word(epoch))
        and (base is msgspec.UNSET or base == "" or _ID.fullmatch(base))
        and all(map(_DIGEST.fullmatch, record.att))
    )


@lru_cache(maxsize=1_000)
def _known_word(word: str) -> bool:
    return _WORD.fullmatch(word) is not None


@lru_cache(maxsize=1_000)
def _known_kind(word: str) -> bool:
    return _KIND.fullmatch(word) is not None
