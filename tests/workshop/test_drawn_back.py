"""An end that reaches only when it is drawn back is drawn back; one that goes on from where it was is not."""

from types import SimpleNamespace
from typing import Any

import pytest

from planner.model.delta import Extend, Move
from planner.model.loom import Loom
from planner.workshop.notes.drawn_back import drawn_back

PLACES = {"fuses": {"part": "box", "zone": "dash"}}


def loom(**switch: str) -> Loom:
    record = {
        "loom": "tiny",
        "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"dash": {}, "bay": {"title": "engine bay"}},
        "routes": [{"from": "dash", "to": "bay", "metres": 1}],
        "places": PLACES | {name: {"part": "switch", "zone": zone} for name, zone in switch.items()},
        "wires": [{"wire": "W", "colour": "GN", "mm2": 1, "metres": 1.6, "ends": ["fuses:1", "loose"]}],
    }
    return Loom.model_validate(record)


def said(metres: float, old: str = "bay") -> list[str]:
    """What is said of an end that goes from a switch that is gone to a new one on the dashboard."""
    move = Move("W", 1, "old:1", "new:1", "loose")
    longer = [Extend("W", 1, "new:1", metres, 0.05, (1.6,))] if metres else []
    tasks: Any = [SimpleNamespace(operation=operation) for operation in (*longer, move)]
    names: Any = SimpleNamespace(before=loom(old=old), after=loom(new="dash"), ordered=tasks)
    told = [list(drawn_back(names, task)) for task in tasks]
    assert not any(told[1:])  # at the first step that has to do with the end
    return told[0]


@pytest.mark.parametrize("metres", [0.0, 0.3])
def test_it_is_drawn_back_out_of_the_zone_of_its_old_part(metres: float) -> None:
    assert said(metres) == [
        "draw it back out of the engine bay: so it is reckoned to reach; if not, lengthen it"
    ]


def test_it_is_not_where_it_is_lengthened_by_the_whole_way_or_stays_in_its_zone() -> None:
    assert said(1.55) == []
    assert said(0.0, old="dash") == []
