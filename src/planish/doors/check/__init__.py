"""The check page: anybody's phone, no account, no network once opened. Plain JavaScript, no build.

Holds: `seal.js` (strict reading of seals and lists, the same rules as `ledger.sealing`), `words.js` (difference by word,
qualifiers), `page.js`, `page.html`, `page.css`, `worker.js` (keeps the page on the phone), `third_party` (a reader of square
codes for browsers that have none of their own). Start with `page.html`.

    served(about)       path -> (media type, bytes), for the web door; send `policy()` as Content-Security-Policy
    single_file(about)  the whole page as one HTML file to put on a stick, mail or print a link to
"""

import hashlib
import html
import json
import re
from base64 import b64encode, urlsafe_b64encode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from importlib.resources import files

READER = "zxing_reader"
PANEL = (
    "A panel of specialists of this fair looked at the object before the fair opened and passed these words as its "
    "description, under the fair’s rules, on that day. It did not value the object, did not take it apart, and does not "
    "answer for what happened to the object or its label since. The description is the seller’s promise and belongs on "
    "the invoice."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FairOnPage:
    """One fair whose seals the page can check: its public key, its definitions, its signed list of withdrawn seals."""

    name: str
    id: str
    ed25519: str
    definitions: Mapping[str, str] = field(default_factory=dict)
    withdrawn: bytes = b""
    panel: str = PANEL


def settings(
    fairs: Sequence[FairOnPage], seals: Mapping[str, bytes], *, online: str, worker: str, reader: str = ""
) -> str:
    """The page's data as JSON that cannot end its own element."""
    said = {
        "fairs": [
            {
                "name": fair.name,
                "id": fair.id,
                "ed25519": fair.ed25519,
                "definitions": dict(fair.definitions),
                "list": _folded(fair.withdrawn),
                "panel": fair.panel,
            }
            for fair in fairs
        ],
        "seals": {code: _folded(sealed) for code, sealed in seals.items()},
        "online": online,
        "worker": worker,
        "reader": reader,
    }
    text = json.dumps(said, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def _folded(data: bytes) -> str:
    return urlsafe_b64encode(data).rstrip(b"=").decode("ascii")


def _text(name: str) -> str:
    return (files(__name__) / name).read_text(encoding="utf-8")


def _reader() -> dict[str, tuple[str, bytes]]:
    """The reader of codes, for browsers without one: script and WebAssembly."""
    place = files(__name__) / "third_party"
    kinds = {f"{READER}.js": "text/javascript; charset=utf-8", f"{READER}.wasm": "application/wasm"}
    return {name: (kind, (place / name).read_bytes()) for name, kind in kinds.items()}


def _page(fairs: Sequence[FairOnPage], **parts: str) -> str:
    names = ", ".join(fair.name for fair in fairs) or "no fair"
    fields = {"name": html.escape(names), **parts}
    return re.sub(r"\{\{(\w+)\}\}", lambda found: fields[found[1]], _text("page.html"))


def policy(
    *, script: str = "'self' 'wasm-unsafe-eval'", style: str = "'self'", connect: str = "'self'"
) -> str:
    """The Content-Security-Policy: nothing but the page's own files, no frame, no form, no other host.

    `wasm-unsafe-eval` lets the served page start the reader of codes; it allows no script from text.
    """
    return (
        f"default-src 'none'; script-src {script}; style-src {style}; connect-src {connect}; img-src 'self' blob:; "
        f"media-src 'self' blob:; worker-src {connect}; base-uri 'none'; form-action 'none'"
    )


def served(
    fairs: Sequence[FairOnPage], seals: Mapping[str, bytes] | None = None, *, online: str = "state/"
) -> dict[str, tuple[str, bytes]]:
    """The page as files below one address. `online` + SHA-256 (hex) of a seal answers {"state": …} where a desk serves it."""
    page = _page(
        fairs,
        policy="",
        style='<link rel="stylesheet" href="page.css">',
        script='<script type="module" src="page.js"></script>',
        settings=settings(fairs, seals or {}, online=online, worker="worker.js", reader=f"./{READER}"),
        online_note=", but for questions to the fair: which seal has this check code, does it still stand"
        if online
        else "",
    )
    made = {"": ("text/html; charset=utf-8", page.encode())}
    for name in ("seal.js", "words.js", "page.js"):
        made[name] = ("text/javascript; charset=utf-8", _text(name).encode())
    made["page.css"] = ("text/css; charset=utf-8", _text("page.css").encode())
    made |= _reader()
    version = hashlib.sha256(b"".join(body for _, body in made.values())).hexdigest()[:16]
    worker = _text("worker.js").replace("{{version}}", f"check-{version}")
    return {**made, "worker.js": ("text/javascript; charset=utf-8", worker.encode())}


def single_file(fairs: Sequence[FairOnPage], seals: Mapping[str, bytes] | None = None) -> str:
    """The page as one HTML file that asks nobody for anything. Its policy allows exactly its own script and style."""
    script = "\n".join(_plain_script(_text(name)) for name in ("seal.js", "words.js", "page.js"))
    style = _text("page.css")
    allowed = policy(script=_hash(script), style=_hash(style), connect="'none'")
    return _page(
        fairs,
        policy=f'<meta http-equiv="Content-Security-Policy" content="{allowed}">',
        style=f"<style>{style}</style>",
        script=f'<script type="module">{script}</script>',
        settings=settings(fairs, seals or {}, online="", worker=""),
        online_note="",
    )


def _plain_script(text: str) -> str:
    """A module without its imports and exports: all three stand in one script."""
    return re.sub(r"^export ", "", re.sub(r"^import .*\n", "", text, flags=re.MULTILINE), flags=re.MULTILINE)


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(hashlib.sha256(text.encode()).digest()).decode('ascii')}'"
