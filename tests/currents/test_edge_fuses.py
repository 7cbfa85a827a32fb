"""The fuse of a feed at a loom's edge is held against load and wires like any other."""

import pytest
from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.inspect import by_identity, faults, strains
from planner.model.strain import Strain, StrainKind

PARTS = make_parts(
    """
    kettle: {terminals: {a: "", b: ""}, inside: [{resistor: {between: [a, b], ohms: 1, does: boil water}}]}
    horn:
      terminals: {a: "", b: ""}
      nodes: [in]
      inside:
        - control: {name: push, positions: [released, pressed], returns: released}
        - contact: {join: [a, in], when: {push: pressed}}
        - resistor: {between: [in, b], ohms: 2, does: sound}
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 5, does: shine}}]}
    """
)


def bench(part: str, amps: float | None, earthed: str = "negative") -> Bench:
    feed = {"role": "30"} if amps is None else {"role": "30", "fuse_amps": amps}
    return Bench(
        PARTS, {"p": part}, ["feed:tap > p:a", "p:b > earth:z"], feeds={"tap": feed}, earthed=earthed
    )


def of_kind(bench: Bench, kind: StrainKind) -> list[Strain]:
    return [strain for strain in strains(inspected(bench)) if strain.kind == kind]


@pytest.mark.parametrize("earthed", ["negative", "positive"])
def test_it_carries_four_fifths_of_what_is_printed_on_it(earthed: str) -> None:
    (strain,) = of_kind(bench("kettle", 8, earthed), "fuse")
    assert (strain.at, strain.is_over) == ("feed:tap", True)
    assert strain.limit == pytest.approx(6.4) and 11 < strain.value < 12.7
    assert "what else hangs on it is not seen" in strain.note
    (strain,) = of_kind(bench("lamp", 8, earthed), "fuse")
    assert not strain.is_over


@pytest.mark.parametrize(("amps", "is_over"), [(5, True), (8, False)])
def test_what_is_held_for_a_moment_counts_beside_what_lasts(amps: float, is_over: bool) -> None:
    """A horn behind the fuse of a lamp: the lamp alone would do with 1 A."""
    ends = ["feed:tap > l:a", "feed:tap > h:a", "l:b > earth:z", "h:b > earth:z"]
    both = Bench(PARTS, {"l": "lamp", "h": "horn"}, ends, feeds={"tap": {"role": "30", "fuse_amps": amps}})
    (strain,) = of_kind(both, "fuse")
    assert (strain.momentary, strain.limit, strain.is_over) == (True, amps, is_over)
    assert all(s.carries == pytest.approx(0.8 * strain.value) for s in of_kind(both, "fuse-over-wire"))


def test_only_the_wire_before_the_load_is_guarded_by_it() -> None:
    (strain,) = of_kind(bench("kettle", 30), "fuse-over-wire")
    assert (strain.at, strain.path, strain.is_over) == ("W1", ("feed:tap",), True)


def test_a_feed_of_which_no_fuse_is_known_guards_nothing() -> None:
    assert of_kind(bench("kettle", None), "fuse") + of_kind(bench("kettle", None), "fuse-over-wire") == []


def test_a_strain_weighs_by_how_far_it_is_over_in_halves() -> None:
    before, after = (strains(inspected(bench(part, 8))) for part in ("lamp", "kettle"))
    share = {fault.what: fault.share for fault in faults(after, by_identity(before))}
    assert share["fuse"] == 1.0
    assert set(share.values()) <= {0.0, 0.5, 1.0}
