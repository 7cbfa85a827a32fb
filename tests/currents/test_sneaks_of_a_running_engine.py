"""Sneaks through a charge lamp: those that last until the engine stands are none."""

import pytest
from inspected import inspected
from running_engine import LAMP, bench

from planner.currents.checks import at_rest


@pytest.mark.parametrize(("coil", "sneaks"), [("coil", set()), ("module", {"oil", "coil"})])
def test_a_sneak_until_the_engine_stands_is_none(coil: str, sneaks: set[str]) -> None:
    found = at_rest.strains(inspected(bench(coil, LAMP)))
    told = {s.at for s in found if s.kind == "sneak" and s.position.get("key/ignition", "off") == "off"}
    assert told == sneaks
