"""Build the sample fair of Saltmere, an invented port town: thirteen stands' lists, people, what the tables noted, answers.

Run: python samples/build_saltmere.py [FOLDER]. The same seed gives the same fair; the built files are kept beside this one.
"""

import json
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from making import forms, writing
from making.faults import entries
from making.stock import Piece, sound

from planish.facts.rulebooks import load_rulebook
from planish.facts.words import english
from planish.reasoning.reading import read

SEED = 1743
PER_STAND = 40
STANDS = {
    "1": ("Harbour Pewter Room", "{}", "stand-01-harbour-pewter.xlsx"),
    "2": ("Kupfer & Kanne, Brindelhafen", "K{}", "stand-02-kupfer-und-kanne.csv"),
    "3": ("Old Ropewalk Metalwork", "R{}", "stand-03-old-ropewalk.ods"),
    "4": ("Tidewater Brass", "T-{}", "stand-04-tidewater-brass.tsv"),
    "5": ("The Larkham Kitchen", "{}", "stand-05-larkham-kitchen.txt"),
    "6": ("Fennimore Ironwork", "F{}", "stand-06-fennimore-ironwork.xls"),
    "7": ("Quayside Clocks", "QC{}", "stand-07-quayside-clocks.json"),
    "8": ("Sprat & Whiting, Silver and Plate", "S{}", "stand-08-sprat-and-whiting.xlsx"),
    "9": ("Blue Heron Ceramics", "BH-{}", "stand-09-blue-heron.csv"),
    "10": ("The Walled Garden", "G{}", "stand-10-walled-garden.xlsx"),
    "11": ("Lamp Alley", "{}", "stand-11-lamp-alley.jsonl"),
    "12": ("Two Anchors", "{}", "stand-12-two-anchors.csv"),
    "13": ("Marsh Lane Copper", "M{}", "stand-13-marsh-lane-copper.txt"),
}
TYPED_YEARS = (
    ("1752", True),
    ("1768", True),
    ("1743", False),
    ("1731", False),
)  # True: the piece itself is dated
DOUBLE = "12"  # the stand that gave one number to two objects
WRONG_STAND = ("8", "18")  # whose list names another stand on every row
SPLITS = 8
SOUND_BALLOTS = 48


def stock(draw: random.Random) -> dict[str, list[Piece]]:
    """Forty objects for each stand: the seeded faults among sound labels, in an order of the exhibitor's own."""
    used: set[str] = set()
    seeded: dict[str, list[dict[str, str]]] = {stand: [] for stand in STANDS}
    for entry in entries():
        seeded[entry["stand"]].append(entry)
    fair = {}
    for stand, faults in seeded.items():
        slots: list[dict[str, str] | None] = [*faults, *([None] * (PER_STAND - len(faults)))]
        draw.shuffle(slots)
        fair[stand] = [_piece(draw, stand, at, fault, used) for at, fault in enumerate(slots)]
    _typed_years(fair["1"])
    fair[DOUBLE][20].number = (
        fair[DOUBLE][19].number if _both_sound(fair[DOUBLE][19:21]) else fair[DOUBLE][20].number
    )
    for piece in [p for p in fair["1"] if p.fault is None and "typed" not in p.parts][::7]:
        piece.sold = True
    return fair


def _both_sound(pieces: list[Piece]) -> bool:
    return all(piece.fault is None for piece in pieces)


def _piece(draw: random.Random, stand: str, at: int, fault: dict[str, str] | None, used: set[str]) -> Piece:
    number = STANDS[stand][1].format(int(stand) * 100 + at + 1)
    if fault is None:
        return sound(draw, stand, number, used)
    return Piece(
        stand=stand, number=number, says=fault["says"], price=draw.randrange(12, 240) * 5, field="", parts={}, fault=fault
    )  # fmt: skip


