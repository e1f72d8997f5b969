"""Was it made early enough? The claimed years against the discipline's dateline."""

from collections.abc import Iterator

from planish.reasoning.admitting.paper import Paper, broken, cannot_tell, making_dates, met
from planish.records import Claim, Clause, ClauseAnswer, RuleBook, Years


def check_dateline(clause: Clause, paper: Paper) -> Iterator[ClauseAnswer]:
    """One answer, with the share of the claimed years on the wrong side, every year counted alike."""
    line = dateline_of(paper.rules, paper.discipline)
    if line is None:
        yield met(clause, f"The rule book draws no dateline for {paper.discipline}.")
        return
    years = paper.reading.years
    made = [claim for claim, _ in making_dates(paper)]
    claims = made or [*paper.side("date")]  # "cast c.1910" is a making too
    if not claims or (years.earliest is None and years.latest is None):
        yield cannot_tell(clause, f"The label gives no date of making to hold against the dateline {line}.", "date.missing",
                          remedy="Give a date, or circa and a date.")  # fmt: skip
    elif _contemporary(paper.rules, years):
        section = paper.rules.switches.get("contemporary_clause", "")
        yield met(
            clause,
            f"Made in {years.earliest} or later: it belongs in the contemporary section (clause {section}).",
        )
    else:
        yield _held_against(clause, paper, years, line, claims)


def dateline_of(rules: RuleBook, discipline: str) -> int | None:
    """Last admitted year of making for `discipline`; None when the book draws no line there."""
    return rules.datelines.get(discipline, rules.datelines.get("default"))


def wrong_share(years: Years, line: int) -> float | None:
    """Share (0..1) of `years` after `line`; None when an open end leaves it unsaid."""
    if years.earliest is not None and years.earliest > line:
        return 1.0
    if years.latest is not None and years.latest <= line:
        return 0.0
    if years.earliest is None or years.latest is None:
        return None
    return (years.latest - line) / (years.latest - years.earliest + 1)


def _contemporary(rules: RuleBook, years: Years) -> bool:
    start = rules.switches.get("contemporary_from")
    return (
        bool(rules.switches.get("contemporary_section"))
        and isinstance(start, int)
        and years.earliest is not None
        and years.earliest >= start
    )


def _held_against(clause: Clause, paper: Paper, years: Years, line: int, claims: list[Claim]) -> ClauseAnswer:
    share = wrong_share(years, line)
    said = f"The claimed years {_span(years)} against the dateline {line} for {paper.discipline}"
    if share is None:
        return cannot_tell(clause, f"{said}: one end is open.", "date.open", claims=claims,
                           remedy="Say the latest year that the object can be.")  # fmt: skip
    end = str(paper.rules.switches.get("dateline_end", "latest"))
    limit = paper.rules.switches.get("dateline_share", 1.0)
    late = _too_late(share, end, float(limit) if isinstance(limit, int | float) else 1.0)
    counted = f"{said}: {share:.0%} of them lie after it (the rule book counts the {end})."
    if late:
        return broken(clause, counted, "date.after_dateline", claims=claims, wrong_side=share,
                      remedy="Show why it is earlier, or leave it at home.")  # fmt: skip
    if share > 0:
        return cannot_tell(clause, counted, "date.across_dateline", claims=claims, wrong_side=share,
                           remedy="Narrow the date.")  # fmt: skip
    return met(clause, f"{said}: all of them lie before it.", wrong_side=share)


def _too_late(share: float, end: str, limit: float) -> bool:
    if share >= 1.0:
        return True
    if end == "latest":
        return share > 0
    return end == "share" and share >= limit


def _span(years: Years) -> str:
    if years.earliest == years.latest:
        return str(years.earliest)
    return (
        f"{'…' if years.earliest is None else years.earliest}–{'…' if years.latest is None else years.latest}"
    )
