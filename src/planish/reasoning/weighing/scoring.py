"""A case compiled, and one pass that weighs many variants of it at once: as a period piece and as a later copy."""

from dataclasses import dataclass

import numpy as np

from planish.reasoning.contradicting.masks import Place
from planish.reasoning.contradicting.order import NOT_AN_EVENT, event_of, place_of
from planish.reasoning.weighing.case import Case, DatedClaim
from planish.reasoning.weighing.likelihood import Row, Rows, grid, tempers, tempers_without_each, window_shape
from planish.reasoning.weighing.model import Model, likelihood_rows, share_out, tracks, tree, upward
from planish.reasoning.weighing.settings import Settings
from planish.records import Years

HOUSE = Settings()


def compile_case(case: Case, settings: Settings = HOUSE, also: tuple[Place, ...] = ()) -> Model:
    """The case as a fixed model: items sorted by id, the tree of their events (and of `also`), likelihood rows."""
    items = tuple(sorted((i for i in case.items if i.event != NOT_AN_EVENT), key=lambda i: i.id))
    prior = prior_of(settings)
    rows = likelihood_rows(items, settings.first, settings.last, prior)
    period, true_copy, target = tracks(items, rows, settings.imitation)
    asked = [place_of_claim(c) for c in case.claims]
    places = tuple(dict.fromkeys([*(place_of(i) for i in items), *asked, *also]))
    marriages = tuple(
        (p.name, settings.marriage_chance if p.marriage_chance is None else p.marriage_chance)
        for p in sorted(case.parts, key=lambda p: p.name)
    )
    return Model(
        first=settings.first,
        items=items,
        root=tree(places, case.chain, marriages),
        prior=prior,
        late=_late(case, settings),
        period=period,
        true_copy=true_copy,
        target=target,
        likelihoods=rows,
        smear=settings.smear,
    )


def prior_of(settings: Settings) -> Row:
    """The prior over making years: flat, or the named alternative with straight lines between its points."""
    years = grid(settings.first, settings.last)
    if not settings.prior:
        return np.full(len(years), 1.0 / len(years))
    points = sorted(settings.prior)
    heights = np.interp(years, [y for y, _ in points], [w for _, w in points], left=0.0, right=0.0)
    return share_out(heights)


def _late(case: Case, settings: Settings) -> Row:
    """Years in which later copies of the claimed thing were made: flat from `copy_from`, and never inside the claim."""
    claim = case.main_claim
    begin = settings.copy_from
    if claim is not None:
        begin = max(begin, (settings.last if claim.years.latest is None else claim.years.latest) + 1)
    years = Years(begin, None)
    return share_out(window_shape((years,), settings.first, settings.last))


def place_of_claim(claim: DatedClaim) -> Place:
    """Part and event a claim speaks of; the body is the whole."""
    return ("" if claim.part == "body" else claim.part, event_of(claim.event))


def variants_of(model: Model) -> Rows:
    """Exponents of items: all; without each in turn; groups independent; groups counted once."""
    return np.vstack(
        (tempers_without_each(model.items), tempers(model.items, 0.0), tempers(model.items, 1.0))
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """What one pass gives for every variant: making years if a period piece, evidence, and the chance of a copy."""

    period: Rows
    log10_period: Row
    log10_copy: Row
    copy: Row

    @property
    def any_year(self) -> bool:
        """True when some year is left, as a period piece or as a later copy."""
        return bool(self.log10_period[0] > -200.0 or (self.copy[0] > 0.0 and self.log10_copy[0] > -200.0))

    def claim(self, mask: Row | None) -> Row:
        """Chance of the making years in `mask`, for every variant, with the chance of a copy taken off."""
        if mask is None:
            return np.zeros(len(self.copy))
        inside: Row = (self.period * mask).sum(axis=1)
        return np.minimum(inside, 1.0) * (1.0 - self.copy)


def score(model: Model, variants: Rows, copy_chance: float) -> Scored:
    """One pass up the tree for every variant, under the period hypothesis and under the copy hypothesis."""
    whole = upward(model.root, model.period, variants, model.prior, model.smear)
    joint = whole.belief * model.prior
    evidence = joint.sum(axis=1)
    period = (joint / np.where(evidence > 0.0, evidence, 1.0)[:, None])[whole.which]
    log_period = (_log(evidence) + whole.scale)[whole.which]
    if not model.late.any() or copy_chance <= 0.0:
        nothing = np.zeros(len(variants))
        return Scored(
            period=period,
            log10_period=log_period / np.log(10.0),
            log10_copy=np.full(len(variants), -np.inf),
            copy=nothing,
        )
    true_copy = upward(model.root, model.true_copy, variants, model.prior, model.smear)
    target = upward(model.root, model.target, variants, model.prior, model.smear)
    log_copy = (_log((true_copy.belief * model.late).sum(axis=1)) + true_copy.scale)[true_copy.which]
    log_copy = log_copy + (_log((target.belief * model.prior).sum(axis=1)) + target.scale)[target.which]
    return Scored(
        period=period,
        log10_period=log_period / np.log(10.0),
        log10_copy=log_copy / np.log(10.0),
        copy=copy_given(log_period, log_copy, copy_chance),
    )


def copy_given(log_period: Row, log_copy: Row, chance: float) -> Row:
    """P(copy) = h E1 / (h E1 + (1 - h) E0), from logarithms of the two evidences."""
    if chance <= 0.0:
        return np.zeros_like(log_period)
    if chance >= 1.0:
        return np.ones_like(log_period)
    against = np.clip(log_period - log_copy + np.log((1.0 - chance) / chance), -700.0, 700.0)
    out: Row = 1.0 / (1.0 + np.exp(against))
    return out


def _log(values: Row) -> Row:
    out = np.full(values.shape, -1000.0)
    np.log(values, out=out, where=values > 0.0)
    return out
