"""A loom proven after one that differs in lengths only: what was proven holds, and nothing else does."""

import pytest
from random_looms import draw

from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom
from planner.proof.prove import Proof, Prover

JOB = Job.model_validate({"job": "small", "loom": "small"})
SEEDS = range(12)


def longer(loom: Loom) -> Loom:
    """The same loom with its first wire longer."""
    first, *others = loom.wires
    return copy_loom(loom, wires=(first.model_copy(update={"metres": (4.0,)}), *others))


def cut_short(loom: Loom) -> Loom:
    """The same loom with one end of its first wire loose."""
    first, *others = loom.wires
    ends = (first.ends[0], first.ends[1].model_copy(update={"at": "loose"}), *first.ends[2:])
    return copy_loom(loom, wires=(first.model_copy(update={"ends": ends}), *others))


def found(proof: Proof) -> tuple[object, ...]:
    return proof.findings, proof.hazards, proof.faults, proof.positions, proof.start_states


@pytest.mark.parametrize("seed", SEEDS)
def test_with_a_wire_longer_it_is_what_it_is_from_nothing(seed: int) -> None:
    bench = draw(seed)
    prover = Prover(bench.loom, bench.catalogue, JOB)
    prover.prove(bench.loom)
    edited = longer(bench.loom)
    again = prover.prove(edited)
    assert found(again) == found(Prover(bench.loom, bench.catalogue, JOB).prove(edited))
    assert again.solved == 0
    assert prover.view(edited).loom is edited


def test_with_an_end_off_it_is_proven_anew() -> None:
    lost = 0
    for seed in SEEDS:
        bench = draw(seed)
        prover = Prover(bench.loom, bench.catalogue, JOB)
        whole, longer_loom = prover.prove(bench.loom), longer(bench.loom)
        prover.prove(longer_loom)
        cut = prover.prove(cut_short(longer_loom))
        assert found(cut) == found(Prover(bench.loom, bench.catalogue, JOB).prove(cut_short(longer_loom)))
        lost += found(cut) != found(whole)
    assert lost  # or the wires that were cut carry nothing


def test_another_job_of_the_same_loom_is_asked_anew() -> None:
    bench = draw(0)
    prover = Prover(bench.loom, bench.catalogue, JOB)
    prover.prove(bench.loom)
    key = next(iter(prover.before.loads))
    wish = {"at": key[0], "what": key[1], "is": "full", "when": {}}
    other = Job.model_validate({"job": "other", "loom": "small", "wants": [wish]})
    fresh = Prover(bench.loom, bench.catalogue, other).prove(bench.loom)
    assert found(prover.prove(bench.loom, other)) == found(fresh)
