"""What counting rules do to 1000 objects: expected values beside a simulation of the real `settle`.

Base rate 10 % wrong labels, accuracy .8, five members; passing a wrong label costs 20, acting against a right one 5,
a second look 1 and is right 95 %. Shared errors: beta-binomial, correlation .3. Open voting: each member, in turn,
gives up an own view and follows when the votes so far lean two or more the other way.
Run: python -m bench.rules
"""

import numpy as np

from planish.reasoning.settling import settle
from planish.reasoning.trending.odds import Costs, RuleResult, rule_result
from planish.records import Answer, Ballot, VotingRules

COSTS, BASE, ACCURACY, LOOK_RIGHT, RULES = Costs(), 0.1, 0.8, 0.95, VotingRules()
CLOSED = (
    ("simple majority", 2, 3),
    ("75 % share (at most 1 pass, 4 or more act)", 1, 4),
    ("at most 1 pass, only 5 act", 1, 5),
    ("unanimity both ways", 0, 5),
)


def draw(n: int, rho: float, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Which labels are wrong, and each member's vote against (objects x 5)."""
    rng = np.random.default_rng(seed)
    wrong = rng.random(n) < BASE
    right = np.full(n, ACCURACY)
    if rho:
        right = rng.beta(ACCURACY * (1 - rho) / rho, (1 - ACCURACY) * (1 - rho) / rho, n)
    return wrong, (rng.random((n, 5)) < right[:, None]) == wrong[:, None]


def openly(votes: np.ndarray) -> np.ndarray:
    """The same votes when each hears those before: a lead of two the other way is followed."""
    heard = votes.copy()
    for i in range(1, 5):
        lead = 2 * heard[:, :i].sum(axis=1) - i
        heard[:, i] = np.where(lead >= 2, True, np.where(lead <= -2, False, votes[:, i]))
    return heard


def placed(votes: np.ndarray) -> np.ndarray:
    """-1 stands, 0 split, 1 falls: the panel's own count, once for each number of votes against."""
    by_count = []
    for k in range(6):
        ballots = [
            Ballot(
                object_id="x",
                person="abcde"[i],
                round=1,
                answers=(Answer(claim="c", verdict="does_not_hold" if i < k else "holds"),),
            )
            for i in range(5)
        ]
        by_count.append(
            {"stands": -1, "split": 0, "falls": 1}[settle(ballots, rules=RULES).findings[0].answer]
        )
    return np.array(by_count)[votes.sum(axis=1)]


def majority(votes: np.ndarray) -> np.ndarray:
    """-1 or 1 by a bare majority."""
    return np.where(votes.sum(axis=1) >= 3, 1, -1)


def result(wrong: np.ndarray, place: np.ndarray, seed: int) -> RuleResult:
    """Results per 1000 objects; a split goes to a second look that is right 95 % of the time."""
    per = 1000 / len(wrong)
    look = place == 0
    looked_right = np.random.default_rng(seed).random(len(wrong)) < LOOK_RIGHT
    act = np.where(look, looked_right == wrong, place == 1)
    passed, hit, looks = (float(x.sum()) * per for x in (wrong & ~act, ~wrong & act, look))
    cost = passed * COSTS.pass_wrong + hit * COSTS.hit_right + looks * COSTS.look
    return RuleResult(passed_wrong=passed, hit_right=hit, looks=looks, cost=cost)


def row(name: str, rho: float, r: RuleResult) -> None:
    """One line of the table."""
    print(f"| {name} | {rho:g} | {r.passed_wrong:.1f} | {r.hit_right:.1f} | {r.looks:.0f} | {r.cost:.0f} |")


def main() -> None:
    """Print the table of docs/settling.md."""
    print("| rule | shared errors | wrong passed | right ones hit | second looks | cost |")
    print("| --- | --- | --- | --- | --- | --- |")
    for rho in (0.0, 0.3):
        for name, at_most, act_from in CLOSED:
            row(f"{name}, expected", rho, rule_result(at_most, act_from, rho=rho))
        wrong, votes = draw(200_000, rho, seed=9)
        row("our count, simulated, sealed votes", rho, result(wrong, placed(votes), seed=10))
        row("our count, simulated, open voting", rho, result(wrong, placed(openly(votes)), seed=10))
        row("simple majority, simulated, open voting", rho, result(wrong, majority(openly(votes)), seed=10))


if __name__ == "__main__":
    main()
