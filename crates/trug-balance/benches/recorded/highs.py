"""What the blends of ../made/blends.rs cost at least, and how long that takes, by HiGHS (https://highs.dev).

A general-purpose solver in floating point: it proves nothing exactly and gives no reasons, and what it says of costs
is compared with ours in ../../tests/recorded.rs. It writes highs.txt:
`pip install highspy`, then

    python3 highs.py
"""

import platform
import statistics
import time
from pathlib import Path

import highspy

SHARES = 40
BOUNDS = 40
SEEDS = {"linear": range(1, 101), "ten-or-none": range(1, 21)}
WORD = (1 << 64) - 1


def seeded(state):
    """SplitMix64, as in ../made/blends.rs."""

    def below(end):
        nonlocal state
        state = (state + 0x9E3779B97F4A7C15) & WORD
        mixed = state
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & WORD
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & WORD
        return (mixed ^ (mixed >> 31)) % end

    return lambda start, end: start + below(end)


def blend(seed):
    """Costs, and rows of (weights, low, high), all in thousandths but the limits."""
    draw = seeded(seed)
    costs = [draw(80, 800) for _ in range(SHARES)]
    inside = [draw(1, 100) for _ in range(SHARES)]
    whole = sum(inside)
    rows = []
    for rank in range(BOUNDS):
        weights = [max(draw(-40, 300), 0) for _ in range(SHARES)]
        has = sum(weight * share for weight, share in zip(weights, inside)) / whole
        slack = draw(0, 12)
        if rank % 2 == 0:
            rows.append((weights, has - slack, highspy.kHighsInf))
        else:
            rows.append((weights, -highspy.kHighsInf, has + slack))
    return costs, rows


def silent():
    """A solver that prints nothing of its own."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    return solver


def solved(costs, rows, or_none):
    """The least cost, and the seconds it took to find."""
    solver = silent()
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("primal_feasibility_tolerance", 1e-10)
    solver.setOptionValue("dual_feasibility_tolerance", 1e-10)
    for _ in costs:
        solver.addVar(0.0, 1.0)
    for rank, cost in enumerate(costs):
        solver.changeColCost(rank, cost / 1000)
    every = list(range(SHARES))
    solver.addRow(1.0, 1.0, SHARES, every, [1.0] * SHARES)
    for weights, low, high in rows:
        scaled = [weight / 1000 for weight in weights]
        solver.addRow(low / 1000, high / 1000, SHARES, every, scaled)
    for share in range(or_none):
        # 4 % at least where it is used: 0.04 used <= share <= used.
        used = solver.getNumCol()
        solver.addVar(0.0, 1.0)
        solver.changeColIntegrality(used, highspy.HighsVarType.kInteger)
        solver.addRow(0.0, highspy.kHighsInf, 2, [share, used], [1.0, -0.04])
        solver.addRow(0.0, highspy.kHighsInf, 2, [share, used], [-1.0, 1.0])
    begun = time.perf_counter()
    solver.run()
    taken = time.perf_counter() - begun
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return solver.getInfo().objective_function_value, taken


def main():
    lines = [f"# HiGHS {silent().version()}, one thread, {platform.machine()}"]
    for kind, seeds in SEEDS.items():
        or_none = 10 if kind == "ten-or-none" else 0
        found = [(seed, *solved(*blend(seed), or_none)) for seed in seeds]
        median = statistics.median(taken for _, _, taken in found)
        lines.append(f"# {kind}: {1000 * median:.2f} ms, median of {len(found)}")
        lines += [f"{kind} {seed} {cost:.12f}" for seed, cost, _ in found]
    Path(__file__).with_name("highs.txt").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
