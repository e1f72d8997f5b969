"""A small case file (TOML) in, a case to weigh out: for a specialist who wants to play "what if". See docs/weighing.md."""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, TypeVar, get_args

from planish.doors.papers.ribbon import Opinion
from planish.reasoning.weighing import DOUBTS, Case, CasePart, DatedClaim, Settings, doubt_for_strength
from planish.reasoning.weighing.densities import flat_top
from planish.reasoning.weighing.marks import used_curve
from planish.records import Event, EvidenceItem, Problem, Years, freeze

T = TypeVar("T")

EVENTS = frozenset(get_args(Event))
_EVENT_WORDS = {"made": "body_made", "mark": "mark_struck", "finish": "finish_applied", "repaired": "repair"}
_ITEM_KEYS = frozenset(
    [
        "id",
        "says",
        "years",
        "windows",
        "from",
        "to",
        "curve",
        "examples",
        "confidence",
        "part",
        "event",
        "doubt",
        "kind",
        "strength",
        "instrument",
        "binding",
        "hard",
        "group",
        "within_group",
        "source",
    ]
)
_CURVE_FIRST, _CURVE_LAST = 1400, 2030


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseFile:
    """What a case file held. `problems` of severity 1 or 2 mean that something could not be used."""

    case: Case
    settings: Settings
    opinions: tuple[Opinion, ...] = ()
    problems: tuple[Problem, ...] = ()


def read_case(text: str, name: str = "case file") -> CaseFile:
    """Read a case file. Never raises: what cannot be used becomes a Problem that says where and how to mend it."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        what = f"The file is not sound TOML: {error}."
        problem = _problem(name, what, "Mend the line named; docs/weighing.md shows a whole file.")
        return CaseFile(case=Case(), settings=Settings(), problems=(problem,))
    problems: list[Problem] = []
    items = _each(table, "item", _item, name, problems)
    sources = {
        row["id"]: str(row["source"]) for row in _rows(table, "item") if "source" in row and "id" in row
    }
    case = Case(
        id=str(table.get("id", name)),
        title=str(table.get("title", "")),
        claims=tuple(_each(table, "claim", _claim, name, problems)) + _read_from_label(table),
        items=tuple(items),
        parts=tuple(_each(table, "part", _part, name, problems)),
        sources=freeze(sources),
        looked=tuple(str(look) for look in table.get("looked", ())),
    )
    if case.main_claim is None:
        what = "No claim about the making of the whole was found."
        problems.append(_problem(name, what, 'Add [[claim]] with words and years, or label = "...".'))
    settings = _settings(table, name, problems)
    opinions = tuple(_each(table, "opinion", _opinion, name, problems))
    return CaseFile(case=case, settings=settings, opinions=opinions, problems=tuple(problems))


def _problem(where: str, what: str, remedy: str) -> Problem:
    return Problem(where=where, what=what, remedy=remedy, severity=2, code="case.unread")


def _rows(table: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    rows = table.get(key, ())
    return [row for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []


def _each(
    table: Mapping[str, Any],
    key: str,
    read: Callable[[Mapping[str, Any], int], T],
    name: str,
    problems: list[Problem],
) -> list[T]:
    out = []
    for number, row in enumerate(_rows(table, key), start=1):
        try:
            out.append(read(row, number))
        except (KeyError, TypeError, ValueError, OverflowError) as error:
            said = f"{error.args[0]!r} is missing" if isinstance(error, KeyError) else str(error)
            where = f"{name}, {key} {number} ({row.get('id') or row.get('words') or 'no name'})"
            problems.append(
                _problem(where, f"It cannot be used: {said}.", "See docs/weighing.md for its keys.")
            )
    return out


def _read_from_label(table: Mapping[str, Any]) -> tuple[DatedClaim, ...]:
    """Claims of date read from `label = "..."`, by the same reader that reads a stand's list."""
    if not isinstance(table.get("label"), str):
        return ()
    from planish import read_label
    from planish.reasoning.weighing import case_from

    return case_from(read_label(table["label"]).claims, ()).claims


def _claim(row: Mapping[str, Any], number: int) -> DatedClaim:
    return DatedClaim(
        id=str(row.get("id", f"claim {number}")),
        words=str(row["words"]),
        years=_span(row),
        part=str(row.get("part", "")),
        event=_event(row),
        conventions=tuple(str(c) for c in row.get("conventions", ())),
    )


def _part(row: Mapping[str, Any], number: int) -> CasePart:
    del number
    chance = row.get("marriage")
    return CasePart(name=str(row["name"]), marriage_chance=None if chance is None else float(chance))


