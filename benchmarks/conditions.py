"""Times the search for the shortest condition over 1,728 positions.

Beside it stands a pass over the same positions that only asks whether the condition found is met in each:
the least that any way to check it must do. Run it with ``uv run python -m benchmarks.conditions``.
"""

import time
from itertools import product
from statistics import median

from benchmarks.arguments import rounds_of
from planner.proof.condition import Condition, shortest_condition

ROUNDS = 9
CONTROLS = {
    "wipers": ("off", "slow", "fast", "intermittent"),
    "ignition": ("off", "on", "start"),
    "turn": ("straight", "left", "right"),
    "lamp": ("off", "on"),
    "left door": ("shut", "open"),
    "right door": ("shut", "open"),
    "brake": ("free", "pressed"),
    "fuel": ("empty", "half", "full"),
}
SOUGHT = Condition(
    (
        {"lamp": ("on",), "left door": ("shut",), "right door": ("shut",)},
        {"lamp": ("on",), "left door": ("open",), "right door": ("open",)},
        {"wipers": ("slow", "fast", "intermittent"), "turn": ("left",), "brake": ("pressed",)},
        {"ignition": ("start",), "fuel": ("full",)},
    )
)


def main() -> None:
    """Measure and print; the condition found must be met just where the sought one is."""
    rounds_of("conditions", __doc__)
    positions = list(product(*CONTROLS.values()))
    named = [dict(zip(CONTROLS, position, strict=True)) for position in positions]
    holds = [position for position, names in zip(positions, named, strict=True) if SOUGHT.is_met(names)]
    searched, passed = [], []
    for _ in range(ROUNDS):
        started = time.process_time()
        found = shortest_condition(CONTROLS, holds)
        searched.append(time.process_time() - started)
        started = time.process_time()
        met = [position for position, names in zip(positions, named, strict=True) if found.is_met(names)]
        passed.append(time.process_time() - started)
        if met != holds:
            raise SystemExit("the condition found is not exact")
    search_ms, pass_ms = 1e3 * median(searched), 1e3 * median(passed)
    print(
        f"shortest condition over {len(positions):,} positions, median of {ROUNDS}: {search_ms:.0f} ms of "
        f"CPU; asking every position: {pass_ms:.1f} ms; {search_ms / pass_ms:.1f} times"
    )


if __name__ == "__main__":
    main()
