"""In words: which control of a new part is which of the old one's, where the name does not tell it."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.done_together import done_together, is_done_together
from planner.model.elements import Contact
from planner.model.paired_positions import shared_labels
from planner.model.part import Part
from planner.model.same_variables import SameVariables, crossed_names


def renamed_controls(old: Part, new: Part, match: SameVariables) -> Iterator[str]:
    """Yield a sentence for each control that the new part calls otherwise, with its labels."""
    for name, other in match.names.items():
        if name in old.controls and name != other:
            labels = [
                tr("{old} is {new}", old=a, new=b) for a, b in shared_labels(old, new, name, other) if a != b
            ]
            told = tr("'{old}' of the old part is '{new}' on the new one", old=name, new=other)
            yield tr("{told}, where {labels}", told=told, labels=", ".join(labels)) if labels else told


def controls_in_doubt(old: Part, new: Part, match: SameVariables) -> dict[str, tuple[str, ...]]:
    """Each old control that may be several of the new part, with those.

    One that several do together is in no doubt: which of them bears its name changes nothing at the wires.
    """
    return {
        name: others
        for name, others in match.undecided.items()
        if not is_done_together(old, new, match.names, name)
    }


def undecided_controls(old: Part, new: Part, match: SameVariables) -> Iterator[tuple[str, str, str]]:
    """Yield each old control that may be several of the new part: itself, those, and the one taken."""
    for name, others in controls_in_doubt(old, new, match).items():
        yield name, " or ".join(f"'{other}'" for other in others), match.names[name]


def crossed_controls(old: Part, new: Part) -> Iterator[str]:
    """Yield a sentence for each control that goes by its name while another of the new part does its work."""
    for name, other in crossed_names(old, new).items():
        yield tr(
            "'{other}' of the new part does what '{name}' did on the old one, and '{name}' does not",
            other=other,
            name=name,
        )


def worked_together(old: Part, new: Part, match: SameVariables) -> Iterator[str]:
    """Yield a sentence for each position that is gone while several controls of the new part do its work."""
    for name, label, way in done_together(old, new, match.names):
        if way:
            moved = tr(" and ").join(
                tr("'{control}' at {label}", control=control, label=at) for control, at in way.items()
            )
            yield tr(
                "the new part has no '{name}' at {label}; with {moved} it does the same",
                name=name,
                label=label,
                moved=moved,
            )


def worked_by_itself(old: Part, new: Part, match: SameVariables) -> Iterator[tuple[str, str]]:
    """Yield the condition that worked the old part and not the new one, with the new one's control instead.

    A part that was measured on the bench has a control, for nobody saw there what works it.
    """
    taken = set(match.names.values())
    free = [name for name in new.controls if name not in taken]
    worked = [name for name in _conditions(old) if name not in _conditions(new) and name not in new.variables]
    if len(free) == 1 == len(worked):
        yield worked[0], free[0]


def _conditions(part: Part) -> dict[str, None]:
    """The vehicle's conditions that contacts of a part wait for."""
    contacts = [element for element in part.inside if isinstance(element, Contact)]
    return dict.fromkeys(name for each in contacts for name in each.when if name not in part.variables)
