"""Sound labels, written by program from the kinds of piece in the manner of each exhibitor, from one seed."""

import random
import re
from dataclasses import dataclass

from making.manners import ADJECTIVE, CONDITION, DATES, PATTERNS, SIZES
from making.pieces import BY_STAND, Kind

PLURAL = ("sugar nips", "fire tools", "kitchen scales")
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_ORDER = ("first", "second", "third", "last")


@dataclass
class Piece:
    """One listed object. `parts` holds the columns of exhibitors who keep them apart; `fault` is empty for a sound label."""

    stand: str
    number: str
    says: str
    price: int
    field: str
    parts: dict[str, str]
    fault: dict[str, str] | None = None
    sold: bool = False


def article(words: str) -> str:
    """ "an" before a vowel, else "a"."""
    return "an" if words[:1].lower() in "aeiou" else "a"


def inches(cm: float, quarters: bool) -> str:
    """A size in inches to the nearest eighth (or quarter, where an encoding has no eighths): 23.5 cm is 9¼."""
    eighths = round(cm / 2.54 * 4) * 2 if quarters else round(cm / 2.54 * 8)
    whole, eighth = divmod(eighths, 8)
    return f"{whole or ''}{_EIGHTHS[eighth]}" or "0"


def date_words(draw: random.Random, kind: Kind, stand: str) -> str:
    """A date in the exhibitor's manner, inside the kind's years."""
    year = draw.randrange(kind.years[0] // 5, kind.years[1] // 5 + 1) * 5
    century = (year - 1) // 100
    part = min(3, (year - 1) % 100 // 25)
    words = draw.choice(DATES[stand])
    return words.format(
        y=year, z=year + 10, z2=str(year + 20)[2:] if year % 100 < 80 else str(year + 20), dec=year // 10 * 10,
        cen=f"{century + 1}th", q=_ORDER[part], half="first" if part < 2 else "second",
    )  # fmt: skip


def size_words(draw: random.Random, kind: Kind, stand: str) -> tuple[str, str, str]:
    """The size in the exhibitor's manner; its role; the figure in cm."""
    role, least, most = draw.choice(kind.sizes)
    cm = draw.randrange(int(least * 2), int(most * 2) + 1) / 2
    words = draw.choice(SIZES[stand]).format(
        role=role, Role=role.capitalize(), cm=f"{cm:g}", inch=inches(cm, stand == "13"), adj=ADJECTIVE[role]
    )
    return words, role, f"{cm:g}"


def silver_mark(draw: random.Random, date: str, place: str) -> tuple[str, str]:
    """A year with its town for a hallmarked piece, in place of the circa date. Birmingham and Sheffield marked from 1773."""
    year = int("".join(sign for sign in date if sign.isdigit())[:4]) + draw.randrange(0, 5)
    english = ("London", "Sheffield", "Birmingham") if year > 1774 else ("London", "London", "Exeter")
    town = {"Scottish": "Edinburgh", "Irish": "Dublin"}.get(place) or draw.choice(english)
    return str(year), f"hallmarks for {town} {year}"


def sound(draw: random.Random, stand: str, number: str, used: set[str]) -> Piece:
    """One sound label that no other piece of the fair repeats word for word."""
    for _ in range(200):
        piece = _one(draw, stand, number)
        if piece.says not in used:
            used.add(piece.says)
            return piece
    raise RuntimeError(f"stand {stand} has run out of words")


def _one(draw: random.Random, stand: str, number: str) -> Piece:
    kind = draw.choice(BY_STAND[stand])
    place = draw.choice(kind.places)
    date = date_words(draw, kind, stand)
    first, second = draw.sample(kind.seen, 2)
    size, role, cm = size_words(draw, kind, stand)
    if kind.material == "silver" and kind.field == "silver":
        date, mark = silver_mark(draw, date, place)
        second, first = first, mark
    noun = f"{kind.material} {kind.noun}" if " with " not in kind.material else _with(kind)
    words = {
        "N": noun[0].upper() + noun[1:], "n": noun, "O": kind.noun.capitalize(), "o": kind.noun, "m": kind.material,
        "p": place, "d": date, "f": first, "g": second, "s": size, "k": draw.choice(CONDITION),
    }  # fmt: skip
    patterns = PATTERNS[stand]
    if kind.material == "silver" and kind.field == "silver":
        patterns = tuple(p for p in patterns if "{f}" in p)
    if kind.noun in PLURAL:
        patterns = tuple(
            p for p in patterns if not any(one in p for one in ("A {", "a {", "This {", "this {", "{o} is"))
        )
    says = tidy(draw.choice(patterns).format(**words), first, place)
    return Piece(
        stand=stand, number=number, says=says, price=price(draw, kind), field=kind.field,
        parts={"what": f"{words['N']} with {first}", "date": date, "place": place, "role": role, "cm": cm, "size": size},
    )  # fmt: skip


def _with(kind: Kind) -> str:
    base, extra = kind.material.split(" with ")
    return f"{base} {kind.noun} with {extra}"


def tidy(says: str, first: str, place: str) -> str:
    """One space, one full stop, the right article, a capital at the start of each sentence."""
    says = says.replace("A " + place, f"{article(place).capitalize()} {place}").replace(
        "a " + place, f"{article(place)} {place}"
    )
    says = " ".join(says.replace("..", ".").split())
    says = says.replace(" with " + first.capitalize(), " with " + first)
    out, up = [], True
    for sign in says:
        out.append(sign.upper() if up and sign.isalpha() else sign)
        up = (up and not sign.isalnum()) or (
            sign == "." and "".join(out[-3:]) not in (" c.", "(c.") and len(out) > 3
        )
        if sign.isdigit():
            up = False
    text = "".join(out)
    text = text.replace("C.1", "c.1").replace("C. 1", "c. 1").replace("C 1", "c 1").replace("C1", "c1")
    return re.sub(
        r"(?<=[,;] )(Height|Width|Length|Diameter|Depth)", lambda found: found.group().lower(), text
    ).strip()


def price(draw: random.Random, kind: Kind) -> int:
    """A price as dealers round it."""
    value = draw.randrange(kind.price[0], kind.price[1] + 1)
    step = 5 if value < 200 else 10 if value < 1000 else 50
    return round(value / step) * step
