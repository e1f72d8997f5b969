"""Why words changed, as sentences about the object; what a qualifying word means here and elsewhere."""

from collections.abc import Mapping, Sequence

from planish.records import Claim, Finding, MakerValue

_SAID = {
    "falls": "The panel finds that “{words}” does not hold",
    "split": "The panel's views on “{words}” stay divided, so the label cannot say it",
    "no_quorum": "Too few could decide that “{words}” holds, and not all who did agree",
}


def finding_sentence(words: str, finding: Finding) -> str:
    """The panel's answer on a claim's own words, with its clause and without any count."""
    said = _SAID.get(finding.answer, "“{words}” is open").format(words=words)
    return f"{said}{f' (clause {finding.clause})' if finding.clause else ''}."


def sentence(words: str) -> str:
    """`words` as a sentence: a capital first, a full stop at the end."""
    text = " ".join(words.split())
    if not text:
        return ""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?", ".”")) else f"{text}."


def other_meanings(
    claims: Sequence[Claim], own: Mapping[str, str], others: Mapping[str, str]
) -> tuple[str, ...]:
    """For every qualifying word in use: what it means at this fair, and that it means something else elsewhere."""
    found: dict[str, None] = {}
    for claim in claims:
        word = claim.value.qualifier if isinstance(claim.value, MakerValue) else ""
        if not word or (word not in own and word not in others):
            continue
        here = (
            f"“{word}” here means: {own[word]}" if word in own else f"“{word}” is not defined at this fair."
        )
        elsewhere = others.get(word, "")
        found[f"{here} Elsewhere: {elsewhere}" if elsewhere and elsewhere != own.get(word) else here] = None
    return tuple(found)