def _typed_years(pieces: list[Piece]) -> None:
    """Four rows of the first stand whose year was typed into a date cell: two dated pieces, two single years too many."""
    rows = [piece for piece in pieces if piece.fault is None][3::6]
    for piece, (year, dated) in zip(rows, TYPED_YEARS, strict=False):
        piece.parts["typed"] = year
        if dated:
            piece.parts["what"] += f", the rim dated {year}"
            continue
        piece.fault = {
            "stand": piece.stand, "says": f"{piece.parts['what']}, {year}", "fault": "date.too_exact", "severity": "3", "found": "paper",
            "outcome": "relabel", "side": "date", "years": f"{int(year) - 10}-{int(year) + 10}", "reason": "no year stands on the piece", "looks": "",
        }  # fmt: skip


def lists(fair: dict[str, list[Piece]]) -> dict[str, bytes]:
    """Every stand's list as its exhibitor sends it."""
    title = {stand: f"{name}, stand {stand}" for stand, (name, _, _) in STANDS.items()}
    made = {
        "1": writing.messy_xlsx(title["1"], fair["1"]),
        "2": writing.german_csv(fair["2"]),
        "3": writing.ods(title["3"], fair["3"]),
        "4": writing.delimited(fair["4"], "\t", "utf-8", ("Stock no", "Description", "Ticket price")),
        "5": writing.typed(title["5"], fair["5"], "utf-8", dotted=True),
        "6": writing.xls(fair["6"]),
        "7": writing.as_json(title["7"], fair["7"]),
        "8": writing.plain_xlsx(fair["8"], WRONG_STAND[1]),
        "9": writing.delimited(fair["9"], ",", "utf-8-sig", ("Ref", "Label", "Price")),
        "10": writing.two_line_xlsx(title["10"], fair["10"]),
        "11": writing.json_lines(fair["11"]),
        "12": writing.delimited(fair["12"], ",", "utf-16", ("no", "what it is", "price")),
        "13": writing.typed(title["13"], fair["13"], "cp1252", dotted=False),
    }
    return {STANDS[stand][2]: data for stand, data in made.items()}


def tables(draw: random.Random, fair: dict[str, list[Piece]]) -> tuple[dict[str, str], dict[str, list[str]]]:
    """Observations and ballots as JSON Lines, and which objects split, lost their quorum or saw a recusal."""
    rules, _ = load_rulebook("saltmere")
    every = [piece for pieces in fair.values() for piece in pieces]
    twice = {
        f"{p.stand}/{p.number}"
        for p in every
        if sum(q.stand == p.stand and q.number == p.number for q in every) > 1
    }
    single = [piece for piece in every if f"{piece.stand}/{piece.number}" not in twice]
    faulty = [piece for piece in single if piece.fault]
    sound_ones = draw.sample([piece for piece in single if not piece.fault and not piece.sold], SOUND_BALLOTS)
    relabel = [piece for piece in faulty if piece.fault and piece.fault["outcome"] == "relabel"]
    split = {
        id(piece) for piece in draw.sample([p for p in relabel if len(forms.panel(p.stand)) == 5], SPLITS)
    }
    looks: list[dict] = []
    first: list[dict] = []
    second: list[dict] = []
    again: list[dict] = []
    for piece in faulty:
        looks += forms.observations(piece, len(looks) + 1)
    for at, piece in enumerate(sound_ones):
        looks.append(forms.sound_look(draw, piece, f"look-s{at:02d}"))
    for piece in faulty + sound_ones:
        sides, years = _claims(piece, rules.conventions)
        first += forms.ballots(draw, piece, sides, years, id(piece) in split)
        if id(piece) in split:
            second += forms.second_round(draw, piece, sides, years)
        else:  # wanted where the rule book asks for a second view; a chance of its own keeps the rest as it was
            again += forms.second_round(random.Random(_name(piece)), piece, sides, years)
    told = {"split_in_round_1": [_name(p) for p in faulty if id(p) in split]}
    first, told["no_quorum"], told["recusals"] = _recusals(first, sound_ones)
    again = [line for line in again if f"{line['object']} {line['person']}" not in told["recusals"]]
    seen = {line["object"] for line in first}
    passes = [
        {"object": _name(piece), "person": person, "pass": True}
        for piece in single
        if _name(piece) not in seen
        for person in forms.panel(piece.stand)
    ]
    told["not_seen"] = sorted(twice)
    files = {
        "observations": looks,
        "ballots-1": first,
        "ballots-2": second,
        "ballots-again": again,
        "passes": passes,
    }
    return {f"{name}.jsonl": "".join(_line(line) for line in lines) for name, lines in files.items()}, told


