"""Base45 (RFC 9285): bytes in the characters that a QR code packs two to eleven bits. Strict in both directions."""

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_VALUE = {character: number for number, character in enumerate(ALPHABET)}


class NotBase45(ValueError):
    """The text is not the Base45 form of any bytes."""


def encode(data: bytes) -> str:
    """Two bytes become three characters, a last single byte two."""
    out: list[str] = []
    for at in range(0, len(data) - 1, 2):
        rest, low = divmod(data[at] << 8 | data[at + 1], 45)
        high, middle = divmod(rest, 45)
        out += (ALPHABET[low], ALPHABET[middle], ALPHABET[high])
    if len(data) % 2:
        high, low = divmod(data[-1], 45)
        out += (ALPHABET[low], ALPHABET[high])
    return "".join(out)


def decode(text: str) -> bytes:
    """The bytes of `text`. Raises NotBase45 on any other character, a wrong length or a group that is too large."""
    if len(text) % 3 == 1:
        raise NotBase45("wrong length")
    try:
        digits = [_VALUE[character] for character in text]
    except KeyError as odd:
        raise NotBase45(f"the character {odd.args[0]!r} is not one of the 45") from None
    out = bytearray()
    for at in range(0, len(digits), 3):
        group = digits[at : at + 3]
        number = sum(digit * 45**power for power, digit in enumerate(group))
        if number >= 1 << 8 * (len(group) - 1):
            raise NotBase45("a group that no bytes give")
        out += number.to_bytes(len(group) - 1, "big")
    return bytes(out)
