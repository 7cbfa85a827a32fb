"""What was found for one loom is not told of another in which it would be something else."""

from random_looms import PARTS
from small_looms import Bench, make_parts

from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.currents.found import Assignment, Found
from planner.currents.positions import Positions
from planner.currents.seek import Seek, Wanted
from planner.proof.behaviour import View

BUTTONS = """
button:
  terminals: {A: "30", B: "58"}
  inside:
    - control: {name: button, positions: [released, pressed], returns: released}
    - contact: {join: [A, B], when: {button: pressed}}
latching-button:
  terminals: {A: "30", B: "58"}
  inside:
    - control: {name: button, positions: [released, pressed]}
    - contact: {join: [A, B], when: {button: pressed}}
"""
HORN = ("horn", "turn")


def with_horn_on_for_good(positions: Positions) -> Assignment | None:
    table = positions.loads[HORN]
    part = positions.parts.of(table.scope)
    wanted: Wanted = {(part,): ("most", lambda: {table.scope: list(table.rows.values())})}
    return Seek(positions).heaviest(wanted, {}, lasting=True)


def test_a_button_that_springs_back_is_sought_anew_where_one_that_stays_was_found() -> None:
    wires = ["bat:+ > b:A", "b:B > horn:A", "horn:E > earth:z", "bat:- > earth:z"]
    parts = make_parts(PARTS) | make_parts(BUTTONS)
    store, projector, found = Store(12.0), Projector(), Found()
    moved = []
    for button in ("latching-button", "button"):
        bench = Bench(parts, {"bat": "battery", "b": button, "horn": "motor"}, wires)
        view = View(bench.loom, bench.catalogue, store, projector)
        moved.append(with_horn_on_for_good(Positions(view, found)))
    assert moved == [{0: 1}, {}]
