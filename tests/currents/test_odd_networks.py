"""Networks that nobody would draw: absurd values, parts apart, exact joints, and what does not settle."""

from collections.abc import Iterator

import pytest
from generated_looms import catalogue
from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents import island, survey
from planner.currents.inspect import strains
from planner.engine.packs import installed_rules
from planner.pipeline import plan
from planner.reading.catalogue import read_job
from planner.telling.verdict import exit_status

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: shine}}]}
    starter:
      volts: 6
      terminals: {a: "", b: ""}
      inside: [{winding: {between: [a, b], watts: 5000, does: crank}}]
    micro: {terminals: {a: "", b: ""}, inside: [{resistor: {between: [a, b], ohms: 0.000001, does: warm}}]}
    mega: {terminals: {a: "", b: ""}, inside: [{resistor: {between: [a, b], ohms: 10000000, does: warm}}]}
    exact:
      terminals: {a: "", b: "", c: ""}
      inside:
        - control: {name: knob, positions: ["off", "on", both]}
        - contact: {join: [a, b], when: {knob: ["on", both]}, ohms: 0}
        - contact: {join: [a, c], when: {knob: both}, ohms: 0}
    switch:
      terminals: {a: "", b: "", c: ""}
      inside:
        - control: {name: knob, positions: ["off", "on", both]}
        - contact: {join: [a, b], when: {knob: ["on", both]}, ohms: 0.000001}
        - contact: {join: [a, c], when: {knob: both}, ohms: 0.000001}
    """
)


def direct(part: str) -> Bench:
    """A battery and one part."""
    wires = ["bat:+ > p:a", "p:b > earth:z", "bat:- > earth:z"]
    return Bench(PARTS, {"bat": "battery", "p": part}, wires)


# -- absurd values -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("part", "does", "ohms"), [("micro", "warm", 1e-6), ("starter", "crank", 0.0072), ("mega", "warm", 1e7)]
)
def test_absurd_values_settle_and_add_up(part: str, does: str, ohms: float) -> None:
    """12.7 V over the part, 12 mohm of the battery and three wires of 20.5 mohm."""
    found = inspected(direct(part))
    (sample,) = found.survey.samples
    assert not sample.point.unsettled and sample.point.residual_amps < 1e-8
    assert sample.amps[found.survey.grid.loads["p", does]] == pytest.approx(12.7 / (ohms + 0.0735), rel=1e-3)


# -- parts apart -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("places", "wires"),
    [
        ({}, []),
        ({"bat": "battery"}, []),
        ({"p": "lamp"}, []),
        ({"bat": "battery", "p": "lamp"}, []),
        ({"bat": "battery", "p": "lamp", "q": "starter"}, ["bat:- > earth:z", "p:a > q:a", "q:b > p:b"]),
    ],
    ids=["nothing", "a source alone", "a lamp alone", "both apart", "two in a ring beside a battery"],
)
def test_where_nothing_is_fed_nothing_is_over_its_limit(places: dict[str, str], wires: list[str]) -> None:
    found = inspected(Bench(PARTS, places, wires))
    assert [strain for strain in strains(found) if strain.is_over] == []
    assert all(not any(sample.amps) for sample in found.survey.samples)


# -- exact joints ------------------------------------------------------------------------------------------


def crowd(switch: str) -> Bench:
    """Ten lamps on five switches that join two lamps each."""
    places, wires = {"bat": "battery"}, ["bat:- > earth:z"]
    for n in range(5):
        places |= {f"s{n}": switch, f"p{n}": "lamp", f"q{n}": "lamp"}
        wires += [f"bat:+ > s{n}:a", f"s{n}:b > p{n}:a", f"s{n}:c > q{n}:a"]
        wires += [f"p{n}:b > earth:z", f"q{n}:b > earth:z"]
    return Bench(PARTS, places, wires)


@pytest.fixture(params=[1, 10**6], ids=["together", "one by one"])
def batch(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """Solve from so many points on together."""
    monkeypatch.setattr(survey, "SOME_POINTS", request.param)
    monkeypatch.setattr(survey, "MANY_POINTS", request.param)
    yield request.param


@pytest.mark.usefixtures("batch")
def test_an_exact_contact_carries_what_one_of_a_micro_ohm_does() -> None:
    exact, near = inspected(crowd("exact")), inspected(crowd("switch"))
    assert exact.survey.solved > 8 and exact.survey.worst_residual_amps < 1e-9
    contacts = [(i, branch) for i, branch in exact.of_kind("contact")]
    assert len(contacts) == 10
    for index, branch in contacts:
        assert near.branch(index).name == branch.name
        amps = exact.survey.carried.peaks[index].amps
        assert amps > 1.5 and amps == pytest.approx(near.survey.carried.peaks[index].amps, rel=1e-3)


# -- what does not settle ----------------------------------------------------------------------------------


def test_what_does_not_settle_is_a_strain_that_names_the_element(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(island, "MOST_ROUNDS", 1)
    found = [strain for strain in strains(inspected(direct("lamp"))) if strain.kind == "unsettled"]
    assert [(strain.at, strain.note) for strain in found] == [("p", "load p shine")]
    assert all(strain.is_over for strain in found)


def test_a_plan_whose_loom_does_not_settle_is_unsafe_even_if_it_did_not_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    job, loom = read_job("lamp-on-a-sound-earth", catalogue())
    assert plan(job, loom, catalogue(), installed_rules()).verdict == "no-loss"
    monkeypatch.setattr(island, "MOST_ROUNDS", 1)
    made = plan(job, loom, catalogue(), installed_rules())
    assert (made.verdict, exit_status(made)) == ("unsafe", 1)
    told = [line for line in made.strains if line.kind == "unsettled"]
    assert told and all(line.is_new and line.is_dangerous for line in told)
    assert {line.at for line in told} <= set(loom.places) | {"roof.spot-lamp"}
    assert all("no operating point was found" in line.text for line in told)