def _line(content: dict) -> str:
    return json.dumps(content, ensure_ascii=False) + "\n"


def _name(piece: Piece) -> str:
    return f"{piece.stand}/{piece.number}"


def hung(piece: Piece) -> str:
    """The label's words as a reader will put them together from the list's columns."""
    parts = piece.parts
    if "typed" in parts:
        return f"{parts['what']}. {parts['place']}. {parts['typed']}. {parts['role'].capitalize()} {parts['cm']} cm"
    if piece.stand == "1" and piece.fault is None:
        return f"{parts['what']}. {parts['place']}. {parts['date']}. {parts['role'].capitalize()} {parts['cm']} cm"
    return piece.says


def _claims(piece: Piece, conventions) -> tuple[list[str], tuple[int, int]]:
    found = read(hung(piece), words=english(), conventions=conventions)
    said = {claim.side for claim in found.claims}
    fault = piece.fault or {}
    wanted = dict.fromkeys(["object", "date", "material", *([fault["side"]] if fault else [])])
    sides = [side for side in wanted if side.partition(":")[0] in said]
    if fault and fault["side"] not in sides and (fault.get("instead") or fault["side"] == "date"):
        sides.append(f"{forms.UNSAID}{fault['side']}")
    if piece.fault:
        first, last = piece.fault["years"].split("-")
        return sides, (int(first), int(last))
    years = found.years
    return sides, (years.earliest or 1700, years.latest or years.earliest or 1900)


def _recusals(first: list[dict], sound_ones: list[Piece]) -> tuple[list[dict], list[str], list[str]]:
    """One member steps back from one piece; on another so many step back that no quorum is left."""
    lone = next(_name(p) for p in sound_ones if p.stand == "6")
    lost = next(_name(p) for p in sound_ones if p.stand == "9")
    away = {(lone, "p3"), (lost, "p9"), (lost, "p6")}
    changed = [
        {"object": line["object"], "person": line["person"], "round": 1, "recused": True}
        if (line["object"], line["person"]) in away
        else line
        for line in first
    ]
    return changed, [lost], sorted(f"{name} {person}" for name, person in away)


def answers(fair: dict[str, list[Piece]], told: dict[str, list[str]]) -> str:
    """The sample's own answer sheet."""
    lines = [
        "# What was seeded in this sample: one table for each faulty label; every other label is meant to be sound.",
        "# found: \"paper\" when the label alone shows it, \"table\" when only the object does. All of it is invented.",
        "", "[fair]", f"objects = {sum(map(len, fair.values()))}", f"faulty = {sum(bool(p.fault) for ps in fair.values() for p in ps)}",
        "", "[lists]", f'objects_per_stand = {PER_STAND}', f'wrong_stand = {{ stand = "{WRONG_STAND[0]}", says = "{WRONG_STAND[1]}" }}',
        f"coloured_rows = {json.dumps([_name(p) for p in fair['1'] if p.sold])}",
        f"years_put_back = {json.dumps({_name(p): p.parts['typed'] for p in fair['1'] if 'typed' in p.parts}).replace(': ', ' = ')}",
        f"numbers_twice = {json.dumps(told.pop('not_seen'))}", "", "[tables]",
    ]  # fmt: skip
    lines += [f"{key} = {json.dumps(value)}" for key, value in told.items()]
    for pieces in fair.values():
        for piece in pieces:
            if piece.fault:
                lines += ["", "[[object]]", f'stand = "{piece.stand}"', f'number = "{piece.number}"']
                lines += [
                    f"{key} = {_toml(key, piece.fault[key])}"
                    for key in ("fault", "severity", "found", "outcome", "reason")
                ]
    return "\n".join(lines) + "\n"


