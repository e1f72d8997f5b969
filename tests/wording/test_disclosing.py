"""Disclosures: the pack's template said of the part that was found, in trade English (words: common practice, no source)."""

import pytest

from planish.facts.loading import load
from planish.reasoning.wording import disclosure_words

SAID = {
    ("finial replaced (name the part)", "cover"): "the cover replaced",
    ("finial replaced (name the part)", ""): "a part replaced",
    ("associated lid and base (or: made up from old parts)", "lid"): "the lid associated",
    ("associated lid and base (or: made up from old parts)", ""): "made up of associated parts",
    ("later patination, whole or part", ""): "later patination",
    ("later patination, whole or part", "body"): "later patination on the body",
    ("regilded, whole or part", "border"): "the border regilded",
    ("reduced in height (say where)", "foot"): "the foot reduced in height",
    ("plugged hole to base", "foot"): "plugged hole to the foot",
    ("plugged hole to base", "base"): "plugged hole to base",
    ("seam resoldered", "spout"): "seam of the spout resoldered",
    ("interior re-tinned", "interior"): "interior re-tinned",
    ("surface over-polished, detail reduced", "cover"): "surface of the cover over-polished, detail reduced",
    ("old piece, decoration later", ""): "decoration later",
    ("welded repair", "handle"): "welded repair on the handle",
    ("later engraved", "cover"): "the cover later engraved",
    ("do not use this word without a test", "cover"): "",
}


@pytest.mark.parametrize("given", SAID, ids=str)
def test_a_template_is_said_of_the_part_that_was_found(given: tuple[str, str]) -> None:
    assert disclosure_words(*given) == SAID[given]


def test_no_disclosure_of_the_pack_keeps_a_bracket_or_says_its_part_twice() -> None:
    templates = [str(f.more["disclose"]) for f in load("metalware")[0].family("condition_term")]
    said = [disclosure_words(t, part) for t in templates for part in ("", "foot", "hinge pin", "base")]
    assert len(said) > 100
    assert not [
        w for w in said if "(" in w or ")" in w or any(w.count(p) > 1 for p in ("foot", "pin", "base"))
    ]
