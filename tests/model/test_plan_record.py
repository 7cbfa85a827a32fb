"""The record of a plan as the contract's document."""

import json
from dataclasses import replace
from typing import Any

import pytest

from planner.model.need import Fault
from planner.model.plan import (
    AlternativeLine,
    BehaviourLine,
    CurrentsLine,
    HazardLine,
    LoadLine,
    Plan,
    PlanStep,
    ProofLine,
    QuestionLine,
    RemarkLine,
    StrainLine,
)
from planner.model.strain import Strain

STEP = PlanStep(
    n=1,
    do="move",
    fields={"wire": "W41", "from": "p:M", "to": "p:53", "colour": "BK/RD", "mm2": 1.5, "metres": 0.8},
    text="Move the black/red wire (W41) from M to 53",
    because=("same-role",),
    facts=("M and 53 do the same",),
    source="invented",
    reversible=True,
    minutes=1.0,
)
LOAD = LoadLine("p", "shine", "the place", 11.1234567, "with the lever up", "full", None, 13.0, 12.0)
PLAN = Plan(
    job="job",
    title="A job",
    loom="A loom",
    is_demonstration=False,
    verdict="losses",
    road="not-known",
    road_why=("not in this loom: horn",),
    cards=(),
    steps=(STEP,),
    behaviours=(
        BehaviourLine(
            what="wipe fast", at="p", title="the place", outcome="gained", before="off", after="full",
            when="with the ignition on", positions=({"ignition": "on"},), in_new_position=True,
        ),
    ),
    hazards=(HazardLine("short", "p:x", "a short", "always", ({},), ("p:x", "earth"), was_before=True),),
    unsettled=("an end",),
    questions=(QuestionLine("what?", "there", "so", (("12 V", "live"),), "rule", "invented"),),
    remarks=(RemarkLine("mind", "rule", "invented"),),
    cautions=("care",),
    not_seen=("the rest",),
    alternatives=(AlternativeLine("other", 12.5, ("a step",), ("a loss",), "rule", ("fact",)),),
    proof=ProofLine(positions=8, start_states=2, solved=3, compared=4, looms=5, seconds=0.25),
    minutes=20.5,
    is_proven_cheapest=False,
    strains=(
        StrainLine(
            kind="wire", at="W1", leg=0, text="too much", value=20.0, limit=10.0, unit="A", use=2.0,
            is_least=False, is_dangerous=True, is_wearing=False, before=None, was_over=False, is_new=True,
            when="with the lamp on", position={"lamp": "on"}, loads=(("p", "lamp"),), path=(),
            source="a table", basis="memory", duty="none",
        ),
    ),
    currents=CurrentsLine(7, 1e-12, 40.0, 20.0, (LOAD,), "how loads look"),
)  # fmt: skip


def document(**changes: Any) -> dict[str, Any]:
    return replace(PLAN, **changes).as_json()


def test_the_document_is_json_and_says_everything_the_contract_names() -> None:
    read = json.loads(json.dumps(document()))
    contract = {
        "job", "verdict", "road", "steps", "behaviours", "hazards", "unsettled", "questions", "cautions",
        "not_seen", "alternatives", "proof", "cost",
    }  # fmt: skip
    assert contract <= set(read)


def test_a_step_has_its_number_its_word_its_own_fields_and_its_reasons() -> None:
    (step,) = document()["steps"]
    expected = {
        "n": 1, "do": "move", "wire": "W41", "from": "p:M", "to": "p:53", "colour": "BK/RD", "mm2": 1.5,
        "metres": 0.8, "because": ["same-role"], "source": "invented", "reversible": True,
    }  # fmt: skip
    assert expected.items() <= step.items()


def test_road_behaviours_and_hazards_are_as_the_contract_has_them() -> None:
    made = document()
    assert made["road"] == {"fit": "not-known", "why": ["not in this loom: horn"]}
    (line,) = made["behaviours"]
    assert (line["what"], line["at"], line["outcome"], line["when"]) == (
        "wipe fast", "p", "gained", "with the ignition on"
    )  # fmt: skip
    assert line["positions"] == [{"ignition": "on"}]
    (hazard,) = made["hazards"]
    assert (hazard["kind"], hazard["path"], hazard["was_before"]) == ("short", ["p:x", "earth"], True)


def test_a_question_says_where_how_and_what_each_answer_means() -> None:
    assert document()["questions"] == [
        {
            "about": "what?",
            "where": "there",
            "how": "so",
            "answers": [{"reading": "12 V", "means": "live"}],
            "because": "rule",
            "source": "invented",
        }
    ]


def test_an_alternative_says_its_minutes_its_steps_and_what_it_loses() -> None:
    (other,) = document()["alternatives"]
    assert (other["title"], other["minutes"], other["steps"], other["loses"]) == (
        "other", 12.5, ["a step"], ["a loss"]
    )  # fmt: skip


def test_the_proof_the_cost_and_whether_it_is_the_cheapest_are_said() -> None:
    made = document()
    assert made["proof"]["positions"] == 8 and made["proof"]["seconds"] == 0.25
    assert made["cost"] == 20.5 and made["proven_cheapest"] is False


def test_the_currents_say_each_value_with_its_limit_unit_source_and_position() -> None:
    made = document()["currents"]
    assert (made["points"], made["worst_residual_amps"]) == (7, 1e-12)
    (strain,) = made["strains"]
    assert (strain["value"], strain["limit"], strain["unit"], strain["use"]) == (20.0, 10.0, "A", 2.0)
    assert (strain["kind"], strain["at"], strain["leg"], strain["new"]) == ("wire", "W1", 0, True)
    assert (strain["source"], strain["basis"], strain["when"]) == ("a table", "memory", "with the lamp on")
    assert strain["loads"] == [{"at": "p", "what": "lamp"}] and strain["position"] == {"lamp": "on"}


@pytest.mark.parametrize("verdict", ["no-loss", "losses", "measure", "unsettled", "unsafe"])
def test_the_verdict_is_passed_on_as_it_is(verdict: str) -> None:
    assert document(verdict=verdict)["verdict"] == verdict


def test_the_volts_of_loads_have_their_unit_in_their_name_and_the_conditions_beside_them() -> None:
    found = document()["currents"]
    assert (found["charge_percent"], found["wire_celsius"], found["appearance"]) == (40, 20, "how loads look")
    assert found["loads"] == [
        {
            "at": "p", "what": "shine", "title": "the place", "least_volts": 11.123457,
            "least_when": "with the lever up", "looks": "full", "before_least_volts": None,
            "most_volts": 13.0, "rated_volts": 12.0,
        }
    ]  # fmt: skip


def test_a_plan_without_the_electrical_view_has_no_conditions_and_no_loads() -> None:
    found = document(currents=None)["currents"]
    assert (found["charge_percent"], found["wire_celsius"], found["loads"]) == (None, None, [])


def test_what_a_new_part_could_do_besides_and_what_only_wears_is_no_loss() -> None:
    worn = Strain("drop", "lamp", 1.0, 0.5, "V", "a source", "tested", {})
    burning = Strain("wire", "W1", 20.0, 10.0, "A", "a source", "tested", {})
    assert not Fault("unused", "flash", "lamp").is_loss and Fault("missing", "flash", "lamp").is_loss
    assert not Fault("strain", "drop", "lamp", strain=worn).is_loss
    assert Fault("strain", "wire", "W1", strain=burning).is_loss
