"""The payload of a seal: the words that were passed, and what to compare with the object."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from planish.ledger.sealing import cbor, cose

FORM = 1
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
# payload keys: small numbers keep the code small
K_FORM, K_FAIR, K_STAND, K_NUMBER, K_VERSION, K_DAY, K_WORDS, K_DIGEST, K_COMPARE, K_PICTURE = range(10)


class SealRefused(ValueError):
    """Not a seal, or not one of a fair that is known here. The sentence is fit for a buyer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SealedWords:
    """What one seal says. `day` is an ISO 8601 date. `words` are the exact words as passed, empty when only their
    SHA-256 `digest` (32 bytes) fits the code. `compare` lists measures and main marks to hold against the object;
    `picture` is the first 16 bytes of the SHA-256 of the object's picture, empty if none. `key` names the signing key.
    """

    fair: str
    stand: str
    number: str
    version: int
    day: str
    words: str = ""
    digest: bytes = b""
    compare: tuple[str, ...] = ()
    picture: bytes = b""
    key: bytes = b""


def seal(words: SealedWords, key: Ed25519PrivateKey) -> bytes:
    """Sign `words`. Raises SealRefused when the day is no ISO date, a field is too long or neither words nor digest stand."""
    _check(words)
    payload: dict[int, object] = {
        K_FORM: FORM,
        K_FAIR: words.fair,
        K_STAND: words.stand,
        K_NUMBER: words.number,
        K_VERSION: words.version,
        K_DAY: words.day,
    }
    optional = {
        K_WORDS: words.words,
        K_DIGEST: words.digest,
        K_COMPARE: list(words.compare),
        K_PICTURE: words.picture,
    }
    payload.update({name: value for name, value in optional.items() if value})
    signed = cose.sign(cbor.encode(payload), key)
    if len(signed) > cbor.LIMIT:
        raise SealRefused("The words are too long for a seal; seal their digest instead.")
    return signed


def open_seal(message: bytes, keys: Iterable[Ed25519PublicKey]) -> SealedWords:
    """The words that `message` seals under one of `keys`. Raises SealRefused for anything but the exact bytes of a seal."""
    try:
        payload, kid = cose.verify(message, keys)
        content = cbor.decode(payload)
    except ValueError as reason:
        raise SealRefused(f"This is not a seal that can be checked here: {reason}.") from None
    words = _read(content, kid)
    _check(words)
    return words


def _read(content: object, kid: bytes) -> SealedWords:
    if not isinstance(content, dict) or content.get(K_FORM) != FORM or not set(content) <= set(range(10)):
        raise SealRefused("This seal is of a form that is not known here.")
    if any(not content[name] for name in (K_WORDS, K_DIGEST, K_COMPARE, K_PICTURE) if name in content):
        raise SealRefused("This seal holds an empty field, which no seal does.")
    try:
        return SealedWords(
            fair=_text(content[K_FAIR]),
            stand=_text(content[K_STAND]),
            number=_text(content[K_NUMBER]),
            version=_number(content[K_VERSION]),
            day=_text(content[K_DAY]),
            words=_text(content.get(K_WORDS, "")),
            digest=_bytes(content.get(K_DIGEST, b"")),
            compare=tuple(_text(item) for item in _list(content.get(K_COMPARE, []))),
            picture=_bytes(content.get(K_PICTURE, b"")),
            key=kid,
        )
    except (KeyError, TypeError):
        raise SealRefused("This seal lacks something that every seal holds.") from None


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _list(value: object) -> list[object]:
    if not isinstance(value, list):
        raise TypeError
    return value


def _number(value: object) -> int:
    if not isinstance(value, int) or value < 1:
        raise TypeError
    return value


def _bytes(value: object) -> bytes:
    if not isinstance(value, bytes):
        raise TypeError
    return value


def _check(words: SealedWords) -> None:
    if not _DAY.fullmatch(words.day) or not words.day.isascii():
        raise SealRefused(f"The day {words.day!r} is not a date like 2026-10-14.")
    if bool(words.words) == bool(words.digest) or len(words.digest) not in (0, 32):
        raise SealRefused("A seal holds either the words or their digest.")
    if any(len(text) > 64 for text in (words.fair, words.stand, words.number)) or words.version < 1:
        raise SealRefused("Fair, stand and number are at most 64 characters each; versions count from 1.")
