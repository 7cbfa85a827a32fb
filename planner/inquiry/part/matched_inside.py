"""What is inside a matched part, by the person's names: contacts as read, the rest as the match has it."""

from collections.abc import Iterator, Mapping, Sequence
from math import isclose
from typing import Any

from planner.inquiry.part.asked import Asked, Question
from planner.inquiry.part.bench_view import Setting
from planner.inquiry.part.element_ohms import JOINT, element_ohms
from planner.inquiry.part.explanation import Explanation
from planner.inquiry.part.joints import Joined, joined
from planner.model.elements import AnyElement, Coil, Contact, Control, Gauge, Resistor


def matched_inside(asked: Asked, match: Explanation) -> Iterator[dict[str, Any]]:
    """Yield the elements: those of the match, but contacts between terminals as they were read."""
    names = {mark: name for name, mark in match.marks.items()}
    labels = _labels(match)
    terminals = set(match.part.terminals)
    for element in match.part.inside:
        if isinstance(element, Control):
            yield _control(element, labels)
        elif not isinstance(element, Contact):
            yield _renamed(element, names, labels) | _measured(element, names, match)
        elif not set(element.join) <= terminals - set(match.left_out):
            yield _renamed(element, names, labels)  # nobody can measure at an inner node
    for group in joined(asked, lambda question: _is_joint(match, question)):
        if group.is_always:
            yield {"element": "contact", "join": group.terminals}
        else:
            yield from _contacts(group, match, labels)


def _is_joint(match: Explanation, question: Question) -> bool:
    return match.ohms(question.position, question.red, question.black) == JOINT


def _labels(match: Explanation) -> Mapping[tuple[str, str], str]:
    """The person's names for the positions of the one control, by the control and its own label."""
    controls = list(match.part.controls.values())
    if len(controls) != 1:
        return {}
    name = controls[0].name
    found: dict[tuple[str, str], str] = {}
    for position, settings in match.settings.items():
        values = {setting[name] for setting in settings}
        if len(values) != 1 or (name, *values) in found:
            return {}
        found[name, values.pop()] = position
    return found if len(found) > 1 else {}


def _control(control: Control, labels: Mapping[tuple[str, str], str]) -> dict[str, Any]:
    """The control with the positions that were read, if these are just its own; else as the match has it."""
    positions = [
        {"label": labels.get((control.name, p.label), p.label), "meaning": p.meaning}
        for p in control.positions
        if not labels or (control.name, p.label) in labels
    ]
    returns = labels.get((control.name, control.returns or ""), control.returns)
    is_kept = returns in [position["label"] for position in positions]
    data: dict[str, Any] = {"element": "control", "name": control.name, "positions": positions}
    data |= {"runs_out": True} if control.runs_out else {}
    return data | ({"returns": returns} if is_kept else {})


def _renamed(
    element: AnyElement, names: Mapping[str, str], labels: Mapping[tuple[str, str], str]
) -> dict[str, Any]:
    data: dict[str, Any] = element.model_dump()
    for key in ("between", "join", "supply"):
        if data.get(key):
            data[key] = tuple(names.get(name, name) for name in data[key])
    if "earth" in data:
        data["earth"] = names.get(data["earth"], data["earth"])
    if data.get("when"):
        data["when"] = {
            name: [labels.get((name, value), value) for value in values]
            for name, values in data["when"].items()
        }
    return data


def _measured(element: AnyElement, names: Mapping[str, str], match: Explanation) -> dict[str, Any]:
    """The ohms that were read across an element, where it is one that a meter reads by itself."""
    if not isinstance(element, Coil | Resistor | Gauge):
        return {}
    pair = {names.get(name) for name in element.between}
    for question in match.asked.questions:
        says = question.reading.says
        if set(question.reading.pair) == pair and isinstance(says, float):
            settings = match.settings[question.reading.position]
            least, most = element_ohms(element, match.part.volts, settings[0], any_coil=match.view.any_coil)
            here = match.ohms(question.position, question.red, question.black)
            if isclose(here[0], least) and isclose(here[1], most + JOINT[1]):  # nothing beside it
                return {"ohms": round(max(says - (match.asked.leads_ohms or 0.0), 0.01), 3)}
    return {}


def _contacts(
    group: Joined, match: Explanation, labels: Mapping[tuple[str, str], str]
) -> Iterator[dict[str, Any]]:
    """Yield a contact for the positions of a group, one for each if they are set by more than one thing."""
    conditions = [_condition(match, match.settings[position]) for position in group.positions]
    changing = {name for condition in conditions for name in condition}
    if len(changing) == 1:
        (name,) = changing
        values = dict.fromkeys(value for condition in conditions for value in condition[name])
        conditions = [{name: list(values)}]
    for condition in conditions:
        yield {"element": "contact", "join": group.terminals, "when": _called(condition, labels)}


def _called(when: Mapping[str, Sequence[str]], labels: Mapping[tuple[str, str], str]) -> dict[str, list[str]]:
    return {name: [labels.get((name, value), value) for value in values] for name, values in when.items()}


def _condition(match: Explanation, settings: Sequence[Setting]) -> dict[str, list[str]]:
    """What has to be set for a position: each variable that is not free in it, with its values."""
    found: dict[str, list[str]] = {}
    everywhere = [s for alike in match.view.alike for s in alike.settings]
    for name in settings[0]:
        values = list(dict.fromkeys(setting[name] for setting in settings))
        if len(values) < len({setting[name] for setting in everywhere}) and "" not in values:
            found[name] = values
    return found or {name: [value] for name, value in settings[0].items() if value}
