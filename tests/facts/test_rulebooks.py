"""Rule books are data that says what is wrong with itself, and two of them can be compared."""

from pathlib import Path

import pytest

from planish.facts.rulebooks import compare, load_rulebook, rulebook_ids, rulebook_of


def test_every_rule_book_on_file_is_read_without_a_problem() -> None:
    assert {name: load_rulebook(name)[1] for name in rulebook_ids()} == {"fennhithe": (), "saltmere": ()}


def test_every_voting_rule_of_the_sample_fair_carries_a_clause_that_exists() -> None:
    book, _ = load_rulebook("saltmere")
    numbers = {clause.number for clause in book.clauses}
    assert {name: n for name, n in book.voting.clauses.items() if n not in numbers} == {}


def test_a_rolling_dateline_counts_back_from_the_year_of_the_fair() -> None:
    book, _ = load_rulebook("fennhithe")
    assert (book.datelines["furniture"], book.datelines["default"]) == (2026 - 100, 2026 - 75)


def test_a_rule_book_can_be_read_from_a_path(tmp_path: Path) -> None:
    path = tmp_path / "ours.toml"
    path.write_text('id = "ours"\nfair = "Our Fair"\nversion = "1"\n[datelines]\nmetalware = 1900\n', "utf-8")
    book, problems = load_rulebook(path)
    assert (book.fair, book.datelines["metalware"], problems) == ("Our Fair", 1900, ())


def test_comparing_a_book_with_itself_finds_nothing() -> None:
    book, _ = load_rulebook("saltmere")
    assert compare(book, book) == ()


def test_comparing_two_books_names_the_clauses_and_switches_that_differ() -> None:
    left, right = load_rulebook("saltmere")[0], load_rulebook("fennhithe")[0]
    found = {d.what: (d.left, d.right) for d in compare(left, right)}
    assert found["dateline metalware"] == ("1950", "1951")
    assert found["voting doubt_removes"] == ("no", "yes")
    assert found["switch appeal_minutes"] == ("60", "90")
    assert found["clause 2.3"][0] == ""
    assert "clause 3.1" not in found


BASE = {"id": "x", "fair": "X", "version": "1"}


@pytest.mark.parametrize(
    ("table", "code"),
    [
        ({"fair": "X", "version": "1"}, "rulebook.no_id"),
        ({**BASE, "clauses": []}, "rulebook.unknown_key"),
        ({**BASE, "clause": [{"number": "1", "text": ""}]}, "rulebook.clause_incomplete"),
        (
            {**BASE, "clause": [{"number": "1", "text": "a"}, {"number": "1", "text": "b"}]},
            "rulebook.clause_twice",
        ),
        ({**BASE, "clause": [{"number": "1", "text": "a", "check": "smell"}]}, "rulebook.bad_check"),
        ({**BASE, "clause": [{"number": "1", "text": "a", "severity": 9}]}, "rulebook.bad_severity"),
        ({**BASE, "datelines": {"metalware": "old"}}, "rulebook.bad_dateline"),
        ({**BASE, "conventions": {"circa": 5}}, "rulebook.unknown_key"),
        ({**BASE, "voting": {"quorum": "three"}}, "rulebook.bad_value"),
    ],
)
def test_each_mistake_in_a_rule_book_is_named(table: dict[str, object], code: str) -> None:
    _, problems = rulebook_of(table, "x.toml")
    assert [p.code for p in problems] == [code]


@pytest.mark.parametrize("text", ["id = ", "\x00", "[[clause]]\nnumber = 1 1"])
def test_a_file_that_is_no_rule_book_gives_a_problem_and_no_traceback(tmp_path: Path, text: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(text, "utf-8")
    _, problems = load_rulebook(path)
    assert [p.code for p in problems] == ["rulebook.unreadable"]


def test_a_missing_rule_book_names_those_on_file() -> None:
    _, problems = load_rulebook("nowhere/at-all.toml")
    assert "saltmere" in problems[0].remedy
