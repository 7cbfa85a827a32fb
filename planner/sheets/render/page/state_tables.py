"""The states of a page as its script reads them: lists instead of records, to be small."""

from collections.abc import Iterable
from typing import Any

from planner.model.page_states import LiveRow, Look, PageStates
from planner.sheets.render.shown import shown


def state_tables(states: PageStates) -> dict[str, Any]:
    """Everything that ``diagrams.js`` looks up; a look is a reference and its groups."""
    return {
        "words": states.words,
        "nodes": states.nodes,
        "variables": len(states.variables),
        "endings": [[e.ends, e.passed, int(e.chatters)] for e in states.endings],
        "groups": [[g.hidden, g.controls, list(map(int, g.resting)), g.ending] for g in states.groups],
        "controls": [
            {
                "name": control.name,
                "title": shown(control.title),
                "at": [control.before, control.after],
                "detents": [[shown(d.title), d.before, d.after] for d in control.detents],
            }
            for control in states.controls
        ],
        "loads": _rows(states.loads),
        "terminals": _rows(states.terminals),
        "wires": _rows(states.wires),
        "potentials": _rows(states.potentials),
        "alarms": _rows(states.alarms),
    }


def _rows(rows: Iterable[LiveRow]) -> list[list[Any]]:
    return [[row.name, shown(row.title), row.kind, _look(row.before), _look(row.after)] for row in rows]


def _look(look: Look | None) -> list[int] | None:
    return [look.word, *look.groups] if look else None
