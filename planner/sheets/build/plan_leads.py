"""What becomes of the leads of a kit in a plan."""

from collections.abc import Mapping, Sequence

from planner.model.plan import LeadLine
from planner.sheets.sheet import Block, Cell, Item, Listing, Meaning

_OUTCOMES: Mapping[str, tuple[str, Meaning]] = {
    "used": ("GOES", "good"),
    "left over": ("LEFT", "note"),
    "not offered": ("NOT USED", "warn"),
    "missing": ("MAKE", "bad"),
}


def lead_blocks(lines: Sequence[LeadLine]) -> tuple[Block, ...]:
    """A line for each lead; nothing if none was laid out."""
    items = tuple(
        Item(
            Cell(*_OUTCOMES[line.outcome]),
            Cell(f"{line.lead}: {line.text}" if line.lead else line.text),
            (Cell(f"step {line.step}", "quiet"),) if line.step else (),
        )
        for line in lines
    )
    return (Listing(items),) if items else ()
