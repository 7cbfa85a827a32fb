"""Times the proof of the whole van in process, and counts what it solved beside what enumerating would take.

Proves the loom that the choice settles on against the loom before, each time from nothing, and after it
every other loom that the choice judged. Beside that stands what ``numpy.linalg.solve`` needs on this machine
for 5,000 dense networks with as many nodes. Proofs are counted in CPU time, which for one thread is what the
clock shows on a machine that does nothing else; of numpy's clock and CPU times the lesser counts. Run it with
``uv run python -m benchmarks.proof_of_the_van``.
"""

import time
from collections.abc import Iterator
from itertools import pairwise
from math import prod
from statistics import median

import numpy as np

from benchmarks.arguments import rounds_of
from planner import pipeline
from planner.circuit.fitted import Guard
from planner.circuit.network import Conductance, Network, Pass, Tie
from planner.engine.packs import installed_rules
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job

ROUNDS = 9
LEAST_POSITIONS = 10**9  # times start states
PROOF_TARGET_MS = 50.0
FURTHER_TARGET = 0.2
SOLVED_TARGET = 0.001
NETWORKS, AT_ONCE = 5000, 100


def main() -> None:
    """Measure and print."""
    rounds_of("proof_of_the_van", __doc__)
    catalogue = pipeline.open_catalogue()
    job, loom = read_job(pipeline.DEMONSTRATION, catalogue)
    chosen, judged = choose(job, loom, catalogue)
    further = [(some_job, other) for some_job, other in judged if other != chosen]
    rows = [prove_all(job, loom, catalogue, chosen, further) for _ in range(ROUNDS)]
    (before_ms, clock_before_ms), (facts_ms, _), (first_ms, clock_first_ms), *each_both = (
        tuple(median(row[n][clock] for row in rows) for clock in (0, 1)) for n in range(len(rows[0]))
    )
    whole_ms = before_ms + first_ms
    each = [cpu_ms for cpu_ms, _ in each_both]

    prover = Prover(loom, catalogue, job)
    proof = prover.prove(chosen)
    covered = proof.positions * proof.start_states
    say(
        f"positions {proof.positions:,} x start states {proof.start_states} = {covered:.3g}",
        covered > LEAST_POSITIONS,
        f"more than {LEAST_POSITIONS:.0e}",
    )
    say(
        f"proof from nothing, median of {ROUNDS}: {whole_ms:.1f} ms of CPU ({before_ms:.1f} the loom before, "
        f"{first_ms:.1f} for the loom after against it), {clock_before_ms + clock_first_ms:.1f} by the clock",
        whole_ms < PROOF_TARGET_MS,
        f"under {PROOF_TARGET_MS:.0f} ms",
    )
    print(f"apart from that, what each conductor is: {facts_ms:.1f} ms")
    share = median(each) / whole_ms
    say(
        f"a further loom, median of {len(each)}: {median(each):.1f} ms (from {min(each):.1f} to "
        f"{max(each):.1f}), {share:.2f} of the first",
        share <= FURTHER_TARGET,
        f"{FURTHER_TARGET}",
    )
    nets = (prover.before.net, prover.network(chosen))
    enumerated = sum(size for net in nets for size in block_sizes(net))
    ratio = prover.store.solved / enumerated
    say(
        f"operating points solved for both looms: {prover.store.solved}; enumerating each connected block: "
        f"{enumerated:,}; ratio {ratio:.1e}",
        ratio <= SOLVED_TARGET,
        f"{SOLVED_TARGET}",
    )
    nodes = len(set(merged(nets[1]).values()))
    batched_ms, single_ms = solve_dense(nodes)
    say(
        f"numpy.linalg.solve, {NETWORKS:,} dense networks of {nodes} nodes: {batched_ms:,.0f} ms in batches, "
        f"{single_ms:,.0f} ms one by one",
        whole_ms < min(batched_ms, single_ms),
        "more than the proof from nothing",
    )


def choose(job: Job, loom: Loom, catalogue: Catalogue) -> tuple[Loom, list[tuple[Job, Loom]]]:
    """The loom that the choice settles on, and every loom that it had judged, each once."""
    prover = Prover(loom, catalogue, job)
    judged: list[tuple[Job, Loom]] = []
    prove = prover.prove

    def note(after: Loom, some_job: Job | None = None) -> object:
        judged.append((some_job or job, after))
        return prove(after, some_job)

    prover.prove = note  # type: ignore[method-assign,assignment]
    choice = pipeline.settle(job, loom, catalogue, installed_rules(), prover)
    return choice.chosen.candidate.loom, judged


