"""The word tables as data: what a group says of all its words is one plain word or phrase, for screens print it."""

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
