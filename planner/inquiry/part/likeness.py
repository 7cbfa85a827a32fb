"""How well a part that explains the readings answers to what a person says and measures besides."""

from collections.abc import Iterator, Sequence
from math import inf, log, sqrt
from string import ascii_lowercase

from planner.inquiry.part.bench_view import Setting
from planner.inquiry.part.element_ohms import JOINT, UNKNOWN, Ohms
from planner.model.elements import Coil, Control
from planner.model.part import Part

OHMS_WORTH_COMPARING = 2.0  # below it leads and contacts say more than what is inside
_REST_WORDS = {"0", "off", "rest", "at rest"}
_ROWS = (ascii_lowercase, [str(number) for number in range(1, 100)])


def are_own_names(names: Sequence[str]) -> bool:
    """Whether terminals are lettered or numbered through, so that their names are of the person's making."""
    said = {name.lower() for name in names}
    return any(said == set(row[: len(said)]) for row in _ROWS)


def misfit(most: float, says: object, ohms: Ohms) -> float:
    """How far a reading is from the middle of what there may be, as the square of a logarithm.

    Where a part may show anything it counts as one that is three times too high.
    """
    if ohms == UNKNOWN:
        return log(3.0) ** 2
    if not isinstance(says, float) or most < OHMS_WORTH_COMPARING or ohms == JOINT or ohms[1] == inf:
        return 0.0
    return log(max(says, 1e-3) / sqrt(max(ohms[0], 1e-3) * ohms[1])) ** 2


def unseen(part: Part, seen: Sequence[Sequence[Setting]]) -> Iterator[str]:
    """Yield positions of its controls, and fed coils, that are in none of the settings seen."""
    for element in part.inside:
        if isinstance(element, Control):
            for position in element.positions:
                if not any(s[element.name] == position.label for settings in seen for s in settings):
                    yield f"{element.name}: {position.meaning}"
        elif isinstance(element, Coil):
            pulled = part.variables[element.name][1]
            if not any(s[element.name] == pulled for settings in seen for s in settings):
                yield f"{element.name}: coil fed"


def called(part: Part, setting: Setting) -> set[str]:
    """What a person may call a setting: its labels, what they mean, and words for rest."""
    words = {label.lower() for label in setting.values()}
    for name, control in part.controls.items():
        words |= {p.meaning.lower() for p in control.positions if p.label == setting[name]}
        words |= _REST_WORDS if setting[name] == control.positions[0].label else set()
    return words