def prove_all(
    job: Job, loom: Loom, catalogue: Catalogue, chosen: Loom, further: list[tuple[Job, Loom]]
) -> list[tuple[float, float]]:
    """CPU and clock milliseconds for the loom before, its facts, the chosen loom and each further loom."""
    marks = [clocks()]
    prover = Prover(loom, catalogue, job)
    marks.append(clocks())
    _ = prover.facts
    marks.append(clocks())
    prover.prove(chosen)
    marks.append(clocks())
    for some_job, other in further:
        prover.prove(other, some_job)
        marks.append(clocks())
    return [(1e3 * (b[0] - a[0]), 1e3 * (b[1] - a[1])) for a, b in pairwise(marks)]


def clocks() -> tuple[float, float]:
    """Seconds of CPU used, and seconds by the clock."""
    return time.process_time(), time.perf_counter()


def merged(net: Network) -> dict[str, str]:
    """Every node by the one it is always joined to; a fuse joins nothing, though it holds what is behind."""
    parent = {node: node for node in net.nodes | {net.zero}}

    def find(node: str) -> str:
        while parent.setdefault(node, node) != node:
            node = parent[node]
        return node

    for tie in net.ties:
        if not tie.guard:
            parent[find(tie.a)] = find(tie.b)
    joined: list[Tie | Pass | Conductance] = [*net.ties, *net.passes, *net.conductances]
    for item in joined:
        find(item.a)
        find(item.b)
    return {node: find(node) for node in list(parent)}


def block_sizes(net: Network) -> Iterator[int]:
    """Yield for each connected block how many positions enumerating its variables has.

    A block is what hangs together once the poles and what fuses always hold are taken out.
    """
    root = merged(net)
    held = {root[net.zero]} | {root[s.node] for s in net.supplies if not s.guard}
    for _ in net.passes:
        for joint in net.passes:
            if not joint.guard and {root[joint.a], root[joint.b]} & held - {root[net.zero]}:
                held |= {root[joint.a], root[joint.b]}
    block: dict[str, str] = {}

    def find(node: str) -> str:
        while block.setdefault(node, node) != node:
            node = block[node]
        return node

    joined: list[Tie | Pass | Conductance] = [*net.ties, *net.passes, *net.conductances]
    items: list[tuple[tuple[str, str], Guard]] = [((root[i.a], root[i.b]), i.guard) for i in joined]
    items += [((root[s.node], root[s.node]), s.guard) for s in net.supplies]
    for (a, b), _guard in items:
        if a not in held and b not in held:
            block[find(a)] = find(b)
    variables: dict[object, set[str]] = {}
    for (a, b), guard in items:
        free = [node for node in (a, b) if node not in held]
        key = find(free[0]) if free else (a, b)
        variables.setdefault(key, set()).update(name for name, _ in guard)
    for names in variables.values():
        yield prod(len(net.variables[name].values) for name in names)


def solve_dense(nodes: int) -> tuple[float, float]:
    """Milliseconds of numpy for all networks, in batches and one by one; making them is not counted."""
    random = np.random.default_rng(1)
    matrices = random.uniform(-1.0, 1.0, (AT_ONCE, nodes, nodes)) + nodes * np.eye(nodes)
    sides = random.uniform(-1.0, 1.0, (AT_ONCE, nodes, 1))
    marks = [clocks()]
    for _ in range(NETWORKS // AT_ONCE):
        np.linalg.solve(matrices, sides)
    marks.append(clocks())
    for _ in range(NETWORKS // AT_ONCE):
        for matrix, side in zip(matrices, sides, strict=True):
            np.linalg.solve(matrix, side)
    marks.append(clocks())
    batched, single = (min(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(marks))
    return 1e3 * batched, 1e3 * single


def say(figure: str, is_met: bool, target: str) -> None:
    """Print a figure and whether it keeps to its target."""
    print(f"{figure} (target: {target}; {'met' if is_met else 'MISSED'})")


if __name__ == "__main__":
    main()
