"""A case compiled for weighing: the tree of events, likelihood rows, and one pass that weighs many variants at once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planish.reasoning.contradicting.doubting import present_links
from planish.reasoning.contradicting.masks import Place
from planish.reasoning.contradicting.order import MADE, place_of
from planish.reasoning.weighing import chain as links
from planish.reasoning.weighing.likelihood import Row, Rows, logarithms, mixture, shape
from planish.records import EvidenceItem, Link

Index = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Node:
    """One event of one part, and how it hangs on the node above: after it, before it, or as a part of it."""

    place: Place
    hangs: str  # "root", "after", "before", "part"
    value: float  # stay, or the chance of a marriage
    children: tuple["Node", ...] = ()


@dataclass(frozen=True, slots=True)
class Track:
    """Log-likelihood rows (items by years) under one hypothesis, and which item sits on which node."""

    rows: Rows
    at: dict[Place, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Passed:
    """What a node says upwards: distinct rows, their logarithmic scale, and which row each variant uses."""

    belief: Rows
    scale: Row
    which: Index


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """Everything weighing needs, fixed: items sorted by id, tree, prior, and the three tracks of likelihood.

    `period` holds all items; `true_copy` only binding ones (when a later copy was really made); `target` imitable
    ones, each right with the copyist's chance (the piece the copyist had in mind).
    """

    first: int
    items: tuple[EvidenceItem, ...]
    root: Node
    prior: Row
    late: Row
    period: Track
    true_copy: Track
    target: Track
    likelihoods: Rows
    smear: int

    @property
    def last(self) -> int:
        """Last year of the grid."""
        return self.first + len(self.prior) - 1


def tree(places: Sequence[Place], chain: tuple[Link, ...], marriages: Sequence[tuple[str, float]]) -> Node:
    """The tree of events: the making of the whole at the root, its events around it, each part with its own events."""
    parts = tuple(
        Node((name, MADE), "part", chance, _around((name, MADE), None, _events(name, places), chain))
        for name, chance in marriages
    )
    own = _around(("", MADE), None, _events("", places), chain)
    return Node(("", MADE), "root", 0.0, own + parts)


def _events(part: str, places: Sequence[Place]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((MADE, *(event for p, event in places if p == part))))


def _around(
    here: Place, came_from: str | None, events: tuple[str, ...], chain: tuple[Link, ...]
) -> tuple[Node, ...]:
    part, event = here
    children = []
    for link in present_links(events, chain):
        for other, end, hangs in ((link.earlier, link.later, "after"), (link.later, link.earlier, "before")):
            if other == event and end != came_from:
                below = _around((part, end), event, events, chain)
                children.append(Node((part, end), hangs, link.stay, below))
    return tuple(children)


def likelihood_rows(items: Sequence[EvidenceItem], first: int, last: int, prior: Row) -> Rows:
    """Mixture likelihood of every item."""
    rows = np.empty((len(items), last - first + 1))
    for i, item in enumerate(items):
        rows[i] = mixture(shape(item, first, last), item.doubt, prior)
    return rows


def tracks(items: Sequence[EvidenceItem], likelihoods: Rows, imitation: float) -> tuple[Track, Track, Track]:
    """The three tracks of a case: period piece, truth behind a copy, and the copyist's target."""
    logs = logarithms(likelihoods)
    binding = np.array([item.binding for item in items], dtype=bool)
    imitated = np.zeros_like(logs)  # rows of binding items are never used
    imitated[~binding] = logarithms(imitation * likelihoods[~binding] + (1.0 - imitation))
    at: dict[Place, list[int]] = {}
    for i, item in enumerate(items):
        at.setdefault(place_of(item), []).append(i)

    def only(keep: npt.NDArray[np.bool_]) -> dict[Place, tuple[int, ...]]:
        return {place: tuple(i for i in rows if keep[i]) for place, rows in at.items()}

    everything = np.ones(len(items), dtype=bool)
    return Track(logs, only(everything)), Track(logs, only(binding)), Track(imitated, only(~binding))


