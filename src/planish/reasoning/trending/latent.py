"""Latent-class models as a side view: what verdicts would be if errors were independent. They decide nothing.

With few objects plain Dawid-Skene is worse than a simple majority; with a shared error every model here is too sure.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Latent:
    """Shares of the classes, error rates (voter x true x said), class probabilities per object, log likelihood."""

    prevalence: Array
    errors: Array
    objects: Array
    log_likelihood: float


def dawid_skene(
    counts: Array, *, start: Array | None = None, steps: int = 500, tolerance: float = 1e-10
) -> Latent:
    """Dawid & Skene's EM (1979). `counts`: objects x voters x verdicts; every object needs a verdict.

    It has many places where it stops; without `start` (class probabilities per object) it begins at the share of votes.
    """
    objects = counts.sum(axis=1) / counts.sum(axis=(1, 2))[:, None] if start is None else start
    last = -np.inf
    for _ in range(steps):
        prevalence = objects.mean(axis=0)
        errors = np.einsum("ij,irl->rjl", objects, counts)
        errors = errors / np.maximum(errors.sum(axis=2, keepdims=True), 1e-300)
        joint = np.log(np.maximum(prevalence, 1e-300)) + np.einsum(
            "irl,rjl->ij", counts, np.log(np.maximum(errors, 1e-300))
        )
        top = joint.max(axis=1, keepdims=True)
        weight = np.exp(joint - top)
        objects = weight / weight.sum(axis=1, keepdims=True)
        likelihood = float((top[:, 0] + np.log(weight.sum(axis=1))).sum())
        if abs(likelihood - last) < tolerance:
            break
        last = likelihood
    return Latent(prevalence=prevalence, errors=errors, objects=objects, log_likelihood=likelihood)


def one_coin(
    counts: Array, *, right: float = 8.0, wrong: float = 2.0, steps: int = 200
) -> tuple[Array, Array]:
    """Class probabilities per object and each voter's accuracy under one coin a voter with a Beta(right, wrong) start.

    A wrong answer is spread evenly over the other verdicts. Read the second figure as "how often this voter sided with
    what all together ended up supporting", never as accuracy.
    """
    q = counts.shape[2]
    objects = counts.sum(axis=1) / counts.sum(axis=(1, 2))[:, None]
    answered = counts.sum(axis=(0, 2))
    for _ in range(steps):
        prevalence = (objects.sum(axis=0) + 1) / (len(objects) + q)
        agreeing = np.einsum("ij,irj->r", objects, counts)
        accuracy = (right + agreeing - 1) / (right + wrong + answered - 2)
        hit, miss = np.log(accuracy), np.log((1 - accuracy) / (q - 1))
        joint = np.log(prevalence) + np.einsum("irj,r->ij", counts, hit - miss)
        weight = np.exp(joint - joint.max(axis=1, keepdims=True))
        objects = weight / weight.sum(axis=1, keepdims=True)
    return objects, accuracy


def prevalence_with_priors(
    counts: Array,
    *,
    seed: int,
    draws: int = 3000,
    warm: int = 300,
    diagonal: float = 4.8,
    off: float = 1.0667,
) -> Array:
    """Posterior mean share of each class in the Bayesian form of the model, by Gibbs sampling from `seed`.

    Priors are those of the R package rater: Dirichlet(3) on the shares, `diagonal` and `off` on each row of error rates.
    The sampling error after 3000 draws is about 0.002.
    """
    rng = np.random.default_rng(seed)
    _, voters, q = counts.shape
    prior = np.where(np.eye(q, dtype=bool), diagonal, off)
    objects = counts.sum(axis=1) / counts.sum(axis=(1, 2))[:, None]
    total = np.zeros(q)
    for step in range(warm + draws):
        classes = (objects.cumsum(axis=1) < rng.random((len(counts), 1))).sum(axis=1).clip(max=q - 1)
        chosen = np.eye(q)[classes]
        share = rng.dirichlet(3 + chosen.sum(axis=0))
        said = np.einsum("ij,irl->rjl", chosen, counts) + prior
        errors = np.array([[rng.dirichlet(row) for row in said[r]] for r in range(voters)])
        joint = np.log(share) + np.einsum("irl,rjl->ij", counts, np.log(np.maximum(errors, 1e-300)))
        weight = np.exp(joint - joint.max(axis=1, keepdims=True))
        objects = weight / weight.sum(axis=1, keepdims=True)
        total += share if step >= warm else 0.0
    return np.asarray(total / draws)
