"""A 6 V coil on 12 V, by the rule that a plan would use, against the figures of the worked example.

6 V relay coil drawing 0.1 A (60 ohm) on 12 V: a series resistor of 60 ohm, 0.6 W dissipated; a parallel lamp
or second coil on the same resistor breaks the calculation. Textbook Ohm's law; memory, computed.
"""

import pytest

from planner.engine.packs import installed_rules
from planner.model.elements import Resistor
from planner.pipeline import plan
from planner.reading.catalogue import read_job

RULE = "one-load-of-other-volts"
JOB = "tractor-to-12-volts"


@pytest.fixture(scope="module")
def planned(catalogue):
    job, loom = read_job(JOB, catalogue)
    return plan(job, loom, catalogue, installed_rules())


def test_the_coil_of_the_catalogue_is_that_of_the_example(catalogue):
    coil = next(e for e in catalogue.parts["plough-lamp-relay-6v"].inside if e.element == "coil")
    assert (coil.ohms, catalogue.parts["plough-lamp-relay-6v"].volts / coil.ohms) == (60, 0.1)


def test_example_c5_the_resistor_is_60_ohm_and_burns_0_6_watts(planned, catalogue):
    (step,) = [step for step in planned.steps if RULE in step.because]
    assert "takes 0.1 A at its 6 V; the other 6 V need 60 ohm, which burn 0.6 W" in step.facts[0]
    (resistor,) = [e for e in catalogue.parts[step.fields["part"]].inside if isinstance(e, Resistor)]
    assert resistor.ohms == 60 and resistor.watts >= 1.5 * 0.6
    assert step.source == "Ohm's law"


def test_example_c5_as_solved_in_the_whole_loom(planned):
    """At the battery's 12.7 V instead of 12 V: (12.7 / 120)^2 x 60 = 0.67 W, and 6.35 V at the coil."""
    (burnt,) = [line for line in planned.strains if line.kind == "resistor"]
    assert 0.6 < burnt.value < (14.2 / 120) ** 2 * 60 + 0.01  # at most while the dynamo charges
    (coil,) = [line for line in planned.strains if (line.kind, line.at) == ("coil", "dash.relay")]
    assert 6 < coil.value < 12.7 / 2  # the least of all positions: with everything else on


def test_a_second_load_on_the_resistor_is_warned_of(planned):
    (step,) = [step for step in planned.steps if RULE in step.because]
    assert any("nothing else may be put on it" in fact for fact in step.facts)
