"""The word tables as data: what a group says of all its words is one plain word or phrase, for screens print it."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

import pytest

from planish.facts.words import english

GROUPS = [
    (name, group)
    for name, table in english().tables.items()
    for group in (table.get("group", ()) if hasattr(table, "get") else ())
]


@pytest.mark.parametrize("key", ["kind", "side", "measured"])
def test_what_a_group_says_of_its_words_is_one_plain_phrase(key: str) -> None:
    assert len(GROUPS) > 40
    strange = [
        (name, group[key])
        for name, group in GROUPS
        if not group.get(key, "a").replace(" ", "").replace("_", "").isalpha()
    ]
    assert strange == []


def test_no_word_is_left_empty_by_a_list_of_spellings() -> None:
    empty = [
        (name, line)
        for name, group in GROUPS
        for line in group["words"]
        if not all(word.strip() for word in line.split("|"))
    ]
    assert empty == []


def _lists(table: object) -> Iterator[Sequence[str]]:
    if isinstance(table, Mapping):
        for value in table.values():
            yield from _lists(value)
    elif isinstance(table, Sequence) and not isinstance(table, str):
        if all(isinstance(line, str) for line in table):
            yield table
        else:
            for value in table:
                yield from _lists(value)


def test_no_line_stands_twice_in_one_list() -> None:
    """Two people who add the same word end up with it twice, and the second one changes nothing when it is mended."""
    lists = [(name, lines) for name, table in english().tables.items() for lines in _lists(table)]
    assert len(lists) > 200
    assert [(name, line) for name, lines in lists for line, n in Counter(lines).items() if n > 1] == []
