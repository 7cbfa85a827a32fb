"""Opens a kit of loose leads where a command was given one."""

from collections.abc import Sequence
from pathlib import Path

from planner.model.catalogue import Catalogue
from planner.model.kit import KitLead


def leads_of(kit: str | None, catalogue: Catalogue) -> Sequence[KitLead]:
    """The leads of a kit's file, none without one; InputError with every row that cannot be read."""
    if not kit:
        return ()
    from planner.commands.work.check_tables import open_kit  # noqa: PLC0415 - reads all kinds of tables

    return open_kit(Path(kit), catalogue).leads
