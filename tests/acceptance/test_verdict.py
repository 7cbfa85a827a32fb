"""The verdict is the worst that applies; what the owner accepts is printed and does not count."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from planned import catalogue, every, lines, planned, positions, worse

from planner.engine.packs import installed_rules
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import Fault
from planner.model.part import MEASURED_SOURCE
from planner.model.plan import Plan
from planner.model.strain import Strain, StrainKind
from planner.pipeline import plan
from planner.proof.prove import Prover
from planner.proof.unproven import drawn_but_never_working, drawn_on_one_side
from planner.reading.catalogue import read_job, read_loom
from planner.telling.verdict import exit_status, judge

LAMP = ("interior light", "cab.interior-lamp")
SHUT = {"left.door-switch/door": "shut", "right.door-switch/door": "shut"}


def accepting(name: str, *accepts: Mapping[str, Any]) -> Plan:
    """A shipped job whose owner accepts some losses."""
    job, loom = read_job(name, catalogue())
    data = {**job.model_dump(by_alias=True), "accepts": list(accepts)}
    return plan(Job.model_validate(data), loom, catalogue(), installed_rules())


class TestAccepted:
    def test_an_accepted_loss_is_printed_and_changes_neither_verdict_nor_exit_status(self) -> None:
        made = accepting("interior-lamp-without-earth", {"what": LAMP[0], "at": LAMP[1]})
        (line,) = lines(made, "lost")
        assert (line.what, line.at, line.accepted) == (*LAMP, True)
        assert (made.verdict, exit_status(made)) == ("no-loss", 0)

    def test_a_loss_accepted_in_its_very_positions_is_accepted(self) -> None:
        when = {"cab.interior-lamp/lamp switch": "on", **SHUT}
        made = accepting("interior-lamp-without-earth", {"what": LAMP[0], "at": LAMP[1], "when": when})
        assert made.verdict == "no-loss" and worse(made) == []

    @pytest.mark.parametrize(
        "accepted",
        [
            {"what": LAMP[0], "at": "cab.load-lamp"},
            {"what": "sorting light"},
            {"what": LAMP[0], "when": {"left.door-switch/door": "open"}},
        ],
        ids=["another place", "another load", "another position"],
    )
    def test_accepting_something_else_accepts_nothing(self, accepted: Mapping[str, Any]) -> None:
        made = accepting("interior-lamp-without-earth", accepted)
        assert (made.verdict, exit_status(made)) == ("losses", 1)
        assert [line.accepted for line in lines(made, "lost")] == [False]

    def test_of_two_losses_the_one_that_is_not_accepted_makes_the_verdict(self) -> None:
        made = accepting("ignition-switch-accessory-drops", {"what": "radio"})
        assert {line.what: line.accepted for line in lines(made, "lost")} == {
            "radio": True, "blow warm air": False
        }  # fmt: skip
        assert made.verdict == "losses"
        found = positions(made, "lost", "radio", "dash.radio")
        start = {"dash.ignition-switch/ignition": "start", "dash.radio/radio switch": "on"}
        assert found == every(start)

    def test_a_function_of_the_new_part_that_the_van_never_had_and_nobody_wants_is_no_loss(self) -> None:
        """A two-speed motor on a one-speed switch: it wipes as before, and is told to be able to do more."""
        made = planned("two-speed-motor-only")
        assert [line.what for line in lines(made, "unused")] == ["wipe fast"]
        assert (made.verdict, exit_status(made)) == ("no-loss", 0)


def strain(kind: StrainKind) -> Fault:
    value = Strain(kind, "W1", 20.0, 10.0, "A", "ours", "invented", {})
    return Fault("strain", kind, "W1", strain=value)


SHORT = Fault("hazard", "short", "p:x", hazard="short")
DEAD = Fault("hazard", "dead position", "p", hazard="dead-position")
LOST = Fault("lost", "lamp", "p")


@pytest.mark.parametrize(
    ("faults", "has_questions", "is_unsettled", "verdict"),
    [
        ((), False, False, "no-loss"),
        ((LOST,), False, False, "losses"),
        ((DEAD,), False, False, "losses"),
        ((LOST,), True, False, "measure"),
        ((), True, False, "measure"),
        ((LOST,), True, True, "unsettled"),
        ((), False, True, "unsettled"),
        ((SHORT, LOST), True, True, "unsafe"),
        ((SHORT,), False, False, "unsafe"),
        ((strain("wire"),), False, False, "unsafe"),
        ((strain("coil"),), False, False, "losses"),
        ((strain("drop"),), False, False, "no-loss"),
    ],
)
def test_the_verdict_is_the_worst_that_applies(
    faults: Sequence[Fault], has_questions: bool, is_unsettled: bool, verdict: str
) -> None:
    assert judge(faults, has_questions, is_unsettled) == verdict


def test_an_accepted_fault_does_not_count() -> None:
    accepted = Fault("lost", "lamp", "p", accepted=True)
    assert judge((accepted,), has_questions=False, is_unsettled=False) == "no-loss"


class TestWhatNeverWorks:
    """Where nothing works before, "as before" is no comfort."""

    def test_of_loads_that_never_work_nothing_is_proven_and_each_is_named(self) -> None:
        job, loom = read_job("foot-heater-like-the-old-one", catalogue())
        assert planned(job.job).verdict == "no-loss"
        strap = ["bay.battery:-", "earth:bay"]
        wires = [wire for wire in loom.wires if [end.at for end in wire.ends] != strap]
        assert len(wires) == len(loom.wires) - 1
        data = {**loom.model_dump(by_alias=True), "wires": wires}
        made = plan(job, Loom.model_validate(data), catalogue(), installed_rules())
        assert made.verdict == "measure"
        (question,) = [q for q in made.questions if "never do" in q.about]
        view = Prover(Loom.model_validate(data), catalogue(), job).before
        never = list(drawn_but_never_working(view, catalogue()))
        assert never and all(what in question.about for _, what in never)
        assert dict(question.answers).keys() == {"they work", "they do not"}

    def test_of_a_load_that_is_drawn_on_one_side_the_plan_remarks_that_nothing_is_proven(self) -> None:
        job, loom = read_job("foot-heater-like-the-old-one", catalogue())
        said = "only one side is drawn"
        assert not [remark for remark in planned(job.job).remarks if said in remark.text]
        earth = ["dash.demister:31", "earth:dash"]
        wires = [wire for wire in loom.wires if [end.at for end in wire.ends] != earth]
        assert len(wires) == len(loom.wires) - 1
        half = Loom.model_validate({**loom.model_dump(by_alias=True), "wires": wires})
        view = Prover(half, catalogue(), job).before
        loads = list(drawn_on_one_side(view, catalogue()))
        assert loads == [("dash.demister", "clear the screen")]
        assert list(drawn_but_never_working(view, catalogue())) == []
        made = plan(job, half, catalogue(), installed_rules())
        (remark,) = [remark for remark in made.remarks if said in remark.text]
        assert "clear the screen (screen demister)" in remark.text

    @pytest.mark.parametrize("name", sorted(catalogue().loom_files))
    def test_in_every_shipped_loom_each_load_works_somewhere(self, name: str) -> None:
        nothing = Job.model_validate({"job": "nothing", "loom": name})
        view = Prover(read_loom(name, catalogue()), catalogue(), nothing).before
        assert list(drawn_but_never_working(view, catalogue())) == []


def test_a_part_that_only_a_meter_knows_is_asked_about_however_well_its_contacts_fit() -> None:
    """Joints and ohms say nothing of what contacts carry and how wires go on."""
    job, loom = read_job("two-speed-wipers", catalogue())
    switch = catalogue().parts["wiper-switch-two-speed"]
    measured = switch.model_copy(update={"source": MEASURED_SOURCE})
    known = replace(catalogue(), parts={**catalogue().parts, switch.part: measured})
    made = plan(job, loom, known, installed_rules())
    assert made.verdict == "measure"
    assert [q.about for q in made.questions if "made to carry" in q.about]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("fuse-box-with-larger-fuses", "a fuse carries far more than the one before it"),
        ("fuse-box-with-like-fuses", ""),
        ("launch-torpedo-to-blade", ""),  # 10 A for 8 A
        ("route-recorder", "the route recorder, dash is dead with the key off"),
        ("route-recorder-ignition", ""),
        ("minibus-bulb-check-out", "nothing tells any more what the bulb check warning lamp told"),
        ("minibus-alternator-built-in", ""),
    ],
)
def test_the_verdict_says_as_well_what_no_load_shows(name: str, said: str) -> None:
    buts = [remark.but for remark in planned(name).remarks if remark.but]
    assert [said in but for but in buts] == [True] * bool(said)
