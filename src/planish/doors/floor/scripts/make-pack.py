"""Writes src/hall/object/pack.ts: the condition words and the looks of the metal pack, for forms that work offline.

Run from the repository's root: python src/planish/doors/floor/scripts/make-pack.py; tests/floor holds the file against the pack.
"""

import json
import tomllib
from pathlib import Path

HERE = Path(__file__).parents[1]
PACK = HERE.parents[1] / "packs" / "discipline" / "metalware"
TARGET = HERE / "src" / "hall" / "object" / "pack.ts"


def made() -> str:
    """The file's text."""
    facts = tomllib.loads((PACK / "condition.toml").read_text(encoding="utf-8"))["fact"]
    looks = tomllib.loads((PACK / "looks.toml").read_text(encoding="utf-8"))["look"]
    condition = [{"term": one["more"]["term"], "looks": one["more"]["looks_like"]} for one in facts]
    ways = [
        {
            "say": one["sentence"],
            "about": one["event"],
            "finds": [find["words"] for find in one["finds"]],
            "caution": one.get("caution", ""),
        }
        for one in looks
    ]
    lines = ["// Made by scripts/make-pack.py from the metal pack; not written by hand."]
    lines.append("export const CONDITION: readonly { term: string; looks: string }[] = [")
    lines += [f"  {json.dumps(one, ensure_ascii=False)}," for one in condition]
    lines.append("];")
    lines.append(
        "export const LOOKS: readonly { say: string; about: string; finds: string[]; caution: string }[] = ["
    )
    lines += [f"  {json.dumps(one, ensure_ascii=False)}," for one in ways]
    lines.append("];")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    TARGET.write_text(made(), encoding="utf-8")
