"""What everyone can sign: the strongest sentence that every finding and all hard evidence carry.

`agree` finds it and marks the changed words; `render` writes a full label from claims, `in_house_form` puts one into the house's order and figures; `changes` compares two texts
word by word; `lattice` holds the order of claims (which says more, which says less); `phrases` turns values into words.
Nothing here invents a claim that nobody made. Start with `agree.py`.
"""

from planish.reasoning.wording.agree import agree
from planish.reasoning.wording.changes import changes
from planish.reasoning.wording.disclosing import disclosure_words
from planish.reasoning.wording.house import in_house_form
from planish.reasoning.wording.lattice import Trees, entails, join
from planish.reasoning.wording.phrases import phrase
from planish.reasoning.wording.render import render

__all__ = [
    "Trees",
    "agree",
    "changes",
    "disclosure_words",
    "entails",
    "in_house_form",
    "join",
    "phrase",
    "render",
]
