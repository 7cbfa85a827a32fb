"""The picture of what is suspected, written beside the log of a hunt."""

from pathlib import Path

from planner.commands.work.prompt import say
from planner.sheets.render.whole_file import write_whole
from planner.testing.hunt.affected import affected
from planner.testing.hunt.report import Report


def write_picture(report: Report, log: Path) -> None:
    """Draw the wires of the leading suspect and those on the way to what was seen, and say where they are.

    Nothing is drawn as long as nobody is suspected more than all others together.

    Raises
    ------
    UsageError
        If the file cannot be written.
    """
    if report.verdict not in ("found", "alike"):
        return
    # A JavaScript engine lays the picture out: only who sees one waits for it.
    from planner.pictures.marked import draw_marked  # noqa: PLC0415

    first, wired = report.suspects[0], report.vehicle.wired
    own = affected(report.hunt, first.world)
    if not own.wires:
        return
    picture = draw_marked(
        wired.loom,
        report.vehicle.catalogue,
        tuple(own.wires),
        own.legs,
        own.places,
        f"{wired.title}: {report.vehicle.words(first.world)}",
        lambda wire: wired.shown.get(wire, wire),
    )
    file = log.with_suffix(".svg")
    write_whole(file, picture.svg.encode(), overwrite=True)
    say(f"Its wires, with what is suspected marked, are drawn in {file}.")
