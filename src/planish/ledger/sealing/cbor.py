"""The little CBOR a seal needs, deterministic (RFC 8949, section 4.2.1) and strict.

Integers of 64 bits, byte strings, text strings, arrays, maps with integer or text keys, and one tag (18). Nothing
else: no floats, no indefinite lengths, no other tags, no duplicate or unordered keys, no longer form of a length than
is needed. Decoding then encoding gives the same bytes, or it is refused.
"""

from dataclasses import dataclass

LIMIT = 1000
"""Bytes; longer input is refused unread."""
DEPTH = 4
UNSIGNED, NEGATIVE, BYTES, TEXT, ARRAY, MAP, TAG = range(7)


class NotCanonical(ValueError):
    """The bytes are not the one deterministic form of anything a seal may hold."""


@dataclass(frozen=True, slots=True)
class Tagged:
    """A tagged value; only tag 18 (COSE_Sign1) is read."""

    tag: int
    value: object


def encode(value: object) -> bytes:
    """Deterministic bytes of `value`. Raises NotCanonical for what a seal may not hold (bool and float included)."""
    match value:
        case bool():
            raise NotCanonical("a seal holds no true or false")
        case int():
            return _head(UNSIGNED, value) if value >= 0 else _head(NEGATIVE, -1 - value)
        case bytes():
            return _head(BYTES, len(value)) + value
        case str():
            raw = value.encode("utf-8")
            return _head(TEXT, len(raw)) + raw
        case list() | tuple():
            return _head(ARRAY, len(value)) + b"".join(encode(item) for item in value)
        case dict():
            pairs = sorted((encode(key), encode(item)) for key, item in value.items())
            return _head(MAP, len(pairs)) + b"".join(key + item for key, item in pairs)
        case Tagged():
            return _head(TAG, value.tag) + encode(value.value)
    raise NotCanonical(f"a seal holds no {type(value).__name__}")


def _head(major: int, number: int) -> bytes:
    if number < 24:
        return bytes([major << 5 | number])
    for code, size in ((24, 1), (25, 2), (26, 4), (27, 8)):
        if number < 1 << 8 * size:
            return bytes([major << 5 | code]) + number.to_bytes(size, "big")
    raise NotCanonical("a number longer than 64 bits")


def decode(data: bytes) -> object:
    """The value of `data`, which must be exactly one deterministic item of at most LIMIT bytes, DEPTH levels deep."""
    if len(data) > LIMIT:
        raise NotCanonical(f"longer than {LIMIT} bytes")
    reader = _Reader(data)
    value = reader.item(0)
    if reader.at != len(data):
        raise NotCanonical("something follows the end")
    return value


class _Reader:
    """Reads one item after another; every length is checked against what is left before anything is made."""

    __slots__ = ("at", "data")

    def __init__(self, data: bytes) -> None:
        self.data, self.at = data, 0

    def item(self, depth: int) -> object:
        if depth > DEPTH:
            raise NotCanonical(f"deeper than {DEPTH} levels")
        major, number = self._head()
        match major:
            case 0:
                return number
            case 1:
                return -1 - number
            case 2:
                return self._take(number)
            case 3:
                return self._text(number)
            case 4:
                return [self.item(depth + 1) for _ in range(self._fits(number))]
            case 5:
                return self._map(self._fits(number), depth)
            case 6 if number == 18 and depth == 0:
                return Tagged(number, self.item(depth + 1))
        raise NotCanonical("a kind of item that no seal holds")

    def _head(self) -> tuple[int, int]:
        first = self._take(1)[0]
        major, code = first >> 5, first & 31
        if code < 24:
            return major, code
        if code > 27:
            raise NotCanonical("an indefinite or reserved length")
        size = 1 << (code - 24)
        number = int.from_bytes(self._take(size), "big")
        if number < 24 or (size > 1 and number < 1 << 4 * size):
            raise NotCanonical("a longer form of a number than it needs")
        return major, number

    def _take(self, size: int) -> bytes:
        if size > len(self.data) - self.at:
            raise NotCanonical("cut short")
        piece = self.data[self.at : self.at + size]
        self.at += size
        return piece

    def _fits(self, count: int) -> int:
        if count > len(self.data) - self.at:
            raise NotCanonical("cut short")
        return count

    def _text(self, size: int) -> str:
        try:
            return self._take(size).decode("utf-8")
        except UnicodeDecodeError:
            raise NotCanonical("text that is not UTF-8") from None

    def _map(self, count: int, depth: int) -> dict[int | str, object]:
        found: dict[int | str, object] = {}
        last = b""
        for _ in range(count):
            start = self.at
            key = self.item(depth + 1)
            raw = self.data[start : self.at]
            if not isinstance(key, (int, str)) or raw <= last:
                raise NotCanonical("map keys out of order, doubled or of a wrong kind")
            last = raw
            found[key] = self.item(depth + 1)
        return found
