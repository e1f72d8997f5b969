"""The desk fetches nothing that anybody names: addresses in every field, and not one connection is tried."""

import socket
from typing import Any

import pytest

from tests.web.fairs import API, Served

ADDRESS = "http://198.51.100.7/x"  # RFC 5737: documentation addresses, which nobody has


def test_an_address_in_any_field_is_words(fair: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[Any] = []

    def connect(_: socket.socket, address: Any) -> None:
        tried.append(address)
        raise OSError("no line in this test")

    def resolve(*asked: Any, **_: Any) -> list[Any]:
        tried.append(asked)
        raise OSError("no names in this test")

    monkeypatch.setattr(socket.socket, "connect", connect)
    monkeypatch.setattr(socket, "getaddrinfo", resolve)
    chair, own = fair["chair"], fair["stand 7"]
    chair.post(f"{API}/stands", json={"id": "9", "number": ADDRESS, "exhibitor": ADDRESS})
    chair.post(f"{API}/people", json={"id": "new", "name": ADDRESS})
    fair.take("office", "8", f'No,Description,Price,Picture\n1,"Kettle {ADDRESS}",{ADDRESS},{ADDRESS}\n')
    for who in ("member", "chair"):
        look = {"kind": "wear", "words": ADDRESS, "instrument": ADDRESS, "more": {"registered": ADDRESS}}
        assert fair[who].post(f"{API}/objects/7-001/observations", json=look).status_code == 201
    chair.post(f"{API}/objects/7-001/questions", json={"to": "office", "words": ADDRESS})
    own.post(f"{API}/counter/objects/7-001/papers", json={"sort": "bill", "words": ADDRESS})
    own.post(f"{API}/counter/try", json={"text": ADDRESS})
    own.put(f"{API}/counter/objects/7-003/label", json={"text": f"Mortar, see {ADDRESS}", "version": 1})
    for path in (
        "objects/7-001",
        "board",
        "search?q=http",
        "papers/labels.pdf",
        "papers/sheets.pdf",
        "facts?words=http",
    ):
        assert chair.get(f"{API}/{path}").status_code == 200, path
    assert tried == []
    with pytest.raises(OSError, match="no names"):
        socket.create_connection(("198.51.100.7", 80))
    assert tried, "the spy would have seen it"
