"""What was noted at the tables: observations and ballots as JSON Lines, for the commands a real fair would use."""

import random
from collections.abc import Mapping, Sequence

from making.stock import Piece

METAL = ("p1", "p2", "p3", "p4", "p5")
MIXED = ("p6", "p7", "p8", "p9")
CONFLICTS = {"p2": ("5",), "p4": ("1",), "p7": ("9",)}
MIXED_STANDS = ("7", "8", "9")
UNITS = {"tpi": "tpi", "diameter": "mm", "pitch": "mm", "capacity": "ml"}
DOUBT = {"tpi": 0.5, "diameter": 0.05, "pitch": 0.02, "capacity": 3.0}
UNSAID = "+"
"""Before a side of which the label says nothing."""
METHODS = {
    "composition": "handheld XRF", "thread": "thread gauge and caliper", "capacity": "water and measuring cylinder",
    "members": "balance", "condition": "eye and loupe", "mark": "eye and loupe",
}  # fmt: skip


def panel(stand: str) -> tuple[str, ...]:
    """Members who may sit on a piece of this stand; a declared conflict keeps a member away."""
    seats = MIXED if stand in MIXED_STANDS else METAL
    return tuple(person for person in seats if stand not in CONFLICTS.get(person, ()))


def observations(piece: Piece, start: int) -> list[dict]:
    """Looks at one piece, as its seeded fault shows itself."""
    looks = [look.strip() for look in (piece.fault or {}).get("looks", "").split("&") if look.strip()]
    return [_look(piece, look, f"look-{start + at:03d}") for at, look in enumerate(looks)]


def _look(piece: Piece, look: str, name: str) -> dict:
    kind, part, given = look.split(":", 2)
    seats = panel(piece.stand)
    found: dict = {
        "id": name, "object": f"{piece.stand}/{piece.number}", "kind": kind, "by": seats[len(name + piece.number) % len(seats)],
        "part": part, "instrument": METHODS[kind], "surface": "cleaned spot" if kind == "composition" else "",
        "spot": "underside, out of sight" if kind == "composition" else "",
    }  # fmt: skip
    if kind == "condition":
        found |= {"terms": [given], "words": (piece.fault or {})["reason"]}
    elif kind == "mark" and given.startswith("words="):
        found |= {"words": given.removeprefix("words=")}
    elif kind == "mark":
        key, _, value = given.partition("=")
        found |= {"more": {key: int(value)}, "words": f"{key} number {value}"}
    else:
        found |= {"values": {key: _quantity(kind, key, float(value)) for key, value in _pairs(given)}}
    if kind == "members":
        found |= {"more": {"measure": "weight"}}
    return {key: value for key, value in found.items() if value not in ("", [], {})}


def _pairs(given: str) -> list[tuple[str, str]]:
    return [tuple(pair.split("=")) for pair in given.split(",")]  # type: ignore[misc]


def _quantity(kind: str, key: str, amount: float) -> list:
    if kind == "composition":
        return [amount, "wt%", round(max(0.1, amount * 0.02), 2)]
    if kind == "members":
        return [amount, "g", 1.0]
    return [amount, UNITS[key], DOUBT[key]]


def sound_look(draw: random.Random, piece: Piece, name: str) -> dict:
    """A routine look at a sound piece that agrees with its label: where and how it was looked at, nothing odd."""
    seats = panel(piece.stand)
    words = draw.choice(
        ("Seams run as they should; wear where hands go.", "Edges soft, underside untouched.", "Patina even into the recesses.",
         "Turning marks inside, none outside.", "Parts fit, wear passes over the joint.")
    )  # fmt: skip
    return {
        "id": name,
        "object": f"{piece.stand}/{piece.number}",
        "kind": "wear",
        "by": draw.choice(seats),
        "words": words,
    }


def ballots(
    draw: random.Random, piece: Piece, sides: Sequence[str], years: tuple[int, int], split: bool
) -> list[dict]:
    """First-round ballots of the panel on one piece. `sides` are what the label claims; a split divides the panel."""
    seats = panel(piece.stand)
    fault = piece.fault
    against = set(seats)
    if fault is None:
        against = set()
    elif split:
        against = set(seats[: len(seats) // 2 + 1])
    elif draw.random() < 0.2:
        against.discard(draw.choice(seats))
    return [_ballot(draw, piece, person, sides, years, person in against, 1) for person in seats]


def second_round(
    draw: random.Random, piece: Piece, sides: Sequence[str], years: tuple[int, int]
) -> list[dict]:
    """After the talk all but one are of one mind; of a sound piece all are."""
    seats = panel(piece.stand)
    stays = seats[-1] if len(seats) > 3 else ""
    faulty = piece.fault is not None
    return [_ballot(draw, piece, person, sides, years, faulty and person != stays, 2) for person in seats]


def _ballot(
    draw: random.Random,
    piece: Piece,
    person: str,
    sides: Sequence[str],
    years: tuple[int, int],
    against: bool,
    round_: int,
) -> dict:
    fault: Mapping[str, str] = piece.fault or {}
    wrong = fault.get("side", "") if against else ""
    answers = []
    for side in sides:
        falls = bool(wrong) and side.removeprefix(UNSAID) == wrong
        name, _, words = side.removeprefix(UNSAID).partition(": ")
        claim = {"side": name, "words": words} if words else {"side": name}
        answer = {"claim": claim, "verdict": "does_not_hold" if falls else "holds"}
        if falls:
            answer["reason"] = fault["reason"]
            if fault.get("instead"):
                answer["instead"] = {"qualifier" if name == "maker" else "words": fault["instead"]}
        elif side.startswith(UNSAID):
            continue  # a member who lets the label pass says nothing of what it leaves out
        answers.append(answer)
    step = 5 if years[1] - years[0] > 10 else 1
    first = years[0] + draw.choice((-step, 0, 0, step))
    last = max(first, years[1] + draw.choice((-step, 0, 0, step)))
    ballot: dict = {
        "object": f"{piece.stand}/{piece.number}", "person": person, "round": round_, "answers": answers,
        "date": {"earliest": first, "latest": last, "best": (first + last) // 2, "sure": draw.choice((0.7, 0.8, 0.8, 0.9))},
        "outcome": fault["outcome"] if against else "accept",
    }  # fmt: skip
    if against:
        ballot["reasons"] = [fault["reason"]]
    return ballot
