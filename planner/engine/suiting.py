"""Parts of the catalogue that suit a case: all of a family, and the weakest that bears some amps."""

from collections.abc import Callable, Iterator, Sequence
from math import inf
from typing import TypeVar

from planner.engine.case import Case
from planner.model.elements import Diode, Fuse
from planner.model.part import Part

InLine = TypeVar("InLine", Diode, Fuse)


def parts_of(case: Case, family: str, roles: Sequence[str] = ()) -> Iterator[Part]:
    """Yield the parts of a family that suit the loom's volts and have terminals of some roles, by their ids.

    Each is read when it is reached: who wants the first that suits reads no more.
    """
    return (p for p in case.catalogue.family(family, roles) if _suits_volts(case, p))


def _suits_volts(case: Case, part: Part) -> bool:
    """Whether a part is for the loom's volts; a diode is for all that vehicles have."""
    return part.volts == case.loom.supply.volts or all(isinstance(e, Diode) for e in part.inside)


def weakest_part(
    case: Case, family: str, roles: Sequence[str], rating: Callable[[Part], float | None], least: float
) -> Part | None:
    """The part of a family for the loom's volts with the lowest rating that is enough; None if none is.

    ``rating`` gives a part's amps, which stand in its file as ``amps``; inf if it tells none (such a part
    comes last), None if the part does not suit. Of equal ones the first by its id. Only parts that could be
    weaker than the best so far are read, so it costs the same in a large catalogue.
    """
    best: tuple[float, str] | None = None
    for bound, name in case.catalogue.ids_by_figure(family, roles, "amps", least):
        if best is not None and best < (bound, name):
            break
        part = case.catalogue.parts[name]
        suits = _suits_volts(case, part) and {*roles} <= {t.role for t in part.terminals.values()}
        amps = rating(part) if suits else None
        if amps is not None and amps >= least and (best is None or (amps, name) < best):
            best = amps, name
    return case.catalogue.parts[best[1]] if best else None


def weakest_in_line(case: Case, kind: type[InLine], least: float) -> tuple[Part, InLine] | None:
    """The part to put in line whose diode or fuse is the weakest that bears some amps, and that element."""

    def found(part: Part) -> InLine | None:
        return next((e for e in part.inside if isinstance(e, kind)), None)

    def rating(part: Part) -> float | None:
        element = found(part)
        return None if element is None else element.amps or inf

    part = weakest_part(case, "in-line", (), rating, least)
    element = found(part) if part else None
    return (part, element) if part and element else None
