"""The table of looks a specialist can take, read from the pack of a discipline."""

from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from planish.facts.loading import read_table
from planish.reasoning.weighing import Found, Look
from planish.records import Problem, Years


def looks_for(discipline: str = "metalware") -> tuple[tuple[Look, ...], tuple[Problem, ...]]:
    """Looks of a discipline with minutes and finds; none when the pack has no table. An unreadable entry is a Problem."""
    path = files("planish") / "packs" / "discipline" / discipline / "looks.toml"
    if not path.is_file():
        return (), ()
    table, problems = read_table(path)
    looks: list[Look] = []
    bad = list(problems)
    for row in table.get("look", ()):
        try:
            looks.append(look_from(row))
        except (KeyError, TypeError, ValueError) as error:
            bad.append(
                Problem(
                    where=f"looks of {discipline}, {row.get('id', 'an entry without id')}",
                    what=f"This look cannot be read: {error}.",
                    remedy="Give id, sentence, minutes and two or more finds with windows or a curve.",
                    code="look.unread",
                )
            )
    return tuple(looks), tuple(bad)


def look_from(row: Mapping[str, Any]) -> Look:
    """One look from its table. Raises KeyError, TypeError or ValueError when something is missing."""
    return Look(
        id=row["id"],
        sentence=row["sentence"],
        minutes=float(row["minutes"]),
        finds=tuple(_found(find) for find in row["finds"]),
        part=row.get("part", ""),
        event=row.get("event", "body_made"),
        binding=bool(row.get("binding", False)),
        doubt=float(row.get("doubt", 0.05)),
        caution=row.get("caution", ""),
        basis=row.get("basis", ""),
    )


def _found(row: Mapping[str, Any]) -> Found:
    return Found(
        words=row["words"],
        windows=tuple(Years(*span) for span in row.get("windows", ())),
        curve=tuple((int(year), float(height)) for year, height in row.get("curve", ())),
    )
