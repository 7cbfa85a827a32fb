"""The switches and conditions of two looms, side by side, as a page lets one throw them."""

from collections.abc import Iterator

from planner.circuit.network import Network
from planner.live.diagrams import Diagrams
from planner.model.page_states import NONE, LiveControl, LiveDetent
from planner.proof.align import ABSENT, Alignment, JointControl
from planner.proof.behaviour import View
from planner.proof.facts import place_titles


def live_controls(before: View, after: View, table: Diagrams) -> Iterator[LiveControl]:
    """Yield every control and condition of either loom, matched as the proof matches them.

    Those of the parts that the work exchanges come first.
    """
    alignment = Alignment(before.net, after.net, before.variable_number, after.variable_number)
    titles = place_titles(before.loom, before.net) | place_titles(after.loom, after.net)
    swapped = {
        place
        for place in {*before.loom.places, *after.loom.places}
        if before.loom.places.get(place) != after.loom.places.get(place)
    }
    ordered = sorted(alignment.controls.items(), key=lambda item: item[0].partition("/")[0] not in swapped)
    for name, control in ordered:
        yield LiveControl(
            name,
            _heading(titles[name]),
            _variable(before, name, table),
            _variable(after, name, table),
            tuple(_detents(control, before.net, after.net)),
        )


def _variable(view: View, name: str, table: Diagrams) -> int:
    number = view.variable_number.get(name)
    return NONE if number is None else table.variable(number)


def _heading(title: str) -> str:
    said = title.removeprefix("the ")
    return said[:1].upper() + said[1:]


def _detents(control: JointControl, before: Network, after: Network) -> Iterator[LiveDetent]:
    for detent in control.detents:
        net, value = (before, detent.before) if detent.after == ABSENT else (after, detent.after)
        variable = net.variables[control.name]
        meaning = variable.meanings[value]
        words = detent.label if meaning == variable.values[value] else f"{detent.label} ({meaning})"
        held = variable.values[value] in variable.sprung
        yield LiveDetent(f"{words}, held" if held else words, detent.before, detent.after)
