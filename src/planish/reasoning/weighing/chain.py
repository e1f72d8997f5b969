"""Messages between events: the forward-normalised chain, its mirror, and the tie between a part and its object.

P(next = t | previous = y) = stay for t = y and (1 - stay)/(last - y) for each t > y; stay is 1 at the last year. Every row sums
to 1, so an undated later event says nothing whatever about the making. An event that came before hangs on by
the same rule with the calendar mirrored. Rows are years, a batch of cases one row each; all sums run in one fixed order.
"""

from functools import lru_cache

import numpy as np

from planish.reasoning.weighing.likelihood import Row, Rows


def to_earlier(belief: Rows, stay: float) -> Rows:
    """Message from a later event to the earlier one: m(y) = stay l(y) + (1 - stay) S(y + 1)/(last - y)."""
    years = belief.shape[1]
    message = np.empty_like(belief)
    message[:, -1] = belief[:, -1]
    if years > 1:
        after = np.cumsum(belief[:, :0:-1], axis=1)[:, ::-1]  # S(y + 1)
        np.multiply(after, _moves_on(years, stay), out=message[:, :-1])
        message[:, :-1] += stay * belief[:, :-1]
    return message


@lru_cache(maxsize=64)
def _moves_on(years: int, stay: float) -> Row:
    """(1 - stay)/(last - y) for every year but the last. Shared: never written to."""
    row: Row = (1.0 - stay) / np.arange(years - 1, 0, -1)
    row.flags.writeable = False
    return row


def to_later(belief: Row, stay: float) -> Row:
    """Message from an earlier event to the later one: stay b(t) + sum over y < t of b(y) (1 - stay)/(last - y)."""
    years = belief.shape[0]
    message = stay * belief
    message[-1] = belief[-1]
    if years > 1:
        message[1:] += np.cumsum(belief[:-1] * _moves_on(years, stay))
    return message


def from_earlier(belief: Rows, stay: float) -> Rows:
    """Message from an event that came before (a design) to what came after it, by the mirrored rule."""
    return to_earlier(belief[:, ::-1], stay)[:, ::-1]


def back_to_earlier(belief: Row, stay: float) -> Row:
    """Message from what came after to an event before it, by the mirrored rule."""
    return to_later(belief[::-1], stay)[::-1]


def smear(belief: Rows, years: int) -> Rows:
    """For each year the mean of `belief` over the years within ± `years`, cut to the grid: stock parts."""
    if years <= 0:
        return belief
    size = belief.shape[1]
    sums = np.concatenate((np.zeros((belief.shape[0], 1)), np.cumsum(belief, axis=1)), axis=1)
    index = np.arange(size)
    low, high = np.maximum(index - years, 0), np.minimum(index + years + 1, size)
    means: Rows = np.maximum(sums[:, high] - sums[:, low], 0.0) / (high - low)
    return means


def spread(belief: Row, years: int) -> Row:
    """The other direction of `smear`: each year's chance shared out over the years within ± `years` on the grid."""
    if years <= 0:
        return belief
    index = np.arange(belief.shape[0])
    low, high = np.maximum(index - years, 0), np.minimum(index + years + 1, belief.shape[0])
    steps = np.zeros(belief.shape[0] + 1)
    share = belief / (high - low)
    np.add.at(steps, low, share)
    np.add.at(steps, high, -share)
    shared: Row = np.maximum(np.cumsum(steps)[:-1], 0.0)
    return shared


def from_part(belief: Rows, prior: Row, marriage: float, years: int) -> Rows:
    """Message from a part to its object: one year (± `years`) with chance 1 - marriage, otherwise unrelated years."""
    alone = (belief * prior).sum(axis=1, keepdims=True)
    message: Rows = (1.0 - marriage) * smear(belief, years) + marriage * alone
    return message


def to_part(belief: Row, prior: Row, marriage: float, years: int) -> Row:
    """Message from an object to its part, by the same mixture."""
    message: Row = (1.0 - marriage) * spread(belief, years) + marriage * prior * belief.sum()
    return message


def one_year_factor(body: Row, part: Row, prior: Row, years: int) -> float:
    """Bayes factor of one year (± `years`) against unrelated years: sum prior A B / (sum prior A * sum prior B)."""
    together = float((prior * body * smear(part[None, :], years)[0]).sum())
    apart = float((prior * body).sum()) * float((prior * part).sum())
    return together / apart if apart > 0.0 else 0.0
