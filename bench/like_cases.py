"""How long one like-case search takes among 100,000 cases. Run: python -m bench.like_cases"""

import time

import numpy as np

from planish.reasoning.matching import Case, CaseIndex


def cases(n: int) -> list[Case]:
    """Invented cases, evenly mixed."""
    rng = np.random.default_rng(5)
    fault, side, material, part, kind = (rng.integers(0, k, n) for k in (60, 17, 25, 20, 80))
    year, severity = rng.integers(1500, 1950, n), rng.integers(1, 5, n)
    return [
        Case(
            id=str(i),
            fair="here" if i % 2 else "before",
            stand=str(i % 220),
            order=i,
            outcome=("accept", "relabel", "remove")[i % 3],
            fault=f"f{fault[i]}",
            side=f"s{side[i]}",
            discipline=f"d{i % 12}",
            material=f"m{material[i]}",
            part=f"p{part[i]}",
            kind=f"k{kind[i]}",
            severity=int(severity[i]),
            year=int(year[i]),
        )
        for i in range(n)
    ]


def main() -> None:
    """Print build time, median and slowest search."""
    held = cases(100_000)
    start = time.perf_counter()
    index = CaseIndex(held)
    print(f"index of {len(held):,} cases built in {time.perf_counter() - start:.2f} s")
    took = []
    for case in held[-200:]:
        start = time.perf_counter()
        index.like_cases(case, earlier_fairs=True)
        took.append(1000 * (time.perf_counter() - start))
    print(f"one search: median {np.median(took):.1f} ms, slowest of 200 {max(took):.1f} ms")


if __name__ == "__main__":
    main()
