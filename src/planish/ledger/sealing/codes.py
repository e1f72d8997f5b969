"""A seal as text for a QR code, and the short check code for when the camera fails."""

import base64
import hashlib

from planish.ledger.sealing import base45

PREFIX = "PLANISH:1:"
TEXT_LIMIT = 1_600
_CROCKFORD = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_CHECK = _CROCKFORD + "*~$=U"


class NotACode(ValueError):
    """The text is not the text of a seal's code."""


def write_code(sealed: bytes, *, address: str = "") -> str:
    """The text of the QR code: PREFIX and Base45, or, given the check page's https address, that page with the seal
    after `#` (base64url), which a phone opens by itself and no server sees."""
    if not address:
        return PREFIX + base45.encode(sealed)
    return f"{address}#{base64.urlsafe_b64encode(sealed).rstrip(b'=').decode('ascii')}"


def open_code(text: str) -> bytes:
    """The seal's bytes. Only the exact text is read: no white space, no other case, nothing before or after.

    Raises NotACode with a sentence fit for a buyer.
    """
    if len(text) > TEXT_LIMIT:
        raise NotACode("The code is longer than any seal.")
    if text.startswith(PREFIX):
        sealed = _or_refuse(base45.decode, text.removeprefix(PREFIX))
        if PREFIX + base45.encode(sealed) == text:
            return sealed
    elif text.startswith("https://") and text.count("#") == 1:
        address, tail = text.split("#")
        sealed = _or_refuse(_unfold, tail)
        if write_code(sealed, address=address) == text:
            return sealed
    raise NotACode("This is not the code of a seal.")


def _or_refuse(read: object, text: str) -> bytes:
    try:
        found = read(text) if callable(read) else b""
    except ValueError:
        raise NotACode("This is not the code of a seal.") from None
    return bytes(found)


def _unfold(text: str) -> bytes:
    if not text.isascii() or "=" in text:
        raise ValueError("not base64url")
    return base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)


def check_code(sealed: bytes) -> str:
    """A code to type: 40 bits of the seal's SHA-256 in Crockford's base 32 with his check symbol, as XXXX-XXXX-C.

    It finds a seal in the fair's list; it proves nothing by itself.
    """
    number = int.from_bytes(hashlib.sha256(sealed).digest()[:5], "big")
    letters = "".join(_CROCKFORD[number >> shift & 31] for shift in range(35, -1, -5))
    return f"{letters[:4]}-{letters[4:]}-{_CHECK[number % 37]}"


def tidy_check_code(typed: str) -> str:
    """What a person typed, in its settled form; NotACode if the check symbol does not fit (a slip of the finger)."""
    plain = typed.upper().replace("-", "").replace(" ", "")
    plain = plain[:-1].replace("O", "0").replace("I", "1").replace("L", "1") + plain[-1:]
    if len(plain) != 9 or any(letter not in _CROCKFORD for letter in plain[:8]):
        raise NotACode("A check code has eight letters or figures and a last sign.")
    number = 0
    for letter in plain[:8]:
        number = number << 5 | _CROCKFORD.index(letter)
    if _CHECK[number % 37] != plain[8]:
        raise NotACode("The last sign does not fit the others; please look at the code again.")
    return f"{plain[:4]}-{plain[4:8]}-{plain[8]}"
