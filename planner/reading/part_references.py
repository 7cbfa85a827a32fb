"""What a part refers to and does not have: terminals, armatures, labels, roles, sources."""

from collections.abc import Iterator, Mapping

from planner.model.catalogue import Publication
from planner.model.elements import Cam, Coil, Control, Load, Step
from planner.model.part import Part, Role
from planner.problems import Problem
from planner.reading.unknown_names import item_path, unknown, unknown_labels
from planner.reading.yaml_source import DataPath, Document


def check_part(
    part: Part,
    document: Document,
    path: DataPath,
    roles: Mapping[str, Role],
    sources: Mapping[str, Publication],
) -> list[Problem]:
    """What a part refers to and is not there; variables it leaves to the loom are checked with a loom."""
    return list(_part_problems(part, document, path, roles, sources))


def _part_problems(
    part: Part,
    document: Document,
    path: DataPath,
    roles: Mapping[str, Role],
    sources: Mapping[str, Publication],
) -> Iterator[Problem]:
    if part.source not in sources:
        yield unknown(document, (*path, "source"), "source", part.source, sources)
    for mark, terminal in part.terminals.items():
        if terminal.role is not None and terminal.role not in roles:
            yield unknown(document, (*path, "terminals", mark, "role"), "role", terminal.role, roles)
    yield from _name_problems(part, document, path)
    for index, element in enumerate(part.inside):
        inside = (*path, "inside", index, element.element)
        yield from _label_problems(part, document, inside, getattr(element, "when", {}))
        if isinstance(element, Control):
            yield from _control_problems(element, document, inside)
        between = getattr(element, "between", ("", "other"))
        if between[0] == between[1]:
            message = f"both ends of the {element.element} are on {between[0]!r}"
            yield Problem(document.value_place((*inside, "between")), message)


def _name_problems(part: Part, document: Document, path: DataPath) -> Iterator[Problem]:
    nodes = (*part.terminals, *part.nodes)
    coils = [e.name for e in part.inside if isinstance(e, Coil)]
    loads = [e.does for e in part.inside if isinstance(e, Load) and e.does]
    for index, key, kind, name in part.references():
        here = (*path, "inside", index, part.inside[index].element, key)
        at = item_path(document, here, name)
        if kind == "node" and name not in nodes:
            yield unknown(document, at, "terminal or node of this part", name, nodes)
        elif isinstance(part.inside[index], Step) and key == "stepped_by" and name not in coils:
            yield unknown(document, at, "armature of this part", name, coils)
        elif isinstance(part.inside[index], Cam) and key == "turned_by" and name not in loads:
            yield unknown(document, at, "load of this part", name, loads)


def _label_problems(
    part: Part, document: Document, inside: DataPath, when: Mapping[str, tuple[str, ...]]
) -> Iterator[Problem]:
    for name, labels in when.items():
        if name in part.variables:
            yield from unknown_labels(labels, part.variables[name], name, document, (*inside, "when", name))


def _control_problems(control: Control, document: Document, inside: DataPath) -> Iterator[Problem]:
    labels = [position.label for position in control.positions]
    if control.returns is not None and control.returns not in labels:
        yield unknown(
            document, (*inside, "returns"), f"position of {control.name!r}", control.returns, labels
        )
    for index, label in enumerate(labels):
        if label in labels[:index]:
            message = f"two positions of {control.name!r} are labelled {label!r}"
            yield Problem(document.value_place((*inside, "positions", index)), message)
