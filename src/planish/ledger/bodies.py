"""Records of the shared nouns as event bodies, and back. Reading forgives fields that were deleted since."""

from collections.abc import Mapping
from typing import Any

from planish.ledger.upcasting import Happened
from planish.records.frozen import freeze
from planish.records.objects import Label, LabelStage, ListedObject, RawRow
from planish.records.observations import Observation, Quantity


def listed_body(listed: ListedObject) -> dict[str, Any]:
    """The body of `object.listed` for a listed object; its id is the event's `sub`."""
    body: dict[str, Any] = {"stand": listed.stand, "number": listed.number, "content": listed.content}
    body |= {"text": listed.text, "fields": dict(listed.fields), "price": listed.price}
    if listed.raw is not None:
        raw = listed.raw
        body["raw"] = {"file": raw.file, "sheet": raw.sheet, "row": raw.row, "cells": dict(raw.cells)}
        body["raw"]["file_digest"] = raw.file_digest
    return body


def listed_object(sub: str, body: Mapping[str, Any]) -> ListedObject:
    """The listed object of a body of `object.listed` or `object.unlisted`."""
    raw = body.get("raw")
    return ListedObject(
        id=sub,
        stand=body.get("stand", ""),
        number=body.get("number", ""),
        text=body.get("text", ""),
        fields=freeze(_named(body.get("fields"))),
        price=body.get("price", ""),
        content=body.get("content", ""),
        raw=_raw_row(raw),
    )


def _named(value: Any) -> dict[str, Any]:
    """A set of named values; another device may have put something else behind a commitment."""
    return value if isinstance(value, dict) else {}


def _raw_row(value: Any) -> RawRow | None:
    known = _named(value)
    if not known:
        return None
    words = {name: str(known.get(name, "")) for name in ("file", "sheet", "file_digest")}
    row = known.get("row", 0)
    return RawRow(**words, row=row if isinstance(row, int) else 0, cells=freeze(_named(known.get("cells"))))


def observation_body(observation: Observation) -> dict[str, Any]:
    """The body of `observation.made`, or of `observation.corrected` when it corrects one."""
    seen = observation
    body: dict[str, Any] = {"kind": seen.kind, "part": seen.part, "terms": [*seen.terms], "about": seen.about}
    body["values"] = {name: [q.amount, q.unit, q.uncertainty] for name, q in seen.values.items()}
    body |= {"words": seen.words, "instrument": seen.instrument, "spot": seen.spot, "surface": seen.surface}
    body |= {"original": seen.original, "corrects": seen.corrects, "more": _plain(seen.more)}
    return {name: value for name, value in body.items() if value not in ("", None, [], {}) or name == "kind"}


def _plain(value: Any) -> Any:
    """Frozen mappings as JSON can hold them, all the way down."""
    if isinstance(value, Mapping):
        return {name: _plain(one) for name, one in value.items()}
    return value


def observation(event: Happened) -> Observation:
    """The observation of an event; its id is the event's id."""
    body = event.body
    return Observation(
        id=event.id,
        object_id=event.sub,
        kind=body.get("kind", ""),
        by=event.who,
        part=body.get("part", ""),
        values=freeze({name: Quantity(*value) for name, value in body.get("values", {}).items()}),
        words=body.get("words", ""),
        terms=tuple(body.get("terms", ())),
        instrument=body.get("instrument", ""),
        spot=body.get("spot", ""),
        surface=body.get("surface", ""),
        about=body.get("about", ""),
        original=body.get("original"),
        corrects=body.get("corrects", ""),
        more=freeze(_named(body.get("more"))),
    )


def label(event: Happened, stage: LabelStage) -> Label:
    """The label version an event speaks of."""
    body = event.body
    return Label(
        object_id=event.sub,
        version=body.get("version", 0),
        text=body.get("text", ""),
        stage=stage,
        price=body.get("price", ""),
        language=body.get("language", "en"),
    )
