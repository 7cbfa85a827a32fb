"""A gauge that moves past its scale and nowhere else has gained nothing."""

import pytest

from planner.circuit.appearance import percent_read
from planner.proof.compare import Finding, Outcome
from planner.proof.off_scale import only_at_their_end

OIL = ("dash", "oil gauge")


def finding(outcome: Outcome, before: str, after: str, kind: str = "gauge") -> Finding:
    return Finding("oil gauge", "dash", "none", kind, outcome, before, after, (), frozenset(), frozenset())


def test_a_gauge_that_only_hits_its_stop_is_named() -> None:
    assert only_at_their_end([finding("gained", "off", "reads 110 %")]) == {OIL}


@pytest.mark.parametrize(
    "also",
    [
        finding("gained", "off", "reads 100 %"),  # full scale is on it
        finding("gained", "off", "reads 40 %"),
        finding("kept", "reads 110 %", "reads 110 %"),  # it did so before
        finding("lost", "reads 40 %", "off"),
        finding("gained", "off", "full"),
    ],
)
def test_one_that_reads_anything_else_or_did_is_not(also: Finding) -> None:
    assert only_at_their_end([finding("gained", "off", "reads 110 %"), also]) == frozenset()


def test_what_shows_nothing_before_and_after_is_no_reading_and_a_lamp_no_gauge() -> None:
    at_its_end = finding("gained", "off", "reads 110 %")
    assert only_at_their_end([at_its_end, finding("kept", "off", "off")]) == {OIL}
    assert only_at_their_end([finding("gained", "off", "full", kind="lamp")]) == frozenset()


@pytest.mark.parametrize(
    ("appearance", "percent"), [("reads 40 %", 40), ("reads 110 %", 110), ("full", None), ("40", None)]
)
def test_percent_of_a_scale(appearance: str, percent: int | None) -> None:
    assert percent_read(appearance) == percent