def _opinion(row: Mapping[str, Any], number: int) -> Opinion:
    del number
    return Opinion(years=_span(row), best=int(row["best"]) if "best" in row else None)


def _event(row: Mapping[str, Any]) -> Event:
    word = str(row.get("event", "part_made" if row.get("part") else "body_made"))
    word = _EVENT_WORDS.get(word, word)
    if word not in EVENTS:
        raise ValueError(f"no event is called {word!r}; there are {', '.join(sorted(EVENTS))}")
    return word  # type: ignore[return-value]


def _span(row: Mapping[str, Any]) -> Years:
    if "years" in row:
        low, high = row["years"]
        return Years(_year(low), _year(high))
    if "from" not in row and "to" not in row:
        raise KeyError("years")
    return Years(
        _year(row["from"]) if "from" in row else None,
        _year(row["to"]) if "to" in row else None,
    )


def _year(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise ValueError(f"{value!r} is no year; write a whole number")
    return value


def _item(row: Mapping[str, Any], number: int) -> EvidenceItem:
    strange = sorted(set(row) - _ITEM_KEYS)
    if strange:
        raise ValueError(f"unknown key {strange[0]!r}")
    windows, curve = _years_of(row)
    item = EvidenceItem(
        id=str(row.get("id", f"item {number}")),
        sentence=str(row["says"]),
        part=str(row.get("part", "")),
        event=_event(row),
        windows=windows,
        curve=curve,
        binding=bool(row.get("binding", False)),
        hard=bool(row.get("hard", False)),
        group=str(row.get("group", "")),
        within_group=float(row.get("within_group", 0.5)),
    )
    return replace(item, doubt=_doubt(row, windows))


def _years_of(row: Mapping[str, Any]) -> tuple[tuple[Years, ...], tuple[tuple[int, float], ...]]:
    if "windows" in row:
        return tuple(Years(_year(low), _year(high)) for low, high in row["windows"]), ()
    if "curve" in row:
        return (), tuple((_year(year), float(height)) for year, height in row["curve"])
    if "examples" in row:
        return (), used_curve([_year(y) for y in row["examples"]])
    if "confidence" in row:
        heights = flat_top(_span(row), float(row["confidence"]), _CURVE_FIRST, _CURVE_LAST)
        return (), tuple((_CURVE_FIRST + i, float(h)) for i, h in enumerate(heights))
    return (_span(row),), ()


def _doubt(row: Mapping[str, Any], windows: tuple[Years, ...]) -> float:
    if "doubt" in row:
        return float(row["doubt"])
    if "kind" in row:
        if row["kind"] not in DOUBTS:
            raise ValueError(f"no kind is called {row['kind']!r}; there are {', '.join(sorted(DOUBTS))}")
        return DOUBTS[row["kind"]]
    if "strength" in row:
        years = {
            y
            for w in windows
            for y in range(
                max(w.earliest or _CURVE_FIRST, _CURVE_FIRST), min(w.latest or _CURVE_LAST, _CURVE_LAST) + 1
            )
        }
        share = len(years) / (_CURVE_LAST - _CURVE_FIRST + 1)
        if row["strength"] not in ("weak", "moderate", "strong") or not years:
            raise ValueError("a strength is weak, moderate or strong, and belongs to windows")
        return doubt_for_strength(row["strength"], share, instrument=bool(row.get("instrument", False)))
    return 0.05


def _settings(table: Mapping[str, Any], name: str, problems: list[Problem]) -> Settings:
    given = table.get("settings", {})
    plain = {f.name: f.default for f in fields(Settings)}
    changes: dict[str, Any] = {}
    for key, value in given.items() if isinstance(given, Mapping) else ():
        where = f"{name}, settings, {key}"
        default = plain.get(key)
        if key not in plain:
            problems.append(
                _problem(where, "There is no such setting.", f"There are {', '.join(sorted(plain))}.")
            )
        elif isinstance(default, tuple):
            try:
                changes[key] = _tuple(key, value)
            except (TypeError, ValueError):
                problems.append(_problem(where, f"{value!r} cannot be used.", "See docs/weighing.md."))
        elif isinstance(value, bool) or not isinstance(
            value, (str if isinstance(default, str) else (int, float))
        ):
            problems.append(_problem(where, f"{value!r} cannot be used.", "Give it a value of its kind."))
        elif isinstance(default, int) and not isinstance(value, int):
            problems.append(_problem(where, f"{value!r} is no whole number.", "Give a whole number."))
        else:
            changes[key] = value
    return replace(Settings(), **changes)


def _tuple(key: str, value: Any) -> tuple[Any, ...]:
    if key == "prior":
        return tuple((_year(year), float(weight)) for year, weight in value)
    return tuple(float(v) for v in value)
