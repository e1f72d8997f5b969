"""The same list again changes nothing; a changed one says what changed; new numbers are asked about."""

from planish.doors.papers.lists import compare_lists, read_list
from planish.records import FieldChange

OLD = [
    ("A1", "Pewter flagon, English, c.1720", "£450"),
    ("A2", "Brass candlestick with square base, c.1760", "£280"),
    ("A3", "Copper kettle, Dutch, 18th century", "£190"),
]


def taken(rows):
    return read_list(
        ("No;Description;Price\r\n" + "".join(f"{n};{t};{p}\r\n" for n, t, p in rows)).encode(), "a.csv"
    )


def compare(rows):
    return compare_lists(taken(OLD).objects, taken(rows))


def test_the_same_list_again_changes_nothing() -> None:
    change = compare(OLD)
    assert change.nothing
    assert change.same == 3


def test_rows_in_another_order_change_nothing() -> None:
    assert compare(OLD[::-1]).nothing


def test_a_changed_row_is_listed_field_by_field() -> None:
    change = compare([("A1", "Pewter flagon, English, c.1740", "£400"), *OLD[1:]])
    assert [update.changes for update in change.updated] == [
        (
            FieldChange(field="text", before=OLD[0][1], after="Pewter flagon, English, c.1740"),
            FieldChange(field="price", before="£450", after="£400"),
        )
    ]
    assert (change.added, change.removed, change.questions, change.same) == ((), (), (), 2)


def test_rows_gone_and_rows_new_are_listed() -> None:
    change = compare([*OLD[:2], ("A9", "Wrought-iron toaster with revolving head", "£90")])
    assert [o.number for o in change.removed] == ["A3"]
    assert [o.number for o in change.added] == ["A9"]
    assert change.questions == ()


def test_stock_with_new_numbers_is_asked_about_and_never_applied() -> None:
    change = compare([(f"B{n}", text, price) for n, (_, text, price) in enumerate(OLD)])
    assert [(q.kind, q.old.number, q.new.number, q.likeness) for q in change.questions] == [
        ("renumbered", "A1", "B0", 1.0), ("renumbered", "A2", "B1", 1.0), ("renumbered", "A3", "B2", 1.0),
    ]  # fmt: skip
    assert (change.updated, change.added, change.removed) == ((), (), ())


def test_a_new_number_with_nearly_the_same_words_is_asked_about() -> None:
    change = compare([*OLD[:2], ("Z7", "Copper kettle, Dutch, late 18th century", "£190")])
    assert [(q.old.number, q.new.number) for q in change.questions] == [("A3", "Z7")]
    assert 0.88 <= change.questions[0].likeness < 1


def test_numbers_that_changed_places_are_asked_about() -> None:
    change = compare([("A2", *OLD[0][1:]), ("A1", *OLD[1][1:]), OLD[2]])
    assert sorted((q.old.number, q.new.number) for q in change.questions) == [("A1", "A2"), ("A2", "A1")]
    assert change.updated == ()


def test_another_object_under_an_old_number_is_asked_about() -> None:
    change = compare([("A1", "Tin candle box, painted", "£45"), *OLD[1:]])
    assert [q.kind for q in change.questions] == ["same_number_other_words"]


def test_two_objects_with_one_number_do_not_change_places_on_a_second_reading() -> None:
    rows = [("7", "Pewter plate", "£5"), ("7", "Brass pan", "£6")]
    assert compare_lists(taken(rows).objects, taken(rows[::-1])).nothing
