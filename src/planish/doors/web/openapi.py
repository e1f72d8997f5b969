"""The API's description as a file, for the front end's typed client: `python -m planish.doors.web.openapi`."""

import json
import tempfile
from pathlib import Path

from planish.doors.web.app import create_app
from planish.errands.opening.serving import Desk

FILE = Path(__file__).parent / "openapi.json"


def described() -> str:
    """The description as text, the same each time."""
    with tempfile.TemporaryDirectory() as folder:
        app = create_app(Desk(Path(folder)))
        content = app.openapi()
    content["info"]["version"] = "1"
    return json.dumps(content, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


if __name__ == "__main__":
    FILE.write_text(described(), encoding="utf-8")