def _toml(key: str, value: str) -> str:
    return value if key == "severity" else json.dumps(value, ensure_ascii=False)


PEOPLE = """\
# Nine specialists of the Saltmere Autumn Fair and its chair. Every name is invented. `conflicts` are stands.
"""
WHO = (
    ("p1", "Odile Marrowby", ["metalware", "pewter"], ["leader", "member"]), ("p2", "Tobiah Quennelstone", ["metalware", "kitchen"], ["member"]),
    ("p3", "Wenna Tarbrook", ["metalware", "pewter", "garden"], ["member"]), ("p4", "Lucian Fosterwick", ["pewter", "kitchen"], ["member"]),
    ("p5", "Ingrith Saxelbury", ["metalware", "garden", "kitchen"], ["member"]), ("p6", "Barnaby Oxenquill", ["clocks", "metalware"], ["leader", "member"]),
    ("p7", "Perpetua Lanyard", ["ceramics", "glass"], ["member"]), ("p8", "Casimir Ploughwright", ["silver", "metalware"], ["member"]),
    ("p9", "Thessaly Grimshott", ["ceramics", "silver", "clocks"], ["member"]), ("chair", "Hesper Vanbrigg", ["metalware"], ["chair"]),
)  # fmt: skip


def people() -> str:
    """people.toml: persons, their fields, conflicts, and the two panels."""
    text = PEOPLE
    for who, name, fields, roles in WHO:
        text += f'\n[[person]]\nid = "{who}"\nname = "{name}"\ndisciplines = {json.dumps(fields)}\nroles = {json.dumps(roles)}\n'
        if who in forms.CONFLICTS:
            text += f"conflicts = {json.dumps(forms.CONFLICTS[who])}\n"
    metal = ["metalware", "pewter", "kitchen", "garden", "lighting", "arms", "sculpture"]
    mixed = ["clocks", "ceramics", "silver", "glass", "jewellery", "furniture"]
    for name, members, fields in (("metal", forms.METAL, metal), ("mixed", forms.MIXED, mixed)):
        text += f'\n[[panel]]\nid = "{name}"\nmembers = {json.dumps(members)}\nleader = "{members[0]}"\ndisciplines = {json.dumps(fields)}\n'
    return text


def stands() -> str:
    """stands.toml: every stand with its exhibitor and the file of its list."""
    text = "# The stands of the fair; the exhibitors are invented.\n"
    for stand, (name, _, file) in STANDS.items():
        text += f'\n[[stand]]\nid = "{stand}"\nexhibitor = {json.dumps(name)}\nlist = "lists/{file}"\n'
    return text


def build(folder: Path) -> None:
    """Write the whole sample into `folder`."""
    draw = random.Random(SEED)
    fair = stock(draw)
    noted, told = tables(draw, fair)
    (folder / "lists").mkdir(parents=True, exist_ok=True)
    (folder / "tables").mkdir(exist_ok=True)
    for name, data in lists(fair).items():
        (folder / "lists" / name).write_bytes(data)
    for name, text in noted.items():
        (folder / "tables" / name).write_text(text, encoding="utf-8")
    (folder / "people.toml").write_text(people(), encoding="utf-8")
    (folder / "stands.toml").write_text(stands(), encoding="utf-8")
    (folder / "answers.toml").write_text(answers(fair, told), encoding="utf-8")


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "saltmere")
