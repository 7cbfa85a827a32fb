"""Contacts: what a switch is rated down to by its load, what current and what wire a tab takes."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.model.published import Published, around, must_be_positive, no_row

SwitchLoad = Literal["lamp", "inductive", "resistive", "motor"]
# A system of 12 V charges at about 14 V: common practice, no source.
MOST_VOLTS_OF_12 = 14.0


@dataclass(frozen=True, slots=True)
class SwitchFactor:
    """One row: how many times the load's current a switch has to be rated for."""

    system_volts: float
    load: str
    factor: float
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class TabCurrent:
    """One row: the current at which a push-on tab of some widths is tested for its rise of temperature."""

    widths: tuple[str, ...]
    mm2: float
    amps: float
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class TabScope:
    """One row: the thickest flexible conductor that push-on tabs of some widths are made for."""

    widths: tuple[str, ...]
    most_mm2: float
    source: str
    basis: str


def rating_factor(factors: Sequence[SwitchFactor], load: SwitchLoad, volts: float) -> Published:
    """The factor of a kind of load; up to 14 V from the rows for 12 V, above from those for 28 V."""
    must_be_positive("volts", volts)
    system = 12.0 if volts <= MOST_VOLTS_OF_12 else 28.0
    for row in factors:
        if row.system_volts == system and row.load.split()[0] == load:
            return Published(row.factor, row.source, row.basis)
    raise no_row("switch-derating", f"{load} at {system:g} V")


def tab_test_amps(tabs: Sequence[TabCurrent], fitting: str, mm2: float) -> Published | None:
    """The test current of a tab with a conductor: the thickest listed that is no thicker, or the thinnest."""
    must_be_positive("mm2", mm2)
    width = fitting.removeprefix("blade-")
    rows = sorted((tab for tab in tabs if width in tab.widths), key=lambda tab: tab.mm2)
    if not rows or width == fitting:
        return None
    row, _ = around(rows, mm2, lambda tab: tab.mm2)
    return Published(row.amps, f"{row.source}, {row.mm2:g} mm²", row.basis)


def tab_most_mm2(scopes: Sequence[TabScope], fitting: str) -> Published | None:
    """The thickest flexible conductor that a tab is made for, in mm²; None for other fittings."""
    width = fitting.removeprefix("blade-")
    found = [s for s in scopes if width in s.widths and width != fitting]
    thickest = max(found, key=lambda scope: scope.most_mm2, default=None)
    return Published(thickest.most_mm2, thickest.source, thickest.basis) if thickest else None
