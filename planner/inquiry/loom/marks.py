"""What the marks of a person's list were taken for: equal letters need not mean the same terminal."""

from collections.abc import Iterator

from planner.inquiry.loom.account import FindingLine
from planner.inquiry.loom.found import FoundLoom
from planner.model.part import Terminal


def mark_lines(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield for each place which purpose its marks were taken to have, where only the letters say so.

    A mark that is its own designation (53, 58d), one beside which nothing is stamped, and one of which the
    place says itself what the list means by it, are not among them. Only a loom with a list has any.
    """
    if found.loom.wire_list is None:
        return
    used = {end.at for wire in found.loom.wires for end in wire.ends}
    for place, fitted in found.loom.places.items():
        said = set(fitted.marks.values())
        taken = [
            f"{mark} is {purpose}"
            for mark, terminal in found.part(place).terminals.items()
            if f"{place}:{mark}" in used and mark not in said and (purpose := _purpose(found, mark, terminal))
        ]
        if taken:
            yield FindingLine("marks", place, f"{found.titles[place]}: {', '.join(taken)}")


def _purpose(found: FoundLoom, mark: str, terminal: Terminal) -> str:
    role = found.catalogue.roles.get(terminal.role or "")
    if role is None or not terminal.stamped or mark.casefold() == (terminal.role or "").casefold():
        return ""
    return role.words[0] if role.words else role.meaning