def upward(node: Node, track: Track, weights: Rows, model_prior: Row, smear: int) -> Passed:
    """Belief at a node from itself and everything that hangs on it, for every variant (row of `weights`).

    Variants that do not differ below a node share one row, so leaving out each item in turn costs little.
    """
    below = [(child, upward(child, track, weights, model_prior, smear)) for child in node.children]
    own = track.at.get(node.place, ())
    which_own, firsts_own = _distinct(np.ascontiguousarray(weights[:, own]))
    keys = np.column_stack([which_own, *(passed.which for _, passed in below)])
    which, firsts = (which_own, firsts_own) if not below else _distinct(keys)
    belief, scale = _own_belief(own, track.rows, weights[firsts_own])
    if below:
        belief, scale = belief[which_own[firsts]], scale[which_own[firsts]]
    for child, passed in below:
        picked = passed.which[firsts]
        message = _message(child, passed.belief, model_prior, smear)
        belief *= message if len(message) == 1 else message[picked]
        scale += passed.scale[picked]
    return Passed(belief, scale, which)


def _distinct(rows: npt.NDArray[np.generic]) -> tuple[Index, Index]:
    """Which distinct row each row is, and where each distinct row first stands, in order of first appearance."""
    width = rows.shape[1] * rows.itemsize
    raw = rows.tobytes()
    seen: dict[bytes, int] = {}
    which = [
        seen.setdefault(raw[start : start + width], len(seen))
        for start in range(0, width * len(rows) or len(rows), width or 1)
    ]
    firsts: dict[int, int] = {}
    for place, number in enumerate(which):
        firsts.setdefault(number, place)
    return np.array(which, dtype=np.intp), np.array(list(firsts.values()), dtype=np.intp)


def _own_belief(own: tuple[int, ...], rows: Rows, weights: Rows) -> tuple[Rows, Row]:
    total = np.zeros((len(weights), rows.shape[1]))
    for (
        i
    ) in own:  # one at a time, in the order of ids: the sum is the same whatever order the evidence came in
        total += weights[:, i : i + 1] * rows[i]
    top: Row = total.max(axis=1)
    total -= top[:, None]
    return np.exp(total, out=total), top


def _message(child: Node, belief: Rows, prior: Row, smear: int) -> Rows:
    if child.hangs == "part":
        return links.from_part(belief, prior, child.value, smear)
    pass_up: Callable[[Rows, float], Rows] = (
        links.to_earlier if child.hangs == "after" else links.from_earlier
    )
    return pass_up(belief, child.value)


def downward(
    root: Node, track: Track, weights: Row, prior: Row, smear: int, root_prior: Row | None = None
) -> dict[Place, Row]:
    """Posterior over years of every node for one variant; each row sums to 1, or to 0 where no year is left.

    `root_prior` replaces `prior` at the root only (later copies are made in later years).
    """
    out: dict[Place, Row] = {}
    above = prior if root_prior is None else root_prior
    _down(root, above, prior, track, weights[None, :], smear, out)
    return out


def share_out(row: Row) -> Row:
    """The row divided by its sum; unchanged when the sum is zero."""
    total = float(row.sum())
    return row / total if total > 0.0 else row


def _down(
    node: Node, above: Row, prior: Row, track: Track, weights: Rows, smear: int, out: dict[Place, Row]
) -> None:
    own, _ = _own_belief(track.at.get(node.place, ()), track.rows, weights)
    here = above * own[0]
    messages = [
        _message(child, upward(child, track, weights, prior, smear).belief, prior, smear)[0]
        for child in node.children
    ]
    belief = here
    for message in messages:
        belief = belief * message
    out[node.place] = share_out(belief)
    for i, child in enumerate(node.children):
        rest = here
        for j, message in enumerate(messages):
            if j != i:
                rest = rest * message
        _down(child, _to_child(child, share_out(rest), prior, smear), prior, track, weights, smear, out)


def _to_child(child: Node, belief: Row, prior: Row, smear: int) -> Row:
    if child.hangs == "part":
        return links.to_part(belief, prior, child.value, smear)
    return (links.to_later if child.hangs == "after" else links.back_to_earlier)(belief, child.value)
