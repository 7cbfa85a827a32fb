"""How a dynamo is told which way it charges: by a live wire that goes on it for a moment.

Which terminal that is depends on where its field ends inside. One that ends in earth is fed by its
regulator, and the live wire goes on the field terminal. One that ends at the armature is earthed by its
regulator: a live wire on its field terminal would magnetise it the other way round. Common practice, no
source.
"""

from typing import Literal

from planner.messages import tr
from planner.model.elements import Winding
from planner.model.part import Part
from planner.model.wording import mark_words

_FIELD, _ARMATURE = "DF", ("D", "D+", "61")  # roles of DIN 72552
_EARTH = ("31", "D-")


def polarising_words(part: Part) -> str:
    """What is done at a dynamo, for the kind that it is; for both kinds where its data do not tell."""
    field = _called(part, (_FIELD,), tr("its field terminal"), tr("F or DF"))
    armature = _called(part, _ARMATURE, tr("its armature terminal"), tr("A, D or D+"))
    match _field_ends_in(part):
        case "earth":
            return _at_field(field)
        case "armature":
            return _at_armature(armature)
        case _:
            return tr(
                "first find out where its field ends inside, by its manual, or with its leads off and card "
                "under its live brush: ohms from {field} to its case. A few ohms, it ends in earth: "
                "{at_field}. Open, and a few ohms from there to {armature}, it ends at the armature, and a "
                "live wire on its field terminal would turn its magnetism round: {at_armature}",
                field=field,
                armature=armature,
                at_field=_at_field(tr("the field terminal")),
                at_armature=_at_armature(tr("the armature terminal")),
            )


def _at_field(field: str) -> str:
    return tr(
        "take the lead off {field}, touch that terminal two or three times, for a second, with a wire from a "
        "live terminal away from the battery, and put the lead on again",
        field=field,
    )


def _at_armature(armature: str) -> str:
    return tr(
        "leave the leads on, and touch {armature} once, for an instant, with a thick wire from a live "
        "terminal away from the battery, for it takes a heavy current",
        armature=armature,
    )


def _field_ends_in(part: Part) -> Literal["earth", "armature", ""]:
    """Where the field of a dynamo ends that is not its field terminal, as far as its data tell."""
    roles = {mark: terminal.role for mark, terminal in part.terminals.items()}
    for element in part.inside:
        if isinstance(element, Winding) and _FIELD in (ends := [roles.get(e, "") for e in element.between]):
            if any(role in _EARTH for role in ends):
                return "earth"
            if any(role in _ARMATURE for role in ends):
                return "armature"
    return ""


def _called(part: Part, roles: tuple[str, ...], title: str, marks: str) -> str:
    """What a terminal is called; where the regulator sits on the dynamo, its loom draws none."""
    mark = next((mark for mark, terminal in part.terminals.items() if terminal.role in roles), "")
    if mark:
        return f"{title} {mark_words(mark)}"
    return tr("{title} ({marks}: this loom does not draw it)", title=title, marks=marks)
