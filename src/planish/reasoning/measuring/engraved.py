"""An engraved weight against the present one: "22-10" scratched under a foot means 22 oz 10 dwt troy.

1 oz troy = 31.1034768 g and 20 dwt; 1 lb = 453.59237 g and 16 oz (both exact, Weights and Measures Act 1985). Polishing
and wear take weight; how much is a house setting, not a finding. The engraving may be of another piece of a set.
"""

import re

from planish.facts.book import FactBook
from planish.reasoning.measuring.cautioning import BY_METHOD, cautions
from planish.reasoning.measuring.figures import in_words, needed, place, problem
from planish.reasoning.measuring.measured import Measured, Settings, refused, used
from planish.records import Observation, Problem, Quantity, freeze

OUNCE_TROY = 31.1034768
POUND = 453.59237
WRITTEN = re.compile(
    r"^\s*(?P<a>\d+)\s*(?P<ua>lb|oz)?\s*[-=:. ]?\s*(?:(?P<b>\d+(?:½|1/2)?|½)\s*(?P<ub>oz|dwt|dr)?)?\s*$", re.I
)


def engraved_grams(text: str, where: str) -> float | Problem:
    """ "22-10" (oz and dwt troy), "22 oz 10 dwt", "1 lb 4 oz" (avoirdupois) in grams."""
    found = WRITTEN.match(text)
    if not found:
        return problem(
            where,
            f"{text!r} is no engraved weight.",
            "Write it like 22-10 or 22 oz 10 dwt.",
            "engraved.unread",
            found=text,
        )
    first = int(found["a"])
    second = _half(found["b"])
    if (found["ua"] or "").casefold() == "lb":
        if second >= 16:
            return problem(
                where,
                f"{second:g} oz make more than a pound.",
                "Read the engraving again.",
                "engraved.ounces",
                found=text,
            )
        return (first + second / 16) * POUND
    if second >= 20:
        return problem(
            where,
            f"{second:g} dwt make more than an ounce (20 dwt).",
            "Read the engraving again.",
            "engraved.dwt",
            found=text,
        )
    return (first + second / 20) * OUNCE_TROY


def _half(written: str | None) -> float:
    if not written:
        return 0.0
    if written in ("½",):
        return 0.5
    for half in ("½", "1/2"):
        if written.endswith(half):
            return int(written.removesuffix(half)) + 0.5
    return float(written)


def measure_engraved(observation: Observation, book: FactBook, settings: Settings | None = None) -> Measured:
    """Present `weight` (g) against `more["engraved"]`."""
    settings = settings or Settings()
    where = place(observation)
    now = needed(observation, "weight", "g", aliases=("air",))
    if isinstance(now, Problem):
        return refused(now)
    if now is None or now.amount <= 0:
        return refused(
            problem(
                where,
                "No present weight is given." if now is None else f"The present weight is {now.amount:g} g.",
                "Weigh it in grams.",
                "engraved.weight",
            )
        )
    then = engraved_grams(str(observation.more.get("engraved", "")), where)
    if isinstance(then, Problem):
        return refused(then)
    now = now if now.uncertainty else Quantity(now.amount, "g", settings.scale_g)
    change = now.amount / then - 1
    slack = settings.sigmas * now.uncertainty / then
    said = f"Engraved {observation.more.get('engraved')} is {then:.1f} g; it weighs {in_words(now, 1)}: {100 * change:+.1f} %."
    return Measured(
        sentences=(said, _verdict(change, slack, settings), "The engraving may belong to another piece of a set, and may itself be later."),
        cautions=cautions(book, BY_METHOD["members"]),
        details=freeze(
            {"engraved_g": round(then, 2), "present_g": now.amount, "change_percent": round(100 * change, 2),
             "settings": used(settings, "weight_loss", "weight_gain", "scale_g")}
        ),
    )  # fmt: skip


def _verdict(change: float, slack: float, settings: Settings) -> str:
    if change > settings.weight_gain + slack:
        return "Heavier than engraved: something was added (a foot, a handle, solder, a filling), or the weight is not of this piece."
    if change < -settings.weight_loss - slack:
        return "Lighter than wear and polishing explain: something is gone or was replaced by a lighter part, or the weight is not of this piece."
    return "That agrees with the engraving, allowing for wear and polishing."
