"""A job whose swap introduces the published sneak of radio, hazard and brake: found, and cured.

Source: P. L. Clemens, Sneak Circuit Analysis, training slides, 2002, example 1. Basis: requirements, design,
result and backward path confirmed; the netlist is the reference file's reading of them. The radio runs in
step with the stop lamps when the ignition is off, the radio switch is on, the hazard is on and the brake
pedal is pressed: power flows backwards through the brake switch.
"""

from generated_looms import catalogue as shipped
from small_looms import ROLES, make_parts

from planner.engine.packs import installed_rules
from planner.engine.settle import Settler
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import Fault
from planner.model.plan import Plan
from planner.pipeline import plan
from planner.proof.prove import Prover

PARTS = make_parts(
    """
    battery:
      terminals: {"+": {role: B+, holds: 4}, "-": B-}
      inside: [{source: {between: ["+", "-"], volts: 12}}]
    key:
      terminals: {A: {role: "30", holds: 2}, I: {role: "15", holds: 2}}
      inside:
        - control: {name: ignition, positions: ["off", "on"]}
        - contact: {join: [A, I], when: {ignition: "on"}}
    stop:
      terminals: {in: "15", out: {role: "54", holds: 3}}
      inside:
        - control: {name: brake, positions: [released, pressed]}
        - contact: {join: [in, out], when: {brake: pressed}}
    hazard:
      terminals: {"30": "30", "54": "54"}
      inside:
        - control: {name: hazard, positions: ["off", "on"]}
        - contact: {join: ["30", "54"], when: {hazard: "on"}}
    lamp:
      terminals: {f: "54", case: {role: "31", by: mounting}}
      inside: [{lamp: {between: [f, case], watts: 21, does: stop lamp, duty: stop}}]
    radio:
      terminals: {A: "75", case: {role: "31", by: mounting}}
      nodes: [on]
      inside:
        - control: {name: radio switch, positions: ["off", "on"]}
        - contact: {join: [A, "on"], when: {radio switch: "on"}}
        - resistor: {between: ["on", case], ohms: 12, watts: 12, does: radio}
    """
)
DIODE = make_parts("diode: {terminals: {a: '', k: ''}, inside: [{diode: {between: [a, k], amps: 6}}]}")
LOOM = Loom.model_validate(
    {
        "loom": "sixties",
        "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"car": {}},
        "places": {
            f"car.{name}": {"part": name, "zone": "car"}
            for name in ("battery", "key", "stop", "lamp", "radio")
        },
        "wires": [
            {"wire": f"W{n}", "colour": colour, "mm2": 1.5, "metres": 1, "ends": ends}
            for n, (colour, ends) in enumerate(
                [
                    ("RD", ["car.battery:+", "car.key:A"]),
                    ("OG", ["car.key:I", "car.stop:in"]),
                    ("BN", ["car.stop:out", "car.lamp:f"]),
                    ("PK", ["car.key:I", "car.radio:A"]),
                    ("BK", ["car.battery:-", "earth:car"]),
                ],
                1,
            )
        ],
    }
)
PUBLISHED = {"car.key/ignition": "off", "car.hazard/hazard": "on", "car.stop/brake": "pressed"}


def catalogue(*more: str) -> Catalogue:
    diode = {"diode": DIODE["diode"].model_copy(update={"family": "in-line"})} if "diode" in more else {}
    return Catalogue(ROLES, {}, {**PARTS, **diode}, {}, {}, {}, load_standards=lambda: shipped().standards)


def job(*more_wants: dict[str, object]) -> Job:
    return Job.model_validate(
        {
            "job": "hazard-added",
            "loom": "sixties",
            "swaps": [{"at": "car.hazard", "fit": "hazard", "zone": "car", "mounting": "insulated"}],
            "wants": [{"what": "stop lamp", "is": "full", "when": {"hazard": "on"}}, *more_wants],
        }
    )


def test_the_swap_alone_brings_the_sneak_in_exactly_the_published_positions() -> None:
    prover = Prover(LOOM, catalogue(), job())
    sneaks: list[Fault] = []

    def judge(some_job: Job, after: Loom) -> tuple[Fault, ...]:
        faults = prover.prove(after, some_job).faults
        sneaks.extend(f for f in faults if f.what == "radio" and f.kind == "unintended")
        return faults

    Settler(LOOM, catalogue(), job(), installed_rules(), prover.facts, judge).settle()
    sneak = sneaks[0]
    assert sneak.positions == ({**PUBLISHED, "car.radio/radio switch": "on"},)
    through_the_brake = [node for node in sneak.path if node.startswith("car.stop:")]
    assert through_the_brake == ["car.stop:out", "car.stop:in"], "backwards, from output to input"


def settled(result: Plan) -> set[str]:
    assert [line for line in result.behaviours if line.outcome in ("unintended", "lost", "changed")] == []
    assert {line.what for line in result.behaviours if line.outcome == "gained"} == {"stop lamp"}
    assert result.verdict == "no-loss"
    return {step.do for step in result.steps if "back-feed" in step.because}


def test_a_diode_cures_it() -> None:
    assert settled(plan(job(), LOOM, catalogue("diode"), installed_rules())) == {"insert"}


def test_where_the_stop_lamps_may_burn_with_the_key_off_the_feed_from_the_battery_cures_it() -> None:
    wish = {"what": "stop lamp", "is": "full", "when": {"brake": "pressed"}}
    assert settled(plan(job(wish), LOOM, catalogue(), installed_rules())) == {"move"}


def test_without_either_the_sneak_is_said_and_the_plan_is_no_clean_one() -> None:
    result = plan(job(), LOOM, catalogue(), installed_rules())
    assert [line.what for line in result.behaviours if line.outcome == "unintended"] == ["radio"]
    assert result.verdict == "losses"
